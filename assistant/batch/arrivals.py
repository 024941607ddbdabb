"""Lines as they arrive: in blocks, so that nobody waits for a line that has not been written yet.

Whatever a line holds, reading it takes a bounded amount of memory: of a longer line only the first
`LONGEST_KEPT` bytes are kept. Undecodable bytes are replaced; a line ends with LF or CR LF.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Protocol

#: Bytes asked for at a time; what is there is taken, be it less.
BLOCK = 1 << 16
#: Bytes kept of a line; far more than is ever read of one (`grammar.scan.LONGEST_LINE`).
LONGEST_KEPT = 1 << 16

#: The number of a line, from 1, and the line with its end taken off.
Line = tuple[int, str]


class Bytes(Protocol):
    """A stream of bytes. `read` gives what is there, at most so many bytes, and nothing at the end."""

    def read(self, most: int, /) -> bytes | None: ...


def unbuffered(stream: Bytes) -> Bytes:
    """The stream itself below any buffer, which would wait for a full block."""
    raw: Bytes = getattr(stream, "raw", stream)
    return raw


def arriving(stream: Bytes) -> Iterator[list[Line]]:
    """The lines of a stream, in blocks of those that have arrived whole."""
    number = 0
    begun = bytearray()  # the beginning of the line that has not ended yet
    first = True
    while block := stream.read(BLOCK):
        *ended, last = block.split(b"\n")
        found = []
        for piece in ended:
            if begun:
                _add(begun, piece)
                piece = bytes(begun)
                begun.clear()
            number += 1
            found.append((number, _text(piece, number == 1)))
        _add(begun, last)
        first = False
        if found:
            yield found
    if begun and not first:
        yield [(number + 1, _text(bytes(begun), number == 0))]


def lines_of(lines: Iterable[bytes]) -> Iterator[Line]:
    """Lines of bytes as text, one by one, with their numbers."""
    for number, line in enumerate(lines, 1):
        yield number, _text(line.removesuffix(b"\n"), number == 1)


def _add(begun: bytearray, piece: bytes) -> None:
    begun += piece[: LONGEST_KEPT - len(begun)]


def _text(line: bytes, is_first: bool) -> str:
    if len(line) > LONGEST_KEPT:
        line = line[:LONGEST_KEPT]
    text = line.decode("utf-8", errors="replace").rstrip("\r")
    return text.removeprefix("\ufeff") if is_first else text
