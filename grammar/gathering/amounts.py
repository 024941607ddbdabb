"""Amounts of every kind handed to those who know them: bare numbers, products, measures."""

from __future__ import annotations

import re

from ..later import later
from ..phrases import Amount, CellTray, Measure, Number, NurseryClass, Phrase, Said, Share
from ..said import dimension, is_said, single
from ..thickness import THIN
from .shares import Shares
from .state import LONG_GROUND, PLACE_KINDS

#: Units of the sides of a place, in the plural.
_SAID = {"foot": "feet", "metre": "metres", "inch": "inches", "centimetre": "cm", "millimetre": "mm"}
#: A bed is no wider than this in feet, where only the number is told.
_WIDEST_BED = 6

#: Words before a bare number that say it is percent.
_PERCENT_WORDS = frozenset({"share", "concentration", "proportion", "inclusion"})

#: "1.200 litres" may be a little over one or twelve hundred; of what is weighed or measured by the ruler three decimals are usual.
_POINT = later(r"[1-9]\d{0,2}\.\d00(?!\d)")
_NOT_WEIGHED = frozenset({"litre", "square_metre", "square_foot"})

#: Containers with straight sides, told by two of them: none is so much across.
_STRAIGHT_SIDED = later(r"\b(?:box(?:es)?|crates?|troughs?|bales?|sinks?)$", re.IGNORECASE)
#: Before what there is one of: "our 24 by 12 inch tub".
_ONE_BEFORE = later(r"\b(?:an?|one|my|our|his|her|their|your|the|this|that|each|every)\s+(?:[a-z]+\s+)?$", re.IGNORECASE)


