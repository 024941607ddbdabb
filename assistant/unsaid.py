"""What goes unsaid in a line of a conversation, put into its words before it is read: a unit, a measure, the money.

"10 lb per 100" after "5 lb per 100 sq ft", "2 per plant" after "1 cup per plant", "plus 50 delivery" after a price in
dollars. A line that leaves nothing unsaid stays as it is.
"""

from __future__ import annotations

import re

from grammar.draft import Draft, PlaceDraft
from grammar.parse import parse
from grammar.phrases import Amount, Measure, Number, Said
from grammar.quantities import Span
from grammar.reads import many_of, span
from grammar.said import dimension, is_said
from grammar.words import Word, vocabulary

from .as_many import as_many
from .replies import bare_number
from .spoken_of import GENERIC, head_of

_PLACES = ("ground", "container", "plant", "hole", "mix", "seed-mix")
_HALF_THAT = re.compile(r"\bhalf (?:that|this)\b(?!\s+(?:size|depth|long|wide|bed|lawn|bag|mix))|\bhalf as much\b|\bby half\b", re.IGNORECASE)
_HALF_AS_MANY = re.compile(r"\bhalf (?:as|that|so) many\b|\bhalf the number\b", re.IGNORECASE)
#: Yards of what was told in cubic yards.
_YARDS = re.compile(r"\b(\d[\d.,/]*|one|two|three|four|five|six|eight|ten|half a|a) (yards?)\b(?! (?:long|wide|by|of row))", re.IGNORECASE)
#: A number that takes the place of another: "no 10", which is not "without ten"
_NO = re.compile(r"^\W*(no|nope|nah),? (\d[\d.,/]*\W*$)", re.IGNORECASE)
#: "drop to 5" takes no place away
_DROP_TO = re.compile(r"\bdrop (?:down )?to (?=\d)", re.IGNORECASE)
#: "leave one out": so many of those spoken of get none
_LEAVE_OUT = re.compile(r"\b(?:leave|leaving|miss|missing) (\d+|one|two|three|four|five|six|a couple)(?: (?:of (?:them|those)))? out\b", re.IGNORECASE)
#: "one pot less", of pots: "one fewer pot"
_LESS = re.compile(r"^(\W*(?:(?:and|so|ok|make it|that's|with|now)\W+)*)(\d+|one|two|three|four|five|six|a) ([a-z]+) (?:less|fewer)(?: (?:then|please))?(\W*)$", re.IGNORECASE)
#: "I have 5 litres, how much more do I need": of castings
_HAVE_AND_NEED = re.compile(
    r"(\b(?:have|got|['’]ve)(?: (?:only|already|about|got|just))* (?:\d[\d./]*|half an?|an?|one|two|three) (?:cubic |cu )?(?:foot|feet|ft|lit(?:er|re)s?|l|gal(?:lon)?s?|lbs?|pounds?|kg|kilos?|cups?|quarts?|yards?))"
    r"(?=(?: (?:already|here|left|now|on hand))?[,.;:]?\s+(?:so |and |but |then )*how much more\b)",
    re.IGNORECASE)
