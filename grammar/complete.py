"""What a query still lacks before it can be worked out."""

from __future__ import annotations

from .query import Place, Query
from .words import plural

Missing = tuple[str, str, str]  # code, question, what is needed

_BACKWARDS = frozenset({"area", "plants", "containers", "beds", "layer", "share", "mix", "soil", "length"})


def missing(query: Query) -> Missing | None:
    """The first thing that has to be asked for, or None."""
    if query.asked in ("explanation", "cheaper"):
        return None
    if query.asked == "batches":
        return _batches(query)
    if query.asked in _BACKWARDS:
        return _backwards(query)
    if query.asked == "water" or query.tea is not None:
        return _tea(query)
    if query.asked == "packs" and query.budget is not None and query.pack is not None and query.pack.price:
        return None
    if query.asked in ("castings", "weight", "cost", "packs", "density") and not query.places:
        if query.enough:
            return ("place", "enough for what: a bed, pots, plants, a lawn, or a mix? And how big is it?", "place")
        if query.asked == "cost" and query.pack is not None and query.pack.count and query.pack.price:
            return None
        if query.have or query.loads or query.weighed or (query.pack is not None and query.pack.count and query.pack.size):
            return None
        if query.budget is not None and (query.pack is None or (query.pack.size is None and query.pack.price is None)):
            return None  # the catalogue in force says what it buys
        if query.budget is not None:
            return ("price", "what does a bag cost, and how big is it?", "price")
        if query.pack is not None and query.pack.count and not query.pack.size:
            return ("pack", "how big is a bag, by weight or by volume?", "pack")
        return ("place", "what are the castings for: a bed, pots, plants, a lawn, or a mix? And how big is it?", "place")
    for place in query.places:
        found = _place(place, query)
        if found is not None:
            return found
    return None


def _has_castings(query: Query) -> bool:
    return bool(query.have) or bool(query.loads) or (query.pack is not None and (query.pack.size is not None)) or query.budget is not None


def _backwards(query: Query) -> Missing | None:
    place = query.places[0] if query.places else None
    if not _has_castings(query) and not (query.asked == "share" and place is not None and (place.recipe or place.layer)):
        if query.pack is not None and query.pack.count:
            if query.pack.price and query.pack.size is None:
                return ("pack", "how big is a bag, by weight or by volume?", "pack")  # a price of one's own is of no bag of the catalogue
            return None  # the catalogue in force says how big they are, or asks
        fills = place is not None and place.shape.form in ("volume", "pot", "class", "cells", "rectangle", "circle")
        if query.asked == "mix" and place is not None and fills and not (place.recipe or place.share):
            return _place(place, query)  # "how much mix for 12 pots of 3 gallons": what they hold
        if query.asked in ("mix", "soil") and place is not None and (place.recipe or place.share):
            if place.shape.form in ("volume", "rectangle", "area", "circle"):
                return None
            if place.shape.form in ("pot", "class", "cells", "named", "oval", "triangle"):
                return _place(place, query)
        return ("have", "how much castings is there to go by?", "have")
    if query.asked in ("plants",):
        return None
    if query.asked == "containers":
        if place is None or place.shape.form == "none":
            return ("size", "how big is one of them?", "volume")
        return None
    if query.asked == "beds":
        if place is None:
            return ("size", "how big is one bed?", "size")
        return _place(place, query)
    if query.asked == "layer":
        if place is None or place.shape.form in ("none", "volume"):
            return ("size", "over what area?", "area")
        return None
    if query.asked == "share":
        if place is not None and place.layer and place.depth is not None:
            return None  # an inch into six inches is a seventh of any area
        if place is None or (place.shape.form == "none" and place.soil is None and not place.recipe):
            return ("mix", "in how much soil or mix?", "mix")
        if place.shape.form in ("rectangle", "circle", "oval", "triangle", "hexagon", "octagon", "area") and place.depth is None and place.soil is None:
            return ("depth", "how deep is the soil?", "depth")
        return None
    if query.asked == "length":
        if place is not None and (_by_the_length(place) or (place.noun in ("row", "trench") and place.way == "side-dress")):
            return None  # so much for a foot of a row: the length is known without its width
        if place is None or "width" not in place.shape.dims:
            return ("width", "how wide is it?", "width")
        return None
    return None


def _by_the_length(place: Place) -> bool:
    return place.rate_per is not None and place.rate_per.dimension == "length"


def _batches(query: Query) -> Missing | None:
    """How many brews: what is brewed in, and what it is for."""
    if query.tea is None or query.tea.water is None:
        return ("water", "how much does one batch make: how big is the brewer or the sprayer?", "water")
    if not any(place.shape.form != "none" or place.count or "article" in place.hints for place in query.places):
        return ("place", "what is the tea for: how many plants, or how big an area?", "place")
    return None


def _treated(query: Query) -> bool:
    """Whether a tea has plants or an area to go on."""
    return any(
        place.shape.form in _AREAS or (place.kind in ("plant", "") and place.count) or (place.rate is not None and place.rate_per is None and place.count)
        for place in query.places
    )  # fmt: skip


_AREAS = frozenset({"rectangle", "circle", "oval", "triangle", "hexagon", "octagon", "ring", "area"})


def _tea(query: Query) -> Missing | None:
    tea = query.tea
    if tea is None:
        return ("water", "how much water, and at what strength?", "water")
    if query.asked == "water":
        if _treated(query):
            return None
        if not query.have:
            return ("have", "how much castings is there to brew with?", "have")
        return None
    if tea.water is None and not query.have:
        if any(place.shape.form != "none" or place.rate for place in query.places) or _treated(query):
            return None
        return ("water", "how much water or how big a sprayer?", "water")
    return None


