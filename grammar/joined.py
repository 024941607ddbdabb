"""Tokens that belong to one amount, and those that only look so: "5 ft 2 in", "a cup and a half", "4x8 1/2 inch"."""

from __future__ import annotations

from .tok import NUMERALS, Tok, is_kind
from .words import Word, vocabulary

_INCH = Word("unit", "inch", "UNIT", "inch")
_FLUID_OUNCE = Word("unit", "fluid_ounce", "UNIT", "fluid ounce")
_PAUSE = Word("stop", "comma", "STOP", "")


def join(tokens: list[Tok]) -> None:
    """Marks what belongs to one amount: "of a" after a fraction, feet and inches that are one length.

    "5 ft 2 in by 3 ft" and "6'6"" are one length; "4 by 8 ft 10 in deep" is a size and a depth.
    """
    types = {token.type for token in tokens}  # most lines have little of what is looked for here
    fractions = not types.isdisjoint(_FRACTIONS)
    if fractions:
        _of_a(tokens)
    if "TO" in types:
        _pauses(tokens)
    if "UNIT" in types and "PER" in types:
        _rates_of_castings(tokens)
        _a_thousand_of_area(tokens)
        _an_inch_after_feet(tokens)
    if fractions:
        _layer_after_sides(tokens)
    if "ROLE" in types:
        _with_by_its_letter(tokens)
        _inches_before_role(tokens)
    if "UNIT" not in types:
        return
    if fractions:
        _unit_and_a_half(tokens)
    if any([one.type == "UNIT" and two.type in NUMERALS for one, two in zip(tokens, tokens[1:], strict=False)]):  # noqa: C419 - a list costs less here
        _feet_and_six(tokens)
    units = [at for at, token in enumerate(tokens) if token.type == "UNIT"]
    if any(later - at == 1 for at, later in zip(units, units[1:], strict=False)):
        _cup_by_ounces(tokens)
        units = [at for at, token in enumerate(tokens) if token.type == "UNIT"]
    apart = {later - at for at, later in zip(units, units[1:], strict=False)}
    if 3 in apart:
        _feet_and_inches(tokens)
    if 2 in apart:
        _two_units(tokens)


#: What a rate may be told for without its unit, and in which units of area.
_HUNDREDS = frozenset({100.0, 1000.0})
_AREAS = frozenset({"square_foot", "square_metre", "square_yard"})
#: Terminals of a part of one.
_FRACTIONS = frozenset({"HALF", "PART_WORD", "FRACTION"})


def _of_a(tokens: list[Tok]) -> None:
    """Marks the "of a" after a fraction."""
    for first, of, one, last in zip(tokens, tokens[1:], tokens[2:], tokens[3:], strict=False):
        if one.type == "ONE" and of.text == "of" and first.type in _FRACTIONS:
            if last.type in ("UNIT", "PERCENT", "LOOSE"):
                of.type = one.type = "OF_A"  # "three quarters of a cubic yard"
        elif one.type == "ONES" and one.text.lower() == "one" and of.text.lower() == "of" and last.type == "PERCENT" and (
            first.type in _FRACTIONS
        ):  # fmt: skip
            of.type = one.type = "OF_A"  # "a quarter of one percent"


def _rates_of_castings(tokens: list[Tok]) -> None:
    """Takes out the castings of a rate: "2 lb of castings per tree"."""
    for at, token in enumerate(tokens):
        if token.type == "UNIT":
            here = at + 1
            if here < len(tokens) and tokens[here].text.lower() == "of":
                here += 1
            if here + 1 < len(tokens) and is_kind(tokens[here], "castings") and tokens[here + 1].type == "PER":
                for between in tokens[at + 1 : here + 1]:
                    between.type = "SILENT"
    tokens[:] = [token for token in tokens if token.type != "SILENT"]


def _a_thousand_of_area(tokens: list[Tok]) -> None:
    """ "lawn 5000 sq ft at 10 lb per 1000": of the unit of the area that the line tells."""
    for at, token in enumerate(tokens):
        number = tokens[at + 1] if at + 1 < len(tokens) else None
        after = tokens[at + 2] if at + 2 < len(tokens) else None
        if token.type != "PER" or not at or tokens[at - 1].type != "UNIT" or number is None or number.value not in _HUNDREDS or (
            after is not None and after.type in ("UNIT", "WORD", "UNKNOWN", "LOOSE", *NUMERALS)
        ):  # fmt: skip
            continue
        area = next((other for other in tokens if other.type == "UNIT" and other.word is not None and other.word.id in _AREAS), None)
        if area is not None and area.word is not tokens[at - 1].word:
            tokens.insert(at + 2, Tok("UNIT", area.word, "", number.end, number.end))


