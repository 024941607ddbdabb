"""How a query was read, said again as a request: fed back, it is read as the same query.

Only what was said stands here; what was assumed is listed apart, and the same reading assumes it again.
"""

from __future__ import annotations

from functools import lru_cache

from .quantities import Span
from .query import Pack, Place, Query, Shape
from .readers.other_bags import BOUGHT_MIX, BY_THE_PACK
from .words import is_spelling, plural, spoken

#: What a hint is said as, where the reading depends on it.
_HINTS = (
    ("established", "established"), ("no-dig", "no-dig"), ("new-fill", "new"), ("existing-soil", "existing soil"),
    ("seedlings", "for seedlings"), ("spray", "sprayer"), ("balcony", "on my balcony"), ("roof", "on my roof"), ("hole", ""),
    ("houseplant", "as a houseplant"),
)  # fmt: skip

_ASKED = {
    "area": "how far", "share": "what share", "layer": "how thick a layer", "mix": "how much mix", "water": "how much water",
    "weight": "how heavy", "cost": "what cost", "length": "how long a row", "left-over": "left over",
}  # fmt: skip


@lru_cache(maxsize=512)
def _unit(name: str) -> str:
    """A unit in a spelling that the vocabulary reads as just that unit."""
    return " per ".join(_one_unit(part) for part in name.split(" / "))


@lru_cache(maxsize=512)
def _units(name: str) -> str:
    """A unit as it stands after more than one: "inches", "cubic feet"; a short form stays as it is."""
    one, _, per = _unit(name).partition(" per ")
    last = one.rsplit(" ", 1)[-1]
    if last == "foot":
        one = one[:-4] + "feet"
    elif len(last) > 3 and last.isalpha():
        one = plural(one)
    elif last == "cup":
        one += "s"
    return f"{one} per {per}" if per else one


def many_of(name: str) -> str:
    """A unit in the plural: "litres", "US gallons"."""
    return _units(name)


def _one_unit(name: str) -> str:
    try:
        said = spoken("unit", name)
    except KeyError:
        said = name.replace("_", " ")  # a yard has no spelling that means a length alone
    return f"US {said[3:]}" if said.startswith("us ") else said


def figure(value: float) -> str:
    """A number with all its figures, read back as the same number."""
    if value == int(value) and abs(value) < 1e15:
        return str(int(value))
    text = f"{value:.12g}"
    if "e" in text:
        return f"{value:.15f}".rstrip("0")
    if len(text.partition(".")[2]) > _MOST_PLACES:
        for parts in _PARTS:
            many = value * parts
            if abs(many - round(many)) < 1e-9 * many:
                whole, rest = divmod(round(many), parts)
                return f"{whole} {rest}/{parts}" if whole else f"{rest}/{parts}"
    return text


#: More places than this after the point nobody says: a third is "1/3".
_MOST_PLACES = 4
_PARTS = (3, 6, 7, 9, 11, 12, 13, 15, 32, 64)


def _feet_and_inches(value: float) -> str:
    """A foot or more that comes out in whole inches, as people say it; empty for others."""
    inches = value * 12
    if len(f"{value:.12g}".partition(".")[2]) <= _MOST_PLACES or abs(inches - round(inches)) > 1e-9 * inches:
        return ""
    feet, rest = divmod(round(inches), 12)
    return f"{feet}'{rest}\"" if feet else ""


@lru_cache(maxsize=2048)
def span(one: Span) -> str:
    """A span in words: "10 inches", "1 to 2 cups"."""
    return _spanned(one, _units(one.unit) if one.high > 1 else _unit(one.unit))


def _spanned(one: Span, unit: str) -> str:
    if one.unit == "foot" and one.low == one.high and (said := _feet_and_inches(one.low)):
        return said
    number = figure(one.low) if one.low == one.high else f"{figure(one.low)} to {figure(one.high)}"
    return f"{number} {'%' if one.unit == 'percent' else unit}"


