"""The guard bands of the guideline on decision rules, as they stand in the data."""

from __future__ import annotations

from functools import cache
from typing import NamedTuple

from onedatum.data import table


class DecisionRule(NamedTuple):
    """One row: how wide the guard band is, and which risk that leaves at the limit of acceptance."""

    rule: str
    factor: float
    """Width of the guard band as a multiple of U, k = 2."""
    risk: str
    """What the risk is that of: false acceptance, or false rejection."""
    below: float
    """The risk is less than this."""
    tag: str
    """How far the row was seen."""


@cache
def decision_rules() -> tuple[DecisionRule, ...]:
    """The rows of the guideline, the widest guard band first.

    Formula
    -------
    read from decision_rules.json

    Parameters
    ----------
    none

    Returns
    -------
    tuple of DecisionRule
        rule, factor, risk and its bound, each with its tag [1]

    Validity
    --------
    one limit, k = 2, a normal distribution of the result

    Source
    ------
    ILAC-G8:09/2019 Decision rules and statements of conformity, table of guard bands [each row has its tag]

    Example
    -------
    >>> [row.factor for row in decision_rules()]
    [3.0, 1.5, 1.0, 0.83, 0.0, 1.0]
    """
    return tuple(
        DecisionRule(*(row[name] for name in DecisionRule._fields)) for row in table("decision_rules.json")["rules"]
    )
