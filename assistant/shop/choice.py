"""Which packs, and how many of each: the exact choice, in whole numbers.

Two questions: the least money that covers a need, and the most that some money buys. Both go through
the articles one by one and keep every part purchase that could still become the best one: a part
purchase is dropped when another one is better however both go on, or when even the straight-line
relaxation of what is left (`bounds`) cannot make it as good as a purchase already found. The purchase
that comes out is the best there is; at equal worth the order that `Choice` states decides, so that
there is one answer only.

The last article is never gone through: for each part purchase its count follows by division.
"""

from __future__ import annotations

from abc import ABC, abstractmethod
from bisect import bisect_right
from collections.abc import Sequence
from math import ceil, gcd, inf
from typing import Final, NamedTuple

from .bounds import Bound
from .runs import Article, Run, Shelf, shelf_to_cover, shelf_to_spend

#: The part purchases kept at each step of the first pass, and how many times more in each pass after it. A
#: pass that has to leave none out is exact; one that does still finds a good purchase, which prunes the next.
NARROW: Final = 20
WIDER: Final = 4
#: The part purchases looked at before the search stops and says that its best is not proved. A shop's
#: own packs take some thousands; only sizes and prices made for the purpose come near this.
ROOM: Final = 120_000
#: The same once the least cost is found and proved, and only ties are left to settle; and once what is left
#: over, or what more money could buy, is less than a millionth, which nobody can measure.
ROOM_FOR_TIES: Final = 60_000
ROOM_FOR_A_HAIR: Final = 30_000
_HAIR: Final = 1e-6
#: How far a float of the relaxation may be off, as a part of it.
_MARGIN: Final = 1e-11

#: A part purchase: cost, size, pieces, and the counts of all articles in one number (see `_Aim.weights`),
#: negative, so that of two equal ones the one with more of the first article is the lower.
_Part = tuple[int, int, int, int]


class Choice(NamedTuple):
    """How many of each article, in their order.

    `best`: no purchase costs less (for a need) or gives more (for a sum of money). `settled`: no other
    purchase comes before it at that: less left over (for a need) or less money (for a sum), then fewer
    pieces, then more of the articles that stand first. Both are true unless the search ran out of room.
    """

    counts: tuple[int, ...]
    best: bool = True
    settled: bool = True


