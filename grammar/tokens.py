"""From pieces of a line to typed tokens: one whole word or phrase at a time, looked up in the vocabulary.

Nothing is matched by prefix and no word is split. A word the vocabulary does not hold stays in the
stream as UNKNOWN, so that it is seen; a near miss of a known word is mended and the mending is kept, but
never for units and numbers, where a slip changes the meaning. Doubtful words are decided here by their
neighbours, by the rules in `doubtful.toml`.
"""

from __future__ import annotations

from functools import lru_cache
from typing import NamedTuple

from .mend import mend
from .scan import LONGEST_LINE, Piece, scan
from .words import Choice, Vocabulary, Word, vocabulary

#: Token types that may begin or end a number.
NUMERALS = frozenset(
    ["FIGURE", "FRACTION", "ONES", "TEEN", "TENS", "HUNDRED", "THOUSAND", "DOZEN", "COUPLE", "HALF", "PART_WORD", "ZERO", "ONE"]
)
_WHOLE = frozenset(["FIGURE", "ONES", "TEEN", "TENS", "HUNDRED", "THOUSAND", "DOZEN", "ONE"])
_SMALL_START = frozenset(["HALF", "FRACTION"])
_BELOW_HUNDRED = frozenset(["ONES", "TEEN", "TENS"])

#: What a name in a doubtful word's rule stands for: token types, or kinds of word.
CLASSES: dict[str, frozenset[str]] = {
    "NUMERAL": NUMERALS,
    "ARTICLE": frozenset({"article"}),
    "ARTICLE_THE": frozenset({"article"}),
    "PRONOUN": frozenset({"filler"}),
    "FINISHED": frozenset({"filler"}),
    "MIX_ADJ": frozenset({"seed-mix"}),
    "MONEY": frozenset({"MONEY", "currency"}),
}


#: Written against a unit these are its power: "ft2"; with a space they are numbers.
_POWERS = frozenset({"2", "3"})


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


#: Figures run together with hyphens or strokes (a feed's numbers, a date, a telephone): a label.
_LABEL = Word("label", "number", "WORD", "")
_INCH = Word("unit", "inch", "UNIT", "inch")
_PAUSE = Word("stop", "comma", "STOP", "")
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


class _Wanted(NamedTuple):
    """The classes that one side of a doubtful word's rule names, put together: what a neighbour has to be."""

    anything: bool
    end: bool
    terminals: frozenset[str]
    kinds: frozenset[str]
    ids: frozenset[str]
    it: bool
    #: those that look at the far side of the neighbour too
    farther: frozenset[str]


_FARTHER = frozenset({"PRICED", "OF_FIGURE", "RATIO_END", "ONLY"})
_BY_ID = frozenset({"ADJECTIVE", "OF", "IS", "EACH", "INTO", "WITH", "AT"})


@lru_cache(maxsize=1024)
def _wanted(classes: frozenset[str]) -> _Wanted:
    """The classes put together; there are no more such sets than `doubtful.toml` has rules."""
    names = classes - _FARTHER
    known = [CLASSES[name] for name in names if name in CLASSES]
    plain = names - CLASSES.keys()
    return _Wanted(
        "any" in classes, "END" in classes, plain.union(*known), frozenset(name.lower() for name in plain).union(*known),
        frozenset(name.lower() for name in plain & _BY_ID), "IT" in plain, classes & _FARTHER,
    )  # fmt: skip


def _has(token: Tok | None, classes: frozenset[str], pending: dict[int, Choice], farther: Tok | None = None) -> bool:
    """Whether a neighbour is of one of the classes a rule names; a doubtful one counts for all it may be.

    `farther` is the token on the far side of the neighbour.
    """
    wanted = _wanted(classes)
    if wanted.anything:
        return True
    if token is None:
        return wanted.end
    choice = pending.get(id(token))
    if choice is not None:
        if not (wanted.terminals.isdisjoint(choice.terminals) and wanted.kinds.isdisjoint(choice.kinds)):
            return True
    elif token.type in wanted.terminals or (
        token.word is not None and (token.word.kind in wanted.kinds or token.word.id in wanted.ids)
    ):  # fmt: skip
        return True
    if wanted.it and token.text == "it":
        return True
    return bool(wanted.farther) and _farther(token, farther, wanted.farther)


