"""The forms in which records are written: JSON Lines, CSV, TSV, plain text.

Of every form the last thing in a record tells that it is whole (a closing brace, the status), so that a
record which was cut off does not look like one.
"""

from __future__ import annotations

import csv
import io
import json
import re
from collections.abc import Iterable
from functools import lru_cache
from typing import NamedTuple

from ..answer import Answer, Asked
from ..lines import Look, clean
from .records import record
from .rows import Item

#: What a spreadsheet would run, or open as one (the wide forms count as well).
_RUN = tuple("=+-@＝＋－＠")
_NUMBER = re.compile(r"[+-]?(\d+([.,]\d+)*|\.\d+)([eE][+-]?\d+)?%?")
#: Control characters, which a terminal obeys; a table may hold tabs and line ends.
_OBEYED = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f]")

#: The columns of an answer in a table; the status stands last.
COLUMNS = (
    "reads", "way", "of", "low", "high", "unit", "castings_litres_low", "castings_litres_high", "castings_kg_low",
    "castings_kg_high", "share_low", "share_high", "layer_mm_low", "layer_mm_high", "packs", "cost", "currency", "warnings",
    "assumed", "set_aside", "question", "status",
)  # fmt: skip


def neutral(cell: str) -> str:
    """A cell of a table that no spreadsheet runs and no terminal obeys.

    A text that begins like a formula gets an apostrophe before it; a plain number with its sign is no formula.
    """
    cell = _OBEYED.sub(lambda found: f"<{ord(found[0]):02X}>", cell)
    if cell.lstrip().startswith(_RUN) and not _NUMBER.fullmatch(cell.strip()):
        return "'" + cell
    return cell


class JsonForm(NamedTuple):
    """JSON Lines: the record of the contract, and below `columns` the row it came from, where there is one."""

    names: tuple[str, ...] = ()

    def head(self) -> str:
        return ""

    def written(self, item: Item, answer: Answer | None) -> str:
        if answer is None:
            return ""
        made = record(item.line, answer)
        if item.row:
            row = dict(zip(_told_apart(self.names), item.row, strict=True))
            made = f'{made[:-1]},"columns":{json.dumps(row)}}}'
        return made + "\n"


class TableForm(NamedTuple):
    """CSV (RFC 4180) or TSV: the columns that came, unchanged, and the answer's after them."""

    names: tuple[str, ...]
    delimiter: str

    def head(self) -> str:
        taken = set(self.names) | {"line"}
        own = [f"answer_{name}" if name in taken else name for name in COLUMNS]
        return self._row(["line", *(self.names or ("request",)), *own])

    def written(self, item: Item, answer: Answer | None) -> str:
        came = item.row if self.names else (item.request,)
        own = _cells(answer) if answer is not None else ["" for _ in COLUMNS[:-1]] + ["blank"]
        return self._row([str(item.line), *came, *own])

    def _row(self, cells: list[str]) -> str:
        if self.delimiter == "\t":
            # in a TSV a cell can hold neither tab nor line end, and quotes mean nothing
            return "\t".join(re.sub(r"[\t\r\n]+", " ", neutral(cell)) for cell in cells) + "\n"
        out = io.StringIO()
        csv.writer(out).writerow([neutral(cell) for cell in cells])
        return out.getvalue()


class TextForm(NamedTuple):
    """Plain text for people: the request, the answer as it is said, and the status to end with."""

    names: tuple[str, ...] = ()
    look: Look = Look(pictures=False)

    def head(self) -> str:
        return ""

    def written(self, item: Item, answer: Answer | None) -> str:
        if answer is None:
            return ""
        from ..say import say

        return f"{item.line}: {clean(item.request)}\n{say(answer, self.look)}\n[{answer.status}]\n\n"


Form = JsonForm | TableForm | TextForm


def form_of(name: str, names: tuple[str, ...]) -> Form:
    """The form called `json`, `csv`, `tsv` or `text`, for a table with these columns (none: for lines)."""
    if name == "json":
        return JsonForm(names)
    if name == "text":
        return TextForm(names)
    return TableForm(names, "," if name == "csv" else "\t")


def _cells(answer: Answer) -> list[str]:
    asked, castings = answer.answer, answer.castings
    if isinstance(asked, Asked):
        told = [asked.of, _figure(asked.low), _figure(asked.high), clean(asked.unit)]
    else:
        told = ["" if asked is None else asked.topic, "", "", ""]
    return [
        clean(answer.reads), answer.way or "", *told,
        *_pair(castings.litres if castings else None), *_pair(castings.kg if castings else None), *_pair(answer.share),
        *_pair(answer.layer_mm), _listed(f"{pack.count} of {pack.name}" for pack in answer.packs),
        answer.cost.amount if answer.cost else "", answer.cost.currency if answer.cost else "",
        _listed(advice.text for advice in answer.advice if advice.level == "warning"),
        _listed(one.text for one in answer.assumed), _listed(answer.set_aside), clean(answer.question or ""), answer.status,
    ]  # fmt: skip


@lru_cache(maxsize=16)
def _told_apart(names: tuple[str, ...]) -> tuple[str, ...]:
    """Names of columns as keys: the second of two that are alike becomes "name (2)"."""
    found: list[str] = []
    for name in names:
        count, key = 1, name
        while key in found:
            count += 1
            key = f"{name} ({count})"
        found.append(key)
    return tuple(found)


def _figure(value: float | None) -> str:
    return "" if value is None else repr(value)


def _pair(pair: tuple[float, float] | None) -> tuple[str, str]:
    return ("", "") if pair is None else (repr(pair[0]), repr(pair[1]))


def _listed(texts: Iterable[str]) -> str:
    return " | ".join(clean(text) for text in texts)
