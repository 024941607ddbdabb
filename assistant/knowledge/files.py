"""Reads a data file into entries, and turns whatever is wrong with it into faults with a place."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping
from pathlib import Path
from typing import TypeVar

from pydantic import ValidationError

from .faults import Fault, KnowledgeError
from .shapes import Entry

E = TypeVar("E", bound=Entry)


def read_table(folder: Path, file: str) -> dict[str, object]:
    """The tables of a TOML file. Raises KnowledgeError where it is missing or is not sound TOML."""
    try:
        text = (folder / file).read_text(encoding="utf-8")
    except FileNotFoundError:
        raise KnowledgeError([Fault(file, "", "", "there is no such file")]) from None
    except UnicodeDecodeError as error:
        raise KnowledgeError([Fault(file, "", "", f"it is not UTF-8 text: {error}")]) from error
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise KnowledgeError([_not_toml(file, text, str(error))]) from error


def read_entries(folder: Path, file: str, kind: type[E], inside: str = "") -> dict[str, E]:
    """The entries of a file by id, each validated as a `kind`.

    With `inside`, every entry stands below that one table, and its id begins with the table's name.
    Raises KnowledgeError with every fault that the file has.
    """
    table = read_table(folder, file)
    faults: list[Fault] = []
    if inside:
        faults = [
            Fault(file, name, "", f"it does not belong here: every entry of this file is called [{inside}.…]")
            for name in table
            if name != inside
        ]
        below = table.get(inside, {})
        table = {f"{inside}.{key}": body for key, body in below.items()} if isinstance(below, dict) else {}
    entries: dict[str, E] = {}
    for name, body in table.items():
        try:
            entries[name] = _entry(kind, file, name, body)
        except KnowledgeError as error:
            faults.extend(error.faults)
    if faults:
        raise KnowledgeError(faults)
    return entries


def _entry(kind: type[E], file: str, name: str, body: object) -> E:
    if kind.bare and not isinstance(body, Mapping):
        body = {kind.bare: body}
    if not isinstance(body, Mapping):
        raise KnowledgeError([Fault(file, name, "", "it is a single value, and a table is expected")])
    if "id" in body:
        raise KnowledgeError([Fault(file, name, "id", "unknown key: the table's own name is its id")])
    try:
        return kind.model_validate({"id": name, **body})
    except ValidationError as error:
        raise KnowledgeError(
            Fault(file, name, ".".join(str(step) for step in one["loc"]), _plain(one["type"], one["msg"]))
            for one in error.errors(include_url=False)
        ) from error


def _plain(kind: str, message: str) -> str:
    if kind == "extra_forbidden":
        return "unknown key"
    if kind == "missing":
        return "it is missing"
    return message.removeprefix("Value error, ")


def _not_toml(file: str, text: str, message: str) -> Fault:
    """A fault of the TOML itself, placed in the table that stands at or above its line."""
    entry = ""
    at = re.search(r"\(at line (\d+)", message)
    if at:
        for line in text.splitlines()[: int(at[1])]:
            header = re.match(r"\s*\[\s*([^\[\]]+?)\s*\]\s*(?:#.*)?$", line)
            entry = header[1] if header else entry
    if message.startswith(("Cannot declare", "Cannot overwrite")):
        message = f"it stands twice: {message}"
    return Fault(file, entry, "", message)
