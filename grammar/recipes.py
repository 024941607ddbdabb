"""Recipes and ratios: "2 parts coir, 1 part castings", "40% coir, 10% castings", "1:10", "half soil"."""

from __future__ import annotations

import re
from collections.abc import Callable

from .draft import Draft
from .phrases import Measure, Number, Part, Phrase, Ratio, Said, Share
from .quantities import Span, factor
from .said import Mark, Waits, dimension, is_said, single, stands

_JOINERS = ("and", "ratio-to", "with", "into", "of", "is", "at", "for", "on", "or")


def _joiner(phrase: Phrase) -> bool:
    return (
        is_said(phrase, "link", *_JOINERS)
        or is_said(phrase, "stop", "comma", "colon", "sentence", "dash", "slash")
        or is_said(phrase, "link", "share-word")
        or is_said(phrase, "hint", "mixed-in")
        or is_said(phrase, "is")
    )


def _stuff(phrases: list[Phrase], at: int) -> tuple[str, int] | None:
    """The component named at or just after an index ("of coir"), and the index after it."""
    while at < len(phrases) and (is_said(phrases[at], "link", "of", "is") or is_said(phrases[at], "hint")):
        at += 1
    if at < len(phrases):
        phrase = phrases[at]
        if type(phrase) is Said:
            if phrase.kind == "castings":
                return "castings", at + 1
            if phrase.kind == "component":
                return phrase.id, at + 1
            if phrase.kind == "mix":
                return "mix", at + 1
            if is_said(phrase, "link", "water"):
                return "water", at + 1
    return None


Term = tuple[float, str, int, int]  # how many, of what, first and last phrase


def find_recipe(phrases: list[Phrase], draft: Draft, kinds: set[Mark]) -> list[Phrase]:
    """Takes the recipe or ratio out of the phrases and puts it on the draft."""
    if stands(_FILLED, kinds):
        _alone(phrases, draft)
    for reader, wanted in _READERS:
        if kinds.isdisjoint(wanted[0]) or not stands(wanted[1:], kinds):
            continue
        used = reader(phrases, draft)
        if used:
            return [phrase for at, phrase in enumerate(phrases) if at not in used]
    return phrases

#: What is filled with castings to carry or to plant in, and not to grow in for long.
_FILLED_ALONE = (("container", "bucket"), ("container", "tote"), ("ground", "trench"), ("hole", "planting-hole"))


def _alone(phrases: list[Phrase], draft: Draft) -> None:
    """Notes "fill a bucket with castings": they alone, and no share of a mix. For beds and pots it is asked."""
    if any(type(p) in (Share, Part, Ratio) or (type(p) is Said and p.kind in ("mix", "seed-mix", "component")) for p in phrases):
        return
    for at, phrase in enumerate(phrases):
        if not is_said(phrase, "castings") or at == 0:
            continue
        before, after = phrases[at - 1], phrases[at + 1] if at + 1 < len(phrases) else None
        filled = is_said(before, "hint", "new-fill") and before.text.lower() == "filled with"  # type: ignore[union-attr]
        fill = any(is_said(p, "hint", "new-fill") or is_said(p, "link", "filled-to") for p in phrases[:at])
        if not (filled or (fill and is_said(before, "link", "with"))) or not (after is None or is_said(after, "stop")):
            continue
        nouns = [p for p in phrases if type(p) is Said and p.kind in ("ground", "container", "hole")]
        if nouns and all((p.kind, p.id) in _FILLED_ALONE for p in nouns):
            draft.parts_share = Span(100, 100, "percent")
            draft.flags.append(("alone", "filled with castings alone"))
        elif nouns and draft.question is None:
            draft.question = ("pure", "is it to be castings alone? Say “100 % castings”, or the share")
        return


def _measured(phrase: Phrase | None) -> Measure | None:
    """A plain amount by volume or weight, in a unit that means one thing or nearly so."""
    one = single(phrase)
    if type(one) is Measure and one.per is None and not one.role and one.low > 0 and one.kind in ("unit", "unclear-unit"):
        return one if dimension(one) in ("volume", "weight") else None
    return None


