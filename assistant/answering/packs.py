"""The packs that an amount takes: of the size that the request states, else out of the catalogue in force."""

from __future__ import annotations

from decimal import Decimal

from ..answer import Cost, PackCount
from ..ends import CALLED, at_end, why
from ..judge import judgement
from ..relations import COST, COST_BY_SIZE, WHOLE_PACKS, Value
from ..steps import step
from ..units import printed, span_text
from ..worked import Unworkable, base
from .counter import counter_is_asked, from_catalogue
from .job import Job
from .record import in_all
from .rows import show_weight


def purchase(job: Job, castings: Value, weight: Value) -> tuple[tuple[PackCount, ...], Cost | None]:
    """Whole packs for an amount and what they cost; none where none are asked for. Raises Unworkable where a size or a price is missing."""
    query = job.query
    pack = query.pack
    if pack is None or (pack.size is None and pack.price_per is None):
        if counter_is_asked(job) and (found := from_catalogue(job, castings, weight)) is not None:
            return found
        if query.asked in ("packs", "cost"):
            raise Unworkable("pack", "how big is a bag, by weight or by volume, and what does it cost?", "pack")
        return (), None
    if pack.size is None:
        assert pack.price_per is not None and pack.price is not None
        need = at_end(weight if pack.price_per.dimension == "weight" else castings, query.end)
        amount = Decimal(repr(need / base(pack.price_per)[0])) * Decimal(pack.price)
        due = Cost(amount=f"{amount:.2f}", currency=pack.currency or "USD")
        heavy = pack.price_per.dimension == "weight"
        if heavy:
            job.assume_density()
            show_weight(job, in_all(castings, weight))
        shown = job.printer.show(need, need, "weight" if heavy else "volume", pack.price_per.unit)
        job.working.append(step(COST_BY_SIZE, f"amount {shown}, price of a unit {pack.price} per {span_text(pack.price_per)}",
                                f"{due.amount} {due.currency}"))  # fmt: skip
        return (), due
    if pack.count is not None and query.asked not in ("packs", "cost"):
        return (), None
    if pack.price is None and not query.enough and (job.shop is not None or query.asked == "cost"):
        found = from_catalogue(job, castings, weight, pack.size)
        if found is not None:
            return found
        if query.asked == "cost":
            raise Unworkable("price", f"what does one {printed(pack.size.low, pack.size.high, pack.size.unit)} {pack.noun} cost?", "price")
    low, _high = base(pack.size)
    heavy = pack.size.dimension == "weight"
    span = weight if heavy else castings
    need = at_end(span, query.end)
    if heavy:
        job.assume_density()
        show_weight(job, in_all(castings, weight))
    count = WHOLE_PACKS.count(need, low)
    name = f"{printed(pack.size.low, pack.size.high, pack.size.unit)} {pack.noun}"
    text = job.printer.show(*span, "weight" if heavy else "volume")
    job.working.append(step(WHOLE_PACKS, f"amount {text}, size of a pack {span_text(pack.size)}", f"{count} of {name}"))
    if span[0] != span[1]:
        end = query.end or "high"
        job.assume(f"packs-for-{end}-end", f"packs for {CALLED[end]} of the span, {why(end)}")
    cost = None
    if pack.price is not None:
        cost = Cost(amount=f"{Decimal(pack.price) * count:.2f}", currency=pack.currency or "USD")
        job.working.append(step(COST, f"packs {count}, price of a pack {pack.price}", f"{cost.amount} {cost.currency}"))
    left = count * low - need
    if left > 1e-9:
        shown = job.printer.show(left, left, "weight" if heavy else "volume")
        job.advice.append(judgement("pack-left", left=shown))
    return (PackCount(id="stated", name=name, count=count),), cost
