"""Where records go, and the bar that shows how far the work is."""

from __future__ import annotations

import errno
import os
import signal
import stat
import sys
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from types import FrameType
from typing import BinaryIO, TextIO

#: To a plain file records are written so many bytes at a time, and always whole ones.
_GATHERED = 1 << 16
_BAR_WIDTH = 24
#: Seconds between two pictures of the bar.
_BETWEEN = 0.2


class CannotWrite(Exception):
    """The records cannot be written any further (a full disk, say); the text says why."""


class Output:
    """Standard output for records: each is written whole, and at once where somebody may be waiting for it."""

    def __init__(self, stream: BinaryIO) -> None:
        self._stream = stream
        self._waiting: list[bytes] = []
        self._size = 0
        self._at_once = not _is_plain_file(stream)

    def put(self, text: str) -> None:
        """Writes records. Raises BrokenPipeError when nobody reads any more, CannotWrite otherwise."""
        made = text.encode("utf-8", errors="replace")
        self._waiting.append(made)
        self._size += len(made)
        if self._at_once or self._size >= _GATHERED:
            self.flush()

    def flush(self) -> None:
        """Writes what was gathered."""
        if not self._waiting:
            return
        made = b"".join(self._waiting)
        self._waiting.clear()
        self._size = 0
        try:
            with _held_back():
                _write_whole(self._stream, made)
        except BrokenPipeError:
            raise
        except (OSError, ValueError) as problem:
            raise CannotWrite(getattr(problem, "strerror", None) or str(problem)) from problem


def _write_whole(stream: BinaryIO, made: bytes) -> None:
    """Writes all of it. An unbuffered stream (as standard output is under PYTHONUNBUFFERED) may take a part only."""
    left = memoryview(made)
    while left:
        if (taken := stream.write(left)) is None:
            raise BlockingIOError(errno.EAGAIN, "it takes no more just now, and does not wait")
        left = left[taken:]
    stream.flush()


@contextmanager
def _held_back() -> Iterator[None]:
    """Holds Ctrl-C back until what is being written is written whole; a second one goes through at once.

    A pipe takes a long text in parts, and an interrupt between two of them would cut a record. The second is
    for a reader that has stopped reading without going away.
    """
    before = signal.getsignal(signal.SIGINT)
    if not callable(before) or threading.current_thread() is not threading.main_thread():
        yield
        return
    held: list[FrameType | None] = []

    def hold(number: int, frame: FrameType | None) -> None:
        if held:
            before(number, frame)
        held.append(frame)

    signal.signal(signal.SIGINT, hold)
    try:
        yield
    finally:
        signal.signal(signal.SIGINT, before)
    if held:
        before(signal.SIGINT, held[0])


def _is_plain_file(stream: BinaryIO) -> bool:
    try:
        return stat.S_ISREG(os.fstat(stream.fileno()).st_mode)
    except (OSError, ValueError):
        return False


class Bar:
    """A bar on standard error, drawn only where that is a terminal and the records go elsewhere."""

    def __init__(self, stream: TextIO | None, size: int, read: Callable[[], int], *,
                 clock: Callable[[], float] = time.monotonic) -> None:  # fmt: skip
        """`size` is the bytes there are to read (0: not known), `read` says how many were read so far."""
        self._stream = stream
        self._size, self._read, self._clock = size, read, clock
        self._start = self._last = clock()
        self._done = 0
        self._drawn = False

    def move(self, count: int) -> None:
        """So many more records are written."""
        if self._stream is None:
            return
        self._done += count
        now = self._clock()
        if now - self._last >= _BETWEEN:
            self._last = now
            self._draw(now)

    def _draw(self, now: float) -> None:
        assert self._stream is not None
        rate = self._done / max(now - self._start, 1e-9)
        text = f"{self._done:,} answered, {rate:,.0f} a second"
        if self._size:
            part = min(1.0, self._read() / self._size)
            filled = round(part * _BAR_WIDTH)
            text = f"[{'#' * filled}{'.' * (_BAR_WIDTH - filled)}] {part:4.0%}  {text}"
        self._stream.write(f"\r{text}\x1b[K")
        self._stream.flush()
        self._drawn = True

    def clear(self) -> None:
        """Takes the bar off the screen."""
        if self._drawn and self._stream is not None:
            self._stream.write("\r\x1b[K")
            self._stream.flush()
            self._drawn = False


def bar_stream(out: BinaryIO) -> TextIO | None:
    """Standard error where a bar can be drawn on it, None where not."""
    try:
        return sys.stderr if sys.stderr.isatty() and not out.isatty() else None
    except (AttributeError, ValueError):
        return None
