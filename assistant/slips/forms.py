"""The forms of a slip: plain text of 80 columns, Markdown, JSON and CSV. Each is a pure function of the slip."""

from __future__ import annotations

import csv
import io
import json
import re
from collections.abc import Callable, Mapping
from datetime import date
from types import MappingProxyType
from typing import Final

from ..batch.forms import neutral
from ..lines import clean, columns, wrap
from ..season import spoken_day
from .slip import Bought, Slip

Form = Callable[[Slip], str]
WIDTH: Final = 80

#: The headings of the lists below a purchase, and where each stands on a slip.
_LISTS: Final = (
    ("How to apply it", "how"), ("Take care", "cautions"), ("How it was worked out", "rules"), ("Assumed", "assumed"),
)  # fmt: skip


def text(slip: Slip, width: int = WIDTH) -> str:
    """Plain text, no line of more than `width` columns."""
    lines = [_between(clean(slip.shop), _day(slip), width), "-" * width]
    for warning in slip.warnings:
        lines += wrap(clean(f"WARNING: {warning}"), width, "!! ", "!! ")
    lines.append("For:")
    for need in slip.needs:
        lines += wrap(clean(need.reads), width, "- ", "  ")
        lines += wrap(clean(f"takes {need.takes}"), width, "  ", "  ")
    lines += ["", "To buy:"]
    lines += [row for one in slip.buys for row in _item(one, slip.currency, width)] or ["  nothing"]
    if slip.tax is not None:
        lines.append(_between(f"  {clean(slip.tax[0])}", f"{slip.tax[1]} {slip.currency}", width))
    if slip.to_pay:
        lines.append(_between("To pay", f"{slip.to_pay} {slip.currency}", width))
    for remark in slip.remarks:
        lines += wrap(clean(remark), width, "  ", "  ")
    for heading, name in _LISTS:
        said = getattr(slip, name)
        if said:
            lines += ["", f"{heading}:"]
            for one in said:
                lines += wrap(clean(one), width, "- ", "  ")
    return "\n".join(line.rstrip() for line in lines) + "\n"


def markdown(slip: Slip) -> str:
    """Markdown: a heading, a table of what is bought, and lists."""
    day = _day(slip)
    lines = [f"# {_escaped(slip.shop)}", ""]
    lines += [day, ""] if day else []
    for warning in slip.warnings:
        lines += [f"> **Warning:** {_escaped(warning)}", ""]
    lines += ["## For", ""]
    lines += [f"- {_escaped(need.reads)}: {_escaped(need.takes)}" for need in slip.needs]
    lines += ["", "## To buy", ""]
    if slip.buys:
        lines += ["| pack | count | each | total |", "| --- | ---: | ---: | ---: |"]
        lines += [f"| {_escaped(one.name)} | {one.number} | {one.each} | {one.total} |" for one in slip.buys]
        if slip.tax is not None:
            lines.append(f"| {_escaped(slip.tax[0])} | | | {slip.tax[1]} |")
        if slip.to_pay:
            lines.append(f"| **To pay, {slip.currency}** | | | **{slip.to_pay}** |")
    else:
        lines.append("Nothing.")
    lines += ["", *(f"{_escaped(remark)}  " for remark in slip.remarks)] if slip.remarks else []
    for heading, name in _LISTS:
        said = getattr(slip, name)
        if said:
            lines += ["", f"## {heading}", "", *(f"- {_escaped(one)}" for one in said)]
    return "\n".join(lines) + "\n"


def as_json(slip: Slip) -> str:
    """One JSON object; money is decimal text."""
    body = {
        "shop": slip.shop, "date": slip.day or None,
        "for": [need._asdict() for need in slip.needs],
        "to_buy": [{"id": one.id, "name": one.name, "count": one.number, "each": one.each, "total": one.total} for one in slip.buys],
        "tax": None if slip.tax is None else {"name": slip.tax[0], "amount": slip.tax[1]},
        "to_pay": {"amount": slip.to_pay, "currency": slip.currency} if slip.to_pay else None,
        "remarks": slip.remarks, "how_to_apply": slip.how, "warnings": slip.warnings, "cautions": slip.cautions,
        "rules": slip.rules, "assumed": slip.assumed,
    }  # fmt: skip
    return json.dumps(body, ensure_ascii=True, indent=2) + "\n"


#: The columns of the table.
COLUMNS: Final = ("kind", "id", "text", "count", "each", "total", "currency")


def as_csv(slip: Slip) -> str:
    """One table for a spreadsheet (RFC 4180): what each row is stands in its first column. No cell is a formula."""
    rows: list[tuple[str, ...]] = [COLUMNS, ("shop", "", slip.shop, "", "", "", "")]
    rows += [("date", "", slip.day, "", "", "", "")] if slip.day else []
    rows += [("for", "", f"{need.reads}: {need.takes}", "", "", "", "") for need in slip.needs]
    rows += [("pack", one.id, one.name, one.number, one.each, one.total, slip.currency) for one in slip.buys]
    rows += [("tax", "", slip.tax[0], "", "", slip.tax[1], slip.currency)] if slip.tax is not None else []
    rows += [("to pay", "", "", "", "", slip.to_pay, slip.currency)] if slip.to_pay else []
    for kind, texts in (("remark", slip.remarks), ("how to apply", slip.how), ("warning", slip.warnings), ("caution", slip.cautions),
                        ("rule", slip.rules), ("assumed", slip.assumed)):  # fmt: skip
        rows += [(kind, "", one, "", "", "", "") for one in texts]
    held = io.StringIO()
    csv.writer(held, lineterminator="\r\n").writerows([[neutral(cell) for cell in row] for row in rows])
    return held.getvalue()


FORMS: Final[Mapping[str, Form]] = MappingProxyType({"text": text, "markdown": markdown, "json": as_json, "csv": as_csv})


# ---- small helps ---------------------------------------------------------------------------------------


def _day(slip: Slip) -> str:
    return spoken_day(date.fromisoformat(slip.day)) if slip.day else ""


def _between(left: str, right: str, width: int) -> str:
    """Two texts at the two edges of a line; the right one alone on the next where they do not fit."""
    room = width - columns(left) - columns(right)
    if not right:
        return "\n".join(wrap(left, width))
    if room < 1:
        return "\n".join([*wrap(left, width), right.rjust(width)])
    return left + " " * room + right


def _item(one: Bought, currency: str, width: int) -> list[str]:
    """A pack, and what so many of it come to, on a line of its own where both do not fit on one."""
    each = f" at {one.each}" if one.each else ""
    line = f"  {one.number} x {clean(one.name)}{each}"
    return _between(line, f"{one.total} {currency}" if one.total else "", width).split("\n")


_MARKS = re.compile(r"([\\`*_{}\[\]<>#|~&!])")


def _escaped(said: str) -> str:
    """A text that Markdown prints as it stands."""
    return _MARKS.sub(r"\\\1", clean(said))
