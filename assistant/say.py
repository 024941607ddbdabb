"""The text forms of an answer, made from the answer and from nothing else.

The order is always the same: a warning if there is one, the figure, what goes with it, how the request was
read, what was assumed, a picture, the working on demand, and advice. One look gives lines with short labels,
the other whole sentences for a screen reader.

No line begins with "> ", "# " or nothing at all: those belong to the form of conversation files (`replay`).
"""

from __future__ import annotations

import re
import sys

from grammar.quantities import factor, unit
from grammar.words import spoken

from . import pictures
from .aloud import aloud
from .answer import KILOGRAMS_ONLY, Advice, Answer, Asked, Pair
from .knowledge import facts
from .lines import Look, Page, Style, clean, columns, look_for
from .units import SYMBOL, printed

_INDENT = "  "
_BAR = "!! "
#: What an answer gives is not repeated as "castings in all".
_WITH_CASTINGS = ("cost", "packs", "weight", "containers", "beds")


class Spoken(Page):
    """A page of remarks: in whole sentences its signs and marks are written out as words."""

    def put(self, text: str, first: str = "", rest: str | None = None, style: Style = "") -> None:
        super().put(_voice(text, self), first, rest, style)


def say(answer: Answer, look: Look | None = None) -> str:
    """An answer as text without a final line end; by default in the look that suits standard output."""
    look = look_for(sys.stdout) if look is None else look
    page = Page(look)
    if answer.status != "answered":
        _question(answer, page)
    elif answer.answer is not None and answer.answer.of == "explanation":
        _explanation(answer, page)
    else:
        _worked(answer, page)
    return str(page)


# ---- the three kinds of answer -------------------------------------------------------------------------


def _worked(answer: Answer, page: Page) -> None:
    warnings = [advice for advice in answer.advice if advice.level == "warning"]
    for advice in warnings:
        _warning(advice, page)
    _figure(answer, page)
    _in_all(answer, page)
    _parts(answer, page)
    _components(answer, page)
    _table(answer, page)
    _purchase(answer, page)
    _reading(answer, page)
    _assumed(answer, page)
    _pictures(answer, page)
    if page.look.working:
        working(answer, page)
    for advice in answer.advice:
        if advice.level != "warning":
            _advice(advice, page)


def _explanation(answer: Answer, page: Page) -> None:
    """The explanation and what it rests on, the cautions that belong to it, and last the next step."""
    for advice in sorted(answer.advice, key=lambda one: one.code == "next-step"):
        if advice.code.startswith(("explanation-", "term-")):
            page.put(_voice(_sentence(advice.text), page))
            page.put(f"This rests on: {advice.source}.")
        elif advice.level == "warning":
            _warning(advice, page)
        elif advice.code == "next-step":
            page.put(_voice(_sentence(advice.text), page))
        else:
            _advice(advice, page)
    _labelled("Read as", answer.reads, page)
    _assumed(answer, page)
    _aside(answer, page)


def _question(answer: Answer, page: Page) -> None:
    question = answer.question or "That cannot be worked out. Say what the castings are for, and how big it is."
    page.put(_voice(_sentence(_QUOTED.sub(lambda found: f"“{_shortened(found.group(1))}”", question)), page), style="figure")
    if answer.reads:
        _labelled("Read so far", answer.reads, page)
    if answer.offers:
        _labelled("You could say", " or ".join(f"“{offer}”" for offer in answer.offers), page)
    _aside(answer, page)


# ---- the parts of a worked answer ----------------------------------------------------------------------


def _figure(answer: Answer, page: Page) -> None:
    figure = answer.figure or _bare_figure(answer)
    if page.look.sentences:
        beside = f", which is {answer.beside}" if answer.beside else ""
        whole = figure[:1].isupper()  # a sentence already: "Not yet: from 26 May 2026 on"
        page.put(_voice(f"{figure}{beside}." if whole else f"The answer is {figure}{beside}.", page))
        return
    page.put(f"{figure} ({answer.beside})" if answer.beside else figure, style="figure")


def _bare_figure(answer: Answer) -> str:
    """The figure of a record that came without its text for people, in the record's own unit."""
    asked = answer.answer
    if not isinstance(asked, Asked):
        return "worked out"
    if asked.of == "share":
        return f"{printed(asked.low * 100, asked.high * 100, 'percent')} castings"
    return f"{printed(asked.low, asked.high, '')} {asked.unit or asked.of}".replace("  ", " ")