def _farther(token: Tok, farther: Tok | None, classes: frozenset[str]) -> bool:
    """The same for the classes that look at the far side of the neighbour too."""
    beyond = farther.type if farther is not None else ""
    if "PRICED" in classes and (token.type == "MONEY" or (beyond == "MONEY" and token.type in NUMERALS)):
        return True  # a figure with a money sign before it
    if "OF_FIGURE" in classes and beyond == "FIGURE" and token.text.lower() == "of":
        return True  # "one of 3 by 6", not "one of them"
    if "ONLY" in classes and token.text.lower() in ("only", "just"):
        return True  # "just one"
    return "RATIO_END" in classes and beyond == "RATIO" and token.type in NUMERALS  # the last figure of "1:10"


def _small_follows(tokens: list[Tok], at: int, pending: dict[int, Choice]) -> bool:
    """Whether a fraction in words stands at a token: "a half", "three quarters", "1/2"."""
    if at >= len(tokens):
        return False
    first = tokens[at].type
    if id(tokens[at]) in pending and "ONES" in pending[id(tokens[at])].terminals:
        first = "ONES"
    if first in _SMALL_START:
        return True
    following = tokens[at + 1] if at + 1 < len(tokens) else None
    if following is None:
        return False
    second = pending[id(following)].terminals if id(following) in pending else {following.type}
    if tokens[at].text.lower() in ("a", "an") or first == "ONES":
        return bool({"HALF", "PART_WORD"} & set(second))
    return False


def _and(tokens: list[Tok], at: int, pending: dict[int, Choice]) -> str:
    """What an "and" is: inside a number, between two ends of a span, or between two things."""
    before = tokens[at - 1] if at else None
    if before is None or before.type not in _WHOLE or at + 1 >= len(tokens):
        if before is not None and before.type in ("PERCENT", "UNIT", "PART_WORD", "HALF", "FRACTION") and _between(tokens, at):
            return "range:and"
        return "link:and"
    follower = pending.get(id(tokens[at + 1]))
    after = "ONES" if follower is not None and "ONES" in follower.terminals else tokens[at + 1].type
    if before.type in ("HUNDRED", "THOUSAND") and after in _BELOW_HUNDRED:
        return "plus-whole:and"
    if _small_follows(tokens, at + 1, pending) and not (_between(tokens, at) or _own_layer(tokens, at, pending)):
        return "plus:and"
    if after in NUMERALS and _between(tokens, at):
        return "range:and"
    return "link:and"


def _own_layer(tokens: list[Tok], at: int, pending: dict[int, Choice]) -> bool:
    """Whether "and a half inch" after the last side of a size is a layer, as in "a 4 by 9 and a half inch on top"."""
    if at < 2 or tokens[at - 2].type != "TIMES":
        return False
    units: list[str] = []
    for token in tokens[at + 1 : at + 5]:
        choice = pending.get(id(token))
        may_be = [word for word, _, _ in choice.rules] if choice is not None else [token.word] if token.word is not None else []
        units += [word.id for word in may_be if word.terminal == "UNIT"][:1]
    return not units or units[0] not in ("foot", "metre", "yard")


def _between(tokens: list[Tok], at: int) -> bool:
    """Whether "between" stands a few words before."""
    return any(t.word is not None and t.word.id == "between" for t in tokens[max(0, at - 5) : at])


