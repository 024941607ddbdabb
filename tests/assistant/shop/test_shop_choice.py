"""The choice of packs against the slow ways, and what must hold whatever the packs are."""

from __future__ import annotations

from math import prod

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from pack_oracles import counts, every_to_cover, every_to_spend, key, table_to_cover, top_to_cover

from assistant.shop import choice
from assistant.shop.choice import Choice, everything, least_cost, most_for
from assistant.shop.runs import Article

#: So many purchases are tried in one case at most.
EVERY = 1500


def pack_of(code: int, way: int, largest: int) -> Article:
    """The pack that a whole number stands for: one draw for each pack keeps thousands of cases quick."""

    def next_of(kinds: int) -> int:
        nonlocal code
        code, rest = divmod(code, kinds)
        return rest

    size = 1 + next_of(largest)
    price = [1 + next_of(40), 2 * size, max(1, 2 * size - 1 + next_of(3)), 5 + 5 * next_of(8)][way]
    tiers = [(1, price)]
    for _ in range(next_of(3)):
        start, each = tiers[-1]
        if each > 1:
            tiers.append((start + 1 + next_of(4), each - 1 - next_of(each // 2)))
    least = [1, 1, 1, 2, 3][next_of(5)]
    return Article(size, tuple(tiers), least, [None, None, 0, 1, 1, 2, 3, 5][next_of(8)])


def articles(most_packs: int = 4, largest: int = 20) -> st.SearchStrategy[tuple[Article, ...]]:
    """Packs of one shop: priced freely, by the size, nearly by the size, or in round figures."""
    codes = st.lists(st.integers(0, 10**12), min_size=1, max_size=most_packs)
    return st.builds(lambda codes, way: tuple(pack_of(code, way, largest) for code in codes), codes, st.integers(0, 3))


def cut_to_cover(packs: tuple[Article, ...], need: int) -> int:
    """The need made smaller until every purchase can be tried."""
    while need > 1 and prod(len(counts(one, top_to_cover(one, need))) for one in packs) > EVERY:
        need -= max(need // 4, 1)
    return need


def cut_to_spend(packs: tuple[Article, ...], money: int) -> int:
    while money > 1 and prod(len(counts(one, money // one.tiers[-1][1])) for one in packs) > EVERY:
        money -= max(money // 4, 1)
    return money


@settings(max_examples=5000, deadline=None)
@given(articles(), st.integers(1, 90))
@example((Article(3, ((1, 20), (10, 17))),), 25)  # nine at 20 are dearer than ten at 17
@example((Article(5, ((1, 10),), 3), Article(4, ((1, 9),))), 6)  # a least order
@example((Article(2, ((1, 4),)), Article(3, ((1, 6),))), 6)  # the same money and size: fewer pieces
@example((Article(6, ((1, 6),)), Article(4, ((1, 6),))), 4)  # the same money: less left over
@example((Article(4, ((1, 6),)), Article(4, ((1, 6),))), 8)  # the same in all: the first id
def test_it_is_the_one_that_trying_every_purchase_finds(packs: tuple[Article, ...], need: int) -> None:
    need = cut_to_cover(packs, need)
    found = least_cost(packs, need)
    expected = every_to_cover(packs, need)
    assert found == (None if expected is None else Choice(expected, best=True, settled=True))


@settings(max_examples=2500, deadline=None)
@given(articles(), st.integers(0, 120))
@example((Article(3, ((1, 20), (10, 17))),), 175)  # ten for 170, where eight would be 160
@example((Article(6, ((1, 6),)), Article(6, ((1, 5),))), 6)  # as much for less
def test_the_most_for_money_is_the_one_that_trying_every_purchase_finds(packs: tuple[Article, ...], money: int) -> None:
    money = cut_to_spend(packs, money)
    assert most_for(packs, money) == Choice(every_to_spend(packs, money), best=True, settled=True)


@settings(max_examples=60, deadline=None)
@given(articles(most_packs=6, largest=17), st.integers(60, 160))
def test_many_packs_of_many_kinds_agree_with_a_table(packs: tuple[Article, ...], need: int) -> None:
    found = least_cost(packs, need)
    expected = table_to_cover(packs, need)
    assert found == (None if expected is None else Choice(expected, best=True, settled=True))


@settings(max_examples=300, deadline=None)
@given(articles(most_packs=6, largest=1000), st.integers(1, 20_000), st.integers(1, 3000))
def test_more_never_costs_less(packs: tuple[Article, ...], need: int, more: int) -> None:
    less, greater = least_cost(packs, need), least_cost(packs, need + more)
    if less is None:
        assert greater is None
    elif greater is not None:
        first, second = key(packs, less.counts), key(packs, greater.counts)
        assert first[0] <= second[0] and first[1] >= need and second[1] >= need + more


@settings(max_examples=300, deadline=None)
@given(articles(most_packs=6, largest=1000), st.integers(0, 3000), st.integers(1, 500))
def test_more_money_never_buys_less_and_is_never_overspent(packs: tuple[Article, ...], money: int, more: int) -> None:
    first, second = key(packs, most_for(packs, money).counts), key(packs, most_for(packs, money + more).counts)
    assert first[0] <= money and second[0] <= money + more and first[1] <= second[1]


@settings(max_examples=200, deadline=None)
@given(articles(most_packs=5, largest=1000), st.integers(1, 5000))
def test_the_cost_of_a_need_buys_it_and_a_coin_less_does_not(packs: tuple[Article, ...], need: int) -> None:
    found = least_cost(packs, need)
    if found is None:
        return
    cost = key(packs, found.counts)[0]
    assert key(packs, most_for(packs, cost).counts)[1] >= need
    assert key(packs, most_for(packs, cost - 1).counts)[1] < need


@settings(max_examples=200, deadline=None)
@given(articles(most_packs=5, largest=200), st.integers(1, 3000), st.integers(2, 10**15))
def test_a_finer_measure_changes_nothing(packs: tuple[Article, ...], need: int, finer: int) -> None:
    fine = tuple(one._replace(size=one.size * finer) for one in packs)
    assert least_cost(fine, need * finer) == least_cost(packs, need)
    assert least_cost(fine, (need - 1) * finer + 1) == least_cost(packs, need)


@settings(max_examples=200, deadline=None)
@given(articles(), st.integers(1, 90))
def test_what_may_be_bought_is_kept_to(packs: tuple[Article, ...], need: int) -> None:
    found = least_cost(packs, need)
    for bought in [] if found is None else [found.counts, most_for(packs, need).counts]:
        for one, count in zip(packs, bought, strict=True):
            assert count == 0 or one.least <= count
            assert one.most is None or count <= one.most


def test_no_need_and_no_money_buy_nothing() -> None:
    packs = (Article(5, ((1, 3),)), Article(2, ((1, 2),), 1, 0))
    assert least_cost(packs, 0) == least_cost(packs, -7) == most_for(packs, 0) == Choice((0, 0))
    assert most_for((), 100) == Choice(())
    assert least_cost((), 1) is None


def test_stock_that_is_too_small_is_none_and_all_of_it_is_known() -> None:
    packs = (Article(5, ((1, 3),), 1, 2), Article(2, ((1, 2),), 4, 3))
    assert least_cost(packs, 11) is None
    assert least_cost(packs, 10) == Choice((2, 0))
    assert everything(packs) == (2, 0)  # three are fewer than the least order of four
    assert everything((*packs, Article(1, ((1, 1),)))) is None


def test_a_search_that_runs_out_of_room_says_so_and_still_covers(monkeypatch: pytest.MonkeyPatch) -> None:
    packs = tuple(Article(size, ((1, price),)) for size, price in [(1009, 50), (1013, 51), (1999, 100), (2003, 101)])
    full = least_cost(packs, 900_001)
    assert full is not None and full.best and full.settled
    monkeypatch.setattr(choice, "ROOM", 3)
    short = least_cost(packs, 900_001)
    assert short is not None and not short.settled
    cost, size, _, _ = key(packs, short.counts)
    assert size >= 900_001 and cost >= key(packs, full.counts)[0]
    # 900,001 at the least price of one step, 50 / 1009, are 44,598.7: whatever costs 44,599 is proved by that alone.
    assert short.best == (cost <= 44_599)
    spent = most_for(packs, 44_598)
    assert not spent.settled and key(packs, spent.counts)[0] <= 44_598


@pytest.mark.parametrize("stock", [None, 1_000_000, 400])
def test_packs_made_to_defeat_it_end_soon_and_are_told_apart(monkeypatch: pytest.MonkeyPatch, stock: int | None) -> None:
    # Thirty packs of sizes with no common measure, each priced by its size to the coin: nearly all purchases tie.
    monkeypatch.setattr(choice, "ROOM", 20_000)
    sizes = [10**9 + 7_919 * place**3 + 104_729 * place for place in range(1, 31)]
    packs = tuple(Article(size, ((1, round(size / 10**7)),), 1, stock) for size in sizes)
    need = 7_645 * 10**8
    found = least_cost(packs, need)
    assert found is not None
    cost, size, _, _ = key(packs, found.counts)
    assert size >= need
    assert cost >= need * min(round(one / 10**7) / one for one in sizes) - 1e-3
