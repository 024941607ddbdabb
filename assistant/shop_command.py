"""The shop's catalogue on the command line: `castings shop check FILE`, and the file that `--shop` names."""

from __future__ import annotations

import sys
from pathlib import Path

from .shop import Catalogue, CatalogueError, check, load

USAGE = """\
castings shop check FILE

Says every mistake in a shop's catalogue: where it stands, what is wrong, and what would help. The exit status
is 0 where the catalogue is sound, 1 where it has mistakes, 2 where the file cannot be read.
"""

SOUND, MISTAKEN, UNREADABLE = 0, 1, 2
#: Mistakes of a file that was not read at all.
_UNREAD = frozenset({"file-missing", "file-unreadable", "file-not-plain"})


class NoCatalogue(Exception):
    """A catalogue that cannot be used; the text says everything that is wrong with it."""


def opened(name: str) -> Catalogue:
    """The catalogue of a file. Raises NoCatalogue: a wrong one never gives an answer."""
    if not name:
        raise NoCatalogue("--shop needs the file of a catalogue")
    try:
        return load(Path(name))
    except CatalogueError as wrong:
        count = len(wrong.mistakes)
        said = f"the catalogue has {count} {'mistake' if count == 1 else 'mistakes'}, and nothing is answered from it\n"
        raise NoCatalogue(said + "\n".join(f"  {mistake}" for mistake in wrong.mistakes)) from wrong


def command(arguments: list[str]) -> int:
    """Carries out `castings shop …` and gives the exit status."""
    if arguments and arguments[0] in ("--help", "-h"):
        sys.stdout.write(USAGE)
        return SOUND
    if len(arguments) != 2 or arguments[0] != "check" or arguments[1].startswith("--"):
        sys.stderr.write("castings: the command is castings shop check FILE\n")
        return UNREADABLE
    path = Path(arguments[1])
    mistakes = check(path)
    if mistakes and mistakes[0].kind in _UNREAD:
        sys.stderr.write(f"castings: {mistakes[0]}\n")
        return UNREADABLE
    if mistakes:
        sys.stdout.write("".join(f"{mistake}\n" for mistake in mistakes))
        sys.stdout.write(f"{len(mistakes)} {'mistake' if len(mistakes) == 1 else 'mistakes'}\n")
        return MISTAKEN
    catalogue = load(path)
    sys.stdout.write(f"{path}: sound; {_counted(len(catalogue.products), 'product')}, {_counted(len(catalogue.packs), 'pack')}, "
                     f"prices in {catalogue.currency.code}\n")  # fmt: skip
    return SOUND


def _counted(count: int, noun: str) -> str:
    return f"{count} {noun if count == 1 else noun + 's'}"
