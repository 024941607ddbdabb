"""What is left out, and what stands inside another: "all but the 3 by 3", "minus a 20 by 10 ft house", "3 died".

Each is found by its own words before the rest is read. What is left out of a list is taken off the list, what
stands inside a place is taken off its area, plants or pots that are gone are taken off their number, and a part of
a place stands for the place. Which of these is meant is told by what the thing is: a house stands in a lawn, and
a bed stands beside other beds. Where that does not decide it, it is asked.
"""

from __future__ import annotations

import re
from collections.abc import Callable

from ..draft import Draft
from ..later import later
from ..phrases import Amount, Measure, Number, Phrase, Said
from ..said import Mark, Waiting, Waits, is_said, kinds_of, stands
from ..things import (
    HOSTS,
    Spoken,
    Thing,
    ask,
    is_ground_size,
    places_of,
    round_places,
    sides_of,
    stands_inside,
    taken_off,
    text_of,
    thing_at,
    unit_of,
    whole,
    with_unit,
)
from .done import done, says_done
from .gone import gone
from .inside import beds_in, part_of, stands_in, stands_in_that
from .left_bare import left_bare
from .only_some import SOME, only_some
from .spared import spared

#: "all of the beds", before "but the 3 by 3".
_ALL = later(r"\b(?:all|every|each|everything)\b[^,.;:]*$")
#: More words that leave something out than this stand in no request.
_MOST = 12


def find_left_out(phrases: list[Phrase], draft: Draft, kinds: set[Mark], leaning: bool = False) -> list[Phrase]:
    """The phrases without what is left out of them; a size taken off another stands right after that as "except".

    `leaning` says that the line follows others, so that what it leaves out may be of a place told there.
    """
    if (leaning or stands(_FEW, kinds)) and says_done(draft.text):
        left = done(phrases, draft, leaning)
        if left is not phrases:
            phrases, kinds = left, kinds_of(left)
    if _spares(kinds, draft):
        left = spared(phrases, draft, leaning)
        if left is not phrases:
            phrases, kinds = left, kinds_of(left)
    due = _READERS.due(kinds) if Amount in kinds else ()
    if leaning and Amount in kinds and not kinds.isdisjoint(_INSIDE):
        phrases = stands_in_that(phrases, draft)
    if not due or (("ground", "l-shape") in kinds and any(is_said(phrase, "ground", "l-shape") for phrase in phrases)):
        return phrases  # the legs of an L are its own
    for read in due:
        phrases = read(phrases, draft)
    return phrases


#: What so many that are done are told by.
_FEW: Waits = (frozenset({Number, "ordinal", ("reply", "one-of-them")}),)
#: What says that something gets none, and a part of what is measured.
_NONE: Waits = (frozenset({"deny", "reply"}),)
_PART: Waits = (frozenset({("link", "of"), ("link", "count-word")}), frozenset({Number}), frozenset({"unit", ("measures", "area")}))


def _spares(kinds: set[Mark], draft: Draft) -> bool:
    """Whether a line may say that some of what is counted or measured gets none; "leave two of them out" is known by its text."""
    if stands(_NONE, kinds) or stands(_PART, kinds):
        return True
    said = draft.text.lower()
    return "leav" in said or "tak" in said


def _marked(phrases: list[Phrase], at: int, draft: Draft) -> bool:
    """Whether a phrase leaves out what comes next."""
    phrase = phrases[at]
    if phrase.start == phrase.end:
        return False  # put in here, after the place that it is taken off
    if is_said(phrase, "deny", "without", "all-but", "skip") or is_said(phrase, "reply", "drop-place"):
        return True
    if is_said(phrase, "by-so-much", "less") or (is_said(phrase, "deny", "leave") and phrase.text.lower().startswith("everything")):  # type: ignore[union-attr]
        return True
    return is_said(phrase, "link", "but") and _ALL.search(draft.text[: phrase.start].lower()) is not None


