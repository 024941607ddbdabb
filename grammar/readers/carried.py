"""What a vehicle is to carry: "will a pickup carry 1 cubic yard", "can my car take 10 bags of 40 lb".

What a vehicle may carry stands on its own plate and is nowhere known; what the castings weigh is.
"""

from __future__ import annotations

import re

from ..draft import Draft
from ..later import later
from ..phrases import Amount, Measure, Phrase, Said
from ..said import dimension, is_said, single

#: Vehicles among the things that are no business of castings.
_VEHICLES = later(r"(?:car|truck|van|lorry|trailer)s?")
_CARRIES = later(r"\b(?:carry|carries|haul|hauls|take|takes|hold|holds|handle|handles|tow|tows|bear|bears|manage|fit|fits|safe|too much for)\b",
                      re.IGNORECASE)  # fmt: skip

#: What else may be asked of the load: "my truck can carry 1200 lb, how many yards is that".
_OTHER = later(r"\bhow many\b|\bin (?:cubic \w+|yards|litres|liters|gallons|buckets)\b", re.IGNORECASE)


def find_carried(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """The phrases without the vehicle, where an amount is asked about that it is to carry: its weight is what is asked."""
    vehicle = [at for at, phrase in enumerate(phrases) if _is_vehicle(phrase)]
    amounts = [phrase for phrase in phrases if _load(phrase)]
    if not vehicle or len(amounts) != 1 or not _CARRIES.search(draft.text):
        return phrases
    if any(isinstance(p, Said) and p.kind in ("ground", "container", "plant", "hole", "way") for p in phrases):
        return phrases
    draft.hints |= {"vehicle", "on-hand"}
    if not _OTHER.search(draft.text):
        draft.asked = "weight"
    kept: list[Phrase] = []
    for at, phrase in enumerate(phrases):
        verb = is_said(phrase, "unknown") and isinstance(phrase, Said) and _CARRIES.fullmatch(phrase.text) is not None
        if at in vehicle or verb or is_said(phrase, "hint", "carried") or is_said(phrase, "ask", "enough", "cover", "can-i") or is_said(phrase, "link", "volume-word") or (
            is_said(phrase, "topic", "too-much")
        ):  # fmt: skip
            continue
        one = single(phrase)
        if type(one) is Measure and one.unit == "yard":
            one = one._replace(unit="cubic_yard", kind="unit")
            phrase = Amount((one,), one.start, one.end)
        kept.append(phrase)
    return kept


def _is_vehicle(phrase: Phrase) -> bool:
    if is_said(phrase, "hint", "vehicle"):
        return True
    return is_said(phrase, "other-thing", "house-thing") and isinstance(phrase, Said) and _VEHICLES.fullmatch(phrase.text.lower()) is not None


def _load(phrase: Phrase) -> bool:
    """An amount by volume or weight; a bare yard is one of volume, since nothing is carried by the length."""
    one = single(phrase) if type(phrase) is Amount else None
    return type(one) is Measure and one.per is None and dimension(one) in ("volume", "weight", "length or volume")
