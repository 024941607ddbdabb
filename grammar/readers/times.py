"""Several applications in one season: "three times a year", "twice a season", "in spring and again in fall"."""

from __future__ import annotations

import re

from ..draft import Draft
from ..later import later
from ..phrases import Amount, Measure, Number, Phrase, Said
from ..said import dimension, is_said, single
from ..thickness import THIN

#: The hint that several layers are dated: they add up, the same one said twice too.
DATED = "season:layers"
_TIMES = {"twice": 2.0, "once": 1.0, "two times": 2.0, "three times": 3.0, "four times": 4.0, "five times": 5.0, "six times": 6.0}
_ALONE = later(
    r"(?:and |so |ok |then |but |just |only |no |actually )*(?:make it |make that |(?:i|we)(?:['’]d|['’]ll| will| would| want to| plan to)? (?:do|spread|apply) (?:it|this|that) |(?:do|doing|did) (?:it|this|that) )?"
    r"(?:(once|twice|(?:two|three|four|five|six|\d{1,2}) times) (?:a|per|each|every|this|over the|in the) (?:year|season|summer)(?: then| instead| though)?"
    r"|every (?:\d+|few|couple of|two|three|four|six|eight|other)? ?(?:weeks?|months?|days)\W+(?:so )?((?:two|three|four|five|six|\d{1,2}) times)(?: in all| altogether| in total)?)"
)
#: The same, and then what the year takes: "I do that 3 times a year, total for the year?"
_AND_ASKED = later(
    r"(?:(?:and|so|ok|well|but|if|say) )*(?:(?:i|we|they)(?:'d| would| will|'ll| usually| normally)? (?:do|give|apply|put|need|feed|repeat) (?:that|it|this|them|those) )?(?:at )?"
    r"(once|twice|(?:two|three|four|\d{1,2}) times) (?:a|per|each|every|in a) (?:year|season)\W*\s*(?:(?:so|then|and)\W+)*"
    r"(?:how much|total|sum|what\b(?=.*\b(?:year|season|come to|take|need|total|in all)\b))\b[^\d%]*"
)
#: How often, and not how many times.
_EVERY = later(r"\b(?:every|each) (?:\w+ )?(?:weeks?|months?|fortnight|spring|autumn|fall)\b|\b(?:monthly|weekly|fortnightly)\b")
#: A length above which a dated measure is no layer, in metres.


#: The words by which so many times are told; "every 4 weeks" is told by none of them.
_TOLD = frozenset({("topic", "how-often"), ("weak-topic", "how-often"), ("link", "cut"), ("link", "now"), ("link", "again")})