def _name(place: Place) -> str:
    return place.printed or place.noun.replace("-", " ") or "place"


def _be(name: str) -> str:
    """The verb that goes with a name: "how big are the beds", "how big is the grass"."""
    return "are" if name.endswith("s") and not name.endswith("ss") else "is"


def _place(place: Place, query: Query) -> Missing | None:
    form = place.shape.form
    sized = form != "none"
    name = _name(place)
    if place.way is None:
        if not sized and place.kind not in ("plant", "hole"):
            if place.kind == "container":
                return ("size", f"how big is {_one_of(place, name)}, {_by(place)}?", "volume")
            if "length" in place.shape.dims:
                beside = " Or say “side-dress”, if the castings go beside its plants" if place.noun in ("row", "trench") else ""
                return ("size", f"how wide {_be(name)} the {name}?{beside}", "width")
            return ("size", f"how big {_be(name)} the {name}?", "size")
        if place.noun == "houseplant":
            many = "how many houseplants are there, and how wide are their pots" if place.count is None else "how wide are the pots"
            return ("way", f"{many}? Say it as “8 houseplants in 6 inch pots”", "way")
        if place.kind in ("plant", "hole"):
            return ("way", f"what is to be done for the {name}: castings beside each plant, or in the planting hole?", "way")
        if "mixed-in" in place.hints and place.depth is None:
            return ("depth", f"how deep {_be(name)} the {name}?", "depth")
        return ("way", "what is to be done with the castings: mixed in, or spread on top?", "way")
    if place.rate is not None and place.rate_per is None:
        if place.count is None and place.kind in ("plant", "hole", "") and "article" not in place.hints:
            return ("count", f"how many {_many(place)} are there?", "count")
        return None
    if place.rate is not None and place.rate_per is not None:
        if place.rate_per.dimension == "length":
            if "length" in place.shape.dims or form == "rectangle":
                return None
            return ("length", "how long is the row?", "length")
        return None if sized else ("size", f"how big {_be(name)} the {name}?", "size")
    if place.way == "side-dress" and place.kind in ("ground", "") and ("length" in place.shape.dims or form == "rectangle"):
        if place.noun in ("row", "trench", "") or place.strip:
            return None
    if place.way in ("side-dress", "planting-hole"):
        if place.count is None and place.kind in ("plant", "hole", ""):
            return ("count", f"how many {_many(place)} are there?", "count")
        if place.kind not in ("plant", "hole", "") and place.count is None:
            return ("count", "how many plants are there?", "count")
        return None
    if not sized and place.soil is None:
        if "length" in place.shape.dims:
            return ("width", f"how wide {_be(name)} the {name}?", "width")
        if place.kind == "container":
            return ("size", f"how big is {_one_of(place, name)}, {_by(place)}?", "volume")
        if not place.kind and place.way == "top-dress":
            return ("size", "how big is the place that they are spread on?", "size")
        if place.kind in ("mix", "seed-mix", ""):
            return ("volume", "how much mix is to be made?", "volume")
        if place.kind in ("plant", "hole"):
            return ("count", f"how many {_many(place)} are there?", "count")
        return ("size", f"how big {_be(name)} the {name}?", "size")
    if form == "named":
        return None
    if _how_many_unsaid(place, query):
        return ("count-unsaid", f"how many {place.printed} are there?", "count")
    if place.way in ("blend", "incorporate", "seed-mix"):
        if place.kind == "container" and form in ("rectangle", "oval", "hexagon", "octagon") and place.depth is None and place.soil is None:
            return ("height", f"how deep is one of the {name}, and are they square or round?" if form == "rectangle" and place.noun == "pot" else
                    f"how deep is one of the {name}?", "depth")  # fmt: skip
        if form in ("rectangle", "circle", "oval", "triangle", "hexagon", "octagon", "area", "ring") and place.depth is None and place.soil is None and not (
            place.way == "incorporate" and place.layer and place.share is None
        ):  # fmt: skip
            return ("depth", f"how deep {_be(name)} the {name}?", "depth")
        if form == "pot" and "height" not in place.shape.dims and place.noun not in ("pot", "pot-azalea", "pot-pan", "hanging-basket"):
            return ("height", f"how tall is one of the {name}?", "height")
    if place.way == "top-dress" and form in ("volume",) and not place.layer:
        return ("size", f"how wide {_be(name)} the {name} across the top?", "diameter")
    return None


def _one_of(place: Place, name: str) -> str:
    """Of a container that is there once, or of one of several: "the tub", "one of the pots"."""
    return f"one of the {name}" if (place.count_high or place.count or 1) > 1 or name.endswith("s") else f"the {name}"


def _by(place: Place) -> str:
    """By what the size of a container can be said."""
    return "by its cells, by volume, or by width and height" if place.noun == "tray" else "by volume or by width and height"


def _how_many_unsaid(place: Place, query: Query) -> bool:
    """Whether several things of one size are spoken of, and their number is not: "my beds are 4 by 8 ft"."""
    return (
        len(query.places) == 1 and query.asked in ("", "castings", "weight", "packs", "cost") and not query.have and place.count is None and place.kind in ("ground", "container")
        and place.printed in ("beds", "raised beds", "pots", "tubs", "planters", "boxes", "rows", "trays", "containers", "buckets")
        and place.shape.form not in ("none", "area", "named")
    )  # fmt: skip


def _many(place: Place) -> str:
    if place.noun in ("", "plant"):
        return "plants"
    if place.kind == "hole":
        return "holes"
    if place.printed.endswith("s"):
        return place.printed
    return plural(place.printed or place.noun.replace("-", " "))
