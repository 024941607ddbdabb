"""One pack as the choice sees it: whole numbers, and the runs of counts that are worth looking at.

Sizes and prices are whole numbers here (steps of a common measure, minor units of the currency), so
that nothing in the choice is ever rounded. A run is a stretch of counts at one price each.
"""

from __future__ import annotations

from typing import NamedTuple


class Article(NamedTuple):
    """One pack: its size, its prices, and how many may be bought.

    `tiers` are (from this count, price of each): the first starts at 1, starts rise and prices fall, and
    the price of the tier reached holds for every piece. `least` is 1 or more; `most` is None where the
    stock is not counted.
    """

    size: int
    tiers: tuple[tuple[int, int], ...]
    least: int = 1
    most: int | None = None

    def price(self, count: int) -> int:
        """The price of each when `count` are bought."""
        return next(each for start, each in reversed(self.tiers) if start <= count)

    @property
    def cheapest(self) -> int:
        """The price of each at the last tier."""
        return self.tiers[-1][1]


class Run(NamedTuple):
    """The counts from `low` to `high`, all at one price each."""

    low: int
    high: int
    price: int


def runs_to_cover(article: Article, need: int) -> list[Run]:
    """The counts that could cover a part of `need`, or all of it, for the least money; none of it is no run."""
    enough = -(-need // article.size)
    # Past what covers the need alone, only the first count of a cheaper tier can pay.
    return [Run(low, min(high, max(low, enough)), price) for low, high, price in _runs(article, max(enough, _last_start(article)))]


def runs_to_spend(article: Article, money: int) -> list[Run]:
    """The counts that `money` pays for; none of it is no run."""
    return [
        Run(low, min(high, money // price), price)
        for low, high, price in _runs(article, money // article.cheapest)
        if low * price <= money
    ]


def _last_start(article: Article) -> int:
    return max(article.least, article.tiers[-1][0])


def _runs(article: Article, top: int) -> list[Run]:
    most = top if article.most is None else min(article.most, top)
    ends = [start - 1 for start, _ in article.tiers[1:]] + [most]
    runs = (
        Run(max(start, article.least), min(end, most), price) for (start, price), end in zip(article.tiers, ends, strict=True)
    )
    return [run for run in runs if run.low <= run.high]
