"""What is noticed once a line is read to its end: what only the whole of it decides.

Each rule looks at the draft as it then stands and sets one thing right, or asks; a question that stands is left alone.
"""

from __future__ import annotations

import re

from ..draft import Draft
from ..later import later
from ..phrases import Amount, Measure, Phrase, Said
from ..readers.hedges import along_its_length
from ..readers.times import times_alone
from .in_words import in_words
from .state import TREES

_WITHOUT_AND_WITH = later(r"\bwithout (?:the|its|my)\b.*\bwith (?:it|them)\b", re.IGNORECASE | re.DOTALL)
_EACH_ASKED = later(r"\bhow (?:much|many \w+) (?:\w+ ){0,3}(?:each(?! (?:time|go|round|application|feed|dressing))|apiece|per (?:plant|pot|tree|bush|head))\b|\bhow much does each\b", re.IGNORECASE)
#: What is asked of one pack, and how that is said.
_BY_THE_PACK = frozenset({"area", "by-unit", "plants", "containers", "beds", "length", "mix"})
_PER_PACK = later(r"\bhow (?:many|much|far|big)\b[^.,;:?!$£€]*\b(?:per|from each|from one|for each|out of each|out of one|(?:does|will|would|can) (?:one|each)) (?:of the )?(?:bag|sack|tub|tote|pack)s?\b", re.IGNORECASE)
#: Forms by which two sides give another area than those of a rectangle.
_TELLING_FORMS = ("oval", "triangle", "round")
#: Vessels whose mouth is round wherever nothing else is said.
_ROUND = ("pot", "pot-azalea", "pot-pan", "bucket", "half-barrel", "hanging-basket")
_FOR_THE = later(r"\b(?:for|on|in) the \d", re.IGNORECASE)
_LETTER_D = later(r"\b[dD]\b[\s=:]*\d|\d\s*[a-z]*\s*\b[dD]\b")


def notice(draft: Draft, phrases: list[Phrase], *, leaning: bool) -> None:
    """Every rule of a line's end; `phrases` are those that the pass went over, `leaning` as for `gather`."""
    along_its_length(draft)
    if leaning:
        times_alone(draft)
    else:
        _so_many_of_them(draft)
    _with_and_without(draft)
    _told_again(draft)
    if "how m" in draft.text.lower() and _EACH_ASKED.search(draft.text):
        draft.hints.add("each-asked")
    _one_pack(draft)
    _trees_of_the_ring(draft)
    _depth_or_diameter(draft)
    _two_shares(draft)
    words = [phrase for phrase in phrases if type(phrase) is Said]
    kinds = {word.kind for word in words}
    if "form" in kinds:
        _forms(draft, words)
    _half_round(draft)
    _side_or_layer(draft, phrases)
    if "ground" in kinds:
        _legs(draft, words)
    if draft.asked in ("layer", "share") and len(draft.places) > 1:
        _one_after_another(draft)
    if "existing-soil" in draft.hints:
        _put_back(draft)
    in_words(draft, phrases, leaning=leaning)
    if "each-person" in draft.hints and draft.question is None and any(p.count for p in draft.places):
        draft.question = ("count", "is that for one of you, or for all? Say how many there are in all")


def _so_many_of_them(draft: Draft) -> None:
    """ "planters 3 by 1 ft, two of them": the count of the one place that is told of, and no reply to anything."""
    if not draft.replies:
        return
    place = draft.places[0] if len(draft.places) == 1 else None
    said = next((text.lower() for name, text in draft.replies if name == "one-of-them"), "")
    if place is not None and said.endswith(" of them") and place.has_size and place.count is None and place.kind in ("ground", "container"):
        place.count = {"one": 1.0, "two": 2.0}[said.partition(" ")[0]]
        draft.replies = [(name, text) for name, text in draft.replies if name != "one-of-them"]


