"""What a follow-up changes in what was said: a value, a count, a unit, a place more or less.

Each change takes the draft of the turn before and the draft of the line, and gives a new draft; where it can mean
more than one thing it gives the question to ask instead. Nothing of the conversation itself is kept here.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from grammar.draft import Draft, PlaceDraft, Unsure
from grammar.naming import ORDINAL
from grammar.parse import parse
from grammar.phrases import Said
from grammar.quantities import Span, unit

from .at_hand import in_all, more_vessels, slot_by_size, would_do
from .bare_numbers import ends_the_line
from .choices import Doubt
from .followup import ANYWHERE, BACKWARDS, alike_or_touched, asked_enough, lay_over, merge, says_all
from .replies import bare_number
from .spoken_of import by_size, is_bare, is_named, is_plural, last_changed, spoken_of, which
from .units_meant import spans

#: What a question may ask for that a bare measure answers.
MEASURES = frozenset({"depth", "layer", "height", "width", "length", "diameter", "size", "volume", "have", "water", "pack", "mix", "area"})
#: A bare ratio in a follow-up.
_RATIO = re.compile(r"(\d+)\s*(?:to|:)\s*(\d+)")
_OF_THEM = re.compile(r"\b(?:of (?:them|those|these)|like (?:that|those|it|this))\b|\bqty\b|^\W*x\s*\d", re.IGNORECASE)
_DEEP = re.compile(r"\b(?:deep|depth)\b")
_AS_MANY = re.compile(r"\bas many\b")
_ONE_OTHER = re.compile(
    r"\b(\d+(?:\.\d+)?) ?(inch(?:es)?|in|cm|ft|feet|foot|m)?(?: deep)? (?:for |in )?(?:the |)one,? (?:and|but) (\d+(?:\.\d+)?) ?(inch(?:es)?|in|cm|ft|feet|foot|m)?(?: deep)? (?:for |in )?the other\b"
    , re.IGNORECASE)
_AND_SO_MANY = re.compile(r"^\W*(?:(?:oh|ok|so)\W+)*and (?:\d+|two|three|four|five|six|seven|eight|nine|ten|twelve) [a-z -]+[.!]*$", re.IGNORECASE)
_GETS_NONE = re.compile(r"\b(?:gets?|needs?|has|takes?) (?:none|nothing|no castings)\b|\b(?:is|are) (?:left out|skipped|fallow|paved|gravel)\b")
_MORE = re.compile(r"^\W*(?:(?:and|oh|ok|so)\W+)*(?:plus|add|also|another)\b|.*\b(?:more|extra|too|as well)\b", re.IGNORECASE)
#: Before a bare number that goes with the measure before it: "1 m 05", "2 ft 14".
_AFTER_UNIT = re.compile(r"(?:\d\s*(?:m|met(?:re|er)s?|ft|feet|foot|in|inch(?:es)?|cm|mm|yards?|yd)|\d['\"])\s*$", re.IGNORECASE)
_WHOLE_OF_IT = re.compile(r"\b(?:the (?:whole|entire)|all of (?:it|the))\b", re.IGNORECASE)
#: What was dropped is put back: "put the roses back", "with the roses again".
_BACK = re.compile(r"\b(?:back|again|re-?add|reinstate|restore|after all)\b", re.IGNORECASE)
#: What was left out is put back: "all twelve", "the whole lot", "every one of them".
_NUMBER = r"\d+|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|fifteen|twenty|thirty|forty|fifty|hundred"
_ALL_OF_THEM = re.compile(
    rf"\ball (?:of )?(?:them|those|these|it|the|my|our|{_NUMBER})\b|\b(?:them|those|it) all\b|\bevery (?:single )?one\b|\bthe (?:whole|full|entire)\b|^\W*(?:no\W+)?all\W*$",
    re.IGNORECASE,
)
_ONE_MORE = re.compile(
    r"^\W*(?:and )?(?:also )?(?:another(?: one)?|one more|the same again)(?:[ ,]+(?:of )?(?:the )?(?:same(?: size)?|like (?:it|that|this)|just like (?:it|that)))?\W*$"
    r"|^\W*(?:and )?(?:the |a )?(?:second|third|next|other) (?:one|bed|pot|tub|box|lawn|row|plot)?,?(?: is)?(?: the)?(?: exactly)? same(?: size| again)?\W*$",
    re.IGNORECASE,
)
#: A number that is rather a price than a measure: "at 9.50 each".
_PRICED = re.compile(r"\b\d+\.\d\d\b|\b\d+ (?:each|a bag|per bag|a sack|apiece)\b")
#: A number that is for some of them only, or for a measure that cannot be a count: "two for the big ones", "fill to 14".
_FOR_SOME = re.compile(r"\bfor (?:the|my|those|all) \w+|\bfill|\bget|\bat \d|\b(?:bags?|sacks?)\b", re.IGNORECASE)
_TOO = re.compile(r"\b(?:too|as well|also|likewise)\b", re.IGNORECASE)
_ONLY = re.compile(r"^\W*(?:just|only)\b", re.IGNORECASE)
_ONLY_DO = re.compile(r"\b(?:if|say|suppose) (?:i|we|you|they) (?:only|just)\b|\b(?:only|just) (?:do|doing|cover|covering)\b", re.IGNORECASE)
_THE_SIZED_ONE = re.compile(r"\bthe \d[\d.]*[ -]?(?:ft|feet|foot|m|metres?|meters?)? ?(?:x|×|by) ?\d[\d.]*[ -]?(?:ft|feet|foot|m|metres?|meters?)? one\b", re.IGNORECASE)
_AS_WELL = re.compile(r"\b(?:too|also|as well|in addition|afterwards|after that|besides)\b|^\W*(?:and then|then|and|plus)\b", re.IGNORECASE)
#: Said of what is left: "only 4 pots", "down to 4".
_ONLY_LEFT = re.compile(r"\b(?:only|just|actually|now|left|down to)\b", re.IGNORECASE)
_BACK_TO = re.compile(r"\b(?:back (?:down )?to|return to)\b", re.IGNORECASE)
#: A bare length above this is no layer and no depth of soil, in metres (five feet).
_TOO_DEEP = 1.524 - 1e-9
#: A bare length up to this is rather a layer than a depth of soil, in metres (two inches).
_THIN = 0.0508 + 1e-9
_DOUBTFUL = ("quart", "pint", "gallon", "ton", "yard")
#: Measures that one plant is given, and no heap of castings is told in.
_OF_A_PLANT = frozenset({"us_cup", "imperial_cup", "metric_cup", "tablespoon", "teaspoon", "millilitre", "fluid_ounce"})
_LENGTHS = ("volume", "area", "rate", "depth", "length", "width", "diameter", "radius", "height", "fill")


@dataclass
class Leaning:
    """What a line of a conversation leans on besides the draft before it."""

    #: what the question just asked is for
    awaiting: str = ""
    #: the slot and unit of the last bare amount
    slot: str = ""
    unit: str = ""
    #: the places that the turn before spoke of
    touched: Sequence[int] = ()
    #: the drafts of the turns before, the last one last
    past: Sequence[Draft] = field(default_factory=tuple)


def put(old: Draft, new: Draft, leaning: Leaning, *, adding: bool) -> tuple[Draft, tuple[str, str]]:
    """The old draft with a line laid over it; and the slot and unit of a bare amount that it set."""
    if (vessels := more_vessels(old, new, leaning.past)) is not None:
        new = vessels
    draft = merge(old, new.copy(), adding=adding, touched=leaning.touched)
    if _WHOLE_OF_IT.search(new.text) or re.search(rf"\ball (?:of )?(?:them|those|these|{_NUMBER}|(?:the|my|our) \w+)\b", new.text, re.IGNORECASE):
        for place in draft.places:
            place.portion = None
    slot = _place_unsure(draft, leaning)
    draft.flags = [flag for flag in draft.flags if flag[0] not in _DOUBTFUL or (_holds(draft, flag[0]) and flag[0] not in new.asked_unit)]
    return draft, slot


def _holds(draft: Draft, name: str) -> bool:
    """Whether some measure of a draft is still in a unit that had more than one meaning."""
    return any(name in span.unit for span in spans(draft))


def cleared(draft: Draft, new: Draft) -> Draft:
    """A changed draft with nothing left of how the change was said."""
    draft.text, draft.flags, draft.noted, draft.stray, draft.unsure, draft.figures = new.text, [], [], [], [], []
    draft.question, draft.asks, draft.replies = None, [], []
    draft.hints -= {"by-so-much", "cut"}
    return draft


# ---- places ------------------------------------------------------------------------------------------


def refers(new: Draft) -> list[PlaceDraft]:
    """The places that a line names, and does not bring in with a size of their own."""
    return [place for place in new.places if place.noun or is_named(place)]


def uncounted(new: Draft) -> Draft:
    """A line that counted the places of the whole order, once it is known which one it meant."""
    told = new.copy()
    for place in told.places:
        place.described = frozenset(word for word in place.described if not word.startswith(ORDINAL))
    return told


def only_names(new: Draft) -> bool:
    """Whether a line says nothing but which places it speaks of."""
    return bool(refers(new)) and all(is_bare(place) for place in new.places) and not (
        new.unsure or new.stray or new.have or new.price or new.asked_unit or new.recipe or new.parts_share or new.way
    )  # fmt: skip


def says_whole(line: str, old: Draft) -> bool:
    """ "do all of it" after a part of it."""
    return _WHOLE_OF_IT.search(line) is not None and any(place.portion is not None for place in old.places)


def put_back(old: Draft | None, new: Draft, past: Sequence[Draft]) -> Draft | None:
    """ "put the roses back", "with the roses again": places that were dropped, as they were then.

    None where the line says anything else, or no earlier turn had such places beside those that are left.
    """
    if old is None or not old.places or not _BACK.search(new.text) or _BACK_TO.search(new.text) or not only_names(new) or new.asks or new.topics:
        return None
    if any(spoken_of(place, old.places, to_the_word=True) for place in new.places if place.noun):
        return None
    for before in reversed(past):
        if len(before.places) <= len(old.places):
            continue
        hits = {at for place in new.places for at in spoken_of(place, before.places, to_the_word=True)}
        rest = [place for at, place in enumerate(before.places) if at not in hits]
        if not hits or [place.noun for place in rest] != [place.noun for place in old.places]:
            continue
        draft = old.copy()
        kept = iter(draft.places)
        draft.places = [place if at in hits else next(kept) for at, place in enumerate(before.copy().places)]
        draft.way = "" if draft.way != before.way else draft.way
        return cleared(draft, new)
    return None


def all_again(old: Draft | None, new: Draft, past: Sequence[Draft]) -> Draft | str | None:
    """ "all twelve", "no, all of them" after "half the pots" or "only 8": as many as there were before.

    None where nothing was left out before or the line says something else; a question where it counts otherwise.
    """
    if old is None or not old.places or not _ALL_OF_THEM.search(new.text) or new.unsure or new.have or new.asked or new.asked_unit or new.way or new.topics or (
        new.price or new.pack or any(not is_bare(replace(place, count=None, portion=None)) for place in new.places)
    ):  # fmt: skip
        return None
    draft = old.copy()
    hits = meant(Draft(places=[replace(place, count=None) for place in new.places]), old, ()) if new.places else list(range(len(old.places)))
    if isinstance(hits, str):
        return hits
    fewer = False
    for at in hits:
        place = draft.places[at]
        most = max((one.places[at].count or 0 for one in past if len(one.places) == len(old.places)), default=0)
        fewer = fewer or place.portion is not None or most > (place.count or 0)
        place.portion, place.count = None, most if most > (place.count or 0) else place.count
    if not fewer:
        return None
    told = [place.count for place in new.places if place.count] + [n for n in (bare_number(said) for said, _, _ in new.stray) if n is not None]
    if told and sum(told) != sum(draft.places[at].count or 0 for at in hits):
        return f"There were {sum(draft.places[at].count or 0 for at in hits):g}; how many are there now?"
    return cleared(draft, new)


def says_only(line: str) -> bool:
    """ "just bed A", "only the pots": the places that are named stay, the others go."""
    return _ONLY.match(line) is not None


def meant(new: Draft, old: Draft, touched: Sequence[int]) -> list[int] | str:
    """All places of a draft that a line names, or the question which of them is meant."""
    found: set[int] = set()
    for place in new.places:
        hits = by_size(place, old.places) if place.has_size else spoken_of(place, old.places, touched)
        plural = is_plural(place) or (place.kind == "plant" and len(hits) == 1)
        if len(hits) > 1 and not plural and place.count != len(hits):
            lately = [at for at in hits if at in touched]
            if len(lately) != 1:
                return which([old.places[at] for at in hits])
            hits = lately
        found.update(hits)
    return sorted(found)


def keep_only(old: Draft, new: Draft, kept: Sequence[int]) -> Draft:
    """ "just the pots": the other places are dropped."""
    draft = old.copy()
    draft.places = [draft.places[at] for at in kept]
    return cleared(draft, new)


def without(old: Draft, new: Draft, gone: Sequence[int]) -> Draft:
    """ "drop the second": the draft without some of its places."""
    return keep_only(old, new, [at for at in range(len(old.places)) if at not in gone])


def fewer(old: Draft, new: Draft, at: Sequence[int]) -> Draft | None:
    """ "remove two pots" of six: fewer of the same; None where all of them are to go."""
    counts = [place.count for place in new.places if place.count]
    place = old.places[at[0]]
    if len(at) != 1 or len(counts) != 1 or place.count is None or not counts[0] < place.count:
        return None
    draft = old.copy()
    draft.places[at[0]].count = place.count - counts[0]
    return cleared(draft, new)


def taken_off(old: Draft, new: Draft, touched: Sequence[int]) -> Draft | str:
    """ "except 2 square metres", "minus the driveway, 10 by 25": what gets none is taken off the place spoken of.

    One of several places that has that very size is dropped. Asks where it is not told which place it is taken off.
    """
    told = [place for place in new.places if place.noun or is_named(place)]
    if len(old.places) > 1 and not told:
        same = [at for corner in new.minus for at in by_size(corner, old.places)]
        if len(same) == len(new.minus):
            return without(old, new, same)
    pool = meant(Draft(places=told), old, touched) if told else list(range(len(old.places)))
    if isinstance(pool, str):
        return pool
    pool = [at for at in pool if old.places[at].size or old.places[at].area or old.places[at].diameter or old.places[at].radius]
    if len(pool) != 1:
        return which([old.places[at] for at in pool]) if pool else "What is that taken off? Say the size of what castings do go on."
    draft = old.copy()
    place = draft.places[pool[0]]
    if (place.count or 1) > 1:
        return f"Is that taken off each of the {place.count:g}? Say the size of what castings do go on."
    unit_there = place.size[0].unit if place.size else ""
    for corner in new.minus:
        if corner.size and not corner.size_unit_said:
            corner.size = tuple(one._replace(unit=one.unit or unit_there) for one in corner.size)
            corner.size_unit_said = bool(unit_there)
        place.minus.append(corner)
    return cleared(draft, new)


def gone_already(old: Draft | None, new: Draft) -> str | None:
    """ "only 4 pots, one cracked" after five: the one is off the four already.

    A question where the number before does not tell, and "only" says that the number is what is left.
    """
    if new.gone is None or old is None:
        return None
    total, few = new.gone
    counted = [place for place in new.places if place.count == total - few]
    if len(counted) != 1 or not (hits := spoken_of(counted[0], old.places)):
        return None
    before = {old.places[at].count for at in hits}
    if before == {total + few}:
        counted[0].count = total
        new.figures = [(total if value == total - few else value, said) for value, said in new.figures]
        new.flags = [("left-out", f"{few:g} of {total + few:g} left out: {total:g}") if code == "left-out" else (code, text) for code, text in new.flags]
        return None
    if before != {total} and _ONLY_LEFT.search(new.text):
        return f"Is that {few:g} among the {total:g}? Say how many are to get castings."
    return None


def says_too(line: str) -> bool:
    """ "the pots too", "and the tubs as well"."""
    return _TOO.search(line) is not None


def adds_nothing(line: str) -> bool:
    """ "and if I only do 50 sq ft", "and the 4x8 one 12 inches": an "and" by which nothing comes on top."""
    return _ONLY_DO.search(line) is not None or _THE_SIZED_ONE.search(line) is not None


def part_restated(old: Draft, new: Draft) -> None:
    """ "the half of it, 50 sq ft", of 100 sq ft: the part and what it comes to are one and the same, where they agree."""
    here, was = new.places[0] if len(new.places) == 1 else None, old.places[0] if len(old.places) == 1 else None
    part = bare_number(new.stray[0][0]) if len(new.stray) == 1 else None
    if here is None or was is None or here.area is None or was.area is None or part is None or not part < 1 or was.count not in (None, 1):
        return
    if abs(here.area.base[0] - part * was.area.base[0]) <= 0.01 * here.area.base[0]:
        said = new.stray[0][0]
        new.stray, new.figures = [], [figure for figure in new.figures if figure[1] != said]
        new.noted.append((said, "the part that the size tells"))


def same_change(before: Draft, now: Draft, new: Draft, there: Sequence[int]) -> Draft | None:
    """ "the pots too": what the turn before changed, for these places as well."""
    if len(before.places) != len(now.places):
        return None
    changed = {
        name: getattr(place, name)
        for was, place in zip(before.places, now.places, strict=True) for name in ("share", "depth", "layer", "rate")
        if getattr(was, name) != getattr(place, name) and getattr(place, name)
    }  # fmt: skip
    if len(changed) != 1:
        return None
    draft = now.copy()
    for at in there:
        lay_over(draft.places[at], PlaceDraft(**changed))
    return cleared(draft, new)


def says_of_plants(new: Draft) -> bool:
    """Whether a line only says something of plants, with no figure in it: "the plants are quite tall"."""
    return new.words > 1 and bool(new.places) and all(place.kind == "plant" and is_bare(place) for place in new.places) and not (
        new.figures or new.asks or new.replies or new.asked or new.asked_unit or new.way or new.recipe
    )  # fmt: skip


def packs_told(new: Draft, told: Sequence[Draft]) -> Draft | None:
    """ "which is cheaper" after packs of two sizes were told with their prices: those side by side. None where fewer were."""
    if new.offers or new.pack is not None or new.pack_noun or new.price is not None or new.places:
        return None
    found = {(draft.pack, *draft.price): None for draft in told if draft.pack is not None and draft.price is not None}
    if len(found) < 2:
        return None
    draft = new.copy()
    draft.offers, draft.pack_noun = [(size, price, currency) for size, price, currency in found], "bag"
    return draft


def layer_alone(new: Draft) -> PlaceDraft | None:
    """The one layer that a line tells, without a place of its own; None where it tells anything else."""
    told = [place for place in new.places if place.layer and not place.noun and not place.has_size]
    if told:
        return told[0]
    thin = [one.span for one in new.unsure if one.span.unit not in _DOUBTFUL and one.span.dimension == "length" and one.span.base[1] <= _THIN]
    on_top = new.way == "top-dress" or "role:thick" in new.hints or re.search(r"\b(?:on top|layer)\b", new.text.lower())
    if len(thin) == len(new.unsure) == 1 and on_top and not any(place.has_size or place.noun for place in new.places):
        return PlaceDraft(layer=thin)
    return None


def says_as_well(text: str) -> bool:
    """ "too", "as well", and at the head of a line "then" or "and": what comes is given besides what was told."""
    return _AS_WELL.search(text) is not None and re.search(r"\binstead\b|\brather\b", text.lower()) is None


def and_on_top(old: Draft, new: Draft, layer: PlaceDraft) -> Draft:
    """ "and 1 cm on top of it too": the same place once more, dressed."""
    draft = old.copy()
    again = old.copy().places[-1]
    draft.places[-1].way = draft.places[-1].way or draft.way or "blend"
    again.share, again.recipe, again.depth, again.fill = None, [], None, None
    again.layer, again.way = list(layer.layer), "top-dress"
    draft.way = ""
    draft.places.append(again)
    return cleared(draft, new)


def same_for(old: Draft, new: Draft) -> Draft:
    """ "the same for 12 tubs": another place that is to get what the last one gets."""
    draft = old.copy()
    draft.enough = asked_enough(old)
    pattern = old.places[-1] if old.places else PlaceDraft()
    draft.places = []
    for place in new.places:
        if place.kind == pattern.kind and not place.has_size and (place.noun == pattern.noun or place.count):
            copy = old.copy().places[-1]
            lay_over(copy, place)
            draft.places.append(copy)
            continue
        copy = PlaceDraft(share=pattern.share, layer=list(pattern.layer), rate=pattern.rate, rate_per=pattern.rate_per,
                          recipe=list(pattern.recipe), way=pattern.way)  # fmt: skip
        if place.kind == pattern.kind == "ground" and pattern.depth is not None and not place.depth:
            copy.depth = pattern.depth
        lay_over(copy, place)
        draft.places.append(copy)
    draft.text, draft.flags, draft.noted, draft.stray, draft.unsure = new.text, [], [], list(new.stray), list(new.unsure)
    draft.question, draft.asks, draft.replies, draft.figures = new.question, [], [], list(new.figures)
    return draft


def without_component(old: Draft, new: Draft) -> Draft | Doubt | None:
    """ "no perlite": a mix without one of its components, where what the others are to be is plain; else the question. None where it is no such line."""
    gone = left_out(new)
    if not gone or new.places or new.unsure or new.figures:
        return None
    recipe = next((r for r in [old.recipe, *(place.recipe for place in old.places)] if r), [])
    names = [name for name, _ in recipe]
    if gone not in names or gone == "castings":
        return cleared(old.copy(), new)  # there is none in it
    rest = [(name, part) for name, part in recipe if name != gone]
    if len(rest) < 2:
        return None
    share = next((part for name, part in rest if name == "castings"), 0.0)
    others = sum(part for name, part in rest if name != "castings")
    kept = [(name, part if name == "castings" else part * (1 - share) / others) for name, part in rest]
    whole = sum(part for _, part in rest)
    as_parts = [(name, part / whole) for name, part in rest]
    told = tuple(", ".join(f"{100 * part:.4g} % {name.replace('-', ' ')}" for name, part in one) for one in (as_parts, kept))
    return Doubt(f"Without {gone}: “{told[0]}”, by the parts left, or “{told[1]}”, the castings kept?", new.text, told, told)


def left_out(new: Draft) -> str:
    """The component that a line says there is none of; empty where it says no such thing."""
    phrases = [one for one in parse(new.text).phrases if type(one) is Said]
    for at, phrase in enumerate(phrases[:-1]):
        after = phrases[at + 1]
        if after.kind == "component" and (phrase.kind == "deny" or (phrase.kind, phrase.id) == ("reply", "drop-place")):
            return after.id
    return ""


def one_and_the_other(old: Draft, new: Draft) -> Draft | None:
    """ "10 inches one and 12 the other", of two beds of one size; None where it is no such line."""
    found = _ONE_OTHER.search(new.text)
    place = old.places[-1] if len(old.places) == 1 else None
    if found is None or place is None or place.count != 2:
        return None
    name = next((unit_ for unit_, says in (("centimetre", "cm"), ("inch", "in"), ("foot", "f"), ("metre", "m")) if (found[2] or found[4] or "").lower().startswith(says)), "")
    if not name:
        return None
    draft = old.copy()
    draft.places.append(draft.copy().places[0])
    for one, value in zip(draft.places, (float(found[1]), float(found[3])), strict=True):
        one.count, one.depth = 1.0, Span(value, value, name)
    return cleared(draft, new)


def more_of_them(old: Draft, new: Draft) -> Draft | str | None:
    """ "plus 17 peppers", of 12 peppers: so many more of the same; None where the line brings in something else."""
    one = new.places[0] if len(new.places) == 1 else None
    if one is None or not one.count or one.kind not in ("plant", "container") or one.has_size or one.layer or one.share or one.rate or new.unsure or new.way:
        return None
    hits = [i for i, place in enumerate(old.places) if place.noun == one.noun and place.count]
    if len(hits) != 1 or is_named(one):
        return None
    place = old.places[hits[0]]
    assert place.count is not None
    if not _MORE.match(new.text):
        return None if not _AND_SO_MANY.match(new.text) else f"Are there {one.count:g} {one.printed} more than the {place.count:g}, or {one.count:g} in all? Say how many there are in all."
    draft = old.copy()
    draft.places[hits[0]].count = place.count + one.count
    return cleared(draft, new)


def moved_over(before: Draft, now: Draft, new: Draft, there: Sequence[int] = ()) -> Draft | None:
    """ "wait, wrong bed": what the turn before changed of a place is taken back there and done to the other, or to the one that is named; None where it is not so plain."""
    if len(before.places) != len(now.places):
        return None
    at = [i for i, (was, one) in enumerate(zip(before.places, now.places, strict=True)) if was != one]
    others = list(there) or [i for i in range(len(now.places)) if i not in at]
    if len(at) != 1 or len(others) != 1 or others[0] == at[0]:
        return None
    was, one = before.places[at[0]], now.places[at[0]]
    draft = before.copy()
    for name in ("share", "depth", "layer", "rate", "count", "fill"):
        if getattr(was, name) != getattr(one, name):
            setattr(draft.places[others[0]], name, getattr(one, name))
    return cleared(draft, new)


def one_more(old: Draft | None, new: Draft) -> Draft | None:
    """ "another one the same", "one more like that": the last place once more."""
    if _ONE_MORE.match(new.text) is None or not all(is_bare(place) for place in new.places) or new.unsure or new.have or old is None or not old.places:
        return None
    draft = old.copy()
    draft.places[-1].count = (draft.places[-1].count or 1) + 1
    return cleared(draft, new)


def one_of_them(old: Draft, new: Draft) -> Draft:
    """ "one of them is 15 litres": one of several told apart from the rest."""
    draft = old.copy()
    place = draft.places[-1]
    said = next(text for name, text in new.replies if name == "one-of-them")
    some = bare_number(said.split()[0]) or 1.0
    if not (new.places or new.unsure or new.stray or new.question):
        place.count = some  # "and two of them"
        return cleared(draft, new)
    if place.count is None or place.count <= some:
        return merge(old, new, adding=False)
    other = old.copy().places[-1]
    place.count -= some
    other.count = some
    for one in new.places:
        lay_over(other, one)
    draft.places.append(other)
    draft.text, draft.flags, draft.noted, draft.stray = new.text, [], [], list(new.stray)
    draft.unsure = [replace(unsure, place=len(draft.places) - 1) for unsure in new.unsure]
    draft.question, draft.asks, draft.replies, draft.figures = new.question, [], [], list(new.figures)
    _place_unsure(draft, Leaning())
    return draft


# ---- values ------------------------------------------------------------------------------------------


def by_so_much(old: Draft, new: Draft, leaning: Leaning) -> Draft | str | None:
    """ "two more pots", "double the mix", "2 inches deeper": worked out where it can only mean one thing, else asked.

    None where a line is no change by so much.
    """
    if not ({"by-so-much", "cut"} & new.hints) and not (new.replies and new.replies[0][0] == "add-place"):
        return None
    index = _one_meant(old, new, leaning.touched)
    place = old.places[index] if index is not None else None
    several = [one for one in old.places if (one.count or 1) > 1]
    if new.by_so_much == "fewer" and "cut" not in new.hints and len(several) > 1 and not refers(new) and not leaning.touched:
        return which(several)
    numbers = [p.count for p in new.places if p.count is not None]
    numbers += [n for n in (bare_number(said) for said, _, _ in new.stray) if n is not None]
    if "cut" in new.hints:
        return _scaled(old, new, index, last_changed(old, [*reversed(leaning.past)]))
    adding = bool(new.replies) and new.replies[0][0] == "add-place"
    if adding and (not new.places or any(p.has_size for p in new.places) or place is None or not place.has_size
                   or new.places[0].noun != place.noun):  # fmt: skip
        return None
    if place is not None and index is not None and place.count is not None and len(numbers) == 1 and (
        adding or new.by_so_much in ("more", "fewer")
    ) and not new.unsure and not any(p.share or p.depth or p.layer for p in new.places):  # fmt: skip
        draft = old.copy()
        count = place.count + (numbers[0] if adding or new.by_so_much == "more" else -numbers[0])
        if count <= 0:
            return f"That leaves none of the {place.count:g}; how many are there?"
        draft.places[index].count = count
        return cleared(draft, new)
    if adding:
        return None
    return "From what to what? Say the new amount itself, as “12 inches deep” or “15 %”."


def _one_meant(old: Draft, new: Draft, touched: Sequence[int]) -> int | None:
    if not old.places:
        return None
    for one in refers(new):
        hits = spoken_of(one, old.places, touched)
        if hits:
            return hits[-1]
    return len(old.places) - 1


def _scaled(old: Draft, new: Draft, index: int | None, lately: str) -> Draft | str:
    """ "double the mix", "half as much": the value that is named, or the one that what each place gets hangs on."""
    text = new.text.lower()
    factor = 0.5 if "hal" in text else 3.0 if "triple" in text else 4.0 if "quadruple" in text else 2.0
    if new.figures or index is None:
        return "Of what? Say the amount itself, please."
    draft = old.copy()
    if says_all(text) and len(draft.places) > 1 and not new.places:
        for place in draft.places:
            if not (place.rate or place.layer or place.share):
                return "Of what? Say the amount itself, please."
            place.rate = _times(place.rate, factor) if place.rate is not None else None
            place.layer = [_times(one, factor) for one in place.layer]
            place.share = _times(place.share, factor) if place.share is not None else None
        return cleared(draft, new)
    target = draft.places[index]
    named = {p.kind for p in new.places}
    if _DEEP.search(text) and target.depth is not None:
        target.depth = _times(target.depth, factor)
    elif "share-word" in new.hints and target.share is not None:
        target.share = _times(target.share, factor)
    elif named & {"mix"} and target.volume is not None:
        target.volume = _times(target.volume, factor)
    elif (named or _AS_MANY.search(text) or lately == "count") and target.count is not None and "castings" not in text:
        if not (target.count * factor).is_integer():
            return f"Half of {target.count:g} is no whole number; how many are there?"
        target.count *= factor
    elif target.rate is not None and not named:
        target.rate = _times(target.rate, factor)
    elif target.layer and not named:
        target.layer = [_times(one, factor) for one in target.layer]
    elif target.volume is not None and target.kind in ("mix", "seed-mix") and target.share is None and not (named or draft.recipe or draft.parts_share):
        target.volume = _times(target.volume, factor)  # the share is the usual one, and stays so
    elif target.share is not None and not named and (lately == "share" or factor < 1):
        target.share = _times(target.share, factor)
    else:
        return "Of what? Say the amount itself, please."
    return cleared(draft, new)


def _times(span: Span, factor: float) -> Span:
    return Span(span.low * factor, span.high * factor, span.unit)


def other_unit(old: Draft, new: Draft) -> Draft:
    """ "I meant US gallons": the number stays and its unit changes."""
    draft = old.copy()
    draft.text, draft.flags, draft.noted = new.text, [], []
    wrong, right = new.not_unit, new.asked_unit
    if not right:
        return draft
    wanted = unit(right).dimension if right not in _DOUBTFUL else ""

    def changed(span: Span) -> Span:
        if not span.unit:
            return span._replace(unit=right) if wanted == "length" else span  # "3 by 2", "I meant metres"
        fits = span.unit not in _DOUBTFUL and span.dimension == wanted
        return span._replace(unit=right) if fits and (not wrong or span.unit == wrong) else span

    only_last = not wrong and wanted == "length"
    for place in draft.places:
        if only_last and place.layer:
            place.layer = [changed(one) for one in place.layer]  # "an inch … I meant cm": what was said last
            continue
        for name in _LENGTHS:
            span = getattr(place, name)
            if span is not None and not (only_last and name == "depth" and place.size):
                setattr(place, name, changed(span))
        place.size = tuple(changed(one) for one in place.size)
        place.size_unit_said = place.size_unit_said or all(one.unit for one in place.size)
        place.layer = [changed(one) for one in place.layer]
    return draft


def names_the_sides(old: Draft, new: Draft) -> bool:
    """Whether a line is only the unit of sides that were said without one: "metres"."""
    bare = not (new.places or new.unsure or new.stray or new.asks or new.have or new.asked) and new.asked_unit not in ("", *_DOUBTFUL)
    return bare and unit(new.asked_unit).dimension == "length" and any(place.size and not place.size_unit_said for place in old.places)


def only_the_sides(old: Draft, new: Draft) -> Draft:
    """The sides in the unit that was said for them; nothing else changes."""
    draft = old.copy()
    for place in draft.places:
        if place.size and not place.size_unit_said:
            place.size, place.size_unit_said = tuple(one._replace(unit=new.asked_unit) for one in place.size), True
    return cleared(draft, new)


def _place_unsure(draft: Draft, leaning: Leaning) -> tuple[str, str]:
    """A bare measure in a follow-up takes the place of the value of its kind; gives the slot it took and its unit."""
    set_ = ("", "")
    if leaning.awaiting in MEASURES:
        return set_
    left: list[Unsure] = []
    for unsure in draft.unsure:
        if not draft.places:
            if not _of_the_whole(draft, unsure):
                left.append(unsure)
            continue
        at = unsure.place if 0 <= unsure.place < len(draft.places) else _last_with(draft, unsure)
        slot = _slot_of(draft, draft.places[at], unsure)
        if not slot and draft.places[at].size and unsure.span.unit not in _DOUBTFUL and unsure.span.dimension == "length" and unsure.span.base[0] > _TOO_DEEP and draft.question is None:
            draft.question = ("which-side", f"Is “{unsure.text}” how long it is, or how wide? Say it as “{unsure.text} long”.")
        if slot == "either" and draft.question is None:
            draft.question = ("which-amount", f"Is “{unsure.text}” what there is in all, or what each gets? Say it as “{unsure.text} in all” or “{unsure.text} each”.")
        if slot == "have":
            draft.have, draft.enough = unsure.span, draft.enough or would_do(draft)
        elif slot == "soil":
            draft.soil = unsure.span
        elif slot == "water":
            draft.water = unsure.span
        elif slot:
            set_ = (slot, unsure.span.unit)
            for one in _where(draft, slot, unsure, leaning, at):
                _set(draft.places[one], slot, unsure.span)
                if slot == "rate" and in_all(draft.text) and (draft.places[one].count or 1) > 1:
                    draft.places[one].rate_whole = True
        else:
            left.append(unsure)
    draft.unsure = left
    return set_


def _last_with(draft: Draft, unsure: Unsure) -> int:
    """The last place; where that is plants and a length is said, the last before them that has a depth or a layer."""
    last = len(draft.places) - 1
    if draft.places[last].kind == "plant" and draft.places[last].has_size:
        return last
    if unsure.span.unit in _DOUBTFUL or unsure.span.dimension != "length" or draft.places[last].kind not in ("plant", "hole"):
        return last
    return next((at for at in reversed(range(last)) if draft.places[at].layer or draft.places[at].depth or draft.places[at].fill), last)


def _of_the_whole(draft: Draft, unsure: Unsure) -> bool:
    """A bare measure where no place is spoken of: the castings at hand, or a tea's water."""
    measures = unsure.span.dimension if unsure.span.unit not in _DOUBTFUL else "volume"
    if draft.have is not None and measures == "length" and draft.asked in BACKWARDS:
        draft.places.append(PlaceDraft(layer=[unsure.span]))  # "60 lb as a top dressing", "a quarter inch"
        return True
    if draft.have is not None and measures in ("volume", "weight"):
        draft.have, draft.more_have = unsure.span, []
        return True
    if draft.water is not None and unsure.span.unit in (draft.water.unit, "gallon", "litre"):
        draft.water = unsure.span  # "5 gallons of tea at 1:10", "10 gallons"
        return True
    return False


