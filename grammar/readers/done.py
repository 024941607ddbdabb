"""Some of several that have theirs already: "two of them are done", "we've finished one", "minus the 3 I did last night".

How many those are is told as a number, as a part ("half of them") or by its place in the row ("the last one"). They are taken
off the number told, and the reading says so. What was done last year is none of it: it gets castings again. Where it is not
plain which number they are among, or as many are done as there are, how many are left is asked.
"""

from __future__ import annotations

from typing import NamedTuple

from ..draft import Draft
from ..later import later
from ..phrases import Amount, Number, Phrase, Said
from ..said import is_said, past_describing, single
from ..things import ask, places_of, whole
from .gone import counted

_DAY = r"(?:mon|tues|wednes|thurs|fri|satur|sun)day"
_WHEN = (
    r"(?:already|just now|so far|earlier(?: today| on| this week| this month)?|today|yesterday(?: morning| afternoon| evening| night)?|before lunch|"
    rf"(?:last|this|the other) (?:night|week|weekend|morning|afternoon|evening|day|{_DAY})|on {_DAY}|(?:at|over) the weekend|the day before|"
    r"(?:last|the previous) (?:year|season|spring|summer|fall|autumn|winter)|"
    r"(?:a|one|two|three|four|a few|a couple of|\d{1,2}) (?:day|week)s? ago|for (?:me|us))"
)
_VERB = (
    r"(?:did|done|finished|completed|(?:top[- ]?|side[- ]?)?dressed|fed|filled|potted(?: up)?|treated|covered|topped(?: up)?|sorted(?: out)?|seen to|saw to|"
    r"dealt with|taken care of|took care of|ticked off|got (?:through|round to|to))"
)
_STATE = rf"(?:{_VERB}|complete|in the bag|behind (?:me|us)|out of the way|(?:got|had) (?:theirs|its share|their share|some|it))"
_WHO = r"(?:i|we|you|he|she|they|(?:my|the|our|his|her) (?:\w+ )?\w+)"
_HAS = r"(?: have| has| had|'ve|’ve|'s|’s|'d|’d)"
#: How a clause of this kind ends: nothing more is said of those that are done.
_END = r"(?= *(?:$|[,.;:!?)(]|[-–—] |(?:so|and|but|how|what|leaving|which leaves|that leaves|please|pls|thanks)\b))"

#: After those that are spoken of: "… are already done", "… done", "… had theirs", "… down"; "… I did last week".
_PASSIVE = later(rf"(?:{_HAS}| are| is| were| was| got|'re|’re)?(?: been)?(?: already| now| just| all| both)* (?:{_STATE}|down)(?: {_WHEN})*{_END}")
_ACTIVE = later(rf"(?: that| which)? {_WHO}{_HAS}?(?: already| just)? {_VERB}(?: {_WHEN})*{_END}")
#: Before them: "I've done …", "already did …", "my husband already fed …", "got …", and what may come after them then.
_DOER = later(
    rf"(?:^|(?<![\w'’]))(?P<who>{_WHO}{_HAS}? )?(?:having |have |has |had )?(?P<when>already |just )?(?P<verb>{_VERB}|got)(?P<then> already)?"
    r"(?: just| only| about)?(?: the)? $"
)
#: What stands right before them then, and how far back it goes.
_LAST_WORDS = ("did", "done", "ed", "up", "to", "with", "of", "off", "out", "through", "got", "already", "just", "only", "about", "the")
_BACK = 70
_AFTER = later(rf"(?P<done> (?:done|finished|dressed|filled|fed))?(?P<when>(?: {_WHEN})*){_END}")
_LESS = later(r"\b(?:minus|less|except(?: for)?|not counting|apart from|other than|without|excluding|bar|not including|but not)(?: the| those)? $")
_LAST_YEAR = later(r"\b(?:last|previous) (?:year|season|spring|summer|fall|autumn|winter)\b")
_NEIGHBOUR = later(r"\b(?:neighbou?r|friend)s?\b")
#: What is wanted or denied is not done: "I need 2 done today", "not one is filled".
_NOT_YET = later(r"\b(?:not|hardly|want|wants|need|needs|like|get|to have|should have|must have)(?: a| to have| single| me| just| about| at least)* $|n't $")
#: Those that are not done yet, told instead: "two to go", "only two left to do".
_TO_GO = later(rf"(?: are| is)?(?: still| more)? (?:to go|left to (?:do|go|fill|feed)|to do|still to do|to finish|to be done){_END}")
#: Those that are told have had theirs.
_HAD_THEIRS = later(r"\b(?:already|put|gave|did|done|finished|fed|filled|used|have had|had)\b(?! to\b)")
_ONE = later(r"\bone\b")
#: What has to stand in a line for any of this.
_DUE = later(
    r"\b(?:d(?:id|one|own|ressed|ealt)|f(?:inished|ed|illed)|completed?|topdressed|potted|treated|covered|topped|sorted|seen|saw|taken|took|ticked|in the bag|behind|"
    r"out of the way|(?:got|had) (?:through|round|to|theirs?|its|some|it)|to (?:go|do|finish|be done))\b"
)
#: A part is one of several only beside these: "half of them".
_OF_THEM = later(r"(?:.* of)? (?:of )?(?:them|those|these|my|the|our)\b")


