"""`castings rules` and `castings sources`: everything the program rests on is listed, with how it is founded."""

from __future__ import annotations

import re
import shutil
from pathlib import Path

import pytest

from assistant import knowledge, listing
from assistant.cli import main
from assistant.knowledge import Facts, KnowledgeError, facts
from assistant.knowledge.shapes import Stated
from assistant.relations import Frustum, Product, Relation, ShareRatio, Sum, Told, Whole, every, told, whole_ones

RULES, SOURCES = listing.rules(), listing.sources()
#: The lists with their broken lines put together, to find whole sentences in.
FLAT_RULES, FLAT_SOURCES = " ".join(RULES.split()), " ".join(SOURCES.split())


@pytest.mark.parametrize("relation", every(), ids=lambda relation: relation.id)
def test_every_relation_is_listed_with_formula_unit_and_source(relation: Relation) -> None:
    entry = " ".join(f"{relation.formula} name: {relation.id} unit of {relation.out}: {listing.unit_of(relation)} "
                     f"source: {relation.source}".split())  # fmt: skip
    assert entry in FLAT_RULES


@pytest.mark.parametrize("rule", [*whole_ones(), *told()], ids=lambda rule: rule.id)
def test_every_count_sum_and_choice_is_listed_with_formula_unit_and_source(rule: Whole | Told) -> None:
    found = FLAT_RULES.partition(f"{rule.formula} name: {rule.id} unit of {rule.out}: ")[2]
    assert found and not found.startswith("source:") and f" source: {rule.source}" in found[:200]


def test_no_formula_is_declared_twice() -> None:
    formulas = [rule.formula for rule in (*every(), *whole_ones(), *told())]
    assert len(formulas) == len({*formulas})


def test_every_figure_is_listed_with_its_standing() -> None:
    for name, fact in facts().rates().items():
        assert f"{fact.what}: {fact.said}".strip() in FLAT_RULES, name
        assert f"name: {name} standing: {fact.standing}" in FLAT_RULES, name
        if facts().cite(fact) != fact.standing:
            assert f"source: {' '.join(facts().cite(fact).split())}" in FLAT_RULES, name


def founded(stated: Stated) -> str:
    """Standing and source as they have to stand in the list."""
    cited = facts().cite(stated)
    return f"standing: {stated.standing}" + (f" source: {cited}" if cited != stated.standing else "")


def test_every_container_and_component_is_listed() -> None:
    for name, container in facts().containers().items():
        assert f"{container.name}: " in FLAT_RULES
        assert f"name: {name} {founded(container)}" in FLAT_RULES
        assert container.note in FLAT_RULES
    for name, component in facts().components().items():
        assert f"{component.name}: {component.note} name: {name} {founded(component)}" in FLAT_RULES
        for state, density in (("dry", component.dry), ("moist", component.moist)):
            assert (f"{component.name}, {state}: " in FLAT_RULES) == (density is not None)
            if density is not None:
                assert f"{component.name}, {state}: {density.said}" in FLAT_RULES
                assert f"name: {name}.{state} {founded(density)}" in FLAT_RULES


@pytest.mark.parametrize("name", facts().cautions())
def test_every_caution_is_listed_with_when_it_is_said(name: str) -> None:
    caution = facts().caution(name)
    after = FLAT_RULES.partition(f"{caution.text} name: {name} level: {caution.level} said for: ")[2]
    due, _, rest = after.partition(" standing: ")
    assert f"standing: {rest}".startswith(founded(caution))
    for condition in (*caution.applies, *caution.needs, *caution.unless):
        assert condition.removeprefix("way:").replace("-", " ") in due


@pytest.mark.parametrize("name", facts().judgements())
def test_every_judgement_is_listed_with_its_figures(name: str) -> None:
    judgement = facts().judgement(name)
    head, _, rest = FLAT_RULES.partition(f" name: {name} level: {judgement.level} ")
    for piece in re.split(r"\{\w+\}", judgement.text):
        assert piece.strip() in head
    assert "{" not in head[-len(judgement.text) :]
    assert rest.startswith((f"rests on: {', '.join(judgement.rests_on)} " if judgement.rests_on else "") + founded(judgement))


def test_every_explanation_term_and_plant_is_listed() -> None:
    for name, one in facts().explanations().items():
        assert f"{one.title}: {one.text} name: {name} {founded(one)}" in FLAT_RULES
    for name, term in facts().glossary().items():
        assert f"{name.replace('-', ' ')}: {term.means} name: {name} {founded(term)}" in FLAT_RULES
    for name, plant in facts().plants().items():
        entry = re.search(rf"(?m)^{name.replace('-', ' ')}: (.*(?:\n    .*)*)", RULES.partition("PLANTS: ")[2])
        assert entry is not None, name
        assert facts().cite(plant) in " ".join(entry[1].split())
        assert all(trait.replace("-", " ") in " ".join(entry[1].split()) for trait in plant.traits)


def test_every_source_is_listed_with_how_it_was_seen() -> None:
    for source in facts().sources().values():
        assert " ".join(source.name.split()) in FLAT_SOURCES
        rows = f" (also {', '.join(source.also)})" if source.also else ""
        assert f"{source.id}{rows}: {source.how_seen}" in FLAT_SOURCES


