"""Purchases: what a customer takes home, worked by hand, and what must hold for any shop."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction
from itertools import product as every
from math import prod
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.shop import (
    Need,
    Offer,
    OfferError,
    Offers,
    Purchase,
    Shortfall,
    compare,
    cover,
    cover_all,
    load,
    nearest_smaller,
    offers,
    one_fewer,
    order,
    stated,
    table,
    within_budget,
)
from assistant.shop import search as search_module
from assistant.shop.cover import HAIR
from assistant.shop.money import TaxRule, currency

USD = currency("USD")
ONE = Decimal(1)
CUBIC_FOOT = 28.316846592
#: 38 lb a cubic foot in kilograms a litre.
THIRTY_EIGHT = 38 * 0.45359237 / CUBIC_FOOT


def pack(name: str, litres: float | str, *prices: str | tuple[str, int], **more: Decimal) -> Offer:
    """A pack at 0.6 kg/L: the price, then (price of each, from so many)."""
    tiers = tuple((Decimal(one[1]), Decimal(one[0])) if isinstance(one, tuple) else (ONE, Decimal(one)) for one in prices)
    size = Fraction(litres)
    step = more.get("step", ONE)
    return Offer(
        name, name, "castings", size, size * Fraction(3, 5), tiers, more.get("least", step), more.get("most"), step,
        more.get("moisture"), "step" in more,
    )  # fmt: skip


def shop(*packs: Offer, tax: TaxRule | None = None) -> Offers:
    return Offers(tuple(sorted(packs)), USD, tax)


def bought(purchase: Purchase | Shortfall | None) -> dict[str, Decimal]:
    assert isinstance(purchase, Purchase)
    assert purchase.best and purchase.settled
    return {line.id: line.number for line in purchase.lines}


# ---- by hand ---------------------------------------------------------------------------------------------


def test_bags_as_stated_by_a_request() -> None:
    # 4 × 8 ft, 1 ft deep at 10 %: 3.2 ft³ = 121.6 lb at 38 lb/ft³; five 25 lb bags at 20 are 100.
    need = 3.2 * CUBIC_FOOT
    bags = stated(25, "pound", "20", "USD", density=THIRTY_EIGHT)
    found = cover(bags, need)
    assert bought(found) == {"stated": 5}
    assert isinstance(found, Purchase)
    assert (str(found.cost), found.bill.to_pay, found.bags) == ("100.00", Decimal(100), 5)
    assert found.kilograms == pytest.approx(125 * 0.45359237, rel=1e-9)
    assert found.left_over == pytest.approx((125 / 38 - 3.2) * CUBIC_FOOT, rel=1e-9)
    # Would four do? 100 lb of 121.6: 82.2 % of it.
    four = nearest_smaller(bags, need)
    assert bought(four) == {"stated": 4} and four is not None
    assert four.part_of_need == pytest.approx(100 / 121.6, rel=1e-9)
    assert four.wanting == pytest.approx(21.6 / 38 * CUBIC_FOOT, rel=1e-9)


@pytest.mark.parametrize(
    ("amount", "unit", "price", "code", "density", "need", "count", "cost"),
    [
        (30, "pound", "32", "USD", 36 * 0.45359237 / CUBIC_FOOT, 2.4 * CUBIC_FOOT, 3, "96.00"),  # 86.4 lb
        (20, "litre", "11.50", "GBP", 0.6, 105.0, 6, "69.00"),
        (10, "kilogram", "450", "INR", 0.65, 60.0, 4, "1800.00"),  # 39 kg
        (8, "us_dry_quart", "14.5", "USD", 0.6, 24 * 1.101220942715, 3, "43.50"),  # exactly three
        (5, "us_gallon", "9", "USD", 0.6, 25 * 3.785411784, 5, "45.00"),
        (40, "pound", "1200", "JPY", 0.6, 40 * 0.45359237 / 0.6, 1, "1200"),
    ],
)
def test_whole_packs_by_hand(
    amount: int, unit: str, price: str, code: str, density: float, need: float, count: int, cost: str
) -> None:
    found = cover(stated(amount, unit, price, code, density=density), need)
    assert bought(found) == {"stated": count}
    assert isinstance(found, Purchase) and str(found.cost) == cost


def test_a_float_a_hair_above_a_whole_number_of_bags_costs_no_bag_more() -> None:
    bags = stated(Decimal("0.1"), "litre", "1", "USD", density=Decimal("0.6"))
    assert 0.1 + 0.2 > 0.3
    assert bought(cover(bags, 0.1 + 0.2)) == {"stated": 3}
    assert bought(cover(bags, Fraction(3, 10))) == {"stated": 3}
    assert bought(cover(bags, Fraction(3, 10) + Fraction(1, 10**12))) == {"stated": 4}  # exact when told exactly
    assert bought(cover(bags, 0.3001)) == {"stated": 4}


def test_ties_go_to_less_left_over_then_fewer_packs_then_the_first_id() -> None:
    assert bought(cover(shop(pack("a", 30, "10"), pack("b", 25, "10")), 24)) == {"b": 1}
    assert bought(cover(shop(pack("a", 10, "5"), pack("b", 20, "10")), 20)) == {"b": 1}
    assert bought(cover(shop(pack("b", 10, "5"), pack("a", 10, "5")), 20)) == {"a": 2}


def test_a_price_break_can_make_more_packs_cheaper() -> None:
    bags = shop(pack("bag", 10, "20", ("17", 10)))
    found = cover(bags, 85.0)
    assert bought(found) == {"bag": 10}  # nine at 20 are 180, ten at 17 are 170
    assert isinstance(found, Purchase) and found.cost == 170 and found.lines[0].each == 17
    # And the next smaller is eight, not nine: nine cost more than ten.
    assert bought(nearest_smaller(bags, 85.0)) == {"bag": 8}
    assert one_fewer(bags, found) is None


def test_packs_are_mixed_where_that_is_cheaper() -> None:
    # 70 L: three of 30 are 75.00; two of 30 and one of 10 are 50 + 9.50.
    assert bought(cover(shop(pack("ten", 10, "9.50"), pack("thirty", 30, "25")), 70.0)) == {"ten": 1, "thirty": 2}


def test_stock_least_order_and_steps_are_kept_to() -> None:
    few = shop(pack("cheap", 30, "10", most=Decimal(2)), pack("dear", 30, "40"))
    assert bought(cover(few, 100.0)) == {"cheap": 2, "dear": 2}
    dozen = shop(pack("dozen", 10, "1", least=Decimal(12)), pack("single", 10, "3"))
    assert bought(cover(dozen, 20.0)) == {"single": 2}
    assert bought(cover(dozen, 50.0)) == {"dozen": 12}
    loose = shop(pack("yard", 800, "400", step=Decimal("0.25"), least=Decimal("0.5")))
    found = cover(loose, 900.0)
    assert bought(found) == {"yard": Decimal("1.25")}
    assert isinstance(found, Purchase) and (found.cost, found.bags, found.litres) == (500, 0, 1000)
    assert bought(cover(loose, 1.0)) == {"yard": Decimal("0.5")}


def test_breaks_of_a_loose_pack_count_whole_packs() -> None:
    loose = shop(pack("yard", 800, "400", ("300", 2), step=Decimal("0.5")))
    assert bought(cover(loose, 1300.0)) == {"yard": 2}
    # One and a half at 400 cost 600, and so do two at 300: there is less left over with the first.
    assert bought(cover(loose, 1100.0)) == {"yard": Decimal("1.5")}


def test_a_need_beyond_the_stock_says_how_short() -> None:
    few = shop(pack("a", 30, "10", most=Decimal(2)), pack("b", 5, "40", most=Decimal(3), least=Decimal(4)))
    found = cover(few, 100.0)
    assert isinstance(found, Shortfall)
    assert (found.need, found.available, found.short_by) == (100, 60, 40)
    assert bought(found.everything) == {"a": 2} and found.everything.wanting == 40
    assert nearest_smaller(few, 100.0) == found.everything
    none = cover(shop(pack("a", 30, "10", most=Decimal(0))), 1.0)
    assert isinstance(none, Shortfall) and none.short_by == 1 and none.everything.lines == ()
    assert nearest_smaller(shop(pack("a", 30, "10", most=Decimal(0))), 1.0) is None


def test_nothing_is_bought_for_no_need() -> None:
    for need in (0, 0.0, -5.0, Fraction(0)):
        found = cover(shop(pack("a", 30, "10")), need)
        assert bought(found) == {} and isinstance(found, Purchase) and str(found.cost) == "0.00"
    assert nearest_smaller(shop(pack("a", 30, "10")), 0.0) is None
    assert nearest_smaller(shop(pack("a", 30, "10")), 20.0) is None  # one bag does; nothing is smaller


@pytest.mark.parametrize("need", [float("nan"), float("inf"), Decimal("NaN"), Decimal("Infinity")])
def test_an_amount_that_is_none_is_refused(need: float | Decimal) -> None:
    with pytest.raises(OfferError, match="not an amount"):
        cover(shop(pack("a", 30, "10")), need)


def test_no_packs_are_refused() -> None:
    with pytest.raises(OfferError, match="no pack"):
        cover(shop(), 5.0)
    assert bought(within_budget(shop(), Decimal(5))) == {}


def test_money_buys_the_most() -> None:
    # 120 at 18 a bag: 6.67, so six bags and 12 over.
    found = within_budget(stated(25, "litre", "18", "USD", density=0.6), Decimal(120))
    assert bought(found) == {"stated": 6} and found.change(Decimal(120)) == 12
    assert found.litres == 150 and found.need is None and found.part_of_need is None and found.left_over == 0
    mixed = shop(pack("ten", 10, "9.50"), pack("thirty", 30, "25"))
    assert bought(within_budget(mixed, Decimal(60))) == {"ten": 1, "thirty": 2}  # 59.50 for 70 L
    assert bought(within_budget(mixed, Decimal("9.49"))) == {}
    with pytest.raises(OfferError, match="not an amount of money"):
        within_budget(mixed, Decimal("NaN"))


def test_tax_on_top_is_paid_from_the_money_too() -> None:
    taxed = shop(pack("bag", 25, "20"), tax=TaxRule(Decimal(10), False))
    assert bought(within_budget(taxed, Decimal(60))) == {"bag": 2}  # three are 66 with the tax
    found = within_budget(taxed, Decimal(66))
    assert bought(found) == {"bag": 3}
    assert (found.cost, found.bill) == (60, (Decimal(60), Decimal(6), Decimal(66)))
    held = shop(pack("bag", 25, "20"), tax=TaxRule(Decimal(25), True))
    found = within_budget(held, Decimal(60))
    assert bought(found) == {"bag": 3} and found.bill == (Decimal(48), Decimal(12), Decimal(60))


def test_what_a_customer_names_is_priced_and_held_to_the_rules() -> None:
    bags = shop(pack("bag", 10, "20", ("17", 10), most=Decimal(12)), pack("yard", 800, "400", step=Decimal("0.5"), least=ONE))
    three = order(bags, {"bag": 3}, 40.0)
    assert bought(three) == {"bag": 3} and three.cost == 60 and three.part_of_need == 0.75 and three.wanting == 10
    assert order(bags, {"bag": 10, "yard": Decimal("1.5")}).cost == 170 + 600
    assert order(bags, {"bag": 0}).lines == ()
    for counts, message in [
        ({"bag": 13}, "there are 12 of “bag” in stock"),
        ({"bag": Decimal("1.5")}, "sold by 1 at a time"),
        ({"yard": Decimal("1.25")}, "sold by 0.5 at a time"),
        ({"yard": Decimal("0.5")}, "the least order of “yard” is 1"),
        ({"bag": -1}, "cannot be bought"),
        ({"bag": 10**40}, "cannot be bought"),
        ({"bag": Decimal("NaN")}, "cannot be bought"),
        ({"sack": 1}, "no pack 'sack'"),
    ]:
        with pytest.raises(OfferError, match=message):
            order(bags, counts)


def test_one_pack_fewer() -> None:
    bags = shop(pack("ten", 10, "9.50"), pack("thirty", 30, "25"))
    found = cover(bags, 70.0)
    assert isinstance(found, Purchase)
    fewer = one_fewer(bags, found)
    assert bought(fewer) == {"thirty": 2} and fewer is not None and fewer.need == 70  # 60 L, not 40
    last = cover(bags, 5.0)
    assert isinstance(last, Purchase) and one_fewer(bags, last) is None
    dozen = shop(pack("dozen", 10, "1", least=Decimal(12)), pack("single", 500, "80"))
    both = order(dozen, {"dozen": 12, "single": 1}, 600.0)
    assert bought(one_fewer(dozen, both)) == {"single": 1}  # eleven of the dozen cannot be had
    dear = shop(pack("bag", 10, "20", ("17", 10)))
    ten = cover(dear, 85.0)
    assert isinstance(ten, Purchase) and one_fewer(dear, ten) is None  # nine cost more than ten


def test_several_needs_together_save() -> None:
    # Alone: 8 L and 12 L take a 10 L bag and two; together 20 L take two.
    bags = shop(pack("bag", 10, "6", ("5", 3)))
    both = cover_all([Need("pots", 8.0, bags), Need("bed", 12.0, bags)])
    assert [bought(one) for one in both.purchases] == [{"bag": 2}]
    assert [bought(one) for one in both.alone] == [{"bag": 1}, {"bag": 2}]
    assert both.saving == 6
    # A price break reached together: 3 × 5 = 15 against 6 + 12.
    three = cover_all([Need("pots", 10.0, bags), Need("bed", 20.0, bags)])
    assert [bought(one) for one in three.purchases] == [{"bag": 3}] and three.saving == 3


def test_needs_of_different_products_are_bought_apart() -> None:
    castings, blend = shop(pack("bag", 10, "6")), shop(pack("mix", 50, "9"))
    both = cover_all([Need("pots", 8.0, castings), Need("fill", 60.0, blend), Need("bed", 8.0, castings)])
    assert [bought(one) for one in both.purchases] == [{"bag": 2}, {"mix": 2}]
    assert len(both.alone) == 3 and both.saving == 0
    with pytest.raises(OfferError, match="two of the sets"):
        cover_all([Need("a", 1.0, castings), Need("b", 1.0, shop(pack("bag", 10, "6"), pack("mix", 50, "9")))])
    with pytest.raises(OfferError, match="more than one currency"):
        cover_all([Need("a", 1.0, castings), Need("b", 1.0, Offers(blend.packs, currency("EUR")))])
    assert cover_all([]).saving == 0


def test_no_saving_is_told_where_the_stock_does_not_do_for_it() -> None:
    two = shop(pack("bag", 10, "6", most=Decimal(2)), pack("big", 40, "30"))
    apart = cover_all([Need("a", 20.0, two), Need("b", 20.0, two)])
    assert apart.saving is None  # each alone takes the same two bags
    assert [bought(one) for one in apart.purchases] == [{"big": 1}]
    short = cover_all([Need("a", 20.0, shop(pack("bag", 10, "6", most=ONE)))])
    assert short.saving is None and isinstance(short.purchases[0], Shortfall)


def test_prices_by_size_by_hand() -> None:
    rows = compare(shop(pack("bag", 20, "12", ("10", 4)), pack("wet", 10, "9", moisture=Decimal(40), most=Decimal(0))))
    assert [(row.id, row.number, str(row.a_litre), str(row.a_kilogram)) for row in rows] == [
        ("bag", 4, "0.500000", "0.833333"),
        ("bag", 1, "0.600000", "1.000000"),
    ]  # what is out of stock has no price
    assert str(rows[1].a_cubic_foot) == "16.990108"  # 0.6 × 28.316846592
    (wet,) = compare(shop(pack("wet", 10, "9", moisture=Decimal(40))))
    # 10 L are 6 kg, 40 % of it water: 3.6 kg dry, 9 / 3.6 = 2.50.
    assert (str(wet.a_kilogram), str(wet.a_dry_kilogram)) == ("1.500000", "2.500000")
    assert rows[0].a_dry_kilogram is None


def test_the_published_cost_case() -> None:
    # University of Regina, Math Central: $25 a cubic yard against $3 a 2 ft³ bag; $0.93 against $1.50 a cubic foot.
    yard, bag = (
        compare(stated(amount, unit, price, "USD", density=0.6))[0]
        for amount, unit, price in [(1, "cubic_yard", "25"), (2, "cubic_foot", "3")]
    )
    assert (str(yard.a_cubic_foot), str(bag.a_cubic_foot)) == ("0.925926", "1.500000")


# ---- from a catalogue ------------------------------------------------------------------------------------


def test_castings_are_meant_unless_another_product_is_named() -> None:
    sample = load()
    plain = offers(sample)
    assert plain.is_sample and plain.currency.code == "USD"
    assert {one.product for one in plain.packs} == {"castings"} and len(plain.packs) == 7
    assert {one.id for one in offers(sample, product="castings-compost").packs} == {"blend-1-cubic-foot", "blend-yard"}
    assert [one.id for one in offers(sample, packs=["castings-yard", "blend-yard"]).packs] == ["blend-yard", "castings-yard"]
    assert [one.id for one in plain.packs] == sorted(one.id for one in plain.packs)
    with pytest.raises(OfferError, match="no pack 'sack'"):
        offers(sample, packs=["sack"])
    with pytest.raises(OfferError, match="no product 'sand'"):
        offers(sample, product="sand")


def test_a_stated_density_stands_in_for_the_product_s_own() -> None:
    sample = load()
    own = {one.id: one for one in offers(sample).packs}
    told = {one.id: one for one in offers(sample, density=0.75).packs}
    by_weight, by_volume = "castings-40-pound", "castings-8-quart"
    assert own[by_weight].litres == Fraction("0.45359237") * 40 / Fraction(3, 5)
    assert told[by_weight].litres == Fraction("0.45359237") * 40 / Fraction(3, 4)
    assert told[by_weight].kilograms == own[by_weight].kilograms
    assert told[by_volume].litres == own[by_volume].litres == 8 * Fraction("1.101220942715")
    assert told[by_volume].kilograms == own[by_volume].litres * Fraction(3, 4)
    for density in (0.0, -1.0, float("nan"), float("inf")):
        with pytest.raises(OfferError, match="density"):
            offers(sample, density=density)


def test_ten_cubic_yards_of_the_sample_are_loose() -> None:
    found = cover(offers(load()), 7645.54857984)
    assert bought(found) == {"castings-yard": 10}
    assert isinstance(found, Purchase) and str(found.cost) == "4950.00"


def test_a_file_of_a_shop_is_priced_with_its_tax() -> None:
    file = load(Path(__file__).parent / "base_catalogue.toml")
    # 50 L: three 20 L bags are 37.50; the bag of 10 kg is 16.67 L at 9.00, three of them 27.00.
    found = cover(offers(file), 50.0)
    assert bought(found) == {"bag-10": 3}
    assert isinstance(found, Purchase)
    assert found.bill == (Decimal("22.50"), Decimal("4.50"), Decimal("27.00"))  # 20 % held in the price


@pytest.mark.parametrize(
    ("amount", "unit", "price", "code", "density"),
    [
        (20, "metre", "5", "USD", 0.6),
        (20, "bag", "5", "USD", 0.6),
        (0, "litre", "5", "USD", 0.6),
        (-1, "litre", "5", "USD", 0.6),
        (float("nan"), "litre", "5", "USD", 0.6),
        (float("inf"), "litre", "5", "USD", 0.6),
        (20, "litre", "0", "USD", 0.6),
        (20, "litre", "$5", "USD", 0.6),
        (20, "litre", "5.005", "USD", 0.6),
        (20, "litre", Decimal("NaN"), "USD", 0.6),
        (20, "litre", "5", "dollars", 0.6),
        (20, "litre", "5", "USD", 0.0),
    ],
)
def test_a_stated_pack_that_is_none_is_refused(amount: float, unit: str, price: str, code: str, density: float) -> None:
    with pytest.raises(OfferError):
        stated(amount, unit, price, code, density=density)


def test_a_search_that_could_not_be_finished_says_so(monkeypatch: pytest.MonkeyPatch) -> None:
    for name in ("AT_ALL", "FOR_TRIFLES", "BEFORE_SPLIT"):
        monkeypatch.setattr(search_module, name, 0)
    monkeypatch.setattr(table, "MOST_ENTRIES", 0)
    of = shop(pack("a", 7, "3"), pack("b", 11, "5"), pack("c", 13, "6"), tax=TaxRule(Decimal(10), False))
    found = cover(of, 1000.0)
    assert isinstance(found, Purchase) and not found.settled and found.litres >= 1000
    # 1000 L at the cheapest rate, 3 for 7 L, are 428.58; with the tax 471.44.
    assert found.best == (not found.could_save) and found.could_save <= found.bill.to_pay - Decimal("471.44")
    spent = within_budget(of, Decimal(471))
    assert spent.bill.to_pay <= 471 and spent.litres <= spent.could_hold <= Decimal(471) / Decimal("1.1") * 7 / 3


# ---- whatever the shop -----------------------------------------------------------------------------------

UNITS = ["litre", "us_dry_quart", "cubic_foot", "pound", "kilogram", "us_gallon", "ounce"]


@st.composite
def any_shop(draw: st.DrawFn, most_packs: int = 3) -> Offers:
    """Packs in the units of the trade, by weight and by volume, so that sizes have no simple common measure."""
    density = Fraction(draw(st.integers(300, 900)), 1000)
    packs = []
    for place in range(draw(st.integers(1, most_packs))):
        (one,) = stated(
            draw(st.integers(2, 40)), draw(st.sampled_from(UNITS)), Decimal(draw(st.integers(100, 4000))) / 100, "USD",
            density=density, id=f"p{place}",
        ).packs  # fmt: skip
        tiers = one.tiers
        if draw(st.booleans()):
            tiers = (*tiers, (Decimal(draw(st.integers(2, 5))), (tiers[0][1] * Decimal("0.8")).quantize(Decimal("0.01"))))
        step = draw(st.sampled_from([ONE, ONE, ONE, Decimal("0.5")]))
        tiers = tuple((start, 2 * price if step != ONE else price) for start, price in tiers)
        most = draw(st.sampled_from([None, None, ONE, Decimal(3)]))
        least = draw(st.sampled_from([step, step, ONE, Decimal(2)]))
        packs.append(one._replace(tiers=tiers, step=step, loose=step != ONE, least=least, most=most))
    return Offers(tuple(packs), USD)


def choices_of(of: Offers, need: Fraction) -> list[list[Decimal]]:
    """Every count of each pack that could help."""
    choices = []
    for one in of.packs:
        enough = -(-need // (one.litres * Fraction(one.step)))
        top = max(Decimal(int(enough)) * one.step, one.least, one.tiers[-1][0])
        top = top if one.most is None else min(top, one.most)
        steps = [Decimal(count) * one.step for count in range(int(top / one.step) + 1)]
        choices.append([count for count in steps if count == 0 or count >= one.least])
    return choices


def by_trying(of: Offers, need: Fraction) -> tuple[Decimal, Fraction] | None:
    """Cost and litres of the best purchase, by trying every one with fractions alone."""
    best = None
    for counts in every(*choices_of(of, need)):
        litres = sum((one.litres * Fraction(count) for one, count in zip(of.packs, counts, strict=True)), Fraction(0))
        if litres < need:
            continue
        cost = Decimal(0)
        for one, count in zip(of.packs, counts, strict=True):
            cost += count * [price for start, price in one.tiers if start <= max(count, ONE)][-1]
        best = (cost, litres) if best is None else min(best, (cost, litres))
    return best


@settings(max_examples=400, deadline=None)
@given(any_shop(), st.integers(1, 120))
def test_the_purchase_is_the_best_in_fractions_too(of: Offers, tenths: int) -> None:
    need = Fraction(tenths, 10) * max(one.litres for one in of.packs) / 4
    while prod(len(one) for one in choices_of(of, need)) > 600:
        need *= Fraction(3, 5)
    found, expected = cover(of, need), by_trying(of, need)
    if expected is None:
        assert isinstance(found, Shortfall) and found.short_by > 0
        return
    assert isinstance(found, Purchase)
    assert (found.cost, found.litres) == (expected[0], float(expected[1]))


@settings(max_examples=300, deadline=None)
@given(any_shop(most_packs=5), st.floats(0.01, 5000), st.floats(1, 2))
def test_never_below_the_need_and_never_cheaper_for_more(of: Offers, need: float, times: float) -> None:
    first, second = cover(of, need), cover(of, need * times)
    if isinstance(first, Purchase):
        assert first.litres >= need * (1 - 2 * float(HAIR)) and first.wanting == 0
        assert first.cost == sum(line.total for line in first.lines)
        if isinstance(second, Purchase):
            assert second.cost >= first.cost
    else:
        assert isinstance(second, Shortfall) and second.short_by >= first.short_by
        assert first.available == first.everything.litres < need


@settings(max_examples=300, deadline=None)
@given(any_shop(most_packs=5), st.decimals(0, 500, places=2), st.decimals(0, 30, places=2), st.booleans())
def test_a_budget_is_never_exceeded(of: Offers, budget: Decimal, percent: Decimal, included: bool) -> None:
    taxed = of._replace(tax=TaxRule(percent, included))
    found = within_budget(taxed, budget)
    assert found.bill.to_pay <= budget and found.change(budget) >= 0
    if found.lines:
        # What it bought cannot be had for less.
        again = cover(taxed, found.litres)
        assert isinstance(again, Purchase) and again.cost <= found.cost


@settings(max_examples=300, deadline=None)
@given(any_shop(most_packs=4), st.floats(0.1, 2000))
def test_the_nearest_smaller_is_smaller_in_amount_and_in_cost(of: Offers, need: float) -> None:
    full, smaller = cover(of, need), nearest_smaller(of, need)
    if smaller is None or isinstance(full, Shortfall):
        return
    assert smaller.litres < need and smaller.cost < full.cost and smaller.wanting > 0
    fewer = one_fewer(of, full)
    if fewer is not None:
        assert fewer.litres <= smaller.litres * (1 + 1e-12) and fewer.cost < full.cost


@settings(max_examples=150, deadline=None)
@given(any_shop(most_packs=4), st.lists(st.floats(0.1, 300), min_size=1, max_size=4))
def test_buying_at_once_never_costs_more(of: Offers, needs: list[float]) -> None:
    both = cover_all([Need(str(place), need, of) for place, need in enumerate(needs)])
    assert both.saving is None or both.saving >= 0
    assert len(both.alone) == len(needs) and len(both.purchases) == 1
