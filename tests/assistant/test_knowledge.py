"""The knowledge base: its figures, its refusals, its texts, and that one edit is enough to add to it.

Each file of `broken_knowledge/` is one way to spoil a data file: it is put at the end of a copy of the
file that its first line names, and says what the message must hold.
"""

from __future__ import annotations

import re
import shutil
import tomllib
from collections.abc import Callable
from pathlib import Path
from typing import get_args

import pytest
from pydantic import BaseModel, ValidationError

import grammar
from assistant import knowledge
from assistant.knowledge import Fact, Facts, KnowledgeError, facts
from assistant.knowledge.advice import Condition
from assistant.knowledge.checking import check
from assistant.knowledge.plants import Trait
from grammar.quantities import unit

SHIPPED = Path(knowledge.__file__).parent
VOCABULARY = Path(grammar.__file__).parent / "vocabulary"
BROKEN = sorted((Path(__file__).parent / "broken_knowledge").glob("*.toml"))


@pytest.fixture
def copy(tmp_path: Path) -> Path:
    """A copy of the data files that a test may spoil."""
    folder = tmp_path / "knowledge"
    shutil.copytree(SHIPPED, folder, ignore=shutil.ignore_patterns("*.py", "__pycache__"))
    return folder


Append = Callable[[str, str], Facts]


@pytest.fixture
def append(copy: Path) -> Append:
    """Puts a text at the end of a copied file and gives the knowledge base of the copy."""

    def add(file: str, text: str) -> Facts:
        with (copy / file).open("a", encoding="utf-8") as out:
            out.write(f"\n{text}")
        return Facts(copy)

    return add


# what is shipped


def test_what_is_shipped_is_sound() -> None:
    check(facts())


def test_there_is_one_for_the_process() -> None:
    assert facts() is facts()
    assert facts().rate("share.harm") is facts().rate("share.harm")


def test_nothing_handed_out_can_be_changed() -> None:
    with pytest.raises(AttributeError):
        facts().extra = 1  # type: ignore[attr-defined]
    entries: list[BaseModel] = [
        facts().rate("share.harm"),
        facts().caution("hands"),
        facts().judgement("share-harm"),
        facts().plants()["tomato"],
        facts().containers()["nursery-5"],
        facts().components()["coir"],
        facts().explanations()["storage"],
        facts().glossary()["castings"],
        facts().source("R1"),
        facts().disagreements()["X9"],
    ]
    for entry in entries:
        with pytest.raises(ValidationError, match="frozen"):
            entry.id = "other"  # type: ignore[attr-defined]
    for shelf in (facts().rates(), facts().cautions(), facts().sources(), facts().plants()):
        with pytest.raises(TypeError):
            shelf["other"] = entries[0]  # type: ignore[index]


# Figures of the owner's list of defaults and of the list of sources, written out here once more by hand.
@pytest.mark.parametrize(
    ("id", "low", "typical", "high", "unit_name"),
    [
        ("top-dress.layer", 0.5, None, 1, "inch"),
        ("side-dress.per-plant", 1, None, 2, "us_cup"),
        ("blend.share", 5, 10, 20, "percent"),
        ("seed-mix.share", 5, 10, 10, "percent"),
        ("share.little", 5, 5, 5, "percent"),
        ("share.diminishing", 10, 10, 10, "percent"),
        ("share.harm", 20, 20, 20, "percent"),
        ("bed.depth", 8, None, 12, "inch"),
        ("bed.depth-deep-rooted", 24, 24, 24, "inch"),
        ("tea.ratio", 10, 10, 20, "fraction"),
        ("lawn.layer", 0.125, None, 0.25, "inch"),
        ("lift.limit", 23, 23, 23, "kilogram"),  # F9
        ("harvest.days-soil-contact", 120, 120, 120, "day"),  # F1
        ("harvest.days-no-contact", 90, 90, 90, "day"),  # F1
        ("compost.heat", 131, None, 170, "fahrenheit"),  # F2
        ("castings.moisture", 30, None, 60, "percent"),  # D3
        ("mixing.peat-expansion", 50, None, 100, "percent"),  # D17
        ("settling.loose-fill", 16, 16, 16, "percent"),  # W22
        ("field.strawberry", 5, None, 10, "tonne / hectare"),  # R21
        ("tree.weight", 5, None, 10, "kilogram"),  # R23
        ("planting-hole.per-transplant-weight", 400, None, 500, "gram"),  # R23
        ("storage.airtight-loss", 1, None, 2, "week"),  # S2
        ("load.deck", 60, 60, 60, "pound / square_foot"),  # F11
        ("analysis.salt-high", 8.07, 8.07, 8.07, "millimho_per_centimetre"),  # N10
    ],
)
def test_a_figure(id: str, low: float, typical: float | None, high: float, unit_name: str) -> None:
    fact = facts().rate(id)
    assert (fact.low, fact.typical, fact.high, fact.unit) == (low, typical, high, unit_name)
    assert fact.span == (low, high, unit_name)


