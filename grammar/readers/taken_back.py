"""Words that take back what was said: "not 10 inches, 12", "don't dig it in", "I said 4 by 8 but it's really 4 by 10"."""

from __future__ import annotations

import re

from ..draft import Draft
from ..later import later
from ..phrases import Amount, Measure, Number, Phrase, Price, Said, Share
from ..said import Waits, clauses, is_said, single, sort_of, words_of

#: What takes back what was said, or sets it right.
TAKES_BACK: Waits = (frozenset({"deny", "reply", "label-word", ("link", "but"), ("link", "now")}),)


def take_back(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """The phrases without what a "not" or a "don't" takes back; each is noted on the draft."""
    drop: set[int] = set()
    _set_right(phrases, draft, drop)
    _found_wanting(phrases, draft, drop)
    _outgrown(phrases, draft, drop)
    _answered_no(phrases, draft, drop)
    for start, end in clauses(phrases, commas=True):
        for at in range(start, end):
            if at in drop:
                continue
            after = phrases[at + 2] if at + 2 < len(phrases) else None
            sized = type(after) is Amount and type(single(after)) is not Number
            if is_said(phrases[at], "deny", "not", "skip") or (is_said(phrases[at], "reply", "drop-place") and sized):
                _not(phrases, at, draft, drop)
            elif is_said(phrases[at], "deny", "dont"):
                _dont(phrases, at, end, draft, drop)
    return [phrase for at, phrase in enumerate(phrases) if at not in drop]


_WAS = later(r"\b(?:was|were|used to be|had been)\s*(?:about |only |just )?$", re.IGNORECASE)
_NOW = later(r"\b(?:now|nowadays|these days)\b[^.?!;]*$", re.IGNORECASE)


def _outgrown(phrases: list[Phrase], draft: Draft, drop: set[int]) -> None:
    """ "my bed was 4 by 8 but I extended it, now it's 4 by 12": the size that was is no more."""
    sizes = [at for at, phrase in enumerate(phrases) if type(phrase) is Amount and len(phrase.dims) > 1]
    for at, after in zip(sizes, sizes[1:], strict=False):
        was, now = phrases[at], phrases[after]
        if at not in drop and _WAS.search(draft.text[: was.start]) and _NOW.search(draft.text[was.end : now.start]):
            drop.add(at)
            draft.noted.append((words_of(draft, was), "taken back"))


#: "65 mm of castings? no. 6.5 mm": what was asked is answered by who asks.
_NO = later(r"\?\s*(?:no|nope|nah|never)\b", re.IGNORECASE)
_SENTENCE = later(r"[.?!;](?!\d)")


def _answered_no(phrases: list[Phrase], draft: Draft, drop: set[int]) -> None:
    """An amount that is put as a question, answered with no, is taken back where another of its sort comes after."""
    for found in _NO.finditer(draft.text):
        before = max((stop.start() for stop in _SENTENCE.finditer(draft.text, 0, found.start())), default=-1)
        later = [sort_of(phrase) for phrase in phrases if phrase.start >= found.end() and type(phrase) in (Amount, Share, Price)]
        for at, phrase in enumerate(phrases):
            if type(phrase) in (Amount, Share, Price) and before < phrase.start and phrase.end <= found.start() and sort_of(phrase) in later:
                drop.add(at)
                draft.noted.append((words_of(draft, phrase), "taken back"))


#: Before what is then set right.
_MISTAKEN = later(r"\b(?:i|we|he|she|they) (?:\w+ )?(?:said|thought|told|wrote|guessed|assumed|reckoned|figured)\b[^.,;:]*$", re.IGNORECASE)


#: "but that seems a lot, so …": what was told is found wanting, and something else comes in its place.
_FOUND_WANTING = later(
    r"\s*,?\s*but (?:that|this|it)(?:'s|s)?(?: (?:is|was|seems?|seemed|sounds?|sounded|looks?|looked|feels?|felt))?(?: (?:like|way|far|a bit|rather|quite|very|awfully))*"
    r" (?:a lot|an awful lot|lots|too \w+|much|high|low|strong|steep|excessive|overkill)\b[^.?!\d]*?(?:,|;|\bso\b|\binstead\b|\.)",
    re.IGNORECASE,
)


def _found_wanting(phrases: list[Phrase], draft: Draft, drop: set[int]) -> None:
    """ "I was told 25% but that seems a lot, so 10%": the first is taken back, where another of its sort comes next."""
    for at, phrase in enumerate(phrases[:-1]):
        found = _FOUND_WANTING.match(draft.text, phrase.end) if type(phrase) in (Amount, Share) and at not in drop else None
        if found is None or (at and is_said(phrases[at - 1], "link", "on-hand")):
            continue  # what there is, is there
        after = next((other for other in phrases[at + 1 :] if type(other) in (Amount, Share) and other.start >= found.end()), None)
        if after is not None and _like(sort_of(phrase), sort_of(after)):
            drop.add(at)
            draft.noted.append((words_of(draft, phrase), "taken back"))


def _set_right(phrases: list[Phrase], draft: Draft, drop: set[int]) -> None:
    """ "I said 4 by 8 but it's really 4 by 10": the first is taken back."""
    for at in range(1, len(phrases) - 1):
        first = phrases[at - 1]
        if not is_said(phrases[at], "link", "but") or type(first) not in (Amount, Share) or not _MISTAKEN.search(draft.text[: first.start]):
            continue
        after = at + 1
        while after < len(phrases) and (is_said(phrases[after], "link", "is") or is_said(phrases[after], "about") or is_said(phrases[after], "is")
                                        or is_said(phrases[after], "deny", "instead")):  # fmt: skip
            after += 1
        if after < len(phrases) and type(phrases[after]) in (Amount, Share) and _like(sort_of(first), sort_of(phrases[after])):
            drop.update((at - 1, at))
            draft.noted.append((words_of(draft, first), "taken back"))


def _not(phrases: list[Phrase], at: int, draft: Draft, drop: set[int]) -> None:
    target = at + 1
    while target < len(phrases) and (
        is_said(phrases[target], "link", "of", "for", "on", "with", "at") or is_said(phrases[target], "about")
    ):
        target += 1
    if target >= len(phrases):
        return
    phrase = phrases[target]
    drop.add(at)
    if type(phrase) in (Amount, Share, Price):
        sort = sort_of(phrase)
        if any(_like(sort_of(other), sort) for i, other in enumerate(phrases) if i != target):
            drop.add(target)
            _unit_of_denied(phrases, target, draft)
            draft.noted.append((words_of(draft, phrase), "taken back"))
            if target + 1 < len(phrases) and type(phrases[target + 1]) is Said:
                after = phrases[target + 1]
                if isinstance(after, Said) and after.kind in ("ground", "container", "plant", "pack", "hole"):
                    drop.add(target + 1)
        else:
            draft.question = (
                "denied",
                f"you said not {words_of(draft, phrase)}; what should it be instead?",
            )
    elif type(phrase) is Said:
        beside = phrases[target + 1] if target + 1 < len(phrases) else None
        if is_said(phrase, "link", "by-weight"):
            drop.add(target)
        elif phrase.kind in ("ground", "container", "plant", "hole") and type(beside) is Amount:
            drop.update((target, target + 1))  # "leave out the front bed (4 by 4 ft)"
            draft.noted.append((words_of(draft, beside), "taken back"))
        elif phrase.kind in ("ground", "container", "plant", "hole"):
            drop.add(target)
        else:
            _deny_word(phrase, target, draft, drop)


#: A share this low and one below the whole may be a part of one per cent, and not of the mix.
_LOW_SHARE = 5.0


def _unit_of_denied(phrases: list[Phrase], target: int, draft: Draft) -> None:
    """ "not 10 inches, 12": the number that comes instead has the unit and the role of what was taken back.

    In the stead of a share a part of one is a part of the mix: "not 10%, a fifth".
    """
    denied = single(phrases[target])
    share = phrases[target]
    after = target + 1
    while after < len(phrases) and (is_said(phrases[after], "stop") or is_said(phrases[after], "deny", "instead") or is_said(phrases[after], "link")):
        after += 1
    number = single(phrases[after]) if after < len(phrases) else None
    following = phrases[after + 1] if after + 1 < len(phrases) else None
    if type(denied) is Measure and denied.per is None and type(number) is Number and not number.role and (
        following is None or is_said(following, "stop")
    ):  # fmt: skip
        made = denied._replace(low=number.low, high=number.high, start=number.start, end=number.end, article=False)
        phrases[after] = Amount((made,), number.start, number.end)
    elif type(share) is Share and type(number) is Number and not number.role and (following is None or is_said(following, "stop")):
        part = number.high < 1 and not number.article
        if part and (share.low <= _LOW_SHARE or "." in words_of(draft, phrases[after])):
            draft.question = ("denied", f"“{words_of(draft, phrases[after])}”: of one per cent, or of the whole mix? Say it as so many per cent")
        scale = 100.0 if part else 1.0
        phrases[after] = share._replace(low=number.low * scale, high=number.high * scale, start=number.start, end=number.end)


def _like(one: str, other: str) -> bool:
    """Whether two sorts of amount can stand for each other: a length with a role and one without, "12 inches, not 10"."""
    if "number" in (one, other) and one != other:
        return (one + other).replace("number", "").split(":")[0] in ("length", "weight", "volume", "Share")
    return one == other or (one.split(":")[0] == other.split(":")[0] and (one.endswith(":") or other.endswith(":")))


def _dont(phrases: list[Phrase], at: int, end: int, draft: Draft, drop: set[int]) -> None:
    part = range(at + 1, end)
    if any(is_said(phrases[i], "limit") for i in part) or any(is_said(phrases[i], "reply", "unknown") for i in part):
        return
    for i in part:
        phrase = phrases[i]
        if is_said(phrase, "deny", "instead") or is_said(phrase, "link", "and"):
            break
        if type(phrase) in (Amount, Share, Price):
            if any(sort_of(other) == sort_of(phrase) for j, other in enumerate(phrases) if j != i):
                drop.add(i)
                draft.noted.append((words_of(draft, phrase), "taken back"))
            break
        if type(phrase) is Said and phrase.kind in ("way", "hint"):
            _deny_word(phrase, i, draft, drop)
            break


def _deny_word(phrase: Said, at: int, draft: Draft, drop: set[int]) -> None:
    """A way that is not wanted."""
    if phrase.kind == "way":
        drop.add(at)
        draft.not_ways.add(phrase.id)
        if phrase.id == "incorporate":
            draft.hints.add("no-dig")
    elif phrase.kind == "hint":
        drop.add(at)
        if phrase.id == "mixed-in":
            draft.hints.add("no-dig")
