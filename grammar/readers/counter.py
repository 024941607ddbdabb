"""What is said over a shop counter: which end of a span to buy for, what to buy, and what something costs.

A line that asks for a price and names nothing but an amount, a pack or a unit is put into the words that the
rest of the reader knows: "price of 3 cubic feet" is "what cost, 3 cubic feet of castings".
"""

from __future__ import annotations

import re

from ..draft import Draft
from ..later import later
from ..phrases import Amount, Measure, Number, Phrase, Price, Said
from ..quantities import Span, unit
from ..said import Waits, dimension, is_said, single

_LOOSE = later(r"\bloose\b", re.IGNORECASE)
_ENDS = {"low-end": "low", "typical-end": "typical", "high-end": "high", "be-safe": "high"}
#: What may stand in a line that asks for a price, beside what the price is asked of.
_BESIDE = (("link", "price-word"), ("link", "cost-me"), ("link", "of"), ("link", "for"), ("link", "on"), ("link", "is"), ("link", "at"),
           ("ask", "what-cost"), ("ask", "what-is"), ("ask", "how-much"), ("ask", "cover"), ("is", "is"))  # fmt: skip
#: What may stand in a line that sets packs side by side, beside their sizes.
_WITH_COMPARED = (("ask", "cheaper"), ("ask", "what-is"), ("ask", "which"), ("link", "or"), ("link", "is"), ("is", "is"), ("pack",), ("castings",),
                  ("link", "into"), ("link", "of"), ("link", "and"), ("stop",), ("per",), ("link", "by-weight"), ("link", "by-volume"))  # fmt: skip


#: What any of this is told by.
COUNTER: Waits = (frozenset({
    "counter", ("unit", "cubic_foot"), ("unit", "cubic_yard"), ("link", "price-word"), ("link", "cost-me"),
    *(("ask", name) for name in ("cheaper", "cover", "enough", "what-cost", "how-much")),
}),)  # fmt: skip


def find_counter(phrases: list[Phrase], draft: Draft, leaning: bool = False) -> list[Phrase]:
    """The phrases as they are read at the counter: ends of spans taken out, questions of price in plain words.

    `leaning` says that the line follows others, which may have spoken of a purchase.
    """
    phrases = _one_unit(phrases)
    if any(is_said(phrase, "counter") for phrase in phrases):
        phrases = _to_buy(_end(phrases, draft, leaning), draft)
    if any(is_said(phrase, "ask", "cheaper") for phrase in phrases):
        return phrases if any(type(phrase) is Price for phrase in phrases) else _compared(phrases, draft, leaning)
    if leaning and len(phrases) == 1 + sum(is_said(p, "stop") for p in phrases) and any(is_said(p, "counter", "by-the-yard") for p in phrases):
        draft.asked_unit = "cubic_yard"  # "by the yard?", of what was asked before
    said = [p for p in phrases if not is_said(p, "stop")]
    if len(said) == 3 and type(single(said[0])) is Number and is_said(said[1], "pack") and is_said(said[2], "ask", "cover", "enough"):
        draft.hints.add("castings-named")  # "would two bags do?": it is castings that they hold
    if any(type(phrase) is Price for phrase in phrases) or not _asks_price(phrases):
        return [phrase for phrase in phrases if not is_said(phrase, "counter")]
    return _priced(phrases, draft)


def _one_unit(phrases: list[Phrase]) -> list[Phrase]:
    """ "the cubic foot bags": one of it in each."""
    made = list(phrases)
    for at, phrase in enumerate(phrases[:-1]):
        if isinstance(phrase, Said) and phrase.kind == "unit" and phrase.id in ("cubic_foot", "cubic_yard") and is_said(phrases[at + 1], "pack"):
            one = Measure(1.0, 1.0, phrase.id, "unit", phrase.start, phrase.end, article=True)
            made[at] = Amount((one,), phrase.start, phrase.end)
    return made


# ---- which end, and what to buy --------------------------------------------------------------------------


