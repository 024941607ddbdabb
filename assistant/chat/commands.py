"""The words that steer the chat, held as data in `words.toml`: looked up whole, never guessed at."""

from __future__ import annotations

import re
import tomllib
from functools import lru_cache
from importlib.resources import files
from typing import Literal, NamedTuple

from pydantic import BaseModel, ConfigDict, Field, model_validator

from grammar.words import spoken

_WORD = re.compile(r"\{([a-z-]+)\.([a-z-]+)\}")
#: Said out of politeness around a command, and of no weight.
_POLITE = re.compile(r"^(?:please|ok|okay|so|and|now|well|castings)\b[ ,]*|[ ,]*\b(?:please|now|then|thanks|thank you)$")


class _Model(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid")


class Command(_Model):
    """One command: what it does, whether more follows it, and all that is typed for it."""

    means: str = Field(min_length=3)
    takes: Literal["nothing", "rest"]
    says: tuple[str, ...] = Field(min_length=1)
    example: str = ""


class First(_Model):
    """An example shown at the start."""

    says: str


class Shown(_Model):
    """Examples of one kind, shown by help; where `after` is given they follow that request."""

    title: str
    says: tuple[str, ...] = Field(min_length=1)
    after: str = ""


class Words(_Model):
    """The whole file. Two commands may not claim one spelling."""

    command: dict[str, Command]
    first: tuple[First, ...] = Field(min_length=3, max_length=3)
    shown: tuple[Shown, ...] = Field(min_length=1)

    @model_validator(mode="after")
    def _one_owner(self) -> Words:
        owner: dict[str, str] = {}
        for name, command in self.command.items():
            for says in command.says:
                if owner.setdefault(folded(says), name) != name:
                    raise ValueError(f"{says!r} is claimed by {owner[folded(says)]} and by {name}")
        return self


class Given(NamedTuple):
    """A command that was given, what it is to be done with as typed, and the words that it was given in."""

    name: str
    rest: str
    lead: str = ""


def folded(text: str) -> str:
    """A line for comparing: lower case, plain quotes, single spaces, no mark at the end unless that is all there is."""
    text = " ".join(text.replace("’", "'").lower().split())
    return text.rstrip(".!,; ") or text


@lru_cache(maxsize=1)
def words() -> Words:
    """The words of the chat. Raises pydantic's ValidationError where the file is not sound."""
    return Words.model_validate(tomllib.loads((files("assistant.chat") / "words.toml").read_text(encoding="utf-8")))


@lru_cache(maxsize=1)
def _spellings() -> tuple[dict[str, str], list[tuple[str, str]]]:
    """The commands that take nothing, and the leads of those that take a rest, the longest first."""
    alone: dict[str, str] = {}
    leads: list[tuple[str, str]] = []
    for name, command in words().command.items():
        for says in command.says:
            if command.takes == "nothing":
                alone[folded(says)] = name
            else:
                leads.append((folded(says), name))
    leads.sort(key=lambda pair: -len(pair[0]))
    return alone, leads


def given(line: str) -> list[Given]:
    """The commands that a line may be, the likeliest first; a command that takes a rest decides itself whether it fits."""
    alone, leads = _spellings()
    text = folded(line)
    for _ in range(3):
        bare = folded(text).rstrip("? ") or text
        if text in alone or bare in alone:
            return [Given(alone.get(text) or alone[bare], "")]
        shorter = _POLITE.sub("", text).strip()
        if not shorter or shorter == text:
            break
        text = shorter
    found = []
    for lead, name in leads:
        if text == lead or (text.startswith(lead) and (text[len(lead)] in " ,:" or lead == "?")):
            at = line.lower().replace("’", "'").find(lead)
            rest = "" if text == lead else line[at + len(lead) :] if at >= 0 else text[len(lead) :]
            found.append(Given(name, rest.strip(" ,:"), lead))
    return found


def filled(text: str) -> str:
    """An example with the vocabulary's own spellings in it. Raises KeyError for a word that it does not have."""
    return _WORD.sub(lambda found: spoken(found.group(1), found.group(2)), text)
