"""A step of the working: the declared rule with what was put in and what it gives."""

from __future__ import annotations

from grammar.unchecked import unchecked

from .answer import Working
from .relations import Rule

_made = unchecked(Working)


def step(rule: Rule, put_in: str, gives: str, *, label: str = "", source: str = "") -> Working:
    """One step as it stands in the record: name, formula and source are those of the rule, and are written nowhere else.

    `label` is the name of the place, where there are several; `source` stands in where the rule was not used to its end.
    """
    return _made(rule=rule.id, formula=label + rule.formula, with_=put_in, gives=gives, source=source or rule.source)