class _Few(NamedTuple):
    """So many that may be done: where they are told, how many (a part of all below 1, all but so many below 0), and what they are called."""

    first: int
    end: int
    many: float
    start: int
    stop: int
    #: "of them", "of the beds", "of my 12": they are among those that are told
    among: bool
    noun: str = ""
    total_at: int = -1


def says_done(text: str) -> bool:
    """Whether a line may say that some of several are done."""
    return _DUE.search(text.lower()) is not None


def done(phrases: list[Phrase], draft: Draft, leaning: bool = False) -> list[Phrase]:
    """The phrases with those that are done taken off the number there are; in a conversation that is told on another line."""
    text = draft.text.lower()
    ones = _ones(phrases, text)
    with_ones = sorted([*phrases, *ones], key=lambda p: p.start) if ones else phrases
    left = _taken_off(with_ones, draft, text, leaning)
    if left is with_ones:
        return phrases
    if draft.gone is not None:  # "two down, four to go": both have to agree
        left = _taken_off(left, draft, text, leaning)
    return [p for p in left if not any(p is one for one in ones)]


def _taken_off(phrases: list[Phrase], draft: Draft, text: str, leaning: bool) -> list[Phrase]:
    """The phrases without the first clause that tells how many are done or left; the same phrases where there is none."""
    for at in range(len(phrases)):
        few = _few(phrases, at, text)
        span = None if few is None else _clause(text, few)
        if few is None or span is None:
            continue
        start, stop, to_go = span
        inside = {i for i, p in enumerate(phrases) if start <= p.start < stop and not 0 <= few.total_at <= i < few.end}
        totals = [few.total_at] if few.total_at >= 0 else [i for i in counted(phrases, range(few.first, few.end)) if i not in inside]
        if few.noun:
            totals = [i for i in totals if i == few.total_at or _called(phrases, i) == few.noun]
        said = draft.text[start:stop].strip(" ,.;:()-–—")
        if not totals:
            if few.among and not to_go and len(places_of(phrases, range(start, start))) > 1:
                ask(draft, f"“{said}”: tell only what is still to get castings, please")
                return phrases
            if leaning and not (to_go and few.noun):
                return _told_before(phrases, draft, few, inside, said, to_go)
            continue
        if _LAST_YEAR.search(said.lower()):
            if few.among:
                ask(draft, f"“{said}”: are they to get any again this year? Say how many are to get castings")
            continue
        if len(totals) > 1:
            ask(draft, f"“{said}”: which of them are those? Say how many of each are still to get castings")
            return phrases
        total = whole(phrases[totals[0]])
        many = total + few.many if few.many < 0 else few.many * total if few.many < 1 else few.many
        if to_go:
            many = total - many
        if to_go and draft.gone is not None and draft.gone[0] != total and many == 0:
            return [p for i, p in enumerate(phrases) if i not in inside]
        beside = not few.among and few.first > 0 and is_said(phrases[few.first - 1], "link", "and") and start == few.start
        theirs = not few.among and _NEIGHBOUR.search(said.lower()) is not None
        if beside or theirs or totals[0] > few.end:
            ask(draft, f"“{said}”: are they among the {total:g}? Say how many are to get castings")
            return phrases
        if to_go and draft.gone is None and few.many >= total and few.many == int(few.many) and _called_alike(phrases, totals[0], few) and (
            _HAD_THEIRS.search(text[_clause_start(text, phrases[totals[0]].start) : start])
        ):  # fmt: skip
            # "2 cups in each of 8 pots already, 12 pots still to do": those that are told first are none of them
            one = single(phrases[totals[0]])
            assert type(one) is Number
            draft.flags.append(("left-out", f"“{said}”: {few.many:g} are left, and the {total:g} that have theirs are no part of them"))
            rest = Amount((one._replace(low=few.many, high=few.many),), one.start, one.end)
            return [rest if i == totals[0] else p for i, p in enumerate(phrases) if i not in inside and not is_said(p, "other-time", "last-year")]
        if not 0 < many < total or many != int(many) or (to_go and draft.gone is not None):
            ask(draft, f"“{said}” of {total:g}: how many are still to get castings?")
            return phrases
        one = single(phrases[totals[0]])
        assert type(one) is Number
        left = Amount((one._replace(low=total - many, high=total - many),), one.start, one.end)
        draft.gone = (total, many)
        draft.flags.append(("left-out", f"“{said}”: {total - many:g} of {total:g} {'is' if total - many == 1 else 'are'} left"))
        return [left if i == totals[0] else p for i, p in enumerate(phrases) if i not in inside]
    return phrases


