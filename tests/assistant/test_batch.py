"""The pipe keeps its promises: one record a line, in order, whatever a line holds and however the run ends."""

from __future__ import annotations

import csv
import io
import json
import os
import pty
import select
import signal
import subprocess
import sys
import threading
import time
from collections.abc import Iterator
from concurrent.futures import ProcessPoolExecutor
from pathlib import Path
from typing import Any

import pytest

from assistant.ask import ask
from assistant.batch import answer_line, record
from assistant.batch.arrivals import LONGEST_KEPT, arriving
from assistant.batch.command import WrongCommand, parse, status_of
from assistant.batch.forms import COLUMNS, neutral
from assistant.batch.output import Bar, Output
from assistant.batch.run import Options, run
from assistant.batch.spread import CHUNK
from grammar.scan import LONGEST_LINE

CASTINGS = [sys.executable, "-m", "assistant.cli"]
ROOT = Path(__file__).parents[2]
BED = "bed 4 by 9 ft, 10 in deep, 10%"
LINES = [BED, "side dress 14 peppers", "top dress 3 by 8 ft, half an inch", "hello", "how much for a bed", "20 gallons of potting mix at 10%"]


def piped(lines: bytes, *options: str, **more: Any) -> subprocess.CompletedProcess[bytes]:
    return subprocess.run([*CASTINGS, "batch", *options], input=lines, capture_output=True, cwd=ROOT, timeout=120, **more)


def records(text: bytes) -> list[dict[str, Any]]:
    return [json.loads(line) for line in text.decode("utf-8").splitlines()]


def text_of(lines: list[str]) -> bytes:
    return "".join(line + "\n" for line in lines).encode()


def in_process(lines: bytes, **options: Any) -> str:
    out = io.BytesIO()
    run(io.BytesIO(lines), out, Options(**options))
    return out.getvalue().decode()


# ---- one record a line ------------------------------------------------------------------------------------


def test_numbers_order_blank_lines_and_comments() -> None:
    done = piped(f"{BED}\n\n# a note\r\n  \nside dress 14 peppers\r\nhello".encode())
    found = records(done.stdout)
    assert done.returncode == 0 and done.stderr == b""
    assert [(one["line"], one["request"]) for one in found] == [(1, BED), (5, "side dress 14 peppers"), (6, "hello")]


def test_the_pipe_and_the_single_call_say_the_same() -> None:
    one = subprocess.run([*CASTINGS, "--json", BED], capture_output=True, cwd=ROOT, timeout=60).stdout
    assert one == piped(text_of([BED])).stdout == (record(1, ask(BED)) + "\n").encode()


def test_a_record_does_not_depend_on_its_neighbours() -> None:
    alone = [answer_line(number, line) for number, line in enumerate(LINES, 1)]
    assert in_process(text_of(LINES)).splitlines() == alone
    backwards = in_process(text_of(LINES[::-1])).splitlines()
    assert [json.loads(line) | {"line": 0} for line in backwards[::-1]] == [json.loads(line) | {"line": 0} for line in alone]


def test_the_first_answer_comes_before_the_last_line_is_read() -> None:
    for options in ([], ["--workers", "2"], ["--to", "csv"]):
        # unbuffered on this side: a head and a record that come together must not hide from `select`
        process = subprocess.Popen([*CASTINGS, "batch", *options], stdin=subprocess.PIPE, stdout=subprocess.PIPE, cwd=ROOT, bufsize=0)
        assert process.stdin is not None and process.stdout is not None
        process.stdin.write(text_of([BED]))
        process.stdin.flush()
        heads = 2 if "csv" in options else 1
        for _ in range(heads):
            assert select.select([process.stdout], [], [], 60)[0]
            first = process.stdout.readline()
        assert b"4 ft by 9 ft" in first
        process.stdin.write(text_of(["hello"]))
        process.stdin.close()
        assert b"hello" in process.stdout.read()
        assert process.wait(60) == 0


def test_a_file_is_read_and_a_missing_one_is_said(tmp_path: Path) -> None:
    file = tmp_path / "orders.txt"
    file.write_bytes(text_of(LINES))
    assert piped(b"", str(file)).stdout == piped(text_of(LINES)).stdout
    for name in ("nothing.txt", ""):
        done = piped(b"", str(tmp_path / name))
        assert done.returncode == 2 and done.stdout == b"" and done.stderr.count(b"\n") == 1 and b"Traceback" not in done.stderr


