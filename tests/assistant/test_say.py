"""How an answer is said: the order of its parts, its pictures, its widths, and that nothing in it steers a terminal.

The screens under `screens/` are what is printed at 40, 80 and 200 columns. After a change that is meant, set
CASTINGS_WRITE_SCREENS=1 for one run, and read what changed.
"""

from __future__ import annotations

import io
import os
import re
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from made_answers import ALL, ASKS, COST, EXPLAINS, RECIPE, TOO_MUCH, TOP_DRESS, TWO_PLACES, UNREAD

from assistant.aloud import aloud
from assistant.answer import Answer, Asked
from assistant.chat.helping import by_example, commands, greeting
from assistant.cli import main
from assistant.lines import NARROWEST, WIDEST, Look, clean, columns, look_for, plain, wrap
from assistant.pictures import layer_ruler, layer_sentence, share_scale, share_sentence
from assistant.say import own_volume_unit, say
from assistant.units import number

SCREENS = Path(__file__).parent / "screens"
SGR = re.compile(r"\x1b\[[0-9;]*m")
ANY_TEXT = st.text(st.characters(codec="utf-8"), max_size=120)


# ---- the order and the parts ---------------------------------------------------------------------------


def test_a_warning_comes_first_and_then_the_figure() -> None:
    lines = say(TOO_MUCH, Look()).splitlines()
    assert lines[0] == "!! WARNING"
    bar = [line for line in lines if line.startswith("!! ")]
    assert lines[: len(bar)] == bar, "the warning stands in one piece at the top"
    assert lines[len(bar)] == "7.5 cu ft of castings (212.4 L)"


def test_the_parts_come_in_their_order() -> None:
    text = say(TOO_MUCH, Look(working=True))
    marks = ["WARNING", "7.5 cu ft of castings (", "Read as:", "Assumed:", "  0 % ", "Working:", "Note:"]
    places = [text.index(mark) for mark in marks]  # "  0 % " heads the scale
    assert places == sorted(places)


def test_working_comes_only_on_demand() -> None:
    assert "Working:" not in say(TOO_MUCH, Look())
    shown = say(TOO_MUCH, Look(working=True))
    assert "length 4 ft, width 9 ft → area 36 sq ft" in shown
    assert "rectangle: area = length × width" in shown
    assert "(geometry)" in shown