def _decide(tokens: list[Tok], pending: dict[int, Choice]) -> None:
    """Decides every doubtful word by its neighbours, from left to right."""
    for at, token in enumerate(tokens):
        choice = pending.get(id(token))
        if choice is None:
            continue
        before = tokens[at - 1] if at else None
        after = tokens[at + 1] if at + 1 < len(tokens) else None
        if token.text == ":" and after is not None and token.hyphen != after.hyphen:
            word = choice.rules[-1][0]  # "bed 3: 12 m by 2 m": a label, no ratio
            token.type, token.word = word.terminal, word
        elif choice.rules[0][0].kind == "plus":
            wanted = _and(tokens, at, pending)
            if wanted == "plus-whole:and":
                token.type, token.word = "PLUS_WHOLE", choice.rules[0][0]
            else:
                word = next(w for w, _, _ in choice.rules if f"{w.kind}:{w.id}" == wanted)
                token.type, token.word = word.terminal, word
        else:
            for word, need_before, need_after in choice.rules:
                if (not need_before or _has(before, need_before, pending, tokens[at - 2] if at > 1 else None)) and (
                    not need_after or _has(after, need_after, pending, tokens[at + 2] if at + 2 < len(tokens) else None)
                ):
                    token.type, token.word = word.terminal, word
                    break
            else:
                token.type, token.word = "FILLER", choice.rules[-1][0]
        del pending[id(token)]


def tokenize(text: str) -> Tokens:
    """The typed tokens of a line. Never raises; takes time in proportion to the line's length."""
    words = vocabulary()
    pieces, mended = _mended(scan(text), words)
    tokens: list[Tok] = []
    pending: dict[int, Choice] = {}
    at = 0
    hyphen = False
    while at < len(pieces):
        piece = pieces[at]
        kind = piece.kind
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
        if piece.text == "mix" and after == at + 2 and pieces[at + 1].text == "in" and (
            _in_all(pieces, after) or _of_the_mix(pieces, at)
        ):  # fmt: skip
            found, after = words.single[piece.text], at + 1  # "20 gallons of mix in total", "a foot of mix in a bed"
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
        _decide(tokens, pending)
    _join(tokens)
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


def _join(tokens: list[Tok]) -> None:
    """Marks what belongs to one amount: "of a" after a fraction, feet and inches that are one length.

    "5 ft 2 in by 3 ft" and "6'6"" are one length; "4 by 8 ft 10 in deep" is a size and a depth.
    """
    types = {token.type for token in tokens}  # most lines have little of what is looked for here
    fractions = not types.isdisjoint(_FRACTIONS)
    if fractions:
        _of_a(tokens)
    if "TO" in types:
        _pauses(tokens)
    if "UNIT" in types and "PER" in types:
        _rates_of_castings(tokens)
        _an_inch_after_feet(tokens)
    if fractions:
        _layer_after_sides(tokens)
    if "ROLE" in types:
        _with_by_its_letter(tokens)
        _inches_before_role(tokens)
    if "UNIT" not in types:
        return
    if fractions:
        _unit_and_a_half(tokens)
    if any([one.type == "UNIT" and two.type in NUMERALS for one, two in zip(tokens, tokens[1:], strict=False)]):  # noqa: C419 - a list costs less here
        _feet_and_six(tokens)
    units = [at for at, token in enumerate(tokens) if token.type == "UNIT"]
    apart = {later - at for at, later in zip(units, units[1:], strict=False)}
    if 3 in apart:
        _feet_and_inches(tokens)
    if 2 in apart:
        _two_units(tokens)


#: Terminals of a part of one.
_FRACTIONS = frozenset({"HALF", "PART_WORD", "FRACTION"})


def _of_a(tokens: list[Tok]) -> None:
    """Marks the "of a" after a fraction."""
    for first, of, one, last in zip(tokens, tokens[1:], tokens[2:], tokens[3:], strict=False):
        if one.type == "ONE" and of.text == "of" and first.type in _FRACTIONS:
            if last.type in ("UNIT", "PERCENT", "LOOSE"):
                of.type = one.type = "OF_A"  # "three quarters of a cubic yard"
        elif one.type == "ONES" and one.text.lower() == "one" and of.text.lower() == "of" and last.type == "PERCENT" and (
            first.type in _FRACTIONS
        ):  # fmt: skip
            of.type = one.type = "OF_A"  # "a quarter of one percent"


def _rates_of_castings(tokens: list[Tok]) -> None:
    """Takes out the castings of a rate: "2 lb of castings per tree"."""
    for at, token in enumerate(tokens):
        if token.type == "UNIT":
            here = at + 1
            if here < len(tokens) and tokens[here].text.lower() == "of":
                here += 1
            if here + 1 < len(tokens) and _is(tokens[here], "castings") and tokens[here + 1].type == "PER":
                for between in tokens[at + 1 : here + 1]:
                    between.type = "SILENT"
    tokens[:] = [token for token in tokens if token.type != "SILENT"]