_PART = re.compile(r"\b(\d/\d+)\W*$")
#: What each gets, with the measure that was said before: "2 per plant"
_PER_PLANT = re.compile(r"\b(\d+(?:\.\d+)?(?:/\d)?|one|two|three|half) (?:per|for each|for every|a) (?:plant|pot|hole|tree|bush|head|one)\b", re.IGNORECASE)
#: The same amount for more or less ground: "per 20"
_PER_ALONE = re.compile(r"^\W*(?:and |make it |make that )?per (\d[\d,.]*)\W*$", re.IGNORECASE)
_IN_YARDS = re.compile(r"^(\W*(?:and |so |ok )?(?:(?:what|how much) (?:is|would|'s) (?:that|it|this)(?: be)? )?)in yards\b", re.IGNORECASE)
#: "what would that be in 5 gal buckets"
_IN_VESSELS = re.compile(r"^\W*(?:and |so |ok )?(?:what (?:would|will|is|does|'s)? ?(?:that|it|this)(?: be| come to| make)? )?in ((?:\d[\d.]*[ -]?(?:gal(?:lons?)?|l|lit(?:er|re)s?|quarts?) )?(?:buckets?|pails?))\b", re.IGNORECASE)
#: How strong a tea is, in words: "1 to 5", "one in ten"
_STRENGTH = re.compile(r"\b(1|one) (?:to|in) (\d+|three|four|five|six|seven|eight|nine|ten|twelve|fifteen|twenty)\b", re.IGNORECASE)
#: "plus 50 delivery": in the money that the price was said in
_DELIVERY = re.compile(r"\b(plus |and |\+ ?)(\d+(?:\.\d+)?) ((?:for )?(?:delivery|shipping|postage|drop[- ]off))\b", re.IGNORECASE)
#: How full something is, which is no share of castings: "what if they're 80% full"
_FULL = re.compile(r"\b(\d{1,2}(?:\.\d+)?) ?(?:%|percent|per cent|pct) (?:full|filled)\b", re.IGNORECASE)
_NTH = re.compile(r"\b(1st|2nd|3rd|4th|5th)\b", re.IGNORECASE)
_NTHS = {"1st": "first", "2nd": "second", "3rd": "third", "4th": "fourth", "5th": "fifth"}
#: "oh and a patio 12 by 10"
_AND_A = re.compile(r"^\W*((?:(?:oh|ok|also|and|plus|actually|then)\W+)+)(?:an?|the|our|my|one) ([a-z]+)\b(?= ?,? ?(?:of |that's |is |about )?\d)", re.IGNORECASE)
#: A measure by its number and what it is of: "make it 12 deep", "and 10 long"
_OF_WHAT = re.compile(r"\b(\d+(?:\.\d+)?(?: \d/\d)?|\d/\d) (deep|long|wide|tall|high|across|thick)\b", re.IGNORECASE)
_AFTER_UNIT = re.compile(r"(?:\b(?:m|met(?:re|er)s?|ft|feet|foot|in|inch(?:es)?|cm|mm|yards?|yd|by|x)|\d(?:m|ft|in|cm|mm)|['\"×x/.,-]|\d)\s*$", re.IGNORECASE)
_SLOTS_OF = {"deep": ("depth", "fill", "height"), "tall": ("height", "depth"), "high": ("height", "depth"), "long": ("length",), "wide": ("width",),
             "across": ("diameter",), "thick": ("layer",)}
#: "can you do it in metric": only the unit is asked
_IN_OTHER_UNITS = re.compile(
    r"^\W*(?:and |so |ok )?(?:can|could|would|will) you (?:please )?(?:do|say|give|show|put|tell|convert|write|work out)(?: me)? (?:it|that|this|them|the answer|the figure|the amount)(?: again)? (?=(?:in|into|to|as) )",
    re.IGNORECASE)
_ORDINALS = ("second", "third", "fourth", "fifth", "sixth")
#: One more of so many: "add a third row", of two rows.
_NTH_MORE = re.compile(
    r"^(\W*(?:(?:and|oh|ok|actually|then|also|what if (?:i|we)|if (?:i|we)|let's|i'll|we'll)\W+)*)(?P<verb>(?:add(?:ed|ing)?|plus|make|there(?:['’]s| is)|(?:i|we)(?:['’]ve| have)(?: got)?)(?: also| now)? )?"
    r"(?:a|in a|on a) (?P<nth>second|third|fourth|fifth|sixth|2nd|3rd|4th|5th|6th)(?: (?P<what>one|[a-z]+))?(?: (?:too|as well|now|then|just like (?:it|them|that)|like (?:it|them|that)|the same(?: size)?|(?:of )?the same))*\W*$",
    re.IGNORECASE)
#: "what does the big bed take on its own": that one alone
_ON_ITS_OWN = re.compile(
    r"^(\W*(?:(?:and|ok|so|but)\W+)*)(?:what|how much) (?:does|do|would|will|did) ((?:just )?(?:the|my|our) [a-z0-9 .]+?|just [a-z0-9 .]+?) (?:take|need|get|use|want|come to|work out at)(?: (?:on (?:its|their) own|alone|by (?:itself|themselves)|then|now))*\W*$",
    re.IGNORECASE)
#: "I have 4 of those trees"
_OF_THOSE = re.compile(r"\b(\d+|two|three|four|five|six|seven|eight|nine|ten|twelve) of (?:those|these|the same) ([a-z]+)\b(?=\W*$)", re.IGNORECASE)
#: A place by its number in words: "bed one half an inch", of beds 1 and 2.
_BY_NUMBER = re.compile(r"\b([a-z]+) (one|two|three|four|five|six)\b", re.IGNORECASE)
#: Some of those spoken of have all they need: "two of them are full already".
_HAS_ALL = re.compile(
    r"\b(\d+|one|two|three|four|five|six|a couple) of (?:them|those|these)(?: (?:is|are|were|was|have been|has been))? (?:already (?:full|filled|done|finished|topped up|dressed|fed|planted up|seen to)|(?:full|filled|done|finished) already)\b",
    re.IGNORECASE)
