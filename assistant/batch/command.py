"""The command line of the pipe, and the status it ends with."""

from __future__ import annotations

import gc
import os
import sys
from typing import Any, NamedTuple

from ..arguments import WrongCommand, value_of
from .run import Ended, Options, load, run

#: What each option may be; None: anything.
_CHOICES: dict[str, tuple[str, ...] | None] = {
    "--from": ("lines", "csv", "tsv"),
    "--to": ("json", "csv", "tsv", "text"),
    "--column": None,
    "--workers": None,
    "--fail-on": ("asks", "unread"),
    "--shop": None,
}
#: More processes than this help nobody on one machine.
MOST_WORKERS = 64

ANSWERED, FAILED, WRONG_COMMAND, ASKED = 0, 1, 2, 3


class Failed(Exception):
    """A run that was begun and could not be ended; the text says why."""


class Command(NamedTuple):
    """One command: the file to read ("" for standard input), how, and what counts as a failure."""

    file: str
    options: Options
    fail_on: str = ""


def command(arguments: list[str]) -> int:
    """Carries out `castings batch …` and gives the exit status. BrokenPipeError and KeyboardInterrupt go through."""
    from .output import CannotWrite
    from .rows import UnusableTable

    try:
        given = parse(arguments)
        with _opened(given.file) as stream:
            ended = _run(stream, given)
    except (WrongCommand, UnusableTable) as problem:
        return _complain(str(problem), WRONG_COMMAND)
    except Failed as problem:
        return _complain(str(problem), FAILED)
    except CannotWrite as problem:
        _silence()
        return _complain(f"cannot write the records: {problem}", FAILED)
    return status_of(given, ended)


def status_of(given: Command, ended: Ended) -> int:
    """The exit status of a run that came to its end."""
    failed = ended.unread or (given.fail_on == "asks" and ended.asks)
    return ASKED if given.fail_on and failed else ANSWERED


def parse(arguments: list[str]) -> Command:
    """The command that arguments give. Raises WrongCommand where they make none."""
    said: dict[str, str] = {}
    names: list[str] = []
    as_dialogue = False
    left = list(arguments)
    while left:
        argument = left.pop(0)
        name = argument.partition("=")[0]
        if argument == "--dialogue":
            as_dialogue = True
        elif name in _CHOICES:
            value = value_of(argument, left, "castings --help")
            choices = _CHOICES[name]
            if choices is not None and value not in choices:
                raise WrongCommand(f"{name} is one of {', '.join(choices)}")
            said[name] = value
        elif argument.startswith("--"):
            raise WrongCommand(f"batch has no option {argument}; see castings --help")
        else:
            names.append(argument)
    if len(names) > 1:
        raise WrongCommand("batch reads one file")
    file = names[0] if names and names[0] != "-" else ""
    options = Options(
        reading=said.get("--from") or _by_name(file), writing=said.get("--to", "json"), column=said.get("--column", ""),  # type: ignore[arg-type]
        workers=_workers(said.get("--workers", "1")), as_dialogue=as_dialogue,
        shop=_catalogue(said["--shop"]) if "--shop" in said else None,
    )  # fmt: skip
    if options.column and options.reading == "lines":
        raise WrongCommand("--column is for a table: say --from csv or --from tsv")
    if as_dialogue and (options.workers > 1 or options.reading != "lines"):
        raise WrongCommand("--dialogue reads plain lines one after another: it takes neither a table nor workers")
    return Command(file, options, said.get("--fail-on", ""))


def _catalogue(name: str) -> Any:
    from ..shop_command import NoCatalogue, opened

    try:
        return opened(name)
    except NoCatalogue as problem:
        raise WrongCommand(str(problem)) from problem


def _by_name(file: str) -> str:
    ending = os.path.splitext(file)[1].lower()
    return {".csv": "csv", ".tsv": "tsv"}.get(ending, "lines")


def _workers(said: str) -> int:
    if not said.isdecimal() or not 1 <= int(said) <= MOST_WORKERS:
        raise WrongCommand(f"--workers is a number of processes from 1 to {MOST_WORKERS}")
    return int(said)


def _opened(file: str) -> Any:
    try:
        if not file:
            return open(_standard_input(), "rb", buffering=0, closefd=False)
        return open(file, "rb", buffering=0)
    except OSError as problem:
        raise WrongCommand(f"cannot read {file or 'standard input'}: {problem.strerror or problem}") from problem


def _standard_input() -> int:
    if sys.stdin is None:
        raise OSError("it is closed")
    return sys.stdin.fileno()


def _run(stream: Any, given: Command) -> Ended:
    from concurrent.futures.process import BrokenProcessPool

    load()
    # what is loaded stays for good, and hardly any garbage goes round in circles: the collector need not look so often
    gc.collect()
    gc.freeze()
    gc.set_threshold(20_000, 20, 20)
    try:
        return run(stream, sys.stdout.buffer, given.options)
    except BrokenPipeError:
        raise
    except BrokenProcessPool as problem:
        raise Failed("one of the workers was ended from outside; the records up to there are written") from problem
    except OSError as problem:
        raise WrongCommand(f"cannot read {given.file or 'standard input'}: {problem.strerror or problem}") from problem


def _complain(text: str, status: int) -> int:
    sys.stderr.write(f"castings: {text}\n")
    return status


def _silence() -> None:
    """Lets nothing be written any more, not even at the end of the process: it could not be."""
    sink = os.open(os.devnull, os.O_WRONLY)
    os.dup2(sink, sys.stdout.fileno())
    os.close(sink)