def _an_inch_after_feet(tokens: list[Tok]) -> None:
    """ "3x12 ft an inch": a length for each length is none; the "an" is one inch."""
    for before, token, after in zip(tokens, tokens[1:], tokens[2:], strict=False):
        if token.type == "PER" and token.text.lower() in ("a", "an") and before.type == after.type == "UNIT" and (
            before.word is not None and before.word.id in ("foot", "metre", "yard") and after.word is not None and after.word.id in ("inch", "centimetre")
        ):  # fmt: skip
            token.type, token.word = "ONE", next(word for word, _, _ in vocabulary().single["a"].rules if word.terminal == "ONE")  # type: ignore[union-attr]


def _cup_by_ounces(tokens: list[Tok]) -> None:
    """ "a 16 oz cup per rose": a vessel that holds so many fluid ounces, and no weight."""
    for ounce, cup in zip(tokens, tokens[1:], strict=False):
        if ounce.word is not None and ounce.word.id == "ounce" and cup.type == "UNIT" and cup.word is not None and cup.word.id == "us_cup":
            ounce.word, cup.type = _FLUID_OUNCE, "SILENT"
    tokens[:] = [token for token in tokens if token.type != "SILENT"]


def _pauses(tokens: list[Tok]) -> None:
    """Passes over a "to" or a dash that is no range."""
    for at, token in enumerate(tokens):
        if token.type == "TO" and at and tokens[at - 1].type == "PERCENT" and not any(
            t.type in ("PERCENT", "MONEY") for t in tokens[at + 1 : at + 4]
        ):  # fmt: skip
            token.type = "FILLER"  # "10% to 15 cm"
        elif token.type == "TO" and token.text in ("-", "–") and 0 < at < len(tokens) - 2 and (
            token.start > tokens[at - 1].end and tokens[at + 1].type in NUMERALS and _pair(tokens[at - 1], tokens[at + 2])
        ):  # fmt: skip
            token.type = "FILLER"  # "height 5 ft - 1 in layer": a pause, not from five feet to an inch


def _two_units(tokens: list[Tok]) -> None:
    """Marks a larger and a smaller unit that are one measure: "5 ft 2 in"."""
    at = 0
    while at + 2 < len(tokens):
        big, number, small = tokens[at], tokens[at + 1], tokens[at + 2]
        if (
            big.type == "UNIT"
            and number.type in ("FIGURE", "FRACTION", "ONES", "TEEN")
            and _pair(big, small)
            and at
            and tokens[at - 1].type in NUMERALS
            and not (number.note)
        ):
            limit = PAIRS[(big.word.id, small.word.id)]  # type: ignore[union-attr]
            if _whole(number) < limit and not _two_lengths(tokens, at):
                tokens.insert(at + 1, Tok("COMPOUND", None, "", number.start, number.start))
                at += 3
        at += 1


def _two_lengths(tokens: list[Tok], at: int) -> bool:
    """Whether "8 ft 10 in" after a size is a side and then a depth or a layer, not one length."""
    number = tokens[at + 1]
    after = tokens[at + 3] if at + 3 < len(tokens) else None
    if after is not None and after.type == "TIMES":
        return False
    sized = any(t.type == "TIMES" for t in tokens[max(0, at - 4) : at])
    named = at >= 2 and tokens[at - 2].type == "ROLE" and after is not None and after.type == "ROLE"  # "height 5 ft. 1 in layer"
    if not sized:
        return named
    if number.type == "FRACTION" or 0 < number.value < 1 or (after is not None and after.type == "ROLE" and after.word is not None
                                     and after.word.id in ("depth", "thick", "height")):  # fmt: skip
        return True
    if number.hyphen or (tokens[at].hyphen and tokens[at].text in ("'", "′")):
        return False
    shared = False
    for later in tokens[at + 3 :]:
        if later.type == "STOP" and later.word is not None and later.word.id == "sentence":
            return True
        shared = shared or later.type == "PERCENT"
        if shared and later.type == "TIMES":
            return True  # "4x8 ft 10 in 10%, 3x6 ft …": the first place has its share, and the second its own size
        if later.type == "UNIT" and later.word is not None and later.word.id in ("inch", "foot", "yard"):
            # "bed 4x8 ft 10 in, 12 in deep bed 3x6 ft": the next place has its own depth, so these inches are a depth too
            return any(t.type == "TIMES" for t in tokens[tokens.index(later) :])
    return True