def _span_of(one: Measure) -> Span:
    return Span(min(one.low, one.high), max(one.low, one.high), one.unit)


def _to_so_much(phrases: list[Phrase], at: int) -> tuple[Measure, bool, int] | None:
    """ "castings to 1 gallon", "to every 10 L", "to each litre" after an amount: how much it goes to, whether to each, and where that ends."""
    here = at + 1
    while here < len(phrases) and (is_said(phrases[here], "link", "of") or is_said(phrases[here], "castings")):
        here += 1
    if here >= len(phrases) or not is_said(phrases[here], "link", "ratio-to", "each"):
        return None
    each = is_said(phrases[here], "link", "each")
    here += 1
    while here < len(phrases) and is_said(phrases[here], "link", "each"):
        each, here = True, here + 1
    if here >= len(phrases):
        return None
    phrase = phrases[here]
    one = _measured(phrase)
    if one is None and each and type(phrase) is Said and phrase.kind in ("unit", "unclear-unit"):
        one = Measure(1.0, 1.0, phrase.id, phrase.kind, phrase.start, phrase.end, article=True)
    return (one, each, here) if one is not None and dimension(one) == "volume" else None


def _strength(phrases: list[Phrase], draft: Draft) -> set[int]:
    """ "1 cup castings to 1 gallon water", "half a cup to each litre of water": how strong a tea is, not how much of it."""
    for at, phrase in enumerate(phrases):
        one = single(phrase)
        if type(one) is Measure and one.note.startswith("span:units:") and dimension(one) == "volume" and _water(phrases, at + 1):
            # "1 cup to 1 gallon of water" is no span of gallons
            other = one.note.removeprefix("span:units:")
            if _measure_elsewhere(phrases, {at}):
                draft.ratio_spans = (Span(one.low * factor(one.unit) / factor(other), one.low * factor(one.unit) / factor(other), other),
                                     Span(one.high, one.high, one.unit))  # fmt: skip
                return {at, *range(at + 1, _water(phrases, at + 1))}
        amount = _measured(phrase)
        found = _to_so_much(phrases, at) if amount is not None else None
        if amount is None or found is None:
            continue
        per, each, here = found
        end = _water(phrases, here + 1)
        used = set(range(at, end or here + 1))
        if (end or _tea(phrases)) and _stuff(phrases, here + 1) in (None, ("water", end)) and (each or _measure_elsewhere(phrases, used)):
            draft.ratio_spans = (_span_of(amount), _span_of(per))
            draft.hints.add("castings-named")
            return used
    return set()


def _water(phrases: list[Phrase], at: int) -> int:
    """The index after "of water" that starts at an index, or 0."""
    stuff = _stuff(phrases, at)
    return stuff[1] if stuff is not None and stuff[0] == "water" else 0


def _measure_elsewhere(phrases: list[Phrase], used: set[int]) -> bool:
    return any(at not in used and (one := _measured(p)) is not None and dimension(one) == "volume" for at, p in enumerate(phrases))


def _to_every(phrases: list[Phrase], draft: Draft) -> set[int]:
    """ "2 L castings to every 10 L of soil": the parts of a mix by volume."""
    if any(is_said(p, "ask", "what-share") for p in phrases):
        return set()
    for at, phrase in enumerate(phrases):
        amount = _measured(phrase)
        found = _to_so_much(phrases, at) if amount is not None and dimension(amount) == "volume" else None
        if amount is None or found is None or amount.low != amount.high or not any(is_said(p, "castings") for p in phrases[at + 1 : at + 3]):
            continue
        per, _, here = found
        stuff = _stuff(phrases, here + 1)
        if stuff is None or stuff[0] in ("castings", "mix", "water") or per.low != per.high:
            continue
        if amount.unit != per.unit and "unclear-unit" in (amount.kind, per.kind):
            continue
        scale = 1.0 if amount.unit == per.unit else factor(amount.unit) / factor(per.unit)
        if _store(draft, [("castings", amount.low * scale), (stuff[0], per.low)]):
            return set(range(at, stuff[1]))
    return set()


