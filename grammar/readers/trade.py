"""What the whole trade adds to a reading: each reader takes its own phrases out before the rest is read.

`find_trade` runs them over the phrases; `place_extras` and `query_extras` put what they found into the
query. A new way of speaking is one more reader here.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from operator import attrgetter
from typing import Any

from ..draft import Draft, PlaceDraft
from ..later import later
from ..phrases import Amount, Measure, Number, Phrase, Said, Share
from ..said import Mark, Waiting, dimension, is_said, single
from .analysis import find_analysis, names, names_nutrient
from .carried import find_carried
from .classes import find_classes
from .field_rates import find_field_rate
from .filled import find_filled
from .loads import find_loads
from .named_rates import find_named_rates
from .offers import find_offers
from .other_bags import BOUGHT_MIX, BY_THE_PACK
from .over_years import find_years
from .side_by_side import find_side_by_side
from .strips import find_strip
from .times import find_times
from .trays import find_trays
from .trunks import find_trunk

#: The readers in their order, and what each waits for.
_READERS: Waiting[Callable[[list[Phrase], Draft], list[Phrase]]] = Waiting(
    (find_carried, (frozenset({("hint", "vehicle"), ("other-thing", "house-thing")}),)),
    (find_offers, (frozenset({("ask", "cheaper"), ("ask", "compare-at")}),)),
    (find_classes, (frozenset({("container", "pot")}), frozenset({Number}))),
    (find_trays, (frozenset({("container", "tray"), ("container", "cell")}),)),
    (find_strip, (frozenset({("form", "ring"), ("hint", "band"), ("way", "side-dress"), ("role", "clear-of-stem")}),)),
    (find_years, (frozenset({("measures", "time")}),)),
    (find_times, (frozenset({("topic", "how-often"), ("weak-topic", "how-often"), ("link", "cut"), ("link", "now"), ("link", "again"),
                             ("measures", "time")}),)),
    (find_loads, (frozenset({("container", "bucket"), "loose-measure"}),)),
    (find_field_rate, (frozenset({("per", "per")}),)),
    (find_named_rates, (frozenset({("link", "water"), ("measures", "area"), "unit", "unclear-unit"}), frozenset({("way", "tea"), "castings"}),
                        frozenset({("measures", "volume"), ("measures", "weight")}))),
    (find_filled, (frozenset({("ask", "how-heavy"), ("hint", "dry-weight"), ("hint", "balcony"), ("hint", "roof"), ("topic", "loads")}),)),
)  # fmt: skip


#: The words that the parts of `find_trade` itself wait for.
_OWN: frozenset[Mark] = frozenset({
    ("label-word", "npk"), ("weak-topic", "salts"), ("ground", "tree-ring"), ("form", "trunk"), ("hint", "as-received"), ("link", "moisture"),
    ("ask", "compare-at"), ("way", "tea"), ("hint", "spray"), ("weak-topic", "nutrients"), ("plant", "houseplant"), ("unit", "salt"), "label",
})  # fmt: skip
#: What an analysis is told by, beside a share of a nutrient.
_ANALYSIS = frozenset({("label-word", "npk"), ("weak-topic", "salts"), ("unit", "salt")})


def waits_for_trade(draft: Draft, kinds: set[Mark]) -> bool:
    """Whether any of this may stand in a line: such a word, a measure without a set size or of salts, a share that may be a nutrient's."""
    return not kinds.isdisjoint(_OWN) or (Share in kinds and names_nutrient(draft.text)) or bool(_READERS.due(kinds))


def find_trade(phrases: list[Phrase], draft: Draft, kinds: set[Mark]) -> list[Phrase]:
    """The phrases without what the trade's own readers took; they run before numbers are set aside. `kinds` is what stands in them."""
    words: set[Mark] = set()
    shares = False
    for phrase in phrases:
        kind = type(phrase)
        if kind is Said:
            words.add((phrase.kind, phrase.id))  # type: ignore[union-attr]
        elif kind is Amount:
            for one in phrase.dims:  # type: ignore[union-attr]
                if type(one) is Measure:
                    if type(one.per) is Said:
                        words.add((one.per.kind, one.per.id))
                    elif "siemens" in one.unit or "mho" in one.unit:
                        words.add(("unit", "salt"))
        elif kind is Share:
            shares = True
    # "2-1-1" is an analysis where a nutrient is asked for, and else a label
    labelled = "label" in kinds and any(is_said(phrase, "label") for phrase in phrases) and (("weak-topic", "nutrients") in words or _HOW_MUCH_N.search(draft.text) is not None)
    stated = labelled or (shares and names_nutrient(draft.text))
    if stated or not words.isdisjoint(_ANALYSIS):
        phrases = find_analysis(phrases, draft)
        if draft.analysis:  # a question in words, where nothing is there to be worked out
            draft.topics.append("salts" if any(name == "salt" for name, _ in draft.analysis) else "nutrients")
    if ("ground", "tree-ring") in words:
        phrases = _drip_lines(phrases)
    if ("form", "trunk") in words:
        phrases = find_trunk(phrases, draft)
    if ("hint", "as-received") in words:
        _as_received(phrases, draft)
    if ("link", "moisture") in words and "dry" in draft.text.lower().replace(",", " ").split():
        draft.hints.add("dry-weight")
    for read in _READERS.due(kinds):
        phrases = read(phrases, draft)
    if ("ask", "compare-at") in words:
        phrases = find_side_by_side(phrases, draft)
    if ("way", "tea") in words or ("hint", "spray") in words:
        phrases = _tea(phrases, draft)
    if ("weak-topic", "nutrients") in words or draft.analysis:
        phrases = _asked_nutrient(phrases, draft)
    if ("plant", "houseplant") in words:
        phrases = _houseplants(phrases, draft)
    return phrases


