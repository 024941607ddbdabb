"""The phrases that the grammar builds: typed values with their place in the line.

`Builder` makes them while lark parses; its methods carry the names of the grammar's rules.
"""

from __future__ import annotations

from typing import Any, NamedTuple

from .joined import PAIRS
from .scan import LARGEST
from .tok import Tok


class Number(NamedTuple):
    """A bare number, or a span of them."""

    low: float
    high: float
    start: int
    end: int
    #: "twenty five" written loose may be twenty of five somethings
    loose: bool = False
    note: str = ""
    role: str = ""
    #: written as "a" or "an"
    article: bool = False


class Measure(NamedTuple):
    """A number with a unit. `unit` is an exact unit, or a doubtful one while `clear` is False."""

    low: float
    high: float
    unit: str
    kind: str  # unit, unclear-unit or loose-measure
    start: int
    end: int
    role: str = ""
    #: what one measure goes to: a Measure ("1000 sq ft") or a word ("plant")
    per: Any = None
    loose: bool = False
    note: str = ""
    article: bool = False


class NurseryClass(NamedTuple):
    """A container class of the nursery trade: "#5"."""

    number: int
    start: int
    end: int


class CellTray(NamedTuple):
    """A tray by the number of its cells: "72-cell tray"."""

    cells: int
    start: int
    end: int


class Amount(NamedTuple):
    """One dimension, or several joined by "by" or "x"."""

    dims: tuple[Number | Measure | NurseryClass | CellTray, ...]
    start: int
    end: int


class Price(NamedTuple):
    """A sum of money, and what it is paid for where that is said."""

    low: float
    high: float
    currency: str
    start: int
    end: int
    per: Any = None


class Share(NamedTuple):
    """A share in percent, from low to high."""

    low: float
    high: float
    start: int
    end: int
    loose: bool = False


class Part(NamedTuple):
    """ "2 parts", before what they are parts of."""

    low: float
    high: float
    start: int
    end: int


class Ratio(NamedTuple):
    """ "1:2:1"."""

    terms: tuple[float, ...]
    start: int
    end: int


class Said(NamedTuple):
    """One word of the vocabulary, or one the vocabulary does not hold (`kind` is then unknown)."""

    kind: str
    id: str
    text: str
    start: int
    end: int


Phrase = Amount | Price | Share | Part | Ratio | Said

#: Kinds that never reach the reader.
_SILENT = frozenset({"filler", "article"})


def said(token: Tok) -> Said:
    """A token as a phrase of its own."""
    word = token.word
    if word is None:
        kind = "unknown" if token.type == "UNKNOWN" else token.type.lower()
        return Said(kind, token.text.lower(), token.text, token.start, token.end)
    return Said(word.kind, word.id, token.text, token.start, token.end)


def _number(low: float, token_start: int, token_end: int, **more: Any) -> Number:
    return Number(low, low, token_start, token_end, **more)


