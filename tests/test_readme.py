"""The README and the contributor's guide: two set-up lines, every command shown with its very output, and paths that exist.

    python -m tests.test_readme --write

puts the present output below each command; read the change before it is kept.
"""

from __future__ import annotations

import contextlib
import io
import re
import shlex
import sys
from pathlib import Path

import pytest

from assistant.cli import main

README = Path(__file__).parents[1] / "README.md"
_SHOWN = re.compile(r"^\$ castings (?P<command>.*)\n(?P<output>(?:(?!```).*\n)*)", re.MULTILINE)


def output(command: str) -> str:
    """What a command prints, in a window of 80 columns and without colour."""
    printed = io.TextIOWrapper(io.BytesIO(), encoding="utf-8")
    with contextlib.redirect_stdout(printed):
        main(shlex.split(command))
    printed.seek(0)
    return printed.read()


TEXT = README.read_text(encoding="utf-8")
SHOWN = [(found["command"], found["output"]) for found in _SHOWN.finditer(TEXT)]


@pytest.mark.parametrize(("command", "shown"), SHOWN, ids=[command for command, _ in SHOWN])
def test_a_command_prints_what_is_shown(command: str, shown: str) -> None:
    assert output(command) == shown


def test_something_is_shown() -> None:
    assert len(SHOWN) >= 6


def test_there_are_two_set_up_lines() -> None:
    """Each is one line, makes its own virtual environment and installs what it needs."""
    lines = [line for line in TEXT.splitlines() if line.startswith("python3 -m venv ")]
    assert len(lines) == 2
    answers, tests = lines
    assert "pip install" in answers and "bin/castings " in answers
    assert '".[test]"' in tests and tests.endswith("-m pytest")


@pytest.mark.parametrize("guide", ["README.md", "DEVELOPERS.md"])
def test_every_path_that_is_named_is_there(guide: str) -> None:
    text = (README.parent / guide).read_text(encoding="utf-8")
    named = re.findall(r"`((?:assistant|grammar|tests|transcripts_demo)/[^`\s]*)`", text)
    assert [path for path in named if not (README.parent / path).exists()] == []
    assert named or guide == "README.md"


def write() -> None:
    """Puts the present output below each command."""
    text = _SHOWN.sub(lambda found: f"$ castings {found['command']}\n{output(found['command'])}", TEXT)
    README.write_text(text, encoding="utf-8")


if __name__ == "__main__" and sys.argv[1:] == ["--write"]:
    write()
