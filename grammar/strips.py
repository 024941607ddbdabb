"""A ring of castings around each plant, or a band along a row: its width, its thickness, its distance from the stem."""

from __future__ import annotations

from .asides import dimension, is_said, single
from .draft import Draft
from .phrases import Measure, Phrase, Said
from .quantities import Span


def find_strip(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """The phrases without the measures of a ring or a band, which go onto the draft."""
    used = _clear_of_stems(phrases, draft)
    if any(is_said(p, "form", "trunk") for p in phrases):
        return _left(phrases, used)
    for at, phrase in enumerate(phrases):
        kind = _kind(phrases, at)
        if not kind or draft.strip:
            continue
        measures = _after(phrases, at, used)
        said = {one.role for _, one in measures}
        measures += [(where, one) for where, one in _before(phrases, at) if one.role not in said]
        if not measures and kind == "ring":
            continue
        draft.strip = kind
        for where, one in measures:
            span = Span(min(one.low, one.high), max(one.low, one.high), one.unit)
            if one.role == "width":
                draft.strip_width = span
            else:
                draft.strip_layer = span
            used.add(where)
        if is_said(phrase, "form", "ring"):
            used.add(at)
    return _left(phrases, used)


def _left(phrases: list[Phrase], used: set[int]) -> list[Phrase]:
    return [phrase for at, phrase in enumerate(phrases) if at not in used] if used else phrases


def _kind(phrases: list[Phrase], at: int) -> str:
    phrase = phrases[at]
    if is_said(phrase, "form", "ring"):
        return "ring" if any(is_said(p, "plant") or is_said(p, "way", "side-dress") for p in phrases) else ""
    if is_said(phrase, "hint", "band") or (
        is_said(phrase, "way", "side-dress") and isinstance(phrase, Said) and "band" in phrase.text.lower()
    ):
        return "band"
    return ""


def _measure(phrase: Phrase, *roles: str) -> Measure | None:
    one = single(phrase)
    if type(one) is Measure and one.per is None and dimension(one) == "length" and one.role in roles:
        return one
    return None


def _after(phrases: list[Phrase], at: int, used: set[int]) -> list[tuple[int, Measure]]:
    """The widths and thicknesses right after the word, with "and" and commas between."""
    found: list[tuple[int, Measure]] = []
    here = at + 1
    while here < len(phrases):
        # "deep" beside a width is the band's own thickness
        one = _measure(phrases[here], "width", "thick", "depth")
        if one is not None and not any(earlier.role == one.role for _, earlier in found) and (one.role != "depth" or found):
            found.append((here, one))
        elif not (
            here in used
            or is_said(phrases[here], "link", "and", "of", "with", "at")
            or is_said(phrases[here], "stop", "comma")
            or is_said(phrases[here], "castings")
            or is_said(phrases[here], "hint", "band")
        ):
            break
        here += 1
    return found


def _before(phrases: list[Phrase], at: int) -> list[tuple[int, Measure]]:
    """ "a 4 inch wide band", "a 4 inch wide, half inch thick ring"."""
    found: list[tuple[int, Measure]] = []
    here = at - 1
    while here >= 0:
        one = _measure(phrases[here], "width", "thick")
        if one is not None and not any(earlier.role == one.role for _, earlier in found):
            found.append((here, one))
        elif not is_said(phrases[here], "stop", "comma"):
            break
        here -= 1
    return found


def _clear_of_stems(phrases: list[Phrase], draft: Draft) -> set[int]:
    used: set[int] = set()
    for at, phrase in enumerate(phrases):
        one = _measure(phrase, "clear-of-stem")
        if one is not None:
            draft.strip_clear = Span(min(one.low, one.high), max(one.low, one.high), one.unit)
            used.add(at)
    return used