def _before_a_noun(one: Span) -> str:
    """A span as it stands before what it is the size of: "20 litre" of a bag, "1 to 2 gallon" of a pot."""
    return _spanned(one, _unit(one.unit))


def _shape(place: Place) -> str:
    return shape_text(place.shape, place.kind == "container")


def shape_text(shape: Shape, container: bool = False) -> str:
    """A form and its sizes in words."""
    dims = shape.dims
    form = shape.form
    if form == "rectangle":
        return f"{span(dims['length'])} by {span(dims['width'])}"
    if form == "oval":
        return f"oval {span(dims['length'])} by {span(dims['width'])}"
    if form in ("circle", "pot"):
        text = "" if container else "round "
        if "diameter" in dims:
            text += f"{span(dims['diameter'])} diameter"
        elif "radius" in dims:
            text += f"{span(dims['radius'])} radius"
        else:
            text += f"{span(dims['around'])} circumference"
        if "bottom" in dims:
            text += f", {span(dims['bottom'])} at the bottom"
        if "height" in dims:
            text += f", {span(dims['height'])} tall"
        return text
    if form == "triangle":
        return f"triangle base {span(dims['base'])} height {span(dims['rise'])}"
    if form in ("hexagon", "octagon"):
        if "side" in dims:
            return f"{form} {span(dims['side'])} a side"
        return f"{form} {span(dims['flats'])} across the flats" if "flats" in dims else f"{form} {span(dims['corners'])} across the corners"
    if form == "ring":
        if "outer" in dims and "inner" in dims:
            return f"ring from {span(dims['inner'])} from the trunk to {span(dims['outer'])} from the trunk"
        text = "ring"
        if "across" in dims:
            text += f" {span(dims['across'])} across"
        if "outer" in dims:
            text += f" {span(dims['outer'])} radius"
        if "inner" in dims:
            text += f", {span(dims['inner'])} from the trunk"
        return text
    if form == "area":
        return span(dims["area"])
    if form == "volume":
        return span(dims["volume"])
    if form == "class":
        return f"#{shape.number}"
    if form == "cells":
        return f"{shape.number} cell"
    if form == "named":
        number = shape.name.rpartition("-")[2]
        return number if number.isdecimal() else ""  # "1020" of a tray; a half barrel is named by its noun
    parts = []
    if "length" in dims:
        parts.append(f"{span(dims['length'])} long")
    if "width" in dims:
        parts.append(f"{span(dims['width'])} wide")
    return " ".join(parts)


def _as_said(place: Place) -> bool:
    """Whether a plant goes by the name it was given: "peonies", which share their entry with other flowers."""
    return place.kind == "plant" and bool(place.printed) and place.crop in ("", place.noun) and is_spelling("plant", place.noun, place.printed)


def way_text(way: str) -> str:
    """A way in words: "dig in", "in the planting hole"; the trade's own word where it is one."""
    return {"incorporate": "dig in", "planting-hole": "in the planting hole", "seed-mix": "seed mix"}.get(way, way)


def _noun(place: Place) -> str:
    if not place.noun:
        return ""
    if _as_said(place):
        several = (place.count_high or place.count or 1) != 1 and not place.printed.endswith("s")
        if place.count == 1 and place.count_high is None and place.printed == plural(spoken("plant", place.noun)):
            return spoken("plant", place.noun)  # one of several that were spoken of
        return plural(place.printed) if several else place.printed
    try:
        word = spoken(place.kind or "ground", place.noun)
    except KeyError:
        word = place.printed
    if place.crop and place.crop != place.noun and (
        place.kind == "container" or (place.kind in ("ground", "hole") and place.crop != "plant")
    ):  # fmt: skip
        crop = place.crop_said or spoken("plant", place.crop)
        # pots of azaleas are no "azalea pots", which are pots of a shape of their own
        of_its_own = is_spelling("container", f"pot-{place.crop}", f"{crop} {word}")
        if word.split()[0] == crop:
            return word  # a tree ring is a tree's
        word = f"{crop} plant {word}" if of_its_own else f"{crop} {word}"
    return word


