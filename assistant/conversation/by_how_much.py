"""By how much a change would alter what was worked out: "how much more would 15% take?", "and how much less for 5%?"."""

from __future__ import annotations

import re

from grammar.draft import Draft
from grammar.quantities import Span, factor
from grammar.settle import settle

from ..answer import Answer, Assumed
from ..followup.by_so_much import by_so_much
from .answers import answered, asks, of_query
from .changed import made_of
from .line import Line
from .reading import drafted, numbered_in_full, places_in_full
from .remembered import Remembered

_BY_HOW_MUCH = re.compile(r"\bhow (?:much|many) (more|less|extra|fewer)\b", re.IGNORECASE)
_SAVED = re.compile(r"\bhow much (?:(?:do|would|will|can) (?:i|we|it|that) save|(?:is|would be) saved)\b", re.IGNORECASE)
_THERE = re.compile(r"\b(?:(?:i|we|they)(?: already| only| just)? (?:have|had|got)|(?:i|we)['’]ve|there (?:is|are)|already)\b", re.IGNORECASE)
#: "how much would half an inch add": how much more it would take
_ADDS = re.compile(r"\bhow much (?:would|will|does|do|did) ([^.;?]+?) add\b", re.IGNORECASE)
#: Of castings that are there, or of bags: another question.
_OTHERWISE = re.compile(r"\b(?:bags?|sacks?|packs?|money|cost|cheaper|dearer|expensive|pay|soil|compost|mix|water|left)\b", re.IGNORECASE)


def by_how_much(talk: Remembered, old: Draft, said: Line) -> Answer | None:
    """The difference that a change makes, told as what is still needed or what is left of the castings of before; None for any other line."""
    base = next((turn for turn in (talk.now, *reversed(talk.past)) if not turn.compared), talk.now)
    last, line = base.answer, _ADDS.sub(lambda told: f"how much more would {told[1]} take", said.text)
    old = base.draft or old
    found = _BY_HOW_MUCH.search(line) or _SAVED.search(line)
    if found is None or last is None or last.castings is None or old.have is not None or old.packs_count or _OTHERWISE.search(line):
        return None
    rest = places_in_full(talk, numbered_in_full(talk, f"{line[: found.start()]}how much{line[found.end() :]}"))
    new = drafted(old, rest, line)
    if new.have is not None or "on-hand" in new.hints or _THERE.search(line) or new.asked not in ("", "castings") or not (
        new.unsure or new.stray or any(p.share or p.depth or p.layer or p.rate or p.count or p.has_size for p in new.places)
    ):  # fmt: skip
        return None
    draft = by_so_much(old, new, talk.leaning()) or made_of(talk, old, new, {name for name, _ in new.replies})
    if not isinstance(draft, Draft):
        return None
    before = last.castings.litres
    changed = answered(talk, draft, line)
    if changed.status != "answered" or changed.castings is None:
        return changed
    talk.now.compared = True
    after = changed.castings.litres
    if before[0] != before[1] or after[0] != after[1]:
        return asks(talk, line, f"It is {changed.figure} then, and was {last.figure}; of which end is the difference wanted?")
    compared = draft.copy()
    compared.have, compared.hints = _spoken(before[0], last.figure), compared.hints | {"on-hand"}
    if after[0] > before[0]:
        compared.asked, compared.asks, compared.hints = "castings", ["how-much-more"], compared.hints | {"more-needed"}
    else:
        compared.asked = "left-over"
    answer = of_query(talk, settle(compared), line)
    note = Assumed(code="by-how-much", text=f"that is {'more' if after[0] > before[0] else 'less'} than the {last.figure} of before; {changed.figure} in all")
    return answer.model_copy(update={"assumed": (*answer.assumed, note)}) if answer.status == "answered" else answer


#: A figure in the unit in which it was told.
_FIGURE = re.compile(r"^[\d.,]+ (L|cu ft|cu yd|US gal|m³|cups?|mL)\b")
_UNITS = {"L": "litre", "cu ft": "cubic_foot", "cu yd": "cubic_yard", "US gal": "us_gallon", "m³": "cubic_metre", "cup": "us_cup", "cups": "us_cup", "mL": "millilitre"}


def _spoken(litres: float, figure: str) -> Span:
    """So many litres in the unit of a figure for people; in litres where that has no unit of volume."""
    found = _FIGURE.match(figure)
    name = _UNITS[found[1]] if found is not None else "litre"
    value = litres * factor("litre") / factor(name)
    return Span(value, value, name)
