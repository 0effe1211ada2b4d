"""What is said of the verdicts in sentences: on the sheets, and at the command line."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator

from onedatum.foundation.units import in_print
from onedatum.study.choosing import Choosing
from onedatum.study.result import Study
from onedatum.verdicts import Verdict
from onedatum.verdicts.rules import Judgement, Place, PrincipleVerdict
from onedatum.verdicts.rules.words import flip_words, principle_title, rule_title, spelled

PLURAL = {
    Verdict.SUITS: "suit",
    Verdict.ON_CONDITIONS: "suit on conditions",
    Verdict.UNDECIDED: "are undecided",
    Verdict.DOES_NOT_SUIT: "do not suit",
}
SINGULAR = PLURAL | {
    Verdict.SUITS: "suits",
    Verdict.ON_CONDITIONS: "suits on conditions",
    Verdict.UNDECIDED: "is undecided",
    Verdict.DOES_NOT_SUIT: "does not suit",
}
NOT_CHOSEN = "No principle is chosen yet: state one in the case to see whether it can be ordered."
WAITS = "The order waits for answers: nothing is released before they are in."
NO_FLIP = "More than three things would have to change."


def capital(text: str) -> str:
    """With a capital to begin with."""
    return text[:1].upper() + text[1:]


def of_stated(choosing: Choosing) -> str:
    """The verdict on the principle of the case as a sentence; that none is stated, where none is."""
    verdict = choosing.of_stated
    if verdict is None:
        return "No principle is stated."
    return f"{capital(principle_title(verdict.principle))}: {verdict.verdict.value}."


def counted(choosing: Choosing) -> str:
    """How many principles have each verdict, as a sentence."""
    counts = Counter(verdict.verdict for verdict in choosing.verdicts.values())
    told = [f"{counts[word]} {(SINGULAR if counts[word] == 1 else PLURAL)[word]}" for word in Verdict if counts[word]]
    return f"Of {len(choosing.verdicts)} principles {', '.join(told)}."


def state_words(choosing: Choosing, state: str) -> str:
    """The state that is worst; nothing where there is only one."""
    return state if len(choosing.matrix.states) > 1 else ""


def reasons(verdict: PrincipleVerdict) -> tuple[Judgement, ...]:
    """What decides; of an undecided principle also the conditions that hold already."""
    more = verdict.conditions if verdict.verdict is Verdict.UNDECIDED else ()
    return tuple(dict.fromkeys((*verdict.deciding, *more)))


def left_words(verdict: PrincipleVerdict) -> str:
    """How much is left: conditions, questions, requirements."""
    counts = (
        (len(verdict.conditions), "condition"),
        (len(verdict.questions), "open question"),
        (len(list(requirement_lines(verdict))), "requirement of the order"),
    )
    told = [f"{count} {_plural(word) if count != 1 else word}" for count, word in counts if count]
    return ", ".join(told) or "nothing left"


def _plural(word: str) -> str:
    first, *rest = word.split(" of ", 1)
    return " of ".join([f"{first}s", *rest])


def requirement_lines(verdict: PrincipleVerdict) -> Iterator[str]:
    """What the order must keep to, each once, with the conditions that ask for it."""
    asked: dict[str, list[str]] = {}
    for each in verdict.requirements:
        title = rule_title(each.rule) if each.rule is not None else "choice of the build"
        asked.setdefault(in_print(capital(spelled(each.demand))), []).append(title)
    for demand, titles in asked.items():
        yield f"{demand} ({', '.join(dict.fromkeys(titles))})"


def flip_sentence(choosing: Choosing, principle: str) -> str:
    """What would change the verdict on a principle that does not suit, or is undecided."""
    flip = choosing.flips[principle]
    if flip is None:
        return NO_FLIP
    return in_print(capital(flip_words(flip, choosing.matrix.base.rules))) + "."


def told_beside(choosing: Choosing, principle: str, apart: frozenset[str] = frozenset()) -> Iterator[str]:
    """What does not join the verdict of a principle, with what to do; some rules are told elsewhere."""
    for each in choosing.matrix.told(principle):
        if each.rule.name not in apart:
            yield told_words(each)


def told_words(each: Judgement) -> str:
    """A rule that stands beside the verdicts, in words."""
    return in_print(" ".join(filter(None, (f"{capital(each.rule.effect)}: {each.rule.reason}.", each.rule.action))))


def ranking_reason(place: Place) -> str:
    """Why it stands before the next, by the title of that; empty for the last."""
    return place.reason_before(principle_title(place.before)) if place.before else ""


def order_words(study: Study, choosing: Choosing, principle: str) -> str:
    """How the order of a principle stands: what blocks it, that it waits, what is left where only that is."""
    if study.order == "blocked":
        return study.blocking
    if choosing.verdicts[principle].order_only:
        return ordering_words(study, choosing, principle)
    return WAITS if study.order == "waits for answers" else ""


def ordering_words(study: Study, choosing: Choosing, principle: str) -> str:
    """That only requirements of the order are left of a principle, and whether it can be ordered now."""
    if study.can_be_ordered(principle):
        return "Can be ordered now: only requirements of the order are left."
    blocked = study.order == "blocked" or choosing.blocking_of(principle)
    return f"Only requirements of the order are left; the order {'is blocked' if blocked else 'waits for answers'}."


def orderable_words(study: Study, choosing: Choosing) -> str:
    """What can be ordered now, as a sentence; nothing can where something blocks the order or it waits."""
    ranked = [place.verdict for place in choosing.ranking]
    if study.order == "not blocked":
        ready = listed(principle_title(each.principle) for each in ranked if study.can_be_ordered(each.principle))
        if not ready:
            return "Nothing is ready to be ordered: each principle waits for conditions or answers."
        return f"Can be ordered now, once the order keeps to its requirements: {ready}."
    first = study.blocking or (WAITS if study.has_instrument else NOT_CHOSEN)
    ready = listed(principle_title(each.principle) for each in ranked if each.order_only)
    if not ready:
        return f"{first} Beside that, each principle waits for conditions or answers."
    return f"{first} By the verdicts alone only requirements of the order are left of: {ready}."


def listed(items: Iterable[str]) -> str:
    """Items in a row, each once."""
    return "; ".join(dict.fromkeys(items))
