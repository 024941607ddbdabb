"""The unit that goes unsaid in a follow-up: "50 by 40 by 30" after a box of 60 by 40 by 30 cm.

Only where the sides that were told before are all in one unit, and the line speaks of no other kind of place.
"""

from __future__ import annotations

from grammar.draft import Draft
from grammar.parse import parse
from grammar.phrases import Amount, Measure, Number, Said
from grammar.reads import many_of
from grammar.said import dimension, is_said

_PLACES = ("ground", "container", "plant", "hole", "mix", "seed-mix")


def sides_in_full(line: str, old: Draft | None) -> str:
    """The line with the unit of the sides before put after sides that have none; other lines as they are."""
    if old is None:
        return line
    phrases = parse(line).phrases
    bare = [p for p in phrases if type(p) is Amount and len(p.dims) > 1 and all(type(d) is Number and not d.role for d in p.dims)]
    if len(bare) != 1 or any(type(d) is Measure and dimension(d) == "length" for p in phrases if type(p) is Amount for d in p.dims):
        return line
    place = next((one for one in reversed(old.places) if len(one.size) > 1), None)
    if place is None or not place.size_unit_said or any(
        type(p) is Said and p.kind in _PLACES and not is_said(p, place.kind, place.noun) for p in phrases
    ):  # fmt: skip
        return line
    told = [*place.size, *([place.depth] if place.depth is not None else [])][: len(bare[0].dims)]
    units = {span.unit for span in told}
    if len(told) < len(bare[0].dims) or len(units) != 1 or not (unit := units.pop()):
        return line
    return f"{line[: bare[0].end]} {many_of(unit)}{line[bare[0].end :]}"
