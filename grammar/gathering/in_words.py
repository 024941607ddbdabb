"""Questions in words that no one word gives away: one way instead of another, what is kept, what else goes into a mix.

Each adds a topic to the draft, or what is asked, where a line tells of no amount that it could be of.
"""

from __future__ import annotations

import re

from ..draft import Draft
from ..later import later
from ..phrases import Amount, Phrase, Price, Said, Share
from ..said import single

#: How one way is set against another.
_AGAINST = later(
    r"\b(?:replac(?:e|es|ing)|substitute|sub|stand in|instead of|in place of|in lieu of|rather than|as good as|as well as|as effective as|"
    r"as useful as|equal to|better than|worse than|beats?|same (?:as|thing as|job as|good as)|do the (?:job|work) of|make up for|count as|"
    r"take the place of|swap|switch(?:ing)? from|enough without|or (?:just|simply|rather|should))\b",
    re.IGNORECASE,
)
#: How a question begins that wants a yes or a no.
_ASKS = later(
    r"(?:^|[.,;:!?]|\b(?:and|but|so|wondering|know|tell me|wonder)\b)\s*(?:if|whether)?\s*"
    r"(?:would|will|can|could|does|do|is|are|should|may|might|why)\b",
    re.IGNORECASE,
)

#: What is kept for later, how, and where or until when.
_KEPT = r"(?:bags?|sacks?|castings?|leftovers?|left over|the rest|remainder|the remaining|the other half|what's left|what is left|surplus|extra)"
_KEEPING = (
    r"(?:leav(?:e|ing)|keep(?! \w+ing)|keeping|stor(?:e|ing)|stash|stow|put|sit|stand|stay|park|hold|sav(?:e|ing)|last|surviv(?:e|ing)|freez(?:e|ing)|"
    r"over-?winter|do with|do i do|ok(?:ay)?|all right|alright|fine|safe|good|usable|usefulness|wait)"
)
_KEPT_WHERE = (
    r"(?:garages?|sheds?|basement|cellar|barn|porch|attic|loft|cupboard|closet|outside|outdoors|utility room|tote with a lid|"
    r"(?:over|through|for|during|all|until|till|into) (?:the )?(?:winter|spring|next (?:year|spring|season)|summer|autumn|fall)|next (?:year|spring|season)|"
    r"the cold|the heat|the sun|the rain|the dark|a year|a few months)"
)
_KEEPS = later(rf"(?=.*\b{_KEPT}\b)(?=.*\b{_KEEPING}\b)(?=.*\b{_KEPT_WHERE}\b)", re.IGNORECASE | re.DOTALL)

#: What is asked of a mix beside its castings.
_ELSE = later(
    r"\b(?:what else|how much of (?:everything else|the rest|the other (?:stuff|things|ingredients|parts))|how much (?:is |are )?(?:the rest|the others?)"
    r"|what(?:'s| is| are)? the rest|what (?:do|should|would) i need (?:besides|beside|apart from|other than|along with|on top of|in addition to)"
    r"|(?:besides|apart from|other than|in addition to|along with|with) (?:the )?(?:worm )?castings,? what"
    r"|what (?:goes|do i (?:mix|put|combine|blend)|should i (?:mix|put|combine|blend)|would i mix) (?:in |in along )?(?:with )?(?:the )?(?:worm )?castings)\b",
    re.IGNORECASE,
)
#: What a question of that kind leaves open for what it is asked.
_ELSE_FOR = later(r"\b(?:need|goes?|put|add|use|mix|buy|get|in it|rest|combine|blend)\b", re.IGNORECASE)
#: What the rest of a mix is not asked of.
_NOT_MIXED = frozenset({"top-dress", "side-dress", "planting-hole", "tea", "incorporate"})


