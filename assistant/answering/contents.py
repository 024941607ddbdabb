"""What is in the castings: the nutrients that they bring, and dry matter against the weight as received."""

from __future__ import annotations

from grammar.quantities import Span
from grammar.query import Place

from ..answer import Asked
from ..judge import judgement
from ..relations import DRY_MATTER, Value
from ..steps import step
from ..units import printed, span_text
from ..worked import Unworkable
from .job import Job
from .record import summed
from .rows import row
from .stock import held_text


def nutrient(job: Job, castings: Value, weight: Value) -> Asked | None:
    """What the castings bring: the nutrient that is asked for, and the rest of an analysis as a note."""
    query = job.query
    if not query.asked_nutrient and not query.analysis:
        return None
    from ..brings import asked, stated

    job.assume_density()
    if query.moisture is not None and query.analysis:
        job.assume("dry-basis", "the analysis is of the dry matter, as laboratories state it")
    found = stated(query, weight)
    if found:
        what = ", ".join(f"{job.printer.show(*one.kg, 'weight')} {one.name}" for one in found)
        area = summed([one.sheet.get("treated area") for one in job.worked])
        count = job.worked[0].sheet.get("count") if len(job.worked) == 1 and area is None else None
        if area is not None:
            job.advice.append(judgement("nutrients-brought", what=what, place=f" over {job.printer.show(*area, 'area')}"))
        elif count is not None and count[0] > 1:
            each = ", ".join(f"{printed(one.kg[0] / count[1] * 1000, one.kg[1] / count[0] * 1000, 'gram')} {one.name}" for one in found)
            job.advice.append(judgement("nutrients-brought", what=what, place=f" in all, or {each} each"))
        else:
            job.advice.append(judgement("nutrients-brought", what=what, place=""))
    answer = None
    if query.asked_nutrient:
        one = asked(query, weight)
        job.assume_all(one.assumed)
        for step in one.steps:
            job.working.append(row(job, step))
        job.said = f"{job.printer.show(*one.kg, 'weight')} of {one.name}"
        answer = Asked(of="weight", low=one.kg[0], high=one.kg[1], unit="kg")
        if any(code == "typical-analysis" for code, _ in one.assumed):
            job.advice.append(judgement("nutrients-typical"))
    job.advice.append(judgement("nutrients-no-plan"))
    return answer


def dry_matter(job: Job, weight: Value) -> Asked | None:
    """The dry matter in a weight as received, where it is asked for."""
    query = job.query
    if "dry-weight" not in query.told:
        return None
    if query.moisture is None:
        raise Unworkable("moisture", "how moist are they, in per cent of the weight as received?", "moisture")
    from ..brings import dry

    found, step = dry(weight, (query.moisture.low / 100, query.moisture.high / 100))
    job.working.append(row(job, step))
    job.assume("moisture-basis", "moisture is a share of the weight as received")
    job.said = f"{job.printer.show(*found, 'weight')} dry"
    return Asked(of="weight", low=found[0], high=found[1], unit="kg")


def as_received(job: Job, place: Place) -> Place:
    """A place whose rate is of dry matter, with the rate as received."""
    if "dry-weight" not in job.query.told or place.rate is None or place.rate.dimension != "weight":
        return place
    if job.query.moisture is None:
        raise Unworkable("moisture", "how moist are the castings, in per cent of the weight as received?", "moisture")
    rate = _wetted(place.rate, job.query.moisture)
    _dry_step(job, span_text(place.rate), job.query.moisture, span_text(rate))
    job.assume("dry-rate", f"the rate is of dry matter: {span_text(rate)} as received")
    return place.model_copy(update={"rate": rate})


def have_as_received(job: Job) -> bool:
    """Whether a dry weight is asked for as received; from here on what is at hand is then the weight as received."""
    query = job.query
    if "received-asked" not in query.told or not query.have or any(span.dimension != "weight" for span in query.have):
        return False
    if query.moisture is None:
        raise Unworkable("moisture", "how moist are they, in per cent of the weight as received?", "moisture")
    have = tuple(_wetted(span, query.moisture) for span in query.have)
    _dry_step(job, held_text(query), query.moisture, " + ".join(span_text(span) for span in have))
    job.assume("moisture-basis", "moisture is a share of the weight as received")
    job.query = query.model_copy(update={"have": have})
    return True


def _wetted(dry: Span, moisture: Span) -> Span:
    """A weight of dry matter as it is received; the wetter, the more."""
    return Span(dry.low / (1 - moisture.low / 100), dry.high / (1 - moisture.high / 100), dry.unit)


def _dry_step(job: Job, dry: str, moisture: Span, received: str) -> None:
    dry_share = printed(100 - moisture.high, 100 - moisture.low, "percent")
    job.working.append(step(DRY_MATTER, f"dry weight {dry}, dry share {dry_share}", f"weight {received}"))
