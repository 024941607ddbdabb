"""A typed token, which every step from words to phrases takes in hand."""

from __future__ import annotations

from .words import Word

#: Token types that may begin or end a number.
NUMERALS = frozenset(
    ["FIGURE", "FRACTION", "ONES", "TEEN", "TENS", "HUNDRED", "THOUSAND", "DOZEN", "COUPLE", "HALF", "PART_WORD", "ZERO", "ONE"]
)


class Tok:
    """A typed token, as lark's parser takes it: it looks at `type` and passes the rest on."""

    __slots__ = ("end", "hyphen", "note", "start", "text", "type", "value", "word")

    # what lark asks of a token when a line ends or a token does not fit
    line = end_line = 1
    column = end_column = start_pos = end_pos = 0

    def __init__(self, type_: str, word: Word | None, text: str, start: int, end: int, value: float = 0.0,
                 hyphen: bool = False, note: str = "") -> None:  # fmt: skip
        self.type = type_
        self.word = word
        self.text = text
        self.start = start
        self.end = end
        self.value = value
        self.hyphen = hyphen  # a hyphen or nothing stands between this token and the one before
        self.note = note

    def __repr__(self) -> str:
        return f"{self.type}:{self.word.id if self.word else self.text}"


def is_kind(token: Tok, kind: str) -> bool:
    """Whether a token is a word of a kind."""
    return token.word is not None and token.word.kind == kind
