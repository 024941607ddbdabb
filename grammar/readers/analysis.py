"""An analysis of the castings that the request states: N, P, K in per cent, the EC, and the moisture.

"1.2% N, 0.5% P", "N 1.1% P 0.4% K 0.6%", "1.5-0.7-1 NPK", "EC 5 dS/m". These shares are no shares of a mix,
so they are taken out before anything else is read.
"""

from __future__ import annotations

import re

from ..draft import Draft
from ..later import later
from ..phrases import Measure, Number, Phrase, Said, Share
from ..quantities import Span
from ..said import dimension, is_said, single

#: What stands beside a figure, and the nutrient it names.
_NAMES = {
    "n": "nitrogen",
    "nitrogen": "nitrogen",
    "p": "phosphorus",
    "phosphorus": "phosphorus",
    "phosphate": "phosphate",
    "p2o5": "phosphate",
    "k": "potassium",
    "potassium": "potassium",
    "potash": "potash",
    "k2o": "potash",
}
#: The order of the three figures of a label; by custom they are N, P2O5 and K2O.
_LABEL = ("nitrogen", "phosphate", "potash")
_EC_UNIT = "decisiemens_per_metre"


def find_analysis(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """The phrases without the analysis, which goes onto the draft."""
    used = _listed(phrases, draft) or _label(phrases, draft)
    used |= _salts(phrases, draft)
    used |= _shares(phrases, draft, used)
    if not used:
        return phrases
    # "1.2 % nitrogen, dry basis": that is how laboratories state it, and asks for no dry weight
    used |= {at for at, phrase in enumerate(phrases) if is_said(phrase, "hint", "dry-weight") and "basis" in draft.text[phrase.start : phrase.end].lower()}
    return [phrase for at, phrase in enumerate(phrases) if at not in used]


def names_nutrient(text: str) -> bool:
    """Whether a text may name a nutrient, by a capital letter, a formula or a word: a quick look, before any is looked for."""
    if "N" in text or "P" in text or "K" in text:
        return True
    said = text.lower()
    return "nitrogen" in said or "phosph" in said or "potas" in said or "p2o5" in said or "k2o" in said


def names(word: str) -> str:
    """The nutrient that a word or a capital letter names, or an empty string."""
    return _NAMES.get(_letter(word), "")


#: "N 1.8 P2O5 1.0 K2O 0.9 percent": each figure after its sign, the per cent said once or with each.
_PAIR = r"(?:N|P2O5|K2O|P|K|nitrogen|phosphorus|phosphate|potassium|potash)\s*[:=]?\s*\d+(?:\.\d+)?(?![\w.]\w?)\s*(?:%|percent|per cent)?"
_PAIRS = later(rf"(?<![\w.]){_PAIR}(?:\s*(?:[,;/]|and|&)?\s*(?<![\w.]){_PAIR}){{1,4}}")

#: A share that stands right before a sign is that sign's.
_FIGURE_FIRST = later(r"\d\s*(?:%|percent|per cent)\s*$", re.IGNORECASE)
#: The three figures of a label, "2-1-1".
_THREE = later(r"(\d{1,2}(?:\.\d+)?)-(\d{1,2}(?:\.\d+)?)-(\d{1,2}(?:\.\d+)?)")


def _listed(phrases: list[Phrase], draft: Draft) -> set[int]:
    found = _PAIRS.search(draft.text)
    if found is None or not re.search(r"%|percent|per cent", draft.text[found.start() : found.end() + 10]):
        return set()
    if _FIGURE_FIRST.search(draft.text[: found.start()]):
        return set()  # "1.5% N 0.4% P 0.6% K": each figure stands before its sign
    signs = re.findall(r"(?<![\w.])(N|P2O5|K2O|P|K|[a-z]{6,})\s*[:=]?\s*(\d+(?:\.\d+)?)(?!\w)", found[0])
    if len({names(sign) for sign, _ in signs}) != len(signs):
        return set()
    draft.analysis += [(names(sign), Span(float(value), float(value), "percent")) for sign, value in signs]
    return {at for at, phrase in enumerate(phrases) if found.start() <= phrase.start < found.end() + 1}


def _label(phrases: list[Phrase], draft: Draft) -> set[int]:
    for at, phrase in enumerate(phrases):
        if isinstance(phrase, Said) and phrase.kind == "label" and (three := _THREE.fullmatch(phrase.text)):
            draft.analysis += [(name, Span(float(value), float(value), "percent")) for name, value in zip(_LABEL, three.groups(), strict=True)]
            return {at}
        if not (is_said(phrase, "label-word", "npk") and isinstance(phrase, Said) and phrase.text.lower().startswith("n")):
            continue
        for step in (-1, 1):
            values, used = _numbers(phrases, at + step, step)
            if len(values) == 3 and all(0 <= value <= 20 for value in values):
                draft.analysis += [(name, Span(value, value, "percent")) for name, value in zip(_LABEL, values, strict=True)]
                return used | {at}
    return set()


def _numbers(phrases: list[Phrase], at: int, step: int) -> tuple[list[float], set[int]]:
    """Bare numbers with dashes between them, from an index on or back."""
    values: list[float] = []
    used: set[int] = set()
    while 0 <= at < len(phrases):
        one = single(phrases[at])
        if type(one) is Number and not one.role:
            pair = [one.low] if one.low == one.high else [one.low, one.high]
            values = pair + values if step < 0 else values + pair
            used.add(at)
        elif (
            is_said(phrases[at], "range")
            or is_said(phrases[at], "stop", "dash", "slash")
            or is_said(phrases[at], "link", "of", "is")
        ):
            used.add(at)
        else:
            break
        at += step
    return values, used


def _salts(phrases: list[Phrase], draft: Draft) -> set[int]:
    used: set[int] = set()
    for at, phrase in enumerate(phrases):
        one = single(phrase)
        named = at and is_said(phrases[at - 1], "weak-topic", "salts")
        linked = at > 1 and is_said(phrases[at - 1], "link", "of", "is", "at") and is_said(phrases[at - 2], "weak-topic", "salts")
        if type(one) is Measure and one.per is None and dimension(one) == "conductivity":
            span = Span(min(one.low, one.high), max(one.low, one.high), one.unit)
        elif type(one) is Number and not one.role and (named or linked):
            span = Span(min(one.low, one.high), max(one.low, one.high), _EC_UNIT)
            draft.flags.append(("salt-unit", f"an EC of {one.low:g} is in dS/m (the same as mS/cm)"))
        else:
            continue
        draft.analysis.append(("salt", span))
        used.add(at)
        if named or linked:
            used |= {at - 1} if named else {at - 1, at - 2}
    return used


def _shares(phrases: list[Phrase], draft: Draft, taken: set[int]) -> set[int]:
    shares = [at for at, phrase in enumerate(phrases) if type(phrase) is Share and at not in taken]
    before, after = {}, {}
    for at in shares:
        share = phrases[at]
        assert isinstance(share, Share)
        left = re.search(r"([A-Za-z0-9]+)[\s:=]*$", draft.text[: share.start])
        right = re.match(r"\s*(?:of\s+)?([A-Za-z0-9]+)\b", draft.text[share.end :])
        if left and (name := _NAMES.get(_letter(left[1]))):
            before[at] = name
        if right and (name := _NAMES.get(_letter(right[1]))):
            after[at] = name
    found = before if len(before) > len(after) or (len(before) == len(after) and shares and shares[0] in before) else after
    spelled = [name for name in found.values() if name]
    if not found or len(set(spelled)) != len(spelled):
        return set()
    used = set()
    for at, name in found.items():
        share = phrases[at]
        assert isinstance(share, Share)
        draft.analysis.append((name, Span(min(share.low, share.high), max(share.low, share.high), "percent")))
        used.add(at)
        for beside in (at - 1, at + 1):
            if (
                0 <= beside < len(phrases)
                and (one := phrases[beside])
                and type(one) is Said
                and _NAMES.get(one.text.lower()) == name
            ):
                used.add(beside)
    return used


def _letter(word: str) -> str:
    """A letter names a nutrient only as a capital: "n" may be "and"."""
    return word.lower() if len(word) > 1 or word.isupper() else ""
