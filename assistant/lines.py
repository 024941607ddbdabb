"""Laying out text for a terminal or a plain stream: how wide, in which characters, with what emphasis.

Whatever a user typed may come back in an answer, so every text is made harmless here before it is laid
out: no character that a terminal would obey is ever written as it came.
"""

from __future__ import annotations

import os
import re
import shutil
import unicodedata
from collections.abc import Mapping
from typing import Literal, NamedTuple, TextIO

#: Lines longer than this are hard to read, however wide the window is.
WIDEST = 96
#: Narrower windows are laid out as if they were this wide: a word a line helps nobody.
NARROWEST = 20
USUAL_WIDTH = 80
#: Between two words that are to stay on one line; printed as a space.
_NO_BREAK = "\u00a0"
#: Letters of a word that stays with the figure before it: "inches", "gallons".
_LONGEST_UNIT = 7
_HALF_A_UNIT = re.compile(r"[\d.,]+ (?:cu|sq|imp|fl|dry|cubic|square)")
#: What steers a terminal: control sequences, and strings for the terminal's own use.
_STEERING = re.compile("\x1b(?:\\[[0-?]*[ -/]*[@-~]|\\][^\x07\x1b]*(?:\x07|\x1b\\\\)|[@-Z\\\\^_])")
_BREAKS = re.compile("[^\\S\u00a0]+")

Style = Literal["", "figure", "warning", "label"]

_RENDITION: dict[Style, str] = {"figure": "1", "warning": "1;7", "label": "2"}

#: Signs that have a plain form of their own; the rest are taken apart, and what is then left is a question mark.
_PLAIN = str.maketrans({
    "×": "x", "÷": "/", "−": "-", "–": "-", "—": "-", "“": '"', "”": '"', "‘": "'", "’": "'", "…": "...", "°": " deg ",
    "²": "2", "³": "3", "½": " 1/2", "¼": " 1/4", "¾": " 3/4", "≤": "<=", "≥": ">=", "→": "->", "π": "pi", "√": "root of ",
    "£": "GBP ", "€": "EUR ", "¥": "JPY ", "₹": "INR ", "µ": "u", "·": ".", "•": "-", "\u00a0": " ",
})  # fmt: skip


class Look(NamedTuple):
    """How text is to be laid out.

    `width` is the width of the window in columns; `sentences` asks for whole sentences and no picture or
    column, for a screen reader; `working` shows every step with its source; `brief` leaves the works out on
    which an assumption rests, for a talk in which they come on demand.
    """

    width: int = USUAL_WIDTH
    colour: bool = False
    ascii: bool = False
    sentences: bool = False
    working: bool = False
    pictures: bool = True
    brief: bool = False

    @property
    def measure(self) -> int:
        """The columns that text may fill."""
        return max(NARROWEST, min(self.width, WIDEST))


def look_for(stream: TextIO, environment: Mapping[str, str] | None = None) -> Look:
    """The look that suits a stream: no colour where it is no terminal, NO_COLOR is set or TERM is dumb."""
    environment = os.environ if environment is None else environment
    terminal = stream.isatty()
    width = shutil.get_terminal_size((USUAL_WIDTH, 24)).columns if terminal else USUAL_WIDTH
    colour = terminal and not environment.get("NO_COLOR") and environment.get("TERM", "") not in ("dumb", "")
    return Look(width=width, colour=colour, ascii=not _writes(stream, "━▲░²×"), pictures=terminal)


def _writes(stream: TextIO, signs: str) -> bool:
    try:
        signs.encode(stream.encoding or "ascii")
    except (UnicodeEncodeError, LookupError):
        return False
    return True


def clean(text: str) -> str:
    """The text with nothing in it that a terminal would obey: control characters are spelt out, hidden ones left out."""
    if text.isascii() and text.isprintable():
        return text
    kept = []
    for letter in text:
        kind = unicodedata.category(letter)
        if letter in "\t\n\r\v\f" or kind in ("Zl", "Zp"):
            kept.append(" ")
        elif kind == "Cc":
            kept.append(f"<{ord(letter):02X}>")
        elif kind in ("Cs", "Cn", "Co"):
            kept.append("\ufffd")
        elif kind != "Cf":
            kept.append(letter)
    return "".join(kept)


