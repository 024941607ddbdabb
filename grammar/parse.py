"""The parser: lark's LALR tables over the typed tokens of a line.

Lark makes its tables from the grammar once; they are kept (`tables`), and lark loads them at the next start.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import lru_cache
from operator import itemgetter
from typing import Any, NamedTuple, cast

from lark import Lark, UnexpectedToken
from lark.grammar import Rule
from lark.lexer import Lexer, LexerThread, TerminalDef
from lark.parsers.lalr_analysis import Shift

from .phrases import Builder, Phrase, Said, said
from .tables import Plain, Table, package_file
from .tok import Tok
from .tokens import Mended, tokenize


class TypedTokens(Lexer):
    """Hands lark the tokens that the vocabulary has typed; it reads no characters itself.

    It is given an iterator, so that after a token that does not fit lark goes on with the next one.
    """

    __future_interface__ = 2

    def __init__(self, _conf: Any) -> None:
        pass

    def lex(self, lexer_state: Any, _parser_state: Any) -> Iterator[Any]:
        return iter(lexer_state.text)


class Spread:
    """The builder as lark wants it: each method takes a rule's parts as one list.

    Lark's own adapter for this (`v_args`) costs three more calls a phrase. A rule that only hands on its one
    part is called `same`, which costs no call of ours at all.
    """

    same = staticmethod(itemgetter(0))

    def __init__(self, builder: Builder) -> None:
        self._builder = builder

    def __getattr__(self, name: str) -> Callable[[list[Any]], Any]:
        method = getattr(self._builder, name)
        return lambda parts: method(*parts)


class Parsed(NamedTuple):
    """The phrases of a line, what was mended in it, and whether it was cut for length."""

    phrases: list[Phrase]
    mended: list[Mended]
    cut: bool


def _to_plain() -> Plain:
    """Lark's tables for the grammar, as plain data."""
    text = package_file("request.lark").read_text(encoding="utf-8")
    made = Lark(text, parser="lalr", lexer=TypedTokens, start="request")
    data, memo = made.memo_serialize([TerminalDef, Rule])
    # the one thing in it that is no data: the lexer's class, which is put back when the tables are loaded
    del data["options"]["lexer"], data["parser"]["lexer_conf"]["lexer_type"]
    return _plain({"data": data, "memo": memo})


def _plain(value: Any) -> Plain:
    """Data with lark's own kinds of text and list made ordinary ones."""
    if isinstance(value, dict):
        return {_plain(key): _plain(one) for key, one in value.items()}
    if isinstance(value, list | tuple):
        return [_plain(one) for one in value]
    return str(value) if isinstance(value, str) else value


TABLES = Table("parser", ("request.lark", "parse.py"), ("lark",), _to_plain)


@lru_cache(maxsize=1)
def parser() -> Lark:
    """The one parser of the process."""
    saved = TABLES.load()
    saved["data"]["parser"]["lexer_conf"]["lexer_type"] = TypedTokens
    saved["data"]["options"] |= {"lexer": TypedTokens, "transformer": Spread(Builder())}
    return Lark.load(saved)


#: To shift: the state to go to. To reduce: what builds a phrase, out of how many parts, and the name of its rule.
Step = int | tuple[Callable[[list[Any]], Any], int, str]


class _Steps(NamedTuple):
    """Lark's tables: by state and type of token the step to take, and the state to begin in."""

    by_state: dict[int, dict[str, Step]]
    begin: int


#: What lark calls the end of a line, and the state in which a line is whole.
_END, _WHOLE = Tok("$END", None, "", 0, 0), -1


@lru_cache(maxsize=1)
def _steps() -> _Steps:
    """Lark's tables with all that a step needs at hand: lark itself looks it up anew at every step."""
    tables = cast(Any, parser()).parser.parser.parser
    made: dict[int, dict[str, Step]] = {
        state: {name: to if action is Shift else (tables.callbacks[to], len(to.expansion), to.origin.name) for name, (action, to) in steps.items()}
        for state, steps in tables.parse_table.states.items()
    }
    made[tables.parse_table.end_states["request"]][_END.type] = _WHOLE
    return _Steps(made, tables.parse_table.start_states["request"])


def parse(text: str) -> Parsed:
    """The phrases of a line. Never raises: what fits no phrase stands as a word of its own."""
    tokens, mended, cut = tokenize(text)
    phrases = _phrases(tokens)
    return Parsed(_past_strays(tokens) if phrases is None else phrases, mended, cut)


def _phrases(tokens: list[Tok]) -> list[Phrase] | None:
    """The phrases that lark's tables make of the tokens, step by step as lark goes; None where a token fits no phrase."""
    steps, begin = _steps()
    same = Spread.same
    states: list[int] = [begin]
    values: list[Any] = []
    for token in (*tokens, _END):
        kind = token.type
        while True:
            try:
                step = steps[states[-1]][kind]
            except KeyError:
                return None
            if type(step) is int:
                states.append(step)
                values.append(token)
                break
            build, size, name = step  # type: ignore[misc]
            if build is same:
                states[-1] = steps[states[-2]][name]  # type: ignore[assignment]
                continue
            first = len(values) - size
            values[first:] = [build(values[first:])]
            states[first + 1 :] = [steps[states[first]][name]]  # type: ignore[list-item]
    return cast("list[Phrase]", values[0])


def _past_strays(tokens: list[Tok]) -> list[Phrase]:
    """The phrases of a line in which some tokens fit no phrase, of which there are few."""
    stray: list[Tok] = []

    def skip(error: Exception) -> bool:
        if isinstance(error, UnexpectedToken) and isinstance(error.token, Tok):
            stray.append(error.token)
            return True
        return False

    try:
        phrases: list[Phrase] = cast(Any, parser()).parse(iter(tokens), on_error=skip)
    except UnexpectedToken:
        # a line that ends in the middle of a phrase: its words are kept one by one
        return [said(token) for token in tokens if token.type != "FILLER"]
    phrases.extend(Said("unknown", token.text, token.text, token.start, token.end) for token in stray)
    return phrases


__all__ = ["LexerThread", "Parsed", "parse", "parser"]