def _as_received(phrases: list[Phrase], draft: Draft) -> None:
    """ "10 kg dry at 50 % moisture, how much as received": asked of a dry weight, the other way round."""
    for at, phrase in enumerate(phrases):
        before = phrases[max(at - 2, 0) : at]
        if is_said(phrase, "hint", "as-received") and before and (
            is_said(before[-1], "ask", "how-much", "how-heavy", "what-is")
            or (is_said(before[0], "ask", "how-many") and is_said(before[-1], "unit"))
        ):  # fmt: skip
            draft.hints.add("received-asked")


def _tea(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """How many batches, what is brewed in, and whether it goes on leaves."""
    left: list[Phrase] = []
    for at, phrase in enumerate(phrases):
        before = left[-1] if left else None
        if is_said(phrase, "unknown") and phrase.text.lower() in ("tank", "tanks"):  # type: ignore[union-attr]
            left.append(Said("hint", "spray", "sprayer", phrase.start, phrase.end))  # what the tea is put up in
            continue
        if isinstance(phrase, Said):
            text = phrase.text.lower()
            if is_said(before, "ask", "how-many") and (
                is_said(phrase, "hint", "batches") or text in ("batch", "batches", "brews")
            ):
                draft.hints.add("batches")
                left[-1] = Said("ask", "how-batches", "how many batches", before.start, phrase.end)  # type: ignore[union-attr]
                continue
            if is_said(phrase, "way", "tea") and "extract" in text:
                draft.hints.add("extract")
            if "foliar" in text or (
                phrase.kind == "hint"
                and phrase.id == "spray"
                and not any(part in text for part in ("can", "sprayer", "tank", "knapsack"))
            ):
                draft.hints.add("foliar")
            if text == "tea" and is_said(before, "ask", "how-much"):
                draft.asked, draft.asked_noun = "water", "tea"
            if (
                is_said(phrase, "way", "tea")
                and text in ("brewer", "brewers")
                and at
                and type(one := single(before)) is Measure
                and (one.per is None and dimension(one) == "volume")
            ):
                left.append(Said("hint", "spray", "sprayer", phrase.start, phrase.end))
                draft.hints.add("brewer")
                continue
        left.append(phrase)
    return left


def _drip_lines(phrases: list[Phrase]) -> list[Phrase]:
    """ "a 10 ft drip line" is that wide; "out to the drip line 5 ft from the trunk" is where the ring ends."""
    made = list(phrases)
    of_a_tree = any(is_said(phrase, "plant") for phrase in phrases)
    named: set[int] = set()
    for at, phrase in enumerate(phrases):
        one = single(phrase)
        if type(one) is not Measure or dimension(one) != "length" or one.per is not None:
            continue
        before, after = phrases[at - 1] if at else None, phrases[at + 1] if at + 1 < len(phrases) else None
        role = one.role
        if not role and is_said(after, "ground", "tree-ring"):
            role = "diameter"
            if of_a_tree:
                named.add(at + 1)  # the tree is the place, and this is how wide it is
        elif not role and at > 1 and is_said(before, "link", "of", "is") and is_said(phrases[at - 2], "ground", "tree-ring"):
            role = "diameter"  # "a drip line of 5 ft"
        elif (
            role in ("", "clear-of-trunk")
            and is_said(before, "ground", "tree-ring")
            and at > 1
            and is_said(phrases[at - 2], "link", "out-to")
        ):
            role = "outer"
            if of_a_tree:
                named.add(at - 1)
        made[at] = Amount((one._replace(role=role),), one.start, one.end)
    return [phrase for at, phrase in enumerate(made) if at not in named]


def _houseplants(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """ "my 6 inch houseplant" stands in a pot of that width."""
    for at, phrase in enumerate(phrases):
        before = single(phrases[at - 1]) if at else None
        later = list(phrases[at + 1 : at + 4])
        if is_said(phrase, "plant", "houseplant") and _in_a_pot(later):
            draft.hints.add("houseplant")  # "a monstera into a 12 inch pot", "4 houseplants in 8 inch pots"
            return phrases
        if (
            is_said(phrase, "plant", "houseplant")
            and type(before) is Measure
            and not before.role
            and before.per is None
            and (dimension(before) == "length")
        ):
            assert isinstance(phrase, Said)
            pot = Said("container", "pot", "pot" if before.low == 1 else "pots", phrase.start, phrase.end)
            draft.hints.add("houseplant")
            return [*phrases[:at], pot, *phrases[at + 1 :]]
    return phrases


def _in_a_pot(later: list[Phrase]) -> bool:
    """ "in a 12 inch pot", after a plant."""
    size = single(later[1]) if len(later) > 2 else None
    return type(size) is Measure and dimension(size) == "length" and is_said(later[0], "link", "into") and is_said(later[2], "container")


#: What is kept of the hints for the whole request.
_TOLD = frozenset({
    "seedlings", "foliar", "batches", "in-all", "each-time", "dry-weight", "of-soil", "brewer", "tea-fed", "needed", "received-asked",
    "each-asked", "manure-based", "dusty", "extract", "left-over", "vehicle", BY_THE_PACK, BOUGHT_MIX,
})  # fmt: skip
#: Whether what is spoken of is too much is asked.
TOO_MUCH = "too-much-asked"
_IS_IT_TOO_MUCH = later(r"\b(?:is|are|would|will|isn'?t|aren'?t)\b(?![^.;!?]*\b(?:not|don'?t|without)\b)[^.;!?]*\btoo (?:much|strong|rich|thick)\b", re.IGNORECASE)
#: A nutrient as it is asked for.
_NUTRIENTS = frozenset({"nitrogen", "phosphorus", "phosphate", "potassium", "potash"})


#: "how much N", by a capital letter or a formula.
_HOW_MUCH_N = later(r"\b[Hh]ow much (?:of the )?(N|P|K|P2O5|K2O)\b")


def _asked_nutrient(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """ "how much nitrogen does that bring": asked of an amount, and answered with it."""
    letter = _HOW_MUCH_N.search(draft.text)
    if letter is not None and any(type(p) is Amount for p in phrases):
        draft.asked_nutrient = names(letter[1])
        return [p for p in phrases if not letter.start(1) <= p.start < letter.end()]
    for at, phrase in enumerate(phrases):
        if is_said(phrase, "weak-topic", "nutrients") and at and is_said(phrases[at - 1], "ask", "how-much"):
            assert isinstance(phrase, Said)
            if phrase.text.lower() in _NUTRIENTS and any(type(p) is Amount for p in phrases):
                draft.asked_nutrient = phrase.text.lower()
                return [*phrases[:at], *phrases[at + 1 :]]
    return phrases


def trade_asked(draft: Draft) -> str:
    """What is asked, where one of the trade's readers found it; an empty string otherwise."""
    if draft.offers:
        return "cheaper"
    if draft.filled:
        return "weight"
    if "how-batches" in draft.asks:
        return "batches"
    if draft.asked_nutrient:
        return "nutrient"
    return ""


def place_extras(place: PlaceDraft, draft: Draft) -> dict[str, Any]:
    """What the trade's readers found for one place."""
    found: dict[str, Any] = {}
    if draft.cell is not None and place.cells is not None:
        found["cell"] = draft.cell
    if draft.strip or draft.strip_clear is not None:
        found.update(
            strip=draft.strip, strip_width=draft.strip_width, strip_layer=draft.strip_layer, strip_clear=draft.strip_clear
        )
    return found


_EXTRAS = ("times", "years", "filled", "asked_load", "asked_nutrient", "end", "analysis", "offers", "loads", "compare_layers", "compare_rates",
           "compare_ratios", "compare_packs")  # fmt: skip
_EXTRAS_OF = attrgetter(*_EXTRAS)


def query_extras(draft: Draft) -> dict[str, Any]:
    """What the trade's readers found for the whole request."""
    found: dict[str, Any] = {}
    values = _EXTRAS_OF(draft)
    if any(values):  # most requests have none of it
        found = {name: tuple(value) if type(value) is list else value for name, value in zip(_EXTRAS, values, strict=True) if value}
    asks_too_much = bool(draft.topics) and "too-much" in draft.topics and _IS_IT_TOO_MUCH.search(draft.text) is not None
    if draft.hints or asks_too_much:
        told = draft.hints & _TOLD | ({TOO_MUCH} if asks_too_much else set())
        if told:
            found["told"] = frozenset(told)
    return found
