"""One query in hand: what it is worked out with, and what is noted on the way to its answer."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from grammar.quantities import unit
from grammar.query import Query

from ..answer import KILOGRAMS_ONLY, Advice, Working
from ..units import Printer
from ..worked import Density, Worked
from . import density as densities

if TYPE_CHECKING:
    from ..shop import Catalogue


@dataclass(slots=True)
class Job:
    """A query with the shop, the density and the units it is answered in, and the notes that the answer is made up from.

    `shop` is a shop's own catalogue, or None for the sample.
    """

    query: Query
    request: str
    shop: Catalogue | None
    density: Density
    printer: Printer
    assumed: list[tuple[str, str]]
    advice: list[Advice] = field(default_factory=list)
    working: list[Working] = field(default_factory=list)
    worked: list[Worked] = field(default_factory=list)
    #: rows for people, and the figure where the asked amount alone does not say it
    table: tuple[tuple[str, ...], ...] = ()
    said: str = ""

    def assume(self, code: str, text: str) -> None:
        """Notes what the request does not say and the answer rests on; once, however often it is met."""
        if (code, text) not in self.assumed:
            self.assumed.append((code, text))

    def assume_all(self, notes: Iterable[tuple[str, str]]) -> None:
        """Notes what a part of the working assumed."""
        for code, text in notes:
            self.assume(code, text)

    def assume_density(self) -> None:
        """Notes whose density the answer rests on, where the request states none."""
        if not self.density.said:
            self.assume(*densities.assumption(self.density, self.query, self.shop, self.printer))

    def assume_density_of_kilograms(self) -> None:
        """The same where only the kilograms of the record rest on it, and nobody asked for a weight."""
        if self.density.said:
            return
        code, text = densities.assumption(self.density, self.query, self.shop, self.printer)
        if (code, text) not in self.assumed:
            self.assume(KILOGRAMS_ONLY, text)


def begin(query: Query, request: str, shop: Catalogue | None) -> Job:
    """The job of a query, with a bare "$" as the shop's own money. Raises Unworkable for a density that no castings have."""
    assumed = [(note.code, note.text) for note in query.assumed]
    if shop is not None and query.budget is not None and not states_own_pack(query):
        from ..budget import in_money_of

        query, dollars = in_money_of(query, shop, request)
        assumed += dollars
    return Job(query, request, shop, densities.in_force(query, shop), Printer(query.metric, _spoken(query), query.asked_unit), assumed)


def states_own_pack(query: Query) -> bool:
    """Whether the request says how big its packs are or what one costs, so that no catalogue is needed."""
    pack = query.pack
    return pack is not None and (pack.size is not None or pack.price is not None)


def _spoken(query: Query) -> list[str]:
    """The units that the request speaks in, those that an answer is best given in first."""
    names = [query.asked_unit] if query.asked_unit and unit(query.asked_unit).dimension in ("volume", "weight", "area") else []
    if not query.metric and any(place.way in ("side-dress", "planting-hole") and place.rate is None for place in query.places):
        names.append("us_cup")  # the usual rate is in cups a plant or a hole
    # beside a bed the cups of some plants are no measure for the whole
    doses = all(place.rate is not None or place.shape.form == "none" for place in query.places)
    for place in query.places:
        names += [span.unit for span in place.shape.dims.values()]
        names += [span.unit for span in (place.rate, place.soil) if span is not None and (doses or span.dimension != "volume")]
    names += [span.unit for span in (*query.have, *query.compare_rates)]
    if query.tea is not None and query.tea.water is not None:
        names.append(query.tea.water.unit)
    if query.tea is not None:
        names.append("litre" if query.metric else "us_gallon")
    if query.pack is not None and query.pack.size is not None:
        names.append(query.pack.size.unit)
    return names
