"""What carries over from turn to turn. (stub for the first scoring)"""

from __future__ import annotations

from .answer import Answer
from .ask import ask


class Conversation:
    def say(self, line: str) -> Answer:
        return ask(line)