def test_the_density_lies_where_the_sources_put_it() -> None:
    """Moist castings by custom 0.56 to 0.72 kg/L; 38 lb a cubic foot for dense ones, lighter ones less."""
    density = facts().rate("castings.density")
    dense = facts().rate("castings.density-trade").single * unit("pound / cubic_foot").factor
    typical = density.single * unit(density.unit).factor
    assert density.low < 0.56 and density.high == 0.72
    assert abs(typical / dense - 1) < 0.02


def test_every_class_of_the_nursery_table_is_there() -> None:
    """Section 5 of the list of sources, in cubic inches and in litres."""
    table = {1: (2.49, 4.11), 2: (5.24, 7.77), 3: (10.29, 12.16), 5: (12.86, 20.35), 7: (21.91, 29.33)}
    table |= {10: (34.09, 43.36), 15: (45.36, 60.57), 20: (74.07, 84.43), 25: (94.64, 112.43)}
    for number, litres in table.items():
        container = facts().container(f"nursery-{number}")
        assert container is not None and container.volume is not None
        assert container.standing == container.volume.standing == "from memory"
        span = container.volume.span.to("litre")
        assert (span.low, span.high) == pytest.approx(litres, abs=0.006)


@pytest.mark.parametrize(
    ("id", "cells", "low", "high"),
    # 72, 128 and 200 cells: whole trays of 2.9-3.6, 2.6-3.5 and 1.8-2.6 L (C8)
    [("tray-72", 72, 2.9, 3.6), ("tray-128", 128, 2.6, 3.5), ("tray-200", 200, 1.8, 2.6)],
)
def test_the_cells_of_a_tray_fill_the_tray(id: str, cells: int, low: float, high: float) -> None:
    tray = facts().containers()[id]
    assert tray.volume is not None and tray.cells == cells
    span = tray.volume.span.to("litre")
    assert (span.low * cells, span.high * cells) == pytest.approx((low, high), abs=0.06)


def test_round_pots_have_the_proportions_of_the_trade() -> None:
    heights = {id: facts().containers()[id].height for id in ("pot-standard", "pot-azalea", "pot-pan")}
    assert heights == {"pot-standard": 1, "pot-azalea": 0.75, "pot-pan": 0.5}  # C4


def test_forty_facts_and_more_are_marked_common_practice() -> None:
    rates = facts().rates().values()
    assert sum(fact.standing == "common practice" for fact in rates) >= 40
    # what is spoken of with a threshold of ours says so
    assert facts().rate("share.harm").standing == "common practice"


