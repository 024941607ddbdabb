"""Side by side: products at their prices, packs of the catalogue."""

from __future__ import annotations

from grammar.reads import reads

from .. import products
from ..answer import Advice, Answer, Asked, Cost
from ..ends import at_end
from ..relations import UNIT_PRICE
from ..steps import step
from ..units import symbol
from ..work import work
from .counter import said_density
from .job import Job
from .record import in_all, made, summed
from .rows import show_steps


def products_compared(job: Job) -> Answer:
    """Products by what a unit of each costs, the cheapest first."""
    query = job.query
    found = products.offers(query, job.density)
    name = products.measure_of(query)
    if products.rests_on_density(query):
        job.assume_density()
    for one in found:
        job.working.append(step(UNIT_PRICE, one.name, f"{products.money(one.per_unit)} {one.currency} per {symbol(name)}"))
    best, second = found[0], found[1]
    turn = products.turning_point(best, second)
    if turn is not None:
        heavy = best if best.size.dimension == "weight" else second
        job.advice.append(Advice(code="compare-density", level="note", text=products.text_of(turn, heavy, products.is_metric(query)),
                                 source="arithmetic"))  # fmt: skip
    job.table = (("product", f"{best.currency} per {symbol(name)}"), *((one.name, products.money(one.per_unit)) for one in found))
    job.said = f"{best.name} is cheaper: {products.money(best.per_unit)} {best.currency} per {symbol(name)}"
    if abs(best.per_unit - second.per_unit) < 1e-9 * best.per_unit:
        job.said = f"they cost the same: {products.money(best.per_unit)} {best.currency} per {symbol(name)}"
    return made(
        job, reads=reads(query),
        answer=Asked(of="cost", low=best.per_unit, high=best.per_unit, unit=best.currency),
        cost=Cost(amount=products.money(best.per_unit), currency=best.currency),
    )  # fmt: skip


def packs_compared(job: Job) -> Answer:
    """The packs of the catalogue in force side by side, by size or for the places named."""
    from ..packs_compared import by_place, by_size

    query = job.query
    castings = weight = None
    if query.places:
        job.worked += [work(place, query, job.density) for place in query.places]
        castings, weight = summed([one.castings for one in job.worked]), summed([one.weight for one in job.worked])
        for one in job.worked:
            job.assume_all(one.assumed)
            show_steps(job, one.sheet, one.target, one)
        assert castings is not None and weight is not None
        found = by_place(at_end(castings, query.end), job.printer, said_density(job), job.shop)
    else:
        found = by_size(query, said_density(job), job.shop)
    job.assume_all(found.assumed)
    job.advice += found.advice
    job.working += found.working
    job.table, job.said = found.table, found.said
    return made(
        job, reads=reads(query),
        answer=Asked(of="cost", low=found.low, high=found.low, unit=found.cost.currency),
        castings=in_all(castings, weight) if castings and weight else None, cost=found.cost,
    )  # fmt: skip
