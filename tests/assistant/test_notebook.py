"""The notebook file, and the season's sum judged from its log."""

from __future__ import annotations

import os
import signal
import sqlite3
import subprocess
import sys
import textwrap
from datetime import date
from pathlib import Path

import pytest
from made_answers import ASKS, COST, EXPLAINS, TOP_DRESS

from assistant.knowledge import facts
from assistant.notebook import APPLICATION, VERSION, Application, Notebook, NotebookError, OrderLine, application, order_line
from assistant.season import judge_again, spoken_day

HALF_INCH = Application(place="long bed", day=date(2026, 4, 14), reads="top-dress, bed 4 ft by 16 ft, 0.5 inch of castings",
                        way="top-dress", litres=(75.512, 75.512), layer_mm=(12.7, 12.7))  # fmt: skip


def on(day: date, entry: Application = HALF_INCH) -> Application:
    return entry.model_copy(update={"day": day})


# ---- the file ------------------------------------------------------------------------------------------


def test_all_that_is_kept_is_there_again(tmp_path: Path) -> None:
    path = tmp_path / "garden.notebook"
    first = Notebook.open(path)
    first.name_place("long bed", "bed 4 ft by 16 ft")
    first.keep_settings({"density": "38 lb per cubic foot", "unit": "us_gallon"})
    first.add_to_order(order_line(COST) or pytest.fail("no line"))
    first.log(HALF_INCH)
    first.close()
    again = Notebook.open(path)
    assert again.places() == {"long bed": "bed 4 ft by 16 ft"}
    assert again.settings() == {"density": "38 lb per cubic foot", "unit": "us_gallon"}
    assert again.order() == [OrderLine(reads=COST.reads, litres=(90.6139, 90.6139), packs=COST.packs, cost=COST.cost)]
    assert again.applied("Long Bed") == [HALF_INCH], "a place's name is found in capitals too"
    again.close()


def test_what_is_changed_and_taken_away(tmp_path: Path) -> None:
    book = Notebook.open(tmp_path / "n")
    book.name_place("herb box", "planter 2 ft by 3 ft")
    book.name_place("Herb Box", "planter 2 ft by 4 ft")
    assert book.places() == {"Herb Box": "planter 2 ft by 4 ft"}
    assert book.forget_place("herb box") and not book.forget_place("herb box")
    book.keep_settings({"unit": "litre"})
    book.keep_settings({"unit": ""})
    assert book.settings() == {}
    assert book.take_off_order() is None and book.strike_last() is None
    for reads in ("one", "two"):
        book.add_to_order(OrderLine(reads=reads, litres=(1, 1)))
    taken = book.take_off_order()
    assert taken is not None and taken.reads == "two"
    assert book.empty_order() == 1 and book.order() == []
    book.log(on(date(2026, 6, 6)), on(date(2026, 4, 14)))
    assert [one.day.month for one in book.applied()] == [4, 6], "by day, however they were written"
    assert book.strike_last() == on(date(2026, 4, 14)), "what was written last goes first"
    assert book.applied("nowhere") == []


@pytest.mark.skipif(os.name != "posix", reason="file modes are POSIX's")
def test_the_file_is_private(tmp_path: Path) -> None:
    opened, saved = tmp_path / "opened", tmp_path / "saved"
    Notebook.open(opened).close()
    book = Notebook.in_memory()
    book.save_as(saved)
    assert [path.stat().st_mode & 0o777 for path in (opened, saved)] == [0o600, 0o600]


def test_saving_makes_a_new_file_and_goes_on_in_it(tmp_path: Path) -> None:
    book = Notebook.in_memory()
    book.log(HALF_INCH)
    path = tmp_path / "kept"
    book.save_as(path)
    assert book.path == path and os.listdir(tmp_path) == ["kept"]
    book.log(on(date(2026, 6, 6)))
    assert len(Notebook.open(path).applied()) == 2
    with pytest.raises(NotebookError, match="already"):
        Notebook.in_memory().save_as(path)
    with pytest.raises(NotebookError, match="cannot be written"):
        Notebook.in_memory().save_as(tmp_path / "no folder" / "kept")


def test_what_is_no_notebook_is_refused(tmp_path: Path) -> None:
    text = tmp_path / "text"
    text.write_text("not a database, but long enough to be taken for one\n" * 40)
    with pytest.raises(NotebookError, match="no notebook, or is damaged"):
        Notebook.open(text)
    assert text.read_text().startswith("not a database")
    other = tmp_path / "other.db"
    with sqlite3.connect(other) as connection:
        connection.execute("CREATE TABLE thing (a)")
    with pytest.raises(NotebookError, match="another program"):
        Notebook.open(other)
    newer = tmp_path / "newer"
    Notebook.open(newer).close()
    with sqlite3.connect(newer) as connection:
        connection.execute(f"PRAGMA user_version = {VERSION + 1}")
    with pytest.raises(NotebookError, match="newer castings"):
        Notebook.open(newer)
    with pytest.raises(NotebookError, match="cannot be opened"):
        Notebook.open(tmp_path)


