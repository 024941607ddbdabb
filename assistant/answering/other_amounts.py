"""The same places at several shares, layers, amounts for one, or strengths of a tea: a row for each, side by side.

The answer itself is that of the usual share or layer where that lies within what is named, and else from the least to the
most of it; a row is worked out as if its amount had been said.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field

from grammar.quantities import Span, factor
from grammar.query import Place, Query

from ..answer import Advice, Working
from ..judge import judge_share, judge_tea
from ..knowledge import facts
from ..relations import SIDE_BY_SIDE, Value
from ..steps import step
from ..units import Printer, printed, span_text
from ..work import work
from ..worked import Density, base
from .job import Job

_SOURCE = "the same rules"


@dataclass
class Table:
    """Rows for people, the first of which heads them, and what is said of them."""

    rows: tuple[tuple[str, ...], ...] = ()
    working: list[Working] = field(default_factory=list)
    advice: list[Advice] = field(default_factory=list)


@dataclass(frozen=True)
class _Row:
    """One amount: as it is said, what it takes, and whether it may do harm."""

    said: str
    castings: Value
    weight: Value
    advice: tuple[Advice, ...] = ()


def show_other_amounts(job: Job) -> None:
    """The table of what a query sets side by side, on its job."""
    found = side_by_side(job.query, job.density, job.printer)
    if found.rows:
        job.working += found.working
        job.advice += found.advice
        job.table = found.rows
        job.assume_density()


def side_by_side(query: Query, density: Density, printer: Printer) -> Table:
    """The table of what the query sets side by side; no rows where it sets nothing so."""
    if query.compare_ratios:
        return _table("strength", _strengths(query, density), printer)
    if query.compare:
        spans = tuple(Span(value, value, "percent") for value in query.compare)
        return _table("share", _places(query, density, spans, lambda span: {"share": span}), printer)
    if query.compare_layers:
        return _table("layer", _places(query, density, query.compare_layers, lambda span: {"layer": (span,), "way": "top-dress"}), printer)
    if query.compare_rates:
        return _table("each", _places(query, density, query.compare_rates, lambda span: {"rate": span, "rate_per": None}), printer)
    return Table()


def spanned(place: Place, query: Query) -> Place:
    """A place that gets what is named, from the least to the most, unless the usual lies within that."""
    if query.compare_rates and place.rate is None:
        return place.model_copy(update={"rate": _from_to(query.compare_rates)})
    if query.compare and place.share is None and not place.recipe:
        shares = Span(min(query.compare), max(query.compare), "percent")
        usual = facts().rate("seed-mix.share" if place.way == "seed-mix" else "blend.share").single
        return place if shares.low <= usual <= shares.high else place.model_copy(update={"share": shares})
    if query.compare_layers and not place.layer:
        layers = _from_to(query.compare_layers)
        fact = facts().rate("top-dress.layer")
        size = factor(fact.unit)
        within = place.noun != "lawn" and layers.base[0] <= fact.low * size + 1e-9 and fact.high * size <= layers.base[1] + 1e-9
        return place if within else place.model_copy(update={"layer": (layers,)})
    return place


def _from_to(spans: tuple[Span, ...]) -> Span:
    values = [one.low for one in spans]
    return Span(min(values), max(values), spans[0].unit)


def strengths(query: Query) -> Value:
    """Castings to water, from the weakest to the strongest tea that is named."""
    parts = [one / other for one, other in query.compare_ratios]
    return min(parts), max(parts)


def _table(what: str, found: Iterator[_Row], printer: Printer) -> Table:
    made = Table()
    rows = [(what, "castings", "weight", "")]
    for row in found:
        text = printer.show(*row.castings, "volume")
        made.working.append(step(SIDE_BY_SIDE, f"{what} {row.said}", f"castings {text}"))
        made.advice += row.advice
        harm = "may harm" if any(one.level == "warning" for one in row.advice) else ""
        rows.append((row.said, text, printer.show(*row.weight, "weight"), harm))
    made.rows = tuple(rows) if any(row[3] for row in rows) else tuple(row[:3] for row in rows)
    return made


def _places(query: Query, density: Density, spans: tuple[Span, ...], change: Callable[[Span], dict[str, object]]) -> Iterator[_Row]:
    """What all places take at each amount."""
    harm = facts().rate("share.harm").single
    for span in spans:
        castings = weight = (0.0, 0.0)
        for place in query.places:
            one = work(_changed(place, change(span)), query, density)
            assert one.castings is not None and one.weight is not None
            castings = (castings[0] + one.castings[0], castings[1] + one.castings[1])
            weight = (weight[0] + one.weight[0], weight[1] + one.weight[1])
        past = span.unit == "percent" and span.high > harm + 1e-9
        said = judge_share(span.low / 100, span.high / 100, span_text(span), "less") if past else []
        yield _Row(span_text(span), castings, weight, tuple(said))


def _changed(place: Place, change: dict[str, object]) -> Place:
    return place.model_copy(update=change)


def _strengths(query: Query, density: Density) -> Iterator[_Row]:
    """What the water of a tea takes at each strength."""
    assert query.tea is not None and query.tea.water is not None
    water = base(query.tea.water)
    for one, other in query.compare_ratios:
        parts = one / other
        castings = (water[0] * parts, water[1] * parts)
        weight = (castings[0] * density.value[0], castings[1] * density.value[1])
        yield _Row(f"{printed(one, one, 'fraction')}:{printed(other, other, 'fraction')}", castings, weight, tuple(judge_tea((parts, parts))))
