"""What a follow-up leans on besides the draft before it, and what it leaves behind of its own words."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from grammar.draft import Draft


@dataclass
class Leaning:
    """What a line of a conversation leans on besides the draft before it."""

    #: what the question just asked is for
    awaiting: str = ""
    #: the slot and unit of the last bare amount
    slot: str = ""
    unit: str = ""
    #: the places that the turn before spoke of
    touched: Sequence[int] = ()
    #: the drafts of the turns before, the last one last
    past: Sequence[Draft] = field(default_factory=tuple)


def cleared(draft: Draft, new: Draft) -> Draft:
    """A changed draft with nothing left of how the change was said."""
    draft.text, draft.flags, draft.noted, draft.stray, draft.unsure, draft.figures = new.text, [], [], [], [], []
    draft.question, draft.asks, draft.replies = None, [], []
    draft.hints -= {"by-so-much", "cut"}
    return draft
