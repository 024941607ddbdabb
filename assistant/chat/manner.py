"""How a talk goes: help, the look of its answers, and its end."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ..say import say
from . import helping

if TYPE_CHECKING:
    pass

from .files import Files


class Manner(Files):
    """The part of a talk that concerns help, the look of answers, and leaving."""

    def _on_quit(self, rest: str) -> str:
        self.leaving = True
        kept = self.notebook.path is not None
        if not kept and (self.notebook.order() or self.notebook.applied()):
            return self._put("Goodbye. The order and the log were not saved.")
        return self._put("Goodbye.")

    def _on_help(self, rest: str) -> str | None:
        topic = rest.strip("? ")
        if not topic:
            return helping.by_example(self.look)
        found = helping.on_topic(topic, self.look)
        if found is not None:
            return found
        # the reader knows a topic in more words than the knowledge base has titles; half of one read is none
        answer = self.conversation.say(f"what is {topic}?")
        in_words = answer.status == "answered" and answer.answer is not None and answer.answer.of == "explanation"
        if in_words and not answer.set_aside:
            return say(answer, self.look)
        # "help me fill a bed" is a request, and not a topic
        return helping.unknown_topic(topic, self.look) if len(topic.split()) <= 3 else None

    def _on_help_at_start(self, rest: str) -> str:
        return helping.by_example(self.look)

    def _on_commands(self, rest: str) -> str:
        return helping.commands(self.look)

    def _on_topics(self, rest: str) -> str:
        return helping.topics(self.look)

    def _on_working_always(self, rest: str) -> str:
        self.look = self.look._replace(working=True)
        return self._put("The working comes with every answer from now on.")

    def _on_working_on_demand(self, rest: str) -> str:
        self.look = self.look._replace(working=False)
        return self._put("The working comes when you ask “why?”.")

    def _on_pictures_on(self, rest: str) -> str:
        self.look, self.drawn = self.look._replace(pictures=True), None
        return self._put("Shares and layers are drawn from now on.")

    def _on_pictures_off(self, rest: str) -> str:
        self.look = self.look._replace(pictures=False)
        return self._put("Nothing is drawn from now on.")

    def _on_sentences_on(self, rest: str) -> str:
        self.look = self.look._replace(sentences=True)
        return self._put("Answers come in whole sentences from now on.")

    def _on_sentences_off(self, rest: str) -> str:
        self.look = self.look._replace(sentences=False)
        return self._put("Answers come in short lines from now on.")

    def _on_forget_history(self, rest: str) -> str:
        return self._put("No lines are kept here." if self.forget_history is None else self.forget_history())