def _layer_after_sides(tokens: list[Tok]) -> None:
    """ "4x8 1/2 inch": sides without a unit and then a layer, not a side of eight and a half inches."""
    for at in range(2, len(tokens) - 2):
        fraction, unit_token = tokens[at + 1], tokens[at + 2]
        if (
            tokens[at].type == "FIGURE" and tokens[at - 1].type == "TIMES" and fraction.type == "FRACTION" and not fraction.hyphen
            and unit_token.type == "UNIT" and unit_token.word is not None and unit_token.word.id == "inch"
            and tokens[at - 2].type == "FIGURE" and not any(is_kind(t, "container") for t in tokens[max(0, at - 6) : at]) and not any(is_kind(t, "container") or t.type == "TIMES" for t in tokens[at + 3 : at + 6])
        ):  # fmt: skip
            tokens.insert(at + 1, Tok("STOP", _PAUSE, "", fraction.start, fraction.start))
            return


def _with_by_its_letter(tokens: list[Tok]) -> None:
    """ "mix w 10 percent castings", "roses w 2 cups each": "with", and no width."""
    for token, number, unit_token in zip(tokens, tokens[1:], tokens[2:], strict=False):
        if token.type != "ROLE" or token.text.lower() != "w" or number.type not in NUMERALS:
            continue
        amount = unit_token.type == "UNIT" and unit_token.word is not None and unit_token.word.id in _POURED
        word = vocabulary().single["with"]
        if (unit_token.type == "PERCENT" or amount) and isinstance(word, Word):
            token.type, token.word = word.terminal, word


#: Units in which nothing is wide.
_POURED = frozenset({"us_cup", "tablespoon", "teaspoon", "litre", "millilitre", "gram", "kilogram", "pound", "gallon", "quart", "pint"})


def _inches_before_role(tokens: list[Tok]) -> None:
    """ "diameter 12 in height 10 in", "12 in diameter": the "in" is the unit of the figure before it, not a part of "in height".

    Where metric lengths stand in the line a bare figure may be one of them, and is asked about.
    """
    metric = any(token.type == "UNIT" and token.word is not None and token.word.id.endswith("metre") for token in tokens)
    for at in range(len(tokens) - 2, 1, -1):
        token = tokens[at]
        if (
            token.type == "ROLE" and token.text.lower().startswith("in ") and tokens[at - 1].type == "FIGURE" and (
                (tokens[at - 2].type == "ROLE" and tokens[at + 1].type == "FIGURE")
                or (token.word is not None and token.word.id == "diameter" and not metric and tokens[at - 2].type not in ("TIMES", "TO"))
            )
        ):  # fmt: skip
            middle = token.start + 2
            tokens[at : at + 1] = [
                Tok("UNIT", _INCH, token.text[:2], token.start, middle), Tok("ROLE", token.word, token.text[3:], middle + 1, token.end),
            ]  # fmt: skip


#: "and", and how it is written in haste.
_ANDS = frozenset({"and", "&", "an", "n", "nd", "amd", "adn"})


def _unit_and_a_half(tokens: list[Tok]) -> None:
    """ "a cup and a half": the half belongs to the cup."""
    for at in range(1, len(tokens) - 1):
        unit_token, link = tokens[at], tokens[at + 1]
        if unit_token.type != "UNIT" or tokens[at - 1].type not in NUMERALS or not is_kind(link, "link") or link.text.lower() not in _ANDS:
            continue
        end = at + 2
        if end < len(tokens) and tokens[end].type == "ONE":
            end += 1
        if end < len(tokens) and tokens[end].type in ("HALF", "PART_WORD", "FRACTION") and not (
            end + 1 < len(tokens) and tokens[end + 1].type in ("UNIT", "OF_A", "PERCENT", "LOOSE")
        ):  # fmt: skip
            link.type = "PLUS"
            tokens[at : end + 1] = [*tokens[at + 1 : end + 1], unit_token]


