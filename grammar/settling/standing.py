"""Plants that stand in a place: what is dressed is the place, or they are, but never both unless both are told an amount."""

from __future__ import annotations

import re

from ..draft import PlaceDraft, Unsure
from ..gathering.state import IN_IT
from ..later import later
from ..words import called, plural
from .common import Ask, size_text
from .measures import Measures

#: Words that put what follows into the place before.
_INSIDE = frozenset({"in", "with", "for", "of", "on"})
#: Ways in which the plants themselves are given castings.
_BESIDE = frozenset({"side-dress", "planting-hole", "tea"})
#: Containers of which each plant has one of its own when there are several: "60 plants into pots".
_ONE_PLANT = frozenset({"pot", "pot-azalea", "pot-pan", "bucket", "grow-bag", "tub", "cell"})


#: What is needed of a mix is for the plants that are spoken of; "8 roses and 12 litres of mix" may be two jobs.
_NEEDED = later(r"\b(?:needs?|wants?|requires?|mak(?:e|ing)|mix(?:ing)? up|us(?:e|ing)|blend(?:ing)?|prepar(?:e|ing))\b")

_POTTED = later(r"\b(?:re-?)?pot(?:ting)?(?: up| on)?\b")
_EACH = later(r"\b(?:each|every|apiece|per)\b")


