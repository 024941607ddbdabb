"""Days as people write them: "12 May 2026", "2026-05-12", "yesterday", "two weeks ago", "in 3 weeks".

The clock is asked only where a day is said by it; without one, such a day cannot be told.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import date, timedelta

from ..season import MONTHS

Clock = Callable[[], date]

_MONTH = {name[:length].lower(): number for number, name in enumerate(MONTHS, 1) for length in (3, 4, len(name))}
_NAMES = "|".join(sorted(_MONTH, key=len, reverse=True))
_COUNTS = {"a": 1, "an": 1, "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8, "nine": 9,
           "ten": 10}  # fmt: skip
_ORDINAL = r"(?:st|nd|rd|th)?"
_WHOLE = re.compile(r"\b(\d{4})-(\d{1,2})-(\d{1,2})\b")
_DAY_MONTH = re.compile(rf"\b(?:the )?(\d{{1,2}}){_ORDINAL}(?: of)? ({_NAMES})\b\.?(?:,? (\d{{4}})\b)?", re.IGNORECASE)
_MONTH_DAY = re.compile(rf"\b({_NAMES})\b\.? (?:the )?(\d{{1,2}}){_ORDINAL}\b(?:,? (\d{{4}})\b)?", re.IGNORECASE)
_AGO = re.compile(r"\b(\d{1,3}|an?|" + "|".join(_COUNTS) + r") (day|week)s? ago\b", re.IGNORECASE)
_WORD = re.compile(r"\b(the day before yesterday|the day after tomorrow|today|yesterday|this morning|just now|now|tomorrow|next week)\b",
                   re.IGNORECASE)  # fmt: skip
_AHEAD = re.compile(r"\b(?:in|after) (\d{1,3}|" + "|".join(_COUNTS) + r") (day|week)s?(?:'? time)?\b", re.IGNORECASE)
#: A time that is no day: the user is asked for the day.
_VAGUE = re.compile(
    r"\b((?:next|last|this) (?:month|year|season|spring|summer|autumn|fall|winter)|last week"
    r"|(?:(?:next|last|this|on) )?(?:mon|tues|wednes|thurs|fri|satur|sun)day|in (?:the )?(?:spring|summer|autumn|fall|winter)|soon|later)\b",
    re.IGNORECASE,
)
_STROKES = re.compile(r"\b\d{1,2}[/.]\d{1,2}[/.]\d{2,4}\b")
_BACK = {"today": 0, "this morning": 0, "just now": 0, "now": 0, "yesterday": 1, "the day before yesterday": 2, "tomorrow": -1,
         "the day after tomorrow": -2, "next week": -7}  # fmt: skip
_LEAD = re.compile(r"\b(?:on|at|from|since|dated)\s*$", re.IGNORECASE)


class UnclearDay(Exception):
    """A day that cannot be told; the text says what would help."""


def find_day(text: str, clock: Clock | None, *, coming: bool = False) -> tuple[date | None, str]:
    """The day that a text names, or None, and the text without it.

    A day without a year is the last such day, or with `coming` the next one. Raises UnclearDay for a day that there is
    not, that may be read in two ways or is none at all ("next month"), or that needs a clock where there is none.
    """
    if found := _STROKES.search(text):
        raise UnclearDay(f"“{found.group()}” may be read in two ways: write the month as a word, as “12 May 2026”")
    if found := _WHOLE.search(text):
        year, month, day = (int(part) for part in found.groups())
        return _made(year, month, day, found.group()), _without(text, found)
    for pattern, order in ((_DAY_MONTH, (1, 0)), (_MONTH_DAY, (0, 1))):
        if found := pattern.search(text):
            groups = found.groups()
            month, day = _MONTH[groups[order[0]].lower()], int(groups[order[1]])
            return _in_year(groups[2], month, day, found.group(), clock, coming), _without(text, found)
    if found := _AGO.search(text):
        return _today(clock, found.group()) - timedelta(days=_days(found)), _without(text, found)
    if found := _AHEAD.search(text):
        return _today(clock, found.group()) + timedelta(days=_days(found)), _without(text, found)
    if found := _WORD.search(text):
        return _today(clock, found.group()) - timedelta(days=_BACK[found.group().lower()]), _without(text, found)
    if found := _VAGUE.search(text):
        raise UnclearDay(f"“{found.group()}” is no day: give the date, as “12 May 2026”")
    return None, text


def without_day(text: str) -> str:
    """A text without what names a day in it, whether that day can be told or not."""
    for pattern in (_STROKES, _WHOLE, _DAY_MONTH, _MONTH_DAY, _AGO, _AHEAD, _WORD, _VAGUE):
        if found := pattern.search(text):
            return _without(text, found)
    return text


def _days(found: re.Match[str]) -> int:
    count = found.group(1).lower()
    return (int(count) if count.isdecimal() else _COUNTS[count]) * (7 if found.group(2).lower() == "week" else 1)


def _today(clock: Clock | None, said: str) -> date:
    if clock is None:
        raise UnclearDay(f"“{said}” cannot be told here: give the date, as “12 May 2026”")
    return clock()


def _in_year(year: str | None, month: int, day: int, said: str, clock: Clock | None, coming: bool) -> date:
    """A day of a year that was said, or else the last such day that is not still to come, or the next that has not gone by."""
    if year is not None:
        return _made(int(year), month, day, said)
    now = _today(clock, said)
    for away in range(5):  # 29 February comes round every fourth year
        try:
            found = date(now.year + away if coming else now.year - away, month, day)
        except ValueError:
            continue
        if found >= now if coming else found <= now:
            return found
    raise UnclearDay(f"there is no {said}")


def _made(year: int, month: int, day: int, said: str) -> date:
    try:
        return date(year, month, day)
    except ValueError as error:
        raise UnclearDay(f"there is no day {said}") from error


def _without(text: str, found: re.Match[str]) -> str:
    before = _LEAD.sub("", text[: found.start()])
    return " ".join(f"{before} {text[found.end():]}".split())
