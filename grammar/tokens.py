"""From pieces of a line to typed tokens: one whole word or phrase at a time, looked up in the vocabulary.

Nothing is matched by prefix and no word is split. A word the vocabulary does not hold stays in the
stream as UNKNOWN, so that it is seen; a near miss of a known word is mended and the mending is kept, but
never for units and numbers, where a slip changes the meaning. Doubtful words are then decided (`doubtful`), and
what belongs to one amount is joined (`joined`).
"""

from __future__ import annotations

from typing import NamedTuple

from .doubtful import decide
from .joined import join
from .mend import mend
from .scan import LONGEST_LINE, Piece, scan
from .tok import NUMERALS, Tok
from .words import Choice, Vocabulary, Word, vocabulary

#: Written against a unit these are its power: "ft2"; with a space they are numbers.
_POWERS = frozenset({"2", "3"})
#: Figures run together with hyphens or strokes (a feed's numbers, a date, a telephone): a label.
_LABEL = Word("label", "number", "WORD", "")
_LIST_MARK = Word("stop", "sentence", "STOP", "")


class Mended(NamedTuple):
    """A slip of the pen that was read as a known word."""

    said: str
    read: str


class Tokens(NamedTuple):
    """A line as typed tokens, with what was mended and whether the line was cut."""

    tokens: list[Tok]
    mended: list[Mended]
    cut: bool


#: Words a unit begins with that are written short, with a full stop or without: "cu. ft."
_FIRST_OF_UNIT = frozenset({"sq", "cu", "fl", "imp"})


def _inches_after(pieces: list[Piece], at: int) -> bool:
    """Whether a figure counts inches: in "4ft2in" the 2 is no power."""
    after = pieces[at + 1] if at + 1 < len(pieces) else None
    return after is not None and after.tight and after.text in ("in", "inch", "inches", '"')


def _lookup(pieces: list[Piece], at: int, words: Vocabulary) -> tuple[Word | Choice | None, int]:
    """The longest word of the vocabulary that starts at a piece, and the index of the piece after it."""
    first = pieces[at].text
    following = words.following.get(first)
    if following is not None and at + 1 < len(pieces):
        second = pieces[at + 1].text
        joined = second == "-" or (second == "." and first in _FIRST_OF_UNIT)
        found = words.longer[first] if joined else following.get(second)
        if found:
            third = pieces[at + 2].text if at + 2 < len(pieces) else ""
            plain = not joined and second not in _TIGHT
            for key, word in found:
                if plain:
                    if len(key) == 2:
                        return word, at + 2
                    if third != key[2] and third not in _PASSED_OVER:
                        continue  # most are told apart here
                after = _spelt(pieces, at, key)
                if after:
                    return word, after
    return words.single.get(first), at + 1


def _spelt(pieces: list[Piece], at: int, key: tuple[str, ...]) -> int:
    """The index after a spelling of several pieces that stands at a piece, or 0 where it does not stand there."""
    here, last = at + 1, len(pieces)
    for part in key[1:]:
        if here < last and part != (said := pieces[here].text) and (said == "-" or (said == "." and pieces[here - 1].text in _FIRST_OF_UNIT)):
            here += 1
        if here >= last or pieces[here].text != part or (part in _POWERS and (not pieces[here].tight or _inches_after(pieces, here))) or (
            part == "$" and key[0] == "a" and not pieces[here].tight  # "a $25 budget" is in no Australian dollars
        ):  # fmt: skip
            return 0
        here += 1
    return here


#: Pieces that are a part of a spelling only where they stand tight, and those that may stand between its parts.
_TIGHT = _POWERS | {"$"}
_PASSED_OVER = frozenset({"-", "."})


