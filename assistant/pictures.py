"""Two pictures in plain characters: a share on its scale, and a layer against a ruler.

No meaning hangs on colour: every part of a scale has a sign of its own and a key in words. Each picture
also has a sentence that says the same, for screen readers and windows too narrow for it. The limits are
facts of the trade and stand in `knowledge/`; here stand only the sizes of the drawing.
"""

from __future__ import annotations

import math
from typing import Literal, NamedTuple

from grammar.quantities import factor

from .knowledge import facts
from .lines import Look, columns, wrap
from .units import number, printed

#: The right-hand end of the scale of shares, in per cent.
SCALE_END = 30
_MARGIN = "  "
_FINEST = 3  # columns for one per cent at the most
_RULER_LEAST = 2  # inches that a ruler shows at the least
_RULER_MOST = 6  # a thicker layer is said, not drawn
_INCH_WIDEST = 24  # columns for one inch at the most
_SLACK = 1e-9


Ground = Literal["bed", "lawn", "houseplant"]
#: The figure of the usual layer, and where it is usual.
_LAYERS: dict[Ground, tuple[str, str]] = {
    "bed": ("top-dress.layer", ""), "lawn": ("lawn.layer", " for a lawn"), "houseplant": ("houseplant.layer", " for a pot indoors"),
}  # fmt: skip


class _Signs(NamedTuple):
    little: str
    usual: str
    diminishing: str
    harmful: str
    here: str
    line: str
    tick: str
    solid: str
    perhaps: str


_SIGNS = _Signs("·", "━", "╌", "×", "▲", "─", "·", "█", "░")
_ASCII_SIGNS = _Signs(".", "=", "-", "x", "^", "-", ".", "#", ":")


class _Zone(NamedTuple):
    name: str
    sign: str
    start: float
    end: float
    says: str


def _zones(signs: _Signs) -> list[_Zone]:
    little, diminishing, harm = (facts().rate(f"share.{name}").single for name in ("little", "diminishing", "harm"))
    return [
        _Zone("little", signs.little, 0, little, "little effect"),
        _Zone("usual", signs.usual, little, diminishing, "usual"),
        _Zone("diminishing", signs.diminishing, diminishing, harm, "diminishing: each further part brings less"),
        _Zone("harmful", signs.harmful, harm, math.inf, "harmful: may do harm"),
    ]


def _zone_of(percent: float, zones: list[_Zone]) -> _Zone:
    """The zone of a share; a limit itself still belongs to the better side, as it does in the judgements."""
    if percent < zones[0].end - _SLACK:
        return zones[0]
    return next(zone for zone in zones[1:] if percent <= zone.end + _SLACK)