def _store(draft: Draft, terms: list[tuple[str, float]]) -> bool:
    """Parts onto the draft: a tea's ratio, a share of castings, or a whole recipe."""
    names = [name for name, _ in terms]
    amounts = dict(terms)
    if "water" in names and "castings" in names:
        draft.ratio = (amounts["castings"], amounts["water"])
        return True
    whole = sum(amount for _, amount in terms)
    if whole <= 0 or "castings" not in names:
        if "castings" not in names:
            draft.question = ("recipe", "no part of the recipe is castings; which part of it should be?")
        return True
    if set(names) == {"castings", "the rest"}:
        share = amounts["castings"] / whole * 100
        draft.parts_share = Span(share, share, "percent")
        return True
    draft.hints.add("recipe")
    draft.recipe = [(name, amount / whole) for name, amount in terms]
    return True


def _one_in(phrases: list[Phrase], draft: Draft) -> set[int]:
    """ "1 in 5 castings", "a 1 in 5 mix": a share, not an inch."""
    for at, phrase in enumerate(phrases[:-1]):
        one, whole = single(phrase), single(phrases[at + 1])
        after = phrases[at + 2] if at + 2 < len(phrases) else None
        lead = phrases[at - 1] if at else None
        # "castings 1 in 10", "at 1 in 8, how many pots"
        ends = (after is None or is_said(after, "stop") or is_said(after, "ask")) and (
            is_said(lead, "castings") or is_said(lead, "link", "at", "share-word", "is") or is_said(lead, "about")
        )  # fmt: skip
        if (
            type(one) is Measure and one.unit == "inch" and not one.role and draft.text[: one.end].endswith(" in") and one.low == int(one.low)
            and type(whole) is Number and not whole.role and whole.low == whole.high > one.low >= 1
            and (ends or is_said(after, "castings") or is_said(after, "mix") or is_said(after, "seed-mix") or is_said(after, "link", "share-word"))
        ):  # fmt: skip
            share = one.low / whole.low * 100
            draft.parts_share = Span(share, share, "percent")
            return {at, at + 1}
    return set()


def _equal_parts(phrases: list[Phrase], draft: Draft) -> set[int]:
    for at, phrase in enumerate(phrases):
        if is_said(phrase, "parts", "equal"):
            terms, used = [], {at}
            here = at + 1
            while here < len(phrases):
                stuff = _stuff(phrases, here)
                if stuff:
                    terms.append((stuff[0], 1.0))
                    used.update(range(here, stuff[1]))
                    here = stuff[1]
                elif _joiner(phrases[here]):
                    here += 1
                else:
                    break
            if len(terms) >= 2 and _store(draft, terms):
                return used
    return set()


def _named_before(phrases: list[Phrase], at: int) -> tuple[list[str], set[int]]:
    names: list[str] = []
    used: set[int] = set()
    here = at - 1
    while here >= 0:
        stuff = _stuff(phrases, here) if type(phrases[here]) is Said and not _joiner(phrases[here]) else None
        if stuff and stuff[0] == "mix":
            break
        if stuff and stuff[1] == here + 1:
            names.insert(0, stuff[0])
            used.add(here)
        elif not _joiner(phrases[here]) and not is_said(phrases[here], "link", "share-word"):
            break
        here -= 1
    return names, used


def _named_after(phrases: list[Phrase], at: int) -> tuple[list[str], set[int]]:
    names: list[str] = []
    used: set[int] = set()
    here = at + 1
    while here < len(phrases):
        stuff = _stuff(phrases, here)
        if stuff:
            names.append(stuff[0])
            used.update(range(here, stuff[1]))
            here = stuff[1]
        elif _joiner(phrases[here]) and not is_said(phrases[here], "stop", "sentence"):
            here += 1
        else:
            break
    return names, used