def test_no_lines_at_all() -> None:
    for options in ([], ["--workers", "2"], ["--from", "csv", "--to", "csv"], ["--dialogue"]):
        done = piped(b"", *options)
        assert (done.returncode, done.stdout, done.stderr) == (0, b"", b"")


def test_dialogue_starts_anew_at_a_blank_line() -> None:
    talk = text_of([BED, "make it 15%", "", "make it 15%"])
    found = records(piped(talk, "--dialogue").stdout)
    assert [one["line"] for one in found] == [1, 2, 4]
    assert found[1]["share"] == [0.15, 0.15] and found[2]["status"] != "answered"


# ---- workers ----------------------------------------------------------------------------------------------


def test_workers_keep_the_order_and_the_bytes() -> None:
    many = text_of([f"bed {2 + number % 30} by 9 ft, 10 in deep, 10%" for number in range(CHUNK * 5 + 7)])
    one = piped(many)
    two = piped(many, "--workers", "3")
    assert one.returncode == two.returncode == 0
    assert one.stdout == two.stdout and one.stdout.count(b"\n") == CHUNK * 5 + 7


def test_a_process_pool_maps_the_one_call() -> None:
    with ProcessPoolExecutor(2) as pool:
        mapped = list(pool.map(answer_line, range(1, len(LINES) + 1), LINES))
    assert mapped == [answer_line(number, line) for number, line in enumerate(LINES, 1)]


def test_every_process_says_the_same_of_two_topics() -> None:
    line = "what does a bushel mean, how does compost differ from castings"
    said = {
        subprocess.run([*CASTINGS, "--json", line], capture_output=True, cwd=ROOT, timeout=60, env={**os.environ, "PYTHONHASHSEED": seed}).stdout
        for seed in ("1", "2", "3", "4", "5", "6")
    }
    assert len(said) == 1 and b"a question about a bushel" in said.pop()


def test_a_worker_that_is_killed_ends_the_run_with_one_message() -> None:
    process = subprocess.Popen([*CASTINGS, "batch", "--workers", "2"], stdin=subprocess.PIPE, stdout=subprocess.PIPE,
                               stderr=subprocess.PIPE, cwd=ROOT)  # fmt: skip
    assert process.stdin is not None and process.stdout is not None and process.stderr is not None
    process.stdin.write(text_of([BED]))
    process.stdin.flush()
    assert process.stdout.readline()
    children = Path(f"/proc/{process.pid}/task/{process.pid}/children")
    if not children.exists():
        process.kill()
        pytest.skip("the children of a process cannot be seen here")
    os.kill(int(children.read_text().split()[0]), signal.SIGKILL)
    time.sleep(0.2)
    try:
        process.stdin.write(text_of([BED] * 10))
        process.stdin.close()
    except BrokenPipeError:
        pass
    assert process.wait(60) == 1
    assert process.stderr.read().count(b"\n") == 1


# ---- tables -----------------------------------------------------------------------------------------------

TABLE = f'\ufefforder,request,who\r\n7,"{BED}","=cmd|x"\r\n8,,Ann\r\n9,side dress 14 peppers,"two\nlines"\r\n'.encode()


def rows(text: bytes, delimiter: str = ",") -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(text.decode(), newline=""), delimiter=delimiter))


def test_a_table_comes_out_with_its_columns_and_the_answers() -> None:
    done = piped(TABLE, "--from", "csv", "--to", "csv")
    found = rows(done.stdout)
    assert done.returncode == 0
    assert [one["order"] for one in found] == ["7", "8", "9"]
    assert [one["line"] for one in found] == ["2", "3", "4"]
    assert found[0]["request"] == BED and found[0]["who"] == "'=cmd|x" and found[2]["who"] == "two\nlines"
    assert [one["status"] for one in found] == ["answered", "blank", "answered"]
    exact = json.loads(answer_line(2, BED))["castings"]["litres"]
    assert [float(found[0]["castings_litres_low"]), float(found[0]["castings_litres_high"])] == exact
    assert done.stdout.endswith(b"\r\n") and tuple(found[0])[-len(COLUMNS) :] == COLUMNS


