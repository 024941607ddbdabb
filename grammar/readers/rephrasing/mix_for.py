"""A mix that is told by what is to grow in it: "potting mix for houseplants, 20 litres" is 20 litres of mix."""

from __future__ import annotations

import re

from ...draft import Draft
from ...later import later
from ...phrases import Amount, Measure, Phrase, Said
from ...said import dimension, is_said, past_describing, single

#: Soil is a mix where it is made.
_MADE = later(r"\b(?:mak(?:e|es|ing)|mix(?:es|ing)?|blend(?:s|ing)?|prepar(?:e|es|ing)|concoct(?:s|ing)?|batch of)\b", re.IGNORECASE)


def find_mix_for(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """The phrases with the volume of such a mix put beside it; where plants are counted it may be for each, and is left."""
    if any(type(p) is Said and p.kind in ("container", "ground", "hole", "pack", "per") for p in phrases) or any(
        is_said(p, "link", "each", "on-hand", "altogether") or is_said(p, "ask", "how-many", "how-far", "enough") for p in phrases
    ):  # fmt: skip
        return phrases
    volumes = [at for at, p in enumerate(phrases) if _plain_volume(p)]
    if len(volumes) != 1:
        return phrases
    told = volumes[0]
    for at, mix in enumerate(phrases[:-2]):
        if type(mix) is not Said or not _is_mix(mix, draft) or not is_said(phrases[at + 1], "link", "for"):
            continue
        noun = past_describing(phrases, at + 2)
        after = phrases[told + 1] if told + 1 < len(phrases) else None
        beside = is_said(after, "link", "of") or is_said(after, "castings") or is_said(after, "component") or is_said(after, "way")
        if noun >= len(phrases) or not is_said(phrases[noun], "plant") or beside or told < noun:
            continue
        of = Said("link", "of", "of", mix.start, mix.start)
        named = mix if mix.kind != "component" else mix._replace(kind="mix", id="mix")
        return [*phrases[:at], phrases[told], of, named, *phrases[at + 1 : told], *phrases[told + 1 :]]
    return phrases


def _plain_volume(phrase: Phrase) -> bool:
    one = single(phrase)
    return type(phrase) is Amount and type(one) is Measure and one.per is None and not one.role and dimension(one) == "volume"


def _is_mix(phrase: Said, draft: Draft) -> bool:
    """Whether a mix is named: by its own word, or as the potting soil that somebody makes."""
    if phrase.kind in ("mix", "seed-mix"):
        return True
    return phrase.kind == "component" and phrase.text.lower() == "potting soil" and _MADE.search(draft.text[: phrase.start]) is not None