def tokenize(text: str) -> Tokens:
    """The typed tokens of a line. Never raises; takes time in proportion to the line's length."""
    words = vocabulary()
    pieces, mended = _mended(_contracted(_classed(scan(text)), words), words)
    mended += _and_a_half(pieces, words)
    tokens: list[Tok] = []
    pending: dict[int, Choice] = {}
    at = 0
    hyphen = False
    while at < len(pieces):
        piece = pieces[at]
        kind = piece.kind
        if kind != "word":
            if kind == "figure" and at + 1 < len(pieces) and pieces[at + 1].text == ")" and pieces[at + 1].tight and (
                at == 0 or (pieces[at - 1].text not in ("(",) and not piece.tight and piece.value == int(piece.value) and piece.value < 30
                and "(" not in text[: piece.start].rsplit(")", 1)[-1])
            ):  # fmt: skip
                tokens.append(Tok("STOP", _LIST_MARK, piece.text, piece.start, piece.end))  # "1) … 2) …"
                at, hyphen = at + 2, False
                continue
            if kind == "figure" or kind == "fraction":
                tokens.append(Tok("FIGURE" if kind == "figure" else "FRACTION", None, piece.text, piece.start, piece.end, piece.value,
                                  hyphen or piece.tight, piece.note))  # fmt: skip
                at, hyphen = at + 1, False
                continue
            if kind == "label":
                tokens.append(Tok("WORD", _LABEL, piece.text, piece.start, piece.end))
                at, hyphen = at + 1, False
                continue
            if kind == "sign" and piece.text == "-":
                token = _hyphen(pieces, at, tokens)
                if token is not None:
                    tokens.append(token)
                    if token.type == "HYPHEN":
                        tokens.pop()
                        pending_choice = words.single["-"]
                        assert isinstance(pending_choice, Choice)
                        mark = Tok("FILLER", None, "-", piece.start, piece.end)
                        tokens.append(mark)
                        pending[id(mark)] = pending_choice
                at, hyphen = at + 1, token is None
                continue
            if kind == "sign" and piece.text == "." and _abbreviated(pieces, at, tokens, text, pending):
                at, hyphen = at + 1, False
                continue
        found, after = _lookup(pieces, at, words)
        if piece.text == "mix" and after == at + 2 and pieces[at + 1].text in ("in", "with") and (
            _in_all(pieces, after) or _of_the_mix(pieces, at)
        ):  # fmt: skip
            found, after = words.single[piece.text], at + 1  # "20 gallons of mix in total", "a foot of mix in a bed", "20 litres of mix with 10 %"
        elif piece.text == "plants" and after > at + 1 and at and pieces[at - 1].kind == "figure":
            found, after = words.single[piece.text], at + 1  # "with 100 plants in it": so many of them
        end = pieces[after - 1].end
        said = text[piece.start : end]
        tight = hyphen or piece.tight
        if isinstance(found, Word):
            tokens.append(Tok(found.terminal, found, said, piece.start, end, 0.0, tight))
        elif isinstance(found, Choice):
            token = Tok("FILLER", None, said, piece.start, end, 0.0, tight)
            tokens.append(token)
            pending[id(token)] = found
        else:
            tokens.append(Tok("UNKNOWN", None, said, piece.start, end, 0.0, tight))
        at, hyphen = after, False
    said_of = {piece.text for piece in pieces}  # most lines have none of what is looked for here
    if not said_of.isdisjoint(_NOT_BARE):
        tokens = _bare_units(tokens)
    if not said_of.isdisjoint(_HESITATION):
        tokens = _straight_sides(tokens)
    if "4" in said_of:
        mended += _four_for(tokens, words)
    if pending:
        decide(tokens, pending)
    join(tokens)
    return Tokens(tokens, mended, len(text) > LONGEST_LINE)


def _of_the_mix(pieces: list[Piece], at: int) -> bool:
    """Whether "of" stands before a piece, or "of the"."""
    return at > 0 and (pieces[at - 1].text == "of" or (at > 1 and pieces[at - 1].text == "the" and pieces[at - 2].text == "of"))


#: What may be said between "by" and a side: "four foot by like eight foot".
_HESITATION = frozenset({"like", "um", "uh", "er", "about", "maybe", "roughly", "around", "approximately", "approx", "say", "probably", "another", "i", "think"})


def _straight_sides(tokens: list[Tok]) -> list[Tok]:
    """The tokens without a hesitation between "by" and a side."""
    if not any(token.text.lower() in ("by", "x") for token in tokens):
        return tokens
    kept: list[Tok] = []
    at = 0
    while at < len(tokens):
        token = tokens[at]
        kept.append(token)
        at += 1
        if token.text.lower() in ("by", "x") and len(kept) > 1 and (kept[-2].type == "UNIT" or kept[-2].type in NUMERALS):
            end = at
            while end < len(tokens) and tokens[end].text.lower() in _HESITATION:
                end += 1
            if at < end < len(tokens) and tokens[end].type in NUMERALS:
                at = end
    return kept


