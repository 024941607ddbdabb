"""What tells one place from another of its sort: the words said before its noun, its letter, its place in a row.

"The north bed", "bed B", "the third": none of these is an amount, and none may be lost, since a follow-up of
a conversation comes back to a place by them.
"""

from __future__ import annotations

import re

from .later import later
from .parse import parse
from .phrases import Amount, Phrase, Said
from .words import Word, vocabulary

#: What a place in a row is called among the words that describe a place: "ordinal:3", "ordinal:-1" for the last.
ORDINAL = "ordinal:"
_WORD_BEFORE = later(r"([a-z][a-z'’]*)[ -]+$")
#: A letter that stands for a place: after its noun, or alone before what is said of it ("and A at 15%").
_LETTER = later(r"(?<![\w'’.-])([A-H])(?=\s+(?:is|are|at|gets?|to|with|and|only|should|needs?|has|was)\b|\s*[,;:?.!]|\s*$)")
#: "the north one", "the clay ones"; a size of one is asked about, since it is told by comparing.
_CALLED_ONE = later(r"\b([A-Za-z]+) ones?\b")
_SIZES = r"(?:small|big|larg|long|short|wid|narrow|tall|old|new|good|better|best|only|heav)"
#: Letters that are never an article or a measure written short.
_SMALL_LETTER = later(r" ([bceg]|a(?= (?:is|at|gets?|to|with)\b))(?![\w'’.])")


def described(text: str, start: int) -> frozenset[str]:
    """The words right before a noun that tell it from others of its sort: "north" of "the north bed"."""
    found = set()
    left = text[:start].lower()
    while (before := _WORD_BEFORE.search(left)) is not None and _describes(before[1]):
        found.add(before[1])
        left = left[: before.start()]
    return frozenset(found)


def told_before(text: str, start: int) -> frozenset[str]:
    """The words right before a size that tell its place from others: "front" of "the front 12 by 30 ft"."""
    words = vocabulary()
    return frozenset(
        word for word in described(text, start) if isinstance(found := words.single.get(word), Word) and (found.kind, found.id) == ("filler", "adjective")
    )


def _calls_a_place(found: re.Match[str], phrases: list[Phrase], text: str) -> bool:
    """Whether "north one" stands for a place, and the "one" is no number: not in "a thin one inch layer"."""
    if not _describes(found[1].lower()) or re.match(_SIZES, found[1].lower()):
        return False
    amount = next((p for p in phrases if type(p) is Amount and found.start() <= p.start < found.end()), None)
    return amount is None or re.match(r"one (?:half|quarter|third)\b", text[amount.start : amount.end].lower()) is not None


def within(kind: str, said: str) -> frozenset[str]:
    """The words of a noun that tell its place from others: "herb" of "herb bed", "front" of "front lawn"."""
    words = vocabulary()
    if kind != "ground":
        return frozenset()
    plants = {word for word in said.split()[:-1] if isinstance(found := words.single.get(word), Word) and found.kind == "plant"}
    return frozenset(plants | {word for word in said.split()[:-1] if _describes(word) and word not in _OF_ANY_BED})


def _describes(word: str) -> bool:
    words = vocabulary()
    meaning = words.single.get(word)
    if meaning is None:
        return word not in words.parts and len(word) > 2
    if not isinstance(meaning, Word):
        return word == "left"
    return (meaning.kind, meaning.id) in _DESCRIBING or word in ("right", "long")


#: Words that are said of any bed, and tell none from another.
_OF_ANY_BED = frozenset({"raised", "garden", "planting", "plant"})


#: Kinds of word that describe a place where they stand before its noun.
_DESCRIBING = frozenset({("filler", "adjective"), ("other-thing", "house-thing"), ("filler", "garden")})


def letter_after(text: str, end: int) -> str:
    """The letter that names the place whose noun ends here: "bed B", "Bed b"; empty where there is none."""
    capital = re.match(r" ([A-H])(?![\w'’])", text[end : end + 3])
    if capital is not None:
        return capital[1]
    small = _SMALL_LETTER.match(text[end:])
    return small[1].upper() if small is not None else ""


def find_letters(phrases: list[Phrase], text: str) -> list[Phrase]:
    """The phrases with the letters that stand alone for a place, as "A" and "B" in "A at 15%, B is 9 inches"."""
    letters = [
        Said("letter", found[1], found[1], found.start(), found.end())
        for found in _LETTER.finditer(text)
        if not any(type(p) is Said and p.kind in ("ground", "container") and p.end + 1 == found.start() for p in phrases)
    ]
    called = [found for found in _CALLED_ONE.finditer(text) if _calls_a_place(found, phrases, text)]
    if called:
        for found in called:
            text = f"{text[: found.end(1)]}{' ' * (found.end() - found.end(1))}{text[found.end() :]}"
        phrases = parse(text).phrases  # "the right one half an inch" is half an inch
    letters += [Said("called", found[1].lower(), found[0], found.start(), found.end()) for found in called]
    if not letters:
        return phrases
    kept = [p for p in phrases if not any(one.start <= p.start < one.end for one in letters)]
    return sorted([*kept, *letters], key=lambda p: p.start)