def share_scale(share: tuple[float, float], look: Look) -> list[str]:
    """A share (low and high, as fractions of the finished mix) on the scale from 0 to 30 %; a sentence where there is no room."""
    room = look.measure - len(_MARGIN) - len(f"{SCALE_END} %")
    fine = min(_FINEST, room // SCALE_END)
    if fine < 1 or look.sentences:
        indent = "" if look.sentences else _MARGIN
        return wrap(share_sentence(share), look.measure, indent, indent)
    signs = _ASCII_SIGNS if look.ascii else _SIGNS
    zones = _zones(signs)
    bar = "".join(_zone_of((cell + 0.5) / fine, zones).sign for cell in range(SCALE_END * fine))
    return [
        _MARGIN + _ticks(fine),
        _MARGIN + bar,
        _MARGIN + _mark(share, fine, look.measure - len(_MARGIN), signs, bar),
        *wrap("; ".join(f"{zone.sign}\u00a0{zone.says}" for zone in zones), look.measure, _MARGIN, _MARGIN),
    ]


def _ticks(fine: int) -> str:
    line = ""
    for at in range(0, SCALE_END + 1, 10):
        line = line.ljust(at * fine) + f"{at} %"
    return line


def _cell(percent: float, fine: int, sign: str, bar: str) -> int:
    """The column below which a share is marked: the one that it falls in or, on a limit, the one next to it with its own sign."""
    cell = min(len(bar) - 1, max(0, math.ceil(percent * fine - _SLACK) - 1))
    return cell + 1 if bar[cell] != sign and bar[cell + 1 : cell + 2] == sign else cell


def _mark(share: tuple[float, float], fine: int, room: int, signs: _Signs, bar: str) -> str:
    zones = _zones(signs)
    low, high = (_cell(end * 100, fine, _zone_of(end * 100, zones).sign, bar) for end in share)
    drawn = " " * low + signs.here
    if high > low:
        drawn += signs.line * (high - low - 1) + signs.here
    label = printed(share[0] * 100, share[1] * 100, "percent")
    labels = [label]
    if share[1] * 100 > SCALE_END + _SLACK:
        labels = [f"{label}, past the end of the scale"] if share[0] * 100 > SCALE_END else []
        labels += [f"{label}, past the end", f"{label} >"]
    for label in labels:
        if columns(drawn) + 1 + len(label) <= room:
            return f"{drawn} {label}"
        if len(label) + 1 <= low:
            return label.rjust(low - 1) + " " + drawn[low:]
    return drawn


def share_sentence(share: tuple[float, float]) -> str:
    """The picture of a share in words."""
    zones = _zones(_SIGNS)
    low, high = _zone_of(share[0] * 100, zones), _zone_of(share[1] * 100, zones)
    shown = printed(share[0] * 100, share[1] * 100, "percent")
    if low != high:
        return f"The share, {shown}, runs from {_part(low)} to {_part(high)}."
    return f"The share, {shown}, lies in {_part(low)}."


def _part(zone: _Zone) -> str:
    if zone.start == 0:
        return f"the part with little effect, below {number(zone.end)} %"
    if math.isinf(zone.end):
        return f"the harmful part, above {number(zone.start)} %"
    return f"the {zone.name} part, {number(zone.start)} to {number(zone.end)} %"


def layer_ruler(layer_mm: tuple[float, float], look: Look, *, ground: Ground = "bed") -> list[str]:
    """A layer (low and high, in millimetres) against a ruler in inches and centimetres, with the usual one of its ground below it."""
    inch = factor("inch") * 1000
    low, high = layer_mm[0] / inch, layer_mm[1] / inch
    shown = max(_RULER_LEAST, math.ceil(high - _SLACK))
    labels = ("inch", "layer", "usual", "cm")
    margin = len(_MARGIN) + max(len(label) for label in labels) + 1
    each = min(_INCH_WIDEST, (look.measure - margin - 1) // shown)
    if look.sentences or shown > _RULER_MOST or each < 8:
        indent = "" if look.sentences else _MARGIN
        return wrap(layer_sentence(layer_mm, ground=ground), look.measure, indent, indent)
    signs = _ASCII_SIGNS if look.ascii else _SIGNS
    ends = max(1, round(low * each)), max(1, round(high * each))
    bar = signs.solid * ends[0] + signs.perhaps * (ends[1] - ends[0])
    usual = _usual(ground)
    start, stop = round(usual[0] / inch * each), max(round(usual[0] / inch * each) + 2, round(usual[1] / inch * each))
    rows = [_ruler(shown, each, signs), bar, " " * start + "[" + signs.usual * (stop - start - 2) + "]",
            _ruler_cm(shown, each, signs)]  # fmt: skip
    drawn = [_MARGIN + label.ljust(margin - len(_MARGIN)) + row for label, row in zip(labels, rows, strict=True)]
    if ends[1] > ends[0]:
        drawn += wrap(f"{signs.solid}\u00a0at the least, {signs.perhaps}\u00a0at the most", look.measure, _MARGIN, _MARGIN)
    return drawn


def _ruler(inches: int, each: int, signs: _Signs) -> str:
    line = [signs.line] * (inches * each + 1)
    for at in range(inches):
        line[at * each + each // 2] = signs.tick
    for at in range(inches + 1):
        line[at * each] = str(at)
    return "".join(line)


def _ruler_cm(inches: int, each: int, signs: _Signs) -> str:
    line = [signs.line] * (inches * each + 1)
    per = each / (factor("inch") / factor("centimetre"))
    at = 0
    while (place := round(at * per)) + len(str(at)) <= len(line):
        line[place : place + len(str(at))] = str(at)
        at += 1
    return "".join(line)


def _usual(ground: Ground) -> tuple[float, float]:
    fact = facts().rate(_LAYERS[ground][0])
    size = factor(fact.unit) * 1000
    return fact.low * size, fact.high * size


def layer_sentence(layer_mm: tuple[float, float], *, ground: Ground = "bed") -> str:
    """The picture of a layer in words."""
    inch = factor("inch") * 1000
    fact_id, there = _LAYERS[ground]
    low, high = layer_mm
    usual = _usual(ground)
    where = "within"
    if high < usual[0] - _SLACK:
        where = "thinner than"
    elif low > usual[1] + _SLACK:
        where = "thicker than"
    elif low < usual[0] - _SLACK or high > usual[1] + _SLACK:
        where = "partly within"
    return (f"The layer is {printed(low / inch, high / inch, 'inch')} ({printed(low, high, 'millimetre')}) thick, "
            f"{where} the usual {facts().rate(fact_id).said}{there}.")  # fmt: skip
