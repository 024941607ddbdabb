"""Throws random lines at the pipe: no exception, no hang, one record a line, records independent of their neighbours.

    python -m tests.fuzz [COUNT] [SEED] [WORKERS]

makes so many lines (1,000,000 where no count is given), puts them through in blocks and prints what went wrong, the
statuses and the time. The lines of a seed are always the same. `tests/test_fuzz.py` runs a short part of it.
"""

from __future__ import annotations

import faulthandler
import io
import json
import sys
import time
import tomllib
from collections import Counter
from concurrent.futures import ProcessPoolExecutor
from functools import lru_cache
from itertools import repeat
from pathlib import Path
from random import Random
from typing import NamedTuple

from assistant.batch import answer_line
from assistant.batch.arrivals import lines_of
from assistant.batch.rows import is_request
from assistant.batch.run import FAULT, Options, run
from grammar.words import vocabulary

#: Lines put through at a time, and how many of each such block are asked again alone.
BLOCK, AGAIN = 1000, 25
#: A block that takes longer than this (seconds) hangs.
HANGS = 300.0
STATUSES = ("answered", "asks", "unread")
_ODD = [
    "\x00", "\x1b[31m", "\u202e", "\u2066", "\ufeff", "\u200b", "½", "⅔", "²", "×", "–", "″", "′", "\u0301", "ｆｔ", "１２", "٣", "१०",
    "İ", "ß", "ﬁ", "Ω", "🪱", "=", "@", "+", "#", "\\", "`", "'", '"', "(", ")", "[", "]", "{", "}", ";", "|", "&", "<", ">", "%", "$",
    "€", "£", "¢", "~", "^", "_", "*", "/", ":", "!", "?", ".", ",", "-", "--", "...", "1e308", "1e-9", "9" * 400, "0", "00", "0.0",
    "-1", ".5", "5.", "1,000", "1,00", "1.234,5", "3/0", "0/3", "7/8", "1 1/2", "1-1/2", "#5", "# 5", "1:0", "0:1", "2:1:1", "nan",
    "inf", "None", "NULL", "true", "\r", "\x0b", "\x85", "\u2028",
]  # fmt: skip
_SIZES = ["4 by 9 ft", "4x9", "10 in deep", "10%", "2 cups each", "1 cu yd", "20 lb", "half an inch", "3 m", "5 gal pots", "$20 a bag"]


class Found(NamedTuple):
    """What a block of lines gave."""

    lines: int
    statuses: Counter[str]
    faults: list[str]
    slowest: float


@lru_cache(maxsize=1)
def _spellings() -> list[str]:
    words = vocabulary()
    return sorted({*words.single, *(" ".join(key) for listed in words.longer.values() for key, _ in listed)})


@lru_cache(maxsize=1)
def _requests() -> list[str]:
    found = []
    for path in sorted((Path(__file__).parent / "requests").glob("*.toml")):
        table = tomllib.loads(path.read_text(encoding="utf-8"))
        found += [case["say"] for case in table.get("case", ())]
        found += [turn["say"] for talk in table.get("conversation", ()) for turn in talk["turns"]]
    return found


def line(random: Random) -> bytes:
    """One line: words of the trade in any order, a request with slips in it, or anything at all."""
    kind = random.random()
    if kind < 0.45:
        text = _salad(random)
    elif kind < 0.9:
        text = _slips(random, random.choice(_requests()))
    elif kind < 0.97:
        text = "".join(chr(random.choice((random.randrange(32, 127), random.randrange(0x3000)))) for _ in range(random.randrange(60)))
    elif kind < 0.995:
        return bytes(random.randrange(256) for _ in range(random.randrange(80))).replace(b"\n", b" ")
    else:
        text = random.choice([*_ODD, *_SIZES, "and", random.choice(_spellings())]) * random.randrange(2, 400)
    return text.replace("\n", " ").encode("utf-8", errors="surrogatepass")