def least_cost(articles: Sequence[Article], need: int) -> Choice | None:
    """The purchase that covers `need` steps of size for the least money; None where the stock is too small."""
    if need <= 0:
        return Choice((0,) * len(articles))
    if not articles or _supply(articles, need) < need:
        return None
    step = gcd(*(article.size for article in articles))
    articles = [article._replace(size=article.size // step) for article in articles]
    need = -(-need // step)
    return _ToCover(shelf_to_cover(articles, need), need).found()


def most_for(articles: Sequence[Article], money: int) -> Choice:
    """The purchase that gives the most for at most `money`.

    Of all that give as much it is the one that covers so much for the least money, so that the second
    question settles the ties of the first.
    """
    nothing = Choice((0,) * len(articles))
    if not articles:
        return nothing
    step = gcd(*(article.size for article in articles))
    articles = [article._replace(size=article.size // step) for article in articles]
    shelf = shelf_to_spend(articles, money)
    if not any(shelf.runs):
        return nothing
    most = _ToSpend(shelf, money).found()
    if not most.best:
        return most
    size = sum(count * article.size for count, article in zip(most.counts, articles, strict=True))
    least = least_cost(articles, size)
    return most if least is None else least._replace(best=True)


def everything(articles: Sequence[Article]) -> tuple[int, ...] | None:
    """All that is in stock, or None where there is an article whose stock is not counted."""
    if any(article.most is None for article in articles):
        return None
    return tuple(article.most if article.most >= article.least else 0 for article in articles if article.most is not None)


def _supply(articles: Sequence[Article], need: int) -> int:
    whole = everything(articles)
    return need if whole is None else sum(count * article.size for count, article in zip(whole, articles, strict=True))


class _OutOfRoom(Exception):
    """The search has looked at as many part purchases as it may."""


class _Aim(ABC):
    """One search: the articles in the order they are gone through, and the best purchase so far."""

    def __init__(self, shelf: Shelf) -> None:
        self.shelf = shelf
        live = [which for which, runs in enumerate(shelf.runs) if runs]
        by_rate = sorted(live, key=lambda one: (shelf.rate(one), -shelf.articles[one].size, one))
        self.last = self._critical(by_rate)
        rate = shelf.rate(self.last)
        # An article whose price is far from what its size is worth at the critical rate leaves few counts
        # open, all or none of it: such go first, while there is little to multiply.
        self.order = sorted(
            (which for which in live if which != self.last),
            key=lambda one: abs(shelf.price(one) - rate * shelf.articles[one].size),
            reverse=True,
        )
        self.after = [Bound(shelf, [*self.order[place + 1 :], self.last]) for place in range(len(self.order))]
        self.whole = Bound(shelf, live)
        # Each article's count has its own digits of one number, the first article's the highest.
        digits = max(run.high for runs in shelf.runs for run in runs).bit_length() + 1
        self.weights = [1 << digits * place for place in reversed(range(len(shelf.articles)))]
        self.digits = digits
        self.best: _Part | None = None
        self.limit = inf
        self.ahead = self.whole
        self.room = ROOM

    @abstractmethod
    def _critical(self, by_rate: list[int]) -> int:
        """The article at which the relaxation is used up, going by rate."""

    @abstractmethod
    def least(self, cost: int, size: int) -> float:
        """A bound on the first thing to be least, for all that a part purchase can become."""

    @abstractmethod
    def full(self, part: _Part) -> bool:
        """Whether nothing may be added to a part purchase; if it is a purchase it is weighed."""

    @abstractmethod
    def close(self, part: _Part) -> None:
        """Weighs the purchases that a part purchase makes with the last article."""

    @abstractmethod
    def around(self, part: _Part, run: Run, article: Article) -> int:
        """About the count of a run that suits a part purchase best."""

    @abstractmethod
    def sift(self, parts: list[_Part]) -> list[_Part]:
        """Drops each part purchase that another is better than, however both go on."""

    @abstractmethod
    def proof(self) -> tuple[bool, bool]:
        """What the bounds alone prove of the best purchase: `best`, `settled`."""

    def found(self) -> Choice:
        """The best purchase."""
        try:
            width = NARROW
            while not self._search(width):
                width *= WIDER
            proved = (True, True)
        except _OutOfRoom:
            proved = self.proof()
        assert self.best is not None, "a part purchase that could be completed was dropped"
        code, mask = -self.best[3], (1 << self.digits) - 1
        return Choice(tuple(code // weight & mask for weight in self.weights), *proved)

    def _search(self, width: int) -> bool:
        """One pass, with at most so many part purchases kept at each step. Whether none had to be left out."""
        nothing = (0, 0, 0, 0)
        parts: list[_Part] = [nothing]
        whole = True
        self.close(nothing)
        for place, which in enumerate(self.order):
            self.ahead = self.after[place]
            parts = self._grown(parts, which)
            if place + 1 < len(self.order):
                parts = self.sift(parts)
                if len(parts) > width:
                    whole = False
                    parts = sorted(parts, key=lambda part: (self.least(part[0], part[1]), part))[:width]
            for part in parts:
                self.close(part)
        return whole

    def _grown(self, parts: list[_Part], which: int) -> list[_Part]:
        """The part purchases with every count of one more article that could still become the best."""
        article, weight = self.shelf.articles[which], self.weights[which]
        least, full = self.least, self.full
        grown: list[_Part] = []
        for part in parts:
            cost, size, pieces, code = part
            if least(cost, size) <= self.limit:
                grown.append(part)
            for run in self.shelf.runs[which]:
                low, high, price = run
                # The bound is convex in the count: from the best place outwards it only gets worse.
                middle = min(max(self.around(part, run, article) + 1, low), high + 1)
                for counts, upward in ((range(middle, high + 1), True), (range(middle - 1, low - 1, -1), False)):
                    for count in counts:
                        more = (cost + count * price, size + count * article.size, pieces + count, code - count * weight)
                        if full(more):
                            if upward:
                                break
                            continue
                        if least(more[0], more[1]) > self.limit:
                            break
                        grown.append(more)
                        if len(grown) > self.room:
                            raise _OutOfRoom
        self.room -= len(grown)
        return grown

    def _modulo_last(self, parts: list[_Part], tie_is_worse: bool) -> list[_Part]:
        """Drops the part purchases that another one with some more of the last article is better than.

        Only for a last article of which one more can always be had. `tie_is_worse`: of two part
        purchases at equal money the one with the smaller size is dropped.
        """
        last = self.shelf.articles[self.last]
        price, weight = last.tiers[0][1], self.weights[self.last]
        kept: list[_Part] = []
        best_at: dict[int, tuple[int, int, int]] = {}
        stair: list[tuple[int, int]] = []
        lowest: float = inf
        for part in sorted(parts, key=lambda part: (part[1], part)):
            times, rest = divmod(part[1], last.size)
            cost = part[0] - times * price
            mark = (cost, part[2] - times, part[3] + times * weight)
            if cost > lowest + price or (tie_is_worse and cost == lowest + price):
                continue
            at = bisect_right(stair, (rest, -inf))
            if at < len(stair):
                above, above_cost = stair[at]
                if above_cost < cost or (tie_is_worse and above > rest and above_cost == cost):
                    continue
            if rest in best_at and best_at[rest] <= mark:
                continue
            first = at
            while first > 0 and stair[first - 1][1] >= cost:
                first -= 1
            if at == len(stair) or stair[at][1] > cost:
                stair[first:at] = [(rest, cost)]
            else:
                del stair[first:at]
            lowest = min(lowest, cost)
            best_at[rest] = mark
            kept.append(part)
        return kept


class _ToCover(_Aim):
    """The least money for a need; then the least left over, then the fewest pieces."""

    def __init__(self, shelf: Shelf, need: int) -> None:
        self.need = need
        super().__init__(shelf)
        self.lowest = ceil(self.whole.cost(need) * (1 - _MARGIN))
        self._weigh(self._greedy())

    def _critical(self, by_rate: list[int]) -> int:
        reached = 0
        for which in by_rate:
            reached += self.shelf.capacity(which)
            if reached >= self.need:
                return which
        return by_rate[-1]

    def _greedy(self) -> _Part:
        """A purchase that covers the need, the cheapest by size first."""
        cost = size = pieces = code = 0
        for which in sorted(range(len(self.shelf.articles)), key=lambda one: self._first_rate(one)):
            article = self.shelf.articles[which]
            count = max(-(-(self.need - size) // article.size), article.least)
            if article.most is not None:
                count = min(count, article.most)
            if size < self.need and count >= article.least:
                cost += count * article.price(count)
                size += count * article.size
                pieces += count
                code -= count * self.weights[which]
        return cost, size, pieces, code

    def _first_rate(self, which: int) -> float:
        article = self.shelf.articles[which]
        return article.price(article.least) / article.size

    def least(self, cost: int, size: int) -> float:
        return cost + self.ahead.cost(self.need - size)

    def full(self, part: _Part) -> bool:
        if part[1] < self.need:
            return False
        self._weigh(part)
        return True

    def close(self, part: _Part) -> None:
        cost, size, pieces, code = part
        article, weight = self.shelf.articles[self.last], self.weights[self.last]
        enough = -(-(self.need - size) // article.size)
        for low, high, price in self.shelf.runs[self.last]:
            count = max(enough, low)
            if count <= high and cost + count * price <= self.limit:
                self._weigh((cost + count * price, size + count * article.size, pieces + count, code - count * weight))

    def _weigh(self, part: _Part) -> None:
        if self.best is None or part < self.best:
            self.best = part
            self.limit = part[0] * (1 + _MARGIN)
            if part[0] <= self.lowest:
                near = part[1] <= self.need * (1 + _HAIR)
                self.room = min(self.room, ROOM_FOR_A_HAIR if near else ROOM_FOR_TIES)

    def around(self, part: _Part, run: Run, article: Article) -> int:
        return (self.need - part[1] - self.ahead.cheaper_than(run.price / article.size)) // article.size

    def sift(self, parts: list[_Part]) -> list[_Part]:
        kept: list[_Part] = []
        cost_now, below, top, size_now = -1, -1, -1, -1
        for part in sorted(parts):
            cost, size = part[0], part[1]
            if cost != cost_now:
                # What costs less and is as large is better; what costs the same and is larger is not,
                # since less may be left over with the smaller one.
                cost_now, below, size_now = cost, top, -1
            if size <= below or size == size_now:
                continue
            size_now, top = size, max(top, size)
            kept.append(part)
        if self.shelf.plenty[self.last]:
            kept = self._modulo_last(kept, tie_is_worse=False)
        if self.best is not None and self.best[:2] == (self.lowest, self.need):
            # Nothing can cost less or leave less over: only fewer pieces are still looked for.
            most = self.best[2]
            largest = max(self.shelf.articles[one].size for one in [*self.order, self.last])
            kept = [part for part in kept if part[2] - (part[1] - self.need) // largest <= most]
        return kept

    def proof(self) -> tuple[bool, bool]:
        return self.best is not None and self.best[0] <= self.lowest, False


class _ToSpend(_Aim):
    """The most for a sum of money, whichever purchase gives it."""

    def __init__(self, shelf: Shelf, money: int) -> None:
        self.money = money
        super().__init__(shelf)
        self.most = self.whole.size(money)

    def _critical(self, by_rate: list[int]) -> int:
        spent = 0
        for which in by_rate:
            spent += max(run.high for run in self.shelf.runs[which]) * self.shelf.price(which)
            if spent >= self.money:
                return which
        return by_rate[-1]

    def least(self, cost: int, size: int) -> float:
        return -size - self.ahead.size(self.money - cost)

    def full(self, part: _Part) -> bool:
        return part[0] > self.money

    def close(self, part: _Part) -> None:
        cost, size, pieces, code = part
        self._weigh(part)
        article, weight = self.shelf.articles[self.last], self.weights[self.last]
        for low, high, price in self.shelf.runs[self.last]:
            count = min((self.money - cost) // price, high)
            if count >= low:
                self._weigh((cost + count * price, size + count * article.size, pieces + count, code - count * weight))

    def _weigh(self, part: _Part) -> None:
        if self.best is None or part[1] > self.best[1]:
            self.best = part
            self.limit = -(part[1] + 1) * (1 - _MARGIN)
            if part[1] * (1 + _HAIR) >= self.most:
                self.room = min(self.room, ROOM_FOR_A_HAIR)

    def around(self, part: _Part, run: Run, article: Article) -> int:
        return (self.money - part[0] - self.ahead.money_cheaper_than(run.price / article.size)) // run.price

    def sift(self, parts: list[_Part]) -> list[_Part]:
        kept: list[_Part] = []
        top = -1
        for part in sorted(parts, key=lambda part: (part[0], -part[1], part[2], part[3])):
            if part[1] > top:
                top = part[1]
                kept.append(part)
        if self.shelf.plenty[self.last]:
            kept = self._modulo_last(kept, tie_is_worse=True)
        return kept

    def proof(self) -> tuple[bool, bool]:
        return self.best is not None and self.most * (1 + _MARGIN) < self.best[1] + 1, False