def _slot_of(draft: Draft, place: PlaceDraft, unsure: Unsure) -> str:
    """Which value a bare measure takes the place of; empty where there is none of its kind."""
    kind = unsure.span.dimension if unsure.span.unit not in _DOUBTFUL else "volume"
    if kind == "length" and _along(place, unsure):
        return "length"
    if kind == "length" and "before:way:incorporate" in unsure.cues:
        return "depth"  # "till it in 6 inches"
    if kind == "length" and unsure.span.base[0] > _TOO_DEEP:
        return ""  # no layer, and no depth of a bed: it is asked which side it is
    if kind == "length":
        if place.diameter is not None and unsure.span.unit == place.diameter.unit and (
            place.depth is None or place.depth.unit != unsure.span.unit
        ):  # fmt: skip
            return "diameter"
        if place.kind == "plant" and place.has_size and unsure.span.base[1] <= _THIN:
            return "layer"  # round a tree
        if place.depth is not None and not place.layer and unsure.span.base[1] <= _THIN and unsure.span.base[1] * 3 < place.depth.base[0]:
            return "layer" if place.share is None else ""  # "line it with an inch", of a trench a foot deep
        slot = "layer" if place.layer or draft.way == "top-dress" else "depth" if place.depth else "fill" if place.fill else ""
        return "layer" if slot == "" and place.area and not place.share else slot
    if kind not in ("volume", "weight"):
        return ""
    if draft.asked == "share" and draft.have is not None and place.volume is not None and unsure.cues & {"before:link:in", "before:link:into", "before:link:of"}:
        return "volume"  # "in 60 litres?", of what 6 litres are a share of
    if draft.asked == "plants" and draft.have is not None and not unsure.cues & {"before:link:on-hand", "before:link:with"} and (
        "before:link:at" in unsure.cues or (unsure.span.unit in _OF_A_PLANT and unsure.span.unit != draft.have.unit)
    ):  # fmt: skip
        return "rate"
    if draft.have is not None and (
        unsure.cues & {"before:link:on-hand", "before:link:with"}
        or (draft.asked in BACKWARDS and (re.search(r"\b(?:had|have|got)\b", draft.text.lower()) or (
            unsure.span.unit == draft.have.unit and (place.rate is None or place.rate.unit != unsure.span.unit))))
    ):  # fmt: skip
        return "have"
    if (draft.have is not None or would_do(draft)) and (by_size := slot_by_size(draft, place, unsure)):
        return by_size
    if place.rate is not None or (place.kind in ("plant", "hole") and draft.have is None):
        return "rate"
    if draft.have is not None:
        return "have"
    if draft.water is not None:
        return "water"
    if draft.soil is not None and place.volume is None and not place.has_size:
        return "soil"
    return "volume" if place.volume is not None and kind == "volume" else ""


