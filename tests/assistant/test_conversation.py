"""What a conversation asks back, and that it never goes on with something else in silence.

Figures of conversations stand as data in `tests/requests/*dialogues.toml`.
"""

from __future__ import annotations

import pytest

from assistant.answer import Answer
from assistant.conversation import Conversation


def said(*lines: str) -> Answer:
    """The answer to the last of the lines."""
    talk = Conversation()
    return [talk.say(line) for line in lines][-1]


@pytest.mark.parametrize(
    ("lines", "question"),
    [
        # a bare number that may be a size or a count
        (("filling hanging baskets", "5"), "“5” of what?"),
        # what the question said is not said again
        (("4 by 8 bed", "mixed in"), "how deep is the bed?"),
        (("houseplants",), "how wide are their pots?"),
        (("houseplants", "8"), "How wide are the pots?"),
        (("seed trays",), "by its cells, by volume, or by width and height?"),
        (("new apple tree",), "How many apple trees are there?"),
        # one who does not know is told what would help
        (("4 by 8 bed", "don't know"), "on top suits a place where things are growing"),
        (("12 tomatoes", "no idea"), "in the hole suits plants that are being set out"),
        (("side dress my peppers", "no idea"), "A rough count will do: how many peppers are there?"),
        (("4 by 8 ft bed, 10%", "what is a yard?", "pots"), "There were no pots before"),
        (("20 foot row of carrots",), "Or say “side-dress”"),
        # what changes nothing is not praised
        (("30 sq ft bed half an inch on top", "thin"), "That changes nothing."),
        (("30 sq ft bed half an inch on top", "no"), "That changes nothing."),
        (("30 sq ft bed half an inch on top", "ok, lovely"), "Good. What else?"),
        (("so far?",), "Nothing has been worked out so far."),
        # what is taken away is gone, though it was all there was
        (("my lawn is 30 by 40 ft", "remove the lawn"), "That was all there was; nothing is left."),
        (("20 peppers 1 cup each", "remove the peppers"), "That was the only line; nothing is left."),
    ],
)  # fmt: skip
def test_what_it_asks_back(lines: tuple[str, ...], question: str) -> None:
    answer = said(*lines)
    assert answer.status == "asks" and answer.question is not None
    assert question in answer.question


def test_what_was_not_understood_is_owned_up_to_when_it_is_passed_over() -> None:
    answer = said("12 pots of 5 litres, 10%", "seven of the flowering sort, 31", "make it 15%")
    assert any(note.code == "not-taken" for note in answer.assumed)
    answer = said("seed trays", "6 trays of 72", "72 cells")
    assert not any(note.code == "not-taken" for note in answer.assumed), "the number was said again, with what it is"
    assert "6 trays of 72 cells" in answer.reads


@pytest.mark.parametrize("line", ["sum it up", "add it all up", "so far?", "how much is everything in litres?", "how many bags for the lot?"])
def test_the_total_is_asked_for_in_many_words(line: str) -> None:
    answer = said("4 by 8 ft bed, 10 inches deep, 10%", "top dress a lawn of 30 by 40 ft with a quarter inch", line)
    # 2.6667 + 25 cu ft
    assert answer.castings is not None and answer.castings.litres[1] == pytest.approx(27.6667 * 28.3168, rel=1e-4)


def test_a_total_of_lines_says_each_by_its_place_alone() -> None:
    lines = ("4 by 8 ft bed, 10 inches deep, 10%, in litres", "worm tea 1:10 5 gallons", "sum it up")
    parts = [part.reads for part in said(*lines).parts]
    assert parts == ["bed 4 ft by 8 ft, 10 inches deep, 10 % castings", "tea, 5 US gallons of water, 1:10 castings to water"]


def test_packs_that_were_said_for_some_lines_are_not_the_packs_of_all() -> None:
    lines = ("4 by 8 ft bed, 10 inches deep, 10%, how many 40 lb bags", "worm tea 1:10 5 gallons", "how many bags for everything?")
    answer = said(*lines)
    assert not answer.packs
    assert any(note.code == "packs-of-some" for note in answer.assumed)
    # 77.4043 L of 0.6 kg/L are 46.44 kg, 102.4 lb: three bags of 40 lb
    answer = said(*lines, "all of it in 40 lb bags?")
    assert [pack.count for pack in answer.packs] == [3]
