"""The requests that the benchmarks measure with, and as many different ones as are wanted."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator
from itertools import count
from pathlib import Path
from random import Random

_REQUESTS = Path(__file__).parent.parent / "requests"
_FIGURE = re.compile(r"(?<![\w./,'\"#$])([1-9]\d?)(?![\w./,'\"%:])")


def requests() -> list[str]:
    """The single requests of the test data, each once."""
    found: dict[str, None] = {}
    for path in sorted(_REQUESTS.glob("*.toml")):
        for case in tomllib.loads(path.read_text(encoding="utf-8")).get("case", ()):
            found.setdefault(case["say"].replace("\n", " "))
    return list(found)


def many(wanted: int, seed: int = 1) -> Iterator[str]:
    """So many requests: those of the test data with other figures put into them, so that few are ever the same."""
    random = Random(seed)
    known = requests()
    for number in count():
        if number >= wanted:
            return
        yield _FIGURE.sub(lambda _: str(random.randint(2, 40)), known[number % len(known)])


def write(path: Path, wanted: int) -> None:
    """A file of so many requests, one a line."""
    with path.open("w", encoding="utf-8") as out:
        out.writelines(line + "\n" for line in many(wanted))
