"""What may be typed next: words of the vocabulary and names of places, each with a short meaning.

What kind of word fits is found from the text before it; the words themselves come from the vocabulary.
Nothing here knows of a terminal.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from functools import lru_cache
from typing import NamedTuple

from grammar.words import Choice, Word, plural, vocabulary

from ..knowledge import facts
from .commands import words
from .helping import topic_words

#: Letters of a word that are typed before anything is offered; after a figure units are offered at once.
LEAST_LETTERS = 2
MOST_OFFERS = 40

#: What a kind of word is, where the glossary says nothing of the word itself.
_KINDS = {
    "ground": "a place in the ground", "container": "something to plant in", "plant": "a plant", "component": "a part of a mix",
    "way": "a way of using castings", "pack": "what castings are sold in", "mix": "a mix", "seed-mix": "a mix to sow in",
    "castings": "castings", "hole": "a hole to plant in", "unit": "a unit", "form": "a form", "ask": "a question",
}  # fmt: skip
_DIMENSIONS = {"length": "a length", "area": "an area", "volume": "a volume", "weight": "a weight"}
#: Kinds that are offered, most wanted first.
_OFFERED = ("way", "ground", "container", "castings", "mix", "seed-mix", "plant", "component", "pack", "hole", "form", "ask",
            "unit")  # fmt: skip
#: Words that mean a number is due or just past, so that a unit may follow.
_NUMBERS = frozenset({"ones", "teen", "tens", "one", "half", "dozen", "hundred", "thousand", "part-word"})


class Offer(NamedTuple):
    """One completion: the text, how many typed characters it stands in for, and what it means."""

    text: str
    replaces: int
    meaning: str


class _Entry(NamedTuple):
    text: str
    kind: str
    meaning: str


@lru_cache(maxsize=1)
def _entries() -> tuple[_Entry, ...]:
    """Every word that is worth offering, by kind and then by spelling."""
    known = vocabulary()
    pairs: list[tuple[str, Word | Choice]] = list(known.single.items())
    pairs += [(" ".join(pieces), meaning) for listed in known.longer.values() for pieces, meaning in listed]
    found: dict[str, _Entry] = {}
    for says, meaning in pairs:
        word = meaning if isinstance(meaning, Word) else meaning.rules[0][0]
        if word.kind == "unclear-unit":
            found.setdefault(word.printed, _Entry(word.printed, "unit", "a unit of several kinds"))
        elif meaning is word and word.kind in _OFFERED and word.printed:
            # the printed spelling, and single words that begin otherwise
            text = says if " " not in says and says[:2] != word.printed[:2].lower() else word.printed
            if text not in found and text.replace(" ", "").replace("-", "").isalpha() and len(text) > 1:
                found[text] = _Entry(text, word.kind, _meaning(word))
    many = {plural(text): entry.kind for text, entry in found.items()}
    found = {text: entry for text, entry in found.items() if many.get(text) != entry.kind}  # whoever wants many types the letter more
    order = {kind: at for at, kind in enumerate(_OFFERED)}
    return tuple(sorted(found.values(), key=lambda entry: (order[entry.kind], len(entry.text), entry.text)))


def _meaning(word: Word) -> str:
    term = facts().glossary().get(word.id)
    if term is not None:
        return _short(term.means)
    if word.kind == "unit":
        from grammar.quantities import unit

        return _DIMENSIONS.get(unit(word.id).dimension, "a unit")
    return _KINDS[word.kind]


def _short(text: str) -> str:
    text = " ".join(text.split()).rstrip(".")
    return text if len(text) <= 60 else text[:57].rsplit(" ", 1)[0] + " …"


def offers(before: str, places: Mapping[str, str] | Iterable[str] = ()) -> list[Offer]:
    """What may be typed after `before`; `places` are the names of this conversation, with what each was read as."""
    low = before.lower()
    if (help_on := _after_help(low)) is not None:
        return _starting(help_on, (_Entry(text, "topic", _short(means)) for text, means in topic_words()), least=0)
    meanings = dict(places) if isinstance(places, Mapping) else dict.fromkeys(places, "a place of this conversation")
    found = _commands(low) if low.strip() else []
    for tail in _tails(low):
        found += _starting(tail, (_Entry(name, "place", _short(reads)) for name, reads in meanings.items()), least=LEAST_LETTERS)
    after_number = _after_number(low)
    tail = low.rsplit(" ", 1)[-1]
    if after_number:
        found += _starting(tail, (entry for entry in _entries() if entry.kind == "unit"), least=0 if low.endswith(" ") else 1)
        found += _starting(tail, (entry for entry in _entries() if entry.kind != "unit"), least=LEAST_LETTERS)
    else:
        for tail in _tails(low):
            found += _starting(tail, (entry for entry in _entries() if entry.kind != "unit"), least=LEAST_LETTERS)
    unique: dict[str, Offer] = {}
    for offer in found:
        unique.setdefault(offer.text, offer)
    return list(unique.values())[:MOST_OFFERS]


def _after_help(low: str) -> str | None:
    for lead in ("help ", "? "):
        if low.startswith(lead):
            return low[len(lead) :]
    return None


def _tails(low: str) -> list[str]:
    """The last one, two and three words, the longest first: a spelling may be of several."""
    pieces = low.split(" ")
    tails = [" ".join(pieces[-count:]) for count in (3, 2, 1) if len(pieces) >= count]
    return [tail for tail in tails if tail and not tail.startswith(" ")]


def _after_number(low: str) -> bool:
    pieces = low.split(" ")
    if len(pieces) < 2:
        return False
    last = pieces[-2]
    if last[-1:].isdecimal():
        return True
    word = vocabulary().single.get(last)
    return isinstance(word, Word) and word.kind in _NUMBERS


def _starting(tail: str, entries: Iterable[_Entry], least: int) -> list[Offer]:
    if len(tail) < least or (least and not tail.strip()):
        return []
    return [Offer(entry.text, len(tail), entry.meaning) for entry in entries
            if entry.text.lower().startswith(tail) and entry.text.lower() != tail]  # fmt: skip


def _commands(low: str) -> list[Offer]:
    if len(low) < LEAST_LETTERS:
        return []
    found = []
    for command in words().command.values():
        says = command.example or command.says[0]
        lead = next((one for one in command.says if one.startswith(low) and one != low), None)
        if says.lower().startswith(low) and says.lower() != low:
            found.append(Offer(says, len(low), command.means))
        elif lead is not None:
            found.append(Offer(lead, len(low), command.means))
    return found
