"""Whether castings may be given again: all that a place got in a season, taken together and judged.

The limits are facts (`season.*`, `top-dress.apart`, `side-dress.apart`) and the judgements are data; here
stands how applications are added up. What lies on top is counted as ending up in the usual depth of soil
that castings are worked into.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta

from grammar.quantities import factor, unit

from .answer import Advice, Amount, Answer, Asked, Assumed, Pair, Working
from .knowledge import facts
from .notebook import Application
from .relations import SHARE_OF_SEASON, SUM_OF_SEASON
from .steps import step
from .units import printed

_ON_TOP = ("top-dress",)
_SLACK = 1e-9


def _days(fact_id: str) -> tuple[int, int]:
    fact = facts().rate(fact_id)
    size = unit(fact.unit).factor / factor("day")
    return round(fact.low * size), round(fact.high * size)


def judge_again(place: str, planned: Application, before: Sequence[Application], start: date, *, volume_unit: str = "litre",
                request: str = "") -> Answer:  # fmt: skip
    """Whether `planned` may follow `before` at a place, in the season that began on `start`.

    The answer's figure is the verdict; its castings are the season's sum, `planned` with it, in litres.
    """
    before = [one for one in before if one.day <= planned.day]
    season = [one for one in before if start <= one.day]
    together = [*season, planned]
    litres = (sum(one.litres[0] for one in together), sum(one.litres[1] for one in together))
    layer, share = _layers(together), _share(together)
    advice: list[Advice] = []
    verdict = "Yes"
    amount = _volume(litres, volume_unit)
    limit = facts().rate("season.share-limit")
    if share is not None:
        shown = printed(share[0] * 100, share[1] * 100, "percent")
        if share[1] * 100 > limit.single + _SLACK:
            verdict = "No, leave it out this season"
            advice.append(_judgement("season-too-much", share=shown))
        advice.append(_judgement("season-sum", amount=amount, share=shown))
    wait = _wait(planned, season or list(before))
    if wait is not None:
        if verdict == "Yes":
            verdict = f"Not yet: from {spoken_day(wait[0])} on"
        advice.append(wait[1])
    most = facts().rate("season.layer-limit")
    if layer is not None and layer[1] > most.single * factor(most.unit) * 1000 + _SLACK:
        verdict = "Yes, though it is more than usual" if verdict == "Yes" else verdict
        inches = factor("inch") * 1000
        said = f"{printed(layer[0] / inches, layer[1] / inches, 'inch')} ({printed(*layer, 'millimetre')})"
        advice.append(_judgement("season-layer", layer=said))
    times = facts().rate("season.times")
    if len(together) > times.high:
        verdict = "Yes, though it is more than usual" if verdict == "Yes" else verdict
        advice.append(Advice(code="season-times", level="note", source=facts().cite(times),
                             text=f"This would be time {len(together)} in the season; {times.said} is usual."))  # fmt: skip
    advice.sort(key=lambda one: ("warning", "caution", "note").index(one.level))
    return Answer(
        request=request, status="answered", reads=f"{_again(planned)} {place} on {spoken_day(planned.day)}: {planned.reads}",
        way=planned.way, answer=Asked(of="castings", low=litres[0], high=litres[1], unit="L"), figure=verdict,
        castings=_amount(litres), share=share, layer_mm=layer, assumed=_assumed(together, start), advice=tuple(advice),
        working=_working(together, litres, volume_unit, layer, share),
    )  # fmt: skip


def _again(planned: Application) -> str:
    ways = {"top-dress": "top-dress", "side-dress": "side-dress", "incorporate": "dig castings into"}
    return ways.get(planned.way or "", "castings for")


def spoken_day(day: date) -> str:
    """A day as a person writes it: "12 May 2026"; the month in English whatever the machine is set to."""
    return f"{day.day} {MONTHS[day.month - 1]} {day.year}"


MONTHS = ("January", "February", "March", "April", "May", "June", "July", "August", "September", "October",
          "November", "December")  # fmt: skip


def _judgement(code: str, **values: str) -> Advice:
    made = facts().judgement(code)
    return Advice(code=code, level=made.level, text=made.say(**values), source=facts().cite(made))


def _amount(litres: Pair) -> Amount:
    fact = facts().rate("castings.density")
    density = fact.single * factor(fact.unit) / factor("kilogram / litre")
    return Amount(litres=litres, kg=(litres[0] * density, litres[1] * density))


def _volume(litres: Pair, name: str) -> str:
    size = factor(name) / factor("litre")
    return printed(litres[0] / size, litres[1] / size, name)


def _layers(together: Sequence[Application]) -> Pair | None:
    layers = [one.layer_mm for one in together if one.way in _ON_TOP and one.layer_mm is not None]
    if not layers:
        return None
    return sum(layer[0] for layer in layers), sum(layer[1] for layer in layers)


def _share(together: Sequence[Application]) -> Pair | None:
    """The castings of the season as a fraction of the soil they end up in; None where that is not known of all."""
    if any(one.layer_mm is None and one.share is None for one in together):
        return None
    ends = [_share_end(together, end) for end in (0, 1)]
    return ends[0], ends[1]


def _share_end(together: Sequence[Application], end: int) -> float:
    mixed = [one for one in together if not (one.way in _ON_TOP and one.layer_mm is not None)]
    share = 0.0
    if mixed:
        castings = sum(one.litres[end] for one in mixed)
        # the smallest body of soil among them: what is given to a part of it is not thinned by the rest
        soil = min(one.litres[end] * (1 / one.share[end] - 1) for one in mixed if one.share is not None and one.share[end] > 0)
        share = castings / (soil + castings)
    layers = _layers(together)
    if layers is None:
        return share
    depth = _depth_mm()
    return (layers[end] + share * depth) / (layers[end] + depth)


def _depth_mm() -> float:
    fact = facts().rate("incorporate.depth")
    return fact.single * factor(fact.unit) * 1000


def _wait(planned: Application, before: Sequence[Application]) -> tuple[date, Advice] | None:
    """The first day on which the next application is due, and why, where the planned one comes sooner."""
    if not before:
        return None
    fact_id = {"top-dress": "top-dress.apart", "side-dress": "side-dress.apart"}.get(planned.way or "", "season.apart")
    last = max(one.day for one in before)
    due = last + timedelta(days=_days(fact_id)[0])
    if planned.day >= due:
        return None
    fact = facts().rate(fact_id)
    gone = (planned.day - last).days
    text = f"The last time was {spoken_day(last)}, {gone} {'day' if gone == 1 else 'days'} before: leave {fact.said} between two."
    return due, Advice(code="season-too-soon", level="caution", text=text, source=facts().cite(fact))


def _assumed(together: Sequence[Application], start: date) -> tuple[Assumed, ...]:
    found = [Assumed(code="season", text=f"the season is counted from {spoken_day(start)}")]
    if _layers(together) is not None and _share(together) is not None:
        fact = facts().rate("incorporate.depth")
        text = f"what lies on top ends up in {fact.write(fact.single)} of soil ({facts().cite(fact)})"
        found.append(Assumed(code="season-depth", text=text))
    return tuple(found)


def _working(together: Sequence[Application], litres: Pair, name: str, layer: Pair | None,
             share: Pair | None) -> tuple[Working, ...]:  # fmt: skip
    steps = [step(SUM_OF_SEASON, " + ".join(f"{_volume(one.litres, name)} on {spoken_day(one.day)}" for one in together), _volume(litres, name))]
    if layer is not None and share is not None:
        depth = _depth_mm()
        mixed_in = "" if any(one.way not in _ON_TOP for one in together) else ", nothing mixed in"
        steps.append(step(SHARE_OF_SEASON, f"layers {printed(*layer, 'millimetre')}, depth {printed(depth, depth, 'millimetre')}{mixed_in}",
                          printed(share[0] * 100, share[1] * 100, "percent")))  # fmt: skip
    return tuple(steps)