_PER_SO_MUCH = re.compile(r"\bper\s+\d[\d,.]*\s*[?.!]*\s*$")


def in_full(line: str, old: Draft | None) -> str:
    """The line with what goes unsaid after `old`, the request as it stands; where nothing stands, the line itself."""
    if old is None:
        return line
    line = _IN_OTHER_UNITS.sub("", line)
    line = _HAVE_AND_NEED.sub(r"\1 of castings", as_many(line, old))
    line = _DROP_TO.sub("drop it to ", _NO.sub(r"sorry, \2", _IN_YARDS.sub(r"\1in cubic yards", line)))
    if old.asked == "area" and old.have is not None and not old.places:
        line = _PART.sub(r"\1 inch", line)  # how far it goes, by the layer: "1/8"
    if len(old.places) == 1:
        line = _LEAVE_OUT.sub(lambda found: f"drop {'two' if found[1].lower() == 'a couple' else found[1]} of them", line)
    if len(old.places) == 1 and (old.places[0].count or 1) > 1:
        line = _HAS_ALL.sub(lambda found: f"drop {'two' if found[1].lower() == 'a couple' else found[1]} of them", line)
    if any(place.minus for place in old.places):
        line = _less_that_too(line)
    if (less := _LESS.match(line)) is not None and any(less[3].lower().rstrip("s") == head_of(place) for place in old.places):
        line = f"{less[1]}{'one' if less[2].lower() == 'a' else less[2]} fewer {less[3]}{less[4]}"
    if len(old.places) > 1:
        line = _ON_ITS_OWN.sub(lambda found: f"{found[1]}how much for just {found[2].removeprefix('just ')}", line)
    elif old.places:
        line = _OF_THOSE.sub(lambda found: f"{found[1]} of them" if _is_called(old.places[0], found[2]) else found[0], line)
    line = _OF_WHAT.sub(lambda found: _with_its_unit(found, old), _numbered(_one_more(line, old), old))
    if old.places:
        line = _HALF_AS_MANY.sub("halved, as many", _HALF_THAT.sub("halved", _IN_VESSELS.sub(r"how many \1 of castings", line)))
    if any(one is not None and one.unit == "cubic_yard" for one in [old.soil, old.have, *(place.volume for place in old.places)]):
        line = _YARDS.sub(r"\1 cubic \2", line)
    if old.way == "tea" or old.ratio is not None or old.ratio_spans is not None:
        line = _STRENGTH.sub(lambda found: f"1:{bare_number(found[2]):g}", line)
    line = _so_full(_NTH.sub(lambda found: _NTHS[found[1].lower()], line), old)
    if old.price is not None:
        currency = old.price[1]
        line = _DELIVERY.sub(lambda found: f"{found[1]}{found[2]} {currency} {found[3]}", line)
    return _per_ground(_per_plant(line, old), old)


def _is_called(place: PlaceDraft, word: str) -> bool:
    """Whether a word may stand for a place: its noun, or what grows in it."""
    meaning = vocabulary().single.get(word.lower())
    return isinstance(meaning, Word) and (
        meaning.id in (place.noun, place.crop) or (meaning.kind == "plant" and bool(place.crop) and meaning.id in GENERIC)
        or (meaning.kind == place.kind and meaning.id in GENERIC)
    )  # fmt: skip


def _less_that_too(line: str) -> str:
    """ "and a patio 12 by 10" after what was taken off a lawn: that is taken off too."""
    found = _AND_A.match(line)
    meaning = vocabulary().single.get(found[2].lower()) if found is not None else None
    inside = isinstance(meaning, Word) and (meaning.kind, meaning.id) in (("other-thing", "house-thing"), ("other-thing", "stands-in"), ("ground", "path"), ("hint", "balcony"))
    return f"minus a {found[2]}{line[found.end() :]}" if found is not None and inside else line


def _with_its_unit(found: re.Match[str], old: Draft) -> str:
    """ "12 deep" of a bed that is 10 inches deep: "12 inches deep"; as it is where no such measure was told in one unit."""
    place = old.places[-1] if old.places else None
    if place is None or _AFTER_UNIT.search(found.string[: found.start()]):
        return found[0]  # "1 metre 20 wide"
    word = found[2].lower()
    told: list[Span] = []
    for slot in _SLOTS_OF[word]:
        span_ = getattr(place, slot)
        told += [] if span_ is None else list(span_) if isinstance(span_, list) else [span_]
    sides = [one for one in (*place.size, place.length, place.width, place.diameter) if one is not None]
    if not told and word == "deep" and len(place.size) == 3:
        told = [place.size[2]]
    if not told and word in ("long", "wide") and len(place.size) > 1 and place.size_unit_said:
        told = list(place.size[:2])
    value = bare_number(found[1])
    if not told and word == "long" and place.width is not None and value is not None and value >= place.width.low and place.width.unit != "inch":
        told = [place.width]
    if not told and word in ("deep", "tall", "high") and sides and all(one.unit in ("inch", "centimetre") for one in sides):
        told = sides
    units = {one.unit for one in told if one.unit}
    return f"{found[1]} {many_of(units.pop())} {found[2]}" if len(units) == 1 else found[0]


