"""From phrases to a draft: which amount belongs to which place, and what is asked.

One pass over the phrases in order. A phrase fills a slot of the place that is being spoken of, opens a new
place, or waits (`unsure`, `stray`) for `settle` to find it a job. Nothing is assumed here.
"""

from __future__ import annotations

from .asides import dimension, is_said, set_asides, single, take_back
from .draft import Draft, PlaceDraft, Unsure
from .mend import near_amount
from .parse import Parsed, parse
from .phrases import Amount, CellTray, Measure, Number, NurseryClass, Part, Phrase, Price, Ratio, Said, Share
from .quantities import Span
from .recipes import find_recipe
from .trade import find_trade

PLACE_KINDS = ("ground", "container", "hole", "plant", "mix", "seed-mix")
_ONE_EACH = ("hole", "plant")
#: Containers that are known by the width of their mouth: "12-inch pots".
_ROUND_CONTAINERS = ("pot", "hanging-basket", "bucket", "tub", "planter", "grow-bag")
#: Roles whose value is only compared with another or taken off it, so that it does not stand in the reading itself.
_CHECKED_AGAINST = ("height", "below-rim")
_LONG_GROUND = ("row", "trench", "strip")
#: Units in which a ground size is spoken; a size without one is read in feet.
_METRIC = ("metre", "centimetre", "millimetre")


def gather(text: str, *, leaning: bool = False) -> Draft:
    """The draft of one line; `leaning` where it follows other lines of a conversation. Never raises."""
    parsed = parse(text)
    return Gatherer(text, parsed, leaning).run()


