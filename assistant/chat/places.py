"""Places that have a name, in this conversation and in the notebook: learnt, found in a line, forgotten, renamed."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from grammar.draft import Draft

from ..answer import Answer
from ..conversation import Conversation
from .commands import folded

if TYPE_CHECKING:
    pass

from .desk import Desk
from .naming import is_or_are, the

_NOW = "now"  # the entry of the conversation's memory that is no place


class Places(Desk):
    """The part of a talk that concerns the names of places."""

    def names(self) -> list[str]:
        """The names of the places of this conversation and its notebook."""
        return list(self.notebook.places())

    def _keep_names(self) -> tuple[list[str], list[str]]:
        """Puts the names that the conversation knows into the notebook; those that are new, and those that mean another place now."""
        before = self.notebook.places()
        known = {name: reads for name, reads in self.conversation.memory().items() if name != _NOW}
        changed = [name for name, reads in known.items() if before.get(name) != reads]
        for name in changed:
            self.notebook.name_place(name, known[name])
        return [name for name in changed if name not in before], [name for name in changed if name in before]

    def _take_up(self) -> None:
        """Begins a conversation that knows the places of the notebook."""
        self.conversation = Conversation(names=_taught(self.notebook.places()), shop=self.shop)

    def _take_in(self) -> None:
        """Learns what another conversation has written into the same notebook since the last reply."""
        places = self.notebook.places()
        if places == self.places:
            return
        for name in self.places.keys() - places.keys():
            self.conversation.names.pop(name, None)
        self.conversation.names.update(_taught(dict(places.items() - self.places.items())))

    def _name_in(self, text: str) -> str:
        """The longest name of a place that stands in a text, or an empty string."""
        low = folded(text)
        for name in sorted(self.names(), key=len, reverse=True):
            if re.search(rf"\b{re.escape(name.lower())}\b", low):
                return name
        return ""

    def _still(self, answer: Answer) -> str:
        """The name of the place spoken of last, where this answer is still about it; else it has none yet."""
        reads = self.notebook.places().get(self.current, "")
        return self.current if _measured(reads) and _measured(reads) in answer.reads else ""

    def _on_forget_place(self, rest: str, lead: str = "") -> str | None:
        name = self._name_in(rest)
        only = re.sub(r"^(?:the|my|our) ", "", folded(rest))
        if not name or ("place" not in lead and only != name.lower()):
            return None  # "forget the peppers" takes them out of the request
        self.notebook.forget_place(name)
        self.conversation.names.pop(name, None)
        self.current = "" if self.current == name else self.current
        return self._put(f"{the(name)[:1].upper()}{the(name)[1:]} {is_or_are(name)} forgotten. What was noted of it in the log stays there.")

    def _on_rename(self, rest: str) -> str | None:
        name = self._name_in(rest)
        found = re.fullmatch(rf"(?:the |my |our )?{re.escape(name.lower())} (?:to|as|into) (?:the |my |our )?(.+)", folded(rest)) if name else None
        if found is None:
            return None
        new = found.group(1).strip("\"'“”‘’ ")[:40]
        if new != name and new in self.notebook.places():
            return self._put(f"There is a place called {new} already.")
        self.notebook.rename_place(name, new)
        self.conversation.names = {new if known == name else known: draft for known, draft in self.conversation.names.items()}
        self.current = new if self.current == name else self.current
        return self._put(f"{the(name)[:1].upper()}{the(name)[1:]} {is_or_are(name)} called {the(new)} from now on, in the log too.")


def _taught(places: dict[str, str]) -> dict[str, Draft]:
    """Named places as a conversation knows them, as if each had just been named."""
    teller = Conversation()
    for name, reads in places.items():
        teller.say(reads)
        teller.say(f"call it {name}")
    return dict(teller.names)


def _measured(reads: str) -> str:
    """The part of a reading that says which place it is: the first with a figure in it, "bed 4 ft by 16 ft"."""
    return next((part for part in reads.split(", ") if re.search(r"\d", part)), "")
