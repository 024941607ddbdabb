"""The engine: given a query, the relations that reach what was asked, solved and recorded.

The answer is a pure function of the query and the facts: the same request gives the same answer.
"""

from __future__ import annotations

import math
from decimal import Decimal
from typing import TYPE_CHECKING, Any

from grammar.quantities import Span, factor, unit
from grammar.query import Place, Query, Question
from grammar.reads import place_text, reads

from . import backwards
from .answer import Advice, Amount, Answer, Asked, Assumed, Component, Cost, PackCount, Pair, Part, Working
from .ends import CALLED, at_end, why
from .judge import cautions, judge, judge_share, judge_tea, judgement, said_for
from .knowledge import facts
from .relations import SEASON, Value
from .remarks import Scene, remarks
from .sheet import Sheet, Step
from .teas import batches, needed, treated
from .units import Printer, printed, span_text, symbol
from .work import RENAMING, Density, Unworkable, Worked, as_aside, base, check_scale, work

if TYPE_CHECKING:
    from .knowledge.words import Term
    from .purchase import Bought, Wanted
    from .shop import Catalogue

_LITRE = factor("litre")


def answer(query: Query, request: str, shop: Catalogue | None = None) -> Answer | Question:
    """The answer to a query; a Question where the facts show that a detail is missing or out of scale.

    `shop` is a shop's own catalogue: every forward answer then lists what to buy.
    """
    try:
        if query.asked == "explanation":
            return _explanation(query, request)
        working = _Answering(query, request, shop)
        return working.with_charges(working.answer())
    except Unworkable as problem:
        return Question(status="asks", code=problem.code, text=problem.text, needs=problem.needs, reads=reads(query),
                        set_aside=query.set_aside)  # fmt: skip
    except ArithmeticError:
        # an amount of nothing that something is divided by, or one beyond any number
        text = "one of the amounts is nothing at all, or beyond any scale known here; what are the amounts meant?"
        return Question(status="asks", code="scale", text=text, needs="size", reads=reads(query), set_aside=query.set_aside)


def _explanation(query: Query, request: str) -> Answer:
    topic = query.topic or query.asked_noun
    explanation = facts().explanation(topic)
    term = facts().glossary().get(topic) if explanation is None else None
    if term is not None:
        return _term(query, request, topic, term)
    if explanation is None:
        raise Unworkable("topic", f"nothing is written here about {topic.replace('-', ' ')}")
    source = facts().cite(explanation)
    extra: tuple[Advice, ...] = ()
    if query.analysis:
        from .remarks import salts

        extra = tuple(salts(query, "seedlings" in query.told))
    if explanation.raises:
        extra += said_for(frozenset(explanation.raises))
    return Answer(
        request=request, status="answered", reads=reads(query), answer=Asked(of="explanation", topic=topic),
        advice=(Advice(code=f"explanation-{topic}", level="note", text=explanation.text, source=source),
                Advice(code="next-step", level="note", text=f"Next you might ask: {explanation.next_step}", source=source), *extra),
        assumed=tuple(Assumed(code=note.code, text=note.text) for note in query.assumed if note.code == "not-an-amount"),
        set_aside=query.set_aside,
    )  # fmt: skip


def _term(query: Query, request: str, name: str, term: Term) -> Answer:
    """What a word of the trade means, and the explanation that says more, where there is one."""
    meaning = Advice(code=f"term-{name}", level="note", text=f"{_headed(name)}: {term.means}", source=facts().cite(term))
    more = facts().explanation(term.see) if term.see else None
    topic = name if more is None else more.id
    step = facts().explanation("what-are-castings") if more is None else more
    assert step is not None
    source = facts().cite(step)
    advice = [meaning, Advice(code="next-step", level="note", text=f"Next you might ask: {step.next_step}", source=source)]
    if more is not None:
        advice.insert(1, Advice(code=f"explanation-{more.id}", level="note", text=more.text, source=source))
    return Answer(request=request, status="answered", reads=reads(query), answer=Asked(of="explanation", topic=topic),
                  advice=tuple(advice), set_aside=query.set_aside)  # fmt: skip


def _headed(name: str) -> str:
    """A term at the head of its meaning: "Drip line", "EC"."""
    words = name.replace("-", " ")
    return words.upper() if len(words) <= 2 else words.capitalize()


