"""Teas: castings for the water, water for the castings, and tea in batches for the places it is for."""

from __future__ import annotations

from grammar.quantities import factor
from grammar.query import Place, Query, Tea
from grammar.reads import reads

from ..answer import Answer, Asked, Component
from ..judge import cautions, judge_tea, judgement
from ..knowledge import facts
from ..relations import BATCHES, WAYS, WEIGHT, Value
from ..scale import check_scale, check_volume
from ..sheet import Sheet
from ..steps import step
from ..teas import batches, needed, treated
from ..worked import base
from .asked import asked_amount
from .counter import counter_is_asked
from .density import volume_of
from .job import Job
from .packs import purchase
from .record import in_all, litres, made
from .rows import show_steps
from .stock import held

_LITRE = factor("litre")


def is_tea(query: Query) -> bool:
    """Whether a query that names a tea is to be answered as one: there is water, castings for it, or places that it is for."""
    tea = query.tea
    return tea is not None and (tea.water is not None or query.asked == "water" or bool(query.have) or bool(treated(query)))


def brewed(job: Job) -> Answer:
    """The castings for a tea, the water for the castings, or the batches that it takes."""
    query = job.query
    tea = query.tea
    assert tea is not None
    parts = _strength(job, tea, query)
    sheet = Sheet()
    sheet.give("castings to water", *parts)
    sheet.give("density", *job.density.value)
    relations = (*WAYS["tea"], WEIGHT)
    vessel = base(tea.water) if tea.water is not None else None
    jobs = treated(query) if vessel is None or query.asked in ("batches", "water") or "brewer" in query.told else []
    have = held(job) if vessel is None and not jobs else None
    total: Value | None = None
    if treated(query):
        total = _needed_in_all(job, jobs or treated(query), show=bool(jobs))
    if jobs:
        assert total is not None
        sheet.give("water", *total)
        castings = sheet.reach("castings", relations)
        target = "castings"
    elif tea.water is not None:
        sheet.give("water", *base(tea.water))
        check_scale("limits.volume", *base(tea.water), "the water", tea.water)
        castings = sheet.reach("castings", relations)
        target = "castings"
    else:
        assert have is not None
        sheet.give("castings", *have)
        castings = have
        target = "water"
        sheet.reach("water", relations)
    water = sheet.get("water")
    assert castings is not None and water is not None
    weight = sheet.reach("weight", relations)
    assert weight is not None
    show_steps(job, sheet, target, None)
    forwards = query.asked != "water" and (tea.water is not None or bool(jobs))
    packs, cost = purchase(job, castings, weight) if forwards and counter_is_asked(job) else ((), None)
    asked = (
        asked_amount(job, castings, weight, packs, cost)
        if forwards
        else Asked(of="water", low=water[0] / _LITRE, high=water[1] / _LITRE, unit="L")
    )
    if query.asked == "water" and query.asked_noun == "tea":
        job.said = f"{job.printer.show(*water, 'volume')} of tea"
    job.advice += judge_tea(parts)
    if query.compare_ratios:
        from .other_amounts import show_other_amounts

        show_other_amounts(job)
    job.advice.append(judgement("tea-extract" if "extract" in query.told else "tea-brew"))
    if total is not None and vessel is not None:
        counts = batches(total, vessel)
        text = f"{counts[0]:g}" if counts[0] == counts[1] else f"{counts[0]:g} to {counts[1]:g}"
        if query.asked == "batches":
            asked = Asked(of="containers", low=float(counts[0]), high=float(counts[1]), unit="count")
            job.said = f"{text} {'batch' if text == '1' else 'batches'}"
            job.working.append(step(BATCHES, f"tea {job.printer.show(*total, 'volume')}, tea of one batch {job.printer.show(*vessel, 'volume')}",
                                    f"{text} batches"))  # fmt: skip
        if counts[1] > 1:
            job.advice.append(judgement("tea-batches", batches=text))
    job.advice += cautions([], query)
    job.advice.append(judgement("tea-little-organic"))
    return made(
        job, reads=reads(query), way="tea", answer=asked, castings=in_all(castings, weight),
        components=(Component(name="castings", litres=litres(castings)), Component(name="water", litres=litres(water))),
        packs=packs, cost=cost,
    )  # fmt: skip


def _strength(job: Job, tea: Tea, query: Query) -> Value:
    """Castings to water by volume: as was said, else the usual strength, noted as assumed."""
    if tea.strength is not None:
        castings, water = base(tea.strength[0]), base(tea.strength[1])
        if tea.strength[0].dimension == "weight":
            castings = volume_of(castings, job.density)
            job.assume_density()
        return castings[0] / water[1], castings[1] / water[0]
    if query.compare_ratios:
        from .other_amounts import strengths

        return strengths(query)
    if tea.ratio is not None:
        parts = tea.ratio[0] / tea.ratio[1]
        return parts, parts
    fact = facts().rate("tea.ratio")
    value = fact.single * factor(fact.unit)
    value = value if value < 1 else 1 / value
    job.assume("default-ratio", f"1 part castings to {1 / value:g} parts water, the usual strength ({facts().cite(fact)})")
    return value, value


def _needed_in_all(job: Job, places: list[Place], *, show: bool) -> Value:
    """The tea for these places in cubic metres; its steps are shown where the answer rests on them."""
    total = (0.0, 0.0)
    for place in places:
        one = needed(place, job.density)
        if show:
            job.assume_all(one.assumed)
            show_steps(job, one.worked.sheet, "water", one.worked)
        total = (total[0] + one.water[0], total[1] + one.water[1])
    check_volume(total)
    return total
