"""The castings at hand: amounts, packs and loads that the request says there are."""

from __future__ import annotations

from decimal import Decimal

from grammar.quantities import Span
from grammar.query import Query

from ..knowledge import facts
from ..relations import Value
from ..units import printed
from ..worked import Unworkable, as_aside, base
from .density import volume_of
from .job import Job


def held(job: Job) -> Value | None:
    """The castings at hand in cubic metres; None where the request names none. Raises Unworkable for money that buys no pack."""
    query = job.query
    spans = list(query.have)
    pack = query.pack
    if not spans and pack is not None and pack.size is not None and query.budget is not None and pack.price is not None:
        bags = int(Decimal(query.budget[0]) // Decimal(pack.price))
        if bags == 0:
            raise Unworkable("budget", f"{query.budget[0]} {query.budget[1]} does not buy one {pack.noun}", "budget")
        spans = [Span(pack.size.low * bags, pack.size.high * bags, pack.size.unit)]
    elif not spans and pack is not None and pack.size is not None:
        if query.budget is not None and pack.count is None:
            raise Unworkable("price", f"what does one {pack.noun} cost?", "price")
        count = pack.count if pack.count is not None else 1.0
        spans = [Span(pack.size.low * count, pack.size.high * count, pack.size.unit)]
    loads = [load(job, *each) for each in query.loads]
    if not spans and not loads:
        return None
    low, high = sum(each[0] for each in loads), sum(each[1] for each in loads)
    for span in spans:
        one = base(span)
        if span.dimension == "weight":
            job.assume_density()
            one = volume_of(one, job.density)
        low, high = low + one[0], high + one[1]
    return low, high


def load(job: Job, name: str, low: float, high: float) -> Value:
    """So many loads in cubic metres; what one holds is a fact of the trade, and is said."""
    one = facts().container(name)
    if one is None or one.volume is None:
        raise Unworkable("loose-measure", f"how much does a {name.replace('-', ' ')} hold?", "have")
    job.assume("load", f"a {one.name} holds {one.volume.said} ({facts().cite(one)}); {as_aside(one.note)}")
    span = one.volume.span.base
    return span[0] * low, span[1] * high


def held_text(query: Query) -> str:
    """What is at hand in the words of the request: "20 L", "3 × 30 lb"."""
    parts = []
    for span in query.have:
        parts.append(printed(span.low, span.high, span.unit))
    pack = query.pack
    if not parts and pack is not None and pack.size is not None:
        parts.append(f"{(pack.count or 1):g} × {printed(pack.size.low, pack.size.high, pack.size.unit)}")
    return " + ".join(parts)
