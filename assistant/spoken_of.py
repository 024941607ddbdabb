"""Which places of a conversation a follow-up speaks of: one resolver for every kind of name.

A place is known by its noun, its kind ("the tubs"), what grows in it, its letter or number, the words said before
its noun ("the north bed"), its size ("the 4x8") and where it stands in the row ("the second", "the last").
"""

from __future__ import annotations

from collections.abc import Collection, Sequence

from grammar.draft import Draft, PlaceDraft
from grammar.gathering.state import TREES
from grammar.naming import ORDINAL
from grammar.quantities import Span

#: Nouns that may stand for another of their kind: "12 bushes" for blueberries.
GENERIC = ("plant", "bed", "plot", "pot", "tree", "shrub")
#: What plants are called by whatever they are; "lilacs" are shrubs, and no other name for the roses.
_ANY_PLANT = frozenset({
    "plant", "tree", "shrub", "bush", "hedge", "bulb", "flower", "fruit", "perennial", "annual", "houseplant", "house", "indoor", "potted", "shade", "street", "young", "orchard", "seedling",
    "start", "cane", "vine", "sapling", "cutting", "old", "small", "big", "little", "new",
})  # fmt: skip
_LAWN = "lawn"
_OTHER = ORDINAL + "0"


def is_named(new: PlaceDraft) -> bool:
    """Whether a place is spoken of by more than its noun."""
    return bool(new.name or new.described)


def is_bare(new: PlaceDraft) -> bool:
    """Whether nothing is said of a place but which one it is."""
    return new.is_empty and not (new.volume or new.rate or new.portion or new.spacing or new.clear or new.outer)


def is_plural(new: PlaceDraft) -> bool:
    """Whether several are spoken of: "the beds"."""
    return new.printed.endswith("s") and not new.printed.endswith("ss")


def is_another_kind(place: PlaceDraft, new: PlaceDraft) -> bool:
    """Whether two places can never be one and the same: a lawn is no bed."""
    return bool(place.noun) and bool(new.noun) and place.noun != new.noun and _LAWN in (place.noun, new.noun)


def spoken_of(
    new: PlaceDraft, places: Sequence[PlaceDraft], touched: Collection[int] = (), *, to_the_word: bool = False
) -> list[int]:
    """The places that fit everything said of `new`, by their index; none where a name fits no place.

    `touched` are the places that the turn before spoke of, for "the other one". `to_the_word` says that a noun of
    several words, as "herb bed", is not "salad bed" nor any other bed, and a bed is no lawn.
    """
    pool = _of_noun(new, places, to_the_word)
    if new.has_size and is_named(new) is False:
        return pool
    words = {word for word in new.described if not word.startswith(ORDINAL)}
    if new.name:
        pool = _lettered(new, pool, places)
    printed = [at for at in pool if " " in new.printed and _singular(places[at].printed) == _singular(new.printed)]
    pool = printed or ([] if to_the_word and " " in new.printed else pool)
    if new.crop and new.kind != "plant":
        grown = [at for at in pool if new.crop in (places[at].crop, places[at].noun)]
        unsaid = [at for at in pool if not places[at].crop]
        pool = grown or (unsaid if len(unsaid) == 1 and len(pool) == 1 else [])
    if words:
        pool = _called(words, pool, places)
    for ordinal in sorted(word for word in new.described if word.startswith(ORDINAL)):
        pool = _in_row(ordinal, pool, places, touched)
    return pool


def _singular(printed: str) -> str:
    return printed[:-2] if printed.endswith("xes") else printed[:-1] if printed.endswith("s") else printed


def head_of(place: PlaceDraft) -> str:
    """What a place is called, without the words that only describe it: "box" of "window boxes"."""
    last = place.printed.lower().split()[-1:] or [""]
    return last[0].removesuffix("es") if last[0].endswith(("xes", "ches")) else last[0].removesuffix("s")


def _sorts(place: PlaceDraft) -> set[str]:
    """The words that tell a plant from others; none where it is called by what any may be called."""
    words = {word[:-3] + "y" if word.endswith("ies") else word[:-2] if word.endswith(("shes", "ches", "oes", "xes")) else word.removesuffix("s") for word in place.printed.lower().split()}
    return words - _ANY_PLANT


def is_another_sort(place: PlaceDraft, new: PlaceDraft) -> bool:
    """Whether so many plants are of another sort than those before, though one entry holds both: plums and pears."""
    if new.kind != "plant" or place.kind != "plant" or not new.count:
        return False
    one, other = _sorts(place), _sorts(new)
    return bool(one and other) and not any(a.startswith(b) or b.startswith(a) for a in one for b in other)


def _any_of_kind(place: PlaceDraft) -> bool:
    """Whether a place is called by a word that may stand for another of its kind: "bushes", but not "lilacs"."""
    return place.noun in GENERIC and not (place.kind == "plant" and _sorts(place))