def place_text(place: Place, *, tea: bool = False) -> str:
    """One place in words, as a request would say it; `tea` where what each gets is of a tea."""
    parts: list[str] = []
    kind, form = place.kind, place.shape.form
    if place.portion is not None and form != "none":
        parts.append(f"{figure(place.portion)} of")
    count = place.count
    if count is not None:
        parts.append(figure(count) if place.count_high is None else f"{figure(count)} to {figure(place.count_high)}")
    noun, shape = _noun(place), _shape(place)
    if noun.endswith(" ring"):
        shape = shape.removeprefix("ring ")
    if noun and (place.count_high or place.count or 1) != 1 and not _as_said(place):
        noun = plural(noun)
    if noun and place.called:
        noun = f"{place.called} {noun}" if place.called.islower() else f"{noun} {place.called}"
    if kind in ("mix", "seed-mix") and shape:
        crop = place.crop_said or (plural(spoken("plant", place.crop)) if place.crop and place.crop not in ("plant", "seed", place.noun) else "")
        parts.append(f"{shape} of {noun}{' for ' + crop if crop else ''}")
    elif form in ("volume",) and noun and kind in ("ground", "hole"):
        parts.append(f"{noun} of {shape}")
    elif noun and kind == "container" and form in ("volume", "cells") and (place.count_high or place.count or 1) != 1:
        parts.append(f"{noun} of {shape}" if form == "volume" else f"{noun} of {shape}s")
    elif noun and kind == "container" and form == "volume":
        parts.append(f"{_before_a_noun(place.shape.dims['volume'])} {noun}")
    elif shape and noun and kind == "container" and form in ("class", "cells", "named"):
        parts.append(f"{shape} {noun}")
    else:
        parts.append(", ".join(filter(None, (noun, shape))) if form == "none" or kind == "plant" else
                     " ".join(filter(None, (noun, shape))))  # fmt: skip
    text = " ".join(filter(None, parts))
    if place.altogether and shape:
        text = _altogether(place, noun)
    elif count not in (None, 1) and shape and form not in ("class", "cells") and kind == "ground":
        text += " each"
    details = [f"except {shape_text(corner)}" for corner in place.minus]
    if place.depth is not None and not (form == "pot" and place.shape.dims.get("height") == place.depth):
        top = place.way == "incorporate" and "top-of" in place.hints
        details.append(f"the top {span(place.depth)}" if top else f"{span(place.depth)} deep")
    if place.layer:
        details.append(f"{span(place.layer[0])} of castings" if len(place.layer) == 1 else
                       " now and another ".join(f"{span(layer)} layer" for layer in place.layer))  # fmt: skip
    if place.share is not None and not place.recipe:
        details.append(f"{span(place.share)} castings")
    if place.rate is not None:
        if place.rate_per is not None:
            details.append(f"{span(place.rate)} per {span(place.rate_per)}")
        else:
            of = " of castings" if kind == "container" and not tea else ""
            details.append(f"{span(place.rate)}{of} {'altogether' if place.rate_altogether else 'per cell' if 'per-cell' in place.hints else 'each'}")
    if place.cell is not None:
        details.append(f"{span(place.cell)} per cell")
    if place.strip:
        details.append(_strip(place))
    if place.strip_clear is not None:
        details.append(f"{span(place.strip_clear)} from the stem")
    if place.per_volume is not None:
        details.append(f"{span(place.per_volume[0])} per {span(place.per_volume[1])}")
    if place.standing:
        details.append(_standing(place))
    return ", ".join([text, *details]) if text else ", ".join(details)


def _standing(place: Place) -> str:
    """The plants that stand in a place: "with 6 tomatoes and 4 peppers in it"."""
    plants = [f"{figure(count)} {_plant(noun) if count == 1 else plural(_plant(noun))}" for count, noun, _ in place.standing]
    where = "each" if any(each for _, _, each in place.standing) else "it" if (place.count or 1) == 1 else "them"
    return f"with {' and '.join(plants)} in {where}"


def _plant(noun: str) -> str:
    return spoken("plant", noun)


