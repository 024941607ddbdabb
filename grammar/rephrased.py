"""Other ways of putting things, put into the words that the rest of the reader knows.

Each is found by its own words and rewritten: "5 metres on 3 metres" is five by three, "every tree 3 kilos" is three
kilos each, "5 of 40 lb bags" is five such bags, "rows 4 and 5" are two rows with names.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable

from .bagged_soil import find_bagged_soil
from .draft import Draft
from .groups import find_groups
from .held import find_held
from .measured_in_bags import find_measured_in_bags
from .mix_for import find_mix_for
from .other_bags import find_other_bags
from .part_bags import find_part_bags
from .phrases import Amount, Measure, Number, Phrase, Price, Said, Share
from .quantities import factor, unit
from .said import Mark, Waiting, dimension, is_said, is_sides, past_describing, single
from .things import is_ground_size, sides_of, whole

#: Units of the sides of a bed; "2 cm on 3 m" is a layer on it.
_SIDES = frozenset({"foot", "metre", "yard"})
_ONE = ("plant", "hole")
#: Before a size that a place is known by.
_THE = re.compile(r"\b(?:the|my|our|that|this|his|her|their)\s+$", re.IGNORECASE)
#: A side of a place is no longer than this many of the other: "1 on 40 ft" is no size.
_LONGEST = 30.0


def find_rephrased(phrases: list[Phrase], draft: Draft, kinds: set[Mark]) -> list[Phrase]:
    """The phrases with each of these ways of speaking put as the others are; `kinds` is what stands in them."""
    for read in _READERS.due(kinds):
        phrases = read(phrases, draft)
    return phrases


def _side(phrase: Phrase | None) -> Measure | None:
    one = single(phrase)
    plain = type(one) is Measure and one.per is None and not one.role and one.unit in _SIDES and one.low == one.high
    return one if plain else None  # type: ignore[return-value]


def _sides_on(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """ "5 meter on 3 meter", "10 feet into 12 feet", "4 into 10 feet": the two sides of a place."""
    for at in range(len(phrases) - 2):
        first, tie, second = phrases[at], phrases[at + 1], _side(phrases[at + 2])
        if second is None or not is_said(tie, "link", "on", "into") or tie.text.lower() not in ("on", "into", "in to"):  # type: ignore[union-attr]
            continue
        side: Measure | Number | None = _side(first)
        if side is None and is_said(tie, "link", "into") and whole(first):
            number = single(first)
            side = number if type(number) is Number and not number.article else None
        if side is None or is_said(phrases[at + 3] if at + 3 < len(phrases) else None, "ground"):
            continue
        one = side.low * factor(side.unit if type(side) is Measure else second.unit)
        two = second.low * factor(second.unit)
        if max(one, two) > _LONGEST * min(one, two):
            continue
        size = Amount((side, second), side.start, second.end)
        draft.flags.append(("sides", f"“{draft.text[size.start : size.end]}” is taken as its two sides"))
        return [*phrases[:at], size, *phrases[at + 3 :]]
    return phrases


def _numbers(sides: Phrase) -> list[float]:
    return [one.low for one in sides.dims if type(one) in (Number, Measure)]  # type: ignore[union-attr]


#: Before a size that tells which one is meant: "the 800 sq ft one".
_THE = re.compile(r"\b(?:the|that|my|our)\s+$", re.IGNORECASE)


def _told_by_size(phrase: Phrase, draft: Draft) -> bool:
    """Whether an area or a volume with "the" before it tells which one is meant: "the 800 sq ft one"."""
    one = single(phrase)
    told = type(one) is Measure and one.per is None and not one.role and dimension(one) in ("area", "volume")
    return told and _THE.search(draft.text[: phrase.start]) is not None


def _sized_one(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """ "the 3x5 one, an inch on top", "without the 30 sq ft one": the one that has these sides or that size, and no number."""
    if "one" not in draft.text.lower():
        return phrases
    for at in range(1, len(phrases)):
        one, before, after = single(phrases[at]), is_sides(phrases[at - 1]), phrases[at + 1] if at + 1 < len(phrases) else None
        measure = single(phrases[at - 1])
        if type(one) is Number and draft.text[one.start : one.end].lower() == "one" and type(measure) is Measure and measure.per is None and (
            _THE.search(draft.text[: measure.start]) and not draft.text[measure.end : one.start].strip()
        ):  # fmt: skip
            return [*phrases[:at], *phrases[at + 1 :]]
        named = type(one) is Number and draft.text[one.start : one.end].lower() == "one" and (before or _told_by_size(phrases[at - 1], draft))
        if named and before and any(is_sides(p) and _numbers(p) == _numbers(phrases[at - 1]) for p in phrases[: at - 1]):
            continue  # told before with its size: not a bed of its own
        if named and (after is None or type(after) is Amount or is_said(after, "stop") or is_said(after, "is") or is_said(after, "link", "is", "at", "with")):
            return [*phrases[:at], *phrases[at + 1 :]]
    return phrases


def _ends(phrases: list[Phrase], at: int) -> bool:
    after = phrases[at] if at < len(phrases) else None
    return after is None or is_said(after, "stop") or is_said(after, "castings") or is_said(after, "ask") or is_said(after, "link", "and", "altogether")


def _one_gets(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """ "20 tomato plants, one plant 250 gram", "ten olive trees, every tree 3 kilo": so much for each of them."""
    for at in range(len(phrases) - 2):
        lead, noun, amount = phrases[at], phrases[at + 1], phrases[at + 2]
        number = single(lead)
        each = is_said(lead, "link", "each") or is_said(lead, "per")  # "per plant 200 grams"
        one = type(number) is Number and number.low == number.high == 1 and not number.role
        if not (each or one) or type(noun) is not Said or noun.kind not in _ONE or not _ends(phrases, at + 3):
            continue
        what = single(amount)
        if type(what) is not Measure or what.per is not None or what.role or dimension(what) not in ("volume", "weight"):
            continue
        before = [p for p in phrases[:at] if type(p) is Said and p.kind in _ONE]
        if one and not before and not any(is_said(p, noun.kind) for p in phrases[at + 3 :]):
            continue  # "one tree, 3 kilos": it is the only one
        after = Said("link", "each", "each", amount.end, amount.end)
        told = [] if before and (noun.id in ("plant", "tree", "shrub") or noun.id == before[-1].id) else [noun]
        return [*phrases[:at], *told, amount, after, *phrases[at + 3 :]]
    return phrases


def _so_many_of(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """ "5 of 40 lb bag", "6 of the 5 gallon pots": so many of that size."""
    for at in range(len(phrases) - 3):
        size = phrases[at + 2]
        one = single(size)
        measured = (type(one) is Measure and one.per is None and not one.role) or is_sides(size)
        if not whole(phrases[at]) or not is_said(phrases[at + 1], "link", "of") or not measured:
            continue
        noun_at = past_describing(phrases, at + 3)
        noun = phrases[noun_at] if noun_at < len(phrases) else None
        before = phrases[at - 1] if at else None
        if type(noun) is Said and noun.kind in ("pack", "container", "ground") and not is_said(before, noun.kind):
            return [*phrases[: at + 1], *phrases[at + 2 :]]
    return phrases


def _numbered(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """ "rows 4 and 5", "beds 1, 2 and 6": so many of them, by their numbers."""
    for at, noun in enumerate(phrases):
        if type(noun) is not Said or noun.kind not in ("ground", "container", "plant") or not noun.text.lower().endswith("s"):
            continue
        if at and (whole(phrases[at - 1]) or is_said(phrases[at - 1], "ask")):
            continue  # "2 beds 4 and 5": the number before is their count
        numbers: list[float] = []
        end = at + 1
        here = at + 1
        joined = False
        while here < len(phrases) and (number := whole(phrases[here])) and not (numbers and number <= numbers[-1]):
            numbers.append(number)
            end = here + 1
            here = end
            while here < len(phrases) and (is_said(phrases[here], "link", "and") or is_said(phrases[here], "stop", "comma")):
                joined = joined or is_said(phrases[here], "link", "and")
                here += 1
        after = phrases[end] if end < len(phrases) else None
        beside = type(after) is Amount and not any(letter.isalpha() for letter in draft.text[phrases[end - 1].end : after.start])
        last_one = single(phrases[here]) if here < len(phrases) else None
        if type(last_one) is Measure and last_one.per is None and numbers and any(is_said(p, "link", "and") for p in phrases[end:here]):
            # "pots 10, 15 and 20 gallons": each has its size, in the unit of the last
            many = float(len(numbers) + 1)
            return [*phrases[:at], Amount((Number(many, many, noun.start, noun.start),), noun.start, noun.start), *phrases[at:]]
        if len(numbers) < 2 or not joined or beside or (type(after) is Said and after.kind in ("plant", "pack", "hole", "ground", "container")):
            continue
        first, last = phrases[at + 1].start, phrases[end - 1].end
        said = draft.text[first:last]
        draft.noted.append((said, "labels"))
        draft.flags.append(("labels", f"{noun.text.lower()} {said}: {len(numbers)} of them"))
        many = float(len(numbers))
        return [*phrases[:at], Amount((Number(many, many, first, last),), first, last), noun, *phrases[end:]]
    return phrases


def _bags_of_sizes(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """ "got 2 bags 25 lb and one bag 40 lb": bags of several sizes at hand are so much castings in all."""
    if not any(is_said(p, "link", "on-hand") for p in phrases) or any(type(p) is Price for p in phrases):
        return phrases
    found: list[tuple[int, int, float, Measure]] = []
    at = 0
    while at < len(phrases) - 2:
        many = whole(phrases[at])
        if not many and type(number := single(phrases[at])) is Number and number.article and number.low == 1:
            many = 1.0
        first, second = phrases[at + 1], phrases[at + 2]
        end = at + 3
        if is_said(first, "pack") and is_said(second, "link", "of") and end < len(phrases):
            second, end = phrases[end], end + 1
        size = single(second) if is_said(first, "pack") else single(first) if is_said(second, "pack") else None
        if many and type(size) is Measure and size.per is None and size.low == size.high and dimension(size) in ("weight", "volume") and size.kind == "unit":
            found.append((at, end, many, size))
            at = end
        else:
            at += 1
    if len(found) < 2 or len({size.unit for *_, size in found}) != 1:
        return phrases
    first_at, last_end = found[0][0], found[-1][1]
    between = [p for i, p in enumerate(phrases[first_at:last_end], first_at) if not any(a <= i < b for a, b, *_ in found)]
    if not all(is_said(p, "link", "and") or is_said(p, "stop", "comma") or is_said(p, "link", "on-hand") for p in between):
        return phrases
    total = sum(many * size.low for _, _, many, size in found)
    start, stop = phrases[first_at].start, phrases[last_end - 1].end
    made = found[0][3]._replace(low=total, high=total, start=start, end=stop)
    draft.flags.append(("bags-of-sizes", f"{draft.text[start:stop]}: {total:g} {made.unit.replace('_', ' ')} in all"))
    of = [Said("link", "of", "of", stop, stop), Said("castings", "castings", "castings", stop, stop)]
    return [*phrases[:first_at], Amount((made,), start, stop), *of, *phrases[last_end:]]


def _plants_per_area(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """ "2.5 ha, 4000 vines per hectare": so many plants as the area has room for."""
    for at in range(1, len(phrases) - 2):
        many, noun, per, unit_said = phrases[at - 1], phrases[at], phrases[at + 1], phrases[at + 2]
        number, room = single(many), single(unit_said)
        name = unit_said.id if isinstance(unit_said, Said) and is_said(unit_said, "unit") else room.unit if type(room) is Measure and room.low == 1 else ""
        if not is_said(noun, "plant") or not (is_said(per, "per") or is_said(per, "link", "each")) or type(number) is not Number or number.low != number.high:
            continue
        if not name or unit(name).dimension != "area":
            continue
        grounds = [i for i, p in enumerate(phrases) if not at - 1 <= i <= at + 2 and is_ground_size(p)]
        if len(grounds) != 1:
            continue
        ground = phrases[grounds[0]]
        assert type(ground) is Amount
        one = single(ground)
        area = one.low * factor(one.unit) if type(one) is Measure else float(math.prod(sides_of(ground)))
        count = math.floor(number.low * area / factor(name) + 1e-6)
        said = draft.text[many.start : unit_said.end]
        draft.flags.append(("plants-per-area", f"{said} on {draft.text[ground.start : ground.end]}: {count:g} of them"))
        draft.noted.append((draft.text[ground.start : ground.end], "the place where the plants stand"))
        gone = {grounds[0], *(i for i in (grounds[0] - 1, grounds[0] + 1) if 0 <= i < len(phrases) and is_said(phrases[i], "ground"))}
        made = Amount((Number(float(count), float(count), many.start, many.start),), many.start, many.start)
        return [made if i == at - 1 else p for i, p in enumerate(phrases) if i not in gone and i not in (at + 1, at + 2)]
    return phrases


#: Before a length of a bed that is only a part of its length.
_END_OF = re.compile(r"\b(?:first|middle|last|end|far|near|front|back|other|left|right)\s+$", re.IGNORECASE)


def _part_of_length(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """ "the first 10 feet of a 25 x 4 bed": ten by four; asked about where either side may be meant."""
    for at in range(len(phrases) - 2):
        part, sides = single(phrases[at]), phrases[at + 2]
        if type(part) is not Measure or part.role or part.per is not None or part.low != part.high or part.unit not in _SIDES:
            continue
        if not is_said(phrases[at + 1], "link", "of") or not is_sides(sides) or not _END_OF.search(draft.text[: part.start]):
            continue
        assert type(sides) is Amount
        told = [d.low if type(d) is Number else d.low * factor(d.unit) / factor(part.unit) for d in sides.dims]  # type: ignore[union-attr,operator]
        said = draft.text[part.start : sides.end]
        if len(told) != 2 or not min(told) < part.low < max(told):
            draft.question = ("portion", f"“{said}”: how long and how wide is the part that castings go on?")
            return phrases
        short = sides.dims[told.index(min(told))]
        short = part._replace(low=short.low, high=short.high) if type(short) is Number else short
        draft.flags.append(("part-of-length", f"“{said}” is taken as {part.low:g} by {min(told):g} {part.unit}"))
        draft.noted.append((draft.text[sides.start : sides.end], "the size of the whole"))
        return [*phrases[:at], Amount((part, short), part.start, sides.end), *phrases[at + 3 :]]
    return phrases


def _least_and_most(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """ "min 5 max 10 percent": from the one to the other."""
    for at in range(len(phrases) - 3):
        least, low, most, high = phrases[at : at + 4]
        number = single(low)
        if not (is_said(least, "unit", "minute") or is_said(least, "limit", "at-least")) or not is_said(most, "limit", "at-most"):
            continue
        if type(number) is Number and type(high) is Share and number.low < high.low:
            return [*phrases[:at], Share(number.low, high.high, number.start, high.end), *phrases[at + 4 :]]
    return phrases


def _feed_label(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """ "npk on the bag is 1-0-0": the three figures of a feed, said of the castings."""
    for at, phrase in enumerate(phrases):
        if not is_said(phrase, "label-word", "npk") or phrase.text.lower().replace("-", "").replace(" ", "") != "npk":  # type: ignore[union-attr]
            continue
        end = at + 1
        while end < len(phrases) and (is_said(phrases[end], "link", "on", "is", "of", "at") or is_said(phrases[end], "pack")):
            end += 1
        first = at
        if first and is_said(phrases[first - 1], "label"):
            first -= 1  # "1-0-0 npk"
        label = phrases[end] if end < len(phrases) else None
        if not is_said(label, "label") and first == at:
            continue
        stop = end + 1 if is_said(label, "label") else at + 1
        draft.noted.append((draft.text[phrases[first].start : phrases[stop - 1].end], "the figures of a label"))
        return [*phrases[:first], *phrases[stop:]]
    return phrases


#: Measures of a side, and of castings.
_LENGTH: frozenset[Mark] = frozenset({("measures", "length"), ("measures", "length or volume")})
_BULK: frozenset[Mark] = frozenset({("measures", "volume"), ("measures", "weight")})
_HOW_HIGH = re.compile(r"\b(?:how|what)\s+$", re.IGNORECASE)


def _how_high(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """ "how high would a 1 cubic foot bag pile up over a 3 by 8 foot bed": how thick a layer an amount makes on a place."""
    if any(is_said(p, "hint", "new-fill", "existing-soil") or is_said(p, "container") or type(p) is Share for p in phrases):
        return phrases
    amounts = [one for p in phrases if type(one := single(p)) is Measure and one.per is None and dimension(one) in ("volume", "weight")]
    if len(amounts) != 1 or not any(is_ground_size(p) for p in phrases):
        return phrases
    for at, phrase in enumerate(phrases):
        if is_said(phrase, "role", "height") and _HOW_HIGH.search(draft.text[: phrase.start]):
            asks = Said("ask", "how-deep", draft.text[phrase.start : phrase.end], phrase.start, phrase.end)
            rest = phrases[at + 2 :] if at + 1 < len(phrases) and is_said(phrases[at + 1], "role", "thick") else phrases[at + 1 :]
            return [*phrases[:at], asks, *rest]
    return phrases


#: The readers in their order, and what each waits for.
_READERS: Waiting[Callable[[list[Phrase], Draft], list[Phrase]]] = Waiting(
    (find_groups, (frozenset({Number}), frozenset({("link", "with"), ("link", "on-hand"), ("link", "is"), ("link", "of"), ("link", "count-x"), "stop"}))),
    (_how_high, (frozenset({("role", "height")}), frozenset({Measure}))),
    (_bags_of_sizes, (frozenset({("link", "on-hand")}), frozenset({"pack"}), frozenset({Measure}))),
    (_plants_per_area, (frozenset({"per", ("link", "each")}), frozenset({Number}), frozenset({"plant"}))),
    (_part_of_length, (frozenset({("link", "of")}), frozenset({"sides"}), _LENGTH)),
    (_least_and_most, (frozenset({("limit", "at-most")}), frozenset({Share}), frozenset({Number}))),
    (_feed_label, (frozenset({("label-word", "npk")}), frozenset({"label"}))),
    (_numbered, (frozenset({("link", "and")}), frozenset({Number}), frozenset({"ground", "container", "plant"}))),
    (_so_many_of, (frozenset({("link", "of")}), frozenset({Number}), frozenset({"pack", "container", "ground"}))),
    (_one_gets, (frozenset({"plant", "hole"}), frozenset({Number, ("link", "each"), "per"}), _BULK)),
    (find_bagged_soil, (frozenset({"pack"}), frozenset({"component", "mix"}), frozenset({Measure}), frozenset({Number}))),
    (find_part_bags, (frozenset({"pack"}), frozenset({Number}), frozenset({Measure, ("ask", "left-over")}))),
    (find_held, (frozenset({("link", "volume-word")}), frozenset({"container"}), frozenset({"mix"}), frozenset({Measure}))),
    (find_mix_for, (frozenset({"plant"}), frozenset({("link", "for")}), frozenset({"mix", "seed-mix", "component"}), frozenset({Measure}))),
    (find_measured_in_bags, (frozenset({("ask", "how-many"), "pack"}), frozenset({"unit", "unclear-unit", Measure}))),
    (find_other_bags, (frozenset({"pack"}), frozenset({"component", "mix", "seed-mix"}), frozenset({("ask", "how-many"), "pack"}))),
    (_sized_one, (frozenset({"sides", Measure}), frozenset({Number}))),
    (_sides_on, (frozenset({("link", "on"), ("link", "into")}), _LENGTH)),
)