def _left_before(phrases: list[Phrase], at: int) -> Thing | None:
    """What stands before "not included": "the house, 20 by 10 ft, is not included"."""
    for first in range(max(0, at - 6), at):
        if first and not (is_said(phrases[first - 1], "stop") or is_said(phrases[first - 1], "link", "and", "with", "but", "is")):
            continue
        thing = thing_at(phrases, first)
        if thing is None:
            continue
        end = thing.end
        while end < at and (is_said(phrases[end], "link", "is", "of", "count-word") or is_said(phrases[end], "is") or is_said(phrases[end], "stop", "comma")):
            end += 1
        if end == at:
            return thing
    return None


def _listed(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """The phrases without what "except", "skip", "but not" or "not included" leaves out."""
    at = 0
    tried = 0
    while at < len(phrases) and tried < _MOST:
        made: list[Phrase] | None = None
        if is_said(phrases[at], "deny", "left-off", "leave") and not _marked(phrases, at, draft):
            tried += 1
            if phrases[at].text.lower().endswith("last"):  # type: ignore[union-attr]
                made = _ordinal(phrases, at, draft)  # "all but the last"
            thing = _left_before(phrases, at) if made is None else None
            if thing is not None and (thing.size is not None or stands_inside(thing.noun)):
                made = _leave_out(phrases, thing.first, thing._replace(end=at + 1), draft)
        elif _marked(phrases, at, draft):
            tried += 1
            made = _ordinal(phrases, at, draft)
            if made is None and (thing := thing_at(phrases, at + 1)) is not None:
                made = _leave_out(phrases, at, thing, draft)
        if made is None or made is phrases:
            at += 1
        else:
            phrases, at = made, 0
    return phrases


def _ordinal(phrases: list[Phrase], at: int, draft: Draft) -> list[Phrase] | None:
    """ "skip the second": that one of the places told, or None."""
    phrase = phrases[at]
    text = draft.text[phrase.start :].lower()
    found = re.match(r"\W*(?:[\w']+\s+)*?(?:the\s+)?(first|second|third|fourth|fifth|last)(?:\s+(?:one|bed|plot|row|lawn))?\s*(?=[,.;:?!]|$|and\b|but\b)", text)
    if found is None or len(found.group().split()) > 5:
        return None
    end = at + 1
    while end < len(phrases) and phrases[end].start < phrase.start + found.end():
        end += 1
    places = places_of(phrases, range(at, end))
    number = {"first": 0, "second": 1, "third": 2, "fourth": 3, "fifth": 4, "last": len(places) - 1}[found.group(1)]
    if len(places) < 2:
        return None
    if number >= len(places) or any(place.number > 1 for place in places):
        ask(draft, f"“{found.group().strip()}”: which one is left out? Say its size")
        return None
    return _drop(phrases, [places[number]], range(at, end), draft)


def _drop(phrases: list[Phrase], places: list[Spoken], marked: range, draft: Draft) -> list[Phrase]:
    """The phrases without some places and the words that leave them out."""
    gone = set(marked)
    told = len(places_of(phrases, marked))
    unit = ""
    for place in places:
        unit = unit or unit_of(phrases[place.size_at])
        gone.update(range(place.first, place.last + 1))
        before = place.first - 1
        if before >= 0 and (is_said(phrases[before], "link", "and") or is_said(phrases[before], "stop", "comma")):
            gone.add(before)
        draft.noted.append((text_of(draft, phrases, place.first, place.last + 1), "not to get any"))
    made: list[Phrase] = []
    for at, phrase in enumerate(phrases):
        if at in gone:
            continue
        if is_ground_size(phrase) and not unit_of(phrase):
            assert type(phrase) is Amount
            phrase = with_unit(phrase, unit)
        after = phrases[at + 1] if at + 1 < len(phrases) else None
        if whole(phrase) == told and type(after) is Said and after.kind in ("ground", "container") and after.text.lower().endswith("s") and not (
            at + 2 < len(phrases) and (is_said(phrases[at + 2], "link", "of") or is_ground_size(phrases[at + 2]))
        ):  # fmt: skip
            draft.noted.append((text_of(draft, phrases, at, at + 1), "how many there are in all"))
            continue
        if type(phrase) is Said and phrase.kind == "ground" and phrase.text.lower().endswith("s") and told == len(places) + 1:
            phrase = phrase._replace(text=phrase.id)  # of "my beds" one is left
        made.append(phrase)
    return made


def _leave_out(phrases: list[Phrase], at: int, thing: Thing, draft: Draft) -> list[Phrase]:
    """The phrases without one thing that is left out; the same phrases where nothing tells what it is left out of."""
    marked = range(min(at, thing.first), thing.end)
    places = places_of(phrases, marked)
    if not places and (thing.noun is None or stands_inside(thing.noun)):
        places = round_places(phrases, marked)
    said = text_of(draft, phrases, thing.first, thing.end)
    if not places:
        return phrases
    inside = stands_inside(thing.noun)
    if thing.size is None:
        if inside:
            ask(draft, f"how big is the {thing.noun.text.lower()} that is left out?")  # type: ignore[union-attr]
            return phrases
        if thing.noun is None or thing.noun.kind != "ground":
            return phrases
        named = [place for place in places if place.noun == thing.noun.id]
        if len(named) == 1 and len(places) > 1:
            return _drop(phrases, named, marked, draft)
        if len(named) > 1:
            ask(draft, f"“{said}”: which of the {len(named)} is left out? Say its size")
        return phrases
    unit = next((name for place in places if (name := unit_of(phrases[place.size_at]))), "")
    size = with_unit(thing.size, unit)
    same = [place for place in places if not inside and sides_of(phrases[place.size_at], unit) == sides_of(size, unit)]
    if same:
        if len(same) > 1 or same[0].number > 1:
            ask(draft, f"“{said}”: how many of that size are left out?")
            return phrases
        if len(places) > 1:
            return _drop(phrases, same, marked, draft)
    hosts = [place for place in places if place.noun in HOSTS or (not inside and thing.noun is None)]
    other = thing.noun is not None and not inside and (not hosts or all(place.noun == thing.noun.id for place in places))
    the = draft.text[: size.start].lower().rstrip(" (").endswith("the")
    if other or (thing.noun is None and the and len(places) > 1):
        draft.noted.append((said, "not to get any"))
        return [phrase for i, phrase in enumerate(phrases) if i not in marked]
    hosts = hosts or places
    if len(hosts) > 1:
        ask(draft, f"“{said}”: which of the places is it taken off? Say the size of what castings do go on")
        return phrases
    return taken_off(phrases, hosts[0], size, thing, marked, draft)


#: What stands in a garden and gets no castings.
_INSIDE: frozenset[Mark] = frozenset({("other-thing", "house-thing"), ("other-thing", "stands-in"), ("ground", "path"), ("hint", "balcony")})

#: The readers in their order, and what each waits for.
_READERS: Waiting[Callable[[list[Phrase], Draft], list[Phrase]]] = Waiting(
    (only_some, SOME),
    (gone, (frozenset({("by-so-much", "gone"), "other-time", "deny"}),)),
    (part_of, (frozenset({("link", "of")}), frozenset({"sides", ("measures", "area")}))),
    (_listed, (frozenset({"deny", ("reply", "drop-place"), ("by-so-much", "less"), ("link", "but")}),)),
    (left_bare, (frozenset({("link", "into"), ("link", "on"), ("link", "at"), ("link", "with")}), frozenset({Measure}),
                 _INSIDE | {("link", "into"), ("link", "on"), ("link", "at")})),
    (stands_in, (_INSIDE | {"unknown"}, _INSIDE | {("link", "into")})),
    (beds_in, (frozenset({("ground", host) for host in HOSTS}), frozenset({("ground", "bed")}), frozenset({("link", "with"), ("link", "into")}))),
)
