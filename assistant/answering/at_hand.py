"""An amount at hand and no place for it: its weight, its volume, its price, what it holds; and a density that was weighed."""

from __future__ import annotations

from decimal import Decimal

from grammar.reads import reads

from ..answer import Answer, Asked, Cost
from ..judge import cautions
from ..knowledge import facts
from ..relations import WEIGHED, WEIGHT, Value
from ..remarks import Scene, remarks
from ..steps import step
from ..units import span_text
from ..worked import Density, Unworkable, base
from .asked import asked_amount
from .contents import dry_matter, have_as_received, nutrient
from .counter import counter_is_asked, for_money_or_bags, priced_packs
from .density import weight_of
from .job import Job
from .money import bill
from .packs import purchase
from .record import in_all, made
from .stock import held, held_text


def at_hand(job: Job) -> Answer:
    """What is asked of an amount at hand. Raises Unworkable where there is neither an amount nor a place."""
    reading = reads(job.query)
    turned = have_as_received(job)
    query = job.query
    if query.weighed is not None and not query.have and query.pack is None:
        return _density_answer(job)
    shop = priced_packs(job)
    if "vehicle" in query.told and query.pack is None:
        _as_heavy_as_sold(job)
    castings = held(job) if shop is None else shop[0]
    if castings is None and not (query.pack is not None and query.asked == "cost") and (shop := for_money_or_bags(job)) is not None:
        castings = shop[0]
    if castings is None and query.asked == "cost" and query.pack is not None and query.pack.count and query.pack.price:
        return bill(job)
    if castings is None:
        raise Unworkable("place", "what are the castings for: a bed, pots, plants, a lawn, or a mix? And how big is it?", "place")
    weights = [span for span in query.have if span.dimension == "weight"]
    if weights and len(weights) == len(query.have):
        weight: Value = sum(base(span)[0] for span in weights), sum(base(span)[1] for span in weights)
    else:
        weight = weight_of(castings, job.density)
    bought = query.asked in ("packs", "cost") and not weights and counter_is_asked(job)
    if not bought:  # a volume that is bought is never weighed
        _weigh(job, castings, weight, bool(weights))
    job.advice += remarks(Scene([], query, job.printer, job.density, castings, weight))
    if turned:
        special: Asked | None = Asked(of="weight", low=weight[0], high=weight[1], unit="kg")
        job.said = f"{job.printer.show(*weight, 'weight')} as received"
    else:
        special = nutrient(job, castings, weight) or dry_matter(job, weight)
    if query.loads or "vehicle" in query.told:
        job.advice += [one for one in cautions([], query) if one.code == "vehicle-load"]
    packs, cost = purchase(job, castings, weight) if query.asked in ("packs", "cost") and query.have else ((), None)
    if shop is not None:
        packs, cost = shop[1].packs, shop[1].cost
    if query.asked == "cost" and cost is None and query.pack is not None and query.pack.price and query.pack.count:
        amount = Decimal(query.pack.price) * Decimal(repr(query.pack.count))
        cost = Cost(amount=f"{amount:.2f}", currency=query.pack.currency or "USD")
    return made(
        job, reads=reading,
        answer=special or asked_amount(job, castings, weight, packs, cost), castings=in_all(castings, weight), packs=packs,
        cost=cost,
    )  # fmt: skip


def _as_heavy_as_sold(job: Job) -> None:
    """Takes the whole span of densities where none is told: what carries a load has to carry the heaviest that is sold."""
    span = job.density.span
    if job.density.said or span is None or any(one.dimension == "weight" for one in job.query.have):
        return
    fact = facts().rate("castings.density")
    job.assume("density-span", f"castings weigh {job.printer.show(*span, 'density')}, moist as they are sold ({facts().footing(fact)})")
    job.density = Density(span, True)


def _weigh(job: Job, castings: Value, weight: Value, from_weight: bool) -> None:
    """The step from a volume at hand to its weight, or from its weight."""
    job.assume_density()
    given = held_text(job.query) or job.printer.show(*castings, "volume")
    gives = f"castings {job.printer.show(*castings, 'volume')}" if from_weight else f"weight {job.printer.show(*weight, 'weight')}"
    put_in = f"{'weight' if from_weight else 'castings'} {given}, density {job.printer.show(*job.density.value, 'density')}"
    job.working.append(step(WEIGHT, put_in, gives))


def _density_answer(job: Job) -> Answer:
    """The density of castings that were weighed in a measure."""
    low, high = job.density.value
    assert job.query.weighed is not None
    weighed, volume = job.query.weighed
    job.working.append(step(WEIGHED, f"weighed {span_text(weighed)}, measured volume {span_text(volume)}",
                            f"density {job.printer.show(low, high, 'density')}"))  # fmt: skip
    return made(
        job, reads=reads(job.query),
        answer=Asked(of="density", low=low / 1000, high=high / 1000, unit="kg/L"),
    )  # fmt: skip
