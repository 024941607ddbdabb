"""What is to be answered, from lines or from the rows of a table."""

from __future__ import annotations

import csv
from collections.abc import Iterable, Iterator
from typing import NamedTuple

from .arrivals import LONGEST_KEPT, Line

_DELIMITERS = {"csv": ",", "tsv": "\t"}
#: What the column of requests is called where nothing else is said.
USUAL_COLUMN = "request"


class Item(NamedTuple):
    """One request: the number of its line, and the row it stands in where it came from a table.

    `fault` says why the row cannot be answered at all. A blank request stands here only with its row,
    which has to come out again.
    """

    line: int
    request: str
    row: tuple[str, ...] = ()
    fault: str = ""

    @property
    def is_blank(self) -> bool:
        return not self.request.strip()


class UnusableTable(ValueError):
    """A table without a column of requests; the text says what would help."""


def is_request(line: str) -> bool:
    """Whether a line is to be answered: not blank, not a comment."""
    stripped = line.strip()
    return bool(stripped) and not stripped.startswith("#")


def from_lines(blocks: Iterable[list[Line]]) -> Iterator[list[Item]]:
    """The requests of plain lines, in the blocks in which they arrived."""
    for block in blocks:
        found = [Item(number, text) for number, text in block if is_request(text)]
        if found:
            yield found


class _Feed:
    """Lines for the reader of a table, that knows when the next one would have to be waited for."""

    def __init__(self, blocks: Iterable[list[Line]]) -> None:
        self.blocks = iter(blocks)
        self.lines: Iterator[Line] = iter(())
        self.left = 0
        self.number = 0

    def __iter__(self) -> _Feed:
        return self

    def __next__(self) -> str:
        if not self.left:
            block = next(self.blocks)
            self.lines, self.left = iter(block), len(block)
        self.number, text = next(self.lines)
        self.left -= 1
        return text + "\n"


class Table:
    """A table in CSV (RFC 4180) or TSV, with names in its first row and requests in one column."""

    def __init__(self, blocks: Iterable[list[Line]], form: str, column: str = "") -> None:
        """Reads the first row. `column` is a column's name, or its number from 1.

        Raises UnusableTable where the column is not there, or has to be said.
        """
        self._feed = _Feed(blocks)
        csv.field_size_limit(LONGEST_KEPT)
        self._reader = csv.reader(self._feed, delimiter=_DELIMITERS[form])
        first = self._next()
        self.names: tuple[str, ...] = tuple(first[1]) if first is not None else ()
        self._at = _column(self.names, column) if first is not None else 0

    def items(self) -> Iterator[list[Item]]:
        """The rows below the first, in the blocks in which they arrived."""
        found: list[Item] = []
        while (row := self._next()) is not None:
            line, cells, fault = row
            if cells or fault:
                found.append(self._item(line, cells, fault))
            if found and not self._feed.left:
                yield found
                found = []
        if found:
            yield found

    def _next(self) -> tuple[int, list[str], str] | None:
        """The number of the line a row begins on, its cells, and what is wrong with it."""
        line = self._feed.number + 1
        try:
            return line, next(self._reader), ""
        except StopIteration:
            return None
        except csv.Error:
            # a quote that is never closed takes the lines after it with it, as far as a cell may reach
            return line, [], f"a cell of this row is longer than {LONGEST_KEPT} letters; is a quote not closed?"

    def _item(self, line: int, cells: list[str], fault: str) -> Item:
        width = len(self.names)
        if len(cells) > width:
            fault = (f"this row has {len(cells)} cells and the first row {width}: "
                     "a request that holds the sign between cells stands in double quotes")  # fmt: skip
        row = tuple(cells[:width]) + ("",) * (width - len(cells))
        return Item(line, row[self._at], row, fault)


def _column(names: tuple[str, ...], wanted: str) -> int:
    """The index of the column of requests."""
    plain = [name.strip().casefold() for name in names]
    listed = ", ".join(name.strip() or "(no name)" for name in names)
    if wanted:
        if wanted.strip().casefold() in plain:
            return plain.index(wanted.strip().casefold())
        if wanted.isdecimal() and 1 <= int(wanted) <= len(names):
            return int(wanted) - 1
        raise UnusableTable(f"the table has no column {wanted}; it has: {listed}")
    if USUAL_COLUMN in plain:
        return plain.index(USUAL_COLUMN)
    if len(names) == 1:
        return 0
    raise UnusableTable(f"which column holds the requests? Say --column NAME; the table has: {listed}")
