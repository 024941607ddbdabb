"""What is left bare in a place, or stands there by any name: "with a 1 ft bare circle in the middle", "with a 2 ft round birdbath in the centre".

It is known by where it is, and taken off the area as a shed is off a lawn. What it is need not be known, but it is not where
castings go: no bed, no pot and no plant. A length alone tells its size where it is round or stands in something round;
else what shape it has is asked.
"""

from __future__ import annotations

import re

from ..draft import Draft
from ..later import later
from ..phrases import Amount, Measure, Phrase, Said
from ..said import dimension, is_said, past_describing, single
from ..things import (
    HOSTS,
    Spoken,
    Thing,
    ask,
    is_ground_size,
    places_of,
    round_places,
    stands_inside,
    taken_off,
    text_of,
    thing_at,
    unit_of,
    whole,
    with_unit,
)

#: Where it is: "in the middle", "on it", "stands in one corner"; before that what it may be called.
_THERE = later(
    r"(?P<what>(?: [a-z][a-z'’-]*){0,3}?)(?:,? (?:that |which )?(?:stands?|standing|sits?|sitting|left|kept|is|stays))*(?P<bare> (?:bare|empty|open|clear|free|unplanted))?"
    r"(?: right| smack| dead)? (?:in|on|at) (?:it\b|top of it\b|(?:the|its|one) (?:very |exact |dead )?(?:middle|centre|center|corner|end|edge|side|back)\b)"
)
#: A quick look for the same.
_WHERE = later(r" (?:in|on|at) (?:it\b|top of it\b|the |its |one )")
_BARE = later(r"\b(?:bare|empty|clear|unplanted|hole|gap|opening)\b")
_FORMS = frozenset({"square", "circle", "round", "rectangle", "oval", "triangle", "ring"})
#: What may stand between its size and where it is; anything else is a place or a plant of its own.
_WORDS = frozenset({"unknown", "form", "hint", "stop"})


