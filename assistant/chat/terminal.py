"""The chat in a terminal: editing, completion, history and a bottom line, all prompt_toolkit's.

This is the one module that imports prompt_toolkit.
"""

from __future__ import annotations

import os
import shutil
import sys
from collections.abc import Callable, Iterable
from pathlib import Path

from prompt_toolkit import PromptSession
from prompt_toolkit.completion import CompleteEvent, Completer, Completion
from prompt_toolkit.document import Document
from prompt_toolkit.filters import Condition
from prompt_toolkit.history import FileHistory, History, InMemoryHistory
from prompt_toolkit.input import Input
from prompt_toolkit.key_binding import KeyBindings, KeyPressEvent
from prompt_toolkit.output import ColorDepth, Output
from prompt_toolkit.styles import Style

from ..lines import Look, clean, columns, plain
from . import helping
from .complete import offers
from .history import history_file
from .piped import HOW_TO_LEAVE, PROMPT
from .talk import Talk

#: Earth and leaf, and legible without either: with no colour all that is left is what is reversed.
_STYLE = Style.from_dict({
    "bottom-toolbar": "noreverse bg:#4b3621 #f3ead7",
    "completion-menu.completion": "bg:#e8e4d5 #2b2b22",
    "completion-menu.completion.current": "reverse",
    "completion-menu.meta.completion": "bg:#cfd8b8 #2b2b22",
    "completion-menu.meta.completion.current": "bg:#cfd8b8 #2b2b22 bold",
})  # fmt: skip
_NO_COLOUR = Style.from_dict({"bottom-toolbar": "reverse", "completion-menu.completion.current": "reverse"})


class PlacesAndWords(Completer):
    """Hands prompt_toolkit what may be typed next."""

    def __init__(self, talk: Talk) -> None:
        self.talk = talk

    def get_completions(self, document: Document, complete_event: CompleteEvent) -> Iterable[Completion]:
        line = document.current_line_before_cursor
        for offer in offers(line, self.talk.places):
            yield Completion(offer.text, start_position=-offer.replaces, display_meta=clean(offer.meaning))


def _append_each(history: History, pasted: str, append: Callable[[str], None]) -> None:
    """Keeps every line of a paste by itself, so that each can be called back alone."""
    for line in pasted.splitlines():
        if line.strip() and line not in history.get_strings()[-1:]:
            append(line)


class _KeptLines(FileHistory):
    """Lines kept in a file."""

    def append_string(self, string: str) -> None:
        _append_each(self, string, super().append_string)


class _LinesOfThisChat(InMemoryHistory):
    """Lines that are gone with the chat."""

    def append_string(self, string: str) -> None:
        _append_each(self, string, super().append_string)


class _Lines:
    """The lines typed so far: kept in a file, or only until the chat ends."""

    def __init__(self, wanted: bool) -> None:
        self.path = history_file(os.environ, Path.home()) if wanted else None
        self.history: History = _KeptLines(self.path) if self.path is not None else _LinesOfThisChat()

    def forget(self, session: PromptSession[str]) -> str:
        """Deletes what was kept and keeps no more of this chat."""
        if self.path is not None:
            try:
                self.path.unlink(missing_ok=True)
            except OSError as error:
                return f"The kept lines cannot be deleted: {error.strerror}."
        self.path, self.history = None, _LinesOfThisChat()
        session.history = session.default_buffer.history = self.history
        session.default_buffer.reset()
        return "The kept lines are deleted, and none of this chat will be kept."


def terminal(talk: Talk, keep_history: bool, *, input: Input | None = None, output: Output | None = None) -> int:
    """Talks in a terminal until the user leaves; `input` and `output` stand in for it in tests."""
    lines = _Lines(keep_history)
    session = _session(talk, lines, input, output)
    talk.forget_history = lambda: lines.forget(session)
    _write(helping.greeting(_fitted(talk)))
    while not talk.leaving:
        try:
            text = session.prompt(PROMPT)
        except EOFError:
            break
        except KeyboardInterrupt:
            # a line that was being typed is dropped; on an empty one the user wants to know how to leave
            if not session.default_buffer.text:
                _write(talk.notice(HOW_TO_LEAVE))
            continue
        _fitted(talk)
        try:
            for line in text.splitlines():
                if line.strip() and not talk.leaving:
                    if "\n" in text.strip():
                        _write(talk.notice(f"{PROMPT}{line.strip()}"))
                    _write(talk.steady_reply(line))
        except KeyboardInterrupt:
            _write(talk.notice("Stopped."))
    return 0


def _session(talk: Talk, lines: _Lines, input: Input | None, output: Output | None) -> PromptSession[str]:
    colour = talk.look.colour
    session: PromptSession[str] = PromptSession(
        history=lines.history, completer=PlacesAndWords(talk), complete_while_typing=True,
        bottom_toolbar=lambda: _bottom(talk), key_bindings=_keys(), enable_history_search=False,
        color_depth=None if colour else ColorDepth.DEPTH_1_BIT, input=input, output=output, reserve_space_for_menu=6,
        style=_STYLE if colour else _NO_COLOUR,
    )  # fmt: skip
    return session


def _keys() -> KeyBindings:
    """The editing keys are prompt_toolkit's; only what Ctrl-C does to a line being typed is ours."""
    keys = KeyBindings()

    @Condition
    def typed() -> bool:
        from prompt_toolkit.application import get_app

        return bool(get_app().current_buffer.text)

    @keys.add("c-c", filter=typed)
    def _drop(event: KeyPressEvent) -> None:
        event.current_buffer.reset()

    return keys


def _bottom(talk: Talk) -> str:
    """What is remembered, on one line that fits."""
    text = clean(talk.status or "nothing remembered yet; help: examples; Ctrl-D: leave")
    text = plain(text) if talk.look.ascii else text
    width = shutil.get_terminal_size().columns
    if columns(text) <= width:
        return text
    while text and columns(text) > width - 3:
        text = text[:-1]
    return text.rstrip() + "..."


def _fitted(talk: Talk) -> Look:
    """The look for the window as it is now."""
    talk.look = talk.look._replace(width=shutil.get_terminal_size().columns)
    return talk.look


def _write(text: str) -> None:
    if text:
        sys.stdout.write(text + "\n")
        sys.stdout.flush()