def find_times(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """The phrases without how many times, which goes onto the draft; dated thin lengths become layers."""
    if _TOLD.isdisjoint([(phrase.kind, phrase.id) for phrase in phrases if type(phrase) is Said]):
        _repeated(phrases, draft)
        return phrases
    phrases = _so_many(_another(phrases), draft)
    _once_more(phrases, draft)
    _repeated(phrases, draft)
    dated = [at for at, phrase in enumerate(phrases) if is_said(phrase, "link", "now", "again")]
    if len(dated) >= 2:
        phrases = _layers(phrases, draft)
        phrases = _amounts(phrases, draft)
    return phrases


def _repeated(phrases: list[Phrase], draft: Draft) -> None:
    """Notes "every 4 weeks" beside a total or the months it goes on for: how many times that is has to be asked."""
    every = any(
        is_said(before, "link", "each") and type(one := single(phrase)) is Measure and dimension(one) == "time"
        for before, phrase in zip(phrases, phrases[1:], strict=False)
    )
    months = sum(1 for phrase in phrases if is_said(phrase, "month-name"))
    whole = any(is_said(phrase, "link", "altogether", "season-long") for phrase in phrases)
    spans = sum(1 for phrase in phrases if type(one := single(phrase)) is Measure and dimension(one) == "time")
    if every and draft.times is None and (months > 1 or whole or spans > 1):
        draft.hints.add("repeated")


def _another(phrases: list[Phrase]) -> list[Phrase]:
    """ "another inch": one of it, once more."""
    made = list(phrases)
    for at in range(1, len(made)):
        unit = made[at]
        if (
            isinstance(unit, Said)
            and unit.kind in ("unit", "unclear-unit")
            and is_said(before := made[at - 1], "link", "again")
            and isinstance(before, Said)
            and before.text.lower().endswith("another")
        ):
            one = Measure(1.0, 1.0, unit.id, unit.kind, unit.start, unit.end, article=True)
            made[at] = Amount((one,), unit.start, unit.end)
    return made


def _once_more(phrases: list[Phrase], draft: Draft) -> None:
    """ "half an inch in spring and again in fall": the one amount that is named, given so many times."""
    more = [at for at, phrase in enumerate(phrases) if is_said(phrase, "link", "again") and _dated(phrases, at + 1)]
    if not more:
        more = _one_after_the_other(phrases)
    doses = sum(1 for phrase in phrases if _rate(phrase) or ((one := _bare(phrase, "length")) and one.high * _metres(one) <= THIN))
    if more and doses <= 1 and draft.times is None:
        draft.times = 1.0 + len(more)
        draft.hints.add("in-all")
def _dated(phrases: list[Phrase], at: int) -> bool:
    """Whether a time stands at an index: "in fall", "on 1 August", "in mid August"."""
    if at < len(phrases) and is_said(phrases[at], "link", "on", "into"):
        at += 1
    if at < len(phrases) and type(single(phrases[at])) is Number:
        at += 1
    return at < len(phrases) and (is_said(phrases[at], "link", "now") or is_said(phrases[at], "month-name"))


def _one_after_the_other(phrases: list[Phrase]) -> list[int]:
    """The times after the first, of several in a row: "once in May and once in August", "in May, in July and in September"."""
    found: list[int] = []
    last = -1
    for at, phrase in enumerate(phrases):
        if not is_said(phrase, "link", "now"):
            continue
        between = phrases[last + 1 : at]
        if last >= 0 and between and all(is_said(p, "link", "and") or is_said(p, "stop", "comma") for p in between):
            found.append(at)
        last = at
    return found


def times_alone(draft: Draft) -> None:
    """ "twice a year" as a whole line of a conversation, or before "how much for the year?": how many times what was spoken of is given.

    Where it is told how often, and not how many times in all, that is asked.
    """
    said = draft.text.lower().strip(" .!?")
    if draft.places:
        return
    found = _ALONE.fullmatch(said)
    if found is not None and not {*draft.asks} - {"enough"}:
        draft.asks, draft.enough = [], False  # of "do it twice a year"
        _given(draft, found[1] or found[2])
    elif (found := _AND_ASKED.fullmatch(said)) is not None:
        draft.asks, draft.asked, draft.question = ["how-much"], "castings", None
        draft.hints.add("in-all")
        draft.replies = [one for one in draft.replies if one[0] != "yes"]  # "I do that 3 times a year"
        _given(draft, found[1])
    elif draft.weak_topics and not draft.topics and draft.times is None and {"how-much", "what-is"} & {*draft.asks} and _EVERY.search(said):
        draft.weak_topics = []
        draft.question = ("season", "how many times is that in all? Say it as “3 times a year”")


def _given(draft: Draft, often: str) -> None:
    draft.times = _TIMES[often] if often in _TIMES else float(often.split()[0])
    draft.weak_topics, draft.topics, draft.stray, draft.noted = [], [], [], []
    draft.hints.discard("cut")
    draft.flags = [flag for flag in draft.flags if flag[0] != "relative-word"]


def _of_a_year(phrase: Phrase | None) -> bool:
    one = single(phrase)
    return type(one) is Measure and one.unit == "year" and one.low == one.high == 1


def _year_after(phrases: list[Phrase], at: int) -> int:
    """The index after "a year" or "in a season" that follows a phrase, or 0 where it does not follow."""
    here = at + 1
    if here < len(phrases) and _of_a_year(phrases[here]):
        return here + 1
    into = here + 1 < len(phrases) and is_said(phrases[here], "link", "into")
    if into and (is_said(phrases[here + 1], "unit", "year") or _of_a_year(phrases[here + 1])):
        return here + 2
    return 0


#: After a number: applications, and when; then what is given at each.
_DOSES = later(
    r"\s+(?:feeds?|feedings?|applications?|dressings?|doses?|top[- ]?dressings?|side[- ]?dressings?|rounds?)\s+"
    r"(?:this |a |per |each |every |in a |in the |over the |through the |throughout the |during the )(?:growing )?(?:season|year|spring|summer)\s*(?:,|:|of|with|at|-)?\s+",
    re.IGNORECASE,
)


def find_doses(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """The phrases without "3 feeds this season of": how many times so much is given."""
    low = draft.text.lower()
    told = draft.times is None and ("season" in low or "year" in low or "spring" in low or "summer" in low)
    found = _DOSES.search(draft.text) if told else None
    if found is None:
        return phrases
    for at, phrase in enumerate(phrases):
        number = single(phrase)
        if type(number) is Number and number.end == found.start() and number.low == number.high == int(number.low) and not number.role and number.low >= 1:
            draft.times = number.low
            return [*phrases[:at], *(p for p in phrases[at + 1 :] if p.start >= found.end())]
    return phrases


def _so_many(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    for at, phrase in enumerate(phrases):
        after = phrases[at + 1] if at + 1 < len(phrases) else None
        number = single(phrase)
        if type(number) is Number and number.low == number.high and not number.role and is_said(after, "topic", "how-often"):
            assert isinstance(after, Said)
            if after.text.lower().startswith("times"):
                draft.times = number.low
                return [*phrases[:at], *phrases[at + 2 :]]
        if is_said(phrase, "link", "cut") and isinstance(phrase, Said) and phrase.text.lower() in _TIMES:
            whole = any(is_said(p, "link", "altogether") for p in phrases) and any(type(p) is Amount for p in phrases[:at])
            if whole and (after is None or is_said(after, "stop")):
                draft.times = _TIMES[phrase.text.lower()]
                draft.hints.add("in-all")
                return [*phrases[:at], *phrases[at + 1 :]]
            year = _year_after(phrases, at)
            if year:
                draft.times = _TIMES[phrase.text.lower()]
                return [*phrases[:at], *phrases[year:]]
        if (
            is_said(phrase, "weak-topic", "how-often")
            and isinstance(phrase, Said)
            and phrase.text.lower() in ("twice a year", "once a year")
        ) and any(type(p) is Amount for p in phrases):
            draft.times = _TIMES[phrase.text.lower().split()[0]]
            return [*phrases[:at], *phrases[at + 1 :]]
    return phrases


def _layers(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    thin = [at for at, phrase in enumerate(phrases) if (bare := _bare(phrase, "length")) and bare.high * _metres(bare) <= THIN]
    if len(thin) < 2:
        return phrases
    draft.hints.add(DATED)
    made = list(phrases)
    for at in thin:
        one = single(phrases[at])
        assert isinstance(one, Measure)
        made[at] = Amount((one._replace(role="thick"),), one.start, one.end)
    return made


def _amounts(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """ "1 cup per plant in spring and 1 cup in midsummer": the same amount, given so many times."""
    rates = [at for at, phrase in enumerate(phrases) if _rate(phrase)]
    if len(rates) != 1:
        return phrases
    rate = single(phrases[rates[0]])
    assert isinstance(rate, Measure)
    same = [
        at
        for at, phrase in enumerate(phrases)
        if (one := _bare(phrase, "volume")) and (one.low, one.high, one.unit) == (rate.low, rate.high, rate.unit)
    ]
    dated = sum(1 for phrase in phrases if is_said(phrase, "link", "now", "again"))
    if not same or dated != len(same) + 1:
        return phrases
    draft.times = float(dated)
    draft.hints.add("in-all")
    return [phrase for at, phrase in enumerate(phrases) if at not in same]


def _rate(phrase: Phrase) -> bool:
    one = single(phrase)
    return type(one) is Measure and type(one.per) is Said and is_said(one.per, "plant") and dimension(one) == "volume"


def _bare(phrase: Phrase, what: str) -> Measure | None:
    one = single(phrase)
    if type(one) is Measure and one.per is None and not one.role and one.kind == "unit" and dimension(one) == what:
        return one
    return None


def _metres(one: Measure) -> float:
    from ..quantities import factor

    return factor(one.unit)
