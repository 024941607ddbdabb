"""Recipes by parts: "2 parts coir, 1 part castings", "1:10", "1 in 5", "coir 4 : castings 1"."""

from __future__ import annotations

from ...draft import Draft
from ...phrases import Measure, Number, Part, Phrase, Ratio, Said
from ...quantities import Span
from ...said import is_said, single
from .terms import counts, is_joiner, is_of_tea, named_after, named_before, potting_soil, store, stuff_at


def part_of_castings(phrases: list[Phrase]) -> list[Phrase]:
    """The phrases with "2 pt castings" as a part, where the others are told in parts: "5 pt peat, 3 pt perlite, 2 pt castings"."""
    if not any(type(phrase) is Part for phrase in phrases):
        return phrases
    made = list(phrases)
    for at, phrase in enumerate(phrases[:-1]):
        one = single(phrase)
        if type(one) is Measure and one.unit == "pint" and one.per is None and is_said(phrases[at + 1], "castings"):
            made[at] = Part(one.low, one.high, one.start, one.end)
    return made


def one_in(phrases: list[Phrase], draft: Draft) -> set[int]:
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


def equal_parts(phrases: list[Phrase], draft: Draft) -> set[int]:
    """ "equal parts of coir, compost and castings"."""
    for at, phrase in enumerate(phrases):
        if is_said(phrase, "parts", "equal"):
            terms, used = [], {at}
            here = at + 1
            while here < len(phrases):
                stuff = stuff_at(phrases, here)
                if stuff:
                    terms.append((stuff[0], 1.0))
                    used.update(range(here, stuff[1]))
                    here = stuff[1]
                elif is_joiner(phrases[here]):
                    here += 1
                else:
                    break
            if len(terms) >= 2 and store(draft, terms):
                return used
    return set()


def ratio(phrases: list[Phrase], draft: Draft) -> set[int]:
    """ "coir, compost and castings 4:3:1", "1:10"."""
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
                 or (len(named_before(phrases, at)[0]) == 2 and "castings" in named_before(phrases, at)[0])
                 or (is_of_tea(phrases) and not counts(phrases, at))
                 or (named_after(phrases, at)[0][:1] != [] and len(named_after(phrases, at)[0]) == 2))
        ):  # fmt: skip
            terms = (one.low, one.high)
        else:
            continue
        used = {at}
        if any(term <= 0 for term in terms):
            draft.refusal = "a part of nothing cannot be mixed"
            return used
        before, used_before = named_before(phrases, at)
        after, used_after = named_after(phrases, at)
        tea = is_of_tea(phrases)
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
        if store(draft, list(zip(names, terms, strict=True))):
            return _with_its_word(phrases, used | used_names | potting_soil(phrases, at))
    return set()


def _with_its_word(phrases: list[Phrase], used: set[int]) -> set[int]:
    """The phrases of a ratio, and the word "ratio" beside them, which then asks for nothing: "ratio soil to castings 4 to 1"."""
    beside = {at for at, phrase in enumerate(phrases) if is_said(phrase, "link", "share-word") and {at - 1, at + 1} & used}
    of = {at for at, phrase in enumerate(phrases) if is_said(phrase, "link", "share-word") and at + 1 < len(phrases) and is_said(phrases[at + 1], "link", "of") and at + 2 in used}
    return used | beside | of


def _like_a_clock(text: str) -> bool:
    """Whether a ratio is written as the time of day is, and nobody mixes by it: "5:30"."""
    hour, _, minute = text.partition(":")
    return hour.isdecimal() and minute.isdecimal() and len(minute) == 2 and 2 <= int(hour) <= 24 and int(minute) < 60 and "/" not in text


