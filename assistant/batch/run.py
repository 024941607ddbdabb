"""A whole run of the pipe: what comes in, what goes out, and how it ended."""

from __future__ import annotations

import os
import stat
import sys
from collections.abc import Callable, Iterable, Iterator
from functools import partial
from typing import TYPE_CHECKING, BinaryIO, Literal, NamedTuple

from ..answer import Answer
from .arrivals import arriving, unbuffered
from .forms import Form, form_of
from .output import Bar, Output, bar_stream
from .rows import Item, Table, from_lines, is_request
from .spread import Done, here, over

if TYPE_CHECKING:
    from ..shop import Catalogue

Reading = Literal["lines", "csv", "tsv"]
Writing = Literal["json", "csv", "tsv", "text"]


#: What is asked back where the program itself failed.
FAULT = "Working this out met a fault of the program. Please report it; other words may help meanwhile."


class Options(NamedTuple):
    """How a run goes.

    `column` names the column of requests of a table, `workers` is a number of processes, `shop` is a shop's own catalogue.
    """

    reading: Reading = "lines"
    writing: Writing = "json"
    column: str = ""
    workers: int = 1
    as_dialogue: bool = False
    shop: Catalogue | None = None


class Ended(NamedTuple):
    """How many records were written, and how many of them ask or are unread."""

    records: int
    asks: int
    unread: int


def run(stream: BinaryIO, out: BinaryIO, options: Options = Options()) -> Ended:  # noqa: B008
    """Answers a stream of requests.

    Raises rows.UnusableTable, BrokenPipeError when nobody reads the records any more, output.CannotWrite,
    OSError where the stream cannot be read, BrokenProcessPool where a worker is ended from outside, and
    KeyboardInterrupt; whatever was answered by then has been written.
    """
    raw = unbuffered(stream)
    arrived = arriving(raw)
    names: tuple[str, ...] = ()
    if options.reading == "lines":
        blocks = from_lines(arrived)
    else:
        table = Table(arrived, options.reading, options.column)
        names, blocks = table.names, table.items()
    form = form_of(options.writing, names)
    output = Output(out)
    bar = Bar(bar_stream(out), _size(stream), partial(_place, stream))
    count = asks = unread = 0
    try:
        if options.reading == "lines" or names:
            output.put(form.head())
        if options.as_dialogue:
            records: Iterator[Done] = _dialogue(arrived, form, options.shop)
        else:
            load()
            work = partial(_answers, form, options.shop)
            records = over(blocks, work, options.workers) if options.workers > 1 else here(blocks, work)
        for done in records:
            output.put(done.text)
            count, asks, unread = count + done.records, asks + done.asks, unread + done.unread
            bar.move(done.records)
    finally:
        bar.clear()
        output.flush()
    return Ended(count, asks, unread)


def _answers(form: Form, shop: Catalogue | None, items: list[Item]) -> Done:
    """The records of some requests; what a worker does."""
    asked = [item for item in items if not item.fault and not item.is_blank]
    answers = iter(_together(asked, shop))
    found: list[tuple[Item, Answer | None]] = []
    for item in items:
        if item.fault:
            found.append((item, Answer(request=item.request, status="unread", reads="", question=item.fault)))
        else:
            found.append((item, None if item.is_blank else next(answers)))
    return _done(form, found)


def _together(items: list[Item], shop: Catalogue | None) -> list[Answer]:
    """The answers to some requests; where the program fails at one, each is answered alone, and only that one goes without."""
    from ..ask import ask, ask_all

    try:
        return ask_all([item.request for item in items], shop)
    except Exception:
        return [_safely(item, partial(ask, shop=shop)) for item in items]


def _safely(item: Item, ask: Callable[[str], Answer]) -> Answer:
    """The answer; a fault of the program costs one line its answer, and not all the lines after it theirs."""
    try:
        return ask(item.request)
    except Exception as problem:
        print(f"castings: line {item.line}: a fault of the program, please report it: {problem!r}", file=sys.stderr)
        return Answer(request=item.request, status="unread", reads="", question=FAULT)


def _done(form: Form, found: list[tuple[Item, Answer | None]]) -> Done:
    answers = [answer for _, answer in found if answer is not None]
    return Done(
        "".join(form.written(item, answer) for item, answer in found), len(answers),
        sum(answer.status == "asks" for answer in answers), sum(answer.status == "unread" for answer in answers),
    )  # fmt: skip


def _dialogue(arrived: Iterable[list[tuple[int, str]]], form: Form, shop: Catalogue | None) -> Iterator[Done]:
    """Lines that lean on the ones before; a blank line starts a new conversation."""
    from ..conversation import Conversation

    talk = Conversation(shop=shop)
    for block in arrived:
        for number, line in block:
            if not line.strip():
                talk = Conversation(shop=shop)
            elif is_request(line):
                item = Item(number, line)
                yield _done(form, [(item, _safely(item, talk.say))])


def load() -> None:
    """Loads everything before the first line, once and for all processes."""
    from ..ask import ask

    ask("4 by 9 ft bed, 10 inches deep, 10%")


def _size(stream: BinaryIO) -> int:
    try:
        status = os.fstat(stream.fileno())
    except (OSError, ValueError):
        return 0
    return status.st_size if stat.S_ISREG(status.st_mode) else 0


def _place(stream: BinaryIO) -> int:
    try:
        return os.lseek(stream.fileno(), 0, os.SEEK_CUR)
    except (OSError, ValueError):
        return 0


__all__ = ["Ended", "Options", "load", "run"]