def _told_before(phrases: list[Phrase], draft: Draft, few: _Few, inside: set[int], said: str, to_go: bool) -> list[Phrase]:
    """The phrases of a line of a conversation that tells how many are done or left of those that it told before."""
    at = min(inside)
    number = next((p for i, p in enumerate(phrases) if i in inside and (whole(p) or is_said(p, "reply", "one-of-them"))), None)
    if is_said(phrases[few.first], "ordinal") and number is None:  # "the first one is done": which one that is has to be seen there
        left = [p for i, p in enumerate(phrases) if i not in inside or i == few.first]
        return [*left[:at], Said("reply", "drop-place", said, phrases[few.first].start, phrases[few.first].start), *left[at:]]
    if number is None or few.many < 1 or _LAST_YEAR.search(said.lower()):
        ask(draft, f"“{said}”: how many are to get castings?")
        return phrases
    stop = number.end if type(number) is Amount else number.start + draft.text[number.start :].index(" ")
    number = Amount((Number(few.many, few.many, number.start, stop),), number.start, stop)
    end = phrases[few.end - 1].end
    word = Said("link", "count-word", "of them", end, end) if to_go else Said("by-so-much", "gone", said, end, end)
    rest = [p for i, p in enumerate(phrases) if i not in inside]
    noun = phrases[few.end - 1 : few.end] if few.noun else []
    return [*rest[:at], number, *noun, word, *rest[at:]]


def _ones(phrases: list[Phrase], text: str) -> list[Phrase]:
    """Every "one" that is elsewhere no number: "we've finished one"."""
    return [
        Amount((Number(1.0, 1.0, found.start(), found.end()),), found.start(), found.end())
        for found in _ONE.finditer(text)
        if not any(p.start <= found.start() < p.end and not is_said(p, "called") for p in phrases)
    ]


