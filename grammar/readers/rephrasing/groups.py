"""Groups of so many: "4 greenhouses x 3 beds each", "3 tables with 15 pots on each", "5 trays of 12 pots", "each of the 5 plots has two beds".

How many there are in all is worked out here, and said. Where "each" may speak of the size as well ("6 shelves with 20 pots of
half a litre each"), or nothing says whether so many are in every group, it is asked.
"""

from __future__ import annotations

from ...draft import Draft
from ...phrases import Amount, Measure, Number, Phrase, Said
from ...said import is_said, past_describing, single
from ...things import is_ground_size, whole

#: What holds groups and gets no castings itself.
_HOLDS = frozenset({"other-thing", "unknown", "label-word"})
_COUNTED = frozenset({"container", "ground", "plant", "hole"})
_SEVERAL = ("s", "people", "children", "men")


def find_groups(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """The phrases with so many of so many as one number."""
    for at in range(len(phrases) - 3):
        groups = whole(phrases[at])
        group = phrases[at + 1]
        if groups < 2 or type(group) is not Said or not (
            group.text.lower().endswith(_SEVERAL) or is_said(group, "other-thing", "person")
        ):  # fmt: skip
            continue
        if group.id == "cell" or (group.kind not in _HOLDS and group.kind not in ("ground", "container") and not is_said(group, "hint", "balcony")):
            continue
        told = _members(phrases, at, group)
        if told is None:
            continue
        first, many_at, end, sure, dropped = told
        many = whole(phrases[many_at])
        one = single(phrases[many_at])
        assert type(one) is Number
        said = draft.text[phrases[at].start : phrases[end - 1].end].strip()
        if not sure:
            noun = draft.text[phrases[many_at].start : phrases[end - 1].end].strip()
            draft.question = ("count", f"{noun} for each of the {groups:g} {group.text.lower()}, or in all? Say how many there are in all")
            return phrases
        total = groups * many
        draft.flags.append(("rows-of", f"{said}: {total:g} in all"))
        made = Amount((one._replace(low=total, high=total),), one.start, one.end)
        return [*phrases[:first], *[made if i == many_at else p for i, p in enumerate(phrases) if i >= many_at and i not in dropped]]
    return phrases


def _members(phrases: list[Phrase], at: int, group: Said) -> tuple[int, int, int, bool, set[int]] | None:
    """Where the group's words begin, where so many in it stand, where their noun ends, whether "each" is plain, and what falls away."""
    first = at - 1 if at and is_said(phrases[at - 1], "link", "each") else at
    here = at + 2
    times = is_said(phrases[here], "link", "count-x")
    each = first < at
    tie = is_said(phrases[here], "link", "with", "on-hand", "is", "of")
    comma = is_said(phrases[here], "stop", "comma")
    if not (times or tie or (comma and not each)):
        return None  # "2 cups in each of 8 pots, 12 pots still to do"
    of = is_said(phrases[here], "link", "of")
    if of and not (group.kind == "container" and group.id in ("tray", "tub", "box")):
        return None
    here += 1
    while here < len(phrases) and is_said(phrases[here], "link", "each", "with", "on-hand", "is"):
        each = each or is_said(phrases[here], "link", "each")
        here += 1
    many_at = here
    if here >= len(phrases) or not whole(phrases[here]):
        return None
    here += 1
    if here < len(phrases) and (is_ground_size(phrases[here]) or _is_size(phrases[here])):
        here += 1
    here = past_describing(phrases, here)
    while here + 1 < len(phrases) and is_said(phrases[here], "plant") and is_said(phrases[here + 1], "container"):
        here += 1  # "3 tomato pots"
    noun = phrases[here] if here < len(phrases) else None
    if type(noun) is not Said or noun.kind not in _COUNTED or noun.id in ("cell", group.id) or (group.kind == "ground" and noun.kind == "plant"):
        return None  # cells of trays and plants of rows are read with what they stand in; "8 pots, 12 pots" are one beside the other
    end = here + 1
    if times or (of and noun.kind == "container") or each:
        return first, many_at, end, True, set()
    each_at = _each_after(phrases, end)
    if each_at >= 0:
        after = phrases[each_at + 1] if each_at + 1 < len(phrases) else None
        words = phrases[each_at].text.lower()  # type: ignore[union-attr]
        inside = words.startswith(("in ", "on ")) or is_said(phrases[each_at - 1], "link", "on", "into")
        plain = inside or (each_at == end and not (type(after) is Amount and not whole(after)))
        gone = {each_at} | ({each_at - 1} if is_said(phrases[each_at - 1], "link", "on", "into") else set())
        if plain:
            return first, many_at, end, True, gone
        return (first, many_at, end, False, set()) if group.kind in _HOLDS or is_said(group, "hint") else None
    return (first, many_at, end, False, set()) if is_said(group, "other-thing", "house-thing") and tie and noun.kind != "plant" else None


def _each_after(phrases: list[Phrase], at: int) -> int:
    """Where "each" stands after the noun and its size, or -1."""
    while at < len(phrases) and (is_said(phrases[at], "link", "of", "on", "into", "at") or _is_size(phrases[at]) or is_ground_size(phrases[at]) or is_said(phrases[at], "form")):
        at += 1
    return at if at < len(phrases) and is_said(phrases[at], "link", "each") else -1


def _is_size(phrase: Phrase) -> bool:
    one = single(phrase)
    return type(one) is Measure and one.per is None
