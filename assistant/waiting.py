"""A question about something that was said and could not be taken: what answers it, and what has to wait for it.

"one inhc", "12 inches and 15": nothing of such a line is put in until it is clear. The answer is set in the place of
the words asked about, and the line is read again as a whole.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from grammar.draft import Draft
from grammar.parse import parse
from grammar.phrases import Amount, Measure, Said, Share

from .answer import Answer
from .choices import chosen

#: What a question needs, where something said would be lost if the talk went on without its answer.
UNCLEAR = frozenset({"stray", "spelling", "amount", "loose-measure"})
_LONGEST_REPLY = 5


@dataclass(frozen=True)
class Waiting:
    """A line that could not be taken, the words of it that are asked about, what is offered for them, and the question."""

    line: str
    about: str
    instead: str
    question: Answer
    #: the line was kept as a turn of its own, since nothing stood before it
    kept: bool
    #: it was asked a second time, and what comes next is not held up any more
    again: bool = False
    #: what may stand in the place of the words, one of which is meant
    choices: tuple[str, ...] = ()

    @property
    def needs(self) -> str:
        """What the question needs."""
        return self.question.needs


def completed(waiting: Waiting, new: Draft, line: str) -> str | None:
    """The line that waits with the answer in its place; None where what came is no answer to the question."""
    said = {name for name, _ in new.replies}
    reply = line.strip(" .!?,;")
    if waiting.needs == "season":
        return _so_often(new, reply)
    if waiting.needs == "loose-measure":
        return _measured(waiting, reply)
    if not waiting.about:
        return None
    if waiting.choices:
        shown = waiting.question.offers
        picked = chosen(reply, shown)
        if picked is not None:
            return _put(waiting, waiting.choices[shown.index(picked)])
    if "yes" in said or reply.lower() in ("yes", "y", "yeah", "yep"):
        return _put(waiting, waiting.instead) if waiting.instead else None
    if not waiting.instead and _only_a_unit(reply):
        return _put(waiting, f"{waiting.about} {reply}")
    if len(reply.split()) > _LONGEST_REPLY or new.asks or new.topics:
        return None
    if waiting.instead:
        return _respelt(waiting, new, reply)
    amounts = new.unsure or any(p.share or p.layer or p.depth or p.count for p in new.places)
    figures = {value for value, _ in new.figures}
    told = re.findall(r"\d+(?:\.\d+)?", waiting.about)
    if amounts and told and {float(one) for one in told} <= figures:
        return _put(waiting, reply)
    return None


def _put(waiting: Waiting, text: str) -> str | None:
    made = re.sub(rf"(?<!\w){re.escape(waiting.about)}(?!\w)", lambda _: text, waiting.line, count=1)
    return made if made != waiting.line else None


def _respelt(waiting: Waiting, new: Draft, reply: str) -> str | None:
    """The right word alone, or the amount in full: "inch", "half", "half an inch"."""
    phrases = parse(reply).phrases
    if len(phrases) != 1 or new.unread:
        return None
    after = waiting.line[waiting.line.lower().find(waiting.about.lower()) + len(waiting.about) :].split()[:1]
    before = waiting.line[: waiting.line.lower().find(waiting.about.lower())].split()[-1:]
    words = reply.split()
    line = waiting.line
    if len(words) > 1 and after and words[-1].rstrip("s").lower() == after[0].rstrip("s").lower():
        line = re.sub(rf"{re.escape(waiting.about)}\s+{re.escape(after[0])}", waiting.about, line, count=1)
    elif len(words) > 1 and before and (words[0].lower() == before[0].lower() or before[0].lower() in ("a", "an", "one")):
        line = re.sub(rf"{re.escape(before[0])}\s+{re.escape(waiting.about)}", waiting.about, line, count=1)
    elif len(words) > 2:
        return None
    return _put(Waiting(line, waiting.about, "", waiting.question, waiting.kept), reply)


def _measured(waiting: Waiting, reply: str) -> str | None:
    """ "a scoop is 1 cup", "a cup": so many scoops as so many of what one holds."""
    told = [one for p in parse(reply).phrases if type(p) is Amount and len(p.dims) == 1 for one in p.dims if type(one) is Measure]
    sizes = [one for one in told if one.kind != "loose-measure" and one.per is None]
    asked = [
        one for p in parse(waiting.line).phrases if type(p) is Amount for one in p.dims if type(one) is Measure and one.kind == "loose-measure"
    ]  # fmt: skip
    if len(sizes) != 1 or len({one.unit for one in asked}) != 1 or any(one.kind == "loose-measure" and one.unit != asked[0].unit for one in told):
        return None
    size = sizes[0]
    name = reply[size.start : size.end].split()[-1]
    line = waiting.line
    for one in sorted(asked, key=lambda one: -one.start):
        low, high = one.low * size.low, one.high * size.high
        number = f"{low:g}" if low == high else f"{low:g} to {high:g}"
        # what stands after the measure's own words stays: "2 scoops per plant"
        span = line[one.start : one.end]
        measure = re.match(r"(?:an?|[\d./-]+(?:\s+to\s+[\d./-]+)?|\w+)\s+\w+", span)
        if measure is None:
            return None
        line = f"{line[: one.start]}{number} {name}{span[measure.end() :]}{line[one.end :]}"
    return line


def _only_a_unit(reply: str) -> bool:
    phrases = parse(reply).phrases
    return 1 <= len(phrases) <= 2 and all(type(p) is Said and p.kind in ("unit", "unclear-unit", "percent", "role") for p in phrases)


def _so_often(new: Draft, reply: str) -> str | None:
    """ "twice", "three times", "3": how often in the season, for an amount that was said before."""
    if new.times is not None or new.places or new.unsure:
        return None
    words = {"twice": "2 times a year", "two times": "2 times a year", "three times": "3 times a year", "four times": "4 times a year"}
    low = reply.lower()
    if low in words:
        return words[low]
    number = re.fullmatch(r"(\d{1,2}|one|two|three|four|five|six)(?: times)?(?: then)?", low)
    return f"{number[1]} times a year" if number is not None else None


def only_wants(new: Draft) -> bool:
    """Whether a line only asks for the answer in another form, and says nothing new: "how many litres", "in bags"."""
    return bool(new.asks or new.asked or new.asked_unit) and not (
        new.places or new.unsure or new.stray or new.have or new.price or new.way or new.recipe or new.parts_share or new.topics
        or new.weak_topics or new.replies or new.pack or new.times or new.question or new.ratio or new.water or Share in map(type, parse(new.text).phrases)
    )  # fmt: skip
