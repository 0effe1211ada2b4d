"""Verdicts: numbers and words in, verdicts out; knows neither physics nor case."""

from onedatum.verdicts.check import COVERAGE, Check, Limit, check
from onedatum.verdicts.finding import Effect, Finding, Link, gravest
from onedatum.verdicts.verdict import Knowledge, Verdict, merge, of_unknown

__all__ = [
    "COVERAGE",
    "Check",
    "Effect",
    "Finding",
    "Knowledge",
    "Limit",
    "Link",
    "Verdict",
    "check",
    "gravest",
    "merge",
    "of_unknown",
]