def _few(phrases: list[Phrase], at: int, text: str) -> _Few | None:
    """So many at an index: "two", "two of them", "2 beds", "half of them", "the last one", "the first two", "all but one"."""
    phrase = phrases[at]
    if type(phrase) is Said:
        if phrase.kind == "reply" and phrase.id == "one-of-them":
            return _Few(at, at + 1, 2.0 if phrase.text.lower().startswith("two") else 1.0, phrase.start, phrase.end, among=True)
        if phrase.kind == "ordinal" and phrase.id != "0" and not (at + 1 < len(phrases) and whole(phrases[at + 1])):
            return _among(phrases, _Few(at, at + 1, 1.0, phrase.start, phrase.end, among=True))
        return None
    number = single(phrase)
    if type(number) is not Number or number.low != number.high or number.role or number.note or number.low <= 0:
        return None
    if whole(phrase):
        if at and is_said(phrases[at - 1], "deny", "all-but"):
            return _among(phrases, _Few(at - 1, at + 1, -number.low, phrases[at - 1].start, number.end, among=True))
        row = at and is_said(phrases[at - 1], "ordinal")  # "the first two"
        return _among(phrases, _Few(at - 1 if row else at, at + 1, number.low, phrases[at - 1].start if row else number.start, number.end, among=bool(row)))
    part = number.low < 1 and text[number.start : number.end].replace(" ", "").isalpha()
    if part and _PASSIVE.match(text, number.end):
        return _Few(at, at + 1, number.low, number.start, number.end, among=True)
    if part and _OF_THEM.match(f" {text[number.start : number.end]}{text[number.end : number.end + 12]}"):
        return _among(phrases, _Few(at, at + 1, number.low, number.start, number.end, among=True))
    return None


def _among(phrases: list[Phrase], few: _Few) -> _Few:
    """So many, with what they are called and what they are among: "3 beds", "3 of the beds", "3 of my 12 tomatoes"."""
    at = few.end
    among = False
    while at < len(phrases) and (is_said(phrases[at], "link", "of", "count-word") or is_said(phrases[at], "ask", "which")):
        among, at = True, at + 1
    total = at if among and at < len(phrases) and whole(phrases[at]) > abs(few.many) else -1
    noun_at = past_describing(phrases, at if total < 0 else at + 1)
    noun = phrases[noun_at] if noun_at < len(phrases) else None
    if type(noun) is Said and noun.kind in ("plant", "container", "ground", "hole"):
        at, name = noun_at + 1, noun.id
    else:
        at, name = (at if total < 0 else total + 1), ""
    stop = phrases[at - 1].end if at > few.end else few.stop
    return few._replace(end=at, stop=stop, among=few.among or among, noun=name, total_at=total)


def _clause(text: str, few: _Few) -> tuple[int, int, bool] | None:
    """Where the words stand that say that so many are done, and whether they are still to be done."""
    back = max(0, few.start - _BACK)
    before = text[back : few.start]
    if (found := _PASSIVE.match(text, few.stop) or _ACTIVE.match(text, few.stop)) is not None:
        less = _LESS.search(before)
        return None if _NOT_YET.search(before) else (back + less.start() if less else few.start, found.end(), False)
    if few.many > 0 and (found := _TO_GO.match(text, few.stop)) is not None:
        return few.start, found.end(), True
    if not before.rstrip().endswith(_LAST_WORDS) or (doer := _DOER.search(before)) is None:
        return None
    found = _AFTER.match(text, few.stop)
    if found is None or (doer["verb"] == "got" and not found["done"]) or not (doer["who"] or doer["when"] or doer["then"] or found["when"]):
        return None
    return back + doer.start("who" if doer["who"] else "when" if doer["when"] else "verb"), found.end(), False


def _called_alike(phrases: list[Phrase], at: int, few: _Few) -> bool:
    """Whether so many are called as those at an index are, or not called at all."""
    return not few.noun or few.noun == _called(phrases, at)


def _clause_start(text: str, at: int) -> int:
    """Where the clause of a place in a line begins."""
    return max(text.rfind(mark, 0, at) for mark in ",.;:?!") + 1


def _called(phrases: list[Phrase], at: int) -> str:
    """What is counted at an index."""
    return next((p.id for p in phrases[at + 1 : at + 4] if type(p) is Said and p.kind in ("plant", "container", "ground", "hole")), "")
