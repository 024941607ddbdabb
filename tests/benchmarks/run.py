"""Measures speed and memory, as ratios taken side by side in one run.

    python tests/benchmarks/run.py [--quick] [PART …]

The parts are start, answer, steps, workers and growth; all are run where none is named. `--quick` takes fewer
repetitions and stops the growth at 100,000 lines. Machines differ and drift, so no time is judged here: the
ratios are what stays the same. The comparison with a general quantity reader needs the package quantulum3,
a tool of this benchmark only, and is left out where that is not installed. Measure an installed package
(`pip install .`, not an editable one), so that its byte code and its tables are there.
"""

from __future__ import annotations

import gc
import os
import statistics
import subprocess
import sys
import tempfile
import time
import warnings
from collections.abc import Callable, Sequence
from pathlib import Path
from types import FrameType

sys.path.insert(0, str(Path(__file__).parent))

import lines

REQUEST = "bed 4 by 9 ft, 10 in deep, 10%"
BARE = "import lark, pint\nfrom pydantic import BaseModel\n"
OWN = BARE + "from grammar.quantities import registry\nregistry()\nimport grammar.query, assistant.answer\n"
#: About so many requests of the test data are measured one by one.
SAMPLE = 300
CASTINGS = [sys.executable, "-m", "assistant.cli"]

#: A run of the pipe in a process of its own, which says how long it took and the most memory it had.
TIMED = """
import os, resource, subprocess, sys, time
start = time.perf_counter()
with open(sys.argv[1], "rb") as lines, open(os.devnull, "wb") as sink:
    subprocess.run([sys.executable, "-m", "assistant.cli", "batch", *sys.argv[2:]], stdin=lines, stdout=sink, check=True)
print(time.perf_counter() - start, resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss)
"""


def row(name: str, value: str, wanted: str = "") -> None:
    """One line of the table."""
    print(f"| {name} | {value} | {wanted} |", flush=True)


# ---- start ----------------------------------------------------------------------------------------------------------


def start(quick: bool) -> None:
    """Whole processes over processes that only import."""
    commands: dict[str, Sequence[str]] = {
        "one": [*CASTINGS, REQUEST],
        "bare": [sys.executable, "-c", BARE],
        "own": [sys.executable, "-c", OWN],
        "version": [*CASTINGS, "--version"],
        "help": [*CASTINGS, "--help"],
        "pass": [sys.executable, "-c", "pass"],
    }
    subprocess.run(commands["one"], stdout=subprocess.DEVNULL, check=True)
    times: dict[str, list[float]] = {name: [] for name in commands}
    for _ in range(7 if quick else 21):
        for name, command in commands.items():
            begun = time.perf_counter()
            subprocess.run(command, stdout=subprocess.DEVNULL, check=True)
            times[name].append(time.perf_counter() - begun)
    middle = {name: statistics.median(found) for name, found in times.items()}
    row("one request over `import lark, pint, pydantic`", _ratio(middle["one"], middle["bare"]), "≤ 1.4")
    row("one request over the same with our units and models", _ratio(middle["one"], middle["own"]), "≤ 1.25")
    row("`--version` over `python -c pass`", _ratio(middle["version"], middle["pass"]), "≤ 2")
    row("`--help` over `python -c pass`", _ratio(middle["help"], middle["pass"]), "≤ 2")


def _ratio(one: float, other: float) -> str:
    return f"{one / other:.2f} ({one * 1000:.0f} ms over {other * 1000:.0f} ms)"


# ---- one line -------------------------------------------------------------------------------------------------------


