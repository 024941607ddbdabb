"""The lowest rank by a table of gains: for what is small, and has too many choices alike for lists.

Where packs are priced at one flat rate nearly every choice ties with the next, and no bound tells them apart.
Then the gain alone is the better thing to go by: a table holds, for each gain up to the need, the lowest
rank that reaches it, and takes in one article after another. A stretch of options adds a straight line to
it, so that each entry is the least of a window that slides along the table: the work is the need times the
number of stretches, however many options these have.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Sequence
from math import gcd
from typing import Final

from .bounds import Relaxation, Stretch

#: The most entries worked out, all stretches together: about a quarter of a second. It bounds the work alone.
MOST_ENTRIES: Final = 200_000

#: The lowest rank that reaches a gain, by the gain; None where nothing does.
_Table = list[int | None]


def rank_by_table(root: Relaxation) -> int | None:
    """The lowest rank of a choice that reaches the need, or None where the table would be too large.

    Exact wherever it is not None.
    """
    articles = [[_rising(one) for one in stretches] for stretches in root.articles]
    least = [min(one.gain for one in stretches) for stretches in articles]
    whole = root.need - sum(least)
    step = gcd(*(part for one, low in zip(articles, least, strict=True) for each in one for part in (each.gain - low, each.gain_step)))
    need = max(-(-whole // step), 0) if step else 0
    if (need + 1) * sum(len(stretches) for stretches in articles) > MOST_ENTRIES:
        return None
    table: _Table = [0] + [None] * need
    for stretches, low in zip(articles, least, strict=True):
        table = _with_article(table, [_measured(one, low, step or 1) for one in stretches])
    return table[need]


def _rising(one: Stretch) -> Stretch:
    """The same options, those of the lowest gain first; one option where all have the same gain."""
    if one.gain_step > 0 and one.length > 1:
        return one
    last = one.length - 1
    if one.gain_step < 0 and last:
        return Stretch(one.gain_at(last), one.rank_at(last), -one.gain_step, -one.rank_step, one.length)
    return Stretch(one.gain, min(one.rank, one.rank_at(last)), 0, 0, 1)


def _measured(one: Stretch, low: int, step: int) -> Stretch:
    """A stretch with its gains above the lowest of its article, in steps that all gains share."""
    return one._replace(gain=(one.gain - low) // step, gain_step=one.gain_step // step)


def _with_article(table: _Table, stretches: Sequence[Stretch]) -> _Table:
    grown: _Table = [None] * len(table)
    for one in stretches:
        for gain, rank in enumerate(_with_stretch(table, one)):
            known = grown[gain]
            if rank is not None and (known is None or rank < known):
                grown[gain] = rank
    return grown


def _with_stretch(table: _Table, one: Stretch) -> _Table:
    """The table when one option of a stretch is taken: at each gain, the least over all its options."""
    grown: _Table = [None] * len(table)
    pace = max(one.gain_step, 1)
    bottom = table[0]
    for first in range(min(pace, len(table))):
        #: Places of the table whose rank, less what the line rises up to them, is the least so far, the least first.
        window: deque[tuple[int, int]] = deque()
        for place in range(len(range(first, len(table), pace))):
            # What the first option brings is added last: so the window is of gains before any option.
            before = table[first + place * pace]
            if before is not None:
                level = before - place * one.rank_step
                while window and window[-1][1] >= level:
                    window.pop()
                window.append((place, level))
            while window and window[0][0] <= place - one.length:
                window.popleft()
            at = first + place * pace + one.gain
            if window and at < len(table):
                grown[at] = window[0][1] + place * one.rank_step + one.rank
    # Whoever gains more than is asked reaches it too: those options start from nothing gained.
    if bottom is not None:
        for gain in range(len(table)):
            past = max(-(-(gain - one.gain) // pace), 0)
            if past < one.length:
                rank = bottom + min(one.rank_at(past), one.rank_at(one.length - 1))
                known = grown[gain]
                grown[gain] = rank if known is None or rank < known else known
    return grown
