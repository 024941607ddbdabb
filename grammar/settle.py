"""From a draft to a query, or to the one question that must be asked first.

Every doubtful measure gets a role by the declared preferences, every place a shape and a way. What the
request did not say and the reading rests on is listed as assumed; a number that finds no job is asked about.
"""

from __future__ import annotations

from .draft import Draft, PlaceDraft, Unsure
from .preferences import weigh
from .quantities import Span, UnknownUnit, unit
from .trade import place_extras, query_extras, trade_asked
from .query import Note, Pack, Place, Query, Question, Shape, Tea
from .reads import reads

_TREE_PLANTS = frozenset({"tree", "fruit-tree", "apple-tree", "citrus", "avocado", "shrub"})
_POT_LIKE = frozenset({"pot", "hanging-basket", "bucket", "tub", "planter", "grow-bag"})
_ROW_LIKE = frozenset({"row", "trench"})
#: Measures that are given out one by one.
_KITCHEN = frozenset({"us_cup", "metric_cup", "imperial_cup", "tablespoon", "teaspoon", "fluid_ounce", "millilitre", "gram", "ounce",
                      "cubic_inch", "cubic_centimetre", "us_pint", "us_dry_pint"})  # fmt: skip
_BACKWARDS = frozenset({"area", "plants", "containers", "beds", "layer", "share", "mix", "soil", "length"})

#: Doubtful units and what they are read as when nothing decides: the exact unit and what to say.
_DEFAULT_UNIT = {
    "gallon": ("us_gallon", "gallons are US gallons"),
    "ton": ("us_ton", "tons are US short tons of 2000 lb"),
}
_QUART_PINT = {
    "quart": ("us_dry_quart", "us_quart"),
    "pint": ("us_dry_pint", "us_pint"),
}
#: How far from any bed a depth or a side may be before it is asked about, in metres.
_THIN = 0.0762 + 1e-9
_THICK = 0.1016 - 1e-9


#: Codes of questions that only say that something is missing: a topic in the line is then the likelier meaning.
_MISSING = frozenset({"size", "volume", "count", "depth", "way", "place", "have", "water", "unread", "role", "stray-number", "layer", "mix",
                      "loose-measure", "each-or-all", "height", "pack", "width"})  # fmt: skip


class _Ask(Exception):
    """A question has to be asked; carried up to `settle`."""

    def __init__(self, code: str, text: str, needs: str = "", status: str = "asks", offers: tuple[str, ...] = ()) -> None:
        super().__init__(text)
        self.code, self.text, self.needs, self.status, self.offers = code, text, needs, status, offers


def with_roles(draft: Draft, awaiting: str = "") -> Draft:
    """The draft with a role for every measure that had none, as `settle` gives them; a conversation keeps this.

    Units that had more than one meaning are exact in it, and what was assumed of them stands among its flags.
    """
    work = draft.copy()
    settler = _Settler(work, awaiting)
    try:
        settler._units()
        settler._drop_context_places()
        settler._tea_places()
        settler._unsure()
    except _Ask:
        return draft.copy()
    work.flags += [(note.code, note.text) for note in settler.assumed]
    return work


def settle(draft: Draft, awaiting: str = "") -> Query | Question:
    """The query a draft makes, or a question. `awaiting` is what an earlier question asked for."""
    work = draft.copy()
    try:
        return _Settler(work, awaiting).query()
    except _Ask as ask:
        settler = _Settler(draft.copy(), awaiting)
        topic = settler.instead(ask) if not awaiting else ""
        if topic:
            return Query(asked="explanation", asked_noun=topic, set_aside=tuple(draft.unread))
        return Question(status="unread" if ask.status == "unread" else "asks", code=ask.code, text=ask.text, needs=ask.needs, offers=ask.offers, reads=settler.partly(),
                        set_aside=tuple(draft.unread))  # fmt: skip


