"""Some of what is counted or measured gets none: "skip one of them", "2 of those square metres don't need any".

How many, or how much, is told as a part of what was spoken of: "of them", "of those square metres", "of the beds".
Such a part is made a plain number or a plain size here, with a word before it that leaves it out; what it is left
out of is then found as for "8 roses, 3 died" and for "all but the 3 by 3". In a conversation it stands without a
whole in its own line: there it is a change by so much, or a size that is taken off the place spoken of.
"""

from __future__ import annotations

import re

from ..draft import Draft
from ..later import later
from ..parse import parse
from ..phrases import Amount, Measure, Number, Phrase, Said, Share
from ..quantities import unit
from ..said import dimension, is_said, single
from ..things import ask, is_ground_size, is_noun, places_of, stands_inside, thing_at, whole

#: "leave two of them out", "take 2 sq m off": the two halves of one word.
_LEAVE = later(r"\b(?:leav|tak)(?:e|ing) (?:just |only )?$")
_OUT = later(r"\s*(?:of (?:them|those|these|it|that|(?:the|my|our|those|these) \w+) )?(?:out|off|away)\b")
#: "not the last two", of several that are alike.
_NOT_THE_LAST = later(r"\b(?:not|skip|without|except|but not)(?: for)?(?: the)? (?:last|first)\s+$", re.IGNORECASE)
#: "only 2 of those square metres": the part is what counts.
_ONLY = later(r"\b(?:only|just)\b", re.IGNORECASE)
_NOT_ONE = later(r"\bnot (?:a single )?one\b", re.IGNORECASE)


def spared(phrases: list[Phrase], draft: Draft, leaning: bool) -> list[Phrase]:
    """The phrases with every part that gets none told as "skip 1" or "except 2 sq m"."""
    phrases = _measured(_counted(phrases, draft), draft, leaning)
    if leaning:
        phrases = _named(phrases)
    else:
        _noun_spared(phrases, draft)
    for at, phrase in enumerate(phrases):
        made = None
        if whole(phrase):
            made = _few(phrases, at, draft, leaning)
        elif is_ground_size(phrase) and at + 3 < len(phrases) and is_said(phrases[at + 1], "link", "of") and (
            is_ground_size(phrases[at + 2]) and gets_none(phrases[at + 3])
        ):  # fmt: skip
            made = [*phrases[:at], phrases[at + 2], _except(phrase), phrase, *phrases[at + 4 :]]
        elif leaning and is_ground_size(phrase) and not _told(phrases, at):
            made = _some(phrases, at, draft)
        elif leaning and (leaves_out(phrase) or is_said(phrase, "reply", "drop-place")):
            made = _thing(phrases, at)
        if made is not None:
            return made
    return phrases


def gets_none(phrase: Phrase | None) -> bool:
    """Whether a phrase says that what stands before it gets no castings: "needs none", "is not included"."""
    return is_said(phrase, "deny", "left-off")


def leaves_out(phrase: Phrase | None) -> bool:
    """Whether a phrase leaves out what comes after it: "skip", "except", "all but"."""
    return is_said(phrase, "deny", "skip", "without", "all-but")


