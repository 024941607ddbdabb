"""What is asked for, and when there is nothing to work out."""

from __future__ import annotations

import re

from ..later import later
from ..quantities import unit
from ..readers.trade import trade_asked
from .common import Ask
from .roles import Roles

#: "what does it come to", where a price was said; not "it comes to 12 inches".
_COMES_TO = later(r"\bcomes? to\b(?!\s*\d)", re.IGNORECASE)
#: "how much is in three bags".
_HOLDS = later(r"\b(?:is|are|there|comes?|fits?) in\b|\b(?:hold|contain)s?\b", re.IGNORECASE)


class Wanted(Roles):
    """What is asked for, and when there is nothing to work out."""

    def _asked(self) -> str:
        draft = self.draft
        asked = trade_asked(draft) or draft.asked
        if asked == "explanation":
            return asked
        self._one_bag()
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
            asked = "area" if kind == "area" and (draft.have or (draft.packs_count and draft.pack)) and not any(p.has_size for p in draft.places) else "castings"
        if asked == "layer" and not draft.have and draft.pack is None and not draft.unsure and any(p.has_size for p in draft.places) and (
            any(name == "unknown" for name, _ in draft.replies)
        ):  # fmt: skip
            asked = "castings"
        if not asked and draft.have is not None and draft.pack is not None and not draft.places and not draft.packs_count and (
            draft.pack.dimension == draft.have.dimension or draft.density is not None
        ):  # fmt: skip
            asked = "packs"
        rated = draft.places[0] if len(draft.places) == 1 else None
        if asked == "area" and rated is not None and rated.kind == "plant" and rated.rate is not None and not (rated.has_size or rated.count):
            asked = "plants"  # "how far will 5 gallons go at 1 cup a plant"
        how_much_alone = asked == "castings" and "how-much" in draft.asks and not draft.asked_unit
        if (not asked or how_much_alone) and draft.have is not None and draft.price is not None and draft.price_per is not None and (
            not draft.places
        ):  # fmt: skip
            asked = "cost"  # "how much is 2 cubic yards at $40 a yard"
        if not asked and draft.enough:
            asked = "castings"
        if not asked and draft.asks and "how-many" in draft.asks and (draft.pack or draft.pack_noun):
            asked = "packs"
        if asked in ("", "castings") and draft.price and (_COMES_TO.search(draft.text) or self._known_amount()):
            asked = "cost"  # "what will it come to"
        if not asked and "what-cost" in draft.asks:
            asked = "cost"
        if not asked and draft.price and draft.pack and draft.hints & {"altogether"}:
            asked = "cost"
        if asked in ("castings", "") and draft.price and draft.hints & {"altogether"} and not draft.asks:
            asked = "cost"
        if asked in ("", "castings") and self._packs_compared():
            asked = "cheaper"
        if not asked and draft.asks and "cover" in draft.asks and (draft.have or draft.packs_count or (draft.budget and not draft.pack)):
            sized = any(p.has_size or (p.count and p.kind in ("plant", "hole")) for p in draft.places)
            asked = "castings" if sized else "area"
            draft.enough = draft.enough or sized
        elif "cover" in draft.asks and draft.packs_count and draft.places and asked in ("castings", "packs", "cost"):
            draft.enough = True  # "would two bags do?" of a place whose cost was asked before
        if asked == "left-over":
            asked = "castings"
            draft.enough = True
            draft.hints.add("left-over")
        if asked == "castings" and draft.asked_unit and unit(draft.asked_unit).dimension == "weight":
            asked = "weight"
        if not asked and "how-many" in draft.asks and not draft.asked_unit:
            raise Ask("asked", "how many of what: bags, plants, pots or beds?", needs="asked")
        return asked or "castings"

    def _known_amount(self) -> bool:
        """ "how much are 3 bags of 20 litres if one is $14.50": how many there are is said, so that it asks for money."""
        draft = self.draft
        told = draft.pack is not None and (draft.packs_count is not None or draft.have is not None)
        return told and "how-much" in draft.asks and not (draft.places or draft.unsure or draft.asked_unit or _HOLDS.search(draft.text))

    def _one_bag(self) -> None:
        """ "how many litres in a 25 kg bag": of one bag, where no more is said."""
        draft = self.draft
        other = draft.places or draft.have or draft.price or draft.budget or draft.unsure or draft.packs_count
        if draft.asked_unit and draft.asked != "packs" and draft.pack is not None and not other and draft.pack.dimension in ("weight", "volume"):
            if draft.pack.dimension != unit(draft.asked_unit).dimension and unit(draft.asked_unit).dimension in ("weight", "volume"):
                draft.packs_count = 1.0

    def _packs_compared(self) -> bool:
        """ "compare the bags", "which bag is cheapest": the packs of a catalogue are set side by side, none of the request's own."""
        draft = self.draft
        if not draft.pack_noun or draft.pack is not None or draft.packs_count or draft.price is not None or draft.budget is not None:
            return False
        return bool({"cheaper", "compare-at"} & {*draft.asks}) and not (draft.is_compared or draft.have)

    def _weighed_from_parts(self) -> None:
        """ "18 kg bag, 28 L: kg per litre?": a weight and a volume of the same castings."""
        draft = self.draft
        spans = [span for span in (draft.pack, draft.have, *draft.more_have) if span is not None] + [u.span for u in draft.unsure]
        weights = [span for span in spans if span.dimension == "weight"]
        volumes = [span for span in spans if span.dimension == "volume"]
        if draft.weighed is None and len(weights) == 1 and len(volumes) == 1:
            draft.weighed = (weights[0], volumes[0])
            draft.have, draft.pack, draft.more_have = None, None, []

    def _nothing_there(self, asked: str) -> None:
        draft = self.draft
        if asked in ("explanation", "cheaper"):
            return
        if not draft.places and not self._computable() and not draft.way:
            known = draft.words - len(draft.unread)
            if draft.unread and (not draft.asks or len(draft.unread) >= known) and "castings-named" not in draft.hints:
                raise Ask("unread", self._unread_text(), status="unread")
            if "castings-named" in draft.hints or draft.asks:
                if not self._trade_words():
                    raise Ask("unread", self._unread_text(), status="unread")
                raise Ask("place", "what are the castings for: a bed, pots, plants, a lawn, or a mix? And how big is it?",
                           needs="place")  # fmt: skip
            raise Ask("unread", self._unread_text(), status="unread")

    def _other_material(self, asked: str) -> None:
        """Another material spoken of where castings are not: only castings are worked out."""
        draft = self.draft
        if asked == "soil" and draft.asked_noun not in ("soil", "topsoil", "compost", "potting-mix-base", "") and draft.have is None and (
            not draft.recipe and "castings-named" not in draft.hints
        ):  # fmt: skip
            raise Ask("other-material", f"only worm castings are worked out here, not {draft.asked_noun}; is it castings that you mean?",
                       needs="castings")  # fmt: skip
        if "castings-named" in draft.hints or draft.way == "tea" or asked in ("explanation", "soil", "mix", "water"):
            return
        named = sorted(h[10:] for h in draft.hints if h.startswith("component:") and h[10:] not in ("soil", "topsoil", "bin-leftovers"))
        goods = sorted(h[6:] for h in draft.hints if h.startswith("goods:"))
        left_out = [said for said, why in draft.noted if why in ("an amount of something else", "a weight of something else")]
        if (named or goods or left_out) and not draft.recipe and draft.parts_share is None and draft.places:
            what = (named or goods or left_out)[0].replace("-", " ")
            raise Ask("other-material", f"only worm castings are worked out here, not {what}; is it castings that you mean?",
                       needs="castings")  # fmt: skip

    def _trade_words(self) -> bool:
        return "castings-named" in self.draft.hints or bool(self.draft.places) or bool(self.draft.way)

    def _unread_text(self) -> str:
        draft = self.draft
        words = ", ".join(f"“{word}”" for word in draft.unread[:4])
        start = f"{words} {'is' if len(draft.unread) == 1 else 'are'} not known here. " if words else "there is no request in that. "
        return start + "Ask how much worm castings something needs, as “4 by 9 ft bed, 10 inches deep, 10 % castings”"
