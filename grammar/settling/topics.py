"""Questions in words: when a line asks for an explanation and no figure, and of what."""

from __future__ import annotations

import re

from ..later import later
from .base import Base
from .common import MISSING, TOPIC_ORDER, Ask

#: A request that asks for a reason, and for no working.
_WHY = later(r"\W*(?:(?:so|but|and|then|hi|hello|hey|please|ok|okay)\W+)*(?:why|how come)\b(?! (?:not|don't|don’t|dont)\b)", re.IGNORECASE)


#: A question that wants a yes or a no.
_IS_IT = later(r"\W*(?:(?:so|but|and|then|hi|hello|hey|please)\W+)*(?:is|are|does|do|would|will)\b", re.IGNORECASE)


class Topics(Base):
    """Questions in words: when a line asks for an explanation and no figure, and of what."""

    def _computable(self) -> bool:
        draft = self.draft
        return bool(
            any(place.has_size or place.rate or place.layer or place.share or (place.count and place.kind) for place in draft.places)
            or draft.have or draft.unsure or draft.water or (draft.packs_count and draft.price) or draft.ratio or draft.recipe or draft.pack or draft.budget
            or draft.offers or draft.loads or draft.parts_share or draft.weighed or draft.density or draft.soil or draft.is_compared or draft.per_volume or draft.ratio_spans
        )  # fmt: skip

    def _explanation_first(self) -> None:
        draft = self.draft
        if self._why():
            return
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
            draft.topics.extend(self._weak())
        if draft.have is not None and not draft.figures and draft.asks and set(draft.asks) <= {"how-heavy", "what-is", "how-much"} and (
            "how-heavy" in draft.asks and not draft.places
        ):  # fmt: skip
            draft.have, draft.topics = None, ["density"]  # "how heavy is a cubic foot of castings"
        if not draft.figures and not draft.places and not draft.stray and draft.asked == "weight" and "density" in draft.hints and (
            all(one.article for one in draft.unsure)
        ):  # fmt: skip
            draft.topics = ["density"]  # "how much does a cubic foot of castings weigh"
            draft.unsure.clear()
        if set(draft.topics) & {"too-much", "too-little"} and not draft.asked and draft.have is not None and draft.soil is not None:
            draft.asked, draft.topics = "share", []  # "2 gallons of castings with 14 of soil, is that too much"
        in_words = bool(draft.topics) and not draft.figures and draft.weighed is None and (bool(draft.asks) or bool(_IS_IT.match(draft.text))) and not any(p.has_size for p in draft.places)
        if "bin-leachate" in draft.topics and "castings-named" not in draft.hints:
            in_words, draft.topics = True, ["bin-leachate"]  # what drains from a bin is never worked out as castings or tea
        if draft.asked_nutrient:
            return  # asked of an amount, and answered with it
        if (self._computable() and not in_words) or not (draft.topics or self._worded_topic()) or self._off_topic():
            return
        topic = self._best_topic()
        if topic:
            draft.asked = "explanation"
            draft.asked_noun = topic
            draft.question = None
            draft.stray.clear()

    def _weak(self) -> list[str]:
        """The topics of words that mean one only beside castings; harm is asked of much, unless little is spoken of: "any harm in a tiny bit"."""
        topics, weak = self.draft.topics, self.draft.weak_topics
        little = "too-little" in topics and "too-much" not in topics
        return [topic for topic in weak if not (little and topic == "too-much")]

    def _why(self) -> bool:
        """ "why is your bag 25 pounds and theirs 40": a reason is asked, and no amount is worked out of its figures."""
        draft = self.draft
        if not draft.figures or not _WHY.match(draft.text) or set(draft.asks) - {"why", "what-is", "cheaper", "how-heavy", "can-i", "which", "cover"}:
            return False
        topics = [topic for topic in (*draft.topics, *draft.weak_topics) if topic in TOPIC_ORDER]
        of_bags = (draft.pack is not None or draft.pack_noun or draft.weighed) and draft.price is None
        if not topics and of_bags:
            topics = ["density"]
        if not topics:
            raise Ask("unread", "that asks for a reason, and its figures are not worked out. Ask how much something needs, or one thing in words, "
                      "as “how much do castings weigh”", status="unread")  # fmt: skip
        draft.asked, draft.asked_noun, draft.topics = "explanation", topics[0], topics
        draft.question = None
        draft.stray.clear()
        draft.unsure.clear()
        return True

    def _off_topic(self) -> bool:
        """A question in words about something that is no business of castings."""
        draft = self.draft
        elsewhere = "elsewhere" in draft.hints or any(h.startswith("goods:") for h in draft.hints)
        trade = "castings-named" in draft.hints or bool(draft.places) or bool(draft.pack_noun) or any(h.startswith(("component:", "topic:")) for h in draft.hints) or (
            bool(draft.way) and not elsewhere
        )  # fmt: skip
        return (bool(draft.unread) or elsewhere) and not trade and not (set(draft.topics) - {"how-often", "too-much", "density"})

    def instead(self, ask: Ask) -> str:
        """The topic of a question in words that was taken for an amount to work out and could not be."""
        draft = self.draft
        if draft.asked_nutrient or ask.code not in MISSING or not (draft.text.rstrip().endswith("?") or draft.asks or draft.topics or draft.weak_topics):
            return ""
        topics = list(draft.topics)
        if "castings-named" in draft.hints or draft.places or draft.way or draft.pack_noun or len(draft.weak_topics) > 1:
            topics += self._weak()
        way = draft.way or self._way_of_the_noun()
        if not topics and not draft.figures and way and set(draft.asks) & {"how-deep", "can-i", "how-to", "what-is", "how-far"}:
            topics = [("foliar" if "foliar" in draft.hints else "tea-how") if way == "tea" else way]
        if not topics or self._off_topic():
            return ""
        if draft.figures and any(p.has_size for p in draft.places):
            return ""
        if "moisture" in draft.hints and {"how-heavy", "how-much"} & {*draft.asks} and len(draft.figures) > 1:
            return ""  # weights and moistures are there to be worked out, not to be told of
        draft.topics = topics
        return self._best_topic()

    def _way_of_the_noun(self) -> str:
        """A planting hole or a seed mix that is only spoken of names its way."""
        kinds = {place.kind for place in self.draft.places}
        if kinds == {"hole"}:
            return "planting-hole"
        return "seed-mix" if kinds == {"seed-mix"} or "seedlings" in self.draft.hints else ""

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
            if draft.way == "tea" and "foliar" in draft.hints and asks & {"can-i", "how-to"}:
                return "foliar"
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
        if "density" in draft.hints and asks and draft.density is None and not draft.figures and not draft.places:
            return "density"  # "how much do castings weigh"
        if "how-heavy" in asks and asks <= {"how-heavy", "what-is", "how-much"} and not draft.places and (
            "castings-named" in draft.hints or draft.asked_unit or any(u.article for u in draft.unsure)
        ):  # fmt: skip
            return "density"
        return ""

    def _best_topic(self) -> str:
        topics = self.draft.topics
        if not topics:
            return self._worded_topic()
        if any(name == "salt" for name, _ in self.draft.analysis):
            return "salts"  # "EC 3.2 dS/m, is that ok for seedlings"
        if self.draft.way == "tea" and self.draft.text.lower().count("casting") and set(self.draft.asks) & {"which", "can-i", "cheaper", "why"}:
            return "tea-or-castings"
        if "how-heavy" in self.draft.asks and not self.draft.figures:
            return "density"
        if self.draft.way == "tea" and set(topics) == {"how-often"}:
            return "tea-when"
        return min(topics, key=lambda t: TOPIC_ORDER.index(t) if t in TOPIC_ORDER else 99)  # of two alike the one said first