def _end(phrases: list[Phrase], draft: Draft, leaning: bool) -> list[Phrase]:
    """ "buy for the high end", "the least I could get away with", "to be safe"."""
    bought = leaning or any(
        is_said(p, "pack") or is_said(p, "ask", "what-cost") or is_said(p, "counter", "to-buy") or type(p) is Price for p in phrases
    )
    said = [p for p in phrases if isinstance(p, Said) and p.kind == "counter" and p.id in _ENDS]
    if not bought:
        said = [p for p in said if p.id != "be-safe"]
    ends = {_ENDS[phrase.id] for phrase in said}
    if said and not draft.asked and any(_in_packs(phrases, at) for at in range(len(phrases))):
        _ask_packs(draft)
    if len(ends) > 1:
        draft.question = ("end", "for which end of the span: the low end, or the high end?")
    elif ends:
        draft.end = ends.pop()
        if any("buy" in phrase.text.lower().split() for phrase in said):
            _ask_packs(draft)
    return [p for p in phrases if not (isinstance(p, Said) and p.kind == "counter" and p.id in _ENDS)]


def _in_packs(phrases: list[Phrase], at: int) -> bool:
    """ "the least I could get away with, in bags"."""
    before = phrases[at - 1] if at else None
    return is_said(phrases[at], "pack") and is_said(before, "link", "into") and not any(is_said(p, "ask", "how-many", "what-cost") for p in phrases)