def _along(place: PlaceDraft, unsure: Unsure) -> bool:
    """Whether a bare length is how long a row is: "only 25 feet"."""
    long = place.noun in ("row", "trench") or place.length is not None
    return long and unsure.span.base[0] > _TOO_DEEP


def _where(draft: Draft, slot: str, unsure: Unsure, leaning: Leaning, at: int) -> list[int]:
    """The places that a bare measure is for: the one it was said of, else all that have the value alike."""
    if unsure.place != ANYWHERE or len(draft.places) == 1:
        return [at]
    have = [i for i, place in enumerate(draft.places) if getattr(place, slot)]
    if len(have) < 2 or slot in ("volume", "diameter"):
        return have or [at]
    if slot == "rate" and leaning.touched:
        return [i for i in have if i in leaning.touched] or [at]
    found = have if says_all(draft.text) else alike_or_touched(draft, have, slot, leaning.touched)
    if not found and draft.question is None:
        draft.question = ("which", which([draft.places[i] for i in have]))
    return found


def _set(place: PlaceDraft, slot: str, span: Span) -> None:
    if slot == "length" and place.size:
        lay_over(place, PlaceDraft(length=span))
    elif slot == "layer":
        place.layer = [span]
        place.share = None
    else:
        setattr(place, slot, span)