class Standing(Measures):
    """Plants that stand in a place: what is dressed is the place, or they are, but never both unless both are told an amount."""

    def _plants_and_places(self) -> None:
        """Settles of every plant without an amount of its own where it stands; plants that have one keep it."""
        draft = self.draft
        if not any(place.kind == "plant" for place in draft.places):
            return
        self._rates_of_plants()
        told_of = [self._told_of(unsure) for unsure in draft.unsure]
        into: dict[int, PlaceDraft] = {}
        kept: list[PlaceDraft] = []
        inside: PlaceDraft | None = None  # where the plant before stands: "6 tomatoes and 4 peppers in it"
        for at, place in enumerate(draft.places):
            if not self._may_stand(place):
                kept.append(place)
                inside = None
                continue
            after = draft.places[at + 1] if at + 1 < len(draft.places) else None
            if after is not None and self._may_stand(after) and place.count:  # "40 lettuces and 30 beets, 5 litres of seed mix": for both
                mix = next((one for one in draft.places[at + 1 :] if not (self._may_stand(one) and one.count)), None)
                after = mix if mix is not None and mix.kind in ("mix", "seed-mix") else after
            if after is not None and self._is_planted(place, after):
                self._stand(place, after, first=True)
                into[id(place)] = after
                continue
            host = self._host_before(place, kept, draft.places[at + 1 :], inside)
            if host is None:
                kept.append(place)
                inside = None
                continue
            self._stand(place, host)
            into[id(place)] = inside = host
        draft.places = kept
        for unsure, told in zip(draft.unsure, told_of, strict=True):
            if told is not None:  # an index into the places that are left
                told = into.get(id(told), told)
                unsure.place = next((at for at, one in enumerate(kept) if one is told), -1)

    def _rates_of_plants(self) -> None:
        """ "12 tomatoes in a 4 by 8 bed at 1 cup each": the amount for each is the plants', and the bed is where they stand."""
        draft = self.draft
        for at, (plants, host) in enumerate(zip(draft.places, draft.places[1:], strict=False)):
            if plants.kind == "plant" and plants.count and plants.rate is None and not plants.has_size and plants.way in ("", "side-dress") and (
                host.kind == "ground" and ("around" in host.hints or host.tie == "in") and not self._gets_itself(host)
            ):  # fmt: skip
                told = next((one for one in draft.places[at + 2 :] if one.rate is not None and not one.noun and not one.has_size), host)
                if told.rate is None or told.rate_per is not None or (told is host and host.count not in (None, 1)):
                    continue
                plants.rate, plants.rate_whole, plants.each = told.rate, told.rate_whole, told.each
                host.rate = None
                host.hints.add("around")
                draft.places = [one for one in draft.places if one is host or one is not told]
                return
            holds = plants.kind == "ground" or (plants.kind == "container" and not {"mix-named", "new-fill", "seedlings"} & (plants.hints | draft.hints))
            if holds and plants.has_size and not self._gets_itself(plants) and host.kind == "plant" and host.tie == "with" and (
                host.count and host.rate is not None and host.rate_per is None and not host.rate_whole
            ):  # fmt: skip
                self._in_each(plants, host)
                plants.hints.add("around")
                return

    def _gets_itself(self, host: PlaceDraft) -> bool:
        return bool(host.layer or host.share or host.recipe or self.draft.recipe or self.draft.parts_share)

    def _in_each(self, host: PlaceDraft, plants: PlaceDraft) -> None:
        """ "3 beds with 6 tomatoes each, 2 cups per plant": so many in each of them."""
        if host.count in (None, 1) or plants.count is None or host.count is None:
            return
        name = f"{plants.count:g} {plants.printed}"
        if re.search(rf"\b{re.escape(plants.printed)} (?:in )?each\b", self.draft.text.lower()) is None:
            raise Ask("count", f"are there {name} in each of the {host.count:g} {host.printed}, or in all? Say how many in all", needs="count")
        self.assume("rows-of", f"{host.count:g} {host.printed} with {name} each: {host.count * plants.count:g} in all")
        self.draft.figures = [(value, said) for value, said in self.draft.figures if value not in (host.count, plants.count)]
        plants.count *= host.count

    def _may_stand(self, place: PlaceDraft) -> bool:
        """Whether plants are told no castings of their own."""
        return (
            place.kind == "plant" and place.rate is None and not place.has_size and not place.recipe
            and not {"added", "asked", "hole"} & place.hints and (self._in_rows(place) or (place.way not in _BESIDE and self.draft.way not in _BESIDE))
            and self.draft.asked != "plants" and not any(self._told_of(u) is place for u in self.draft.unsure if u.span.dimension != "length")
        )  # fmt: skip

    def _in_rows(self, plants: PlaceDraft) -> bool:
        """ "side-dress corn, 4 rows of 25 ft, 1 cup per ft": so much for a length of its rows, and nothing for each plant."""
        rated = any(place.kind == "ground" and place.rate is not None and place.rate_per is not None for place in self.draft.places)
        return rated and not plants.count

    def _told_of(self, unsure: Unsure) -> PlaceDraft | None:
        """The place that was being spoken of when a measure was told."""
        places = self.draft.places
        return places[unsure.place] if 0 <= unsure.place < len(places) else None

    def _treated(self, host: PlaceDraft) -> bool:
        """Whether castings are to go on or into a place itself."""
        draft = self.draft
        if host.kind in ("plant", "hole") or host.rate is not None:
            return False
        said = host.layer or host.share or host.recipe or draft.recipe or draft.parts_share or draft.is_compared
        ways = {host.way, draft.way} & {"top-dress", "blend", "incorporate", "seed-mix"}
        return bool(said or ways or host.kind == "container")

    def _is_planted(self, plants: PlaceDraft, host: PlaceDraft) -> bool:
        """ "6 tomatoes in a 4 by 8 bed, half an inch on top", "24 peppers in 6 inch pots": the place that comes next holds them."""
        if self._mix_for(plants, host):
            return True
        inside = host.tie in ("in", "on") or "around" in host.hints
        return inside and host.kind not in ("plant", "hole") and (self._treated(host) or bool(plants.layer or plants.share))

    def _mix_for(self, plants: PlaceDraft, host: PlaceDraft) -> bool:
        """ "starting 100 seedlings, I need 12 litres of seed mix at 10 %": the mix is for them, where so much of it is needed or made."""
        if host.kind not in ("mix", "seed-mix") or host.volume is None or host.tie not in ("", "and", "of") or not plants.count or plants.way:
            return False
        if not (host.share or host.recipe or self.draft.recipe or self.draft.parts_share):
            return False
        before, _, after = self.draft.text.lower().partition(plants.printed.lower())
        name = f"{plants.count:g} {plants.printed}"
        if _EACH.search(after):
            raise Ask("each-or-all", f"is that so much mix for each of the {name}, or for all of them? Say how much mix in all", needs="amount")
        if _NEEDED.search(after.partition(host.printed.lower())[0]) or _POTTED.search(before) or (host.kind == "seed-mix" and host.tie != "and"):
            return True
        raise Ask("plants-or-place", f"is that mix for the {name}, or do they get castings of their own? "
                  f"Say “mix for {name}”, or how much each gets", needs="amount")  # fmt: skip

    def _host_before(self, plants: PlaceDraft, before: list[PlaceDraft], later: list[PlaceDraft], inside: PlaceDraft | None) -> PlaceDraft | None:
        """The place told before in which the plants stand; None where they are a job of their own."""
        if inside is not None:
            return inside
        hosts = [place for place in before if place.kind not in ("plant", "hole") and (place.has_size or place.layer or place.kind == "container")]
        if not hosts and not plants.count:  # "a shrub with a drip line of 5 ft"
            hosts = [place for place in reversed(later) if place.kind != "plant" and (place.has_size or place.layer or place.rate_per is not None)]
        if not hosts:
            return None
        host = hosts[-1]
        told_in = IN_IT in plants.hints or any(IN_IT in one.hints for one in later if one.kind == "plant" and one.tie == "and")
        if told_in or plants.tie in _INSIDE:
            return host if self._treated(host) or plants.layer or plants.share or not plants.count else None
        if not plants.count:
            return host  # "half an inch on the beds, the tomatoes are tall": nothing is told of them
        if not self._treated(host) or plants.way:
            return None
        name = f"{plants.count:g} {plants.printed}"
        raise Ask("plants-or-place", f"do the {name} stand in the {host.printed or 'place'}, or do they get castings of their own? "
                  f"Say “with {name} in it”, or how much each gets", needs="amount")  # fmt: skip

    def _stand(self, plants: PlaceDraft, host: PlaceDraft, *, first: bool = False) -> None:
        """Makes plants part of the place they stand in; `first` where they were told before it."""
        if plants.crop != "plant" and not host.crop:
            host.crop, host.crop_said = plants.crop, called(plants.crop, plants.printed)
        if plants.way and not host.way:
            host.way = plants.way
        if not (host.layer or host.share):  # what is told after the plants is the place's: "a bed with 6 tomatoes, half an inch on top"
            host.layer, host.share = plants.layer, plants.share
        if first and host.kind == "container" and host.count is None and plants.count:
            self._pots_for(plants, host)
        elif plants.count:
            host.standing.append((plants.count, plants.crop or plants.noun, bool(plants.each)))

    def _pots_for(self, plants: PlaceDraft, host: PlaceDraft) -> None:
        """ "60 plants into pots": as many pots as plants; how many stand in one pot is asked where it may be one or all."""
        count, name = plants.count, host.printed or host.noun.replace("-", " ")
        assert count is not None
        several = name.endswith("s")
        if several and host.noun in _ONE_PLANT:
            host.count, host.count_high, host.each = count, plants.count_high, True
            if plants.hints & {"seedlings"}:
                host.hints.add("seedlings")
            self.assume("pot-a-plant", f"as many {name} as plants, one in each")
            return
        if count == 1:
            host.count = None
            return
        plants_said = f"{count:g} {plants.printed}"
        if several:
            raise Ask("count", f"how many {name} are there for the {plants_said}?", needs="count")
        if host.noun in _ONE_PLANT:
            raise Ask("count", f"do the {plants_said} share one {name}, or has each a {name} of its own? Say “one {name}” or "
                      f"“{count:g} {plural(name)}”", needs="count")  # fmt: skip
        host.standing.append((count, plants.crop or plants.noun, bool(plants.each)))

    def _note_place(self, place: PlaceDraft, why: str) -> None:
        """Says that a size is only where the plants stand: it is no castings, and its figures are told by that."""
        draft = self.draft
        draft.noted.append((size_text(place), why))
        spans = [*place.size, place.length, place.width, place.diameter, place.radius, place.area, place.volume, place.depth]
        told = {end for span in spans if span is not None for end in (span.low, span.high)}
        if place.nursery_class is not None:
            told.add(float(place.nursery_class))
        draft.figures = [(value, said) for value, said in draft.figures if value not in told]
