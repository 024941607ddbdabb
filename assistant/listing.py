"""What the program rests on, as lists for people: `castings rules` and `castings sources`.

Both read every data file and check it whole first, so a list is never printed from facts that do not hold
together.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from textwrap import wrap

from .engine import TERM_DIMENSION
from .knowledge import Fact, Facts, facts
from .knowledge.checking import check
from .relations import Relation, every

_WIDTH = 100
_STEP = "    "

#: The unit that each dimension is worked out in, as it is printed.
_UNIT = {
    "length": "m", "area": "m²", "volume": "m³", "weight": "kg", "density": "kg/m³", "share": "a fraction of the whole, 0 to 1",
    "number": "a plain number", "price": "money for one unit of the size",
}  # fmt: skip

#: Outcomes that no printed step of an answer names, and so are not among the engine's printed terms.
_OTHER_DIMENSION = {"weighed": "weight", "ratio": "number", "price of a unit": "price"}


def rules(base: Facts | None = None) -> str:
    """Every relation with its formula, unit and source, then every figure of the trade with its standing.

    `base` is a knowledge base to list instead of the program's own. Raises KnowledgeError where it is not sound.
    """
    base = _checked(base)
    lines = ["RELATIONS: each is solved for whichever of its terms is missing", ""]
    for relation in every():
        lines += _entry(relation.formula, [f"name: {relation.id}", f"unit of {relation.out}: {unit_of(relation)}",
                                           f"source: {relation.source}"])  # fmt: skip
    for subject in base.subjects():
        lines += ["", f"FIGURES: {subject}", ""]
        for name, fact in base.rates().items():
            if name.partition(".")[0] == subject:
                lines += _figure(base, name, fact)
    lines += ["", "FIGURES: containers", ""]
    for name, container in base.containers().items():
        if container.volume is not None:
            lines += _figure(base, name, container.volume, container.name)
        else:
            lines += _entry(f"{container.name}: {container.height:g} times as tall as wide",
                            [f"name: {name}", *_founded(container.standing, base.cite(container))])  # fmt: skip
    lines += ["", "FIGURES: components of a mix", ""]
    for name, component in base.components().items():
        for state, density in (("dry", component.dry), ("moist", component.moist)):
            if density is not None:
                lines += _figure(base, name, density, f"{component.name}, {state}")
    return _text(lines)


def sources(base: Facts | None = None) -> str:
    """Every source, how it was seen and what it says that is used here, then where sources disagree.

    `base` is a knowledge base to list instead of the program's own. Raises KnowledgeError where it is not sound.
    """
    base = _checked(base)
    lines = ["SOURCES: only one that was seen itself makes a figure published", ""]
    for source in base.sources().values():
        rows = f" (also {', '.join(source.also)})" if source.also else ""
        lines += _entry(source.name, [f"{source.id}{rows}: {source.seen}", f"used for: {source.what}"])
    lines += ["", "WHERE SOURCES DISAGREE", ""]
    for one in base.disagreements().values():
        rests = f"rests on: {', '.join(one.source)}" if one.source else ""
        lines += _entry(f"{one.about} ({one.id})", [f"one side: {one.one}", f"other side: {one.other}", f"here: {one.choice}",
                                                    f"why: {one.why}", rests])  # fmt: skip
    return _text(lines)


def unit_of(relation: Relation) -> str:
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
    more = [f"name: {name}", *_founded(fact.standing, base.cite(fact))]
    if fact.note:
        more.append(f"note: {fact.note}")
    if fact.disputed:
        more.append(f"disputed: see {fact.disputed} in castings sources")
    return _entry(f"{what or fact.what}: {said}", more)


def _founded(standing: str, cited: str) -> list[str]:
    return [f"standing: {standing}"] if cited == standing else [f"standing: {standing}", f"source: {cited}"]


def _entry(head: str, more: Iterable[str]) -> Iterator[str]:
    yield from wrap(head, _WIDTH, subsequent_indent=_STEP, break_on_hyphens=False)
    for line in more:
        yield from wrap(line, _WIDTH, initial_indent=_STEP, subsequent_indent=_STEP * 2, break_on_hyphens=False)


def _text(lines: list[str]) -> str:
    return "\n".join(lines) + "\n"
