"""Slips of the pen: a near miss of one known word is read as that word, and the answer says so.

A word is mended only where it is one slip away (two for long words) from exactly one known word, keeps
its first letter or swaps the first two, and has four letters or more. Units, numbers and the words that
turn a meaning round (not, without, each) are never mended to: a slip there changes the amount, so the
word stays unread and is asked about.
"""

from __future__ import annotations

from functools import lru_cache

from .tables import package_file
from .words import vocabulary

#: Kinds of word that a slip may be mended to. Everything else is left as it stands.
MENDABLE = frozenset(
    {"ground", "container", "hole", "pack", "plant", "component", "mix", "seed-mix", "castings", "way", "filler", "form",
     "hint", "article", "topic"}
)  # fmt: skip

#: Kinds that only carry a sentence along: a trade word as near is the likelier meaning.
_CARRIERS = frozenset({"filler", "article", "topic"})

_SHORTEST, _LONGEST = 4, 24
#: A word this long may have two slips.
_LONG = 8


def _slips(said: str, known: str, most: int) -> int | None:
    """The number of slips (a letter dropped, added, changed, or two swapped) between two words, up to `most`."""
    if abs(len(said) - len(known)) > most:
        return None
    if most == 1:
        return _one_slip(said, known)
    before: list[int] = []
    row = list(range(len(known) + 1))
    for i, letter in enumerate(said, 1):
        older, before = before, row
        row = [i]
        for j, other in enumerate(known, 1):
            cost = min(before[j] + 1, row[j - 1] + 1, before[j - 1] + (letter != other))
            if i > 1 and j > 1 and letter == known[j - 2] and said[i - 2] == other:
                cost = min(cost, older[j - 2] + 1)
            row.append(cost)
        if min(row) > most:
            return None
    return row[-1] if row[-1] <= most else None


def _one_slip(said: str, known: str) -> int | None:
    """The same where one slip at most is allowed: what is left between the letters that agree at both ends tells."""
    if said == known:
        return 0
    start, end, other = 0, len(said), len(known)
    while start < end and start < other and said[start] == known[start]:
        start += 1
    while end > start and other > start and said[end - 1] == known[other - 1]:
        end, other = end - 1, other - 1
    left, right = said[start:end], known[start:other]
    if len(left) <= 1 and len(right) <= 1:
        return 1
    return 1 if len(left) == 2 and left == right[::-1] else None


def _stem(word: str) -> str:
    for ending in ("ies", "es", "s", "y"):
        if word.endswith(ending) and len(word) - len(ending) >= 3:
            return word[: -len(ending)]
    return word


@lru_cache(maxsize=1)
def _by_start() -> dict[str, list[tuple[str, frozenset[str]]]]:
    """The known words by their first letter, and by their first two turned round; each with its letters."""
    found: dict[str, list[tuple[str, frozenset[str]]]] = {}
    for known in vocabulary().parts:
        if len(known) >= 3 and known.isalpha():
            for start in (known[0], known[1::-1]):
                found.setdefault(start, []).append((known, frozenset(known)))
    return found


@lru_cache(maxsize=4096)
def near(said: str) -> list[str]:
    """The known words that `said` is the fewest slips away from; empty where it is near to none."""
    if not (_SHORTEST <= len(said) <= _LONGEST) or not said.isalpha():
        return []
    most = 2 if len(said) >= _LONG else 1
    found: dict[int, set[str]] = {}
    starts, letters = _by_start(), frozenset(said)
    for known, others in (*starts.get(said[0], ()), *starts.get(said[:2], ())):
        # a slip takes one letter away and brings one in, at most
        if abs(len(known) - len(said)) <= most and len(letters ^ others) <= 2 * most:
            slips = _slips(said, known, most)
            if slips is not None:
                found.setdefault(slips, set()).add(known)
    return sorted(found[min(found)]) if found else []


@lru_cache(maxsize=1)
def _never() -> frozenset[str]:
    """Everyday words that are no slip, however near a word of the trade is."""
    lines = package_file("vocabulary", "never_mended.txt").read_text(encoding="utf-8").splitlines()
    return frozenset(word for line in lines if not line.startswith("#") for word in line.split())


@lru_cache(maxsize=4096)
def mend(said: str, before: str = "", after: str = "") -> str | None:
    """The known word that a misspelt one is read as, or None where reading on would be a guess.

    `before` and `after` are the words beside it: "side dres" can only be "side dress".
    """
    words = vocabulary()
    kinds = words.parts
    if said in _never():
        return None
    candidates = near(said)
    paired = [one for one in candidates if (before, one) in words.pairs or (one, after) in words.pairs]
    candidates = paired or candidates
    if any(not kinds[one] & MENDABLE for one in candidates):
        return None  # as near to a unit, a number or a turning word
    trade = [one for one in candidates if kinds[one] - _CARRIERS]
    candidates = trade or candidates
    meanings = {words.single.get(one) for one in candidates}
    if not candidates or (len({_stem(one) for one in candidates}) > 1 and (len(meanings) > 1 or None in meanings)):
        return None
    same_end = [one for one in candidates if one.endswith("s") == said.endswith("s")]
    return (same_end or candidates)[0]


#: Kinds of word that an amount hangs on.
_AMOUNT_KINDS = frozenset(
    {"unit", "unclear-unit", "ones", "teen", "tens", "hundred", "thousand", "dozen", "half", "part-word", "percent", "couple"}
)


@lru_cache(maxsize=4096)
def near_amount(said: str) -> str:
    """A number or unit that an unknown word may be a slip of, or an empty string: such a word is asked about."""
    if not (3 <= len(said) <= _LONGEST) or not said.isalpha():
        return ""
    kinds = vocabulary().parts
    found = [
        known for known, _ in _by_start().get(said[0], ())
        if kinds[known] & _AMOUNT_KINDS and _slips(said, known, 1) is not None
    ]  # fmt: skip
    return sorted(found)[0] if found else ""
