"""What a pass over the phrases of a line remembers, and the looks around that every part of it needs."""

from __future__ import annotations

from ..draft import PlaceDraft, Unsure, begun, begun_place
from ..parse import Parsed
from ..phrases import Amount, CellTray, Measure, Number, NurseryClass, Phrase, Price, Said, Share
from ..quantities import DOUBTFUL, Span, measures
from ..said import Mark, dimension, is_said, is_sides, single

PLACE_KINDS = ("ground", "container", "hole", "plant", "mix", "seed-mix")
ONE_EACH = ("hole", "plant")
#: Containers that are known by the width of their mouth: "12-inch pots".
ROUND_CONTAINERS = ("pot", "pot-azalea", "pot-pan", "hanging-basket", "bucket", "tub", "half-barrel", "planter", "grow-bag")
#: Roles whose value is only compared with another or taken off it, so that it does not stand in the reading itself.
CHECKED_AGAINST = ("height", "below-rim")
LONG_GROUND = ("row", "trench", "strip")
#: Units that may be of volume although what they are is not decided yet.
LIQUID = ("quart", "pint", "gallon")
#: Plants that are dressed in a ring from the trunk to the drip line.
TREES = frozenset({"tree", "fruit-tree", "apple-tree", "citrus", "avocado", "shrub"})

#: A hint of plants that stand "in it": in the place told before.
IN_IT = "stands:in-it"


def dimension_of(span: Span) -> str:
    """What a span measures, its unit possibly a doubtful one."""
    return span.unit if span.unit in DOUBTFUL else span.dimension


def alike(one: Span, other: Span) -> bool:
    """Whether two spans measure the same thing, their units possibly doubtful."""
    return measures(one) == measures(other)


def _add_ends(span: Number | Measure | Share | Price, said: str, figures: list[tuple[float, str]]) -> None:
    """Adds the ends of a span to the figures that have to be found again, one where both are the same."""
    low, high = span[:2]
    if low == high:
        figures.append((low, said))
    else:
        figures += [(end, said) for end in {low, high}]


