"""The weight of what is filled: a bed, a planter, a balcony box."""

from __future__ import annotations

from grammar.reads import reads

from ..answer import Advice, Answer, Asked
from ..fill import weights
from ..judge import cautions
from .job import Job
from .record import made
from .rows import show_steps


def filled(job: Job) -> Answer:
    """What it weighs, moist or wet, and the other of the two as a note."""
    query, reading = job.query, reads(job.query)
    if query.filled != "wet" and any({"balcony", "roof"} & place.hints for place in query.places):
        query = query.model_copy(update={"filled": "wet"})
        job.assume("wet-weight", "the weight when wet, which is what a balcony or a roof has to bear")
    moist, wet, worked, assumed = weights(query, job.density)
    job.assume_all(assumed)
    show_steps(job, worked.sheet, "filled weight", worked)
    value = wet if query.filled == "wet" else moist
    other = job.printer.show(*(moist if query.filled == "wet" else wet), "weight")
    dry, soaked = ("dry", "soaked") if "of-soil" in query.told else ("moist, as it is filled in", "wet")
    job.said = f"{job.printer.show(*value, 'weight')}, {soaked if query.filled == 'wet' else dry}"
    job.advice.append(Advice(code="filled-other", level="note", source="the same rules",
                             text=f"{(dry if query.filled == 'wet' else soaked).capitalize()}, it weighs {other}."))  # fmt: skip
    job.advice += cautions([worked], query)
    return made(
        job, reads=reading,
        answer=Asked(of="weight", low=value[0], high=value[1], unit="kg"),
    )  # fmt: skip