#: What share is usual: a question in words.
_USUAL_SHARE = later(
    r"\b(?:what|which|what's the) (?:percentage|percent|share|ratio|proportion|rate|concentration|%)(?=\s)(?=.{0,120}\b(?:usual(?:ly)?|normal(?:ly)?|common(?:ly)?|typical(?:ly)?|"
    r"standard|recommended?|ideal|advised|(?:do|does) (?:most )?(?:people|growers|gardeners|everyone)|is right|most (?:people|gardeners|growers))\b)",
    re.IGNORECASE,
)
#: A component asked for at the end, beside castings at hand: "soil to add?".
_TO_ADD = later(
    r"(?:^|[;,.:])\s*(?:how much )?(?:the )?(soil|compost|coir|peat|potting soil|topsoil|dirt)(?: is| do i need)? (?:to (?:add|mix in|go with (?:it|them)|buy)|needed|required)\s*\??\s*$",
    re.IGNORECASE,
)


def in_words(draft: Draft, phrases: list[Phrase], *, leaning: bool) -> None:
    """Every rule of this kind; `phrases` are those that the pass went over, `leaning` as for `gather`."""
    said = draft.text
    low = said.lower()
    if ("what" in low or "else" in low or "rest" in low or "other" in low) and (
        "else" in said or "rest" in said or "besides" in said or "with" in said or "than" in said or "from" in said
    ):  # fmt: skip
        _the_rest_asked(draft, leaning=leaning)
    added = _TO_ADD.search(said) if (draft.have is not None or draft.unsure) and draft.asked in ("", "castings") else None
    if added is not None and any(place.share is not None for place in draft.places) and not any(place.has_size for place in draft.places):
        draft.asked, draft.asked_noun = "soil", "soil"
        draft.asks = [one for one in draft.asks if one != "how-much"]
    if any(type(p) in (Share, Price) or (type(p) is Amount and not getattr(single(p), "article", False)) for p in phrases):
        return
    _one_way_for_another(draft, phrases)
    if _USUAL_SHARE.search(said) and not any(place.has_size for place in draft.places):
        draft.topics.append("blend")
        draft.places = [place for place in draft.places if not place.is_empty]
    if not (draft.topics or draft.places or draft.way) and _KEEPS.match(said) and ("?" in said or draft.asks or _ASKS.search(said)):
        draft.topics.append("storage")
        draft.hints.add("topic:bag")


def _one_way_for_another(draft: Draft, phrases: list[Phrase]) -> None:
    """ "can tea stand in for side dressing", "is top dressing as good as mixing it in": two ways and how they stand to each other."""
    ways = []
    for phrase in phrases:
        name = _way_of(phrase)
        if name and name not in ways:
            ways.append(name)
    if len(ways) < 2 or not _AGAINST.search(draft.text) or not ("?" in draft.text or _ASKS.search(draft.text)):
        return
    draft.topics.append("tea-or-castings" if "tea" in ways else "which-way")
    draft.not_ways.clear()


def _way_of(phrase: Phrase) -> str:
    """The way that a phrase names, also where it stands within a topic's words; empty where it names none."""
    if type(phrase) is not Said:
        return ""
    if phrase.kind == "way":
        return phrase.id
    if phrase.kind == "hint" and phrase.id == "mixed-in":
        return "incorporate"
    return "tea" if phrase.kind == "topic" and "tea" in phrase.text.lower().split() else ""


def _the_rest_asked(draft: Draft, *, leaning: bool) -> None:
    """ "40 L of mix at 10 % castings, what else do I need": the rest of the mix; without a mix it is a question in words."""
    found = _ELSE.search(draft.text)
    if found is None or not _ELSE_FOR.search(draft.text[found.start() :]) or draft.recipe or (set(draft.asks) - {"cover", "how-much", "what-is", "how-to"}):
        return
    shared = [place for place in draft.places if place.share is not None]
    if not (shared or draft.parts_share):
        if not draft.figures and not leaning and "castings-named" in draft.hints | {"castings-named" if "mix" in draft.text.lower() else ""}:
            draft.topics.append("components")
        return
    way = draft.way or (draft.places[0].way if draft.places else "")
    if draft.asked in ("", "castings") and not draft.asked_unit and len(draft.places) == 1 and way not in _NOT_MIXED and "existing-soil" not in draft.hints:
        draft.asked, draft.asked_noun = "soil", "soil"
