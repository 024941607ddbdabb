"""Other ways of putting things, put into the words that the rest of the reader knows.

Each is found by its own words and rewritten: "5 metres on 3 metres" is five by three, "every tree 3 kilos" is three
kilos each, "5 of 40 lb bags" is five such bags, "rows 4 and 5" are two rows with names.
"""

from __future__ import annotations

from collections.abc import Callable

from ...draft import Draft
from ...phrases import Measure, Number, Phrase, Share
from ...said import Mark, Waiting
from ..other_bags import find_other_bags
from .added_up import ADDED_UP, find_added_up
from .at_both_ends import AT_BOTH_ENDS, find_at_both_ends
from .bagged_soil import find_bagged_soil
from .bags_of_sizes import find_bags_of_sizes
from .bare_price import BARE_PRICE, find_bare_price
from .by_weight import WEIGHED, find_by_weight
from .counts import find_numbered, find_plants_per_area, find_so_many_of
from .depth_of_top import TOP_OF, find_depth_of_top
from .each import find_one_gets
from .either_way import find_either_way
from .figures import find_feed_label, find_least_and_most
from .groups import find_groups
from .held import find_held
from .how_high import find_how_high
from .left_of_packs import LEFT_OF_PACKS, find_left_of_packs
from .left_where import LEFT_WHERE, find_left_where
from .measured_in_bags import find_measured_in_bags
from .mix_for import find_mix_for
from .one_and_other import ONE_AND_OTHER, find_one_and_other
from .one_apiece import ONE_APIECE, find_one_apiece
from .over_a_fill import OVER_A_FILL, find_over_a_fill
from .packed import PACKED, TRAILING_OF, find_packed, find_trailing_of
from .part_bags import find_part_bags
from .part_of_place import PART_OF_PLACE, find_part_of_place
from .purity import PURITY, find_purity
from .sides import find_part_of_length, find_sides_on, find_sized_one
from .used_part import USED_PART, find_used_part

#: Measures of a side, and of castings.
_LENGTH: frozenset[Mark] = frozenset({("measures", "length"), ("measures", "length or volume")})
_BULK: frozenset[Mark] = frozenset({("measures", "volume"), ("measures", "weight")})
#: The readers in their order, and what each waits for.
_READERS: Waiting[Callable[[list[Phrase], Draft], list[Phrase]]] = Waiting(
    (find_left_where, LEFT_WHERE),
    (find_trailing_of, TRAILING_OF),
    (find_packed, PACKED),
    (find_by_weight, WEIGHED),
    (find_purity, PURITY),
    (find_part_of_place, PART_OF_PLACE),
    (find_depth_of_top, TOP_OF),
    (find_left_of_packs, LEFT_OF_PACKS),
    (find_bare_price, BARE_PRICE),
    (find_used_part, USED_PART),
    (find_one_and_other, ONE_AND_OTHER),
    (find_added_up, ADDED_UP),
    (find_at_both_ends, AT_BOTH_ENDS),
    (find_either_way, (frozenset({("ask", "difference")}), frozenset({"way"}))),
    (find_over_a_fill, OVER_A_FILL),
    (find_one_apiece, ONE_APIECE),
    (find_groups, (frozenset({Number}), frozenset({("link", "with"), ("link", "on-hand"), ("link", "is"), ("link", "of"), ("link", "count-x"), "stop"}))),
    (find_how_high, (frozenset({("role", "height")}), frozenset({Measure}))),
    (find_bags_of_sizes, (frozenset({("link", "on-hand")}), frozenset({"pack"}), frozenset({Measure}))),
    (find_plants_per_area, (frozenset({"per", ("link", "each")}), frozenset({Number}), frozenset({"plant"}))),
    (find_part_of_length, (frozenset({("link", "of")}), frozenset({"sides"}), _LENGTH)),
    (find_least_and_most, (frozenset({("limit", "at-most")}), frozenset({Share}), frozenset({Number}))),
    (find_feed_label, (frozenset({("label-word", "npk")}), frozenset({"label"}))),
    (find_numbered, (frozenset({("link", "and")}), frozenset({Number}), frozenset({"ground", "container", "plant"}))),
    (find_so_many_of, (frozenset({("link", "of")}), frozenset({Number}), frozenset({"pack", "container", "ground"}))),
    (find_one_gets, (frozenset({"plant", "hole"}), frozenset({Number, ("link", "each"), "per"}), _BULK)),
    (find_bagged_soil, (frozenset({"pack"}), frozenset({"component", "mix"}), frozenset({Measure}), frozenset({Number}))),
    (find_part_bags, (frozenset({"pack"}), frozenset({Number}), frozenset({Measure, ("ask", "left-over")}))),
    (find_held, (frozenset({("link", "volume-word")}), frozenset({"container"}), frozenset({"mix"}), frozenset({Measure}))),
    (find_mix_for, (frozenset({"plant"}), frozenset({("link", "for")}), frozenset({"mix", "seed-mix", "component"}), frozenset({Measure}))),
    (find_measured_in_bags, (frozenset({("ask", "how-many"), "pack"}), frozenset({"unit", "unclear-unit", Measure}))),
    (find_other_bags, (frozenset({"pack"}), frozenset({"component", "mix", "seed-mix"}), frozenset({("ask", "how-many"), "pack"}))),
    (find_sized_one, (frozenset({"sides", Measure}), frozenset({Number}))),
    (find_sides_on, (frozenset({("link", "on"), ("link", "into")}), _LENGTH)),
)


def find_rephrased(phrases: list[Phrase], draft: Draft, kinds: set[Mark]) -> list[Phrase]:
    """The phrases with each of these ways of speaking put as the others are; `kinds` is what stands in them."""
    for read in _READERS.due(kinds):
        phrases = read(phrases, draft)
    return phrases
