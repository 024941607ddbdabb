"""From a draft to a query, or to the one question that must be asked first.

Every doubtful measure gets a role by the declared preferences, every place a shape and a way. What the
request did not say and the reading rests on is listed as assumed; a number that finds no job is asked about.
The parts stand in `settling`, each on the one before.
"""

from __future__ import annotations

import re
from operator import attrgetter

from .complete import missing
from .draft import Draft
from .later import later
from .quantities import Span, UnknownUnit
from .query import Note, Place, Query, Question
from .readers.needs import is_unclear_need
from .readers.trade import query_extras
from .reads import reads
from .settling.common import BACKWARDS, Ask, amount_text, figures_of, heads
from .settling.places import Places
from .unchecked import unchecked

_note, _place_of, _query, _question = unchecked(Note), unchecked(Place), unchecked(Query), unchecked(Question)

#: The measures of a place that must be of something, and of no more than a garden has.
_CHECKED = ("length", "width", "side", "flats", "corners", "diameter", "radius", "around", "depth", "fill", "height", "area", "volume", "rate", "base",
            "clear", "outer")  # fmt: skip
_CHECKED_OF = attrgetter(*_CHECKED)


def _there_is_some(draft: Draft) -> bool:
    """Whether castings, bags or money are told, of which it can be asked whether they are enough."""
    return bool(draft.have or draft.packs_count or draft.pack or draft.loads or draft.budget or draft.more_have)


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
    except Ask:
        return draft.copy()
    shared = len(settler.assumed)
    settler._one_of_each([place for place in work.places if place.kind not in ("plant", "hole")])
    settler._rate_for_all()
    settler._spread_values()
    del settler.assumed[shared:]  # it was said with the answer; from now on it is each place's own
    work.flags += [(note.code, note.text) for note in settler.assumed]
    return work


def settle(draft: Draft, awaiting: str = "", *, kept: bool = True) -> Query | Question:
    """The query a draft makes, or a question. `awaiting` is what an earlier question asked for.

    `kept` says that the draft is wanted again, and must stay as it is.
    """
    work = draft.copy()
    try:
        return _Settler(work, awaiting).query()
    except Ask as ask:
        settler = _Settler(draft.copy() if kept else draft, awaiting)
        topic = settler.instead(ask) if not awaiting else ""
        if topic:
            settler._left_in_words()
            settler._notes()
            return _query(asked="explanation", asked_noun=topic, assumed=tuple(settler.assumed), set_aside=tuple(draft.unread))
        return _question(status="unread" if ask.status == "unread" else "asks", code=ask.code, text=ask.text, needs=ask.needs, offers=ask.offers, reads=settler.partly(),
                        about=ask.about or (draft.unclear[0] if ask.code == "spelling" else ""), instead=draft.unclear[1] if ask.code == "spelling" else "",
                        set_aside=tuple(draft.unread))  # fmt: skip


#: What is given once in each year is worked out for once.
_YEARLY = later(r"\b(?:each|every) (?:spring|fall|autumn|summer|winter|year)\b(?! for)|\bonce a year\b|\byearly\b|\bannually\b", re.IGNORECASE)