def test_what_rests_on_a_source_is_listed_with_it() -> None:
    for line in ("share.trial-losses, seedling-salt, salt-sensitive", "behind: lift.limit, lift.poor, lifting ", "behind: peat.dry "):
        assert line in FLAT_SOURCES
    _, _, weak = FLAT_SOURCES.partition("C3: seen, but weak")
    assert not weak.partition("greenhouse containers")[0].count("behind: ")  # only spoken of in a note


def test_a_text_that_was_seen_in_part_says_so() -> None:
    for line in (
        "R1: seen, but only its abstract, with the authors from memory",
        "T11: seen, but only its opening",
        "U1 (also U5, U8, U10, U11): seen, but as reprinted in a handbook that is not named",
    ):
        assert line in FLAT_SOURCES


def test_every_disagreement_shows_both_sides_and_the_choice() -> None:
    for one in facts().disagreements().values():
        for part in (f"{one.about} ({one.id})", f"one side: {one.one}", f"other side: {one.other}", f"here: {one.choice}",
                     f"why: {one.why}"):  # fmt: skip
            assert " ".join(part.split()) in FLAT_SOURCES, one.id


def test_lines_fit_a_window() -> None:
    assert max(len(line) for line in (RULES + SOURCES).splitlines()) <= 100


def test_the_lists_are_the_same_every_time() -> None:
    assert (listing.rules(), listing.sources()) == (RULES, SOURCES)


#: "published", with a source that was seen only weakly.
NOT_SEEN = """
[top-dress.more]
what = "a layer"
measures = "length"
value = 1
unit = "inch"
standing = "published"
source = ["C1"]
"""


def test_unsound_facts_are_not_listed(tmp_path: Path) -> None:
    folder = tmp_path / "knowledge"
    shutil.copytree(Path(knowledge.__file__).parent, folder)
    with (folder / "rates" / "top-dress.toml").open("a", encoding="utf-8") as out:
        out.write(NOT_SEEN)
    for make in (listing.rules, listing.sources):
        with pytest.raises(KnowledgeError, match=r"top-dress\.more"):
            make(Facts(folder))


def test_the_commands_take_nothing_more(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["rules"]) == 0
    assert capsys.readouterr().out == RULES
    assert main(["sources"]) == 0
    assert capsys.readouterr().out == SOURCES
    for command in ("rules", "sources"):
        assert main([command, "all"]) == 2


# ---- the units fit the formulas --------------------------------------------------------------------------------

#: What each term measures, as powers of length and weight. Money counts as a plain number.
LENGTH, AREA, VOLUME, WEIGHT, PLAIN = (1, 0), (2, 0), (3, 0), (0, 1), (0, 0)
_TERMS: dict[tuple[int, int], list[str]] = {
    LENGTH: [
        "length", "width", "diameter", "radius", "around", "base", "height of triangle", "across", "outer radius", "depth",
        "mixed depth", "inner radius", "bottom diameter", "layer", "strip width", "strip layer", "rate for an area", "tea for an area",
        "across the flats", "across the corners", "side",
    ],
    AREA: ["area", "outer circle", "inner circle", "whole area", "treated area", "left out", "rate for a length"],
    VOLUME: [
        "volume", "one cell", "whole volume", "castings", "finished mix", "soil", "castings for one", "water", "tea for one",
        "measured volume", "castings of the season", "castings at hand", "left over", "still needed", "component", "size of a pack",
    ],
    WEIGHT: ["weight", "weight for one", "weighed", "filled weight", "dry weight", "nutrient"],
    PLAIN: [
        "count", "portion", "cells", "share", "ratio", "castings to water", "castings for a volume", "sides", "times", "size",
        "share of the component", "parts of castings", "all parts", "packs", "price of a pack", "amount", "cost", "cost in all",
        "what comes on top", "dry share", "part in the weight", "part in the dry weight", "price", "price of a unit",
    ],
    (-3, 1): ["density", "density of the fill"],
    (-2, 1): ["weight for an area"],
    (-1, 1): ["weight for a length"],
}  # fmt: skip
MEASURES = {name: powers for powers, names in _TERMS.items() for name in names}

UNITS = {"m": LENGTH, "m²": AREA, "m³": VOLUME, "kg": WEIGHT, "kg/m³": (-3, 1), "a fraction of the whole, 0 to 1": PLAIN,
         "a plain number": PLAIN, "money for one unit of the size": PLAIN, "money": PLAIN}  # fmt: skip


@pytest.mark.parametrize("relation", every(), ids=lambda relation: relation.id)
def test_the_dimensions_of_a_formula_agree(relation: Relation) -> None:
    assert set(relation.terms) <= set(MEASURES), "say here what the new term measures"
    out = MEASURES[relation.out]
    assert UNITS[listing.unit_of(relation)] == out
    match relation:
        case Product():
            made = tuple(sum(MEASURES[name][part] * power for name, power in relation.factors) for part in (0, 1))
            assert made == out
        case Sum():
            assert {MEASURES[name] for name, _ in relation.addends} == {out}
        case ShareRatio():
            assert MEASURES[relation.share] == out == PLAIN
        case Frustum():
            assert MEASURES[relation.height] == MEASURES[relation.top] == MEASURES[relation.bottom] == LENGTH
            assert out == VOLUME