def _an_inch_after_feet(tokens: list[Tok]) -> None:
    """ "3x12 ft an inch": a length for each length is none; the "an" is one inch."""
    for before, token, after in zip(tokens, tokens[1:], tokens[2:], strict=False):
        if token.type == "PER" and token.text.lower() in ("a", "an") and before.type == after.type == "UNIT" and (
            before.word is not None and before.word.id in ("foot", "metre", "yard") and after.word is not None and after.word.id in ("inch", "centimetre")
        ):  # fmt: skip
            token.type, token.word = "ONE", next(word for word, _, _ in vocabulary().single["a"].rules if word.terminal == "ONE")  # type: ignore[union-attr]


def _pauses(tokens: list[Tok]) -> None:
    """Passes over a "to" or a dash that is no range."""
    for at, token in enumerate(tokens):
        if token.type == "TO" and at and tokens[at - 1].type == "PERCENT" and not any(
            t.type in ("PERCENT", "MONEY") for t in tokens[at + 1 : at + 4]
        ):  # fmt: skip
            token.type = "FILLER"  # "10% to 15 cm"
        elif token.type == "TO" and token.text in ("-", "–") and 0 < at < len(tokens) - 2 and (
            token.start > tokens[at - 1].end and tokens[at + 1].type in NUMERALS and _pair(tokens[at - 1], tokens[at + 2])
        ):  # fmt: skip
            token.type = "FILLER"  # "height 5 ft - 1 in layer": a pause, not from five feet to an inch


def _two_units(tokens: list[Tok]) -> None:
    """Marks a larger and a smaller unit that are one measure: "5 ft 2 in"."""
    at = 0
    while at + 2 < len(tokens):
        big, number, small = tokens[at], tokens[at + 1], tokens[at + 2]
        if (
            big.type == "UNIT"
            and number.type in ("FIGURE", "FRACTION", "ONES", "TEEN")
            and _pair(big, small)
            and at
            and tokens[at - 1].type in NUMERALS
            and not (number.note)
        ):
            limit = PAIRS[(big.word.id, small.word.id)]  # type: ignore[union-attr]
            if _whole(number) < limit and not _two_lengths(tokens, at):
                tokens.insert(at + 1, Tok("COMPOUND", None, "", number.start, number.start))
                at += 3
        at += 1


def _two_lengths(tokens: list[Tok], at: int) -> bool:
    """Whether "8 ft 10 in" after a size is a side and then a depth or a layer, not one length."""
    number = tokens[at + 1]
    after = tokens[at + 3] if at + 3 < len(tokens) else None
    if after is not None and after.type == "TIMES":
        return False
    sized = any(t.type == "TIMES" for t in tokens[max(0, at - 4) : at])
    named = at >= 2 and tokens[at - 2].type == "ROLE" and after is not None and after.type == "ROLE"  # "height 5 ft. 1 in layer"
    if not sized:
        return named
    if number.type == "FRACTION" or 0 < number.value < 1 or (after is not None and after.type == "ROLE" and after.word is not None
                                     and after.word.id in ("depth", "thick", "height")):  # fmt: skip
        return True
    if number.hyphen or (tokens[at].hyphen and tokens[at].text in ("'", "′")):
        return False
    shared = False
    for later in tokens[at + 3 :]:
        if later.type == "STOP" and later.word is not None and later.word.id == "sentence":
            return True
        shared = shared or later.type == "PERCENT"
        if shared and later.type == "TIMES":
            return True  # "4x8 ft 10 in 10%, 3x6 ft …": the first place has its share, and the second its own size
        if later.type == "UNIT" and later.word is not None and later.word.id in ("inch", "foot", "yard"):
            # "bed 4x8 ft 10 in, 12 in deep bed 3x6 ft": the next place has its own depth, so these inches are a depth too
            return any(t.type == "TIMES" for t in tokens[tokens.index(later) :])
    return True


