"""Patterns that are compiled when they are first looked for: most lines need few of them, and a start need not pay for all."""

from __future__ import annotations

import re
from typing import Any, cast


class _Later:
    """Stands in for a pattern until it is used; then it hands on what the compiled one offers, at no further cost."""

    def __init__(self, pattern: str, flags: int) -> None:
        self._told = (pattern, flags)

    def __getattr__(self, name: str) -> Any:
        # asked only for what is not here yet, so once for each of a pattern's methods; `re` keeps what it has compiled
        if name.startswith("__"):
            raise AttributeError(name)
        found = getattr(re.compile(*self._told), name)
        setattr(self, name, found)
        return found


def later(pattern: str, flags: int = 0) -> re.Pattern[str]:
    """A pattern as `re.compile` gives it, compiled at its first use. Raises re.error then, and not here."""
    return cast("re.Pattern[str]", _Later(pattern, flags))
