"""What is wrong with a catalogue, as values: where it stands, what is wrong, and what would help."""

from __future__ import annotations

import tomllib
from collections.abc import Iterable, Mapping
from difflib import get_close_matches
from functools import lru_cache
from importlib.resources import files
from types import MappingProxyType
from typing import Final, NamedTuple

from pydantic_core import PydanticCustomError

#: A word from the file is shown up to so many characters.
SHOWN: Final = 40


class Mistake(NamedTuple):
    """One mistake.

    `entry` is the table ("pack.castings-8-quart") and `field` the place in it ("size.unit", "breaks[2].each");
    either is empty where the mistake is the whole file's or the whole entry's. `kind` is its name in
    `mistakes.toml`.
    """

    file: str
    entry: str
    field: str
    wrong: str
    help: str
    kind: str

    def __str__(self) -> str:
        place = " ".join(part for part in (self.file, f"[{self.entry}]" if self.entry else "", self.field) if part)
        return f"{place}: {self.wrong} ({self.help})"


class CatalogueError(ValueError):
    """The catalogue cannot be used as it stands; `mistakes` holds everything that is wrong with it."""

    def __init__(self, mistakes: Iterable[Mistake]) -> None:
        self.mistakes = tuple(mistakes)
        super().__init__("\n".join(str(mistake) for mistake in self.mistakes))


class Problem(NamedTuple):
    """A mistake before it is known which file and entry it stands in."""

    kind: str
    field: str
    words: Mapping[str, str]

    def error(self) -> PydanticCustomError:
        """The same as an error that a validator raises."""
        return PydanticCustomError("shop", "{kind}", {"kind": self.kind, "field": self.field, "words": dict(self.words)})

    def at(self, file: str, entry: str, inside: str = "") -> Mistake:
        """The mistake itself; `inside` is the field that the problem's own field stands in."""
        wrong, would_help = kinds()[self.kind]
        field = ".".join(part for part in (inside, self.field) if part).replace(".[", "[")
        return Mistake(file, entry, field, wrong.format_map(self.words), would_help.format_map(self.words), self.kind)


@lru_cache(maxsize=1)
def kinds() -> Mapping[str, tuple[str, str]]:
    """Every kind of mistake: what is wrong, and what would help."""
    table = tomllib.loads((files(__package__) / "mistakes.toml").read_text(encoding="utf-8"))
    return MappingProxyType({kind: (entry["wrong"], entry["help"]) for kind, entry in table.items()})


def problem(kind: str, field: str = "", /, **words: object) -> Problem:
    """A problem of a kind in `mistakes.toml`; `words` fill the places of its two sentences."""
    return Problem(kind, field, {name: word if isinstance(word, str) else str(word) for name, word in words.items()})


def refused(kind: str, /, **words: object) -> PydanticCustomError:
    """A problem as the error that a validator raises."""
    return problem(kind, **words).error()


def printable(text: str) -> str:
    """A text with nothing in it that a terminal would obey."""
    return "".join(sign if sign.isprintable() else f"\\u{ord(sign):04x}" for sign in text)


def quoted(value: object) -> str:
    """A value of the file for a sentence: short, and printable."""
    text = printable(value if isinstance(value, str) else _bare(value))
    text = text if len(text) <= SHOWN else f"{text[:SHOWN]}…"
    return f"“{text}”" if isinstance(value, str) else text


def _bare(value: object) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, Mapping):
        return "a table"
    if isinstance(value, list | tuple):
        return "a list"
    if isinstance(value, int) and value.bit_length() > 4 * SHOWN:
        return "so long a figure"
    return str(value)


def nearest(word: str, known: Iterable[str]) -> str:
    """The end of a sentence that offers the one word that is close, or nothing."""
    close = get_close_matches(word, list(known), n=1, cutoff=0.75) if len(word) <= SHOWN else []
    return f"; “{close[0]}” is near" if close else ""
