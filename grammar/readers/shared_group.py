"""What the parts of a group get: "20 tomatoes, half get 1 cup and the rest 2 cups", "4 beds 3x6 ft, half an inch on two of them, an inch on the other two".

Each part becomes a group of its own with its number, so that the line reads "10 tomatoes, 1 cup each, 10 tomatoes, 2 cups each".
Only where the parts make up the whole, or one part alone gets anything.
"""

from __future__ import annotations

import re

from ..draft import Draft
from ..later import later
from ..parse import parse
from ..phrases import Amount, Measure, Number, Phrase, Said
from ..said import Waits, dimension, is_bulk, is_said, is_sides, single
from ..things import is_ground_size, whole
from .told_apart import Again, shared_out

#: What stands in a line that tells of a group.
SHARED_GROUP: Waits = (frozenset({Number}), frozenset({"ground", "container", "plant"}))

_WORDS = {"one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8, "nine": 9, "ten": 10, "eleven": 11, "twelve": 12,
          "fifteen": 15, "twenty": 20}  # fmt: skip
_FRACTIONS = {"half": (1, 2), "a half": (1, 2), "one half": (1, 2), "a third": (1, 3), "one third": (1, 3), "two thirds": (2, 3), "a quarter": (1, 4),
              "one quarter": (1, 4), "three quarters": (3, 4)}  # fmt: skip
_NUMBER = rf"(?:\d+|{'|'.join(_WORDS)})"
_OF_THEM = r"(?: of (?:them|these|those|(?:the|my) [a-z]+))"
#: What follows a part of which something is told: "half get", "two at".
_GETS = r"(?= (?:get|gets|will get|should get|need|needs|take|takes|at|with)\b)"
#: The parts of a group as they are spoken of: what is left of it, a number, a fraction.
_PARTS = later(
    rf"\b(?:the )?(?:other|last|remaining|next) (?P<rest_of>{_NUMBER})\b(?:{_OF_THEM}| ones| [a-z]+s(?= (?:get|at|with)\b))?"
    rf"|\b(?P<rest>the (?:other )?(?:half|third|quarter)\b(?!-)|(?:the )?(?:others|rest|remainder|other ones|remaining ones|other one)\b){_OF_THEM}?"
    rf"|\b(?:the first )?(?P<number>{_NUMBER})\b(?:{_OF_THEM}|{_GETS}|(?<=the first \d)|(?<=the first \d\d))"
    rf"|(?<=\bon )(?P<on>{_NUMBER})(?=\s*(?:,|;|\.|and\b|$))|(?<=\bin )(?P<into>{_NUMBER})(?=\s*(?:,|;|\.|and\b|$))"
    rf"|\b(?P<fraction>{'|'.join(sorted(_FRACTIONS, key=len, reverse=True))})\b(?:{_OF_THEM}|{_GETS}|(?=\s*(?:,|;|\.|$)))",
    re.IGNORECASE,
)

#: Some of a group, told by what they are like and not by their number.
_SORT = later(r"\b(?:the|my) ([a-z]+) ones\b", re.IGNORECASE)


def find_shared_group(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """The phrases with a group told part by part; the same where it is not."""
    group = _group(phrases)
    if group is None:
        return phrases
    first, noun, last = group
    after = phrases[last].end
    parts = _parts(draft.text, after, int(whole(phrases[first])))
    if parts is None:
        ones = _SORT.search(draft.text, after)
        if ones is not None and ones[1].lower() not in draft.text[: after].lower():
            draft.question = draft.question or ("count", f"how many of the {whole(phrases[first]):g} are “{ones[0]}”, and what do the others get?")
        return phrases
    again, numbers = parts
    text = draft.text
    for one in again:
        text = text[: one.start] + " " * (one.end - one.start) + text[one.end :]
    read = [p for p in parse(text).phrases if p.start >= after and not is_said(p, "link", "count-word")]
    one_each = is_said(phrases[noun], "plant") or is_said(phrases[noun], "container")
    found = shared_out(_each_of_them(read) if one_each else read, again)
    if found is None:
        return phrases
    amounts, rest = found
    made = list(phrases[:first])
    for place, number in enumerate(numbers):
        count = Number(float(number), float(number), again[place].start, again[place].end)
        made += [Amount((count,), count.start, count.end), *phrases[first + 1 : last + 1], *amounts[place]]
        if place + 1 < len(numbers):
            made.append(Said("link", "and", "and", count.end, count.end))
    draft.noted.append((draft.text[phrases[first].start : phrases[first].end], "how many there are in all"))
    return [*made, *rest]


def _group(phrases: list[Phrase]) -> tuple[int, int, int] | None:
    """Where the one group of a line begins, its noun stands and it ends: "4 beds 3x6 ft", "5 pots of 10 L", "30 plants"."""
    found: list[tuple[int, int, int]] = []
    nouns = 0
    for at, phrase in enumerate(phrases):
        if type(phrase) is Said and phrase.kind in ("ground", "container", "plant"):
            nouns += not found or at > found[-1][2]
        if type(phrase) is not Amount or whole(phrase) < 2 or (found and at <= found[-1][2]):
            continue
        noun = end = -1
        here = at + 1
        while here < len(phrases):
            one = phrases[here]
            if noun < 0 and type(one) is Said and one.kind in ("ground", "container", "plant"):
                noun = end = here
            elif _is_size(one):
                end = here
            elif not (is_said(one, "link", "of") or is_said(one, "hint") or is_said(one, "form")):
                break
            here += 1
        if noun >= 0:
            found.append((at, noun, end))
            nouns += 1
    return found[0] if len(found) == 1 and nouns <= 1 else None


def _is_size(phrase: Phrase) -> bool:
    one = single(phrase)
    measured = type(one) is Measure and one.per is None and dimension(one) in ("volume", "length")
    return is_sides(phrase) or is_ground_size(phrase) or measured


def _parts(text: str, after: int, number: int) -> tuple[list[Again], list[int]] | None:
    """The parts of a group of so many where they are spoken of from an index on; None where they do not make it up."""
    again: list[Again] = []
    numbers: list[int] = []
    rest = -1
    for found in _PARTS.finditer(text, after):
        said = next((found[name] for name in ("rest_of", "number", "on", "into") if found[name]), "").lower()
        fraction = _FRACTIONS.get((found["fraction"] or "").lower())
        if found["rest"]:
            if rest >= 0:
                return None
            rest = len(numbers)
        elif fraction is not None and number * fraction[0] % fraction[1]:
            return None
        again.append(Again(len(numbers), found.start(), found.end()))
        numbers.append(0 if found["rest"] else number * fraction[0] // fraction[1] if fraction else int(said) if said.isdigit() else _WORDS[said])
    if rest >= 0:
        numbers[rest] = number - sum(numbers)
    some = len(numbers) == 1 and rest < 0 and numbers[0] < number  # "two of them get an inch", and no word of the others
    return (again, numbers) if numbers and min(numbers) > 0 and (some or (len(numbers) > 1 and sum(numbers) == number)) else None


def _each_of_them(read: list[Phrase]) -> list[Phrase]:
    """With "each" after every amount that a part is told to get: a part of plants gets it each."""
    made: list[Phrase] = []
    for at, phrase in enumerate(read):
        made.append(phrase)
        one = single(phrase)
        after = read[at + 1] if at + 1 < len(read) else None
        if is_bulk(one) and not (is_said(after, "link", "each", "altogether") or is_said(after, "per") or is_said(after, "castings")):
            made.append(Said("link", "each", "each", phrase.end, phrase.end))
    return made
