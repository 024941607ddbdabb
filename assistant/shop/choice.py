"""Which packs, and how many of each: the exact choice, in whole numbers.

Two questions: the least money that covers a need, and the most that some money buys. In both one thing
decides first, and ties are settled by the next: the order that `Choice` states. All of it is put into one
whole number, the rank of a count of an article: what decides first stands in its highest digits, then the
next, and so on, each with room for any sum. Ranks of counts add up to the rank of a purchase, no two
purchases have the same one, and the lowest rank is the one answer (`search` finds it and proves it).
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from itertools import accumulate
from math import gcd
from typing import Final, NamedTuple

from .bounds import Relaxation, Stretch, Stretches, Unreachable
from .runs import Article, Run, runs_to_cover, runs_to_spend
from .search import Found, lowest_rank

#: What is left over, or what more could be bought, is a trifle below this part of the whole: nobody can measure it.
TRIFLE: Final = 1e-6


class Choice(NamedTuple):
    """How many of each article, in their order.

    `best`: no purchase costs less (for a need) or gives more (for a sum of money). `settled`: no other
    purchase comes before it at that: less left over (for a need) or less money (for a sum), then fewer
    pieces, then more of the articles that stand first. Both are true unless the search ran out of room.
    `at_best` is what no purchase does better than: the least cost, or the most for the money.
    """

    counts: tuple[int, ...]
    best: bool = True
    settled: bool = True
    at_best: int = 0


def least_cost(articles: Sequence[Article], need: int) -> Choice | None:
    """The purchase that covers `need` steps of size for the least money; None where the stock is too small."""
    if need <= 0 or not articles:
        return Choice((0,) * len(articles)) if need <= 0 else None
    step = gcd(*(article.size for article in articles))
    need = -(-need // step)
    sizes = [article.size // step for article in articles]
    runs = [runs_to_cover(article._replace(size=size), need) for article, size in zip(articles, sizes, strict=True)]
    ranks = _Ranks(runs, lambda which, count, price: (price * count, sizes[which] * count))

    try:
        root = Relaxation(ranks.options(lambda which, count, _: sizes[which] * count), need)
    except Unreachable:
        return None

    def least(rank: int) -> int:
        """The least cost, where no purchase has a lower rank than this."""
        return ranks.first(rank, root.most_gain)

    def trifling(best: int, proved: int) -> bool:
        cost, size = ranks.values(best)
        return cost == least(proved) and size - need <= need * TRIFLE

    found = lowest_rank(root, trifling)
    return ranks.choice(found, least(found.lowest))._replace(at_best=least(found.lowest))


def most_for(articles: Sequence[Article], money: int) -> Choice:
    """The purchase that gives the most for at most `money`."""
    if not articles or money <= 0:
        return Choice((0,) * len(articles))
    runs = [runs_to_spend(article, money) for article in articles]
    tops = [max((run.high for run in one), default=0) for one in runs]
    sizes = [article.size for article in articles]
    # The most is the least that is missing from all there could be.
    ranks = _Ranks(runs, lambda which, count, price: (sizes[which] * (tops[which] - count), price * count))
    whole = sum(size * top for size, top in zip(sizes, tops, strict=True))

    root = Relaxation(ranks.options(lambda _, count, price: -price * count), -money)

    def most(rank: int) -> int:
        """The most that can be had, where no purchase has a lower rank than this."""
        return whole - ranks.first(rank, lambda _: money)

    def trifling(best: int, proved: int) -> bool:
        size = whole - ranks.values(best)[0]
        return most(proved) - size <= size * TRIFLE

    found = lowest_rank(root, trifling)
    return ranks.choice(found, whole - most(found.lowest))._replace(at_best=most(found.lowest))


def everything(articles: Sequence[Article]) -> tuple[int, ...] | None:
    """All that is in stock, or None where there is an article whose stock is not counted."""
    if any(article.most is None for article in articles):
        return None
    return tuple(article.most if article.most >= article.least else 0 for article in articles if article.most is not None)


#: Of an article by its place, a count and the price of each: some whole number, straight in the count.
_Measure = Callable[[int, int, int], int]


class _Ranks:
    """The ranks of the counts of some articles, and what stands in a rank.

    `values` of an article, a count and the price of each are the first two things that decide, never below
    nought; the number of pieces and the counts themselves come after them.
    """

    def __init__(self, runs: Sequence[Sequence[Run]], values: Callable[[int, int, int], tuple[int, int]]) -> None:
        self._runs = runs
        self._values = values
        self._tops = [max((run.high for run in one), default=0) for one in runs]
        #: What a piece of each article weighs in the last digits: the first article's the most.
        self._weights = list(accumulate((top + 1 for top in self._tops[:0:-1]), lambda one, other: one * other, initial=1))[::-1]
        self._count_room = self._weights[0] * (self._tops[0] + 1)
        self._piece_room = sum(self._tops) + 1
        self._second_room = 1 + sum(
            max((values(which, count, run.price)[1] for run in one for count in (0, run.high)), default=0)
            for which, one in enumerate(runs)
        )

    def _rank(self, which: int, count: int, price: int) -> int:
        first, second = self._values(which, count, price)
        fewer = (self._tops[which] - count) * self._weights[which]
        return ((first * self._second_room + second) * self._piece_room + count) * self._count_room + fewer

    def options(self, gain: _Measure) -> list[Stretches]:
        """The counts of each article, none included, with their ranks and what they bring towards the need."""
        return [tuple(self._stretches(which, gain)) for which in range(len(self._runs))]

    def _stretches(self, which: int, gain: _Measure) -> Iterable[Stretch]:
        runs = list(self._runs[which])
        if runs and runs[0].low == 1:
            runs[0] = runs[0]._replace(low=0)
        else:
            runs.insert(0, Run(0, 0, 0))
        for low, high, price in runs:
            first, then = ((gain(which, count, price), self._rank(which, count, price)) for count in (low, low + 1))
            yield Stretch(first[0], first[1], then[0] - first[0], then[1] - first[1], high - low + 1)

    def values(self, rank: int) -> tuple[int, int]:
        """The two things that decide first, of a whole purchase."""
        return divmod(rank // (self._count_room * self._piece_room), self._second_room)

    def first(self, rank: int, most_second: Callable[[int], int | None]) -> int:
        """The lowest that the first thing can be, where no purchase is below `rank`.

        `most_second` is the most that the second can be of a purchase whose rank is at most so much; None
        where it is not known.
        """
        first, second = self.values(rank)
        most = most_second((first + 1) * self._second_room * self._piece_room * self._count_room - 1)
        return first + 1 if most is not None and second > most else first

    def choice(self, found: Found, first: int) -> Choice:
        """The purchase that was found; `first` is the lowest that the first thing can be."""
        left = found.rank % self._count_room
        counts = []
        for top, weight in zip(self._tops, self._weights, strict=True):
            fewer, left = divmod(left, weight)
            counts.append(top - fewer)
        return Choice(tuple(counts), self.values(found.rank)[0] == first, found.rank == found.lowest)
