"""One amount taken off another: castings at hand off those needed, an empty vessel off a full one, soil off a wall's height."""

from __future__ import annotations

from .phrases import Measure
from .quantities import UnknownUnit, factor


def less(whole: Measure, part: Measure) -> Measure | None:
    """What is left of `whole` without `part`, in the unit of `whole` and at its place; nothing or below where it does not reach.

    Spans are taken off crosswise: the least that is left is the least there was without the most of the part. None where
    the two are in different units and one of these is not clear. Both must measure the same.
    """
    if whole.unit == part.unit:
        scale = 1.0
    elif "unclear-unit" in (whole.kind, part.kind):
        return None
    else:
        try:
            scale = factor(part.unit) / factor(whole.unit)
        except UnknownUnit:
            return None
    return whole._replace(low=whole.low - part.high * scale, high=whole.high - part.low * scale)
