"""Our judge of a record against what a request is expected to give.

An expectation is a table of `tests/requests/*.toml`; its keys:

- `status`: `answered` (the usual), `asks` or `unread`; the last two only say that no answer may be given.
- `litres`, `kg`, `share`, `layer_mm`, `value`, `cost`: figures, a number or [low, high]. `value` is the figure of
  what is asked, in the contract's unit. `not_litres` is the reading to avoid.
- `of`, `topic`, `way`, `warn` (a warning is due, or must not be), `parts`, `must_flag` (something must be assumed or
  advised): labels.

A case has one `expect`, or `any_of` where more than one answer is right, and `accept_asks` where a question is as
good as an answer. Figures agree within 1 %, money to half a cent.

The verdict is one of `right`; `asked` (a question where one was as good); `mislabelled` (right figures, wrong label);
`missed` (no answer where one was due); `wrong` (a wrong figure, or an answer where none was due). Only `wrong` can hurt.
"""

from __future__ import annotations

import json
import sys
import tomllib
from collections import Counter
from collections.abc import Callable, Iterator, Mapping, Sequence
from pathlib import Path
from typing import Any, NamedTuple

TOLERANCE = 0.01
HALF_A_CENT = 0.005
#: The status that stands here for a request that raised an error, so that one such does not hide the others.
RAISED = "raised"
#: From the best verdict to the worst.
ORDER = ("right", "asked", "mislabelled", "missed", "wrong")

REQUESTS = Path(__file__).parent / "requests"
#: Files of `requests/` that hold no requests.
NOT_REQUESTS = frozenset({"not_yet.toml"})

Record = Mapping[str, Any]


class Verdict(NamedTuple):
    """How good a record is, and what is amiss with it."""

    kind: str
    why: str = ""


class Turn(NamedTuple):
    """One line to be answered, alone or in a conversation, and what is expected of it.

    `id` of a turn in a conversation is the conversation's, a full stop and the turn's number from 1.
    """

    id: str
    say: str
    body: Mapping[str, Any]


def figures(value: object) -> list[float]:
    """A number or a span as [low, high]; empty for nothing at all."""
    if value is None:
        return []
    if isinstance(value, Sequence) and not isinstance(value, str):
        return [] if any(one is None for one in value) else [float(one) for one in value]
    return [float(value)] * 2  # type: ignore[arg-type]


def agree(got: object, due: object) -> bool:
    """Whether two figures or spans agree within the tolerance."""
    found, wanted = figures(got), figures(due)
    return len(found) == len(wanted) and all(
        abs(one - other) <= TOLERANCE * max(abs(other), 1e-9) for one, other in zip(found, wanted, strict=True)
    )


def _answer(record: Record, key: str) -> Any:
    return (record.get("answer") or {}).get(key)


def _castings(key: str) -> Callable[[Record], object]:
    return lambda record: (record.get("castings") or {}).get(key)


#: The figure of a record that each numeric key of an expectation speaks of.
_FIGURES: dict[str, Callable[[Record], object]] = {
    "litres": _castings("litres"),
    "kg": _castings("kg"),
    "share": lambda record: record.get("share"),
    "layer_mm": lambda record: record.get("layer_mm"),
    "value": lambda record: [_answer(record, "low"), _answer(record, "high")],
}

#: Two names for the same castings, by volume and by weight: either is as good.
_ONE_AMOUNT = frozenset({"castings", "weight"})

KEYS = frozenset(_FIGURES) | {"status", "cost", "not_litres", "of", "topic", "way", "warn", "parts", "must_flag"}


def wrong_figures(record: Record, expect: Mapping[str, Any]) -> list[str]:
    """The figures that differ from what is due."""
    found = []
    for key, figure in _FIGURES.items():
        if key in expect and not agree(figure(record), expect[key]):
            found.append(f"{key} is {figure(record)}, due {expect[key]}")
    if "cost" in expect:
        amount = (record.get("cost") or {}).get("amount")
        if amount is None or abs(float(amount) - float(expect["cost"])) > HALF_A_CENT:
            found.append(f"cost is {amount}, due {expect['cost']}")
    if "not_litres" in expect and agree(_FIGURES["litres"](record), expect["not_litres"]):
        found.append(f"litres are {expect['not_litres']}, the reading to avoid")
    return found