def test_a_table_as_json_and_as_tsv() -> None:
    found = records(piped(TABLE, "--from", "csv").stdout)
    assert [one["columns"]["order"] for one in found] == ["7", "9"] and found[1]["columns"]["who"] == "two\nlines"
    tabs = piped(f"request\tnote\n{BED}\t8\" pot\n".encode(), "--from", "tsv", "--to", "tsv")
    assert rows(tabs.stdout, "\t")[0]["status"] == "answered"
    assert len({line.count(b"\t") for line in tabs.stdout.splitlines()}) == 1


def test_the_file_name_tells_the_form(tmp_path: Path) -> None:
    for ending, sign in (("csv", ","), ("tsv", "\t")):
        file = tmp_path / f"orders.{ending}"
        file.write_text(f"who{sign}what\nAnn{sign}side dress 14 peppers\n", encoding="utf-8")
        assert records(piped(b"", str(file), "--column", "what").stdout)[0]["status"] == "answered"
        assert records(piped(b"", str(file), "--column", "2").stdout)[0]["status"] == "answered"
        lost = piped(b"", str(file))
        assert lost.returncode == 2 and b"--column" in lost.stderr and lost.stdout == b""
        assert piped(b"", str(file), "--column", "where").returncode == 2


def test_a_row_that_is_too_long_or_never_closed_spoils_no_other() -> None:
    found = records(piped(b"who,request\nA,bed 4 by 9, 10 in deep\nB,side dress 14 peppers\n", "--from", "csv").stdout)
    assert [one["status"] for one in found] == ["unread", "answered"] and "double quotes" in found[0]["question"]
    open_quote = b'request\n"bed\n' + b"x" * (2 * LONGEST_KEPT) + b"\nside dress 14 peppers\n"
    found = records(piped(open_quote, "--from", "csv").stdout)
    assert found[0]["status"] == "unread" and found[-1]["status"] == "answered"


def test_columns_of_one_name_are_kept_apart() -> None:
    done = piped(b"request,status,status\nside dress 14 peppers,a,b\n", "--from", "csv")
    assert records(done.stdout)[0]["columns"] == {"request": "side dress 14 peppers", "status": "a", "status (2)": "b"}
    assert b"answer_status" in piped(b"request,status\nhello,a\n", "--from", "csv", "--to", "csv").stdout.splitlines()[0]


@pytest.mark.parametrize("cell", ["=1+1", "+SUM(A1)", "@x", "-2+3", " =1", "\t=1", "＝1", "=", "-x"])
def test_what_a_spreadsheet_would_run_is_neutralised(cell: str) -> None:
    assert neutral(cell).startswith("'")
    made = in_process(f"{cell.strip()}\n".encode(), writing="csv")
    assert all(not one.startswith(("=", "+", "@", "＝")) for row in csv.reader(io.StringIO(made, newline="")) for one in row)


@pytest.mark.parametrize("cell", ["-5", "+5.25", "3", "bed", "", "1-2", "-10%", "-1,5"])
def test_plain_cells_stay_as_they_are(cell: str) -> None:
    assert neutral(cell) == cell


def test_plain_text_says_the_answer_and_ends_with_its_status() -> None:
    said = piped(text_of([BED, "hello"]), "--to", "text").stdout.decode()
    blocks = said.strip().split("\n\n")
    assert blocks[0].startswith(f"1: {BED}\n") and "84.95 L" in blocks[0] and blocks[0].endswith("[answered]")
    assert blocks[-1].endswith("[unread]")


# ---- statuses and command lines ---------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("lines", "fail_on", "status"),
    [([BED], "asks", 0), ([BED], "unread", 0), ([BED, "hello"], "unread", 3), ([BED, "hello"], "asks", 3),
     (["how much for a bed"], "asks", 3), (["how much for a bed"], "unread", 0)],
)  # fmt: skip
def test_fail_on(lines: list[str], fail_on: str, status: int) -> None:
    given = parse(["--fail-on", fail_on])
    out = io.BytesIO()
    assert status_of(given, run(io.BytesIO(text_of(lines)), out, given.options)) == status
    assert out.getvalue().count(b"\n") == len(lines)


def test_fail_on_as_a_command() -> None:
    assert piped(text_of([BED, "hello"]), "--fail-on", "asks").returncode == 3