def place_stray(draft: Draft, leaning: Leaning, awaiting: str) -> None:
    """A bare number in a follow-up: how many, or the depth in the unit that goes with the sides."""
    if len(draft.stray) != 1 or _as_ratio(draft):
        return
    value = bare_number(draft.stray[0][0])
    if value is None or not draft.places or _AFTER_UNIT.search(draft.text[: draft.stray[0][1]]):
        return
    place = draft.places[-1]
    if value < 1 and awaiting == "layer" and not draft.unsure and not any("metre" in side.unit for side in place.size):
        place.layer, draft.stray = [Span(value, value, "inch")], []  # "1/4", of how thick a layer
        draft.flags.append(("bare-number", f"{value:g} inch"))
        return
    if value < 1:
        _part_of_it(draft, place, value)
        return
    if _BACK_TO.search(draft.text) and as_before(draft, place, value, leaning.past):
        return
    if value == 1 and says_only(draft.text) and draft.text.lower().rstrip(" .!").endswith("one"):
        place.count, draft.stray = 1.0, []
        return
    of_them = _OF_THEM.search(draft.text) is not None
    held = bool(getattr(draft if leaning.slot in ("have", "water", "soil") else place, leaning.slot)) if leaning.slot else False
    if held and not leaning.awaiting and place.count is None and not of_them:
        if leaning.slot == "volume" and place.share is not None and value <= 100:
            return  # "go down to 5": litres, or percent
        _set(place, leaning.slot, Span(value, value, leaning.unit))
        draft.flags.append(("bare-number", f"{value:g} {leaning.unit.replace('_', ' ')}, the unit spoken before"))
        draft.stray = []
        return
    if awaiting in ("depth", "layer") and _PRICED.search(draft.text):
        draft.question = ("price", f"“{draft.stray[0][0]}”: in which money? Say it as “${draft.stray[0][0]} each”")
        return
    if awaiting in ("depth", "layer"):
        metric = any("metre" in span.unit for span in place.size)
        _set(place, awaiting, Span(value, value, "centimetre" if metric else "inch"))
        draft.flags.append(("bare-number", f"{value:g} {'cm' if metric else 'inches'}"))
        draft.stray = []
    elif (awaiting == "count" or of_them) and value == int(value) and value > 0 and not _FOR_SOME.search(draft.text) and not (draft.unread and len(draft.places) > 1) and (
        of_them or ends_the_line(draft.text[draft.stray[0][2] :], draft.stray[0][0])
    ) and (
        place.count is not None or place.kind in ("plant", "hole", "container") or leaning.awaiting == "count" or of_them
    ):  # fmt: skip
        counted = [i for i, one in enumerate(draft.places) if (one.count or 1) > 1]
        lately = [i for i in counted if i in leaning.touched]
        open_to = counted if len(counted) > 1 else [] if counted else [*range(len(draft.places))]
        if len(open_to) > 1 and not [i for i in leaning.touched if i in open_to] and awaiting == "count" and not leaning.awaiting and draft.question is None:
            draft.question = ("which", which([draft.places[i] for i in open_to]))
            return
        draft.places[lately[0] if len(counted) > 1 and len(lately) == 1 else -1].count = value
        draft.stray = []