class _Answering:
    """The working out of one query."""

    def __init__(self, query: Query, request: str, shop: Catalogue | None = None) -> None:
        self.query = query
        self.request = request
        self.shop = shop
        self.assumed: list[tuple[str, str]] = [(note.code, note.text) for note in query.assumed]
        if shop is not None and query.budget is not None and not self._states_own_pack():
            from .budget import in_money_of

            self.query, dollars = in_money_of(query, shop, request)
            query = self.query
            self.assumed += dollars
        self.advice: list[Advice] = []
        self.working: list[Working] = []
        self.density = self._density()
        self.printer = Printer(query.metric, _spoken(query), query.asked_unit)
        self.worked: list[Worked] = []
        #: rows for people, and the figure where the asked amount alone does not say it
        self.table: tuple[tuple[str, ...], ...] = ()
        self.said = ""

    def _made(self, *, reads: str, answer: Asked, **more: Any) -> Answer:
        """The answer, once its figure and its table stand: the fields of the record as they are given, and those for people."""
        figure, beside = self._figures(answer, more.get("castings"))
        return Answer(request=self.request, status="answered", reads=reads, answer=answer, figure=figure, beside=beside,
                      table=self.table, **more)  # fmt: skip

    def _figures(self, asked: Asked, castings: Amount | None) -> tuple[str, str]:
        """The asked figure in the user's own units, and the same in the other system.

        Where every rate is said by weight the weight comes first: the volume rests on a density.
        """
        assert asked.low is not None and asked.high is not None
        if self.said:
            return self.said, self.printer.other(asked.low, asked.high, "weight") if asked.of == "weight" else ""
        low, high = asked.low, asked.high
        rates = [place.rate for place in self.query.places]
        if asked.of == "castings" and self._shared_by() > 1:
            value = (low * _LITRE, high * _LITRE)
            return f"{self.printer.show(*value, 'volume')} of castings for each", self.printer.other(*value, "volume")
        by_weight = all(rate is not None and rate.dimension == "weight" for rate in rates) and not self.query.asked_unit
        if asked.of == "castings" and castings is not None and rates and by_weight:
            return f"{self.printer.show(*castings.kg, 'weight')} of castings", self.printer.show(low * _LITRE, high * _LITRE, "volume")
        if asked.of in ("castings", "mix", "soil", "water"):
            value = (low * _LITRE, high * _LITRE)
            name = self.query.asked_noun.replace("-", " ") if asked.of == "soil" and self.query.asked_noun else asked.of
            return f"{self.printer.show(*value, 'volume')} of {name}", self.printer.other(*value, "volume")
        if asked.of == "weight":
            return f"{self.printer.show(low, high, 'weight')} of castings", self.printer.other(low, high, "weight")
        if asked.of == "area":
            return self.printer.show(low, high, "area"), self.printer.other(low, high, "area")
        if asked.of == "layer":
            inch = (low / 1000, high / 1000)
            names = ("millimetre", "inch") if self.query.metric else ("inch", "millimetre")
            return f"a layer of {self.printer.show(*inch, 'length', names[0])}", self.printer.show(*inch, "length", names[1])
        if asked.of == "share":
            return f"{self.printer.show(low, high, 'share')} castings", ""
        if asked.of == "density":
            return printed(low, high, "kilogram / litre"), self.printer.show(low * 1000, high * 1000, "density")
        if asked.of == "cost":
            return f"{low:.2f} {asked.unit}", ""
        if asked.of == "packs":
            return f"{low:g} of {asked.unit}", ""
        return f"{printed(low, high, 'fraction')} {asked.of}", ""

    # ---- density and what is at hand -----------------------------------------------------------------

    def _density(self) -> Density:
        query = self.query
        if query.weighed is not None:
            weight, volume = query.weighed
            low, high = base(weight)
            over = base(volume)
            value = (low / over[1], high / over[0])
            self._check_density(value)
            return Density(value, True)
        if query.density is not None:
            value = base(query.density)
            self._check_density(value)
            return Density(value, True)
        fact = facts().rate("castings.density")
        size = factor(fact.unit)
        typical = fact.single * size
        if self.shop is not None:
            from .purchase import density_of

            own = density_of(self.shop)
            if own is not None:
                moist = query.moisture
                typical = ((own.at(moist.high / 100) if moist is not None else None) or own.density) * 1000
        return Density((typical, typical), False, (fact.low * size, fact.high * size))

    def _check_density(self, value: Value) -> None:
        limit = facts().rate("limits.density")
        size = factor(limit.unit)
        if value[0] < limit.low * size or value[1] > limit.high * size:
            raise Unworkable("scale", f"castings of {value[0] / 1000:.3g} kg/L are lighter or heavier than any; is that right?", "density")

    def _assume_density(self) -> None:
        if self.density.said:
            return
        if self.shop is not None:
            from .purchase import density_of

            own = density_of(self.shop)
            if own is not None:
                shown = self.printer.show(*self.density.value, "density")
                moist = self.query.moisture
                told = moist is not None and own.moisture is not None
                at = f" at {printed(moist.high, moist.high, 'percent')} moisture, with as much dry matter in a litre" if told and moist else ""
                self._assume("shop-density", f"{own.name} of {self.shop.shop.name} weighs {shown}{at}, by its catalogue")
                return
        fact = facts().rate("castings.density")
        name = "kilogram / litre" if self.query.metric else "pound / cubic_foot"
        size = factor(name)
        assert self.density.span is not None
        typical, low, high = self.density.value[0] / size, self.density.span[0] / size, self.density.span[1] / size
        text = (f"castings weigh {printed(typical, typical, name)} ({printed(low, high, name)} are sold; {facts().footing(fact)}); "
                "a bag's own weight and volume are better")  # fmt: skip
        self._assume("default-density", text)

    def _assume(self, code: str, text: str) -> None:
        if (code, text) not in self.assumed:
            self.assumed.append((code, text))

    def have(self) -> Value | None:
        """The castings at hand in cubic metres."""
        query = self.query
        spans = list(query.have)
        pack = query.pack
        if not spans and pack is not None and pack.size is not None and query.budget is not None and pack.price is not None:
            bags = int(Decimal(query.budget[0]) // Decimal(pack.price))
            if bags == 0:
                raise Unworkable("budget", f"{query.budget[0]} {query.budget[1]} does not buy one {pack.noun}", "budget")
            spans = [Span(pack.size.low * bags, pack.size.high * bags, pack.size.unit)]
        elif not spans and pack is not None and pack.size is not None:
            if query.budget is not None and pack.count is None:
                raise Unworkable("price", f"what does one {pack.noun} cost?", "price")
            count = pack.count if pack.count is not None else 1.0
            spans = [Span(pack.size.low * count, pack.size.high * count, pack.size.unit)]
        loads = [self._load(*load) for load in query.loads]
        if not spans and not loads:
            return None
        low, high = sum(load[0] for load in loads), sum(load[1] for load in loads)
        for span in spans:
            one = base(span)
            if span.dimension == "weight":
                self._assume_density()
                one = (one[0] / self.density.value[1], one[1] / self.density.value[0])
            low, high = low + one[0], high + one[1]
        return low, high

    def _load(self, name: str, low: float, high: float) -> Value:
        """So many loads in cubic metres; what one holds is a fact of the trade, and is said."""
        one = facts().container(name)
        if one is None or one.volume is None:
            raise Unworkable("loose-measure", f"how much does a {name.replace('-', ' ')} hold?", "have")
        self._assume("load", f"a {one.name} holds {one.volume.said} ({facts().cite(one)}); {as_aside(one.note)}")
        span = one.volume.span.base
        return span[0] * low, span[1] * high

    def _have_text(self) -> str:
        parts = []
        for span in self.query.have:
            parts.append(printed(span.low, span.high, span.unit))
        pack = self.query.pack
        if not parts and pack is not None and pack.size is not None:
            parts.append(f"{(pack.count or 1):g} × {printed(pack.size.low, pack.size.high, pack.size.unit)}")
        return " + ".join(parts)

    def with_charges(self, found: Answer) -> Answer:
        """The answer with a tax or a delivery that the request puts on top of the price. Raises Unworkable where it cannot be added."""
        query, cost = self.query, found.cost
        if (query.tax is None and not query.charges) or cost is None or query.asked != "cost":
            return found
        if query.tax is not None and (query.charges or query.tax.low != query.tax.high):
            raise Unworkable("price", "is the tax on the castings alone, or on the delivery too? Say the sums", "price")
        if any(currency != cost.currency for _, currency in query.charges):
            raise Unworkable("price", "the delivery and the bags are priced in different money; what does each cost in one?", "price")
        bare = Decimal(cost.amount)
        top = sum((Decimal(amount) for amount, _ in query.charges), Decimal(0))
        if query.tax is not None:
            top = (bare * Decimal(repr(query.tax.low)) / 100).quantize(Decimal("0.01"))
        name = f"tax of {query.tax.low:g} %" if query.tax is not None else "delivery"
        whole = Cost(amount=f"{bare + top:.2f}", currency=cost.currency)
        step = Working(rule="on-top", formula=f"cost in all = cost + {name}", with_=f"cost {bare:.2f}, {name} {top:.2f}",
                       gives=f"{whole.amount} {whole.currency}", source="arithmetic")  # fmt: skip
        text = f"{bare:.2f} {cost.currency} for the castings and {top:.2f} {cost.currency} of {name if query.charges else 'tax'}"
        return found.model_copy(update={
            "cost": whole, "figure": f"{whole.amount} {whole.currency}", "answer": Asked(of="cost", low=float(whole.amount), high=float(whole.amount), unit=whole.currency),
            "working": (*found.working, step), "assumed": (*found.assumed, Assumed(code="on-top", text=text)),
        })  # fmt: skip

    # ---- the answer ----------------------------------------------------------------------------------

    def answer(self) -> Answer:
        query = self.query
        if query.asked == "cheaper":
            return self._cheaper() if query.offers else self._packs_compared()
        if query.filled:
            return self._filled()
        if query.asked in backwards.ASKED:
            return self._backwards()
        if query.asked == "batches":
            return self._tea()
        if query.tea is not None and (query.tea.water is None or query.asked == "water") and treated(query):
            return self._tea()
        if query.tea is not None and (query.tea.water is not None or query.asked == "water" or query.have):
            return self._tea()
        if query.asked == "packs" and query.budget is not None and query.pack is not None and query.pack.price and not query.places:
            return self._bags_for_money()
        if not query.places:
            return self._amount_at_hand()
        for place in query.places:
            self.worked.append(work(self._as_received(place), query, self.density))
        return self._forwards()

    def _as_received(self, place: Place) -> Place:
        """A place whose rate is of dry matter, with the rate as received."""
        if "dry-weight" not in self.query.told or place.rate is None or place.rate.dimension != "weight":
            return place
        moisture = self.query.moisture
        if moisture is None:
            raise Unworkable("moisture", "how moist are the castings, in per cent of the weight as received?", "moisture")
        low, high = place.rate.low / (1 - moisture.low / 100), place.rate.high / (1 - moisture.high / 100)
        shown = printed(low, high, place.rate.unit)
        self.working.append(Working(rule="dry-matter", formula="weight as received = dry weight ÷ (1 − moisture)",
                                    with_=f"dry weight {printed(place.rate.low, place.rate.high, place.rate.unit)}, moisture "
                                    f"{printed(moisture.low, moisture.high, 'percent')}", gives=f"weight {shown}",
                                    source="definition of moisture, as a share of the weight as received"))  # fmt: skip
        self._assume("dry-rate", f"the rate is of dry matter: {shown} as received")
        return place.model_copy(update={"rate": Span(low, high, place.rate.unit)})

    def _forwards(self) -> Answer:
        query = self.query
        castings = _total([one.castings for one in self.worked])
        weight = _total([one.weight for one in self.worked])
        assert castings is not None and weight is not None
        self.printer.suit(castings[1])
        if any(one.target == "weight" for one in self.worked) or query.asked == "weight" or (
            query.asked in ("packs", "cost") and not self._counter_is_asked()
        ) or (
            query.limit is not None and query.limit[1].dimension == "weight"
        ):  # fmt: skip
            self._assume_density()
        for one in self.worked:
            for code, text in one.assumed:
                self._assume(code, text)
            self._steps(one.sheet, one.target, one)
            if query.asked == "weight" and one.target != "weight":
                self._steps(one.sheet, "weight", one, only_last=True)
        if len(self.worked) > 1:
            self.working.append(Working(
                rule="sum", formula="castings = the sum over the places",
                with_=" + ".join(self.printer.show(*one.castings, "volume") for one in self.worked if one.castings),
                gives=self.printer.show(*castings, "volume"), source="algebra"))  # fmt: skip
        castings, weight = self._all_season(castings, weight)
        self.advice += judge(self.worked, query, self.printer)
        self.advice += remarks(Scene(self.worked, query, self.printer, self.density, castings, weight))
        check_volume(castings)
        packs, cost = self._purchase(castings, weight)
        if query.end and not packs and castings[0] != castings[1]:
            shown = self.printer.show(*(at_end(castings, query.end),) * 2, "volume")
            self._assume("end-of-span", f"{CALLED[query.end]} of the span is {shown}")
        self._enough(castings)
        self._limit(castings, weight)
        self._compare()
        asked = self._loads(castings) or self._nutrient(castings, weight) or self._asked_amount(castings, weight, packs, cost)
        single = self.worked[0] if len(self.worked) == 1 else None
        shares = {one.share for one in self.worked}
        layers = {one.layer for one in self.worked}
        ways = {one.place.way for one in self.worked}
        left_over = any(one.code in ("pack-left", "enough-left") for one in self.advice)
        self.advice += cautions(self.worked, query, left_over=left_over)
        return self._made(
            reads=reads(query), way=ways.pop() if len(ways) == 1 else None, answer=asked,
            castings=_amount(castings, weight),
            share=single.share if single else (shares.pop() if len(shares) == 1 else None),
            layer_mm=_mm(single.layer if single else (layers.pop() if len(layers) == 1 else None)),
            parts=tuple(_part(one) for one in self.worked) if len(self.worked) > 1 else (),
            components=self._components(), packs=packs, cost=cost, assumed=self._assumed_list(), advice=tuple(self.advice),
            working=tuple(self.working), set_aside=query.set_aside,
        )  # fmt: skip

    def _all_season(self, castings: Value, weight: Value) -> tuple[Value, Value]:
        """The castings of every application of the season, where so many were said."""
        times = self.query.times
        if times is None or times <= 1 or "each-time" in self.query.told:
            return castings, weight
        if any(one.share is not None for one in self.worked):
            raise Unworkable("times", "is that share for one application, or for the whole season? Say the share of one time", "share")
        sheet = Sheet()
        sheet.give("castings", *castings)
        sheet.give("times", times)
        total = sheet.reach("castings of the season", (SEASON,))
        assert total is not None
        self._steps(sheet, "castings of the season", None)
        self._assume("times", f"all {times:g} applications together; one takes {self.printer.show(*castings, 'volume')}")
        return total, (weight[0] * times, weight[1] * times)

    def _nutrient(self, castings: Value, weight: Value) -> Asked | None:
        """What the castings bring: the nutrient that is asked for, and the rest of an analysis as a note."""
        query = self.query
        if not query.asked_nutrient and not query.analysis:
            return None
        from .brings import asked, stated

        self._assume_density()
        if query.moisture is not None and query.analysis:
            self._assume("dry-basis", "the analysis is of the dry matter, as laboratories state it")
        found = stated(query, weight)
        if found:
            what = ", ".join(f"{self.printer.show(*one.kg, 'weight')} {one.name}" for one in found)
            area = _total([one.sheet.get("treated area") for one in self.worked])
            count = self.worked[0].sheet.get("count") if len(self.worked) == 1 and area is None else None
            if area is not None:
                self.advice.append(judgement("nutrients-brought", what=what, place=f" over {self.printer.show(*area, 'area')}"))
            elif count is not None and count[0] > 1:
                each = ", ".join(f"{printed(one.kg[0] / count[1] * 1000, one.kg[1] / count[0] * 1000, 'gram')} {one.name}" for one in found)
                self.advice.append(judgement("nutrients-brought", what=what, place=f" in all, or {each} each"))
            else:
                self.advice.append(judgement("nutrients-brought", what=what, place=""))
        answer = None
        if query.asked_nutrient:
            one = asked(query, weight)
            for code, text in one.assumed:
                self._assume(code, text)
            for step in one.steps:
                self.working.append(self._step(step, None, ""))
            self.said = f"{self.printer.show(*one.kg, 'weight')} of {one.name}"
            answer = Asked(of="weight", low=one.kg[0], high=one.kg[1], unit="kg")
            if any(code == "typical-analysis" for code, _ in one.assumed):
                self.advice.append(judgement("nutrients-typical"))
        self.advice.append(judgement("nutrients-no-plan"))
        return answer

    def _loads(self, castings: Value) -> Asked | None:
        """How many wheelbarrows or pickup loads it takes, whole ones."""
        name = self.query.asked_load
        if not name:
            return None
        one = self._load(name, 1.0, 1.0)
        low, high = math.ceil(castings[0] / one[1] - 1e-9), math.ceil(castings[1] / one[0] - 1e-9)
        held = facts().container(name)
        assert held is not None
        text = printed(low, high, "fraction")
        self.said = f"{text} {held.name}{'s' if high > 1 else ''}, {self.printer.show(*castings, 'volume')} of castings"
        self.working.append(Working(rule="loads", formula="loads = castings ÷ what a load holds, rounded up",
                                    with_=f"castings {self.printer.show(*castings, 'volume')}, a load {self.printer.show(*one, 'volume')}",
                                    gives=f"{text} loads", source="whole loads are wheeled"))  # fmt: skip
        return Asked(of="containers", low=float(low), high=float(high), unit="count")

    def _assumed_list(self) -> tuple[Assumed, ...]:
        return tuple(Assumed(code=code, text=text) for code, text in dict.fromkeys(self.assumed))

    def _asked_amount(self, castings: Value, weight: Value, packs: tuple[PackCount, ...], cost: Cost | None) -> Asked:
        asked = self.query.asked
        if asked == "weight":
            return Asked(of="weight", low=weight[0], high=weight[1], unit="kg")
        if asked == "packs" and packs:
            count = float(sum(pack.count for pack in packs))
            return Asked(of="packs", low=count, high=count, unit=packs[0].name if len(packs) == 1 else "packs")
        if asked == "cost" and cost is not None:
            return Asked(of="cost", low=float(cost.amount), high=float(cost.amount), unit=cost.currency)
        if "left-over" in self.query.told and (have := self.have()) is not None:
            return self._left(have, castings)
        if any("more-needed" in place.hints for place in self.query.places) and (have := self.have()) is not None:
            left = (max(castings[0] - have[1], 0.0), max(castings[1] - have[0], 0.0))
            return Asked(of="castings", low=left[0] / _LITRE, high=left[1] / _LITRE, unit="L")
        each = self._shared_by()
        return Asked(of="castings", low=castings[0] / each / _LITRE, high=castings[1] / each / _LITRE, unit="L")

    def _shared_by(self) -> float:
        """Among how many an amount is shared out, where it is asked what each gets; else 1."""
        places = self.query.places
        if "each-asked" in self.query.told and len(places) == 1 and places[0].count:
            return places[0].count
        return 1.0

    def _left(self, have: Value, castings: Value) -> Asked:
        """What remains of the castings at hand; nothing where they do not suffice."""
        left = (max(have[0] - castings[1], 0.0), max(have[1] - castings[0], 0.0))
        # in the unit in which what is at hand was spoken of
        spoken = next((span.unit for span in self.query.have if span.dimension == "volume"), "")
        used = self.printer.show(*castings, "volume", spoken)
        self.said = f"{self.printer.show(*left, 'volume', spoken)} of castings left over; {used} is used" if left[1] > 0 else (
            f"none left over; {used} is needed")  # fmt: skip
        self.working.append(Working(rule="left-over", formula="left over = castings at hand − castings used",
                                    with_=f"at hand {self.printer.show(*have, 'volume')}, used {used}",
                                    gives=f"left over {self.printer.show(*left, 'volume')}", source="algebra"))  # fmt: skip
        return Asked(of="castings", low=left[0] / _LITRE, high=left[1] / _LITRE, unit="L")

    # ---- steps ---------------------------------------------------------------------------------------

    def _steps(self, sheet: Sheet, target: str, worked: Worked | None, only_last: bool = False) -> None:
        steps = sheet.trace(target)
        if only_last:
            steps = steps[-1:]
        label = ""
        if worked is not None and len(self.query.places) > 1:
            label = f"{worked.place.printed or worked.place.noun or 'place'}: "
        for step in steps:
            if step.relation.id in RENAMING or _is_identity(step):
                continue
            self.working.append(self._step(step, worked, label))

    def _step(self, step: Step, worked: Worked | None, label: str) -> Working:
        spoken = _spoken_units(worked.place) if worked is not None else {}
        figures = ", ".join(
            f"{name} {self._term(name, value, spoken)}" for name, value in step.used if not _is_trivial(name, value)
        )
        return Working(rule=step.relation.id, formula=label + step.relation.formula, with_=figures,
                       gives=f"{step.gave} {self._term(step.gave, step.value, spoken)}", source=step.relation.source)  # fmt: skip

    def _term(self, name: str, value: Value, spoken: dict[str, str]) -> str:
        return self.printer.show(value[0], value[1], TERM_DIMENSION.get(name, "number"), spoken.get(name, ""))

    # ---- packs and money -----------------------------------------------------------------------------

    def _purchase(self, castings: Value, weight: Value) -> tuple[tuple[PackCount, ...], Cost | None]:
        query = self.query
        pack = query.pack
        if pack is None or (pack.size is None and pack.price_per is None):
            if self._counter_is_asked() and (found := self._from_catalogue(castings, weight)) is not None:
                return found
            if query.asked in ("packs", "cost"):
                raise Unworkable("pack", "how big is a bag, by weight or by volume, and what does it cost?", "pack")
            return (), None
        if pack.size is None:
            assert pack.price_per is not None and pack.price is not None
            need = at_end(weight if pack.price_per.dimension == "weight" else castings, query.end)
            amount = Decimal(repr(need / base(pack.price_per)[0])) * Decimal(pack.price)
            return (), Cost(amount=f"{amount:.2f}", currency=pack.currency or "USD")
        if pack.count is not None and query.asked not in ("packs", "cost"):
            return (), None
        if pack.price is None and not query.enough and (self.shop is not None or query.asked == "cost"):
            found = self._from_catalogue(castings, weight, pack.size)
            if found is not None:
                return found
            if query.asked == "cost":
                raise Unworkable("price", f"what does one {printed(pack.size.low, pack.size.high, pack.size.unit)} {pack.noun} cost?", "price")
        low, _high = base(pack.size)
        heavy = pack.size.dimension == "weight"
        span = weight if heavy else castings
        need = at_end(span, query.end)
        if heavy:
            self._assume_density()
        count = math.ceil(need / low - 1e-9)
        name = f"{printed(pack.size.low, pack.size.high, pack.size.unit)} {pack.noun}"
        text = self.printer.show(*span, "weight" if heavy else "volume")
        self.working.append(Working(rule="whole-packs", formula="packs = amount ÷ size of a pack, rounded up",
                                    with_=f"amount {text}, size of a pack {printed(pack.size.low, pack.size.high, pack.size.unit)}",
                                    gives=f"{count} of {name}", source="whole packs are sold"))  # fmt: skip
        if span[0] != span[1]:
            end = query.end or "high"
            self._assume(f"packs-for-{end}-end", f"packs for {CALLED[end]} of the span, {why(end)}")
        cost = None
        if pack.price is not None:
            cost = Cost(amount=f"{Decimal(pack.price) * count:.2f}", currency=pack.currency or "USD")
            self.working.append(Working(rule="cost", formula="cost = packs × price", with_=f"packs {count}, price {pack.price}",
                                        gives=f"{cost.amount} {cost.currency}", source="arithmetic"))  # fmt: skip
        left = count * low - need
        if left > 1e-9:
            shown = self.printer.show(left, left, "weight" if heavy else "volume")
            made = facts().judgement("pack-left")
            values = {"left": shown}
            if made.places <= values.keys():
                self.advice.append(Advice(code="pack-left", level=made.level, text=made.say(**values), source=facts().cite(made)))
        return (PackCount(id="stated", name=name, count=count),), cost

    def _states_own_pack(self) -> bool:
        pack = self.query.pack
        return pack is not None and (pack.size is not None or pack.price is not None)

    def _counter_is_asked(self) -> bool:
        """Whether the catalogue in force has to say what to buy: packs, cost or money are asked, or the shop gave its own."""
        query = self.query
        if self._states_own_pack():
            return False
        asked = query.asked in ("packs", "cost") or query.budget is not None
        return self.shop is not None or asked or (query.pack is not None and bool(query.pack.count) and query.enough)

    def _said_density(self) -> float | None:
        """The density that the request states, in kg a litre: it stands in for that of every product."""
        low, high = self.density.value
        return (low + high) / 2000 if self.density.said else None

    def _take(self, found: Bought) -> None:
        self.assumed += [note for note in found.assumed if note not in self.assumed]
        self.advice += found.advice
        self.working += found.working
        if self.query.asked in ("packs", "cost") and found.cost is not None:
            self.said = found.said if self.query.asked == "packs" else f"{found.cost.amount} {found.cost.currency}"

    def _from_catalogue(
        self, castings: Value, weight: Value, size: Span | None = None
    ) -> tuple[tuple[PackCount, ...], Cost | None] | None:
        """What to buy of the catalogue in force; None where it has no pack of a size that is named."""
        from .purchase import Wanted, buy, in_force, note, would_do

        query = self.query
        times = 1.0 if query.times is None or "each-time" in query.told else query.times
        heavy = any(one.target == "weight" for one in self.worked) or any(span.dimension == "weight" for span in query.have)
        wanted = Wanted(castings, self.worked, self.printer, self._said_density(), times, heavy, query.end or "high")
        try:
            found = buy(wanted, self.shop, size)
        except Unworkable as problem:
            if query.asked in ("packs", "cost") or query.budget is not None:
                raise
            self.advice.append(note("not-sold", f"Nothing can be said of packs: {problem.text.partition(';')[0]}."))
            return (), None
        if found is None:
            return None
        if found.short and query.asked in ("packs", "cost"):
            raise Unworkable("stock", f"{found.short} Shall it be less, or from elsewhere?", "amount")
        self._take(found)
        if query.asked in ("packs", "cost") and not query.enough:
            from .ready_mixed import ready_mixed

            self.advice += ready_mixed(in_force(self.shop), wanted)
        if query.pack is not None and query.pack.count and query.enough:
            told, self.table = would_do(query.pack.count, wanted, self.shop)
            self.assumed += [note for note in told.assumed if note not in self.assumed]
            self.advice[:0] = told.advice
        if query.budget is not None and found.cost is not None:
            self._against_budget(wanted, found.cost)
        return found.packs, found.cost

    def _against_budget(self, wanted: Wanted, cost: Cost) -> None:
        from .budget import against

        assumed, advice = against(self.query, wanted, cost, self.shop, self.request)
        self.assumed += assumed
        self.advice.insert(0, advice)

    def _from_shop(self) -> tuple[Value, Bought] | None:
        """The castings that money or a number of bags gives by the catalogue in force, where no pack is stated."""
        query = self.query
        if self._states_own_pack() or query.have or query.loads:
            return None
        if query.budget is None and (query.pack is None or not query.pack.count):
            return None
        from .budget import for_bags, for_money

        find = for_money if query.budget is not None else for_bags
        found = find(query, self.printer, self._said_density(), self.shop, self.request)
        self._take(found.bought)
        return found

    def _priced_packs(self) -> tuple[Value, Bought] | None:
        """Packs of a size that the request names without a price, where what they cost is asked and no more."""
        query = self.query
        pack = query.pack
        if query.asked != "cost" or pack is None or pack.size is None or pack.price is not None or query.have or query.loads:
            return None
        from .priced import for_named_packs

        found = for_named_packs(query, self.printer, self._said_density(), self.shop)
        self._take(found.bought)
        return found

    def _bags_for_money(self) -> Answer:
        query = self.query
        assert query.budget is not None and query.pack is not None and query.pack.price is not None
        money, price = Decimal(query.budget[0]), Decimal(query.pack.price)
        count = int(money // price)
        if count == 0:
            raise Unworkable("budget", f"{money} {query.budget[1]} does not buy one {query.pack.noun} at {price}", "budget")
        size = query.pack.size
        castings = weight = None
        name = query.pack.noun
        if size is not None:
            name = f"{printed(size.low, size.high, size.unit)} {query.pack.noun}"
            low, high = base(size)
            if size.dimension == "weight":
                weight = (low * count, high * count)
                castings = (weight[0] / self.density.value[1], weight[1] / self.density.value[0])
                self._assume_density()
            else:
                castings = (low * count, high * count)
                weight = (castings[0] * self.density.value[0], castings[1] * self.density.value[1])
        cost = price * count
        self.working.append(Working(rule="packs-for-money", formula="packs = budget ÷ price, rounded down",
                                    with_=f"budget {money}, price {price}", gives=f"{count} of {name}", source="arithmetic"))  # fmt: skip
        return self._made(
            reads=reads(query), answer=Asked(of="packs", low=count, high=count, unit=name),
            castings=_amount(castings, weight) if castings and weight else None, packs=(PackCount(id="stated", name=name, count=count),),
            cost=Cost(amount=f"{cost:.2f}", currency=query.budget[1]), assumed=self._assumed_list(), working=tuple(self.working),
            set_aside=query.set_aside,
        )  # fmt: skip

    # ---- an amount at hand, converted ----------------------------------------------------------------

    def _from_dry(self) -> bool:
        """Whether a dry weight is asked for as received; from here on what is at hand is then the weight as received."""
        query = self.query
        if "received-asked" not in query.told or not query.have or any(span.dimension != "weight" for span in query.have):
            return False
        if query.moisture is None:
            raise Unworkable("moisture", "how moist are they, in per cent of the weight as received?", "moisture")
        low, high = 1 - query.moisture.high / 100, 1 - query.moisture.low / 100
        have = tuple(Span(span.low / high, span.high / low, span.unit) for span in query.have)
        self.working.append(Working(rule="dry-matter", formula="weight as received = dry weight ÷ (1 − moisture)",
                                    with_=f"dry weight {self._have_text()}, moisture {span_text(query.moisture)}",
                                    gives="weight " + " + ".join(span_text(span) for span in have),
                                    source="definition of moisture, as a share of the weight as received"))  # fmt: skip
        self._assume("moisture-basis", "moisture is a share of the weight as received")
        self.query = query.model_copy(update={"have": have})
        return True

    def _amount_at_hand(self) -> Answer:
        reading = reads(self.query)
        turned = self._from_dry()
        query = self.query
        if query.weighed is not None and not query.have and query.pack is None:
            return self._density_answer()
        shop = self._priced_packs()
        castings = self.have() if shop is None else shop[0]
        if castings is None and not (query.pack is not None and query.asked == "cost") and (shop := self._from_shop()) is not None:
            castings = shop[0]
        if castings is None and query.asked == "cost" and query.pack is not None and query.pack.count and query.pack.price:
            return self._bill()
        if castings is None:
            raise Unworkable("place", "what are the castings for: a bed, pots, plants, a lawn, or a mix? And how big is it?", "place")
        weights = [span for span in query.have if span.dimension == "weight"]
        if weights and len(weights) == len(query.have):
            total = sum(base(span)[0] for span in weights), sum(base(span)[1] for span in weights)
            weight: Value = total
        else:
            weight = (castings[0] * self.density.value[0], castings[1] * self.density.value[1])
        bought = query.asked in ("packs", "cost") and not weights and self._counter_is_asked()
        if not bought:  # a volume that is bought is never weighed
            self._weigh(castings, weight, bool(weights))
        self.advice += remarks(Scene([], query, self.printer, self.density, castings, weight))
        if turned:
            special: Asked | None = Asked(of="weight", low=weight[0], high=weight[1], unit="kg")
            self.said = f"{self.printer.show(*weight, 'weight')} as received"
        else:
            special = self._nutrient(castings, weight) or self._dry(weight)
        if query.loads:
            self.advice += [one for one in cautions([], query) if one.code == "vehicle-load"]
        packs, cost = self._purchase(castings, weight) if query.asked in ("packs", "cost") and query.have else ((), None)
        if shop is not None:
            packs, cost = shop[1].packs, shop[1].cost
        if query.asked == "cost" and cost is None and query.pack is not None and query.pack.price and query.pack.count:
            amount = Decimal(query.pack.price) * Decimal(repr(query.pack.count))
            cost = Cost(amount=f"{amount:.2f}", currency=query.pack.currency or "USD")
        return self._made(
            reads=reading,
            answer=special or self._asked_amount(castings, weight, packs, cost), castings=_amount(castings, weight), packs=packs,
            cost=cost, assumed=self._assumed_list(), advice=tuple(self.advice), working=tuple(self.working),
            set_aside=query.set_aside,
        )  # fmt: skip

    def _weigh(self, castings: Value, weight: Value, from_weight: bool) -> None:
        """The step from a volume at hand to its weight, or from its weight."""
        self._assume_density()
        formula = "castings = weight ÷ density" if from_weight else "weight = castings × density"
        self.working.append(Working(rule="weight", formula=formula,
                                    with_=f"{self._have_text() or self.printer.show(*castings, 'volume')}, density {self.printer.show(*self.density.value, 'density')}",
                                    gives=self.printer.show(*castings, "volume") if from_weight else self.printer.show(*weight, "weight"),
                                    source="definition of bulk density"))  # fmt: skip

    def _dry(self, weight: Value) -> Asked | None:
        """The dry matter in a weight as received, where it is asked for."""
        query = self.query
        if "dry-weight" not in query.told:
            return None
        if query.moisture is None:
            raise Unworkable("moisture", "how moist are they, in per cent of the weight as received?", "moisture")
        from .brings import dry

        found, step = dry(weight, (query.moisture.low / 100, query.moisture.high / 100))
        self.working.append(self._step(step, None, ""))
        self._assume("moisture-basis", "moisture is a share of the weight as received")
        self.said = f"{self.printer.show(*found, 'weight')} dry"
        return Asked(of="weight", low=found[0], high=found[1], unit="kg")

    def _bill(self) -> Answer:
        """So many packs at so much each."""
        pack = self.query.pack
        assert pack is not None and pack.count is not None and pack.price is not None
        amount = Decimal(pack.price) * Decimal(repr(pack.count))
        cost = Cost(amount=f"{amount:.2f}", currency=pack.currency or "USD")
        self.working.append(Working(rule="cost", formula="cost = packs × price", with_=f"packs {pack.count:g}, price {pack.price}",
                                    gives=f"{cost.amount} {cost.currency}", source="arithmetic"))  # fmt: skip
        return self._made(
            reads=reads(self.query), answer=Asked(of="cost", low=float(amount), high=float(amount), unit=cost.currency), cost=cost,
            assumed=self._assumed_list(), working=tuple(self.working), set_aside=self.query.set_aside,
        )  # fmt: skip

    def _density_answer(self) -> Answer:
        low, high = self.density.value
        self.working.append(Working(rule="density-weighed", formula="density = weight ÷ volume",
                                    with_=reads(self.query), gives=self.printer.show(low, high, "density"),
                                    source="definition of bulk density"))  # fmt: skip
        return self._made(
            reads=reads(self.query),
            answer=Asked(of="density", low=low / 1000, high=high / 1000, unit="kg/L"), assumed=self._assumed_list(),
            working=tuple(self.working), set_aside=self.query.set_aside,
        )  # fmt: skip

    # ---- tea -----------------------------------------------------------------------------------------

    def _tea(self) -> Answer:
        query = self.query
        tea = query.tea
        assert tea is not None
        if tea.strength is not None:
            amount, per = base(tea.strength[0]), base(tea.strength[1])
            if tea.strength[0].dimension == "weight":
                amount = (amount[0] / self.density.value[1], amount[1] / self.density.value[0])
                self._assume_density()
            parts = (amount[0] / per[1], amount[1] / per[0])
        elif tea.ratio is not None:
            parts = (tea.ratio[0] / tea.ratio[1], tea.ratio[0] / tea.ratio[1])
        else:
            fact = facts().rate("tea.ratio")
            value = fact.single * factor(fact.unit)
            value = value if value < 1 else 1 / value
            parts = (value, value)
            self._assume("default-ratio", f"1 part castings to {1 / value:g} parts water, the usual strength ({facts().cite(fact)})")
        sheet = Sheet()
        sheet.give("castings to water", *parts)
        sheet.give("density", *self.density.value)
        from .relations import WAYS, WEIGHT

        relations = (*WAYS["tea"], WEIGHT)
        vessel = base(tea.water) if tea.water is not None else None
        jobs = treated(query) if vessel is None or query.asked in ("batches", "water") or "brewer" in query.told else []
        have = self.have() if vessel is None and not jobs else None
        total: Value | None = None
        if treated(query):
            total = self._tea_needed(jobs or treated(query), show=bool(jobs))
        if jobs:
            assert total is not None
            sheet.give("water", *total)
            castings = sheet.reach("castings", relations)
            target = "castings"
        elif tea.water is not None:
            sheet.give("water", *base(tea.water))
            check_scale("limits.volume", *base(tea.water), "the water", tea.water)
            castings = sheet.reach("castings", relations)
            target = "castings"
        else:
            assert have is not None
            sheet.give("castings", *have)
            castings = have
            target = "water"
            sheet.reach("water", relations)
        water = sheet.get("water")
        assert castings is not None and water is not None
        weight = sheet.reach("weight", relations)
        assert weight is not None
        self._steps(sheet, target, None)
        forwards = query.asked != "water" and (tea.water is not None or bool(jobs))
        packs, cost = self._purchase(castings, weight) if forwards and self._counter_is_asked() else ((), None)
        asked = (
            self._asked_amount(castings, weight, packs, cost)
            if forwards
            else Asked(of="water", low=water[0] / _LITRE, high=water[1] / _LITRE, unit="L")
        )
        if query.asked == "water" and query.asked_noun == "tea":
            self.said = f"{self.printer.show(*water, 'volume')} of tea"
        self.advice += judge_tea(parts)
        self.advice.append(judgement("tea-extract" if "extract" in query.told else "tea-brew"))
        if total is not None and vessel is not None:
            counts = batches(total, vessel)
            text = f"{counts[0]:g}" if counts[0] == counts[1] else f"{counts[0]:g} to {counts[1]:g}"
            if query.asked == "batches":
                asked = Asked(of="containers", low=float(counts[0]), high=float(counts[1]), unit="count")
                self.said = f"{text} {'batch' if text == '1' else 'batches'}"
                self.working.append(Working(
                    rule="batches", formula="batches = tea ÷ tea of one batch, rounded up",
                    with_=f"tea {self.printer.show(*total, 'volume')}, one batch {self.printer.show(*vessel, 'volume')}",
                    gives=f"{text} batches", source="whole batches are brewed"))  # fmt: skip
            if counts[1] > 1:
                self.advice.append(judgement("tea-batches", batches=text))
        self.advice += cautions([], query)
        self.advice.append(judgement("tea-little-organic"))
        return self._made(
            reads=reads(query), way="tea", answer=asked, castings=_amount(castings, weight),
            components=(Component(name="castings", litres=_litres(castings)), Component(name="water", litres=_litres(water))),
            packs=packs, cost=cost,
            assumed=self._assumed_list(), advice=tuple(self.advice), working=tuple(self.working), set_aside=query.set_aside,
        )  # fmt: skip

    def _tea_needed(self, places: list[Place], *, show: bool) -> Value:
        """The tea for these places in cubic metres; its steps are shown where the answer rests on them."""
        total = (0.0, 0.0)
        for place in places:
            one = needed(place, self.density)
            if show:
                for code, text in one.assumed:
                    self._assume(code, text)
                self._steps(one.worked.sheet, "water", one.worked)
            total = (total[0] + one.water[0], total[1] + one.water[1])
        check_volume(total)
        return total

    # ---- products side by side -----------------------------------------------------------------------

    def _cheaper(self) -> Answer:
        from . import products

        query = self.query
        found = products.offers(query, self.density)
        name = products.measure_of(query)
        if products.rests_on_density(query):
            self._assume_density()
        for one in found:
            self.working.append(Working(
                rule="unit-price", formula=f"price per {symbol(name)} = price ÷ size", with_=one.name,
                gives=f"{products.money(one.per_unit)} {one.currency} per {symbol(name)}", source="arithmetic"))  # fmt: skip
        best, second = found[0], found[1]
        turn = products.turning_point(best, second)
        if turn is not None:
            heavy = best if best.size.dimension == "weight" else second
            self.advice.append(Advice(code="compare-density", level="note", text=products.text_of(turn, heavy, products.is_metric(query)),
                                      source="arithmetic"))  # fmt: skip
        self.table = (("product", f"{best.currency} per {symbol(name)}"), *((one.name, products.money(one.per_unit)) for one in found))
        self.said = f"{best.name} is cheaper: {products.money(best.per_unit)} {best.currency} per {symbol(name)}"
        if abs(best.per_unit - second.per_unit) < 1e-9 * best.per_unit:
            self.said = f"they cost the same: {products.money(best.per_unit)} {best.currency} per {symbol(name)}"
        return self._made(
            reads=reads(query),
            answer=Asked(of="cost", low=best.per_unit, high=best.per_unit, unit=best.currency),
            cost=Cost(amount=products.money(best.per_unit), currency=best.currency), assumed=self._assumed_list(),
            advice=tuple(self.advice), working=tuple(self.working), set_aside=query.set_aside,
        )  # fmt: skip

    def _packs_compared(self) -> Answer:
        """The packs of the catalogue in force side by side, by size or for the places named."""
        from .packs_compared import by_place, by_size

        query = self.query
        castings = weight = None
        if query.places:
            self.worked += [work(place, query, self.density) for place in query.places]
            castings, weight = _total([one.castings for one in self.worked]), _total([one.weight for one in self.worked])
            for one in self.worked:
                for code, text in one.assumed:
                    self._assume(code, text)
                self._steps(one.sheet, one.target, one)
            assert castings is not None and weight is not None
            found = by_place(at_end(castings, query.end), self.printer, self._said_density(), self.shop)
        else:
            found = by_size(query, self._said_density(), self.shop)
        for code, text in found.assumed:
            self._assume(code, text)
        self.advice += found.advice
        self.working += found.working
        self.table, self.said = found.table, found.said
        return self._made(
            reads=reads(query),
            answer=Asked(of="cost", low=found.low, high=found.low, unit=found.cost.currency),
            castings=_amount(castings, weight) if castings and weight else None, cost=found.cost, assumed=self._assumed_list(),
            advice=tuple(self.advice), working=tuple(self.working), set_aside=query.set_aside,
        )  # fmt: skip

    # ---- the weight of what is filled ------------------------------------------------------------------

    def _filled(self) -> Answer:
        from .fill import weights

        query, reading = self.query, reads(self.query)
        if query.filled != "wet" and any({"balcony", "roof"} & place.hints for place in query.places):
            query = query.model_copy(update={"filled": "wet"})
            self._assume("wet-weight", "the weight when wet, which is what a balcony or a roof has to bear")
        moist, wet, worked, assumed = weights(query, self.density)
        for code, text in assumed:
            self._assume(code, text)
        self._steps(worked.sheet, "filled weight", worked)
        value = wet if query.filled == "wet" else moist
        other = self.printer.show(*(moist if query.filled == "wet" else wet), "weight")
        dry, soaked = ("dry", "soaked") if "of-soil" in query.told else ("moist, as it is filled in", "wet")
        self.said = f"{self.printer.show(*value, 'weight')}, {soaked if query.filled == 'wet' else dry}"
        self.advice.append(Advice(code="filled-other", level="note", source="the same rules",
                                  text=f"{(dry if query.filled == 'wet' else soaked).capitalize()}, it weighs {other}."))  # fmt: skip
        self.advice += cautions([worked], query)
        return self._made(
            reads=reading,
            answer=Asked(of="weight", low=value[0], high=value[1], unit="kg"), assumed=self._assumed_list(),
            advice=tuple(self.advice), working=tuple(self.working), set_aside=query.set_aside,
        )  # fmt: skip

    # ---- backwards -----------------------------------------------------------------------------------

    def _backwards(self) -> Answer:
        query = self.query
        have = None if query.asked == "share" and _has_recipe(query) else self.have()
        shop = self._from_shop() if have is None else None
        if shop is not None:
            have = shop[0]
        if have is None and not (query.asked == "share" and _has_recipe(query)) and query.places:
            # "how much soil for 20 gallons at 10 %": the castings follow from the place
            if query.asked in ("mix", "soil", "share") and not backwards.is_layer_in_depth(query):
                one = work(query.places[0], query, self.density)
                have = one.castings
        own = self._component_asked()
        result = own if own is not None else backwards.solve(query, have, self.density)
        for code, text in result.assumed:
            self._assume(code, text)
        if result.sheet is not None:
            self._steps(result.sheet, result.target, result.worked)
        self.working += [Working(rule=r, formula=f, with_=w, gives=g, source=s) for r, f, w, g, s in result.extra]
        if result.share is not None:
            shown = self.printer.show(*result.share, "share")
            self.advice += judge_share(*result.share, shown, _ten_of(result.share, result.castings, self.printer, added=result.way == "incorporate"))
        castings = result.castings
        weight = (castings[0] * self.density.value[0], castings[1] * self.density.value[1]) if castings else None
        if castings and weight:
            self.advice += remarks(Scene([], query, self.printer, self.density, castings, weight))
        self.advice += cautions([result.worked] if result.worked is not None else [], query)
        place = query.places[0] if query.places else None
        return self._made(
            reads=reads(query), way=result.way or (place.way if place else None),
            answer=Asked(of=result.of, low=result.value[0], high=result.value[1], unit=result.unit),
            castings=_amount(castings, weight) if castings and weight else None, share=result.share, layer_mm=_mm(result.layer),
            packs=shop[1].packs if shop is not None else (), cost=shop[1].cost if shop is not None else None,
            assumed=self._assumed_list(), advice=tuple(self.advice), working=tuple(self.working), set_aside=query.set_aside,
        )  # fmt: skip

    def _component_asked(self) -> backwards.Result | None:
        """So much of one component of a recipe, where that is asked for; None where only the castings' share is known.

        Raises Unworkable where the recipe does not say how much of the component there is.
        """
        query = self.query
        place = query.places[0] if query.places else None
        if query.asked != "soil" or place is None:
            return None
        asked = query.asked_noun or "soil"
        named = dict(place.recipe)
        others = [name for name in named if name not in ("castings", "the rest")]
        have = self.have()
        if asked not in named:
            if others and not (len(others) == 1 and asked == "soil"):
                raise Unworkable("recipe", f"how much of the mix is {asked.replace('-', ' ')}? The recipe names none", "share")
            if have is None and asked not in _ANY_SOIL and place.soil is None:
                raise Unworkable("recipe", f"what share of the mix is {asked.replace('-', ' ')}? Say the share of each part", "share")
            return None
        share = named[asked]
        if have is not None:
            part = named.get("castings", 0.0)
            mix = (have[0] / part, have[1] / part)
            castings: Value | None = have
        else:
            one = work(place, query, self.density)
            if one.mix is None:
                return None
            mix, castings = one.mix, one.castings
            self._steps(one.sheet, one.target, one)
        low, high = mix[0] * share / _LITRE, mix[1] * share / _LITRE
        text = f"{low:.4g} L" if low == high else f"{low:.4g} to {high:.4g} L"
        whole = f"{mix[0] / _LITRE:.4g} L" if mix[0] == mix[1] else f"{mix[0] / _LITRE:.4g} to {mix[1] / _LITRE:.4g} L"
        extra = [("component", f"{asked} = its share × finished mix", f"share {share * 100:.4g} %, finished mix {whole}", text, "algebra")]
        part = named.get("castings", 0.0)
        return backwards.Result("soil", (low, high), "L", castings=castings, share=(part, part), way=place.way or "blend", extra=extra)

    # ---- what else is said ---------------------------------------------------------------------------

    def _enough(self, need: Value) -> None:
        query = self.query
        if not (query.enough or query.have or (query.pack is not None and query.pack.count)):
            return
        have = self.have()
        if have is None:
            return
        short = need[1] - have[0]
        code = "not-enough" if short > 1e-12 else "enough-left"
        made = facts().judgement(code)
        values = {
            "have": self.printer.show(*have, "volume"), "need": self.printer.show(*need, "volume"),
            "short": self.printer.show(abs(short), abs(short), "volume"), "left": self.printer.show(abs(short), abs(short), "volume"),
        }  # fmt: skip
        if made.places <= values.keys():
            text = made.say(**{name: values[name] for name in made.places})
            self.advice.insert(0, Advice(code=code, level=made.level, text=text, source=facts().cite(made)))

    def _limit(self, castings: Value, weight: Value) -> None:
        query = self.query
        if query.limit is None:
            return
        which, span = query.limit
        value = weight if span.dimension == "weight" else castings
        limit = base(span)
        over = value[1] > limit[1] + 1e-12 if which == "at-most" else value[0] < limit[0] - 1e-12
        shown = printed(span.low, span.high, span.unit)
        if which == "at-most":
            text = f"This is more than the {shown} that was set as the most." if over else f"This stays within the {shown} that was set."
        else:
            text = f"This is less than the {shown} that was set as the least." if over else f"This is at least the {shown} that was set."
        self.advice.insert(0, Advice(code="limit", level="caution" if over else "note", text=text, source="arithmetic"))

    def _compare(self) -> None:
        """The same places at several shares or layers, as rows side by side."""
        query = self.query
        if not self.worked or not (query.compare or query.compare_layers):
            return
        spans = [Span(value, value, "percent") for value in query.compare] or list(query.compare_layers)
        what = "share" if query.compare else "layer"
        rows = [(what, "castings", "weight", "")]
        for span in spans:
            change = {"share": span} if query.compare else {"layer": (span,), "way": "top-dress"}
            total = weight = (0.0, 0.0)
            for place in query.places:
                one = work(place.model_copy(update=change), query, self.density)
                assert one.castings is not None and one.weight is not None
                total = (total[0] + one.castings[0], total[1] + one.castings[1])
                weight = (weight[0] + one.weight[0], weight[1] + one.weight[1])
            text = self.printer.show(*total, "volume")
            shown = printed(span.low, span.high, span.unit)
            self.working.append(Working(rule="side-by-side", formula=f"castings at another {what}", with_=f"{what} {shown}",
                                        gives=f"castings {text}", source="the same rules"))  # fmt: skip
            past = query.compare and span.high > facts().rate("share.harm").single + 1e-9
            if past:
                self.advice += judge_share(span.low / 100, span.high / 100, shown, "less")
            rows.append((shown, text, self.printer.show(*weight, "weight"), "may harm" if past else ""))
        if not any(row[3] for row in rows):
            rows = [row[:3] for row in rows]  # type: ignore[misc]
        self.table = tuple(rows)
        self._assume_density()

    def _components(self) -> tuple[Component, ...]:
        found: dict[str, Value] = {}
        for one in self.worked:
            if one.place.recipe and one.mix is not None:
                for name, share in one.place.recipe:
                    amount = (one.mix[0] * share, one.mix[1] * share)
                    earlier = found.get(name, (0.0, 0.0))
                    found[name] = (earlier[0] + amount[0], earlier[1] + amount[1])
        return tuple(Component(name=name, litres=_litres(amount)) for name, amount in found.items())


#: Soil of any kind: what is not castings, where no more is said.
_ANY_SOIL = frozenset({"soil", "topsoil", "potting-mix-base"})

#: What the named terms of the relations measure, for printing.
TERM_DIMENSION = {
    "area": "area", "whole area": "area", "treated area": "area", "left out": "area", "outer circle": "area", "inner circle": "area",
    "volume": "volume", "whole volume": "volume", "finished mix": "volume", "soil": "volume", "castings": "volume",
    "castings for one": "volume", "one cell": "volume", "water": "volume", "share": "share", "weight": "weight",
    "weight for one": "weight", "density": "density", "length": "length", "width": "length", "diameter": "length",
    "radius": "length", "around": "length", "base": "length", "height of triangle": "length", "inner radius": "length",
    "outer radius": "length", "across": "length", "bottom diameter": "length", "depth": "length", "layer": "length",
    "rate for an area": "number", "weight for an area": "number", "strip width": "length", "strip layer": "length",
    "tea for one": "volume", "tea for an area": "length", "filled weight": "weight", "density of the fill": "density",
    "dry weight": "weight", "dry share": "share", "nutrient": "weight", "part in the weight": "share",
    "part in the dry weight": "share", "castings of the season": "volume", "times": "number", "price": "number",
}  # fmt: skip


def check_volume(castings: Value) -> None:
    """Raises Unworkable for an amount of castings beyond any sane scale."""
    limit = facts().rate("limits.volume")
    size = unit(limit.unit).factor
    if castings[1] > limit.high * size or castings[1] <= 0:
        raise Unworkable("scale", f"that would take {castings[1]:.3g} m³ of castings, beyond any scale known here; check the sizes", "size")


def _spoken_units(place: Place) -> dict[str, str]:
    names = {"rise": "height of triangle", "inner": "inner radius", "outer": "outer radius", "bottom": "bottom diameter"}
    found = {names.get(name, name): span.unit for name, span in place.shape.dims.items()}
    if place.depth is not None:
        found["depth"] = place.depth.unit
    if place.layer:
        found["layer"] = place.layer[0].unit
    elif place.way == "top-dress":
        metric = any("metre" in span.unit for span in place.shape.dims.values())
        found["layer"] = "millimetre" if metric else "inch"
    if place.rate is not None and place.rate_per is None:
        found["castings for one"] = found["weight for one"] = place.rate.unit
    return {name: unit_name for name, unit_name in found.items() if unit_name}


def _spoken(query: Query) -> list[str]:
    names = [query.asked_unit] if query.asked_unit and unit(query.asked_unit).dimension in ("volume", "weight", "area") else []
    if not query.metric and any(place.way in ("side-dress", "planting-hole") and place.rate is None for place in query.places):
        names.append("us_cup")  # the usual rate is in cups a plant or a hole
    # beside a bed the cups of some plants are no measure for the whole
    doses = all(place.rate is not None or place.shape.form == "none" for place in query.places)
    for place in query.places:
        names += [span.unit for span in place.shape.dims.values()]
        names += [span.unit for span in (place.rate, place.soil) if span is not None and (doses or span.dimension != "volume")]
    names += [span.unit for span in query.have]
    if query.tea is not None and query.tea.water is not None:
        names.append(query.tea.water.unit)
    if query.tea is not None:
        names.append("litre" if query.metric else "us_gallon")
    if query.pack is not None and query.pack.size is not None:
        names.append(query.pack.size.unit)
    return names


def _is_trivial(name: str, value: Value) -> bool:
    return (name in ("count", "portion") and value == (1.0, 1.0)) or (name == "left out" and value == (0.0, 0.0))


def _is_identity(step: Step) -> bool:
    telling = [value for name, value in step.used if not _is_trivial(name, value)]
    return len(telling) == 1 and step.relation.id in ("whole-area", "treated-area", "whole-volume")


def _total(values: list[Value | None]) -> Value | None:
    found = [value for value in values if value is not None]
    return (sum(v[0] for v in found), sum(v[1] for v in found)) if found else None


def _litres(value: Value) -> Pair:
    return value[0] / _LITRE, value[1] / _LITRE


def _amount(castings: Value, weight: Value) -> Amount:
    return Amount(litres=_litres(castings), kg=weight)


def _mm(layer: Value | None) -> Pair | None:
    return (layer[0] * 1000, layer[1] * 1000) if layer is not None else None


def _part(one: Worked) -> Part:
    amount = _amount(one.castings, one.weight) if one.castings and one.weight else None
    return Part(reads=place_text(one.place), way=one.place.way, castings=amount, share=one.share, layer_mm=_mm(one.layer))


def _has_recipe(query: Query) -> bool:
    return bool(query.places) and bool(query.places[0].recipe) and not query.have


def _ten_of(share: Value, castings: Value | None, printer: Printer, *, added: bool = False) -> str:
    """What the usual share takes in the same place; `added` to the soil that is there."""
    if castings is None or share[1] <= 0:
        return "less"
    typical = facts().rate("blend.share").single / 100
    mix = castings[1] / share[1]
    if added:
        mix = (mix - castings[1]) / (1 - typical)
    return printer.show(mix * typical, mix * typical, "volume")


__all__ = ["answer", "symbol"]
