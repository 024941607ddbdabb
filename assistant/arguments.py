"""What the commands' lines have in common: the mistake, and the value that goes with an option."""

from __future__ import annotations


class WrongCommand(Exception):
    """A command line that cannot be carried out; the text says why."""


def value_of(argument: str, left: list[str], see: str) -> str:
    """The value of an option, as `--name=value` or as the next of the arguments that are left, which is taken out.

    `see` names the help to look at. Raises WrongCommand where there is no value.
    """
    name, equals, value = argument.partition("=")
    if equals:
        return value
    if not left:
        raise WrongCommand(f"{name} needs a value; see {see}")
    return left.pop(0)
