"""What the program rests on, as lists for people: `castings rules` and `castings sources`.

Both read every data file and check it whole first, so a list is never printed from facts that do not hold
together.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from textwrap import wrap

from grammar.words import known

from .knowledge import Fact, Facts, facts
from .knowledge.advice import Advice
from .knowledge.checking import check
from .knowledge.shapes import Stated
from .relations import TERM_DIMENSION, Relation, Told, every, told, whole_ones

_WIDTH = 100
_STEP = "    "

#: The unit that each dimension is worked out in, as it is printed.
_UNIT = {
    "length": "m", "area": "m²", "volume": "m³", "weight": "kg", "density": "kg/m³", "share": "a fraction of the whole, 0 to 1",
    "number": "a plain number", "price": "money for one unit of the size",
    "money": "money", "whole": "a whole number",
}  # fmt: skip

#: Outcomes that no printed step of an answer names, and so are not among the engine's printed terms.
_OTHER_DIMENSION = {"weighed": "weight", "ratio": "number", "price of a unit": "price", "cost": "money", "cost in all": "money",
                    "tax": "money", "packs": "whole", "castings at another amount": "volume", "mix or soil": "volume"}  # fmt: skip


def rules(base: Facts | None = None) -> str:
    """Every relation with its formula, unit and source, then everything of the trade with its standing: figures,
    sizes, components, cautions, judgements, explanations, terms and plants.

    `base` is a knowledge base to list instead of the program's own. Raises KnowledgeError where it is not sound.
    """
    base = _checked(base)
    lines = ["RELATIONS: each is solved for whichever of its terms is missing", ""]
    for relation in every():
        lines += _entry(relation.formula, [f"name: {relation.id}", f"unit of {relation.out}: {unit_of(relation)}",
                                           f"source: {relation.source}"])  # fmt: skip
    lines += ["", "WHOLE ONES: a quotient rounded to what can be had or is needed", ""]
    for one in whole_ones():
        lines += _entry(one.formula, [f"name: {one.id}", f"unit of {one.out}: a whole number", f"source: {one.source}"])
    lines += ["", "SUMS AND CHOICES", ""]
    for each in told():
        lines += _entry(each.formula, [f"name: {each.id}", f"unit of {each.out}: {unit_of(each)}", f"source: {each.source}"])
    for subject in base.subjects():
        lines += ["", f"FIGURES: {subject}", ""]
        for name, fact in base.rates().items():
            if name.partition(".")[0] == subject:
                lines += _figure(base, name, fact)
    for part in (_containers, _components, _cautions, _judgements, _explanations, _terms, _plants):
        lines += part(base)
    return _text(lines)


def _containers(base: Facts) -> Iterator[str]:
    yield from ("", "FIGURES: containers", "")
    for name, container in base.containers().items():
        if container.volume is not None:
            # the note and the dispute may stand with the container or with its volume
            volume = container.volume.model_copy(update={"note": container.volume.note or container.note})
            yield from _figure(base, name, volume, container.name)
            if container.raises:
                yield f"{_STEP}calls for the cautions of: {_listed(container.raises)}"
        else:
            yield from _entry(f"{container.name}: {container.height:g} times as tall as wide",
                              [f"name: {name}", *_founded(base, container)])  # fmt: skip


def _components(base: Facts) -> Iterator[str]:
    yield from ("", "FIGURES: components of a mix", "")
    for name, component in base.components().items():
        raises = [f"calls for the cautions of: {_listed(component.raises)}"] if component.raises else []
        yield from _entry(f"{component.name}: {component.note}", [f"name: {name}", *_founded(base, component), *raises])
        densities = [(state, fact) for state, fact in (("dry", component.dry), ("moist", component.moist)) if fact is not None]
        for state, fact in densities:
            yield from _figure(base, f"{name}.{state}", fact, f"{component.name}, {state}")
        if not densities:
            yield from _entry(f"{component.name}: no density is known", [])
    for name in sorted({word.id for word in known("component")} - base.components().keys()):
        yield from _entry(f"{name.replace('-', ' ')}: known by its name alone", [f"name: {name}"])


def _cautions(base: Facts) -> Iterator[str]:
    yield from ("", "CAUTIONS: each once a conversation, in this order", "")
    for name, caution in base.cautions().items():
        due = f"said for: {_listed(caution.applies)}" + (f"; and only with {_listed(caution.needs)}" if caution.needs else "")
        due += f"; but not for {_listed(caution.unless)}" if caution.unless else ""
        yield from _entry(caution.text, [f"name: {name}", f"level: {caution.level}", due, *_founded(base, caution)])


def _judgements(base: Facts) -> Iterator[str]:
    yield from ("", "JUDGEMENTS: on figures that were worked out; what stands in brackets is a figure of the answer", "")
    for name, judgement in base.judgements().items():
        rests = [f"rests on: {', '.join(judgement.rests_on)}"] if judgement.rests_on else []
        yield from _entry(_with_places(judgement), [f"name: {name}", f"level: {judgement.level}", *rests, *_founded(base, judgement)])


def _with_places(judgement: Advice) -> str:
    return judgement.say(**{place: f"[{place.replace('_', ' ')}]" for place in judgement.places})


def _explanations(base: Facts) -> Iterator[str]:
    yield from ("", "EXPLANATIONS", "")
    for name, one in base.explanations().items():
        yield from _entry(f"{one.title}: {one.text}", [f"name: {name}", *_founded(base, one)])


def _terms(base: Facts) -> Iterator[str]:
    yield from ("", "TERMS", "")
    for name, term in base.glossary().items():
        yield from _entry(f"{name.replace('-', ' ')}: {term.means}", [f"name: {name}", *_founded(base, term)])


def _plants(base: Facts) -> Iterator[str]:
    yield from ("", "PLANTS: what matters of them", "")
    for name, plant in base.plants().items():
        traits = _listed(sorted(plant.traits)) if plant.traits else "nothing in particular"
        yield from _entry(f"{name.replace('-', ' ')}: {traits} ({base.cite(plant)})", [])


def _listed(names: Iterable[str]) -> str:
    return ", ".join(name.removeprefix("way:").replace("-", " ") for name in names)


def sources(base: Facts | None = None) -> str:
    """Every source, how it was seen and what it says that is used here, then where sources disagree.

    `base` is a knowledge base to list instead of the program's own. Raises KnowledgeError where it is not sound.
    """
    base = _checked(base)
    lines = ["SOURCES: only one that was seen itself makes a figure published", ""]
    behind = _behind(base)
    for source in base.sources().values():
        rows = f" (also {', '.join(source.also)})" if source.also else ""
        lines += _entry(source.name, [f"{source.id}{rows}: {source.how_seen}", f"says: {source.what}",
                                     *([f"behind: {', '.join(behind[source.id])}"] if source.id in behind else [])])  # fmt: skip
    lines += ["", "WHERE SOURCES DISAGREE", ""]
    for one in base.disagreements().values():
        rests = f"rests on: {', '.join(one.source)}" if one.source else ""
        lines += _entry(f"{one.about} ({one.id})", [f"one side: {one.one}", f"other side: {one.other}", f"here: {one.choice}",
                                                    f"why: {one.why}", rests])  # fmt: skip
    return _text(lines)


def _behind(base: Facts) -> dict[str, list[str]]:
    """What rests on each source, or is set beside it, by the source's id."""
    stated: dict[str, Stated] = {**base.rates(), **base.containers(), **base.components()}
    for name, component in base.components().items():
        stated |= {f"{name}.{state}": fact for state, fact in (("dry", component.dry), ("moist", component.moist)) if fact}
    named = [*stated.items()]
    for shelf in (base.cautions(), base.judgements(), base.explanations(), base.glossary(), base.plants()):
        named += shelf.items()
    found: dict[str, list[str]] = {}
    for name, one in named:
        for id in one.source:
            listed = found.setdefault(id, [])
            if name not in listed:
                listed.append(name)
    return found