@pytest.mark.parametrize(
    "arguments",
    [["--what"], ["a", "b"], ["--workers"], ["--workers", "0"], ["--workers=x"], ["--workers", "1000"], ["--to", "xml"], ["--from=x"],
     ["--fail-on", "all"], ["--column", "a"], ["--dialogue", "--workers", "2"], ["--dialogue", "--from", "csv"]],
)  # fmt: skip
def test_a_wrong_command_line_is_said(arguments: list[str]) -> None:
    with pytest.raises(WrongCommand):
        parse(arguments)


def test_a_wrong_command_line_does_nothing() -> None:
    done = piped(b"", "--workers", "0")
    assert done.returncode == 2 and done.stdout == b"" and done.stderr.count(b"\n") == 1


# ---- how a run ends ---------------------------------------------------------------------------------------


@pytest.fixture
def heeding_ctrl_c() -> Iterator[None]:
    """Ctrl-C as in a terminal: a suite that runs in the background ignores it, and so do the processes it starts."""
    before = signal.signal(signal.SIGINT, signal.default_int_handler)
    yield
    signal.signal(signal.SIGINT, before)


def endless(*options: str) -> subprocess.Popen[bytes]:
    """A run that reads for ever, out of a process of its own."""
    source = subprocess.Popen([sys.executable, "-c", f"while True: print({BED!r})"], stdout=subprocess.PIPE, stderr=subprocess.DEVNULL)
    process = subprocess.Popen([*CASTINGS, "batch", *options], stdin=source.stdout, stdout=subprocess.PIPE, stderr=subprocess.PIPE, cwd=ROOT)
    assert source.stdout is not None
    source.stdout.close()
    return process


@pytest.mark.parametrize("options", [(), ("--workers", "2")])
def test_a_reader_that_goes_ends_the_run_quietly(options: tuple[str, ...]) -> None:
    process = endless(*options)
    assert process.stdout is not None and process.stderr is not None
    assert json.loads(process.stdout.readline())["line"] == 1
    process.stdout.close()
    assert process.wait(60) == 141 and process.stderr.read() == b""


@pytest.mark.usefixtures("heeding_ctrl_c")
@pytest.mark.parametrize("options", [(), ("--workers", "2"), ("--to", "csv")])
def test_ctrl_c_ends_with_what_was_done(options: tuple[str, ...]) -> None:
    process = endless(*options)
    assert process.stdout is not None and process.stderr is not None
    first = process.stdout.readline()
    process.send_signal(signal.SIGINT)
    rest = process.stdout.read()
    assert process.wait(60) == 130 and process.stderr.read() == b""
    assert (first + rest).endswith(b"\n")
    if "csv" not in options:
        assert [one["line"] for one in records(first + rest)] == list(range(1, (first + rest).count(b"\n") + 1))


@pytest.mark.usefixtures("heeding_ctrl_c")
@pytest.mark.parametrize("buffering", [-1, 0])  # 0: as standard output is under PYTHONUNBUFFERED
def test_ctrl_c_waits_for_the_record_that_a_slow_reader_has_half_of(buffering: int) -> None:
    reads, writes = os.pipe()
    text = "a" * 200_000 + "\n"  # more than a pipe holds: writing it waits for the reader
    got: list[bytes] = []

    def interrupt_then_read() -> None:
        got.append(os.read(reads, 1000))
        os.kill(os.getpid(), signal.SIGINT)
        time.sleep(0.2)
        with os.fdopen(reads, "rb") as left:
            got.append(left.read())

    reader = threading.Thread(target=interrupt_then_read)
    with pytest.raises(KeyboardInterrupt), os.fdopen(writes, "wb", buffering) as stream:
        reader.start()
        Output(stream).put(text)
    reader.join(60)
    assert b"".join(got) == text.encode()


@pytest.mark.parametrize("form", ["json", "csv", "tsv"])
def test_kill_leaves_no_half_record_that_looks_whole(form: str, tmp_path: Path) -> None:
    file = tmp_path / "out"
    source = subprocess.Popen([sys.executable, "-c", f"while True: print({BED!r})"], stdout=subprocess.PIPE, stderr=subprocess.DEVNULL)
    with file.open("wb") as out:
        process = subprocess.Popen([*CASTINGS, "batch", "--to", form], stdin=source.stdout, stdout=out, cwd=ROOT)
        assert source.stdout is not None
        source.stdout.close()
        until = time.monotonic() + 60
        while file.stat().st_size == 0 and time.monotonic() < until:
            time.sleep(0.02)
        process.kill()
        process.wait(60)
    whole, _, cut = file.read_bytes().rpartition(b"\n")
    assert whole
    if form == "json":
        assert [one["line"] for one in records(whole)] == list(range(1, whole.count(b"\n") + 2))
    else:
        assert {one["status"] for one in rows(whole, "," if form == "csv" else "\t")} == {"answered"}
    assert not looks_whole(form, cut)