class Gatherer:
    """The state of one pass over the phrases of a line."""

    def __init__(self, text: str, parsed: Parsed, leaning: bool = False) -> None:
        self.leaning = leaning
        self.draft = Draft(text=text, mended=[(m.said, m.read) for m in parsed.mended], cut=parsed.cut)
        self.draft.words = len(parsed.phrases)
        self.all: list[Phrase] = parsed.phrases
        self.phrases: list[Phrase] = []
        self.at = 0
        self.place: PlaceDraft | None = None
        self.count: Number | None = None  # a number that waits for its noun
        self.tie = ""
        self.correcting = False
        self.excluding = False
        self.last_form = ""
        self.pending_noun_hints: set[str] = set()
        self.pending_each = False
        self.dated = False  # "now", "in the fall": applications that add up

    # ---- the pass ------------------------------------------------------------------------------------

    def run(self) -> Draft:
        draft = self.draft
        self._impossible()
        phrases = set_asides(find_trade(self.all, draft), draft, self.leaning)
        phrases = take_back(phrases, draft)
        self.phrases = find_recipe(phrases, draft)
        self._figures()
        while self.at < len(self.phrases):
            phrase = self.phrases[self.at]
            before = self.at
            if type(phrase) is Amount:
                self._amount(phrase)
            elif type(phrase) is Said:
                self._said(phrase)
            elif type(phrase) is Share:
                self._share(phrase)
            elif type(phrase) is Price:
                self._price(phrase)
            elif type(phrase) in (Part, Ratio):
                self._leave(phrase)
            if self.at == before:
                self.at += 1
        if self.count is not None:
            self._drop_count()
        return draft

    def _figures(self) -> None:
        """Notes every figure that has to be found again in the reading: none may be lost on the way."""
        for phrase in self.phrases:
            if type(phrase) is Amount:
                for dim in phrase.dims:
                    if type(dim) is NurseryClass:
                        self.draft.figures.append((float(dim.number), self.text_of(phrase)))
                    elif type(dim) is CellTray:
                        self.draft.figures.append((float(dim.cells), self.text_of(phrase)))
                    elif not dim.article and dim.role not in _CHECKED_AGAINST:  # type: ignore[union-attr]
                        self.draft.figures += [(end, self.text_of(phrase)) for end in {dim.low, dim.high}]  # type: ignore[union-attr]
            elif type(phrase) in (Share, Price):
                self.draft.figures += [(end, self.text_of(phrase)) for end in {phrase.low, phrase.high}]  # type: ignore[union-attr]

    def _supersede(self, *spans: Span | None) -> None:
        """A value that a correction took back: it need not stand in the reading."""
        for span in spans:
            if span is not None:
                gone = {span.low, span.high}
                self.draft.figures = [(value, said) for value, said in self.draft.figures if value not in gone]

    def _impossible(self) -> None:
        """What no reading can mend: a minus sign before an amount."""
        for at, phrase in enumerate(self.all):
            if is_said(phrase, "minus"):
                after = self.all[at + 1] if at + 1 < len(self.all) else None
                said = self.draft.text[phrase.start : after.end if after else phrase.end]
                self.draft.refusal = f"“{said.strip()}” is less than nothing; give the amount without a minus sign"

    # ---- small helpers -------------------------------------------------------------------------------

    def peek(self, step: int = 1) -> Phrase | None:
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

    def text_of(self, phrase: Phrase | Measure | Number) -> str:
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
        place = PlaceDraft(tie=self.tie)
        if self.last_form:
            place.form, self.last_form = self.last_form, ""
        self.draft.places.append(place)
        self.place = place
        self.tie = ""
        return place

    def _current(self) -> PlaceDraft:
        return self.place if self.place is not None else self._new_place()

    # ---- words ---------------------------------------------------------------------------------------

    def _said(self, phrase: Said) -> None:
        kind = phrase.kind
        if kind in PLACE_KINDS:
            self._noun(phrase)
        elif kind == "link":
            self._link(phrase)
        elif kind == "hint":
            self._hint(phrase)
        elif kind == "way":
            self._way(phrase)
        elif kind == "form":
            self._form(phrase)
        elif kind == "ask":
            self._ask(phrase)
        elif kind == "pack":
            self._pack_noun(phrase)
        elif kind == "topic":
            self.draft.topics.append(phrase.id)
        elif kind == "component":
            self._component(phrase)
        elif kind == "castings":
            self.draft.hints.add("castings-named")
        elif kind == "reply":
            self.draft.replies.append((phrase.id, phrase.text))
            if phrase.id == "add-place":
                self.tie = "and"
        elif kind == "deny":
            self._deny(phrase)
        elif kind in ("unit", "unclear-unit"):
            self._loose_unit(phrase)
        elif kind == "role":
            self._loose_role(phrase)
        elif kind in ("about", "limit"):
            self._about(phrase)
        elif kind == "unknown":
            self._unknown(phrase)
        elif kind == "weak-topic":
            self.draft.weak_topics.append(phrase.id)
        elif kind == "stop":
            if phrase.id != "comma":
                self.excluding = False
            if self.count is not None and phrase.id != "comma":
                self._drop_count()
        elif kind == "currency":
            if is_said(self.peek(), "stop") or self.peek() is None:
                self._trailing_ask("cost")
            else:
                self.draft.unread.append(phrase.text)
        elif kind == "loose-measure" and not self.draft.recipe and not is_said(self.peek(-1), "link", "into"):
            self._loose_measure(Measure(1.0, 1.0, phrase.id, "loose-measure", phrase.start, phrase.end))
        elif kind == "label":
            if any(is_said(p, "component") for p in self.phrases) and "-" in phrase.text:
                self.draft.question = ("recipe", f"{phrase.text}: which part is which? Say it as “1 part castings to 9 parts soil”")
            self.draft.noted.append((phrase.text, "a label"))
        elif kind == "percent":
            self._trailing_ask("share")
        elif kind == "ordinal":
            self.draft.ordinal = int(phrase.id)
        elif kind == "by-so-much":
            self._by_so_much(phrase)
        elif kind == "other-goods":
            self.draft.hints.add("elsewhere")
        elif kind == "other-material" or (kind == "label-word" and phrase.id == "npk"):
            self.draft.hints.add("goods:" + phrase.text.lower())

    def _unknown(self, phrase: Said) -> None:
        """A word that is not known: kept, and asked about where a number may hang on it."""
        self.draft.unread.append(phrase.text)
        near = near_amount(phrase.text.lower())
        around = [self.peek(step) for step in (-2, -1, 1, 2)]
        beside = any(type(p) in (Amount, Share) or is_said(p, "unit") or is_said(p, "unclear-unit") or is_said(p, "role") for p in around) or (
            is_said(self.peek(), "link", "of")
        )  # fmt: skip
        if (is_said(self.peek(), "unit") or is_said(self.peek(), "unclear-unit")) and self.draft.question is None:
            self.draft.question = ("spelling", f"what is “{phrase.text} {self.peek().text}”? An amount hangs on it")  # type: ignore[union-attr]
        elif near and beside and self.draft.question is None:
            self.draft.question = ("spelling", f"is “{phrase.text}” meant to be “{near}”? An amount hangs on it")

    def _about(self, phrase: Said) -> None:
        following = self.peek()
        if phrase.kind == "limit":
            if type(following) is Share and phrase.id == "at-least" and following.low >= 100:
                self.draft.refusal = "more than the whole cannot be castings"
            if type(following) in (Amount, Share, Price):
                self.draft.flags.append(("limit", f"{phrase.text} {self.text_of(following)}"))  # type: ignore[arg-type]
                self._limit(phrase.id, following)
        elif type(following) in (Amount, Share):
            self.draft.flags.append(("about", f"“{phrase.text} {self.text_of(following)}” is taken as it stands"))  # type: ignore[arg-type]

    def _trailing_ask(self, asked: str) -> None:
        """ "…, share?", "… = ? %": what is asked for, said in one word."""
        if self.draft.asked in ("", "castings"):
            self.draft.asked = asked
            self.draft.asks.append("trailing")

    def _limit(self, which: str, following: Phrase | None) -> None:
        one = single(following)
        if type(one) is Measure and dimension(one) in ("volume", "weight") and one.per is None:
            after = self.peek(2)
            if not (type(after) is Said and after.kind in ("container", "mix", "pack", "plant")):
                self.draft.limit = (which, self._span(one))
                self.at += 2

    def _deny(self, phrase: Said) -> None:
        if phrase.id == "instead":
            self.correcting = True
        elif phrase.id == "negative":
            if type(self.peek()) in (Amount, Share):
                self.draft.refusal = f"“negative {self.text_of(self.peek())}” is less than nothing"  # type: ignore[arg-type]
        elif phrase.id == "leave":
            self.draft.question = ("exclusion", "what is left out? Say the size of what castings do go on")
        elif phrase.id == "without":
            following, _ = self.ahead(("hint", "about"))
            if type(measure := single(following)) is Measure and phrase.text.lower() == "minus" and dimension(measure) != "area":
                self.draft.refusal = f"“minus {self.text_of(measure)}” is less than nothing; give the amount without a minus"
            elif type(single(following)) is Number and phrase.text.lower() == "minus":
                self.draft.hints.add("by-so-much")
                self.draft.by_so_much = "fewer"
            elif type(following) is Share and phrase.text.lower() == "minus":
                self.draft.refusal = f"“minus {self.text_of(following)}” is less than nothing"
            elif is_said(following, "component"):
                self.at += 2
            elif type(following) is Amount or (is_said(following, "ground", "path")):
                self.excluding = True
        elif phrase.id == "all-but":
            number = self.peek()
            after = self.peek(2)
            if type(n := single(number)) is Number and (is_said(after, "link", "of") or is_said(after, "stop") or True):
                following = self.peek(2) if not is_said(after, "link", "of") else self.peek(3)
                m = single(following)
                if type(m) is Number:
                    m2 = Number(m.low - n.low, m.high - n.low, m.start, m.end)
                    index = self.at + (3 if is_said(after, "link", "of") else 2)
                    self.phrases[index] = Amount((m2,), m2.start, m2.end)
                    self.draft.flags.append(
                        ("all-but", f"all but {self.text_of(n)} of {self.text_of(m)}: {m2.low:g}")
                    )
                    self.at += 2

    def _link(self, phrase: Said) -> None:
        name = phrase.id
        draft = self.draft
        if name in ("and", "but"):
            self.tie = "and"
        elif name in ("with", "for", "into", "on", "of"):
            self.tie = "in" if name == "into" else name
        elif name == "each" and type(following := self.ahead()[0]) is Said and following.kind in ("plant", "hole") and self.place is None:
            self.pending_each = True
        elif name == "each" or name == "both":
            if name == "both":
                draft.hints.add("both")
            asked_last = any(is_said(p, "ask", "how-much") for p in self.phrases[max(0, self.at - 3) : self.at])
            if self.place is not None and not asked_last:
                if self.place.each is None:
                    self.place.each = True
        elif name == "altogether":
            self._altogether()
        elif name == "share-word":
            draft.hints.add("share-word")
            self._share_word(phrase)
        elif name == "imperial":
            draft.hints.add("imperial")
        elif name == "part-full":
            draft.question = ("fill", "how deep is the soil in it, and how deep is it to be? Say it as “8 inches deep”")
        elif name == "price-word":
            if self.peek() is None or is_said(self.peek(), "stop"):
                self._trailing_ask("cost")
        elif name == "density-word":
            draft.hints.add("density")
            if phrase.text.lower().startswith("castings weigh") and type(self.peek()) is not Amount and set(draft.asks) & {"how-much"}:
                draft.asked = "weight"
            if self.peek() is None or is_said(self.peek(), "stop"):
                self._trailing_ask("density")
        elif name == "season-long":
            draft.question = ("season", "for how many applications in all? Say the amount for one, and how many times")
        elif name == "count-x":
            number = single(self.peek())
            place = self.place
            if type(number) is Number and place is not None and place.count is None and place.kind:
                self.count = number
                self._set_count(place)
                self.at += 2
        elif name == "on-hand":
            draft.hints.add("on-hand")
        elif name == "budget":
            draft.hints.add("budget")
        elif name == "by-weight":
            draft.by_weight = True
        elif name == "now" or name == "again":
            self.dated = True
        elif name == "water":
            self._water_word()
        elif name == "moisture":
            draft.hints.add("moisture")
        elif name == "count-word":
            if self.count is not None and self.place is not None and self.place.count is None and self.place.kind:
                self._set_count(self.place)
            elif is_said(self.peek(), "pack") or ((self.peek() is None or is_said(self.peek(), "stop")) and draft.pack is not None):
                self._trailing_ask("packs")
        elif name == "cut" and draft.question is None and type(self._past_replies()) in (Share, Amount):
            draft.question = ("relative", f"“{phrase.text} {self.text_of(self._past_replies())}”: how much should that be? Say the amount itself")  # type: ignore[arg-type]
        elif name in ("relative", "cut"):
            draft.hints.add("relative" if name == "relative" else "cut")
            draft.flags.append(("relative-word", phrase.text))

    def _by_so_much(self, phrase: Said) -> None:
        """ "two more", "2 inches deeper": a change by an amount, which only a conversation can work out."""
        if phrase.id == "less" and type(following := self.peek()) is Amount and (self._is_size(following) or self._ground_measure(following)):
            self.excluding = True
            return
        beside = [self.peek(-1), self.peek(1), self.peek(2)]
        if phrase.id == "gone" and any(type(p) is Amount for p in self.phrases):
            self.draft.hints.add("by-so-much")
            self.draft.by_so_much = "fewer"
        elif any(type(p) in (Amount, Share) for p in beside) or phrase.text.lower().endswith(" the"):
            self.draft.hints.add("by-so-much")
            self.draft.by_so_much = phrase.id

    def _past_replies(self) -> Phrase | None:
        at = self.at + 1
        while at < len(self.phrases) and (is_said(self.phrases[at], "reply") or is_said(self.phrases[at], "link", "of")
                                          or is_said(self.phrases[at], "mix") or is_said(self.phrases[at], "about")):  # fmt: skip
            at += 1
        return self._at(at)

    def _altogether(self) -> None:
        """ "altogether": the size just said, or the one that comes next, is of all of them together."""
        draft = self.draft
        draft.hints.add("altogether")
        before, after = single(self.peek(-1)), single(self.peek(1))
        if (self.peek() is None or is_said(self.peek(), "stop")) and draft.price is not None:
            self._trailing_ask("cost")
        elif type(before) is Measure:
            kind = dimension(before)
            if draft.unsure and draft.unsure[-1].end == before.end:
                draft.unsure[-1].cues |= {"altogether"}
            elif self.place is not None and self.place.rate is not None and kind in ("volume", "weight"):
                self.place.rate_whole = True
            elif self.place is not None and kind in ("area", "volume", "length", "length or volume"):
                self.place.each = False
        elif type(after) is Measure:
            draft.hints.add("altogether-next")
            if self.place is not None and dimension(after) in ("area", "length"):
                self.place.each = False

    def _share_word(self, phrase: Said) -> None:
        """ "share" at the end asks for it; before an amount it may be the verb: "12 plants share 2 gallons"."""
        following = self.peek()
        if following is None or is_said(following, "stop"):
            if not any(is_said(p, "link", "is") for p in [self.peek(-1)] if p):
                self._trailing_ask("share")
        elif type(one := single(following)) is Measure and dimension(one) in ("volume", "weight") and phrase.text.lower() == "share":
            self.draft.hints.add("altogether-next")

    def _water_word(self) -> None:
        draft = self.draft
        if draft.asked in ("castings", "") and "how-much" in draft.asks and not draft.asked_noun:
            draft.asked, draft.asked_noun = "water", "water"

    def _hint(self, phrase: Said) -> None:
        draft = self.draft
        target = self.place.hints if self.place is not None else self.pending_noun_hints
        target.add(phrase.id)
        draft.hints.add(phrase.id)

    def _way(self, phrase: Said) -> None:
        draft = self.draft
        way = phrase.id
        if any(is_said(p, "other-thing", "animal") for p in self._clause()) and not any(type(p) is Amount for p in self._clause()):
            return  # "my dog digs in it"
        if way == "blend" and phrase.text.lower() in ("potting up", "pot up", "potting"):
            draft.hints.add("potting")
        place = self.place
        if place is not None and not place.way and (len(draft.places) > 1 or draft.way):
            place.way = way
        if not draft.way:
            draft.way = way
            draft.hints.add("way-said")
            if place is not None and not place.way:
                place.way = way
        elif draft.way != way:
            draft.hints.add("way:" + way)

    def _form(self, phrase: Said) -> None:
        place = self.place
        self.last_form = phrase.id
        if phrase.id == "other":
            self.draft.hints.add("other-form")
            self.draft.flags.append(("form", phrase.text))
            return
        if phrase.id == "right-angle":
            if place is not None:
                place.hints.add("right-angle")
            self.draft.hints.add("right-angle")
            return
        if phrase.id == "trunk":
            self.draft.hints.add("trunk")
            return
        if phrase.id in ("tapered", "straight"):
            self.draft.hints.add(phrase.id)
            if place is not None:
                place.hints.add(phrase.id)
            return
        if place is not None and not place.form and (not place.noun or place.has_size or place.kind == "ground"):
            if not (self.tie == "and" and place.has_size):
                place.form = phrase.id
                self.last_form = ""

    # ---- nouns ---------------------------------------------------------------------------------------

    def _noun(self, phrase: Said) -> None:
        draft = self.draft
        kind, noun = phrase.kind, phrase.id
        if self.excluding and noun == "path":
            self._excluded_size()
            return
        if noun == "path":
            draft.unread.append(phrase.text) if False else None
            self._path(phrase)
            return
        if self._asked_at_the_end(kind):
            self._asked_noun(kind, noun)
            return
        if is_said(self.peek(-1), "ask", "how-many") or (
            draft.asks and draft.asks[-1] == "how-many" and not draft.asked_noun and self._straight_after_ask()
        ):
            self._asked_noun(kind, noun)
            if kind != "plant" or not draft.places:
                return
            return
        following, where = self.ahead(("hint", "form", "about"))
        # "tomato plants", "tulip bed", "pepper pots": a plant before another noun describes it
        if kind == "plant" and type(following) is Said and following.kind in ("plant", "ground", "container", "hole") and (
            where == self.at + 1
        ):  # fmt: skip
            if following.kind == "plant":
                self.phrases[where] = Said("plant", noun if noun != "plant" else following.id, phrase.text, phrase.start,
                                           following.end)  # fmt: skip
            else:
                self.pending_noun_hints.add("crop:" + noun)
            self.at += 1
            return
        if self._so_many_of_so_many(kind, noun, phrase):
            return
        place = self._place_for_noun(kind, noun)
        place.noun, place.kind, place.printed = noun, kind, phrase.text.lower()
        for hint in list(self.pending_noun_hints):
            if hint.startswith("crop:"):
                place.crop = hint[5:]
            else:
                place.hints.add(hint)
        self.pending_noun_hints.clear()
        if kind == "plant":
            place.crop = noun
        if self.pending_each:
            place.each, self.pending_each = True, False
        if self.count is not None:
            self._set_count(place)
        if self.last_form and not place.form:
            place.form, self.last_form = self.last_form, ""
        self._label_after(place)

    def _so_many_of_so_many(self, kind: str, noun: str, phrase: Said) -> bool:
        """ "5 rows of 18 plants": so many in each of so many."""
        place, count = self.place, self.count
        if kind != "plant" or count is None or place is None or self.tie not in ("of", "with"):
            return False
        if place.kind not in ("ground", "container") or place.count is None or place.has_size or place.rate:
            return False
        before = self._at(self.at - 2)
        if not is_said(before, "link", "of", "with"):
            return False
        self.draft.figures = [(value, said) for value, said in self.draft.figures if value not in (place.count, count.low)]
        self.draft.flags.append(("rows-of", f"{place.count:g} {place.printed} of {count.low:g}: {place.count * count.low:g} in all"))
        place.count *= count.low
        place.noun, place.kind, place.printed, place.crop = noun, kind, phrase.text.lower(), noun
        self.count = None
        return True

    def _asked_at_the_end(self, kind: str) -> bool:
        """ "12 kg castings, 300 g per plant = ? plants", "…, plants?": a noun alone at the end, with castings at hand."""
        draft = self.draft
        if draft.asked or self.count is not None or kind not in ("plant", "container", "ground"):
            return False
        if not (draft.have is not None or draft.pack is not None or draft.unsure):
            return False
        at_end = self.at == len(self.phrases) - 1 or (self.at == len(self.phrases) - 2 and is_said(self.phrases[-1], "stop"))
        return at_end and "?" in draft.text and (is_said(self.peek(-1), "stop") or is_said(self.peek(-1), "link", "is"))

    def _straight_after_ask(self) -> bool:
        """Whether only describing words stand between the last question word and here."""
        at = self.at - 1
        while at >= 0:
            phrase = self.phrases[at]
            if is_said(phrase, "ask", "how-many"):
                return True
            if type(phrase) is Said and (phrase.kind in ("hint", "form", "plant", "about", "component", "castings") or phrase.id == "of"):
                at -= 1
                continue
            one = single(phrase)
            if type(one) is Measure or (type(phrase) is Amount and len(phrase.dims) > 1):
                at -= 1
                continue
            return False
        return False

    def _label_after(self, place: PlaceDraft) -> None:
        """A number or a letter that names a place: "row 14:", "BED-02 |", "beds 1 through 4", "bed A"."""
        end = self.phrases[self.at].end
        letter = self.draft.text[end : end + 3]
        if place.kind in ("ground", "container") and len(letter) >= 2 and letter[0] == " " and letter[1] in "ABCDEFGH" and (
            not letter[2:].isalnum() and letter[2:] not in ("'", "’")
        ):  # fmt: skip
            place.name = letter[1]
        following = self.peek()
        number = single(following)
        if type(number) is NurseryClass and place.kind == "ground":
            self.draft.noted.append((self.text_of(following), "a label"))  # type: ignore[arg-type]
            place.name = str(number.number)
            self.at += 2
            return
        if type(number) is not Number or number.role:
            return
        after = self.peek(2)
        text = self.text_of(number)
        if place.kind in ("ground", "container") and number.note == "" and not place.printed.endswith("s") and not is_said(
            after, "link", "each", "count-word"
        ):  # fmt: skip
            if type(after) is Said and after.kind in PLACE_KINDS or (type(after) is Amount and not self._is_size(after)):
                return
            self.draft.noted.append((text, "a label"))
            if place.name and place.name != text and self.tie == "and":
                place.count = (place.count or 1) + 1  # "row 3 and row 5, each 10 m x 0.5 m"
                place.each = True
            place.name = text
            self.at += 2
            return
        if number.note in ("span:through", "span:to") and number.low == int(number.low) and number.high == int(number.high):
            if number.high > number.low >= 1 and place.count is None:
                place.count = number.high - number.low + 1
                place.each = True
                self.draft.flags.append(("labels", f"{place.printed} {text}: {place.count:g} of them"))
                self.at += 2
                return
        tight = self.draft.text[number.start - 1 : number.start] == "-" or self.draft.text[number.start - 1 : number.start] == "#"
        ended = is_said(after, "stop", "colon", "sentence", "dash") or is_said(after, "link", "is")
        if place.kind in ("ground", "container") and not place.printed.endswith("s") and (tight or ended):
            self.draft.noted.append((text, "a label"))
            place.name = text
            self.at += 2

    def _asked_noun(self, kind: str, noun: str) -> None:
        draft = self.draft
        draft.asked_noun = noun
        draft.asked = {"plant": "plants", "container": "containers", "ground": "beds", "hole": "plants",
                       "mix": "mix", "seed-mix": "mix"}.get(kind, draft.asked)  # fmt: skip
        if kind in ("plant", "container", "hole", "ground"):
            place = self.place if self.place is not None and (not self.place.noun or self.place.kind == kind) else self._new_place()
            place.noun, place.kind = noun, kind
            place.hints.add("asked")
            if kind == "plant":
                place.crop = noun

    def _place_for_noun(self, kind: str, noun: str) -> PlaceDraft:
        place = self.place
        draft = self.draft
        if place is None:
            return self._new_place()
        if not place.noun:
            if self.count is not None and (
                place.count is not None or (kind in ("container", "plant", "hole") and (place.area or place.size) and self.tie != "of")
            ):  # fmt: skip
                return self._new_place()
            if kind == "plant" and place.has_size and self.tie in ("for", "with", "of", "in", "on"):
                place.crop = noun
                return self._crop_place(place)
            return place
        if kind == place.kind == "plant" and place.count is None and place.noun in ("plant", "tree", "shrub"):
            return place  # "2 litres per tree, I have 7 young plums"
        if kind == place.kind == "plant" and place.count is None and noun == "plant" and self.count is not None:
            self._set_count(place)  # "my tomatoes …, 9 plants"
            return self._crop_place(place)
        if place.noun == noun or (kind == place.kind and noun in ("plant", "bed", "plot", "pot", "mix")
                                  and self.count is None and not self._size_waits()):  # fmt: skip
            if self.count is not None and place.count is not None and not self.correcting:
                if self.count.low == place.count:
                    return place
                return self._new_place()
            place_noun = place.noun
            if noun != place_noun:
                self.phrases[self.at] = Said(kind, place_noun, place.printed, self.phrases[self.at].start,
                                             self.phrases[self.at].end)  # fmt: skip
            return place
        for known in draft.places:  # "… the bed is …": spoken of before
            if known.noun == noun and self.count is None and known is not place and not self.tie == "and":
                self.place = known
                return known
        if kind == "plant" and place.kind in ("ground", "container") and self.count is None:
            place.crop = noun
            return self._crop_place(place)
        if kind in ("mix", "seed-mix") and place.kind in ("container", "ground", "hole", "plant") and self.count is None:
            place.hints.add("seedlings" if kind == "seed-mix" else "mix-named")
            return self._crop_place(place)  # "six buckets of mix", "the mix in a bed"
        if kind in ("ground", "container") and place.kind == "plant" and self.count is None and self.tie in ("in", "on", "with", "of"):
            if not place.has_size:
                context = self._new_place()
                context.hints.add("around")
                return context
        if kind in ("container", "ground") and place.kind in ("mix", "seed-mix") and self.count is None and (
            place.volume is None or kind == "container" and type(self.peek(-1)) is Amount
        ):  # fmt: skip
            place.hints.add("seedlings" if place.kind == "seed-mix" else "mix-named")
            return place  # "mix for a 3 by 8 ft bed": the bed is what is filled
        if kind == "hole" and place.kind == "plant" and self.count is None:
            place.hints.add("hole")
            return self._crop_place(place)
        if kind == "plant" and place.kind == "hole":
            place.crop = noun
            if self.count is not None and place.count is None:
                self._set_count(place)
            return self._crop_place(place) if self.count is None else self._new_place()
        if kind == "container" and place.kind == "plant" and self.count is None and self.tie in ("in", "into") and place.count:
            pots = self._new_place()  # "9 houseplants in half gallon pots"
            pots.count, pots.crop = place.count, place.crop
            self.draft.places.remove(place)
            return pots
        return self._new_place()

    def _size_waits(self) -> bool:
        return False

    def _crop_place(self, place: PlaceDraft) -> PlaceDraft:
        """A throw-away place for a noun that only describes the one being spoken of."""
        shadow = PlaceDraft()
        shadow.count = place.count
        return shadow

    def _path(self, phrase: Said) -> None:
        self.draft.hints.add("path")
        if any(type(p) is Amount for p in self._clause()) and self.draft.question is None and not self.draft.minus:
            self.draft.question = ("exclusion", f"is the {phrase.text.lower()} to be left out? Say the size of what castings do go on")

    def _excluded_size(self) -> None:
        """The size of what is left out: "except for the path (1 ft by 10 ft)"."""
        following = self.peek()
        if type(following) is Amount and (self._is_size(following) or self._ground_measure(following)):
            self.at += 2
            self._exclude(following)

    def _exclude(self, amount: Amount) -> None:
        corner = PlaceDraft()
        one = single(amount)
        if type(one) is Measure and dimension(one) == "area":
            corner.area = self._span(one)
        else:
            self._fill_size(corner, amount)
        target = next((p for p in self.draft.places if p.has_size), None)
        self.excluding = False
        if target is not None:
            target.minus.append(corner)
        else:
            self.draft.minus.append(corner)

    # ---- counts --------------------------------------------------------------------------------------

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
            self._supersede(Span(place.count, place.count, ""))
        place.count = number.low
        place.count_high = number.high if number.high != number.low else None
        if number.low != int(number.low) and place.kind not in ("ground",):
            place.portion = number.low if number.low < 1 else None
            if number.low < 1:
                place.count = None
        self.correcting = False

    # ---- amounts -------------------------------------------------------------------------------------

    def _span(self, one: Measure) -> Span:
        low, high = one.low, one.high
        if low > high:
            low, high = high, low
        return Span(low, high, one.unit)

    def _is_size(self, amount: Amount) -> bool:
        return len(amount.dims) >= 2 and all(
            type(d) is Number or (type(d) is Measure and d.per is None and dimension(d) in ("length", "length or volume"))
            for d in amount.dims
        )

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
            across = type(second) is Measure and dimension(second) == "length" and container
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
        if type(first) is Number and len(dims) == 3 and all(type(d) is Number for d in dims[:2]):
            pass
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
        if len(dims) > 3:
            self.draft.question = ("size", f"“{self.text_of(phrase)}” has more than three sides; which are length, width and depth?")
            return
        place = self._place_for_size(phrase)
        self._fill_size(place, phrase)

    def _place_for_size(self, phrase: Amount) -> PlaceDraft:
        place = self.place
        if place is None:
            place = self._new_place()
        elif place.has_size:
            if self.correcting:
                self._clear_size(place)
                self.correcting = False
            elif (place.length or place.width) and not place.size and len(phrase.dims) == 2 and False:
                pass
            else:
                place = self._new_place()
        elif place.kind in ("plant", "hole") and (place.rate or place.count) and not self._size_of_hole(place):
            place = self._new_place()
            place.hints.add("around")
        elif place.noun and self.count is not None and place.count is not None:
            place = self._new_place()
        elif place.kind == "plant" and place.tie != "for" and "asked" in place.hints:
            place = self._new_place()
        if self.count is not None and place.count is None:
            self._set_count(place)
        if self.last_form and not place.form:
            place.form, self.last_form = self.last_form, ""
        return place

    def _clear_size(self, place: PlaceDraft) -> None:
        self._supersede(*place.size, place.length, place.width, place.side, place.diameter, place.radius, place.area, place.volume)
        for name in ("length", "width", "side", "second_side", "base", "diameter", "radius", "around", "outer", "area", "volume",
                     "nursery_class", "bottom"):  # fmt: skip
            setattr(place, name, None)
        place.size = ()

    def _fill_size(self, place: PlaceDraft, phrase: Amount) -> None:
        """The dimensions of a size; a number without a unit takes the next one's, or else the one before's."""
        dims = phrase.dims
        units: list[str] = []
        said = [d.unit if type(d) is Measure else "" for d in dims]
        for i in range(len(dims)):
            later = next((u for u in said[i:] if u), "")
            earlier = next((u for u in reversed(said[: i + 1]) if u), "")
            last_is_depth = len(dims) >= 2 and getattr(dims[-1], "role", "") in ("depth", "thick", "height")
            if not said[i] and last_is_depth and i < len(dims) - 1 and not any(said[:-1]):
                units.append("")  # "3 x 8 x 10 in deep": the inches are the depth's
            elif not said[i] and len(dims) == 3 and not any(said[:-1]) and said[-1] in ("inch", "centimetre") and (
                place.kind != "container" and not self._container_ahead() and self._too_small(dims, said[-1])
            ):  # fmt: skip
                units.append("")
            else:
                units.append(later or earlier)
        spans = []
        for dim, name in zip(dims, units, strict=True):
            if name == "yard":
                pass
            low, high = dim.low, dim.high  # type: ignore[union-attr]
            spans.append((Span(min(low, high), max(low, high), name), getattr(dim, "role", "")))
        place.size_unit_said = all(units)
        roles = [role for _, role in spans]
        main: list[Span] = []
        for span, role in spans:
            if role in ("depth", "height", "thick") and (len(spans) == 3 or span is spans[-1][0]) and len(spans) > 2:
                if role == "height":
                    place.height = span
                elif role == "thick":
                    place.layer.append(span)
                else:
                    place.depth = span
            elif role in ("apart",):
                place.spacing = span
            elif role in ("depth", "thick") and len(spans) == 2:
                # "4 by 8 inches deep" may be one side and a depth, or two sides without their depth
                place.depth = span
                self.draft.question = ("size", f"“{self.text_of(phrase)}” may be one side and a depth; what are both sides, and the depth?")
            elif role == "height" and len(spans) == 2 and "diameter" in roles:
                place.height = span
            elif role == "diameter" and len(spans) >= 2 and len(set(roles)) > 1:
                place.diameter = span
            else:
                if role == "diameter":
                    place.form = place.form or "oval"
                main.append(span)
        if place.diameter is not None and len(main) == 1:
            place.height = place.height or main[0]
            main = []
        place.size = tuple(main)

    @staticmethod
    def _too_small(dims: tuple[Number | Measure | NurseryClass | CellTray, ...], name: str) -> bool:
        """Whether the first two of three dimensions would make a toy in the unit of the last."""
        most = 24 if name == "inch" else 12
        return all(type(d) is Number and d.low <= most for d in dims[:2])

    def _container_ahead(self) -> bool:
        following, _ = self.ahead()
        return is_said(following, "container")

    # ---- one bare number -----------------------------------------------------------------------------

    def _bare_number(self, phrase: Amount, one: Number) -> None:
        draft = self.draft
        before = self.peek(-1)
        following, where = self.ahead()
        top, _, bottom = self.text_of(phrase).partition("/")
        if bottom.isdigit() and int(bottom) > 16 and not is_said(following, "castings") and not is_said(following, "link", "of"):
            self._leave(one)  # "3/20" may be a day
            return
        if one.role:
            self._role_number(phrase, one)
            return
        if is_said(before, "role") and isinstance(before, Said):
            self._role_number(phrase, one._replace(role=before.id))
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
        if is_said(before, "link", "share-word") or is_said(self.peek(-2), "link", "share-word") and is_said(before, "link", "is"):
            if one.low < 1:
                self._share(Share(one.low * 100, one.high * 100, one.start, one.end))
                return
        if is_said(following, "pack"):
            self._pack_count(one)
            return
        if one.low < 1 and not one.article and self._portion(one):
            return
        of_castings = is_said(following, "link", "of") and is_said(self.phrases[where + 1] if where + 1 < len(self.phrases) else None,
                                                                  "castings")  # fmt: skip
        if one.low < 1 and not one.article and (
            of_castings or (self.place is not None and self.place.has_size and self.place.share is None
                            and (following is None or is_said(following, "stop")))
        ):  # fmt: skip
            self._share(Share(one.low * 100, one.high * 100, one.start, one.end))
            return
        if is_said(following, "castings") and one.low < 1:
            self._share(Share(one.low * 100, one.high * 100, one.start, one.end))
            return
        if self._counts_what_follows(one, following, where):
            self.count = one
            return
        if (
            self.place is not None
            and self.place.count is None
            and self.place.kind in ("plant", "container", "hole", "ground")
            and (following is None or is_said(following, "stop") or is_said(following, "link"))
            and (following is None and self.place.kind == "plant" or is_said(before, self.place.kind) or is_said(before, "stop", "colon") or is_said(before, "link", "is", "on-hand", "about"))
        ):
            self.count = one
            self._set_count(self.place)
            return
        if draft.question is None and is_said(following, "unknown"):
            self._leave(one)
            return
        self._leave(one)

    def _share_list(self, one: Number) -> bool:
        values = [one.low]
        at = self.at + 1
        while at < len(self.phrases):
            phrase = self.phrases[at]
            number = single(phrase)
            if is_said(phrase, "stop", "comma") or is_said(phrase, "link", "and", "or") or is_said(phrase, "ask", "compare-at"):
                at += 1
            elif type(number) is Number and not number.role and number.low == number.high:
                values.append(number.low)
                at += 1
            elif type(phrase) is Share and phrase.low == phrase.high:
                values.append(phrase.low)
                at += 1
                joined = any(is_said(p, "link", "and", "or") for p in self.phrases[self.at : at])
                asked = any(is_said(p, "ask", "compare-at") for p in self.phrases)
                if len(values) >= 3 or joined or asked:
                    self.draft.compare.extend(values)
                    self.at = at
                    return True
                return False
            else:
                return False
        return False

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
                if type(phrase) is Said and (phrase.kind in PLACE_KINDS or phrase.kind == "pack"):
                    return True
                if type(phrase) is Said and phrase.kind in ("hint", "form", "about", "component"):
                    at += 1
                    continue
                break
            return type(inner) in (NurseryClass, CellTray) or (type(inner) is Measure and bool(inner.role))
        return False

    def _portion(self, one: Number) -> bool:
        """ "half of a 4 by 12 bed", "two thirds of the lawn". """
        following, where = self.ahead(("hint",))
        at = where
        if is_said(following, "link", "of"):
            at += 1
        target = self.phrases[at] if at < len(self.phrases) else None
        if target is None:
            return False
        size = type(target) is Amount and (self._is_size(target) or self._ground_measure(target))
        noun = type(target) is Said and target.kind in ("ground", "container")
        number = type(single(target)) is Number and is_said(following, "link", "of")
        if not (size or noun or number):
            return False
        if self.place is None or self.place.has_size:
            if self.place is not None and noun and not size and self.place.portion is None and (
                target.id == self.place.noun  # type: ignore[union-attr]
            ):  # fmt: skip
                self.place.portion = one.low
                return True
            self._new_place()
        self._current().portion = one.low
        return True

    def _ground_measure(self, amount: Amount) -> bool:
        one = single(amount)
        return type(one) is Measure and dimension(one) in ("area", "length")

    def _role_number(self, phrase: Amount, one: Number) -> None:
        """ "depth 12": a number with a role and no unit is asked about."""
        self.draft.question = ("unit", f"{self.text_of(one)}: in what unit? Say inches, feet, cm or m.")

    def _nursery(self, one: NurseryClass) -> None:
        place = self.place
        if place is None or place.has_size:
            place = self._new_place()
        if self.count is not None:
            self._set_count(place)
        place.nursery_class = one.number
        if not place.noun:
            place.noun, place.kind, place.printed = "pot", "container", "pots"

    def _cells(self, one: CellTray) -> None:
        place = self.place
        if place is None or place.has_size:
            place = self._new_place()
        if self.count is not None:
            self._set_count(place)
        place.cells = one.cells
        if not place.noun:
            place.noun, place.kind, place.printed = "tray", "container", "trays"

    # ---- one measure ---------------------------------------------------------------------------------

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
            self._area(one)
        elif kind == "volume":
            self._volume(one)
        elif kind == "weight":
            self._weight(one)
        else:
            self._leave(one)

    def _yard(self, one: Measure) -> str:
        """Whether a yard is a length or a cubic yard, by what stands beside it."""
        following = self.peek()
        if one.role or is_said(following, "ground", "row", "trench"):
            return "length"
        if is_said(following, "link", "of"):
            after = self.peek(2)
            if type(after) is Said and after.kind in ("mix", "castings", "component", "seed-mix"):
                return "volume"
            return "length" if is_said(after, "ground") else "doubt"
        if type(following) is Said and following.kind in ("mix", "castings", "component", "seed-mix", "pack"):
            return "volume"
        if is_said(self.peek(-1), "link", "on-hand"):
            return "volume"
        return "doubt"

    def _loose_measure(self, one: Measure) -> None:
        known = {"pail-full": "bucket"}.get(one.unit, one.unit)
        self.draft.question = (
            "loose-measure",
            f"a {known.replace('-', ' ')} has no set size; how much does it hold? Say it in cups, quarts or litres.",
        )

    def _rate(self, one: Measure) -> None:
        draft = self.draft
        per = one.per
        span = Span(min(one.low, one.high), max(one.low, one.high), one.unit)
        kind = dimension(one)
        if type(per) is Measure:
            per_kind = dimension(per)
            per_span = Span(per.low, per.high, per.unit)
            if kind == "weight" and per_kind == "volume":
                if self._weighs_something_else():
                    return
                if any(is_said(p, "way", "tea") or is_said(p, "link", "water") for p in self.phrases):
                    draft.ratio_spans = (span, per_span)
                    return
                draft.density = Span(span.low / per.low, span.high / per.low, f"{span.unit} / {per.unit}")
                return
            if kind in ("volume", "weight") and per_kind in ("area", "length"):
                place = self.place if self.place is not None else self._new_place()
                place.rate, place.rate_per = span, per_span
                return
            if kind == "volume" and per_kind == "volume":
                self._volume_per_volume(span, per_span)
                return
            if kind == "length or volume" and per_kind == "area":
                place = self.place if self.place is not None else self._new_place()
                place.rate, place.rate_per = span._replace(unit="cubic_yard"), per_span
                return
            if kind == "length" and per_kind == "length":
                self._leave(one)
                return
            self._leave(one)
            return
        if type(per) is Said:
            if per.kind == "pack":
                draft.pack = span
                draft.pack_noun = per.id
                return
            if per.kind in ("plant", "hole", "container", "ground"):
                if kind in ("volume", "weight"):
                    self._rate_to_place(span, per)
                    return
                if kind == "length":
                    self._length(Amount((one,), one.start, one.end), one._replace(per=None))
                    return
            if kind in ("volume", "weight") and per.kind in ("link",) and per.id == "water":
                pass
        self._leave(one)

    def _weighs_something_else(self) -> bool:
        clause = self._clause()
        return any(is_said(p, "component") for p in clause) and not any(is_said(p, "castings") for p in clause)

    def _volume_per_volume(self, span: Span, per: Span) -> None:
        """ "1 cup per gallon": of water it is a tea's strength, of mix a share."""
        draft = self.draft
        following, where = self.ahead(("hint",))
        after = self.phrases[where + 1] if is_said(following, "link", "of") and where + 1 < len(self.phrases) else following
        if is_said(after, "link", "water") or draft.way == "tea" or any(is_said(p, "way", "tea") for p in self.phrases):
            draft.ratio_spans = (span, per)
            return
        draft.per_volume = (span, per)

    def _rate_to_place(self, span: Span, per: Said) -> None:
        place = self.place
        if place is None or (place.noun and place.noun != per.id and per.id != "plant" and place.kind != per.kind):
            known = next((p for p in self.draft.places if p.noun == per.id), None)
            place = known or self._new_place()
        if not place.noun:
            place.noun, place.kind, place.printed = per.id, per.kind, per.text.lower()
        if place.rate is not None and not self.correcting:
            place = self._new_place()
            place.noun, place.kind, place.printed = per.id, per.kind, per.text.lower()
        if per.kind == "plant" and not place.crop:
            place.crop = per.id
        place.rate = span
        self.place = place

    # ---- lengths -------------------------------------------------------------------------------------

    def _length(self, phrase: Amount, one: Measure) -> None:
        span = self._span(one)
        role = one.role or self._role_beside(one)
        place = self.place
        following = self.peek()
        skip, where = self.ahead(("hint",))
        if self.excluding and role == "":
            self._leave(one)
            return
        if role == "":
            role = self._role_from_neighbours(one, following, skip, where)
        if role == "consumed":
            return
        if role == "" and place is not None and place.form == "triangle" and place.side is not None and place.second_side is None:
            role = "side"
        if role == "":
            cues = self._cues()
            self._unsure(span, cues, one)
            return
        self._assign_length(role, span, one)

    def _role_beside(self, one: Measure) -> str:
        """A role word that stands before the measure with a small word between: "depth is about 30 cm"."""
        at = self.at - 1
        while at >= 0 and (is_said(self.phrases[at], "about") or is_said(self.phrases[at], "link", "is", "of") or
                           is_said(self.phrases[at], "is")):  # fmt: skip
            at -= 1
        before = self.phrases[at] if at >= 0 else None
        if is_said(before, "role") and isinstance(before, Said):
            return before.id
        return ""

    def _cues(self) -> set[str]:
        cues = set()
        for step, label in ((-1, "before"), (1, "after")):
            phrase = self.peek(step)
            if type(phrase) is Said:
                cues.add(f"{label}:{phrase.kind}:{phrase.id}")
        if self.place is not None:
            cues.add("place:" + (self.place.kind or "none"))
        return cues

    def _role_from_neighbours(self, one: Measure, following: Phrase | None, skip: Phrase | None, where: int) -> str:
        before = self.peek(-1)
        before2 = self.peek(-2)
        if is_said(before, "about"):
            before, before2 = before2, self.peek(-3)
        named = self.peek(2)
        if is_said(following, "link", "of", "is") and is_said(named, "role") and isinstance(named, Said):
            return named.id  # "10 inches of depth", "6 feet is the radius"
        if is_said(before, "link", "top-of"):
            self.draft.hints.add("existing-soil")
            self.draft.hints.add("top-of")
            return "depth"
        if is_said(before, "link", "filled-to"):
            return "fill"
        if is_said(following, "castings") or (is_said(following, "link", "of") and is_said(self.peek(2), "castings")):
            return "thick"
        material = self.peek(2) if is_said(following, "link", "of") else following
        if is_said(material, "component") and not is_said(material, "component", "soil", "topsoil") and isinstance(material, Said):
            self.draft.question = ("other-material", f"only worm castings are worked out here, not {material.text.lower()}; "
                                   "is it castings that you mean?")  # fmt: skip
        if is_said(following, "link", "of") and is_said(self.peek(2), "component", "soil"):
            if is_said(self.peek(3), "link", "on") and "castings-named" not in self.draft.hints:
                self.draft.question = ("other-material", "only worm castings are worked out here, not soil; is it castings that you mean?")
            return "depth"
        if is_said(following, "form"):
            assert isinstance(following, Said)
            if following.id in ("square", "cube"):
                self._square(one, following.id)
                return "consumed"
            if following.id in ("round", "ring"):
                self._open_for_size().form = "round"
                self.at += 1
                return "diameter"
            if following.id == "triangle":
                return "side"
        if is_said(following, "way", "top-dress"):
            return "thick"
        if is_said(skip, "container") and isinstance(skip, Said) and where == self.at + 1:
            if skip.id in _ROUND_CONTAINERS:
                return "diameter"
            if skip.id in ("window-box",):
                return "length"
        if is_said(skip, "ground") and isinstance(skip, Said):
            if skip.id in _LONG_GROUND:
                return "length"
            if skip.id in ("bed", "plot", "lawn") and "round" in (self.last_form, self.place.form if self.place else ""):
                return "diameter"
        if is_said(following, "link", "of") and is_said(self.peek(2), "ground", "row", "trench"):
            return "length"
        if is_said(following, "link", "on") or (
            is_said(following, "stop", "comma") and is_said(self.peek(2), "link", "on")
        ):
            return "thick"
        if is_said(following, "link", "from") or is_said(following, "link", "out-to"):
            pass
        if is_said(before, "link", "from") and is_said(following, "link", "out-to"):
            return "clear-of-trunk"
        if is_said(before, "link", "out-to") and (self.place is None or self.place.clear is not None):
            return "outer"
        if is_said(before, "link", "with") and (self.draft.way == "top-dress"):
            return "thick"
        return ""

    def _square(self, one: Measure, form: str) -> None:
        """ "a 5 foot square bed", "a 2 foot cube". """
        place = self._open_for_size()
        span = self._span(one)
        place.size = (span, span)
        place.form = "rectangle"
        if form == "cube":
            place.depth = span
            place.hints.add("cube")
        self.at += 2

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
            crop, count = place.crop, place.count
            if place in self.draft.places:
                self.draft.places.remove(place)  # "my lemon goes into a 40 litre pot", "9 houseplants in half gallon pots"
            place = self._new_place()
            place.crop, place.count = crop, count
        elif place.kind in ("plant", "hole") and (place.rate or place.count) and self.tie != "of" and not self._size_of_hole(place):
            place = self._new_place()
            place.hints.add("around")
        if self.count is not None and place.count is None:
            self._set_count(place)
        if self.last_form and not place.form:
            place.form, self.last_form = self.last_form, ""
        return place

    def _size_of_hole(self, place: PlaceDraft) -> bool:
        """ "3 planting holes, 2 ft across": the size is the hole's own, and no bed's around it."""
        return place.kind == "hole" and place.rate is None and self.tie not in ("in", "on")

    def _assign_length(self, role: str, span: Span, one: Measure) -> None:
        place = self.place
        draft = self.draft
        slots = {"depth": "depth", "fill": "fill", "below-rim": "below_rim", "width": "width", "length": "length",
                 "height": "height", "diameter": "diameter", "radius": "radius", "around": "around", "base": "base",
                 "apart": "spacing", "clear-of-trunk": "clear", "outer": "outer", "bottom-diameter": "bottom",
                 "top-diameter": "diameter"}  # fmt: skip
        if role == "thick":
            self._layer(span, one)
            return
        if role == "width" and (self.last_form == "round" or (place is not None and place.form == "round")):
            role = "diameter"
        if role in ("per-side", "side"):
            place = self._current()
            if place.side is None:
                place.side = span
            elif place.second_side is None:
                place.second_side = span
            else:
                self._leave(one)
            return
        if role == "clear-of-trunk":
            place = self._tree_place()
            if span.low != span.high:
                place.clear, place.outer = Span(span.low, span.low, span.unit), Span(span.high, span.high, span.unit)
            elif place.clear is None:
                place.clear = span
            elif place.outer is None:
                place.outer = span
            else:
                self._leave(one)
            return
        slot = slots.get(role)
        if slot is None:
            self._leave(one)
            return
        if role in ("length", "width", "diameter", "radius", "around", "base", "top-diameter"):
            if place is None:
                place = self._new_place()
            elif getattr(place, slot) is not None and not self.correcting:
                if getattr(place, slot) == span:
                    return
                if role in ("diameter", "radius") and self.count is None and place.noun and not is_said(self.peek(-1), place.kind):
                    draft.question = ("two-values", f"two different sizes of one round place; is it {self.text_of(one)}?")
                    return
                place = self._new_place()
            elif place.kind in ("plant", "hole") and (place.rate or place.count) and not place.length and not place.width:
                if place.kind == "plant" and role in ("diameter", "radius", "around") and place.noun in _TREES:
                    pass
                elif self._size_of_hole(place):
                    pass
                else:
                    place = self._new_place()
                    place.hints.add("around")
            elif place.has_size and role == "diameter" and place.noun not in _ROUND_CONTAINERS and not place.outer:
                if not (place.size == () and place.noun):
                    place = self._new_place()
            elif (place.area or place.volume or place.nursery_class or (place.size and len(place.size) >= 2)) and not (
                self.correcting
            ):  # fmt: skip
                if len(place.size) == 2 and role in ("length", "width"):
                    self._leave(one)
                    return
                place = self._new_place()
            if self.count is not None and place.count is None:
                self._set_count(place)
            if role in ("diameter", "radius", "around") and not place.form and place.kind != "container":
                place.form = "round"
        else:
            place = place if place is not None else self._new_place()
            earlier = getattr(place, slot)
            if earlier is not None and not self.correcting and earlier != span:
                if role == "depth" and (place.size or place.area or place.has_size) and self._second_is_layer(place, span):
                    self._layer(span, one)
                    return
                if role == "depth" and draft.hints & {"top-of"}:
                    draft.flags.append(("two-depths", f"{self.text_of(one)}"))
                draft.question = (
                    "two-values",
                    f"two different values for the {role.replace('-', ' ')}: "
                    f"{earlier.low:g} {earlier.unit.replace('_', ' ')} and {self.text_of(one)}; which one holds?",
                )
                return
        if self.correcting:
            self._supersede(getattr(place, slot))
        setattr(place, slot, span)
        self.correcting = False
        self.place = place

    def _second_is_layer(self, place: PlaceDraft, span: Span) -> bool:
        return self.draft.way == "top-dress" and not place.layer and span.base[1] < (place.depth.base[0] if place.depth else 0)

    def _tree_place(self) -> PlaceDraft:
        place = self.place
        if place is None or (place.size or place.area):
            place = self._new_place()
        if not place.noun:
            place.noun, place.kind, place.printed = "tree-ring", "ground", "tree ring"
        place.form = "ring"
        self.draft.hints.add("trunk")
        return place

    def _layer(self, span: Span, one: Measure) -> None:
        place = self.place
        if place is None:
            place = self._new_place()
        if place.layer and self.correcting:
            self._supersede(*place.layer)
            place.layer = [span]
            self.correcting = False
            return
        if place.layer and place.layer[-1] != span and not self.dated:
            other = next((p for p in self.draft.places if not p.layer and p.has_size and p is not place), None)
            if other is None:
                self.draft.question = ("two-values", f"two different layers; is {self.text_of(one)} the one to use?")
                return
            place = other
        elif place.layer and not self.dated:
            return
        place.layer.append(span)
        self.place = place

    # ---- areas, volumes, weights ---------------------------------------------------------------------

    def _area(self, one: Measure) -> None:
        span = self._span(one)
        if self.excluding:
            self._exclude(Amount((one,), one.start, one.end))
            return
        before = self.peek(-1)
        place = self.place
        if place is None:
            place = self._new_place()
        elif place.has_size and not self.correcting:
            if place.area == span:
                return
            if place.kind in ("ground", "") and (place.size or place.length) and (is_said(before, "stop") or is_said(before, "link", "is")):
                place.hints.add("area-too")
                place.second_area = span
                return
            place = self._new_place()
        elif place.kind in ("plant", "hole", "container") and (place.count or place.rate or place.kind == "container") and (
            place.rate_per is None
        ):  # fmt: skip
            place = self._new_place()
            place.hints.add("around")
        elif place.has_size:
            self._clear_size(place)
            self.correcting = False
        if self.count is not None and place.count is None:
            self._set_count(place)
        place.area = span

    def _volume(self, one: Measure) -> None:
        draft = self.draft
        span = self._span(one)
        following = self.peek()
        skip, where = self.ahead(("hint", "form", "about"))
        if is_said(skip, "plant") and is_said(self._at(where + 1), "container"):
            skip, where = self._at(where + 1), self.at + 1  # "6 litre houseplant pots"
        before = self.peek(-1)
        after = self.peek(2) if is_said(following, "link", "of") else following
        if self._weigh_pair(one):
            return
        if self._size_of_pack(span):
            return
        if is_said(skip, "pack") and where <= self.at + 2:
            self._pack_size(span, skip)  # type: ignore[arg-type]
            return
        if is_said(following, "castings") and is_said(self.peek(2), "pack"):
            self._pack_size(span, self.peek(2))  # type: ignore[arg-type]
            return
        if is_said(skip, "hint", "spray") or is_said(following, "hint", "spray"):
            draft.water = span
            return
        if is_said(after, "link", "water") or is_said(after, "way", "tea"):
            if is_said(after, "way", "tea") and draft.asked in ("plants", "containers") or self._plants_asked_later():
                draft.have, draft.have_is_tea = span, True
                return
            draft.water = span
            draft.hints.add("tea-volume" if is_said(after, "way", "tea") else "water-volume")
            return
        if is_said(skip, "container") and (
            is_said(self._at(where + 1), "castings") or is_said(self._at(where + 1), "link", "of") and is_said(self._at(where + 2), "castings")
            or is_said(self._at(where + 2), "link", "density-word")
        ) and is_said(skip, "container", "tub", "bucket", "tote") and not draft.places:  # fmt: skip
            self._have(span)  # "a 55 gal drum of castings"
            self.at = where + 1
            return
        if is_said(skip, "container") and where == self.at + 1 or (is_said(skip, "container") and self._only_hints(where)):
            self._container_volume(span)
            return
        each = self._each_beside()
        place = self.place
        if is_said(after, "castings"):
            if each or (place is not None and place.kind in _ONE_EACH and place.rate is None and self._each_around()):
                self._rate_here(span)
                return
            self._have(span)
            return
        if is_said(after, "component") and isinstance(after, Said):
            if place is not None and place.kind in ("container", "hole") and not place.has_size:
                place.volume, place.each = span, True
                return
            self._soil(span, after.id)
            return
        if is_said(after, "mix") or is_said(after, "seed-mix"):
            self._mix_volume(span, after)  # type: ignore[arg-type]
            return
        if is_said(after, "ground") and isinstance(after, Said):
            self._ground_volume(span)
            return
        if is_said(before, "link", "of") and is_said(self.peek(-2), "ground") and place is not None and not place.volume:
            place.volume = span
            return
        if each and place is not None and place.kind in ("container",) and not place.has_size and not self._put_castings():
            place.volume = span
            place.each = True
            place.hints.add("volume-by-each")
            return
        if each and (place is None or place.kind in _ONE_EACH or place.has_size or place.kind == "container" or not place.noun):
            self._rate_here(span)
            return
        if place is not None and place.kind == "container" and not place.has_size and not self._on_hand_before():
            place.volume = span
            return
        if is_said(before, "link", "is") and is_said(named := self.peek(-2), "component") and isinstance(named, Said):
            self._soil(span, named.id)  # "the soil is 60 L"
            return
        if is_said(before, "component") and isinstance(before, Said) and not is_said(self.peek(-2), "link", "into"):
            self._soil(span, before.id)  # "peat 5 L"
            return
        if is_said(before, "castings") or (is_said(before, "link", "is") and is_said(self.peek(-2), "castings")):
            self._have(span)
            return
        if is_said(before, "link", "volume-word"):
            if place is not None and not place.has_size:
                place.volume = span
                return
        cues = self._cues()
        self._unsure(span, cues, one)

    def _unsure(self, span: Span, cues: set[str], one: Measure) -> None:
        """Keeps a measure whose role the neighbours do not tell, with the place that was being spoken of."""
        index = next((i for i, place in enumerate(self.draft.places) if place is self.place), -1)
        if self.correcting and self.draft.unsure and _alike(self.draft.unsure[-1].span, span):
            self._supersede(self.draft.unsure.pop().span)  # "2 cups, I mean 1 cup"
            self.correcting = False
        if "altogether-next" in self.draft.hints:
            cues = cues | {"altogether"}
        self.draft.unsure.append(Unsure(span, frozenset(cues), self.text_of(one), one.start, one.end, index, one.article))

    def _put_castings(self) -> bool:
        return False

    def _at(self, index: int) -> Phrase | None:
        return self.phrases[index] if 0 <= index < len(self.phrases) else None

    def _plants_asked_later(self) -> bool:
        """ "I have 6 gallons of tea. How many plants?": the tea is at hand."""
        for at in range(self.at, len(self.phrases) - 1):
            if is_said(self.phrases[at], "ask", "how-many"):
                return any(is_said(p, "plant") or is_said(p, "container") or is_said(p, "hole") for p in self.phrases[at + 1 : at + 3])
        return False

    def _words(self) -> set[str]:
        return set(self.draft.text.lower().replace(",", " ").split())

    def _only_hints(self, where: int) -> bool:
        return where <= self.at + 3

    def _weigh_pair(self, one: Measure) -> bool:
        """ "a 5 gallon bucket of castings weighs 27 lb", "a cubic foot weighs 35 pounds"."""
        at = self.at + 1
        while at < len(self.phrases) and at <= self.at + 5:
            phrase = self.phrases[at]
            if is_said(phrase, "ask", "how-heavy") or is_said(phrase, "link", "is", "density-word"):
                other_at = at + 1
                while other_at < len(self.phrases) and is_said(self.phrases[other_at], "about"):
                    other_at += 1
                other = single(self.phrases[other_at]) if other_at < len(self.phrases) else None
                if type(other) is Measure and dimension(other) == "weight" and other.per is None:
                    self.draft.weighed = (self._span(other), self._span(one))
                    self.at = other_at + 1
                    return True
                return False
            if type(phrase) is Said and phrase.kind in ("container", "pack", "castings", "link", "hint", "form", "about", "mix"):
                at += 1
                continue
            return False
        return False

    def _size_of_pack(self, span: Span) -> bool:
        """ "bags are 30 litres", "bag says 1 cu ft", "bags 25 L", "£12 a bag of 20 L"."""
        at = self.at - 1
        while at >= 0 and (is_said(self.phrases[at], "link", "is", "of", "at", "volume-word") or is_said(self.phrases[at], "about")
                           or is_said(self.phrases[at], "other-person")):  # fmt: skip
            at -= 1
        before = self.phrases[at] if at >= 0 else None
        if not is_said(before, "pack") and not (type(before) is Price and type(before.per) is Said and before.per.kind == "pack"):
            return False
        if self.draft.pack is not None or is_said(self.ahead()[0], "pack") or is_said(self.peek(), "castings"):
            return False
        tie, other = self.peek(), single(self.peek(2))
        if type(other) is not Measure and is_said(tie, "stop", "comma"):
            tie, other = self.peek(2), single(self.peek(3))
        weighs = any(is_said(p, "ask", "how-heavy") for p in self.phrases[self.at : self.at + 5])
        if type(other) is Measure and is_said(tie, "link", "or", "is", "and") and not weighs:
            self._weight_and_volume(span, other, self.phrases.index(next(p for p in self.phrases[self.at :] if single(p) is other)))
        self.draft.pack = span
        self.draft.pack_noun = self.draft.pack_noun or (before.id if isinstance(before, Said) else "bag")
        return True

    def _pack_size(self, span: Span, noun: Said) -> None:
        draft = self.draft
        if draft.pack is not None and draft.pack != span:
            if not self.correcting:
                draft.hints.add("two-packs")
                draft.more_packs.append(span)
                self.count = None
                return
        if draft.asks and draft.asks[-1] == "how-many" and not draft.asked_noun and self._straight_after_ask():
            draft.asked, draft.asked_noun = "packs", noun.id
        index = self.phrases.index(noun)
        stuff = self._at(index + 2) if is_said(self._at(index + 1), "link", "of") else None
        if is_said(stuff, "component") and isinstance(stuff, Said):
            times = self.count.low if self.count is not None else 1.0
            self.count = None
            self._soil(Span(span.low * times, span.high * times, span.unit), stuff.id)  # "an 80 L bag of compost"
            self.at = index + 3
            return
        draft.pack = span
        draft.pack_noun = noun.id
        self._pack_also(span, index)
        if is_said(self.peek(-1), "link", "into") and (self._at(index + 1) is None or is_said(self._at(index + 1), "stop")):
            self._trailing_ask("packs")  # "in 25 kg bags?"
        if self.count is not None:
            draft.packs_count = self.count.low
            self.count = None
        else:
            before = self.peek(-1)
            if is_said(before, "link", "on-hand"):
                draft.packs_count = draft.packs_count or 1.0
        # the noun has been read with its size
        while self.at + 1 < len(self.phrases) and self.phrases[self.at + 1] is not noun:
            self.at += 1
        self.at += 2

    def _pack_also(self, span: Span, index: int) -> None:
        """ "18 kg bag holds 25 litres", "40 lb bag is 1 cubic foot": a pack by weight and by volume."""
        tie, other = self._at(index + 1), single(self._at(index + 2))
        if type(other) is not Measure or other.per is not None or not (
            is_said(tie, "link", "is", "volume-word", "or", "and", "at") or is_said(tie, "range")
        ):  # fmt: skip
            return
        self._weight_and_volume(span, other, index + 2)

    def _weight_and_volume(self, span: Span, other: Measure, index: int) -> bool:
        kinds = {("weight" if span.unit == "ton" else "volume" if span.unit in _LIQUID else span.dimension), dimension(other)}
        if kinds != {"weight", "volume"}:
            return False
        one = self._span(other)
        self.draft.weighed = (span, one) if dimension(other) == "volume" else (one, span)
        self.phrases.pop(index)
        return True

    def _pack_count(self, one: Number) -> None:
        draft = self.draft
        if draft.packs_count is not None and draft.packs_count != one.low:
            self._leave(one)
            return
        if one.low <= 0:
            draft.refusal = f"“{self.text_of(one)}” bags is none at all; how many are there?"
            return
        if not one.article or is_said(self.peek(-1), "link", "on-hand"):
            draft.packs_count = one.low
            draft.hints.add("packs-counted")

    def _pack_noun(self, phrase: Said) -> None:
        draft = self.draft
        if draft.asks and draft.asks[-1] == "how-many" and not draft.asked_noun and self._straight_after_ask():
            draft.asked, draft.asked_noun = "packs", phrase.id
        elif (self.peek() is None or is_said(self.peek(), "stop")) and "?" in draft.text and (
            is_said(self.peek(-1), "stop") or is_said(self.peek(-1), "class-sign") or is_said(self.peek(-1), "link", "of")
        ):  # fmt: skip
            self._trailing_ask("packs")
        draft.pack_noun = draft.pack_noun or phrase.id

    def _container_volume(self, span: Span) -> None:
        place = self._open_for_size()
        place.volume = span

    def _ground_volume(self, span: Span) -> None:
        place = self._open_for_size()
        place.volume = span

    def _mix_volume(self, span: Span, noun: Said) -> None:
        place = self.place
        if place is not None and place.kind in ("mix", "seed-mix") and place.volume is None:
            place.volume = span
            return
        if place is not None and not place.noun and not place.has_size:
            pass
        else:
            place = self._new_place()
        place.volume = span
        place.noun, place.kind, place.printed = noun.id, noun.kind, noun.text.lower()
        if self.count is not None:
            self._set_count(place)
        # the noun is used up
        while not is_said(self.peek(), "mix") and not is_said(self.peek(), "seed-mix"):
            self.at += 1
        self.at += 2

    def _soil(self, span: Span, component: str) -> None:
        draft = self.draft
        if "already" in self._words():
            draft.hints.add("existing-soil")
        if draft.soil is not None and dimension_of(draft.soil) == dimension_of(span) and draft.soil.unit == span.unit:
            draft.soil = Span(draft.soil.low + span.low, draft.soil.high + span.high, span.unit)
            return
        if draft.soil is None:
            draft.soil = span
            draft.component = component
            if draft.asks and draft.asked == "soil":
                draft.asked = "castings"
        else:
            draft.stray.append((f"{span.low:g} {span.unit}", 0, 0))

    def _have(self, span: Span) -> None:
        draft = self.draft
        if draft.have is not None and draft.have != span and not self.correcting and self.tie != "and":
            draft.question = ("two-values", f"{draft.have.low:g} {draft.have.unit.replace('_', ' ')} and another amount; which castings are at hand?")
        if "altogether-next" in draft.hints and self.place is not None and self.place.kind in _ONE_EACH and self.place.rate is None:
            self.place.rate, self.place.rate_whole = span, True  # "12 plants share 2 gallons of castings"
            return
        if draft.have is None or self.correcting:
            draft.have = span
        elif draft.have != span:
            draft.more_have.append(span)

    def _each_beside(self) -> bool:
        """Whether "each" (or a per) stands right after the measure, or "each" right before."""
        at = self.at + 1
        while at < len(self.phrases) and (
            is_said(self.phrases[at], "castings") or is_said(self.phrases[at], "link", "of", "for", "into", "on")
            or is_said(self.phrases[at], "hint") or is_said(self.phrases[at], "way") or is_said(self.phrases[at], "about")
        ):
            at += 1
        if at < len(self.phrases) and is_said(self.phrases[at], "link", "each"):
            return True
        if self._each_around():
            return True
        before = self.peek(-1)
        return is_said(before, "link", "each") or (is_said(before, "link", "at", "of") and is_said(self.peek(-2), "link", "each"))

    def _each_around(self) -> bool:
        """A way that says "each" itself: "around each", "in each hole". """
        at = self.at + 1
        while at < len(self.phrases) and (
            is_said(self.phrases[at], "link", "of", "on", "into", "with") or is_said(self.phrases[at], "castings", "castings")
            or is_said(self.phrases[at], "about")
        ):  # fmt: skip
            at += 1
        following = self.phrases[at] if at < len(self.phrases) else None
        if type(following) is Said and following.kind == "way":
            low = following.text.lower()
            return "each" in low or "every" in low or low in ("per hole", "a hole", "in the hole", "in the planting hole")
        return False

    def _rate_here(self, span: Span) -> None:
        place = self.place
        if self.draft.unsure and self.correcting and _alike(self.draft.unsure[-1].span, span):
            self._supersede(self.draft.unsure.pop().span)
        if place is None or (place.rate is not None and not self.correcting) or (
            place.kind == "ground" and place.has_size and place.count is None
        ):  # fmt: skip
            place = self._new_place()
        place.rate = span
        self.correcting = False

    def _weight(self, one: Measure) -> None:
        draft = self.draft
        span = self._span(one)
        following = self.peek()
        skip, where = self.ahead(("hint", "form", "about"))
        if is_said(skip, "pack") and where <= self.at + 2:
            self._pack_size(span, skip)  # type: ignore[arg-type]
            return
        if self._size_of_pack(span):
            return
        if is_said(following, "castings") and is_said(self.peek(2), "pack"):
            self._pack_size(span, self.peek(2))  # type: ignore[arg-type]
            return
        if is_said(following, "link", "of") and is_said(self.peek(2), "plant"):
            draft.noted.append((self.text_of(one), "a weight of something else"))
            return
        if self._each_beside():
            self._rate_here(span)
            return
        after = self.peek(2) if is_said(following, "link", "of") else following
        if is_said(after, "component") and not is_said(after, "castings"):
            draft.noted.append((self.text_of(one), "a weight of something else"))
            return
        if is_said(after, "castings"):
            self._have(span)
            return
        self._unsure(span, self._cues(), one)

    def _on_hand_before(self) -> bool:
        return is_said(self.peek(-1), "link", "on-hand")

    # ---- shares and money ----------------------------------------------------------------------------

    def _share(self, phrase: Share) -> None:
        draft = self.draft
        span = Span(min(phrase.low, phrase.high), max(phrase.low, phrase.high), "percent")
        following = self.peek()
        if is_said(following, "link", "moisture") or is_said(self.peek(-1), "link", "moisture"):
            draft.moisture = span
            return
        if is_said(following, "by-so-much"):
            draft.hints.add("by-so-much")
            draft.by_so_much = following.id  # type: ignore[union-attr]
            return
        if is_said(following, "link", "relative"):
            draft.question = (
                "relative",
                f"“{self.text_of(phrase)} {following.text}”: what share should that make? Say the share itself.",  # type: ignore[union-attr]
            )
            draft.hints.add("relative")
            return
        if self._shares_to_compare(phrase):
            return
        place = self.place
        if place is None:
            place = self._new_place()
        if place.share is not None and place.share != span:
            if self.correcting:
                self._supersede(place.share)
                place.share = span
                self.correcting = False
                return
            draft.question = ("two-values", f"two different shares; which one holds, {place.share.low:g} % or {span.low:g} %?")
            return
        place.share = span
        self.correcting = False

    def _shares_to_compare(self, phrase: Share) -> bool:
        values = [phrase.low]
        at = self.at + 1
        while at < len(self.phrases):
            other = self.phrases[at]
            if is_said(other, "stop", "comma") or is_said(other, "link", "and", "or") or is_said(other, "ask", "compare-at"):
                at += 1
            elif type(other) is Share and other.low == other.high:
                values.append(other.low)
                at += 1
            else:
                break
        wanted = any(is_said(p, "ask", "compare-at") for p in self.phrases) or len(values) > 2
        if len(values) >= 2 and wanted:
            self.draft.compare.extend(values)
            self.at = at
            return True
        return False

    def _price(self, phrase: Price) -> None:
        draft = self.draft
        money = (phrase.low, phrase.currency)
        if phrase.low <= 0:
            draft.refusal = f"“{self.text_of(phrase)}” is no price"
            return
        per = phrase.per
        if type(per) is Measure:
            following = self.peek()
            span = Span(per.low, per.high, per.unit)
            if is_said(following, "pack"):
                draft.pack, draft.pack_noun, draft.price = span, following.id, money  # type: ignore[union-attr]
                self.at += 2
                return
            if span.low == span.high and span.low != 1 and draft.pack is None:
                draft.pack, draft.pack_noun, draft.price = span, draft.pack_noun or "bag", money  # "€9.90 / 15 L"
                return
            draft.price, draft.price_per = money, span
            return
        if type(per) is Said:
            draft.price = money
            return
        near = [p for p in (self.peek(-1), self.peek(-2), self.peek(1), self.peek(2)) if p is not None]
        if any(is_said(p, "link", "budget") for p in near[:2]) or is_said(self.peek(1), "link", "budget"):
            draft.budget = money
        elif is_said(self.peek(1), "link", "each") or is_said(self.peek(-1), "link", "at") or (
            is_said(self.peek(-1), "link", "is") and (is_said(self.peek(-2), "link", "each") or is_said(self.peek(-2), "pack"))
        ) or (
            is_said(self.peek(1), "link", "for") and (is_said(self.peek(2), "pack") or is_said(self.peek(3), "pack"))
        ):  # fmt: skip
            draft.price = money
        elif any(is_said(p, "limit") for p in near[:1]):
            draft.budget = money
        elif is_said(self.peek(-1), "link", "for") and draft.asked == "packs" and draft.pack is None:
            draft.budget = money  # "how many bags for $60"
        elif (draft.pack is not None or draft.pack_noun) and draft.price is None and not is_said(self.peek(-1), "link", "on-hand"):
            draft.price = money
        elif is_said(self.peek(-1), "link", "on-hand", "with") or draft.budget is None:
            draft.budget = money
        else:
            self._leave(phrase)

    # ---- what is asked -------------------------------------------------------------------------------

    def _ask(self, phrase: Said) -> None:
        draft = self.draft
        name = phrase.id
        draft.asks.append(name)
        if "casting" in phrase.text.lower():
            draft.hints.add("castings-named")
        plain = {"how-far": "area", "how-deep": "layer", "what-share": "share", "how-heavy": "weight", "what-cost": "cost",
                 "how-long": "length", "left-over": "left-over"}  # fmt: skip
        if name in plain:
            if name == "how-deep" and draft.asked:
                return
            draft.asked = plain[name]
        elif name == "enough":
            draft.enough = True
        elif name == "how-much":
            self._how_much()
        elif name == "how-many":
            self._how_many()

    def _how_much(self) -> None:
        draft = self.draft
        following, where = self.ahead(("hint", "about"))
        if type(following) is Said:
            if following.kind in ("other-goods", "other-material") or is_said(following, "label-word", "npk"):
                draft.refusal = f"only castings are worked out here, not {following.text.lower()}"
                return
            if following.kind == "component":
                draft.asked, draft.asked_noun = "soil", following.id
                self.phrases.pop(where)
                return
            if following.kind == "mix":
                draft.asked, draft.asked_noun = "mix", "mix"
                self.phrases.pop(where)
                return
            if is_said(following, "link", "water"):
                draft.asked, draft.asked_noun = "water", "water"
                return
            if is_said(following, "ground") and (is_said(self.peek(-1), "link", "cover") or False):
                draft.asked = "area"
                return
            if is_said(following, "way", "tea"):
                draft.asked_noun = ""
        draft.asked = draft.asked or "castings"

    def _how_many(self) -> None:
        """ "how many litres", "how many plants", "how many gallons of soil"."""
        draft = self.draft
        following, where = self.ahead(("hint", "about", "form"))
        if following is None or is_said(following, "stop"):
            self._how_many_of_what()
            return
        if type(following) is Said and following.kind in ("unit", "unclear-unit"):
            draft.asked_unit = following.id
            after = self.phrases[where + 1] if where + 1 < len(self.phrases) else None
            if is_said(after, "link", "of"):
                after = self.phrases[where + 2] if where + 2 < len(self.phrases) else None
            drop = 0
            if is_said(after, "component"):
                draft.asked, draft.asked_noun = "soil", after.id  # type: ignore[union-attr]
                drop = 1
            elif is_said(after, "mix"):
                draft.asked, draft.asked_noun = "mix", "mix"
                drop = 1
            elif is_said(after, "link", "water"):
                draft.asked, draft.asked_noun = "water", "water"
            else:
                draft.asked = "by-unit"
            if drop:
                index = self.phrases.index(after)  # type: ignore[arg-type]
                self.phrases.pop(index)
            self.phrases.pop(where)

    def _how_many_of_what(self) -> None:
        """ "…, how many": of what was spoken of last and not counted."""
        draft = self.draft
        if draft.pack is not None and (draft.budget is not None or draft.price is not None or self.place is not None and self.place.count):
            draft.asked, draft.asked_noun = "packs", draft.pack_noun
            return
        place = self.place
        if place is not None and place.count is None and place.kind in ("plant", "container", "ground", "hole") and (
            draft.have is not None or draft.pack is not None or draft.unsure
        ):  # fmt: skip
            draft.asked = {"plant": "plants", "hole": "plants", "container": "containers", "ground": "beds"}[place.kind]
            draft.asked_noun = place.noun
            place.hints.add("asked")
        elif draft.pack is not None:
            draft.asked, draft.asked_noun = "packs", draft.pack_noun

    def _loose_unit(self, phrase: Said) -> None:
        """A unit with no number: "… in litres?", "lbs?"."""
        following = self.peek()
        if is_said(following, "per") and type(self.peek(2)) is Said and self.peek(2).kind in ("unit", "unclear-unit"):  # type: ignore[union-attr]
            self._trailing_ask("density")
            self.at += 3
            return
        of_castings = is_said(following, "castings") or (is_said(following, "link", "of") and is_said(self.peek(2), "castings"))
        if is_said(self.peek(-1), "deny", "not"):
            self.draft.not_unit = phrase.id
            return
        if (
            of_castings or is_said(following, "way") or is_said(following, "link", "each", "on")
        ) and not self._straight_after_ask() and phrase.kind != "loose-measure" and not is_said(self.peek(-1), "link", "into"):
            # "inch on top", "cup each": one of it, where nothing stands before that might have been a number
            lead = self.draft.text[: phrase.start].rstrip()
            plural = phrase.text.lower().endswith("s") or phrase.text.lower() in ("feet", "inches")
            if plural or (lead and lead[-1] not in ",;.:!?(-"):
                self.draft.question = ("amount", f"how many {phrase.text}?")
                return
            one = Measure(1.0, 1.0, phrase.id, phrase.kind, phrase.start, phrase.end, article=True)
            self._amount(Amount((one,), phrase.start, phrase.end))
        elif not self.draft.asked_unit:
            self.draft.asked_unit = phrase.id
        else:
            self.draft.hints.add("unit-twice")

    def _loose_role(self, phrase: Said) -> None:
        self.draft.hints.add("role:" + phrase.id)
        if phrase.id == "thick" and (self.peek() is None or is_said(self.peek(), "stop")) and not (
            type(self.peek(-1)) is Amount or self.draft.places and self.draft.places[-1].layer
        ):  # fmt: skip
            self._trailing_ask("layer")

    def _component(self, phrase: Said) -> None:
        draft = self.draft
        if draft.asked == "castings" and "how-much" in draft.asks and is_said(self.peek(-1), "ask", "how-much"):
            draft.asked, draft.asked_noun = "soil", phrase.id
        draft.hints.add("component:" + phrase.id)


def dimension_of(span: Span) -> str:
    """What a span measures, its unit possibly a doubtful one."""
    return span.unit if span.unit in ("quart", "pint", "gallon", "ton", "yard") else span.dimension


_LIQUID = ("quart", "pint", "gallon")


def _alike(one: Span, other: Span) -> bool:
    """Whether two spans measure the same thing, their units possibly doubtful."""
    kinds = ["volume" if s.unit in _LIQUID else "weight" if s.unit == "ton" else "length" if s.unit == "yard" else s.dimension
             for s in (one, other)]  # fmt: skip
    return kinds[0] == kinds[1]


#: Plants that are dressed in a ring from the trunk to the drip line.
_TREES = frozenset({"tree", "fruit-tree", "apple-tree", "citrus", "avocado", "shrub"})
