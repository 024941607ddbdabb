"""Which of the things that a question offers a short reply picks: "the first", "the latter", "the second one", or a word of one of them."""

from __future__ import annotations

import re
from collections.abc import Sequence

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