def _feet_and_six(tokens: list[Tok]) -> None:
    """Marks "three foot six": inches that go unsaid, before "by" or one noun."""
    at = 1
    while at + 1 < len(tokens):
        foot, number = tokens[at], tokens[at + 1]
        if foot.type != "UNIT":
            at += 1
            continue
        if foot.word is not None and foot.word.id == "metre" and _centimetres(tokens, at):
            tokens.insert(at + 1, Tok("COMPOUND", None, "", number.start, number.start))  # "2 m 40 x 1 m 20"
            at += 2
        elif (
            foot.word is not None and foot.word.id == "foot" and tokens[at - 1].type in NUMERALS
            and number.type in ("FIGURE", "ONES", "TEEN") and 0 < _whole(number) < 12
            and not (number.text.lower() == "one" and tokens[at - 1].type == "FIGURE")  # "a 3 by 6 ft one"
        ):  # fmt: skip
            after = tokens[at + 2] if at + 2 < len(tokens) else None
            side = after is not None and (after.type == "TIMES" or (is_kind(after, "ground") and not after.text.lower().endswith("s")))
            second = at >= 2 and tokens[at - 2].type == "TIMES" and number.start > foot.end and (after is None or after.type == "STOP")
            side = side or second  # "14 foot by 3 foot 6."
            if side or (number.hyphen and number.type == "FIGURE" and (after is None or after.type not in ("UNIT", "TIMES", "PERCENT"))):
                tokens.insert(at + 1, Tok("COMPOUND", None, "", number.start, number.start))
                at += 2
        at += 1


def _centimetres(tokens: list[Tok], at: int) -> bool:
    """Whether two digits after a metre are centimetres that go unsaid: "3 m by 1 m 20", "one metre twenty wide"."""
    number = tokens[at + 1]
    nought = number.type == "FIGURE" and len(number.text) == 2 and number.text[0] == "0"
    if tokens[at - 1].type not in NUMERALS or number.type not in ("FIGURE", "TENS", "TEEN") or not (nought or 10 <= _whole(number) < 100) or _whole(number) % 1:
        return False
    end = at + 2
    if number.type == "TENS" and end < len(tokens) and tokens[end].type == "ONES":
        end += 1  # "one metre twenty five"
    after = tokens[end] if end < len(tokens) else None
    if after is None or after.type in ("TIMES", "STOP", "ROLE"):
        return True
    one_of_sides = any(t.type == "COMPOUND" for t in tokens[:at]) or (at > 1 and tokens[at - 2].type == "TIMES")
    return after.type == "WORD" and one_of_sides and not is_kind(after, "plant") and not after.text.lower().endswith("s")


def _feet_and_inches(tokens: list[Tok]) -> None:
    """ "7 feet and 3 inches": the "and" joins one length."""
    for at in range(1, len(tokens) - 2):
        foot, link, number, inch = tokens[at], tokens[at + 1], tokens[at + 2], tokens[at + 3] if at + 3 < len(tokens) else None
        if inch is None or not _pair(foot, inch) or not is_kind(link, "link") or link.text.lower() != "and" or number.type not in NUMERALS:
            continue
        after = tokens[at + 4] if at + 4 < len(tokens) else None
        own_role = after is not None and after.type == "ROLE" and after.word is not None and after.word.id in ("depth", "thick", "height")
        if own_role or ((after is None or after.type != "ROLE") and any(t.type == "TIMES" for t in tokens[max(0, at - 4) : at])):
            continue
        if _whole(number) < PAIRS[(foot.word.id, inch.word.id)]:  # type: ignore[union-attr]
            link.type, link.word, link.text = "COMPOUND", None, ""


def _whole(token: Tok) -> float:
    if token.word is None:
        return token.value
    # "a foot and an inch": an article is one
    return float(token.word.id) if token.word.id.replace(".", "", 1).isdecimal() else 1.0


#: A larger and a smaller unit that together make one measure, and how many of the smaller make the larger.
PAIRS = {("gallon", "us_cup"): 16, ("us_gallon", "us_cup"): 16, ("quart", "us_cup"): 4, ("us_cup", "tablespoon"): 16,
          ("kilogram", "gram"): 1000, ("litre", "millilitre"): 1000, ("foot", "inch"): 12, ("pound", "ounce"): 16, ("metre", "centimetre"): 100, ("yard", "foot"): 3}


def _pair(big: Tok, small: Tok) -> bool:
    return (
        big.word is not None and small.word is not None and small.type == "UNIT" and (big.word.id, small.word.id) in PAIRS
    )
