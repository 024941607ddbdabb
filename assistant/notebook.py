"""The notebook: what is kept from one conversation to the next, in one SQLite file.

Kept are named places as the text they were read as (which can be read again), the order so far, chosen
settings such as units and density, and a log of what was applied and when. Every change is one transaction:
a program that is killed in the middle of it leaves the notebook as it was before. Several conversations may
have one notebook open; each sees what the others have written. The file is for its owner's eyes only.
"""

from __future__ import annotations

import os
import sqlite3
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import date
from pathlib import Path
from typing import Any, TypeVar

from pydantic import BaseModel, ConfigDict, ValidationError

from .answer import Answer, Cost, PackCount, Pair

#: Marks a file as a notebook of this program ("WORM" in ASCII).
APPLICATION = 0x574F524D
#: Seconds to wait while another conversation writes.
_PATIENCE = 5.0
_PRIVATE = 0o600

#: What brings a notebook from one version to the next; the version is the number of steps done.
_STEPS: tuple[tuple[str, ...], ...] = (
    (
        "CREATE TABLE place (name TEXT PRIMARY KEY COLLATE NOCASE, reads TEXT NOT NULL) STRICT",
        "CREATE TABLE setting (name TEXT PRIMARY KEY, value TEXT NOT NULL) STRICT",
        "CREATE TABLE ordered (id INTEGER PRIMARY KEY, line TEXT NOT NULL) STRICT",
        "CREATE TABLE applied (id INTEGER PRIMARY KEY, place TEXT NOT NULL COLLATE NOCASE, day TEXT NOT NULL,"
        " record TEXT NOT NULL) STRICT",
        "CREATE INDEX applied_by_place ON applied (place, day)",
    ),
)
VERSION = len(_STEPS)


M = TypeVar("M", bound=BaseModel)


class NotebookError(Exception):
    """A notebook cannot be opened, read or written; the text says why, for the user."""


