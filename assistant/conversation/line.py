"""One line of a conversation as it is read, and what may come of it other than an answer."""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

from grammar.draft import Draft

from ..answer import Assumed
from ..waiting import Waiting


@dataclass
class Line:
    """A line with all that is known of it before it is told which kind of line it is."""

    #: as it was typed
    text: str
    #: with what went unsaid put into its words
    told: str
    #: what it says, read without the name of a place
    new: Draft
    #: the place that it calls by the name it was given
    named: str | None = None
    #: nothing is to be put into it any more
    full: bool = False
    #: the answer before was the total of the order
    after_total: bool = False
    #: the question that the answer before asked of something it could not take
    waiting: Waiting | None = None

    @property
    def replies(self) -> set[str]:
        """The replies that stand in it: yes, undo, the same for."""
        return {name for name, _ in self.new.replies}


class Instead(NamedTuple):
    """The line that is read in the stead of one that leans on what came before; `full` where nothing is to be put into it."""

    line: str
    full: bool = False
    #: what its answer says is assumed
    note: Assumed | None = None
