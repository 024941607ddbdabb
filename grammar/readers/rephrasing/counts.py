"""So many of something put in other words: "5 of 40 lb bags", "rows 4 and 5", "4000 vines per hectare"."""

from __future__ import annotations

import math

from ...draft import Draft
from ...phrases import Amount, Measure, Number, Phrase, Said
from ...quantities import factor, unit
from ...said import is_said, is_sides, past_describing, single
from ...things import is_ground_size, sides_of, whole


def find_so_many_of(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
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


def find_numbered(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
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


def find_plants_per_area(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
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
