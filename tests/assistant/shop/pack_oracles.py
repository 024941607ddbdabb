"""The choice of packs worked out the slow way, to hold the quick one against. Nothing of the quick way is used."""

from __future__ import annotations

from collections.abc import Sequence

from assistant.shop.runs import Article

#: What decides between two purchases, the lower first: cost, size, pieces, and less of the first articles.
Key = tuple[int, int, int, tuple[int, ...]]


def price(article: Article, count: int) -> int:
    """What `count` of an article cost: the price of the last tier reached holds for all of them."""
    each = article.tiers[0][1]
    for start, reached in article.tiers:
        if count >= start:
            each = reached
    return count * each


def counts(article: Article, top: int) -> list[int]:
    """Every count of an article that may be bought, up to `top`."""
    most = top if article.most is None else min(article.most, top)
    return [0, *range(article.least, most + 1)]


def top_to_cover(article: Article, need: int) -> int:
    """More than this many never helps: they cover the need alone, at the last price there is."""
    return max(-(-need // article.size), article.least, article.tiers[-1][0])


def key(articles: Sequence[Article], bought: Sequence[int]) -> Key:
    return (
        sum(price(article, count) for article, count in zip(articles, bought, strict=True)),
        sum(article.size * count for article, count in zip(articles, bought, strict=True)),
        sum(bought),
        tuple(-count for count in bought),
    )


def _every(articles: Sequence[Article], tops: Sequence[int]) -> list[Key]:
    """Every purchase there is, up to so many of each."""
    every: list[Key] = [(0, 0, 0, ())]
    for article, top in zip(articles, tops, strict=True):
        taken = [(price(article, count), count * article.size, count) for count in counts(article, top)]
        every = [
            (cost + more_cost, size + more_size, pieces + count, (*first, -count))
            for cost, size, pieces, first in every
            for more_cost, more_size, count in taken
        ]
    return every


def every_to_cover(articles: Sequence[Article], need: int) -> tuple[int, ...] | None:
    """Tries every purchase. None where none covers the need."""
    every = _every(articles, [top_to_cover(article, need) for article in articles])
    best = min((one for one in every if one[1] >= need), default=None)
    return None if best is None else tuple(-count for count in best[3])


def every_to_spend(articles: Sequence[Article], money: int) -> tuple[int, ...]:
    """Tries every purchase for at most `money`: the most, then the least money, pieces, and first articles."""
    every = _every(articles, [money // article.tiers[-1][1] for article in articles])
    best = min((-size, cost, pieces, first) for cost, size, pieces, first in every if cost <= money)
    return tuple(-count for count in best[3])


def table_to_cover(articles: Sequence[Article], need: int) -> tuple[int, ...] | None:
    """A table of the best part purchase of each exact size, filled article by article."""
    best: Key | None = None
    table: dict[int, Key] = {0: (0, 0, 0, ())}
    for place, article in enumerate(articles):
        more: dict[int, Key] = {}
        rest = (0,) * (len(articles) - place - 1)
        for size, (cost, _, pieces, first) in table.items():
            for count in counts(article, top_to_cover(article, need)):
                held = size + count * article.size
                one = (cost + price(article, count), held, pieces + count, (*first, -count))
                if held >= need:
                    whole = (*one[:3], (*one[3], *rest))
                    best = whole if best is None else min(best, whole)
                elif held not in more or one < more[held]:
                    more[held] = one
        table = more
    return None if best is None else tuple(-count for count in best[3])
