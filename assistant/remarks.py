"""Remarks on a worked answer beyond its shares and layers: plants, money, recipes, containers, measures, salts, the season.

Texts and limits are data (`knowledge/judgements.toml`, `knowledge/rates/`); here stands only when each is due.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache
from typing import NamedTuple

from grammar.quantities import factor, unit
from grammar.query import Query

from .answer import Advice
from .judge import judgement
from .knowledge import facts
from .relations import Value
from .units import Printer, printed, span_text
from .worked import Density, Worked, base

_SLACK = 1e-9


class Scene(NamedTuple):
    """All that a remark may look at."""

    worked: list[Worked]
    query: Query
    printer: Printer
    density: Density
    castings: Value
    weight: Value


@lru_cache(maxsize=64)
def highest(fact_id: str) -> float:
    """The upper end of a figure of the trade, in SI units."""
    fact = facts().rate(fact_id)
    return fact.high * unit(fact.unit).factor


@lru_cache(maxsize=64)
def _low(fact_id: str) -> float:
    fact = facts().rate(fact_id)
    return fact.low * unit(fact.unit).factor


def remarks(scene: Scene) -> list[Advice]:
    """Every remark that is due, cautions first; none is above a caution."""
    found: list[Advice] = []
    for look in _LOOKS:
        found += look(scene)
    if len(found) < 2:
        return found
    unique = {(one.code, one.text): one for one in found}
    order = {"warning": 0, "caution": 1, "note": 2}
    return sorted(unique.values(), key=lambda one: order[one.level])


def capped(advice: Advice) -> Advice:
    """The same advice, a caution at most: a warning is kept for shares of castings past the limit."""
    return advice.model_copy(update={"level": "caution"}) if advice.level == "warning" else advice


# ---- plants, areas and money ----------------------------------------------------------------------------


def _plants(scene: Scene) -> list[Advice]:
    found = []
    for one in scene.worked:
        place = one.place
        if (
            place.way != "side-dress"
            or place.kind != "plant"
            or place.rate is None
            or place.rate_altogether
            or place.rate_per is not None
        ):
            continue
        plant = facts().plant(place.crop) if place.crop else None
        if (plant is not None and plant.traits & {"woody", "tree"}) or place.crop in _SMALL:
            continue
        high = base(place.rate)[1]
        if place.rate.dimension == "weight":
            high /= scene.density.value[1]  # in cubic metres, as the usual amount is
        shown = span_text(place.rate)
        if high > highest("side-dress.per-plant") + _SLACK:
            found.append(judgement("per-plant-much", amount=shown))
        elif place.rate.dimension == "volume" and high < _low("side-dress.per-plant") - _SLACK:
            found.append(judgement("per-plant-little", amount=shown))
    return found


#: Plants too small for the rate of an established one.
_SMALL = frozenset({"houseplant", "succulent", "orchid", "seed", "microgreen"})


def _areas(scene: Scene) -> list[Advice]:
    found = []
    for one in scene.worked:
        area = one.sheet.get("treated area")
        if area is None or one.place.way != "top-dress":
            continue
        fact = facts().rate("cost.large-area")
        if area[1] <= fact.single * factor(fact.unit) + _SLACK:
            continue
        if one.place.rate is None:
            found.append(judgement("cost-large-area", area=scene.printer.show(*area, "area")))
        if one.weight is not None:
            rate = (one.weight[0] / area[1], one.weight[1] / area[0])
            if rate[1] > highest("field.usual") + _SLACK:
                name = "tonne / hectare"
                size = factor(name)
                found.append(judgement("trial-rate", rate=printed(rate[0] / size, rate[1] / size, name)))
    return found


def _weights(scene: Scene) -> list[Advice]:
    found = []
    query = scene.query
    if scene.density.said:
        usual = facts().rate("castings.density")
        size = factor(usual.unit)
        low, high = scene.density.value
        if high < usual.low * size - _SLACK or low > usual.high * size + _SLACK:
            found.append(judgement("density-unusual", density=scene.printer.show(low, high, "density")))
    elif query.asked == "weight":
        found.append(judgement("weight-varies", density=scene.printer.show(*scene.density.value, "density")))
    if query.moisture is not None and query.moisture.high > facts().rate("castings.moisture-wet").single + _SLACK:
        dry = printed(100 - query.moisture.high, 100 - query.moisture.low, "percent")
        found.append(judgement("moisture-wet", moisture=span_text(query.moisture), dry=dry))
    return found


# ---- mixes ----------------------------------------------------------------------------------------------


def _mixes(scene: Scene) -> list[Advice]:
    found = []
    for one in scene.worked:
        place = one.place
        if one.share is not None and one.share[1] * 100 >= facts().rate("share.trial-decline").low - _SLACK:
            found.append(judgement("share-nearly-all"))  # past the limit of shares, so a warning is due
        usual = facts().rate("seed-mix.share") if place.way == "seed-mix" else None
        if usual is not None and one.share is not None and one.mix is not None and one.share[1] * 100 > usual.high + _SLACK:
            part = usual.single / 100
            at_usual = scene.printer.show(one.mix[0] * part, one.mix[1] * part, "volume")
            found.append(judgement("seed-share-high", share=scene.printer.show(*one.share, "share"), at_usual=at_usual))
        if len(place.recipe) > 1 and one.mix is not None:
            loss = facts().rate("mixing.loss")
            low, high = one.mix[0] * (1 - loss.high / 100), one.mix[1] * (1 - loss.low / 100)
            found.append(
                judgement(
                    "mixing-loss",
                    sum=scene.printer.show(*one.mix, "volume"),
                    low=scene.printer.show(low, low, "volume"),
                    high=scene.printer.show(high, high, "volume"),
                )
            )
        if any(name == "peat" for name, _ in place.recipe):
            found.append(judgement("peat-bale"))
        if "new-fill" in place.hints and place.way == "blend" and place.kind == "ground" and place.depth is not None:
            found += [judgement("settle-more"), judgement("order-more")]
    return found


# ---- containers and measures ----------------------------------------------------------------------------


def _containers(scene: Scene) -> list[Advice]:
    found = []
    for one in scene.worked:
        place, shape = one.place, one.place.shape
        codes = {code for code, _ in one.assumed}
        known = (
            facts().container(f"nursery-{shape.number}" if shape.form == "class" else f"tray-{shape.number}")
            if (shape.form == "class" or "cells" in codes)
            else None
        )
        if known is not None and known.volume is not None:
            low, high = known.volume.write(known.volume.low), known.volume.write(known.volume.high)
            found.append(judgement("cells" if known.cells else "nursery-class", name=known.name, low=low, high=high))
        if "pot-proportions" in codes:
            found.append(judgement("pot-shape"))
        if place.noun == "grow-bag" and shape.form == "volume" and place.way == "blend":
            found.append(judgement("grow-bag"))
        if place.noun == "bucket" and shape.form == "volume" and shape.dims["volume"] == (5.0, 5.0, "us_gallon"):
            found.append(judgement("bucket-brim"))
    if any(name == "bucket-5-gallon" for name, _, _ in scene.query.loads):
        found.append(judgement("bucket-brim"))
    return found


def _quarts(scene: Scene) -> list[Advice]:
    for note in scene.query.assumed:
        if note.code in ("quart", "pint", "quarts"):
            dry = "dry" in note.text.split(",")[0]
            ratio = factor("us_quart") / factor("us_dry_quart")
            other = tuple(end * ratio if dry else end / ratio for end in scene.castings)
            shown = scene.printer.show(other[0], other[1], "volume", "litre" if scene.printer.metric else "cubic_foot")
            return [judgement("dry-quart", liquid=shown) if dry else judgement("liquid-quart", dry=shown)]
    return []


# ---- salts ----------------------------------------------------------------------------------------------


def salts(query: Query, seedlings: bool) -> list[Advice]:
    """What an EC of the user's analysis calls for."""
    if not query.analysis:
        return []
    span = next((span for name, span in query.analysis if name == "salt"), None)
    if span is None:
        return []
    shown = facts().rate("salts.castings").write(span.low, span.high)
    high = span.high * factor(span.unit)
    found = []
    if high > _low("salts.medium-very-high") + _SLACK:
        found.append(capped(judgement("salts-very-high", salt=shown)))
    elif high > highest("salts.castings") + _SLACK:
        found.append(judgement("salts-high", salt=shown))
    if seedlings and high > highest("salts.seedlings") + _SLACK:
        found.append(judgement("salts-seedlings", salt=shown))
    return found


