"""Doubtful words decided by their neighbours, by the rules in `doubtful.toml`: "second", "in", "a", "and", "-"."""

from __future__ import annotations

from functools import lru_cache
from typing import NamedTuple

from .tok import NUMERALS, Tok
from .words import Choice

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


def decide(tokens: list[Tok], pending: dict[int, Choice]) -> None:
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
