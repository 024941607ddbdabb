"""The vocabulary: every entry is reached by every one of its spellings, and none is ambiguous by accident."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

import grammar
from grammar import words
from grammar.quantities import UnknownUnit, unit
from grammar.tokens import tokenize
from grammar.words import KINDS, Choice, VocabularyError, plural, put_together, spoken, vocabulary

FOLDER = Path(grammar.__file__).parent / "vocabulary"
NOT_WORDS = ("doubtful.toml", "preferences.toml", "terms.toml")
FILES = [path for path in sorted(FOLDER.glob("*.toml")) if path.name not in NOT_WORDS]


def entries() -> Iterator[tuple[str, str, str, list[str], bool]]:
    """File, kind, name, spellings and whether plurals are made, of every entry."""
    for path in FILES:
        tables = tomllib.loads(path.read_text(encoding="utf-8"))
        many = tables.pop("plurals")
        for kind, table in tables.items():
            for name, says in table.items():
                yield path.name, kind, name, says, many


ENTRIES = list(entries())


@pytest.mark.parametrize(("file", "kind", "name", "says", "many"), ENTRIES, ids=[f"{e[0]} {e[1]}.{e[2]}" for e in ENTRIES])
def test_every_spelling_reaches_its_word(file: str, kind: str, name: str, says: list[str], many: bool) -> None:
    """Typed alone, a spelling is read as one token of that very word: it is not split, mended or taken by another."""
    for one in says:
        tokens, mended, _ = tokenize(one)
        assert not mended, f"{one!r} is read as {mended}"
        found = [(token.word.kind, token.word.id) if token.word else token.text for token in tokens]
        assert found == [(kind, name)], f"{file}, {kind}.{name}: {one!r} is read as {found}"


TERMS = tomllib.loads((FOLDER / "terms.toml").read_text(encoding="utf-8"))["term"]


@pytest.mark.parametrize("name", TERMS)
def test_the_meaning_of_a_term_can_be_asked_for(name: str) -> None:
    """However it is asked, it is one question in words: of the term, or of a topic that was written down before it."""
    for one in TERMS[name]:
        for said in (f"what is a {one}", f"what does {one} mean", f"define {one}", f"what's the {one}", f"meaning of {one}"):
            kinds = [(token.word.kind, token.word.id) for token in tokenize(said).tokens if token.word]
            assert len(kinds) == 1 and kinds[0][0] == "topic", f"{said!r} is read as {kinds}"
    assert [(token.word.kind, token.word.id) for token in tokenize(f"a question about {name.replace('-', ' ')}").tokens if token.word][-1][0] == (
        "topic"
    )


def test_every_made_plural_reaches_a_word() -> None:
    """A plural made by rule is known, as its own word or as one that is written down somewhere else."""
    for file, kind, name, says, many in ENTRIES:
        for one in says:
            if many and len(one) > 2 and one[-1].isalpha():
                read = tokenize(plural(one))
                unknown = [token.text for token in read.tokens if token.type == "UNKNOWN"]
                assert not read.mended and not unknown, f"{file}, {kind}.{name}: {plural(one)!r} is not known"


def test_units_are_units() -> None:
    """The name of a unit entry is an exact unit, and the unit's measure is one that a request can speak of."""
    for file, kind, name, _, _ in ENTRIES:
        if kind == "unit":
            try:
                dimension = unit(name).dimension
            except UnknownUnit:
                pytest.fail(f"{file}: there is no unit called {name}")
            assert "[" not in dimension, f"{file}: {name} measures {dimension}"


def test_numbers_are_numbers() -> None:
    for file, kind, name, _, _ in ENTRIES:
        if kind in ("ones", "teen", "tens", "hundred", "thousand", "dozen", "couple", "half", "part-word", "zero"):
            assert float(name) >= 0, f"{file}, {kind}.{name}"


def test_every_printed_word_is_read_again() -> None:
    for _, kind, name, says, _ in ENTRIES:
        if kind == "topic":  # printed as what a question is about, which the test below reads again
            continue
        assert spoken(kind, name) in {one for row in ENTRIES if row[1:3] == (kind, name) for one in row[3]}
        assert says


@pytest.mark.parametrize("name", sorted({name for _, kind, name, _, _ in ENTRIES if kind == "topic"} | {*TERMS}))
def test_what_a_question_is_about_is_read_again(name: str) -> None:
    said = f"a question about {spoken('topic', name)}"
    assert [(token.word.kind, token.word.id) for token in tokenize(said).tokens if token.word][-1] == ("topic", name)


def test_no_spelling_stands_twice() -> None:
    for _, kind, name, says, _ in ENTRIES:
        assert len(says) == len(set(says)), f"{kind}.{name}: {[one for one in says if says.count(one) > 1]}"


def test_spellings_are_lower_case() -> None:
    for _, kind, name, says, _ in ENTRIES:
        assert [one for one in says if one != one.lower()] == [], f"{kind}.{name}"


# ---- doubtful words ------------------------------------------------------------------------------------------

