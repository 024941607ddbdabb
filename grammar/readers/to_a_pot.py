"""How many vessels so many plants take: "36 plants, 3 to a pot" stand in 12 pots.

Only where a mix is made up: what each plant gets beside its stem is of the plants, and no pot is counted then.
"""

from __future__ import annotations

import re

from ..draft import Draft
from ..later import later
from ..phrases import Amount, Measure, Number, Phrase, Said, Share
from ..said import Waits, dimension, is_said, single
from ..things import ask, whole

#: Several plants, and what they stand in.
SHARED: Waits = (frozenset({Number}), frozenset({"plant"}), frozenset({"container"}))
#: Between how many and the vessel: "3 to a pot", "4 per pot", "5 in each basket", "two plants in each 20 litre tub".
_TO_A = later(r"\s*(?:of them |plants? |seedlings? )?(?:to|per|in|into|for)?\s*(?:a|an|each|every|one|per)\b[\w\s.-]*$", re.IGNORECASE)
#: What may as well be one vessel of its own: "2 in a 20 L tub".
_IN_ONE = later(r"\b(?:in|into|for|to one)\s+(?:a|an|one)\b", re.IGNORECASE)
_ANY = ("plant", "seed", "shrub", "tree")


def find_shared_pots(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """The phrases with as many vessels as the plants take, in the stead of the plants and of how many go into one."""
    if any(is_said(p, "link", "each") and type(single(phrases[at - 1])) is Measure for at, p in enumerate(phrases) if at):
        return phrases
    told = [(few, first, end, noun) for at in range(len(phrases)) if (found := _to_a(phrases, at, draft)) for few, first, end, noun in [found]]
    plants = [
        at for at in range(len(phrases) - 1)
        if whole(phrases[at]) and is_said(phrases[at + 1], "plant") and not any(first <= at < end for _, first, end, _ in told)
    ]  # fmt: skip
    if len(told) != 1 or len(plants) != 1:
        return phrases
    few, first, end, noun = told[0]
    between = [p for p in phrases[first:end] if is_said(p, "plant")]
    after = draft.text[phrases[plants[0] + 1].end : phrases[first].start].strip()
    if any(p.id not in (*_ANY, phrases[plants[0] + 1].id) for p in between) or (  # type: ignore[union-attr]
        _IN_ONE.search(draft.text[phrases[first].start : noun.start]) and (between or plants[0] > first or after not in ("", ",", "with", "("))
    ):  # fmt: skip
        return phrases  # "8 tomatoes in the bed and 2 in a 20 L tub"
    many = whole(phrases[plants[0]])
    vessels = many / few
    plant = phrases[plants[0] + 1]
    assert isinstance(plant, Said)
    said = f"{draft.text[phrases[plants[0]].start : plant.end]}, {draft.text[phrases[first].start : phrases[end - 1].end]}"
    if few >= many or vessels != int(vessels):
        ask(draft, f"“{said}”: how many {noun.text.lower().rstrip('s')}s are there?")
        return phrases
    used = {*range(first, end), plants[0], plants[0] + 1}
    counted = next((at for at, p in enumerate(phrases) if at not in used and whole(p) and _vessel_after(phrases, at, noun)), -1)
    if counted >= 0:
        if whole(phrases[counted]) != vessels:
            ask(draft, f"“{said}”: that is {vessels:g}, and {whole(phrases[counted]):g} are told; how many are there?")
            return phrases
        return [p for at, p in enumerate(phrases) if at not in used]
    draft.flags.append(("to-a-pot", f"“{said}”: {vessels:g} of them"))
    place = phrases[plants[0]].start
    count = Amount((Number(vessels, vessels, place, place),), place, place)
    held = Said("container", noun.id, noun.text if noun.text.lower().endswith("s") else noun.text + "s", plant.end, plant.end)
    made: list[Phrase] = []
    for at, phrase in enumerate(phrases):
        if at == plants[0]:
            made += [count, *([] if plant.id in _ANY else [plant]), held]
        if at not in used or (first <= at < end and type(single(phrase)) is Measure):
            made.append(phrase)
            if first <= at < end and type(single(phrase)) is Measure:
                made.append(noun)  # "in each 20 litre tub" tells how much one holds
    return made


def _to_a(phrases: list[Phrase], at: int, draft: Draft) -> tuple[float, int, int, Said] | None:
    """So many to one vessel, from where to where it is told, and the vessel's noun."""
    few = whole(phrases[at])
    if not few or few > 50:
        return None
    end = at + 1
    while end < len(phrases) and end < at + 6 and not is_said(phrases[end], "container"):
        phrase = phrases[end]
        one = single(phrase)
        held = type(one) is Measure and one.per is None and dimension(one) == "volume"
        if not (held or is_said(phrase, "link", "into", "each", "for") or is_said(phrase, "per") or is_said(phrase, "plant") or is_said(phrase, "hint") or is_said(phrase, "form")):
            return None
        end += 1
    noun = phrases[end] if end < len(phrases) else None
    if not isinstance(noun, Said) or noun.kind != "container" or noun.text.lower().endswith("s"):
        return None
    between = draft.text[phrases[at].end : noun.start]
    if not _TO_A.match(between) or type(phrases[at]) is not Amount:
        return None
    return few, at, end + 1, noun


def _vessel_after(phrases: list[Phrase], at: int, noun: Said) -> bool:
    """Whether a number counts vessels of that noun: "12 pots of 7 litres", "12 7 litre pots"."""
    following = phrases[at + 1 : at + 4]
    return any(is_said(p, "container", noun.id) for p in following if not is_said(p, "stop")) and not any(type(p) is Share for p in following[:1])
