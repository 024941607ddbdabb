"""The checks that need more than one entry: that what an entry refers to is there, and fits."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from string import Formatter
from typing import Final

from .advice import Advice
from .components import Component
from .containers import Container
from .faults import Fault, KnowledgeError
from .references import Disagreement, Source
from .shapes import Entry, Fact, Stated
from .shelf import Facts
from .words import Explanation, Term

CAUTIONS: Final = "cautions.toml"
JUDGEMENTS: Final = "judgements.toml"

#: The field of an entry and what is wrong with it.
Finding = tuple[str, str]


def check(facts: Facts) -> None:
    """Read and validate every file, and follow every reference. Raises KnowledgeError with all faults."""
    faults = faults_of(facts)
    if faults:
        raise KnowledgeError(faults)


def faults_of(facts: Facts) -> list[Fault]:
    """Every fault of a knowledge base, file by file.

    References are followed only once every file is sound by itself: to a file that could not be read
    every reference would look wrong.
    """
    faults: list[Fault] = []
    shelves: dict[str, Mapping[str, Entry]] = {}
    for file, read in facts.files().items():
        try:
            shelves[file] = read()
        except KnowledgeError as error:
            faults.extend(error.faults)
    if faults:
        return faults
    return [
        Fault(file, entry.id, field, why)
        for file, shelf in shelves.items()
        for entry in shelf.values()
        for field, why in _findings(facts, file, entry)
    ]


def _findings(facts: Facts, file: str, entry: Entry) -> Iterator[Finding]:
    if isinstance(entry, Stated):
        yield from _sources(facts, entry.source, must_be_seen=entry.standing == "published")
    match entry:
        case Fact():
            yield from _fact(facts, entry)
        case Container() | Component():
            yield from _facts_within(facts, file, entry)
        case Advice():
            yield from _advice(facts, file, entry)
        case Explanation():
            yield from _text(facts, entry.text, may_leave=False)
        case Term() if entry.see and entry.see not in facts.explanations():
            yield "see", f"there is no explanation of {entry.see!r}"
        case Source():
            yield from _source(facts, file, entry)
        case Disagreement():
            yield from _sources(facts, entry.source, must_be_seen=False)


def _sources(facts: Facts, ids: Iterable[str], must_be_seen: bool) -> Iterator[Finding]:
    for id in ids:
        try:
            source = facts.source(id)
        except KnowledgeError:
            yield "source", f"unknown source {id!r}"
            continue
        if must_be_seen and source.seen != "seen":
            yield "source", f'{id!r} makes nothing "published": it was not seen itself ({source.seen})'


def _fact(facts: Facts, fact: Fact) -> Iterator[Finding]:
    if fact.disputed and fact.disputed not in facts.disagreements():
        yield "disputed", f"there is no disagreement called {fact.disputed!r}"


def _facts_within(facts: Facts, file: str, entry: Container | Component) -> Iterator[Finding]:
    inner = {"volume": entry.volume} if isinstance(entry, Container) else {"dry": entry.dry, "moist": entry.moist}
    for field, fact in inner.items():
        if fact is not None:
            yield from ((f"{field}.{part}", why) for part, why in _findings(facts, file, fact))


def _advice(facts: Facts, file: str, advice: Advice) -> Iterator[Finding]:
    figures = facts.rates()
    for id in advice.rests_on:
        if id not in figures:
            yield "rests-on", f"there is no fact called {id!r}"
    if file == CAUTIONS and not advice.applies:
        yield "applies", "a caution that applies to nothing is never said"
    if file == JUDGEMENTS and (advice.applies or advice.needs or advice.unless):
        yield "applies", "a judgement is said by a rule of the engine, not by circumstances"
    yield from _text(facts, advice.text, may_leave=file == JUDGEMENTS)


def _text(facts: Facts, text: str, may_leave: bool) -> Iterator[Finding]:
    """The figures that a text takes from facts are there; only a judgement may leave some to the answer."""
    try:
        left = sorted({name for _, name, _, _ in Formatter().parse(facts.fill(text)) if name is not None})
    except ValueError as error:
        yield "text", str(error)
        return
    for name in left:
        if not may_leave:
            yield "text", f"nothing fills {{{name}}}"
        elif not name.isidentifier():
            yield "text", f"{{{name}}} is neither a figure of a fact nor the name of one of the answer"


def _source(facts: Facts, file: str, source: Source) -> Iterator[Finding]:
    """A source stands in the file of its letter, and no row of the list of sources belongs to two texts."""
    if file != f"sources/{source.id[:1]}.toml":
        yield "", f"it belongs in sources/{source.id[:1]}.toml"
    rows = (source.id, *source.also)
    yield from (("also", f"row {row!r} stands twice") for row in sorted(set(rows)) if rows.count(row) > 1)
    for other in facts.sources().values():
        if other.id == source.id:
            break
        for row in sorted({other.id, *other.also} & set(rows)):
            yield "also", f"row {row!r} stands twice, here and in [{other.id}]"
