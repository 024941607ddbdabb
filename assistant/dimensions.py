"""The dimensions of a place put on its sheet: as they were said, or from the facts of a container."""

from __future__ import annotations

from typing import TYPE_CHECKING

from grammar.quantities import Span, factor
from grammar.query import Place

from .knowledge import facts
from .relations import FORMS, STRAIGHT, TAPERED
from .scale import check_dims
from .sheet import Sheet
from .worked import Unworkable, Worked, as_aside, base, said

if TYPE_CHECKING:
    from .knowledge.containers import Container

#: How the dimensions of a shape are called on the sheet.
_DIM_NAMES = {"rise": "height of triangle", "inner": "inner radius", "outer": "outer radius", "bottom": "bottom diameter", "height": "depth",
              "flats": "across the flats", "corners": "across the corners"}


def put_shape(worked: Worked, place: Place) -> None:
    """Puts the dimensions of a place on its sheet. Raises Unworkable for sizes that contradict or are out of scale."""
    sheet = worked.sheet
    shape = place.shape
    check_dims(place, sheet.get("density"))
    for name, span in shape.dims.items():
        sheet.give(_DIM_NAMES.get(name, name), *base(span))
    if shape.form == "ring":
        if "inner" not in shape.dims:
            clear = facts().rate("tree.trunk-clear")
            sheet.give("inner radius", *base(Span(clear.low, clear.low, clear.unit)))
            worked.assumed.append(("trunk-clear", f"{said('tree.trunk-clear')} kept clear around the trunk"))
        if "outer" in shape.dims and "inner" in shape.dims and base(shape.dims["outer"])[0] <= base(shape.dims["inner"])[1]:
            raise Unworkable("contradiction", "the outer edge lies inside the part kept clear; which of the two is right?", "size")
        if "across" in shape.dims and "inner" in shape.dims and base(shape.dims["across"])[0] <= 2 * base(shape.dims["inner"])[1]:
            raise Unworkable("contradiction", "the outer edge lies inside the part kept clear; which of the two is right?", "size")
        if "outer" not in shape.dims and "across" not in shape.dims:
            raise Unworkable("size", "how far out does it go from the trunk?", "outer")
    if shape.form == "class":
        _nursery(worked, place)
    elif shape.form == "cells":
        _cells(worked, place)
    elif shape.form == "named":
        _named(worked, place)
    elif shape.form == "pot":
        _pot(worked, place)
    if place.depth is not None and "depth" not in sheet.values:
        sheet.give("depth", *base(place.depth))
    count = 1.0 if place.altogether or place.count is None else place.count
    high = 1.0 if place.altogether else (place.count_high or count)
    sheet.give("count", count, high)
    sheet.give("portion", place.portion if place.portion is not None else 1.0)
    left = 0.0
    for corner in place.minus:
        part = Sheet()
        for name, span in corner.dims.items():
            part.give(_DIM_NAMES.get(name, name), *base(span))
        area = part.reach("area", FORMS[corner.form])
        if area is None:
            raise Unworkable("size", "how big is the part that is left out?", "size")
        left += area[1]
    sheet.give("left out", left)


def check_left(worked: Worked) -> None:
    """Raises Unworkable where as much is taken off an area as there is of it."""
    whole, left = worked.sheet.reach("whole area", worked.relations), worked.sheet.get("left out")
    if whole is not None and left is not None and left[1] >= whole[0] * (1 - 1e-9):
        raise Unworkable("contradiction", "what is left out is as big as the whole or bigger; which of the two sizes is right?", "size")


def _nursery(worked: Worked, place: Place) -> None:
    """A nursery class: what a pot of it holds is a fact of the trade, and no size in gallons."""
    number = place.shape.number
    container = facts().container(f"nursery-{number}")
    if container is None or container.volume is None:
        raise Unworkable("class", f"#{number} is no nursery class that is known here; how much does the pot hold?", "volume")
    volume = container.volume
    worked.sheet.give("volume", *base(Span(volume.low, volume.high, volume.unit)))
    litres = base(Span(volume.low, volume.high, volume.unit))
    worked.assumed.append(("nursery-class", f"a #{number} nursery pot holds {litres[0] * 1000:.1f} to {litres[1] * 1000:.1f} L "
                           f"({facts().cite(container)}{'; sources differ' if volume.disputed else ''}); the class is not a size in gallons"))  # fmt: skip