def _ratio(phrases: list[Phrase], draft: Draft) -> set[int]:
    for at, phrase in enumerate(phrases):
        if type(phrase) is Ratio:
            terms = phrase.terms
        elif (
            type(one := single(phrase)) is Number
            and one.note == "span:to"
            and one.low != one.high
            and ((at + 1 < len(phrases) and is_said(phrases[at + 1], "link", "share-word"))
                 or (at and is_said(phrases[at - 1], "link", "share-word"))
                 or (one.low == 1 and one.note == "span:to" and at + 1 < len(phrases) and is_said(phrases[at + 1], "mix", "mix"))
                 or (len(_named_before(phrases, at)[0]) == 2 and "castings" in _named_before(phrases, at)[0])
                 or (_tea(phrases) and not _counts(phrases, at))
                 or (_named_after(phrases, at)[0][:1] != [] and len(_named_after(phrases, at)[0]) == 2))
        ):  # fmt: skip
            terms = (one.low, one.high)
        else:
            continue
        used = {at}
        if any(term <= 0 for term in terms):
            draft.refusal = "a part of nothing cannot be mixed"
            return used
        before, used_before = _named_before(phrases, at)
        after, used_after = _named_after(phrases, at)
        tea = _tea(phrases)
        if not before and not after and not tea and _like_a_clock(draft.text[phrase.start : phrase.end]):
            draft.question = ("recipe", f"“{draft.text[phrase.start : phrase.end]}”: a time of day, or parts? Say it as “1 part castings to 9 parts soil”")
            return used
        if len(before) == len(terms):
            names, used_names = before, used_before
        elif len(after) == len(terms):
            names, used_names = after, used_after
        elif len(terms) == 2:
            first = terms[0] <= terms[1]
            rest = "water" if tea else "the rest"
            names, used_names = (["castings", rest] if first else [rest, "castings"]), set()
            if len(after) == 1 and after[0] not in ("castings", "mix", "water"):
                names, used_names = [after[0] if n == "the rest" else n for n in names], used_after
            draft.flags.append(("ratio-order", f"the smaller part of {_printed(terms)} is taken as castings"))
        else:
            draft.question = ("recipe", f"{_printed(terms)}: which part is which? Say it as “1 part castings to 9 parts soil”.")
            return used
        castings = dict(zip(names, terms, strict=True)).get("castings", 0.0)
        if "water" not in names and castings > sum(terms) / 2:
            draft.question = ("recipe", f"{_printed(terms)}: that would be {100 * castings / sum(terms):.0f} % castings. Which part is which? "
                              "Say it as “1 part castings to 9 parts soil”.")  # fmt: skip
            return used
        if _store(draft, list(zip(names, terms, strict=True))):
            return used | used_names
    return set()


def _like_a_clock(text: str) -> bool:
    """Whether a ratio is written as the time of day is, and nobody mixes by it: "5:30"."""
    hour, _, minute = text.partition(":")
    return hour.isdecimal() and minute.isdecimal() and len(minute) == 2 and 2 <= int(hour) <= 24 and int(minute) < 60 and "/" not in text


def _volumes(phrases: list[Phrase], draft: Draft) -> set[int]:
    """ "4 L coir, 3 L compost, 1 L castings": a recipe by volumes of one unit, three of them or more."""
    if sum(type(single(phrase)) is Measure for phrase in phrases) < 3:
        return set()
    terms: list[tuple[str, float]] = []
    used: set[int] = set()
    units: set[str] = set()
    at = 0
    while at < len(phrases):
        one = single(phrases[at])
        if type(one) is Measure and one.per is None and not one.role and one.low == one.high and one.low > 0 and one.kind != "loose-measure":
            after = _stuff(phrases, at + 1)
            before = _stuff(phrases, at - 1) if at else None
            pick = after if after is not None and after[0] not in ("mix", "water") else None
            if pick is None and before is not None and before[1] == at and before[0] not in ("mix", "water"):
                pick = (before[0], at + 1)
                used.add(at - 1)
            if pick is not None and not any(is_said(p, "pack") for p in phrases[at + 1 : at + 2]):
                terms.append((pick[0], one.low))
                units.add(one.unit)
                used.update(range(at, pick[1]))
                at = pick[1]
                continue
        at += 1
    names = [name for name, _ in terms]
    if len(terms) < 3 or len(units) != 1 or names.count("castings") != 1 or len(set(names)) != len(names):
        return set()
    _store(draft, terms)
    return used