def looks_whole(form: str, text: bytes) -> bool:
    """Whether the last piece of a file would pass for a record."""
    if form == "json":
        try:
            json.loads(text)
        except ValueError:
            return False
        return True
    return text.split(b"," if form == "csv" else b"\t")[-1].strip() in (b"answered", b"asks", b"unread", b"blank")


@pytest.mark.parametrize("form", ["json", "csv", "tsv", "text"])
def test_a_record_that_is_cut_anywhere_does_not_look_whole(form: str) -> None:
    made = in_process(text_of(["side dress 14 peppers"]), writing=form).encode().rstrip()
    last = made.splitlines(keepends=True)[-1] if form != "text" else made
    for at in range(1, len(last)):
        if form == "text":
            assert not last[:at].endswith(b"[answered]")
        else:
            assert not looks_whole(form, last[:at])


@pytest.mark.skipif(not os.path.exists("/dev/full"), reason="there is no full disk to be had here")
@pytest.mark.parametrize("options", [(), ("--workers", "2"), ("--to", "csv"), ("--dialogue",)])
def test_a_full_disk_is_said_once(options: tuple[str, ...]) -> None:
    with open("/dev/full", "wb") as full:
        done = subprocess.run([*CASTINGS, "batch", *options], input=text_of([BED] * 500), stdout=full, stderr=subprocess.PIPE, cwd=ROOT, timeout=60)
    assert done.returncode == 1
    assert done.stderr.count(b"\n") == 1 and b"No space left" in done.stderr


def test_closed_output_and_input() -> None:
    for closing in ("<&-", ">&-"):
        done = subprocess.run(["sh", "-c", f'exec "$@" {closing}', "sh", *CASTINGS, "batch"], input=text_of([BED]), capture_output=True,
                              cwd=ROOT, timeout=60)  # fmt: skip
        assert done.returncode != 0 and b"Traceback" not in done.stderr and done.stderr.count(b"\n") <= 1


# ---- what a line can hold ---------------------------------------------------------------------------------

NASTY = {
    "invalid UTF-8": b"bed 4 by 9 ft \xff\xfe\xc3, 10 in deep, 10%",
    "NUL": b"bed 4 by 9 ft\x00, 10 in deep, 10%",
    "escape": b"bed \x1b[31m4 by 9 ft\x1b]0;title\x07, 10 in deep, 10%",
    "C1 escape": "bed 4 by 9 ft \u009b31m, 10 in deep, 10%".encode(),
    "bidirectional": "bed \u202e4 by 9 ft\u202c \u2066x\u2069, 10 in deep, 10%".encode(),
    "line separators": "bed 4 by 9 ft\u2028, 10 in\u2029 deep, 10%\x0b\x0c".encode(),
    "surrogates": b"bed \xed\xa0\x80 4 by 9 ft",
    "a million digits": b"bed " + b"9" * 1_000_000 + b" by 9 ft",
    "powers": b"bed 1e308 by 1e308 ft 1e308 in deep 10% " * 3,
    "repetition": b"and a " * 20_000,
    "brackets": b"(" * 50_000,
    "hundreds": b"hundred thousand " * 10_000,
    "halves": b"1/2 " * 10_000,
    "by": b"4 by " * 10_000,
    "ratio": b"1:" * 10_000,
    "marks": ("bed 4 by 9 ft" + "\u0301" * 10_000).encode(),
    "ten megabytes": b"bed 4 by 9 ft, 10 in deep, 10% " + b"x" * 10_000_000,
    "zero": b"bed 0 by 0 ft 0 in deep 0%",
    "formula": b"=HYPERLINK(\"x\")",
}


