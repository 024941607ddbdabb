"""The facts of the trade as data, each with its source, validated when it is read.

Rates, thresholds, densities and limits stand in `rates/`, one file a subject; containers, components,
plants, cautions, judgements, explanations, terms, sources and disagreements in a file each. Nothing
here works anything out: it hands over figures in the units in which they are stated.
"""

from .faults import Fault, KnowledgeError
from .shapes import Fact, Stated
from .shelf import Facts, facts

__all__ = ["Fact", "Facts", "Fault", "KnowledgeError", "Stated", "facts"]