def _part_of_it(draft: Draft, place: PlaceDraft, value: float) -> None:
    """ "only half of it", "half of them": a part of the place, or of so many; "half the layer" of its value."""
    text = draft.text.lower()
    if _GETS_NONE.search(text) and value < 1:
        draft.flags.append(("left-out", f"{draft.stray[0][0]} of it gets none"))
        value, draft.figures = 1 - value, []  # "a third of it gets none"
    if draft.unsure or len({said for _, said in draft.figures}) > 1 or re.search(r"\b(?:rest|other)\b", text):
        return  # "half of it with half an inch, the rest an inch"
    if re.search(r"\bof (?:it|that|this|the (?:bed|plot|lawn|row|border|patch))\b", text) and (place.count or 1) == 1 and place.portion is None:
        place.portion, draft.stray = value, []
    elif re.search(r"\bof (?:them|those|these)\b", text) and place.count and (place.count * value).is_integer():
        place.count, draft.stray, draft.figures = place.count * value, [], []
    elif "role:thick" in draft.hints and place.layer:
        place.layer, draft.stray, draft.figures = [_times(one, value) for one in place.layer], [], []
    elif "role:depth" in draft.hints and place.depth is not None:
        place.depth, draft.stray, draft.figures = _times(place.depth, value), [], []
    elif "share-word" in draft.hints and place.share is not None:
        place.share, draft.stray, draft.figures = _times(place.share, value), [], []
        draft.asked = "" if draft.asked == "share" else draft.asked  # the word names what is halved, and asks for nothing
    draft.hints -= {"role:thick", "role:depth", "share-word"}