def _tea(phrases: list[Phrase]) -> bool:
    return any(is_said(p, "way", "tea") or is_said(p, "hint", "spray") for p in phrases)


def _counts(phrases: list[Phrase], at: int) -> bool:
    """Whether a bare number counts what follows it."""
    after = phrases[at + 1] if at + 1 < len(phrases) else None
    return type(after) is Said and after.kind in ("plant", "container", "ground", "hole", "pack")


def _named_numbers(phrases: list[Phrase], draft: Draft) -> set[int]:
    """ "coir 4 : bark 3 : castings 1", "PEAT=6P; CASTINGS=1P": the name first, then its parts."""
    terms: list[tuple[str, float]] = []
    used: set[int] = set()
    numbers = [i for i, p in enumerate(phrases) if type(p) is Part or type(single(p)) is Number]
    names_at = [i for i, p in enumerate(phrases) if type(p) is Said and p.kind in ("castings", "component")]
    if not numbers or not names_at or names_at[0] > numbers[0]:
        return set()
    at = 0
    while at < len(phrases):
        stuff = _stuff(phrases, at) if type(phrases[at]) is Said else None
        if stuff is not None and stuff[1] == at + 1:
            here = at + 1
            while here < len(phrases) and (is_said(phrases[here], "link", "is") or is_said(phrases[here], "stop", "colon")):
                here += 1
            if here < len(phrases):
                one = phrases[here]
                number = single(one)
                amount = number.low if type(number) is Number and not number.role else one.low if type(one) is Part else 0.0
                if amount > 0 and not _counts(phrases, here):
                    terms.append((stuff[0], amount))
                    used.update(range(at, here + 1))
                    at = here
        at += 1
    names = [name for name, _ in terms]
    if len(terms) >= 2 and "castings" in names and len(set(names)) == len(names):
        between = range(min(used), max(used) + 1)
        if any(i not in used and type(phrases[i]) is Said and phrases[i].kind in ("castings", "component") for i in between):  # type: ignore[union-attr]
            draft.question = ("recipe", "say the parts one by one, as “2 parts coir, 1 part compost, 1 part castings”")
            return used
        _store(draft, terms)
        return used
    return set()


def _counted_parts(phrases: list[Phrase], draft: Draft) -> set[int]:
    """ "4 topsoil : 3 compost : 1 sand : 1 castings", "parts: 6 peat, 3 perlite, 1 castings": so many parts of each."""
    word = any(is_said(p, "parts") for p in phrases)
    for start in range(len(phrases)):
        terms: list[tuple[str, float]] = []
        used: set[int] = set()
        colons, here = 0, start
        while here < len(phrases):
            number = single(phrases[here])
            named = phrases[here + 1] if here + 1 < len(phrases) else None
            plain = type(number) is Number and not number.role and number.low == number.high > 0
            if not plain or not (is_said(named, "component") or is_said(named, "castings")):
                break
            assert type(number) is Number and isinstance(named, Said)
            terms.append(("castings" if named.kind == "castings" else named.id, number.low))
            used |= {here, here + 1}
            here += 2
            while here < len(phrases) and (is_said(phrases[here], "stop", "colon", "comma", "slash") or is_said(phrases[here], "link", "and", "with")):
                colons += is_said(phrases[here], "stop", "colon")
                here += 1
        names = [name for name, _ in terms]
        enough = len(terms) >= 3 or (len(terms) == 2 and (word or colons > 0))
        if enough and names.count("castings") == 1 and len(set(names)) == len(names) and _store(draft, terms):
            return used | {at for at, p in enumerate(phrases) if is_said(p, "parts")}
    return set()