def _one_more(line: str, old: Draft) -> str:
    """ "add a third row" after two rows: "three of them"; as it is where there are not just two of them."""
    found = _NTH_MORE.match(line)
    place = old.places[0] if len(old.places) == 1 else None
    if found is None or place is None or not (found["verb"] or found["what"]):
        return line
    nth = int(found["nth"][0]) if found["nth"][0].isdigit() else _ORDINALS.index(found["nth"].lower()) + 2
    what = (found["what"] or "one").lower()
    last = place.printed.split()[-1] if place.printed else ""
    return f"{found[1]}{nth} of them" if nth == (place.count or 1) + 1 and what in ("one", place.noun, last, last.removesuffix("s")) else line


def _numbered(line: str, old: Draft) -> str:
    """ "bed one" of a place that was told with that number as its name: "bed 1"."""
    told = {(noun, place.name) for place in old.places if place.name.isdigit() for noun in (place.noun, place.printed)}
    if not told:
        return line

    def named(found: re.Match[str]) -> str:
        number = f"{bare_number(found[2]):g}"
        return f"{found[1]} {number}" if (found[1].lower(), number) in told else found[0]

    return _BY_NUMBER.sub(named, line)


def _so_full(line: str, old: Draft) -> str:
    """ "80 % full" of a pot or a bed whose size was said: so many gallons, or so deep."""
    place = old.places[-1] if len(old.places) == 1 else None
    size = None if place is None else place.volume or place.depth
    if size is None or place is None:
        return line
    deep = " deep" if size is place.depth else ""
    return _FULL.sub(lambda found: f"{span(Span(size.low * float(found[1]) / 100, size.high * float(found[1]) / 100, size.unit))}{deep}", line)


def _per_plant(line: str, old: Draft) -> str:
    """ "2 per plant" in the measure that each was said to get."""
    rate = next((place.rate for place in reversed(old.places) if place.rate is not None and place.rate_per is None), None)
    if rate is None:
        return line
    measure = many_of(rate.unit)
    return _PER_PLANT.sub(lambda found: f"{found[1]} {measure} each", line)


def _per_ground(line: str, old: Draft) -> str:
    """ "10 lb per 100", "per 20": in the unit of ground that was said."""
    place = next((place for place in reversed(old.places) if place.rate_per is not None), None)
    if place is None or place.rate_per is None or _PER_SO_MUCH.search(line) is None:
        return line
    if (alone := _PER_ALONE.match(line)) is not None and place.rate is not None:
        return f"{span(place.rate)} per {alone[1]} {many_of(place.rate_per.unit)}"
    return f"{line.rstrip(' ?.!')} {place.rate_per.unit.replace('_', ' ')}"


def sides_in_full(line: str, old: Draft | None) -> str:
    """ "50 by 40 by 30" after a box of 60 by 40 by 30 cm: the line with the unit of the sides before put after sides that have none.

    Only where the sides that were told before are all in one unit, and the line speaks of no other kind of place.
    """
    if old is None:
        return line
    phrases = parse(line).phrases
    bare = [p for p in phrases if type(p) is Amount and len(p.dims) > 1 and all(type(d) is Number and not d.role for d in p.dims)]
    if len(bare) != 1 or any(type(d) is Measure and dimension(d) == "length" for p in phrases if type(p) is Amount for d in p.dims):
        return line
    place = next((one for one in reversed(old.places) if len(one.size) > 1), None)
    if place is None or not place.size_unit_said or any(
        type(p) is Said and p.kind in _PLACES and not is_said(p, place.kind, place.noun) for p in phrases
    ):  # fmt: skip
        return line
    told = [*place.size, *([place.depth] if place.depth is not None else [])][: len(bare[0].dims)]
    units = {side.unit for side in told}
    if len(told) < len(bare[0].dims) or len(units) != 1 or not (unit := units.pop()):
        return line
    return f"{line[: bare[0].end]} {many_of(unit)}{line[bare[0].end :]}"
