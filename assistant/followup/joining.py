"""By which words a line joins what was told: on top of it, in its stead, beside it or leaning on it at all.

Each is a question of its own, since what a word does hangs on what it stands with: "too" brings in another place, and says of
plants that they get the same; "and" at the head of a line adds a place, and before a bag puts it in the stead of another.
"""

from __future__ import annotations

import re

from ..replies import without_opening

#: A place comes on top of those before, and does not stand in their stead.
_ON_TOP = re.compile(r"\b(?:plus|also|another|as well|too|add|on top of|together|both)\b", re.IGNORECASE)
#: "and a 25 litre bag", in the stead of what there was
_AND_THAT = re.compile(r"\s*(?:ok(?:ay)?,? )?(?:and|what about|how about|what if (?:i|it)|or|with|say)\b", re.IGNORECASE)
#: What was said before is set right, and no place is added.
_CORRECTS = re.compile(r"\b(?:i mean|i meant|sorry|actually|correction|no)\b", re.IGNORECASE)
#: A place gets what was told of those before it: "12 leeks, same", "6 peonies too"; not "the same size".
_LIKE_BEFORE = re.compile(
    r"\b(?:(?:the )?same(?! (?:size|depth|length|width|height|pots?|beds?|share|shape|kind|sort|mix)\b)|ditto|likewise|like (?:those|them|the others?|the rest)|too|as well|also)\b", re.IGNORECASE
)
_MORE = re.compile(r"^\W*(?:(?:and|oh|ok|so)\W+)*(?:plus|add|also|another)\b|.*\b(?:more|extra|too|as well)\b", re.IGNORECASE)
_TOO = re.compile(r"\b(?:too|as well|also|likewise)\b", re.IGNORECASE)
_ONLY = re.compile(r"^\W*(?:just|only)\b", re.IGNORECASE)
_AS_WELL = re.compile(r"\b(?:too|also|as well|in addition|afterwards|after that|besides)\b|^\W*(?:and then|then|and|plus)\b", re.IGNORECASE)
_ONLY_DO = re.compile(r"\b(?:if|say|suppose) (?:i|we|you|they) (?:only|just)\b|\b(?:only|just) (?:do|doing|cover|covering)\b", re.IGNORECASE)
_THE_SIZED_ONE = re.compile(r"\bthe \d[\d.]*[ -]?(?:ft|feet|foot|m|metres?|meters?)? ?(?:x|×|by) ?\d[\d.]*[ -]?(?:ft|feet|foot|m|metres?|meters?)? one\b", re.IGNORECASE)
#: All but those spoken of last.
_OTHERS = re.compile(r"\b(?:the|all the) (?:others|other ones|rest of them|remaining ones|rest(?= (?:at|get|gets|is|are|with|to|need|half|an?|\d)))\b", re.IGNORECASE)
#: Words by which a line leans on what came before.
_LEANS = ("make it", "make that", "instead", "actually", "what about", "how about", "what if", "and if", "same ", "also", "add ", "change", "rather", "no,",
          "sorry", "go with", "it's ", "its ", "and ", "plus ", "but ", "only ", "just ")  # fmt: skip
#: A line that begins so brings in another place.
_OPENS = ("and another", "plus", "and also", "also", "and a ", "and ")


def comes_on_top(text: str) -> bool:
    """Whether a place of a line comes on top of those before, where it would stand in their stead otherwise."""
    return _ON_TOP.search(text) is not None


def stands_instead(text: str) -> bool:
    """Whether what a line tells stands in the stead of what there was: "and a 25 litre bag", "what about …"."""
    return _AND_THAT.match(text) is not None


def corrects(text: str) -> bool:
    """Whether a line sets right what was said before: "I meant", "sorry"."""
    return _CORRECTS.search(text) is not None


def as_those_before(text: str) -> bool:
    """Whether a place of a line gets what was told of those before it: "12 leeks, same"."""
    return _LIKE_BEFORE.search(text) is not None


def says_more(text: str) -> bool:
    """Whether a number of a line is so many more: "plus 17 peppers", "17 more"."""
    return _MORE.match(text) is not None


def of_the_others(text: str) -> bool:
    """Whether a line is of all places but those spoken of last: "and the others at 12 %"."""
    return _OTHERS.search(text) is not None


def opens_on_top(text: str) -> bool:
    """Whether a line begins as one that brings in another place."""
    return without_opening(text.lower()).startswith(_OPENS) and not adds_nothing(text)


def adds_nothing(line: str) -> bool:
    """ "and if I only do 50 sq ft", "and the 4x8 one 12 inches": an "and" by which nothing comes on top."""
    return _ONLY_DO.search(line) is not None or _THE_SIZED_ONE.search(line) is not None


def says_too(line: str) -> bool:
    """ "the pots too", "and the tubs as well"."""
    return _TOO.search(line) is not None


def says_only(line: str) -> bool:
    """ "just bed A", "only the pots": the places that are named stay, the others go."""
    return _ONLY.match(line) is not None


def says_as_well(text: str) -> bool:
    """ "too", "as well", and at the head of a line "then" or "and": what comes is given besides what was told."""
    return _AS_WELL.search(text) is not None and re.search(r"\binstead\b|\brather\b", text.lower()) is None


def leans(text: str) -> bool:
    """Whether a line leans on what was said before it."""
    text = without_opening(text.lower())
    return any(text.startswith(word) or (word in ("instead", "actually") and word in text) for word in _LEANS)