def _in_all(pieces: list[Piece], at: int) -> bool:
    """Whether "in total" or "in all" ends with a piece: "mix in all for 8 pots", not "mix in all of it"."""
    if at >= len(pieces):
        return False
    after = pieces[at + 1] if at + 1 < len(pieces) else None
    return pieces[at].text == "total" or (pieces[at].text == "all" and (after is None or after.kind != "word" or after.text == "for"))


#: Words that may stand between a number and its unit and say nothing of the amount.
_BEFORE_UNIT = frozenset(["full", "whole", "good", "heaping", "heaped", "level", "scant", "generous", "rounded", "single", "solid", "big", "small"])
_NOT_BARE = _BEFORE_UNIT | {"(", ")"}


def _bare_units(tokens: list[Tok]) -> list[Tok]:
    """The tokens without brackets, and without a describing word between a number and its unit: "a full inch"."""
    return [
        token for token, after in zip(tokens, [*tokens[1:], None], strict=False)
        if token.text not in ("(", ")") and not (after is not None and after.type == "UNIT" and token.text.lower() in _BEFORE_UNIT)
    ]  # fmt: skip


#: After a 4 that stands for "for": a count is never followed by an article.
_AFTER_FOUR = frozenset({"a", "an", "my", "our", "the"})
#: Before a 4 that is a label, a price or the end of a span.
_BEFORE_LABEL = frozenset({"at", "x", "@", "of", "to", "no", "no.", "and", "or", "-", "#", "between"})


def _four_for(tokens: list[Tok], words: Vocabulary) -> list[Mended]:
    """ "how much 4 a 3x5 ft bed": the 4 is written for "for"."""
    found = []
    for at, (token, after) in enumerate(zip(tokens, tokens[1:], strict=False)):
        if token.type != "FIGURE" or token.text != "4" or after.text.lower() not in _AFTER_FOUR:
            continue
        before = tokens[at - 1] if at else None
        beyond = tokens[at + 2].type if at + 2 < len(tokens) else ""
        if before is not None and (
            before.type in NUMERALS or before.type in ("ROLE", "CLASS", "MONEY", "RATIO", "PER", "TIMES", "TO") or before.text.lower() in _BEFORE_LABEL
            or (before.word is not None and before.word.kind in ("ground", "container", "plant", "label-word", "month-name", "week-day", "currency"))
        ):  # fmt: skip
            continue
        word = words.single["for"]
        if beyond != "UNIT" and isinstance(word, Word):
            token.type, token.word, token.value = word.terminal, word, 0.0
            found.append(Mended(token.text, "for"))
    return found


def _classed(pieces: list[Piece]) -> list[Piece]:
    """The pieces with the plural of a nursery class in full: "the #5s" as "the #5 pots"."""
    if "s" not in [piece.text for piece in pieces]:
        return pieces
    made: list[Piece] = []
    for piece in pieces:
        if piece.text == "s" and piece.tight:
            before = made[:-1] if made and made[-1].text == "'" and made[-1].tight else made  # "#5's"
            if len(before) > 1 and before[-1].kind == "figure" and before[-2].text == "#":
                made, piece = before, piece._replace(text="pots")
        made.append(piece)
    return made


#: Kinds of word that an "'s" may stand after.
_OWNERS = frozenset({"ground", "container", "plant", "pack", "article", "hole"})


def _contracted(pieces: list[Piece], words: Vocabulary) -> list[Piece]:
    """The pieces with "lawn's" before a figure as "lawn is": "the lawn's 45 ft by 20 ft"."""
    if not [piece for piece in pieces if piece.text.endswith("'s")]:
        return pieces
    made: list[Piece] = []
    for piece, after in zip(pieces, [*pieces[1:], None], strict=True):
        meaning = words.single.get(piece.text[:-2]) if piece.kind == "word" and piece.text.endswith("'s") else None
        number = words.single.get(after.text) if after is not None else None
        told = after is not None and (after.kind in ("figure", "fraction") or (isinstance(number, Word) and number.terminal in NUMERALS))
        known = piece.text in words.parts and isinstance(meaning, Word) and meaning.kind == "article"  # "that's"
        if told and not known and isinstance(meaning, Word) and meaning.kind in _OWNERS:
            made.append(piece._replace(text=piece.text[:-2], end=piece.end - 2))
            made.append(piece._replace(text="is", start=piece.end - 2, tight=True))
        else:
            made.append(piece)
    return made


