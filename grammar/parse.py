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


class KnownRule(Rule):
    """A rule that stands for itself: there is one of each, so that it is found by what it is and not by how it is made up."""

    __slots__ = ()
    __hash__ = object.__hash__
    __eq__ = object.__eq__


def _one_of_each(lark: Lark) -> None:
    """Makes each rule in lark's tables the very one that the builder is found by: lark looks one up at every step."""
    tables = cast(Any, lark).parser.parser.parser
    known = {rule: rule for rule in tables.callbacks if isinstance(rule, Rule)}
    for steps in tables.parse_table.states.values():
        for name, (action, to) in steps.items():
            if isinstance(to, Rule):
                steps[name] = action, known[to]
    builders = list(tables.callbacks.items())
    for rule in known.values():
        rule.__class__ = KnownRule
    tables.callbacks.clear()
    tables.callbacks.update(builders)


@lru_cache(maxsize=1)
def parser() -> Lark:
    """The one parser of the process."""
    saved = TABLES.load()
    saved["data"]["parser"]["lexer_conf"]["lexer_type"] = TypedTokens
    saved["data"]["options"] |= {"lexer": TypedTokens, "transformer": Spread(Builder())}
    lark = Lark.load(saved)
    _one_of_each(lark)
    return lark


class _Line:
    """The tokens of a line, where lark's LALR parser looks for a lexer at work."""

    __slots__ = ("_tokens",)

    def __init__(self, tokens: list[Tok]) -> None:
        self._tokens = tokens

    def lex(self, _state: Any) -> Iterator[Tok]:
        return iter(self._tokens)


@lru_cache(maxsize=1)
def _straight() -> Callable[[_Line, str], list[Phrase]]:
    """Lark's LALR parser itself, without the layers over it that choose a lexer and a start anew for every line."""
    return cast("Callable[[_Line, str], list[Phrase]]", cast(Any, parser()).parser.parser.parser.parse)


def parse(text: str) -> Parsed:
    """The phrases of a line. Never raises: what fits no phrase stands as a word of its own."""
    tokens, mended, cut = tokenize(text)
    try:
        # with a builder lark gives what that makes of the whole, and not a tree
        return Parsed(_straight()(_Line(tokens), "request"), mended, cut)
    except UnexpectedToken:
        return Parsed(_past_strays(tokens), mended, cut)


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