class State:
    """What a pass over the phrases of a line remembers, and the looks around that every part of it needs."""

    def __init__(self, text: str, parsed: Parsed, leaning: bool = False) -> None:
        self.leaning = leaning
        self.draft = begun(text, [(m.said, m.read) for m in parsed.mended], words=len(parsed.phrases), cut=parsed.cut)
        self.all: list[Phrase] = parsed.phrases
        self.phrases: list[Phrase] = []
        #: what stands in them
        self.kinds: set[Mark] = set()
        self.at = 0
        self.place: PlaceDraft | None = None
        self.count: Number | None = None  # a number that waits for its noun
        self.tie = ""
        self.correcting = False
        self.excluding = False
        self.last_form = ""
        self.pending_noun_hints: set[str] = set()
        self.pending_each = False
        #: what the noun that comes next is called: "the second" bed
        self.pending_names: frozenset[str] = frozenset()
        #: up to which phrase a noun is of places whose size is said of all of them together
        self.total_until = -1
        #: a way that is said before the count of the place it is for: "…, and side dress 12 tomatoes"
        self.pending_way = ""
        #: "both beds", before any place: there are two of what comes next
        self.both = False
        self.dated = False  # "now", "in the fall": applications that add up

    def _figures(self) -> None:
        """Notes every figure that has to be found again in the reading: none may be lost on the way."""
        figures = self.draft.figures
        for phrase in self.phrases:
            if type(phrase) is Said:
                continue
            said = self.text_of(phrase)
            if type(phrase) is Amount:
                for dim in phrase.dims:
                    if type(dim) is NurseryClass:
                        figures.append((float(dim.number), said))
                    elif type(dim) is CellTray:
                        figures.append((float(dim.cells), said))
                    elif not dim.article and dim.role not in CHECKED_AGAINST:  # type: ignore[union-attr]
                        _add_ends(dim, said, figures)  # type: ignore[arg-type]
            elif type(phrase) is Share or type(phrase) is Price:
                _add_ends(phrase, said, figures)

    def _supersede(self, *spans: Span | None) -> None:
        """A value that a correction took back: it need not stand in the reading."""
        for span in spans:
            if span is not None:
                gone = {span.low, span.high}
                self.draft.figures = [(value, said) for value, said in self.draft.figures if value not in gone]

    def _withdraw(self, *spans: Span | None) -> None:
        """The same for a value that other words took the place of: it is named as taken back."""
        before = self.draft.figures
        self._supersede(*spans)
        kept = {said for _, said in self.draft.figures}
        now = self.phrases[self.at].start if self.at < len(self.phrases) else len(self.draft.text)
        for said in dict.fromkeys(said for value, said in before if said not in kept):
            if 0 <= self.draft.text.find(said) < now and (said, "taken back") not in self.draft.noted:
                self.draft.noted.append((said, "taken back"))

    def _impossible(self) -> None:
        """What no reading can mend: a minus sign before an amount."""
        for at, phrase in enumerate(self.all):
            if is_said(phrase, "minus"):
                after = self.all[at + 1] if at + 1 < len(self.all) else None
                said = self.draft.text[phrase.start : after.end if after else phrase.end]
                self.draft.refusal = f"“{said.strip()}” is less than nothing; give the amount without a minus sign"

    def peek(self, step: int = 1) -> Phrase | None:
        """The phrase so many steps on, or back; None beyond the ends of the line."""
        at = self.at + step
        return self.phrases[at] if 0 <= at < len(self.phrases) else None

    def ahead(self, skip: tuple[str, ...] = ("hint", "form", "about")) -> tuple[Phrase | None, int]:
        """The next phrase that is not a describing word, and its index."""
        at = self.at + 1
        while at < len(self.phrases):
            phrase = self.phrases[at]
            if not (type(phrase) is Said and phrase.kind in skip):
                return phrase, at
            at += 1
        return None, at

    def _at(self, index: int) -> Phrase | None:
        return self.phrases[index] if 0 <= index < len(self.phrases) else None

    def text_of(self, phrase: Phrase | Measure | Number) -> str:
        """A phrase as it was typed."""
        return self.draft.text[phrase.start : phrase.end].strip()

    def _leave(self, phrase: Phrase | Number | Measure) -> None:
        self.draft.stray.append((self.text_of(phrase), phrase.start, phrase.end))

    def _drop_count(self) -> None:
        assert self.count is not None
        self._leave(self.count)
        self.count = None

    def _clause(self) -> list[Phrase]:
        """The phrases of the clause that is being read."""
        start = self.at
        while start > 0 and not is_said(self.phrases[start - 1], "stop"):
            start -= 1
        end = self.at
        while end < len(self.phrases) and not is_said(self.phrases[end], "stop"):
            end += 1
        return self.phrases[start:end]

    def _new_place(self) -> PlaceDraft:
        place = begun_place(self.tie)
        if self.last_form:
            place.form, self.last_form = self.last_form, ""
        self.draft.places.append(place)
        self.place = place
        self.tie = ""
        return place

    def _current(self) -> PlaceDraft:
        return self.place if self.place is not None else self._new_place()

    def _trailing_ask(self, asked: str) -> None:
        """ "…, share?", "… = ? %": what is asked for, said in one word."""
        if self.draft.asked in ("", "castings"):
            self.draft.asked = asked
            self.draft.asks.append("trailing")

    def _span(self, one: Measure) -> Span:
        low, high = one.low, one.high
        if low > high:
            low, high = high, low
        return Span(low, high, one.unit)

    def _is_size(self, amount: Amount) -> bool:
        return is_sides(amount)

    def _ground_measure(self, amount: Amount) -> bool:
        one = single(amount)
        return type(one) is Measure and dimension(one) in ("area", "length")

    def _container_ahead(self) -> bool:
        following, _ = self.ahead()
        return is_said(following, "container")

    def _words(self) -> set[str]:
        return set(self.draft.text.lower().replace(",", " ").split())

    def _past_replies(self) -> Phrase | None:
        at = self.at + 1
        while at < len(self.phrases) and (is_said(self.phrases[at], "reply") or is_said(self.phrases[at], "link", "of")
                                          or is_said(self.phrases[at], "mix") or is_said(self.phrases[at], "about")):  # fmt: skip
            at += 1
        return self._at(at)

    def _straight_after_ask(self) -> bool:
        """Whether only describing words stand between the last question word and here."""
        at = self.at - 1
        while at >= 0:
            phrase = self.phrases[at]
            if is_said(phrase, "ask", "how-many"):
                return True
            if self.draft.asked_unit and is_said(phrase, "castings"):
                return False  # "how many litres of castings for a bed of …"
            if type(phrase) is Said and (phrase.kind in ("hint", "form", "plant", "about", "component", "castings") or phrase.id == "of"):
                at -= 1
                continue
            one = single(phrase)
            if type(one) in (Measure, CellTray, NurseryClass) or (type(phrase) is Amount and len(phrase.dims) > 1):
                at -= 1
                continue
            return False
        return False

    def _cues(self) -> set[str]:
        cues = set()
        for step, label in ((-1, "before"), (1, "after")):
            phrase = self.peek(step)
            if type(phrase) is Said:
                cues.add(f"{label}:{phrase.kind}:{phrase.id}")
        if self.place is not None:
            cues.add("place:" + (self.place.kind or "none"))
        return cues

    def _unsure(self, span: Span, cues: set[str], one: Measure) -> None:
        """Keeps a measure whose role the neighbours do not tell, with the place that was being spoken of."""
        index = next((i for i, place in enumerate(self.draft.places) if place is self.place), -1)
        if self._corrects(span):
            self.correcting = False
        if "altogether-next" in self.draft.hints:
            cues = cues | {"altogether"}
        self.draft.unsure.append(Unsure(span, frozenset(cues), self.text_of(one), one.start, one.end, index, one.article))

    def _corrects(self, span: Span) -> bool:
        """ "2 cups, I mean 1 cup": a measure without a role yet is taken back for one of its kind."""
        found = self.correcting and bool(self.draft.unsure) and alike(self.draft.unsure[-1].span, span)
        if found:
            self._withdraw(self.draft.unsure.pop().span)
        return found

    def _set_count(self, place: PlaceDraft) -> None:
        assert self.count is not None
        number = self.count
        self.count = None
        if number.low == 0 or number.high == 0:
            self.draft.refusal = f"“{self.text_of(number)}” of something is none at all; how many are there?"
        if place.count is not None and place.count != number.low and not self.correcting:
            self._leave(number)
            return
        if place.count is not None and place.count != number.low:
            self._withdraw(Span(place.count, place.count, ""))
        place.count = number.low
        place.count_high = number.high if number.high != number.low else None
        if number.low != int(number.low) and place.kind not in ("ground",):
            place.portion = number.low if number.low < 1 else None
            if number.low < 1:
                place.count = None
        self.correcting = False

    def _clear_size(self, place: PlaceDraft) -> None:
        self._withdraw(*place.size, place.length, place.width, place.side, place.flats, place.corners, place.diameter, place.radius, place.area, place.volume)
        for name in ("length", "width", "side", "second_side", "flats", "corners", "base", "diameter", "radius", "around", "outer", "area", "volume",
                     "nursery_class", "bottom"):  # fmt: skip
            setattr(place, name, None)
        place.size = ()

    def _size_of_hole(self, place: PlaceDraft) -> bool:
        """ "3 planting holes, 2 ft across": the size is the hole's own, and no bed's around it."""
        return place.kind == "hole" and place.rate is None and self.tie not in ("in", "on")

    def _open_for_size(self) -> PlaceDraft:
        """The place that a size being read belongs to."""
        place = self.place
        if place is None or (place.has_size and not self.correcting):
            place = self._new_place()
        elif place.has_size:
            self._clear_size(place)
            self.correcting = False
        elif self.count is not None and place.count is not None and place.noun:
            place = self._new_place()
        elif place.kind == "plant" and not place.rate and is_said(self.ahead()[0], "container"):
            place = self._new_place()  # "my lemon goes into a 40 litre pot", "9 houseplants in half gallon pots"
            place.hints.add("around")
        elif place.kind in ("plant", "hole") and (place.rate or place.count) and self.tie != "of" and not self._size_of_hole(place):
            place = self._new_place()
            place.hints.add("around")
        if self.count is not None and place.count is None:
            self._set_count(place)
        if self.last_form and not place.form:
            place.form, self.last_form = self.last_form, ""
        return place

    def _on_hand_before(self) -> bool:
        return is_said(self.peek(-1), "link", "on-hand")

    def _crop_place(self, place: PlaceDraft) -> PlaceDraft:
        """A throw-away place for a noun that only describes the one being spoken of."""
        shadow = PlaceDraft()
        shadow.count = place.count
        return shadow
