"""Slips: four forms of one value, and a file that is written whole, or not at all, and over nothing unasked."""

from __future__ import annotations

import csv
import io
import json
import os
from datetime import date
from pathlib import Path

import pytest
from counter_shops import ONE_BAG, TAXED, shop

from assistant.ask import ask
from assistant.lines import columns
from assistant.shop import Catalogue, load
from assistant.slips import FORMS, Slip, make
from assistant.slips.lines import of_requests as answers
from assistant.slips.writing import AlreadyThere, CannotWrite, write

BED = "4 by 8 ft bed, 10 inches deep, 10%"
PEPPERS = "side dress 14 peppers, 1 cup each"
HARM = "30 litres of potting mix, 25% castings"


def slip(*requests: str, catalogue: Catalogue | None = None, day: date | None = None) -> Slip:
    catalogue = catalogue or load()
    found = answers(requests, catalogue)
    assert isinstance(found, tuple), found
    return make(*found, catalogue, day)


def test_a_slip_says_what_to_buy_how_to_apply_it_and_what_it_rests_on() -> None:
    made = slip(BED, day=date(2026, 5, 12))
    assert [(one.number, one.each, one.total) for one in made.buys] == [("2", "36.00", "72.00"), ("2", "12.00", "24.00")]
    assert (made.to_pay, made.currency, made.day, made.shop) == ("96.00", "USD", "2026-05-12", "Tansy Lane Soils")
    assert made.needs[0].takes == "2.67 cu ft of castings (75.51 L)"
    assert made.how and made.how[0].startswith("A blend is a mix made up new")
    assert any("Wear gloves" in one for one in made.cautions)
    assert any("castings = share × finished mix" in one for one in made.rules)
    assert any("sample catalogue" in one for one in made.assumed)


def test_an_order_of_several_is_bought_at_once() -> None:
    made = slip(BED, PEPPERS)
    assert [need.takes for need in made.needs] == ["2.67 cu ft of castings (75.51 L)", "14 cups of castings (3.31 L)"]
    assert [(one.number, one.total) for one in made.buys] == [("3", "102.00")]
    assert any("saves 3.50 USD" in one for one in made.remarks)
    assert len(made.how) == 2


def test_tax_stands_on_a_line_of_its_own(tmp_path: Path) -> None:
    made = slip("bed 2 m by 1 m, 30 cm deep, 10%", catalogue=shop(TAXED, tmp_path))
    assert made.tax == ("sales tax, 10 %", "3.00") and made.to_pay == "33.00"
    assert "sales tax, 10 %" in FORMS["text"](made)


def test_a_pack_that_the_request_states_is_what_is_bought() -> None:
    made = slip("4x8 ft bed 1 ft deep 10% 38 lb/cf 25 lb bags $20 ea total?")
    assert [(one.id, one.number, one.total) for one in made.buys] == [("stated", "5", "")]
    assert made.to_pay == "100.00"


def test_what_is_too_heavy_to_lift_is_cautioned() -> None:
    heavy = slip("top dress 150 sq ft with half an inch")  # 177 L: a quarter yard
    assert any("weighs about 114.7 kg" in one and "23 kg" in one for one in heavy.cautions)  # 191.1387 L × 0.6
    assert not any("lifts" in one for one in slip(BED).cautions)


def test_plain_text_keeps_to_eighty_columns_and_warnings_come_first(tmp_path: Path) -> None:
    for catalogue in (None, shop(ONE_BAG.replace("Pinder Yard", "W" * 60).replace("20 litre bag", "B" * 60), tmp_path)):
        text = FORMS["text"](slip(HARM, BED, catalogue=catalogue, day=date(2026, 12, 31)))
        assert max(columns(line) for line in text.splitlines()) <= 80
        assert (
            text.index("WARNING") < text.index("For:") < text.index("To buy:") < text.index("Take care:") < text.index("Assumed:")
        )
        assert "31 December 2026" in text and text.endswith("\n")


def test_no_day_stands_on_a_slip_unless_it_is_given() -> None:
    made = slip(BED)
    assert made.day == ""
    assert json.loads(FORMS["json"](made))["date"] is None
    assert str(date.today().year) not in FORMS["text"](made)


