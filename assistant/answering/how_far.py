"""Backwards: how far, how deep or for how many the castings at hand go, and what share or how much else they make."""

from __future__ import annotations

from dataclasses import replace

from grammar.quantities import factor
from grammar.query import Query
from grammar.readers.other_bags import BY_THE_PACK
from grammar.reads import reads

from .. import backwards
from ..answer import Answer, Asked, Working
from ..judge import cautions, judge_share
from ..knowledge import facts
from ..relations import COMPONENT, SUM_OF_MIX, Value
from ..remarks import Scene, remarks
from ..steps import step
from ..units import Printer
from ..work import work
from ..worked import Unworkable
from .counter import for_money_or_bags
from .density import weight_of
from .job import Job
from .record import in_all, made, millimetres, summed
from .rows import show_steps
from .stock import held

_LITRE = factor("litre")
#: Soil of any kind: what is not castings, where no more is said.
_ANY_SOIL = frozenset({"soil", "topsoil", "potting-mix-base"})


def how_far(job: Job) -> Answer:
    """What the castings at hand do, by the relations solved the other way round."""
    query = job.query
    have = None if query.asked == "share" and _has_recipe(query) else _at_hand(job)
    shop = for_money_or_bags(job) if have is None else None
    if shop is not None:
        have = shop[0]
    result = _of_all_places(job) if have is None and query.asked in ("mix", "soil") and len(query.places) > 1 else _of_one_place(job, have)
    if result.share is not None:
        shown = job.printer.show(*result.share, "share")
        job.advice += judge_share(*result.share, shown, _ten_of(result.share, result.castings, job.printer, added=result.way == "incorporate"))
    castings = result.castings
    weight = weight_of(castings, job.density) if castings else None
    if castings and weight:
        job.advice += remarks(Scene([], query, job.printer, job.density, castings, weight))
    job.advice += cautions([result.worked] if result.worked is not None else [], query)
    place = query.places[0] if query.places else None
    if result.length:
        job.said = f"{result.length} long, {job.printer.show(*result.value, 'area')}"
    asked = Asked(of=result.of, low=result.value[0], high=result.value[1], unit=result.unit)
    cost = shop[1].cost if shop is not None else None
    if BY_THE_PACK in query.told and asked.of in ("mix", "soil"):
        from .other_bags import told_in_bags

        asked, cost = told_in_bags(job, asked, castings)
    return made(
        job, reads=reads(query), way=result.way or (place.way if place else None), answer=asked,
        castings=in_all(castings, weight) if castings and weight else None, share=result.share, layer_mm=millimetres(result.layer),
        packs=shop[1].packs if shop is not None else (), cost=cost,
    )  # fmt: skip


def _at_hand(job: Job) -> Value | None:
    """The castings at hand; what bags of something else hold is none of it."""
    query = job.query
    return None if BY_THE_PACK in query.told and not (query.have or query.loads) else held(job)


def _of_one_place(job: Job, have: Value | None) -> backwards.Result:
    """The result for the place there is, if any, with its steps put into the working."""
    query = job.query
    if have is None and not (query.asked == "share" and _has_recipe(query)) and query.places:
        # "how much soil for 20 gallons at 10 %": the castings follow from the place
        if query.asked in ("mix", "soil", "share") and not backwards.is_layer_in_depth(query):
            one = work(query.places[0], query, job.density)
            have = one.castings
    own = _component_asked(job)
    result = own if own is not None else backwards.solve(query, have, job.density)
    job.assume_all(result.assumed)
    job.working += [_extra(job, one) for one in result.before]
    if result.sheet is not None:
        show_steps(job, result.sheet, result.target, result.worked)
    job.working += [_extra(job, one) for one in result.extra]
    return result


def _extra(job: Job, one: backwards.Extra) -> Working:
    return step(one.rule, ", ".join(_told(job, part) for part in one.used), _told(job, one.gave))


def _of_all_places(job: Job) -> backwards.Result:
    """How much mix or soil several places take in all. Raises Unworkable where one of them takes none."""
    query = job.query
    for place in query.places:
        if place.way not in ("blend", "seed-mix"):
            what = (query.asked_noun or query.asked).replace("-", " ")
            raise Unworkable("mix", f"which of them is the {what} for? Ask for that one alone", "place")
    found = [_of_one_place(replace(job, query=query.model_copy(update={"places": (place,)})), None) for place in query.places]
    value, castings = summed([one.value for one in found]), summed([one.castings for one in found])
    assert value is not None
    each = " + ".join(job.printer.show(one.value[0] * _LITRE, one.value[1] * _LITRE, "volume") for one in found)
    job.working.append(step(SUM_OF_MIX, each, job.printer.show(value[0] * _LITRE, value[1] * _LITRE, "volume")))
    shares = {one.share for one in found}
    ways = {one.way for one in found}
    return backwards.Result(query.asked, value, "L", castings=castings, share=shares.pop() if len(shares) == 1 else None,
                            way=ways.pop() if len(ways) == 1 else None)  # fmt: skip


def _told(job: Job, part: backwards.Part) -> str:
    """A named amount of a step: "castings 8 gal"; a count stands before what is counted."""
    shown = job.printer.show(*part.value, part.dimension, part.unit)
    return f"{shown} {part.name}" if part.dimension == "number" else f"{part.name} {shown}"


def _component_asked(job: Job) -> backwards.Result | None:
    """So much of one component of a recipe, where that is asked for; None where only the castings' share is known.

    Raises Unworkable where the recipe does not say how much of the component there is.
    """
    query = job.query
    place = query.places[0] if query.places else None
    if query.asked != "soil" or place is None:
        return None
    asked = query.asked_noun or "soil"
    named = dict(place.recipe)
    others = [name for name in named if name not in ("castings", "the rest")]
    have = _at_hand(job)
    if asked not in named:
        if others and not (len(others) == 1 and asked == "soil"):
            raise Unworkable("recipe", f"how much of the mix is {asked.replace('-', ' ')}? The recipe names none", "share")
        if have is None and asked not in _ANY_SOIL and place.soil is None:
            raise Unworkable("recipe", f"what share of the mix is {asked.replace('-', ' ')}? Say the share of each part", "share")
        return None
    share = named[asked]
    if have is not None:
        part = named.get("castings", 0.0)
        mix = (have[0] / part, have[1] / part)
        castings: Value | None = have
    else:
        one = work(place, query, job.density)
        if one.mix is None:
            return None
        mix, castings = one.mix, one.castings
        show_steps(job, one.sheet, one.target, one)
    low, high = mix[0] * share / _LITRE, mix[1] * share / _LITRE
    used = (backwards.Part("share of the component", (share, share), "share"), backwards.Part("finished mix", mix, "volume"))
    gave = backwards.Part(f"component, {asked.replace('-', ' ')},", (mix[0] * share, mix[1] * share), "volume")
    extra = [backwards.Extra(COMPONENT, used, gave)]
    part = named.get("castings", 0.0)
    return backwards.Result("soil", (low, high), "L", castings=castings, share=(part, part), way=place.way or "blend", extra=extra)


def _has_recipe(query: Query) -> bool:
    return bool(query.places) and bool(query.places[0].recipe) and not query.have


def _ten_of(share: Value, castings: Value | None, printer: Printer, *, added: bool = False) -> str:
    """What the usual share takes in the same place; `added` to the soil that is there."""
    if castings is None or share[1] <= 0:
        return "less"
    typical = facts().rate("blend.share").single / 100
    mix = castings[1] / share[1]
    if added:
        mix = (mix - castings[1]) / (1 - typical)
    return printer.show(mix * typical, mix * typical, "volume")