def test_a_fault_of_the_program_is_a_sentence_and_no_traceback(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def broken(*_: object) -> Answer:
        raise ZeroDivisionError("on purpose")

    monkeypatch.setattr("assistant.ask.ask", broken)
    assert main(["side dress 14 peppers"]) == 1
    told = capsys.readouterr()
    assert told.out == "" and told.err == "castings: a fault of the program, please report it: ZeroDivisionError('on purpose')\n"


def test_two_strokes_end_the_options(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["--", "--side dress 14 peppers"]) == 0
    assert capsys.readouterr().out.startswith("14 to 28 cups of castings")


def test_a_single_answer_shows_its_working_at_once(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["half an inch on top of a 4 by 12 ft bed"]) == 0
    shown = capsys.readouterr().out
    assert "layer: castings = treated area × layer" in shown
    assert "treated area 48 sq ft, layer 0.5 in → castings 2 cu ft" in shown
    assert "(geometry: a layer over an area)" in shown


@pytest.mark.parametrize(
    ("value", "said"), [(1.875, "1.88"), (1.8749999999999998, "1.88"), (1.125, "1.13"), (0.1 + 0.2, "0.3"), (999.9999999999999, "1,000")]
)
def test_one_amount_is_rounded_one_way(value: float, said: str) -> None:
    assert number(value) == said


def test_packs_and_cost_and_all_the_castings_are_said() -> None:
    lines = say(COST, Look()).splitlines()
    assert lines[0] == "100.00 USD"
    assert "Castings in all: 3.2 cu ft (90.61 L)" in lines
    assert "To buy: 5 of 25 lb bag" in lines


def test_parts_and_components_are_in_the_users_own_unit() -> None:
    assert "  - 4 tomato, 2 cup each: 0.5 gal (1.89 L)" in say(TWO_PLACES, Look()).splitlines()
    assert "  - coir: 24 L" in say(RECIPE, Look()).splitlines()
    assert own_volume_unit(TWO_PLACES) == "us_gallon"
    assert own_volume_unit(COST) == "cubic_foot", "the working knows where the figure is money"
    assert own_volume_unit(ASKS) == "litre"


def test_words_that_were_not_used_are_owned_up_to() -> None:
    assert "Not used: “south side”" in say(TWO_PLACES, Look())


def test_a_question_says_what_was_read_and_what_would_help() -> None:
    assert say(ASKS, Look()).splitlines() == [
        "How big is the lawn?", "Read so far: top-dress, lawn", "You could say: “20 by 30 ft” or “50 square metres”",
    ]  # fmt: skip
    assert "sdlkfj" in say(UNREAD, Look())


def test_an_explanation_is_its_text_and_the_next_step() -> None:
    lines = say(EXPLAINS, Look()).splitlines()
    assert lines[0].startswith("Side-dressing is putting castings")
    assert "Next you might ask: side dress 12 tomato plants at 1 cup each." in lines


def test_a_record_without_its_text_for_people_is_still_said() -> None:
    bare = TOP_DRESS.model_copy(update={"figure": "", "beside": ""})
    assert say(bare, Look()).splitlines()[0] == "37.76 to 75.51 L"
    share = Answer(request="", status="answered", reads="", answer=Asked(of="share", low=0.125, high=0.125, unit="fraction"))
    assert say(share, Look()) == "12.5 % castings"
    silent = Answer(request="", status="unread", reads="")
    assert say(silent, Look()), "no request fails with silence"


# ---- whole sentences -----------------------------------------------------------------------------------


@pytest.mark.parametrize("name", ALL)
def test_sentences_have_no_bars_pictures_or_marks(name: str) -> None:
    text = say(ALL[name], Look(sentences=True, working=True))
    assert not re.search(r"[█░━╌▲×÷→!]{2}|^ +- |\d %|\bcu ft\b", text, re.MULTILINE)
    assert all(not line.startswith(" ") for line in text.splitlines())


def test_sentences_say_the_picture() -> None:
    text = say(TOO_MUCH, Look(sentences=True, width=200))
    assert text.startswith("Warning! 25 percent is more than 20 percent: it may harm.")
    assert "The answer is 7.5 cubic feet of castings, which is 212.4 litres." in text
    assert "The share, 25 percent, lies in the harmful part, above 20 percent." in text


@pytest.mark.parametrize(
    ("written", "said"),
    [
        ("4.5 cu ft", "4.5 cubic feet"), ("1 ft by 2 ft", "1 foot by 2 feet"), ("0.6 kg/L", "0.6 kilograms per litre"),
        ("10 %", "10 percent"), ("3 m²", "3 square metres"), ("a × b", "a times b"), ("2 cups", "2 cups"),
        ("5 gal", "5 US gallons"), ("in 5 of them", "in 5 of them"), ("4 in a row", "4 inches a row"),
        ("13 of 20 lb bag", "13 of 20 pound bag"), ("20 lb of castings", "20 pounds of castings"), ("8 dry qt bag", "8 US dry quart bag"),
        ("33.71 USD per cu ft", "33.71 USD per cubic foot"), ("costs 1.10 USD per L.", "costs 1.10 USD per litre."),
    ],
)  # fmt: skip
def test_marks_are_written_out(written: str, said: str) -> None:
    assert aloud(written) == said


# ---- pictures ------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("percent", "sign"), [(2, "."), (5, "="), (10, "="), (10.5, "-"), (20, "-"), (20.5, "x"), (30, "x")])
def test_the_mark_stands_below_the_part_that_it_belongs_to(percent: float, sign: str) -> None:
    # a limit itself belongs to the better side: 5 and 10 % are usual and 20 % not yet harmful; the scale's cells are half a per cent
    rows = share_scale((percent / 100, percent / 100), Look(ascii=True))
    bar, mark = rows[1], rows[2]
    assert bar[mark.index("^")] == sign


def test_a_span_is_marked_at_both_ends() -> None:
    rows = share_scale((0.05, 0.1), Look(ascii=True))
    assert rows[2].strip() == "^--------^ 5 to 10 %"


def test_a_share_past_the_scale_says_so() -> None:
    assert "50 %, past the end of the scale" in share_scale((0.5, 0.5), Look())[2]
    assert "25 to 50 %, past the end" in share_scale((0.25, 0.5), Look())[2]


@pytest.mark.parametrize("width", [40, 60, 80, 96])
def test_the_mark_and_the_sentence_never_disagree(width: int) -> None:
    named = {".": "little effect", "=": "usual", "-": "diminishing", "x": "harmful"}
    for tenth in range(1, 600):
        share = (tenth / 1000, tenth / 1000)
        bar, mark = share_scale(share, Look(width=width, ascii=True))[1:3]
        assert named[bar[mark.index("^")]] in share_sentence(share), share
        assert f"{tenth / 10:g} %" in mark, "the figure is told in every width, past the end of the scale too"


def test_every_part_of_the_scale_has_a_sign_of_its_own_with_words() -> None:
    for ascii in (True, False):
        rows = share_scale((0.1, 0.1), Look(ascii=ascii))
        signs = list(dict.fromkeys(rows[1].strip()))
        assert len(signs) == 4
        key = " ".join(rows[3:])
        for sign, word in zip(signs, ("little effect", "usual", "diminishing", "harmful"), strict=True):
            assert f"{sign} {word}" in key


def test_a_layer_is_as_long_as_the_ruler_says() -> None:
    inch, layer, usual, centimetres, key = layer_ruler((12.7, 25.4), Look(ascii=True, width=80))
    start = inch.index("0")
    assert inch.index("1") - start == layer.count("#") + layer.count(":"), "one inch ends at the 1"
    assert layer.count("#") == layer.count(":"), "half of it is certain"
    assert key.strip() == "# at the least, : at the most"
    assert len(layer_ruler((12.7, 12.7), Look())) == 4, "one figure wants no such key"
    assert usual.index("[") == start + layer.count("#"), "the usual layer begins at half an inch"
    assert usual.index("]") == start + layer.count("#") * 2 - 1
    # 2.54 cm to the inch
    assert abs((centimetres.index("5") - start) - 5 / 2.54 * (inch.index("1") - start)) <= 1


def test_a_lawn_has_its_own_usual_layer_and_a_thick_one_is_said() -> None:
    assert "1/8 to 1/4 in" in layer_sentence((6.35, 6.35), ground="lawn")
    assert "within the usual" in layer_sentence((6.35, 6.35), ground="lawn")
    assert "within the usual 1/4 to 1/2 in for a pot indoors" in layer_sentence((6.35, 12.7), ground="houseplant")
    assert "thinner than the usual" in layer_sentence((6.35, 6.35))
    assert "thicker than the usual" in layer_sentence((50.8, 50.8))
    assert "partly within the usual" in layer_sentence((12.7, 50.8))
    assert layer_ruler((254, 254), Look())[0].strip().startswith("The layer is 10 in (254 mm) thick")


def test_a_table_stands_in_columns_where_there_is_room_and_in_rows_where_not() -> None:
    table = (("share", "castings"), ("5 %", "1.5 cu ft (42.48 L)"), ("10 %", "3 cu ft (84.95 L)"))
    answer = TOP_DRESS.model_copy(update={"table": table})
    lines = say(answer, Look()).splitlines()
    assert "  share  castings" in lines and "  5 %    1.5 cu ft (42.48 L)" in lines
    assert "  - share: 5 %; castings:" in say(answer, Look(width=26)).splitlines()
    assert all(columns(line) <= 26 for line in say(answer, Look(width=26)).splitlines())
    assert "Side by side: share 5 percent, castings 1.5 cubic feet" in say(answer, Look(sentences=True))


def test_the_ruler_of_a_lawn_is_the_lawns_even_where_its_caution_was_given_before() -> None:
    lawn = TOP_DRESS.model_copy(update={"reads": "top-dress, lawn 20 ft by 25 ft", "layer_mm": (6.35, 6.35), "advice": ()})
    assert "\n".join(layer_ruler((6.35, 6.35), Look(), ground="lawn")) in say(lawn, Look())
    assert "\n".join(layer_ruler((6.35, 6.35), Look())) not in say(lawn, Look())


def test_a_window_too_narrow_for_the_scale_gets_the_sentence() -> None:
    said = " ".join(line.strip() for line in share_scale((0.1, 0.1), Look(width=30)))
    assert said == share_sentence((0.1, 0.1)) == "The share, 10 %, lies in the usual part, 5 to 10 %."


# ---- width, colour, signs ------------------------------------------------------------------------------


def _screens() -> dict[str, str]:
    found = {}
    for width in (40, 80, 200):
        look = Look(width=width)
        parts = [f"[{name}]\n{say(answer, look._replace(working=name == 'too-much'))}" for name, answer in ALL.items()]
        parts += [f"[start]\n{greeting(look)}", f"[help]\n{by_example(look)}", f"[commands]\n{commands(look)}"]
        found[f"{width}.txt"] = "\n\n".join(parts) + "\n"
    for file, look in (("80-ascii.txt", Look(ascii=True)), ("80-sentences.txt", Look(sentences=True))):
        found[file] = "\n\n".join(f"[{name}]\n{say(answer, look)}" for name, answer in ALL.items()) + "\n"
    return found


@pytest.mark.parametrize("name", ["40.txt", "80.txt", "200.txt", "80-ascii.txt", "80-sentences.txt"])
def test_screens_are_as_kept(name: str) -> None:
    now = _screens()[name]
    if os.environ.get("CASTINGS_WRITE_SCREENS"):
        (SCREENS / name).write_text(now, encoding="utf-8")
    assert (SCREENS / name).read_text(encoding="utf-8") == now


@pytest.mark.parametrize("width", [20, 32, 40, 80, 120, 200])
@pytest.mark.parametrize("name", ALL)
def test_no_line_is_wider_than_the_window(name: str, width: int) -> None:
    for ascii in (False, True):
        for line in say(ALL[name], Look(width=width, working=True, ascii=ascii)).splitlines():
            assert columns(line) <= min(width, WIDEST), line


def test_colour_adds_nothing_that_is_not_there_without_it() -> None:
    for answer in ALL.values():
        coloured = say(answer, Look(colour=True, working=True))
        assert SGR.sub("", coloured) == say(answer, Look(colour=False, working=True))
    assert SGR.search(say(TOO_MUCH, Look(colour=True)))


class _Stream(io.StringIO):
    def __init__(self, terminal: bool, encoding: str) -> None:
        super().__init__()
        self._terminal, self._encoding = terminal, encoding

    def isatty(self) -> bool:
        return self._terminal

    @property
    def encoding(self) -> str:  # type: ignore[override]
        return self._encoding


@pytest.mark.parametrize(
    ("terminal", "environment", "colour"),
    [
        (True, {"TERM": "xterm"}, True), (True, {"TERM": "xterm", "NO_COLOR": "1"}, False), (True, {"TERM": "dumb"}, False),
        (True, {}, False), (False, {"TERM": "xterm"}, False), (True, {"TERM": "xterm", "NO_COLOR": ""}, True),
    ],
)  # fmt: skip
def test_colour_only_where_it_is_wanted(terminal: bool, environment: dict[str, str], colour: bool) -> None:
    assert look_for(_Stream(terminal, "utf-8"), environment).colour is colour


def test_a_stream_that_cannot_write_the_signs_gets_ascii() -> None:
    assert look_for(_Stream(True, "latin-1"), {}).ascii
    assert not look_for(_Stream(True, "utf-8"), {}).ascii
    assert look_for(_Stream(True, "no-such-code"), {}).ascii


# ---- text from outside ---------------------------------------------------------------------------------


def test_what_a_terminal_would_obey_is_spelt_out() -> None:
    assert clean("a\x1b[2Jb") == "a<1B>[2Jb"
    assert clean("a\x9bb\x7f") == "a<9B>b<7F>"
    assert clean("two\nlines\u2028and a tab\t") == "two lines and a tab "
    assert clean("\u202eturned\u202c\u200b") == "turned"
    hostile = TWO_PLACES.model_copy(update={"reads": "bed \x1b]0;title\x07", "set_aside": ("\x1b[31mred",)})
    assert "\x1b" not in say(hostile, Look())
    assert "<1B>]0;title<07>" in say(hostile, Look())


@settings(max_examples=120, deadline=None)
@given(text=ANY_TEXT, width=st.integers(10, 220), ascii=st.booleans(), sentences=st.booleans(), name=st.sampled_from(sorted(ALL)))
def test_any_text_is_laid_out_harmlessly(text: str, width: int, ascii: bool, sentences: bool, name: str) -> None:
    advice = tuple(one.model_copy(update={"text": text}) for one in ALL[name].advice)
    put_in = {"reads": text, "set_aside": (text,), "figure": text, "question": text, "offers": (text,), "advice": advice}
    answer = ALL[name].model_copy(update=put_in)
    look = Look(width=width, ascii=ascii, sentences=sentences, working=True)
    said = say(answer, look)
    assert said
    for line in said.split("\n"):
        assert line and line not in ("#", ">") and not line.startswith(("# ", "> "))
        assert clean(line) == line
        assert columns(line) <= max(NARROWEST, min(width, WIDEST)) + 1
        assert line.isascii() or not ascii
    assert len(said.splitlines()) == len(said.split("\n")), "no other line end is left in"


@settings(max_examples=150, deadline=None)
@given(text=ANY_TEXT, width=st.integers(4, 60))
def test_wrapping_loses_nothing(text: str, width: int) -> None:
    text = clean(text)
    joined = "".join("".join(wrap(text, width)).split())
    assert joined == "".join(text.split())


def test_a_figure_stays_with_its_unit_and_wide_letters_count_for_two() -> None:
    assert wrap("it takes 7.5 cu ft", 12) == ["it takes", "7.5 cu ft"]
    assert columns("日本") == 4 and columns("e\u0301") == 1
    assert wrap("日本語の名前", 6) == ["日本語", "の名前"]


@given(text=ANY_TEXT)
def test_the_plain_form_is_ascii(text: str) -> None:
    assert plain(text).isascii()
    assert plain("12 m² × ½ ≥ “x”") == '12 m2 x  1/2 >= "x"'