def _of_noun(new: PlaceDraft, places: Sequence[PlaceDraft], to_the_word: bool) -> list[int]:
    """The places a noun may stand for: those that were called so before those of its kind."""
    if not new.noun:
        return list(range(len(places)))
    exact = [
        at for at, place in enumerate(places)
        if (place.noun == new.noun and not is_another_sort(place, new)) or (new.kind == "plant" and place.kind != "plant" and place.crop == new.noun) or (place.form == "ring" and new.noun in TREES)
        or (place.noun == "tree-ring" and new.noun in TREES)
        or (new.kind == "container" and new.printed and place.printed and _singular(place.printed).endswith(" " + _singular(new.printed)))
    ]  # fmt: skip
    if new.kind == "plant" and (told := _sorts(new)):
        exact = [at for at in exact if places[at].kind == "plant" and told & _sorts(places[at])] or exact  # "the plums", of plums and pears
    if new.kind == "container" and (called := [at for at, place in enumerate(places) if place.kind == "container" and head_of(place) == head_of(new)]):
        return called  # "the boxes" are the window boxes, and no tub
    # the rest of a list has no noun of its own: "beds 4x4, 4x6, 4x8"
    nameless = [at for at in range(1, len(places)) if new.kind == "ground" and _of_the_list(places, at, exact)]
    if exact or to_the_word:
        return sorted({*exact, *nameless})
    alike = [
        at for at, place in enumerate(places)
        if ({place.kind, new.kind} == {"plant", "hole"} and place.rate is not None)
        or (new.kind == place.kind and (_any_of_kind(new) or place.noun == "" or _any_of_kind(place)) and not is_another_kind(place, new))
    ]  # fmt: skip
    nameless = [at for at in range(1, len(places)) if new.kind == "ground" and _of_the_list(places, at, alike)]
    return sorted({*alike, *nameless})


def _of_the_list(places: Sequence[PlaceDraft], at: int, exact: list[int]) -> bool:
    """Whether a place without a noun is told in a list after one that has it."""
    while at > 0 and not places[at].noun and places[at].size:
        at -= 1
        if at in exact:
            return True
    return False


def _lettered(new: PlaceDraft, pool: list[int], places: Sequence[PlaceDraft]) -> list[int]:
    """By letter or number; a number fits an unlettered row of places by counting."""
    lettered = [at for at in pool if places[at].name == new.name]
    if lettered:
        return lettered
    if new.name.isdecimal() and not any(places[at].name for at in pool) and 1 <= int(new.name) <= len(pool):
        return [pool[int(new.name) - 1]]
    return []


def _called(words: set[str], pool: list[int], places: Sequence[PlaceDraft]) -> list[int]:
    """By the words said before the noun; a place that had none may be it where it is the only one."""
    shared = {at: len(words & (places[at].described | set(places[at].printed.split()[:-1]))) for at in pool}
    best = max(shared.values(), default=0)
    if best:
        return [at for at in pool if shared[at] == best]
    if len(pool) == 1 and not places[pool[0]].described and not places[pool[0]].name:
        return pool
    return []


def _in_row(ordinal: str, pool: list[int], places: Sequence[PlaceDraft], touched: Collection[int]) -> list[int]:
    """By where it stands: as it was called, else counted in the order they came."""
    if ordinal == _OTHER:
        rest = [at for at in pool if at not in touched]
        return rest if touched and len(rest) < len(pool) else pool
    called = [at for at in pool if ordinal in places[at].described]
    if called:
        return called
    number = int(ordinal.removeprefix(ORDINAL))
    index = number - 1 if number > 0 else len(pool) + number
    return [pool[index]] if len(pool) > 1 and 0 <= index < len(pool) else []


def by_size(new: PlaceDraft, places: Sequence[PlaceDraft]) -> list[int]:
    """The places of the very size that is said: "the 4x8 gets an inch"."""
    return [
        at for at, place in enumerate(places)
        if (new.size and len(place.size) == len(new.size) and all(map(_same, place.size, new.size)))
        or (new.area and place.area and _same(place.area, new.area)) or (new.volume and place.volume and _same(place.volume, new.volume))
        or (new.diameter and place.diameter and _same(place.diameter, new.diameter))
        or (new.nursery_class and place.nursery_class == new.nursery_class) or (new.cells and place.cells == new.cells)
    ]  # fmt: skip


def _same(one: Span, other: Span) -> bool:
    return one == other or (one.low == other.low and one.high == other.high)


def touched(before: Draft | None, now: Draft | None) -> list[int]:
    """The places that the last turn changed or brought in; none where it was about all of them."""
    if before is None or now is None or len(now.places) < 2:
        return []
    found = [at for at, place in enumerate(now.places) if at >= len(before.places) or place != before.places[at]]
    return found if len(found) < len(now.places) else []


#: The values of a place that a turn may change.
VALUES = ("count", "depth", "fill", "layer", "rate", "volume", "area", "diameter", "length", "share")


def last_changed(now: Draft, past: Sequence[Draft]) -> str:
    """The one value that the last turn that changed anything changed; empty where it changed none, or more than one.

    `past` are the drafts of the turns before, the last one first.
    """
    for earlier in past:
        if len(earlier.places) != len(now.places):
            return ""
        found = {name for was, one in zip(earlier.places, now.places, strict=True) for name in VALUES if getattr(was, name) != getattr(one, name)}
        if found:
            return found.pop() if len(found) == 1 else ""
        now = earlier
    return ""


def shown(place: PlaceDraft) -> str:
    """What a place is called, in words: "the north bed", "bed B", "the 4 by 8 ft bed"."""
    noun = place.printed or "place"
    if place.name:
        return f"{noun} {place.name}"
    words = sorted(word for word in place.described if not word.startswith(ORDINAL) and word not in noun.split())
    if words:
        return f"the {' '.join(words)} {noun}"
    if place.size:
        sides = " by ".join(f"{one.low:g}" for one in place.size)
        return f"the {sides} {noun}"
    return f"the {noun}"


def which(places: Sequence[PlaceDraft]) -> str:
    """The question that asks which place is meant."""
    called = [shown(place) for place in places]
    told = " or ".join(called) if len(set(called)) == len(called) and 1 < len(called) <= 4 else ""
    if told:
        return f"Which one is that: {told}? Say its name or its size, or “the second one”."
    return "Which place is that? Say its size again, or give it a name with “call it …”."
