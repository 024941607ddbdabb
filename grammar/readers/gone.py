"""Plants, pots and beds of so many that get nothing any more: "8 roses, 3 died", "3 beds but one is fallow"."""

from __future__ import annotations

from ..draft import Draft
from ..phrases import Amount, Number, Phrase, Said
from ..said import is_said, single
from ..things import ask, is_ground_size, stands_inside, text_of, whole

_DONE = ("already done", "did already", "already did")


def counted(phrases: list[Phrase], without: range) -> list[int]:
    """Where the numbers stand that count plants, pots or beds."""
    found = []
    for at, phrase in enumerate(phrases):
        if at in without or whole(phrase) < 2:
            continue
        here = at + 1
        while here < len(phrases) and (is_said(phrases[here], "hint") or is_said(phrases[here], "form") or type(phrases[here]) is Amount) and here < at + 4:
            here += 1
        noun = phrases[here] if here < len(phrases) else None
        if type(noun) is Said and noun.kind in ("plant", "container", "ground", "hole") and not stands_inside(noun):
            found.append(at)
    return found


def _state(phrase: Phrase | None) -> bool:
    """Whether a phrase says that something gets no castings any more: "died", "is fallow", "already done"."""
    if is_said(phrase, "by-so-much", "gone"):
        return True
    return is_said(phrase, "other-time") and phrase.text.lower() in _DONE  # type: ignore[union-attr]


def gone(phrases: list[Phrase], draft: Draft) -> list[Phrase]:
    """ "8 roses, 3 died", "3 of my 10 tomatoes died", "3 beds but one is fallow": what is gone is taken off the number."""
    for at, phrase in enumerate(phrases):
        number = single(phrase)
        few = whole(phrase)
        if not few or type(number) is not Number:
            continue
        before = phrases[at - 1] if at else None
        # "lost 3 of my 10 tomatoes", "3 of my 10 tomatoes died"
        of = at + 2 < len(phrases) and is_said(phrases[at + 1], "link", "of") and whole(phrases[at + 2]) > few
        end = at + 3 if of else at + 1
        if of:
            while end < len(phrases) and (is_said(phrases[end], "hint") or is_said(phrases[end], "plant") or is_said(phrases[end], "ground") or
                                          is_said(phrases[end], "container") or is_ground_size(phrases[end])):  # fmt: skip
                end += 1
        nouns_end = end
        while end < len(phrases) and (is_said(phrases[end], "link", "is", "count-word", "on-hand", "of") or is_said(phrases[end], "is")):
            end += 1
        after = phrases[end] if end < len(phrases) else None
        lost = of and is_said(before, "by-so-much", "gone")
        state = _state(after)
        then = phrases[end + 1] if end + 1 < len(phrases) else None
        if state and type(then) is Said and then.kind in ("plant", "container", "ground"):
            continue  # "2 dead roses" beside other plants
        told = before if not is_said(before, "link", "for") else phrases[at - 2] if at > 1 else None
        if not of and end == at + 1 and is_said(told, "deny", "without", "skip", "all-but") and (after is None or is_said(after, "stop")):
            totals = counted(phrases, range(at, end))
            if len(totals) == 1 and totals[0] < at and whole(phrases[totals[0]]) > few:
                total, one = whole(phrases[totals[0]]), single(phrases[totals[0]])
                assert type(one) is Number
                left = Amount((one._replace(low=total - few, high=total - few),), one.start, one.end)
                draft.flags.append(("left-out", f"{few:g} of {total:g} left out: {total - few:g}"))
                first = at - 1 if told is before else at - 2
                return [left if i == totals[0] else p for i, p in enumerate(phrases) if not first <= i <= at]
        if not (lost or state):
            continue
        if of:
            used = {at, at + 1} | (set(range(nouns_end, end + 1)) if state and not lost else set()) | ({at - 1} if lost else set())
            total_at = at + 2
        else:
            totals = counted(phrases, range(at, end + 1))
            used = set(range(at, end + 1))
            if len(totals) != 1:
                continue
            total_at = totals[0]
            if is_said(before, "link", "but", "and", "with") or is_said(before, "stop", "comma"):
                used.add(at - 1)
        total = whole(phrases[total_at])
        said = text_of(draft, phrases, at, max(end + 1 if state else end, at + 1))
        if not of and is_said(before, "link", "and") and is_said(after, "other-time"):
            ask(draft, f"“{said}”: are they among the {total:g}? Say how many are to get castings")
            return phrases
        if few >= total:
            ask(draft, f"“{said}” of {total:g}: how many are left to get castings?")
            return phrases
        if not of:
            draft.gone = (total, few)
        one = single(phrases[total_at])
        assert type(one) is Number
        left = Amount((one._replace(low=total - few, high=total - few),), one.start, one.end)
        draft.flags.append(("left-out", f"“{said}”: {total - few:g} of {total:g} are left"))
        return [left if i == total_at else p for i, p in enumerate(phrases) if i not in used]
    return phrases
