"""Numbers that are no amounts.

A zone, an age, a date, a price of something else, what a neighbour uses: each is found by the word it
stands with, taken out of the request and noted with the reason, so that it is neither used nor lost.
"""

from __future__ import annotations

import re

from ..draft import Draft
from ..later import later
from ..phrases import Amount, Measure, Number, NurseryClass, Phrase, Price, Ratio, Said, Share
from ..quantities import Span, unit
from ..said import YEARS, Mark, Waits, clauses, dimension, is_any_goods, is_said, is_sides, single, sort_of, stands, words_of

#: A tax or a delivery that is in the price already.
_INCLUDED = later(r"\b(?:incl\.?|including|includes|included|inc\.?)\s*(?:\w+\s*)?$")


#: What a number or a measure has to stand beside to be no amount; some are none anywhere.
_BESIDE_NONE: Waits = (frozenset({
    "label-word", "unit", "other-thing", "person", "month-name", "clock", "other-goods", "other-material", "other-time", "unknown", "component",
    "year", "rate", ("role", "height"), *(("measures", name) for name in ("time", "temperature", "conductivity")),
}),)  # fmt: skip
_BESIDE_SHARE: Waits = (frozenset({"other-share", ("topic", "organic-matter"), Price}),)
#: What may be warm.
_BREWED: Waits = (frozenset({("way", "tea"), ("link", "water")}),)
_OTHERS: Waits = (frozenset({"other-time", "other-person", "other-land"}),)


def set_asides(phrases: list[Phrase], draft: Draft, kinds: set[Mark], leaning: bool = False) -> list[Phrase]:
    """The phrases without the numbers that are no amounts; each of those is noted on the draft.

    `leaning` says that the line follows others, so that another's or another time's amount has a rival there.
    """
    drop: dict[int, str] = {}
    if Amount in kinds or Ratio in kinds:
        if Number in kinds or Ratio in kinds or NurseryClass in kinds:
            phrases = _clock_times(_telephones(_addresses(phrases, draft), draft), draft)
            phrases = _degrees(phrases, draft) if stands(_BREWED, kinds) else phrases
        if stands(_BESIDE_NONE, kinds):
            _single_numbers(phrases, drop)
    if stands(_BESIDE_SHARE, kinds):
        _money_and_shares(phrases, drop, draft)
    if stands(_OTHERS, kinds):
        _other_clauses(phrases, drop, draft, leaning)
    if ("other-thing", "person") in kinds and "pack" in kinds:
        _their_bags(phrases, drop, draft)
    if ("by-so-much" in kinds or "pack" in kinds) and "a year" in drop.values():
        _other_years(phrases, drop)
    if not drop:
        return phrases
    kept = []
    for at, reason in list(drop.items()):
        if reason == _FILLS:
            draft.question = ("fills", f"{words_of(draft, phrases[at])} of it is something else; how deep is the mix itself?")
    years = {words_of(draft, phrases[at]) for at, why in drop.items() if why == "a year" and at + 1 < len(phrases) and is_said(phrases[at + 1], "ground")}
    if len(years) > 1 and draft.question is None:
        draft.question = ("which", f"which year is it for, {' or '.join(sorted(years))}? Say the size of that one alone")
    _courses(phrases, drop, draft)
    if any(why == "a count of something else" and _each_of_those(phrases, at) for at, why in drop.items()):
        draft.hints.add("counted-each")
    for at, phrase in enumerate(phrases):
        if at in drop:
            if drop[at]:
                draft.noted.append((words_of(draft, phrase), drop[at]))
        else:
            kept.append(phrase)
    return kept


#: What stands before a time of day: "meet at", "open till".
_BEFORE_CLOCK = later(
    r"\b(?:until|till|til|(?:meet|meeting|open|opens|opening|close|closes|closed|closing|come|coming|call|ready|there|here|back|home|start|starts|arrive|arrives|arriving|"
    r"delivery|deliver|appointment|pick(?:ed)?(?: it| them)? ?up|pickup|collect|see you|shop|store|it's|its|time is)\s+(?:\w+\s+)?(?:at|by|from|before|after|around|about|till|until))\s+$"
)  # fmt: skip