def _is(token: Tok, kind: str) -> bool:
    return token.word is not None and token.word.kind == kind


def _layer_after_sides(tokens: list[Tok]) -> None:
    """ "4x8 1/2 inch": sides without a unit and then a layer, not a side of eight and a half inches."""
    for at in range(2, len(tokens) - 2):
        fraction, unit_token = tokens[at + 1], tokens[at + 2]
        if (
            tokens[at].type == "FIGURE" and tokens[at - 1].type == "TIMES" and fraction.type == "FRACTION" and not fraction.hyphen
            and unit_token.type == "UNIT" and unit_token.word is not None and unit_token.word.id == "inch"
            and tokens[at - 2].type == "FIGURE" and not any(_is(t, "container") for t in tokens[max(0, at - 6) : at]) and not any(_is(t, "container") or t.type == "TIMES" for t in tokens[at + 3 : at + 6])
        ):  # fmt: skip
            tokens.insert(at + 1, Tok("STOP", _PAUSE, "", fraction.start, fraction.start))
            return


def _with_by_its_letter(tokens: list[Tok]) -> None:
    """ "mix w 10 percent castings", "roses w 2 cups each": "with", and no width."""
    for token, number, unit_token in zip(tokens, tokens[1:], tokens[2:], strict=False):
        if token.type != "ROLE" or token.text.lower() != "w" or number.type not in NUMERALS:
            continue
        amount = unit_token.type == "UNIT" and unit_token.word is not None and unit_token.word.id in _POURED
        word = vocabulary().single["with"]
        if (unit_token.type == "PERCENT" or amount) and isinstance(word, Word):
            token.type, token.word = word.terminal, word


#: Units in which nothing is wide.
_POURED = frozenset({"us_cup", "tablespoon", "teaspoon", "litre", "millilitre", "gram", "kilogram", "pound", "gallon", "quart", "pint"})


def _inches_before_role(tokens: list[Tok]) -> None:
    """ "diameter 12 in height 10 in", "12 in diameter": the "in" is the unit of the figure before it, not a part of "in height".

    Where metric lengths stand in the line a bare figure may be one of them, and is asked about.
    """
    metric = any(token.type == "UNIT" and token.word is not None and token.word.id.endswith("metre") for token in tokens)
    for at in range(len(tokens) - 2, 1, -1):
        token = tokens[at]
        if (
            token.type == "ROLE" and token.text.lower().startswith("in ") and tokens[at - 1].type == "FIGURE" and (
                (tokens[at - 2].type == "ROLE" and tokens[at + 1].type == "FIGURE")
                or (token.word is not None and token.word.id == "diameter" and not metric and tokens[at - 2].type not in ("TIMES", "TO"))
            )
        ):  # fmt: skip
            middle = token.start + 2
            tokens[at : at + 1] = [
                Tok("UNIT", _INCH, token.text[:2], token.start, middle), Tok("ROLE", token.word, token.text[3:], middle + 1, token.end),
            ]  # fmt: skip


def _unit_and_a_half(tokens: list[Tok]) -> None:
    """ "a cup and a half": the half belongs to the cup."""
    for at in range(1, len(tokens) - 1):
        unit_token, link = tokens[at], tokens[at + 1]
        if unit_token.type != "UNIT" or tokens[at - 1].type not in NUMERALS or not _is(link, "link") or link.text.lower() != "and":
            continue
        end = at + 2
        if end < len(tokens) and tokens[end].type == "ONE":
            end += 1
        if end < len(tokens) and tokens[end].type in ("HALF", "PART_WORD", "FRACTION") and not (
            end + 1 < len(tokens) and tokens[end + 1].type in ("UNIT", "OF_A", "PERCENT", "LOOSE")
        ):  # fmt: skip
            link.type = "PLUS"
            tokens[at : end + 1] = [*tokens[at + 1 : end + 1], unit_token]


