"""The chat: a conversation in a terminal, or line by line through a pipe."""

from __future__ import annotations

import os
import sys
from collections.abc import Mapping
from datetime import date
from pathlib import Path
from typing import NamedTuple

from ..lines import Look, look_for
from ..notebook import Notebook, NotebookError
from .talk import Talk

USAGE = """\
castings chat [--plain] [--ascii] [--working] [--no-pictures] [--no-history] [--notebook FILE] [--shop FILE]

  --plain            whole sentences in place of drawings, for a screen reader
  --ascii            no signs but those of ASCII
  --working          the working with every answer
  --no-pictures      no drawings
  --no-history       keep none of the lines that are typed
  --notebook FILE    go on with a notebook, or begin one
  --shop FILE        every answer says what to buy, from this catalogue
"""

WRONG_COMMAND = 2


class Wishes(NamedTuple):
    """What the command line of the chat asks for."""

    plain: bool = False
    ascii: bool = False
    working: bool = False
    pictures: bool = True
    history: bool = True
    notebook: Path | None = None
    shop: str | None = None


def chat(arguments: list[str]) -> int:
    """Talks until the user leaves or the input ends; the exit status."""
    if arguments and arguments[0] in ("--help", "-h"):
        sys.stdout.write(USAGE)
        return 0
    wishes = _wishes(arguments)
    if isinstance(wishes, str):
        sys.stderr.write(f"castings: {wishes}\n")
        return WRONG_COMMAND
    shop = None
    if wishes.shop is not None:
        from ..shop_command import NoCatalogue, opened

        try:
            shop = opened(wishes.shop)
        except NoCatalogue as problem:
            sys.stderr.write(f"castings: {problem}\n")
            return WRONG_COMMAND
    in_terminal = sys.stdin.isatty() and sys.stdout.isatty()
    try:
        notebook = Notebook.open(wishes.notebook) if wishes.notebook is not None else None
        talk = Talk(_look(wishes, in_terminal), clock=date.today, notebook=notebook, shop=shop)
    except NotebookError as problem:
        sys.stderr.write(f"castings: {problem}\n")
        return WRONG_COMMAND
    try:
        if not in_terminal:
            from .piped import piped

            return piped(talk, sys.stdin.buffer, sys.stdout)
        if plain_terminal(os.environ):
            from .piped import by_hand

            return by_hand(talk)
        from .terminal import terminal

        return terminal(talk, wishes.history)
    finally:
        talk.notebook.close()


def plain_terminal(environment: Mapping[str, str]) -> bool:
    """Whether a terminal can do no more than print: no cursor is moved there."""
    return environment.get("TERM", "") in ("dumb", "")


def _look(wishes: Wishes, in_terminal: bool) -> Look:
    look = look_for(sys.stdout)
    return look._replace(
        ascii=look.ascii or wishes.ascii, working=wishes.working, sentences=wishes.plain,
        pictures=wishes.pictures and in_terminal,
    )  # fmt: skip


def _wishes(arguments: list[str]) -> Wishes | str:
    """The wishes of a command line, or what is wrong with it."""
    wishes = Wishes()
    rest = iter(arguments)
    for argument in rest:
        if argument == "--plain":
            wishes = wishes._replace(plain=True)
        elif argument == "--ascii":
            wishes = wishes._replace(ascii=True)
        elif argument == "--working":
            wishes = wishes._replace(working=True)
        elif argument == "--no-pictures":
            wishes = wishes._replace(pictures=False)
        elif argument == "--no-history":
            wishes = wishes._replace(history=False)
        elif argument == "--notebook":
            name = next(rest, "")
            if not name:
                return "--notebook takes a file; see castings chat --help"
            wishes = wishes._replace(notebook=Path(name))
        elif argument.startswith("--notebook="):
            wishes = wishes._replace(notebook=Path(argument.partition("=")[2]))
        elif argument == "--shop" or argument.startswith("--shop="):
            wishes = wishes._replace(shop=next(rest, "") if argument == "--shop" else argument.partition("=")[2])
        else:
            return f"chat does not take {argument}; see castings chat --help"
    return wishes
