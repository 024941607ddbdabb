"""Trays of cells: "72-cell tray", "40 trays of 72 cells, 45 ml a cell", "half of each cell"."""

from __future__ import annotations

import math

from ..draft import Draft
from ..phrases import Amount, CellTray, Measure, Number, Phrase, Said, Share
from ..quantities import Span
from ..said import dimension, is_said, phrase_at, single

_FEWEST = 4  # a tray of fewer cells is spoken of as pots


def find_trays(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """The phrases with each number of cells made one with its tray; the size of a cell goes onto the draft."""
    found = _halves(_trays(_plugs(_open_trays(phrases, draft), draft)))
    if not any(type(single(phrase)) is CellTray for phrase in found):
        return found
    return _cell_sizes(_own_size(found, draft), draft)


def _own_size(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """ "ten 72-cell trays, each tray takes 4 litres of mix": what a tray itself holds goes before what its cells usually do."""
    trays = [at for at, phrase in enumerate(phrases) if type(single(phrase)) is CellTray]
    if len(trays) != 1:
        return phrases
    tray = single(phrases[trays[0]])
    assert type(tray) is CellTray
    for at in range(trays[0] + 2, len(phrases)):
        one = single(phrases[at])
        if type(one) is not Measure or dimension(one) != "volume" or one.kind == "loose-measure" or one.role or _small(one):
            continue
        start, end = at, at + 1
        if is_said(phrase_at(phrases, end), "link", "of"):
            end += 1
        if is_said(phrase_at(phrases, end), "castings"):
            continue
        if is_said(phrase_at(phrases, end), "mix") or is_said(phrase_at(phrases, end), "seed-mix") or is_said(phrase_at(phrases, end), "component"):
            end += 1
        elif end > at + 1:
            continue
        told = type(one.per) is Said and is_said(one.per, "container", "tray")
        if one.per is not None and not told:
            continue
        whole = "cell" not in draft.text[tray.end - 5 : tray.end].lower()  # "72 cells of 40 ml each": each cell
        if not told and is_said(phrase_at(phrases, end), "per") and is_said(phrase_at(phrases, end + 1), "container", "tray"):
            told, end = True, end + 2
        if not told and whole and is_said(phrase_at(phrases, end), "link", "each") and not is_said(phrase_at(phrases, end + 1), "container", "cell"):
            told, end = True, end + 1
            end += is_said(phrase_at(phrases, end), "container", "tray")
        elif not told:
            while is_said(phrase_at(phrases, start - 1), "link", "volume-word", "is", "at", "filled-to") or is_said(phrase_at(phrases, start - 1), "about"):
                start -= 1
            noun = is_said(phrase_at(phrases, start - 1), "container", "tray") and start - 2 > trays[0]
            first = start - 2 if noun else start - 1
            if is_said(phrase_at(phrases, first), "link", "each"):
                told, start = True, first
        if told:
            draft.noted.append((f"{tray.cells:g}", "the cells of a tray, of which the size of the whole tray is said"))
            size = Amount((one._replace(per=None),), one.start, one.end)
            return [*phrases[: trays[0]], size, *phrases[trays[0] + 1 : start], *phrases[end:]]
    return phrases


def _cells(phrase: Phrase | None) -> bool:
    return is_said(phrase, "container", "cell") or (
        is_said(phrase, "container", "tray") and isinstance(phrase, Said) and phrase.text.lower().startswith(("cell", "plug"))
    )


def _whole(phrase: Phrase | None) -> Number | None:
    one = single(phrase)
    return one if type(one) is Number and one.low == one.high == int(one.low) and not one.role and one.low >= _FEWEST else None


def _trays(phrases: list[Phrase]) -> list[Phrase]:
    found: list[Phrase] = []
    at = 0
    trays = any(is_said(p, "container", "tray") for p in phrases)
    while at < len(phrases):
        phrase = phrases[at]
        after = phrase_at(phrases, at + 1)
        count = None
        number = _whole(phrase)
        if number is not None and not _cells(after) and _named_by(phrases, at):
            found.pop()
            found.insert(len(found) - 1, Amount((CellTray(int(number.low), number.start, number.end),), number.start, number.end))
            at += 1  # "trays of 72"
            continue
        if number is None and type(phrase) is Amount and len(phrase.dims) == 2 and _cells(after):
            first, second = phrase.dims  # "10 x 72-cell trays"
            if type(first) is Number and type(second) is Number and not second.role:
                count, number = first, second
        if number is None or not trays or not _cells(after) or not isinstance(after, Said):
            found.append(phrase)
            at += 1
            continue
        if count is not None:
            found.append(Amount((count,), count.start, count.end))
        tray = CellTray(int(number.low), number.start, after.end)
        # "40 trays of 72 cells", "10 trays 72 cell", "40 trays, 72 cells": the tray has been named
        back = len(found) - 1
        while back >= 0 and (is_said(found[back], "link", "of", "with") or is_said(found[back], "stop", "comma")):
            back -= 1
        if back >= 0 and is_said(found[back], "container", "tray"):
            del found[back + 1 :]
            found[back] = Amount((tray,), tray.start, tray.end)
            found.append(Said("container", "tray", "trays", after.start, after.end))
            at += 2
            continue
        found.append(Amount((tray,), tray.start, tray.end))
        noun = phrase_at(phrases, at + 2)
        found.append(Said("container", "tray", "trays", after.start, after.end))
        at += 3 if is_said(noun, "container", "tray") else 2
    return found


def _named_by(phrases: list[Phrase], at: int) -> bool:
    """Whether a number after "trays of" is that of their cells: "trays of 72", and not "trays of 50 plants" or "of 40 ml"."""
    after = phrase_at(phrases, at + 1)
    counted = type(after) is Said and after.kind in ("plant", "hole", "container", "ground", "unit", "unclear-unit")
    one = single(phrase_at(phrases, at))
    if type(one) is Number and one.low == one.high == 1020:
        return False  # the name of a size
    return not counted and is_said(phrase_at(phrases, at - 1), "link", "of") and is_said(phrase_at(phrases, at - 2), "container", "tray")


def _open_trays(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """ "two 1020 trays", "two trays of 1020": the number is the name of a size of tray."""
    found: list[Phrase] = []
    for at, phrase in enumerate(phrases):
        one = single(phrase)
        if type(phrase) is Amount and len(phrase.dims) == 2 and is_said(phrase_at(phrases, at + 1), "container", "tray"):
            first, second = phrase.dims  # "4 x 1020 flats"
            if type(first) is Number and type(second) is Number and second.low == second.high == 1020:
                draft.named_size = "tray-1020"
                found.append(Amount((first,), first.start, first.end))
                continue
        beside = is_said(phrase_at(phrases, at + 1), "container", "tray") or (at > 0 and is_said(phrases[at - 1], "container", "tray"))
        of = is_said(phrase_at(phrases, at - 1), "link", "of") and is_said(phrase_at(phrases, at - 2), "container", "tray")
        if type(one) is Number and one.low == one.high == 1020 and (beside or of):
            if of and not beside:
                found.pop()  # "of"
            draft.named_size = "tray-1020"
        else:
            found.append(phrase)
    return found


def _plugs(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """ "1,500 plugs in 50-cell trays": so many plugs take so many whole trays."""
    for into in range(2, len(phrases) - 2):
        trays, tray = _whole(phrases[into + 1]), phrases[into + 2]
        if trays is None or not is_said(phrases[into], "link", "into", "at") or not (_cells(tray) and is_said(tray, "container", "tray")):
            continue
        at = into - 1
        while at > 0 and _seedlings(phrases[at]):
            at -= 1
        plugs = _whole(phrases[at])
        if plugs is None or at == into - 1:
            continue
        count = float(math.ceil(plugs.low / trays.low))
        said = draft.text[plugs.start : phrases[into].start].strip()
        draft.flags.append(("trays", f"{said} take {count:g} trays of {trays.low:g}, filled whole"))
        kept = [phrase for phrase in phrases[at + 1 : into] if is_said(phrase, "hint")]
        return [*phrases[:at], *kept, Amount((plugs._replace(low=count, high=count),), plugs.start, plugs.end), *phrases[into + 1 :]]
    return phrases


def _seedlings(phrase: Phrase) -> bool:
    return is_said(phrase, "container", "cell") or is_said(phrase, "plant") or is_said(phrase, "hint")


def _halves(phrases: list[Phrase]) -> list[Phrase]:
    """ "half of each cell": a share of every cell."""
    found: list[Phrase] = []
    at = 0
    while at < len(phrases):
        one = single(phrases[at])
        here = at + 1
        while is_said(phrase_at(phrases, here), "link", "of", "each"):
            here += 1
        if type(one) is Number and 0 < one.low < 1 and here > at + 1 and is_said(phrase_at(phrases, here), "container", "cell"):
            found.append(Share(one.low * 100, one.high * 100, one.start, one.end))
            at = here + 1
            continue
        found.append(phrases[at])
        at += 1
    return found


def _cell_sizes(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """ "45 ml a cell", "each cell is 40 ml", "72 cells of 45 ml each", "45 ml cells": unless castings are what goes in."""
    used: set[int] = set()
    for at, phrase in enumerate(phrases):
        one = single(phrase)
        if type(one) is not Measure or dimension(one) != "volume" or draft.cell is not None:
            continue
        after = phrase_at(phrases, at + 1)
        if type(one.per) is Said and is_said(one.per, "container", "cell"):
            if _small(one) or is_said(after, "castings") or is_said(after, "link", "of"):
                draft.hints.add("per-cell")
                continue
            beside = {at}
        elif one.per is not None:
            continue
        elif is_said(after, "container", "cell"):
            beside = {at, at + 1}
        elif is_said(after, "link", "each") and is_said(phrase_at(phrases, at + 2), "container", "cell"):
            beside = {at, at + 1, at + 2}
        elif is_said(phrase_at(phrases, at - 1), "link", "is", "volume-word", "at", "of") and is_said(
            phrase_at(phrases, at - 2), "container", "cell"
        ):
            beside = {at, at - 1, at - 2}
            if is_said(phrase_at(phrases, at - 3), "link", "each"):
                beside.add(at - 3)
        elif is_said(phrase_at(phrases, at - 1), "container", "cell") and is_said(phrase_at(phrases, at - 2), "link", "each"):
            beside = {at, at - 1, at - 2}  # "each cell 40 ml"
        elif is_said(phrase_at(phrases, at - 1), "link", "of") and is_said(after, "link", "each") and is_said(
            phrase_at(phrases, at - 2), "container", "tray"
        ) and type(single(phrase_at(phrases, at - 3))) is CellTray:  # fmt: skip
            beside = {at, at - 1, at + 1}  # "72 cells of 40 ml each"
        else:
            continue
        if _small(one):
            continue
        draft.cell = Span(min(one.low, one.high), max(one.low, one.high), one.unit)
        used |= beside
    return [phrase for at, phrase in enumerate(phrases) if at not in used]


def _small(one: Measure) -> bool:
    """Kitchen measures are what goes in, not the size of the cell."""
    return one.unit in ("teaspoon", "tablespoon", "us_cup")