def _strip(place: Place) -> str:
    """A ring or a band and its measures: "ring 4 inch wide, 0.5 inch thick"."""
    parts = [f"{span(place.strip_width)} wide"] if place.strip_width is not None else []
    parts += [f"{span(place.strip_layer)} thick"] if place.strip_layer is not None else []
    sides = ", on both sides of the row" if "both-sides" in place.hints else ""
    return f"{place.strip} {', '.join(parts)}".strip() + sides


def _altogether(place: Place, noun: str) -> str:
    """Several places whose size is of all together."""
    count = figure(place.count) if place.count is not None else ""
    dims = place.shape.dims
    if place.shape.form == "rectangle":
        return f"{count} {noun}, {span(dims['length'])} long altogether, {span(dims['width'])} wide".strip()
    return f"{count} {noun}, {_shape(place)} altogether".strip()


def _pack(pack: Pack) -> str:
    """A pack, how many of it and its size: "20 litre bag", "3 bags of 20 lb"."""
    noun = spoken("pack", pack.noun) if pack.noun else "bag"
    if pack.count is None or pack.count == 1:
        parts = ["1"] if pack.count is not None else []
        return " ".join([*parts, *([_before_a_noun(pack.size)] if pack.size is not None else []), noun])
    of = f" of {span(pack.size)}" if pack.size is not None else ""
    return f"{figure(pack.count)} {plural(noun)}{of}"


def _hints(query: Query) -> list[str]:
    hints = frozenset().union(*[place.hints for place in query.places])
    if not hints:
        return []
    named = any(place.kind == "container" and place.crop == "houseplant" and not place.crop_said for place in query.places)
    return [said for hint, said in _HINTS if said and hint in hints and not (named and hint == "houseplant")]


