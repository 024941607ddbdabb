"""What vessels hold, where it is called mix: "each of the 3 tubs holds 40 litres of mix", "3 tubs hold 120 litres of mix altogether"."""

from __future__ import annotations

from ...draft import Draft
from ...phrases import Measure, Number, Phrase, Said
from ...said import dimension, is_said, single


def find_held(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """The phrases without "of mix" behind what vessels hold, which is their size; asked about where it may be of each or of all."""
    for at, holds in enumerate(phrases[:-2]):
        held = single(phrases[at + 1])
        if not is_said(holds, "link", "volume-word") or type(held) is not Measure or held.per is not None or dimension(held) != "volume":
            continue
        mix = at + 2 + is_said(phrases[at + 2], "link", "of")
        if mix >= len(phrases) or not is_said(phrases[mix], "mix"):
            continue
        vessels = next((p for p in reversed(phrases[:at]) if is_said(p, "container")), None)
        if not isinstance(vessels, Said) or any(type(single(p)) is Measure for p in phrases[phrases.index(vessels) : at]):
            continue
        told = any(is_said(p, "link", "each", "altogether") or is_said(p, "per") for p in phrases)
        lead = single(phrases[phrases.index(vessels) - 1]) if phrases.index(vessels) else None
        many = vessels.text.lower().endswith("s") and not (type(lead) is Number and lead.low == 1)
        sized = any(type(m := single(p)) is Measure and m is not held and dimension(m) in ("volume", "length") for p in phrases)
        if sized:
            continue
        if many and not told and holds.text.lower() != "holds" and draft.question is None:  # type: ignore[union-attr]
            said = draft.text[held.start : held.end].strip()
            draft.question = ("each-or-all", f"is “{said}” the mix in each of them, or in all together?")
        return [*phrases[: at + 2], *phrases[mix + 1 :]]
    return phrases
