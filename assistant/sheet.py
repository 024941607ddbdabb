"""A sheet of named quantities that are worked out from each other, with every step kept."""

from __future__ import annotations

from functools import lru_cache
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
        if target in values:
            return values[target]
        steps = _plan(relations, frozenset(values), target)
        for at, (relation, missing) in enumerate(steps):
            found = relation.solve(values, missing)
            if found is None:  # a step that these values do not allow: another way is looked for below
                for _, name in steps[:at]:
                    del values[name], self.steps[name]
                break
            self._put(relation, missing, found)
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
                    self._put(relation, missing, found)
                    progress = True
                    if missing == target:
                        break
            if not progress:
                return None
        return values[target]

    def _put(self, relation: Relation, missing: str, found: Value) -> None:
        values = self.values
        self.steps[missing] = Step(relation, missing, found, tuple([(name, values[name]) for name in relation.terms if name != missing]))
        values[missing] = found

    def trace(self, target: str) -> list[Step]:
        """The steps that the target rests on, in the order in which they were made."""
        needed = {target}
        found: list[Step] = []
        for step in reversed(self.steps.values()):  # each rests on those before it
            if step.gave in needed:
                found.append(step)
                needed.update(step.relation.terms)
        found.reverse()
        return found


@lru_cache(maxsize=4096)
def _plan(relations: tuple[Relation, ...], known: frozenset[str], target: str) -> tuple[tuple[Relation, str], ...]:
    """The steps in which the relations reach a target from what is known, as far as they do, where every step can be solved.

    They hang on the names alone, and there are far fewer sets of names than requests.
    """
    names = set(known)
    steps: list[tuple[Relation, str]] = []
    progress = True
    while target not in names and progress:
        progress = False
        for relation in relations:
            missing = [name for name in relation.terms if name not in names]
            if len(missing) == 1:
                steps.append((relation, missing[0]))
                names.add(missing[0])
                progress = True
                if missing[0] == target:
                    break
    return tuple(steps)