def named_numbers(phrases: list[Phrase], draft: Draft) -> set[int]:
    """ "coir 4 : bark 3 : castings 1", "PEAT=6P; CASTINGS=1P": the name first, then its parts."""
    terms: list[tuple[str, float]] = []
    used: set[int] = set()
    numbers = [i for i, p in enumerate(phrases) if type(p) is Part or type(single(p)) is Number]
    names_at = [i for i, p in enumerate(phrases) if type(p) is Said and p.kind in ("castings", "component")]
    if not numbers or not names_at or names_at[0] > numbers[0]:
        return set()
    at = 0
    while at < len(phrases):
        stuff = stuff_at(phrases, at) if type(phrases[at]) is Said else None
        if stuff is not None and stuff[1] == at + 1:
            here = at + 1
            while here < len(phrases) and (is_said(phrases[here], "link", "is") or is_said(phrases[here], "stop", "colon")):
                here += 1
            if here < len(phrases):
                one = phrases[here]
                number = single(one)
                amount = number.low if type(number) is Number and not number.role else one.low if type(one) is Part else 0.0
                if amount > 0 and not counts(phrases, here):
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
        store(draft, terms)
        return used
    return set()


def counted_parts(phrases: list[Phrase], draft: Draft) -> set[int]:
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
        if enough and names.count("castings") == 1 and len(set(names)) == len(names) and store(draft, terms):
            return used | {at for at, p in enumerate(phrases) if is_said(p, "parts")}
    return set()


def _beside(phrases: list[Phrase], at: int) -> int:
    """The index past "and compost", ", bark and compost" at an index, where no parts of their own are told; the index itself elsewhere."""
    here = end = at
    while here + 1 < len(phrases) and is_said(phrases[here], "link", "and") and is_said(phrases[here + 1], "component"):
        here = end = here + 2
    return end


def _printed(terms: tuple[float, ...]) -> str:
    return ":".join(f"{term:g}" for term in terms)


def parts(phrases: list[Phrase], draft: Draft) -> set[int]:
    """ "2 parts coir, 1 part castings"."""
    together: list[tuple[int, str]] = []
    terms: list[tuple[str, float]] = []
    used: set[int] = set()
    at = 0
    while at < len(phrases):
        phrase = phrases[at]
        if type(phrase) is Part:
            if phrase.low <= 0:
                draft.refusal = "a part of nothing cannot be mixed"
                return {at}
            stuff = stuff_at(phrases, at + 1)
            if at + 1 < len(phrases) and is_said(phrases[at + 1], "link", "each"):
                draft.question = ("recipe", "say the parts one by one, as “2 parts coir, 1 part compost, 1 part castings”")
                return {at}
            terms.append((stuff[0] if stuff else "", phrase.low))
            used.update(range(at, stuff[1] if stuff else at + 1))
            at = stuff[1] if stuff else at + 1
            with_them = _beside(phrases, at) if stuff and is_said(phrases[at - 1], "component") else at
            if is_said(phrases[at - 1], "castings") and stuff and _beside(phrases, at) > at:  # "5 parts castings and compost, 5 parts soil"
                draft.question = ("recipe", "say the parts one by one, as “2 parts coir, 1 part compost, 1 part castings”")
                return {at}
            if with_them > at:  # "9 parts topsoil and compost": how much of each goes unsaid
                together.append((len(terms) - 1, draft.text[phrases[at - 1].start : phrases[with_them - 1].end]))
                used.update(range(at, with_them))
                at = with_them
            # "1 part castings to 9", "1 part in 10"
            nxt = phrases[at] if at < len(phrases) else None
            number = single(phrases[at + 1]) if at + 1 < len(phrases) else None
            if is_said(nxt, "link", "ratio-to", "into", "with") and type(number) is Number and not number.role:
                stuff = stuff_at(phrases, at + 2)
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
        elif terms and (type(number := single(phrase)) is Number) and (stuff := stuff_at(phrases, at + 1)) and number.low > 0:
            terms.append((stuff[0], number.low))
            used.update(range(at, stuff[1]))
            at = stuff[1]
            continue
        at += 1
    if len(terms) < 2:
        return set()
    for index, said in together:
        draft.flags.append(("parts-together", f"“{said}”: how much of each goes unsaid, so they stand together"))
        if len(terms) == 2 and terms[1 - index][0] == "castings":
            terms[index] = ("the rest", terms[index][1])
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
    store(draft, terms)
    return used
