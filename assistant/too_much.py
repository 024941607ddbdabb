"""What is said to "is that too much", where it is not: that it is no more than is usual. Where it is, the judgements say so."""

from __future__ import annotations

from .answer import Advice
from .judge import judgement
from .knowledge import facts
from .remarks import Scene, highest
from .units import span_text
from .worked import Worked, base

_SLACK = 1e-9


def not_too_much(scene: Scene) -> list[Advice]:
    """For each place of which nothing is too much, what is usual there."""
    found = [advice for one in scene.worked if (advice := _of(one, scene)) is not None]
    return list({(one.code, one.text): one for one in found}.values())


def _of(one: Worked, scene: Scene) -> Advice | None:
    place = one.place
    if one.layer is not None and place.way == "top-dress":
        most, code = ("lawn.layer", "lawn-not-too-much") if place.noun == "lawn" else ("layer.thick", "layer-not-too-much")
        spoken = place.layer[0].unit if place.layer else ""
        return None if one.layer[1] > highest(most) + _SLACK else judgement(code, layer=scene.printer.show(*one.layer, "length", spoken))
    if one.share is not None and one.layer is None:
        limit = facts().rate("share.harm").high / 100
        return None if one.share[1] > limit + _SLACK else judgement("share-not-too-much", share=scene.printer.show(*one.share, "share"))
    if place.kind == "plant" and place.rate is not None and place.rate_per is None and not place.rate_altogether and place.way == "side-dress":
        high = base(place.rate)[1] / (scene.density.value[1] if place.rate.dimension == "weight" else 1.0)
        return None if high > highest("side-dress.per-plant") + _SLACK else judgement("per-plant-not-too-much", amount=span_text(place.rate))
    return None
