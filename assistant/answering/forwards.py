"""Forwards: the castings that the places of a query take, and what is to be said of them."""

from __future__ import annotations

from typing import TypeVar

from grammar.readers.trade import TOO_MUCH
from grammar.reads import place_text, reads
from grammar.unchecked import unchecked

from ..answer import Advice, Answer, Component, Part
from ..ends import CALLED, at_end
from ..judge import cautions, judge, judgement
from ..relations import SEASON, SUM, Value
from ..remarks import Scene, remarks
from ..scale import check_volume
from ..sheet import Sheet
from ..steps import step
from ..units import printed
from ..work import work
from ..worked import Unworkable, Worked, base
from .asked import asked_amount, loads
from .contents import as_received, nutrient
from .counter import counter_is_asked
from .job import Job
from .packs import purchase
from .record import in_all, litres, made, millimetres, summed
from .rows import show_steps
from .stock import held


def forwards(job: Job) -> Answer:
    """The castings for every place, with what they come to in the measure that is asked for."""
    query = job.query
    places = query.places
    if query.is_compared:
        from .other_amounts import spanned  # seldom asked for, and a start need not wait for it

        places = tuple(spanned(place, query) for place in places)
    job.worked += [work(as_received(job, place), query, job.density) for place in places]
    castings = summed([one.castings for one in job.worked])
    weight = summed([one.weight for one in job.worked])
    assert castings is not None and weight is not None
    job.printer.suit(castings[1])
    if "weight" in [query.asked, *[one.target for one in job.worked]] or (
        query.asked in ("packs", "cost") and not counter_is_asked(job)
    ) or (
        query.limit is not None and query.limit[1].dimension == "weight"
    ):  # fmt: skip
        job.assume_density()
    for one in job.worked:
        job.assume_all(one.assumed)
        show_steps(job, one.sheet, one.target, one)
        if query.asked == "weight" and one.target != "weight":
            show_steps(job, one.sheet, "weight", one, only_last=True)
    if len(job.worked) > 1:
        each = " + ".join(job.printer.show(*one.castings, "volume") for one in job.worked if one.castings)
        job.working.append(step(SUM, each, job.printer.show(*castings, "volume")))
    castings, weight = _all_season(job, castings, weight)
    job.advice += judge(job.worked, query, job.printer)
    scene = Scene(job.worked, query, job.printer, job.density, castings, weight)
    job.advice += remarks(scene)
    if TOO_MUCH in query.told:
        from ..too_much import not_too_much

        job.advice[:0] = not_too_much(scene)
    check_volume(castings)
    packs, cost = purchase(job, castings, weight)
    if query.end and not packs and castings[0] != castings[1]:
        shown = job.printer.show(*(at_end(castings, query.end),) * 2, "volume")
        job.assume("end-of-span", f"{CALLED[query.end]} of the span is {shown}")
    _enough(job, castings)
    _limit(job, castings, weight)
    if query.is_compared:
        from .other_amounts import show_other_amounts

        show_other_amounts(job)
    asked = loads(job, castings) or nutrient(job, castings, weight) or asked_amount(job, castings, weight, packs, cost)
    left_over = not _LEFT_OVER.isdisjoint([one.code for one in job.advice])
    job.advice += cautions(job.worked, query, left_over=left_over)
    return made(
        job, reads=reads(query), way=_common([one.place.way for one in job.worked]), answer=asked,
        castings=in_all(castings, weight),
        share=_common([one.share for one in job.worked]),
        layer_mm=millimetres(_common([one.layer for one in job.worked])),
        parts=tuple(_part(one) for one in job.worked) if len(job.worked) > 1 else (),
        components=_components(job), packs=packs, cost=cost,
    )  # fmt: skip


_part_of, _component = unchecked(Part), unchecked(Component)

#: Judgements that say that castings remain.
_LEFT_OVER = frozenset({"pack-left", "enough-left"})
_T = TypeVar("_T")


def _common(values: list[_T]) -> _T | None:
    """The value that all places have; None where they differ."""
    first = values[0]
    return first if values.count(first) == len(values) else None


def _all_season(job: Job, castings: Value, weight: Value) -> tuple[Value, Value]:
    """The castings of every application of the season, where so many were said."""
    times = job.query.times
    if times is not None and job.query.years is not None:
        times *= job.query.years
    if times is None or times <= 1 or "each-time" in job.query.told:
        return castings, weight
    if any(one.share is not None and one.layer is None for one in job.worked):
        raise Unworkable("times", "is that share for one application, or for the whole season? Say the share of one time", "share")
    sheet = Sheet()
    sheet.give("castings", *castings)
    sheet.give("times", times)
    season = sheet.reach("castings of the season", (SEASON,))
    assert season is not None
    show_steps(job, sheet, "castings of the season", None)
    job.assume("times", f"all {times:g} applications together; one takes {job.printer.show(*castings, 'volume')}")
    return season, (weight[0] * times, weight[1] * times)


def _enough(job: Job, need: Value) -> None:
    """Says whether the castings at hand are enough, where some are."""
    query = job.query
    if not (query.enough or query.have or (query.pack is not None and query.pack.count)):
        return
    have = held(job)
    if have is None:
        return
    short = need[1] - have[0]
    apart = job.printer.show(abs(short), abs(short), "volume")
    code = "not-enough" if short > 1e-12 else "enough-left"
    texts = {"have": job.printer.show(*have, "volume"), "need": job.printer.show(*need, "volume"), "short": apart, "left": apart}
    job.advice.insert(0, judgement(code, **texts))


def _limit(job: Job, castings: Value, weight: Value) -> None:
    """Says whether the answer keeps to the most or the least that was set."""
    query = job.query
    if query.limit is None:
        return
    which, span = query.limit
    value = weight if span.dimension == "weight" else castings
    limit = base(span)
    over = value[1] > limit[1] + 1e-12 if which == "at-most" else value[0] < limit[0] - 1e-12
    shown = printed(span.low, span.high, span.unit)
    if which == "at-most":
        text = f"This is more than the {shown} that was set as the most." if over else f"This stays within the {shown} that was set."
    else:
        text = f"This is less than the {shown} that was set as the least." if over else f"This is at least the {shown} that was set."
    job.advice.insert(0, Advice(code="limit", level="caution" if over else "note", text=text, source="arithmetic"))


def _components(job: Job) -> tuple[Component, ...]:
    """What the recipes of all places take of each component."""
    found: dict[str, Value] = {}
    for one in job.worked:
        if one.place.recipe and one.mix is not None:
            for name, share in one.place.recipe:
                amount = (one.mix[0] * share, one.mix[1] * share)
                earlier = found.get(name, (0.0, 0.0))
                found[name] = (earlier[0] + amount[0], earlier[1] + amount[1])
    return tuple([_component(name=name, litres=litres(amount)) for name, amount in found.items()])


def _part(one: Worked) -> Part:
    amount = in_all(one.castings, one.weight) if one.castings and one.weight else None
    return _part_of(reads=place_text(one.place), way=one.place.way, castings=amount, share=one.share, layer_mm=millimetres(one.layer))
