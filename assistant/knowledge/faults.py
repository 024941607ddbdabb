"""What is wrong with a data file: where it stands, and in plain words what it is."""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple


class Fault(NamedTuple):
    """One thing wrong: the file (below the knowledge folder), the entry, the field, and why.

    Entry and field are empty where the fault is the whole file's or the whole entry's.
    """

    file: str
    entry: str
    field: str
    why: str

    def __str__(self) -> str:
        place = f"{self.file} [{self.entry}]" if self.entry else self.file
        return f"{place} {self.field}: {self.why}" if self.field else f"{place}: {self.why}"


class KnowledgeError(ValueError):
    """The knowledge base cannot be used as it stands; `faults` says each thing that is wrong."""

    def __init__(self, faults: Iterable[Fault]) -> None:
        self.faults = tuple(faults)
        super().__init__("\n".join(str(fault) for fault in self.faults))
