"""What a talk writes: the slip of what was asked for, and the file of the notebook."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from ..answer import Answer
from ..notebook import Notebook
from ..say import say
from .days import find_day
from .ordering import Ordering

if TYPE_CHECKING:
    from ..slips import Slip


class Files(Ordering):
    """The part of a talk that writes and opens files, which the user has named."""

    def _slip(self, day: date | None) -> Slip | str:
        """The slip of the order or, without one, of all that this conversation asked for; why there is none in its place."""
        from ..orders import is_need
        from .slipping import slip_for

        talk = self.conversation
        needs = [draft for draft in talk.finished if is_need(draft)]
        if not needs and talk.now.draft is not None:
            needs = [talk.now.draft]
        ordered = [line.reads for line in self.notebook.order()]
        if not needs and not ordered:
            return self._put("There is nothing to put on a slip yet: ask for an amount first.")
        made = slip_for(needs, ordered, self.shop, day)
        return say(made, self.look) if isinstance(made, Answer) else made

    def _on_slip(self, rest: str) -> str | None:
        from .slipping import is_no_more, shown

        day, left = find_day(rest, self.clock)
        if not is_no_more(left):
            return None  # "slip the castings under the mulch, 4 by 8 ft" is a request
        slip = self._slip(day)
        return slip if isinstance(slip, str) else shown(slip, self.look)

    def _on_slip_to(self, rest: str, replace: bool = False) -> str | None:
        from .slipping import written

        name, _, more = rest.partition(" dated ")
        name = name.strip("\"'“” ")
        if not self.may_write:
            return self._put("Slips are not written here; “print me a slip” shows one.")
        if not name:
            return self._put("Which file? Say it as “write the slip to slip.md”.")
        slip = self._slip(find_day(more, self.clock)[0] if more else None)
        return slip if isinstance(slip, str) else self._put(written(slip, name, replace=replace))

    def _on_slip_over(self, rest: str) -> str | None:
        return self._on_slip_to(rest, replace=True)

    def _on_save(self, rest: str) -> str | None:
        if not self.may_write:
            return self._put("Notebook files are not written here.")
        name = rest.strip("\"'“” ")
        if not name:
            if self.notebook.path is not None:
                return self._put(f"All is kept in {self.notebook.path} as it is said.")
            return self._put("Give the notebook a file name, as “save to garden.notebook”.")
        self.notebook.save_as(Path(name).expanduser())
        return self._put(f"Saved in {self.notebook.path}. From now on all is kept there as it is said.")

    def _on_open(self, rest: str) -> str | None:
        if not self.may_write:
            return self._put("Notebook files are not opened here.")
        name = rest.strip("\"'“” ")
        if not name:
            return self._put("Which file? Say it as “open garden.notebook”.")
        path = Path(name).expanduser()
        if not path.exists():
            return self._put(f"There is no file {path}. “save to {path}” makes a new notebook.")
        opened = Notebook.open(path)
        self.notebook.close()
        self.notebook, self.last, self.current = opened, None, ""
        self._take_up()
        return self._put(f"Opened {path}.") + "\n" + self._on_remembered("")