def _one_pack(draft: Draft) -> None:
    """ "how many square metres per bag": of one of them, however many there are."""
    if draft.asked not in _BY_THE_PACK or not _PER_PACK.search(draft.text):
        return
    draft.hints.add("per-pack")
    if draft.packs_count is not None and draft.packs_count > 1:
        many = draft.packs_count
        said = next((text for value, text in draft.figures if value == many), f"{many:g}")
        draft.packs_count, draft.figures = None, [(value, text) for value, text in draft.figures if value != many]
        draft.noted.append((said, "how many there are, and it is asked of one"))


def _with_and_without(draft: Draft) -> None:
    """ "without the border the bed is 3 by 9 ft, with it 4 by 10": two sizes of one place."""
    if len(draft.places) > 1 and _WITHOUT_AND_WITH.search(draft.text) and sum(p.has_size for p in draft.places) > 1 and draft.question is None:
        draft.question = ("two-values", "two sizes of one place: which of them do castings go on?")


def _told_again(draft: Draft) -> None:
    """ "two beds, 4x8 ft and 3x5 ft; for the 3x5 bed an inch": one of those before, and what the others get is not said."""
    if len(draft.places) < 3 or draft.question is not None or not _FOR_THE.search(draft.text):
        return
    sides = [tuple(span.low for span in place.size) for place in draft.places if len(place.size) == 2]
    if len(set(sides)) < len(sides):
        draft.question = ("which", "is that one of the places told before? Say of each place once what it gets")


#: "2 m circle around each": as many as there are trees.
_CIRCLED = later(r"\b(?:circles?|rings?|round|area|spot|patch)\s+(?:\w+\s+)?(?:around|round|about|under|beneath|at the foot of)\s+(?:each|every)\b", re.IGNORECASE)


def _trees_of_the_ring(draft: Draft) -> None:
    """ "ring 40 cm to 150 cm from the trunk, four trees the same": the count is of the rings."""
    if len(draft.places) != 2:
        return
    circled = _CIRCLED.search(draft.text) is not None
    rings = [p for p in draft.places if p.count is None and ((p.clear is not None and p.outer is not None) or (circled and (p.diameter or p.radius)))]
    trees = [p for p in draft.places if p.kind == "plant" and p.noun in TREES and p.count is not None and not (p.has_size or p.rate or p.layer)]
    if len(rings) == len(trees) == 1:
        ring, tree = rings[0], trees[0]
        ring.count, ring.noun, ring.kind, ring.printed, ring.crop = tree.count, tree.noun, tree.kind, tree.printed, tree.crop
        ring.layer, ring.each = ring.layer or tree.layer, True
        draft.places = [ring]


def _depth_or_diameter(draft: Draft) -> None:
    """ "pot D 12 in H 10 in": beside a height a bare D is the diameter."""
    for place in draft.places:
        if place.width is not None and place.noun in _ROUND and (place.height is not None or place.depth is not None) and not (
            place.size or place.length or place.diameter or place.volume
        ):  # fmt: skip
            place.diameter, place.width = place.width, None  # "pots 16 inches wide, 14 tall"
            draft.flags.append(("diameter", "how wide a pot is, is across its mouth"))
        if place.depth is not None and place.height is not None and not place.has_size and _LETTER_D.search(draft.text):
            place.diameter, place.depth = place.depth, None
            place.form = place.form or ("" if place.kind == "container" else "round")
            draft.flags.append(("diameter", "“d” beside a height is the diameter"))


def _two_shares(draft: Draft) -> None:
    """ "half the castings for a bed … at 10 %": a fraction and a share that are not the same."""
    told = draft.parts_share
    if told is None or draft.question is not None:
        return
    other = next((place.share for place in draft.places if place.share is not None and abs(place.share.high - told.high) > 1e-6), None)
    if other is not None:
        draft.question = ("two-values", f"two different shares; which one holds, {told.high:g} % or {other.high:g} %?")


def _forms(draft: Draft, words: list[Said]) -> None:
    """A form that was said and that no place has: the one place of sides has it, or it is asked which."""
    for phrase in words:
        if phrase.kind != "form" or phrase.id not in _TELLING_FORMS:
            continue
        if any(place.form == phrase.id for place in draft.places):
            continue
        sided = [place for place in draft.places if not place.form and (place.size or place.length or place.width)]
        if len(sided) == 1:
            sided[0].form = phrase.id
        elif sided and draft.question is None:
            draft.question = ("form", f"which of them is “{phrase.text}”? Say it beside its size")