def left_bare(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """The phrases with what is bare or stands in a place taken off that."""
    text = draft.text.lower()
    if not _WHERE.search(text) and not any(map(stands_inside, phrases)):
        return phrases
    for at, phrase in enumerate(phrases):
        if not (is_said(phrase, "link", "with", "and", "is", "but", "on-hand") or is_said(phrase, "stop", "comma", "sentence")):
            continue
        found = _thing(phrases, at + 1)
        if found is None:
            continue
        thing, length = found
        there = _THERE.match(text, phrases[thing.end - 1].end)
        if there is None and not (stands_inside(thing.noun) and is_said(phrase, "link", "with")):
            continue
        end = thing.end
        if there is not None:
            while end < len(phrases) and phrases[end].start < there.end():
                end += 1
            said = text[phrases[thing.first].start : there.end()]
            if is_said(phrase, "link", "with") and _is_in_lawn(phrases, at) and (
                _is_planted(thing) or (there["what"].strip() in _FORMS and not (there["bare"] or _BARE.search(said)))
            ):  # fmt: skip
                ask(draft, "is that for what is planted there alone, or for what is around it too? Say the size of what castings go on")
                return phrases
            if not _is_bare(thing, there, phrases[thing.end : end], said):
                continue
        if thing.size is None and is_said(thing.noun, "ground", "path"):
            continue  # a path is a strip, as long as what it goes through
        many, end = _so_many(phrases, end, thing)
        marked = range(at + 1 if is_said(phrase, "stop") else at, end)
        hosts = [host for host in places_of(phrases, marked) + round_places(phrases, marked) if host.size_at < at]
        said = text_of(draft, phrases, thing.first, thing.end)
        if len(hosts) != 1:
            if hosts:
                ask(draft, f"“{said}”: which of the places is it taken off? Say the size of what castings do go on")
            continue
        host = hosts[0]
        size = thing.size
        if size is None:
            assert length is not None
            round_there = single(phrases[host.size_at]) is not None and _is_round(phrases, host)
            if not (round_there or length.role == "diameter"):
                unit = length.unit.replace("_", " ")
                ask(draft, f"“{said}”: what shape is it? Say “{length.low:g} {unit} round”, or its two sides")
                return phrases
            size = Amount((length._replace(role="diameter"),), length.start, length.end)
        size = with_unit(size, unit_of(phrases[host.size_at]))
        if many == 0:
            ask(draft, f"“{said}”: how many are there? Say the size of what castings do go on")
            return phrases
        return taken_off(phrases, host, size, thing._replace(number=many), marked, draft)
    return phrases


def _thing(phrases: list[Phrase], at: int) -> tuple[Thing, Measure | None] | None:
    """What is named from an index on, with its size, or with a length alone: "a 3 ft fountain"."""
    thing = thing_at(phrases, at)
    if thing is not None and thing.size is not None:
        return thing, None
    number = 0.0
    first = at
    if at + 1 < len(phrases) and whole(phrases[at]):
        number, at = whole(phrases[at]), at + 1
    one = single(phrases[at]) if at < len(phrases) else None
    if type(one) is not Measure or one.per is not None or dimension(one) != "length" or one.role not in ("", "diameter", "width"):
        return None
    end = past_describing(phrases, at + 1)
    noun = phrases[end] if end < len(phrases) else None
    named = noun if isinstance(noun, Said) and (stands_inside(noun) or noun.kind in ("hole", "ground", "container", "plant")) else None
    return Thing(first, end + 1 if named is not None else at + 1, None, named, number or 1.0), one


def _is_bare(thing: Thing, there: re.Match[str], between: list[Phrase], said: str) -> bool:
    """Whether it is what stands there or is left bare: its name is known as that, or is no name of a place or a plant."""
    if thing.noun is not None:
        return stands_inside(thing.noun) or (thing.noun.kind == "hole" and "dig" not in said)
    if any(type(p) is Amount or (type(p) is Said and p.kind not in _WORDS and not is_said(p, "link", "into", "on", "at", "water") and not is_said(p, "ask", "left-over")
           and not stands_inside(p)) for p in between):  # fmt: skip
        return False
    what = there["what"].strip()
    if what.startswith("of ") or (what in _FORMS and not (there["bare"] or _BARE.search(said))):
        return False  # "15 cm of soil in it", "a 3 by 3 ft square in the corner for herbs"
    return bool(what or there["bare"] or _BARE.search(said))


def _is_planted(thing: Thing) -> bool:
    """Whether it is a piece of ground or plants of their own; several beds with two sides each are read elsewhere."""
    if thing.noun is None or stands_inside(thing.noun) or thing.noun.kind not in ("ground", "plant"):
        return False
    return not (thing.noun.id == "bed" and is_ground_size(thing.size))


def _is_in_lawn(phrases: list[Phrase], at: int) -> bool:
    """Whether the ground told before is one that beds are in."""
    grounds = [p for p in phrases[:at] if isinstance(p, Said) and p.kind == "ground"]
    return bool(grounds) and grounds[-1].id in HOSTS


def _so_many(phrases: list[Phrase], end: int, thing: Thing) -> tuple[float, int]:
    """How many of it there are, where that comes after ("…, 4 of them"), and the index after it; 0 where several are named and not counted."""
    at = end + 1 if end < len(phrases) and is_said(phrases[end], "stop", "comma") else end
    if at + 1 < len(phrases) and whole(phrases[at]) and is_said(phrases[at + 1], "link", "count-word"):
        return whole(phrases[at]), at + 2
    several = thing.number == 1.0 and thing.noun is not None and thing.noun.text.lower().endswith("s")
    return (0.0 if several else thing.number), end


def _is_round(phrases: list[Phrase], host: Spoken) -> bool:
    one = single(phrases[host.size_at])
    return (type(one) is Measure and one.role == "diameter") or any(is_said(p, "form", "round", "ring") for p in phrases[host.first : host.last + 1])