def _salad(random: Random) -> str:
    pieces = []
    for _ in range(random.randrange(1, 16)):
        kind = random.random()
        if kind < 0.5:
            pieces.append(random.choice(_spellings()))
        elif kind < 0.75:
            pieces.append(str(random.choice((random.randrange(100), random.randrange(100), round(random.uniform(0, 50), 2), random.randrange(10**9)))))
        elif kind < 0.92:
            pieces.append(random.choice(_SIZES))
        else:
            pieces.append(random.choice(_ODD))
    return random.choice((" ", " ", " ", "", "  ")).join(pieces)


def _slips(random: Random, request: str) -> str:
    for _ in range(random.randrange(4)):
        at = random.randrange(len(request) + 1)
        kind = random.random()
        if kind < 0.3:
            request = request[:at] + request[at + random.randrange(1, 6) :]
        elif kind < 0.6:
            request = request[:at] + random.choice((*_ODD, *_SIZES, *" abcxyz0123")) + request[at:]
        elif kind < 0.8:
            request = request[:at] + " " + random.choice(_spellings()) + " " + request[at:]
        elif kind < 0.9:
            request = request[at:] + " " + request[:at]
        else:
            request += random.choice((", ", " and ", ". ")) + random.choice(_requests())
    return request


def block(number: int, seed: int, size: int = BLOCK) -> Found:
    """Puts one block of lines through the pipe, and some of them alone again in another order."""
    random = Random(f"{seed}:{number}")
    raw = [line(random) for _ in range(size)]
    faulthandler.dump_traceback_later(HANGS, exit=True)
    out = io.BytesIO()
    begun = time.monotonic()
    run(io.BytesIO(b"\n".join(raw) + b"\n"), out, Options())
    taken = time.monotonic() - begun
    faulthandler.cancel_dump_traceback_later()
    due = [(at, text) for at, text in lines_of(raw) if is_request(text)]
    return Found(size, *_checked(out.getvalue().decode().split("\n")[:-1], due, random), taken)


def _checked(records: list[str], due: list[tuple[int, str]], random: Random) -> tuple[Counter[str], list[str]]:
    faults: list[str] = []
    statuses: Counter[str] = Counter()
    if len(records) != len(due):
        faults.append(f"{len(due)} lines gave {len(records)} records")
    for (at, text), made in zip(due, records, strict=False):
        try:
            body = json.loads(made)
        except ValueError as problem:
            faults.append(f"no JSON ({problem}): {text!r}")
            continue
        statuses[body["status"]] += 1
        if body["line"] != at or body["request"] != text or body["status"] not in STATUSES:
            faults.append(f"another line's record, or no status: {text!r}")
        elif body["question"] == FAULT:
            faults.append(f"an exception: {text!r}")
        elif (body["status"] == "answered") == (body["answer"] is None) or (body["status"] != "answered" and not body["question"]):
            faults.append(f"neither an answer nor a question: {text!r}")
    for at in random.sample(range(min(len(due), len(records))), min(AGAIN, len(due), len(records))):
        try:
            alone = answer_line(*due[at])
        except Exception as problem:
            faults.append(f"an exception ({problem!r}): {due[at][1]!r}")
            continue
        if alone != records[at]:
            faults.append(f"another record alone than in company: {due[at][1]!r}")
    return statuses, faults


def main(arguments: list[str]) -> int:
    """Runs it, and prints what was found; the status is 1 where anything went wrong."""
    count, seed, workers = [int(one) for one in arguments] + [1_000_000, 1, 2][len(arguments) :]
    begun = time.monotonic()
    statuses: Counter[str] = Counter()
    lines = faults = 0
    slowest = 0.0
    with ProcessPoolExecutor(workers) as pool:
        for found in pool.map(block, range(-(-count // BLOCK)), repeat(seed), chunksize=4):
            lines += found.lines
            statuses += found.statuses
            slowest = max(slowest, found.slowest)
            faults += len(found.faults)
            for fault in found.faults:
                print(fault, flush=True)
    taken = time.monotonic() - begun
    print(f"{lines:,} lines of seed {seed}: {faults} faults; " + ", ".join(f"{status} {statuses[status]:,}" for status in STATUSES)
          + f"; {taken:.0f} s with {workers} workers, slowest block of {BLOCK:,} lines {slowest:.1f} s")  # fmt: skip
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
