"""The commands. With no command's name, the arguments are one request."""

from __future__ import annotations

import gc
import os
import sys

USAGE = """\
castings: works out how much worm castings something needs, and shows the working.

  castings "4 by 9 ft bed, 10 inches deep, 10% castings"
  castings "how far does a 20 litre bag go, half an inch on top"
  castings "side dress 14 peppers"

  castings [--json] "REQUEST"          answer one request
  castings slip "REQUEST"              a slip to hand over: what to buy, how to apply it (castings slip --help)
  castings shop check FILE             every mistake in a shop's catalogue
      --shop FILE                      with one request, chat, batch, slip and replay: what to buy, from this catalogue
  castings chat                        talk
  castings batch [FILE]                one request a line in, one JSON object a line out; it takes
      --dialogue                       the lines are conversations, with a blank line between two
      --from lines|csv|tsv             a table has names in its first row (told by the file's name)
      --column NAME                    the table's column of requests
      --to json|csv|tsv|text           the form of what comes out
      --workers N                      so many processes; the order is kept
      --fail-on asks|unread            end with status 3 where a line could not be answered
  castings rules                       every rule with formula, unit and source; every fact with its standing
  castings sources                     every source, and how well it stands
  castings --version | --help
"""

ANSWERED, FAILED, WRONG_COMMAND, ASKED, CLOSED = 0, 1, 2, 3, 141


def main(arguments: list[str] | None = None) -> int:
    """Runs one command; the exit status is what the contract of the machine output says."""
    arguments = sys.argv[1:] if arguments is None else arguments
    if sys.stdout is None:
        print("castings: standard output is closed", file=sys.stderr)
        return FAILED
    try:
        status = _run(arguments)
        sys.stdout.flush()
    except BrokenPipeError:
        # the reader has gone: nothing more can be written, not even at shutdown
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return CLOSED
    except KeyboardInterrupt:
        return 130
    except OSError as problem:
        # the answer cannot be written (a full disk): said once, and nothing is tried again at shutdown
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        sys.stderr.write(f"castings: cannot write the answer: {problem.strerror or problem}\n")
        return FAILED
    except Exception as problem:
        # no traceback is of use to whoever asks; what it was is said for whoever mends it
        sys.stderr.write(f"castings: a fault of the program, please report it: {problem!r}\n")
        return FAILED
    return status


def _complain(text: str) -> int:
    sys.stderr.write(f"castings: {text}\n")
    return WRONG_COMMAND


def _run(arguments: list[str]) -> int:
    if not arguments or arguments[0] in ("--help", "-h"):
        sys.stdout.write(USAGE)
        return ANSWERED if arguments else WRONG_COMMAND
    first, rest = arguments[0], arguments[1:]
    if first == "--version":
        from . import __version__

        sys.stdout.write(f"castings {__version__}\n")
        return ANSWERED
    if first == "batch":
        from .batch.command import command

        return command(rest)
    if first == "chat":
        from .chat import chat

        return chat(rest)
    if first == "shop":
        from .shop_command import command as shop_command

        return shop_command(rest)
    if first == "slip":
        from .slips.command import command as slip_command

        return slip_command(rest)
    if first == "replay":
        from .replay import replay

        return replay(rest)
    if first in ("rules", "sources"):
        if rest:
            return _complain(f"{first} takes nothing more")
        from . import listing

        sys.stdout.write(listing.rules() if first == "rules" else listing.sources())
        return ANSWERED
    return _one(arguments)


def _one(arguments: list[str]) -> int:
    as_json = False
    words: list[str] = []
    shop = None
    left = iter(arguments)
    for argument in left:
        if argument == "--json":
            as_json = True
        elif argument == "--shop" or argument.startswith("--shop="):
            from .shop_command import NoCatalogue, opened

            try:
                shop = opened(next(left, "") if argument == "--shop" else argument.partition("=")[2])
            except NoCatalogue as problem:
                return _complain(str(problem))
        elif argument == "--" and not words:
            words += left  # what comes now is the request, whatever it begins with
        elif argument.startswith("--") and not words:
            return _complain(f"there is no option {argument}; see castings --help")
        else:
            words.append(argument)
    # one answer is over before there is anything worth collecting
    gc.disable()
    if not words:
        return _complain("what is the request? See castings --help")
    from .ask import ask

    # what the shell passed on that is no text is replaced, as in the pipe
    answer = ask(" ".join(words).encode("utf-8", "surrogateescape").decode("utf-8", "replace"), shop)
    if as_json:
        from .batch import record

        sys.stdout.write(record(1, answer) + "\n")
    else:
        from .lines import look_for
        from .say import say

        # nobody can ask "why?" of a single answer, so its working and sources stand below it at once
        sys.stdout.write(say(answer, look_for(sys.stdout)._replace(working=True)) + "\n")
    return ANSWERED if answer.status == "answered" else ASKED


if __name__ == "__main__":
    sys.exit(main())
