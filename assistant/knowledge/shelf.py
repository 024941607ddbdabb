"""The facts as the rest of the program asks for them: each by its id, read when first wanted."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping
from functools import lru_cache, partial
from pathlib import Path
from types import MappingProxyType
from typing import TYPE_CHECKING, Final, TypeVar, cast

from .faults import Fault, KnowledgeError
from .files import read_entries
from .shapes import Entry, Fact, Stated

# The other kinds of entry are imported where they are read, since making a model takes time and most
# requests want few of them.
if TYPE_CHECKING:
    from .advice import Advice, Condition
    from .components import Component
    from .containers import Container
    from .plants import Plant
    from .references import Disagreement, Source
    from .words import Explanation, Term

E = TypeVar("E", bound=Entry)
T = TypeVar("T", bound="Advice | Explanation")

#: A figure that a text takes from a fact: "{share.harm}", "{blend.share:typical}", "{lift.limit in pound}".
_FIGURE: Final = r"\{([a-z0-9-]+\.[a-z0-9-]+)(?::(low|typical|high))?(?: in ([a-z_/ ]+))?\}"


class Facts:
    """The knowledge base in one folder. What it hands out is frozen and stays the same for its life.

    A file is read and validated when something in it is first asked for; every method raises
    KnowledgeError when a file it needs is not sound. `assistant.knowledge.checking.check` reads them all
    and also follows every reference from one entry to another.
    """

    __slots__ = ("_cited", "_folder", "_rates", "_said", "_shelves", "_texts")

    def __init__(self, folder: Path) -> None:
        self._folder = folder
        self._rates: dict[str, Fact] = {}
        self._shelves: dict[str, Mapping[str, Entry]] = {}
        self._cited: dict[tuple[str, tuple[str, ...]], str] = {}
        self._texts: dict[tuple[str, str], Stated] = {}
        # there are far fewer sets of circumstances than requests
        self._said: dict[frozenset[Condition], tuple[Advice, ...]] = {}

    # figures

    def rate(self, id: str) -> Fact:
        """The figure called `id`, such as `top-dress.layer`: a rate, threshold, density or limit.

        Raises KnowledgeError when there is none of that name.
        """
        try:
            return self._rates[id]
        except KeyError:
            subject = id.partition(".")[0]
        found = self._subject(subject).get(id)
        if found is None:
            raise KnowledgeError([Fault(f"rates/{subject}.toml", id, "", "there is no such fact")])
        self._rates[id] = found
        return found

    def rates(self) -> Mapping[str, Fact]:
        """Every figure, in the order of the subjects' names and then of their files."""
        return self._together(self._subject(subject) for subject in self.subjects())

    def subjects(self) -> tuple[str, ...]:
        """The subjects that have figures: the first part of their ids, and the names of their files."""
        return self._names("rates")

    def _subject(self, subject: str) -> Mapping[str, Fact]:
        return self._shelf(f"rates/{subject}.toml", Fact, inside=subject)

    # things

    def container(self, id: str) -> Container | None:
        """The container class called `id` (`nursery-5`, `tray-72`, `pot-standard`), or None."""
        containers = self._shelves.get("containers.toml")  # asked for at most requests, so without the import below
        return cast("Container | None", containers.get(id)) if containers is not None else self.containers().get(id)

    def containers(self) -> Mapping[str, Container]:
        from .containers import Container

        return self._shelf("containers.toml", Container)

    def component(self, id: str) -> Component | None:
        """The component of a mix called `id` (`coir`, `rice-hulls`), or None."""
        components = self._shelves.get("components.toml")
        return cast("Component | None", components.get(id)) if components is not None else self.components().get(id)

    def components(self) -> Mapping[str, Component]:
        from .components import Component

        return self._shelf("components.toml", Component)

    def plant(self, id: str) -> Plant | None:
        """The plant called `id` (`tomato`, `apple-tree`), or None."""
        plants = self._shelves.get("plants.toml")  # asked for at every request, so without the import below
        return cast("Plant | None", plants.get(id)) if plants is not None else self.plants().get(id)

    def plants(self) -> Mapping[str, Plant]:
        from .plants import Plant

        return self._shelf("plants.toml", Plant)

    # advice

    def caution(self, id: str) -> Advice:
        """The caution called `id`. Raises KnowledgeError when there is none of that name."""
        return self._with_figures("cautions.toml", self._cautions, id)

    def cautions(self) -> Mapping[str, Advice]:
        """Every caution, in the order of the file, which is the order in which they are said."""
        return MappingProxyType({id: self.caution(id) for id in self._cautions()})

    def cautions_for(self, conditions: Iterable[Condition]) -> tuple[Advice, ...]:
        """The cautions that hold under these conditions, in the order of the file."""
        now = frozenset(conditions)
        said = self._said.get(now)
        if said is None:
            said = tuple(self.caution(id) for id, caution in self._cautions().items() if caution.holds(now))
            self._said[now] = said
        return said

    def is_caution(self, code: str) -> bool:
        """Whether a code is that of a caution."""
        return code in self._cautions()

    def judgement(self, code: str) -> Advice:
        """The judgement called `code`. Raises KnowledgeError when there is none of that name."""
        return self._with_figures("judgements.toml", self._judgements, code)

    def judgements(self) -> Mapping[str, Advice]:
        return MappingProxyType({code: self.judgement(code) for code in self._judgements()})

    def _cautions(self) -> Mapping[str, Advice]:
        from .advice import Advice

        return self._shelf("cautions.toml", Advice)

    def _judgements(self) -> Mapping[str, Advice]:
        from .advice import Advice

        return self._shelf("judgements.toml", Advice)

    # words

    def explanation(self, topic: str) -> Explanation | None:
        """The explanation of a topic (`storage`, `too-much`), or None."""
        raw = self._explanations()
        return self._with_figures("explanations.toml", lambda: raw, topic) if topic in raw else None

    def explanations(self) -> Mapping[str, Explanation]:
        raw = self._explanations()
        return MappingProxyType({topic: self._with_figures("explanations.toml", lambda: raw, topic) for topic in raw})

    def _explanations(self) -> Mapping[str, Explanation]:
        from .words import Explanation

        return self._shelf("explanations.toml", Explanation)

    def glossary(self) -> Mapping[str, Term]:
        """The terms of the trade, by the term, each in one sentence."""
        from .words import Term

        return self._shelf("glossary.toml", Term)

    def sources(self) -> Mapping[str, Source]:
        """Every source, by its id, in the order of their files."""
        return self._together(self._sources(letter) for letter in self.letters())

    def source(self, id: str) -> Source:
        """The source called `id`, such as `R1`. Raises KnowledgeError when there is none of that name."""
        found = self._sources(id[:1]).get(id)
        if found is None:
            raise KnowledgeError([Fault(f"sources/{id[:1]}.toml", id, "", "there is no such source")])
        return found

    def letters(self) -> tuple[str, ...]:
        """The first letters of the sources' ids, which are the names of their files."""
        return self._names("sources")

    def _sources(self, letter: str) -> Mapping[str, Source]:
        from .references import Source

        return self._shelf(f"sources/{letter}.toml", Source)

    def disagreements(self) -> Mapping[str, Disagreement]:
        """Where sources disagree: both sides, the choice made, and why."""
        from .references import Disagreement

        return self._shelf("disagreements.toml", Disagreement)

    def cite(self, stated: Stated) -> str:
        """The printed form of how well an entry is founded, and on what.

        "Atiyeh et al., Bioresource Technology 75, 2000", "common practice, no source", "from memory
        of …", "arithmetic".
        """
        key = (stated.standing, stated.source)
        said = self._cited.get(key)
        if said is None:
            said = self._cited[key] = self._cite(stated)
        return said

    def _cite(self, stated: Stated) -> str:
        sources = [self.source(id) for id in stated.source]
        names = "; ".join(dict.fromkeys(source.name for source in sources))
        if stated.standing == "published":
            return names
        if stated.standing == "common practice":
            return f"common practice; compare {names}" if names else "common practice, no source"
        if stated.standing == "arithmetic":
            return f"arithmetic; agrees with {names}" if names else "arithmetic"
        if sources and all(source.seen == "seen on a page that repeats it" for source in sources):
            return f"{names}, as another page repeats it"
        if any(source.seen == "seen" for source in sources):
            return f"from memory; compare {names}"
        return f"from memory of {names}" if names else "from memory, no source"

    def footing(self, fact: Fact) -> str:
        """`cite` of a figure, and a word where sources disagree over it (see `disagreements`)."""
        cited = self.cite(fact)
        return f"{cited.removesuffix(', no source')}; sources differ" if fact.disputed else cited

    def brief(self, text: str) -> str:
        """A text with its citations left out: how well a figure is founded stays, on which works is for who asks why.

        "(common practice; compare Atiyeh et al., …)" becomes "(common practice)".
        """
        for (standing, _), cited in sorted(self._cited.items(), key=lambda pair: -len(pair[1])):
            text = text.replace(f"({cited}", f"({standing}")
        return text

    def is_general(self, code: str) -> bool:
        """Whether a code is that of a judgement which says the same of every request, with no figure of the request in it."""
        judged = self._judgements().get(code)
        return judged is not None and "{" not in re.sub(_FIGURE, "", judged.text)

    # the whole

    def files(self) -> dict[str, Callable[[], Mapping[str, Entry]]]:
        """Every file, and what reads its entries as they stand, their texts not yet filled in."""
        rates = {f"rates/{subject}.toml": partial(self._subject, subject) for subject in self.subjects()}
        sources = {f"sources/{letter}.toml": partial(self._sources, letter) for letter in self.letters()}
        return {
            **rates,
            "containers.toml": self.containers,
            "components.toml": self.components,
            "plants.toml": self.plants,
            "cautions.toml": self._cautions,
            "judgements.toml": self._judgements,
            "explanations.toml": self._explanations,
            "glossary.toml": self.glossary,
            **sources,
            "disagreements.toml": self.disagreements,
        }

    def fill(self, text: str) -> str:
        """A text with the figures of facts in the place of "{share.harm}", "{blend.share:typical}" and
        "{lift.limit in pound}".

        Raises ValueError for a figure that there is not, or a unit of something else.
        """

        def figure(found: re.Match[str]) -> str:
            id, part, other = found.groups()
            fact = self.rate(id)
            if other:
                fact = fact.written_in(other)
            if part is None:
                return fact.said
            if part == "typical":
                return fact.write(fact.single)
            return fact.write(fact.low if part == "low" else fact.high)

        return re.sub(_FIGURE, figure, text)

    def _with_figures(self, file: str, reads: Callable[[], Mapping[str, T]], id: str) -> T:
        """The entry of a shelf with the figures put into its text."""
        made = self._texts.get((file, id))
        if made is None:
            shelf = reads()
            if id not in shelf:
                raise KnowledgeError([Fault(file, id, "", "there is no such entry")])
            made = shelf[id].model_copy(update={"text": self.fill(shelf[id].text)})
            self._texts[file, id] = made
        return cast(T, made)

    def _together(self, shelves: Iterable[Mapping[str, E]]) -> Mapping[str, E]:
        return MappingProxyType({id: entry for shelf in shelves for id, entry in shelf.items()})

    def _names(self, folder: str) -> tuple[str, ...]:
        return tuple(sorted(path.stem for path in (self._folder / folder).glob("*.toml")))

    def _shelf(self, file: str, kind: type[E], inside: str = "") -> Mapping[str, E]:
        shelf = self._shelves.get(file)
        if shelf is None:
            shelf = MappingProxyType(read_entries(self._folder, file, kind, inside))
            self._shelves[file] = shelf
        return cast(Mapping[str, E], shelf)


@lru_cache(maxsize=1)
def facts() -> Facts:
    """The knowledge base that comes with the program: one for the process."""
    return Facts(Path(__file__).parent)
