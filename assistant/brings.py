"""What an amount of castings brings: nutrients by the user's analysis, or by the trade's spans marked as such.

Never a plan for fertilizer: it says what comes with the castings, not what a crop needs.
"""

from __future__ import annotations

from typing import NamedTuple

from grammar.query import Query

from .knowledge import facts
from .relations import BRINGS, BRINGS_DRY, DRY_MATTER, Value
from .sheet import Sheet, Step

NUTRIENTS = ("nitrogen", "phosphorus", "phosphate", "potassium", "potash")
_TYPICAL = {"nitrogen": "analysis.nitrogen", "phosphate": "analysis.phosphate", "potash": "analysis.potash"}
#: An element in its oxide, by which one is turned into the other.
_IN_OXIDE = {
    "phosphorus": ("phosphate", "analysis.phosphorus-in-phosphate"),
    "potassium": ("potash", "analysis.potassium-in-potash"),
}


class Brought(NamedTuple):
    """One nutrient that comes with the castings, in kilograms, and the steps that it rests on."""

    name: str
    kg: Value
    steps: tuple[Step, ...]
    assumed: tuple[tuple[str, str], ...] = ()


def dry(weight: Value, moisture: Value) -> tuple[Value, Step]:
    """The dry matter in a weight as received."""
    sheet = Sheet()
    sheet.give("weight", *weight)
    sheet.give("dry share", 1 - moisture[1], 1 - moisture[0])
    found = sheet.reach("dry weight", (DRY_MATTER,))
    assert found is not None
    return found, sheet.steps["dry weight"]


def brought(name: str, share: Value, weight: Value, moisture: Value | None) -> Brought:
    """So much of a nutrient: `share` is of the dry matter where the moisture is known, else of the weight as sold."""
    sheet = Sheet()
    sheet.give("weight", *weight)
    if moisture is not None:
        sheet.give("dry share", 1 - moisture[1], 1 - moisture[0])
        sheet.give("part in the dry weight", *share)
        found = sheet.reach("nutrient", (DRY_MATTER, BRINGS_DRY))
    else:
        sheet.give("part in the weight", *share)
        found = sheet.reach("nutrient", (BRINGS,))
    assert found is not None
    return Brought(name, found, tuple(sheet.trace("nutrient")))


def stated(query: Query, weight: Value) -> list[Brought]:
    """Every nutrient of the user's analysis."""
    moisture = (query.moisture.low / 100, query.moisture.high / 100) if query.moisture is not None else None
    return [
        brought(name, (span.low / 100, span.high / 100), weight, moisture) for name, span in query.analysis if name in NUTRIENTS
    ]


def asked(query: Query, weight: Value) -> Brought:
    """The nutrient that is asked for: by the analysis, else by the trade's span, which is of the dry matter."""
    name = query.asked_nutrient
    for one in stated(query, weight):
        if one.name == name:
            return one
    oxide, fact_id = _IN_OXIDE.get(name, (name, ""))
    for one in stated(query, weight):
        if one.name == oxide and fact_id:
            part = facts().rate(fact_id).single
            return one._replace(
                name=name, kg=(one.kg[0] * part, one.kg[1] * part), assumed=(("element", f"{part:g} of {oxide} is {name}"),)
            )
    fact = facts().rate(_TYPICAL[oxide])
    part = facts().rate(fact_id).single if fact_id else 1.0
    wet = facts().rate("castings.moisture")
    moisture = (
        (query.moisture.low / 100, query.moisture.high / 100) if query.moisture is not None else (wet.low / 100, wet.high / 100)
    )
    found = brought(name, (fact.low / 100 * part, fact.high / 100 * part), weight, moisture)
    told = [
        (
            "typical-analysis",
            f"no analysis was given: castings usually hold {fact.said} {oxide} in their dry matter ({facts().cite(fact)})",
        )
    ]
    if query.moisture is None:
        told.append(("typical-moisture", f"moisture of {wet.said} ({facts().cite(wet)})"))
    return found._replace(assumed=tuple(told))
