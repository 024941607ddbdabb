"""What must hold of every answer, whatever the sizes: forwards and backwards, units, doubling, order, spelling."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.answer import Answer
from assistant.ask import ask

SOME = settings(max_examples=60, deadline=None, derandomize=True)

sides = st.integers(2, 24)
depths = st.integers(4, 30)
shares = st.integers(1, 40)


def answered(request: str) -> Answer:
    answer = ask(request)
    assert answer.status == "answered", f"{request}: {answer.question}"
    return answer


def litres(request: str) -> tuple[float, float]:
    found = answered(request)
    assert found.castings is not None
    return found.castings.litres


def value(request: str, of: str) -> tuple[float, float]:
    found = answered(request).answer
    assert found is not None and found.of == of and found.low is not None and found.high is not None
    return found.low, found.high


# ---- forwards and backwards ------------------------------------------------------------------------------------


@SOME
@given(sides, sides, depths, shares)
def test_a_share_comes_back(length: int, width: int, deep: int, share: int) -> None:
    amount = litres(f"new bed {length} by {width} ft, {deep} in deep, {share}% castings")[0]
    bed = f"a new {length} by {width} ft bed, {deep} in deep"
    back = value(f"what share do {amount:.9f} litres of castings make in {bed}", "share")
    assert back == pytest.approx((share / 100, share / 100), rel=1e-7)


@SOME
@given(sides, sides, depths, shares)
def test_a_share_dug_in_comes_back(length: int, width: int, deep: int, share: int) -> None:
    amount = litres(f"dig in, {length} by {width} ft bed, {deep} in deep, {share}% castings")[0]
    soil = f"the top {deep} in of soil of a {length} by {width} ft bed"
    back = value(f"what share do {amount:.9f} litres of castings make in {soil}", "share")
    assert back == pytest.approx((share / 100, share / 100), rel=1e-7)


@SOME
@given(sides, sides, st.integers(5, 60))
def test_a_layer_comes_back(length: int, width: int, thick: int) -> None:
    amount = litres(f"top dress a {length} by {width} m bed, a layer of {thick} mm")[0]
    back = value(f"{amount:.9f} litres of castings over a {length} by {width} m bed, how thick a layer", "layer")
    assert back == pytest.approx((thick, thick), rel=1e-7)


@SOME
@given(sides, sides, st.integers(5, 60))
def test_an_area_comes_back(length: int, width: int, thick: int) -> None:
    amount = litres(f"top dress a {length} by {width} m bed, a layer of {thick} mm")[0]
    back = value(f"how far do {amount:.9f} litres of castings go in a layer of {thick} mm", "area")
    assert back == pytest.approx((length * width, length * width), rel=1e-7)


@SOME
@given(sides, sides, st.integers(5, 30), st.integers(1, 30))
def test_an_area_from_a_span_contains_the_area(length: int, width: int, thin: int, more: int) -> None:
    """Back from a span of castings and a span of layers the area is a wider span, and the true one lies in it."""
    low, high = litres(f"top dress a {length} by {width} m bed, a layer of {thin} to {thin + more} mm")
    for amount in (low, high):
        back = value(f"how far do {amount:.9f} litres of castings go in a layer of {thin} to {thin + more} mm", "area")
        assert back[0] * (1 - 1e-7) <= length * width <= back[1] * (1 + 1e-7)


@SOME
@given(st.integers(2, 500), shares)
def test_a_mix_comes_back(mix: int, share: int) -> None:
    amount = litres(f"{mix} litres of potting mix, {share}% castings")[0]
    back = value(f"how much mix will {amount:.9f} litres of castings make at {share}%", "mix")
    assert back == pytest.approx((mix, mix), rel=1e-7)


@SOME
@given(st.integers(2, 200), st.integers(1, 8))
def test_plants_come_back(count: int, cups: int) -> None:
    amount = litres(f"side dress {count} tomatoes, {cups} cups each")[0]
    back = value(f"how many tomatoes can I side dress with {amount + 1e-6:.9f} litres of castings, {cups} cups each", "plants")
    assert back == (count, count)


@SOME
@given(st.integers(2, 400), st.integers(20, 90))
def test_weight_and_volume_agree(volume: int, dense: int) -> None:
    found = answered(f"{volume} litres of castings weighing {dense / 100} kg per litre, how heavy")
    assert found.castings is not None
    assert found.castings.kg == pytest.approx((volume * dense / 100,) * 2)
    back = answered(f"{found.castings.kg[0]:.9f} kg of castings weighing {dense / 100} kg per litre, how many litres")
    assert back.castings is not None and back.castings.litres == pytest.approx((volume, volume), rel=1e-7)


# ---- other units -----------------------------------------------------------------------------------------------


@SOME
@given(sides, sides, depths, shares)
def test_other_units_do_not_change_the_answer(length: int, width: int, deep: int, share: int) -> None:
    feet = litres(f"new bed {length} by {width} ft, {deep} in deep, {share}% castings")
    inches = litres(f"new bed {length * 12} by {width * 12} in, {deep} in deep, {share}% castings")
    metric = litres(f"new bed {length * 0.3048:.6f} m by {width * 30.48:.6f} cm, {deep * 2.54:.6f} cm deep, {share}% castings")
    area = litres(f"new bed of {length * width} sq ft, {deep} in deep, {share}% castings")
    assert inches == pytest.approx(feet) and area == pytest.approx(feet)
    assert metric == pytest.approx(feet, rel=1e-6)


# ---- twice as much ---------------------------------------------------------------------------------------------


@SOME
@given(sides, sides, depths, shares)
def test_twice_the_bed_is_twice_the_castings(length: int, width: int, deep: int, share: int) -> None:
    once = litres(f"new bed {length} by {width} ft, {deep} in deep, {share}% castings")[0]
    for twice in (
        f"new bed {2 * length} by {width} ft, {deep} in deep, {share}% castings",
        f"new bed {length} by {width} ft, {2 * deep} in deep, {share}% castings",
        f"new bed {length} by {width} ft, {deep} in deep, {2 * share}% castings",
        f"2 new beds {length} by {width} ft each, {deep} in deep, {share}% castings",
    ):
        assert litres(twice)[0] == pytest.approx(2 * once), twice


@SOME
@given(sides, sides, st.integers(1, 4), st.integers(2, 60), st.integers(1, 4))
def test_places_add_up(length: int, width: int, quarters: int, count: int, cups: int) -> None:
    bed = f"top dress a {length} by {width} ft bed with a {quarters}/4 inch layer" if quarters < 4 else (
        f"top dress a {length} by {width} ft bed with a 1 inch layer")  # fmt: skip
    plants = f"side dress {count} tomatoes, {cups} cups each"
    both = answered(f"{bed}, and {plants}")
    assert len(both.parts) == 2 and both.castings is not None
    assert both.castings.litres[0] == pytest.approx(litres(bed)[0] + litres(plants)[0])


@SOME
@given(sides, sides)
def test_a_span_goes_through_as_low_and_high(length: int, width: int) -> None:
    low, high = litres(f"top dress a {length} by {width} ft bed, a layer of 1/2 to 1 inch")
    assert (low, high) == pytest.approx(
        (litres(f"top dress a {length} by {width} ft bed, a layer of 1/2 inch")[0],
         litres(f"top dress a {length} by {width} ft bed, a layer of 1 inch")[0])
    )  # fmt: skip


# ---- order and spelling ----------------------------------------------------------------------------------------


@SOME
@given(st.permutations(["new bed 4 by 9 ft", "10 in deep", "12% castings"]))
def test_order_does_not_matter(phrases: list[str]) -> None:
    assert litres(", ".join(phrases)) == pytest.approx(litres("new bed 4 by 9 ft, 10 in deep, 12% castings"))


_NOUNS = ["bed", "raised bed", "garden bed", "flower bed", "veggie bed", "planting bed"]
_SIZES = [
    "4 by 9 ft", "4 x 9 ft", "4ft x 9ft", "4' x 9'", "4 ft by 9 ft", "four by nine feet", "9 ft by 4 ft", "4×9 ft", "4-by-9-foot",
]  # fmt: skip
_DEPTHS = [
    "10 in deep", '10" deep', "10 inches deep", "ten inches deep", "10-inch deep", "depth 10 in", "depth: 10 inches",
]  # fmt: skip
_SHARES = [
    "10% castings", "10 % castings", "10 percent castings", "ten per cent castings", "10 pct castings", "castings at 10%",
    "10% worm castings", "10% vermicompost",
]  # fmt: skip
_BED = st.tuples(*(st.sampled_from(ways) for ways in (_NOUNS, _SIZES, _DEPTHS, _SHARES)))


@settings(max_examples=150, deadline=None, derandomize=True)
@given(_BED)
def test_spelling_does_not_matter(said: tuple[str, ...]) -> None:
    noun, size, deep, share = said
    assert litres(f"{noun} {size}, {deep}, {share}") == pytest.approx(litres("bed 4 by 9 ft, 10 in deep, 10% castings")), said