def test_limits_are_wider_than_what_is_usual() -> None:
    """No rate of the trade may lie outside the scale that is answered without a question."""
    for limit, ids in {
        "limits.layer": ["top-dress.layer", "lawn.layer", "layer.smothering"],
        "limits.depth": ["bed.depth", "bed.depth-deep-rooted", "incorporate.depth"],
        "limits.share": ["blend.share", "share.harm", "share.trial-decline"],
        "limits.density": ["castings.density", "castings.density-trade", "castings.density-screened"],
        "limits.per-plant": ["side-dress.per-plant", "planting-hole.per-plant"],
        "limits.tea-ratio": ["tea.ratio"],
        "limits.field-rate": ["field.usual"],
        "limits.moisture": ["castings.moisture", "castings.moisture-from-the-bin"],
        "limits.salt": ["analysis.salt", "analysis.salt-high"],
        "limits.nutrient": ["analysis.nitrogen", "analysis.phosphate", "analysis.potash"],
        "limits.area": ["cost.large-area"],
    }.items():
        low, high = facts().rate(limit).span.base
        for id in ids:
            usual = facts().rate(id).span.base
            assert low <= usual[0] and usual[1] <= high, (limit, id)


# names


def test_an_unknown_name_is_said() -> None:
    with pytest.raises(KnowledgeError, match=r"rates/share\.toml \[share\.lucky\]: there is no such fact"):
        facts().rate("share.lucky")
    with pytest.raises(KnowledgeError, match=r"rates/luck\.toml: there is no such file"):
        facts().rate("luck.good")
    with pytest.raises(KnowledgeError, match=r"cautions\.toml \[luck\]: there is no such entry"):
        facts().caution("luck")
    with pytest.raises(KnowledgeError, match=r"judgements\.toml \[luck\]: there is no such entry"):
        facts().judgement("luck")
    with pytest.raises(KnowledgeError, match=r"sources/R\.toml \[R999\]: there is no such source"):
        facts().source("R999")
    assert [ask("luck") for ask in (facts().container, facts().component, facts().plant)] == [None] * 3
    assert facts().explanation("luck") is None


def test_every_plant_and_topic_of_the_vocabulary_has_its_facts() -> None:
    """A component needs none: it stands in a recipe by its name, and a weight is added where one is known."""
    things = tomllib.loads((VOCABULARY / "things.toml").read_text(encoding="utf-8"))
    topics = tomllib.loads((VOCABULARY / "topics.toml").read_text(encoding="utf-8"))
    assert things["plant"].keys() - facts().plants().keys() == set()
    assert topics["topic"].keys() - facts().explanations().keys() == set()
    terms = tomllib.loads((VOCABULARY / "terms.toml").read_text(encoding="utf-8"))
    assert terms["term"].keys() - facts().glossary().keys() == set()


def test_plants_know_what_matters() -> None:
    plants = facts().plants()
    assert len(plants) >= 100
    assert plants["carrot"].traits >= {"edible", "eaten-raw", "soil-contact", "deep-rooted"}
    assert plants["blueberry"].traits >= {"edible", "acid-loving", "salt-sensitive"}
    assert "edible" not in plants["rose"].traits
    assert {trait for plant in plants.values() for trait in plant.traits} == set(get_args(Trait))
    assert {plant.standing for plant in plants.values()} == {"common practice"}


# how well founded


@pytest.mark.parametrize(
    ("id", "printed"),
    [
        ("side-dress.per-plant", "common practice, no source"),
        ("share.trial-germination", "Atiyeh et al., Bioresource Technology 75, 2000"),
        ("tea.seed-soak", "Arancon et al., HortScience 47(12):1722, 2012"),
        ("salts.castings", "from memory of Fertiliser (Control) Order 1985"),
        ("analysis.nitrogen", "from memory, no source"),
        ("tea.temperature", "notes by others of what N. Arancon advised, as another page repeats it"),
        ("analysis.potassium-in-potash", "from memory, no source"),
        (
            "incorporate.depth",
            "common practice; compare Arancon et al., Bioresource Technology 93(2):145-153, 2004",
        ),
    ],
)
def test_the_printed_form_of_a_source(id: str, printed: str) -> None:
    assert facts().cite(facts().rate(id)) == printed


