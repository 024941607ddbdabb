"""What the articles that are still to be looked at could do at best: the straight-line relaxation.

Each article is taken as if it could be had in any fraction at its lowest price, up to the most of it;
the cheapest by size go first. No purchase of whole pieces can do better than that.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable
from itertools import accumulate
from math import inf

from .runs import Shelf


class Bound:
    """The relaxation over some articles of a shelf. Its answers are floats: compare them with a margin."""

    __slots__ = ("costs", "rates", "sizes")

    def __init__(self, shelf: Shelf, which: Iterable[int]) -> None:
        parts = sorted((shelf.rate(one), shelf.capacity(one)) for one in which)
        #: Size and cost reached when the cheapest parts are used up, part by part, from nothing.
        self.sizes = list(accumulate((size for _, size in parts), initial=0))
        self.costs = list(accumulate((rate * size for rate, size in parts), initial=0.0))
        self.rates = [rate for rate, _ in parts]

    def cost(self, size: int) -> float:
        """The least money for `size`; infinite where the articles cannot give so much."""
        if size <= 0:
            return 0.0
        sizes = self.sizes
        if size > sizes[-1]:
            return inf
        part = bisect_right(sizes, size - 1) - 1
        return self.costs[part] + (size - sizes[part]) * self.rates[part]

    def size(self, money: int) -> float:
        """The most that `money` could get."""
        costs = self.costs
        if money >= costs[-1]:
            return float(self.sizes[-1])
        part = bisect_right(costs, money) - 1
        return self.sizes[part] + (money - costs[part]) / self.rates[part]

    def cheaper_than(self, rate: float) -> int:
        """How much of it costs no more by size than `rate`."""
        return self.sizes[bisect_right(self.rates, rate)]

    def money_cheaper_than(self, rate: float) -> int:
        """The money that goes into what costs no more by size than `rate`, rounded down."""
        return int(self.costs[bisect_right(self.rates, rate)])