def answer(quick: bool) -> None:
    """A whole answer over lark's parse of the same lines, and over a general reader of quantities."""
    from assistant.ask import ask_all
    from assistant.batch import record
    from assistant.batch.spread import CHUNK
    from grammar.parse import parse

    known = lines.requests()
    known = known[:: max(1, len(known) // SAMPLE)]

    def whole(asked: list[str]) -> None:
        for at in range(0, len(asked), CHUNK):  # so many together, as the pipe takes them
            for found in ask_all(asked[at : at + CHUNK]):
                record(1, found)

    works = {"parse": _each(parse), "whole": whole}
    general = _general_reader()
    if general is not None:
        works["general"] = _each(general)
    best = _side_by_side(works, known, 5 if quick else 15)
    row("whole answer over the parse", f"{best['whole'] / best['parse']:.2f} ({best['whole']:.0f} µs over {best['parse']:.0f} µs)", "≤ 1.8")
    if "general" in best:
        row("lines a second over quantulum3's", f"{best['general'] / best['whole']:.1f} ({1e6 / best['whole']:,.0f} over "
            f"{1e6 / best['general']:,.0f})", "≥ 15")  # fmt: skip
    else:
        row("lines a second over quantulum3's", "not measured: the package is not installed", "≥ 15")


def _each(work: Callable[[str], object]) -> Callable[[list[str]], None]:
    """The work on some lines, one by one."""

    def on_all(asked: list[str]) -> None:
        for line in asked:
            work(line)

    return on_all


def _side_by_side(works: dict[str, Callable[[list[str]], None]], known: list[str], rounds: int) -> dict[str, float]:
    """Microseconds a line of each work, the middle of some rounds in which they take turns."""
    for work in works.values():
        work(known)
    gc.collect()
    gc.freeze()
    times: dict[str, list[float]] = {name: [] for name in works}
    for _ in range(rounds):
        for name, work in works.items():
            begun = time.process_time()  # the processor's time, so that a busy machine counts for little
            work(known)
            times[name].append((time.process_time() - begun) / len(known) * 1e6)
    return {name: statistics.median(found) for name, found in times.items()}


def _general_reader() -> Callable[[str], object] | None:
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            from quantulum3 import parser
    except ImportError:
        return None

    def read(line: str) -> object:
        try:
            return parser.parse(line)
        except Exception:
            return None  # some lines are too much for it

    return read


def steps(quick: bool) -> None:
    """What a whole answer and the parse of the same lines take of the interpreter: a count, which is the same on a busy machine."""
    from assistant.ask import ask
    from assistant.batch import record
    from grammar.parse import parse

    known = lines.requests()
    known = known[:: max(1, len(known) // (SAMPLE // 3 if quick else SAMPLE))]

    def whole(line: str) -> None:
        record(1, ask(line))

    counts = {}
    for work in (parse, whole):
        for line in known:
            work(line)
        counts[work.__name__] = [count / len(known) for count in _counted(work, known)]
    (of_parse, _), (of_whole, calls) = counts["parse"], counts["whole"]
    row("bytecode steps of a whole answer over the parse's", f"{of_whole / of_parse:.2f} ({of_whole:,.0f} over {of_parse:,.0f})")
    row("calls of a whole answer", f"{calls:,.0f}")


def _counted(work: Callable[[str], object], known: list[str]) -> tuple[int, int]:
    """Bytecode steps and calls of a work on some lines."""
    found = [0, 0]

    def step(_frame: object, event: str, _arg: object) -> object:
        found[0] += event == "opcode"
        return step

    def call(frame: FrameType, _event: str, _arg: object) -> object:
        frame.f_trace_opcodes, frame.f_trace_lines = True, False
        found[1] += 1
        return step

    sys.settrace(call)  # type: ignore[arg-type]
    try:
        for line in known:
            work(line)
    finally:
        sys.settrace(None)
    return found[0], found[1]


# ---- many lines -----------------------------------------------------------------------------------------------------


def _run(path: Path, *options: str) -> tuple[float, float]:
    """Seconds and megabytes of one run of the pipe, start included."""
    out = subprocess.run([sys.executable, "-c", TIMED, str(path), *options], capture_output=True, text=True, check=True).stdout
    took, most = out.split()
    return float(took), float(most) / (1024 if sys.platform != "darwin" else 1024 * 1024)


def workers(quick: bool) -> None:
    """Two workers over one, start included."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder, "lines.txt")
        lines.write(path, 30_000)
        found = []
        for _ in range(1 if quick else 3):
            one, _most = _run(path)
            two, _most = _run(path, "--workers", "2")
            found.append((one / two, one, two))
    ratio, one, two = sorted(found)[len(found) // 2]
    row("two workers over one, 30,000 lines", f"{ratio:.2f} ({one:.1f} s over {two:.1f} s)", "≥ 1.85")


def growth(quick: bool) -> None:
    """Time and memory from a thousand lines to a million."""
    most: dict[int, float] = {}
    with tempfile.TemporaryDirectory() as folder:
        for count in (1_000, 10_000, 100_000) if quick else (1_000, 10_000, 100_000, 1_000_000):
            path = Path(folder, f"{count}.txt")
            lines.write(path, count)
            took, most[count] = _run(path)
            row(f"{count:,} lines, one worker", f"{took:.1f} s, {count / took:,.0f} lines a second, {most[count]:.1f} MB", "< 56 MB")
    last = max(most)
    row(f"memory at {last:,} lines over that at 10,000", f"{most[last] / most[10_000]:.3f}", "≤ 1.02")


PARTS: dict[str, Callable[[bool], None]] = {"start": start, "answer": answer, "steps": steps, "workers": workers, "growth": growth}


def main(arguments: Sequence[str]) -> int:
    """Runs the parts named, or all."""
    quick = "--quick" in arguments
    named = [argument for argument in arguments if argument != "--quick"]
    if any(name not in PARTS for name in named):
        sys.stderr.write(f"the parts are {', '.join(PARTS)}\n")
        return 2
    print("| measured side by side | found | wanted |\n|---|---|---|")
    for name in named or PARTS:
        PARTS[name](quick)
    return 0


if __name__ == "__main__":
    os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
    sys.exit(main(sys.argv[1:]))
