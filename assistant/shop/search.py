"""The search: the choice of options whose rank is lowest among all that reach a need, proved to be so.

A choice has to beat the best one known, so the excess of its options (`bounds`) may not sum to more than
the gap between that one and the relaxation. Within a reach below the gap, all part choices of one half of
the articles are listed, and all of the other half; each list keeps only those that no other is better than,
so that both rise in gain and in rank, and the best pair is found in going through both once. If the best
pair lies within the reach it is the best of all. Else the reach is widened, until it spans the gap.

Three things keep the lists short. A count is left out where even the relaxation of all other articles
cannot make good for it. An article whose count is certain to lie inside one straight run is not listed at
all: its count follows by division, and part choices are compared by what is left after whole pieces of it.
And where the relaxation leans on a line between two options that has nothing on it, such as the step up to
a price break, the search is split in two: below that step, and from it on.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Callable, Sequence
from fractions import Fraction
from heapq import heappop, heappush
from itertools import count
from math import gcd
from typing import Final, NamedTuple

from .bounds import Relaxation, Stretch, Unreachable
from .table import rank_by_table

#: All of these only bound the work; none of them changes what is found, but for how much of it is proved.
#: About how many choices the first reach may span.
FIRST_REACH: Final = 20_000
#: How much farther each further reach goes.
FARTHER: Final = (17, 10)
#: The longest list: before a search is split in two where it can be; where what is left to prove is a trifle; at all.
BEFORE_SPLIT: Final = 2_000
FOR_TRIFLES: Final = 2_000
AT_ALL: Final = 5_000
#: How many times as long a list may grow before those that others are better than are dropped from it.
UNSIFTED: Final = 4
#: Two pieces have a common measure where it is at least this part of the smaller one.
KIN: Final = 8
#: How many searches one may be split into.
SPLITS: Final = 60


class Found(NamedTuple):
    """The lowest rank that was found, and the rank that no choice goes below: the same where it is proved."""

    rank: int
    lowest: int


#: A part choice: rank, gain, excess, and the pieces that were taken off for whole pieces of the free article.
_Part = tuple[int, int, int, int]


class _Free(NamedTuple):
    """The article whose count follows by division: its options, and the gain (above zero) and rank of one more piece."""

    which: int
    stretch: Stretch
    gain: int
    rank: int


class _TooMany(Exception):
    """A list has grown too long."""


def lowest_rank(root: Relaxation, trifling: Callable[[int, int], bool]) -> Found:
    """The lowest rank of a choice of one option of each article whose gain reaches the need.

    `trifling` says of the best rank so far, and the rank that is proved, whether what is left to prove is
    worth little effort.
    """
    best = root.rounded_up
    numbers = count()
    waiting = [(root.lowest, next(numbers), root)]
    proved = best
    for _ in range(SPLITS):
        if not waiting or waiting[0][0] >= best:
            break
        relaxation = heappop(waiting)[-1]
        two = _split(relaxation)
        best, below = _widened(relaxation, best, two is not None, trifling)
        if below >= best:
            continue
        if two is None:
            proved = min(proved, below)
        for one in two or ():
            best = min(best, one.rounded_up)
            heappush(waiting, (max(one.lowest, below), next(numbers), one))
    lowest = min([proved, best, *(lowest for lowest, _, _ in waiting)])
    if lowest < best:
        exact = rank_by_table(root)
        if exact is not None:
            return Found(exact, exact)
    return Found(best, lowest)


def _widened(relaxation: Relaxation, best: int, can_be_split: bool, trifling: Callable[[int, int], bool]) -> tuple[int, int]:
    """The best rank after going as far as lists allow, and the rank below which nothing is left; at most the best."""
    reach = _first_reach(relaxation, best)
    below = relaxation.lowest
    while below < best:
        longest = BEFORE_SPLIT if can_be_split else FOR_TRIFLES if trifling(best, below) else AT_ALL
        limit = min(relaxation.lowest + reach, best - 1)
        try:
            best = min(best, _pass(relaxation, limit, longest, best))
        except _TooMany:
            break
        below = min(limit + 1, best)
        reach = reach * FARTHER[0] // FARTHER[1] + 1
    return best, below


def _first_reach(relaxation: Relaxation, best: int) -> int:
    """How far above the relaxation about so many choices lie: to a power of two."""
    gap = best - relaxation.lowest
    low, high = 0, gap.bit_length()
    while high - low > 1:
        middle = (low + high) // 2
        if _about(relaxation, relaxation.allowed(relaxation.lowest + (1 << middle))) <= FIRST_REACH:
            low = middle
        else:
            high = middle
    return 1 << low


def _about(relaxation: Relaxation, limit: int) -> int:
    """About how many choices keep to so much excess; not counted far past what is asked."""
    choices = 1
    for which, stretches in enumerate(relaxation.articles):
        choices *= max(sum(high - low + 1 for low, high in (_within(relaxation, which, one, limit) for one in stretches)), 1)
        if choices > FIRST_REACH:
            break
    return choices


def _within(relaxation: Relaxation, which: int, stretch: Stretch, limit: int) -> tuple[int, int]:
    """The first and the last place of a stretch that keep to so much excess by themselves; last before first for none."""
    excess, step = relaxation.excess(which, stretch)
    last = stretch.length - 1
    if step > 0:
        return 0, min(last, (limit - excess) // step)
    if step < 0:
        return max(0, -((limit - excess) // -step)), last
    return (0, last) if excess <= limit else (0, -1)


# ---- what could be part of a better choice ------------------------------------------------------------------


class _Window(NamedTuple):
    """The places of a stretch that could be part of a choice within the limit."""

    stretch: Stretch
    first: int
    last: int


def _windows(relaxation: Relaxation, which: int, limit: int, worst: int) -> list[_Window]:
    """The options of an article that could be part of a choice of at most the rank `worst`."""
    near = [_Window(one, *_within(relaxation, which, one, limit)) for one in relaxation.articles[which]]
    near = [one for one in near if one.first <= one.last]
    if sum(one.last - one.first for one in near) + len(near) < 2:
        return near
    others = relaxation.others(which)

    def fits(stretch: Stretch, place: int) -> bool:
        rest = others.rank(relaxation.need - stretch.gain_at(place))
        return rest is not None and stretch.rank_at(place) + rest <= worst

    kept = []
    for stretch, first, last in near:
        # What an option and the rest come to at best has one lowest place: outwards from there it only rises.
        middle = last
        if last > first:
            level = others.below(_slope(stretch))
            middle = min(max((relaxation.need - stretch.gain - level) // stretch.gain_step, first), last)
        if not fits(stretch, middle):
            middle = min(middle + 1, last)
            if not fits(stretch, middle):
                continue
        low = bisect_left(range(first, middle), True, key=lambda place, stretch=stretch: fits(stretch, place)) + first  # type: ignore[misc]
        high = bisect_left(range(middle + 1, last + 1), True, key=lambda place, stretch=stretch: not fits(stretch, place)) + middle  # type: ignore[misc]
        kept.append(_Window(stretch, low, high))
    return kept


def _slope(stretch: Stretch) -> Fraction:
    return Fraction(stretch.rank_step, stretch.gain_step)


def _free(relaxation: Relaxation, windows: Sequence[list[_Window]]) -> _Free | None:
    """The article of the most counts that lie inside one stretch, its ends out of reach, at the critical slope.

    For such an article a count before its first or past its last cannot be part of a choice within the reach
    either, since what it and the rest come to at best only rises outwards. So its count may be taken as any
    whole number, and comes out as one that there is.
    """
    best: _Free | None = None
    most = 2
    for which, open_ in enumerate(windows):
        if len(open_) != 1:
            continue
        stretch, first, last = open_[0]
        inside = first > 0 and last < stretch.length - 1
        if inside and last - first >= most and relaxation.excess(which, stretch)[1] == 0:
            most = last - first + 1
            up = 1 if stretch.gain_step > 0 else -1
            best = _Free(which, stretch, up * stretch.gain_step, up * stretch.rank_step)
    return best


# ---- one pass: two lists, and the best pair -----------------------------------------------------------------


def _pass(relaxation: Relaxation, worst: int, longest: int, best: int) -> int:
    """The lowest rank of a choice, and certainly of all that are no more than `worst`; `best` where it finds none below it.

    Raises _TooMany where a list would be longer than `longest`.
    """
    limit = relaxation.allowed(worst)
    windows = [_windows(relaxation, which, limit, worst) for which in range(len(relaxation.articles))]
    if not all(windows):
        return best
    free = _free(relaxation, windows)
    halves: list[list[_Part]] = [[(0, 0, 0, 0)], [(0, 0, 0, 0)]]
    pieces: tuple[list[int], list[int]] = ([], [])
    # Those with one option only cost nothing while the lists are short; then the longest first, for an even share.
    for which in sorted(range(len(windows)), key=lambda which: (_options(windows[which]) > 1, -_options(windows[which]))):
        if free is not None and which == free.which:
            continue
        half = 0 if len(halves[0]) <= len(halves[1]) else 1
        if _options(windows[which]) > 1:
            # Articles whose pieces have a common measure meet in the same gains, so they go into one half.
            piece = abs(windows[which][-1].stretch.gain_step)
            half = next((place for place in (0, 1) if any(_akin(piece, other) for other in pieces[place])), half)
            pieces[half].append(piece)
        halves[half] = _longer(halves[half], relaxation, which, windows[which], limit, free, longest)
    first, second = halves
    return _best_pair(first, second, relaxation.need, best) if free is None else _best_turn(first, second, relaxation.need, free, best)


def _options(windows: list[_Window]) -> int:
    return sum(last - first + 1 for _, first, last in windows)


def _akin(piece: int, other: int) -> bool:
    return gcd(piece, other) * KIN >= min(piece, other)


def _longer(
    parts: list[_Part], relaxation: Relaxation, which: int, windows: list[_Window], limit: int, free: _Free | None, longest: int
) -> list[_Part]:
    """The part choices with every option of one more article, without those that another is better than."""
    grown: list[_Part] = []
    gains = [part[1] for part in parts]
    for stretch, first, last in windows:
        excess, step = relaxation.excess(which, stretch)
        for place in range(first, last + 1):
            gain, rank, over = stretch.gain_at(place), stretch.rank_at(place), excess + place * step
            room = limit - over
            if free is None:
                grown += [(r + rank, g + gain, e + over, t) for r, g, e, t in parts if e <= room]
                continue
            # Only what is left after whole pieces of the free article tells part choices apart.
            taken, gain = divmod(gain, free.gain)
            rank -= taken * free.rank
            past = bisect_left(gains, free.gain - gain)
            grown += [(r + rank, g + gain, e + over, t + taken) for r, g, e, t in parts[:past] if e <= room]
            rank, gain, taken = rank - free.rank, gain - free.gain, taken + 1
            grown += [(r + rank, g + gain, e + over, t + taken) for r, g, e, t in parts[past:] if e <= room]
        if len(grown) > UNSIFTED * longest:
            raise _TooMany
    kept = _undominated(grown)
    if free is not None and kept:
        # What one more piece of the free article turns the first into is better than whatever ranks above that.
        kept = kept[: bisect_left(kept, kept[0][0] + free.rank, key=lambda part: part[0])]
    if len(kept) > longest:
        raise _TooMany
    return kept


def _undominated(parts: list[_Part]) -> list[_Part]:
    """Those of which no other has as low a rank and as much gain: in order of both."""
    parts.sort()
    kept: list[_Part] = []
    most: int | None = None
    for part in parts:
        if most is None or part[1] > most:
            most = part[1]
            kept.append(part)
    return kept


def _best_pair(first: list[_Part], second: list[_Part], need: int, best: int) -> int:
    """The lowest rank of two part choices that reach the need together, where it is below `best`."""
    at = len(second)
    for rank, gain, _, _ in first:
        while at > 0 and second[at - 1][1] >= need - gain:
            at -= 1
        if at < len(second):
            best = min(best, rank + second[at][0])
    return best


def _best_turn(first: list[_Part], second: list[_Part], need: int, free: _Free, best: int) -> int:
    """The same where the rest of the need is covered with whole pieces of the free article."""
    gains = [part[1] for part in second]
    need, base = need - free.stretch.gain, free.stretch.rank
    for rank, gain, _, taken in first:
        pieces, rest = divmod(need - gain, free.gain)
        at = bisect_left(gains, rest)
        # One that brings the rest, or the lowest of all with one piece more.
        for place, number in ((at, pieces), (0, pieces + 1)):
            if place < len(second) and rank + second[place][0] + number * free.rank + base < best and _there_is(
                free, number - taken - second[place][3]
            ):  # fmt: skip
                best = rank + second[place][0] + number * free.rank + base
    return best


def _there_is(free: _Free, pieces: int) -> bool:
    """Whether so many pieces of the free article, counted from its first option, are among its options."""
    place = pieces if free.stretch.gain_step > 0 else -pieces
    return 0 <= place < free.stretch.length


# ---- splitting ----------------------------------------------------------------------------------------------


def _split(relaxation: Relaxation) -> list[Relaxation] | None:
    """The search in two, at a critical line that no stretch lies along; None where there is none such."""
    line = relaxation.critical
    if line is None:
        return None
    stretches = relaxation.articles[line.article]
    if any(one.gains[0] <= line.low and line.high <= one.gains[1] for one in stretches):
        return None
    below = tuple(one for one in stretches if one.gains[1] < line.high)
    above = tuple(one for one in stretches if one.gains[1] >= line.high)
    if not below or not above:
        return None
    two = []
    for part in (below, above):
        try:
            articles = [part if which == line.article else one for which, one in enumerate(relaxation.articles)]
            two.append(Relaxation(articles, relaxation.need))
        except Unreachable:
            continue
    return two
