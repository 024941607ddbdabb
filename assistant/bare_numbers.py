"""What a number without a unit stands for in a follow-up: how many, what share, how deep, how much each.

The readings are weighed by declared preferences (table `number`). The likeliest is put in words and the line is read
again as a whole: "drop it to 10" as "drop it to 10 %". Where two are close, which one is meant is asked.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from grammar.draft import Draft, PlaceDraft
from grammar.preferences import weigh
from grammar.quantities import Span
from grammar.reads import figure, many_of

from .choices import Doubt
from .replies import bare_number
from .spoken_of import last_changed, spoken_of

#: The values of a place that a bare number may take the place of, and how each is said in full.
_SLOTS = ("depth", "fill", "layer", "rate", "volume", "area", "diameter", "length", "share")
_AFTER = {"depth": " deep", "fill": " deep", "layer": " of castings", "rate": " each", "diameter": " across", "length": " long"}
_ASKED_FOR = {"size": "volume", "each": "rate"}

#: What stands right before the number.
_BEFORE = {
    "at": re.compile(r"\b(?:at|with|use|using|used|try)\s+(?:only |just |about |like |maybe )?$"),
    "gets": re.compile(r"\b(?:gets?|give(?: \w+)?|needs?|takes?|each gets?)\s+(?:only |just |about )?$"),
    "used": re.compile(r"\b(?:use|using|used|put in|mix in)\b[^.;?!]*$"),
    "named share": re.compile(r"(?:\bper ?cent(?:s|age|ages)?|\bpct|\bshare|\bstrength|\brate|%)\b[^\d,.;]*$"),
    "over": re.compile(r"\b(?:over|across|onto|cover|covers|covering|spread (?:it )?on)\s+(?:only |just |about |the )?$"),
    "done": re.compile(r"\b(?:do|doing|did|cover|dress|treat|fill|feed)\s+(?:only |just |about )?$"),
    "fill": re.compile(r"\bfill(?:ed|ing)?\b[^,.;]*$"),
    "held": re.compile(r"\b(?:(?:i|we)(?: only| just| now| actually)? (?:have|got|had|need)|(?:i|we)['’]ve(?: only| just)?(?: got)?|there are|there's)\s+(?:only |just |about |really |now |actually )?$"),
    "are": re.compile(r"\b(?:are|were|we have|i have|have|got|there's|of which)\s+(?:only |just |about |really |now )?$"),
    "moved": re.compile(
        r"\b(?:drop|lower|raise|bump|cut|reduce|increase|decrease|dial|turn|bring|take|go|going|come|push|nudge|ease|up|down)\b[^,.;]*\bto\s+(?:only |just |about |like |maybe )?$"
    ),
}
#: Every sign that a line of the table may name.
SIGNS = frozenset(
    {*_BEFORE, "counted", "spelled", "whole", "broken", "part", "part in words", "countable", "share used", "asked", "of a place", "mix", "alone"}
    | {f"{told} {name}" for told in ("asked", "changed") for name in (*_SLOTS, "count")}
    | {f"{name} said" for name in (*_SLOTS, "count")}
    | {"near the layer", "eighths"}
    | {f"back to the {name}" for name in _SLOTS}
    | {f"like the {name}" for name in _SLOTS}
)
_BACK_TO = re.compile(r"\b(?:back (?:down |up )?to|return to|was right|as before)\b", re.IGNORECASE)
_OF_THEM = re.compile(r"^\s*(?:of (?:them|those|these|'em|em)\b|like (?:that|those|it|this)\b|pcs\b|pieces\b)")
#: A word for the share before its number, which a share in full does without: "the percents 10".
_SHARE_WORD = re.compile(r"\b(?:the )?(?:per ?cents?|percentages?|pct|share|strength|rate)(?: is| at| to| of)?\s*$", re.IGNORECASE)
#: How near a word stands to be of the number, in letters.
_NEAR = 18
#: A number of money or of packs: "total price at 36 each", "in bags of 50".
_OF_MONEY = re.compile(r"\b(?:budgets?|prices?|priced|costs?|bucks|dollars?|pay|paid|charged?|bags?|sacks?|pouch(?:es)?)\b", re.IGNORECASE)
_FILLED = re.compile(r"\bfill(?:ed|ing)?\b", re.IGNORECASE)
_COUNTED = re.compile(r"(?:\bthere (?:are|were|is)|\bthere's|\bqty|\bx)\s*$")
_TAIL = re.compile(r"^\W*(?:(?:instead|then|now|please|each|maybe|rather|actually|though|was right|it is|it was|after all|again|in all|for (?:it|them|the \w+|each)|ok|thanks)\W*)*$")
#: The next thing said in the same line: "make it 10 and round up".
_NEXT = re.compile(r"^\s*(?:,|;|\.|and|but)\s+(?=[a-z])(?!(?:a |an )?(?:half|quarter|third)\b)")
_SPAN = re.compile(r"\d\s*(?:to|-|–|or)\s*\d")
_PLACE_THEN = re.compile(r"\b(?:is|are|at|gets?|to|with|needs?|takes?|be)\s+(?:only |just |about )?$")


#: A reading that so little speaks for is not taken, however alone it stands.
_LEAST = 3


@dataclass(frozen=True)
class Meant:
    """The line with the unit that went unsaid, and how the number was taken."""

    line: str
    note: str


@dataclass(frozen=True)
class Before:
    """What a bare number leans on: the turn before, what its question asked for, and the turns before that, the last one first."""

    draft: Draft
    awaiting: str
    #: the share that the last answer rests on, said or usual
    share_used: bool
    past: Sequence[Draft]


def in_full(new: Draft, before: Before) -> Meant | Doubt | None:
    """The line of a draft with its one bare number in full, or the question; None where nothing speaks for any reading."""
    found = _number(new)
    old = before.draft
    if found is None or not old.places or new.ratio or new.unsure or new.have or new.question or new.refusal:
        return None
    said, start, end, of_a_place = found
    value = bare_number(said)
    if value is None or value <= 0 or (value >= 1 and (old.packs_count or old.enough)):
        return None
    if value < 1 and _FILLED.search(new.text):
        return None  # "they're only filled two thirds": a part of what each holds, and no size of its own
    if not (ends_the_line(new.text[end:], said) or _half_is_done(new.text, start, end, said)):
        return None
    if new.asked == "cost" or new.price is not None or _OF_MONEY.search(new.text[max(0, start - _NEAR) : end + _NEAR]):
        return None
    place = _place_meant(new, old)
    if place is None:
        return None
    signs = _signs(new.text, start, end, said, value, place, before)
    if of_a_place:
        signs.add("of a place")
    barred = {name for name in (*_SLOTS, "count", "portion") if _in_words(name, said, value, place) is None}
    if place.count == value:
        barred.add("count")  # so many there are already
    weighed = weigh("number", signs, barred)
    readings = weighed.readings
    if not readings:
        return None
    best = weighed.clear
    if best and readings[0][1] < _LEAST:
        return None
    if best == "count" and place is not old.places[-1] and not of_a_place:
        alike = sum(one.noun == place.noun for one in old.places)
        return Meant(f"{said} {place.printed}", f"“{said}” counts the {place.printed}") if place.printed and alike == 1 else None
    if best == "count" and (of_a_place or "counted" in signs):
        return None  # it is read as that already
    if best:
        told = _in_words(best, said, value, place)
        assert told is not None
        reason = readings[0][2]
        left = _SHARE_WORD.sub("", new.text[:start]) if best == "share" else new.text[:start]
        return Meant(f"{left}{told}{new.text[end:]}", f"“{said}” is taken as “{told}”: {reason}")
    close = [name for name, worth, _ in readings if readings[0][1] - worth < weighed.lead][:3]
    told_all = [text for name in close if (text := _in_words(name, said, value, place)) is not None]
    shown = [_as_count(said, place) if name == "count" else text for name, text in zip(close, told_all, strict=True)]
    listed = f"{', '.join(f'“{one}”' for one in shown[:-1])} or “{shown[-1]}”"
    return Doubt(f"Is “{said}” meant as {listed}?", said, tuple(told_all), tuple(shown))


def _number(new: Draft) -> tuple[str, int, int, bool] | None:
    """The one bare number of a line, where it stands, and whether it was read as the count of a place named before it."""
    if len(new.stray) == 1 and (len({said for _, said in new.figures}) == 1 or not any(place.count or place.has_size for place in new.places)):
        said, start, end = new.stray[0]
        return said, start, end, False
    counted = [place for place in new.places if place.count is not None]
    if new.stray or len(counted) != 1 or len(new.places) != 1 or len(new.figures) != 1 or counted[0].has_size:
        return None
    said = new.figures[0][1]
    start = new.text.rfind(said)
    after = _PLACE_THEN.search(new.text[:start].lower())
    if start < 0 or after is None or not _TAIL.match(new.text[start + len(said) :].lower()):
        return None
    return said, start, start + len(said), True


def ends_the_line(right: str, said: str) -> bool:
    """Whether a number stands for a value of its own: not "half of that", nor "4 on Friday"."""
    if said.lower() in ("half", "a half", "one half"):
        return False
    return bool(_TAIL.match(right.lower()) or _NEXT.match(right.lower()) or _OF_THEM.match(right.lower()))


def _half_is_done(text: str, start: int, end: int, said: str) -> bool:
    """ "if I only do half": a part of the place, and no measure halved."""
    return said.lower() in ("half", "a half", "one half") and bool(_BEFORE["done"].search(text[:start].lower()) and _TAIL.match(text[end:].lower()))


def _place_meant(new: Draft, old: Draft) -> PlaceDraft | None:
    """The place that a line names, or the last; None where it names one that was not spoken of."""
    for one in new.places:
        hits = spoken_of(one, old.places)
        if hits:
            return old.places[hits[-1]]
    return None if any(one.noun for one in new.places) else old.places[-1]


def _signs(text: str, start: int, end: int, said: str, value: float, place: PlaceDraft, before: Before) -> set[str]:
    left, right = text[:start].lower(), text[end:].lower()
    signs = {name for name, pattern in _BEFORE.items() if pattern.search(left)}
    if _OF_THEM.match(right) or _COUNTED.search(left):
        signs.add("counted")
    if not any(one.isdigit() for one in said):
        signs.add("spelled")
    signs.add("whole" if value == int(value) else "broken")
    if value * 8 % 2 == 1:
        signs.add("eighths")
    if value < 1:
        signs |= {"part", "part in words"} if "spelled" in signs else {"part"}
    signs |= {f"{name} said" for name in _SLOTS if _span(place, name)}
    if place.count is not None:
        signs.add("count said")
    if place.kind in ("container", "plant", "hole"):
        signs.add("countable")
    if not re.search(r"[a-z]", left + right):
        signs.add("alone")
    if place.kind in ("mix", "seed-mix"):
        signs.add("mix")
    if before.share_used:
        signs.add("share used")
    if before.awaiting:
        signs |= {"asked", f"asked {_ASKED_FOR.get(before.awaiting, before.awaiting)}"}
    changed = last_changed(before.draft, before.past)
    if changed:
        signs.add(f"changed {changed}")
    percent = value * 100 if "part in words" in signs else value
    if place.share is not None and place.share.low / 4 <= percent <= place.share.high * 4 and percent < 100:
        signs.add("like the share")
    if place.layer and place.layer[0].low / 6 <= value <= place.layer[0].high * 6:
        signs.add("near the layer")
    if _BACK_TO.search(text):
        signs |= {f"back to the {name}" for name in _SLOTS if _was(name, value, place, before)}
    for name in ("depth", "fill", "layer", "rate", "volume", "area", "diameter"):
        span = _span(place, name)
        if span is not None and span.low / 3 <= value <= span.high * 3:
            signs.add(f"like the {name}")
    return signs


def _was(name: str, value: float, place: PlaceDraft, before: Before) -> bool:
    """Whether a value of a place stood at a number in an earlier turn, and does no more: "back to ten"."""
    at = before.draft.places.index(place)
    now = _span(place, name)
    earlier = [_span(one.places[at], name) for one in before.past if len(one.places) == len(before.draft.places)]
    return any(span is not None and span != now and span.low == span.high == value for span in earlier)


def _span(place: PlaceDraft, name: str) -> Span | None:
    value = getattr(place, name)
    if name == "depth" and value is None and len(place.size) == 3:
        return place.size[2]
    return (value[0] if value else None) if name == "layer" else value


def _in_words(name: str, said: str, value: float, place: PlaceDraft) -> str | None:
    """How a reading is said in full; None where it cannot be."""
    if name == "count":
        return f"{said} of them" if value == int(value) else None
    if name == "portion":
        return f"{said} of {'them' if (place.count or 1) > 1 else 'it'}" if value < 1 else None
    if name == "share":
        if value >= 100:
            return None
        if _SPAN.search(said):
            return f"{said} %"
        return f"{figure(value * 100 if value < 1 else value)} %"
    span = _span(place, name)
    if span is None or not span.unit or (name == "rate" and place.rate_per is not None):
        return None
    number = said if any(one.isdigit() for one in said) else figure(value)
    return f"{number} {many_of(span.unit)}{_AFTER.get(name, '')}"


def instead(old: Draft, wrong: float, right: str) -> str | None:
    """The line that puts `right` in the place of the one value that is `wrong`: "200 was wrong, it's 220"; None where none or several are."""
    found = {
        f"{right} of them" if name == "count" else told
        for place in old.places for name in ("count", *_SLOTS)
        if (place.count if name == "count" else (span.low if (span := _span(place, name)) is not None and span.low == span.high else None)) == wrong
        and (told := _in_words(name, right, float(right.replace(",", "")), place)) is not None
    }  # fmt: skip
    return found.pop() if len(found) == 1 else None


def _as_count(said: str, place: PlaceDraft) -> str:
    """The count as a question offers it: "10 pots"."""
    noun = place.printed or "of them"
    return f"{said} {noun if noun.endswith('s') or noun == 'of them' else noun + 's'}"
