"""Conversation files: talks written down word for word, said again and compared.

A file is plain UTF-8 text. A line that starts with "> " is said; the lines after it, up to an empty line or
the next such line, are the reply as it was printed, in a window of a fixed width and with nothing coloured.
A line that starts with "# " or is "#" alone is prose. The clock is never asked and no file is touched, so
that a conversation gives the same replies on every day and every machine.
"""

from __future__ import annotations

import difflib
import os
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

from .arguments import WrongCommand, value_of
from .lines import Look

if TYPE_CHECKING:
    from .shop import Catalogue

LOOK = Look(width=80, colour=False, ascii=False, sentences=False, working=False, pictures=True)
_SAID, _PROSE = "> ", "#"

SAME, DIFFERS, WRONG_COMMAND = 0, 1, 2

USAGE = """\
castings replay [--write] [--shop FILE] FILE...

Says every line of a conversation file that starts with "> " and compares the replies with those that stand
below it. With --write the replies are put in instead: write the lines to be said, run it once, and work the
figures out by hand before you keep them. With --shop the talk is had at that shop's counter.
"""


class Turn(NamedTuple):
    """One thing said, the line of the file that it stands on, and the lines of its reply."""

    number: int
    said: str
    reply: tuple[str, ...]


class Prose(NamedTuple):
    """A line that is neither said nor replied: prose, or an empty line."""

    text: str


class NotAConversation(ValueError):
    """A line that has no place in a conversation file; the text names the line."""


def read(text: str) -> list[Turn | Prose]:
    """The turns and the prose of a conversation file. Raises NotAConversation for a reply to nothing."""
    found: list[Turn | Prose] = []
    replying = False
    for number, line in enumerate(text.splitlines(), 1):
        if line.startswith(_SAID):
            found.append(Turn(number, line[len(_SAID) :], ()))
            replying = True
        elif not line or line == _PROSE or line.startswith(_PROSE + " "):
            found.append(Prose(line))
            replying = False
        elif replying and isinstance(last := found[-1], Turn):
            found[-1] = last._replace(reply=(*last.reply, line))
        else:
            raise NotAConversation(f"line {number} is neither said (“> ”), nor prose (“# ”), nor the reply to anything")
    return found


def said_again(items: list[Turn | Prose], shop: Catalogue | None = None) -> Iterator[tuple[Turn, tuple[str, ...]]]:
    """Every turn with the reply that it gets now."""
    from .chat.talk import Talk

    talk = Talk(LOOK, may_write=False, shop=shop)
    try:
        for item in items:
            if isinstance(item, Turn):
                yield item, tuple(talk.reply(item.said).splitlines())
    finally:
        talk.notebook.close()


def differences(text: str, name: str = "conversation", shop: Catalogue | None = None) -> list[str]:
    """Where the replies of a conversation file differ from those of now, as lines to print; empty where nowhere."""
    found: list[str] = []
    for turn, reply in said_again(read(text), shop):
        if reply != turn.reply:
            found.append(f"{name}, line {turn.number}: > {turn.said}")
            compared = difflib.unified_diff(turn.reply, reply, "written", "now", lineterm="", n=1)
            found += [f"  {line}" for line in list(compared)[2:] if not line.startswith("@@")]
    return found


def written(text: str, shop: Catalogue | None = None) -> str:
    """The conversation with the replies of now in it; prose and what is said stay as they are."""
    items = read(text)
    replies = {turn.number: reply for turn, reply in said_again(items, shop)}
    lines: list[str] = []
    for item in items:
        if isinstance(item, Prose):
            lines.append(item.text)
        else:
            if lines and lines[-1] and not lines[-1].startswith(_PROSE):
                lines.append("")
            lines += [_SAID + item.said, *replies[item.number]]
    return "\n".join(lines).rstrip("\n") + "\n"


def replay(arguments: list[str]) -> int:
    """The command: compares conversation files, or writes them; 0 where all is as written, 1 where not."""
    if arguments and arguments[0] in ("--help", "-h"):
        sys.stdout.write(USAGE)
        return SAME
    writing = False
    named = None
    names: list[str] = []
    left = list(arguments)
    while left:
        argument = left.pop(0)
        if argument == "--write":
            writing = True
        elif argument.partition("=")[0] == "--shop":
            try:
                named = value_of(argument, left, "castings replay --help")
            except WrongCommand as problem:
                return _complain(str(problem))
        elif argument.startswith("--"):
            return _complain(f"replay has no option {argument}; see castings replay --help")
        else:
            names.append(argument)
    if not names:
        return _complain("which conversation file? See castings replay --help")
    shop = None
    if named is not None:
        from .shop_command import NoCatalogue, opened

        try:
            shop = opened(named)
        except NoCatalogue as wrong:
            return _complain(str(wrong))
    status = SAME
    for name in names:
        try:
            status = max(status, _one(Path(name), writing, shop))
        except OSError as error:
            return _complain(f"cannot read or write {name}: {error.strerror}")
        except UnicodeDecodeError:
            return _complain(f"{name} is not UTF-8 text")
        except NotAConversation as problem:
            return _complain(f"{name}: {problem}")
    return status


def _one(path: Path, writing: bool, shop: Catalogue | None) -> int:
    text = path.read_text(encoding="utf-8")
    if writing:
        now = written(text, shop)
        if now == text:
            sys.stdout.write(f"{path}: all as written\n")
        else:
            _put_in_place(path, now)
            sys.stdout.write(f"{path}: replies put in; work the figures out by hand before you keep them\n")
        return SAME
    found = differences(text, str(path), shop)
    if found:
        sys.stdout.write("\n".join(found) + "\n")
        return DIFFERS
    count = sum(isinstance(item, Turn) for item in read(text))
    sys.stdout.write(f"{path}: {count} said, all as written\n")
    return SAME


def _put_in_place(path: Path, text: str) -> None:
    """Writes a file whole or not at all, with the mode that it had."""
    handle, name = tempfile.mkstemp(prefix=f".{path.name}.", dir=path.parent)
    copy = Path(name)
    try:
        with os.fdopen(handle, "w", encoding="utf-8", newline="\n") as stream:
            stream.write(text)
            stream.flush()
            os.fsync(stream.fileno())
        copy.chmod(path.stat().st_mode & 0o777)
        copy.replace(path)
    except BaseException:
        copy.unlink(missing_ok=True)
        raise


def _complain(text: str) -> int:
    sys.stderr.write(f"castings: {text}\n")
    return WRONG_COMMAND
