"""How things are counted over a counter: "12 of", "4 six-packs of lettuce", "half pallet: 30 bags", "one bag, it's 8 quarts"."""

from __future__ import annotations

from ...draft import Draft
from ...phrases import Amount, Measure, Number, Phrase, Said
from ...said import Waits, dimension, is_said, single, words_of
from ...things import whole

TRAILING_OF: Waits = (frozenset({("link", "of")}), frozenset({Number}))
PACKED: Waits = (frozenset({"pack"}), frozenset({Number}))
#: So many plants are sold in one pack.
_TO_A_PACK = (3, 4, 6, 8, 9, 10, 12)


def find_trailing_of(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """ "tray 10 x 20 in, 12 of, …": twelve of them."""
    made = list(phrases)
    for at in range(1, len(phrases)):
        after = phrases[at + 1] if at + 1 < len(phrases) else None
        alone = at == 1 or is_said(phrases[at - 2], "stop")
        if is_said(phrases[at], "link", "of") and whole(phrases[at - 1]) and alone and (after is None or is_said(after, "stop")):
            made[at] = Said("link", "count-word", "of", phrases[at].start, phrases[at].end)
    return made


def find_packed(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """The phrases with packs of plants as so many plants, a pallet as its bags, and what "it's" tells of one bag as its size."""
    return _its_size(_pallet(_packs_of_plants(phrases, draft), draft))


def _packs_of_plants(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    for at in range(len(phrases) - 3):
        many, each, pack = whole(phrases[at]), whole(phrases[at + 1]), phrases[at + 2]
        plant_at = at + 3 + is_said(phrases[at + 3], "link", "of")
        if not many or each not in _TO_A_PACK or not is_said(pack, "pack", "pack") or plant_at >= len(phrases) or not is_said(phrases[plant_at], "plant"):
            continue
        one = single(phrases[at])
        assert type(one) is Number
        said = draft.text[phrases[at].start : phrases[plant_at].end]
        draft.flags.append(("packs-of-plants", f"“{said}”: {many * each:g} of them"))
        return [*phrases[:at], Amount((one._replace(low=many * each, high=many * each, article=False),), one.start, one.end), *phrases[plant_at:]]
    return phrases


def _pallet(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """ "half pallet: 30 bags": thirty bags, which is what counts."""
    for at, phrase in enumerate(phrases[:-3]):
        tie = phrases[at + 1]
        if not is_said(phrase, "pack", "pallet") or not (is_said(tie, "stop", "colon", "dash") or is_said(tie, "link", "is") or is_said(tie, "is")):
            continue
        number = single(phrases[at - 1]) if at else None
        first = at - 1 if type(number) is Number and not number.role else at
        if type(number) is Number and number.low > 1:
            continue  # "2 pallets: 60 bags": on each, or in all
        sized = type(single(phrases[at + 3])) is Measure and at + 4 < len(phrases) and is_said(phrases[at + 4], "pack")
        if whole(phrases[at + 2]) and (is_said(phrases[at + 3], "pack") or sized):
            if first < at:
                draft.noted.append((words_of(draft, phrases[first]) + " " + words_of(draft, phrase), "how they are packed"))
            return [*phrases[:first], *phrases[at + 2 :]]
    return phrases


def _its_size(phrases: list[Phrase]) -> list[Phrase]:
    """ "I've only got one bag, it's 8 quarts": a bag of 8 quarts."""
    for at in range(len(phrases) - 3):
        size = single(phrases[at + 3])
        told = is_said(phrases[at], "pack") and is_said(phrases[at + 1], "stop", "comma", "sentence", "dash") and is_said(phrases[at + 2], "link", "is")
        tie = phrases[at + 2]
        if not told or type(tie) is not Said or phrases[at].text.lower().endswith("s"):  # type: ignore[union-attr]
            continue
        if tie.text.lower() not in ("it's", "its", "it’s", "it is", "that's"):
            continue
        after = phrases[at + 4] if at + 4 < len(phrases) else None
        if type(size) is Measure and size.per is None and not size.role and dimension(size) in ("volume", "weight") and (after is None or is_said(after, "stop")):
            return [*phrases[: at + 1], Said("link", "of", "of", tie.start, tie.end), *phrases[at + 3 :]]
    return phrases
