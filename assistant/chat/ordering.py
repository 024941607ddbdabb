"""The order of a talk: lines put on, shown, changed and taken off, and what it comes to at once."""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING

from grammar.gather import gather

from ..conversation import Conversation, asks_of_all
from ..notebook import OrderLine, order_line
from ..orders import at_once, of_amount, steered
from ..say import Spoken, say
from ..units import both_systems

if TYPE_CHECKING:
    pass

from .desk import lines
from .logbook import Logbook, is_metric


class Ordering(Logbook):
    """The part of a talk that concerns the order."""

    def _of_the_order(self, line: str) -> str | None:
        """The order in packs, money or another unit, where a line after it asks for no more than that; None else."""
        draft = gather(line)
        order = self.notebook.order()
        if not order or not (draft.pack or draft.asked or draft.asked_unit) or not asks_of_all(draft):
            return None
        litres = (sum(one.litres[0] for one in order), sum(one.litres[1] for one in order))
        return say(of_amount(litres, draft, line, self.shop), self.look)

    def _on_order_add(self, rest: str) -> str:
        if question := self._still_open():
            return self._put(f"That is not worked out yet: {question}")
        line = order_line(self.last) if self.last is not None else None
        if line is None:
            return self._put("There is no amount to put on the order yet: ask for one first.")
        line = line.model_copy(update={"reads": self.words})
        self.notebook.add_to_order(line)
        order = self.notebook.order()
        return self._put(f"On the order: {line.reads}. That makes {len(order)} {lines(len(order))}.")

    def _on_order_show(self, rest: str) -> str:
        order = self.notebook.order()
        if not order:
            return self._put("Nothing is on the order. After an answer, “add it to the order” puts it there.")
        page = Spoken(self.look)
        money: dict[str, Decimal] = {}
        for number, line in enumerate(order, 1):
            text = f"{line.reads}: {both_systems(line.litres, metric=is_metric(line.reads))}"
            if line.packs:
                text += "; " + ", ".join(f"{pack.count} of {pack.name}" for pack in line.packs)
            if line.cost is not None:
                text += f"; {line.cost.amount} {line.cost.currency}"
                money[line.cost.currency] = money.get(line.cost.currency, Decimal(0)) + Decimal(line.cost.amount)
            page.put(text, f"{number}. ", "   ")
        litres = (sum(line.litres[0] for line in order), sum(line.litres[1] for line in order))
        total = f"In all: {both_systems(litres, metric=all(is_metric(line.reads) for line in order))} of castings"
        for currency, amount in money.items():
            total += f", {amount:.2f} {currency}"
        page.put(f"{total}.")
        unpriced = sum(1 for line in order if line.cost is None)
        if money and unpriced:
            page.put(f"Without a price: {unpriced} {lines(unpriced)}.")
        page.put(self._at_once(order))
        self.order_shown = True
        return str(page)

    def _at_once(self, order: list[OrderLine]) -> str:
        """What the whole order comes to when it is bought at once, where lines are bought from a catalogue."""
        packs = [pack for line in order for pack in line.packs]
        if len(order) < 2 or any(pack.id == "stated" for pack in packs) or (self.shop is None and not packs):
            return ""
        return at_once([line.litres for line in order], self.shop)

    def _on_ordered(self, line: str) -> str | None:
        """ "remove line 2", "change line 2 to 12 inches deep", where the order has such a line; None for any other line."""
        said = steered(line)
        order = self.notebook.order()
        if said is None or not 1 <= said.number <= len(order):
            return None
        old = order[said.number - 1]
        if said.removes:
            self.notebook.take_off_order(said.number)
            left = len(order) - 1
            return self._put(f"Taken off the order: {old.reads}. That leaves {left} {lines(left)}.")
        apart = Conversation(shop=self.shop)
        apart.say(old.reads)
        answer = apart.say(said.rest)
        changed = order_line(answer)
        if changed is None:
            return say(answer, self.look)
        self.notebook.change_order(said.number, changed)
        return say(answer, self.look) + "\n" + self._put(f"That is line {said.number} of the order now.")

    def _on_order_back(self, rest: str) -> str:
        line = self.notebook.take_off_order()
        return self._put("Nothing is on the order." if line is None else f"Taken off: {line.reads}.")

    def _on_order_empty(self, rest: str) -> str:
        count = self.notebook.empty_order()
        return self._put(f"The order is empty; {count} {lines(count)} taken off." if count else "The order is empty.")