def _named(worked: Worked, place: Place) -> None:
    """A size that is known by its name: its volume is a fact of the trade."""
    container = facts().container(place.shape.name)
    if container is None or container.volume is None:
        raise Unworkable("size", f"how much does one {place.shape.name.replace('-', ' ')} hold?", "volume")
    worked.sheet.give("volume", *container.volume.span.base)
    worked.assumed.append(("known-size", f"a {container.name} holds {container.volume.said} ({facts().cite(container)})"))


def _cells(worked: Worked, place: Place) -> None:
    """A tray of so many cells, each as big as was said or as the facts say; for so much each their size does not matter."""
    number = place.shape.number
    worked.sheet.give("cells", float(number or 0))
    if place.cell is not None:
        worked.sheet.give("one cell", *base(place.cell))
        return
    if place.rate is not None:
        return  # so much for each: the size of a cell does not matter
    container = facts().container(f"tray-{number}")
    if container is None or container.volume is None:
        raise Unworkable("cells", f"how much does one cell of a {number}-cell tray hold?", "volume")
    volume = container.volume
    worked.sheet.give("one cell", *base(Span(volume.low, volume.high, volume.unit)))
    worked.assumed.append(("cells", f"one cell of a {number}-cell tray holds {volume.said} ({facts().cite(container)})"))


def _pot(worked: Worked, place: Place) -> None:
    """A round container: as high as was said, or in the usual proportions of its kind."""
    dims = place.shape.dims
    if place.way == "top-dress":
        return
    if "height" in dims:
        if place.depth is not None and place.depth.base[1] + 1e-9 < dims["height"].base[0]:
            if "bottom" in dims:
                raise Unworkable("size", "it widens towards the rim: how wide is it at the height that it is filled to?", "size")
            worked.sheet.give("depth", *base(place.depth))
            worked.assumed.append(("straight-sides", "straight sides; a tapered pot holds less"))
        elif "bottom" not in dims:
            worked.assumed.append(("straight-sides", "straight sides, filled to the rim; a tapered pot holds less"))
        return
    if "diameter" in dims and place.depth is None:
        basket = _basket(place)
        if basket is not None:
            assert basket.volume is not None
            worked.sheet.give("volume", *basket.volume.span.base)
            worked.assumed.append(("known-size", f"a {basket.name} holds {basket.volume.said} ({facts().cite(basket)}); {as_aside(basket.note)}"))
            return
        standard = facts().container(place.noun)
        if standard is None or standard.height is None:
            standard = facts().container("pot-standard")
        assert standard is not None and standard.height is not None
        low, high = base(dims["diameter"])
        fill = facts().rate("container.fill")
        filled = fill.single * factor(fill.unit)
        worked.sheet.give("depth", low * standard.height * filled, high * standard.height * filled)
        taper = facts().rate("container.taper").single
        worked.sheet.give("bottom diameter", low * taper, high * taper)
        worked.relations = tuple(TAPERED if r is STRAIGHT else r for r in worked.relations)
        tall = "as tall as it is wide" if standard.height == 1 else f"{standard.height:g} times as tall as it is wide"
        article = "an" if standard.name[0] in "aeiou" else "a"
        worked.assumed.append(("pot-proportions", f"{article} {standard.name}, {tall} and tapering to "
                               f"{taper:g} of that at the bottom, filled to {filled * 100:g} % ({facts().cite(standard)})"))  # fmt: skip


def _basket(place: Place) -> Container | None:
    """The facts of a hanging basket of this width, or None."""
    if place.noun != "hanging-basket":
        return None
    inches = place.shape.dims["diameter"].to("inch")
    return facts().container(f"basket-{inches.low:g}") if inches.is_point else None
