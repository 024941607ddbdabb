"""Slips out of a talk: of one line, of several over turns, of the order; with a day only where one is given."""

from __future__ import annotations

import json
from datetime import date
from pathlib import Path

import pytest
from counter_shops import ONE_BAG, TAXED, shop, written

from assistant.chat.talk import Talk
from assistant.cli import main
from assistant.lines import Look, columns

#: 60 L: three bags of 20 L at 10.00; 15 L and 10 L: a bag each alone, but 85 L in all are five.
BED, LAWN, POTS = "bed 2 m by 1 m, 30 cm deep, 10%", "top dress 1 m2 with 15 mm", "20 peppers, 500 ml each"


@pytest.fixture
def talk(tmp_path: Path) -> Talk:
    return Talk(Look(), clock=lambda: date(2026, 5, 12), shop=shop(ONE_BAG, tmp_path))


def told(talk: Talk, *lines: str) -> str:
    for line in lines:
        reply = talk.reply(line)
    return reply


@pytest.mark.parametrize("words", ["slip", "print me a slip", "Can I have a slip, please?", "make a slip", "the slip please"])
def test_a_slip_of_one_line(talk: Talk, words: str) -> None:
    slip = told(talk, BED, words)
    lines = slip.splitlines()
    assert lines[0] == "Pinder Yard" and "To buy:" in lines
    assert any(line.split() == ["3", "x", "20", "litre", "bag", "at", "10.00", "30.00", "GBP"] for line in lines)
    assert all(line.strip() and columns(line) <= 80 for line in lines), "an empty line would end a reply in a conversation file"
    assert "2026" not in slip, "the clock is not asked"


def test_a_slip_of_several_places_over_turns_is_bought_at_once(talk: Talk) -> None:
    slip = told(talk, BED, LAWN, POTS, "print the slip")
    assert slip.count("  takes ") == 3
    assert "5 x 20 litre bag" in slip and "50.00 GBP" in slip
    slip = told(talk, "take the peppers off", "slip")
    assert slip.count("  takes ") == 2 and "4 x 20 litre bag" in slip
    assert "nothing to put on a slip" in told(talk, "next customer", "slip")


def test_questions_between_are_not_on_it(talk: Talk) -> None:
    slip = told(talk, BED, "what is a dry quart?", "how far does a 20 litre bag go, half an inch on top", "slip")
    assert slip.count("  takes ") == 1 and "3 x 20 litre bag" in slip


def test_the_order_goes_before_the_talk(talk: Talk) -> None:
    slip = told(talk, BED, "add it to the order", LAWN, "slip")
    assert slip.count("  takes ") == 1 and "bed 2 metres by 1 metre" in slip


@pytest.mark.parametrize(
    ("words", "day"),
    [("slip dated 3 June 2026", "3 June 2026"), ("print a slip with today's date", "12 May 2026"), ("slip for today", "12 May 2026")],
)
def test_the_day_stands_on_it_where_it_is_given(talk: Talk, words: str, day: str) -> None:
    assert told(talk, BED, words).splitlines()[0].endswith(day)


def test_a_day_that_cannot_be_told_makes_no_slip(talk: Talk) -> None:
    assert "two ways" in told(talk, BED, "slip dated 3/6/2026")


def test_a_slip_into_a_file(talk: Talk, tmp_path: Path) -> None:
    for name, start in (("s.txt", "Pinder Yard"), ("s.md", "# Pinder Yard"), ("s.json", "{"), ("s.csv", "kind,id,")):
        assert f"written in {tmp_path / name}" in " ".join(told(talk, BED, f"write the slip to {tmp_path / name}").split())
        assert (tmp_path / name).read_text(encoding="utf-8").startswith(start)
    told(talk, f"save the slip to {tmp_path / 'dated.json'} dated 2026-06-03")
    assert json.loads((tmp_path / "dated.json").read_text(encoding="utf-8"))["date"] == "2026-06-03"


def test_a_slip_goes_over_no_file_unless_told(talk: Talk, tmp_path: Path) -> None:
    path = tmp_path / "s.txt"
    path.write_text("theirs", encoding="utf-8")
    reply = " ".join(told(talk, BED, f"write the slip to {path}").split())
    assert "Not written" in reply and "replace the slip in" in reply and path.read_text(encoding="utf-8") == "theirs"
    told(talk, f"replace the slip in {path}")
    assert path.read_text(encoding="utf-8").startswith("Pinder Yard")
    assert "cannot be written" in " ".join(told(talk, f"write the slip to {tmp_path / 'none' / 's.txt'}").split())
    assert "Which file?" in told(talk, "write the slip to")


def test_a_replayed_talk_writes_no_slip(tmp_path: Path) -> None:
    talk = Talk(Look(), may_write=False)
    assert "not written here" in told(talk, BED, f"write the slip to {tmp_path / 's.txt'}") and not list(tmp_path.iterdir())
    assert "cannot be told here" in told(talk, "slip for today")


def test_what_is_no_slip_stays_a_request(talk: Talk) -> None:
    assert "15 L" in told(talk, "slip it on top: 1 m2 with 15 mm of castings")


def test_without_a_shop_the_sample_is_named_on_it() -> None:
    talk = Talk(Look())
    assert "sample catalogue" in " ".join(told(talk, BED, "slip").split())


def test_narrow_and_plain_windows(tmp_path: Path) -> None:
    talk = Talk(Look(width=40, ascii=True), shop=shop(TAXED, tmp_path))
    slip = told(talk, BED, "slip")
    assert all(columns(line) <= 40 for line in slip.splitlines()) and slip.isascii()


def test_a_talk_is_replayed_at_a_shops_counter(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path, catalogue = tmp_path / "counter.talk", str(written(ONE_BAG, tmp_path))
    path.write_text(f"# At the counter.\n> {BED}\n> slip\n", encoding="utf-8")
    assert main(["replay", "--write", "--shop", catalogue, str(path)]) == 0
    said = path.read_text(encoding="utf-8")
    assert "Pinder Yard" in said and "30.00 GBP" in said
    assert main(["replay", f"--shop={catalogue}", str(path)]) == 0
    assert main(["replay", str(path)]) == 1, "without the shop the packs are the sample's"
    capsys.readouterr()
    assert main(["replay", "--shop", str(tmp_path / "none.toml"), str(path)]) == 2
    assert "none.toml" in capsys.readouterr().err
    assert main(["replay", "--shop"]) == 2


def test_lines_of_the_order_go_by_their_numbers(talk: Talk) -> None:
    told(talk, BED, "add it to the order", LAWN, "add it to the order", POTS, "add it to the order")
    assert "Taken off the order: top-dress" in told(talk, "remove line 2")
    assert "line 2 of the order now" in " ".join(told(talk, "change line 2 to 1 litre each").split())
    # 60 L and 20 peppers at a litre
    assert [line.litres for line in talk.notebook.order()] == [(60.0, 60.0), (20.0, 20.0)]
    order = " ".join(told(talk, "the order").split())
    assert "In all: 80 L" in order and "40.00 GBP" in order
    assert "In all: 20 L" in " ".join(told(talk, "remove line 1", "the order").split())
