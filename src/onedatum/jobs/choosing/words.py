"""What the sheets of choosing share: a rule as a reason, a verdict as a word, an answer in one sentence."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable

from onedatum.foundation.units import in_print
from onedatum.paper.choosing import model as paper
from onedatum.paper.model import Sign
from onedatum.study.choosing import Choosing
from onedatum.verdicts import Verdict
from onedatum.verdicts.rules import Judgement
from onedatum.verdicts.rules.words import Compared, citations, compared_in, override_words, principle_title, rule_title

SIGNS: dict[Verdict, Sign] = {
    Verdict.SUITS: "suits",
    Verdict.ON_CONDITIONS: "suits on conditions",
    Verdict.UNDECIDED: "undecided",
    Verdict.DOES_NOT_SUIT: "does not suit",
}
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


def reason_of(choosing: Choosing, each: Judgement) -> paper.Reason:
    """One judgement as a reason."""
    rule = each.rule
    site = "; ".join(word for done in choosing.site.touching(rule.name) for word in override_words(done))
    return paper.Reason(
        title=rule_title(rule),
        sign=SIGNS[each.verdict],
        comparisons=tuple(map(_comparison, compared_in(each))),
        reason=in_print(rule.reason),
        action=in_print(rule.action) if each.conditional or each.verdict is Verdict.ON_CONDITIONS else "",
        source="; ".join(dict.fromkeys(str(source) for source in citations(rule))),
        state=state_words(choosing, each.state),
        site=in_print(site),
    )


def _comparison(told: Compared) -> paper.Comparison:
    return paper.Comparison(told.title, in_print(told.value), in_print(told.limit), told.assumed, told.bare)


def state_words(choosing: Choosing, state: str) -> str:
    """The state that is worst; nothing where there is only one."""
    return state if len(choosing.matrix.states) > 1 else ""


def listed(items: Iterable[str]) -> str:
    """Items in a row, each once."""
    return "; ".join(dict.fromkeys(items))
