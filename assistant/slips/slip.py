"""A slip as a value: everything that is printed on it, in the order in which it is printed, and nothing else.

It is made from answers and a catalogue. The clock is never asked: a day stands on it only where one is given.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from decimal import Decimal
from typing import NamedTuple

from grammar.quantities import factor

from ..answer import Answer, PackCount
from ..knowledge import facts
from ..shop import Catalogue, Offers, offers, order
from ..shop.money import plain
from ..units import printed

#: How each way is explained.
_HOW = {"blend": "blend", "incorporate": "incorporate", "top-dress": "top-dress", "side-dress": "side-dress",
        "planting-hole": "planting-hole", "seed-mix": "seed-mix", "tea": "tea-how"}  # fmt: skip
_FOOT = factor("cubic_foot") / factor("litre")
#: What is said of a purchase, beside the cautions.
_OF_PURCHASE = (
    "choice-not-proved",
    "bought-together",
    "pack-left",
    "pack-quarts",
    "pack-by-weight",
    "stock-short",
    "budget-short",
    "budget-does",
    "money-left",
)


class For(NamedTuple):
    """One thing that the castings are for: how the request was read, and what it takes."""

    reads: str
    takes: str


class Bought(NamedTuple):
    """One line of what is bought; money as decimal text, empty where the price is not known."""

    id: str
    name: str
    number: str
    each: str
    total: str


class Slip(NamedTuple):
    """What stands on a slip. `day` is empty where none was given; `tax` is empty where none is shown."""

    shop: str
    day: str
    needs: tuple[For, ...]
    buys: tuple[Bought, ...]
    tax: tuple[str, str] | None
    to_pay: str
    currency: str
    remarks: tuple[str, ...]
    how: tuple[str, ...]
    warnings: tuple[str, ...]
    cautions: tuple[str, ...]
    rules: tuple[str, ...]
    assumed: tuple[str, ...]


def make(each: Sequence[Answer], whole: Answer, catalogue: Catalogue, day: date | None = None) -> Slip:
    """A slip for one answer, or for an order of several.

    `each` are the answers of the lines, `whole` the one that holds the purchase for them all: the same where
    there is one line only. Raises ValueError where `whole` is no answer.
    """
    if whole.status != "answered":
        raise ValueError("there is no slip for a question")
    buys, tax = _bought(whole, catalogue)
    cautioned = [
        one for answer in (whole, *each) for one in answer.advice if one.level == "caution" or facts().is_caution(one.code)
    ]
    return Slip(
        shop=catalogue.shop.name,
        day="" if day is None else day.isoformat(),
        needs=tuple(For(one.reads, _takes(one)) for one in each),
        buys=buys,
        tax=tax,
        to_pay="" if whole.cost is None else whole.cost.amount,
        currency="" if whole.cost is None else whole.cost.currency,
        remarks=tuple(one.text for code in _OF_PURCHASE for one in whole.advice if one.code == code),
        how=tuple(_how(way) for way in _ways((whole, *each))),
        warnings=_each_once(f"{one.text} ({one.source})" for answer in (whole, *each) for one in answer.advice if one.level == "warning"),
        cautions=(*_each_once(one.text for one in cautioned if one.code not in _OF_PURCHASE), *_lifting(whole, catalogue)),
        rules=_each_once(_rule(step) for step in whole.working),
        assumed=_each_once(note.text for note in whole.assumed),
    )  # fmt: skip


def _each_once(texts: object) -> tuple[str, ...]:
    return tuple(dict.fromkeys(" ".join(text.split()) for text in texts))  # type: ignore[attr-defined]


def _takes(answer: Answer) -> str:
    """What a line takes: its figure, and the castings behind it where the figure is money or packs."""
    asked = answer.answer.of if answer.answer else ""
    if answer.castings is None:
        return answer.figure
    litres = answer.castings.litres
    amount = f"{printed(*litres, 'litre')} ({printed(litres[0] / _FOOT, litres[1] / _FOOT, 'cubic_foot')}) of castings"
    if asked in ("castings", "weight"):
        return f"{answer.figure} ({answer.beside})" if answer.beside else answer.figure or amount
    return amount if asked in ("packs", "cost") else f"{answer.figure}, from {amount}"


def _bought(answer: Answer, catalogue: Catalogue) -> tuple[tuple[Bought, ...], tuple[str, str] | None]:
    known = {pack.id for pack in catalogue.packs}
    if not answer.packs or any(pack.id not in known for pack in answer.packs):
        return tuple(Bought(pack.id, pack.name, str(pack.count), "", "") for pack in answer.packs), None
    of = offers(catalogue, packs=[pack.id for pack in answer.packs])
    purchase = order(of, {pack.id: _number(pack) for pack in answer.packs})
    by_id = {line.id: line for line in purchase.lines}
    lines = [by_id[pack.id] for pack in answer.packs]
    tax = catalogue.tax
    shown = None
    if tax is not None and tax.shown:
        shown = (
            f"{tax.name}, {tax.rate.normalize():f} %{' contained' if tax.included else ''}",
            plain(purchase.bill.tax, of.currency),
        )
    return tuple(
        Bought(line.id, line.name, f"{line.number:f}", plain(line.each, of.currency), plain(line.total, of.currency)) for line in lines
    ), shown  # fmt: skip


def _number(pack: PackCount) -> Decimal:
    return Decimal(str(pack.count))


def _ways(answers: Sequence[Answer]) -> list[str]:
    ways = [way for answer in answers for way in (answer.way, *(part.way for part in answer.parts))]
    return list(dict.fromkeys(way for way in ways if way in _HOW))


def _how(way: str | None) -> str:
    """How castings are put down that way, by the knowledge base."""
    explanation = facts().explanation(_HOW[way or ""])
    assert explanation is not None
    return " ".join(explanation.text.split())


def _lifting(answer: Answer, catalogue: Catalogue) -> tuple[str, ...]:
    """What is too heavy for one person to lift."""
    limit = facts().rate("lift.limit")
    most = limit.single * factor(limit.unit)
    ids = [pack.id for pack in answer.packs]
    if not ids or not {*ids} <= {pack.id for pack in catalogue.packs}:
        return ()
    of: Offers = offers(catalogue, packs=ids)
    heavy = [one for one in of.packs if not one.loose and float(one.kilograms) > most]
    return tuple(
        f"“{one.name}” weighs about {printed(float(one.kilograms), float(one.kilograms), 'kilogram')}: more than the {limit.said} that one "
        "person lifts under ideal conditions. Have it moved by two or by a machine."
        for one in heavy
    )


def _rule(step: object) -> str:
    from ..answer import Working

    assert isinstance(step, Working)
    made = f"{step.with_} → {step.gives}" if step.with_ else step.gives
    return f"{step.formula}: {made} ({step.source})"