def _in_all(answer: Answer, page: Page) -> None:
    asked = answer.answer
    if asked is None or answer.castings is None or asked.of not in _WITH_CASTINGS:
        return
    if asked.of == "weight" and answer.way is None:
        return  # a weight turned into a volume or back: the reading says it already
    _labelled("Castings in all", _volume(answer.castings.litres, answer), page)


def _parts(answer: Answer, page: Page) -> None:
    if not answer.parts:
        return
    rows = [(part.reads, "" if part.castings is None else _volume(part.castings.litres, answer)) for part in answer.parts]
    if page.look.sentences:
        for reads, amount in rows:
            page.put(_voice(f"Of this, for {reads}: {amount or 'nothing'}.", page))
        return
    page.put("Of this:")
    for reads, amount in rows:
        page.put(f"{reads}: {amount}", f"{_INDENT}- ")


def _components(answer: Answer, page: Page) -> None:
    if not answer.components:
        return
    rows = [(part.name.replace("-", " "), _volume(part.litres, answer)) for part in answer.components]
    if page.look.sentences:
        page.put(_voice("The parts are: " + "; ".join(f"{name}, {amount}" for name, amount in rows) + ".", page))
        return
    page.put("Parts of it:")
    for name, amount in rows:
        page.put(f"{name}: {amount}", f"{_INDENT}- ")


def _table(answer: Answer, page: Page) -> None:
    """Rows side by side, each column as wide as its widest cell; a sentence a row for a screen reader."""
    if len(answer.table) < 2:
        return
    heads, *rows = answer.table
    if page.look.sentences:
        for row in rows:
            told = [f"{head} {cell}".strip() for head, cell in zip(heads, row, strict=True) if cell]
            page.put(_voice(f"Side by side: {', '.join(told)}.", page))
        return
    wide = [max(columns(row[at]) for row in answer.table) for at in range(len(heads))]
    if len(_INDENT) + sum(wide) + 2 * (len(wide) - 1) > page.look.measure:
        for row in rows:  # no room side by side: each under its own heads
            page.put("; ".join(f"{head}: {cell}" for head, cell in zip(heads, row, strict=True) if cell), f"{_INDENT}- ")
        return
    for row in answer.table:
        cells = [cell + " " * (size - columns(cell)) for cell, size in zip(row, wide, strict=True)]
        page.rows([_INDENT + "  ".join(cells)])


def _purchase(answer: Answer, page: Page) -> None:
    asked = answer.answer.of if answer.answer else ""
    if answer.packs and asked != "packs":
        packs = "; ".join(f"{pack.count} of {pack.name}" for pack in answer.packs)
        _labelled("To buy", packs, page)
    elif len(answer.packs) > 1:
        _labelled("To buy", "; ".join(f"{pack.count} of {pack.name}" for pack in answer.packs), page)
    if answer.cost is not None and asked != "cost":
        _labelled("Cost", f"{answer.cost.amount} {answer.cost.currency}", page)


def _reading(answer: Answer, page: Page) -> None:
    if answer.reads:
        _labelled("Read as", answer.reads, page)
    _aside(answer, page)


def _aside(answer: Answer, page: Page) -> None:
    if answer.set_aside:
        _labelled("Not used", ", ".join(f"“{_shortened(words)}”" for words in answer.set_aside), page)


def _assumed(answer: Answer, page: Page) -> None:
    brief = page.look.brief and not page.look.working
    for note in answer.assumed:
        if note.code == KILOGRAMS_ONLY and not page.look.working:
            continue  # no weight is said
        _labelled("Assumed", facts().brief(note.text) if brief else note.text, page)


def _pictures(answer: Answer, page: Page) -> None:
    if not page.look.pictures:
        return
    look = page.look
    if answer.share is not None:
        page.rows(_voiced(pictures.share_scale(answer.share, look), look))
    elif answer.layer_mm is not None and answer.way == "top-dress":
        page.rows(_voiced(pictures.layer_ruler(answer.layer_mm, look, ground=_ground(answer)), look))


def _voiced(rows: list[str], look: Look) -> list[str]:
    if not look.sentences:
        return rows
    page = Page(look)
    page.put(aloud(" ".join(rows)))
    return page.lines


