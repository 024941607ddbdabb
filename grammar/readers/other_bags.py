"""Bags that are asked for, and not bags of castings: "how many bags of potting soil", "how many compost bags", "bags of the whole mix".

What is asked is so much of the soil, the component or the mix; that it is to be told in bags is a hint. Where bags of
castings are asked for as well, one at a time is. A size that is told for bags of something else is not that of a bag of
castings: "soil comes in 2 cubic foot bags".
"""

from __future__ import annotations

import re

from ..draft import Draft
from ..later import later
from ..phrases import Amount, Measure, Phrase, Said
from ..quantities import Span
from ..said import dimension, is_said, phrase_at, single

#: What is told in bags, and is not castings.
BY_THE_PACK = "by-the-pack"
#: A mix by a name that bags of it have in a shop: the castings may be in it, or may go into it.
BOUGHT_MIX = "bought-mix"
_BOUGHT = later(r"\b(?:potting|growing|grow|planting|container|garden|raised|bed|topsoil|media|medium|substrate)\b")
_WHOLE = later(r"\b(?:whole|finished|total|final|entire|complete|resulting|ready)\b[^,.;]*$", re.IGNORECASE)


def find_other_bags(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """The phrases with what the bags are of asked for as so much of it; the size of a bag goes onto the draft."""
    asked = [found for at in range(len(phrases)) if (found := _asked(phrases, at)) is not None]
    named = {_called(phrases[of]) for _, _, of, _ in asked}
    if not named - {"castings"}:
        return _other_size(phrases, draft) if any(is_said(p, "ask", "how-many") for p in phrases) else phrases
    if len(named) > 1 or _and_another(phrases, asked[0][3]):
        words = sorted(name.replace("-", " ") for name in named if name != "castings")
        draft.question = ("packs", f"one sort of bag at a time, please: “how many bags of {words[0]}”, or “how many bags of castings”")
        return phrases
    first, size_at, of, end = asked[0]
    return _told_in_bags(phrases, draft, first, size_at, of, end)


def _told_in_bags(phrases: list[Phrase], draft: Draft, first: int, size_at: int, of: int, end: int) -> list[Phrase]:
    stuff = phrases[of]
    assert isinstance(stuff, Said)
    draft.hints.add(BY_THE_PACK)
    before = draft.text[phrases[first].end : stuff.start]
    if stuff.kind != "component":
        if _BOUGHT.search(stuff.text.lower()) and not _WHOLE.search(before) and not _WHOLE.search(stuff.text):
            draft.hints.add(BOUGHT_MIX)
        stuff = stuff._replace(kind="mix", id="mix")
    if size_at >= 0:
        size = single(phrases[size_at])
        assert type(size) is Measure
        draft.pack = Span(size.low, size.high, size.unit)
    draft.pack_noun = next((p.id for p in phrases[first:end] if type(p) is Said and p.kind == "pack"), "bag")
    asks = Said("ask", "how-much", "how much", phrases[first].start, phrases[first].end)
    return [*phrases[:first], asks, stuff, *phrases[end:]]


def _asked(phrases: list[Phrase], at: int) -> tuple[int, int, int, int] | None:
    """Where bags are asked for: the first phrase of it, the size of a bag or -1, what they are of, and the end."""
    opens = at == 0 and is_said(phrases[at], "pack") and phrases[at].text.lower().endswith("s")  # type: ignore[union-attr]
    if not opens and not is_said(phrases[at], "ask", "how-many"):
        return None
    here = at if opens else at + 1
    size_at = -1
    if not opens and _is_size(phrases, here):
        size_at, here = here, here + 1
    if _is_stuff(phrases, here) and is_said(phrase_at(phrases, here + 1), "pack"):
        return at, size_at, here, here + 2
    if not opens and is_said(phrase_at(phrases, here), "link", "of") and is_said(phrase_at(phrases, here + 1), "castings"):
        return at, size_at, here + 1, here + 2  # "… and how many of castings"
    if is_said(phrase_at(phrases, here), "pack") and is_said(phrase_at(phrases, here + 1), "link", "of"):
        of = here + 2
        while is_said(phrase_at(phrases, of), "hint") or is_said(phrase_at(phrases, of), "unknown"):
            of += 1
        if _is_stuff(phrases, of):
            return at, size_at, of, of + 1
    return None


def _is_stuff(phrases: list[Phrase], at: int) -> bool:
    phrase = phrase_at(phrases, at)
    return type(phrase) is Said and phrase.kind in ("component", "mix", "seed-mix", "castings")


def _is_size(phrases: list[Phrase], at: int) -> bool:
    phrase = phrase_at(phrases, at)
    one = single(phrase)
    return type(phrase) is Amount and type(one) is Measure and one.per is None and one.kind == "unit" and dimension(one) in ("volume", "weight")


def _called(phrase: Phrase) -> str:
    assert isinstance(phrase, Said)
    return phrase.id if phrase.kind == "component" else "castings" if phrase.kind == "castings" else "mix"


def _and_another(phrases: list[Phrase], end: int) -> bool:
    """ "bags of compost and castings"."""
    return is_said(phrase_at(phrases, end), "link", "and") and _is_stuff(phrases, end + 1) and not is_said(phrase_at(phrases, end + 2), "link", "is")


def _other_size(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """ "soil comes in 2 cubic foot bags. How many do I need?": of the soil; where castings are asked for, that is no size of theirs."""
    for at, phrase in enumerate(phrases):
        if not is_said(phrase, "component"):
            continue
        here = at + 1
        while is_said(phrase_at(phrases, here), "link", "is", "into", "at") or is_said(phrase_at(phrases, here), "is") or is_said(phrase_at(phrases, here), "pack"):
            here += 1
        if here == at + 1 or not _is_size(phrases, here) or not any(is_said(p, "pack") for p in phrases[at : here + 2]):
            continue
        end = here + 2 if is_said(phrase_at(phrases, here + 1), "pack") else here + 1
        ask = next((i for i, p in enumerate(phrases) if is_said(p, "ask", "how-many")), -1)
        after = phrase_at(phrases, ask + 1)
        bare = is_said(after, "pack") or is_said(after, "ask", "cover") or after is None or is_said(after, "stop")
        of = is_said(phrase_at(phrases, ask + 2), "link", "of")
        if not bare or (of and not is_said(phrase_at(phrases, ask + 3), "link", "each")):
            continue
        assert isinstance(phrase, Said)
        if of or ask < end:
            draft.question = ("packs", f"bags of what: “bags of {phrase.id.replace('-', ' ')}”, or “bags of castings”")
            return phrases
        pack = next((p for p in phrases[at:end] if is_said(p, "pack")), phrase)
        asked = [phrases[ask], pack, Said("link", "of", "of", phrases[ask].end, phrases[ask].end), phrase]
        past = ask + 2 if is_said(after, "pack") else ask + 1
        left = [*phrases[:at], *phrases[end:ask], *asked, *phrases[past:]]
        size = single(phrases[here])
        assert type(size) is Measure
        where = left.index(phrases[ask])
        draft.pack = Span(size.low, size.high, size.unit)
        return _told_in_bags(left, draft, where, -1, where + 3, where + 4)
    return phrases