def test_the_file_says_whose_it_is_and_in_which_version(tmp_path: Path) -> None:
    Notebook.open(tmp_path / "n").close()
    with sqlite3.connect(tmp_path / "n") as connection:
        assert connection.execute("PRAGMA application_id").fetchone() == (APPLICATION,)
        assert connection.execute("PRAGMA user_version").fetchone() == (VERSION,)


def test_an_entry_that_cannot_be_read_is_named_and_not_guessed_at(tmp_path: Path) -> None:
    book = Notebook.open(tmp_path / "n")
    book.log(HALF_INCH)
    with sqlite3.connect(tmp_path / "n") as connection:
        connection.execute("UPDATE applied SET record = '{}'")
    with pytest.raises(NotebookError, match="cannot be read"):
        book.applied()


def test_two_have_it_open_at_once(tmp_path: Path) -> None:
    one, other = Notebook.open(tmp_path / "n"), Notebook.open(tmp_path / "n")
    one.name_place("long bed", "bed 4 ft by 16 ft")
    assert other.places() == {"long bed": "bed 4 ft by 16 ft"}
    other.log(HALF_INCH)
    assert one.applied() == [HALF_INCH]


def _python(script: str, *arguments: str) -> subprocess.Popen[str]:
    return subprocess.Popen([sys.executable, "-c", textwrap.dedent(script), *arguments], stdout=subprocess.PIPE, text=True)


def test_two_programs_write_at_once_and_nothing_is_lost(tmp_path: Path) -> None:
    path = tmp_path / "n"
    writing = """
        import sys
        from pathlib import Path
        from assistant.notebook import Notebook, OrderLine
        book = Notebook.open(Path(sys.argv[1]))
        for number in range(40):
            book.add_to_order(OrderLine(reads=f"{sys.argv[2]} {number}", litres=(1, 1)))
    """
    both = [_python(writing, str(path), name) for name in ("one", "other")]
    assert [one.wait(60) for one in both] == [0, 0]
    lines = [line.reads for line in Notebook.open(path).order()]
    assert sorted(lines) == sorted(f"{name} {number}" for name in ("one", "other") for number in range(40))


@pytest.mark.skipif(os.name != "posix", reason="the kill is POSIX's")
def test_killed_in_the_middle_of_a_change_nothing_is_lost(tmp_path: Path) -> None:
    path = tmp_path / "n"
    book = Notebook.open(path)
    book.log(HALF_INCH)
    book.close()
    halfway = _python("""
        import sys, time
        from datetime import date
        from pathlib import Path
        from assistant.notebook import Application, Notebook

        class Slow(Application):
            def model_dump(self, **how):
                print("halfway", flush=True)  # the entries before this one are written, and the change is not done
                time.sleep(60)

        new = dict(place="long bed", day=date(2026, 6, 6), reads="r", litres=(1, 1))
        Notebook.open(Path(sys.argv[1])).log(Application(**new), Application(**new), Slow(**new))
    """, str(path))  # fmt: skip
    assert halfway.stdout is not None and halfway.stdout.readline() == "halfway\n"
    os.kill(halfway.pid, signal.SIGKILL)
    halfway.wait(30)
    halfway.stdout.close()
    again = Notebook.open(path)
    assert again.applied() == [HALF_INCH], "what was there is there, and nothing by halves"
    again.log(on(date(2026, 6, 7)))
    assert len(again.applied()) == 2
    again.close()
    with sqlite3.connect(path) as connection:
        assert connection.execute("PRAGMA integrity_check").fetchone() == ("ok",)


@pytest.mark.skipif(os.name != "posix", reason="the kill is POSIX's")
def test_killed_in_the_middle_of_saving_there_is_no_half_file(tmp_path: Path) -> None:
    halfway = _python("""
        import sys, time
        from pathlib import Path
        import assistant.notebook as notebook

        def slowly(path):
            print("halfway", flush=True)
            time.sleep(60)

        notebook._settle_on_disk = slowly
        book = notebook.Notebook.in_memory()
        book.name_place("long bed", "bed 4 ft by 16 ft")
        book.save_as(Path(sys.argv[1]))
    """, str(tmp_path / "n"))  # fmt: skip
    assert halfway.stdout is not None and halfway.stdout.readline() == "halfway\n"
    os.kill(halfway.pid, signal.SIGKILL)
    halfway.wait(30)
    halfway.stdout.close()
    assert not (tmp_path / "n").exists()


