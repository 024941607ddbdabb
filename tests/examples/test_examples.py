"""The examples run, and give what the pipe gives."""

from __future__ import annotations

import os
import pickle
import subprocess
import sys
from pathlib import Path

from assistant.batch import answer_line

HERE = Path(__file__).parent
ROOT = HERE.parents[1]
LINES = ["bed 4 by 9 ft, 10 in deep, 10%", "side dress 14 peppers", "hello", "top dress 3 by 8 ft, half an inch"] * 40


def test_the_spread_example_gives_the_bytes_of_the_pipe(tmp_path: Path) -> None:
    file = tmp_path / "orders.txt"
    file.write_text("".join(line + "\n" for line in LINES), encoding="utf-8")
    spread = subprocess.run([sys.executable, str(HERE / "spread_over_machines.py"), str(file)], capture_output=True, check=True,
                            cwd=ROOT, env={**os.environ, "PYTHONPATH": str(ROOT)}, timeout=120)  # fmt: skip
    pipe = subprocess.run([sys.executable, "-m", "assistant.cli", "batch", str(file)], capture_output=True, check=True, cwd=ROOT, timeout=120)
    assert spread.stdout == pipe.stdout and spread.stdout.count(b"\n") == len(LINES)


def test_the_one_call_can_be_sent_anywhere() -> None:
    sent = pickle.loads(pickle.dumps(answer_line))
    assert sent(3, LINES[0]) == answer_line(3, LINES[0])
