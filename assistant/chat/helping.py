"""Help by example, and help on a topic out of the knowledge base."""

from __future__ import annotations

from difflib import get_close_matches

from grammar.words import Word, vocabulary

from ..knowledge import facts
from ..lines import Look, Page
from .commands import filled, folded, words


def greeting(look: Look) -> str:
    """What stands above the first prompt: what this is for, three examples, and how to get help."""
    page = Page(look)
    page.put("This works out how much worm castings a bed, a lawn, pots, plants or a mix need. Type what you have, for example:")
    for example in words().first:
        page.put(filled(example.says), "  ")
    page.put("“help” shows more, “quit” leaves.")
    return str(page)


def by_example(look: Look) -> str:
    """The general help: examples by kind, short enough for one screen, and where the rest is."""
    page = Page(look)
    for shown in words().shown:
        page.put(f"{shown.title}:")
        for says in shown.says:
            page.put(filled(says), "  ")
    page.put("“commands” lists what steers the chat: names, the order, the log, the notebook. “topics” lists what there is to read about.")
    return str(page)


def commands(look: Look) -> str:
    """Every command by an example, with what it is for."""
    page = Page(look)
    page.put("Steer the chat by typing:")
    for command in words().command.values():
        if command.example:
            page.put(f"“{command.example}”: {command.means}", "  ", "    ")
    return str(page)


def topics(look: Look) -> str:
    """The titles of all explanations, and the words to ask for them."""
    page = Page(look)
    page.put("Ask for one with “help” before it:")
    for topic, explanation in facts().explanations().items():
        page.put(f"{topic.replace('-', ' ')}: {explanation.title}", "  ", "    ")
    return str(page)


def on_topic(topic: str, look: Look) -> str | None:
    """What is known of a topic; None where nothing is."""
    page = Page(look)
    wanted = folded(topic).strip("?\"“”").removeprefix("the ").strip()
    known = [wanted.replace(" ", "-"), *_ids_of(wanted)]
    for id in known:
        term = facts().glossary().get(id)
        explanation = facts().explanation(id) or (facts().explanation(term.see) if term is not None and term.see else None)
        if term is None and explanation is None:
            continue
        if term is not None:
            page.put(f"{id.replace('-', ' ').capitalize()}: {_one_line(term.means)}", "", "  ")
        if explanation is not None:
            page.put(_one_line(explanation.text))
            page.put(f"This rests on: {facts().cite(explanation)}.")
            page.put(f"Try: {_one_line(explanation.next_step)}", "", "  ")
        return str(page)
    return None


def unknown_topic(topic: str, look: Look) -> str:
    """What to say where nothing is known of a topic: topics spelled nearly so, or the way to the list."""
    page = Page(look)
    wanted = folded(topic).strip("?").replace(" ", "-")
    near = get_close_matches(wanted, _topic_ids(), n=3, cutoff=0.75)
    if near:
        page.put(f"Nothing is written on “{topic}”. Perhaps: " + ", ".join(f"“help {id.replace('-', ' ')}”" for id in near) + ".")
    else:
        page.put(f"Nothing is written on “{topic}”. “topics” lists what there is; “help” alone shows examples.")
    return str(page)


def _topic_ids() -> list[str]:
    return sorted({*facts().explanations(), *facts().glossary()})


def topic_words() -> list[tuple[str, str]]:
    """Every topic that help knows as it is typed, with its title or meaning."""
    found = {id.replace("-", " "): _one_line(term.means) for id, term in facts().glossary().items()}
    found |= {id.replace("-", " "): explanation.title for id, explanation in facts().explanations().items()}
    return sorted(found.items())


def _ids_of(text: str) -> list[str]:
    """The names of the vocabulary's words with this spelling: "sidedress" is side-dress."""
    key = tuple(text.replace("-", " ").split())
    meaning = vocabulary().single.get(text) or (vocabulary().single.get(key[0]) if len(key) == 1 else None)
    if meaning is None and key:
        meaning = next((word for pieces, word in vocabulary().longer.get(key[0], []) if pieces == key), None)
    if isinstance(meaning, Word):
        return [meaning.id]
    return [word.id for word, _, _ in meaning.rules] if meaning is not None else []


def _one_line(text: str) -> str:
    return " ".join(text.split())