class _Settler:
    def __init__(self, draft: Draft, awaiting: str) -> None:
        self.draft = draft
        self.awaiting = awaiting
        self.assumed: list[Note] = []

    def assume(self, code: str, text: str) -> None:
        note = Note(code=code, text=text)
        if note not in self.assumed:
            self.assumed.append(note)

    def partly(self) -> str:
        """What could be read of a request that has to be asked about, in words."""
        draft = self.draft
        places: list[Place] = []
        try:
            self._units()
            self._spread()
            for place in draft.places:
                self._length_units(place)
                places.append(Place(noun=place.noun, kind=place.kind, printed=place.printed, crop=place.crop, shape=self._shape(place),
                                    count=place.count, altogether=place.each is False, portion=place.portion, depth=self._depth(place),
                                    layer=tuple(place.layer), share=place.share, rate=place.rate, rate_per=place.rate_per,
                                    recipe=tuple(place.recipe), hints=frozenset(h for h in place.hints if ":" not in h)))  # fmt: skip
            return reads(Query(asked="castings", places=tuple(places), have=tuple([draft.have] if draft.have else []), pack=self._pack()))
        except (_Ask, UnknownUnit):
            return ""

    # ---- the steps -----------------------------------------------------------------------------------

    def query(self) -> Query:
        draft = self.draft
        if draft.refusal:
            raise _Ask("impossible", draft.refusal, status="unread")
        self._check_numbers()
        self._explanation_first()
        if draft.question is not None:
            code, text = draft.question
            raise _Ask(code, text, needs=code)
        self._units()
        self._drop_context_places()
        self._tea_places()
        self._unsure()
        self._tea_places()
        asked = self._asked()
        if draft.by_weight and (any(p.share for p in draft.places) or draft.recipe or draft.parts_share):
            raise _Ask(
                "by-weight",
                "shares here are by volume; a share by weight needs the weight of the rest too. Is the share meant by volume?",
                needs="by-volume",
            )
        if "others-amount" in draft.hints and asked not in ("explanation", *_BACKWARDS):
            raise _Ask("others-amount", "is that amount to be used here too? Say what this place should get", needs="amount")
        if ("cut" in draft.hints or "by-so-much" in draft.hints) and asked != "explanation":
            words = next((text for code, text in draft.flags if code == "relative-word"), "that")
            raise _Ask("relative", f"“{words}”: of what? Say the amount itself", needs="amount")
        if draft.more_packs and asked != "explanation":
            raise _Ask("two-packs", "two sizes of bag: which one is it to be?", needs="pack")
        if {"how-often"} & {*draft.topics, *draft.weak_topics} and draft.figures and asked == "castings" and draft.places:
            raise _Ask("season", "for one application, or for all of them in the season? Say the amount for one, and how many times",
                       needs="times")  # fmt: skip
        if draft.stray and asked not in ("explanation",):
            said = draft.stray[0][0]
            raise _Ask("stray-number", f"what is “{said}”? It found no place in the request", needs="stray")
        self._nothing_there(asked)
        self._other_material(asked)
        if asked == "castings" and draft.have is not None and not draft.enough and "on-hand" not in draft.hints and any(
            p.kind in ("plant", "hole") and p.rate is None for p in draft.places
        ):  # fmt: skip
            raise _Ask("each-or-all", "is that amount for each of them, or for all together?", needs="each")
        self._spread()
        places = [self._place(place, asked) for place in draft.places]
        places = [place for place in places if place is not None]
        self._notes()
        query = Query(
            asked=asked,  # type: ignore[arg-type]
            asked_noun=draft.asked_noun,
            asked_unit=draft.asked_unit,
            places=tuple(p for p in places if p is not None),
            have=tuple([draft.have] if draft.have else []) + tuple(draft.more_have),
            have_is_tea=draft.have_is_tea,
            enough=draft.enough,
            density=draft.density,
            weighed=draft.weighed,
            moisture=draft.moisture,
            pack=self._pack(),
            budget=(f"{draft.budget[0]:.2f}", draft.budget[1]) if draft.budget else None,
            tea=self._tea(),
            limit=draft.limit,
            compare=tuple(draft.compare),
            **query_extras(draft),
            metric=self._is_metric(),
            assumed=tuple(self.assumed),
            noted=tuple(Note(code="not-an-amount", text=f"{said}: {why}") for said, why in draft.noted),
            set_aside=tuple(draft.unread),
        )
        self._complete(query)
        self._account(query)
        return query

    def _account(self, query: Query) -> None:
        """Asks about a figure that the reading does not hold: none is dropped in silence."""
        held: list[float] = []
        _figures_of(query.model_dump(), held)
        noted = {said for said, _ in self.draft.noted}
        for value, said in self.draft.figures:
            if said in noted:
                continue
            if not any(abs(value - one) <= 1e-9 * max(1.0, abs(value)) or (value < 1 and abs(value * 100 - one) <= 1e-9) for one in held):
                raise _Ask("stray-number", f"what is “{said}”? It found no place in the request", needs="stray")

    def _check_numbers(self) -> None:
        """Shares over the whole, amounts of nothing, figures beyond any garden."""
        draft = self.draft
        for place in draft.places:
            if place.share is not None:
                if place.share.high > 100:
                    raise _Ask("over-100", f"a share of {place.share.high:g} % is more than the whole; it must be 100 % or less",
                               status="unread")  # fmt: skip
                if place.share.high <= 0 or place.share.low <= 0:
                    raise _Ask("zero", "a share of 0 % is no castings at all", status="unread")
            if place.count is not None and place.count <= 0:
                raise _Ask("zero", "none at all need no castings; how many are there?", status="unread")
            for span in [*place.size, *place.layer]:
                if span.high <= 0:
                    raise _Ask("zero", "a size of nothing needs no castings; what is the size?", status="unread")
            for name in ("length", "width", "side", "diameter", "radius", "around", "depth", "fill", "height", "area", "volume",
                         "rate", "base", "clear", "outer"):  # fmt: skip
                span = getattr(place, name)
                if span is not None and span.high <= 0:
                    raise _Ask("zero", f"a {name} of nothing cannot be; what is the {name}?", status="unread")
                if span is not None and not span.high < 1e12:
                    raise _Ask("scale", f"a {name} of {span.high:g} is beyond any garden", status="unread")

    # ---- questions in words --------------------------------------------------------------------------

    def _computable(self) -> bool:
        draft = self.draft
        return bool(
            any(place.has_size or place.rate or place.layer or place.share or (place.count and place.kind) for place in draft.places)
            or draft.have or draft.unsure or draft.water or (draft.packs_count and draft.price) or draft.ratio or draft.recipe or draft.pack or draft.budget
            or draft.offers or draft.loads or draft.parts_share or draft.weighed or draft.density or draft.soil or draft.compare or draft.per_volume or draft.ratio_spans
        )  # fmt: skip

    def _explanation_first(self) -> None:
        draft = self.draft
        if set(draft.asks) & {"difference", "what-is"} and not any(p.has_size for p in draft.places) and all(u.article for u in draft.unsure) and (
            draft.unsure or draft.asked_unit
        ):  # fmt: skip
            draft.topics.append("units")
            draft.unsure.clear()
            draft.asked_unit = ""
            if all(p.is_empty for p in draft.places):
                draft.places.clear()
        if "unit-twice" in draft.hints and not draft.figures and not draft.places and draft.asks:
            draft.topics.append("units")
            draft.asked_unit = ""
            draft.unsure.clear()
        if draft.weak_topics and ("castings-named" in draft.hints or draft.way or draft.topics):
            draft.topics.extend(draft.weak_topics)
        in_words = bool(draft.topics) and not draft.figures and bool(draft.asks) and not any(p.has_size for p in draft.places)
        if (self._computable() and not in_words) or not (draft.topics or self._worded_topic()) or self._off_topic():
            return
        topic = self._best_topic()
        if topic:
            draft.asked = "explanation"
            draft.asked_noun = topic
            draft.question = None
            draft.stray.clear()

    def _off_topic(self) -> bool:
        """A question in words about something that is no business of castings."""
        draft = self.draft
        elsewhere = "elsewhere" in draft.hints or any(h.startswith("goods:") for h in draft.hints)
        trade = "castings-named" in draft.hints or bool(draft.places) or any(h.startswith("component:") for h in draft.hints) or (
            bool(draft.way) and not elsewhere
        )  # fmt: skip
        return (bool(draft.unread) or elsewhere) and not trade and not (set(draft.topics) - {"how-often", "too-much", "storage", "density"})

    def instead(self, ask: _Ask) -> str:
        """The topic of a question in words that was taken for an amount to work out and could not be."""
        draft = self.draft
        if ask.code not in _MISSING or not (draft.text.rstrip().endswith("?") or draft.asks or draft.topics or draft.weak_topics):
            return ""
        topics = list(draft.topics)
        if "castings-named" in draft.hints or draft.places or draft.way or draft.pack_noun or len(draft.weak_topics) > 1:
            topics += draft.weak_topics
        if not topics and not draft.figures and draft.way and set(draft.asks) & {"how-deep", "can-i", "how-to", "what-is", "how-far"}:
            topics = ["tea-how" if draft.way == "tea" else draft.way]
        if not topics or self._off_topic():
            return ""
        if draft.figures and any(p.has_size for p in draft.places):
            return ""
        draft.topics = topics
        return self._best_topic()

    def _tea_or_castings(self) -> bool:
        """A question that sets a tea against the castings themselves."""
        draft = self.draft
        return draft.way == "tea" and not draft.figures and bool(set(draft.asks) & {"why", "which", "can-i", "difference"}) and (
            "castings-named" in draft.hints
        )  # fmt: skip

    def _worded_topic(self) -> str:
        """A topic from a question form and a word: "what is side dressing", "how do I store …"."""
        draft = self.draft
        asks = set(draft.asks)
        if self._tea_or_castings():
            return "tea-or-castings"
        if asks & {"what-is", "how-to", "difference"} or (not draft.places and asks & {"can-i", "which"}):
            if draft.way and asks & {"what-is", "how-to"}:
                return {"tea": "tea-how", "blend": "blend", "incorporate": "incorporate", "top-dress": "top-dress",
                        "side-dress": "side-dress", "planting-hole": "planting-hole", "seed-mix": "seed-mix"}[draft.way]  # fmt: skip
            if "density" in draft.hints:
                return "density"
            if asks & {"what-is", "how-much"} and "share-word" in draft.hints and "castings-named" in draft.hints:
                return "blend"
            if asks & {"what-is"} and "role:depth" in draft.hints:
                return "bed-depth"
            if asks & {"what-is"} and "castings-named" in draft.hints:
                return "what-are-castings"
            if asks & {"difference"} and draft.way and len({h for h in draft.hints if h.startswith("way:") or h == "mixed-in"}):
                return "which-way"
            if asks & {"can-i"} and draft.way and not draft.places and not draft.figures and draft.way != "tea":
                return "which-way"
            if asks & {"difference"} and any(h.startswith("component:") for h in draft.hints):
                return "what-are-castings"
        if "how-heavy" in asks and asks <= {"how-heavy", "what-is", "how-much"} and not draft.places and (
            "castings-named" in draft.hints or draft.asked_unit or any(u.article for u in draft.unsure)
        ):  # fmt: skip
            return "density"
        return ""

    def _best_topic(self) -> str:
        topics = self.draft.topics
        if not topics:
            return self._worded_topic()
        if self.draft.way == "tea" and self.draft.text.lower().count("casting") and set(self.draft.asks) & {"which", "can-i", "cheaper", "why"}:
            return "tea-or-castings"
        ranked = sorted(set(topics), key=lambda t: (_TOPIC_ORDER.index(t) if t in _TOPIC_ORDER else 99))
        return ranked[0]

    # ---- units that had more than one meaning --------------------------------------------------------

    def _is_metric(self) -> bool:
        names = [span.unit for span in self._spans()]
        names += [self.draft.asked_unit] if self.draft.asked_unit else []
        metric = sum(1 for name in names if _is_metric_unit(name))
        return metric > len([n for n in names if n]) - metric if names else False

    def _spans(self) -> list[Span]:
        draft = self.draft
        found: list[Span] = []
        for place in draft.places:
            for name in ("length", "width", "side", "second_side", "base", "height", "diameter", "radius", "around", "clear",
                         "outer", "depth", "fill", "area", "volume", "rate", "rate_per"):  # fmt: skip
                span = getattr(place, name)
                if span is not None:
                    found.append(span)
            found.extend(place.size)
            found.extend(place.layer)
        for span in (draft.have, draft.pack, draft.soil, draft.water, draft.density):
            if span is not None:
                found.append(span)
        found.extend(u.span for u in draft.unsure)
        return [span for span in found if span.unit not in ("percent",)]

    def _tea_places(self) -> None:
        """A tea's vessel is its water; a drench for each plant is water too; another job beside a tea is asked about."""
        draft = self.draft
        tea = draft.way == "tea" or draft.ratio is not None or draft.ratio_spans is not None or "spray" in draft.hints
        if not tea:
            if draft.water is not None and draft.asked != "water":
                draft.noted.append((_amount(draft.water), "water, not castings"))
                draft.water = None
            return
        for place in list(draft.places):
            if place.kind == "container" and place.volume is not None and draft.water is None and not (place.share or place.recipe):
                count = place.count or 1.0
                draft.water = Span(place.volume.low * count, place.volume.high * count, place.volume.unit)
                draft.places.remove(place)
            elif place.rate is not None and place.count is not None and draft.water is None and draft.asked != "plants" and (
                draft.ratio is not None or draft.ratio_spans is not None
            ):  # fmt: skip
                draft.water = Span(place.rate.low * place.count, place.rate.high * place.count, place.rate.unit)
                draft.places.remove(place)
            elif place.layer or place.share or (place.way and place.way != "tea" and place.has_size):
                raise _Ask("one-at-a-time", "a tea and another use: ask for one at a time, please", needs="one")

    def _units(self) -> None:
        """Every doubtful unit gets an exact one, or is asked about."""
        draft = self.draft
        for place in draft.places:
            for name in ("volume", "rate"):
                span = getattr(place, name)
                if span is not None:
                    brewed = draft.have_is_tea or draft.way == "tea"
                    setattr(place, name, self._exact(span, "brewed" if brewed else "kitchen" if name == "rate" else "pot", place))
            if place.rate_per is not None:
                place.rate_per = self._exact(place.rate_per, "mix", place)
        for name, use in (("have", "bagged"), ("pack", "bagged"), ("soil", "bagged"), ("water", "brewed")):
            span = getattr(draft, name)
            if span is not None:
                setattr(draft, name, self._exact(span, use, None))
        draft.more_have = [self._exact(span, "bagged", None) for span in draft.more_have]
        if draft.ratio_spans:
            draft.ratio_spans = (self._exact(draft.ratio_spans[0], "kitchen", None),
                                 self._exact(draft.ratio_spans[1], "brewed", None))  # fmt: skip
        if draft.per_volume:
            draft.per_volume = (self._exact(draft.per_volume[0], "kitchen", None), self._exact(draft.per_volume[1], "mix", None))
        if draft.limit:
            draft.limit = (draft.limit[0], self._exact(draft.limit[1], "bagged", None))
        if draft.weighed:
            draft.weighed = (draft.weighed[0], self._exact(draft.weighed[1], "bagged", None))
        if draft.density is not None:
            draft.density = self._exact_density(draft.density)
        if draft.price_per is not None:
            draft.price_per = self._exact(draft.price_per, "bagged", None)
        for unsure in draft.unsure:
            unsure.span = self._exact(unsure.span, "bagged" if self._bagged() else "mix", None)
        if draft.asked_unit in ("gallon", "ton"):
            draft.asked_unit = _DEFAULT_UNIT[draft.asked_unit][0]
        elif draft.asked_unit in _QUART_PINT:
            brewed = draft.way == "tea" or draft.water is not None
            draft.asked_unit = _QUART_PINT[draft.asked_unit][1 if brewed else 0]
            self.assume("quarts", f"{'liquid' if brewed else 'dry'} measure for the answer, as "
                        f"{'liquids are measured' if brewed else 'castings are bagged'}")  # fmt: skip
        elif draft.asked_unit == "yard":
            draft.asked_unit = "cubic_yard"

    def _bagged(self) -> bool:
        draft = self.draft
        return draft.asked in _BACKWARDS or "on-hand" in draft.hints or draft.enough

    def _exact(self, span: Span, use: str, place: PlaceDraft | None) -> Span:
        name = span.unit
        if name in _DEFAULT_UNIT:
            exact, says = _DEFAULT_UNIT[name]
            if "imperial" in self.draft.hints and name == "gallon":
                exact, says = "imperial_gallon", "imperial gallons"
            if name == "ton" and self._metric_context():
                exact, says = "tonne", "tons are tonnes of 1000 kg"
            self.assume(name, says)
            return span._replace(unit=exact)
        if name in _QUART_PINT:
            dry, liquid = _QUART_PINT[name]
            if "imperial" in self.draft.hints:
                self.assume(name, f"imperial {name}s")
                return span._replace(unit=f"imperial_{name}")
            if use == "brewed":
                self.assume(name, f"{name}s of water or tea are liquid {name}s")
                return span._replace(unit=liquid)
            if use == "pot":
                self.assume(name, f"a pot's {name}s are liquid {name}s, as pots are sold")
                return span._replace(unit=liquid)
            self.assume(name, f"{name}s of castings or mix are dry {name}s, as on a bag; liquid ones are 14 % less")
            return span._replace(unit=dry)
        if name == "yard" and use in ("mix", "bagged"):
            return span._replace(unit="cubic_yard")
        return span

    def _exact_density(self, span: Span) -> Span:
        weight, _, volume = span.unit.partition(" / ")
        exact_weight = self._exact(Span(1, 1, weight), "bagged", None).unit
        exact_volume = self._exact(Span(1, 1, volume), "bagged", None).unit
        return span._replace(unit=f"{exact_weight} / {exact_volume}")

    def _metric_context(self) -> bool:
        return any(_is_metric_unit(span.unit) for span in self._spans())

    # ---- places that are only context ----------------------------------------------------------------

    def _drop_context_places(self) -> None:
        """Plants that stand in a bed that is being worked out, and beds around plants that are."""
        draft = self.draft
        self._join_rate_and_count()
        kept: list[PlaceDraft] = []
        rated = [p for p in draft.places if p.rate is not None or (p.kind in ("plant", "hole") and p.count)]
        for place in draft.places:
            if place.kind == "plant" and place.rate is None and not place.has_size and draft.asked != "plants":
                host = next((p for p in draft.places if p is not place and (p.has_size or p.layer) and p.kind != "plant"), None)
                if host is not None and place.tie in ("in", "with", "for", "of", "on"):
                    host.crop = host.crop or place.crop
                    if place.count:
                        draft.noted.append((f"{place.count:g} {place.printed}", "they stand in the place that is treated"))
                    continue
                if host is not None and not place.count:
                    host.crop = host.crop or place.crop
                    continue
            if "around" in place.hints and rated and not (place.layer or place.share or place.depth or place.recipe):
                if draft.asked not in ("area",) and not any(u for u in draft.unsure):
                    if place.has_size:
                        draft.noted.append((_size_text(place), "the place where the plants stand"))
                    continue
            if place.is_empty and not place.noun and len(draft.places) > 1:
                continue
            kept.append(place)
        # a noun alone beside a place with a size is the same place spoken of again
        if len(kept) > 1:
            sized = [p for p in kept if not p.is_empty]
            if sized and len(sized) < len(kept):
                for place in kept:
                    if place.is_empty and place.kind in ("ground", "container", "mix"):
                        for target in sized:
                            target.noun, target.kind, target.printed = (
                                (target.noun, target.kind, target.printed) if target.noun else (place.noun, place.kind, place.printed)
                            )
                kept = [p for p in kept if not p.is_empty or p.kind in ("plant", "hole")]
        draft.places = kept

    def _join_rate_and_count(self) -> None:
        """ "2 cups a plant, … 90 plants": the rate and the count of the same plants."""
        places = self.draft.places
        rated = [p for p in places if p.kind == "plant" and p.rate is not None and p.count is None and "asked" not in p.hints]
        counted = [p for p in places if p.kind == "plant" and p.rate is None and p.count is not None and not p.has_size and not p.layer]
        if len(rated) == 1 and len(counted) == 1:
            counted[0].rate, counted[0].rate_per = rated[0].rate, rated[0].rate_per
            counted[0].hints |= rated[0].hints
            places.remove(rated[0])

    # ---- measures that had no role -------------------------------------------------------------------

    def _unsure(self) -> None:
        draft = self.draft
        for unsure in list(draft.unsure):
            dim = unsure.span.dimension
            table = {"length": "length", "volume": "volume", "weight": "weight"}.get(dim)
            if table is None:
                raise _Ask("stray-number", f"what is “{unsure.text}”? It found no place in the request", needs="stray")
            place = self._place_of(unsure)
            weighed = weigh(table, self._signs(unsure, place))
            reading = weighed.clear
            if not reading:
                self._ask_role(unsure, place, [name for name, _, _ in weighed.readings])
            self._give_role(reading, unsure, place)
        draft.unsure.clear()

    def _place_of(self, unsure: Unsure) -> PlaceDraft | None:
        places = self.draft.places
        if not places:
            return None
        index = unsure.place if 0 <= unsure.place < len(places) else len(places) - 1
        return places[index]

    def _signs(self, unsure: Unsure, place: PlaceDraft | None) -> set[str]:
        draft = self.draft
        signs: set[str] = set()
        low, high = unsure.span.base
        if unsure.span.dimension == "length":
            if high <= _THIN:
                signs.add("thin")
            if low >= _THICK:
                signs.add("thick")
        hints = draft.hints | (place.hints if place else set())
        if draft.asked in _BACKWARDS or draft.asked == "packs" and False:
            signs.add("backwards")
        if draft.asked == "by-unit":
            unit_kind = unit(draft.asked_unit).dimension if draft.asked_unit else ""
            if unit_kind in ("area", "length"):
                signs.add("backwards")
            elif not any(p.has_size or p.rate or p.layer for p in draft.places):
                signs.add("conversion")
        if draft.asked == "weight" and not any(p.has_size or p.rate or p.layer or p.share for p in draft.places):
            signs.add("conversion")
        if draft.density is not None and not draft.places:
            signs.add("conversion")
        if (draft.price is not None or draft.pack is not None or draft.asked in ("cost", "packs")) and not draft.places:
            signs.add("conversion")
        if draft.have is not None or draft.packs_count or draft.loads or (draft.pack is not None and "backwards" in signs):
            signs.add("have said")
        if any(c.startswith("before:link:on-hand") for c in unsure.cues) or (
            "on-hand" in draft.hints and not any(p.has_size for p in draft.places)
        ):
            signs.add("on hand before")
        if "before:link:of" in unsure.cues:
            signs.add("place of")
        if draft.enough:
            signs.add("enough asked")
        if draft.recipe or draft.parts_share or any(p.share for p in draft.places):
            signs.add("share or recipe")
        if draft.way == "tea" or draft.ratio_spans or "spray" in hints:
            signs.add("tea")
        if draft.water is not None:
            signs.add("water said")
        if draft.way == "blend" or "mixed-in" in hints:
            signs.add("blend said")
        if draft.way == "top-dress" or (place and place.way == "top-dress"):
            signs.add("way top-dress")
        if "seedlings" in hints or any(p.kind == "seed-mix" for p in draft.places) or draft.way == "seed-mix":
            signs.add("seed mix")
        if self.awaiting:
            signs.add("awaits " + self.awaiting)
        if place is not None:
            if place.share or draft.recipe or draft.parts_share:
                signs.add("share said")
            if place.has_size:
                signs.add("sized")
            if place.area and not place.share:
                signs.add("area only")
            if place.depth or place.fill:
                signs.add("depth said")
            if place.layer:
                signs.add("layer said")
            if place.kind == "container":
                signs.add("container")
                if place.noun in _POT_LIKE:
                    signs.add("round container")
            if place.diameter or place.radius:
                signs.add("across said")
            if place.height:
                signs.add("height said")
            if place.noun in _ROW_LIKE:
                signs.add("row")
            if place.length or len(place.size) >= 1:
                signs.add("long said")
            if place.width or len(place.size) >= 2:
                signs.add("wide said")
            if place.rate:
                signs.add("rate said")
            if place.kind in ("plant", "hole"):
                signs.add("plants")
            if place.each and place.kind in ("plant", "hole"):
                signs.add("each said")
        if unsure.span.unit in _KITCHEN or "altogether" in unsure.cues or unsure.cues & {"before:link:with", "before:link:at"} or (
            place is not None and place.kind == "hole"
        ) or self.awaiting:  # fmt: skip
            signs.add("dose")
        if "cover" in draft.asks:
            signs.add("cover asked")
        return signs

    def _give_role(self, reading: str, unsure: Unsure, place: PlaceDraft | None) -> None:
        draft = self.draft
        span = unsure.span
        if place is None and reading not in ("have", "water", "pack"):
            place = PlaceDraft()
            draft.places.append(place)
        if reading == "have":
            if draft.have is None:
                draft.have = span
            else:
                draft.more_have.append(span)
        elif reading == "water":
            draft.water = span
        elif reading == "rate" and "altogether" in unsure.cues:
            assert place is not None
            place.rate, place.rate_whole = span, True
        elif reading == "layer":
            assert place is not None
            place.layer.append(span)
        elif reading == "mix":
            assert place is not None
            if place.volume is not None or place.kind in ("plant", "hole"):
                place = PlaceDraft()
                draft.places.append(place)
            place.volume = span
            if not place.noun:
                place.noun, place.kind, place.printed = "mix", "mix", "mix"
        else:
            assert place is not None
            if "altogether" in unsure.cues and span.dimension == "length":
                place.each = False
            if getattr(place, reading) is not None:
                raise _Ask("two-values", f"two values for the {reading}; which holds, the first or {unsure.text}?", needs=reading)
            setattr(place, reading, span)
            if reading == "rate":
                place.each = True

    def _ask_role(self, unsure: Unsure, place: PlaceDraft | None, readings: list[str]) -> None:
        dim = unsure.span.dimension
        if dim == "length":
            if place is not None and place.has_size:
                raise _Ask("role", f"is “{unsure.text}” the depth of the soil, or a layer of castings on top?", needs="role",
                           offers=(f"{unsure.text} deep", f"a layer of {unsure.text}"))  # fmt: skip
            raise _Ask("size", f"“{unsure.text}” is one side; what is the other, and what kind of place is it?", needs="size")
        if place is not None and place.kind in ("plant", "hole"):
            raise _Ask("each-or-all", f"is “{unsure.text}” for each of them, or for all together?", needs="each",
                       offers=(f"{unsure.text} each", f"{unsure.text} altogether"))  # fmt: skip
        if dim == "volume":
            raise _Ask(
                "role",
                f"is “{unsure.text}” the castings you have, or the mix they go into?",
                needs="role",
                offers=(f"I have {unsure.text} of castings", f"{unsure.text} of mix"),
            )
        raise _Ask("role", f"what is “{unsure.text}”: castings you have, what each plant gets, or a bag?", needs="role")

    # ---- what is asked -------------------------------------------------------------------------------

    def _asked(self) -> str:
        draft = self.draft
        asked = trade_asked(draft) or draft.asked
        if asked == "explanation":
            return asked
        if asked == "by-unit":
            kind = unit(draft.asked_unit).dimension
            if kind == "area":
                asked = "area"
            elif kind == "length":
                asked = "layer" if any(p.has_size for p in draft.places) else "length"
            elif kind == "number":
                asked = "share"
            else:
                asked = "castings"
        if asked == "density":
            self._weighed_from_parts()
            if draft.weighed is not None:
                draft.pack, draft.packs_count = None, None
        if not asked and draft.asked_unit:
            kind = unit(draft.asked_unit).dimension
            asked = "area" if kind == "area" and draft.have else "castings"
        if asked == "layer" and not draft.have and draft.pack is None and not draft.unsure and any(p.has_size for p in draft.places) and (
            any(name == "unknown" for name, _ in draft.replies)
        ):  # fmt: skip
            asked = "castings"
        if not asked and draft.have is not None and draft.pack is not None and not draft.places and not draft.packs_count and (
            draft.pack.dimension == draft.have.dimension or draft.density is not None
        ):  # fmt: skip
            asked = "packs"
        if not asked and draft.have is not None and draft.price is not None and draft.price_per is not None and not draft.places:
            asked = "cost"
        if not asked and draft.enough:
            asked = "castings"
        if not asked and draft.asks and "how-many" in draft.asks and (draft.pack or draft.pack_noun):
            asked = "packs"
        if not asked and "what-cost" in draft.asks:
            asked = "cost"
        if not asked and draft.price and draft.pack and draft.hints & {"altogether"}:
            asked = "cost"
        if asked in ("castings", "") and draft.price and draft.hints & {"altogether"} and not draft.asks:
            asked = "cost"
        if asked in ("", "castings") and self._packs_compared():
            asked = "cheaper"
        if not asked and draft.asks and "cover" in draft.asks and (draft.have or draft.packs_count or (draft.budget and not draft.pack)):
            sized = any(p.has_size for p in draft.places)
            asked = "castings" if sized else "area"
            draft.enough = draft.enough or sized
        if asked == "left-over":
            asked = "castings"
            draft.enough = True
        if asked == "castings" and draft.asked_unit and unit(draft.asked_unit).dimension == "weight":
            asked = "weight"
        return asked or "castings"

    def _packs_compared(self) -> bool:
        """ "compare the bags", "which bag is cheapest": the packs of a catalogue are set side by side, none of the request's own."""
        draft = self.draft
        if not draft.pack_noun or draft.pack is not None or draft.packs_count or draft.price is not None or draft.budget is not None:
            return False
        return bool({"cheaper", "compare-at"} & {*draft.asks}) and not (draft.compare or draft.compare_layers or draft.have)

    def _weighed_from_parts(self) -> None:
        """ "18 kg bag, 28 L: kg per litre?": a weight and a volume of the same castings."""
        draft = self.draft
        spans = [span for span in (draft.pack, draft.have, *draft.more_have) if span is not None] + [u.span for u in draft.unsure]
        weights = [span for span in spans if span.dimension == "weight"]
        volumes = [span for span in spans if span.dimension == "volume"]
        if draft.weighed is None and len(weights) == 1 and len(volumes) == 1:
            draft.weighed = (weights[0], volumes[0])
            draft.have, draft.pack, draft.more_have = None, None, []

    # ---- sharing what was said once ------------------------------------------------------------------

    def _spread(self) -> None:
        """What was said once for several places goes to each of them."""
        draft = self.draft
        places = [p for p in draft.places if p.kind not in ("plant", "hole")]
        if draft.parts_share is not None:
            if not places:
                draft.places.append(PlaceDraft())
                places = [draft.places[-1]]
            for place in places:
                if place.share is None and not place.layer:
                    place.share = draft.parts_share
        if draft.recipe:
            targets = [p for p in places if not p.layer and not p.share] or ([] if draft.places and draft.way == "tea" else [])
            if not places:
                place = PlaceDraft()
                draft.places.append(place)
                targets = [place]
            for place in targets:
                place.recipe = list(draft.recipe)
        if draft.soil is not None and not draft.places:
            draft.places.append(PlaceDraft())
        if draft.minus and places:
            places[0].minus.extend(draft.minus)
        if len(places) < 2:
            return
        for name, label in (("depth", "depth"), ("share", "share")):
            missing = [p for p in places if getattr(p, name) is None and not p.layer and not p.recipe
                       and not (name == "depth" and (p.volume or p.kind != "ground" and p.kind != ""))
                       and p.way not in ("top-dress",)]  # fmt: skip
            said = [p for p in places if getattr(p, name) is not None]
            values = {getattr(p, name) for p in said}
            if missing and len(values) == 1 and not (name == "depth" and said[0].kind == "container"):
                value = values.pop()
                for place in missing:
                    setattr(place, name, value)
                self.assume(f"{label}-for-all", f"the {label} {_amount(value)} is taken for every place")
        if not any(p.layer for p in places) or all(p.layer for p in places):
            return
        said_layers = [p.layer for p in places if p.layer]
        missing = [p for p in places if not p.layer and not p.share and not p.depth and not p.recipe and not p.volume and p.has_size]
        if missing and all(layer == said_layers[0] for layer in said_layers):
            for place in missing:
                place.layer = list(said_layers[0])
            self.assume("layer-for-all", f"the layer {_amount(said_layers[0][0])} is taken for every place")

    # ---- one place -----------------------------------------------------------------------------------

    def _place(self, place: PlaceDraft, asked: str) -> Place | None:
        draft = self.draft
        self._length_units(place)
        self._contradictions(place)
        if place.layer and place.share is not None and place.way != "incorporate" and draft.way != "incorporate" and len(draft.places) == 1:
            raise _Ask("layer-or-share", f"is {_amount(place.layer[0])} a layer of castings, or the depth of a mix with "
                       f"{_amount(place.share)} castings?", needs="role")  # fmt: skip
        if "volume-by-each" in place.hints and not (place.share or place.recipe or draft.parts_share or draft.way or draft.compare or draft.hints & {"new-fill", "mixed-in", "recipe", "mix-named"} or "mix-named" in place.hints):
            assert place.volume is not None
            raise _Ask("size-or-rate", f"is {_amount(place.volume)} the size of each, or the castings for each?", needs="role")
        shape = self._shape(place)
        depth = self._depth(place)
        if depth is not None and place.share is None and not layer_said(place) and depth.base[1] <= _THIN and (
            asked in ("area", "length") or (place.kind in ("ground", "") and not place.recipe and place.way in ("", "top-dress")
                                            and draft.way in ("", "top-dress"))
        ):  # fmt: skip
            place.layer, depth = [depth], None
        way = self._way(place, shape, depth, asked)
        layer = tuple(place.layer)
        if way == "top-dress" and not layer and depth is not None and depth.base[1] <= _THIN and not place.share:
            layer, depth = (depth,), None  # "half an inch deep" of a top-dressing is its layer
        if way == "top-dress" and layer and len(layer) == 1 and "way:top-dress" in draft.hints:
            pass
        count = place.count
        if place.portion is not None and count is not None and place.kind in ("plant", "hole") and not place.has_size:
            count = count * place.portion
            if abs(count - round(count)) > 1e-9:
                raise _Ask("count", f"{count:g} of them: how many whole ones?", needs="count")
            self.assume("portion", f"{place.portion:g} of {place.count:g}: {count:g}")
        if "too-much" in draft.topics and place.has_size and not (place.share or place.layer or place.rate or place.recipe) and (
            place.kind in ("container", "ground", "mix")
        ):  # fmt: skip
            raise _Ask("pure", "is it to be castings alone? Say “100 % castings”, or the share", needs="share")
        altogether = place.each is False
        if place.kind in ("plant", "hole") and count is None and "asked" not in place.hints and place.spacing is None:
            if place.rate is not None and "article" in place.hints:
                count = 1.0
        return Place(
            noun=place.noun, kind=place.kind, printed=place.printed, crop=place.crop, name=place.name, shape=shape, count=count,
            count_high=place.count_high, altogether=altogether,
            portion=None if place.kind in ("plant", "hole") and not place.has_size else place.portion,
            minus=tuple(self._shape(corner) for corner in place.minus), depth=depth, layer=layer, share=place.share,
            rate=place.rate, rate_per=place.rate_per, recipe=tuple(place.recipe),
            rate_altogether=place.rate_whole,
            per_volume=draft.per_volume, soil=draft.soil if place is draft.places[0] else None, spacing=place.spacing,
            **place_extras(place, draft),
            way=way, hints=frozenset(h for h in place.hints | draft.hints if ":" not in h),  # type: ignore[arg-type]
        )  # fmt: skip

    def _contradictions(self, place: PlaceDraft) -> None:
        """Two sizes that cannot both hold, or a shape that is not known."""
        if "other-form" in self.draft.hints and not (place.area or place.volume) and place.has_size and place.kind not in ("plant", "hole"):
            word = next((text for code, text in self.draft.flags if code == "form"), "that")
            raise _Ask("form", f"“{word}”: that form is not worked out here; what is its area?", needs="area")
        if place.second_area is not None and len(place.size) >= 2 and not place.form:
            one, two = place.size[0].base, place.size[1].base
            area = place.second_area.base
            if abs(one[0] * two[0] - area[0]) > 0.03 * area[0]:
                raise _Ask("contradiction", f"{_size_text(place)} is not {_amount(place.second_area)}; which of the two is right?",
                           needs="size")  # fmt: skip
        if place.radius is not None and (place.diameter is not None or place.size):
            raise _Ask("contradiction", "two different sizes of one round place; which is right?", needs="size")
        if place.bottom is not None and not (place.kind == "container" and place.diameter is not None):
            raise _Ask("fills", "what stands at the bottom? Say how deep the mix itself is", needs="depth")
        if "tapered" in place.hints and place.kind == "ground":
            raise _Ask("shape", "how wide is it in the middle? A bed that narrows is as big as its middle width times its length",
                       needs="width")  # fmt: skip

    def _length_units(self, place: PlaceDraft) -> None:
        """A size without a unit: feet in a garden, metres where the rest of the request is metric."""
        if place.size and not place.size_unit_said:
            lengths = [s for s in self._lengths() if s.unit]
            metric = bool(lengths) and all(_is_metric_unit(s.unit) for s in lengths)
            if place.kind == "container":
                raise _Ask("unit", f"{_size_text(place)}: in inches, feet, cm or m?", needs="unit")
            if any(s.unit for s in place.size):
                raise _Ask("unit", f"{_size_text(place)}: is every side in the same unit? Say it with each one", needs="unit")
            biggest = max(s.high for s in place.size)
            name = "metre" if metric else "foot"
            if len(place.size) > 2 or (metric and biggest > 30) or (not metric and biggest > 200):
                raise _Ask("unit", f"{_size_text(place)}: in what unit?", needs="unit")
            place.size = tuple(Span(s.low, s.high, name) for s in place.size)
            self.assume("size-unit", f"the sides are in {'metres' if metric else 'feet'}")

    def _lengths(self) -> list[Span]:
        found = []
        for place in self.draft.places:
            for span in (place.length, place.width, place.depth, place.fill, place.height, place.diameter, *place.size, *place.layer):
                if span is not None:
                    found.append(span)
        found.extend(u.span for u in self.draft.unsure)
        return found

    def _shape(self, place: PlaceDraft) -> Shape:
        if place.nursery_class is not None:
            return Shape(form="class", number=place.nursery_class)
        if place.cells is not None:
            return Shape(form="cells", number=place.cells)
        if draft_name := self.draft.named_size:
            if place.noun == "tray" and not place.has_size:
                return Shape(form="named", name=draft_name)
        if place.outer is not None or (place.form == "ring" and place.clear is not None) or (
            place.clear is not None and (place.diameter or place.radius)
        ):  # fmt: skip
            return self._ring(place)
        if place.volume is not None:
            return Shape(form="volume", dims={"volume": place.volume})
        if place.area is not None:
            return Shape(form="area", dims={"area": place.area})
        container = place.kind == "container"
        if place.diameter is not None or place.radius is not None or place.around is not None:
            dims: dict[str, Span] = {}
            if place.diameter is not None:
                dims["diameter"] = place.diameter
            elif place.radius is not None:
                dims["radius"] = place.radius
            else:
                assert place.around is not None
                dims["around"] = place.around
            if container:
                height = place.height or place.depth
                if height is not None:
                    dims["height"] = height
                if place.bottom is not None:
                    dims["bottom"] = place.bottom
                return Shape(form="pot", dims=dims)
            return Shape(form="circle", dims=dims)
        size = place.size
        if place.form == "triangle":
            return self._triangle(place)
        if place.form == "oval" and len(size) >= 2:
            return Shape(form="oval", dims={"length": size[0], "width": size[1]})
        if place.form == "round" and len(size) == 1:
            return Shape(form="circle", dims={"diameter": size[0]})
        if place.form == "round" and len(size) == 2 and size[0] == size[1]:
            return Shape(form="circle", dims={"diameter": size[0]})
        sides = list(size[:2])
        if place.side is not None:
            sides = [place.side, place.second_side or place.side]
        if not sides and place.length is not None and place.width is not None:
            sides = [place.length, place.width]
        elif len(sides) == 1 and (place.width or place.length):
            sides.append(place.width or place.length)  # type: ignore[arg-type]
        if place.form == "oval" and len(sides) == 2:
            return Shape(form="oval", dims={"length": sides[0], "width": sides[1]})
        if len(sides) == 2:
            return Shape(form="rectangle", dims={"length": sides[0], "width": sides[1]})
        if place.length is not None:
            return Shape(form="none", dims={"length": place.length})
        if place.width is not None:
            return Shape(form="none", dims={"width": place.width})
        return Shape(form="none")

    def _ring(self, place: PlaceDraft) -> Shape:
        dims: dict[str, Span] = {}
        if place.clear is not None:
            dims["inner"] = place.clear
        if place.outer is not None:
            dims["outer"] = place.outer
        elif place.diameter is not None:
            dims["across"] = place.diameter
        elif place.radius is not None:
            dims["outer"] = place.radius
        return Shape(form="ring", dims=dims)

    def _triangle(self, place: PlaceDraft) -> Shape:
        size = place.size
        if place.base is not None and (place.height or place.depth):
            rise = place.height
            if rise is not None:
                return Shape(form="triangle", dims={"base": place.base, "rise": rise})
        if "right-angle" in place.hints | self.draft.hints or "right-angle" in self.draft.hints:
            legs = list(size[:2]) or [s for s in (place.side, place.second_side or place.side) if s is not None]
            if len(legs) == 2:
                return Shape(form="triangle", dims={"base": legs[0], "rise": legs[1]})
        if len(size) == 2:
            self.assume("triangle", "the two lengths are the base and the height of the triangle")
            return Shape(form="triangle", dims={"base": size[0], "rise": size[1]})
        if place.base is not None:
            raise _Ask("size", "how high is the triangle, measured straight up from its base?", needs="height")
        raise _Ask("size", "what are the base and the height of the triangle?", needs="size")

    def _depth(self, place: PlaceDraft) -> Span | None:
        if place.fill is not None:
            rim = place.height or place.depth
            if rim is not None and rim.base[0] + 1e-9 < place.fill.base[1]:
                raise _Ask("contradiction", "it cannot be filled deeper than it is; which of the two is right?", needs="depth")
            return place.fill
        if place.below_rim is not None:
            rim = place.height or place.depth or (place.size[2] if len(place.size) > 2 else None)
            if rim is None:
                return None
            low = rim.low - place.below_rim.to(rim.unit).high
            high = rim.high - place.below_rim.to(rim.unit).low
            if low <= 0:
                raise _Ask("contradiction", "that leaves no soil at all; which of the two is right?", needs="depth")
            return Span(low, high, rim.unit)
        if place.depth is not None:
            if place.height is not None and place.height.base[1] + 1e-9 < place.depth.base[0]:
                raise _Ask("contradiction", "the soil is deeper than the sides are high; which of the two is right?", needs="depth")
            return place.depth
        if len(place.size) > 2:
            return place.size[2]
        if place.height is not None and place.form != "triangle":
            if not place.layer:
                self.assume("filled-to-rim", "filled to the rim")
            return place.height
        return None

    def _way(self, place: PlaceDraft, shape: Shape, depth: Span | None, asked: str) -> str | None:
        draft = self.draft
        said = place.way or (draft.way if draft.way not in draft.not_ways else "")
        if said in draft.not_ways:
            said = ""
        hints = place.hints | draft.hints
        if (len(place.recipe) == 2 or draft.parts_share) and draft.soil is not None and shape.form == "none" and asked == "castings":
            self.assume("soil-of-recipe", "the soil named is the other part of the recipe")
            return "incorporate"
        if draft.soil is not None and place.share is not None and shape.form == "none" and asked == "castings" and not said:
            self.assume("soil-named", "the soil named is there already, and castings are added to it")
            return "incorporate"
        if said == "blend" and ("existing-soil" in hints or "top-of" in hints) and "new-fill" not in hints and place.kind == "ground":
            said = ""
        if said == "top-dress" and place.kind in ("plant", "hole") and place.rate is not None and not place.layer:
            return "side-dress" if place.kind == "plant" else "planting-hole"
        if said == "top-dress" and place.share is not None and not place.layer and (depth or shape.form == "volume"):
            said = ""
        if said == "planting-hole" and not (place.kind in ("plant", "hole", "") or place.rate):
            said = ""
        if said == "side-dress" and place.kind not in ("plant", "hole", "", "ground") and place.rate is None and (
            place.share or depth
        ):  # fmt: skip
            said = ""
        if said and len(draft.places) > 1 and not place.way:
            # a way said once does not fit a place that speaks of another
            if said == "top-dress" and (place.share or place.rate):
                said = ""
            elif said in ("side-dress", "planting-hole") and (place.layer or place.share):
                said = ""
            elif said in ("blend", "incorporate") and (place.layer or place.rate):
                said = ""
        if said == "tea" and (place.layer or place.share):
            said = ""
        if said == "incorporate" and place.layer and not place.share and not depth:
            said = "top-dress"
        if not said and draft.filled:
            return "blend"
        if said:
            return said
        weighed = weigh("way", self._way_signs(place, shape, depth), draft.not_ways)
        if not weighed.readings:
            return None
        if weighed.clear:
            name, _, why = weighed.readings[0]
            self.assume("way", f"{name.replace('-', ' ')}, since {why}")
            return name
        names = [name for name, _, _ in weighed.readings[:2]]
        raise _Ask("way", f"{names[0].replace('-', ' ')} or {names[1].replace('-', ' ')}?", needs="way",
                   offers=tuple(n.replace("-", " ") for n in names))  # fmt: skip

    def _way_signs(self, place: PlaceDraft, shape: Shape, depth: Span | None) -> set[str]:
        draft = self.draft
        hints = place.hints | draft.hints
        signs: set[str] = set()
        if draft.water is not None or draft.way == "tea" or draft.ratio is not None or draft.ratio_spans or "spray" in hints:
            signs.add("tea")
        if draft.strip or "band" in hints:
            signs.add("band")
        if place.kind == "seed-mix" or "seedlings" in hints:
            signs.add("seed mix")
        if place.kind == "hole" or "hole" in hints or draft.way == "planting-hole" or "way:planting-hole" in draft.hints:
            signs.add("hole")
        if place.layer or draft.compare_layers:
            signs.add("layer said")
        if place.rate is not None:
            signs.add("rate said")
            if place.rate_per is not None and place.rate_per.dimension == "area":
                signs.add("per area")
        if place.share is not None or draft.compare or place.recipe:
            signs.add("share said")
        if "existing-soil" in hints:
            signs.add("existing soil")
        if "top-of" in hints:
            signs.add("top of soil")
        if "new-fill" in hints:
            signs.add("new")
        if place.recipe:
            signs.add("recipe")
        if place.kind == "mix" or ("mixed-in" in hints and place.kind == "container") or draft.per_volume:
            signs.add("mixes")
        if place.has_size:
            signs.add("sized")
            if place.kind in ("ground", ""):
                signs.add("ground sized")
        if depth is not None:
            signs.add("depth said")
        if "established" in hints:
            signs.add("established")
        if "no-dig" in hints:
            signs.add("no dig")
        if place.kind == "container":
            signs.add("container")
        if place.noun == "lawn":
            signs.add("lawn")
        if shape.form == "ring" or "trunk" in hints:
            signs.add("tree ring")
        if place.kind in ("plant", "hole") and not place.has_size and (draft.asks or "castings-named" in hints or draft.replies):
            signs.add("plants only")
        return signs

    # ---- money, packs, tea ---------------------------------------------------------------------------

    def _pack(self) -> Pack | None:
        draft = self.draft
        if draft.pack is None and draft.packs_count is None and draft.price is None:
            return None
        return Pack(
            size=draft.pack,
            noun=draft.pack_noun or "bag",
            count=draft.packs_count,
            price=f"{draft.price[0]:.2f}" if draft.price else None,
            currency=draft.price[1] if draft.price else None,
            price_per=draft.price_per,
        )

    def _tea(self) -> Tea | None:
        draft = self.draft
        tea = draft.way == "tea" or draft.ratio is not None or draft.ratio_spans or "spray" in draft.hints or draft.water is not None
        if not tea or draft.way not in ("", "tea") and draft.water is None:
            return None
        return Tea(water=draft.water, ratio=draft.ratio, strength=draft.ratio_spans)

    # ---- what is missing -----------------------------------------------------------------------------

    def _nothing_there(self, asked: str) -> None:
        draft = self.draft
        if asked in ("explanation", "cheaper"):
            return
        if not draft.places and not self._computable() and not draft.way:
            known = draft.words - len(draft.unread)
            if draft.unread and (not draft.asks or len(draft.unread) >= known) and "castings-named" not in draft.hints:
                raise _Ask("unread", self._unread_text(), status="unread")
            if "castings-named" in draft.hints or draft.asks:
                if not self._trade_words():
                    raise _Ask("unread", self._unread_text(), status="unread")
                raise _Ask("place", "what are the castings for: a bed, pots, plants, a lawn, or a mix? And how big is it?",
                           needs="place")  # fmt: skip
            raise _Ask("unread", self._unread_text(), status="unread")

    def _other_material(self, asked: str) -> None:
        """Another material spoken of where castings are not: only castings are worked out."""
        draft = self.draft
        if asked == "soil" and draft.asked_noun not in ("soil", "topsoil", "compost", "potting-mix-base", "") and draft.have is None and (
            not draft.recipe and "castings-named" not in draft.hints
        ):  # fmt: skip
            raise _Ask("other-material", f"only worm castings are worked out here, not {draft.asked_noun}; is it castings that you mean?",
                       needs="castings")  # fmt: skip
        if "castings-named" in draft.hints or draft.way == "tea" or asked in ("explanation", "soil", "mix", "water"):
            return
        named = sorted(h[10:] for h in draft.hints if h.startswith("component:") and h[10:] not in ("soil", "topsoil", "bin-leftovers"))
        goods = sorted(h[6:] for h in draft.hints if h.startswith("goods:"))
        left_out = [said for said, why in draft.noted if why in ("an amount of something else", "a weight of something else")]
        if (named or goods or left_out) and not draft.recipe and draft.parts_share is None and draft.places:
            what = (named or goods or left_out)[0].replace("-", " ")
            raise _Ask("other-material", f"only worm castings are worked out here, not {what}; is it castings that you mean?",
                       needs="castings")  # fmt: skip

    def _trade_words(self) -> bool:
        return "castings-named" in self.draft.hints or bool(self.draft.places) or bool(self.draft.way)

    def _unread_text(self) -> str:
        draft = self.draft
        words = ", ".join(f"“{word}”" for word in draft.unread[:4])
        start = f"{words} {'is' if len(draft.unread) == 1 else 'are'} not known here. " if words else "there is no request in that. "
        return start + "Ask how much worm castings something needs, as “4 by 9 ft bed, 10 inches deep, 10 % castings”"

    def _notes(self) -> None:
        draft = self.draft
        for said, read in draft.mended:
            self.assume("mended", f"read “{said}” as “{read}”")
        for code, text in draft.flags:
            self.assume(code, text)
        if draft.cut:
            self.assume("cut", "the line is very long; only its first part was read")
        for said, why in draft.noted:
            self.assume("not-an-amount", f"“{said}” is {why}, so it is left out")

    def _complete(self, query: Query) -> None:
        """Raises the question for whatever the query still lacks; the engine's defaults are not lacking."""
        from .complete import missing

        found = missing(query)
        if found is not None:
            code, text, needs = found
            raise _Ask(code, text, needs=needs)


