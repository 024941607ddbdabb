"""The choice of packs against the slow ways, and what must hold whatever the packs are."""

from __future__ import annotations

from math import prod
from unittest.mock import patch

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from pack_oracles import counts, every_to_cover, every_to_spend, key, table_to_cover, top_to_cover

from assistant.shop import search
from assistant.shop.choice import Choice, everything, least_cost, most_for
from assistant.shop.runs import Article
from assistant.shop.table import MOST_ENTRIES

#: So many purchases are tried in one case at most.
EVERY = 1500


#: How packs are priced: freely, by the size, nearly by the size, in round figures, at one flat rate to the coin,
#: and at one flat rate in sizes of which the one half is twice the other.
WAYS = 6
#: What stands beside the price: all sorts, or a stock and price breaks for every pack.
SORTS, ALL_BOTH = 0, 1


def pack_of(code: int, way: int, beside: int, largest: int) -> Article:
    """The pack that a whole number stands for: one draw for each pack keeps thousands of cases quick."""

    def next_of(kinds: int) -> int:
        nonlocal code
        code, rest = divmod(code, kinds)
        return rest

    size = 1 + next_of(largest)
    if way == 5:
        size = max(1, size // 4) * (1 + code % 2) * 2
    flat = (11 * size + 5) // 10
    price = [1 + next_of(40), 2 * size, max(1, 2 * size - 1 + next_of(3)), 5 + 5 * next_of(8), flat, flat][way]
    tiers = [(1, price)]
    for _ in range(next_of(3) if beside == SORTS else 2):
        start, each = tiers[-1]
        if each > 1:
            tiers.append((start + 1 + next_of(4), each - 1 - next_of(each // 2)))
    least = [1, 1, 1, 2, 3][next_of(5)]
    return Article(size, tuple(tiers), least, ([None, None, 0, 1, 1, 2, 3, 5] if beside == SORTS else [2, 3, 4, 5, 6, 7, 9, 12])[next_of(8)])


def articles(most_packs: int = 4, largest: int = 20) -> st.SearchStrategy[tuple[Article, ...]]:
    """Packs of one shop, all priced in one way."""
    codes = st.lists(st.integers(0, 10**12), min_size=1, max_size=most_packs)
    return st.builds(
        lambda codes, way, beside: tuple(pack_of(code, way, beside, largest) for code in codes),
        codes, st.integers(0, WAYS - 1), st.integers(SORTS, ALL_BOTH),
    )  # fmt: skip


#: No room for lists: whatever the relaxation does not settle is left to the table.
NO_LISTS = {"BEFORE_SPLIT": 0, "FOR_TRIFLES": 0, "AT_ALL": 0}

#: How the search goes about it: as it does, in many small steps, split as soon as it can be, and by the table. Nothing that is found may change.
STEPS = [{"FIRST_REACH": search.FIRST_REACH}, {"FIRST_REACH": 1, "FARTHER": (3, 2)}, {"FIRST_REACH": 30, "BEFORE_SPLIT": 3}, NO_LISTS]


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
@given(articles(), st.integers(1, 90), st.sampled_from(STEPS))
@example((Article(3, ((1, 20), (10, 17))),), 25, STEPS[0])  # nine at 20 are dearer than ten at 17
@example((Article(5, ((1, 10),), 3), Article(4, ((1, 9),))), 6, STEPS[0])  # a least order
@example((Article(2, ((1, 4),)), Article(3, ((1, 6),))), 6, STEPS[0])  # the same money and size: fewer pieces
@example((Article(6, ((1, 6),)), Article(4, ((1, 6),))), 4, STEPS[0])  # the same money: less left over
@example((Article(4, ((1, 6),)), Article(4, ((1, 6),))), 8, STEPS[0])  # the same in all: the first id
def test_it_is_the_one_that_trying_every_purchase_finds(packs: tuple[Article, ...], need: int, steps: dict[str, int]) -> None:
    need = cut_to_cover(packs, need)
    with patch.multiple(search, **steps):
        found = least_cost(packs, need)
    proved_least(packs, found, every_to_cover(packs, need))


def proved_least(packs: tuple[Article, ...], found: Choice | None, expected: tuple[int, ...] | None) -> None:
    assert found == (None if expected is None else Choice(expected, True, True, key(packs, expected)[0]))


def proved_most(packs: tuple[Article, ...], found: Choice, expected: tuple[int, ...]) -> None:
    assert found == Choice(expected, True, True, key(packs, expected)[1])


@settings(max_examples=2500, deadline=None)
@given(articles(), st.integers(0, 120), st.sampled_from(STEPS))
@example((Article(3, ((1, 20), (10, 17))),), 175, STEPS[0])  # ten for 170, where eight would be 160
@example((Article(6, ((1, 6),)), Article(6, ((1, 5),))), 6, STEPS[0])  # as much for less
def test_the_most_for_money_is_the_one_that_trying_every_purchase_finds(
    packs: tuple[Article, ...], money: int, steps: dict[str, int]
) -> None:
    money = cut_to_spend(packs, money)
    with patch.multiple(search, **steps):
        found = most_for(packs, money)
    proved_most(packs, found, every_to_spend(packs, money))


@settings(max_examples=60, deadline=None)
@given(articles(most_packs=6, largest=17), st.integers(60, 160), st.sampled_from(STEPS))
def test_many_packs_of_many_kinds_agree_with_a_table(packs: tuple[Article, ...], need: int, steps: dict[str, int]) -> None:
    with patch.multiple(search, **steps):
        found = least_cost(packs, need)
    proved_least(packs, found, table_to_cover(packs, need))


@pytest.mark.parametrize("stock", [None, 9])
def test_flat_rates_in_sizes_without_a_common_measure_agree_with_a_table(stock: int | None) -> None:
    # The cost of each is 1.1 times its size to the coin, so that next to nothing tells one purchase from another.
    packs = tuple(Article(size, ((1, (11 * size + 5) // 10),), 1, stock) for size in (23, 37, 41, 59, 97, 131))
    for need in (613, 1291, 1999):
        for steps in STEPS:
            with patch.multiple(search, **steps):
                proved_least(packs, least_cost(packs, need), table_to_cover(packs, need))


def test_the_hard_kinds_go_through_every_part_of_the_search() -> None:
    # Else the tests above would prove nothing of counts by division and of splitting.
    with patch.object(search, "_best_turn", wraps=search._best_turn) as turns, patch.object(search, "_split", wraps=search._split) as splits:
        flat = tuple(Article(size, ((1, (11 * size + 5) // 10),)) for size in (23, 37, 41, 59, 97, 131))
        proved_least(flat, least_cost(flat, 1999), table_to_cover(flat, 1999))
        assert turns.called
        stepped = tuple(Article(size, ((1, size * 3), (9, size * 3 - 1), (20, size * 3 - size // 2))) for size in (23, 37, 41))
        with patch.multiple(search, FIRST_REACH=30, BEFORE_SPLIT=3):
            proved_least(stepped, least_cost(stepped, 801), table_to_cover(stepped, 801))
        assert len(splits.call_args_list) > 2
    with patch.object(search, "rank_by_table", wraps=search.rank_by_table) as tables, patch.multiple(search, **NO_LISTS):  # type: ignore[arg-type]
        proved_least(flat, least_cost(flat, 1999), table_to_cover(flat, 1999))
        assert tables.called


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
@example((Article(1, ((1, 2),)), Article(114, ((1, 228),)), Article(336, ((1, 672),))), 2459)
@example((Article(1, ((1, 2),)), Article(1, ((1, 2),)), Article(154, ((1, 308),))), 153)
def test_the_cost_of_a_need_buys_it_and_a_coin_less_does_not(packs: tuple[Article, ...], need: int) -> None:
    found = least_cost(packs, need)
    if found is None:
        return
    cost = key(packs, found.counts)[0]
    bought, less = most_for(packs, cost), most_for(packs, cost - 1)
    if len(packs) * need < MOST_ENTRIES // 10:
        assert found.best  # few steps and few packs: proved whatever the prices, the table has room for it
    # where the search ran out of room, as it may on flat prices, it says so, and how much better another might be
    assert key(packs, bought.counts)[1] >= need or (not bought.best and bought.at_best >= need)
    assert key(packs, less.counts)[1] < need or (not found.best and found.at_best < cost)


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
    assert least_cost(packs, 10) == Choice((2, 0), at_best=6)
    assert everything(packs) == (2, 0)  # three are fewer than the least order of four
    assert everything((*packs, Article(1, ((1, 1),)))) is None


def test_a_search_that_runs_out_of_room_says_so_and_still_covers() -> None:
    packs = tuple(Article(size, ((1, price),)) for size, price in [(1009, 50), (1013, 51), (1999, 100), (2003, 101)])
    full = least_cost(packs, 900_001)
    assert full is not None and full.best and full.settled
    least = key(packs, full.counts)[0]
    with patch.multiple(search, AT_ALL=1, FOR_TRIFLES=1, BEFORE_SPLIT=1):
        short = least_cost(packs, 900_001)
        assert short is not None and not short.settled
        cost, size, _, _ = key(packs, short.counts)
        assert size >= 900_001 and cost >= least >= short.at_best
        # 900,001 at the least price of one step, 50 / 1009, are 44,598.7: below 44,599 there is nothing.
        assert short.at_best >= 44_599 and short.best == (cost == short.at_best)
        spent = most_for(packs, 44_598)
        cost, size, _, _ = key(packs, spent.counts)
        assert not spent.settled and cost <= 44_598 and size <= spent.at_best


@pytest.mark.parametrize("stock", [None, 1_000_000, 400])
def test_packs_made_to_defeat_it_end_soon_and_are_told_apart(stock: int | None) -> None:
    # Thirty packs of sizes with no common measure, each priced by its size to the coin: nearly all purchases tie.
    sizes = [10**9 + 7_919 * place**3 + 104_729 * place for place in range(1, 31)]
    packs = tuple(Article(size, ((1, round(size / 10**7)),), 1, stock) for size in sizes)
    need = 7_645 * 10**8
    with patch.multiple(search, AT_ALL=1_000, FOR_TRIFLES=1_000):
        found = least_cost(packs, need)
    assert found is not None
    cost, size, _, _ = key(packs, found.counts)
    assert size >= need
    assert cost >= found.at_best >= need * min(round(one / 10**7) / one for one in sizes) - 1e-3
    assert found.best == (cost == found.at_best)
