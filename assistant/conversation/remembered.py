"""What is remembered from turn to turn: the places and values spoken of, the question asked last, the order, the names given."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from grammar.draft import Draft

from ..answer import Answer
from ..followup.leaning import Leaning
from ..followup.put import put
from ..spoken_of import touched
from ..waiting import Waiting

if TYPE_CHECKING:
    from ..shop import Catalogue


@dataclass
class Turn:
    """What is remembered after a turn, so that it can be taken back."""

    draft: Draft | None = None
    answer: Answer | None = None
    awaiting: str = ""
    #: the last value that was set by a bare amount: its slot and unit, for a bare number that follows
    slot: str = ""
    unit: str = ""
    #: what was said and could not be taken
    open: str = ""
    #: the question about something said that could not be taken, until it is answered or passed over
    waiting: Waiting | None = None
    #: which line of the order this turn is about, and the order as it was after it
    line: int | None = None
    order: tuple[Draft, ...] = ()
    #: it was only asked by how much it would alter what was worked out before
    compared: bool = False
    #: the places that were asked about since, beside the talk
    about: tuple[int, ...] = ()
    #: the places that had a name when the turn was left, as they were then
    names: dict[str, Draft] = field(default_factory=dict)


@dataclass
class Remembered:
    """What is remembered of a conversation: the turn in hand, those before it, the names given and the order.

    `finished` is the order: one line for each request, as it was last changed. `shop` is a shop's own catalogue.
    """

    now: Turn = field(default_factory=Turn)
    past: list[Turn] = field(default_factory=list)
    names: dict[str, Draft] = field(default_factory=dict)
    finished: list[Draft] = field(default_factory=list)
    slot: tuple[str, str] = ("", "")
    #: the cautions that have been given
    cautioned: set[str] = field(default_factory=set)
    shop: Catalogue | None = None
    #: the last answer was the total of the order, and a line that only asks is about that
    totalled: bool = False
    #: the line before, where its one figure could not be: nothing at all, or more than the whole
    refused: str = ""
    #: how often it was begun afresh
    starts: int = 0
    #: the line of the order that the line in hand changes, where it is not the last turn's
    meant: int | None = None

    def leave(self) -> None:
        """Puts the turn in hand behind, so that it can be come back to."""
        self.now.names = dict(self.names)
        self.past.append(self.now)

    def take_back(self) -> None:
        """The turn before is in hand again, and the order is as it was then."""
        self.now = self.past.pop()
        self.finished = list(self.now.order)

    def put_in_line(self, index: int, draft: Draft) -> None:
        """Changes a line of the order; a place that was named keeps its name when it is changed."""
        for name in [name for name, one in self.names.items() if one == self.finished[index]]:
            self.names[name] = draft.copy()
        self.finished[index] = draft

    def earlier(self) -> list[Draft]:
        """The drafts of the turns before, the last one last."""
        return [turn.draft for turn in self.past if turn.draft is not None]

    def answered(self) -> list[Turn]:
        """The turns that were answered so far, the last one last."""
        return [turn for turn in (*self.past, self.now) if turn.answer is not None and turn.answer.status == "answered"]

    def leaning(self) -> Leaning:
        """What a line leans on besides the draft before it."""
        before = self.past[-1].draft if self.past else None
        lately = self.now.about or touched(before, self.now.draft)
        return Leaning(self.now.awaiting, self.now.slot, self.now.unit, lately, tuple(self.earlier()))

    def put(self, old: Draft, new: Draft, *, adding: bool) -> Draft:
        """A draft with a line laid over it; the slot that a bare amount of the line set is kept."""
        lately = self.leaning()
        if old is not self.now.draft:
            lately.touched = ()
        draft, slot = put(old, new, lately, adding=adding)
        self.slot = slot if slot[0] else self.slot
        return draft
