"""The engine: a query built without any text is worked out, each step recorded, the same way every time."""

from __future__ import annotations

import json
import subprocess
import sys
from typing import Any

import pytest

from assistant import engine
from assistant.answer import Answer
from assistant.ask import ask
from assistant.batch import record
from assistant.knowledge import facts
from assistant.relations import every
from assistant.sheet import Sheet
from grammar.quantities import Span, point
from grammar.query import Place, Query, Question, Shape, Tea

BED = Place(noun="bed", kind="ground", printed="bed", depth=point(10, "inch"), share=point(10, "percent"), way="blend",
            shape=Shape(form="rectangle", dims={"length": point(9, "foot"), "width": point(4, "foot")}))  # fmt: skip


def query(*places: Place, **more: Any) -> Query:
    return Query(asked=more.pop("asked", "castings"), places=places, **more)


def worked(asked: Query) -> Answer:
    found = engine.answer(asked, "")
    assert isinstance(found, Answer)
    return found


def litres(asked: Query) -> tuple[float, float]:
    found = worked(asked)
    assert found.castings is not None
    return found.castings.litres


#: One cubic foot in litres, from the inch.
CUBIC_FOOT = 12**3 * 2.54**3 / 1000


def test_the_border_is_the_query_alone() -> None:
    """No text is needed: a form or a program can ask as well. 4 × 9 ft × 10/12 ft × 10 % = 3 cu ft."""
    assert litres(query(BED)) == pytest.approx((3 * CUBIC_FOOT, 3 * CUBIC_FOOT))


@pytest.mark.parametrize(
    ("change", "cubic_feet"),
    [
        ({"way": "incorporate"}, (30 / 9, 30 / 9)),
        ({"share": Span(5, 20, "percent")}, (1.5, 6)),
        ({"count": 3}, (9, 9)),
        ({"count": 3, "altogether": True}, (3, 3)),
        ({"portion": 0.5}, (1.5, 1.5)),
        ({"minus": (Shape(form="rectangle", dims={"length": point(2, "foot"), "width": point(3, "foot")}),)}, (2.5, 2.5)),
        ({"way": "top-dress", "share": None, "layer": (Span(0.5, 1, "inch"),)}, (1.5, 3)),
        ({"way": "top-dress", "share": None, "layer": (point(0.5, "inch"), point(0.5, "inch"))}, (3, 3)),
        ({"way": "top-dress", "share": None}, (1.5, 3)),
        ({"share": None}, (3, 3)),
        ({"shape": Shape(form="volume", dims={"volume": point(20, "cubic_foot")})}, (2, 2)),
    ],
)
def test_one_bed_in_many_ways(change: dict[str, Any], cubic_feet: tuple[float, float]) -> None:
    found = litres(query(BED.model_copy(update=change)))
    assert found == pytest.approx(tuple(one * CUBIC_FOOT for one in cubic_feet))


def test_every_default_is_said() -> None:
    bare = BED.model_copy(update={"share": None})
    assert "default-share" in {one.code for one in worked(query(bare)).assumed}
    assert "default-share" not in {one.code for one in worked(query(BED)).assumed}
    plants = Place(noun="tomato", kind="plant", count=10, way="side-dress")
    assert "default-rate" in {one.code for one in worked(query(plants)).assumed}
    assert "default-density" in {one.code for one in worked(query(BED, asked="weight")).assumed}


def test_a_stated_density_is_used() -> None:
    found = worked(query(BED, asked="weight", density=point(38, "pound / cubic_foot")))
    assert found.castings is not None
    assert found.castings.kg == pytest.approx((3 * 38 * 0.45359237,) * 2)
    assert "default-density" not in {one.code for one in found.assumed}


def test_places_are_summed() -> None:
    found = worked(query(BED, BED))
    assert found.castings is not None and len(found.parts) == 2
    assert found.castings.litres[0] == pytest.approx(6 * CUBIC_FOOT)
    assert sum(part.castings.litres[0] for part in found.parts if part.castings) == pytest.approx(found.castings.litres[0])


def test_a_tea() -> None:
    found = worked(Query(asked="castings", tea=Tea(water=point(20, "litre"), ratio=(1, 10))))
    assert found.castings is not None and found.way == "tea"
    assert found.castings.litres == pytest.approx((2, 2))


LAWN = Place(noun="lawn", kind="ground", way="top-dress", shape=Shape(form="area", dims={"area": point(90, "square_foot")}))


