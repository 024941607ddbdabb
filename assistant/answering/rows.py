"""The steps that were worked as rows of the working, in the user's own units."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final, NamedTuple

from grammar.quantities import Span, factor, unit
from grammar.query import Place

from ..answer import Amount, Working
from ..relations import FOR_EACH, TERM_DIMENSION, WEIGHT, Value
from ..sheet import Sheet, Step
from ..steps import step
from ..units import span_text
from ..work import RENAMING
from ..worked import Worked
from .job import Job

_LITRE = factor("litre")

#: The terms that are so much for so much of a place: what goes on it, and what they are told for where nobody said it, in metric and US units.
_RATES = {
    "rate for an area": ("volume", Span(1, 1, "square_metre"), Span(100, 100, "square_foot")),
    "weight for an area": ("weight", Span(1, 1, "square_metre"), Span(100, 100, "square_foot")),
    "tea for an area": ("volume", Span(1, 1, "square_metre"), Span(1000, 1000, "square_foot")),
    "rate for a length": ("volume", Span(1, 1, "metre"), Span(1, 1, "foot")),
    "weight for a length": ("weight", Span(1, 1, "metre"), Span(1, 1, "foot")),
}


def show_steps(job: Job, sheet: Sheet, target: str, worked: Worked | None, only_last: bool = False) -> None:
    """Puts the steps that a target rests on into the working, under the name of the place where there are several."""
    found = sheet.trace(target)
    if only_last:
        found = found[-1:]
    label = ""
    if worked is not None and len(job.query.places) > 1:
        label = f"{worked.place.printed or worked.place.noun or 'place'}: "
    spoken = _spoken(worked.place) if worked is not None else _NOTHING
    for one in found:
        if one.relation.id in RENAMING or _is_identity(one):
            continue
        if one.relation is FOR_EACH and worked is not None and worked.place.rate_altogether:
            continue  # so much is told for all of them, and of none by itself
        job.working.append(row(job, one, spoken, label))


#: Terms that are what one of many holds or gets.
_OF_ONE = frozenset({"one cell", "castings for one"})


class Spoken(NamedTuple):
    """How a place was spoken of: the units of the terms of it, and what a rate was told for, "100 sq ft"."""

    units: Mapping[str, str]
    rate_per: Span | None = None


_NOTHING: Final = Spoken({})


def row(job: Job, one: Step, spoken: Spoken = _NOTHING, label: str = "") -> Working:
    """One step: its formula, the figures put in, and what they give, in the units that were spoken of."""
    figures = ", ".join([f"{name} {_term(job, name, value, spoken)}" for name, value in one.used if _TRIVIAL.get(name) != value])
    return step(one.relation, figures, f"{one.gave} {_term(job, one.gave, one.value, spoken)}", label=label)


def show_weight(job: Job, castings: Amount) -> None:
    """How the kilograms and the litres of the castings come from each other, where no step has told it yet."""
    if WEIGHT.id in [step.rule for step in job.working]:
        return
    low, high = castings.litres
    terms = {"castings": job.printer.show(low * _LITRE, high * _LITRE, "volume"),
             "weight": job.printer.show(*castings.kg, "weight"), "density": job.printer.show(*job.density.value, "density")}  # fmt: skip
    targets = {one.target == "weight" for one in job.worked}
    if len(targets) > 1:
        return  # some places are told by weight and some by volume: no one step makes the sum
    gave = "castings" if True in targets else "weight"
    figures = ", ".join([f"{name} {text}" for name, text in terms.items() if name != gave])
    job.working.append(step(WEIGHT, figures, f"{gave} {terms[gave]}"))


def _term(job: Job, name: str, value: Value, spoken: Spoken) -> str:
    in_unit = spoken.units.get(name, "")
    if name in _RATES:
        what, metric, customary = _RATES[name]
        per = spoken.rate_per or (metric if job.printer.metric else customary)
        size = per.low * factor(per.unit)
        return f"{job.printer.show(value[0] * size, value[1] * size, what, in_unit)} per {span_text(per)}"
    if name in _OF_ONE and not in_unit:
        in_unit = job.printer.unit_for_one(value[1])
    return job.printer.show(value[0], value[1], TERM_DIMENSION.get(name, "number"), in_unit)


def _spoken(place: Place) -> Spoken:
    per = place.rate_per
    return Spoken(_spoken_units(place), per if per is not None and per.low == per.high else None)


#: What the sizes of a shape are called among the terms of a step.
_TERMS = {"rise": "height of triangle", "inner": "inner radius", "outer": "outer radius", "bottom": "bottom diameter",
          "flats": "across the flats", "corners": "across the corners"}


def _spoken_units(place: Place) -> dict[str, str]:
    found = {_TERMS.get(name, name): span.unit for name, span in place.shape.dims.items()}
    if place.depth is not None:
        found["depth"] = place.depth.unit
    if place.layer:
        found["layer"] = place.layer[0].unit
    else:
        metric = any("metre" in span.unit for span in place.shape.dims.values())
        found["layer"] = "millimetre" if metric else "inch"
    if place.strip_layer is not None:
        found["strip layer"] = place.strip_layer.unit
    if place.cell is not None:
        found["one cell"] = place.cell.unit
    if place.rate is not None:
        measures = unit(place.rate.unit).dimension
        for name in ("castings for one", "weight for one") if place.rate_per is None else _RATES:
            if _RATES.get(name, (measures,))[0] == measures:
                found[name] = place.rate.unit
    return {name: unit_name for name, unit_name in found.items() if unit_name}


#: Values that leave an amount as it is, and are not shown.
_TRIVIAL: dict[str, Value] = {"count": (1.0, 1.0), "portion": (1.0, 1.0), "left out": (0.0, 0.0)}
_MAY_BE_TRIVIAL = frozenset({"whole-area", "treated-area", "whole-volume"})


def _is_identity(step: Step) -> bool:
    if step.relation.id not in _MAY_BE_TRIVIAL:
        return False
    return len([name for name, value in step.used if _TRIVIAL.get(name) != value]) == 1
