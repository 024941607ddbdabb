"""Amounts and numbers that are told in parts and are one: "1 cup + 2 tablespoons per plant", "8 cups split between 4 roses and 4 hydrangeas"."""

from __future__ import annotations

from ...draft import Draft
from ...phrases import Amount, Measure, Number, Phrase, Said
from ...quantities import factor
from ...said import Waits, dimension, is_said, single
from ...things import whole

ADDED_UP: Waits = (frozenset({Measure}), frozenset({("link", "and"), ("link", "altogether")}))
_PLUS = ("+", "plus")
_SHARED = ("split", "shar", "divided", "between", "among")


def find_added_up(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """The phrases with the parts of one amount added, and with plants that share one amount counted together."""
    low = draft.text.lower()
    if any(word in low for word in _PLUS):
        phrases = _plus(phrases)
    return _shared(phrases, draft) if any(word in low for word in _SHARED) else phrases


def _plus(phrases: list[Phrase]) -> list[Phrase]:
    """ "1 cup + 2 tablespoons per plant": what each plant gets is both."""
    for at in range(len(phrases) - 2):
        tie = phrases[at + 1]
        one, two = single(phrases[at]), single(phrases[at + 2])
        if not is_said(tie, "link", "and") or tie.text.lower() not in _PLUS or type(one) is not Measure or type(two) is not Measure:  # type: ignore[union-attr]
            continue
        each = two.per is not None or is_said(phrases[at + 3] if at + 3 < len(phrases) else None, "link", "each")
        plain = one.per is None and one.kind == two.kind == "unit" and not one.role and not two.role and one.low == one.high and two.low == two.high
        if each and plain and dimension(one) == dimension(two) in ("volume", "weight"):
            value = one.low + two.low * factor(two.unit) / factor(one.unit)
            made = one._replace(low=value, high=value, end=two.end, per=two.per, note="compound", article=False)
            return [*phrases[:at], Amount((made,), made.start, made.end), *phrases[at + 3 :]]
    return phrases


def _shared(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """ "8 cups in all, split between my 4 roses and 4 hydrangeas": so much for eight plants."""
    amounts = [one for p in phrases if type(one := single(p)) is Measure and one.per is None and dimension(one) in ("volume", "weight")]
    if len(amounts) != 1 or any(is_said(p, "link", "each") or is_said(p, "per") for p in phrases):
        return phrases
    for at, phrase in enumerate(phrases):
        if not is_said(phrase, "link", "altogether") or not phrase.text.lower().startswith(_SHARED):  # type: ignore[union-attr]
            continue
        total, end, kinds = 0.0, at + 1, 0
        while end + 1 < len(phrases) and whole(phrases[end]) and is_said(phrases[end + 1], "plant"):
            total, end, kinds = total + whole(phrases[end]), end + 2, kinds + 1
            if end + 1 < len(phrases) and whole(phrases[end + 1]) and (is_said(phrases[end], "link", "and") or is_said(phrases[end], "stop", "comma")):
                end += 1
        if kinds < 2:
            continue
        first, last = phrases[at + 1], phrases[end - 1]
        draft.flags.append(("rows-of", f"{draft.text[first.start : last.end]}: {total:g} in all"))
        count = Amount((Number(total, total, first.start, first.end),), first.start, first.end)
        return [*phrases[: at + 1], count, Said("plant", "plant", "plants", last.start, last.end), *phrases[end:]]
    return phrases
