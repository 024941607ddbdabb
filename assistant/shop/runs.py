"""One pack as the choice sees it: whole numbers, and the runs of counts that are worth looking at.

Sizes and prices are whole numbers here (steps of a common measure, minor units of the currency), so
that nothing in the choice is ever rounded. A run is a stretch of counts at one price each.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Final, NamedTuple

#: How many counts are tried before a run is left as long as it stands. It only bounds the work.
TRIES: Final = 300
#: How many of the cheapest articles by size are tried in the place of another. It only bounds the work.
SWAPS: Final = 24


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


class Shelf(NamedTuple):
    """The articles of one choice with their runs.

    `plenty` marks those of which one more can always be had, at no more than the first price.
    """

    articles: tuple[Article, ...]
    runs: tuple[tuple[Run, ...], ...]
    plenty: tuple[bool, ...]

    def capacity(self, which: int) -> int:
        """The most that one article can give."""
        return self.articles[which].size * max((run.high for run in self.runs[which]), default=0)

    def price(self, which: int) -> int:
        """The lowest price each that an article can be had at."""
        return min(run.price for run in self.runs[which])

    def rate(self, which: int) -> float:
        """The lowest price of one step of size."""
        return self.price(which) / self.articles[which].size


def shelf_to_cover(articles: Sequence[Article], need: int) -> Shelf:
    """The counts worth looking at to cover `need` (above zero) for the least money, and at a tie the least left over."""
    enough = [-(-need // article.size) for article in articles]
    runs: list[list[Run]] = []
    for article, count in zip(articles, enough, strict=True):
        top = max(count, article.least, *(start for start, _ in article.tiers))
        # Past what covers the need alone, only the first count of a cheaper tier can pay.
        stretches = [Run(low, min(high, max(low, count)), price) for low, high, price in _stretches(article, top)]
        # A count is out where a later tier gives more for less money.
        runs.append(_undercut(stretches, lambda cost, price: cost // price))
    plenty = [
        [article.most is None or article.most >= max(count, start, article.least) for start, _ in article.tiers]
        for article, count in zip(articles, enough, strict=True)
    ]
    return _without_swaps(articles, runs, plenty, more_is_better=False)


def shelf_to_spend(articles: Sequence[Article], money: int) -> Shelf:
    """The counts worth looking at to get the most for at most `money`, and at a tie for the least of it."""
    runs: list[list[Run]] = []
    for article in articles:
        stretches = [
            Run(low, min(high, money // price), price)
            for low, high, price in _stretches(article, money // article.cheapest)
            if low * price <= money
        ]
        # Here a later tier is the better one at the same money too.
        runs.append(_undercut(stretches, lambda cost, price: (cost - 1) // price))
    plenty = [[article.most is None or article.most >= money // article.cheapest for _ in article.tiers] for article in articles]
    return _without_swaps(articles, runs, plenty, more_is_better=True)


def _stretches(article: Article, top: int) -> list[Run]:
    most = top if article.most is None else min(article.most, top)
    ends = [start - 1 for start, _ in article.tiers[1:]] + [most]
    runs = (
        Run(max(start, article.least), min(end, most), price) for (start, price), end in zip(article.tiers, ends, strict=True)
    )
    return [run for run in runs if run.low <= run.high]


def _undercut(runs: list[Run], highest: Callable[[int, int], int]) -> list[Run]:
    kept = []
    for place, run in enumerate(runs):
        high = min([run.high, *(highest(later.low * later.price, run.price) for later in runs[place + 1 :])])
        if high >= run.low:
            kept.append(run._replace(high=high))
    return kept


class _Swap(NamedTuple):
    """An article that can always be had: `least` or more of it at no more than `price` each."""

    size: int
    least: int
    price: int
    which: int


def _without_swaps(articles: Sequence[Article], runs: list[list[Run]], plenty: list[list[bool]], more_is_better: bool) -> Shelf:
    """Shortens each run to the counts that no other article could take the place of.

    Where so many pieces can be swapped for pieces of an article that cannot run out, and the purchase
    is then better, no best purchase holds them: taking them off must leave the count in its run, or at
    nothing. The swapped-in pieces cost no more than their tier's price each, whatever was there before,
    since the price of all falls as the count rises.
    """
    swaps = [
        _Swap(article.size, max(start, article.least), price, which)
        for which, article in enumerate(articles)
        for (start, price), ample in zip(article.tiers, plenty[which], strict=True)
        if ample
    ]
    swaps.sort(key=lambda swap: swap.price / swap.size)
    del swaps[SWAPS:]

    def swapped(which: int, count: int, price: int) -> bool:
        size, cost = articles[which].size * count, price * count
        for swap in swaps:
            if swap.which == which:
                continue
            if swap.price * size > cost * swap.size:
                return False  # Dearer by size, as are all that follow.
            other = max(swap.least, -(-size // swap.size))
            other_cost, other_size = other * swap.price, other * swap.size
            if other_cost < cost or (more_is_better and other_cost == cost and other_size > size):
                return True
            if other_cost == cost and other_size == size and (other, swap.which) < (count, which):
                return True
        return False

    kept: list[tuple[Run, ...]] = []
    for which, stretch in enumerate(runs):
        shorter = []
        for low, high, price in stretch:
            off = high - low if low > 1 else high
            first = next((count for count in range(1, min(off, TRIES) + 1) if swapped(which, count, price)), None)
            if first is not None:
                high = min(high, low + first - 1 if low > 1 else first - 1)
            if high >= low:
                shorter.append(Run(low, high, price))
        kept.append(tuple(shorter))
    return Shelf(
        tuple(articles),
        tuple(kept),
        tuple(article.least == 1 and ample[0] for article, ample in zip(articles, plenty, strict=True)),
    )
