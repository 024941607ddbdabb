"""Recipes by shares: "40 % coir, 10 % castings", "half soil, a third compost, the rest castings"."""

from __future__ import annotations

import re

from ...draft import Draft
from ...later import later
from ...phrases import Measure, Number, Phrase, Said, Share
from ...quantities import Span
from ...said import is_said, single
from .terms import named_after, stuff_at

#: "a tenth of it to be castings"
_OF_IT_BE = later(r"of (?:it|that|this|the mix|the soil) (?:to be |should be |being |is )?(?:worm )?castings\b", re.IGNORECASE)


def fractions(phrases: list[Phrase], draft: Draft) -> set[int]:
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


def of_both_kinds(phrases: list[Phrase]) -> list[Phrase]:
    """ "half compost, 40% coir, rest castings": where shares are told in both ways the fractions are put in percent too."""
    if sum(type(p) is Share and _is_part(phrases, at + 1) for at, p in enumerate(phrases)) == 0:
        return phrases
    made = list(phrases)
    for at, phrase in enumerate(phrases):
        one = single(phrase)
        if type(one) is Number and 0 < one.low < 1 and one.low == one.high and not one.role and _is_part(phrases, at + 1):
            made[at] = Share(one.low * 100, one.high * 100, one.start, one.end)
    return made


def _is_part(phrases: list[Phrase], at: int) -> bool:
    """Whether a part of a mix is named at an index: a component or castings."""
    at += 1 if at < len(phrases) and is_said(phrases[at], "link", "of") else 0
    after = phrases[at] if at < len(phrases) else None
    return type(after) is Said and after.kind in ("castings", "component")


#: Words between a component and a share that is that of the castings: "add castings to 90 litres of soil to get 10 percent".
_TO_REACH = later(r"\b(?:to (?:get|make|reach|have|end up)|so (?:that|it|they)|makes?|for|until)\b", re.IGNORECASE)


def percents(phrases: list[Phrase], draft: Draft) -> set[int]:
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
            before = stuff_at(phrases, here) if type(phrases[here]) is Said and not so_much and phrases[here].kind in (  # type: ignore[union-attr]
                "castings", "component") and not _TO_REACH.search(draft.text[phrases[here].end : phrases[at].start]) else None  # fmt: skip
        after = stuff_at(phrases, at + 1)
        if after and after[0] == "mix":
            after = None
        if at == shares[0]:
            name_first = bool(before and not after)
        share = phrases[at]
        assert isinstance(share, Share)
        if _is_of_the_rest(phrases, at):
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
    if not names - {"castings"} and not (names and rest >= 0 and any(name not in ("mix", "castings") for name in named_after(phrases, rest)[0])):
        return set()
    if "castings" not in names and len(shares) == len(terms) and not any(is_said(p, "link", "rest") for p in phrases):
        said = ", ".join(f"{name.replace('-', ' ')} {share * 100:g} %" for name, share in terms)
        draft.question = ("other-material", f"{said}: only worm castings are worked out here. What share of castings should it have?")
        return used
    return _shares(terms, used, phrases, draft)


def _is_of_the_rest(phrases: list[Phrase], at: int) -> bool:
    """Whether a share is said to be the rest's: "60 % the rest"."""
    return at + 1 < len(phrases) and is_said(phrases[at + 1], "link", "rest")


def _shares(terms: list[tuple[str, float]], used: set[int], phrases: list[Phrase], draft: Draft) -> set[int]:
    """Shares of a recipe onto the draft: they must make the whole, or the rest must be named."""
    for at, phrase in enumerate(phrases):
        if is_said(phrase, "link", "rest") and at not in used:
            names = named_after(phrases, at)
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
        if "castings" in dict(terms) and len(terms) == 2 and whole < 0.5 and any(is_said(p, "mix") for p in phrases):
            draft.recipe = [*terms, ("the rest", 1 - whole)]  # "10% castings and 20% perlite in 40 L of mix"
            return used
        if "castings" in dict(terms) and len(terms) == 2 and whole < 0.5:
            return set()
        draft.question = ("recipe-sum", f"the shares make {whole * 100:g} %, not 100 % ({parts}); what is the rest?")
        return used
    draft.recipe = terms
    return used
