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

from grammar.gather import gather
from grammar.reads import span as span_text
from grammar.words import Word, spoken, vocabulary

from ..answer import Answer, Assumed
from ..conversation import Conversation
from ..lines import Look, Page
from ..notebook import Application, Notebook, NotebookError, OrderLine, application, order_line
from ..orders import steered
from ..say import own_volume_unit, say
from ..season import judge_again, spoken_day
from ..units import printed, symbol
from . import helping
from .commands import Given, folded, given
from .days import Clock, UnclearDay, find_day

if TYPE_CHECKING:
    from ..shop import Catalogue
    from ..slips import Slip

_NOW = "now"  # the entry of the conversation's memory that is no place
_AGAIN = re.compile(r"\b(again|once more|another time|a second time|yet|already)\b")
_IT = re.compile(r"^(?:it|that|this|there)?(?: (?:was|is|were|last|done|be))*$")
_FILLER = re.compile(
    r"\b(?:the|my|our|to|at|on|for|of|with|and|was|were|is|last|done|did|get|got|it|that|this|a|an|as|in|again|time|we|i|down)\b"
)


class Talk:
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
        try:
            reply = self._reply(line)
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
            return say(self.judged, self.look._replace(working=True))
        before = self.last
        answer = self.conversation.say(line)
        if not why:
            answer = self._as_set(answer, line)
        names = self._keep_names()
        if answer.status == "answered":
            self.last = answer
            self.current = self._name_in(line) or (names[-1] if names else self._still(answer))
        if names and before is not None and answer.reads == before.reads:
            return self._put(f"Remembered: {names[-1]} is {answer.reads}.")
        text = say(answer, self.look._replace(working=True) if why else self.look)
        if names:
            text += "\n" + self._put(f"Remembered as: {', '.join(names)}.")
        return text

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
        if command.name == "applied":
            return self._on_applied(command.rest, command.lead)
        handler: Callable[[str], str | None] = getattr(self, "_on_" + command.name.replace("-", "_"))
        return handler(command.rest)

    def notice(self, text: str) -> str:
        """A remark of the chat itself, laid out as replies are."""
        return self._put(text)

    def _put(self, *paragraphs: str) -> str:
        page = Page(self.look)
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

    def _on_topics(self, rest: str) -> str:
        return helping.topics(self.look)

    def _on_working_always(self, rest: str) -> str:
        self.look = self.look._replace(working=True)
        return self._put("The working comes with every answer from now on.")

    def _on_working_on_demand(self, rest: str) -> str:
        self.look = self.look._replace(working=False)
        return self._put("The working comes when you ask “why?”.")

    def _on_pictures_on(self, rest: str) -> str:
        self.look = self.look._replace(pictures=True)
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

    def _keep_names(self) -> list[str]:
        """Puts the names that the conversation knows into the notebook; those that are new, in the order of the conversation."""
        before = self.notebook.places()
        known = {name: reads for name, reads in self.conversation.memory().items() if name != _NOW}
        for name, reads in known.items():
            if before.get(name) != reads:
                self.notebook.name_place(name, reads)
        return [name for name in known if name not in before]

    def _take_up(self) -> None:
        """Tells the conversation the places of the notebook, as if each had just been named."""
        teller = Conversation()
        for name, reads in self.notebook.places().items():
            teller.say(reads)
            teller.say(f"call it {name}")
        self.conversation = Conversation(names=dict(teller.names), shop=self.shop)

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
        page = Page(self.look)
        places = self.notebook.places()
        for name, reads in places.items():
            page.put(f"{name}: {reads}", "", "  ")
        for name, value in self.notebook.settings().items():
            page.put(f"{_SETTINGS.get(name, name)}: {value}", "", "  ")
        order, log = self.notebook.order(), self.notebook.applied()
        if order:
            page.put(f"On the order: {len(order)} {_lines(len(order))}.")
        if log:
            page.put(f"In the log: {len(log)} {'entry' if len(log) == 1 else 'entries'}, the last on {spoken_day(log[-1].day)}.")
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
            parts.append("places: " + ", ".join(self.places))
        settings = self.notebook.settings()
        parts += [settings[name] for name in ("density", "unit") if name in settings]
        if order := self.notebook.order():
            parts.append(f"order: {len(order)} {_lines(len(order))}")
        if self.notebook.path is not None:
            parts.append(f"notebook: {self.notebook.path.name}")
        self.status = " | ".join(parts)

    def _on_forget_place(self, rest: str) -> str | None:
        name = self._name_in(rest)
        if not name:
            return None
        self.notebook.forget_place(name)
        self.conversation.names.pop(name, None)
        return self._put(f"“{name}” is forgotten. What was noted of it in the log stays there.")

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
            return self._put(f"From now on volumes are given in {symbol(unit)}.")
        return None

    def _on_unset(self, rest: str) -> str:
        self.notebook.keep_settings({"density": "", "unit": ""})
        return self._put("Density and units are the usual ones again.")

    # ---- the order -----------------------------------------------------------------------------------

    def _on_order_add(self, rest: str) -> str:
        line = order_line(self.last) if self.last is not None else None
        if line is None:
            return self._put("There is no amount to put on the order yet: ask for one first.")
        self.notebook.add_to_order(line)
        order = self.notebook.order()
        return self._put(f"On the order: {line.reads}. That makes {len(order)} {_lines(len(order))}.")

    def _on_order_show(self, rest: str) -> str:
        order = self.notebook.order()
        if not order:
            return self._put("Nothing is on the order. After an answer, “add it to the order” puts it there.")
        page = Page(self.look)
        money: dict[str, Decimal] = {}
        for number, line in enumerate(order, 1):
            text = f"{line.reads}: {printed(*line.litres, 'litre')} ({printed(*_cubic_feet(line.litres), 'cubic_foot')})"
            if line.packs:
                text += "; " + ", ".join(f"{pack.count} of {pack.name}" for pack in line.packs)
            if line.cost is not None:
                text += f"; {line.cost.amount} {line.cost.currency}"
                money[line.cost.currency] = money.get(line.cost.currency, Decimal(0)) + Decimal(line.cost.amount)
            page.put(text, f"{number}. ", "   ")
        litres = (sum(line.litres[0] for line in order), sum(line.litres[1] for line in order))
        total = f"In all: {printed(*litres, 'litre')} ({printed(*_cubic_feet(litres), 'cubic_foot')}) of castings"
        for currency, amount in money.items():
            total += f", {amount:.2f} {currency}"
        page.put(f"{total}.")
        unpriced = sum(1 for line in order if line.cost is None)
        if money and unpriced:
            page.put(f"Without a price: {unpriced} {_lines(unpriced)}.")
        page.put(self._at_once(order))
        return str(page)

    def _at_once(self, order: list[OrderLine]) -> str:
        """What the whole order comes to when it is bought at once, where lines are bought from a catalogue."""
        packs = [pack for line in order for pack in line.packs]
        if len(order) < 2 or any(pack.id == "stated" for pack in packs) or (self.shop is None and not packs):
            return ""
        from ..orders import at_once

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

    # ---- the log and the season ----------------------------------------------------------------------

    def _on_applied(self, rest: str, lead: str = "") -> str | None:
        day, said = find_day(rest, self.clock)
        name = self._name_in(said)
        left = _FILLER.sub(" ", folded(re.sub(re.escape(name), " ", folded(said)) if name else said)).strip()
        if not name and left and _name_word(left) is None:
            return None  # "I did 3 beds of 4 by 8 ft, how much was that?" is a request
        way = gather(lead).way if lead else ""
        if name and (way or re.search(r"\d|\b(?:inch|inches|half|quarter|cup|cups|litre|litres)\b", left)):
            amount = re.sub(r"^(?:with|at)\b", "", said.strip())
            answer = self.conversation.say(f"{way} {amount}".strip())
            self._keep_names()
            if answer.status != "answered":
                return say(answer, self.look)
            self.last = answer
        elif name and name.lower() != self.current.lower():
            answer = self.conversation.say(name)
            if answer.status != "answered":
                return say(answer, self.look)
            self.last = answer
        if way and self.last is not None and self.last.way != way:
            return self._put(f"How much was it? Ask for the amount first: {name or 'the place'} was not read as {way} before.")
        if self.last is None or order_line(self.last) is None:
            return self._put("What was put down? Ask for the amount first, then say “log it on 12 May 2026”.")
        name = name or self.current
        if not name:
            return self._put("Where? Give the place a name first, as “call it the long bed”.")
        if day is None:
            if self.clock is None:
                raise UnclearDay("On which day? Say it as “log it on 12 May 2026”.")
            day = self.clock()
        if self.clock is not None and day > self.clock():
            raise UnclearDay(f"{spoken_day(day)} is still to come; the log holds what was done")
        entry = application(self.last, name, day)
        assert entry is not None
        self.notebook.log(entry)
        self.current = name
        return self._put(f"Noted: {name}, {spoken_day(day)}, {self._amount(entry)} of castings ({entry.reads}).")

    def _amount(self, entry: Application) -> str:
        name = own_volume_unit(self.last) if self.last is not None else "litre"
        if name == "litre":
            return printed(*entry.litres, "litre")
        return f"{printed(*_cubic_feet(entry.litres), 'cubic_foot')} ({printed(*entry.litres, 'litre')})"

    def _on_strike(self, rest: str) -> str:
        entry = self.notebook.strike_last()
        if entry is None:
            return self._put("The log is empty.")
        return self._put(f"Struck out: {entry.place}, {spoken_day(entry.day)} ({entry.reads}).")

    def _on_log(self, rest: str) -> str | None:
        name = self._name_in(rest)
        left = _FILLER.sub(" ", folded(rest.replace("?", ""))).strip()
        if left and not name:
            return None
        entries = self.notebook.applied(name or None)
        if not entries:
            of_it = f" of {name}" if name else ""
            return self._put(f"Nothing is noted{of_it} yet. After an answer, “log it” notes that it was done.")
        page = Page(self.look)
        for entry in entries:
            page.put(f"{spoken_day(entry.day)}, {entry.place}: {printed(*entry.litres, 'litre')} "
                     f"({printed(*_cubic_feet(entry.litres), 'cubic_foot')}); {entry.reads}", "", "  ")  # fmt: skip
        return str(page)

    def _on_last_time(self, rest: str) -> str | None:
        name = self._name_in(rest) or (self.current if _IT.match(folded(rest.replace("?", ""))) else "")
        if not name:
            return None
        entries = self.notebook.applied(name)
        if not entries:
            return self._put(f"Nothing is noted of {name} yet.")
        last = entries[-1]
        ago = ""
        if self.clock is not None:
            days = (self.clock() - last.day).days
            ago = f", {days} {'day' if days == 1 else 'days'} ago" if days else ", today"
        self.current = name
        return self._put(f"{spoken_day(last.day)}{ago}: {printed(*last.litres, 'litre')} "
                         f"({printed(*_cubic_feet(last.litres), 'cubic_foot')}) on {name}; {last.reads}.")  # fmt: skip

    def _on_again(self, rest: str) -> str | None:
        if not _AGAIN.search(folded(rest)):
            return None
        day, said = find_day(rest, self.clock)
        name = self._name_in(said) or (self.current if re.search(r"\b(?:it|that|there)\b", folded(said)) else "")
        if not name:
            return None
        before = self.notebook.applied(name)
        if not before:
            return self._put(f"Nothing is noted of {name} yet, so nothing speaks against it. “log it” notes what was done.")
        if day is None:
            if self.clock is None:
                raise UnclearDay(f"For which day? Say it as “can I do {name} again on 12 May 2026?”.")
            day = self.clock()
        way = gather(said).way
        like = next((one for one in reversed(before) if not way or one.way == way), before[-1])
        planned = self._planned(name, like, way, day)
        answer = judge_again(f"{name} again", planned, before, self._season_start(day), request=rest,
                             volume_unit="litre" if self._metric(like) else "cubic_foot")  # fmt: skip
        self.current, self.judged = name, answer
        return say(answer, self.look._replace(pictures=self.look.pictures and answer.share is not None))

    def _planned(self, name: str, like: Application, way: str, day: date) -> Application:
        """What "again" means: the last of its kind once more or, where another way is asked for, the place as it was read."""
        if not way or like.way == way:
            return like.model_copy(update={"day": day})
        answer = Conversation().say(f"{way}, {self.notebook.places().get(name, '')}")
        planned = application(answer, name, day)
        if planned is None or planned.way != way:
            raise UnclearDay(f"nothing of that kind is noted of {name}: ask for the amount first, then whether it may follow")
        return planned

    @staticmethod
    def _metric(like: Application) -> bool:
        return re.search(r"\b(?:metre|centimetre|millimetre|litre|mm|cm|m|kg)\b", like.reads) is not None

    def _season_start(self, day: date) -> date:
        """The last beginning of a season on or before a day: 1 January unless another day was set."""
        set_on = self.notebook.settings().get("season", "01-01")
        month, day_of_month = (int(part) for part in set_on.split("-"))
        start = date(day.year, month, day_of_month)
        return start if start <= day else date(day.year - 1, month, day_of_month)

    def _on_season(self, rest: str) -> str | None:
        # the year is of no account: any that has the day will do
        day, left = find_day(f"{rest} 2023" if not re.search(r"\d{4}", rest) else rest, self.clock)
        if day is None or _FILLER.sub(" ", folded(left)).strip():
            return None
        self.notebook.keep_settings({"season": f"{day.month:02}-{day.day:02}"})
        return self._put(f"Seasons are counted from {spoken_day(day).rsplit(' ', 1)[0]} on.")


