"""Boards by their two sides: "framed with 2x6s", "2 by 4s around my bed". They are no place of their own."""

from __future__ import annotations

from ..draft import Draft
from ..phrases import Amount, Number, Phrase
from ..said import Waits, is_said
from ..things import is_ground_size

#: What this reader waits for: the "s" left over behind a size.
BOARDS: Waits = (frozenset({("unknown", "s")}),)
#: The sides in inches by which sawn boards are sold (common practice, no source); 4 by 8 is as likely a bed.
_THICK, _WIDE = frozenset({1, 2}), frozenset({2, 3, 4, 6, 8, 10, 12})


def find_boards(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """The phrases without boards, where a place is told with its size beside them; the boards are set aside by name."""
    boards = [at for at, phrase in enumerate(phrases[:-1]) if _is_board(phrase) and is_said(phrases[at + 1], "unknown", "s") and phrases[at + 1].start == phrase.end]
    if not boards or not any(is_ground_size(phrase) for at, phrase in enumerate(phrases) if at not in boards):
        return phrases
    draft.noted += [(draft.text[phrases[at].start : phrases[at + 1].end], "boards") for at in boards]
    gone = {*boards, *(at + 1 for at in boards)}
    return [phrase for at, phrase in enumerate(phrases) if at not in gone]


def _is_board(phrase: Phrase) -> bool:
    if type(phrase) is not Amount or len(phrase.dims) != 2 or not all(type(one) is Number and one.low == one.high for one in phrase.dims):
        return False
    thick, wide = (one.low for one in phrase.dims)  # type: ignore[union-attr]
    return thick in _THICK and wide in _WIDE
