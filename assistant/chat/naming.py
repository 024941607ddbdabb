"""What a place is called in a sentence."""

from __future__ import annotations

from grammar.words import Word, vocabulary


def the(name: str) -> str:
    """A place's name with its article, where it ends in a word that wants one: "the long bed"."""
    word = vocabulary().single.get(name.rsplit(" ", 1)[-1])
    return f"the {name}" if isinstance(word, Word) and word.kind in ("ground", "container", "plant") else name


def is_or_are(name: str) -> str:
    """The verb that goes with a place's name."""
    return "are" if name.endswith("s") and not name.endswith("ss") else "is"