class Amounts(Shares):
    """Amounts of every kind handed to those who know them: bare numbers, products, measures."""

    def _measure(self, phrase: Amount, one: Measure) -> None:
        ahead_noun = self.ahead()[0]
        if one.loose and is_said(ahead_noun, "container") and self.count is None and ahead_noun.text.lower().endswith("s"):  # type: ignore[union-attr]
            self.draft.question = (
                "count-or-size",
                f"“{self.text_of(one)}” may be one number or a count and a size; write it in figures, as “20 5-gallon pots”",
            )
        if one.low == 0 and one.high == 0:
            self.draft.refusal = f"“{self.text_of(one)}” is nothing at all; how much should it be?"
            return
        if one.kind == "loose-measure":
            self._loose_measure(one)
            return
        if dimension(one) in ("volume", "weight") and is_said(self.peek(), "link", "of") and is_said(self.peek(2), "unknown"):
            goods = self.peek(2)
            assert isinstance(goods, Said)
            self.draft.question = ("unknown-goods", f"what is “{goods.text}”? Only worm castings are worked out here")
            return
        if one.note == "mixed-span":
            self.draft.question = ("unit", f"{self.text_of(one)}: the two ends are in different units; say both in one unit")
            return
        if one.per is not None:
            self._rate(one)
            return
        kind = dimension(one)
        points = _POINT.match(self.text_of(one))
        if points is not None and one.unit in _NOT_WEIGHED and one.low == one.high and self.draft.question is None:
            few, many = (f"{number:g}{self.text_of(one)[points.end() :]}" for number in (one.low, float(points[0].replace(".", ""))))
            self.draft.question = ("thousands", f"“{points[0]}”: is that “{few}” or “{many}”?")
        if one.unit == "yard":
            kind = self._yard(one)
            one = one._replace(unit="cubic_yard" if kind == "volume" else "yard" if kind == "length" else one.unit,
                               kind="unit" if kind != "doubt" else one.kind)  # fmt: skip
            if kind == "doubt":
                self.draft.question = ("yard", f"“{self.text_of(one)}”: a yard long, or a cubic yard?")
                return
        if kind == "length":
            self._length(phrase, one)
        elif kind == "area":
            if one.role == "thick" and (self.peek() is None or is_said(self.peek(), "stop", "sentence")):  # "0.5 m3 over 100 m2, thickness?"
                one = one._replace(role="")
                self._trailing_ask("layer")
            self._area(one)
        elif kind == "volume":
            self._volume(one)
        elif kind == "weight":
            self._weight(one)
        else:
            self._leave(one)

    def _loose_measure(self, one: Measure) -> None:
        if self._told_after_all(one):
            self.draft.noted.append((self.text_of(one), "put as a question, and then told in a measure"))
            return
        known = {"pail-full": "bucket"}.get(one.unit, one.unit)
        self.draft.question = (
            "loose-measure",
            f"a {known.replace('-', ' ')} has no set size; how much does it hold? Say it in cups, quarts or litres.",
        )

    def _told_after_all(self, one: Measure) -> bool:
        """ "a good handful? I'd say one cup of castings in each hole": so much of castings is told after the question."""
        if not self.draft.text[one.end :].lstrip().startswith("?"):
            return False
        later = [at for at, p in enumerate(self.phrases) if p.start > one.end and type(m := single(p)) is Measure and dimension(m) in ("volume", "weight")]
        return len(later) == 1 and any(is_said(self._at(later[0] + step), "castings") for step in (1, 2))

    def _amount(self, phrase: Amount) -> None:
        if len(phrase.dims) == 1:
            one = phrase.dims[0]
            if type(one) is Number:
                self._bare_number(phrase, one)
            elif type(one) is Measure:
                self._measure(phrase, one)
            elif type(one) is NurseryClass:
                self._nursery(one)
            elif type(one) is CellTray:
                self._cells(one)
            return
        self._product(phrase)

    def _product(self, phrase: Amount) -> None:
        dims = phrase.dims
        following, _ = self.ahead()
        # "40 x 2 litre pots", "12 x #5": a count, then what there are so many of
        first = dims[0]
        if len(dims) == 2 and type(dims[1]) is Number and type(first) is Measure and dimension(first) in ("volume", "weight"):
            # "1 cup x 75 seedlings", "1 3/4 cups per plant x 16"
            self._amount(Amount((first._replace(per=None),), first.start, first.end))
            if self.draft.unsure and self.draft.unsure[-1].end == first.end:
                self._rate_here(self.draft.unsure.pop().span)
            self.count = dims[1]
            if not (type(following) is Said and following.kind in PLACE_KINDS) and self.place is not None:
                self._set_count(self.place)
            return
        if len(dims) == 2 and type(first) is Measure and dimension(first) == "area":
            for d in dims:
                self._amount(Amount((d,), d.start, d.end))
            return
        if type(first) is Number and not first.role and len(dims) == 2:
            second = dims[1]
            container = is_said(following, "container") and not is_said(following, "container", "window-box", "planter", "tray")
            if is_said(following, "pack") and type(second) is Measure and dimension(second) in ("volume", "weight"):
                self.count = first  # "20 x 30 lb bags"
                self._amount(Amount((second,), second.start, second.end))
                return
            is_volume = type(second) is Measure and dimension(second) in ("volume",)
            is_class = type(second) is NurseryClass
            across = type(second) is Measure and dimension(second) == "length" and container and self._so_many_across(phrase, following)  # type: ignore[arg-type]
            if is_volume and not container and type(second) is Measure and self._more_containers(first, second):
                return
            if is_volume and not container and type(second) is Measure and not is_said(following, "mix"):
                total = second._replace(low=second.low * first.low, high=second.high * first.low, start=first.start)
                self.draft.figures = [(value, said) for value, said in self.draft.figures if said != self.text_of(phrase)]
                self.draft.flags.append(("so-many-times", f"{self.text_of(phrase)}: {total.low:g} in all"))
                self._amount(Amount((total,), phrase.start, phrase.end))
                return
            if is_volume or is_class or across:
                self.count = first
                self._amount(Amount((second,), second.start, second.end))
                return
        rates = [d for d in dims if type(d) is Measure and d.per is not None]
        if rates:
            for d in dims:
                self._amount(Amount((d,), d.start, d.end))
            return
        if not self._is_size(phrase):
            wrong = [d for d in dims if type(d) is Measure and dimension(d) in ("weight", "volume", "area", "loose", "time")]
            if wrong:
                self.draft.refusal = (
                    f"“{self.text_of(phrase)}” mixes lengths with {dimension(wrong[0])}; a size is made of lengths"
                )
            else:
                self._leave(phrase)
            return
        if self.excluding:
            self._exclude(phrase)
            return
        if len(dims) == 4 and type(dims[3]) is Number and dims[3].low == int(dims[3].low) and dims[3].low > 1 and not dims[3].role and (
            type(dims[2]) is Measure and self.count is None and is_said(self.peek(), "ground") and self.text_of(self.peek()).endswith("s")  # type: ignore[arg-type]
        ):  # fmt: skip
            self.count = dims[3]  # "4'x4'x12" x3 beds"
            phrase = Amount(dims[:3], phrase.start, dims[2].end)
            dims = phrase.dims
        if len(dims) > 3:
            self.draft.question = ("size", f"“{self.text_of(phrase)}” has more than three sides; which are length, width and depth?")
            return
        if self._cross_section(phrase):
            return
        thin = type(first) is Measure and not first.role and self._span(first).base[1] <= THIN
        if len(dims) == 3 and thin and all(type(d) is Number for d in dims[1:]):
            self.draft.question = ("unit", f"“{self.text_of(phrase)}”: in what unit are the other two?")  # "1/2" x 12 x 12"
            return
        place = self._place_for_size(phrase)
        self._fill_size(place, phrase)

    def _so_many_across(self, sides: Amount, noun: Said) -> bool:
        """Whether "4 x 12 inch pots" is four pots 12 inches across; "a 24 by 12 inch tub" and "3 by 5 ft boxes" are told by two sides."""
        if _STRAIGHT_SIDED.search(noun.text) or self.count is not None:
            return False
        if noun.text.lower().endswith("s"):
            return True
        return not _ONE_BEFORE.search(self.draft.text[: sides.start]) and not any(
            type(one := single(other)) is Measure and dimension(one) == "length" and one.role in ("depth", "height") for other in self.phrases
        )

    def _more_containers(self, count: Number, size: Measure) -> bool:
        """ "pots: 10 x 5 L, 20 x 2 L": so many containers of a size, with the noun said before."""
        place = self.place
        if place is None or place.kind != "container" or place.rate is not None or (place.count is not None and not place.has_size):
            return False
        if place.has_size:
            before, place = place, self._new_place()
            place.noun, place.kind, place.printed, place.crop = before.noun, before.kind, before.printed, before.crop
        self.count = count
        self._set_count(place)
        place.volume, place.each = self._span(size), True
        return True

    def _bare_number(self, phrase: Amount, one: Number) -> None:
        draft = self.draft
        before = self.peek(-1)
        following, where = self.ahead()
        _top, _, bottom = self.text_of(phrase).partition("/")
        if bottom.isdecimal() and int(bottom) > 16 and not is_said(following, "castings") and not is_said(following, "link", "of"):
            self._leave(one)  # "3/20" may be a day
            return
        if one.role:
            self._role_number(phrase, one)
            return
        if is_said(before, "role") and isinstance(before, Said):
            self._role_number(phrase, one._replace(role=before.id))
            return
        place = self.place
        if is_said(before, "other-thing", "time-of") and before.text.lower() == "times" and one.low >= 1 and place is not None and (  # type: ignore[union-attr]
            place.kind and place.count is None and (following is None or is_said(following, "stop"))
        ):  # fmt: skip
            self.count = one  # "a cup per pot times 64"
            self._set_count(place)
            return
        sides = self.place.size if self.place is not None else ()
        if is_said(before, "link", "filled-to") and sides and len({side.unit for side in sides}) == 1 and one.low > 3 and sides[0].unit in ("millimetre", "centimetre", "inch"):
            made = Measure(one.low, one.high, sides[0].unit, "unit", one.start, one.end)  # "2000mm x 500mm x 500mm, fill to 450"
            self._measure(Amount((made,), one.start, one.end), made)
            return
        if is_said(following, "link", "count-word") and where == self.at + 1:
            place = self.place
            if place is not None and place.kind and (place.count is None or self.correcting):
                self.count = one
                self._set_count(place)
                self.at += 2
                return
            if place is None or not place.kind:
                self.count = one
                self.at += 2
                return
        # "5 and 10 percent", "5, 10 or 20 percent": shares to compare
        if not is_said(before, "link", "count-word") and self._share_list(one):
            return
        if self.count is not None:
            if type(following) is Said and following.kind in PLACE_KINDS:
                self._drop_count()
            else:
                self._leave(one)
                return
        if is_said(before, "link", "count-word") and self.place is not None and self.place.count is None:
            self.count = one
            self._set_count(self.place)
            return
        if is_said(before, "link", "share-word") or (is_said(self.peek(-2), "link", "share-word") and is_said(before, "link", "is")):
            if one.low < 1:
                self._share(Share(one.low * 100, one.high * 100, one.start, one.end))
                return
        if is_said(before, "link", "share-word") and 1 <= one.low <= 100 and not is_said(following, "link", "of", "ratio-to") and (
            before.text.lower() in _PERCENT_WORDS  # type: ignore[union-attr]
        ):  # fmt: skip
            draft.flags.append(("share-unit", f"{self.text_of(one)} is taken as percent"))
            self._share(Share(one.low, one.high, one.start, one.end))
            return
        if is_said(following, "pack"):
            self._pack_count(one)
            return
        if one.low < 1 and not one.article and self._part_full(one):
            return
        if one.low < 1 and not one.article and (self._part_of_castings() or self._part_of_the_mix()):
            self._share(Share(one.low * 100, one.high * 100, one.start, one.end))
            return
        if one.low < 1 and not one.article and self._portion(one):
            return
        of_castings = is_said(following, "link", "of") and is_said(self.phrases[where + 1] if where + 1 < len(self.phrases) else None,
                                                                  "castings")  # fmt: skip
        if one.low < 1 and not one.article and (
            of_castings or (self.place is not None and self.place.has_size and self.place.share is None
                            and (following is None or is_said(following, "stop")) and self._ends_there(one))
        ):  # fmt: skip
            self._share(Share(one.low * 100, one.high * 100, one.start, one.end))
            return
        if is_said(following, "castings") and one.low < 1:
            self._share(Share(one.low * 100, one.high * 100, one.start, one.end))
            return
        said = self.text_of(following) if type(following) is Amount else ""
        noun = self._at(where + 1)
        if said[:3].isdecimal() and not said[3:4].isdecimal() and said[3:4] not in (".", ",") and one.low < 1000 and type(single(following)) is Measure and (
            self.text_of(one).isdecimal() and where == self.at + 1 and not (type(noun) is Said and noun.kind in ("container", "pack"))
        ):  # fmt: skip
            self.draft.question = ("thousands", f"“{self.text_of(one)} {said}”: one number, or so many of so much? Write it without the space")
            return
        of_those = self._at(where + 1) if is_said(following, "link", "of") else None
        held = single(of_those)
        if one.low >= 1 and of_those is not None and (
            type(held) is NurseryClass or (type(held) is Measure and held.per is None and dimension(held) == "volume" and is_said(self._at(where + 2), "container"))
        ):  # fmt: skip
            self.phrases.pop(where)  # "20 of the #5 nursery pots"
            self.count = one
            return
        if self._counts_what_follows(one, following, where):
            self.count = one
            return
        if (
            self.place is not None
            and self.place.count is None
            and self.place.kind in ("plant", "container", "hole", "ground")
            and (following is None or is_said(following, "stop") or is_said(following, "link"))
            and one.low >= 1
            and ((following is None and self.place.kind == "plant") or (
                is_said(before, "stop", "comma") and self.place.printed.endswith("s") and one.low == int(one.low) >= 2 and one.low == one.high
                and self.place.has_size and is_said(following, "stop", "comma")  # "40 cm pots, three, repotting figs"
            ) or is_said(before, self.place.kind) or is_said(before, "stop", "colon") or is_said(before, "link", "is", "on-hand", "about"))
        ):
            self.count = one
            self._set_count(self.place)
            return
        if draft.question is None and is_said(following, "unknown"):
            self._leave(one)
            return
        self._leave(one)

    def _ends_there(self, one: Number) -> bool:
        """Whether nothing at all follows a number in its clause: "half planted" is no share."""
        return self.draft.text[one.end :].lstrip(" %)")[:1] in ("", ",", ".", ";", ":", "?", "!", "|", "-")

    def _part_full(self, one: Number) -> bool:
        """ "a 20 gallon tub two thirds full of mix": so much of what it holds."""
        place, following = self.place, self.peek()
        full = is_said(following, "link", "part-full") or is_said(following, "hint", "filled-up")
        if not full or place is None or place.kind != "container" or not place.has_size or place.portion is not None:
            return False
        place.portion = one.low
        self.draft.flags.append(("part-full", f"filled {self.text_of(one)} full"))
        self.at += 2
        return True

    def _counts_what_follows(self, one: Number, following: Phrase | None, where: int) -> bool:
        """Whether a number is a count of what comes next: a noun, a size, a container's volume."""
        if type(following) is Said:
            return following.kind in PLACE_KINDS or following.kind == "unit-count"
        inner = single(following)
        if type(following) is Amount and self._is_size(following):
            return True
        if type(inner) in (Measure, NurseryClass, CellTray):
            # a noun must follow within a few words: "six 5-gallon buckets", "12 12 litre pots"
            at = where + 1
            while at < len(self.phrases) and at <= where + 4:
                phrase = self.phrases[at]
                if type(phrase) is Said and (phrase.kind in PLACE_KINDS or phrase.kind == "pack" or (phrase.kind, phrase.id) == ("hint", "spray")):
                    return True
                if type(phrase) is Said and phrase.kind in ("hint", "form", "about", "component"):
                    at += 1
                    continue
                if at == where + 1 and is_said(phrase, "unknown") and (is_said(self._at(at + 1), "container") or is_said(self._at(at + 1), "pack")):
                    return True  # "thirty 7 gallon … pots"
                break
            return type(inner) in (NurseryClass, CellTray) or (type(inner) is Measure and bool(inner.role))
        return False

    def _role_number(self, phrase: Amount, one: Number) -> None:
        """ "depth 12": a number with a role and no unit is asked about."""
        said = self.text_of(one)
        if one.low < 1 and any(word in said.lower() for word in ("half", "third", "quarter")):
            self.draft.question = ("fills", f"“{said}”: how deep is the mix itself? Say it as “12 inches deep”")
            return  # "the bottom half with logs"
        name = self._unit_of_the_other(one)
        if name:
            self.draft.flags.append(("bare-number", f"{one.low:g} {_SAID[name]}, the unit spoken before"))
            self._amount(Amount((Measure(one.low, one.high, name, "unit", one.start, one.end, role=one.role),), one.start, one.end))
            return
        self.draft.question = ("unit", f"{self.text_of(one)}: in what unit? Say inches, feet, cm or m.")

    def _unit_of_the_other(self, one: Number) -> str:
        """The unit that goes unsaid in "4 ft wide and 10 long", "60 cm across, 45 deep": that of the measure before it; empty where there is none that fits."""
        place = self.place
        if place is None:
            return ""
        told = [span for span in (place.length, place.width, place.diameter, place.radius, *place.size) if span is not None and span.unit]
        units = {span.unit for span in told}
        if len(units) != 1 or one.low != one.high:
            return ""
        name, other = units.pop(), told[0].low
        if one.role == "length" and one.low >= other:
            return name if name in ("foot", "metre", "centimetre") or (name == "inch" and place.kind == "container") else ""
        if one.role == "width" and one.low <= other:
            # a bed "30 ft long, 18 wide" may be eighteen inches wide, and a row is
            wide = name == "foot" and (place.noun in LONG_GROUND or (place.noun not in ("lawn", "plot") and one.low > _WIDEST_BED))
            return name if name in ("foot", "metre", "inch", "centimetre") and not wide else ""
        return name if one.role in ("depth", "height") and name in ("inch", "centimetre", "millimetre") else ""
