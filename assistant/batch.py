"""The pipe: one request a line in, one JSON object a line out, in input order."""

from __future__ import annotations

import json
import sys
from collections.abc import Callable, Iterable, Iterator
from typing import IO

from .answer import Answer

Answerer = Callable[[str], Answer]


def record(line: int, answer: Answer) -> str:
    """One record of the machine output, as a line of JSON."""
    body = answer.model_dump_json(by_alias=True)
    return f'{{"line":{line},{body[1:]}'


def lines_of(stream: IO[bytes]) -> Iterator[tuple[int, str]]:
    """The lines of a byte stream with their numbers; undecodable bytes are replaced, line ends are dropped."""
    for number, raw in enumerate(stream, 1):
        yield number, raw.decode("utf-8", errors="replace").rstrip("\r\n")


def is_request(line: str) -> bool:
    """Whether a line is to be answered: not blank, not a comment."""
    stripped = line.strip()
    return bool(stripped) and not stripped.startswith("#")


def answers(lines: Iterable[tuple[int, str]], answerer: Answerer) -> Iterator[str]:
    """One record for each line that is a request."""
    for number, line in lines:
        if is_request(line):
            yield record(number, answerer(line))


def dialogue(lines: Iterable[tuple[int, str]]) -> Iterator[str]:
    """One record for each line, each block of lines being one conversation; a blank line starts a new one."""
    from .conversation import Conversation

    talk = Conversation()
    for number, line in lines:
        if not line.strip():
            talk = Conversation()
        elif is_request(line):
            yield record(number, talk.say(line))


def write(records: Iterable[str], out: IO[str]) -> None:
    """Writes records one a line, each flushed, so that the first comes before the last request is read."""
    for one in records:
        out.write(one + "\n")
        out.flush()


def run(stream: IO[bytes], *, as_dialogue: bool = False) -> None:
    """Answers a stream of requests on standard output."""
    from .ask import ask

    records = dialogue(lines_of(stream)) if as_dialogue else answers(lines_of(stream), ask)
    write(records, sys.stdout)


__all__ = ["answers", "dialogue", "is_request", "json", "lines_of", "record", "run", "write"]