def _figures_of(value: object, found: list[float]) -> None:
    """Every number within a dumped query."""
    if isinstance(value, dict):
        for one in value.values():
            _figures_of(one, found)
    elif isinstance(value, (list, tuple, set, frozenset)):
        for one in value:
            _figures_of(one, found)
    elif isinstance(value, bool):
        return
    elif isinstance(value, (int, float)):
        found.append(float(value))
    elif isinstance(value, str) and value[:1].isdigit():
        try:
            found.append(float(value))
        except ValueError:
            return


#: Which topic wins where several are touched: the narrow ones first.
_TOPIC_ORDER = [
    "tea-or-castings", "bin-leachate", "food-safety", "which-way", "what-are-castings", "units", "density", "how-often", "side-dress",
    "top-dress", "blend", "tea-how", "storage", "too-much", "too-little", "organic-matter", "salts", "nutrients", "settling", "loads",
    "trees", "moisture",
]  # fmt: skip

_METRIC = ("metre", "litre", "gram", "tonne", "hectare")


def _is_metric_unit(name: str) -> bool:
    return any(part in name for part in _METRIC) or name in ("are",)


def layer_said(place: PlaceDraft) -> bool:
    """Whether a layer is said of a place."""
    return bool(place.layer)


def _amount(span: Span) -> str:
    number = f"{span.low:g}" if span.low == span.high else f"{span.low:g} to {span.high:g}"
    return f"{number} {span.unit.replace('_', ' ')}".replace(" percent", " %")


def _size_text(place: PlaceDraft) -> str:
    if place.size:
        return " by ".join(_amount(s).strip() for s in place.size)
    if place.area:
        return _amount(place.area)
    return "the size"