@pytest.mark.parametrize("name", NASTY)
def test_no_line_stops_the_stream_or_changes_another(name: str) -> None:
    found = in_process(BED.encode() + b"\n" + NASTY[name] + b"\n" + BED.encode() + b"\n").encode()
    made = records(found)
    assert [one["line"] for one in made] == [1, 2, 3]
    assert made[0] == json.loads(answer_line(1, BED)) and made[2] == json.loads(answer_line(3, BED))
    assert len(found.splitlines()[1]) < 8 * LONGEST_KEPT
    assert made[1]["status"] in ("answered", "asks", "unread")


@pytest.mark.parametrize("form", ["json", "csv", "tsv", "text"])
@pytest.mark.parametrize("name", ["escape", "C1 escape", "NUL", "line separators", "bidirectional"])
def test_nothing_a_terminal_obeys_comes_out(name: str, form: str) -> None:
    made = in_process(NASTY[name] + b"\n", writing=form)
    obeyed = [letter for letter in made if (letter < " " and letter not in "\r\n\t") or "\x7f" <= letter <= "\x9f"]
    assert obeyed == []
    if form in ("json", "text"):
        assert not set(made) & set("\u202e\u2066\u2028")


def test_a_long_line_is_kept_in_part_and_said_to_be() -> None:
    long = "bed 4 by 9 ft, 10 in deep, 10%, " + "please " * LONGEST_KEPT
    made = json.loads(in_process(long.encode()))
    assert long.startswith(made["request"]) and len(made["request"]) == LONGEST_KEPT
    assert any(one["code"] == "cut" for one in made["assumed"]) or made["status"] != "answered"


def test_lines_are_cut_at_their_ends_wherever_the_blocks_fall() -> None:
    class Drops(io.BytesIO):
        def read(self, most: int | None = -1, /) -> bytes:
            return super().read(min(3, most or 3))

    text = "one\r\ntwo é\n\nfour".encode()
    found = [line for block in arriving(Drops(text)) for line in block]
    assert found == [(1, "one"), (2, "two é"), (3, ""), (4, "four")]


def test_the_time_for_a_line_grows_no_faster_than_its_length() -> None:
    """Counted in calls and not in seconds, so that it fails for the rule and not for a busy machine."""
    for piece in ("4 by 9 ft, ", "a half of ", "tomatos ", "and 3 beds ", "1 to 2 cups per plant ", "by 4 "):
        some = calls(piece * 20)
        more = calls(piece * 80)
        assert more <= 4 * 6 * some, piece  # a square would be 16 times for 4 times the length
        longest = calls(piece * (2 * LONGEST_LINE // len(piece)))
        assert calls(piece * (8 * LONGEST_LINE // len(piece))) <= longest * 1.1, piece


def calls(request: str) -> int:
    """How many calls an answer takes."""
    ask(request)
    count = 0

    def tally(_frame: Any, event: str, _argument: Any) -> None:
        nonlocal count
        count += event == "call"

    sys.setprofile(tally)
    try:
        ask(request)
    finally:
        sys.setprofile(None)
    return count


# ---- the bar ----------------------------------------------------------------------------------------------


def test_the_bar_shows_how_far_it_is_and_goes_away() -> None:
    screen = io.StringIO()
    now = iter([0.0, 0.1, 1.0])
    bar = Bar(screen, 1000, lambda: 500, clock=lambda: next(now))
    bar.move(10)
    assert screen.getvalue() == ""
    bar.move(10)
    assert "50%" in screen.getvalue() and "20 answered" in screen.getvalue()
    bar.clear()
    assert screen.getvalue().endswith("\r\x1b[K")


def test_the_bar_is_drawn_on_a_terminal_only(tmp_path: Path) -> None:
    source = tmp_path / "lines"
    source.write_bytes(text_of([BED] * 3000))
    main, other = pty.openpty()
    try:
        with (tmp_path / "out").open("wb") as out:
            process = subprocess.Popen([*CASTINGS, "batch", str(source)], stdout=out, stderr=other, cwd=ROOT)
        os.close(other)
        seen = b""
        while select.select([main], [], [], 60)[0]:
            try:
                block = os.read(main, 1000)
            except OSError:
                break
            if not block:
                break
            seen += block
        assert process.wait(60) == 0
    finally:
        os.close(main)
    assert b"answered" in seen and seen.endswith(b"\x1b[K")
    assert piped(text_of([BED])).stderr == b""
