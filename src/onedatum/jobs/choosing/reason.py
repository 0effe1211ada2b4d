"""A rule as a reason on the sheets: what decides, why, what is to be done, where it comes from."""

from __future__ import annotations

from onedatum.foundation.units import in_print
from onedatum.jobs.choosing.told import state_words
from onedatum.paper.choosing import model as paper
from onedatum.paper.model import Sign
from onedatum.study.choosing import Choosing
from onedatum.verdicts import Verdict
from onedatum.verdicts.rules import Judgement
from onedatum.verdicts.rules.words import Compared, citations, compared_in, override_words, rule_title

SIGNS: dict[Verdict, Sign] = {
    Verdict.SUITS: "suits",
    Verdict.ON_CONDITIONS: "suits on conditions",
    Verdict.UNDECIDED: "undecided",
    Verdict.DOES_NOT_SUIT: "does not suit",
}


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