def _printed(terms: tuple[float, ...]) -> str:
    return ":".join(f"{term:g}" for term in terms)


def _parts(phrases: list[Phrase], draft: Draft) -> set[int]:
    terms: list[tuple[str, float]] = []
    used: set[int] = set()
    at = 0
    while at < len(phrases):
        phrase = phrases[at]
        if type(phrase) is Part:
            if phrase.low <= 0:
                draft.refusal = "a part of nothing cannot be mixed"
                return {at}
            stuff = _stuff(phrases, at + 1)
            if at + 1 < len(phrases) and is_said(phrases[at + 1], "link", "each"):
                draft.question = ("recipe", "say the parts one by one, as “2 parts coir, 1 part compost, 1 part castings”")
                return {at}
            terms.append((stuff[0] if stuff else "", phrase.low))
            used.update(range(at, stuff[1] if stuff else at + 1))
            at = stuff[1] if stuff else at + 1
            # "1 part castings to 9", "1 part in 10"
            nxt = phrases[at] if at < len(phrases) else None
            number = single(phrases[at + 1]) if at + 1 < len(phrases) else None
            if is_said(nxt, "link", "ratio-to", "into", "with") and type(number) is Number and not number.role:
                stuff = _stuff(phrases, at + 2)
                amount = number.low - phrase.low if is_said(nxt, "link", "into") else number.low
                name = stuff[0] if stuff else ""
                if is_said(nxt, "link", "into") and name == "castings" and terms[-1][0] == "":
                    terms[-1] = ("castings", terms[-1][1])  # "one part in ten castings"
                    name = "the rest"
                terms.append((name, amount))
                end = stuff[1] if stuff else at + 2
                used.update(range(at, end))
                at = end
            continue
        elif terms and (type(number := single(phrase)) is Number) and (stuff := _stuff(phrases, at + 1)) and number.low > 0:
            terms.append((stuff[0], number.low))
            used.update(range(at, stuff[1]))
            at = stuff[1]
            continue
        at += 1
    if len(terms) < 2:
        return set()
    names = [name for name, _ in terms]
    if len(terms) == 2 and names.count("") == 2:
        terms = [("castings", terms[0][1]), ("the rest", terms[1][1])]
        if terms[0][1] > terms[1][1]:
            draft.question = ("recipe", "which part is castings? Say it as “1 part castings to 9 parts soil”.")
            return used
    elif names.count("") == 1:
        filled = "castings" if "castings" not in names else "the rest"
        terms = [(name or filled, amount) for name, amount in terms]
    elif names.count("") > 1:
        draft.question = ("recipe", "which part is which? Say it as “1 part castings to 9 parts soil”.")
        return used
    _store(draft, terms)
    return used


def _loose(phrases: list[Phrase], draft: Draft) -> set[int]:
    """ "2 scoops castings with 18 scoops soil": parts of one measure, whatever its size."""
    terms: list[tuple[str, float]] = []
    used: set[int] = set()
    units = set()
    for at, phrase in enumerate(phrases):
        one = single(phrase)
        if type(one) is Measure and (one.kind == "loose-measure" or _bucketful(one)) and one.per is None:
            stuff = _stuff(phrases, at + 1)
            if stuff and one.low > 0:
                terms.append((stuff[0], one.low))
                units.add(one.unit)
                used.update(range(at, stuff[1]))
        elif terms and type(phrase) is Said and phrase.kind == "loose-measure" and (
            is_said(phrases[at - 1], "per") or is_said(phrases[at - 1], "link", "each")
        ):  # fmt: skip
            stuff = _stuff(phrases, at + 1)
            if stuff:
                terms.append((stuff[0], 1.0))  # "9 scoops of soil to every scoop of castings"
                units.add(phrase.id)
                used.update(range(at - 1, stuff[1]))
        elif terms and type(one) is Number and (is_said(phrases[at - 1], "per") or is_said(phrases[at - 1], "link", "each")) and _stuff(phrases, at + 1):
            stuff = _stuff(phrases, at + 1)
            if stuff and one.low > 0:
                terms.append((stuff[0], one.low))  # "two shovels of castings to every eighteen of soil"
                used.update(range(at - 1, stuff[1]))
        elif type(one) is Number and at + 1 < len(phrases) and is_said(phrases[at + 1], "container", "bucket"):
            stuff = _stuff(phrases, at + 2)
            if stuff and one.low > 0:
                terms.append((stuff[0], one.low))
                units.add("bucket")
                used.update(range(at, stuff[1]))
    if len(terms) >= 2 and len(units) == 1 and any(name == "castings" for name, _ in terms):
        if any(name == "mix" for name, _ in terms):
            return set()
        _store(draft, terms)
        return used
    return set()


