"""Formulas of a plain geometry that need no physics: what the tests of the working are worked with.

They are taken off the register of formulas, so that a test of all formulas does not meet them.
"""

from __future__ import annotations

from typing import Any, cast

import numpy as np

from onedatum.foundation.working import formula, registry, tag_of


@formula(
    gives=("A", "area of a rectangle"),
    where={"length_m": ("a", "length", "(0, 20]"), "width_m": ("b", "width", "[0.1, 10)")},
    equation="A = a*b",
    requires=(("b <= a", "the width is the shorter side"),),
    source="derived",
)
def rectangle_m2(length_m: Any, width_m: Any) -> Any:
    """Area of a rectangle."""
    return length_m * width_m


@formula(
    gives=("c", "side of a square"),
    where={"area_m2": ("A", "area", "[0, 400]")},
    residual="c**2 - A",
    source="derived",
)
def side_m(area_m2: Any) -> Any:
    """Side of a square."""
    return np.sqrt(area_m2)


@formula(
    gives=("s", "sum of two lengths"),
    where={"one_m": ("x", "one", "[-1000, 1000]"), "other_m": ("y", "other", "[-1000, 1000]")},
    equation="s = x + y",
    source="derived",
)
def sum_m(one_m: Any, other_m: Any) -> Any:
    """Sum of two lengths."""
    return one_m + other_m


@formula(
    gives=("n", "nearest metre"),
    where={"length_m": ("x", "length", "[0, 1000]")},
    method="rounding to the nearest metre",
    source="common-practice: of the tests",
)
def rounded_m(length_m: Any) -> Any:
    """A length rounded to the metre."""
    return np.rint(length_m)


@formula(
    gives=("d", "slack"),
    where={
        "rope_m": ("l", "length of the rope", "[0, 100]"),
        "one_m": ("x", "one", "[0, 100]"),
        "other_m": ("y", "other", "[0, 100]"),
    },
    equation="d = l - (x + y)",
    requires=(("x + y <= l", "the rope reaches round both"),),
    source="derived",
)
def slack_m(rope_m: Any, one_m: Any, other_m: Any) -> Any:
    """Slack of a rope.

    What is left over.

    Example
    -------
    >>> slack_m(5.0, 2.0, 2.0)
    1.0
    """
    return rope_m - (one_m + other_m)


@formula(
    gives=("q", "quotient of two lengths"),
    where={"over_m": ("x", "one", "[0, 10]"), "under_m": ("y", "other", "[0, 10]")},
    equation="q = x/y",
    source="derived",
)
def quotient(over_m: Any, under_m: Any) -> Any:
    """Quotient of two lengths; its validity wrongly admits nothing below the line."""
    with np.errstate(divide="ignore", invalid="ignore"):
        return np.divide(over_m, under_m)


for _function in (rectangle_m2, side_m, sum_m, rounded_m, slack_m, quotient):
    cast("dict[str, Any]", registry()).pop(tag_of(_function).name)
