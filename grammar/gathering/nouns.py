"""Nouns: which place is spoken of, what it is called, and how many there are."""

from __future__ import annotations

import re

from ..draft import PlaceDraft
from ..later import later
from ..naming import described, letter_after, within
from ..phrases import Amount, Measure, Number, NurseryClass, Phrase, Said, Share
from ..said import dimension, is_said, is_sides, single
from ..things import is_ground_size
from ..words import called
from .amounts import Amounts
from .state import PLACE_KINDS

#: An amount told in words right after the number of a place: "bed 1 half an inch".
_SPELLED = later(r"(?:an? |half an? |(?:a |one |three )?quarters? of an? )", re.IGNORECASE)


class Nouns(Amounts):
    """Nouns: which place is spoken of, what it is called, and how many there are."""

    def _noun(self, phrase: Said) -> None:
        draft = self.draft
        kind, noun = phrase.kind, phrase.id
        if self.excluding and noun == "path":
            self._excluded_size()
            return
        if noun == "path":
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
                self.pending_noun_hints |= {"crop:" + noun, "crop-said:" + called(noun, phrase.text)}
            self.at += 1
            return
        # "an oval planter bed", "a stock tank planter": a box of ground named twice is one place, of the second kind
        if kind == "container" and where == self.at + 1 and is_said(following, "ground", "bed") and self._joined(phrase, following):
            self.phrases[where] = Said("ground", "bed", f"{phrase.text} {following.text}", phrase.start, following.end)  # type: ignore[union-attr]
            return
        if self._so_many_of_so_many(kind, noun, phrase):
            return
        names = described(draft.text, phrase.start) | within(kind, phrase.text.lower()) | self.pending_names
        self.pending_names = frozenset()
        place = self._of_that_name(kind, names) or self._place_for_noun(kind, noun)
        place.noun, place.kind, place.printed = noun, kind, phrase.text.lower() if len(phrase.text) > 1 else noun + "s"  # of “#5s” the “s”
        place.described |= names
        for hint in list(self.pending_noun_hints):
            if hint.startswith("crop:"):
                place.crop = hint[5:]
            elif hint.startswith("crop-said:"):
                place.crop_said = hint[10:]
            else:
                place.hints.add(hint)
        self.pending_noun_hints.clear()
        if kind == "plant":
            place.crop = noun
        if self.at < self.total_until and kind in ("ground", "container"):
            place.each, self.total_until = False, -1
        if self.pending_each:
            place.each, self.pending_each = True, False
        if self.count is not None:
            self._set_count(place)
        elif self.both and place.count is None and kind in ("ground", "container") and phrase.text.lower().endswith("s"):
            place.count = 2.0
            draft.flags.append(("both", f"“both {phrase.text.lower()}”: two of them"))
        self.both = False
        if self.pending_way:
            place.way, self.pending_way = self.pending_way, ""
        if self.last_form and not place.form:
            place.form, self.last_form = self.last_form, ""
        self._label_after(place)

    def _joined(self, one: Said, other: Phrase | None) -> bool:
        """Whether nothing but a space stands between two phrases."""
        return other is not None and self.draft.text[one.end : other.start].isspace()

    def _so_many_of_so_many(self, kind: str, noun: str, phrase: Said) -> bool:
        """ "5 rows of 18 plants": so many in each of so many."""
        place, count = self.place, self.count
        if kind != "plant" or count is None or place is None or self.tie not in ("of", "with"):
            return False
        if place.kind not in ("ground", "container") or place.count is None or place.has_size or place.rate:
            return False
        before = self._at(self.at - 2)
        if not is_said(before, "link", "of", "with", "count-x"):
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

    def _label_after(self, place: PlaceDraft) -> None:
        """A number or a letter that names a place: "row 14:", "BED-02 |", "beds 1 through 4", "bed A"."""
        letter = letter_after(self.draft.text, self.phrases[self.at].end) if place.kind in ("ground", "container") else ""
        if letter:
            place.name = letter
            if is_said(self.peek(), "unknown", letter.lower()):
                self.phrases.pop(self.at + 1)
        following = self.peek()
        number = single(following)
        if type(number) is NurseryClass and place.kind == "ground":
            self.draft.noted.append((self.text_of(following), "a label"))  # type: ignore[arg-type]
            place.name = str(number.number)
            self.at += 2
            return
        if type(number) is not Number or number.role or number.low != int(number.low):
            return  # "the tub two thirds full": no label
        after = self.peek(2)
        text = self.text_of(number)
        name = text if text.isdigit() else f"{number.low:g}"  # "bed one" is bed 1
        if place.kind in ("ground", "container") and number.note == "" and not place.printed.endswith("s") and not is_said(
            after, "link", "each", "count-word"
        ):  # fmt: skip
            # "row 2 gets an inch" of a conversation; "bed 10 5 ft wide" may be anything
            if is_said(after, "unknown") and not self.draft.text[number.end : after.start].strip():  # type: ignore[union-attr]
                return  # "vertical garden 48 pockets": what is counted is not known
            apart = self.leaning and after is not None and (
                self.draft.text[number.end : after.start].strip() != "" or _SPELLED.match(self.draft.text, after.start) is not None
            )  # fmt: skip
            if (type(after) is Said and after.kind in PLACE_KINDS) or (type(after) is Amount and not self._is_size(after) and not apart):
                return
            self.draft.noted.append((text, "a label"))
            if place.name and place.name != name and self.tie == "and":
                place.count = (place.count or 1.0) + 1  # "row 3 and row 5, each 10 m x 0.5 m"
                place.each = True
            place.name = name
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
            place.name = name
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

    def _of_that_name(self, kind: str, names: frozenset[str]) -> PlaceDraft | None:
        """The place for a noun whose name is another than that of the place being spoken of; None where the noun decides."""
        place = self.place
        if place is None or not place.noun or self.count is not None or kind not in ("ground", "container"):
            return None
        label = self._label_ahead() if self.leaning or place.has_size else ""
        crop = next((hint[5:] for hint in self.pending_noun_hints if hint.startswith("crop:")), "")
        another = (
            (names and place.described and not names & place.described) or (label and place.name and label != place.name)
            or (crop and place.crop and crop != place.crop and place.kind == kind and place.has_size)
        )  # fmt: skip
        if not another:
            return None
        for known in self.draft.places:
            if (names and names <= known.described) or (label and label == known.name) or (crop and crop == known.crop):
                self.place = known
                return known
        return self._new_place()

    def _label_ahead(self) -> str:
        """The letter or number that names the place whose noun stands here, before it is read."""
        number = single(self.peek())
        if type(number) is NurseryClass:
            return str(number.number)  # "bed #2"
        if type(number) is Number and not number.role and number.note == "" and not is_said(self.peek(2), "link", "each", "count-word"):
            said = self.text_of(number)
            return said if said.isdigit() else f"{number.low:g}"
        return letter_after(self.draft.text, self.phrases[self.at].end)

    def _in_a_new_sentence(self) -> bool:
        """Whether a noun in the singular stands in another sentence than the noun before it."""
        if self.phrases[self.at].text.lower().endswith("s"):  # type: ignore[union-attr]
            return False
        for at in range(self.at - 1, -1, -1):
            if is_said(self.phrases[at], "stop", "sentence"):
                return True
            if is_said(self.phrases[at], "ground"):
                return False
        return False

    def _gets_its_own(self) -> bool:
        """ "10 roses 1 cup each and 10 roses 2 cups each": another amount is told right after the noun here."""
        for phrase in self.phrases[self.at + 1 : self.at + 6]:
            one = single(phrase)
            if type(phrase) is Share or (type(one) is Measure and one.kind != "loose-measure" and dimension(one) != "area"):
                return True
            if not (is_said(phrase, "stop", "comma", "colon") or is_said(phrase, "link", "of", "is", "at", "with", "each") or is_said(phrase, "is") or is_sides(phrase)):
                return False
        return False

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
        if kind == "plant" and noun in ("plant", "shrub", "tree") and self.count is not None and (
            bare := next((p for p in draft.places if p.kind == "plant" and p.count is None and "asked" not in p.hints), None)
        ) and (bare is place or (place.kind == "ground" and not place.has_size and self.tie != "and")):  # fmt: skip
            self._set_count(bare)  # "my tomatoes …, 9 plants", "roses in two rows, 18 bushes"
            self.place = bare
            return self._crop_place(bare)
        if place.noun == noun or (kind == place.kind and noun in ("plant", "bed", "plot", "pot", "mix")
                                  and self.count is None):  # fmt: skip
            if self.count is not None and place.count is not None and not self.correcting:
                if self.count.low == place.count and not ((place.rate or place.layer or place.share or draft.unsure) and self._gets_its_own()):
                    return place
                return self._new_place()
            if self.count is None and place.has_size and self._one_more():
                return self._new_place()
            if noun != place.noun and (place.count or 1) > 1 and not place.has_size and self._in_a_new_sentence():
                return self._new_place()  # "the allotment is 10 rows; the bed is 8 by 4 ft": one bed, not ten
            place_noun = place.noun
            if noun != place_noun:
                self.phrases[self.at] = Said(kind, place_noun, place.printed, self.phrases[self.at].start,
                                             self.phrases[self.at].end)  # fmt: skip
            return place
        for known in draft.places:  # "… the bed is …": spoken of before
            if known.noun == noun and self.count is None and known is not place and self.tie != "and":
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
            place.volume is None or (kind == "container" and type(self.peek(-1)) is Amount)
        ):  # fmt: skip
            place.hints.add("seedlings" if place.kind == "seed-mix" else "mix-named")
            return place  # "mix for a 3 by 8 ft bed": the bed is what is filled
        if kind in ("container", "ground") and place.kind in ("mix", "seed-mix") and place.volume is not None and place.count is None and (
            self.count is not None and self.tie == "for" and self.count.low > 1
        ):  # fmt: skip
            # "20 gallons of mix in total for 8 tubs"
            if "altogether" in draft.hints:
                place.each = False
            elif draft.question is None:
                amount = f"{place.volume.low:g} {place.volume.unit.replace('_', ' ')}s"
                draft.question = ("each-or-all", f"is {amount} the mix for each of the {self.count.low:g}, or for all together?")
            place.hints.add("seedlings" if place.kind == "seed-mix" else "mix-named")
            return place
        if kind == "hole" and place.kind == "plant" and self.count is None:
            place.hints.add("hole")
            return self._crop_place(place)
        if kind == "plant" and place.kind == "hole":
            place.crop = noun
            if self.count is not None and place.count is None:
                self._set_count(place)
            return self._crop_place(place) if self.count is None else self._new_place()
        return self._new_place()

    def _one_more(self) -> bool:
        """Whether the noun is one more of its sort, with a size of its own: "2 beds 4 by 8 ft and a bed 3 by 6 ft"."""
        phrase = self.phrases[self.at]
        before = self.draft.text[: phrase.start].lower().split()[-3:]
        following, where = self.ahead()
        sized = type(following) is Amount and (self._is_size(following) or self._ground_measure(following))
        if is_said(following, "stop", "comma"):
            sized = is_ground_size(self._at(where + 1))  # "the rose bed, 10 by 4 ft, and the herb bed, 6 by 3 ft"
        listed = self.tie == "and" and bool({"a", "an", "another", "the", "my", "and"} & {*before})
        lead = self.peek(-2) if is_said(self.peek(-1), "plant") else self.peek(-1)  # "…, rose bed 3 by 12 ft"
        return sized and (listed or is_said(lead, "stop", "comma"))

    def _path(self, phrase: Said) -> None:
        self.draft.hints.add("path")
        if any(type(p) is Amount for p in self._clause()) and self.draft.question is None and not self.draft.minus:
            self.draft.question = ("exclusion", f"is the {phrase.text.lower()} to be left out? Say the size of what castings do go on")
