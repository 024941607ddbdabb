"""What a bare amount of a follow-up is where each plant gets so much: what each gets, or castings at hand.

"will 2 gallons do?" after 14 roses at 2 cups each is castings at hand, and so is "and 20 litres?" after a quarter
litre each out of 10 litres; "would half a cup do?" is what each gets. The unit tells nothing there, the size does.
Vessels counted in a follow-up, "and two buckets?", are castings at hand as well.
"""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from dataclasses import replace

from grammar.draft import Draft, PlaceDraft, Unsure
from grammar.quantities import Span, factor, unit

#: What is asked if it would do, and is not "and if I only do".
_WOULD_DO = re.compile(r"\b(?:do|does|enough|suffice|cover|get by|manage|make do|last)\b(?!\s+(?:i|we|you|it for each)\b)[^?]*\??\s*$|\bget by with\b|\bmake do with\b|\bmanage with\b", re.IGNORECASE)
#: "I have 5 gallons", "we've got 2 buckets".
_HELD = re.compile(
    r"\b(?:(?:i|we)['’]ve|(?:i|we)(?: only| just| already)? (?:have|got)|there(?:['’]s| is| are))(?: only| just| already)?(?: got)? "
    r"(?:only |just |about |around |like |roughly |exactly )*(?:\d|an? (?!few)|half|one |two |three |four |five |six )", re.IGNORECASE)
#: What may stand before an amount that is asked about alone: "and 5 gallons?"
_OPENING = frozenset({"and", "or", "so", "ok", "what", "about", "how", "with", "if", "then", "of", "castings", "a", "total"})
_EACH = re.compile(r"\b(?:each|apiece|per|every|a (?:plant|piece|hole|tree|bush|pot|head))\b", re.IGNORECASE)
_IN_ALL = re.compile(r"\b(?:in all|all told|altogether|in total)\b", re.IGNORECASE)
#: The greater and the lesser are that many times apart before the size of an amount tells which of them it is.
_APART = 4.0
#: How near the middle of the two, as a part of the way between them, an amount fits both.
_MIDDLE = (0.4, 0.6)
#: The same where it is asked of an amount if it is enough, which is sooner said of what there is.
_MIDDLE_ENOUGH = (0.0, 0.5)
#: A unit of more than one size is as good as any of them for telling two amounts apart.
_ROUGHLY = {"gallon": "us_gallon", "quart": "us_quart", "pint": "us_pint"}
#: What castings are carried in, and counted by.
_VESSELS = ("bucket", "tub", "barrel", "bin", "trug")


def in_all(line: str) -> bool:
    """Whether a line says of its amount that it is for all together: "5 cups in all"."""
    return _IN_ALL.search(line) is not None


def would_do(draft: Draft) -> bool:
    """Whether a line asks of an amount if it is enough, "will 2 gallons do?", or says that it is all there is."""
    if in_all(draft.text):
        return True  # what there is in all is held against what all of them get
    if _is_held(draft.text) or _is_all_there_is(draft):
        return True
    asked = draft.enough or bool({"cover", "enough"} & {*draft.asks})
    return asked and _WOULD_DO.search(draft.text) is not None and _EACH.search(draft.text) is None


def _is_held(line: str) -> bool:
    """ "I have 5 gallons", "we've got a bucketful": castings at hand, and not what each gets."""
    return _HELD.search(line) is not None and _EACH.search(line) is None


def _is_all_there_is(draft: Draft) -> bool:
    """ "5 gallons?" of plants at a cup each, where it is far more than all of them get."""
    place = draft.places[-1] if draft.places else None
    if len(draft.unsure) != 1 or place is None or place.rate is None or place.rate_per is not None or place.rate_whole or not draft.text.rstrip().endswith("?"):
        return False
    rest = draft.text.lower().replace(draft.unsure[0].text.lower(), " ")
    whole = draft.have if draft.have is not None else _of_all(place)
    sizes = [None if one is None else _size(one) for one in (place.rate, draft.unsure[0].span, whole)]
    if not {*re.findall(r"[a-z]+", rest)} <= _OPENING or any(one is None for one in sizes) or len({one[1] for one in sizes if one}) != 1:
        return False
    each, amount, all_ = (one[0] for one in sizes if one)
    return amount >= all_ and amount >= each * _APART


