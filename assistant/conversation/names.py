"""The names that places are given: "call it the long bed", and a line that goes back to one of them."""

from __future__ import annotations

import re
from collections.abc import Iterable

from grammar.words import Word, vocabulary

from ..answer import Answer
from .answers import answered
from .line import Line
from .remembered import Remembered

_NAME = re.compile(r"[^\w' -]+")


def named_in(names: Iterable[str], line: str) -> tuple[str | None, str]:
    """A place's name in a line, and the line without it."""
    low = line.lower()
    for name in sorted(names, key=len, reverse=True):
        if re.search(rf"\b{re.escape(name)}\b", low) and "call" not in low:
            return name, re.sub(rf"\b(?:the\s+)?{re.escape(name)}\b", " ", low)
    return None, line


def given(text: str) -> str:
    """The name that follows "call it"."""
    name = _NAME.sub(" ", text).strip()
    name = re.sub(r"^(?:the|my|a|it|that)\s+", "", name)
    return re.sub(r"\s+(?:please|thanks|then|now)$", "", name).strip()[:40]


def is_plain_word(name: str) -> bool:
    """Whether a name is no more than a word of the trade, which would then be taken for that place wherever it is said."""
    word = vocabulary().single.get(name)
    return isinstance(word, Word) and word.kind in ("ground", "container", "plant", "mix", "seed-mix", "hole", "castings", "pack", "unit")


def back_to_named(talk: Remembered, said: Line) -> Answer | None:
    """ "the long bed at 15 %": a place that was given a name, as it was or changed by what the line says."""
    if said.named is None:
        return None
    new, name = said.new, said.named
    draft = talk.names[name].copy()
    if new.places or new.unsure or new.asked or new.asks or new.way:
        draft = talk.put(draft, new, adding=False)
    talk.meant = next((at for at, one in enumerate(talk.finished) if one == talk.names[name]), len(talk.finished))
    answer = answered(talk, draft, said.text)
    if talk.now.draft is not None and answer.status == "answered":
        talk.names[name] = talk.now.draft.copy()
    return answer
