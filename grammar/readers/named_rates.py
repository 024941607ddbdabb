"""A rate that has its goods named inside it: "2 gallons of tea per 100 sq ft", "a cup of castings in a gallon of water".

Such a rate is put as the plain ones are: "2 gallons per 100 sq ft", and the tea after it; "1 cup per gallon of water".
"""

from __future__ import annotations

from ..draft import Draft
from ..phrases import Amount, Measure, Phrase, Said
from ..said import dimension, is_bulk, is_said, past_describing, phrase_at, single

#: Words of what the water may be for.
_PLACES = frozenset({"ground", "plant", "hole", "container", "pack"})


def find_named_rates(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """The phrases with each such rate made one amount."""
    at = 0
    while at < len(phrases):
        amount = single(phrases[at]) if type(phrases[at]) is Amount else None
        if type(amount) is Measure and is_bulk(amount):
            goods = _past_of(phrases, at + 1)
            while (past := _past_grade(phrases, past_describing(phrases, goods))) > goods:
                goods = past
            per = _per(phrases, goods, draft)
            if per is not None and not _is_one_batch(per[0], phrases[goods + 1], [*phrases[:at], *phrases[per[1] :]]):
                rate = amount._replace(per=per[0], end=per[0].end)
                inside = [p for p in phrases[at + 1 : goods + 1] if not is_said(p, "castings") and not is_said(p, "link", "of")]
                phrases = [*phrases[:at], Amount((rate,), rate.start, rate.end), *inside, *phrases[per[1] :]]
                if dimension(per[0]) == "volume" and not any(is_said(p, "way") for p in phrases):
                    draft.way = "tea"  # castings in water are nothing else
        at += 1
    return phrases


def _past_of(phrases: list[Phrase], at: int) -> int:
    return at + 1 if is_said(phrase_at(phrases, at), "link", "of") else at


def _past_grade(phrases: list[Phrase], at: int) -> int:
    return at + 1 if is_said(phrase_at(phrases, at), "other-thing", "grade") else at  # "sifted"


def _per(phrases: list[Phrase], goods: int, draft: Draft) -> tuple[Measure, int] | None:
    """What the goods are for each of: of tea and castings an area, of castings so much water; with the index past it."""
    tea, castings = is_said(phrase_at(phrases, goods), "way", "tea"), is_said(phrase_at(phrases, goods), "castings")
    if not tea and not castings:
        return None
    each = _past_each(phrases, goods + 1)
    area = _measure(phrases, each or goods + 1, "area")
    if area is not None:
        plain = draft.text[area.start :].lower().startswith(("a ", "an "))  # "a litre of tea a square metre"
        return (area, (each or goods + 1) + 1) if each or plain else None
    if not castings:
        return None
    into = goods + 1
    if is_said(phrase_at(phrases, into), "link", "into", "with", "for"):
        into += 1
    into = max(each, into)
    while is_said(phrase_at(phrases, into), "link", "each"):
        into += 1
    water = _measure(phrases, into, "volume")
    if water is None or into == goods + 1 or not is_said(phrase_at(phrases, _past_of(phrases, into + 1)), "link", "water"):
        return None
    return water, into + 1


def _is_one_batch(per: Measure, tie: Phrase, others: list[Phrase]) -> bool:
    """ "2 cups of castings in 5 gallons of water", and nothing else is told: that is what is brewed, and no rate."""
    return dimension(per) == "volume" and per.low != 1 and not is_said(tie, "per") and not is_said(tie, "link", "each") and not any(
        type(p) is Amount or (type(p) is Said and p.kind in _PLACES) for p in others
    )  # fmt: skip


def _past_each(phrases: list[Phrase], at: int) -> int:
    """The index past "per", "for every", "to each"; 0 where none of them stands there."""
    if is_said(phrase_at(phrases, at), "link", "for", "on", "to") and is_said(phrase_at(phrases, at + 1), "link", "each"):
        at += 1
    return at + 1 if is_said(phrase_at(phrases, at), "per") or is_said(phrase_at(phrases, at), "link", "each") else 0


def _measure(phrases: list[Phrase], at: int, what: str) -> Measure | None:
    """ "100 sq ft", or a unit alone, of which it is one: "gallon"."""
    named, one = phrase_at(phrases, at), single(phrase_at(phrases, at))
    if type(named) is Said and named.kind in ("unit", "unclear-unit"):
        one = Measure(1.0, 1.0, named.id, named.kind, named.start, named.end)
    return one if type(one) is Measure and one.per is None and not one.role and dimension(one) == what else None