#: A house in a street: "14 Elm Road", "5 Cherry Tree Lane".
_ADDRESS = later(
    r"\b\d{1,5}[a-z]?,? (?:(?!(?:in|on|at|the|of|for|by|along|and|to|from|my|our)\b)[a-z]+ ){1,2}(?:road|street|avenue|lane|crescent|boulevard)\b"
    r"|\b\d{1,5} (?:[A-Z][a-z]+ ){1,2}(?:Rd|St|Ave|Ln|Dr|Drive|Ct|Court|Way|Terrace|Blvd|Place)\b"
)


#: A door and its number: "apartment 4b", "unit #12", "house 14:".
_DOOR = later(
    r"\b(?:apartment|apt\.?|unit|house|flat|suite|ste\.|room|lot|building|bldg\.?|villa|cottage|cabin|bungalow|condo|townhouse|door|pitch|bay|gate|floor|stall|booth)"
    r"[\s-]*(?:no\.?|nr\.?|num(?:ber)?)?\s*#?\s?\d{1,5}(?:\s?[a-h]\b|(?!\w))"
    r"(?=\s*(?:$|[,;:!?()]|\.(?!\d)|-\s|(?:has|have|had|wants?|needs?|would|is|again|asks?|asked|please|here|and (?:i|we|they|has|have|want|need)|orders?|ordered|gets)\b))",
    re.IGNORECASE,
)


#: The same words in small letters, without what may stand behind them: a quick look.
_DOORS = later(
    r"\b(?:apartment|apt|unit|house|flat|suite|ste|room|lot|building|bldg|villa|cottage|cabin|bungalow|condo|townhouse|door|pitch|bay|gate|floor|stall|booth)"
)


