"""A ring of castings around each plant, or a band along a row: its width, its thickness, its distance from the stem."""

from __future__ import annotations

from ..draft import Draft
from ..phrases import Amount, Measure, Phrase, Said
from ..quantities import Span, factor
from ..said import dimension, is_said, single
from ..thickness import THIN


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
        if kind == "band":
            phrases = list(phrases)
            measures += _sides_of_band(phrases, at, {one.role for _, one in measures})
            measures += _bare_width(phrases, at, {one.role for _, one in measures})
            measures += _bare_thickness(phrases, at, {one.role for _, one in measures})
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


#: A band is no longer than this across, and no thicker than that, in metres.
_ACROSS = 1.0 + 1e-9


def _sides_of_band(phrases: list[Phrase], at: int, said: set[str]) -> list[tuple[int, Measure]]:
    """ "15 m x 25 cm band", "a band 25 cm x 15 m": the short side is the band's width, and the long one that of its row, which stays."""
    if "width" in said:
        return []
    of = at + 2 if at + 1 < len(phrases) and is_said(phrases[at + 1], "link", "of") else at + 1
    for where in (at - 1, of):
        amount = phrases[where] if 0 <= where < len(phrases) else None
        if type(amount) is not Amount or len(amount.dims) != 2 or not all(_plain_length(dim) for dim in amount.dims):
            continue
        short, long = sorted((dim for dim in amount.dims if type(dim) is Measure), key=_metres)
        if _metres(short) > _ACROSS or _metres(long) <= _ACROSS or _metres(short) <= THIN:
            continue
        phrases[where] = Amount((long._replace(role="length"),), amount.start, amount.end)
        return [(-1, short._replace(role="width"))]  # the phrase itself is the row's length now
    return []


def _bare_width(phrases: list[Phrase], at: int, said: set[str]) -> list[tuple[int, Measure]]:
    """ "row 100 ft, 18 in band, 1/4 in": the length right beside the band is how wide it is, where its row has a length of its own."""
    if "width" in said:
        return []
    if not any(type(one := single(p)) is Measure and _plain_length(one) and one.role in ("", "length") and _metres(one) > _ACROSS for p in phrases):
        return []
    of = at + 2 if at + 1 < len(phrases) and is_said(phrases[at + 1], "link", "of") else at + 1
    for where in (at - 1, of):
        one = single(phrases[where]) if 0 <= where < len(phrases) else None
        if type(one) is Measure and _plain_length(one) and not one.role and THIN < _metres(one) <= _ACROSS:
            return [(where, one._replace(role="width"))]
    return []


def _bare_thickness(phrases: list[Phrase], at: int, said: set[str]) -> list[tuple[int, Measure]]:
    """ "band 20 cm wide, 8 mm": the thin length after a band that is so wide is how thick it lies."""
    if "width" not in said or said & {"thick", "depth"}:
        return []
    for where in range(at + 1, len(phrases)):
        phrase = phrases[where]
        one = single(phrase)
        if type(one) is Measure and _plain_length(one) and one.role in ("", "depth", "thick") and _metres(one) <= THIN:
            return [(where, one._replace(role="thick"))]
        if is_said(phrase, "stop", "sentence"):
            return []
    return []


def _plain_length(dim: object) -> bool:
    return type(dim) is Measure and dim.per is None and dim.kind == "unit" and dimension(dim) == "length" and dim.role in ("", "width", "length", "depth", "thick")


def _metres(one: Measure) -> float:
    return one.high * factor(one.unit)


def _clear_of_stems(phrases: list[Phrase], draft: Draft) -> set[int]:
    used: set[int] = set()
    for at, phrase in enumerate(phrases):
        one = _measure(phrase, "clear-of-stem")
        if one is not None and one.low != one.high and any(is_said(p, "form", "ring") for p in phrases):
            phrases[at] = Amount((one._replace(role="clear-of-trunk"),), one.start, one.end)  # "a ring 40 to 150 cm from the stem": where it begins and ends
            continue
        if one is not None:
            draft.strip_clear = Span(min(one.low, one.high), max(one.low, one.high), one.unit)
            used.add(at)
    return used