def test_advice_and_explanations_are_cited_the_same_way() -> None:
    assert facts().cite(facts().caution("lifting")) == "NIOSH lifting equation (CCOHS and OSHA pages)"
    assert facts().cite(facts().explanations()["incorporate"]).startswith("common practice; compare City of Everett")


def test_both_sides_of_a_disagreement_are_kept() -> None:
    disputed = {fact.disputed for fact in facts().rates().values()} - {""}
    assert {"X2", "X3", "X6", "X7", "X8", "X9", "X10"} <= disputed <= facts().disagreements().keys()


# texts


@pytest.mark.parametrize(
    ("id", "said"),
    [
        ("top-dress.layer", "1/2 to 1 in"),
        ("planting-hole.per-plant", "1/2 to 1 cup"),
        ("side-dress.per-plant", "1 to 2 cups"),
        ("share.harm", "20 %"),
        ("castings.density", "0.5 to 0.72 kg/L"),
        ("tea.ratio", "10 to 20"),
        ("limits.area", "0.0001 to 5000000 square metres"),
    ],
)
def test_a_figure_is_written_as_people_write_it(id: str, said: str) -> None:
    assert facts().rate(id).said == said


@pytest.mark.parametrize(
    ("text", "filled"),
    [
        ("{share.harm}", "20 %"),
        ("{blend.share:low}, {blend.share:typical}, {blend.share:high}", "5 %, 10 %, 20 %"),
        ("{lift.limit in pound}", "51 lb"),  # the lifting equation's own round figures
        ("{top-dress.layer in millimetre}", "13 to 25 mm"),
        ("{storage.temperature in fahrenheit}", "41 to 77 °F"),
        ("{castings.density:typical in pound / cubic_foot}", "37 lb a cubic foot"),
        ("{at_ten} of {share.little}", "{at_ten} of 5 %"),
    ],
)
def test_texts_take_their_figures_from_the_facts(text: str, filled: str) -> None:
    assert facts().fill(text) == filled


def test_a_range_without_a_typical_value_has_no_single_one() -> None:
    assert facts().rate("blend.share").single == 10
    with pytest.raises(ValueError, match=r"top-dress\.layer is a range of 1/2 to 1 in"):
        _ = facts().rate("top-dress.layer").single


def test_every_topic_of_the_contract_is_explained_briefly() -> None:
    least = {"storage", "tea-or-castings", "which-way", "too-much", "too-little", "side-dress", "top-dress"}
    least |= {"blend", "density", "organic-matter", "food-safety", "how-often", "what-are-castings", "units"}
    explanations = facts().explanations()
    assert least <= explanations.keys()
    for topic, explanation in explanations.items():
        sentences = re.findall(r"[.?!](?=\s|$)", explanation.text)
        assert 3 <= len(sentences) <= 6, topic
        assert len(explanation.text) < 700, topic
        assert "{" not in explanation.text and "\n" not in explanation.text, topic
        assert explanation.next_step, topic


def test_the_measures_are_explained_as_the_registry_has_them() -> None:
    """The registry's own sizes are checked elsewhere against another units program."""
    text = facts().explanations()["units"].text
    for name, sized in {
        "us_dry_quart": "a dry quart is {:.2f} L",
        "us_quart": "a liquid quart {:.2f} L",
        "cubic_yard": "27 cubic feet or {:.0f} L",
        "cubic_foot": "a cubic foot is {:.1f} L",
        "us_gallon": "gallon of {:.2f} L",
        "imperial_gallon": "imperial, {:.2f} L",
    }.items():
        assert sized.format(unit(name).factor * 1000) in text
    assert f"{unit('us_cup').factor * 1e6:.0f} mL" in text


def test_terms_take_one_sentence() -> None:
    for term in facts().glossary().values():
        assert term.means.endswith(".") and not re.search(r"[.?!]\s", term.means), term.id


# advice


def said(*conditions: Condition) -> list[str]:
    return [caution.id for caution in facts().cautions_for(conditions)]


def test_a_caution_is_said_where_its_circumstances_hold() -> None:
    assert said() == []
    assert said("any-castings") == ["hands"]
    assert said("container", "way:top-dress") == ["stems"]
    assert "roof-load" in said("balcony") and "roof-load" in said("roof")


