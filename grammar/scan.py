"""Splits a line into whole figures, words and signs, each with its place in the line.

Characters that are only another shape of the same sign (curly quotes, long dashes, superscripts, the
multiplication cross) are folded one for one, so that places still point into the line as it came.
"""

from __future__ import annotations

import re
import unicodedata
from functools import lru_cache
from typing import NamedTuple

#: How many characters of a line are read; the reader says so when a line is longer.
LONGEST_LINE = 4000

#: Signs of multiplication that are no letter.
_CROSSES = "×✕✖"

_FOLD = str.maketrans(
    {
        **dict.fromkeys(_CROSSES, "x"),
        **dict.fromkeys("–—−‑‒―", "-"),
        **dict.fromkeys("’‘′ʼ´", "'"),
        **dict.fromkeys("“”″„", '"'),
        "²": "2",
        "³": "3",
        "⁄": "/",
        "≤": "<",
        "≥": ">",
        "，": ",",
        **dict.fromkeys("\u00a0\u2007\u202f\u2009\u200b\u200e\u200f\u202a\u202b\u202c\u202d\u202e\ufeff\x00", " "),
    }
)

_VULGAR = "½⅓⅔¼¾⅕⅖⅗⅘⅙⅚⅐⅛⅜⅝⅞⅑⅒"

_PIECE = re.compile(
    rf"""
    (?P<word>(?![{_VULGAR}])[^\W\d_]+(?:'[^\W\d_]+)*)
  | (?P<vulgar>[{_VULGAR}])
  | (?P<label>\d+(?:-\d+){{2,}}|\d+(?:/\d+){{2,}})
  | (?P<power>\d{{1,15}}(?:\.\d{{1,15}})?e\d{{1,3}}(?![^\W\d_]))
  | (?P<fraction>(?<![\d.,/])\d{{1,4}}/\d{{1,4}}(?![\d/]))
  | (?P<commas>\d+(?:,\d+)+(?:\.\d+)?)
  | (?P<figure>\d+(?:\.\d+)?|\.\d+)
  | (?P<sign>\S)
    """,
    re.VERBOSE | re.IGNORECASE,
)

_THOUSANDS = re.compile(r"[1-9]\d{0,2}(?:,\d{3})+(?:\.\d+)?")
_DECIMAL_COMMA = re.compile(r"\d+,\d{1,2}|0,\d+")


#: No amount comes near this; a longer figure counts as this much, and so is out of every scale.
LARGEST = 1e30


def _number(text: str) -> float:
    return min(float(text), LARGEST)


class Piece(NamedTuple):
    """One figure, word or sign. `kind` is figure, fraction, word or sign; `value` is a figure's number."""

    kind: str
    text: str
    start: int
    end: int
    value: float
    tight: bool  # nothing stands between this piece and the one before it
    note: str = ""  # how a figure was read, where it might have been read otherwise


def fold(text: str) -> str:
    """The line with each character in its plain lower-case shape, of the same length."""
    plain = text.translate(_FOLD).lower()
    # a few capitals grow when lowered; a line with one is folded letter by letter to keep its length
    if len(plain) != len(text):
        plain = "".join(letter if len(low := letter.lower()) != 1 else low for letter in text.translate(_FOLD))
    return plain


def _split_commas(text: str, start: int) -> list[tuple[str, int, float, str]]:
    """A figure with commas as one number, or as a list of numbers."""
    if _THOUSANDS.fullmatch(text):
        return [(text, start, _number(text.replace(",", "")), "")]
    if _DECIMAL_COMMA.fullmatch(text):
        value = _number(text.replace(",", "."))
        return [(text, start, value, "decimal comma")]
    found = []
    at = start
    for part in text.split(","):
        found.append((part, at, _number(part), ""))
        at += len(part) + 1
    return found


def scan(text: str) -> list[Piece]:
    """The pieces of a line in order. Takes time in proportion to the line's length."""
    pieces: list[Piece] = []
    new = tuple.__new__  # the plain kinds are made without the checks of a call: there are a dozen of them in a line
    last_end = -1
    for match in _PIECE.finditer(fold(text[:LONGEST_LINE])):
        kind = match.lastgroup or "sign"
        found = match[0]
        start, end = match.span()
        tight = start == last_end
        if kind == "word" and len(found) > 1 and found[-1] == "x" and text[end : end + 1].isdecimal() and (
            text[end - 1] in _CROSSES or (tight and pieces and pieces[-1].kind == "figure")
        ):  # fmt: skip
            # "4ftx4ft", "3 m×1.2 m"
            pieces.append(Piece("word", found[:-1], start, end - 1, 0.0, tight))
            pieces.append(Piece("word", "x", end - 1, end, 0.0, True))
        elif kind == "word":
            pieces.append(new(Piece, ("word", found, start, end, 0.0, tight, "")))
        elif kind == "label":
            pieces.append(Piece("label", found, start, end, 0.0, tight))
        elif kind == "sign" and found == "^":
            pass  # "m^3" is "m3"
        elif kind == "sign":
            if " " < found < "\x7f" or not unicodedata.category(found).startswith(("M", "Cc", "Cf", "Co", "Cn")):  # half a letter is not passed over
                pieces.append(new(Piece, ("sign", found, start, end, 0.0, tight, "")))
        elif kind == "figure":
            pieces.append(new(Piece, ("figure", found, start, end, _number(found), tight, "")))
        elif kind == "vulgar":
            pieces.append(Piece("fraction", found, start, end, unicodedata.numeric(found), tight))
        elif kind == "fraction":
            top, bottom = found.split("/")
            if int(top) + int(bottom) == 100:
                # "50/50", "60/40": parts of a hundred
                middle = start + len(top)
                pieces.append(Piece("figure", top, start, middle, float(top), tight))
                pieces.append(Piece("sign", ":", middle, middle + 1, 0.0, True))
                pieces.append(Piece("figure", bottom, middle + 1, end, float(bottom), True))
            elif int(bottom) == 0 or int(top) >= int(bottom) or int(bottom) > 64:
                middle = start + len(top)
                pieces.append(Piece("figure", top, start, middle, float(top), tight))
                pieces.append(Piece("sign", "/", middle, middle + 1, 0.0, True))
                pieces.append(Piece("figure", bottom, middle + 1, end, float(bottom), True))
            else:
                pieces.append(Piece("fraction", found, start, end, int(top) / int(bottom), tight))
        elif kind == "power":
            pieces.append(Piece("figure", found, start, end, _number(found), tight))
        else:
            for part, at, value, note in _split_commas(found, start):
                pieces.append(Piece("figure", part, at, at + len(part), value, tight and at == start, note))
        last_end = end
    return pieces


@lru_cache(maxsize=8192)
def spelling(text: str) -> tuple[str, ...]:
    """A spelling of the vocabulary as the pieces that a line would show for it, hyphens left out."""
    return tuple(piece.text for piece in scan(text) if piece.text != "-" or text == "-")
