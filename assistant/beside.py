"""Castings beside growing plants: a ring around each, a band along a row, or so much for a length of row.

The user's measures go before the trade's; every one that was not said is listed as assumed.
"""

from __future__ import annotations

from grammar.quantities import Span, factor
from grammar.query import Place

from .knowledge import facts
from .relations import STRIPS, Relation, Value
from .sheet import Sheet

_TREES = frozenset({"tree", "fruit-tree", "apple-tree", "citrus", "avocado", "shrub", "tree-ring"})


def strip_of(place: Place) -> str:
    """Which strip is worked out by its measures: "ring", "band" or none."""
    if place.way != "side-dress" or place.rate is not None or not place.strip:
        return ""
    if place.strip == "band" and "length" not in place.shape.dims:
        return ""
    return place.strip if place.strip_width is not None or place.strip_layer is not None else ""


def along_a_row(place: Place) -> bool:
    """Whether a row is dressed by its length, at the trade's rate."""
    return (
        place.way == "side-dress"
        and place.rate is None
        and not strip_of(place)
        and place.kind in ("ground", "")
        and "length" in place.shape.dims
    )


def relations_of_strip(kind: str) -> tuple[Relation, ...]:
    """The relations of castings in a strip of this kind: `ring` or `band`."""
    return STRIPS[kind]


def put_strip(kind: str, place: Place, sheet: Sheet, assumed: list[tuple[str, str]]) -> Value:
    """The measures of a ring or a band on the sheet; gives its thickness."""
    width = _measure(place.strip_width, f"side-dress.{kind}-width", f"a {kind}", "wide", assumed)
    sheet.give("strip width", *width)
    thick = _measure(place.strip_layer, "side-dress.band-layer", f"a {kind}", "thick", assumed)
    sheet.give("strip layer", *thick)
    if kind == "ring":
        fact_id = "tree.trunk-clear" if place.noun in _TREES else "side-dress.stem-clear"
        sheet.give("inner radius", *_measure(place.strip_clear, fact_id, "the ring begins", "from the stem", assumed))
        if place.count is None:
            assumed.append(("one", "one of them"))
    else:
        sheet.give("sides", 2.0 if "both-sides" in place.hints else 1.0)
    return thick


def put_row_rate(sheet: Sheet, assumed: list[tuple[str, str]]) -> None:
    """The trade's rate for a length of row on the sheet."""
    fact = facts().rate("side-dress.per-row-length")
    size = factor(fact.unit)
    sheet.give("rate for a length", fact.low * size, fact.high * size)
    assumed.append(("default-rate", f"{fact.said} of row ({facts().cite(fact)})"))


def _measure(said: Span | None, fact_id: str, what: str, how: str, assumed: list[tuple[str, str]]) -> Value:
    if said is not None:
        return said.base
    fact = facts().rate(fact_id)
    size = factor(fact.unit)
    assumed.append((fact_id.rpartition(".")[2], f"{what} {fact.write(fact.single)} {how} ({facts().cite(fact)})"))
    return fact.single * size, fact.single * size