def test_a_caution_waits_for_all_that_it_needs() -> None:
    assert "manure-harvest" not in said("manure-based")
    assert "manure-harvest" not in said("edible")
    assert "manure-harvest" in said("manure-based", "edible")
    assert "foliar-edible" not in said("foliar") and "foliar-edible" in said("foliar", "edible")


def test_a_caution_gives_way_where_it_does_not_fit() -> None:
    """No stems are kept bare in grass or over a field, and a tree has its trunk; bags already say to wash hands."""
    for place in ("lawn", "tree", "large-area"):
        assert "stems" not in said(place, "way:top-dress"), place  # type: ignore[arg-type]
    assert "stems" in said("container", "way:top-dress")
    assert "bags" in said("any-castings", "bagged-media") and "hands" not in said("any-castings", "bagged-media")


def test_cautions_come_in_the_order_of_the_file_whatever_the_order_asked() -> None:
    assert said("lifting", "edible", "any-castings") == said("any-castings", "lifting", "edible")
    assert said("lifting", "edible", "any-castings") == ["wash-produce", "hands", "lifting"]


def test_the_dangers_of_the_brief_each_have_a_caution() -> None:
    for condition, code in {
        "dry-castings": "dust",
        "eaten-raw": "raw-crop",
        "foliar": "foliar-spray",
        "tea-fed": "tea-sugar",
        "way:tea": "tea-clean",
        "bagged-media": "bags",
        "lifting": "lifting",
        "roof": "roof-load",
        "balcony": "roof-load",
        "bin-leachate": "leachate",
        "seedlings": "seedling-salt",
    }.items():
        assert code in said(condition), condition  # type: ignore[arg-type]


def test_past_a_fifth_is_a_warning_with_what_to_do_instead() -> None:
    advice = facts().judgement("share-harm")
    text = advice.say(share="25 %", at_ten="4 cubic feet")
    assert advice.level == "warning"
    assert text.startswith("25 % is more than 20 %: it may harm, mostly through salts and poor drainage")
    assert "Use 10 % instead, which takes 4 cubic feet" in text and "test it on a few plants first" in text


def test_a_judgement_takes_exactly_its_values() -> None:
    advice = facts().judgement("share-harm")
    assert advice.places == {"share", "at_ten"}
    for values in ({"share": "25 %"}, {"share": "25 %", "at_ten": "4 L", "more": "1 L"}):
        with pytest.raises(ValueError, match=r"share-harm takes \['at_ten', 'share'\]"):
            advice.say(**values)


def test_every_caution_and_judgement_fits_its_kind() -> None:
    for caution in facts().cautions().values():
        assert caution.applies and not caution.places, caution.id
    for judgement in facts().judgements().values():
        assert not judgement.applies, judgement.id
        assert judgement.say(**dict.fromkeys(judgement.places, "so much")), judgement.id


# what is refused


def test_there_is_something_to_refuse() -> None:
    assert len(BROKEN) >= 40


@pytest.mark.parametrize("broken", BROKEN, ids=lambda path: path.stem)
def test_a_broken_file_is_refused_with_its_place(broken: Path, append: Append) -> None:
    text = broken.read_text(encoding="utf-8")
    file = re.findall(r"^# appended to: (.+)$", text, flags=re.MULTILINE)
    words = re.findall(r"^# must say: (.+)$", text, flags=re.MULTILINE)
    assert len(file) == 1 and words
    with pytest.raises(KnowledgeError) as refused:
        check(append(file[0], text))
    for word in words:
        assert word in str(refused.value)
    # nothing else is wrong with the file, so nothing else may be said
    assert {fault.file for fault in refused.value.faults} == {file[0]}
    assert len({fault.entry for fault in refused.value.faults}) == 1


