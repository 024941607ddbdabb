"""What stands in a line: looking at its phrases, one and several. Every reader of phrases stands on this."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from operator import itemgetter
from typing import Generic, TypeVar

from .draft import Draft
from .phrases import Amount, CellTray, Measure, Number, NurseryClass, Phrase, Said
from .quantities import UnknownUnit, unit

#: From which number to which one may be a year.
YEARS = (1900, 2100)
_STOPS = ("sentence", "colon", "dash", "slash")


def is_said(phrase: Phrase | None, kind: str, *ids: str) -> bool:
    """Whether a phrase is a word of a kind (and, where given, one of some names)."""
    return type(phrase) is Said and phrase.kind == kind and (not ids or phrase.id in ids)


#: What may stand in a line: a kind of word, a word as its kind and its name, a type of phrase, or what is told of a single number or measure.
Mark = str | tuple[str, str] | type

#: What a reader waits for: of each set at least one has to stand in a line.
Waits = tuple[frozenset[Mark], ...]


def kinds_of(phrases: list[Phrase]) -> set[Mark]:
    """What stands in a line: the kinds of its words and the words, and the types of its other phrases.

    Of an amount of one dimension its type is there too, and its role and its note, where it has them: ("role", "height"),
    ("note", "span:to"), and what it measures: ("measures", "area"). So much to so much of something is a "rate", a number that may be a
    year a "year", and an amount of several dimensions is "sides". A measure without a set size is a "loose-measure"; the word that one is for each of is there as well.

    A reader that waits for some of them need not look through a line that has none. It is for leaving work out, and no
    rule may rest on what is not in it: `tests/grammar/test_waiting.py` reads every request as if all kinds were there.
    """
    words = [phrase for phrase in phrases if type(phrase) is Said]
    found: set[Mark] = set(map(_KIND, words))
    found.update(map(_WORD, words))
    for phrase in phrases:
        kind = type(phrase)
        if kind is Said:
            continue
        found.add(kind)
        if kind is Amount:
            dims = phrase.dims  # type: ignore[union-attr]
            if len(dims) == 1:
                _told_of(dims[0], found)
            else:
                found.add("sides")
            for one in dims:
                if type(one) is Measure and (one.per is not None or one.kind != "unit" or one.role == "clear-of-stem" or one.unit in _OF_SALTS):
                    _odd(one, found)
    return found


#: The kind of a word, and its kind with its name.
_KIND, _WORD = itemgetter(0), itemgetter(0, 1)


def _told_of(one: Number | Measure | NurseryClass | CellTray, found: set[Mark]) -> None:
    kind = type(one)
    found.add(kind)
    if kind is Number or kind is Measure:
        if one.role:  # type: ignore[union-attr]
            found.add(("role", one.role))  # type: ignore[union-attr]
        if one.note:  # type: ignore[union-attr]
            found.add(("note", "span:units" if one.note.startswith("span:units") else one.note))  # type: ignore[union-attr]
    if kind is Measure:
        found.add(("measures", dimension(one)))  # type: ignore[arg-type]
        if type(one.per) is Measure:  # type: ignore[union-attr]
            found.add("rate")
    elif kind is Number and YEARS[0] <= one.low <= YEARS[1]:  # type: ignore[union-attr]
        found.add("year")


def _odd(one: Measure, found: set[Mark]) -> None:
    """Notes of a measure what it is for each of, where that is a word, and that it has no set size."""
    if one.kind == "loose-measure":
        found.add("loose-measure")
    if type(one.per) is Said:
        found.add((one.per.kind, one.per.id))
    if one.unit in _OF_SALTS:
        found.add(("unit", "salt"))
    if one.role:
        found.add(("role", one.role))


#: Units of salts in water or soil.
_OF_SALTS = frozenset({"decisiemens_per_metre", "millisiemens_per_centimetre", "millimho_per_centimetre"})


def stands(wanted: Waits, kinds: set[Mark]) -> bool:
    """Whether of each set that a reader waits for something stands in a line."""
    for one in wanted:  # noqa: SIM110 - asked some twenty times a line, and a generator costs more than the answer
        if kinds.isdisjoint(one):
            return False
    return True


_Read = TypeVar("_Read", bound=Callable[..., object])


class Waiting(Generic[_Read]):
    """Readers in their order, and what each waits for; what is seldomest stands first, and most lines have none of it."""

    def __init__(self, *readers: tuple[_Read, Waits]) -> None:
        self._readers = tuple((read, wanted[1:]) for read, wanted in readers)
        self._seldom = frozenset[Mark]().union(*(wanted[0] for _, wanted in readers))
        #: the places of the readers that a mark may be for
        self._may_be_for = {mark: {at for at, (_, wanted) in enumerate(readers) if mark in wanted[0]} for mark in self._seldom}

    def due(self, kinds: set[Mark]) -> Iterable[_Read]:
        """The readers that have something to look for in a line of these kinds."""
        near = kinds & self._seldom
        if not near:
            return ()
        places = sorted(set().union(*map(self._may_be_for.__getitem__, near)))
        return [read for read, others in map(self._readers.__getitem__, places) if stands(others, kinds)]


def is_any_goods(phrase: Phrase | None) -> bool:
    """Whether a phrase names something that is not castings and no place for them."""
    return is_said(phrase, "other-goods") or is_said(phrase, "other-material")


def dimension(measure: Measure) -> str:
    """What a measure measures; a doubtful unit gives the dimension it most often has."""
    if measure.kind == "loose-measure":
        return "loose"
    if measure.kind == "unclear-unit":
        return {"ton": "weight", "yard": "length or volume"}.get(measure.unit, "volume")
    try:
        return unit(measure.unit).dimension
    except UnknownUnit:
        return "unknown"


def single(phrase: Phrase | None) -> Number | Measure | NurseryClass | CellTray | None:
    """The one dimension of an amount that has just one."""
    return phrase.dims[0] if type(phrase) is Amount and len(phrase.dims) == 1 else None


def phrase_at(phrases: list[Phrase], at: int) -> Phrase | None:
    """The phrase at an index, or None where the line does not go so far."""
    return phrases[at] if 0 <= at < len(phrases) else None


def is_bulk(one: object) -> bool:
    """Whether a dimension is so much of something: a volume or a weight, for nothing of which it is each, and with no role."""
    return type(one) is Measure and one.per is None and not one.role and dimension(one) in ("volume", "weight")


def is_sides(phrase: Phrase | None) -> bool:
    """Whether an amount is made of two sides or more, and of nothing but lengths: "4 by 8 ft"."""
    return type(phrase) is Amount and len(phrase.dims) >= 2 and all(
        type(d) is Number or (type(d) is Measure and d.per is None and dimension(d) in ("length", "length or volume")) for d in phrase.dims
    )  # fmt: skip


def past_describing(phrases: list[Phrase], at: int) -> int:
    """The first index from one on at which no describing word stands: past "raised" and "round"."""
    while at < len(phrases) and (is_said(phrases[at], "hint") or is_said(phrases[at], "form")):
        at += 1
    return at


def clauses(phrases: list[Phrase], *, commas: bool) -> list[tuple[int, int]]:
    """Where the clauses of a request begin and end, as indices."""
    found = []
    start = 0
    for at, phrase in enumerate(phrases):
        ends = is_said(phrase, "stop", *_STOPS) or is_said(phrase, "link", "but")
        if commas and is_said(phrase, "stop", "comma"):
            ends = True
        if ends:
            if at > start:
                found.append((start, at))
            start = at + 1
    if start < len(phrases):
        found.append((start, len(phrases)))
    return found


def sort_of(phrase: Phrase) -> str:
    """What an amount is an amount of, so that two of a sort can stand for each other: "length:depth", "size", "number"."""
    one = single(phrase)
    if type(one) is Measure:
        return dimension(one) + ":" + one.role
    if type(phrase) is Amount:
        return "size" if len(phrase.dims) > 1 else "number"
    return type(phrase).__name__


def words_of(draft: Draft, phrase: Phrase) -> str:
    """A phrase as it was typed."""
    return draft.text[phrase.start : phrase.end].strip()
