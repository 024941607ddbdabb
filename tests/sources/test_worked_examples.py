"""Published tables and worked examples through the whole program: `worked_examples.toml`.

The sources are of compost, mulch and soil, since none is printed for castings; the sums are the same. Conversions here
are made from exact definitions written out below, not by the program.
"""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import pytest

from assistant.answer import Answer
from assistant.ask import ask
from assistant.knowledge import facts

#: NIST Handbook 44, Appendix C: the US gallon, the US bushel and the cup in cubic inches; GNU units' database: the pound
#: and the imperial gallon; the inch is 25.4 mm by definition. Volumes in litres, areas in square metres, lengths in millimetres, weights in kilograms.
CUBIC_INCH = 2.54**3 / 1000
SIZE = {
    "litre": 1.0,
    "millilitre": 0.001,
    "cubic_metre": 1000.0,
    "cubic_inch": CUBIC_INCH,
    "cubic_foot": 1728 * CUBIC_INCH,
    "cubic_yard": 46656 * CUBIC_INCH,
    "us_gallon": 231 * CUBIC_INCH,
    "us_quart": 57.75 * CUBIC_INCH,
    "fluid_ounce": 231 / 128 * CUBIC_INCH,
    "us_dry_quart": 2150.42 / 32 * CUBIC_INCH,
    "five_gallon_bucket": 5 * 231 * CUBIC_INCH,
    "square_metre": 1.0,
    "square_foot": 0.3048**2,
    "foot": 304.8,
    "inch": 25.4,
    "kilogram": 1.0,
    "gram": 0.001,
    "tonne": 1000.0,
    "pound": 0.45359237,
    "percent": 0.01,
    "": 1.0,
}
#: Six figures, as the exact figures are written.
EXACT = 5e-6

DATA = tomllib.loads((Path(__file__).parent / "worked_examples.toml").read_text(encoding="utf-8"))


def _cells(table: dict[str, Any]) -> list[dict[str, Any]]:
    """The cells of a table as checks: a layer over the area, or a fill where it is too thick for one."""
    cells = []
    for inches, printed, exact in zip(table["inches"], table["printed"], table["exact"], strict=True):
        fill = inches > 8
        request = (f"fill a {table['area']} square foot bed {inches} inches deep, 10% castings" if fill
                   else f"{table['area']} square feet, a {inches} inch layer of castings on top")  # fmt: skip
        cells.append({**table, "ask": request, "take": "mix" if fill else "castings", "unit": "cubic_yard", "printed": printed,
                      "exact": exact})  # fmt: skip
    return cells


CHECKS = [*DATA["check"], *(cell for table in DATA["table"] for cell in _cells(table))]


def taken(check: dict[str, Any], answer: Answer) -> tuple[float, float]:
    """The figure that a check speaks of, low and high, in its own unit."""
    litres = answer.castings.litres if answer.castings else (0.0, 0.0)
    asked = answer.answer
    assert asked is not None
    plain = (asked.low or 0.0, asked.high or 0.0)
    match check["take"]:
        case "castings":
            found = litres
        case "mix":
            assert answer.share is not None
            found = (litres[0] / answer.share[0], litres[1] / answer.share[1])
        case "castings over layer":
            assert answer.layer_mm is not None
            found = (litres[0] / answer.layer_mm[0], litres[1] / answer.layer_mm[1])
        case "castings over area":
            area = check["area"] * SIZE["square_foot"]
            found = (litres[0] / area, litres[1] / area)
        case "dearer":
            per_unit = float(answer.table[-1][-1])
            found = (per_unit, per_unit)
        case "length":
            assert asked.of == "area"
            wide = check["wide"] * 0.3048
            found = (plain[0] / wide * 1000, plain[1] / wide * 1000)
        case "weight":
            assert asked.of == "weight"
            found = plain
        case "warns":
            warned = float(any(one.level == "warning" for one in answer.advice))
            found = (warned, warned)
        case take:
            assert asked.of == take, f"the answer is of {asked.of}"
            found = plain
    size = SIZE[check["unit"]]
    return found[0] / size, found[1] / size


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: f"{check['row']}: {check['ask']}")
def test_worked_example(check: dict[str, Any]) -> None:
    answer = ask(check["ask"])
    assert answer.status == "answered", answer.question
    low, high = taken(check, answer)
    found = low if check.get("end") == "low" else high
    if "end" not in check:
        assert low == pytest.approx(high)
    assert found == pytest.approx(check["exact"], rel=EXACT, abs=1e-9), answer.reads
    if "printed" in check:
        most = check["off"] if "off" in check else check["within"] * check["printed"]
        assert found == pytest.approx(check["printed"], abs=most + EXACT * abs(check["printed"]))


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: f"{check['row']}: {check['ask']}")
def test_it_is_founded_as_it_says(check: dict[str, Any]) -> None:
    """A check that calls itself published rests on a text that the program itself lists as seen, by the same name."""
    holders = [one for one in facts().sources().values() if check["row"] in (one.id, *one.also)]
    if check["standing"] in ("published", "repeated"):
        assert [one.name for one in holders] == [check["source"]]
        assert holders[0].seen == ("seen" if check["standing"] == "published" else "seen on a page that repeats it")
        assert "printed" in check
    else:
        assert check["standing"] in ("arithmetic", "common practice", "from memory")


def test_there_are_enough_of_them() -> None:
    assert sum(1 for check in CHECKS if check["standing"] == "published") >= 60


def test_the_figure_that_geometry_does_not_bear_out_is_not_followed() -> None:
    """W18, Colorado State Extension: a 2 in layer over 1000 sq ft as 4 cubic yards. It is 6.17; see X1."""
    answer = ask("1000 sq ft, a 2 inch layer of castings")
    assert answer.castings is not None
    assert answer.castings.litres[0] / SIZE["cubic_yard"] == pytest.approx(6.17284, rel=EXACT)
    assert "W18" in facts().disagreements()["X1"].source
