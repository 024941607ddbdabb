"""So much soil or mix told in the bags that it comes in, which are no bags of castings."""

from __future__ import annotations

from decimal import Decimal

from grammar.quantities import factor
from grammar.readers.other_bags import BOUGHT_MIX
from grammar.words import plural

from ..answer import Asked, Cost
from ..ends import at_end
from ..relations import COST, WHOLE_PACKS, Value
from ..steps import step
from ..units import printed, span_text
from ..worked import Unworkable, base
from .job import Job

_LITRE = factor("litre")


def told_in_bags(job: Job, asked: Asked, castings: Value | None) -> tuple[Asked, Cost | None]:
    """Whole bags of a soil or a mix, of the size that the request states, and what they cost where it states that.

    Raises Unworkable where the size of a bag is missing or told by weight, and where it is not plain whether the castings are in the bags.
    """
    query = job.query
    pack = query.pack
    name = (query.asked_noun or asked.of).replace("-", " ")
    noun = pack.noun if pack is not None else "bag"
    if pack is None or pack.size is None:
        raise Unworkable("pack", f"how big is a {noun} of {name}? It takes {job.printer.show(asked.low * _LITRE, asked.high * _LITRE, 'volume')}", "pack")
    if pack.size.dimension != "volume":
        raise Unworkable("pack", f"how much does a {noun} of {name} hold, by volume? What {name} weighs differs from one to another", "pack")
    size = base(pack.size)[0]
    need = (asked.low * _LITRE, asked.high * _LITRE)
    count = WHOLE_PACKS.count(at_end(need, query.end), size)
    if BOUGHT_MIX in query.told and castings is not None and WHOLE_PACKS.count(at_end(need, query.end) - at_end(castings, query.end), size) != count:
        raise Unworkable("mix", f"are the castings in those {plural(noun)} already, or do they come on top? Ask for “{plural(noun)} of the whole mix”, "
                         f"or for “{plural(noun)} of soil” that castings go into", "asked")  # fmt: skip
    label = f"{printed(pack.size.low, pack.size.high, pack.size.unit)} {noun} of {name}"
    shown = job.printer.show(*need, "volume")
    job.working.append(step(WHOLE_PACKS, f"amount {shown}, size of a pack {span_text(pack.size)}", f"{count} of {label}"))
    job.said = f"{count} of {label}, for {shown}"
    cost = None
    if pack.price is not None:
        cost = Cost(amount=f"{Decimal(pack.price) * count:.2f}", currency=pack.currency or "USD")
        job.working.append(step(COST, f"packs {count}, price of a pack {pack.price}", f"{cost.amount} {cost.currency}"))
    return Asked(of="packs", low=float(count), high=float(count), unit=label), cost
