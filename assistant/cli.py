"""The commands. With no command's name, the arguments are one request."""

from __future__ import annotations

import os
import sys
from pathlib import Path

USAGE = """\
castings: works out how much worm castings something needs, and shows the working.

  castings "4 by 9 ft bed, 10 inches deep, 10% castings"
  castings "how far does a 20 litre bag go, half an inch on top"
  castings "side dress 14 peppers"

  castings [--json] "REQUEST"          answer one request
  castings chat                        talk
  castings batch [--dialogue] [FILE]   one request a line in, one JSON object a line out
  castings rules                       every rule, with formula, unit and source
  castings sources                     every source, and how well it stands
  castings --version | --help
"""

ANSWERED, WRONG_COMMAND, ASKED, CLOSED = 0, 2, 3, 141


def main(arguments: list[str] | None = None) -> int:
    """Runs one command; the exit status is what the contract of the machine output says."""
    arguments = sys.argv[1:] if arguments is None else arguments
    try:
        status = _run(arguments)
        sys.stdout.flush()
    except BrokenPipeError:
        # the reader has gone: nothing more can be written, not even at shutdown
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return CLOSED
    except KeyboardInterrupt:
        return 130
    return status


def _complain(text: str) -> int:
    sys.stderr.write(f"castings: {text}\n")
    return WRONG_COMMAND


def _run(arguments: list[str]) -> int:
    if not arguments or arguments[0] in ("--help", "-h"):
        sys.stdout.write(USAGE)
        return ANSWERED if arguments else WRONG_COMMAND
    first, rest = arguments[0], arguments[1:]
    if first == "--version":
        from importlib.metadata import version

        sys.stdout.write(f"castings {version('castings')}\n")
        return ANSWERED
    if first == "batch":
        return _batch(rest)
    if first == "chat":
        from .chat import chat

        return chat(rest)
    if first in ("rules", "sources"):
        if rest:
            return _complain(f"{first} takes nothing more")
        from . import listing

        sys.stdout.write(listing.rules() if first == "rules" else listing.sources())
        return ANSWERED
    return _one(arguments)


def _one(arguments: list[str]) -> int:
    as_json = False
    words = []
    for argument in arguments:
        if argument == "--json":
            as_json = True
        elif argument.startswith("--") and not words:
            return _complain(f"there is no option {argument}; see castings --help")
        else:
            words.append(argument)
    if not words:
        return _complain("what is the request? See castings --help")
    from .ask import ask

    answer = ask(" ".join(words))
    if as_json:
        from .batch import record

        sys.stdout.write(record(1, answer) + "\n")
    else:
        from .say import say

        sys.stdout.write(say(answer) + "\n")
    return ANSWERED if answer.status == "answered" else ASKED


def _batch(rest: list[str]) -> int:
    as_dialogue = False
    names = []
    for argument in rest:
        if argument == "--dialogue":
            as_dialogue = True
        elif argument.startswith("--"):
            return _complain(f"batch has no option {argument}; see castings --help")
        else:
            names.append(argument)
    if len(names) > 1:
        return _complain("batch reads one file")
    from .batch import run

    sys.stdout.reconfigure(encoding="utf-8")  # type: ignore[union-attr]
    if not names or names[0] == "-":
        run(sys.stdin.buffer, as_dialogue=as_dialogue)
        return ANSWERED
    try:
        stream = Path(names[0]).open("rb")
    except OSError as error:
        return _complain(f"cannot read {names[0]}: {error.strerror}")
    with stream:
        try:
            run(stream, as_dialogue=as_dialogue)
        except IsADirectoryError:
            return _complain(f"cannot read {names[0]}: it is a directory")
    return ANSWERED


if __name__ == "__main__":
    sys.exit(main())
