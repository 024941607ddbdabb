"""What a talk remembers from line to line, for all parts of it."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from ..answer import Answer
from ..conversation import Conversation
from ..lines import Look
from ..notebook import Notebook
from ..say import Spoken
from .days import Clock

if TYPE_CHECKING:
    from ..shop import Catalogue


class Desk:
    """What a talk remembers, and how a remark of its own is laid out.

    `clock` gives today's date; without one no day is asked of the machine. `may_write` allows notebook
    files; a replayed conversation may not touch any.
    """

    def __init__(self, look: Look, *, clock: Clock | None = None, notebook: Notebook | None = None,
                 may_write: bool = True, shop: Catalogue | None = None) -> None:  # fmt: skip
        self.look = look._replace(brief=True)
        self.clock = clock
        self.may_write = may_write
        self.leaving = False
        #: What deletes the lines kept from earlier chats, where they are kept; gives the words to say about it.
        self.forget_history: Callable[[], str] | None = None
        self.notebook = Notebook.in_memory() if notebook is None else notebook
        self.shop = shop
        self.conversation = Conversation(shop=shop)
        self.last: Answer | None = None
        self.current = ""
        #: The judgement on a season that was given last, so that it too can be asked why.
        self.judged: Answer | None = None
        #: The last answer in words without what was asked: with what it is bought in, and its places alone.
        self.words = self.place_words = ""
        #: The order was shown last, so that a line which only asks for packs or money is about it.
        self.order_shown = False
        #: Remarks that are not made again, those of the last answer, and the picture that was drawn last.
        self.remarked: set[str] = set()
        self.remarked_last: set[tuple[str, str]] = set()
        self.drawn: object = None
        self.starts = 0
        #: Named places and the line of what is remembered, as they were after the last reply.
        self.places: dict[str, str] = {}
        self.status = ""

    def _put(self, *paragraphs: str) -> str:
        page = Spoken(self.look)
        for text in paragraphs:
            page.put(text)
        return str(page)

    def notice(self, text: str) -> str:
        """A remark of the chat itself, laid out as replies are."""
        return self._put(text)

    def _still_open(self) -> str:
        """The question that was asked last, where it has not been answered; empty else."""
        now = self.conversation.now.answer
        return now.question or "" if now is not None and now.status == "asks" else ""

    def _note_words(self) -> None:
        """Takes note of the last answer in words, for the order and for the log."""
        reads = self.last.reads if self.last is not None else ""
        whole = self.conversation.totalled
        self.words = reads if whole else self.conversation.words(packs=True) or reads
        self.place_words = reads if whole else self.conversation.words(packs=False) or reads


def lines(count: int) -> str:
    """The word for so many lines of an order."""
    return "line" if count == 1 else "lines"
