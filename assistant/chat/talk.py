"""The talk itself: one line in, the text of one reply out, with all that is remembered between.

It knows nothing of terminals: the same talk answers in a terminal, through a pipe and in a replayed
conversation file. Requests go to the conversation; lines that steer the chat or concern the notebook are
dealt with here. Nothing is written to a file that the user has not named.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import TYPE_CHECKING

from grammar.scan import LONGEST_LINE
from grammar.words import Word, vocabulary

from ..answer import Answer
from ..knowledge import facts
from ..lines import Look, as_typed
from ..notebook import Notebook, NotebookError
from ..say import say
from .commands import Given, folded, given
from .days import Clock, UnclearDay
from .desk import lines
from .manner import Manner
from .naming import is_or_are, the

if TYPE_CHECKING:
    from ..shop import Catalogue

#: Commands that need to know in which words they were given.
_BY_LEAD = frozenset({"applied", "log", "last-time", "again", "forget-place"})


class Talk(Manner):
    """One conversation with its notebook.

    `clock` gives today's date; without one no day is asked of the machine. `may_write` allows notebook
    files; a replayed conversation may not touch any.
    """

    def __init__(self, look: Look, *, clock: Clock | None = None, notebook: Notebook | None = None,
                 may_write: bool = True, shop: Catalogue | None = None) -> None:  # fmt: skip
        super().__init__(look, clock=clock, notebook=notebook, may_write=may_write, shop=shop)
        if notebook is not None:
            self._take_up()
            self._look_up()

    def reply(self, line: str) -> str:
        """The reply to one line; empty only for an empty line. Never raises for any text."""
        if not line.strip():
            return ""
        line = as_typed(line)
        if not line.strip():
            return self._put("There is nothing in that line that can be read.")
        try:
            self._take_in()
            reply = self._reply(line)
            if len(line) > LONGEST_LINE:
                reply = self._put(f"Only the first {LONGEST_LINE:,} characters of that line were read.") + "\n" + reply
            self._look_up()
        except (NotebookError, UnclearDay) as problem:
            return self._put(_sentence(str(problem)))
        return reply

    def steady_reply(self, line: str) -> str:
        """The reply to one line; where the program itself is at fault the chat goes on, and says so."""
        try:
            return self.reply(line)
        except Exception:  # a fault in one answer may not cost the user the conversation
            return self._put("That line met a fault in the program, and was not answered. All that was said before is kept; "
                             "please report the line.")  # fmt: skip

    def _reply(self, line: str) -> str:
        if not _asks_why(line):
            self.judged = None
        reply = self._on_ordered(line)
        for command in given(line) if reply is None else ():
            reply = self._obey(command)
            if reply is not None:
                return reply
        return self._request(line) if reply is None else reply

    def _request(self, line: str) -> str:
        why = _asks_why(line)
        if why and self.judged is not None:
            return say(self.judged, self.look._replace(working=True, pictures=False))
        if self.order_shown and (reply := self._of_the_order(line)) is not None:
            return reply
        self.order_shown = False
        before = self.last
        answer = self.conversation.say(line)
        if not why:
            answer = self._as_set(answer, line)
        names, changed = self._keep_names()
        if self.conversation.now.draft is None:
            self.last, self.words, self.place_words, self.current = None, "", "", ""  # begun afresh, or nothing is left
        if answer.status == "answered":
            self.last = answer
            self._note_words()
            self.current = self._name_in(line) or (names[-1] if names else self._still(answer))
        if names and before is not None and answer.reads == before.reads:
            return self._put(f"Remembered: {the(names[-1])} {is_or_are(names[-1])} {self.notebook.places()[names[-1]]}.")
        if why:
            return say(answer, self.look._replace(working=True, pictures=False))
        begun = self.starts != self.conversation.starts
        text = self._said_anew(answer)
        if begun and (order := self.notebook.order()):
            text += "\n" + self._put(f"The order still has {len(order)} {lines(len(order))}; “empty the order” begins a new one.")
        if names or changed:
            text += "\n" + self._put(f"Remembered as: {', '.join(the(name) for name in [*names, *changed])}.")
        return text

    def _said_anew(self, answer: Answer) -> str:
        """An answer without the remarks that this talk has made already, and without a picture that was just drawn."""
        if self.starts != self.conversation.starts:
            self.starts, self.remarked, self.remarked_last, self.drawn = self.conversation.starts, set(), set(), None
        if answer.status != "answered" or answer.answer is None or answer.answer.of == "explanation":
            return say(answer, self.look)
        told = {(one.code, one.text) for one in answer.advice if one.level != "warning"}
        again = {(code, text) for code, text in told if code in self.remarked or (code, text) in self.remarked_last}
        self.remarked |= {code for code, _ in told if facts().is_general(code)}
        self.remarked_last = told
        picture = (answer.share, answer.layer_mm, answer.way) if answer.share is not None or answer.layer_mm is not None else None
        look = self.look._replace(pictures=self.look.pictures and picture != self.drawn)
        self.drawn = picture if self.look.pictures else None
        return say(answer.model_copy(update={"advice": tuple(one for one in answer.advice if (one.code, one.text) not in again)}), look)

    def _obey(self, command: Given) -> str | None:
        """The reply to a command, or None where the line is not that command after all."""
        handler: Callable[..., str | None] = getattr(self, "_on_" + command.name.replace("-", "_"))
        return handler(command.rest, command.lead) if command.name in _BY_LEAD else handler(command.rest)


def _sentence(text: str) -> str:
    if not re.match(r"\S*[./\\]\S", text):  # a file's name stays as it is written
        text = text[:1].upper() + text[1:]
    return text if text.endswith((".", "?", "!", "”")) else text + "."


def _asks_why(line: str) -> bool:
    """Whether a line asks how an answer was come by and for nothing else: the vocabulary's words for that."""
    text = folded(line).rstrip("?").strip()
    key = tuple(text.split())
    meaning = vocabulary().single.get(text)
    if meaning is None and key:
        meaning = next((word for pieces, word in vocabulary().longer.get(key[0], []) if pieces == key), None)
    return isinstance(meaning, Word) and (meaning.kind, meaning.id) == ("ask", "why")