def reads(query: Query) -> str:
    """The whole query in words."""
    if query.asked == "explanation":
        topic = query.topic or query.asked_noun
        try:
            about = f"a question about {spoken('topic', topic)}"
        except KeyError:
            about = f"a question about {topic.replace('-', ' ')}"
        told = ["for seedlings"] if query.analysis and "seedlings" in query.told else []
        return ", ".join([about, *_analysis(query), *told])
    parts: list[str] = []
    asked = _ASKED.get(query.asked, "")
    if query.asked in ("plants", "containers", "beds"):
        kind = {"plants": "plant", "containers": "container", "beds": "ground"}[query.asked]
        try:
            asked = f"how many {plural(spoken(kind, query.asked_noun))}"
        except KeyError:
            asked = f"how many {query.asked_noun or query.asked}"
    elif query.asked == "packs":
        asked = f"how many {plural(spoken('pack', query.asked_noun)) if query.asked_noun else 'bags'}"
    elif query.asked in ("soil", "mix") and BY_THE_PACK in query.told:
        bags = plural(spoken("pack", query.pack.noun)) if query.pack is not None and query.pack.noun else "bags"
        asked = f"how many {bags} of {spoken('component', query.asked_noun or 'soil') if query.asked == 'soil' else 'potting mix' if BOUGHT_MIX in query.told else 'the whole mix'}"
    elif query.asked == "soil":
        asked = f"how much {spoken('component', query.asked_noun or 'soil')}"
    elif query.asked == "castings" and query.have and any("more-needed" in place.hints for place in query.places):
        asked = "how much more"
    elif query.asked == "area" and query.asked_unit:
        asked = f"how many {_units(query.asked_unit)}"
    if asked:
        parts.append(asked)
    if query.asked_unit and query.asked not in ("area", "share", "soil", "mix", "cheaper"):
        parts.append(f"in {_units(query.asked_unit)}")
    for have in query.have:
        needed = "needed" in query.told and len(query.have) == 1
        priced = query.asked in ("cost", "packs") and query.pack is None and not query.places and not query.have_is_tea
        parts.append(f"{span(have)} of castings" if priced else f"{span(have)} of castings needed" if needed else f"I have {span(have)} of {'tea' if query.have_is_tea else 'castings'}")
    ways = [way for way in dict.fromkeys([place.way for place in query.places]) if way]
    said_way = "way" not in [note.code for note in query.assumed]
    if query.tea is not None:
        parts.append("tea")
    elif ways and said_way and len(ways) == 1:
        parts.append(way_text(ways[0]))
    places: list[str] = []
    for at, place in enumerate(query.places):
        # "and" keeps two places apart: "2 square metres, and 8 pots of 12 litres", "6 tubs of 20 litres, and 40 litres of mix"
        before = query.places[at - 1] if at else None
        bare = before is not None and place.kind == "container" and not before.noun
        filled = before is not None and place.kind in ("mix", "seed-mix") and before.kind == "container"
        apart = "and " if bare or filled else ""
        places += [apart + text] if (text := place_text(place, tea=query.tea is not None)) else []
    if places and not said_way and any(
        place.kind == "plant" and place.rate is None and place.shape.form == "none" for place in query.places
    ):  # fmt: skip
        places[0] = f"castings for {places[0]}"
    parts += places
    parts += [_recipe(recipe) for recipe in dict.fromkeys([place.recipe for place in query.places]) if recipe]
    parts += [f"{span(soil)} of soil" for soil in dict.fromkeys([place.soil for place in query.places]) if soil is not None]
    parts += _hints(query)
    if query.tea is not None:
        if query.tea.water is not None:
            parts.append(f"{span(query.tea.water)} of water")
        if query.tea.ratio is not None:
            parts.append(f"{figure(query.tea.ratio[0])}:{figure(query.tea.ratio[1])} castings to water")
        if query.tea.strength is not None:
            parts.append(f"{span(query.tea.strength[0])} per {span(query.tea.strength[1])} of water")
    if any(place.way == "top-dress" and place.layer and place.depth is not None and "mixed-in" in place.hints for place in query.places):
        parts.append("then mixed in")
    if query.asked == "share" and not said_way and "incorporate" in ways:
        if any(place.kind == "mix" for place in query.places):
            parts.append("added to it")
        elif any("mixed-in" in place.hints for place in query.places):
            parts.append("mixed in")
    if query.compare:
        parts.append("show me " + ", ".join(figure(value) for value in query.compare) + " %")
    if query.density is not None:
        parts.append(f"castings weigh {span(query.density)}")
    if query.weighed is not None:
        parts.append(f"{span(query.weighed[1])} of castings weighs {span(query.weighed[0])}")
    if query.moisture is not None:
        parts.append(f"{span(query.moisture)} moisture")
    if query.pack is not None:
        pack = query.pack
        one_priced = pack.count == 1 and query.asked == "cost" and pack.size is not None and pack.price is None
        text = _pack(pack.model_copy(update={"count": None}) if one_priced else pack)
        if pack.price is not None:
            if pack.size is None and pack.count is None and pack.price_per is not None and pack.noun == "bag":
                text = "castings"  # no bag was spoken of: they are sold by the kilogram
            text += f" at {pack.price} {pack.currency}"
            if pack.price_per is not None:
                text += f" per {span(pack.price_per)}"
        parts.append(text)
    if query.budget is not None:
        parts.append(f"budget {query.budget[0]} {query.budget[1]}")
    if query.limit is not None:
        parts.append(f"{'no more than' if query.limit[0] == 'at-most' else 'at least'} {span(query.limit[1])}")
    if query.tax is not None:
        parts.append(f"plus {span(query.tax)} tax")
    parts += [f"delivery {amount} {currency}" for amount, currency in query.charges]
    parts += _trade(query)
    if query.end:
        parts.append(_ENDS[query.end])
    if query.enough:
        parts.append("how much is left" if "left-over" in query.told else "is that enough")
    return ", ".join(parts)