_SETTINGS = {"density": "Density of castings", "unit": "Volumes in", "season": "Season starts (month-day)"}


def _cubic_feet(litres: tuple[float, float]) -> tuple[float, float]:
    from grammar.quantities import factor

    size = factor("cubic_foot") / factor("litre")
    return litres[0] / size, litres[1] / size


def _lines(count: int) -> str:
    return "line" if count == 1 else "lines"


def _sentence(text: str) -> str:
    text = text[:1].upper() + text[1:]
    return text if text.endswith((".", "?", "!", "”")) else text + "."


def _measured(reads: str) -> str:
    """The part of a reading that says which place it is: the first with a figure in it, "bed 4 ft by 16 ft"."""
    return next((part for part in reads.split(", ") if re.search(r"\d", part)), "")


def _name_word(text: str) -> str | None:
    """The text when it says no more than "it", else None."""
    return text if text in ("", "it", "that", "this") else None


def _asks_why(line: str) -> bool:
    """Whether a line asks how an answer was come by and for nothing else: the vocabulary's words for that."""
    text = folded(line).rstrip("?").strip()
    key = tuple(text.split())
    meaning = vocabulary().single.get(text)
    if meaning is None and key:
        meaning = next((word for pieces, word in vocabulary().longer.get(key[0], []) if pieces == key), None)
    return isinstance(meaning, Word) and (meaning.kind, meaning.id) == ("ask", "why")