def _counted(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """ "one of them" beside a word that leaves it out, as the number 1; elsewhere it is what is told apart from the rest."""
    for at, phrase in enumerate(phrases):
        if not is_said(phrase, "reply", "one-of-them") or not isinstance(phrase, Said):
            continue
        before = phrases[at - 1] if at else None
        after = phrases[at + 1] if at + 1 < len(phrases) else None
        if _NOT_ONE.search(draft.text[: phrase.end]) and not leaves_out(before):
            ask(draft, f"“{draft.text[phrase.start - 4 : phrase.end].strip()}”: is one left out, or all of them? Say how many are to get castings")
            return phrases
        if not (leaves_out(before) or is_said(before, "reply", "drop-place") or gets_none(after) or is_said(after, "by-so-much", "gone") or _in_two(draft, phrase)):
            continue
        word = phrase.text.split()[0]
        number = next((p for p in parse(word).phrases if whole(p)), None)
        if number is None:
            continue
        count = whole(number)
        made: list[Phrase] = [Amount((Number(count, count, phrase.start, phrase.start + len(word)),), phrase.start, phrase.start + len(word))]
        if phrase.text.lower().endswith("s") and not phrase.text.lower().endswith(("these", "those")):
            noun = phrase.text.split()[-1]
            begins = phrase.end - len(noun)
            made += [p._replace(start=begins, end=phrase.end) for p in parse(noun).phrases if is_noun(p)]
        return [*phrases[:at], *made, *phrases[at + 1 :]]
    return phrases


def _in_two(draft: Draft, phrase: Phrase) -> bool:
    """ "leave … out" around a phrase."""
    return bool(_LEAVE.search(draft.text[: phrase.start].lower()) and _OUT.match(draft.text[phrase.end :].lower()))


def _measured(phrases: list[Phrase], draft: Draft, leaning: bool) -> list[Phrase]:
    """ "2 of those square metres" as 2 square metres, and so "2 of the 8 square metres"."""
    for at in range(len(phrases) - 2):
        number = single(phrases[at])
        of, then = phrases[at + 1], phrases[at + 2]
        if not whole(phrases[at]) or not is_said(of, "link", "of", "count-word") or type(number) is not Number:
            continue
        one = single(then)
        if isinstance(then, Said) and then.kind == "unit" and unit(then.id).dimension == "area":
            made = Measure(number.low, number.high, then.id, "unit", number.start, then.end)
            part_alone = gets_none(phrases[at + 3] if at + 3 < len(phrases) else None) or (at and leaves_out(phrases[at - 1])) or _ONLY.search(draft.text)
            if leaning and not part_alone and any(type(p) in (Amount, Share) for p in phrases[:at] + phrases[at + 3 :]):
                ask(draft, f"“{draft.text[made.start : made.end]}”: and what do the others get? Say each part as a place with its size")
            return [*phrases[:at], Amount((made,), made.start, made.end), *phrases[at + 3 :]]
        if type(one) is Measure and one.per is None and dimension(one) == "area" and number.low < one.low:
            part = Measure(number.low, number.high, one.unit, "unit", number.start, number.end)
            return [*phrases[:at], Amount((part,), part.start, part.end), *phrases[at + 1 :]]
    return phrases


def _named(phrases: list[Phrase]) -> list[Phrase]:
    """In a conversation, a place that gets none by its name: "the first needs none", "not the second bed"."""
    told = [p for p in phrases if not is_said(p, "stop")]
    if len(told) < 2 or not all(type(p) is Said for p in told):
        return phrases
    ends, begins = gets_none(told[-1]), leaves_out(told[0]) or is_said(told[0], "deny", "not")
    naming = told[:-1] if ends else told[1:]
    if not (ends or begins) or not all(is_noun(p) or is_said(p, "ordinal") or is_said(p, "letter") or is_said(p, "hint") or is_said(p, "form") for p in naming):
        return phrases
    if not (any(is_said(p, "ordinal") or is_said(p, "letter") for p in naming) or (ends and any(is_noun(p) and not stands_inside(p) for p in naming))):
        return phrases
    word = told[-1] if ends else told[0]
    assert isinstance(word, Said)
    return [Said("reply", "drop-place", word.text, word.start, word.end), *naming]


def _noun_spared(phrases: list[Phrase], draft: Draft) -> None:
    """Asks about a place that is told with the others and then gets none: "…, but the south bed needs none"."""
    for at, phrase in enumerate(phrases):
        if not gets_none(phrase):
            continue
        noun = phrases[at - 1] if at else None
        others = [p for i, p in enumerate(phrases) if is_noun(p) and not stands_inside(p) and i != at - 1]
        if is_noun(noun) and not stands_inside(noun) and others and not (at > 1 and type(phrases[at - 2]) is Amount):
            ask(draft, f"“{draft.text[noun.start : phrase.end]}”: tell only what is to get castings, please")  # type: ignore[union-attr]


def _past_of(phrases: list[Phrase], at: int) -> int:
    """The index after "of them", "of those", "of it"."""
    while at < len(phrases) and is_said(phrases[at], "link", "of", "count-word"):
        at += 1
    return at


def _few(phrases: list[Phrase], at: int, draft: Draft, leaning: bool) -> list[Phrase] | None:
    """A number of things that get none: before them the word that leaves them out, after them the end of what is said of them."""
    before = phrases[at - 1] if at else None
    end = _past_of(phrases, at + 1)
    noun = phrases[end] if end < len(phrases) and is_noun(phrases[end]) else None
    past = end + (noun is not None)
    after = phrases[past] if past < len(phrases) else None
    marked = leaves_out(before) and (after is None or is_said(after, "stop"))
    two = _in_two(draft, phrases[at])
    row = leaning and _NOT_THE_LAST.search(draft.text[: phrases[at].start]) is not None and (after is None or is_said(after, "stop"))
    if not (marked or two or row or gets_none(after)) or any(is_said(p, "deny", "leave") for p in phrases):
        return None
    if type(single(phrases[at])) is not Number or (noun is not None and not noun.text.lower().endswith("s")):  # type: ignore[union-attr]
        return None
    told = [p for p in phrases[:at] + phrases[past:] if whole(p)]
    first = at - 1 if marked else at
    while row and first and (leaves_out(phrases[first - 1]) or is_said(phrases[first - 1], "deny", "not") or is_said(phrases[first - 1], "ask", "cover")):
        first -= 1
    last = past + 1 if gets_none(after) and not marked else past
    place = phrases[at].start
    if not told and leaning:
        fewer = Said("by-so-much", "gone", draft.text[phrases[first].start : phrases[last - 1].end], place, place)
        return [*phrases[:first], phrases[at], *([noun] if noun is not None else []), fewer, *phrases[last:]]
    if not told:
        return None
    skip = Said("deny", "skip", "skip", place, place)
    return [*phrases[:first], skip, phrases[at], *phrases[last:]]


def _told(phrases: list[Phrase], at: int) -> bool:
    """Whether the line tells another size that one may be taken off."""
    return bool(places_of(phrases, range(at, at + 1)))


def _some(phrases: list[Phrase], at: int, draft: Draft) -> list[Phrase] | None:
    """In a conversation, a size that gets none: "2 sq m of that needs none", "leave out 2 sq m"."""
    before = phrases[at - 1] if at else None
    end = _past_of(phrases, at + 1)
    after = phrases[end] if end < len(phrases) else None
    marked = leaves_out(before) and not is_said(before, "deny", "all-but")
    marked = marked or (is_said(before, "reply", "drop-place") and type(single(phrases[at])) is Measure)
    two = _in_two(draft, phrases[at])
    if not (marked or two or gets_none(after)):
        return None
    first = at - 1 if marked else at
    last = end + 1 if gets_none(after) else end
    return [*phrases[:first], _except(phrases[at]), phrases[at], *phrases[last:]]


def _thing(phrases: list[Phrase], at: int) -> list[Phrase] | None:
    """In a conversation, what stands in a place and is taken off it: "minus the driveway, that's 10 by 25"."""
    thing = thing_at(phrases, at + 1)
    if thing is None or thing.size is None or not stands_inside(thing.noun) or places_of(phrases, range(at, thing.end)):
        return None
    return [*phrases[:at], *[one for _ in range(int(thing.number)) for one in (_except(thing.size), thing.size)], *phrases[thing.end :]]


def _except(size: Phrase) -> Said:
    """The word that takes the size after it off the place before it."""
    return Said("deny", "without", "except", size.start, size.start)