class Builder:
    """Builds phrases while lark parses; it keeps no tree. A method takes what its rule is made of, part by part."""

    # numbers
    def figure(self, token: Tok, *_: Tok) -> Number:
        return Number(token.value, token.value, token.start, (_[-1] if _ else token).end, note=token.note)

    def word_number(self, token: Tok, *of: Tok) -> Number:
        assert token.word is not None
        value = float(token.word.id)
        return Number(value, value, token.start, (of[-1] if of else token).end)

    def last_number(self, first: Tok, token: Tok) -> Number:
        return self.word_number(token)._replace(start=first.start)

    def middle_number(self, first: Tok, token: Tok, *of: Tok) -> Number:
        return self.word_number(token)._replace(start=first.start, end=of[-1].end)

    def article_one(self, token: Tok) -> Number:
        return Number(1.0, 1.0, token.start, token.end, article=True)

    def tens_ones(self, tens: Tok, ones: Tok) -> Number:
        value = float(tens.word.id) + float(ones.word.id)  # type: ignore[union-attr]
        return Number(value, value, tens.start, ones.end, loose=not ones.hyphen)

    def multiple(self, first: Any, token: Tok) -> Number:
        value = _value(first) * _value(token)
        return Number(value, value, first.start, token.end)

    def multiple_of(self, first: Tok, _of: Tok, token: Tok) -> Number:
        return self.multiple(first, token)

    def multiple_one(self, one: Tok, half: Tok, token: Tok) -> Number:
        return self.multiple(half, token)._replace(start=one.start)

    def sum_multiple(self, first: Any, token: Tok, rest: Any) -> Number:
        value = _value(first) * _value(token) + _value(rest)
        return Number(value, value, first.start, rest.end, loose=True)

    def sum_multiple_and(self, first: Any, token: Tok, _and: Tok, rest: Any) -> Number:
        return self.sum_multiple(first, token, rest)._replace(loose=False)

    def hundred_and(self, one: Tok, token: Tok, rest: Any) -> Number:
        value = _value(token) + _value(rest)
        return Number(value, value, one.start, rest.end, loose=True)

    def hundred_and_plus(self, one: Tok, token: Tok, _and: Tok, rest: Any) -> Number:
        return self.hundred_and(one, token, rest)._replace(loose=False)

    def part_of_one(self, token: Tok, *of: Tok) -> Number:
        value = 1 / _value(token)
        return Number(value, value, token.start, (of[-1] if of else token).end)

    def part_of_one_after(self, one: Tok, token: Tok, *of: Tok) -> Number:
        return self.part_of_one(token, *of)._replace(start=one.start)

    def parts_of(self, first: Tok, token: Tok, *of: Tok) -> Number:
        value = _value(first) / _value(token)
        return Number(value, value, first.start, (of[-1] if of else token).end, loose=value >= 1 or _value(first) > 1)

    def parts_half(self, first: Tok, token: Tok, *of: Tok) -> Number:
        value = _value(first) * _value(token)
        return Number(value, value, first.start, (of[-1] if of else token).end, loose=True)

    def mixed_one(self, one: Tok, _plus: Tok, rest: Any) -> Number:
        return Number(1 + rest.low, 1 + rest.low, one.start, rest.end)

    def mixed(self, whole: Any, *rest: Any) -> Number:
        value = _value(whole) + _value(rest[-1])
        # "4 1/2 gallon pots" may be four pots of half a gallon
        return Number(value, value, whole.start, rest[-1].end, loose=len(rest) == 1)

    def mixed_multiple(self, whole: Any, *rest: Any) -> Number:
        """ "two and a half dozen"."""
        value = (_value(whole) + _value(rest[-2])) * _value(rest[-1])
        return Number(value, value, whole.start, rest[-1].end)

    def mixed_one_multiple(self, one: Tok, _plus: Tok, rest: Any, token: Tok) -> Number:
        value = (1 + rest.low) * _value(token)
        return Number(value, value, one.start, token.end)

    def dozen_and(self, one: Tok, token: Tok, _plus: Tok, rest: Any) -> Number:
        """ "a dozen and a half" is eighteen."""
        value = (1 + rest.low) * _value(token)
        return Number(value, value, one.start, rest.end)

    def digits(self, *tokens: Tok) -> str:
        return "".join(f"{_value(token):g}" for token in tokens)

    def decimal(self, whole: Any, _point: Tok, digits: str) -> Number:
        # "two point five 1.5" has no value: it counts as beyond every scale, and is asked about
        value = float(f"{int(_value(whole))}.{digits}") if digits.isdecimal() else LARGEST
        return Number(value, value, whole.start, whole.end)

    def span(self, low: Number, to: Tok, high: Number) -> Number:
        # "1 or 2" and "1 to 2" alike go from the first to the second; which is smaller is the reader's to see
        note = to.word.id if to.word else ""
        return Number(low.low, high.high, low.start, high.end, note="span:" + note)

    # measures
    def measure(self, number: Number, token: Tok) -> Measure:
        assert token.word is not None
        return Measure(number.low, number.high, token.word.id, token.word.kind, number.start, token.end,
                       loose=number.loose, note=number.note, article=number.article)  # fmt: skip

    loose = measure

    def measure_span(self, low: Number, first: Tok, _to: Tok, high: Number, second: Tok) -> Measure:
        from .quantities import unit

        one, two = self.measure(low, first), self.measure(high, second)
        if one.unit == two.unit:
            return two._replace(low=one.low, start=one.start, note="span:to")
        if one.kind == two.kind == "unit" and unit(one.unit).dimension == unit(two.unit).dimension:
            scale = unit(one.unit).factor / unit(two.unit).factor
            return two._replace(low=one.low * scale, start=one.start, note="span:units:" + one.unit)
        return two._replace(low=one.low, start=one.start, note="mixed-span")

    def compound(self, number: Number, first: Tok, _join: Tok, small: Number, second: Tok) -> Measure:
        one, two = self.measure(number, first), self.measure(small, second)
        if (one.unit, two.unit) not in PAIRS:
            return two._replace(low=one.low, start=one.start, note="mixed-span")  # "4 ft 9 gallon": no one measure
        value = one.low + two.low / PAIRS[(one.unit, two.unit)]
        # "4' 2"" beside a top-dressing may be a side and its layer; "4'2"" and "4 ft-2" are one length
        thin = one.unit == "foot" and two.low <= 3 and small.start > first.end
        return one._replace(low=value, high=value, end=two.end, note="compound-apart" if thin else "compound")

    def compound_bare(self, number: Number, first: Tok, _join: Tok, small: Number) -> Measure:
        one = self.measure(number, first)
        # "three foot six", "2 m 40": the smaller unit goes unsaid
        value = one.low + small.low / (100 if one.unit == "metre" else 12)
        return one._replace(low=value, high=value, end=small.end, note="compound")

    def roled(self, measure: Measure, role: Tok) -> Measure:
        assert role.word is not None
        return measure._replace(role=role.word.id, end=role.end)

    def roled_number(self, number: Number, role: Tok) -> Number:
        assert role.word is not None
        return number._replace(role=role.word.id, end=role.end)

    def role_first(self, role: Tok, measure: Measure) -> Measure:
        assert role.word is not None
        return measure._replace(role=role.word.id, start=role.start)

    def role_is(self, role: Tok, _is: Tok, measure: Measure) -> Measure:
        return self.role_first(role, measure)

    def role_is_number(self, role: Tok, _is: Tok, number: Number) -> Number:
        return self.role_first_number(role, number)

    def role_first_number(self, role: Tok, number: Number) -> Number:
        assert role.word is not None
        return number._replace(role=role.word.id, start=role.start)

    def rate(self, measure: Measure, _per: Tok, what: Any) -> Measure:
        return measure._replace(per=what, end=what.end)

    def per_unit(self, token: Tok) -> Measure:
        assert token.word is not None
        return Measure(1.0, 1.0, token.word.id, token.word.kind, token.start, token.end)

    def per_amount(self, number: Number, token: Tok) -> Measure:
        return self.measure(number, token)

    def per_thing(self, token: Tok) -> Said:
        return said(token)

    def nursery_class(self, sign: Tok, number: Number) -> NurseryClass:
        return NurseryClass(int(number.low), sign.start, number.end)

    def amount(self, *parts: Any) -> Amount:
        dims = tuple(part for part in parts if not isinstance(part, Tok))
        return Amount(dims, dims[0].start, dims[-1].end)

    # money, shares, parts
    def money(self, sign: Tok, number: Number) -> Price:
        assert sign.word is not None
        return Price(number.low, number.high, sign.word.id, sign.start, number.end)

    def money_after(self, number: Number, sign: Tok) -> Price:
        assert sign.word is not None
        scale = 0.01 if sign.word.id == "cent" else 1.0
        code = "USD" if sign.word.id == "cent" else sign.word.id
        return Price(number.low * scale, number.high * scale, code, number.start, sign.end)

    def price(self, price: Price) -> Price:
        return price

    def price_per(self, price: Price, _per: Tok, what: Any) -> Price:
        return price._replace(per=what, end=what.end)

    def percent(self, number: Number, sign: Tok) -> Share:
        return Share(number.low, number.high, number.start, sign.end, number.loose)

    def percent_span(self, low: Number, _sign: Tok, _to: Tok, high: Number, sign: Tok) -> Share:
        return Share(low.low, high.high, low.start, sign.end)

    def share(self, share: Share) -> Share:
        return share

    def part(self, number: Number, sign: Tok) -> Part:
        return Part(number.low, number.high, number.start, sign.end)

    def ratio(self, *terms: Any) -> Ratio:
        numbers = [term for term in terms if isinstance(term, Number)]
        return Ratio(tuple(number.low for number in numbers), numbers[0].start, numbers[-1].end)

    # the line: a list that grows by what stands next in it
    def nothing_yet(self) -> list[Phrase]:
        return []

    def and_phrase(self, phrases: list[Phrase], one: Phrase) -> list[Phrase]:
        phrases.append(one)
        return phrases

    def and_word(self, phrases: list[Phrase], token: Tok) -> list[Phrase]:
        word = token.word
        if token.type != "FILLER" or (word is not None and word.kind not in _SILENT):
            one = said(token)
            if one.kind not in _SILENT:
                phrases.append(one)
        return phrases


def _value(item: Number | Tok) -> float:
    if isinstance(item, Number):
        return item.low
    return item.value if item.word is None else float(item.word.id)