class _Settler(Places):
    """One draft being settled."""

    def partly(self) -> str:
        """What could be read of a request that has to be asked about, in words."""
        draft = self.draft
        places: list[Place] = []
        try:
            self._units()
            self._spread()
            for place in draft.places:
                self._length_units(place)
                places.append(_place_of(noun=place.noun, kind=place.kind, printed=place.printed, crop=place.crop, shape=self._shape(place),
                                    count=place.count, altogether=place.each is False, portion=place.portion, depth=self._depth(place),
                                    layer=tuple(place.layer), share=place.share, rate=place.rate, rate_per=place.rate_per,
                                    recipe=tuple(place.recipe), hints=frozenset(h for h in place.hints if ":" not in h)))  # fmt: skip
            return reads(_query(asked="castings", places=tuple(places), have=tuple([draft.have] if draft.have else []), pack=self._pack()))
        except (Ask, UnknownUnit):
            return ""

    def query(self) -> Query:
        draft = self.draft
        if draft.refusal:
            raise Ask("impossible", draft.refusal, status="unread")
        self._check_numbers()
        self._explanation_first()
        if draft.question is not None:
            code, text = draft.question
            raise Ask(code, text, needs=code)
        self._units()
        self._drop_context_places()
        self._tea_places()
        self._unsure()
        self._tea_places()
        asked = self._asked()
        self._shared_out()
        if draft.by_weight and (any(p.share for p in draft.places) or draft.recipe or draft.parts_share):
            raise Ask(
                "by-weight",
                "shares here are by volume; a share by weight needs the weight of the rest too. Is the share meant by volume?",
                needs="by-volume",
            )
        other = next((said for said, why in draft.noted if why == "a weight of something else"), "")
        shared = other and any(p.share for p in draft.places) and not any(p.has_size for p in draft.places) and draft.soil is None
        if other and (shared or (draft.have is not None and draft.have.dimension == "weight" and not draft.places)) and asked in ("castings", "share", "weight"):
            raise Ask("by-weight", f"shares here are by volume: how many litres, gallons or cubic feet is “{other}”?", needs="volume")
        if is_unclear_need(draft) and asked != "explanation":
            raise Ask("enough", "which of these amounts is needed, and which is there already? Say “I need …, I have …”", needs="amount")
        if "others-amount" in draft.hints and asked not in ("explanation", *BACKWARDS):
            raise Ask("others-amount", "is that amount to be used here too? Say what this place should get", needs="amount")
        if ("cut" in draft.hints or "by-so-much" in draft.hints) and asked != "explanation":
            words = next((text for code, text in draft.flags if code == "relative-word"), draft.by_so_much_said or "that")
            raise Ask("relative", f"“{words}”: of what? Say the amount itself", needs="amount")
        counted = [said for said, why in draft.noted if why == "a count of something else"]
        unsaid = counted and ("counted-each" in draft.hints or any(p.count is None for p in draft.places))
        if unsaid and re.search(r"\beach\b", draft.text.lower()) and asked not in ("explanation", *BACKWARDS) and draft.places:
            raise Ask("count", f"how many are there in all? “{counted[0]}” counts something else", needs="count")
        if "each-person" in draft.hints and asked != "explanation" and not any(p.count for p in draft.places):
            raise Ask("count", "is that for one of you, or for all? Say how many there are in all", needs="count")
        if asked == "cost" and draft.budget is not None and draft.price is not None and "budget-guessed" in draft.hints and "budget" not in draft.hints:
            raise Ask("money", f"what is {draft.budget[0]:g} {draft.budget[1]} for: what castings cost, or delivery?", needs="price")
        if asked == "cost":
            draft.noted = [(said, why) for said, why in draft.noted if why not in ("a tax on the price", "the price of delivery")]
        if "discount" in draft.hints and (asked in ("cost", "cheaper") or (asked == "packs" and draft.budget is not None) or (draft.packs_count and not draft.places)):
            said = next((said for said, why in draft.noted if why == "a discount"), "a discount")
            raise Ask("price", f"“{said}”: what does one {draft.pack_noun or 'bag'} cost with that taken off?", needs="price")
        if draft.more_packs and asked != "explanation":
            raise Ask("two-packs", "two sizes of bag: which one is it to be?", needs="pack")
        if "repeated" in draft.hints and asked == "castings" and draft.places:
            raise Ask("times", "how many times is it given in all? Say “4 times a year”, or ask for one time", needs="times")
        often = "how-often" in draft.topics or "how-often" in draft.weak_topics
        yearly = often and not draft.topics and len(draft.weak_topics) == 1 and _YEARLY.search(draft.text)
        if yearly and draft.figures and asked == "castings":
            self.assume("one-time", "for one application")
        elif often and draft.figures and asked == "castings" and draft.places and not (
            "each-time" in draft.hints and any(place.layer or (place.rate is not None and not place.rate_whole) for place in draft.places)
        ):  # fmt: skip
            raise Ask("season", "for one application, or for all of them in the season? Say the amount for one, and how many times",
                       needs="times")  # fmt: skip
        headings = {said for value, said in draft.figures if self._is_heading(value, said)} if draft.stray else set()
        draft.stray = [one for one in draft.stray if one[0] not in headings]
        if draft.stray and asked not in ("explanation",):
            said = draft.stray[0][0]
            raise Ask("stray-number", f"what is “{said}”? Say what it measures or counts, or leave it out", needs="stray", about=said)
        self._nothing_there(asked)
        self._other_material(asked)
        if asked == "castings" and draft.have is not None and not draft.enough and "on-hand" not in draft.hints and any(
            p.kind in ("plant", "hole") and p.rate is None for p in draft.places
        ):  # fmt: skip
            raise Ask("each-or-all", "is that amount for each of them, or for all together?", needs="each")
        self._layer_of_a_mix()
        self._spread()
        places = [self._place(place, asked) for place in draft.places]
        places = [place for place in places if place is not None]
        if asked == "explanation":
            self._left_in_words()
        self._notes()
        query = _query(
            asked=asked,  # type: ignore[arg-type]
            asked_noun=draft.asked_noun,
            asked_unit=draft.asked_unit,
            places=tuple(p for p in places if p is not None),
            have=tuple([draft.have] if draft.have else []) + tuple(draft.more_have),
            have_is_tea=draft.have_is_tea,
            enough=draft.enough and _there_is_some(draft),
            density=draft.density,
            weighed=draft.weighed,
            moisture=draft.moisture,
            pack=self._pack(),
            budget=(f"{draft.budget[0]:.2f}", draft.budget[1]) if draft.budget else None,
            tea=self._tea(),
            tax=draft.tax if asked == "cost" else None,
            charges=tuple((f"{amount:.2f}", currency) for amount, currency in draft.charges) if asked == "cost" else (),
            limit=draft.limit,
            compare=tuple(draft.compare),
            **query_extras(draft),
            metric=self._is_metric(),
            assumed=tuple(self.assumed),
            noted=tuple(_note(code="not-an-amount", text=f"{said}: {why}") for said, why in draft.noted),
            set_aside=tuple(draft.unread),
        )
        self._complete(query)
        self._account(query)
        return query

    def _layer_of_a_mix(self) -> None:
        """ "half an inch of a 50/50 mix of castings and compost": so much of that layer is castings."""
        draft = self.draft
        part = dict(draft.recipe).get("castings", 0.0) if draft.recipe else draft.parts_share.low / 100 if draft.parts_share is not None else 0.0
        place = draft.places[0] if len(draft.places) == 1 else None
        if place is None or not 0 < part < 1 or not place.layer or place.depth is not None or place.fill is not None or place.share is not None or (
            place.recipe or draft.have is not None or len(place.size) > 2
        ):  # fmt: skip
            return
        told = place.layer
        place.layer = [Span(span.low * part, span.high * part, span.unit) for span in told]
        gone = {end for span in told for end in (span.low, span.high)}
        draft.figures = [(value, said) for value, said in draft.figures if value not in gone]
        for span, alone in zip(told, place.layer, strict=True):
            self.assume("mix-layer", f"{amount_text(span)} of a mix with {part * 100:.4g} % castings: {amount_text(alone)} of castings alone")
        draft.recipe, draft.parts_share = [], None

    def _shared_out(self) -> None:
        """ "20 litres, 15 rose bushes, how much each": what is there is shared out among them."""
        draft = self.draft
        place = draft.places[0] if len(draft.places) == 1 else None
        if "each-asked" not in draft.hints:
            return
        if place is None or not place.count or place.count < 2 or (place.rate is not None and not place.rate_whole):
            draft.hints.discard("each-asked")  # it is said, or there is one
            return
        if place.kind not in ("plant", "hole") or place.rate_whole:
            return
        if draft.have is None or draft.more_have or draft.have_is_tea:
            draft.hints.discard("each-asked")
            return
        place.rate, place.rate_whole, draft.have, draft.enough = draft.have, True, None, False

    def _is_heading(self, value: float, said: str) -> bool:
        """Whether a number counts the places that are then listed one by one: "two beds: 4x8 ft and 3x6 ft"."""
        places = self.draft.places
        return (
            len(places) >= 2 and value == len(places)
            and all(p.has_size and p.count in (None, 1) and p.kind in ("ground", "container", "") for p in places)
            and heads(self.draft.text, said)  # last: in a long line of numbers the search would be made for each of them
        )  # fmt: skip

    def _left_in_words(self) -> None:
        """Says which figures a question in words does not work out."""
        draft = self.draft
        used = {said for said, _ in draft.noted}
        told = {value for _, one in draft.analysis for value in (one.low, one.high)}
        for value, said in draft.figures:
            if said not in used and value not in told:
                used.add(said)
                draft.noted.append((said, "part of a question in words"))

    def _account(self, query: Query) -> None:
        """Asks about a figure that the reading does not hold: none is dropped in silence."""
        if not self.draft.figures:
            return
        held = figures_of(query, nothing=any(value == 0 for value, _ in self.draft.figures))
        noted = {said for said, _ in self.draft.noted}
        for value, said in self.draft.figures:
            if value in held or said in noted or self._is_heading(value, said):
                continue
            if not any(abs(value - one) <= 1e-9 * max(1.0, abs(value)) or (value < 1 and abs(value * 100 - one) <= 1e-9) for one in held):
                raise Ask("stray-number", f"what is “{said}”? Say what it measures or counts, or leave it out", needs="stray", about=said)

    def _check_numbers(self) -> None:
        """Shares over the whole, amounts of nothing, figures beyond any garden."""
        draft = self.draft
        for place in draft.places:
            if place.share is not None:
                if place.share.high > 100:
                    raise Ask("over-100", f"a share of {place.share.high:g} % is more than the whole; it must be 100 % or less",
                               status="unread")  # fmt: skip
                if place.share.high <= 0 or place.share.low <= 0:
                    raise Ask("zero", "a share of 0 % is no castings at all", status="unread")
            if place.count is not None and place.count <= 0:
                raise Ask("zero", "none at all need no castings; how many are there?", status="unread")
            for span in [*place.size, *place.layer]:
                if span.high <= 0:
                    raise Ask("zero", "a size of nothing needs no castings; what is the size?", status="unread")
            if all(0 < span.high < 1e12 for span in _CHECKED_OF(place) if span is not None):
                continue
            for name, span in zip(_CHECKED, _CHECKED_OF(place), strict=True):
                if span is not None and span.high <= 0:
                    raise Ask("zero", f"a {name} of nothing cannot be; what is the {name}?", status="unread")
                if span is not None and not span.high < 1e12:
                    raise Ask("scale", f"a {name} of {span.high:g} is beyond any garden", status="unread")

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
        found = missing(query)
        if found is not None:
            code, text, needs = found
            if code == "count-unsaid" and not any(
                re.search(rf"\b{re.escape(p.printed)}\b", self.draft.text.lower()) for p in self.draft.places if p.printed
            ):
                return  # the plural is the reader's own word: "my 6 inch houseplant"
            raise Ask(code, text, needs=needs)
