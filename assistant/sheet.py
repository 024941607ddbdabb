"""A sheet of named quantities that are worked out from each other, with every step kept."""

from __future__ import annotations

from typing import NamedTuple

from .relations import Relation, Value


class Step(NamedTuple):
    """One relation put to use: what it gave, from which terms."""

    relation: Relation
    gave: str
    value: Value
    used: tuple[tuple[str, Value], ...]


class Sheet:
    """Values by name in coherent SI units, and the steps that made those that were not given."""

    __slots__ = ("steps", "values")

    def __init__(self) -> None:
        self.values: dict[str, Value] = {}
        self.steps: dict[str, Step] = {}

    def give(self, name: str, low: float, high: float | None = None) -> None:
        """Puts a given value on the sheet."""
        self.values[name] = (low, low if high is None else high)

    def get(self, name: str) -> Value | None:
        return self.values.get(name)

    def reach(self, target: str, relations: tuple[Relation, ...]) -> Value | None:
        """The target worked out by the relations, or None where what is known does not reach it."""
        values = self.values
        while target not in values:
            progress = False
            for relation in relations:
                missing = ""
                for name in relation.terms:
                    if name not in values:
                        if missing:
                            break
                        missing = name
                else:
                    if not missing:
                        continue
                    found = relation.solve(values, missing)
                    if found is None:
                        continue
                    self.steps[missing] = Step(
                        relation, missing, found, tuple((name, values[name]) for name in relation.terms if name != missing)
                    )
                    values[missing] = found
                    progress = True
                    if missing == target:
                        break
            if not progress:
                return None
        return values[target]

    def trace(self, target: str) -> list[Step]:
        """The steps that the target rests on, in the order in which they were made."""
        needed: list[str] = [target]
        found: dict[str, Step] = {}
        while needed:
            name = needed.pop()
            step = self.steps.get(name)
            if step is None or name in found:
                continue
            found[name] = step
            needed.extend(term for term, _ in step.used)
        order = list(self.steps)
        return [found[name] for name in sorted(found, key=order.index)]
