"""Sources, and where they disagree."""

from __future__ import annotations

from typing import Literal

from .shapes import Entry, Text, Words


class Source(Entry):
    """A text that facts rest on. `id` is a row of the project's list of sources; `also` names further rows
    of that list that come from the same text.
    """

    #: As it is printed beside an answer.
    name: Text
    #: What it says that is used here.
    what: Text
    seen: Literal["seen", "seen, but weak", "seen on a page that repeats it", "memory"]
    #: How far a text that was seen was seen ("only its abstract"), and what of its name was not in it.
    but: str = ""
    also: Words = ()

    @property
    def how_seen(self) -> str:
        """As the list of sources says it: "seen", "seen, but only its abstract"."""
        return f"{self.seen}, but {self.but}" if self.but else self.seen


class Disagreement(Entry):
    """Two sides that cannot both be followed, the one that is, and why."""

    about: Text
    one: Text
    other: Text
    choice: Text
    why: Text
    source: Words = ()
