"""Words that point at a place without its noun, put so that every reader knows which is meant.

"leave out the front" is said of the front lawn, "the smaller one" of the smaller of two beds, "one is only 8 inches
deep" of one of several.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from grammar.draft import PlaceDraft
from grammar.naming import ORDINAL
from grammar.reads import many_of
from grammar.words import Word, plural, vocabulary

_NOUNS = ("ground", "container", "plant", "hole", "mix")
_COMPARED = re.compile(
    r"\b(the|my|that|this)\s+(small|smaller|smallest|little|big|bigger|biggest|large|larger|largest|middle|short|shorter|shortest|long|longer|longest)(?:\s+(?:one|bed|plot|pot|tub|row|lawn|border))?\b(?!\s*(?:of|bit|part|half|layer|amount|bag|pack)\b)",
    re.IGNORECASE,
)  # fmt: skip
#: The same at the head of a line, without "the".
_WITHOUT_THE = re.compile(r"^(\W*(?:(?:and|but|ok|so|then|oh)\W+)*)((?:small|smaller|smallest|little|big|bigger|biggest|large|larger|largest|short|shorter|shortest|long|longer|longest)\s+(?:one|bed|plot|pot|tub|row|lawn|border)\b)", re.IGNORECASE)
_SMALL = frozenset({"small", "smaller", "smallest", "little", "short", "shorter", "shortest"})
_BY_LENGTH = ("short", "long")
_IN_ROW = ("first", "second", "third", "fourth", "fifth")
#: "the third one is only 30 cm deep", of three alike.
_NTH_OF_THEM = re.compile(
    r"^(\W*(?:(?:and|but|only|oh|ok|also|except)\W+)*)the (first|second|third|fourth|fifth|last)(?: (?:one|bed|pot|tub|row|lawn|plot|planter|box|basket))?\s+(?=(?:is|was|has|gets?|at|with|needs?|should|only)\b)",
    re.IGNORECASE)
_UNITS = r"(?:inch(?:es)?|in|cm|ft|foot|feet|gal(?:lons?)?|l|lit(?:er|re)s?|quarts?|qts?)"
#: "another 15 at 8 inch": of the same things as before, in another size.
_ANOTHER = re.compile(rf"\banother (\d+|\w+)(?:,? (?:at|of|in|that are|which are))? (\d[\d/. ]*[ -]?{_UNITS})\b\W*$", re.IGNORECASE)
#: "the 10 inch ones": told by their size.
_SIZED = re.compile(rf"\b(the|those|my) (\d[\d/.]*[ -]?{_UNITS}) ones?\b", re.IGNORECASE)
#: Places called by a number alone: "the 8s".
NUMBERED = re.compile(r"\bthe (\d+)['’]?s\b", re.IGNORECASE)
#: One of several called by the figure of its size alone: "leave out the 800".
_BY_FIGURE = re.compile(r"\b(the|that|my) (\d+)(?: one)?(?=\W*$|\s+(?:gets?|is|at|needs?|wants?|to)\b)", re.IGNORECASE)
_TRAYS = re.compile(r"\b(the|those|my) (\d+) (trays?)\b", re.IGNORECASE)
_SOME = re.compile(r"^(\W*(?:(?:and|but|only|oh|ok|also|except)\W+)*)(one|two|three|four)\s+(?=(?:is|are|was|were|has|have|gets?|at|with|needs?|should)\b)", re.IGNORECASE)


def pointed(line: str, places: Sequence[PlaceDraft]) -> str:
    """A line with each place it points at called by a name; as it is where nothing tells which one it is."""
    noun = next((place.printed for place in reversed(places) if place.kind == "container" and place.printed), "")
    if noun:
        many = noun if noun.endswith("s") else plural(noun)
        line = _SIZED.sub(lambda found: f"{found[1]} {found[2]} {many}", _ANOTHER.sub(lambda found: f"another {found[1]} {found[2]} {many}", line))
    if len(places) == 1:
        count = places[0].count or 1
        nth = _NTH_OF_THEM.search(line)
        if nth is not None and count > 1 and (nth[2].lower() == "last" or _IN_ROW.index(nth[2].lower()) < count):
            return f"{nth[1]}one of them {line[nth.end() :]}"
        return _SOME.sub(lambda found: f"{found[1]}{found[2]} of them ", line, count=1) if count > 1 else line
    return _by_comparing(_by_its_word(line, places), places)


def by_number(line: str, places: Sequence[PlaceDraft]) -> str:
    """ "the 8s", of pots 8 inches wide, as "the 8 inch pots"; as it is where none is of that size."""
    def told(found: re.Match[str]) -> str:
        for place in places:
            if place.cells == int(found[1]):
                return f"the {found[1]} cell trays"
            size = place.diameter or place.volume
            if size is not None and size.low == size.high == float(found[1]) and place.printed:
                return f"the {found[1]} {size.unit.replace('_', ' ').removeprefix('us ')} {place.printed}"
        return found[0]

    if (trays := _TRAYS.search(line)) is not None and any(place.cells == int(trays[2]) for place in places):
        line = f"{line[: trays.start()]}{trays[1]} {trays[2]} cell {line[trays.start(3) :]}"  # "the 128 trays", of trays of 128 cells
    return _BY_FIGURE.sub(lambda found: _the_one_of(found, places), NUMBERED.sub(told, line))


def _the_one_of(found: re.Match[str], places: Sequence[PlaceDraft]) -> str:
    """ "the 800" of lawns of 500, 800 and 1200 square feet, as "the 800 square feet one"; as it is where none or several are of that size."""
    value = float(found[2])
    units = {span.unit for place in places for span in (place.area, place.volume) if span is not None and span.low == span.high == value}
    if len(units) != 1 or len(places) < 2 or any(place.count == value for place in places):
        return found[0]
    return f"{found[1]} {found[2]} {many_of(units.pop())} one"


def unresolved(line: str, places: Sequence[PlaceDraft]) -> bool:
    """Whether a line, once `pointed`, still speaks of a place by its size or as "the other", and nothing tells which one that is."""
    found = _COMPARED.search(line)
    several = len(places) > 1 or bool(places and (places[0].count or 1) > 1)
    return found is not None and several and not any(found[2].lower() in place.described for place in places)


def _by_its_word(line: str, places: Sequence[PlaceDraft]) -> str:
    """ "the front" of a front and a back lawn, as "the front one"."""
    words = {word for place in places for word in place.described if not word.startswith(ORDINAL)}
    for word in sorted(words):
        alone = re.compile(rf"(?<!in )(?<!at )(?<!on )\b(the|my|our)\s+{re.escape(word)}\b(?!\s*(?:-|ones?\b))", re.IGNORECASE)
        found = alone.search(line)
        if found is not None and not _before_a_noun(line[found.end() :]):
            line = f"{line[: found.end()]} one{line[found.end() :]}"
    return line


def _before_a_noun(right: str) -> bool:
    """Whether the noun follows: "front" of "the front lawn"."""
    following = re.match(r"\s+([a-z'-]+)(?:\s+([a-z'-]+))?", right.lower())
    if following is None:
        return False
    return any(isinstance(one := vocabulary().single.get(word), Word) and one.kind in _NOUNS for word in following.groups() if word)


def _by_comparing(line: str, places: Sequence[PlaceDraft]) -> str:
    """ "the smaller one" of two beds, as "the second one"; so is "little bed only 8 inches"."""
    line = _WITHOUT_THE.sub(lambda found: f"{found[1]}the {found[2]}", line)
    found = _COMPARED.search(line)
    if found is None or not 2 <= len(places) <= len(_IN_ROW) or any(found[2].lower() in place.described for place in places):
        return line
    at = compared(found[2], places)
    return line if at is None else _put(line, found, at)


def compared(word: str, places: Sequence[PlaceDraft]) -> int | None:
    """Which of several places is "the small", "the biggest", "the middle" one; None where nothing tells."""
    word = word.lower()
    if word == "middle":
        return 1 if len(places) == 3 else None
    unit = next((side.unit for place in places for side in place.size if side.unit), "foot")
    sizes = [_longest(place, unit) if word.startswith(_BY_LENGTH) else _size(place, unit) for place in places]
    if len(places) < 2 or any(size is None for size in sizes) or len({size[0] for size in sizes if size}) != 1:
        return None
    told = sorted((size[1], at) for at, size in enumerate(sizes) if size)
    first, second = (told[0], told[1]) if word in _SMALL else (told[-1], told[-2])
    if abs(first[0] - second[0]) <= 1e-9 * abs(first[0]) or (len(places) > 2 and not word.endswith("est")):
        return None
    return first[1]


def _put(line: str, found: re.Match[str], at: int) -> str:
    return f"{line[: found.start()]}the {_IN_ROW[at]} one{line[found.end() :]}"


def _longest(place: PlaceDraft, unit: str) -> tuple[str, float] | None:
    """How long a place is, its sides in `unit` where none was said; None where it has no sides."""
    sides = [side if side.unit else side._replace(unit=unit) for side in (*place.size[:2], *([place.length] if place.length is not None else []))]
    return ("long", max(side.base[1] for side in sides)) if sides else None


def _size(place: PlaceDraft, unit: str) -> tuple[str, float] | None:
    """How big a place is, its sides in `unit` where none was said, and what that is a measure of; None where it is not told by one of its usual sizes."""
    if place.volume is not None:
        return "volume", place.volume.base[1]
    if place.area is not None:
        return "area", place.area.base[1]
    if len(place.size) >= 2:
        one, other = (side if side.unit else side._replace(unit=unit) for side in place.size[:2])
        return "area", one.base[1] * other.base[1]
    if place.diameter is not None:
        return "across", place.diameter.base[1]
    return None
