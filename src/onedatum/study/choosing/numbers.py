"""The numbers of the study that the rules read, under the names of the rules."""

from __future__ import annotations

from collections.abc import Sequence

from onedatum.study.choosing.site import Site
from onedatum.study.desk import Desk
from onedatum.study.measuring import Measuring
from onedatum.study.states import Condition
from onedatum.verdicts.rules import Facts


def numbers_of(desk: Desk, conditions: Sequence[Condition], measuring: Measuring, site: Site, facts: Facts) -> Facts:
    """The facts of a state with every number that the study can give for it."""
    return facts