def slot_by_size(draft: Draft, place: PlaceDraft, unsure: Unsure) -> str:
    """ "have" or "rate", whichever an amount is nearer to in size; "either" between the two; empty where the size does not tell."""
    if place.rate is None or place.rate_per is not None or _EACH.search(draft.text):
        return ""
    if place.rate_whole:
        return "have" if would_do(draft) and not in_all(draft.text) else ""
    if in_all(draft.text) or _is_held(draft.text):
        return "have"
    whole = draft.have if draft.have is not None else _of_all(place)
    if whole is None:
        return ""
    each, amount, all_ = _size(place.rate), _size(unsure.span), _size(whole)
    if each is None or amount is None or all_ is None:
        return ""
    if not each[1] == amount[1] == all_[1]:
        return "either" if would_do(draft) and amount[1] != each[1] else ""  # "will 5 kg do?", at a cup each
    if amount[0] >= all_[0] > each[0]:
        return "have"
    if amount[0] <= each[0] < all_[0]:
        return "rate"
    if all_[0] < each[0] * _APART:
        return "either" if all_[0] > each[0] else ""
    along = math.log(amount[0] / each[0]) / math.log(all_[0] / each[0])
    least, most = _MIDDLE_ENOUGH if would_do(draft) and draft.have is None else _MIDDLE
    return "rate" if along < least else "have" if along > most else "either"


def _of_all(place: PlaceDraft) -> Span | None:
    if place.rate is None or not place.count:
        return None
    return Span(place.rate.low * place.count, place.rate.high * place.count, place.rate.unit)


def _size(span: Span) -> tuple[float, str] | None:
    name = _ROUGHLY.get(span.unit, span.unit)
    if name in ("ton", "yard", "") or span.low <= 0:
        return None
    return math.sqrt(span.low * span.high) * factor(name), unit(name).dimension


def more_vessels(old: Draft, new: Draft, past: Sequence[Draft]) -> Draft | None:
    """ "and two buckets?" after "a 5 gallon bucket of castings": so many of them at hand. None where it is no such line.

    Where no turn told how much one bucket holds, the line asks for it.
    """
    place = new.places[0] if len(new.places) == 1 else None
    if old.have is None or place is None or place.noun not in _VESSELS or not place.count or new.unsure or new.stray or new.have:
        return None
    if replace(place, count=None, tie="").has_size or place.share or place.layer or place.rate or any(one.noun == place.noun for one in old.places):
        return None
    one = next((span for draft in reversed([*past, old]) if (span := _one_holds(draft, place.noun)) is not None), None)
    told = new.copy()
    told.places = []
    if one is None:
        told.question = ("pack", f"How much castings is there in one {place.noun}?")
        return told
    told.have = Span(one.low * place.count, one.high * place.count, one.unit)
    told.flags.append(("packs", f"{place.count:g} {place.printed or place.noun} of {one.low:g} {one.unit.replace('_', ' ')}s each"))
    told.figures = [figure for figure in told.figures if figure[0] != place.count]
    return told


def _one_holds(draft: Draft, noun: str) -> Span | None:
    """What one bucket holds, as the castings at hand were told in it: "a 5 gallon bucket"."""
    if draft.have is None or not draft.have.is_point:
        return None
    texts = [said for value, said in draft.figures if value == draft.have.low]
    told = any(re.search(rf"(?<!\d )(?<!two )(?<!three )(?<!four ){re.escape(said)}s?[ -]{noun}\b", draft.text, re.IGNORECASE) for said in texts)
    return draft.have if told else None
