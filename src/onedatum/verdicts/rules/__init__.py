"""The rules of choosing: read from their table, judged by what is known; they know neither physics nor case."""

from onedatum.verdicts.rules.base import JOINS, OF_OWN, Rule, RuleBase, known_principle, read_rules, rule_base
from onedatum.verdicts.rules.facts import OURS, Fact, Facts
from onedatum.verdicts.rules.flips import Change, Flip, changed, flip_of
from onedatum.verdicts.rules.judge import Judgement, judged
from onedatum.verdicts.rules.matrix import Matrix, matrix
from onedatum.verdicts.rules.overrides import Overridden, Override, OverrideError, with_overrides
from onedatum.verdicts.rules.predicate import PredicateError, atoms, read_predicate, truth_of
from onedatum.verdicts.rules.principle import PrincipleVerdict, Requirement, principle_verdict
from onedatum.verdicts.rules.quantity import Quantity, quantities, quantity_of
from onedatum.verdicts.rules.questions import Question, questions_of
from onedatum.verdicts.rules.ranking import CRITERIA, CRITERION_TITLES, USUAL, Place, ranked
from onedatum.verdicts.rules.truth import Truth

__all__ = [
    "CRITERIA",
    "CRITERION_TITLES",
    "JOINS",
    "OF_OWN",
    "OURS",
    "USUAL",
    "Change",
    "Fact",
    "Facts",
    "Flip",
    "Judgement",
    "Matrix",
    "Overridden",
    "Override",
    "OverrideError",
    "Place",
    "PredicateError",
    "PrincipleVerdict",
    "Quantity",
    "Question",
    "Requirement",
    "Rule",
    "RuleBase",
    "Truth",
    "atoms",
    "changed",
    "flip_of",
    "judged",
    "known_principle",
    "matrix",
    "principle_verdict",
    "quantities",
    "quantity_of",
    "questions_of",
    "ranked",
    "read_predicate",
    "read_rules",
    "rule_base",
    "truth_of",
    "with_overrides",
]