def _salts(scene: Scene) -> list[Advice]:
    if not scene.query.analysis:
        return []
    seedlings = any(one.place.way == "seed-mix" or "seedlings" in one.place.hints for one in scene.worked)
    return salts(scene.query, seedlings)


# ---- the season -----------------------------------------------------------------------------------------


def _season(scene: Scene) -> list[Advice]:
    """Several layers, now and later or so many times a season: their sum against the season's limits."""
    found = []
    times = scene.query.times or 1.0
    for one in scene.worked:
        rate = one.place.rate
        if one.place.way == "side-dress" and times > 1 and rate is not None and rate.dimension == "volume" and (
            one.place.rate_per is None and not one.place.rate_altogether and "each-time" not in scene.query.told
        ):  # fmt: skip
            found.append(judgement("season-plant", amount=printed(rate.low * times, rate.high * times, rate.unit)))
        if one.place.way not in ("top-dress", "incorporate") or one.layer is None or (len(one.place.layer) < 2 and times < 2):
            continue
        layer = (one.layer[0] * times, one.layer[1] * times)
        into = facts().rate("incorporate.depth")
        depth = into.single * factor(into.unit)
        if one.place.way == "incorporate" and one.place.depth is not None:
            depth = one.place.depth.base[0]  # what it is dug into is told
        share = (layer[0] / (layer[0] + depth), layer[1] / (layer[1] + depth))
        shown = scene.printer.show(*share, "share")
        amount = scene.printer.show(*scene.castings, "volume")
        if share[1] * 100 > facts().rate("season.share-limit").single + _SLACK:
            found.append(judgement("season-too-much", share=shown))  # a share past the limit, whenever it is reached
        found.append(judgement("season-sum", amount=amount, share=shown))
        if layer[1] > highest("season.layer-limit") + _SLACK:
            name = "millimetre" if scene.printer.metric else "inch"
            found.append(judgement("season-layer", layer=scene.printer.show(*layer, "length", name)))
    return found


_LOOKS: tuple[Callable[[Scene], list[Advice]], ...] = (
    _plants,
    _areas,
    _weights,
    _mixes,
    _containers,
    _quarts,
    _salts,
    _season,
)
