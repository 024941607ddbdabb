"""What the catalogue in force says: what to buy for a need, and what money or bags give.

The shop is imported only where it is asked: most requests need none.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from grammar.quantities import Span

from ..answer import Cost, PackCount
from ..relations import Value
from ..worked import Unworkable
from .job import Job, states_own_pack

if TYPE_CHECKING:
    from ..purchase import Bought, Wanted


def counter_is_asked(job: Job) -> bool:
    """Whether the catalogue in force has to say what to buy: packs, cost or money are asked, or the shop gave its own."""
    query = job.query
    if states_own_pack(query):
        return False
    asked = query.asked in ("packs", "cost") or query.budget is not None
    return job.shop is not None or asked or (query.pack is not None and bool(query.pack.count) and query.enough)


def said_density(job: Job) -> float | None:
    """The density that the request states, in kg a litre: it stands in for that of every product."""
    low, high = job.density.value
    return (low + high) / 2000 if job.density.said else None


def _take(job: Job, found: Bought) -> None:
    job.assumed += [note for note in found.assumed if note not in job.assumed]
    job.advice += found.advice
    job.working += found.working
    if job.query.asked in ("packs", "cost") and found.cost is not None:
        job.said = found.said if job.query.asked == "packs" else f"{found.cost.amount} {found.cost.currency}"


def from_catalogue(
    job: Job, castings: Value, weight: Value, size: Span | None = None
) -> tuple[tuple[PackCount, ...], Cost | None] | None:
    """What to buy of the catalogue in force; None where it has no pack of a size that is named."""
    from ..purchase import Wanted, buy, in_force, note, would_do

    query = job.query
    times = 1.0 if query.times is None or "each-time" in query.told else query.times * (query.years or 1.0)
    heavy = any(one.target == "weight" for one in job.worked) or any(span.dimension == "weight" for span in query.have)
    wanted = Wanted(castings, job.worked, job.printer, said_density(job), times, heavy, query.end or "high")
    try:
        found = buy(wanted, job.shop, size)
    except Unworkable as problem:
        if query.asked in ("packs", "cost") or query.budget is not None:
            raise
        job.advice.append(note("not-sold", f"Nothing can be said of packs: {problem.text.partition(';')[0]}."))
        return (), None
    if found is None:
        return None
    if found.short and query.asked in ("packs", "cost"):
        raise Unworkable("stock", f"{found.short} Shall it be less, or from elsewhere?", "amount")
    _take(job, found)
    if query.asked in ("packs", "cost") and not query.enough:
        from ..ready_mixed import ready_mixed

        job.advice += ready_mixed(in_force(job.shop), wanted)
    if query.pack is not None and query.pack.count and query.enough:
        told, job.table = would_do(query.pack.count, wanted, job.shop)
        job.assumed += [note for note in told.assumed if note not in job.assumed]
        job.advice[:0] = told.advice
    if query.budget is not None and found.cost is not None:
        _against_budget(job, wanted, found.cost)
    return found.packs, found.cost


def _against_budget(job: Job, wanted: Wanted, cost: Cost) -> None:
    from ..budget import against

    assumed, advice = against(job.query, wanted, cost, job.shop, job.request)
    job.assumed += assumed
    job.advice.insert(0, advice)


def for_money_or_bags(job: Job) -> tuple[Value, Bought] | None:
    """The castings that money or a number of bags gives by the catalogue in force, where no pack is stated."""
    query = job.query
    if states_own_pack(query) or query.have or query.loads:
        return None
    if query.budget is None and (query.pack is None or not query.pack.count):
        return None
    from ..budget import for_bags, for_money

    find = for_money if query.budget is not None else for_bags
    found = find(query, job.printer, said_density(job), job.shop, job.request)
    _take(job, found.bought)
    return found


def priced_packs(job: Job) -> tuple[Value, Bought] | None:
    """Packs of a size that the request names without a price, where what they cost is asked and no more."""
    query = job.query
    pack = query.pack
    if query.asked != "cost" or pack is None or pack.size is None or pack.price is not None or query.have or query.loads:
        return None
    from ..priced import for_named_packs

    found = for_named_packs(query, job.printer, said_density(job), job.shop)
    _take(job, found.bought)
    return found
