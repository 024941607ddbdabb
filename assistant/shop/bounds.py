"""What a choice could come to at best: the straight-line relaxation.

A choice takes one option of each article. An option brings some `gain` towards the need and has a `rank`;
of all choices whose gain reaches the need, the one of the lowest rank is looked for. The relaxation takes
each article as if what lies on a straight line between two of its options could be had as well. Then the
best choice is easy: begin with the option of the lowest rank of each article and go up along the lines,
the flattest first, until the need is reached. No real choice comes below that.

Everything is a whole number or a fraction: nothing is rounded but towards the safe side.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterable, Sequence
from fractions import Fraction
from itertools import accumulate
from typing import NamedTuple


class Stretch(NamedTuple):
    """Options in a row: each has so much more gain and rank than the one before it."""

    gain: int
    rank: int
    gain_step: int
    rank_step: int
    length: int

    def gain_at(self, place: int) -> int:
        return self.gain + place * self.gain_step

    def rank_at(self, place: int) -> int:
        return self.rank + place * self.rank_step

    @property
    def gains(self) -> tuple[int, int]:
        """The lowest and the highest gain in it."""
        first, last = self.gain, self.gain_at(self.length - 1)
        return (first, last) if first <= last else (last, first)


Stretches = tuple[Stretch, ...]


class Part(NamedTuple):
    """A straight line of the relaxation, from one option of an article to another; gain and rank both rise."""

    slope: Fraction
    article: int
    low: int
    high: int
    start: int
    end: int


def lines_of(article: int, stretches: Stretches) -> tuple[tuple[int, int], list[Part]]:
    """The option of the lowest rank (at a tie, of the most gain) as gain and rank, and the lines up from there."""
    ends = {
        (one.gain_at(place), one.rank_at(place)) for one in stretches for place in ((0, one.length - 1) if one.length > 1 else (0,))
    }
    first = min(ends, key=lambda end: (end[1], -end[0]))
    corners = [first]
    for gain, rank in sorted(end for end in ends if end[0] > first[0]):
        if gain == corners[-1][0]:
            continue  # the same gain at a higher rank
        while len(corners) > 1 and _bends_down(corners[-2], corners[-1], (gain, rank)):
            corners.pop()
        corners.append((gain, rank))
    return first, [
        Part(Fraction(end - start, high - low), article, low, high, start, end)
        for (low, start), (high, end) in zip(corners, corners[1:], strict=False)
    ]


def _bends_down(first: tuple[int, int], middle: tuple[int, int], last: tuple[int, int]) -> bool:
    """Whether the straight line from the first to the last runs at or below the middle."""
    rise = (middle[1] - first[1]) * (last[0] - first[0])
    return rise >= (last[1] - first[1]) * (middle[0] - first[0])


class Filling:
    """The relaxation of some articles: the lowest rank for any gain."""

    def __init__(self, firsts: Iterable[tuple[int, int]], parts: list[Part]) -> None:
        firsts = list(firsts)
        #: The lines in use, the flattest first, with the gain and the rank at the end of each.
        self.parts = parts
        self.gains = list(accumulate((part.high - part.low for part in parts), initial=sum(gain for gain, _ in firsts)))
        self.ranks = list(accumulate((part.end - part.start for part in parts), initial=sum(rank for _, rank in firsts)))

    def reaching(self, gain: int) -> int:
        """The place of the line on which `gain` is reached; -1 where it is reached before the first, their number where nowhere."""
        return bisect_left(self.gains, gain) - 1

    def rank(self, gain: int) -> int | None:
        """The lowest rank for `gain` or more, rounded up; None where so much cannot be had."""
        place = self.reaching(gain)
        if place < 0:
            return self.ranks[0]
        if place == len(self.parts):
            return None
        part = self.parts[place]
        return self.ranks[place] - (-(gain - self.gains[place]) * (part.end - part.start) // (part.high - part.low))

    def below(self, slope: Fraction) -> int:
        """The gain that is reached along all lines flatter than `slope`."""
        return self.gains[bisect_left(self.parts, slope, key=lambda part: part.slope)]


class Relaxation:
    """The relaxation of a whole choice.

    `lowest`: no choice has a lower rank. `critical` is the line on which the need is reached, None where the
    options of the lowest rank do already; its slope, `rise / run`, is what one more step of gain costs in
    rank. Raises Unreachable where the need is more than all that can be had.
    """

    def __init__(self, articles: Sequence[Stretches], need: int) -> None:
        found = [lines_of(which, stretches) for which, stretches in enumerate(articles)]
        self.articles = articles
        self.need = need
        self._firsts = [first for first, _ in found]
        self._parts = sorted((part for _, parts in found for part in parts), key=lambda part: (part.slope, part.article))
        self._others: dict[int, Filling] = {}
        filling = Filling(self._firsts, self._parts)
        place = filling.reaching(need)
        if place == len(self._parts):
            raise Unreachable
        self.critical = self._parts[place] if place >= 0 else None
        slope = self.critical.slope if self.critical else Fraction(0)
        self.rise, self.run = slope.numerator, slope.denominator
        #: A choice that can always be had: the critical line gone to its end. Its rank.
        self.rounded_up = filling.ranks[place + 1]
        #: For each article, the least of `run × rank - rise × gain` among its options.
        self._least = [
            min(self._lifted(one.gain_at(place), one.rank_at(place)) for one in stretches for place in (0, one.length - 1))
            for stretches in articles
        ]
        self._bottom = self.rise * need + sum(self._least)
        self.lowest = -(-self._bottom // self.run)

    def _lifted(self, gain: int, rank: int) -> int:
        return self.run * rank - self.rise * gain

    def excess(self, which: int, stretch: Stretch) -> tuple[int, int]:
        """What the first option of a stretch costs above the relaxation, and what each further one adds to that.

        In steps of `1 / run` of a rank. A choice's rank is the relaxation's, and the excess of all its
        options, and what its gain above the need costs at the critical slope.
        """
        first = self._lifted(stretch.gain, stretch.rank) - self._least[which]
        return first, self._lifted(stretch.gain_step, stretch.rank_step)

    def allowed(self, rank: int) -> int:
        """The most excess of a choice whose rank is no more than `rank`."""
        return self.run * rank - self._bottom

    def most_gain(self, rank: int) -> int | None:
        """No choice of at most this rank has more gain; None where there is no such bound."""
        return self.need + self.allowed(rank) // self.rise if self.rise > 0 else None

    def others(self, which: int) -> Filling:
        """The relaxation of all articles but one."""
        if which not in self._others:
            firsts = (first for place, first in enumerate(self._firsts) if place != which)
            self._others[which] = Filling(firsts, [part for part in self._parts if part.article != which])
        return self._others[which]


class Unreachable(Exception):
    """All options together do not reach the need."""
