"""Many places over several turns as one order: the running total, and its one purchase.

Each line of an order is what one request came to, as it was last changed. Needs are added up; questions that
are no need (how far a bag goes, what a quart is) never count.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from decimal import Decimal
from typing import TYPE_CHECKING, NamedTuple

from grammar.draft import Draft
from grammar.quantities import Span, factor
from grammar.query import Note, Pack, Query, Question
from grammar.reads import reads
from grammar.settle import settle

from . import engine
from .answer import Amount, Answer, Asked, Assumed, Cost, PackCount, Part
from .ends import at_end
from .followup.merge import merge
from .questions import refuse
from .relations import SUM_OF_LINES
from .steps import step
from .units import Printer, printed

if TYPE_CHECKING:
    from .shop import Catalogue

_NEEDS = frozenset({"castings", "weight", "packs", "cost"})
_LITRE = factor("litre")
_LINE = re.compile(
    r"^\W*(?:please\s+|and\s+)?(?P<what>remove|delete|drop|take\s+off|take\s+out|strike|cancel|change|make|set)\s+(?:the\s+)?"
    r"(?:line|item|entry|no\.?|number)\s+(?:no\.?\s+|number\s+)?(?P<number>\d{1,3})\b(?P<rest>.*)$",
    re.IGNORECASE | re.DOTALL,
)
_TOTAL = re.compile(r"^\W*(?:(?:what's|what is|and|so|show me|give me) )?(?:the )?(?:grand |order |running )?total(?: so far| please| for all)?\W*$", re.IGNORECASE)
_SAVING = re.compile(
    r"\b(?:saving|save|saved|savings|cheaper)\b.*\b(?:together|at once|in one|combined|in one go)\b|\b(?:together|at once|combined)\b.*\b(?:saving|savings|save|saved)\b",
    re.IGNORECASE,
)
_APART = re.compile(r"\b(take)\s+((?:the|my|those|these|that)\s+[a-z' -]{2,40}?|that|it|them|this)\s+(off|out|away)\b", re.IGNORECASE)


class Steered(NamedTuple):
    """A line of the order that is to be removed or changed, counted from 1; `rest` says how it is changed."""

    number: int
    removes: bool
    rest: str


def steered(text: str) -> Steered | None:
    """ "remove line 2", "change line 2 to 12 inches deep"; None for any other text."""
    found = _LINE.match(text)
    if found is None:
        return None
    removes = found["what"].lower() not in ("change", "make", "set")
    rest = re.sub(r"^\W*(?:to|into|be)\b", "", found["rest"]).strip(" .,:;!")
    if removes == bool(rest) and not (removes and rest.lower() in ("please", "again", "thanks", "off", "from the order")):
        return None
    return Steered(int(found["number"]), removes, rest)


def asks_total(text: str) -> str:
    """What a line that asks for the total or the saving and for nothing else asks of it; empty for any other line."""
    if _SAVING.search(text):
        return "what cost"
    return "so far" if _TOTAL.match(text) else ""


class Shown(NamedTuple):
    """A line of an order as its total shows it: the draft it stands in, and its place there; None where it is the whole draft.

    `mixed`: places of the draft fell together in the total, so that a line cannot be told from the next.
    """

    draft: int
    place: int | None
    mixed: bool = False


def shown(drafts: Sequence[Draft]) -> list[Shown]:
    """The lines of an order as its total shows them: one for each place."""
    found: list[Shown] = []
    for index, draft in enumerate(drafts):
        read = settle(draft.copy())
        if not isinstance(read, Query) or not asks_for_castings(read):
            continue
        if len(read.places) < 2:
            found.append(Shown(index, None))
        else:
            found += [Shown(index, at, len(read.places) != len(draft.places)) for at in range(len(read.places))]
    return found


def removing(text: str) -> str:
    """ "take the peppers off" with the two halves of the word together, as "take off the peppers"; other texts as they are."""
    return _APART.sub(r"\1 \3 \2", text)


def is_need(draft: Draft) -> bool:
    """Whether what was asked is an amount of castings that somebody needs."""
    read = settle(draft.copy())
    return isinstance(read, Query) and asks_for_castings(read)


def asks_for_castings(query: Query) -> bool:
    """Whether a query asks for the castings that something needs, and not backwards from some, or in words."""
    return query.asked in _NEEDS and not query.filled and not query.asked_nutrient and bool(query.places or query.tea)


def total(drafts: Sequence[Draft], new: Draft, line: str, shop: Catalogue | None) -> Answer | Question | None:
    """Everything that was worked out so far, as one answer; `new` may ask for packs, cost, weight or a unit.

    None where there is nothing to add up.
    """
    lines = [draft for draft in drafts if is_need(draft)]
    queries = [read for draft in lines if isinstance(read := settle(draft.copy()), Query)]
    if not queries:
        return None
    tail = settle(merge(lines[-1], _only_asks(new), adding=False))
    if isinstance(tail, Question):
        return tail
    if not (new.asked or new.asked_unit or new.pack or new.price):
        every = {query.asked for query in queries}
        tail = tail.model_copy(update={"asked": every.pop() if len(every) == 1 else "castings", "asked_unit": ""})
    stated = _stated(new, tail)
    if stated is not None and tail.asked not in ("packs", "cost"):
        tail = tail.model_copy(update={"asked": "packs"})
    one = _one(queries, tail, stated)
    if one is not None:
        return engine.answer(one, line, shop)
    return _summed(queries, tail, line, shop, stated)


def _stated(new: Draft, tail: Query) -> Pack | None:
    """The pack that the line which asks for the total states itself, whatever packs the lines spoke of."""
    if new.pack is None or tail.pack is None or tail.pack.size is None:
        return None
    return tail.pack.model_copy(update={"count": None})


def _only_asks(new: Draft) -> Draft:
    draft = new.copy()
    draft.places, draft.unsure, draft.replies, draft.hints = [], [], [], set()
    return draft


def _one(queries: Sequence[Query], tail: Query, stated: Pack | None) -> Query | None:
    """One query of all places, where nothing but the places tells the queries apart; None else."""
    first = queries[0]
    blank = {"asked": "castings", "asked_noun": "", "asked_unit": "", "places": (), "assumed": (), "noted": (), "set_aside": (),
             "metric": False, "pack": None, "budget": None, "enough": False, "told": frozenset(), "moisture": None}  # fmt: skip
    if any(query.tea is not None or query.have or query.limit or query.told for query in queries):
        return None
    plain = [query.model_copy(update=blank) for query in queries]
    if any(one != plain[0] for one in plain) or (tail.density, tail.weighed) != (first.density, first.weighed):
        return None
    pack = stated or _common_pack(queries, tail)
    if pack is False:
        return None
    return first.model_copy(update={
        "asked": tail.asked if tail.asked in _NEEDS else "castings", "asked_noun": tail.asked_noun, "asked_unit": tail.asked_unit,
        "places": tuple(place for query in queries for place in query.places), "pack": pack or None, "budget": tail.budget, "enough": False,
        "metric": tail.metric, "assumed": _united(note for query in queries for note in query.assumed),
        "noted": _united(note for query in queries for note in query.noted), "set_aside": (),
    })  # fmt: skip


def _united(notes: object) -> tuple[Note, ...]:
    return tuple({(note.code, note.text): note for note in notes}.values())  # type: ignore[attr-defined]


def _common_pack(queries: Sequence[Query], tail: Query) -> Pack | bool | None:
    """The pack that was stated, without a count; False where several differ."""
    stated = {
        pack.model_copy(update={"count": None})
        for query in (*queries, tail)
        if (pack := query.pack) is not None and pack.size is not None
    }
    if len(stated) > 1:
        return False
    return stated.pop() if stated else None


def _summed(queries: Sequence[Query], tail: Query, line: str, shop: Catalogue | None, stated: Pack | None) -> Answer | Question:
    """The answers of all lines added up, where they cannot be put as one request."""
    answers = []
    for query in queries:
        if stated is not None:
            query = as_need(query)  # what the line was to be bought in is of no account now
        found = engine.answer(query, line, shop)
        if isinstance(found, Question):
            return found
        answers.append(found)
    litres = (
        sum(one.castings.litres[0] for one in answers if one.castings),
        sum(one.castings.litres[1] for one in answers if one.castings),
    )
    kg = (sum(one.castings.kg[0] for one in answers if one.castings), sum(one.castings.kg[1] for one in answers if one.castings))
    printer = Printer(tail.metric, [tail.asked_unit] if tail.asked_unit else [])
    text = printer.show(litres[0] * _LITRE, litres[1] * _LITRE, "volume")
    whole = step(SUM_OF_LINES, " + ".join(printed(*one.castings.litres, "litre") for one in answers if one.castings), text)
    parts = tuple(
        part for one, query in zip(answers, queries, strict=True) for part in (one.parts or _as_part(one, reads(as_need(query))))
    )
    ways = {one.way for one in answers}
    packs, cost, extra = _purchase(answers, tail, litres, printer, shop, stated)
    assumed = {(note.code, note.text): note for one in (*answers, *extra) for note in one.assumed}
    advice = {(said.code, said.text): said for one in answers for said in one.advice if said.code not in _OF_ONE_PURCHASE}
    advice.update({(said.code, said.text): said for one in extra for said in one.advice})
    asked, figure = _asked(tail, litres, kg, packs, cost, text, printer)
    return Answer(
        request=line, status="answered", reads="; ".join(reads(as_need(query)) for query in queries), way=ways.pop() if len(ways) == 1 else None,
        answer=asked, castings=Amount(litres=litres, kg=kg), parts=parts, packs=packs, cost=cost, assumed=tuple(assumed.values()),
        advice=tuple(advice.values()), working=(*(one for answer in answers for one in answer.working), whole), figure=figure,
        beside=printer.other(litres[0] * _LITRE, litres[1] * _LITRE, "volume") if asked.of == "castings" else "",
    )  # fmt: skip


#: What is said of one line's own purchase, and not of the order's.
_OF_ONE_PURCHASE = frozenset({"pack-left", "smaller-purchase", "bags-asked", "budget-does", "budget-short", "bought-together", "stock-short",
                              "pack-quarts", "pack-by-weight", "choice-not-proved"})  # fmt: skip


def _as_part(one: Answer, reads: str) -> tuple[Part, ...]:
    return (Part(reads=reads, way=one.way, castings=one.castings, share=one.share, layer_mm=one.layer_mm),)


def as_need(query: Query, *, packs: bool = False) -> Query:
    """A query of the places alone, asked for their castings whatever was asked about; with `packs` what they are bought in stays."""
    asked = "castings" if query.asked in _NEEDS else query.asked
    kept = {} if packs else {"pack": None, "budget": None}
    return query.model_copy(update={"asked": asked, "asked_noun": "", "asked_unit": "", "enough": False, **kept})


def _purchase(
    answers: Sequence[Answer], tail: Query, litres: tuple[float, float], printer: Printer, shop: Catalogue | None, stated: Pack | None
) -> tuple[tuple[PackCount, ...], Cost | None, list[Answer]]:  # fmt: skip
    """One purchase for all lines: of the pack that is stated now, else of those that the lines state, else of the shop's."""
    if stated is not None:
        return _in_packs(litres, tail, stated, shop)
    spoken_of = [any(pack.id == "stated" for pack in one.packs) for one in answers]
    if any(spoken_of) and not all(spoken_of):
        left = Answer(request="", status="answered", reads="", assumed=(Assumed(
            code="packs-of-some", text="a pack was said for some lines only; say “all in 40 lb bags” to have the packs of all of them"),))  # fmt: skip
        return (), None, [left]
    if all(spoken_of):
        packs = tuple(pack for one in answers for pack in one.packs)
        costs = [one.cost for one in answers]
        if all(cost is not None for cost in costs) and len({cost.currency for cost in costs if cost}) == 1:
            amount = sum((Decimal(cost.amount) for cost in costs if cost), Decimal(0))
            return packs, Cost(amount=f"{amount}", currency=costs[0].currency), []  # type: ignore[union-attr]
        return packs, None, []
    if shop is None and tail.asked not in ("packs", "cost"):
        return (), None, []
    from .purchase import Wanted, buy

    end = tail.end or "high"
    apart = tuple(at_end(one.castings.litres, end) for one in answers if one.castings)
    found = buy(Wanted((litres[0] * _LITRE, litres[1] * _LITRE), (), printer, None, end=end, apart=apart), shop)
    assert found is not None
    holder = Answer(request="", status="answered", reads="", advice=found.advice, working=found.working,
                    assumed=tuple(Assumed(code=code, text=text) for code, text in found.assumed))  # fmt: skip
    return found.packs, found.cost, [holder]