def as_before(draft: Draft, place: PlaceDraft, value: float, past: Sequence[Draft]) -> bool:
    """ "back to one", "back to 10": the value that stood there in an earlier turn, where only one fits."""
    found: dict[str, object] = {}
    for before in past:
        if len(before.places) != len(draft.places):
            continue
        earlier = before.places[-1]
        if (earlier.count or 1) == value != (place.count or 1):
            found["count"] = earlier.count
        for name in ("depth", "share", "rate", "volume", "diameter", "fill"):
            span = getattr(earlier, name)
            if span is not None and span.low == span.high == value and span != getattr(place, name):
                found[name] = span
        if earlier.layer and earlier.layer[0].low == value and earlier.layer != place.layer:
            found["layer"] = list(earlier.layer)
    if len(found) != 1:
        return False
    for name, one in found.items():
        setattr(place, name, one)
    draft.stray, draft.figures = [], []
    return True


def _as_ratio(draft: Draft) -> bool:
    """ "1:4" after a mix: the smaller part is castings."""
    ratio = _RATIO.fullmatch(draft.stray[0][0].strip())
    if ratio is None or not (draft.parts_share is not None or draft.recipe):
        return False
    parts = sorted(float(one) for one in ratio.groups())
    share = 100 * parts[0] / sum(parts)
    others = [name for name, _ in draft.recipe if name != "castings"]
    if len(others) == 1 and len(draft.recipe) == 2:
        draft.recipe, draft.stray = [("castings", share / 100), (others[0], 1 - share / 100)], []
    else:
        draft.parts_share, draft.recipe, draft.stray = Span(share, share, "percent"), [], []
    draft.flags.append(("ratio-order", f"the smaller part of {ratio.group(0)} is taken as castings"))
    draft.figures = []
    return True