def test_what_answers_make_entries() -> None:
    entry = application(TOP_DRESS, "long bed", date(2026, 4, 14))
    assert entry is not None and entry.layer_mm == (12.7, 25.4) and entry.way == "top-dress"
    for answer in (ASKS, EXPLAINS):
        assert application(answer, "long bed", date(2026, 4, 14)) is None
        assert order_line(answer) is None


# ---- the season ----------------------------------------------------------------------------------------

START = date(2026, 1, 1)


def test_the_first_again_is_allowed_and_summed() -> None:
    # two layers of 12.7 mm over 6 in, which is 152.4 mm: 25.4 / 177.8 = 1/7; 6 weeks after 14 April is 26 May
    judged = judge_again("long bed", on(date(2026, 5, 26)), [HALF_INCH], START)
    assert judged.figure == "Yes"
    assert judged.castings is not None and judged.castings.litres == pytest.approx((151.024, 151.024))
    assert judged.share == pytest.approx((1 / 7, 1 / 7))
    assert judged.layer_mm == pytest.approx((25.4, 25.4))
    assert [one.code for one in judged.advice] == ["season-sum"]
    assert any(one.code == "season" and "1 January 2026" in one.text for one in judged.assumed)


def test_a_day_too_soon_waits() -> None:
    judged = judge_again("long bed", on(date(2026, 5, 25)), [HALF_INCH], START)
    assert judged.figure == "Not yet: from 26 May 2026 on"
    assert judged.advice[0].code == "season-too-soon" and "41 days before" in judged.advice[0].text


def test_past_the_limit_of_the_season_is_a_warning_and_a_no() -> None:
    # three half inches over 6 in are 1.5 / 7.5 = 20 %, the limit itself; four are 2 / 8 = 25 %
    days = [date(2026, 3, 1), date(2026, 5, 1)]
    judged = judge_again("long bed", on(date(2026, 7, 1)), [on(day) for day in days], START)
    assert judged.figure == "Yes" and judged.share == pytest.approx((0.2, 0.2))
    days.append(date(2026, 7, 1))
    judged = judge_again("long bed", on(date(2026, 9, 1)), [on(day) for day in days], START)
    assert judged.figure.startswith("No")
    assert (judged.advice[0].level, judged.advice[0].code) == ("warning", "season-too-much")
    assert "25 %" in judged.advice[0].text


def test_what_was_done_before_the_season_does_not_count_but_is_waited_for() -> None:
    earlier = [on(date(2025, month, 1)) for month in (3, 5, 7)] + [on(date(2025, 12, 20))]
    judged = judge_again("long bed", on(date(2026, 1, 10)), earlier, START)
    assert judged.castings is not None and judged.castings.litres == pytest.approx((75.512, 75.512))
    assert judged.figure == "Not yet: from 31 January 2026 on"


def test_layers_and_what_was_mixed_in_are_taken_together() -> None:
    # 10 % of the mix, then an inch on top: (25.4 + 0.1 × 152.4) / (25.4 + 152.4) = 22.857 %
    mixed = Application(place="b", day=date(2026, 3, 1), reads="r", way="blend", litres=(60, 60), share=(0.1, 0.1))
    inch = Application(place="b", day=date(2026, 6, 1), reads="r", way="top-dress", litres=(50, 50), layer_mm=(25.4, 25.4))
    judged = judge_again("b", inch, [mixed], START)
    assert judged.share == pytest.approx((0.228571, 0.228571), rel=1e-5)
    assert judged.figure.startswith("No")


def test_two_that_were_mixed_in_are_one_share() -> None:
    # 10 L in 90 L of soil, then 10 L more into it: 20 / 110 = 18.18 %
    mixed = Application(place="b", day=date(2026, 3, 1), reads="r", way="incorporate", litres=(10, 10), share=(0.1, 0.1))
    judged = judge_again("b", mixed.model_copy(update={"day": date(2026, 8, 1)}), [mixed], START)
    assert judged.share == pytest.approx((20 / 110, 20 / 110))


def test_beside_plants_no_share_is_made_up() -> None:
    beside = Application(place="tomatoes", day=date(2026, 5, 1), reads="r", way="side-dress", litres=(3.5, 7.1))
    judged = judge_again("tomatoes", beside.model_copy(update={"day": date(2026, 6, 1)}), [beside], START)
    assert judged.share is None and judged.figure == "Yes"
    soon = judge_again("tomatoes", beside.model_copy(update={"day": date(2026, 5, 28)}), [beside], START)
    assert soon.figure == "Not yet: from 29 May 2026 on", "4 weeks after 1 May"


def test_the_limits_are_those_of_the_knowledge_base() -> None:
    assert facts().rate("season.share-limit").single == 20
    assert facts().rate("top-dress.apart").low == 6 and facts().rate("side-dress.apart").low == 4
    assert facts().rate("incorporate.depth").single == 6


def test_days_are_written_in_english() -> None:
    assert spoken_day(date(2026, 5, 2)) == "2 May 2026"
