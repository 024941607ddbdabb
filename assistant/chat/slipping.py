"""The slip of a talk: what stands on it, in which form, with which day, and where it goes."""

from __future__ import annotations

import re
from collections.abc import Sequence
from datetime import date
from pathlib import Path
from typing import Any, Final

from grammar.draft import Draft

from ..answer import Answer
from ..lines import Look, plain
from ..purchase import in_force
from ..shop import Catalogue
from ..slips import FORMS, Slip, make
from ..slips.forms import WIDTH, text
from ..slips.lines import of_drafts, of_requests
from ..slips.writing import AlreadyThere, CannotWrite, write

#: The form of a file by its ending; any other is plain text.
_ENDINGS: Final = {".md": "markdown", ".markdown": "markdown", ".json": "json", ".csv": "csv"}
_FILLER = re.compile(r"\b(?:please|now|then|for|of|it|that|this|all|everything|the|with|whole|lot|order|so|far|today|on|dated?|day)\b|'s|[.,!?]")


def slip_for(drafts: Sequence[Draft], ordered: Sequence[str], shop: Catalogue | None, day: date | None) -> Slip | Answer:
    """The slip of the order's lines or, without an order, of the conversation's; the answer that makes none."""
    catalogue = in_force(shop)
    found = of_requests(ordered, catalogue) if ordered else of_drafts(drafts, catalogue)
    return found if isinstance(found, Answer) else make(*found, catalogue, day)


def shown(slip: Slip, look: Look) -> str:
    """The slip as it stands in a window: without empty lines, which end a reply."""
    if look.ascii:
        slip = _plain(slip)
    return "\n".join(line for line in text(slip, min(WIDTH, look.width)).splitlines() if line.strip())


def _plain(part: Any) -> Any:
    """A slip, or a part of one, in ASCII: before it is laid out, since some signs take more room so."""
    if isinstance(part, str):
        return plain(part)
    if isinstance(part, tuple):
        parts = [_plain(one) for one in part]
        return type(part)(*parts) if hasattr(part, "_fields") else tuple(parts)
    return part


def written(slip: Slip, name: str, *, replace: bool) -> str:
    """Writes the slip to a file, in the form that its ending says, and says so; or says why not."""
    path = Path(name).expanduser()
    try:
        write(path, FORMS[_ENDINGS.get(path.suffix.lower(), "text")](slip), replace=replace)
    except AlreadyThere as problem:
        return f"Not written: {problem}; say “replace the slip in {name}” to put the slip in its place."
    except CannotWrite as problem:
        return f"Not written: {problem}."
    return f"The slip is written in {path}."


def is_no_more(rest: str) -> bool:
    """Whether nothing that matters stands in what was said beside the slip."""
    return not _FILLER.sub(" ", rest.lower()).strip()
