"""How many of what was spoken of an amount does: "how many of those beds could I do with 200 litres?".

The amount is what there is, and what each of them takes was told before; the line is put so that it says both.
"""

from __future__ import annotations

import re

from grammar.draft import Draft, PlaceDraft
from grammar.parse import parse
from grammar.phrases import Amount, Measure, Phrase, Said, Share
from grammar.reads import span
from grammar.said import dimension, is_said, single
from grammar.words import plural

_KINDS = ("ground", "container", "plant", "hole")
#: What points at the places spoken of, or names the amount as what they are filled from.
_THOSE = re.compile(r"\b(?:of (?:those|these|them|that|this)|like (?:this|that|those|these|it|them)|such|(?:of )?(?:this|that|the same) (?:size|kind|sort|depth)|the same)\b", re.IGNORECASE)
_WITH = re.compile(r"\b(?:with|from|out of|using|on|have|got|will|would|does|do|can|could|if there (?:is|are))\s+(?:i |we |you )?(?:only |just |about |around |roughly )*(?:have |get |use |got )?(?:a |an |my |one |the )?$", re.IGNORECASE)
_ENOUGH_FOR = re.compile(r"^\s*(?:of castings )?(?:(?:is|are|would be|will be)\s+)?(?:enough|sufficient|good|do|does|be enough)\b", re.IGNORECASE)


def as_many(line: str, old: Draft) -> str:
    """The line that asks how many of what was spoken of an amount does, said in full; any other line as it is."""
    if "how many" not in line.lower() or not old.places:
        return line
    phrases = parse(line).phrases
    amounts = [p for p in phrases if type(p) is Amount]
    one = single(amounts[0]) if len(amounts) == 1 else None
    if type(one) is not Measure or one.per is not None or one.role or any(type(p) is Share for p in phrases):
        return line
    if (dimension(one) not in ("volume", "weight") and one.kind != "unclear-unit") or not any(is_said(p, "ask", "how-many") for p in phrases):
        return line
    at = phrases.index(amounts[0])
    after = phrases[at + 1] if at + 1 < len(phrases) else None
    packed = is_said(after, "pack")
    others = [p for p in phrases if type(p) is Said and p.kind in (*_KINDS, "mix", "seed-mix", "component", "way", "pack", "per", "unit", "unclear-unit") and not (packed and p is after)]
    nouns = [p for p in others if type(p) is Said and p.kind in _KINDS]
    if len(others) != len(nouns) or len(nouns) > 1 or any(is_said(p, "link", "each") for p in phrases) or (nouns and nouns[0] is after):
        return line
    place = _spoken_of(nouns[0] if nouns else None, old)
    pointed = _THOSE.search(line) is not None
    if place is None or not (pointed or nouns) or not (_WITH.search(line[: one.start]) or _ENOUGH_FOR.match(line[one.end :])):
        return line
    end = after.end if packed and isinstance(after, Said) else one.end
    bag = "a " if packed else ""
    noun = place.printed or place.noun
    noun = noun if noun.endswith("s") else plural(noun)
    each = f" at {span(place.rate)} each" if place.kind in ("plant", "hole") and place.rate is not None and place.rate_per is None and not place.rate_whole else ""
    return f"I have {bag}{line[one.start : end]} of castings, how many {noun}{each}"


def _spoken_of(noun: Phrase | None, old: Draft) -> PlaceDraft | None:
    """The place of which so many are asked: the one of that noun, or the only one."""
    if noun is None:
        return old.places[0] if len(old.places) == 1 and old.places[0].kind in _KINDS else None
    hits = [place for place in old.places if type(noun) is Said and place.noun == noun.id]
    return hits[0] if len(hits) == 1 else None