def test_json_holds_the_whole_slip() -> None:
    body = json.loads(FORMS["json"](slip(BED, PEPPERS, day=date(2026, 5, 12))))
    assert body["to_pay"] == {"amount": "102.00", "currency": "USD"}
    assert body["to_buy"] == [
        {"id": "castings-1-cubic-foot", "name": "Castings, 1 cubic foot bag", "count": "3", "each": "34.00", "total": "102.00"}
    ]
    assert body["date"] == "2026-05-12" and body["cautions"] and body["rules"] and body["assumed"] and body["how_to_apply"]


def test_markdown_has_its_headings_and_escapes_what_would_be_read_as_marks(tmp_path: Path) -> None:
    catalogue = shop(ONE_BAG.replace("Pinder Yard", "A *bold* [shop] <b>"), tmp_path)
    text = FORMS["markdown"](slip("bed 2 m by 1 m, 30 cm deep, 10%", catalogue=catalogue))
    assert text.startswith("# A \\*bold\\* \\[shop\\] \\<b\\>\n")
    for heading in ("## For", "## To buy", "## How to apply it", "## Take care", "## How it was worked out", "## Assumed"):
        assert f"\n{heading}\n" in text
    assert "| 20 litre bag | 3 | 10.00 | 30.00 |" in text


def test_csv_is_one_table_and_no_cell_is_a_formula() -> None:
    made = slip(BED)._replace(shop="=cmd|' /C calc'!A0", remarks=("+1+1", "@SUM(A1)", "-2+3"))
    rows = list(csv.DictReader(io.StringIO(FORMS["csv"](made), newline="")))
    assert {row["kind"] for row in rows} >= {"shop", "for", "pack", "to pay", "caution", "rule", "assumed"}
    assert [row["total"] for row in rows if row["kind"] == "to pay"] == ["96.00"]
    for row in rows:
        for cell in row.values():
            assert not cell.startswith(("=", "+", "-", "@")), cell
    assert next(row["text"] for row in rows if row["kind"] == "shop").startswith("'=")


def test_every_form_is_the_same_each_time() -> None:
    for form in FORMS.values():
        assert form(slip(BED, PEPPERS)) == form(slip(BED, PEPPERS))


def test_a_question_makes_no_slip() -> None:
    question = ask("raised bed 4 by 8 ft, 10% castings")
    with pytest.raises(ValueError, match="question"):
        make([question], question, load())


# ---- the file --------------------------------------------------------------------------------------------


def test_a_file_is_written_and_none_is_left_beside_it(tmp_path: Path) -> None:
    write(tmp_path / "slip.txt", "a slip\n")
    assert (tmp_path / "slip.txt").read_text(encoding="utf-8") == "a slip\n"
    assert os.listdir(tmp_path) == ["slip.txt"]


def test_nothing_is_overwritten_without_being_told(tmp_path: Path) -> None:
    path = tmp_path / "slip.txt"
    path.write_text("theirs", encoding="utf-8")
    with pytest.raises(AlreadyThere, match="already"):
        write(path, "ours")
    assert path.read_text(encoding="utf-8") == "theirs"
    path.chmod(0o640)
    write(path, "ours", replace=True)
    assert path.read_text(encoding="utf-8") == "ours" and path.stat().st_mode & 0o777 == 0o640
    assert os.listdir(tmp_path) == ["slip.txt"]


def test_a_write_that_fails_leaves_what_was_there(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "slip.txt"
    path.write_text("theirs", encoding="utf-8")

    def full(handle: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(CannotWrite, match="No space left"):
        write(path, "ours", replace=True)
    assert path.read_text(encoding="utf-8") == "theirs"
    assert os.listdir(tmp_path) == ["slip.txt"]


def test_a_link_is_followed_and_stays_a_link(tmp_path: Path) -> None:
    (tmp_path / "real.txt").write_text("theirs", encoding="utf-8")
    (tmp_path / "link.txt").symlink_to(tmp_path / "real.txt")
    write(tmp_path / "link.txt", "ours", replace=True)
    assert (tmp_path / "link.txt").is_symlink() and (tmp_path / "real.txt").read_text(encoding="utf-8") == "ours"


def test_what_is_no_plain_file_is_refused(tmp_path: Path) -> None:
    for place in (tmp_path, tmp_path / "nowhere" / "slip.txt"):
        with pytest.raises(CannotWrite):
            write(place, "ours", replace=True)