def _addresses(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """The phrases without an address, whose trees are no plants, and without the numbers of doors."""
    low = draft.text.lower()
    street = _ADDRESS.search(draft.text) or (_ADDRESS.search(low) if low != draft.text else None)
    for found, why in ((street, "an address"), (_DOOR.search(draft.text) if _DOORS.search(low) else None, "the number of a door")):
        if found is not None:
            draft.noted.append((draft.text[found.start() : found.end()], why))
            phrases = [phrase for phrase in phrases if not found.start() <= phrase.start < found.end()]
    return phrases


#: Where to reach somebody: "call me at 555-0142", "555 123 4567".
_TELEPHONE = later(
    r"\b(?:call|ring|phone|text|tel(?:ephone)?|cell|mobile|whatsapp|reach|contact|number is|fax)\b(?:\s+(?:me|us|him|her|them|number|no))?[.:]?\s*(?:(?:back|at|on|is|under)\s+)*:?\s*"
    r"(?P<first>\+?\(?\d[\d ()./-]{4,}\d)(?![\d%])|(?<![\d.])(?P<plain>(?:\(\d{3}\) ?|\d{3}[.-])\d{3}[.-]\d{4})(?![\d%])",
    re.IGNORECASE,
)


#: So many figures as no telephone has less of: a quick look.
_FIGURES = later(r"\d[\d ()./-]{4,}\d")


def _telephones(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """The phrases without the number of a telephone."""
    found = _TELEPHONE.search(draft.text) if _FIGURES.search(draft.text) else None
    if found is None:
        return phrases
    start, end = found.span("first") if found["first"] else found.span("plain")
    if sum(letter.isdigit() for letter in draft.text[start:end]) < 6:
        return phrases
    draft.noted.append((draft.text[start:end], "the number of a telephone"))
    return [phrase for phrase in phrases if not start <= phrase.start < end]


#: "10 am" is an hour; "am I" after a number is none.
_MORNING = later(r"\s?(?:am|a\.m\.?)(?!\w)(?! i\b)", re.IGNORECASE)
#: "At 74 my back is not what it was": how old somebody is.
_AT_AGE = later(r"(?:^|[.;!?,]|\b(?:now|and|but|because|since))\s*(?:even |still )?at (?:the age of |age )?$", re.IGNORECASE)
#: "(she's 9)", "he is only 6, and …": how old somebody is.
_IS_OLD = later(r"\b(?:he|she|he'?s|she'?s|he’s|she’s|who is|who's|who’s)\s+(?:is\s+)?(?:now |just |only |nearly |almost |turning |about )?$", re.IGNORECASE)
_SAID_SO = later(r"\s*(?:[),.;!?]|$|and\b|but\b|so\b|years?\b|yrs?\b|months?\b)", re.IGNORECASE)
_OF_SOMEBODY = later(r",? (?:my|i|i'm|i’m|i've|i’ve|i'd|we|she|he|her|his)\b", re.IGNORECASE)


def _hour_or_age(number: Number, draft: Draft) -> str:
    """Why a number is an hour of the morning or somebody's age, or an empty string."""
    value = number.low
    if value != int(value):
        return ""
    if value <= 12 and _MORNING.match(draft.text, number.end):
        return "a time of day"
    if value <= 110 and _SAID_SO.match(draft.text, number.end) and _IS_OLD.search(draft.text[: number.start]):
        return "an age"
    if 12 < value <= 110 and _OF_SOMEBODY.match(draft.text, number.end) and _AT_AGE.search(draft.text[: number.start]):
        return "an age"
    return ""


def _clock_times(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """The phrases without times of day: "open till 5:30" is neither digging in nor parts."""
    kept: list[Phrase] = []
    for phrase in phrases:
        if type(phrase) is Said:
            kept.append(phrase)
            continue
        number = single(phrase)
        time = (type(phrase) is Ratio and len(phrase.terms) == 2 and phrase.terms[0] <= 24 and phrase.terms[1] < 60 and phrase.end - phrase.start <= 5) or (
            type(number) is Number and number.low == number.high == int(number.low) <= 24
        )
        till = bool(kept) and isinstance(kept[-1], Said) and kept[-1].text.lower() == "till"
        if type(number) is Number and number.low == number.high and (why := _hour_or_age(number, draft)):
            if kept and is_said(kept[-1], "link", "at"):
                kept.pop()
            draft.noted.append((words_of(draft, phrase), why))
            continue
        if time and (type(phrase) is Ratio or _ends(draft, phrase)) and _BEFORE_CLOCK.search(draft.text[: phrase.start].lower()):
            if till:
                kept.pop()
            draft.noted.append((words_of(draft, phrase), "a time of day"))
        else:
            kept.append(phrase)
    return kept


#: "25 C" where something is brewed or watered: a temperature, and no cups.
_CELSIUS = later(r"\d+(?:\.\d+)?\s?C")
_WARM = later(r"\b(?:at|of|around|about|to|is|temp(?:erature)?)\s+$", re.IGNORECASE)


def _degrees(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """The phrases without "25 C" in a tea, which is how warm it is."""
    if not any(is_said(p, "way", "tea") or is_said(p, "link", "water") for p in phrases):
        return phrases
    kept = []
    for phrase in phrases:
        one = single(phrase)
        warm = type(one) is Measure and one.unit == "us_cup" and one.per is None and 4 <= one.low == one.high <= 60
        if warm and _CELSIUS.fullmatch(words_of(draft, phrase)) and _WARM.search(draft.text[: phrase.start]):
            draft.noted.append((words_of(draft, phrase), "a temperature"))
        else:
            kept.append(phrase)
    return kept


def _ends(draft: Draft, phrase: Phrase) -> bool:
    return draft.text[phrase.end :].lstrip()[:1] in ("", ",", ".", ";", "?", "!")


def _courses(phrases: list[Phrase], drop: dict[int, str], draft: Draft) -> None:
    """Asks how high so many boards, bricks or blocks are in all, where the height of one is said: "3 boards of 4 inches high"."""
    for at, course in enumerate(phrases):
        if not is_said(course, "other-thing", "course") or at == 0 or at - 1 not in drop:
            continue
        number = single(phrases[at - 1])
        after = phrases[at + 1 : at + 4]
        high = next((p for p in after if not (is_said(p, "link", "of", "at", "is", "with") or is_said(p, "link", "each"))), None)
        one = single(high)
        if type(number) is Number and number.low > 1 and type(one) is Measure and dimension(one) == "length" and one.role in ("", "height", "width", "thick"):
            said = draft.text[phrases[at - 1].start : one.end].strip()
            draft.question = ("height", f"“{said}”: how high is that in all?")


#: A depth that something else takes up: what is left has to be asked for.
_FILLS = "the depth of something else in it"


def _neighbour(phrases: list[Phrase], at: int, step: int) -> Phrase | None:
    """The next phrase before or after one, passing over "is" and "about"."""
    at += step
    while 0 <= at < len(phrases):
        phrase = phrases[at]
        if not (is_said(phrase, "link", "is") or is_said(phrase, "about") or is_said(phrase, "is")):
            return phrase
        at += step
    return None


def _single_numbers(phrases: list[Phrase], drop: dict[int, str]) -> None:
    for at, phrase in enumerate(phrases):
        if type(phrase) is not Amount and type(phrase) is not Ratio:
            continue
        one = single(phrase)
        before, after = _neighbour(phrases, at, -1), phrases[at + 1] if at + 1 < len(phrases) else None
        if type(one) is Number:
            reason = _number_aside(one, before, after, phrases, at)
            if reason:
                drop[at] = reason
        elif type(one) is NurseryClass and is_said(before, "label-word"):
            drop[at] = "a label"
        elif type(one) is Measure:
            reason = _measure_aside(one, before, after, phrases, at)
            if reason:
                drop[at] = reason
        elif type(phrase) is Amount and len(phrase.dims) > 1 and at and is_said(phrases[at - 1], "link", "is") and is_said(
            before, "other-thing", "house-thing", "stands-in", "course"
        ) and not any(is_said(p, "ground", "l-shape") for p in phrases):  # fmt: skip
            drop[at] = "the size of something else"
        elif type(phrase) is Amount and is_sides(phrase) and at >= 2 and is_said(phrases[at - 1], "link", "of") and is_said(
            phrases[at - 2], "other-thing", "house-thing", "stands-in", "course"
        ) and not _block_of_ground(phrase, phrases[at - 2]):  # fmt: skip
            drop[at] = "the size of something else"  # "10 blocks of 40 cm by 20 cm"
        elif type(phrase) is Ratio and is_said(after, "clock"):
            drop[at] = "a time of day"
        elif type(phrase) is Amount and (
            is_any_goods(after) or is_said(after, "label-word", "npk") or is_said(after, "other-thing", "house-thing", "stands-in", "course")
        ) and not _block_of_ground(phrase, after) and not any(is_said(p, "ground", "l-shape") for p in phrases):  # fmt: skip
            drop[at] = "the size of something else"


def _each_of_those(phrases: list[Phrase], at: int) -> bool:
    """Whether so much is for each of the people or things that a number counts: "my 3 daughters each have", "for each of the 4 kids"."""
    beside = [phrases[i] for i in (at - 2, at - 1, at + 2) if 0 <= i < len(phrases)]
    beside += [one for one, noun in zip(phrases, phrases[1:], strict=False) if is_said(noun, "other-thing", "person")]  # "each student", elsewhere
    return any(is_said(phrase, "link", "each") for phrase in beside)


#: A block this long on each side is of ground, in metres; one of stone is smaller.
_LEAST_BLOCK = 1.5


def _block_of_ground(size: Amount, noun: Phrase | None) -> bool:
    """ "a 40 m x 25 m block": a piece of land."""
    if not is_said(noun, "other-thing", "course") or not noun.text.lower().startswith("block"):  # type: ignore[union-attr]
        return False
    sides = [dim for dim in size.dims if type(dim) is Measure and dim.kind == "unit" and dimension(dim) == "length"]
    if not sides or len(size.dims) != 2 or not all(type(dim) in (Measure, Number) for dim in size.dims):
        return False
    scale = unit(sides[-1].unit).factor
    return all(dim.low * (unit(dim.unit).factor if type(dim) is Measure else scale) >= _LEAST_BLOCK for dim in size.dims)  # type: ignore[union-attr]


def _number_aside(one: Number, before: Phrase | None, after: Phrase | None, phrases: list[Phrase], at: int) -> str:
    if is_said(before, "label-word"):
        return "a label"
    if is_said(before, "unit") and isinstance(before, Said) and unit(before.id).dimension == "time":
        return "a label"  # "week 3"
    if is_said(before, "other-thing", "person") and (after is None or is_said(after, "link", "and") or is_said(after, "stop")):
        return "an age"
    if is_said(before, "month-name") or (is_said(after, "month-name") and one.low <= 31):
        return "a date"
    if is_said(after, "clock"):
        return "a time of day"
    if is_said(after, "other-thing", "grade"):
        return "a grade"
    if is_said(after, "other-thing"):
        return "a count of something else"
    if is_said(before, "link", "of") and at > 1 and is_said(phrases[at - 2], "other-thing", "person"):
        return "a count of something else"  # "a family of 4"
    if is_any_goods(after):
        return _FILLS if one.low < 1 else "a count of something else"  # "the bottom half logs"
    if is_said(after, "other-time") and one.role == "":
        return "a time"
    if type(after) is Said and after.kind == "unknown" and after.start == one.end and after.id in ("st", "nd", "rd", "th"):
        return "a date or a place in a row"
    if YEARS[0] <= one.low <= YEARS[1] and one.low == int(one.low) and one.low == one.high and "," not in one.note:
        if is_said(before, "link", "into", "from", "now") or is_said(before, "label-word") or is_said(before, "month-name"):
            return "a year"
        if type(after) is Said and after.kind in ("ground", "container") and not after.text.lower().endswith("s"):
            return "a year"  # "the 2025 bed"
    return ""


def _measure_aside(one: Measure, before: Phrase | None, after: Phrase | None, phrases: list[Phrase], at: int) -> str:
    kind = dimension(one)
    if kind == "time":
        return "a time, not an amount"
    if kind == "temperature":
        return "a temperature"
    if kind == "conductivity":
        return "a measure of salts"
    if one.per is not None and type(one.per) is Measure and dimension(one.per) == "time":
        return "an amount over a time"
    if kind == "length" and one.role == "height" and is_said(before, "plant") and not is_said(after, "container"):
        return "the height of the plants"
    if kind == "length" and one.role == "apart":
        return ""
    if kind == "length" and is_said(after, "other-thing") and one.role == "":
        return "the size of something else"
    if kind in ("length", "area") and at and is_said(phrases[at - 1], "link", "is") and is_said(before, "other-thing", "house-thing", "stands-in", "course"):
        return "the size of something else"
    if kind == "length" and is_said(after, "other-thing", "height-above"):
        return "a height above the ground"
    following = list(phrases[at + 1 : at + 4])
    if kind == "length" and following and is_said(following[0], "link", "from") and any(
        is_said(p, "other-thing") or is_any_goods(p) or is_said(p, "label-word") for p in following[1:3]
    ):  # fmt: skip
        return "a distance to something else"
    goods = [p for p in phrases[at + 1 : at + 3] if not is_said(p, "link", "of")]
    if goods and (is_any_goods(goods[0]) or is_said(goods[0], "label-word", "npk")):
        if is_said(goods[0], "other-goods", "weather"):
            return "the weather"
        if kind == "length" and _castings_layer(phrases, at):
            return "a layer of something else"
        fills = kind == "length" and (is_said(after, "link", "of") or any(is_said(p, "role", "bottom-diameter") for p in phrases[at + 1 : at + 5]))
        return _FILLS if fills else "an amount of something else"
    if kind == "length" and one.role in ("", "thick") and goods and is_said(goods[0], "component") and _castings_layer(phrases, at) and (
        is_said(after, "link", "of") or not is_said(goods[0], "component", "soil", "topsoil")
    ):  # fmt: skip
        return "a layer of something else"
    if is_said(before, "label-word", "npk"):
        return "an amount of something else"
    return ""


def _castings_layer(phrases: list[Phrase], other: int) -> bool:
    """Whether another length is said to be of castings: "2 inches of compost and half an inch of castings"."""
    for at, phrase in enumerate(phrases[:-1]):
        one = single(phrase)
        if at != other and type(one) is Measure and dimension(one) == "length" and one.role in ("", "thick"):
            here = at + 1
            while here < len(phrases) - 1 and (is_said(phrases[here], "link", "of") or is_said(phrases[here], "role", "thick")):
                here += 1
            if is_said(phrases[here], "castings"):
                return True
    return False


def _money_and_shares(phrases: list[Phrase], drop: dict[int, str], draft: Draft) -> None:
    priced = any(type(p) is Price for p in phrases)
    for at, phrase in enumerate(phrases):
        if type(phrase) is not Share and type(phrase) is not Price:
            continue
        before, after = _neighbour(phrases, at, -1), phrases[at + 1] if at + 1 < len(phrases) else None
        organic = is_said(after, "topic", "organic-matter") and after.text.lower().startswith("organic")  # type: ignore[union-attr]
        if organic and type(phrase) is Share:
            drop[at], drop[at + 1] = "a share of something else", ""
        elif type(phrase) is Share and (is_said(after, "other-share") or (is_said(before, "other-share") and not is_said(after, "castings"))):
            drop[at] = "a share of something else"
            named = after if is_said(after, "other-share") else before
            if isinstance(named, Said) and named.id == "tax" and not _INCLUDED.search(draft.text[: phrase.start].lower()):
                draft.tax = Span(min(phrase.low, phrase.high), max(phrase.low, phrase.high), "percent")
                drop[at] = "a tax on the price"
        elif type(phrase) is Price and phrase.per is None and (is_said(before, "other-goods", "delivery") or is_said(after, "other-goods", "delivery")):
            drop[at] = "the price of delivery"
            if phrase.low == phrase.high and not _INCLUDED.search(draft.text[: phrase.start].lower()):
                draft.charges.append((phrase.low, phrase.currency))
    if not priced:
        return
    for start, end in clauses(phrases, commas=True):
        part = phrases[start:end]
        has_pack = any(is_said(p, "pack") or is_said(p, "castings") for p in part)
        priced_apart = sum(type(p) is Price for p in part) > 1  # "2 yards at $150 a yard plus $40 delivery"
        other = any((is_any_goods(p) and not (priced_apart and is_said(p, "other-goods", "delivery"))) or is_said(p, "component") or is_said(p, "label-word", "npk") for p in part)
        spent = any(is_said(p, "link", "cost-me") for p in part) or any(is_said(p, "other-thing", "house-thing", "course") for p in part)
        said = draft.text[part[0].start : part[-1].end]
        spent = spent or (_PAID.search(said) is not None and not any(type(p) is Amount for p in part))
        for at in range(start, end):
            if type(phrases[at]) is Price and at not in drop and ((other and not has_pack) or (spent and not has_pack)):
                drop[at] = "the price of something else"


#: "bought in March for $28": what was paid for something that is not named.
_PAID = later(r"\b(?:bought|paid|purchased|was)\b.*\bfor\s+\S+$", re.IGNORECASE)


def _castings_amount(phrase: Phrase) -> bool:
    """Whether an amount is of castings rather than of a place: a volume, a weight, a share, a price, bags."""
    one = single(phrase)
    if type(phrase) in (Share, Price):
        return True
    if type(one) is Measure:
        return dimension(one) in ("volume", "weight", "loose") or one.unit in ("quart", "pint", "gallon")
    return False


#: What somebody else gave away is ours now.
_GIVEN = later(r"\b(?:gave|given|gives|brought|left|sold|sent|handed|dropped off)\s+(?:\w+ )?(?:me|us)\b", re.IGNORECASE)


def _other_clauses(phrases: list[Phrase], drop: dict[int, str], draft: Draft, leaning: bool) -> None:
    """Clauses about last year, somebody else, or land that is not treated."""
    together = any(is_said(p, "link", "both") for p in phrases)
    total = [at for at, p in enumerate(phrases) if type(p) in (Amount, Share, Price) and at not in drop]
    for start, end in clauses(phrases, commas=True):
        part = phrases[start:end]
        inside = [at for at in range(start, end) if at in total]
        outside = [at for at in total if not start <= at < end]
        if not inside:
            continue
        ago = any(is_said(p, "other-time", "last-year") for p in part)
        given = _GIVEN.search(draft.text[part[0].start : part[-1].end]) is not None
        person = not given and any(is_said(p, "other-person") for p in part)
        if leaning and (person or any(is_said(p, "other-time", "last-year") for p in part)):
            for at in inside:
                if type(phrases[at]) is Share and len(total) == 1 and not ago and _ADVISED.match(draft.text[phrases[at].end :]):
                    draft.flags.append(("advised", f"“{words_of(draft, phrases[at])}” is somebody's advice, and is used here"))
                    continue
                if not is_said(phrases[at + 1] if at + 1 < len(phrases) else None, "link", "count-word"):
                    drop[at] = "somebody else's amount, or another time's"  # but "my neighbour has three of those" counts what is spoken of
            continue
        neighbour = person and any(is_said(p, "other-person", "neighbour") for p in part)
        if neighbour and not ago and any(is_said(p, "other-person", "advice") for p in part) and not _THEIRS.search(draft.text[part[0].start : part[-1].end]):
            neighbour = False  # "my neighbor swears by ten percent" is advice for here, and not what theirs gets
            draft.flags += [("advised", f"“{words_of(draft, phrases[at])}” is somebody's advice, and is used here")
                            for at in inside if _castings_amount(phrases[at]) and not _rival(phrases, at, outside)]  # fmt: skip
        if (neighbour or ago) and any(
            _castings_amount(phrases[at]) or type(single(phrases[at])) is Measure for at in inside
        ) and not all(_rival(phrases, at, outside) for at in inside) and not (ago and _told_in_full(phrases, outside)):  # fmt: skip
            draft.hints.add("others-amount")
        land = any(is_said(p, "other-land") for p in part)
        if not outside:
            continue
        for at in inside:
            phrase = phrases[at]
            bags = type(single(phrase)) is Number and at + 1 < end and is_said(phrases[at + 1], "pack")
            part_done = type(one := single(phrase)) is Number and one.low < 1
            if ago and (_castings_amount(phrase) or bags or part_done or _rival(phrases, at, outside)):
                drop[at] = "another time's amount"
            elif person and not together and _rival(phrases, at, outside):
                drop[at] = "somebody else's amount"
            elif land and any(_is_ground_size(phrases[other]) for other in outside) and _is_ground_size(phrase):
                drop[at] = "land that is not treated"


def _told_in_full(phrases: list[Phrase], at: list[int]) -> bool:
    """Whether a place and its share are told outside a clause about another time: nothing of that time is needed."""
    return any(_is_ground_size(phrases[one]) for one in at) and any(type(phrases[one]) is Share for one in at)


#: Where an amount is said of a place that is somebody else's.
_THEIRS = later(r"\b(?:his|her|hers|their|theirs|neighbou?r'?s'?)\b", re.IGNORECASE)


def _other_years(phrases: list[Phrase], drop: dict[int, str]) -> None:
    """ "lost half my tomatoes in 2022, now 12 plants": what was gone in another year is no change of now."""
    for start, end in clauses(phrases, commas=True):
        gone = [at for at in range(start, end) if is_said(phrases[at], "by-so-much", "gone")]
        bags = [at for at in range(start, end - 1) if type(single(phrases[at])) is Number and is_said(phrases[at + 1], "pack") and at not in drop]
        if bags and any(drop.get(at) == "a year" for at in range(start, end)):
            for at in bags:
                drop[at], drop[at + 1] = "another time's amount", ""  # "in 2023 we used 12 bags"
        if not gone or not any(drop.get(at) == "a year" for at in range(start, end)):
            continue
        inside = [at for at in range(start, end) if type(phrases[at]) in (Amount, Share) and at not in drop]
        outside = [at for at, p in enumerate(phrases) if type(p) in (Amount, Share) and at not in drop and not start <= at < end]
        if inside and all(_rival(phrases, at, outside) for at in inside):
            drop.update((at, "another time's amount") for at in inside)
            drop.update((at, "") for at in gone)


#: "5% is enough for seeds, my nan said": what is to be done, and no question.
_ADVISED = later(r"\s*(?:is|are|'s|would be|will be)\s+(?:enough|plenty|sufficient|best|about right|ideal)\b(?![^?]*\?)", re.IGNORECASE)


#: What somebody else did with bags.
_THEY_USED = later(r"\b(?:used|uses|needed|took|put|went through|got through)\b", re.IGNORECASE)


def _their_bags(phrases: list[Phrase], drop: dict[int, str], draft: Draft) -> None:
    """ "my neighbour used 6 bags. Mine is 4 by 1 m …": theirs, where a place of ours is told in full."""
    if any(is_said(p, "ask", "how-deep", "how-far", "enough", "how-many", "cover", "what-share") for p in phrases):
        return
    for start, end in clauses(phrases, commas=False):
        said = draft.text[phrases[start].start : phrases[end - 1].end]
        if not any(is_said(p, "other-thing", "person") for p in phrases[start:end]) or not _THEY_USED.search(said):
            continue
        outside = [p for i, p in enumerate(phrases) if not start <= i < end]
        if not any(map(_is_ground_size, outside)) or not any(type(p) is Share or type(single(p)) is Measure for p in outside):
            continue
        for at in range(start, end - 1):
            if type(single(phrases[at])) is Number and at not in drop and is_said(phrases[at + 1], "pack"):
                drop[at], drop[at + 1] = "somebody else's amount", ""


def _rival(phrases: list[Phrase], at: int, others: list[int]) -> bool:
    """Whether an amount of the same sort stands outside the clause."""
    mine = sort_of(phrases[at])
    return any(sort_of(phrases[other]) == mine for other in others)


def _is_ground_size(phrase: Phrase) -> bool:
    one = single(phrase)
    return (type(phrase) is Amount and len(phrase.dims) > 1) or (type(one) is Measure and dimension(one) == "area")