def test_every_fault_is_told_at_once(copy: Path, append: Append) -> None:
    append("rates/lawn.toml", '[lawn.a]\nwhat = "a"\n')
    broken = append("plants.toml", 'teasel = ["prickly"]\n')
    with pytest.raises(KnowledgeError) as refused:
        check(broken)
    assert {fault.entry for fault in refused.value.faults} == {"lawn.a", "teasel"}
    assert {fault.field for fault in refused.value.faults if fault.entry == "lawn.a"} == {
        "measures",
        "low",
        "high",
        "unit",
        "standing",
    }


def test_a_file_that_is_not_text_is_refused(copy: Path) -> None:
    (copy / "plants.toml").write_bytes(b"\xff\xfe\x00tomato")
    with pytest.raises(KnowledgeError, match=r"plants\.toml: it is not UTF-8 text"):
        check(Facts(copy))


def test_a_file_that_is_missing_is_refused(copy: Path) -> None:
    (copy / "plants.toml").unlink()
    with pytest.raises(KnowledgeError, match=r"plants\.toml: there is no such file"):
        check(Facts(copy))


def test_a_file_is_refused_when_it_is_asked_for_and_not_before(copy: Path, append: Append) -> None:
    base = append("rates/lawn.toml", '[lawn.a]\nwhat = "a"\n')
    (copy / "explanations.toml").unlink()
    assert base.rate("top-dress.layer").high == 1
    with pytest.raises(KnowledgeError, match=r"rates/lawn\.toml \[lawn\.a\]"):
        base.rate("lawn.layer")
    with pytest.raises(KnowledgeError, match=r"explanations\.toml: there is no such file"):
        base.explanation("storage")


# what is added


def test_one_edit_adds_a_rate(append: Append) -> None:
    added = append(
        "rates/lawn.toml",
        '[lawn.seeded]\nwhat = "layer over new seed"\nmeasures = "length"\nlow = 3\nhigh = 6\n'
        'unit = "millimetre"\nstanding = "common practice"\n',
    )
    check(added)
    assert added.rate("lawn.seeded").said == "3 to 6 mm"


def test_one_edit_adds_a_component(append: Append) -> None:
    added = append(
        "components.toml",
        '[cork]\nname = "cork"\nnote = "Light, and opens a mix."\n'
        'dry = { value = 0.1, unit = "kilogram / litre", standing = "from memory" }\n',
    )
    check(added)
    component = added.component("cork")
    assert component is not None and isinstance(component.dry, Fact)
    assert component.dry.what == "bulk density, dry, of cork" and component.dry.id == "cork.dry"
    assert component.moist is None


def test_one_edit_adds_a_container(append: Append) -> None:
    added = append(
        "containers.toml",
        '[trough]\nname = "long trough"\nkind = "tub"\nstanding = "common practice"\n'
        'volume = { low = 30, typical = 35, high = 40, unit = "litre" }\n',
    )
    check(added)
    container = added.container("trough")
    assert container is not None and container.volume is not None
    assert container.volume.single == 35 and container.volume.standing == "common practice"
    assert added.cite(container.volume) == "common practice, no source"


def test_one_edit_adds_a_caution(append: Append) -> None:
    added = append(
        "cautions.toml",
        '[nettles]\nlevel = "note"\ntext = "Mind the nettles within {bed.depth-least}."\n'
        'applies = ["lawn"]\nneeds = ["large-area"]\nstanding = "common practice"\n',
    )
    check(added)
    assert added.cautions_for(["lawn", "large-area"])[-1].text == "Mind the nettles within 6 in."
    assert "nettles" not in {caution.id for caution in added.cautions_for(["lawn"])}


def test_one_edit_adds_a_plant_and_a_term(append: Append) -> None:
    append("plants.toml", 'teasel = ["deep-rooted"]\n')
    added = append("glossary.toml", '[loft]\nmeans = "How high a loose mix stands."\n')
    check(added)
    plant = added.plant("teasel")
    assert plant is not None and plant.traits == {"deep-rooted"}
    assert added.glossary()["loft"].means == "How high a loose mix stands."