def _bucketful(_one: Measure) -> bool:
    return False


#: "a tenth of it to be castings"
_OF_IT_BE = re.compile(r"of (?:it|that|this|the mix|the soil) (?:to be |should be |being |is )?(?:worm )?castings\b", re.IGNORECASE)


def _fractions(phrases: list[Phrase], draft: Draft) -> set[int]:
    """ "one third castings", "half castings, half soil"."""
    terms: list[tuple[str, float]] = []
    used: set[int] = set()
    for at, phrase in enumerate(phrases):
        one = single(phrase)
        if type(one) is Number and 0 < one.low < 1 and one.low == one.high and not one.role:
            after = phrases[at + 1] if at + 1 < len(phrases) else None
            here = at + 1
            if is_said(after, "link", "of") and _OF_IT_BE.match(draft.text, phrases[at + 1].start):
                here = next((i for i in range(at + 2, len(phrases)) if not is_said(phrases[i], "link", "is")), at + 1)
                after = phrases[here]
            if type(after) is Said and after.kind in ("castings", "component"):
                used.update(range(at, here + 1))
                name = "castings" if after.kind == "castings" else after.id
                terms.append((name, one.low))
                used.update((at, at + 1))
    if not any(name == "castings" for name, _ in terms):
        return set()
    return _shares(terms, used, phrases, draft)


#: Words between a component and a share that is that of the castings: "add castings to 90 litres of soil to get 10 percent".
_TO_REACH = re.compile(r"\b(?:to (?:get|make|reach|have|end up)|so (?:that|it|they)|makes?|for|until)\b", re.IGNORECASE)


def _percents(phrases: list[Phrase], draft: Draft) -> set[int]:
    """ "40% coir, 30% compost, 10% castings", "coir=40%; castings=10%"."""
    terms: list[tuple[str, float]] = []
    used: set[int] = set()
    taken: set[int] = set()
    shares = [at for at, phrase in enumerate(phrases) if type(phrase) is Share]
    if not shares:
        return set()
    name_first = False
    for at in shares:
        before, here = None, at - 1
        while here >= 0 and (is_said(phrases[here], "link", "is", "at") or is_said(phrases[here], "is")
                             or is_said(phrases[here], "stop", "colon")):  # fmt: skip
            here -= 1
        if here >= 0 and here not in taken:
            so_much = here > 1 and is_said(phrases[here - 1], "link", "of") and type(single(phrases[here - 2])) is Measure  # "45 gallons of soil at 10 %"
            before = _stuff(phrases, here) if type(phrases[here]) is Said and not so_much and phrases[here].kind in (  # type: ignore[union-attr]
                "castings", "component") and not _TO_REACH.search(draft.text[phrases[here].end : phrases[at].start]) else None  # fmt: skip
        after = _stuff(phrases, at + 1)
        if after and after[0] == "mix":
            after = None
        if at == shares[0]:
            name_first = bool(before and not after)
        share = phrases[at]
        assert isinstance(share, Share)
        if pick_rest(phrases, at):
            terms.append(("the rest", share.low / 100))
            used.update((at, at + 1))
            continue
        pick = before if (name_first and before) else after
        if pick:
            terms.append((pick[0], share.low / 100))
            span = range(here, at + 1) if pick is before else range(at, pick[1])
            used.update(span)
            taken.update(span)
    names = {name for name, _ in terms}
    rest = next((at for at, p in enumerate(phrases) if is_said(p, "link", "rest") and at not in used), -1)
    if not names - {"castings"} and not (names and rest >= 0 and any(name not in ("mix", "castings") for name in _named_after(phrases, rest)[0])):
        return set()
    if "castings" not in names and len(shares) == len(terms) and not any(is_said(p, "link", "rest") for p in phrases):
        said = ", ".join(f"{name.replace('-', ' ')} {share * 100:g} %" for name, share in terms)
        draft.question = ("other-material", f"{said}: only worm castings are worked out here. What share of castings should it have?")
        return used
    return _shares(terms, used, phrases, draft)


