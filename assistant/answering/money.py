"""Money that the request states: bags for a sum, a bill, and what comes on top of a price."""

from __future__ import annotations

from decimal import Decimal

from grammar.query import Query
from grammar.reads import reads

from ..answer import Answer, Asked, Assumed, Cost, PackCount
from ..relations import COST, COST_IN_ALL, PACKS_FOR_MONEY
from ..steps import step
from ..units import printed, so_many
from ..worked import Unworkable, base
from .density import volume_of, weight_of
from .job import Job
from .record import in_all, made


def with_charges(query: Query, found: Answer) -> Answer:
    """The answer with a tax or a delivery that the request puts on top of the price. Raises Unworkable where it cannot be added."""
    cost = found.cost
    if cost is None:
        return found
    if query.tax is not None and (query.charges or query.tax.low != query.tax.high):
        raise Unworkable("price", "is the tax on the castings alone, or on the delivery too? Say the sums", "price")
    if any(currency != cost.currency for _, currency in query.charges):
        raise Unworkable("price", "the delivery and the bags are priced in different money; what does each cost in one?", "price")
    bare = Decimal(cost.amount)
    top = sum((Decimal(amount) for amount, _ in query.charges), Decimal(0))
    if query.tax is not None:
        top = (bare * Decimal(repr(query.tax.low)) / 100).quantize(Decimal("0.01"))
    name = f"tax of {query.tax.low:g} %" if query.tax is not None else "delivery"
    whole = Cost(amount=f"{bare + top:.2f}", currency=cost.currency)
    added = step(COST_IN_ALL, f"cost {bare:.2f}, {name} {top:.2f}", f"{whole.amount} {whole.currency}")
    text = f"{bare:.2f} {cost.currency} for the castings and {top:.2f} {cost.currency} of {name if query.charges else 'tax'}"
    return found.model_copy(update={
        "cost": whole, "figure": f"{whole.amount} {whole.currency}", "answer": Asked(of="cost", low=float(whole.amount), high=float(whole.amount), unit=whole.currency),
        "working": (*found.working, added), "assumed": (*found.assumed, Assumed(code="on-top", text=text)),
    })  # fmt: skip


def bags_for_money(job: Job) -> Answer:
    """Whole packs at the price that was said, for so much money. Raises Unworkable where it buys none."""
    query = job.query
    assert query.budget is not None and query.pack is not None and query.pack.price is not None
    money, price = Decimal(query.budget[0]), Decimal(query.pack.price)
    count = PACKS_FOR_MONEY.count(float(money), float(price))
    if count == 0:
        raise Unworkable("budget", f"{money} {query.budget[1]} does not buy one {query.pack.noun} at {price}", "budget")
    size = query.pack.size
    castings = weight = None
    name = query.pack.noun
    if size is not None:
        name = f"{printed(size.low, size.high, size.unit)} {query.pack.noun}"
        low, high = base(size)
        if size.dimension == "weight":
            weight = (low * count, high * count)
            castings = volume_of(weight, job.density)
            job.assume_density()
        else:
            castings = (low * count, high * count)
            weight = weight_of(castings, job.density)
    cost = price * count
    job.working.append(step(PACKS_FOR_MONEY, f"budget {money}, price of a pack {price}", so_many(str(count), name)))
    return made(
        job, reads=reads(query), answer=Asked(of="packs", low=count, high=count, unit=name),
        castings=in_all(castings, weight) if castings and weight else None, packs=(PackCount(id="stated", name=name, count=count),),
        cost=Cost(amount=f"{cost:.2f}", currency=query.budget[1]),
    )  # fmt: skip


def bill(job: Job) -> Answer:
    """So many packs at so much each."""
    pack = job.query.pack
    assert pack is not None and pack.count is not None and pack.price is not None
    due = Decimal(pack.price) * Decimal(repr(pack.count))
    cost = Cost(amount=f"{due:.2f}", currency=pack.currency or "USD")
    job.working.append(step(COST, f"packs {pack.count:g}, price of a pack {pack.price}", f"{cost.amount} {cost.currency}"))
    return made(
        job, reads=reads(job.query), answer=Asked(of="cost", low=float(due), high=float(due), unit=cost.currency), cost=cost,
    )  # fmt: skip