class _Record(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid")


class OrderLine(_Record):
    """One line of the order: what it is for, the castings in litres from low to high, packs and cost where known."""

    reads: str
    litres: Pair
    packs: tuple[PackCount, ...] = ()
    cost: Cost | None = None


class Application(_Record):
    """Castings that were put down: where, on which day, how, and how much (litres, millimetres, fraction of the mix)."""

    place: str
    day: date
    reads: str
    way: str | None = None
    litres: Pair
    layer_mm: Pair | None = None
    share: Pair | None = None


class _Kept(_Record):
    """An application as it lies in its row: place and day have columns of their own."""

    reads: str
    way: str | None = None
    litres: Pair
    layer_mm: Pair | None = None
    share: Pair | None = None


class Notebook:
    """A notebook in a file, or in memory until it is saved to one."""

    def __init__(self, connection: sqlite3.Connection, path: Path | None) -> None:
        self._connection = connection
        self.path = path

    # ---- opening and saving --------------------------------------------------------------------------

    @classmethod
    def in_memory(cls) -> Notebook:
        """A notebook that is gone with the program unless it is saved."""
        connection = sqlite3.connect(":memory:", isolation_level=None)
        _bring_up_to_date(connection, "the notebook")
        return cls(connection, None)

    @classmethod
    def open(cls, path: Path) -> Notebook:
        """The notebook in a file, made anew where there is none. Raises NotebookError where that cannot be."""
        try:
            # made first and by us, so that its mode is private from the start
            os.close(os.open(path, os.O_RDWR | os.O_CREAT, _PRIVATE))
            connection = sqlite3.connect(path, timeout=_PATIENCE, isolation_level=None)
        except (OSError, sqlite3.Error) as error:
            raise NotebookError(f"{path} cannot be opened: {_why(error)}") from error
        try:
            _bring_up_to_date(connection, str(path))
        except NotebookError:
            connection.close()
            raise
        return cls(connection, path)

    def save_as(self, path: Path) -> None:
        """Writes the notebook to a new file whole or not at all, and goes on in that file.

        Raises NotebookError where there is a file of that name already or it cannot be written.
        """
        if path.exists():
            raise NotebookError(f"there is a file {path} already; open it, or choose another name")
        copy = None
        try:
            handle, name = tempfile.mkstemp(prefix=f".{path.name}.", dir=path.parent)
            os.close(handle)
            copy = Path(name)
            target = sqlite3.connect(copy, isolation_level=None)
            try:
                self._connection.backup(target)
            finally:
                target.close()
            _settle_on_disk(copy)
            os.link(copy, path)  # unlike a rename, this never puts itself in the place of another file
        except (OSError, sqlite3.Error) as error:
            raise NotebookError(f"{path} cannot be written: {_why(error)}") from error
        finally:
            if copy is not None:
                copy.unlink(missing_ok=True)
        opened = Notebook.open(path)
        self._connection.close()
        self._connection, self.path = opened._connection, path

    def close(self) -> None:
        """Closes the file; nothing can be asked of the notebook after it."""
        self._connection.close()

    @contextmanager
    def _change(self) -> Iterator[sqlite3.Connection]:
        """One change, done wholly or not at all."""
        with _whole(self._connection, self._title):
            yield self._connection

    @property
    def _title(self) -> str:
        return str(self.path) if self.path else "the notebook"

    def _rows(self, question: str, *values: Any) -> list[tuple[Any, ...]]:
        try:
            return self._connection.execute(question, values).fetchall()
        except sqlite3.Error as error:
            raise NotebookError(f"{self._title} cannot be read: {_why(error)}") from error

    # ---- places --------------------------------------------------------------------------------------

    def places(self) -> dict[str, str]:
        """The named places and what each was read as, by name."""
        return dict(self._rows("SELECT name, reads FROM place ORDER BY name"))

    def name_place(self, name: str, reads: str) -> None:
        """Gives a place its name; a place of that name before gives way."""
        with self._change() as change:
            change.execute("INSERT OR REPLACE INTO place VALUES (?, ?)", (name, reads))

    def forget_place(self, name: str) -> bool:
        """Takes a name away; whether there was one. The log keeps what was done there."""
        with self._change() as change:
            return change.execute("DELETE FROM place WHERE name = ?", (name,)).rowcount > 0

    def rename_place(self, name: str, new: str) -> None:
        """Gives a place another name, in the log too; a place of the new name gives way."""
        with self._change() as change:
            change.execute("UPDATE OR REPLACE place SET name = ? WHERE name = ?", (new, name))
            change.execute("UPDATE applied SET place = ? WHERE place = ?", (new, name))

    # ---- settings ------------------------------------------------------------------------------------

    def settings(self) -> dict[str, str]:
        """What is chosen for all that follows, by name: `density`, `unit`, `season`."""
        return dict(self._rows("SELECT name, value FROM setting ORDER BY name"))

    def keep_settings(self, settings: dict[str, str]) -> None:
        """Keeps settings by name, all in one change; one with no value is taken away."""
        with self._change() as change:
            for name, value in settings.items():
                if value:
                    change.execute("INSERT OR REPLACE INTO setting VALUES (?, ?)", (name, value))
                else:
                    change.execute("DELETE FROM setting WHERE name = ?", (name,))

    # ---- the order -----------------------------------------------------------------------------------

    def order(self) -> list[OrderLine]:
        """The order so far, in the order in which its lines were added."""
        return [_read(OrderLine, line, self._title) for (line,) in self._rows("SELECT line FROM ordered ORDER BY id")]

    def add_to_order(self, line: OrderLine) -> None:
        """Puts a line at the end of the order."""
        with self._change() as change:
            change.execute("INSERT INTO ordered (line) VALUES (?)", (line.model_dump_json(),))

    def take_off_order(self, number: int = 0) -> OrderLine | None:
        """Takes a line off the order, counted from 1, or the last; gives it, or None where there is none such."""
        which = f"(SELECT id FROM ordered ORDER BY id LIMIT 1 OFFSET {int(number) - 1})" if number > 0 else "(SELECT max(id) FROM ordered)"
        with self._change() as change:
            row = change.execute(f"DELETE FROM ordered WHERE id = {which} RETURNING line").fetchone()
        return _read(OrderLine, row[0], self._title) if row else None

    def change_order(self, number: int, line: OrderLine) -> None:
        """Puts another line in the place of one, counted from 1; nothing where there is none such."""
        with self._change() as change:
            change.execute(
                "UPDATE ordered SET line = ? WHERE id = (SELECT id FROM ordered ORDER BY id LIMIT 1 OFFSET ?)",
                (line.model_dump_json(), max(number - 1, 0)),
            )

    def empty_order(self) -> int:
        """Takes every line off; how many there were."""
        with self._change() as change:
            return change.execute("DELETE FROM ordered").rowcount

    # ---- the log -------------------------------------------------------------------------------------

    def log(self, *applications: Application) -> None:
        """Notes what was applied, all of it or, where that fails, none."""
        with self._change() as change:
            for one in applications:
                kept = _Kept(**one.model_dump(exclude={"place", "day"}))
                change.execute("INSERT INTO applied (place, day, record) VALUES (?, ?, ?)",
                               (one.place, one.day.isoformat(), kept.model_dump_json()))  # fmt: skip

    def applied(self, place: str | None = None) -> list[Application]:
        """What was applied, in all or at one place, the earliest first."""
        question = "SELECT place, day, record FROM applied"
        rows = (self._rows(f"{question} WHERE place = ? ORDER BY day, id", place) if place is not None
                else self._rows(f"{question} ORDER BY day, id"))  # fmt: skip
        found = []
        for name, day, record in rows:
            kept = _read(_Kept, record, self._title)
            found.append(Application(place=name, day=date.fromisoformat(day), **kept.model_dump()))
        return found

    def strike_last(self) -> Application | None:
        """Takes the entry of the log that was written last away and gives it, or None where there is none."""
        with self._change() as change:
            last = "DELETE FROM applied WHERE id = (SELECT max(id) FROM applied) RETURNING place, day, record"
            row = change.execute(last).fetchone()
        if row is None:
            return None
        kept = _read(_Kept, row[2], self._title)
        return Application(place=row[0], day=date.fromisoformat(row[1]), **kept.model_dump())


def order_line(answer: Answer) -> OrderLine | None:
    """The line of an order that an answer makes, or None where it involves no castings."""
    if answer.status != "answered" or answer.castings is None:
        return None
    return OrderLine(reads=answer.reads, litres=answer.castings.litres, packs=answer.packs, cost=answer.cost)


def application(answer: Answer, place: str, day: date) -> Application | None:
    """The entry of the log that an answer makes for a place on a day, or None where it involves no castings."""
    if answer.status != "answered" or answer.castings is None:
        return None
    return Application(place=place, day=day, reads=answer.reads, way=answer.way, litres=answer.castings.litres,
                       layer_mm=answer.layer_mm, share=answer.share)  # fmt: skip


# ---- the file ------------------------------------------------------------------------------------------


@contextmanager
def _whole(connection: sqlite3.Connection, title: str) -> Iterator[None]:
    try:
        connection.execute("BEGIN IMMEDIATE")
    except sqlite3.Error as error:
        raise NotebookError(f"{title} cannot be written: {_why(error)}") from error
    try:
        yield
        connection.execute("COMMIT")
    except BaseException as error:
        if connection.in_transaction:
            connection.execute("ROLLBACK")
        if isinstance(error, sqlite3.Error):
            raise NotebookError(f"{title} cannot be written: {_why(error)}") from error
        raise


def _bring_up_to_date(connection: sqlite3.Connection, title: str) -> None:
    """Checks that a file is a notebook of this or an earlier version, and brings it to this one."""
    try:
        # read as one: another conversation may be making the file at this moment
        connection.execute("BEGIN")
        try:
            version = _stands_at(connection, title)
        finally:
            if connection.in_transaction:
                connection.execute("ROLLBACK")
        if version == VERSION:
            return
        with _whole(connection, title):
            version = _stands_at(connection, title)  # another conversation may have been quicker
            for step in _STEPS[version:]:
                for statement in step:
                    connection.execute(statement)
            connection.execute(f"PRAGMA application_id = {APPLICATION}")
            connection.execute(f"PRAGMA user_version = {VERSION}")
    except sqlite3.Error as error:
        raise NotebookError(f"{title} is no notebook, or is damaged: {_why(error)}") from error


def _stands_at(connection: sqlite3.Connection, title: str) -> int:
    version: int = connection.execute("PRAGMA user_version").fetchone()[0]
    owner: int = connection.execute("PRAGMA application_id").fetchone()[0]
    tables: int = connection.execute("SELECT count(*) FROM sqlite_schema").fetchone()[0]
    if owner != APPLICATION and (tables or version):
        raise NotebookError(f"{title} is a database of another program, not a notebook")
    if version > VERSION:
        raise NotebookError(f"{title} was written by a newer castings (version {version} of its form; this one knows {VERSION})")
    return version


def _settle_on_disk(path: Path) -> None:
    with path.open("rb") as stream:
        os.fsync(stream.fileno())


def _read(kind: type[M], text: str, title: str) -> M:
    try:
        return kind.model_validate_json(text)
    except ValidationError as error:
        raise NotebookError(f"{title} holds an entry that cannot be read") from error


def _why(error: Exception) -> str:
    """The reason in a few words, without a path or a number in front."""
    if isinstance(error, OSError) and error.strerror:
        return error.strerror
    return str(error)