def unit_of(relation: Relation | Told) -> str:
    """The unit in which what a relation gives is worked out; the printed figures are in the user's own."""
    dimension = _OTHER_DIMENSION.get(relation.out) or TERM_DIMENSION[relation.out]
    return _UNIT[dimension]


def _checked(base: Facts | None) -> Facts:
    base = facts() if base is None else base
    check(base)
    return base


def _figure(base: Facts, name: str, fact: Fact, what: str = "") -> Iterator[str]:
    said = fact.said or "a plain number"
    if fact.typical is not None and fact.low != fact.high:
        said += f", {fact.write(fact.typical)} where one value is used"
    more = [f"name: {name}", *_founded(base, fact)]
    if fact.note:
        more.append(f"note: {fact.note}")
    if fact.disputed:
        more.append(f"disputed: see {fact.disputed} in castings sources")
    return _entry(f"{what or fact.what}: {said}", more)


def _founded(base: Facts, stated: Stated) -> list[str]:
    cited = base.cite(stated)
    return [f"standing: {stated.standing}", *([f"source: {cited}"] if cited != stated.standing else [])]


def _entry(head: str, more: Iterable[str]) -> Iterator[str]:
    yield from wrap(head, _WIDTH, subsequent_indent=_STEP, break_on_hyphens=False)
    for line in more:
        yield from wrap(line, _WIDTH, initial_indent=_STEP, subsequent_indent=_STEP * 2, break_on_hyphens=False)


def _text(lines: list[str]) -> str:
    return "\n".join(lines) + "\n"
