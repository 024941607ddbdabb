"""Recipes and ratios: "2 parts coir, 1 part castings", "40% coir, 10% castings", "1:10", "half soil"."""

from __future__ import annotations

from collections.abc import Callable

from ..draft import Draft
from ..phrases import Measure, Number, Part, Phrase, Ratio, Said, Share
from ..quantities import Span
from ..said import Mark, Waiting, Waits, is_said, stands
from .recipe.measures import loose, strength, to_every, volumes
from .recipe.parts import counted_parts, equal_parts, named_numbers, one_in, part_of_castings, parts, ratio
from .recipe.shares import fractions, of_both_kinds, percents


def find_recipe(phrases: list[Phrase], draft: Draft, kinds: set[Mark]) -> list[Phrase]:
    """Takes the recipe or ratio out of the phrases and puts it on the draft."""
    if stands(_FILLED, kinds):
        _alone(phrases, draft)
    if stands(_BOTH_KINDS, kinds):
        phrases = of_both_kinds(phrases)
    if Part in kinds:
        phrases = part_of_castings(phrases)
    for read in _READERS.due(kinds):
        used = read(phrases, draft)
        if used:
            return [phrase for at, phrase in enumerate(phrases) if at not in used]
    return phrases


#: What is filled with castings to carry or to plant in, and not to grow in for long.
_FILLED_ALONE = (("container", "bucket"), ("container", "tote"), ("ground", "trench"), ("hole", "planting-hole"))


def _alone(phrases: list[Phrase], draft: Draft) -> None:
    """Notes "fill a bucket with castings": they alone, and no share of a mix. For beds and pots it is asked."""
    if any(type(p) in (Share, Part, Ratio) or (type(p) is Said and p.kind in ("mix", "seed-mix", "component")) for p in phrases):
        return
    for at, phrase in enumerate(phrases):
        if not is_said(phrase, "castings") or at == 0:
            continue
        before, after = phrases[at - 1], phrases[at + 1] if at + 1 < len(phrases) else None
        filled = is_said(before, "hint", "new-fill") and before.text.lower() == "filled with"  # type: ignore[union-attr]
        fill = any(is_said(p, "hint", "new-fill") or is_said(p, "link", "filled-to") for p in phrases[:at])
        if not (filled or (fill and is_said(before, "link", "with"))) or not (after is None or is_said(after, "stop")):
            continue
        nouns = [p for p in phrases if type(p) is Said and p.kind in ("ground", "container", "hole")]
        if nouns and all((p.kind, p.id) in _FILLED_ALONE for p in nouns):
            draft.parts_share = Span(100, 100, "percent")
            draft.flags.append(("alone", "filled with castings alone"))
        elif nouns and draft.question is None:
            draft.question = ("pure", "is it to be castings alone? Say “100 % castings”, or the share")
        return


_CASTINGS: frozenset[Mark] = frozenset({"castings"})
_TO_SO_MUCH: frozenset[Mark] = frozenset({("link", "ratio-to"), ("link", "each")})
_BOTH_KINDS: Waits = (frozenset({Share}), frozenset({Number}), frozenset({"component"}))
_FILLED: Waits = (_CASTINGS, frozenset({("hint", "new-fill"), ("link", "filled-to")}))
#: The readers of a recipe in the order in which they are tried, and what each waits for.
_READERS: Waiting[Callable[[list[Phrase], Draft], set[int]]] = Waiting(
    (strength, (frozenset({("link", "water"), ("way", "tea"), ("hint", "spray")}), _TO_SO_MUCH | {("note", "span:units")})),
    (to_every, (_CASTINGS, _TO_SO_MUCH)),
    (one_in, (frozenset({"castings", "mix", "seed-mix", ("link", "share-word")}), frozenset({Number}), frozenset({("measures", "length")}))),
    (equal_parts, (frozenset({("parts", "equal")}),)),
    (ratio, (frozenset({Ratio, ("note", "span:to")}),)),
    (named_numbers, (_CASTINGS, frozenset({Part, Number}))),
    (counted_parts, (_CASTINGS, frozenset({Number}), frozenset({"component"}))),
    (parts, (frozenset({Part}),)),
    (volumes, (_CASTINGS, frozenset({Measure}))),
    (loose, (_CASTINGS, frozenset({"loose-measure", ("container", "bucket")}))),
    (fractions, (_CASTINGS, frozenset({Number}))),
    (percents, (frozenset({Share}), frozenset({"component", ("link", "water"), ("link", "rest")}))),
)
