"""The talk itself: one line in, the text of one reply out, with all that is remembered between.

It knows nothing of terminals: the same talk answers in a terminal, through a pipe and in a replayed
conversation file. Requests go to the conversation; lines that steer the chat or concern the notebook are
dealt with here. Nothing is written to a file that the user has not named.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import date
from decimal import Decimal
from pathlib import Path
from typing import TYPE_CHECKING

from grammar.draft import Draft
from grammar.gather import gather
from grammar.reads import many_of
from grammar.reads import span as span_text
from grammar.scan import LONGEST_LINE
from grammar.words import Word, spoken, vocabulary

from ..answer import Answer, Assumed
from ..conversation import Conversation, asks_of_all
from ..knowledge import facts
from ..lines import Look, as_typed
from ..notebook import Notebook, NotebookError, OrderLine, order_line
from ..orders import at_once, of_amount, steered
from ..say import Spoken, say
from ..season import MONTHS, spoken_day
from ..units import both_systems
from . import helping
from .commands import Given, folded, given
from .days import Clock, UnclearDay, find_day
from .logbook import Logbook, is_metric, is_or_are, the

if TYPE_CHECKING:
    from ..shop import Catalogue
    from ..slips import Slip

_NOW = "now"  # the entry of the conversation's memory that is no place
#: Commands that need to know in which words they were given.
_BY_LEAD = frozenset({"applied", "log", "last-time", "again", "forget-place"})
#: More places than this are counted and not named on the bottom line.
_PLACES_SHOWN = 4


class Talk(Logbook):
    """One conversation with its notebook.

    `clock` gives today's date; without one no day is asked of the machine. `may_write` allows notebook
    files; a replayed conversation may not touch any.
    """

    def __init__(self, look: Look, *, clock: Clock | None = None, notebook: Notebook | None = None,
                 may_write: bool = True, shop: Catalogue | None = None) -> None:  # fmt: skip
        self.look = look._replace(brief=True)
        self.clock = clock
        self.may_write = may_write
        self.leaving = False
        #: What deletes the lines kept from earlier chats, where they are kept; gives the words to say about it.
        self.forget_history: Callable[[], str] | None = None
        self.notebook = Notebook.in_memory() if notebook is None else notebook
        self.shop = shop
        self.conversation = Conversation(shop=shop)
        self.last: Answer | None = None
        self.current = ""
        #: The judgement on a season that was given last, so that it too can be asked why.
        self.judged: Answer | None = None
        #: The last answer in words without what was asked: with what it is bought in, and its places alone.
        self.words = self.place_words = ""
        #: The order was shown last, so that a line which only asks for packs or money is about it.
        self.order_shown = False
        #: Remarks that are not made again, those of the last answer, and the picture that was drawn last.
        self.remarked: set[str] = set()
        self.remarked_last: set[tuple[str, str]] = set()
        self.drawn: object = None
        self.starts = 0
        #: Named places and the line of what is remembered, as they were after the last reply.
        self.places: dict[str, str] = {}
        self.status = ""
        if notebook is not None:
            self._take_up()
            self._look_up()

    # ---- one line ------------------------------------------------------------------------------------

    def reply(self, line: str) -> str:
        """The reply to one line; empty only for an empty line. Never raises for any text."""
        if not line.strip():
            return ""
        line = as_typed(line)
        if not line.strip():
            return self._put("There is nothing in that line that can be read.")
        try:
            self._take_in()
            reply = self._reply(line)
            if len(line) > LONGEST_LINE:
                reply = self._put(f"Only the first {LONGEST_LINE:,} characters of that line were read.") + "\n" + reply
            self._look_up()
        except (NotebookError, UnclearDay) as problem:
            return self._put(_sentence(str(problem)))
        return reply

    def steady_reply(self, line: str) -> str:
        """The reply to one line; where the program itself is at fault the chat goes on, and says so."""
        try:
            return self.reply(line)
        except Exception:  # a fault in one answer may not cost the user the conversation
            return self._put("That line met a fault in the program, and was not answered. All that was said before is kept; "
                             "please report the line.")  # fmt: skip

    def _reply(self, line: str) -> str:
        if not _asks_why(line):
            self.judged = None
        reply = self._on_ordered(line)
        for command in given(line) if reply is None else ():
            reply = self._obey(command)
            if reply is not None:
                return reply
        return self._request(line) if reply is None else reply

    def _request(self, line: str) -> str:
        why = _asks_why(line)
        if why and self.judged is not None:
            return say(self.judged, self.look._replace(working=True, pictures=False))
        if self.order_shown and (reply := self._of_the_order(line)) is not None:
            return reply
        self.order_shown = False
        before = self.last
        answer = self.conversation.say(line)
        if not why:
            answer = self._as_set(answer, line)
        names, changed = self._keep_names()
        if self.conversation.now.draft is None:
            self.last, self.words, self.place_words, self.current = None, "", "", ""  # begun afresh, or nothing is left
        if answer.status == "answered":
            self.last = answer
            self._note_words()
            self.current = self._name_in(line) or (names[-1] if names else self._still(answer))
        if names and before is not None and answer.reads == before.reads:
            return self._put(f"Remembered: {the(names[-1])} {is_or_are(names[-1])} {self.notebook.places()[names[-1]]}.")
        if why:
            return say(answer, self.look._replace(working=True, pictures=False))
        begun = self.starts != self.conversation.starts
        text = self._said_anew(answer)
        if begun and (order := self.notebook.order()):
            text += "\n" + self._put(f"The order still has {len(order)} {_lines(len(order))}; “empty the order” begins a new one.")
        if names or changed:
            text += "\n" + self._put(f"Remembered as: {', '.join(the(name) for name in [*names, *changed])}.")
        return text

    def _note_words(self) -> None:
        """Takes note of the last answer in words, for the order and for the log."""
        reads = self.last.reads if self.last is not None else ""
        whole = self.conversation.totalled
        self.words = reads if whole else self.conversation.words(packs=True) or reads
        self.place_words = reads if whole else self.conversation.words(packs=False) or reads

    def _said_anew(self, answer: Answer) -> str:
        """An answer without the remarks that this talk has made already, and without a picture that was just drawn."""
        if self.starts != self.conversation.starts:
            self.starts, self.remarked, self.remarked_last, self.drawn = self.conversation.starts, set(), set(), None
        if answer.status != "answered" or answer.answer is None or answer.answer.of == "explanation":
            return say(answer, self.look)
        told = {(one.code, one.text) for one in answer.advice if one.level != "warning"}
        again = {(code, text) for code, text in told if code in self.remarked or (code, text) in self.remarked_last}
        self.remarked |= {code for code, _ in told if facts().is_general(code)}
        self.remarked_last = told
        picture = (answer.share, answer.layer_mm, answer.way) if answer.share is not None or answer.layer_mm is not None else None
        look = self.look._replace(pictures=self.look.pictures and picture != self.drawn)
        self.drawn = picture if self.look.pictures else None
        return say(answer.model_copy(update={"advice": tuple(one for one in answer.advice if (one.code, one.text) not in again)}), look)

    def _of_the_order(self, line: str) -> str | None:
        """The order in packs, money or another unit, where a line after it asks for no more than that; None else."""
        draft = gather(line)
        order = self.notebook.order()
        if not order or not (draft.pack or draft.asked or draft.asked_unit) or not asks_of_all(draft):
            return None
        litres = (sum(one.litres[0] for one in order), sum(one.litres[1] for one in order))
        return say(of_amount(litres, draft, line, self.shop), self.look)

    def _still_open(self) -> str:
        """The question that was asked last, where it has not been answered; empty else."""
        now = self.conversation.now.answer
        return now.question or "" if now is not None and now.status == "asks" else ""

    def _as_set(self, answer: Answer, line: str) -> Answer:
        """The answer with the chosen density and unit put in, where the line did not say its own."""
        settings = self.notebook.settings()
        density, unit = settings.get("density", ""), settings.get("unit", "")
        if density and any(note.code == "default-density" for note in answer.assumed):
            said = self.conversation.say(f"castings weigh {density}")
            if said.status == "answered":
                chosen = Assumed(code="set-density", text=f"castings weigh {density}, as chosen for all that follows")
                answer = said.model_copy(update={"request": line, "assumed": (*said.assumed, chosen)})
        asked = answer.answer.of if answer.answer else ""
        if unit and asked in ("castings", "mix", "soil", "water") and not gather(line).asked_unit:
            said = self.conversation.say(f"in {spoken('unit', unit)}")
            if said.status == "answered":
                answer = said.model_copy(update={"request": line, "assumed": answer.assumed})
        return answer

    def _obey(self, command: Given) -> str | None:
        """The reply to a command, or None where the line is not that command after all."""
        handler: Callable[..., str | None] = getattr(self, "_on_" + command.name.replace("-", "_"))
        return handler(command.rest, command.lead) if command.name in _BY_LEAD else handler(command.rest)

    def notice(self, text: str) -> str:
        """A remark of the chat itself, laid out as replies are."""
        return self._put(text)

    def _put(self, *paragraphs: str) -> str:
        page = Spoken(self.look)
        for text in paragraphs:
            page.put(text)
        return str(page)

    # ---- leaving, help and the look ------------------------------------------------------------------

    def _on_quit(self, rest: str) -> str:
        self.leaving = True
        kept = self.notebook.path is not None
        if not kept and (self.notebook.order() or self.notebook.applied()):
            return self._put("Goodbye. The order and the log were not saved.")
        return self._put("Goodbye.")

    def _on_help(self, rest: str) -> str | None:
        topic = rest.strip("? ")
        if not topic:
            return helping.by_example(self.look)
        found = helping.on_topic(topic, self.look)
        if found is not None:
            return found
        # the reader knows a topic in more words than the knowledge base has titles; half of one read is none
        answer = self.conversation.say(f"what is {topic}?")
        in_words = answer.status == "answered" and answer.answer is not None and answer.answer.of == "explanation"
        if in_words and not answer.set_aside:
            return say(answer, self.look)
        # "help me fill a bed" is a request, and not a topic
        return helping.unknown_topic(topic, self.look) if len(topic.split()) <= 3 else None

    def _on_help_at_start(self, rest: str) -> str:
        return helping.by_example(self.look)

    def _on_commands(self, rest: str) -> str:
        return helping.commands(self.look)

    def _on_topics(self, rest: str) -> str:
        return helping.topics(self.look)

    def _on_working_always(self, rest: str) -> str:
        self.look = self.look._replace(working=True)
        return self._put("The working comes with every answer from now on.")

    def _on_working_on_demand(self, rest: str) -> str:
        self.look = self.look._replace(working=False)
        return self._put("The working comes when you ask “why?”.")

    def _on_pictures_on(self, rest: str) -> str:
        self.look, self.drawn = self.look._replace(pictures=True), None
        return self._put("Shares and layers are drawn from now on.")

    def _on_pictures_off(self, rest: str) -> str:
        self.look = self.look._replace(pictures=False)
        return self._put("Nothing is drawn from now on.")

    def _on_sentences_on(self, rest: str) -> str:
        self.look = self.look._replace(sentences=True)
        return self._put("Answers come in whole sentences from now on.")

    def _on_sentences_off(self, rest: str) -> str:
        self.look = self.look._replace(sentences=False)
        return self._put("Answers come in short lines from now on.")

    def _on_forget_history(self, rest: str) -> str:
        return self._put("No lines are kept here." if self.forget_history is None else self.forget_history())

    # ---- what is remembered --------------------------------------------------------------------------

    def names(self) -> list[str]:
        """The names of the places of this conversation and its notebook."""
        return list(self.notebook.places())

    def _keep_names(self) -> tuple[list[str], list[str]]:
        """Puts the names that the conversation knows into the notebook; those that are new, and those that mean another place now."""
        before = self.notebook.places()
        known = {name: reads for name, reads in self.conversation.memory().items() if name != _NOW}
        changed = [name for name, reads in known.items() if before.get(name) != reads]
        for name in changed:
            self.notebook.name_place(name, known[name])
        return [name for name in changed if name not in before], [name for name in changed if name in before]

    def _take_up(self) -> None:
        """Begins a conversation that knows the places of the notebook."""
        self.conversation = Conversation(names=_taught(self.notebook.places()), shop=self.shop)

    def _take_in(self) -> None:
        """Learns what another conversation has written into the same notebook since the last reply."""
        places = self.notebook.places()
        if places == self.places:
            return
        for name in self.places.keys() - places.keys():
            self.conversation.names.pop(name, None)
        self.conversation.names.update(_taught(dict(places.items() - self.places.items())))

    def _name_in(self, text: str) -> str:
        """The longest name of a place that stands in a text, or an empty string."""
        low = folded(text)
        for name in sorted(self.names(), key=len, reverse=True):
            if re.search(rf"\b{re.escape(name.lower())}\b", low):
                return name
        return ""

    def _still(self, answer: Answer) -> str:
        """The name of the place spoken of last, where this answer is still about it; else it has none yet."""
        reads = self.notebook.places().get(self.current, "")
        return self.current if _measured(reads) and _measured(reads) in answer.reads else ""

    def _on_remembered(self, rest: str) -> str:
        page = Spoken(self.look)
        places = self.notebook.places()
        for name, reads in places.items():
            page.put(f"{name}: {reads}", "", "  ")
        for name, value in self.notebook.settings().items():
            page.put(_setting(name, value))
        order, log = self.notebook.order(), self.notebook.applied()
        if order:
            page.put(f"On the order: {len(order)} {_lines(len(order))}.")
        if log:
            page.put(f"In the log: {len(log)} {'entry' if len(log) == 1 else 'entries'}, the last on {spoken_day(log[-1].day)}.")
        if self.shop is not None:
            page.put(f"Packs and prices are those of {self.shop.shop.name}.")
        if self.notebook.path is not None:
            page.put(f"Kept in {self.notebook.path}.")
        if not page.lines:
            page.put("Nothing yet. After an answer, “call it the long bed” gives the place a name.")
        return str(page)

    def _look_up(self) -> None:
        """Takes note of what is remembered, so that showing it needs no file."""
        self.places = self.notebook.places()
        parts = []
        if self.places:
            shown = list(self.places)[:_PLACES_SHOWN]
            more = len(self.places) - len(shown)
            parts.append("places: " + ", ".join(shown) + (f" and {more} more" if more else ""))
        settings = self.notebook.settings()
        parts += [many_of(settings[name]) if name == "unit" else settings[name] for name in ("density", "unit") if name in settings]
        if order := self.notebook.order():
            parts.append(f"order: {len(order)} {_lines(len(order))}")
        if self.shop is not None:
            parts.append(f"catalogue: {self.shop.shop.name}")
        if self.notebook.path is not None:
            parts.append(f"notebook: {self.notebook.path.name}")
        self.status = " | ".join(parts)

    def _on_forget_place(self, rest: str, lead: str = "") -> str | None:
        name = self._name_in(rest)
        only = re.sub(r"^(?:the|my|our) ", "", folded(rest))
        if not name or ("place" not in lead and only != name.lower()):
            return None  # "forget the peppers" takes them out of the request
        self.notebook.forget_place(name)
        self.conversation.names.pop(name, None)
        self.current = "" if self.current == name else self.current
        return self._put(f"{the(name)[:1].upper()}{the(name)[1:]} {is_or_are(name)} forgotten. What was noted of it in the log stays there.")

    def _on_rename(self, rest: str) -> str | None:
        name = self._name_in(rest)
        found = re.fullmatch(rf"(?:the |my |our )?{re.escape(name.lower())} (?:to|as|into) (?:the |my |our )?(.+)", folded(rest)) if name else None
        if found is None:
            return None
        new = found.group(1).strip("\"'“”‘’ ")[:40]
        if new != name and new in self.notebook.places():
            return self._put(f"There is a place called {new} already.")
        self.notebook.rename_place(name, new)
        self.conversation.names = {new if known == name else known: draft for known, draft in self.conversation.names.items()}
        self.current = new if self.current == name else self.current
        return self._put(f"{the(name)[:1].upper()}{the(name)[1:]} {is_or_are(name)} called {the(new)} from now on, in the log too.")

    def _on_set(self, rest: str) -> str | None:
        if not rest:
            return None
        draft = gather(f"castings weigh {rest}") if not re.search(r"weigh", rest) else gather(rest)
        if draft.density is not None:
            shown = span_text(draft.density)
            self.notebook.keep_settings({"density": shown})
            return self._put(f"From now on castings weigh {shown}, unless a request says otherwise.")
        unit = gather(rest).asked_unit or gather(f"in {rest}").asked_unit
        if unit:
            self.notebook.keep_settings({"unit": unit})
            return self._put(f"From now on volumes are given in {many_of(unit)}.")
        return None

    def _on_unset(self, rest: str) -> str:
        self.notebook.keep_settings({"density": "", "unit": ""})
        return self._put("Density and units are the usual ones again.")

    # ---- the order -----------------------------------------------------------------------------------

    def _on_order_add(self, rest: str) -> str:
        if question := self._still_open():
            return self._put(f"That is not worked out yet: {question}")
        line = order_line(self.last) if self.last is not None else None
        if line is None:
            return self._put("There is no amount to put on the order yet: ask for one first.")
        line = line.model_copy(update={"reads": self.words})
        self.notebook.add_to_order(line)
        order = self.notebook.order()
        return self._put(f"On the order: {line.reads}. That makes {len(order)} {_lines(len(order))}.")

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
            page.put(f"Without a price: {unpriced} {_lines(unpriced)}.")
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
            return self._put(f"Taken off the order: {old.reads}. That leaves {left} {_lines(left)}.")
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
        return self._put(f"The order is empty; {count} {_lines(count)} taken off." if count else "The order is empty.")

    # ---- the slip ------------------------------------------------------------------------------------

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

    # ---- the notebook file ---------------------------------------------------------------------------

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


def _taught(places: dict[str, str]) -> dict[str, Draft]:
    """Named places as a conversation knows them, as if each had just been named."""
    teller = Conversation()
    for name, reads in places.items():
        teller.say(reads)
        teller.say(f"call it {name}")
    return dict(teller.names)


def _setting(name: str, value: str) -> str:
    """A setting in words."""
    if name == "density":
        return f"Castings weigh {value}."
    if name == "unit":
        return f"Volumes are given in {many_of(value)}."
    month, day = (int(part) for part in value.split("-"))
    return f"Seasons are counted from {day} {MONTHS[month - 1]} on."


def _lines(count: int) -> str:
    return "line" if count == 1 else "lines"


def _sentence(text: str) -> str:
    if not re.match(r"\S*[./\\]\S", text):  # a file's name stays as it is written
        text = text[:1].upper() + text[1:]
    return text if text.endswith((".", "?", "!", "”")) else text + "."


def _measured(reads: str) -> str:
    """The part of a reading that says which place it is: the first with a figure in it, "bed 4 ft by 16 ft"."""
    return next((part for part in reads.split(", ") if re.search(r"\d", part)), "")


def _asks_why(line: str) -> bool:
    """Whether a line asks how an answer was come by and for nothing else: the vocabulary's words for that."""
    text = folded(line).rstrip("?").strip()
    key = tuple(text.split())
    meaning = vocabulary().single.get(text)
    if meaning is None and key:
        meaning = next((word for pieces, word in vocabulary().longer.get(key[0], []) if pieces == key), None)
    return isinstance(meaning, Word) and (meaning.kind, meaning.id) == ("ask", "why")