@pytest.mark.parametrize(
    ("asked", "code"),
    [
        (query(BED.model_copy(update={"depth": point(40, "foot")})), "scale"),
        (query(BED.model_copy(update={"count": 2.5})), "count"),
        (query(BED, density=point(9, "kilogram / litre"), asked="weight"), "scale"),
        (query(BED, asked="area"), "have"),
        (query(LAWN), "layer"),
    ],
)
def test_what_cannot_be_worked_out_is_asked_about(asked: Query, code: str) -> None:
    found = engine.answer(asked, "")
    assert isinstance(found, Question)
    assert found.code == code and found.text


# ---- steps ---------------------------------------------------------------------------------------------------

RULES = {relation.id: relation for relation in every()}
REQUESTS = [
    "4 by 9 ft bed, 10 in deep, 10% castings",
    "dig in, top 6 in of a 10 by 20 ft plot, 5% castings",
    "top dress a round bed 2 m across, 1 cm",
    "side dress 14 peppers",
    "ring around a tree from 20 cm from the trunk to 150 cm from the trunk, 1 cm layer",
    "12 #5 pots, 10% castings",
    "3 72-cell trays, 10% castings",
    "pot 30 cm diameter at the top, 20 cm at the bottom, 30 cm tall, 10% castings",
    "how far does 1 cubic yard of castings go in a 1 inch layer",
    "what share do 20 litres of castings make in a new 4 by 8 ft bed, 10 in deep",
    "how heavy, 10 tonnes per hectare on 4.5 square metres",
    "tea, 20 litres of water, 1:10 castings to water",
]


@pytest.mark.parametrize("request_", REQUESTS)
def test_each_step_names_its_rule_formula_and_source(request_: str) -> None:
    found = ask(request_)
    assert found.status == "answered", found.question
    assert found.working
    for step in found.working:
        assert step.rule and step.formula and step.gives and step.source
        if step.rule in RULES and ":" not in step.formula:
            assert step.formula == RULES[step.rule].formula
            assert step.source == RULES[step.rule].source


@pytest.mark.parametrize("request_", REQUESTS)
def test_the_same_request_gives_the_same_bytes(request_: str) -> None:
    assert record(1, ask(request_)) == record(1, ask(request_))


def test_steps_are_in_the_units_that_were_spoken() -> None:
    for step in ask("4 by 9 ft bed, 10 in deep, 10% castings").working:
        assert "m³" not in step.gives and " L" not in step.gives
    for step in ask("bed 2 m by 1 m, 30 cm deep, 10% castings").working:
        assert "ft" not in step.gives


def test_a_sheet_reaches_only_what_it_can() -> None:
    sheet = Sheet()
    sheet.give("length", 2)
    assert sheet.reach("area", (RULES["rectangle"],)) is None
    sheet.give("width", 3)
    assert sheet.reach("area", (RULES["rectangle"],)) == (6, 6)
    assert [step.gave for step in sheet.trace("area")] == ["area"]
    assert sheet.trace("length") == []


# ---- judgements ----------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("share", "code"),
    [(4, "share-little"), (5, None), (10, None), (10.5, "share-diminishing"), (20, "share-diminishing"), (20.1, "share-harm"),
     (25, "share-harm"), (100, "share-harm")],
)  # fmt: skip
def test_the_limits_of_a_share(share: float, code: str | None) -> None:
    found = worked(query(BED.model_copy(update={"share": point(share, "percent")})))
    codes = {one.code for one in found.advice} & {"share-little", "share-diminishing", "share-harm"}
    assert codes == ({code} if code else set())
    assert any(one.level == "warning" for one in found.advice) == (share > 20)


def test_a_warning_gives_the_amount_at_the_usual_share() -> None:
    found = worked(query(BED.model_copy(update={"share": point(25, "percent")})))
    (warning,) = [one for one in found.advice if one.level == "warning"]
    assert "3 cu ft" in warning.text and "10 %" in warning.text
    assert warning.source == facts().cite(facts().judgement("share-harm"))


@pytest.mark.parametrize(("have", "code"), [(2.9, "not-enough"), (3, "enough-left"), (3.5, "enough-left")])
def test_whether_it_is_enough_is_said(have: float, code: str) -> None:
    """3 cu ft are needed."""
    found = worked(query(BED, have=(point(have, "cubic_foot"),), enough=True))
    assert code in {one.code for one in found.advice}


# ---- the start -----------------------------------------------------------------------------------------------


def test_a_single_request_imports_no_terminal() -> None:
    """prompt_toolkit is the chat's alone: a request must not pay for it."""
    done = subprocess.run([sys.executable, "-X", "importtime", "-m", "assistant.cli", "--json", "4 by 9 ft bed, 10 in deep, 10%"],
                          capture_output=True, text=True, check=True)  # fmt: skip
    assert json.loads(done.stdout)["status"] == "answered"
    assert "lark" in done.stderr or "grammar" in done.stderr
    assert "prompt_toolkit" not in done.stderr