def _in_packs(
    litres: tuple[float, float], tail: Query, stated: Pack, shop: Catalogue | None
) -> tuple[tuple[PackCount, ...], Cost | None, list[Answer]]:
    """So many litres of castings in one stated pack."""
    amount = Query(asked="packs", have=(Span(*litres, "litre"),), pack=stated, density=tail.density, weighed=tail.weighed, metric=tail.metric)
    found = engine.answer(amount, "", shop)
    if isinstance(found, Question):
        return (), None, []
    return found.packs, found.cost, [found]


def _asked(
    tail: Query, litres: tuple[float, float], kg: tuple[float, float], packs: tuple[PackCount, ...], cost: Cost | None, text: str,
    printer: Printer,
) -> tuple[Asked, str]:  # fmt: skip
    if tail.asked == "cost" and cost is not None:
        return Asked(
            of="cost", low=float(cost.amount), high=float(cost.amount), unit=cost.currency
        ), f"{cost.amount} {cost.currency}"
    if tail.asked == "packs" and packs:
        count = float(sum(pack.count for pack in packs))
        listed = " + ".join(f"{pack.count} × {pack.name}" for pack in packs)
        return Asked(
            of="packs", low=count, high=count, unit=packs[0].name if len(packs) == 1 else "packs"
        ), f"{count:g} packs: {listed}"
    if tail.asked == "weight":
        return Asked(of="weight", low=kg[0], high=kg[1], unit="kg"), f"{printer.show(*kg, 'weight')} of castings"
    return Asked(of="castings", low=litres[0], high=litres[1], unit="L"), f"{text} of castings"