def _half_round(draft: Draft) -> None:
    """ "a semicircle bed 10 ft across": half of the round one."""
    if "half-round" in draft.hints:
        places = [p for p in draft.places if "half-round" in p.hints] or draft.places[:1]
        for place in places:
            place.portion, place.form = place.portion or 0.5, "round"
            place.hints.discard("half-round")
            if place.size or place.area or place.length:
                draft.question = ("size", "of the half circle say how far it is across its straight side")


def _side_or_layer(draft: Draft, phrases: list[Phrase]) -> None:
    """ "12' x 4' 2" top dress": the inches may be of the side, or the layer that is not said otherwise."""
    if draft.way != "top-dress" or draft.question is not None or any(p.layer for p in draft.places):
        return
    for phrase in phrases:
        last = phrase.dims[-1] if type(phrase) is Amount and len(phrase.dims) == 2 else None
        if type(last) is Measure and last.note == "compound-apart" and not last.role:
            said = draft.text[last.start : last.end].strip()
            draft.question = ("role", f"“{said}”: one side, or a side and a layer of castings? Say the layer as “an inch thick”")


def _legs(draft: Draft, words: list[Said]) -> None:
    """An L is as big as its two legs, and a keyhole bed somewhat less than the round one: what is not told is asked or said."""
    for phrase in words:
        if phrase.kind != "ground":
            continue
        if phrase.id == "l-shape" and draft.question is None:
            ground = [place for place in draft.places if place.has_size and place.kind in ("ground", "")]
            whole = any(place.area or place.volume or place.minus for place in ground)
            if len(ground) == 1 and not whole and not draft.minus:
                draft.question = ("size", "an L is two rectangles side by side: what are the sides of each? Say it as “8 by 3 ft and 4 by 3 ft”")
        elif phrase.text.lower().startswith("keyhole"):
            if any(place.diameter or place.radius or place.size for place in draft.places):
                draft.flags.append(("keyhole", "the notch and the basket of the keyhole are not taken off; if you know its own area, say that"))


#: A second place told as another case, and not beside the first: "how thick on 10 m2; then how thick on 15 m2", "on a 4x8 bed, and on a 3x6".
_OTHER_CASE = later(r"(?:\bthen\b|\bor\b|\bversus\b|\bvs\b|[,;] and (?:how \w+ )?(?:on|over|for|in) )", re.IGNORECASE)


def _one_after_another(draft: Draft) -> None:
    """How thick on one place and how thick on another: for each alone, or over both together, is not said."""
    sized = [place for place in draft.places if place.has_size]
    if len(sized) > 1 and draft.question is None and _OTHER_CASE.search(draft.text) and not any(place.layer or place.rate for place in sized):
        draft.question = ("one-at-a-time", "do the castings go over all of these together, or is each a case of its own? Ask for one at a time")


#: Soil that is taken out, and a mix that comes in its stead: "take out the top 3 inches and put back mix".
_PUT_BACK = later(
    r"\b(?:tak(?:e|ing)|took|dig(?:ging)?|dug|remov(?:e|ing)|removed|scoop(?:ing)?|scrap(?:e|ing))\b.*\b(?:put(?:ting)? back|replac(?:e|ing)|fill(?:ing)? (?:it |them )?(?:back )?(?:up |in )?with|"
    r"swap(?:ping)?)\b.*\b(?:mix|blend|soil|compost)",
    re.IGNORECASE | re.DOTALL,
)


def _put_back(draft: Draft) -> None:
    """Where soil is taken out and a mix put back, the depth is that of the new mix, and nothing is dug into what was there."""
    if not draft.way and len(draft.places) == 1 and draft.places[0].share is not None and _PUT_BACK.search(draft.text):
        draft.hints -= {"existing-soil", "top-of"}
        draft.hints.add("new-fill")
        draft.places[0].hints -= {"existing-soil", "top-of"}
