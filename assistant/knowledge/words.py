"""Explanations and terms."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from .advice import Condition
from .shapes import Standing, Stated, Text


class Explanation(Stated):
    """A short answer to a question in words. `next_step` is a request that can be typed as it stands."""

    title: Text
    text: Text
    #: The circumstances that the question itself speaks of, on which cautions hang.
    raises: Annotated[tuple[Condition, ...], Field(strict=False)] = ()
    next_step: Text = Field(alias="next-step")


class Term(Stated):
    """A word of the trade in one sentence, and the explanation that says more, where there is one.

    What a word means is common practice unless the entry says otherwise.
    """

    standing: Standing = "common practice"
    means: Text
    see: str = ""
