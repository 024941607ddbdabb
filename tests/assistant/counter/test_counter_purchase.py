"""Purchases out of the catalogue in force, worked by hand from exact unit definitions.

The sample's castings weigh 0.6 kg/L, so that its 40 lb bag holds 40 × 0.45359237 / 0.6 = 30.239491 L, the 10 lb
one 7.559873 L; a dry quart is 1.101220943 L and a cubic foot 28.316846592 L.
"""

from __future__ import annotations

import re
import subprocess
import sys
from decimal import Decimal
from itertools import product
from pathlib import Path

import pytest
from counter_shops import BLEND_ONLY, FLAT, ONE_BAG, TAXED, shop

from assistant.answer import Answer
from assistant.ask import ask
from assistant.say import say
from assistant.shop import load, search, table
from assistant.slips import make

#: Litres and price of each sample pack; of the breaks, (from, price).
SAMPLE = {
    "castings-2-litre": (2.0, "4.75", ()),
    "castings-8-quart": (8 * 1.101220942715, "14.50", ((4, "13.25"),)),
    "castings-10-pound": (10 * 0.45359237 / 0.6, "12.00", ()),
    "castings-1-cubic-foot": (28.316846592, "34.00", ((5, "31.50"), (20, "29.00"))),
    "castings-40-pound": (40 * 0.45359237 / 0.6, "36.00", ((10, "33.00"),)),
    "castings-quarter-yard": (27 * 28.316846592 / 4, "165.00", ()),
}


def bought(answer: Answer) -> dict[str, float]:
    return {pack.id: pack.count for pack in answer.packs}


def paid(answer: Answer) -> str:
    assert answer.cost is not None, answer.question
    return answer.cost.amount


def said(answer: Answer, code: str) -> str:
    return next(one.text for one in answer.advice if one.code == code)


def assumed(answer: Answer) -> set[str]:
    return {one.code for one in answer.assumed}


