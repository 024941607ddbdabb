"""The vocabulary: every word the reader knows, held as data and looked up whole.

The TOML files under `vocabulary/` say which spellings stand for which word; a table is a kind of word,
its key the word's name and its list the spellings, the first of which is the one printed. A spelling
belongs to one word: two claims to it are refused at load, as are empty spellings and unknown kinds.
Words that do have several meanings are declared as such in `doubtful.toml`, with what decides.

All of this is checked and put together once, and kept as a table (`tables`) for the next start.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache
from itertools import pairwise
from typing import NamedTuple

from pydantic import BaseModel, ConfigDict, Field

from .scan import spelling
from .tables import Plain, Table, package_file

#: Kinds of word that the grammar itself names, and the terminal of each. Every other kind reaches the
#: grammar as WORD, a phrase of its own.
TERMINALS = {
    "unit": "UNIT",
    "unclear-unit": "UNIT",
    "loose-measure": "LOOSE",
    "percent": "PERCENT",
    "ones": "ONES",
    "teen": "TEEN",
    "tens": "TENS",
    "hundred": "HUNDRED",
    "thousand": "THOUSAND",
    "dozen": "DOZEN",
    "couple": "COUPLE",
    "half": "HALF",
    "part-word": "PART_WORD",
    "zero": "ZERO",
    "one": "ONE",
    "plus": "PLUS",
    "plus-whole": "PLUS_WHOLE",
    "point": "POINT",
    "join": "OF_A",
    "times": "TIMES",
    "range": "TO",
    "ratio": "RATIO",
    "per": "PER",
    "is": "IS",
    "class-sign": "CLASS",
    "role": "ROLE",
    "currency": "MONEY",
    "parts": "PARTS",
    "stop": "STOP",
    "filler": "FILLER",
    "article": "FILLER",
}

KINDS = frozenset(TERMINALS) | {
    "about", "limit", "ground", "container", "hole", "pack", "plant", "component", "mix", "seed-mix", "castings",
    "way", "hint", "form", "ask", "link", "deny", "topic", "other-thing", "label-word", "other-time", "other-person",
    "other-goods", "other-land", "month-name", "week-day", "clock", "reply", "other-share", "weak-topic", "ordinal", "other-material", "by-so-much", "label", "letter", "counter",
}  # fmt: skip


#: How the meaning of a term is asked for.
_MEANING = (
    "what is {}", "what is a {}", "what is an {}", "what is the {}", "what's {}", "what's a {}", "what's an {}", "what's the {}", "whats {}",
    "whats a {}", "whats an {}", "whats the {}", "what are {}", "what does {} mean", "what does a {} mean", "what do you mean by {}",
    "what is meant by {}", "meaning of {}", "{} meaning", "define {}", "explain {}", "explain the word {}",
)  # fmt: skip


class VocabularyError(ValueError):
    """The vocabulary contradicts itself or the form it must have; the text names file, table and entry."""


class Word(NamedTuple):
    """One word of the vocabulary: its kind, its name, the terminal it gives and its printed spelling."""

    kind: str
    id: str
    terminal: str
    printed: str


class Rule(BaseModel):
    """One meaning of a doubtful word, and the neighbours that decide for it."""

    model_config = ConfigDict(extra="forbid", frozen=True, defer_build=True)

    becomes: str
    after: tuple[str, ...] = ()
    before: tuple[str, ...] = ()
    why: str = Field(min_length=3)


class Doubtful(BaseModel):
    """A word with several meanings."""

    model_config = ConfigDict(extra="forbid", frozen=True, defer_build=True)

    says: tuple[str, ...] = Field(min_length=1)
    rules: tuple[Rule, ...] = Field(min_length=1)


class _DoubtfulFile(BaseModel):
    model_config = ConfigDict(extra="forbid", defer_build=True)
    word: list[Doubtful]


class Choice(NamedTuple):
    """A doubtful word as the tokens stage uses it."""

    rules: tuple[tuple[Word, frozenset[str], frozenset[str]], ...]
    #: every meaning it may take, for a neighbour that looks at it before it is decided
    kinds: frozenset[str]
    terminals: frozenset[str]


class Vocabulary(NamedTuple):
    """All words by their spelling, and the longer spellings by their first piece."""

    single: dict[str, Word | Choice]
    longer: dict[str, list[tuple[tuple[str, ...], Word | Choice]]]
    #: the same by their first two pieces, so that few have to be tried
    following: dict[str, dict[str, list[tuple[tuple[str, ...], Word | Choice]]]]
    #: every single piece that stands in some spelling, with the kinds of word it helps to spell
    parts: dict[str, frozenset[str]]
    #: pieces that stand side by side in some spelling
    pairs: frozenset[tuple[str, str]]


def plural(word: str) -> str:
    """The regular English plural of a word."""
    if word.endswith(("s", "x", "z", "ch", "sh", "o")):
        return word + "es"
    if word.endswith("y") and word[-2:-1] not in "aeiou":
        return word[:-1] + "ies"
    return word + "s"


def make_word(kind: str, name: str, printed: str) -> Word:
    """The word of a kind and name; raises VocabularyError for a kind the reader does not know."""
    if kind not in KINDS:
        raise VocabularyError(f"no kind of word is called {kind!r} (word {name!r})")
    return Word(kind, name, TERMINALS.get(kind, "WORD"), printed)


def _entries() -> Iterator[tuple[str, str, str, list[str], bool]]:
    """Every entry of the word files: file, kind, name, spellings, whether plurals are made."""
    import tomllib

    folder = package_file("vocabulary")
    for source in sorted(folder.iterdir(), key=lambda item: item.name):
        if not source.name.endswith(".toml") or source.name in ("doubtful.toml", "preferences.toml"):
            continue
        tables = tomllib.loads(source.read_text(encoding="utf-8"))
        plurals = tables.pop("plurals", None)
        if not isinstance(plurals, bool):
            raise VocabularyError(f"{source.name}: say plurals = true or plurals = false at the top")
        for kind, table in tables.items():
            for name, says in table.items():
                if not isinstance(says, list) or not says or not all(isinstance(one, str) and one for one in says):
                    raise VocabularyError(f"{source.name}, {kind}.{name}: a list of spellings is needed")
                yield source.name, kind, name, says, plurals


def _claim(known: dict[tuple[str, ...], tuple[Word | Choice, str]], says: str, word: Word | Choice, where: str,
           *, made: bool = False) -> None:  # fmt: skip
    key = spelling(says)
    if not key:
        raise VocabularyError(f"{where}: {says!r} is no spelling")
    if key in known and known[key][0] != word:
        if made:
            return  # a plural made by rule gives way to a spelling that is written down
        raise VocabularyError(f"{where}: {says!r} is already claimed by {known[key][1]}")
    known[key] = (word, where)


def put_together() -> Vocabulary:
    """The vocabulary from its files, checked. Raises VocabularyError where two entries claim one spelling."""
    known: dict[tuple[str, ...], tuple[Word | Choice, str]] = {}
    plurals: list[tuple[str, Word, str]] = []
    words: dict[tuple[str, str], Word] = {}
    terms: list[tuple[str, str, list[str]]] = []
    abouts: dict[str, str] = {}
    for source, kind, name, says, with_plurals in _entries():
        if kind == "term":
            terms.append((source, name, says))
            continue
        if kind == "asked-about":
            abouts[name] = says[0]
            continue
        about = abouts.get(name, name.replace("-", " "))
        word = words.setdefault((kind, name), make_word(kind, name, about if kind == "topic" else says[0]))
        where = f"{source}, {kind}.{name}"
        if kind == "topic":
            # how a reading names a question in words, so that the reading can itself be read
            for said in (about, name.replace("-", " ")):
                _claim(known, f"question about {said}", word, where)
        for one in says:
            _claim(known, one, word, where)
            if with_plurals and len(one) > 2 and one[-1].isalpha():
                plurals.append((plural(one), word, where))
    for several in _doubtful():
        rules = []
        for rule in several.rules:
            kind, _, name = rule.becomes.partition(":")
            word = words.get((kind, name)) or make_word(kind, name, name)
            rules.append((word, frozenset(rule.after), frozenset(rule.before)))
        choice = Choice(
            tuple(rules), frozenset(word.kind for word, _, _ in rules), frozenset(word.terminal for word, _, _ in rules)
        )
        for spelt in several.says:
            _claim(known, spelt, choice, f"doubtful.toml, {several.says[0]!r}")
    for source, name, says in terms:
        # a question in words that the reader takes as it takes a topic
        about = abouts.get(name, name.replace("-", " "))
        word = words.get(("topic", name)) or make_word("topic", name, about)
        for spelt in (*(form.format(one) for one in says for form in _MEANING), *(f"question about {said}" for said in (about, name.replace("-", " ")))):
            _claim(known, spelt, word, f"{source}, term.{name}", made=True)
    written = dict(known)
    for spelt, word, where in plurals:
        _claim(known, spelt, word, where, made=True)
    single: dict[str, Word | Choice] = {}
    longer: dict[str, list[tuple[tuple[str, ...], Word | Choice]]] = {}
    parts: dict[str, set[str]] = {}
    pairs: set[tuple[str, str]] = set()
    for key, (meaning, _) in known.items():
        pairs.update(pairwise(key))
        if len(key) == 1:
            single[key[0]] = meaning
        else:
            longer.setdefault(key[0], []).append((key, meaning))
            if key in written or not _kinds(meaning) & _MEASURED:
                for part in key:
                    parts.setdefault(part, set()).update(_kinds(meaning))
    for alone, meaning in single.items():
        parts[alone] = set(_kinds(meaning))  # what a word means alone outweighs the phrases it helps to spell
    for listed in longer.values():
        listed.sort(key=lambda pair: -len(pair[0]))
    return Vocabulary(single, longer, _by_second(longer), {part: frozenset(kinds) for part, kinds in parts.items()}, frozenset(pairs))


def _by_second(
    longer: dict[str, list[tuple[tuple[str, ...], Word | Choice]]],
) -> dict[str, dict[str, list[tuple[tuple[str, ...], Word | Choice]]]]:
    found: dict[str, dict[str, list[tuple[tuple[str, ...], Word | Choice]]]] = {}
    for first, listed in longer.items():
        below = found[first] = {}
        for one in listed:
            below.setdefault(one[0][1], []).append(one)
    return found


#: Kinds whose plurals, made by rule, are no help in mending a slip ("dries" of "quart dry").
_MEASURED = frozenset({"unit", "unclear-unit"})


def _kinds(meaning: Word | Choice) -> frozenset[str]:
    return meaning.kinds if isinstance(meaning, Choice) else frozenset({meaning.kind})


def _doubtful() -> list[Doubtful]:
    import tomllib

    text = package_file("vocabulary", "doubtful.toml").read_text(encoding="utf-8")
    return _DoubtfulFile.model_validate(tomllib.loads(text)).word


# ---- the vocabulary as a table ------------------------------------------------------------------------------


def _to_plain() -> Plain:
    """The vocabulary as plain data, in which a meaning is its number in the lists of words and of choices."""
    made = put_together()
    words: dict[Word, int] = {}
    choices: dict[Choice, int] = {}
    kinds: dict[frozenset[str], int] = {}

    def number(meaning: Word | Choice) -> int:
        if isinstance(meaning, Word):
            return words.setdefault(meaning, len(words))
        return -1 - choices.setdefault(meaning, len(choices))

    single = {text: number(meaning) for text, meaning in made.single.items()}
    longer = {first: [(key, number(meaning)) for key, meaning in listed] for first, listed in made.longer.items()}
    parts = {part: kinds.setdefault(found, len(kinds)) for part, found in made.parts.items()}
    doubtful = [[(number(word), after, before) for word, after, before in choice.rules] for choice in choices]
    return [tuple(word) for word in words], doubtful, single, longer, list(kinds), parts, made.pairs


def _from_plain(plain: Plain) -> Vocabulary:
    listed, doubtful, single, longer, kinds, parts, pairs = plain
    words = [Word(*one) for one in listed]
    meanings: dict[int, Word | Choice] = dict(enumerate(words))
    for at, rules in enumerate(doubtful):
        found = tuple((words[number], after, before) for number, after, before in rules)
        meanings[-1 - at] = Choice(
            found, frozenset(word.kind for word, _, _ in found), frozenset(word.terminal for word, _, _ in found)
        )
    longer = {first: [(key, meanings[number]) for key, number in keys] for first, keys in longer.items()}
    return Vocabulary(
        {text: meanings[number] for text, number in single.items()},
        longer,
        _by_second(longer),
        {part: kinds[number] for part, number in parts.items()},
        pairs,
    )


WORDS = Table("words", ("vocabulary/", "words.py", "scan.py"), (), _to_plain)


@lru_cache(maxsize=1)
def vocabulary() -> Vocabulary:
    """The whole vocabulary. Raises VocabularyError where two entries claim one spelling."""
    return _from_plain(WORDS.load())


def is_spelling(kind: str, name: str, text: str) -> bool:
    """Whether a text is, letter for letter, a spelling of a word: no slip, and nothing more."""
    known = vocabulary()
    key = spelling(text)
    if not key:
        return False
    meaning = known.single.get(key[0]) if len(key) == 1 else dict(known.longer.get(key[0], ())).get(key)
    return isinstance(meaning, Word) and (meaning.kind, meaning.id) == (kind, name)


def called(name: str, text: str) -> str:
    """What one plant was called, where its entry goes by another name: "monstera" of "monsteras"; empty for the entry's own name."""
    one = text.lower()
    for ending, whole in (("ies", "y"), ("es", ""), ("s", "")):
        shorter = one[: -len(ending)] + whole
        if one.endswith(ending) and is_spelling("plant", name, shorter):
            one = shorter
            break
    return one if one != spoken("plant", name) and is_spelling("plant", name, one) else ""


def known(kind: str) -> frozenset[Word]:
    """Every word of a kind."""
    words = vocabulary()
    every = [*words.single.values(), *(word for listed in words.longer.values() for _, word in listed)]
    return frozenset(word for word in every if isinstance(word, Word) and word.kind == kind)


@lru_cache(maxsize=1)
def _printed() -> dict[tuple[str, str], str]:
    """The printed spelling of every word, by its kind and name."""
    words = vocabulary()
    every = [*words.single.values(), *(word for listed in words.longer.values() for _, word in listed)]
    return {(word.kind, word.id): word.printed for word in every if isinstance(word, Word)}


def spoken(kind: str, name: str) -> str:
    """The printed spelling of a word. Raises KeyError where there is none of that kind and name."""
    return _printed()[kind, name]
