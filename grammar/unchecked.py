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
    new = kind.__new__
    # the four places of a model, set without a look for each of them by its name
    put_fields, put_given, put_extra, put_private = (
        vars(BaseModel)[name].__set__ for name in ("__dict__", "__pydantic_fields_set__", "__pydantic_extra__", "__pydantic_private__")
    )

    def made(*_: P.args, **values: P.kwargs) -> M:
        one = new(kind)
        put_fields(one, {**plain, **values})
        put_given(one, given)
        put_extra(one, None)
        put_private(one, None)
        return one

    def made_fresh(*parts: P.args, **values: P.kwargs) -> M:
        one = made(*parts, **values)
        for name, factory in fresh.items():
            if name not in values:
                one.__dict__[name] = factory()
        return one

    return made_fresh if fresh else made


__all__ = ["unchecked"]