def _to_buy(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """ "what should I buy for …", "the cheapest way to buy …": how many bags."""
    left = [phrase for phrase in phrases if not is_said(phrase, "counter", "to-buy")]
    if len(left) < len(phrases) and not any(is_said(phrase, "ask", "what-cost") for phrase in phrases):
        _ask_packs(draft)
        if len(left) == 1 and _bulk(left[0]):
            return _of_castings(left[0])
    return left


def _ask_packs(draft: Draft) -> None:
    if not draft.asked:
        draft.asked, draft.asked_noun = "packs", "bag"
    draft.asks.append("how-many")


# ---- what something costs --------------------------------------------------------------------------------


def _compared(phrases: list[Phrase], draft: Draft, leaning: bool) -> list[Phrase]:
    """ "is it cheaper by the yard", "is the 40 lb bag better value than the 10 lb": packs of the catalogue side by side.

    Only where the line gives no price of its own and speaks of nothing else.
    """
    loose = any(is_said(p, "counter", "by-the-yard") for p in phrases) or bool(_LOOSE.search(draft.text))
    plain = [p for p in phrases if not is_said(p, "counter")]
    measure = {at + 1 for at, p in enumerate(plain) if is_said(p, "per")}  # "per kg": what they are compared by
    sizes = [None if at in measure else _size(p) for at, p in enumerate(plain)]
    named = [one for one in sizes if one is not None]
    beside = [p for at, p in enumerate(plain) if sizes[at] is None and not any(is_said(p, *one) for one in _WITH_COMPARED)
              and not (at in measure and is_said(p, "unit"))]  # fmt: skip
    left = [p for at, p in enumerate(plain) if sizes[at] is None and not is_said(p, "pack") and not is_said(p, "link", "or", "and")]
    if beside or not (loose or named):
        return plain
    yards = [one for one in named if _is_yard(one) and one.low == one.high == 1]
    if loose or len(yards) == len(named) == 1:
        if len(named) == len(yards):
            draft.asked_noun, draft.pack_noun = "yard", "bag"
            return left
        return plain
    if len(named) > 1 or leaning:
        draft.compare_packs = [Span(one.low, one.high, "cubic_yard" if one.unit == "yard" else one.unit) for one in named]
        draft.pack_noun = "bag"
        return left
    return plain


def _size(phrase: Phrase) -> Measure | None:
    """The size of a pack: "40 lb", or a unit alone, "the cubic foot"."""
    one = single(phrase)
    if type(one) is Measure and _bulk(phrase):
        return one
    if isinstance(phrase, Said) and phrase.kind == "unit" and phrase.id in ("cubic_foot", "cubic_yard"):
        return Measure(1.0, 1.0, phrase.id, "unit", phrase.start, phrase.end, article=True)
    return None


def _asks_price(phrases: list[Phrase]) -> bool:
    for at, phrase in enumerate(phrases):
        if type(phrase) is not Said:
            continue
        after = phrases[at + 1] if at + 1 < len(phrases) else None
        if is_said(phrase, "ask", "what-cost") or is_said(phrase, "link", "price-word", "cost-me") or is_said(phrase, "counter", "in-stock"):
            return True
        if is_said(phrase, "ask", "how-much") and (is_said(after, "link", "for", "is") or is_said(after, "is")):
            return True
        if is_said(phrase, "ask", "how-much") and isinstance(phrase, Said) and phrase.text.lower().endswith(" that") and after is None and at:
            return True  # "5 cubic feet please, how much is that"
    return False


def _priced(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """What a price is asked of, where that is an amount of castings, a pack or a unit, and nothing else is spoken of."""
    plain = _unit_named([p for p in phrases if not is_said(p, "counter")])
    of = [p for p in plain if not any(is_said(p, *one) for one in _BESIDE) and not is_said(p, "stop") and not is_said(p, "castings")]
    if len(plain) < len(phrases):
        of = [p for p in of if not is_said(p, "link", "into")]  # "what do you have in small bags"
    cost = Said("ask", "what-cost", "what cost", 0, 0)
    if len(of) == 1 and _bulk(of[0]):
        return [cost, *_of_castings(of[0])] if _surely(plain, of[0]) else plain
    if len(of) == 2 and is_said(of[0], "per") and is_said(of[1], "unit") and _sold_by(of[1]):
        draft.asks.append("cheaper")
        draft.pack_noun = "bag"
        return [of[1]]  # "price per cubic foot"
    if len(of) == 2 and type(single(of[0])) is Number and is_said(of[1], "pack"):
        draft.question = ("pack", "how big is each, by weight or by volume?")  # "how much for two bags"
    if of and is_said(of[-1], "pack") and _counted(of[:-1]):
        if not any(type(single(p)) is Number for p in of):
            draft.packs_count = 1.0
        if not any(_bulk(p) for p in of):
            draft.packs_count = None
            draft.asks.append("cheaper")  # "how much for a bag": every size there is
            return of
        return [cost, *of]
    return plain


def _surely(phrases: list[Phrase], amount: Phrase) -> bool:
    """Whether "how much" is asked of a price: "how much for 20 litres" may be of a mix, "how much is 20 kg" by volume."""
    if any(is_said(p, "ask", "what-cost") or is_said(p, "link", "price-word", "cost-me") for p in phrases):
        return True
    one = single(amount)
    assert isinstance(one, Measure)
    for_it = any(is_said(p, "link", "for") for p in phrases)
    return _is_yard(one) or (any(is_said(p, "castings") for p in phrases) and (for_it or dimension(one) != "weight"))


def _unit_named(phrases: list[Phrase]) -> list[Phrase]:
    """ "what's a cubic foot bag cost": one cubic foot before a bag, where it was taken for a question about units."""
    for at, phrase in enumerate(phrases[:-1]):
        if isinstance(phrase, Said) and phrase.kind == "topic" and phrase.id == "units" and is_said(phrases[at + 1], "pack"):
            from ..parse import parse

            name = re.sub(r"^.*?\ban? ", "1 ", phrase.text, flags=re.IGNORECASE)
            one = [_moved(p, phrase) for p in parse(name).phrases if type(p) is Amount]
            return [*phrases[:at], *one, *phrases[at + 1 :]] if len(one) == 1 else phrases
    return phrases


def _moved(amount: Amount, to: Said) -> Amount:
    return amount._replace(start=to.start, end=to.end)


def _bulk(phrase: Phrase) -> bool:
    """Whether a phrase is a volume or a weight and no more, a yard taken as a cubic one."""
    one = single(phrase)
    return type(one) is Measure and one.per is None and not one.role and dimension(one) in ("volume", "weight", "length or volume")


def _of_castings(phrase: Phrase) -> list[Phrase]:
    end = phrase.end
    return [phrase, Said("link", "of", "of", end, end), Said("castings", "castings", "castings", end, end)]


def _counted(phrases: list[Phrase]) -> bool:
    """Nothing, a count, a size, or a count and a size: what may stand before a pack."""
    sizes = [p for p in phrases if _bulk(p)]
    counts = [p for p in phrases if type(single(p)) is Number]
    return len(sizes) + len(counts) == len(phrases) and len(sizes) <= 1 and len(counts) <= len(sizes)


def _is_yard(one: Measure) -> bool:
    return one.unit in ("yard", "cubic_yard")


def _sold_by(phrase: Phrase) -> bool:
    assert isinstance(phrase, Said)
    return unit(phrase.id).dimension in ("volume", "weight")