def _feet_and_six(tokens: list[Tok]) -> None:
    """Marks "three foot six": inches that go unsaid, before "by" or one noun."""
    at = 1
    while at + 1 < len(tokens):
        foot, number = tokens[at], tokens[at + 1]
        if foot.type != "UNIT":
            at += 1
            continue
        if foot.word is not None and foot.word.id == "metre" and _centimetres(tokens, at):
            tokens.insert(at + 1, Tok("COMPOUND", None, "", number.start, number.start))  # "2 m 40 x 1 m 20"
            at += 2
        elif (
            foot.word is not None and foot.word.id == "foot" and tokens[at - 1].type in NUMERALS
            and number.type in ("FIGURE", "ONES", "TEEN") and 0 < _whole(number) < 12
        ):  # fmt: skip
            after = tokens[at + 2] if at + 2 < len(tokens) else None
            side = after is not None and (after.type == "TIMES" or (_is(after, "ground") and not after.text.lower().endswith("s")))
            second = at >= 2 and tokens[at - 2].type == "TIMES" and number.start > foot.end and (after is None or after.type == "STOP")
            side = side or second  # "14 foot by 3 foot 6."
            if side or (number.hyphen and number.type == "FIGURE" and (after is None or after.type not in ("UNIT", "TIMES", "PERCENT"))):
                tokens.insert(at + 1, Tok("COMPOUND", None, "", number.start, number.start))
                at += 2
        at += 1


def _centimetres(tokens: list[Tok], at: int) -> bool:
    """Whether two digits after a metre are centimetres that go unsaid: "3 m by 1 m 20", "one metre twenty wide"."""
    number = tokens[at + 1]
    nought = number.type == "FIGURE" and len(number.text) == 2 and number.text[0] == "0"
    if tokens[at - 1].type not in NUMERALS or number.type not in ("FIGURE", "TENS", "TEEN") or not (nought or 10 <= _whole(number) < 100) or _whole(number) % 1:
        return False
    end = at + 2
    if number.type == "TENS" and end < len(tokens) and tokens[end].type == "ONES":
        end += 1  # "one metre twenty five"
    after = tokens[end] if end < len(tokens) else None
    if after is None or after.type in ("TIMES", "STOP", "ROLE"):
        return True
    one_of_sides = any(t.type == "COMPOUND" for t in tokens[:at]) or (at > 1 and tokens[at - 2].type == "TIMES")
    return after.type == "WORD" and one_of_sides and not _is(after, "plant") and not after.text.lower().endswith("s")


def _feet_and_inches(tokens: list[Tok]) -> None:
    """ "7 feet and 3 inches": the "and" joins one length."""
    for at in range(1, len(tokens) - 2):
        foot, link, number, inch = tokens[at], tokens[at + 1], tokens[at + 2], tokens[at + 3] if at + 3 < len(tokens) else None
        if inch is None or not _pair(foot, inch) or not _is(link, "link") or link.text.lower() != "and" or number.type not in NUMERALS:
            continue
        after = tokens[at + 4] if at + 4 < len(tokens) else None
        own_role = after is not None and after.type == "ROLE" and after.word is not None and after.word.id in ("depth", "thick", "height")
        if own_role or ((after is None or after.type != "ROLE") and any(t.type == "TIMES" for t in tokens[max(0, at - 4) : at])):
            continue
        if _whole(number) < PAIRS[(foot.word.id, inch.word.id)]:  # type: ignore[union-attr]
            link.type, link.word, link.text = "COMPOUND", None, ""


def _whole(token: Tok) -> float:
    if token.word is None:
        return token.value
    # "a foot and an inch": an article is one
    return float(token.word.id) if token.word.id.replace(".", "", 1).isdecimal() else 1.0


#: A larger and a smaller unit that together make one measure, and how many of the smaller make the larger.
PAIRS = {("gallon", "us_cup"): 16, ("us_gallon", "us_cup"): 16, ("quart", "us_cup"): 4, ("us_cup", "tablespoon"): 16,
          ("kilogram", "gram"): 1000, ("litre", "millilitre"): 1000, ("foot", "inch"): 12, ("pound", "ounce"): 16, ("metre", "centimetre"): 100, ("yard", "foot"): 3}


def _pair(big: Tok, small: Tok) -> bool:
    return (
        big.word is not None and small.word is not None and small.type == "UNIT" and (big.word.id, small.word.id) in PAIRS
    )
