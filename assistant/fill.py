"""What a bed or a planter weighs when it is filled, moist and wet; a licensed engineer has the last word on floors."""

from __future__ import annotations

from grammar.quantities import factor
from grammar.query import Query

from .dimensions import put_shape
from .knowledge import facts
from .relations import FILLED, Value
from .sheet import Sheet
from .work import relations_for
from .worked import Density, Unworkable, Worked

#: The facts of the fill: as it is filled in, and wet.
_MIX = ("load.mix-moist", "load.saturated-medium")
_SOIL = ("load.soil-dry", "load.soil-soaked")


def weights(query: Query, density: Density) -> tuple[Value, Value, Worked, tuple[tuple[str, str], ...]]:
    """The weight as filled and the weight wet, in kilograms, of all the places together."""
    moist = wet = (0.0, 0.0)
    assumed: list[tuple[str, str]] = []
    worked = None
    kinds = _SOIL if "of-soil" in query.told else _MIX
    dry_fact, wet_fact = facts().rate(kinds[0]), facts().rate(kinds[1])
    if not query.places:
        raise Unworkable("size", "what is filled, and how big is it?", "size")
    for place in query.places:
        worked = Worked(place, Sheet(), relations_for(place, "blend"))
        put_shape(worked, place)
        assumed += worked.assumed
        form = place.shape.form
        volume = "whole volume"
        for fact, is_wet in ((dry_fact, False), (wet_fact, True)):
            sheet = worked.sheet
            sheet.values.pop("filled weight", None)
            size = factor(fact.unit)
            sheet.give("density of the fill", fact.low * size, fact.high * size)
            found = sheet.reach("filled weight", (*worked.relations, FILLED))
            if found is None or sheet.get(volume) is None:
                raise Unworkable(
                    "depth",
                    "how deep is it filled?" if form in ("rectangle", "area", "circle") else "how much does it hold?",
                    "depth" if form in ("rectangle", "area", "circle") else "volume",
                )
            if is_wet:
                wet = (wet[0] + found[0], wet[1] + found[1])
            else:
                moist = (moist[0] + found[0], moist[1] + found[1])
            if is_wet != (query.filled == "wet"):
                sheet.steps.pop("filled weight", None)
        if query.filled != "wet":
            sheet = worked.sheet
            sheet.values.pop("filled weight", None)
            size = factor(dry_fact.unit)
            sheet.give("density of the fill", dry_fact.low * size, dry_fact.high * size)
            sheet.reach("filled weight", (*worked.relations, FILLED))
    assert worked is not None
    fact = wet_fact if query.filled == "wet" else dry_fact
    what = "wet" if query.filled == "wet" else "moist" if kinds is _MIX else "dry"
    assumed.append(("fill-density", f"the fill weighs {fact.said}, {what} ({facts().cite(fact)})"))
    return moist, wet, worked, tuple(dict.fromkeys(assumed))