#: The end of a span that is bought for.
_ENDS = {"low": "for the low end", "typical": "for the middle of the span", "high": "for the high end"}
#: What the trade's short names are said as, so that they are read again.
_LOADS = {"wheelbarrow": "wheelbarrow", "pickup-bed": "pickup load", "bucket-5-gallon": "bucket"}
_NUTRIENTS = {"salt": "EC"}
_TOLD = {"each-asked": "how much each", "batches": "", "foliar": "foliar", "in-all": "how much a year", "each-time": "each time", "dry-weight": "dry weight",
         "brewer": "", "tea-fed": "with molasses", "of-soil": "weight of soil", "received-asked": "how much as received", "manure-based": "made from manure", "dusty": "dusty", "extract": "as an extract", BY_THE_PACK: "", BOUGHT_MIX: "", "too-much-asked": "is that too much", "vehicle": "will a pickup carry it"}  # fmt: skip


def _analysis(query: Query) -> list[str]:
    return [f"{_NUTRIENTS[name]} {span(one)}" if name in _NUTRIENTS else f"{span(one)} {name}" for name, one in query.analysis]


def _trade(query: Query) -> list[str]:
    """What the trade's own readers found, in words that they read again."""
    parts = []
    asked = query.asked
    per = f" per {_unit(query.asked_unit)}" if asked == "cheaper" and query.asked_unit else ""
    if asked == "batches":
        parts.append("how many batches")
    if asked == "cheaper" and not query.offers:
        sizes = " or ".join(f"{span(size)} bag" for size in query.compare_packs)
        parts.append(f"which is cheaper{per}, {sizes}" if sizes else f"is it cheaper by the yard{per}" if query.asked_noun == "yard" else f"compare the bags{per}")
    elif asked == "cheaper":
        offers = " or ".join(f"{span(size)} at {figure(price)} {currency}" for size, price, currency in query.offers)
        parts.append(f"which is cheaper{per}, {offers}")
    if query.asked_nutrient:
        parts.append(f"how much {query.asked_nutrient}")
    if query.asked_load:
        of = " of castings" if query.asked_load == "bucket-5-gallon" else ""
        parts.append(f"how many {_LOADS[query.asked_load]}s{of}")
    for name, low, high in query.loads:
        count = figure(low) if low == high else f"{figure(low)} to {figure(high)}"
        parts.append(f"I have {count} {_LOADS[name]} of castings")
    parts += _analysis(query)
    if query.times is not None:
        years = f" for {figure(query.years)} years in total" if query.years is not None else ""
        parts.append(f"{figure(query.times)} times a year{years}")
    if query.compare_layers:
        parts.append("show me " + ", ".join(figure(one.low) for one in query.compare_layers) + f" {_unit(query.compare_layers[0].unit)}")
    if query.compare_rates:
        parts.append("show me " + ", ".join(span(one) for one in query.compare_rates) + " each")
    if query.compare_ratios:
        parts.append("show me " + ", ".join(f"{figure(one)}:{figure(other)}" for one, other in query.compare_ratios))
    if query.filled:
        parts.append("when wet" if query.filled == "wet" else "when full")
    if query.told:
        parts += [said for told, said in _TOLD.items() if said and told in query.told]
    return parts


#: Parts of a mix are told in whole numbers up to this.
_MOST_PARTS = 64


def _recipe(recipe: tuple[tuple[str, float], ...]) -> str:
    """A recipe in per cent, or in parts where per cent would have no end: "1 part castings, 1 part compost, 1 part coir"."""
    shares = [share for _, share in recipe]
    if any(abs(share * 1000 - round(share * 1000)) > 1e-7 for share in shares):
        for whole in range(2, _MOST_PARTS + 1):
            parts = [round(share * whole) for share in shares]
            if all(parts) and all(abs(share * whole - part) < 1e-9 for share, part in zip(shares, parts, strict=True)):
                return ", ".join(f"{part} part{'s' if part > 1 else ''} {_component(name)}" for part, (name, _) in zip(parts, recipe, strict=True))
    return ", ".join(f"{figure(round(share * 100, 9))} % {_component(name)}" for name, share in recipe)


def _component(name: str) -> str:
    if name == "castings":
        return "castings"
    if name in ("the rest", "mix"):
        return "the rest"
    return spoken("component", name)
