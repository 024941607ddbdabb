"""The one amount that is asked for, out of the castings that it takes."""

from __future__ import annotations

from grammar.quantities import factor
from grammar.unchecked import unchecked

from ..answer import Asked, Cost, PackCount
from ..knowledge import facts
from ..relations import FOR_EACH, LEFT_OVER, LOADS, STILL_NEEDED, Value
from ..steps import step
from ..units import printed
from .density import weight_of
from .job import Job
from .record import shared_by
from .stock import held, load

_LITRE = factor("litre")
_asked = unchecked(Asked)


def asked_amount(job: Job, castings: Value, weight: Value, packs: tuple[PackCount, ...], cost: Cost | None) -> Asked:
    """The amount in the unit of the record: a weight, a count of packs, a cost, what is left over or lacking, else the castings."""
    asked = job.query.asked
    if asked == "weight":
        return Asked(of="weight", low=weight[0], high=weight[1], unit="kg")
    if asked == "packs" and packs:
        count = float(sum(pack.count for pack in packs))
        return Asked(of="packs", low=count, high=count, unit=packs[0].name if len(packs) == 1 else "packs")
    if asked == "cost" and cost is not None:
        return Asked(of="cost", low=float(cost.amount), high=float(cost.amount), unit=cost.currency)
    if "left-over" in job.query.told and (have := held(job)) is not None:
        return _left(job, have, castings)
    if any("more-needed" in place.hints for place in job.query.places) and (have := held(job)) is not None:
        left = (max(castings[0] - have[1], 0.0), max(castings[1] - have[0], 0.0))
        if left[0] > 0:
            at_hand, needed, still = (job.printer.show(*one, "volume") for one in (have, castings, left))
            job.working.append(step(STILL_NEEDED, f"castings {needed}, castings at hand {at_hand}", f"still needed {still}"))
        return Asked(of="castings", low=left[0] / _LITRE, high=left[1] / _LITRE, unit="L")
    each = shared_by(job.query)
    if each > 1:
        one = (castings[0] / each, castings[1] / each)
        spoken = job.printer.unit_for_one(one[1])
        job.working.append(step(FOR_EACH, f"castings {job.printer.show(*castings, 'volume')}, count {each:g}",
                                f"castings for one {job.printer.show(*one, 'volume', spoken)}"))  # fmt: skip
    return _asked(of="castings", low=castings[0] / each / _LITRE, high=castings[1] / each / _LITRE, unit="L")


def _left(job: Job, have: Value, castings: Value) -> Asked:
    """What remains of the castings at hand; nothing where they do not suffice."""
    left = (max(have[0] - castings[1], 0.0), max(have[1] - castings[0], 0.0))
    # in the unit in which what is at hand was spoken of
    weighed = bool(job.query.have) and all(span.dimension == "weight" for span in job.query.have)
    spoken = next((span.unit for span in job.query.have if weighed or span.dimension == "volume"), "")

    def show(volume: Value) -> str:
        return job.printer.show(*weight_of(volume, job.density), "weight", spoken) if weighed else job.printer.show(*volume, "volume", spoken)

    used = show(castings)
    job.said = f"{show(left)} of castings left over, with {used} used" if left[1] > 0 else f"none left over, for {used} is needed"
    job.working.append(step(LEFT_OVER, f"castings at hand {show(have)}, castings {used}",
                            f"left over {show(left)}"))  # fmt: skip
    return Asked(of="castings", low=left[0] / _LITRE, high=left[1] / _LITRE, unit="L")


def loads(job: Job, castings: Value) -> Asked | None:
    """How many wheelbarrows or pickup loads it takes, whole ones."""
    name = job.query.asked_load
    if not name:
        return None
    one = load(job, name, 1.0, 1.0)
    low, high = LOADS.counts(castings, one)
    held = facts().container(name)
    assert held is not None
    text = printed(low, high, "fraction")
    job.said = f"{text} {held.name}{'s' if high > 1 else ''}, {job.printer.show(*castings, 'volume')} of castings"
    job.working.append(step(LOADS, f"castings {job.printer.show(*castings, 'volume')}, castings of a load {job.printer.show(*one, 'volume')}",
                            f"{text} loads"))  # fmt: skip
    return Asked(of="containers", low=float(low), high=float(high), unit="count")