def of_amount(litres: tuple[float, float], new: Draft, line: str, shop: Catalogue | None) -> Answer:
    """So many litres of castings in the packs, the money or the unit that a line asks for."""
    draft = new.copy()
    draft.have, draft.places, draft.unsure, draft.hints = Span(*litres, "litre"), [], [], set()
    read = settle(draft)
    found = read if isinstance(read, Question) else engine.answer(read, line, shop)
    return refuse(found, line) if isinstance(found, Question) else found


def at_once(lines: Sequence[tuple[float, float]], shop: Catalogue | None) -> str:
    """One purchase for lines of litres, as a sentence: what to buy, what it costs, and what that saves."""
    from .purchase import Wanted, buy

    castings = (sum(line[0] for line in lines) * _LITRE, sum(line[1] for line in lines) * _LITRE)
    found = buy(Wanted(castings, (), Printer(True, []), apart=tuple(line[1] for line in lines)), shop)
    assert found is not None
    if found.cost is None:
        return found.short
    listed = " + ".join(f"{pack.count} × {pack.name}" for pack in found.packs)
    saving = next((one.text for one in found.advice if one.code == "bought-together"), "")
    sample = "".join(f" ({text})" for code, text in found.assumed if code == "sample-catalogue")
    return f"Bought at once: {listed}, {found.cost.amount} {found.cost.currency}{sample}. {saving}".strip()
