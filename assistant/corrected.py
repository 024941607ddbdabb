"""A line that sets a figure of the line before it right, or says what is left: "sorry, meant 450", "a third died, so 40".

What was wrong is the figure that the right one is a slip of: one letter off, two letters swapped, a nought too many.
"""

from __future__ import annotations

import re

from grammar.parse import parse
from grammar.phrases import Said

_MEANT = re.compile(
    r"^\W*(?:(?:oh|no|oops|sorry|wait|whoops|ah|hang on|hold on|my bad|my mistake|typo|correction|actually|er|um)\W+)*"
    r"(?:(?:i|we)\s+)?(?:meant(?: to (?:say|type|write))?|mean|should (?:be|have been|read)|it should (?:be|have been)|that should (?:be|have been))\s+"
    r"(\d[\d,.]*)\W*$",
    re.IGNORECASE,
)
_TYPO = re.compile(r"^\W*(?:(?:oops|sorry|whoops|typo|correction|my bad|my mistake)\W+)+(\d[\d,.]*)\W*$", re.IGNORECASE)
_WAS_WRONG = re.compile(r"^\W*(?:(?:hm+|oh|sorry|wait|no|oops|ah)\W+)*(?:the )?(\d[\d,.]*) (?:was|is|were) (?:wrong|a typo|a mistake)\W+(?:it'?s |make it |should be |i meant )?(\d[\d,.]*)\W*$", re.IGNORECASE)
_FIGURE = re.compile(r"(?<![\w.,/'\u2019-])\d[\d,]*(?:\.\d+)?(?![\w/])")
_LEFT = re.compile(
    r"^(?P<lost>.*\b(?:died|dead|lost|gone|broke|broken|cracked|eaten|stolen|withered|rotted)\b[^,;.]*?)[,;.]?\s*\b(?:so|leaving|leaves|which leaves|that leaves|now)\b"
    r"\s*(?:(?:it'?s|there'?s|there are|only|just|we have|i have|i've|we're at|i'm at|about|now|me with|us with|down to)\s+)*(?P<left>\d+)"
    r"(?:\s+(?:left|now|remain|remaining|of them|plants?|pots?|trees?))*\W*$",
    re.IGNORECASE,
)

#: The number first: "make that 35, five got eaten".
_NOW_LEFT = re.compile(
    r"^\W*(?:(?:oh|ok|so|well|sorry|actually)\W+)*(?:make (?:it|that|them)|it'?s|now|down to|only|there'?s|there are|we have|i have)\s+(?:only |just )?(?P<left>\d+)"
    r"(?: (?:now|left|then|plants?|pots?|trees?))?\s*[,;:.-]+\s*(?:since |because |as |cos )?(?P<lost>.*\b(?:died|dead|lost|gone|broke|broken|cracked|eaten|stolen|withered|rotted)\b[^,;]*)$",
    re.IGNORECASE,
)


def set_right(line: str, before: str) -> str | None:
    """The line before with the figure that `line` sets right; None where `line` is no such line, or it may be another figure."""
    told = _WAS_WRONG.match(line)
    if told is not None:
        wrong, right = told[1], told[2].rstrip(".,")
        hits = [one for one in _FIGURE.finditer(before) if one[0] == wrong]
    else:
        found = _MEANT.match(line) or _TYPO.match(line)
        if found is None:
            return None
        right = found[1].rstrip(".,")
        all_of = list(_FIGURE.finditer(before))
        hits = [one for one in all_of if _slip(one[0], right)]
        if not hits and len(all_of) == 1:
            hits = all_of
    if len(hits) != 1:
        return None
    return f"{before[: hits[0].start()]}{right}{before[hits[0].end() :]}"


def _slip(wrong: str, right: str) -> bool:
    """Whether one figure is what another becomes by a slip of the fingers."""
    wrong, right = wrong.replace(",", ""), right.replace(",", "")
    if wrong == right or min(len(wrong), len(right)) < 2:
        return False
    if sorted(wrong) == sorted(right):
        return True
    if len(wrong) == len(right):
        return len(wrong) > 2 and sum(one != other for one, other in zip(wrong, right, strict=True)) == 1
    long, short = (wrong, right) if len(wrong) > len(right) else (right, wrong)
    return len(long) == len(short) + 1 and any(long[:at] + long[at + 1 :] == short for at in range(len(long)))


def was_wrong(line: str) -> tuple[float, str] | None:
    """The figure that a line calls wrong, and the right one: "200 was wrong, it's 220"; None where it does not."""
    told = _WAS_WRONG.match(line)
    return (float(told[1].replace(",", "")), told[2].rstrip(".,")) if told is not None else None


_WITHOUT_UNIT = re.compile(r"^(.+?): in what unit\?", re.IGNORECASE)


def with_unit(reply: str, question: str, before: str) -> str | None:
    """The line before with the unit that its question asked for: "10 deep" and "inches" as "10 inches deep"; None where the reply is no unit alone."""
    asked = _WITHOUT_UNIT.match(question)
    phrases = parse(reply).phrases
    if asked is None or len(phrases) != 1 or type(phrases[0]) is not Said or phrases[0].kind not in ("unit", "unclear-unit"):
        return None
    about = re.search(re.escape(asked[1]), before, re.IGNORECASE)
    number = re.search(r"\d[\d.,/]*|\b(?:one|two|three|four|five|six|seven|eight|nine|ten|twelve)\b", asked[1], re.IGNORECASE)
    if about is None or number is None or " by " in asked[1]:
        return None
    told = about[0]
    return f"{before[: about.start()]}{told[: number.end()]} {reply.strip(' .!?,')}{told[number.end() :]}{before[about.end() :]}"


def what_is_left(line: str) -> tuple[str, float] | None:
    """What was lost in words, and how many are left, of "a third of them died, so 40"; None where a line says no such thing."""
    found = _LEFT.match(line) or _NOW_LEFT.match(line)
    return (found["lost"].strip(" ,;."), float(found["left"])) if found is not None else None