def wrong_labels(record: Record, expect: Mapping[str, Any]) -> list[str]:
    """What is said of the figures and differs from what is due."""
    found = []
    for key, got in (("of", _answer(record, "of")), ("topic", _answer(record, "topic")), ("way", record.get("way"))):
        if key in expect and got != expect[key] and not (key == "of" and {got, expect[key]} == _ONE_AMOUNT):
            found.append(f"{key} is {got}, due {expect[key]}")
    if "warn" in expect:
        warned = any(one["level"] == "warning" for one in record.get("advice") or ())
        if warned != expect["warn"]:
            found.append("it warns" if warned else "it does not warn")
    if expect.get("parts", 1) > 1 and len(record.get("parts") or ()) != expect["parts"]:
        found.append(f"{len(record.get('parts') or ())} parts, due {expect['parts']}")
    if expect.get("must_flag") and not (record.get("assumed") or record.get("advice")):
        found.append("nothing is assumed or advised, where something must be flagged")
    return found


def _against(record: Record, expect: Mapping[str, Any], accept_asks: bool) -> Verdict:
    if record.get("status") == RAISED:
        return Verdict("wrong", f"it raised {record.get('question')}")
    answered = record.get("status") == "answered"
    due = expect.get("status", "answered")
    if due != "answered":
        return Verdict("wrong", f"answered, due {due}") if answered else Verdict("right")
    if not answered:
        return Verdict("asked") if accept_asks else Verdict("missed", f"{record.get('status')}: {record.get('question')}")
    if figures := wrong_figures(record, expect):
        return Verdict("wrong", "; ".join(figures + wrong_labels(record, expect)))
    if labels := wrong_labels(record, expect):
        return Verdict("mislabelled", "; ".join(labels))
    return Verdict("right")


def judge(record: Record, case: Mapping[str, Any]) -> Verdict:
    """The verdict on a record: the best over everything that is expected of it."""
    expected = case.get("any_of") or [case["expect"]]
    verdicts = [_against(record, expect, bool(case.get("accept_asks"))) for expect in expected]
    return min(verdicts, key=lambda verdict: ORDER.index(verdict.kind))


# ---- what is not understood yet ---------------------------------------------------------------------------

#: The kinds of gap that `not_yet.toml` may hold: a verdict, or a reading that is not the same when it is read again.
GAPS = frozenset({"missed", "mislabelled", "reads-back"})


def gaps(*kinds: str) -> dict[str, dict[str, str]]:
    """The requests that are known not to be understood, by id, of some kinds of gap."""
    rows = tomllib.loads((REQUESTS / "not_yet.toml").read_text(encoding="utf-8"))["gap"]
    return {row["id"]: row for row in rows if row["kind"] in kinds}


# ---- the data -------------------------------------------------------------------------------------------


def request_files() -> list[Path]:
    """The files that hold requests."""
    return [path for path in sorted(REQUESTS.glob("*.toml")) if path.name not in NOT_REQUESTS]


def singles(path: Path) -> Iterator[Turn]:
    """The requests of a file that stand alone."""
    for case in tomllib.loads(path.read_text(encoding="utf-8")).get("case", ()):
        yield Turn(case["id"], case["say"], case)


def conversations(path: Path) -> Iterator[list[Turn]]:
    """The conversations of a file."""
    for talk in tomllib.loads(path.read_text(encoding="utf-8")).get("conversation", ()):
        yield [Turn(f"{talk['id']}.{number}", turn["say"], turn) for number, turn in enumerate(talk["turns"], 1)]


def records(path: Path) -> Iterator[tuple[Turn, Record]]:
    """Every turn of a file with the record that the program gives for it."""
    from assistant.answer import Answer
    from assistant.ask import ask
    from assistant.batch import record
    from assistant.conversation import Conversation

    def told(answer: Callable[[str], Answer], say: str) -> Record:
        try:
            made: Record = json.loads(record(1, answer(say)))
        except Exception as error:
            made = {"status": RAISED, "question": repr(error), "reads": ""}
        return made

    for turn in singles(path):
        yield turn, told(ask, turn.say)
    for talk in conversations(path):
        conversation = Conversation()
        for turn in talk:
            yield turn, told(conversation.say, turn.say)


def main(show: Sequence[str]) -> int:
    """Judges every file, prints what is not right (`show` picks the verdicts) and counts the rest."""
    total: Counter[str] = Counter()
    for path in request_files():
        counts: Counter[str] = Counter()
        for turn, record in records(path):
            verdict = judge(record, turn.body)
            counts[verdict.kind] += 1
            if verdict.kind in show:
                print(f"{verdict.kind:12}{turn.id:12}{turn.say}\n{'':24}{verdict.why}\n{'':24}read as: {record['reads']}")
        print(f"{path.name}: " + ", ".join(f"{kind} {counts[kind]}" for kind in ORDER))
        total += counts
    print("all: " + ", ".join(f"{kind} {total[kind]}" for kind in ORDER))
    return 1 if total["wrong"] else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:] or ("wrong", "mislabelled", "missed")))