def _mended(pieces: list[Piece], words: Vocabulary) -> tuple[list[Piece], list[Mended]]:
    """The pieces with near misses of known words mended, and what was mended."""
    mended: list[Mended] = []
    for at, piece in enumerate(pieces):
        if piece.text not in words.parts and piece.kind == "word":
            before = pieces[at - 1].text if at else ""
            after = pieces[at + 1].text if at + 1 < len(pieces) else ""
            read = mend(piece.text, before, after)
            if read is not None:
                mended.append(Mended(piece.text, read))
                pieces[at] = piece._replace(text=read)
    return pieces, mended


#: "and" as it is written in haste, and the parts of one that it leads to.
_HASTY_AND = frozenset({"an", "n", "nd", "amd", "adn"})
_PARTS_OF_ONE = frozenset({"half", "quarter", "third"})


def _and_a_half(pieces: list[Piece], words: Vocabulary) -> list[Mended]:
    """ "an inch an a half", "2 an a half cups": the "and" between whole ones and a part, put right among the pieces."""
    found = []
    for at in range(1, len(pieces) - 1):
        piece, before, after = pieces[at], pieces[at - 1], pieces[at + 1]
        if piece.text not in _HASTY_AND or after.text not in ("a", *_PARTS_OF_ONE):
            continue
        part = pieces[at + 2] if after.text == "a" and at + 2 < len(pieces) else after
        word = words.single.get(before.text)
        number = before.kind == "figure" or (isinstance(word, Word) and word.terminal in NUMERALS)
        unit = word is not None and not number and (isinstance(word, Choice) or word.terminal == "UNIT") and after.text == "a"
        if part.text in _PARTS_OF_ONE and (number or unit):
            pieces[at] = piece._replace(text="and")
            found.append(Mended(piece.text, "and"))
    return found


def _hyphen(pieces: list[Piece], at: int, tokens: list[Tok]) -> Tok | None:
    """What a hyphen is: a joiner inside a word (None), a minus, or a range or dash (HYPHEN)."""
    piece = pieces[at]
    after = pieces[at + 1] if at + 1 < len(pieces) else None
    before = pieces[at - 1] if at else None
    if after is None or before is None:
        if after is not None and after.kind == "figure" and after.tight:
            return Tok("MINUS", None, "-", piece.start, piece.end)
        return Tok("HYPHEN", None, "-", piece.start, piece.end)
    numbers = after.kind in ("figure", "fraction")
    if piece.tight and after.tight:
        if before.kind == "figure" and after.kind == "fraction" and before.value >= 1 and before.value == int(before.value):
            return None  # "1-1/2" is one and a half
        if numbers and before.kind == "word" and not (tokens and tokens[-1].type in ("UNIT", "PERCENT")):
            return None  # "bed-02", "x-3"
        if before.kind == "word" and after.kind == "word" and tokens and tokens[-1].type in NUMERALS:
            return None
        if not numbers:
            return None
        return Tok("HYPHEN", None, "-", piece.start, piece.end)
    if numbers and after.tight and not piece.tight:
        return Tok("MINUS", None, "-", piece.start, piece.end)
    return Tok("HYPHEN", None, "-", piece.start, piece.end)


#: Words that are written short with a full stop.
_SHORT = frozenset({"approx", "no", "nos", "sq", "cu", "vs", "etc", "min", "max", "nr", "ca"})


def _abbreviated(pieces: list[Piece], at: int, tokens: list[Tok], text: str, pending: dict[int, Choice]) -> bool:
    """Whether a full stop only ends an abbreviation: "9 ft. 10 in. deep"."""
    if not tokens or not pieces[at].tight or at + 1 >= len(pieces):
        return False
    last = tokens[-1]
    tail = last.text.replace(".", " ").split()[-1:]  # of "cu. ft" the last
    undecided = pending.get(id(last))  # "5 gal. bags": liquid or dry, it is a unit
    measure = last.type in ("UNIT", "ROLE") or (undecided is not None and "unclear-unit" in undecided.kinds and len(tail[0]) > 1)
    short = (measure and tail and len(tail[0]) <= 4 and tail[0].isalpha()) or last.text.lower() in _SHORT
    return bool(short) and not text[pieces[at + 1].start].isupper()
