"""The work spread over processes, with the order kept and memory bounded.

A thread reads and hands chunks of requests out; the records come back in order. Only so many chunks are
under way at a time, so that a fast reader or a slow writer never fills the memory.
"""

from __future__ import annotations

import multiprocessing
import os
import signal
import sys
import threading
import time
from collections.abc import Callable, Iterable, Iterator
from concurrent.futures import Future, ProcessPoolExecutor
from queue import Queue
from typing import NamedTuple

from .rows import Item

#: Requests answered together, and handed to a process at a time; and how many such chunks each may have waiting.
CHUNK = 64
_AHEAD = 3


class Done(NamedTuple):
    """Records as they are to be written, and how many of each status there are."""

    text: str
    records: int
    asks: int
    unread: int


Work = Callable[[list[Item]], Done]


def here(blocks: Iterable[list[Item]], work: Work) -> Iterator[Done]:
    """The records, worked out in this process, a few together of those that have arrived."""
    for block in blocks:
        for at in range(0, len(block), CHUNK):
            yield work(block[at : at + CHUNK])


def over(blocks: Iterable[list[Item]], work: Work, workers: int) -> Iterator[Done]:
    """The records, worked out by so many processes; in the order of the requests.

    Raises what reading raises, and concurrent.futures.process.BrokenProcessPool when a process is ended
    from outside.
    """
    # a forked process has everything loaded already; elsewhere each one loads for itself
    context = multiprocessing.get_context("fork" if sys.platform == "linux" else None)
    pool = ProcessPoolExecutor(workers, context, initializer=_begin, initargs=(os.getpid(),))
    under_way: Queue[Future[Done] | BaseException | None] = Queue(workers * _AHEAD)
    try:
        # all processes are started before the thread that reads
        pool.submit(int).result()
        threading.Thread(target=_hand_out, args=(blocks, work, pool, under_way), daemon=True).start()
        while (one := under_way.get()) is not None:
            if isinstance(one, BaseException):
                raise one
            yield one.result()
    finally:
        pool.shutdown(wait=False, cancel_futures=True)


def _hand_out(blocks: Iterable[list[Item]], work: Work, pool: ProcessPoolExecutor,
              under_way: Queue[Future[Done] | BaseException | None]) -> None:  # fmt: skip
    try:
        for block in blocks:
            for at in range(0, len(block), CHUNK):
                under_way.put(pool.submit(work, block[at : at + CHUNK]))
    except BaseException as problem:
        # after the end of the pool nobody listens any more; before it, the main thread raises it
        under_way.put(problem)
    else:
        under_way.put(None)


def _begin(parent: int) -> None:
    """What a process does first: leave Ctrl-C to the main one, and end when that one is gone."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    threading.Thread(target=_end_with, args=(parent,), daemon=True).start()


def _end_with(parent: int) -> None:
    while os.getppid() == parent:
        time.sleep(1)
    os._exit(1)
