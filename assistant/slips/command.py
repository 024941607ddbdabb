"""`castings slip`: a request, or an order of several, answered as a slip to hand over."""

from __future__ import annotations

import sys
from datetime import date
from pathlib import Path
from typing import NamedTuple

from ..answer import Answer
from ..arguments import WrongCommand, value_of
from ..shop import Catalogue

USAGE = """\
castings slip [--form text|markdown|json|csv] [--shop FILE] [--date DATE | --today] [--to FILE [--replace]]
              "REQUEST" [--and "REQUEST"]...

  --form FORM        the form of the slip; plain text where none is said
  --shop FILE        the shop's catalogue; without it the sample catalogue of an invented shop
  --date 2026-05-12  the day that stands on it
  --today            today's date stands on it
  --to FILE          into a file, which is written whole or not at all
  --replace          put it in the place of a file of that name
  --and "REQUEST"    one more thing on the same slip: all is bought at once

The exit status is 0 where a slip was made, 3 where the request has to be asked about.
"""

MADE, FAILED, WRONG_COMMAND, ASKED = 0, 1, 2, 3


class Command(NamedTuple):
    """A slip that is asked for."""

    requests: tuple[str, ...]
    form: str = "text"
    shop: str | None = None
    day: date | None = None
    to: str | None = None
    replaces: bool = False


def command(arguments: list[str]) -> int:
    """Carries out `castings slip …` and gives the exit status."""
    from ..shop_command import NoCatalogue, opened
    from .writing import AlreadyThere, CannotWrite, write

    if arguments and arguments[0] in ("--help", "-h"):
        sys.stdout.write(USAGE)
        return MADE
    try:
        given = parse(arguments)
        shop = None if given.shop is None else opened(given.shop)
    except (WrongCommand, NoCatalogue) as problem:
        return _complain(str(problem), WRONG_COMMAND)
    made = slip_text(given, shop)
    if isinstance(made, Answer):
        from ..say import say

        sys.stderr.write(say(made) + "\n")
        return ASKED
    if given.to is None:
        sys.stdout.write(made)
        return MADE
    try:
        write(Path(given.to), made, replace=given.replaces)
    except AlreadyThere as problem:
        return _complain(f"{problem}; say --replace to put the slip in its place", FAILED)
    except CannotWrite as problem:
        return _complain(str(problem), FAILED)
    return MADE


def slip_text(given: Command, shop: Catalogue | None) -> str | Answer:
    """The slip as text; the answer that has to be asked about where there is one."""
    from ..purchase import in_force
    from . import FORMS, make
    from .lines import of_requests

    catalogue = in_force(shop)
    found = of_requests(given.requests, catalogue)
    if isinstance(found, Answer):
        return found
    return FORMS[given.form](make(*found, catalogue, given.day))


def parse(arguments: list[str]) -> Command:
    """The command that arguments give. Raises WrongCommand where they make none."""
    from . import FORMS

    words: list[str] = []
    more: list[str] = []
    said: dict[str, str] = {}
    replaces = today = False
    left = list(arguments)
    while left:
        argument = left.pop(0)
        name = argument.partition("=")[0]
        if argument == "--replace":
            replaces = True
        elif argument == "--today":
            today = True
        elif name in ("--form", "--shop", "--date", "--to", "--and"):
            value = value_of(argument, left, "castings slip --help")
            if name == "--and":
                more.append(value)
            elif name in said:
                raise WrongCommand(f"{name} is said twice")
            else:
                said[name] = value
        elif argument.startswith("--") and not words:
            raise WrongCommand(f"slip has no option {argument}; see castings slip --help")
        else:
            words.append(argument)
    requests = tuple(_text(one) for one in (" ".join(words), *more) if one.strip())
    if not requests:
        raise WrongCommand("what is the slip for? See castings slip --help")
    if said.get("--form", "text") not in FORMS:
        raise WrongCommand(f"--form is one of {', '.join(FORMS)}")
    if today and "--date" in said:
        raise WrongCommand("say --date or --today, and not both")
    if replaces and "--to" not in said:
        raise WrongCommand("--replace goes with --to FILE")
    if said.get("--to") == "":
        raise WrongCommand("--to needs the name of a file")
    return Command(
        requests,
        said.get("--form", "text"),
        said.get("--shop"),
        date.today() if today else _day(said.get("--date")),
        said.get("--to"),
        replaces,
    )


def _text(argument: str) -> str:
    """What the shell passed on that is no text is replaced, as in the pipe."""
    return argument.encode("utf-8", "surrogateescape").decode("utf-8", "replace")


def _day(said: str | None) -> date | None:
    if said is None:
        return None
    try:
        return date.fromisoformat(said)
    except ValueError:
        raise WrongCommand(f"“{_text(said)[:40]}” is not a date; write it as 2026-05-12") from None


def _complain(text: str, status: int) -> int:
    sys.stderr.write(f"castings: {text}\n")
    return status