def _ground(answer: Answer) -> pictures.Ground:
    """What the layer lies on, where that has a usual layer of its own: the reading says so, whatever cautions are given."""
    if re.search(rf"\b{re.escape(spoken('ground', 'lawn'))}s?\b", answer.reads):
        return "lawn"
    return "houseplant" if re.search(rf"\b{re.escape(spoken('plant', 'houseplant'))}s?\b", answer.reads) else "bed"


def working(answer: Answer, page: Page) -> None:
    """Every step: its formula, the figures put in, what it gives, the rule's name and on what the rule rests."""
    if not answer.working:
        page.put("There is no working to show.")
        return
    if not page.look.sentences:
        page.put("Working:")
    for number, step in enumerate(answer.working, 1):
        if page.look.sentences:
            put_in = f"With {step.with_}, it gives" if step.with_ else "It gives"
            text = f"Step {number}, by the rule {step.rule}: {step.formula}. {put_in} {step.gives}. Source: {step.source}."
            page.put(_voice(text, page))
            continue
        page.put(f"{step.rule}: {step.formula}", f"{_INDENT}{number}. ", _INDENT + " " * (len(str(number)) + 2))
        page.put(f"{step.with_} → {step.gives}" if step.with_ else f"→ {step.gives}", _INDENT * 3)
        page.put(f"({step.source})", _INDENT * 3, _INDENT * 3 + " ")


def _warning(advice: Advice, page: Page) -> None:
    text = _sentence(advice.text)
    if page.look.sentences:
        source = f" Source: {_sentence(advice.source)}" if page.look.working else ""
        page.put(_voice(f"Warning! {text}{source}", page))
        return
    page.put("WARNING", _BAR, style="warning")
    page.put(text, _BAR, _BAR, style="warning")
    if page.look.working:
        page.put(f"({advice.source})", _BAR, _BAR)


def _advice(advice: Advice, page: Page) -> None:
    label = "Caution" if advice.level == "caution" else "Note"
    text = _sentence(advice.text)
    if page.look.working:
        text += f" ({advice.source})"
    _labelled(label, text, page)


# ---- small helps ---------------------------------------------------------------------------------------


def _labelled(label: str, text: str, page: Page) -> None:
    if page.look.sentences:
        page.put(_voice(f"{label}: {_sentence(text)}", page))
    else:
        page.put(f"{label}: {text}", "", _INDENT)


def _voice(text: str, page: Page) -> str:
    return aloud(text) if page.look.sentences else text


def _sentence(text: str) -> str:
    """A text with a full stop or what stands for one."""
    text = " ".join(text.split())
    return text if not text or text[-1] in ".?!" or text.endswith((".”", "?”", ".)")) else text + "."


#: Letters of a word that are printed when it is quoted.
_LONGEST_QUOTED = 60
_QUOTED = re.compile(rf"“([^“”]{{{_LONGEST_QUOTED + 1},}})”")


def _shortened(words: str) -> str:
    return words if len(words) <= _LONGEST_QUOTED else words[: _LONGEST_QUOTED - 1].rstrip() + "…"


_VOLUME_MARKS = {mark: name for name, mark in SYMBOL.items() if mark and unit(name).dimension == "volume"}
_EITHER_MARK = "|".join(re.escape(mark) for mark in sorted(_VOLUME_MARKS, key=len, reverse=True))
_VOLUME = re.compile(rf"^(?:castings )?[\d.,]+(?: to [\d.,]+)? ({_EITHER_MARK})s?\b")


def own_volume_unit(answer: Answer) -> str:
    """The unit of volume that this answer speaks in: that of its figure or, failing that, of its working; litres else."""
    for text in (answer.figure, *(step.gives for step in reversed(answer.working))):
        found = _VOLUME.search(text)
        if found:
            return _VOLUME_MARKS[found.group(1)]
    return "litre"


def _volume(litres: Pair, answer: Answer) -> str:
    name = own_volume_unit(answer)
    if name == "litre":
        return printed(*litres, "litre")
    size = factor(name) / factor("litre")
    return f"{printed(litres[0] / size, litres[1] / size, name)} ({printed(*litres, 'litre')})"


__all__ = ["Spoken", "clean", "own_volume_unit", "say", "working"]