def as_typed(line: str) -> str:
    """A line as it was meant, whatever the terminal made of it.

    UTF-8 that was taken for another encoding is put together again, and what only steers a terminal (colours, the
    cursor) is left out. A letter that cannot be told becomes U+FFFD, which no reader passes over.
    """
    if any("\ud800" <= letter <= "\udfff" for letter in line):
        told = ("\ufffd" if "\ud800" <= letter <= "\udfff" and not "\udc80" <= letter <= "\udcff" else letter for letter in line)
        line = "".join(told).encode("utf-8", "surrogateescape").decode("utf-8", "replace")
    return _STEERING.sub("", line) if "\x1b" in line else line


def plain(text: str) -> str:
    """The text in ASCII: known signs by their plain form, letters without their marks, the rest a question mark."""
    if text.isascii():
        return text
    apart = unicodedata.normalize("NFKD", text.translate(_PLAIN))
    return "".join(letter if letter.isascii() else "?" for letter in apart if not unicodedata.combining(letter))


def columns(text: str) -> int:
    """The columns that a text fills: wide letters fill two, marks on a letter none."""
    if text.isascii():
        return len(text)
    return sum(_letter_columns(letter) for letter in text)


def _letter_columns(letter: str) -> int:
    if unicodedata.combining(letter) or unicodedata.category(letter) in ("Mn", "Me"):
        return 0
    return 2 if unicodedata.east_asian_width(letter) in ("W", "F") else 1


def wrap(text: str, width: int, first: str = "", rest: str = "") -> list[str]:
    """The text in lines of at most `width` columns, the first led in by `first` and the others by `rest`.

    A figure stays with the unit after it, and what a no-break space joins stays together; a word longer than a
    line is cut.
    """
    lines, line, used = [], first, columns(first)
    empty = True
    for word in _words(text):
        size = columns(word)
        if not empty and used + 1 + size > width:
            lines.append(line)
            line, used, empty = rest, columns(rest), True
        while used + size > width and empty:
            head, word = _cut(word, max(1, width - used))
            if not word:
                word = head
                break
            lines.append(line + head)
            line, used = rest, columns(rest)
            size = columns(word)
        line += word if empty else " " + word
        used += size if empty else size + 1
        empty = False
    if not empty or not lines:
        lines.append(line.rstrip() if empty else line)
    return [line.replace(_NO_BREAK, " ") for line in lines]


def _words(text: str) -> list[str]:
    """The pieces that are not broken: words, and a figure together with the unit after it."""
    words: list[str] = []
    for word in _BREAKS.split(text.strip()):
        if not word:
            continue
        last = words[-1] if words else ""
        if (last[-1:].isdecimal() and len(last) <= 8 and len(word.rstrip(".,;:)")) <= _LONGEST_UNIT) or _HALF_A_UNIT.fullmatch(last):
            words[-1] += " " + word
        else:
            words.append(word)
    return words


def _cut(word: str, room: int) -> tuple[str, str]:
    used = 0
    for at, letter in enumerate(word):
        used += _letter_columns(letter)
        if used > room:
            return (word[:at], word[at:]) if at else (word[:1], word[1:])
    return word, ""


def _apart(line: str) -> str:
    """The line, set in by one where it would begin as the lines do that conversation files keep for themselves."""
    return f" {line}" if line[:2] in ("> ", "# ", ">", "#") else line


class Page:
    """Lines under one look, put down one paragraph after the other."""

    def __init__(self, look: Look) -> None:
        self.look = look
        self.lines: list[str] = []

    def put(self, text: str, first: str = "", rest: str | None = None, style: Style = "") -> None:
        """A paragraph, led in by `first` on its first line and by `rest` on the others."""
        rest = " " * columns(first) if rest is None else rest
        if self.look.ascii:
            text, first, rest = plain(text), plain(first), plain(rest)
        if not (text.strip() or first.strip()):
            return
        for line in wrap(clean(text), self.look.measure, first, rest):
            self.lines.append(self.styled(_apart(line.rstrip()), style))

    def rows(self, rows: list[str]) -> None:
        """Lines that are laid out already, such as a picture's."""
        self.lines += [clean(plain(row) if self.look.ascii else row).rstrip() for row in rows]

    def styled(self, line: str, style: Style) -> str:
        """A line with emphasis where the look allows it; no meaning hangs on it."""
        if not style or not self.look.colour:
            return line
        return f"\x1b[{_RENDITION[style]}m{line}\x1b[0m"

    def __str__(self) -> str:
        return "\n".join(self.lines)
