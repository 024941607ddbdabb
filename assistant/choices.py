"""Which of the things that a question offers a short reply picks: "the first", "the latter", "the second one", or a word of one of them."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

_PLACES = {
    0: re.compile(r"^\W*(?:the |that |i mean the |it's the )?(?:first|former|1st)(?: one| of (?:them|those))?\W*$", re.I),
    1: re.compile(r"^\W*(?:the |that |i mean the |it's the )?(?:second|2nd|other)(?: one| of (?:them|those))?\W*$", re.I),
    2: re.compile(r"^\W*(?:the |that |i mean the |it's the )?(?:third|3rd)(?: one| of (?:them|those))?\W*$", re.I),
    -1: re.compile(r"^\W*(?:the |that |i mean the |it's the )?(?:last|latter)(?: one| of (?:them|those))?\W*$", re.I),
}  # fmt: skip
_WORD = re.compile(r"[a-z%]+|\d[\d./]*")
#: Words that tell nothing apart.
_SMALL = frozenset({"the", "a", "an", "of", "it", "is", "its", "i", "mean", "meant", "in", "on", "to", "and", "or", "as", "them", "that", "yes", "please", "one"})
_LONGEST = 6


@dataclass(frozen=True)
class Doubt:
    """Which of several readings is meant: the question, the words it is about, what would stand in their place, and how that is offered."""

    question: str
    about: str
    choices: tuple[str, ...]
    shown: tuple[str, ...]


def chosen(reply: str, choices: Sequence[str]) -> str | None:
    """The choice that a reply picks by its place in the row or by a word that only it has; None where it picks none."""
    for at, pattern in _PLACES.items():
        if pattern.match(reply) and -len(choices) <= at < len(choices):
            return choices[at]
    words = _words(reply)
    if not words or len(words) > _LONGEST:
        return None
    told = [_words(one) for one in choices]
    common = set.intersection(*told) if told else set()
    hits = [at for at, one in enumerate(told) if words & (one - common)]
    if len(hits) == 1 and words <= told[hits[0]]:
        return choices[hits[0]]
    return None


def _words(text: str) -> set[str]:
    spoken = re.sub(r"\b(?:percent|per cent|pct|share)\b", "%", text.lower())
    return {_singular(word) for word in _WORD.findall(spoken)} - _SMALL


def _singular(word: str) -> str:
    return word[:-1] if len(word) > 3 and word.endswith("s") else word


_TWO = re.compile(r"(?:^|[:;,.?!] |\bis “[^”]*” |\bis (?:that|it) )([^:;?!]+?),? or ([^:;?!]+)\?\s*$", re.IGNORECASE)


def offered(question: str) -> tuple[str, ...]:
    """What a question puts to the choice: "mixed in" and "spread on top" of "…: mixed in, or spread on top?"; empty where it offers nothing."""
    found = _TWO.search(question)
    if found is None:
        return ()
    before = re.sub(r"^.*\bholds, ", "", re.split(r"[:;]\s+|\?\s+", found[1])[-1])
    parts = [part.strip(" “”") for part in [*re.split(r",\s+", before), found[2]]]
    return tuple(part for part in parts if part) if 2 <= len(parts) <= 4 else ()


def picked(reply: str, question: str, ready: Sequence[str] = ()) -> str | None:
    """The thing offered by a question that a reply picks by its place in the row; None where it is no such reply.

    `ready` are the replies that the question has at hand, in the same order, where it has one for each thing.
    """
    if not any(pattern.match(reply) for pattern in _PLACES.values()):
        return None
    things = offered(question)
    return chosen(reply, ready if ready and len(ready) == len(things) else things)