def pick_rest(phrases: list[Phrase], at: int) -> bool:
    """Whether a share is said to be the rest's: "60 % the rest"."""
    return at + 1 < len(phrases) and is_said(phrases[at + 1], "link", "rest")


def _shares(terms: list[tuple[str, float]], used: set[int], phrases: list[Phrase], draft: Draft) -> set[int]:
    """Shares of a recipe onto the draft: they must make the whole, or the rest must be named."""
    for at, phrase in enumerate(phrases):
        if is_said(phrase, "link", "rest") and at not in used:
            names = _named_after(phrases, at)
            name = names[0][0] if names[0] else "the rest"
            left = 1 - sum(share for _, share in terms)
            if left > 1e-9:
                terms.append((name, left))
                used.add(at)
                used.update(names[1])
    if any(share <= 0 for _, share in terms):
        draft.refusal = "a share of nothing cannot be mixed"
        return used
    whole = sum(share for _, share in terms)
    if len(terms) == 1 and terms[0][0] == "castings":
        draft.parts_share = Span(terms[0][1] * 100, terms[0][1] * 100, "percent")
        return used
    if abs(whole - 1) > 0.005:
        parts = ", ".join(f"{name} {share * 100:g} %" for name, share in terms)
        if whole > 1.005:
            draft.question = ("recipe-sum", f"the shares make {whole * 100:g} %, not 100 % ({parts}); which one is off?")
            return used
        if whole < 0.995 and "castings" in dict(terms) and len(terms) == 2 and whole < 0.5:
            return set()
        draft.question = ("recipe-sum", f"the shares make {whole * 100:g} %, not 100 % ({parts}); what is the rest?")
        return used
    draft.recipe = terms
    return used


_CASTINGS: frozenset[Mark] = frozenset({"castings"})
_TO_SO_MUCH: frozenset[Mark] = frozenset({("link", "ratio-to"), ("link", "each")})
_FILLED: Waits = (_CASTINGS, frozenset({("hint", "new-fill"), ("link", "filled-to")}))

#: The readers of a recipe in the order in which they are tried, and what each waits for.
_READERS: tuple[tuple[Callable[[list[Phrase], Draft], set[int]], Waits], ...] = (
    (_strength, (frozenset({("link", "water"), ("way", "tea"), ("hint", "spray")}), _TO_SO_MUCH | {("note", "span:units")})),
    (_to_every, (_CASTINGS, _TO_SO_MUCH)),
    (_one_in, (frozenset({"castings", "mix", "seed-mix", ("link", "share-word")}), frozenset({Number}), frozenset({Measure}))),
    (_equal_parts, (frozenset({("parts", "equal")}),)),
    (_ratio, (frozenset({Ratio, ("note", "span:to")}),)),
    (_named_numbers, (_CASTINGS, frozenset({Part, Number}))),
    (_counted_parts, (_CASTINGS, frozenset({Number}), frozenset({"component"}))),
    (_parts, (frozenset({Part}),)),
    (_volumes, (_CASTINGS, frozenset({Measure}))),
    (_loose, (_CASTINGS, frozenset({"loose-measure", ("container", "bucket")}))),
    (_fractions, (_CASTINGS, frozenset({Number}))),
    (_percents, (frozenset({Share}), frozenset({"component", ("link", "water"), ("link", "rest")}))),
)
