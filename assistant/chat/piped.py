"""The chat without an editor: lines from a pipe, or from a terminal that can only print."""

from __future__ import annotations

import sys
from typing import IO, TextIO

from . import helping
from .talk import Talk

PROMPT = "You: "
HOW_TO_LEAVE = "To leave, press Ctrl-D or type “quit”."


def piped(talk: Talk, lines: IO[bytes], out: TextIO) -> int:
    """Answers each line, an empty line after each answer, and ends with the input."""
    first = True
    for raw in lines:
        reply = talk.steady_reply(raw.decode("utf-8", errors="replace").rstrip("\r\n"))
        if not reply:
            continue
        out.write(reply + "\n" if first else "\n" + reply + "\n")
        out.flush()
        first = False
        if talk.leaving:
            break
    return 0


def by_hand(talk: Talk) -> int:
    """A prompt and no more: no cursor is moved, no key is bound."""
    print(helping.greeting(talk.look))
    while not talk.leaving:
        try:
            line = input(PROMPT)
        except EOFError:
            print()
            break
        except KeyboardInterrupt:
            print("\n" + talk.notice(HOW_TO_LEAVE))
            continue
        try:
            if reply := talk.steady_reply(line):
                print(reply)
        except KeyboardInterrupt:
            print("\n" + talk.notice("Stopped."))
        sys.stdout.flush()
    return 0