def _least(need: float) -> Decimal:
    """The least that covers so many litres, by trying everything."""
    ids = list(SAMPLE)
    tops = [int(need // SAMPLE[name][0]) + 1 for name in ids]
    best = Decimal("270.00") if need <= 764.554857984 / 2 else Decimal("1e9")
    for counts in product(*(range(top + 1) for top in tops)):
        if sum(count * SAMPLE[name][0] for name, count in zip(ids, counts, strict=True)) < need * (1 - 1e-9):
            continue
        cost = Decimal(0)
        for name, count in zip(ids, counts, strict=True):
            each = next((price for start, price in reversed(SAMPLE[name][2]) if count >= start), SAMPLE[name][1])
            cost += Decimal(each) * count
        best = min(best, cost)
    return best


@pytest.mark.parametrize(
    ("request_", "litres", "cost"),
    [
        # 32 sq ft × 10/12 ft × 0.1 = 2.666667 cu ft
        ("4 by 8 ft bed, 10 inches deep, 10%, what will it cost", 75.511591, "96.00"),
        # 30 × 2 cups of 0.2365882 L
        ("side dress 30 tomatoes, 2 cups each, what cost", 14.195295, "24.00"),
        ("how much does 20 litres of castings cost", 20.0, "34.00"),
        ("what do 3 cubic feet cost", 84.950539776, "102.00"),
    ],
)
def test_the_cheapest_purchase_of_the_sample(request_: str, litres: float, cost: str) -> None:
    answer = ask(request_)
    assert answer.castings is not None and answer.castings.litres[1] == pytest.approx(litres, rel=1e-6)
    assert paid(answer) == cost
    assert answer.answer is not None and (answer.answer.of, answer.answer.low) == ("cost", float(cost))
    assert _least(litres) == Decimal(cost)
    assert "sample-catalogue" in assumed(answer)


@pytest.mark.parametrize("litres", [1, 5, 9, 13, 21.5, 28.3, 33, 47])
def test_packs_are_chosen_as_brute_force_chooses_them(litres: float) -> None:
    answer = ask(f"how many bags for {litres} litres of castings")
    assert Decimal(paid(answer)) == _least(litres)
    held = sum(SAMPLE[name][0] * count for name, count in bought(answer).items())
    assert held >= litres * (1 - 1e-9)


def test_packs_and_their_number() -> None:
    answer = ask("4 by 8 ft bed, 10 inches deep, 10%, how many bags")
    assert bought(answer) == {"castings-40-pound": 2, "castings-10-pound": 2}  # 75.5987 L for 75.5116 L
    assert answer.answer is not None and (answer.answer.of, answer.answer.low, answer.answer.unit) == ("packs", 4.0, "packs")
    assert answer.figure == "4 packs: 2 × Castings, 40 lb bag + 2 × Castings, 10 lb bag"
    assert {step.rule for step in answer.working} >= {"pack-choice", "cost"}


def test_without_money_asked_and_without_a_shop_nothing_is_bought() -> None:
    answer = ask("4 by 8 ft bed, 10 inches deep, 10%")
    assert answer.packs == () and answer.cost is None
    assert "sample-catalogue" not in assumed(answer)


def test_a_single_request_without_a_purchase_loads_no_shop() -> None:
    code = (
        "import sys; from assistant.ask import ask; ask('4 by 8 ft bed, 10 in deep, 10%'); "
        "ask('14 peppers, 1 cup each, 20 lb bags at $20, what cost'); "
        "print([m for m in sys.modules if m.startswith(('assistant.shop', 'assistant.purchase', 'assistant.orders'))])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True, cwd=Path(__file__).parents[3])
    assert done.stdout.strip() == "[]"


@pytest.mark.parametrize(
    ("request_", "count", "cost"),
    [
        ("4x8 ft bed 1 ft deep 10% 38 lb/cf 25 lb bags $20 ea total?", 5, "100.00"),
        ("bed 4 by 10 ft, 12 in deep, 10%, 30 lb bags, 36 lb per cubic foot, how many bags", 5, None),
    ],
)
def test_a_request_that_states_its_own_pack_never_meets_the_catalogue(
    request_: str, count: int, cost: str | None, tmp_path: Path
) -> None:
    for catalogue in (None, shop(ONE_BAG, tmp_path)):
        answer = ask(request_, catalogue)
        assert [(pack.id, pack.count) for pack in answer.packs] == [("stated", count)]
        assert (answer.cost.amount if answer.cost else None) == cost
        assert not assumed(answer) & {"sample-catalogue", "shop-density"}


def test_with_a_shop_every_forward_answer_says_what_to_buy(tmp_path: Path) -> None:
    own = shop(ONE_BAG, tmp_path)
    for request, bags in (
        ("bed 2 m by 1 m, 30 cm deep, 10%", 3),  # 60 L
        ("top dress 10 m2 with 5 mm", 3),  # 50 L
        ("50 peppers, 100 g each", 1),  # 5 kg at 0.5 kg/L: 10 L
        ("tea 1:10, 300 litres of water", 2),  # 30 L
    ):
        answer = ask(request, own)
        assert bought(answer) == {"bag": bags}, request
        assert paid(answer) == f"{bags * 10}.00" and answer.cost is not None and answer.cost.currency == "GBP"
        assert "sample-catalogue" not in assumed(answer)
        assert answer.answer is not None and answer.answer.of == "castings"


def test_the_shops_own_density_turns_volume_into_weight(tmp_path: Path) -> None:
    answer = ask("20 litres of castings, how heavy", shop(ONE_BAG, tmp_path))
    assert answer.castings is not None and answer.castings.kg == pytest.approx((10.0, 10.0))
    assert "shop-density" in assumed(answer) and "default-density" not in assumed(answer)


def test_a_stated_density_stands_in_for_that_of_every_product() -> None:
    # at 0.9072 kg/L a 40 lb bag holds exactly 20 L, so that the weight no longer pays
    light = ask("58 litres of castings, what cost")  # 28.3168 + 30.2395 = 58.5563 L
    assert bought(light) == {"castings-1-cubic-foot": 1, "castings-40-pound": 1} and paid(light) == "70.00"
    heavy = ask("castings weigh 0.9071847 kg/L, 58 litres of castings, what cost")  # 2 × 28.3168 + 2 = 58.6337 L
    assert bought(heavy) == {"castings-1-cubic-foot": 2, "castings-2-litre": 1} and paid(heavy) == "72.75"
    assert "shop-density" in assumed(light) and "shop-density" not in assumed(heavy)


def test_the_upper_end_of_a_span_is_bought_for_and_the_lower_is_told() -> None:
    answer = ask("side dress 30 tomatoes, what cost")  # 30 to 60 cups: 7.0976 to 14.1953 L
    assert paid(answer) == "24.00" and bought(answer) == {"castings-10-pound": 2}
    text = next(note.text for note in answer.assumed if note.code == "packs-for-high-end")
    assert "so that it suffices" in text and "1 × Castings, 10 lb bag for 12.00 USD" in text


def test_what_is_left_over_and_what_it_would_do() -> None:
    # 10 × 2 cups = 4.7318 L; three pouches hold 6 L: 1.2682 L over, 2 more at 0.4732 L
    answer = ask("10 tomatoes, 2 cups each, side dress, how many bags")
    assert bought(answer) == {"castings-10-pound": 1}  # 12.00 against 14.25 for three pouches; 2.8281 L over
    assert "enough for 5 more tomatoes" in said(answer, "pack-left")


@pytest.mark.parametrize(
    ("request_", "told"),
    [
        # 94.00 buys 30.2395 + 28.3168 + 2 × 7.5599 = 73.6761 L of 75.5116 L: 9.7569 %
        ("4 by 8 ft bed, 10 inches deep, 10%, what will it cost", "9.76 % castings in place of 10 %"),
        # 30.2395 L at 36.00 covers 30 L exactly enough; the next smaller buys 28.3168 L: 30 mm × 28.3168 / 30
        ("top dress 1 m2 with 30 mm, what cost", "a layer of 28.32 mm in place of 30 mm"),
        # 21.50 buys 7.5599 + 4 = 11.5599 L, at 0.4732 L each 24 plants
        ("side dress 30 tomatoes, 2 cups each, what cost", "24 of the 30 tomatoes"),
    ],
)
def test_the_next_smaller_purchase_and_what_it_would_do(request_: str, told: str) -> None:
    assert told in said(ask(request_), "smaller-purchase")


def test_dug_in_a_smaller_purchase_makes_a_share_of_the_whole(tmp_path: Path) -> None:
    # 450 L of soil and 50 L of castings are 10 %; two bags, 40 L, are 40 / 490 = 8.163 %
    answer = ask("dig castings into 1.5 m2 of soil, the top 30 cm, 10%, what cost", shop(ONE_BAG, tmp_path))
    assert answer.castings is not None and answer.castings.litres[1] == pytest.approx(50.0)
    assert "8.16 % castings in place of 10 %" in said(answer, "smaller-purchase")


def test_would_two_bags_do() -> None:
    answer = ask("4 by 8 ft bed 10 inches deep at 10%, would two bags do")
    # the largest that can be carried: 2 × 30.2395 = 60.479 L of 75.5116 L: 8.0093 %
    assert answer.advice[0].code == "bags-asked"
    assert "2 bags will not do" in answer.advice[0].text and "8.01 % castings in place of 10 %" in answer.advice[0].text
    assert {row[0] for row in answer.table[1:]} == {f"Castings, {name}" for name in (
        "1 cubic foot bag", "10 lb bag", "2 litre pouch", "40 lb bag", "8 dry quart bag")}  # fmt: skip
    enough = ask("4 by 8 ft bed 10 inches deep at 10%, would three bags do")
    assert "do if they are “Castings, 1 cubic foot bag” (102.00 USD)" in enough.advice[0].text


def test_several_places_are_bought_at_once_and_the_saving_is_told() -> None:
    answer = ask("4 by 8 ft bed, 10 inches deep, 10%, and 14 peppers, 1 cup each, what cost")
    # together 78.8238 L: 3 cu ft bags, 102.00; alone 96.00 and, for 3.3122 L, 9.50
    assert paid(answer) == "102.00"
    assert "each place alone would come to 105.50 USD, so it saves 3.50 USD" in said(answer, "bought-together")


def test_tax_on_top_is_paid_and_told(tmp_path: Path) -> None:
    answer = ask("bed 2 m by 1 m, 30 cm deep, 10%, what cost", shop(TAXED, tmp_path))
    assert paid(answer) == "33.00" and answer.cost is not None and answer.cost.currency == "CAD"
    tax = next(step for step in answer.working if step.rule == "tax")
    assert "3.00 CAD" in tax.gives and "10 %" in tax.with_


def test_what_is_sold_loose_is_bought_by_its_step(tmp_path: Path) -> None:
    answer = ask("bed 4 m by 1 m, 1 m deep, 10%, what cost", shop(TAXED, tmp_path))  # 400 L
    assert [(pack.id, pack.count) for pack in answer.packs] == [("load", 0.5)]
    assert paid(answer) == "165.00"  # half of 300, and a tenth
    record = answer.model_dump(mode="json")
    assert record["packs"][0]["count"] == 0.5


def test_a_stock_that_does_not_do_is_told_and_never_answered_from(tmp_path: Path) -> None:
    own = shop(TAXED, tmp_path)  # 3 bags and one load: 1060 L
    short = ask("bed 20 m by 1 m, 1 m deep, 10%", own)  # 2000 L
    assert short.status == "answered" and short.packs == () and short.cost is None
    assert "940 L too little" in said(short, "stock-short")
    asked = ask("bed 20 m by 1 m, 1 m deep, 10%, what cost", own)
    assert asked.status == "asks" and asked.cost is None and "940 L too little" in (asked.question or "")


def test_a_shop_without_plain_castings(tmp_path: Path) -> None:
    own = shop(BLEND_ONLY, tmp_path)
    answer = ask("bed 2 m by 1 m, 30 cm deep, 10%", own)
    assert answer.status == "answered" and answer.packs == ()
    assert "sells no plain castings" in said(answer, "not-sold")
    assert ask("bed 2 m by 1 m, 30 cm deep, 10%, what cost", own).status == "asks"


def test_dry_quarts_liquid_quarts_and_kitchen_cups_are_told_apart() -> None:
    answer = ask("8 litres of castings, how many bags")
    # 8 dry quarts are 8.8098 L, 37.24 cups; 8 liquid quarts 7.5708 L
    assert bought(answer) == {"castings-8-quart": 1} and paid(answer) == "14.50"
    text = said(answer, "pack-quarts")
    assert "8.81 L" in text and "37.24 cups" in text and "7.57 L" in text


def test_what_is_sold_by_weight_names_its_water() -> None:
    text = said(ask("side dress 30 tomatoes, what cost"), "pack-by-weight")
    assert "at 45 % moisture 55 % of the weight is dry matter" in text and "fill less room" in text


def test_the_same_request_gives_the_same_answer_to_the_byte() -> None:
    request = "4 by 8 ft bed, 10 inches deep, 10%, what will it cost"
    assert ask(request).model_dump_json() == ask(request).model_dump_json()
    assert ask(request, load()).cost == ask(request).cost


@pytest.mark.parametrize(
    "request_", ["4 by 8 ft bed, 10 inches deep, 10%, how many bags", "what will $60 cover", "compare the bags per pound",
                 "side dress 30 tomatoes, what cost", "4 by 8 ft bed, 10 inches deep, 10%, would two bags do"],
)  # fmt: skip
def test_the_printed_reading_gives_the_same_purchase(request_: str) -> None:
    first = ask(request_)
    again = ask(first.reads)
    assert (again.packs, again.cost, again.castings) == (first.packs, first.cost, first.castings)


# ---- what is not proved ----------------------------------------------------------------------------------


def test_a_choice_that_is_not_proved_says_so_wherever_it_is_printed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    own = shop(FLAT, tmp_path)
    request = "what do 997 litres of castings cost"
    proved = ask(request, own)
    assert "choice-not-proved" not in {one.code for one in proved.advice}
    for name in ("AT_ALL", "FOR_TRIFLES", "BEFORE_SPLIT"):
        monkeypatch.setattr(search, name, 0)
    monkeypatch.setattr(table, "MOST_ENTRIES", 0)
    answer = ask(request, own)
    doubt = next(one for one in answer.advice if one.code == "choice-not-proved")
    assert doubt.level == "caution" and "may not be the cheapest" in doubt.text
    # what it could save at most is no less than what it does cost too much
    could_save = Decimal(re.search(r"could save ([0-9.]+) GBP at most", doubt.text)[1])  # type: ignore[index]
    assert Decimal(paid(answer)) - Decimal(paid(proved)) <= could_save
    assert "may not be the cheapest" in " ".join(say(answer).split())
    assert "not proved" in next(step.source for step in answer.working if step.rule == "pack-choice")
    assert any("may not be the cheapest" in one for one in make([answer], answer, own).remarks)
    money = ask("how much castings can I get for £503.50", own)
    assert "may not be the most" in said(money, "choice-not-proved")


# ---- blends, taxes, loose packs --------------------------------------------------------------------------


def test_a_ready_mix_is_told_beside_the_castings_and_never_bought_unasked() -> None:
    answer = ask("4 by 8 ft bed, 10 inches deep, 10%, what cost")
    # 2.6667 cu ft of castings are in 8.8889 cu ft of a blend of 30 %: ten bags at 13.75 come to less than nine at 15.50
    assert "8.89 cu ft" in said(answer, "ready-mixed") and "137.50 USD" in said(answer, "ready-mixed")
    assert all(pack.id.startswith("castings-") for pack in answer.packs)
    for request in (
        "4 by 8 ft bed, 10 inches deep, 35%, what cost",  # richer than the blend
        "top dress 4 by 8 ft with half an inch, what cost",  # no mix is made up
        "dig castings into the top 6 inches, 4 by 8 ft, 10%, what cost",
    ):
        assert "ready-mixed" not in {one.code for one in ask(request).advice}, request


def test_a_shop_of_blends_alone_says_what_it_has(tmp_path: Path) -> None:
    answer = ask("4 by 8 ft bed, 10 inches deep, 10%, what cost", shop(BLEND_ONLY, tmp_path))
    assert answer.status == "asks" and "“Bed mix”, 30 % castings" in (answer.question or "")


def test_a_tax_that_comes_on_top_is_said(tmp_path: Path) -> None:
    own = shop(TAXED, tmp_path)
    for request in ("bed 2 m by 1 m, 30 cm deep, 10%", "how many bags for $32.99", "price of a 20 litre bag"):
        assert "tax" in assumed(ask(request, own)), request
    assert "tax-on-top" in assumed(ask("compare the bags", own))
    assert not {"tax", "tax-on-top"} & assumed(ask("bed 2 m by 1 m, 30 cm deep, 10%", shop(ONE_BAG, tmp_path)))


def test_loose_packs_are_counted_in_their_steps() -> None:
    answer = ask("what does 1.5 yards cost")
    assert [(pack.id, pack.count) for pack in answer.packs] == [("castings-yard", 1.5)] and paid(answer) == "810.00"
    mixed = ask("30 cubic feet of castings, how many bags")
    # a yard is 27 cu ft, and three bags the rest: the figure adds no yards to bags
    assert mixed.figure == "1 × Castings, loose by the cubic yard + 3 × Castings, 1 cubic foot bag"
    assert mixed.answer is not None and mixed.answer.low == 4.0 and isinstance(mixed.packs[0].count, int)
