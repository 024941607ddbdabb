"""The machine output: one record a line, as JSON."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from ..answer import Answer

if TYPE_CHECKING:
    from ..shop import Catalogue

#: Characters that JSON may hold as they are and that a terminal would obey, or that turn the order of
#: letters round: the control characters JSON does not escape itself, and the marks of direction.
_OBEYED = re.compile("[\x7f-\x9f\u061c\u200e\u200f\u2028-\u202e\u2066-\u2069\ufeff]")


def record(line: int, answer: Answer) -> str:
    """One record of the machine output, as a line of JSON (RFC 8259) without its end. `line` counts from 1."""
    body = answer.model_dump_json(by_alias=True)
    if not answer.request.isascii() or "\x7f" in answer.request:
        body = _OBEYED.sub(lambda found: f"\\u{ord(found[0]):04x}", body)
    return f'{{"line":{line},{body[1:]}'


def answer_line(line: int, request: str, shop: Catalogue | None = None) -> str:
    """The record of one request, by the number of its line: the same text for the same arguments, anywhere.

    `shop` is a shop's own catalogue (`assistant.shop.load`); without it nothing is bought but what the line names.

    It keeps no state and needs none, it can be pickled, and it never raises for any text; a machine that
    spreads work over processes or over other machines can map it over numbered lines.
    """
    from ..ask import ask

    return record(line, ask(request, shop))
