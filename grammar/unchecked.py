"""Models made of values that the reader or the engine has made itself, which need no second look.

A model of a border checks what comes in from outside (`Query.model_validate`). What is made within is held to its types by the
type checker, and at every request of the test data by `tests/properties/test_unchecked.py`; checking it at every line again
would cost a tenth of the line's time.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, ParamSpec, TypeVar, cast

from pydantic import BaseModel

P = ParamSpec("P")
M = TypeVar("M", bound=BaseModel)


def unchecked(model: Callable[P, M]) -> Callable[P, M]:
    """A maker of one kind of model that takes what the model takes, and believes it."""
    kind = cast("type[M]", model)
    fields = kind.model_fields
    # all fields in their order, which is the order in which they are written out; what is required is given at every call
    plain = {name: None if field.is_required() else field.default for name, field in fields.items()}
    fresh = {name: cast("Callable[[], Any]", field.default_factory) for name, field in fields.items() if field.default_factory}
    given = set(fields)
    new, put = kind.__new__, object.__setattr__

    def made(*_: P.args, **values: P.kwargs) -> M:
        one = new(kind)
        put(one, "__dict__", {**plain, **values})
        put(one, "__pydantic_fields_set__", given)
        put(one, "__pydantic_extra__", None)
        put(one, "__pydantic_private__", None)
        return one

    def made_fresh(*parts: P.args, **values: P.kwargs) -> M:
        one = made(*parts, **values)
        for name, factory in fresh.items():
            if name not in values:
                one.__dict__[name] = factory()
        return one

    return made_fresh if fresh else made


__all__ = ["unchecked"]
