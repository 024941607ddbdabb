"""The answer made up: the fields of the record, and the figure as it is said for people."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from typing import Any

from grammar.quantities import factor
from grammar.query import Query
from grammar.unchecked import unchecked
from grammar.words import plural, spoken

from ..answer import Amount, Answer, Asked, Assumed, Pair
from ..relations import Value
from ..units import printed, so_many
from .job import Job
from .rows import show_weight

_LITRE = factor("litre")
_answer, _amount, _assumed = unchecked(Answer), unchecked(Amount), unchecked(Assumed)


@lru_cache(maxsize=1024)
def _noted(code: str, text: str) -> Assumed:
    """Something assumed; most requests assume the same few things."""
    return _assumed(code=code, text=text)


def made(job: Job, *, reads: str, answer: Asked, **more: Any) -> Answer:
    """The answer, once its figure and its table stand: the fields of the record as they are given, and those for people."""
    if more.get("castings") is not None:
        job.assume_density_of_kilograms()
        show_weight(job, more["castings"])
    figure, beside = _figures(job, answer, more.get("castings"))
    return _answer(request=job.request, status="answered", reads=reads, answer=answer, figure=figure, beside=beside,
                  table=job.table, assumed=tuple([_noted(*one) for one in dict.fromkeys(job.assumed)]),
                  advice=tuple(job.advice), working=tuple(job.working), set_aside=job.query.set_aside, **more)  # fmt: skip


def _figures(job: Job, asked: Asked, castings: Amount | None) -> tuple[str, str]:
    """The asked figure in the user's own units, and the same in the other system.

    Where every rate is said by weight the weight comes first: the volume rests on a density.
    """
    if job.said:
        return job.said, job.printer.other(asked.low, asked.high, "weight") if asked.of == "weight" else ""
    low, high = asked.low, asked.high
    rates = [place.rate for place in job.query.places]
    if asked.of == "castings" and shared_by(job.query) > 1:
        value = (low * _LITRE, high * _LITRE)
        return f"{job.printer.show(*value, 'volume')} of castings for each", job.printer.other(*value, "volume")
    by_weight = all(rate is not None and rate.dimension == "weight" for rate in rates) and not job.query.asked_unit
    if asked.of == "castings" and castings is not None and rates and by_weight:
        return f"{job.printer.show(*castings.kg, 'weight')} of castings", job.printer.show(low * _LITRE, high * _LITRE, "volume")
    if asked.of in ("castings", "mix", "soil", "water"):
        value = (low * _LITRE, high * _LITRE)
        name = job.query.asked_noun.replace("-", " ") if asked.of == "soil" and job.query.asked_noun else asked.of
        return f"{job.printer.show(*value, 'volume')} of {name}", job.printer.other(*value, "volume")
    if asked.of == "weight":
        return f"{job.printer.show(low, high, 'weight')} of castings", job.printer.other(low, high, "weight")
    if asked.of == "area":
        return job.printer.show(low, high, "area"), job.printer.other(low, high, "area")
    if asked.of == "layer":
        inch = (low / 1000, high / 1000)
        names = ("millimetre", "inch") if job.query.metric else ("inch", "millimetre")
        return f"a layer of {job.printer.show(*inch, 'length', names[0])}", job.printer.show(*inch, "length", names[1])
    if asked.of == "share":
        return f"{job.printer.show(low, high, 'share')} castings", ""
    if asked.of == "density":
        return printed(low, high, "kilogram / litre"), job.printer.show(low * 1000, high * 1000, "density")
    if asked.of == "cost":
        return f"{low:.2f} {asked.unit}", ""
    if asked.of == "packs":
        return so_many(f"{low:g}", asked.unit), ""
    return f"{printed(low, high, 'fraction')} {_counted(job.query, asked.of, high)}", ""


def _counted(query: Query, what: str, many: float) -> str:
    """What is counted, in the word that was asked for: "trays", "1 pot"; else plants, containers or beds."""
    kind = {"plants": "plant", "containers": "container", "beds": "ground"}.get(what, "")
    try:
        word = spoken(kind, query.asked_noun)
    except KeyError:
        return what[:-1] if many == 1 else what
    return word if many == 1 else plural(word)


def shared_by(query: Query) -> float:
    """Among how many an amount is shared out, where it is asked what each gets; else 1."""
    places = query.places
    if "each-asked" in query.told and len(places) == 1 and places[0].count:
        return places[0].count
    return 1.0


def summed(values: Sequence[Value | None]) -> Value | None:
    """The sum of those that are known; None where none is."""
    found = [value for value in values if value is not None]
    if len(found) == 1:
        return found[0]
    return (sum([low for low, _ in found]), sum([high for _, high in found])) if found else None


def litres(volume: Value) -> Pair:
    """Cubic metres in litres."""
    return volume[0] / _LITRE, volume[1] / _LITRE


def in_all(castings: Value, weight: Value) -> Amount:
    """Castings in all, as the record gives them: from cubic metres and kilograms."""
    return _amount(litres=litres(castings), kg=weight)


def millimetres(layer: Value | None) -> Pair | None:
    """A layer in metres as the record gives it."""
    return (layer[0] * 1000, layer[1] * 1000) if layer is not None else None