DOUBTFUL = tomllib.loads((FOLDER / "doubtful.toml").read_text(encoding="utf-8"))["word"]
RULES = [(word, number, rule) for word in DOUBTFUL for number, rule in enumerate(word["rules"])]
#: Requests for rules whose `why` shows none: data, so that a new rule brings its own.
EXAMPLES = tomllib.loads((Path(__file__).parent / "doubtful_words.toml").read_text(encoding="utf-8"))


def _examples(word: dict[str, list[str]], rule: dict[str, str]) -> list[str]:
    """What is said to show a rule: the quotation in its `why`, or the example kept beside this test."""
    quoted = re.findall(r"'((?:[^']|(?<=\w)'(?=\w)|'(?= x)|(?<=\d)')+)'(?=[,. ]|$| and)", rule["why"])
    spellings = "|".join(re.escape(one) for one in word["says"])
    said = re.compile(rf"(?<!\w)({spellings})(?!\w)|\d({spellings})|({spellings})\d", re.IGNORECASE)
    shown = [one for one in quoted if said.search(one)]
    return shown or EXAMPLES.get(word["says"][0], {}).get(rule["becomes"], [])


@pytest.mark.parametrize(("word", "number", "rule"), RULES, ids=[f"{w['says'][0]} as {r['becomes']} ({n})" for w, n, r in RULES])
def test_every_rule_of_a_doubtful_word_is_used(word: dict[str, list[str]], number: int, rule: dict[str, str]) -> None:
    examples = _examples(word, rule)
    assert examples, f"doubtful_words.toml needs an example of {word['says'][0]!r} as {rule['becomes']}"
    for example in examples:
        found = [f"{token.word.kind}:{token.word.id}" for token in tokenize(example).tokens if token.word is not None]
        assert rule["becomes"] in found, f"{example!r} is read as {found}"


def test_the_last_rule_of_a_doubtful_word_always_holds() -> None:
    for word in DOUBTFUL:
        last = word["rules"][-1]
        assert "after" not in last and "before" not in last, f"{word['says'][0]!r} may be left undecided"


def test_doubtful_words_are_declared_and_nothing_else_is_doubtful() -> None:
    declared = {one for word in DOUBTFUL for one in word["says"]}
    single = {spelling for spelling, meaning in vocabulary().single.items() if isinstance(meaning, Choice)}
    assert single <= declared


# ---- a broken vocabulary is refused --------------------------------------------------------------------------


@pytest.fixture
def vocabulary_of(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Callable[[str, str], object]:
    """Puts a vocabulary together from the shipped files and one more."""
    folder = tmp_path / "vocabulary"
    folder.mkdir()
    for path in FOLDER.glob("*.toml"):
        (folder / path.name).write_text(path.read_text(encoding="utf-8"), encoding="utf-8")
    monkeypatch.setattr(words, "files", lambda _: tmp_path, raising=False)
    monkeypatch.setattr(words, "package_file", lambda *names: tmp_path.joinpath(*names), raising=False)

    def made(file: str, text: str) -> object:
        (folder / file).write_text(text, encoding="utf-8")
        return put_together()

    return made


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ('plurals = false\n[ground]\nzzterrace = ["bed"]', "already claimed"),
        ('plurals = false\n[plot]\nzzterrace = ["zzterrace"]', "no kind of word"),
        ('[ground]\nzzterrace = ["zzterrace"]', "plurals"),
        ("plurals = false\n[ground]\nzzterrace = []", "list of spellings"),
        ('plurals = false\n[ground]\nzzterrace = "zzterrace"', "list of spellings"),
        ('plurals = false\n[ground]\nzzterrace = [""]', "list of spellings"),
        ('plurals = false\n[ground]\nzzterrace = ["  "]', "no spelling"),
    ],
)
def test_a_broken_word_file_is_refused(vocabulary_of: Callable[[str, str], object], text: str, said: str) -> None:
    with pytest.raises(VocabularyError, match=said):
        vocabulary_of("zz_more.toml", text)


@pytest.mark.parametrize(
    "text",
    [
        "[[word]]\nsays = []\nrules = [{ becomes = 'unit:inch', why = 'because' }]",
        "[[word]]\nsays = ['blip']\nrules = []",
        "[[word]]\nsays = ['blip']\nrules = [{ becomes = 'unit:inch' }]",
        "[[word]]\nsays = ['blip']\nrules = [{ becomes = 'unit:inch', why = 'because', behind = ['UNIT'] }]",
        "[[word]]\nsays = ['blip']\nrules = [{ becomes = 'blip:inch', why = 'because' }]",
    ],
)
def test_a_broken_doubtful_word_is_refused(vocabulary_of: Callable[[str, str], object], text: str) -> None:
    with pytest.raises(ValueError):
        vocabulary_of("doubtful.toml", text)


def test_a_new_synonym_is_one_line(vocabulary_of: Callable[[str, str], object]) -> None:
    made = vocabulary_of("zz_more.toml", 'plurals = true\n[ground]\nzzterrace = ["zzterrace"]')
    assert made.single["zzterrace"].id == made.single["zzterraces"].id == "zzterrace"  # type: ignore[attr-defined]


def test_kinds_are_known() -> None:
    assert {kind for _, kind, _, _, _ in ENTRIES} <= KINDS
