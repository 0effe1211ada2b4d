"""Where the case states that nothing flows: nothing bends, nothing swings, whatever stands in the liquid."""

from __future__ import annotations

from collections.abc import Iterator

from onedatum.study.choosing.bench import Bench, Number
from onedatum.study.desk import NONE
from onedatum.verdicts.rules import quantities

BY_FLOW = (
    "stem.deflection_share",
    "stem.shedding_ratio",
    "stem.guided_deflection_share",
    "stem.guided_shedding_ratio",
    "stem.root_stress_share",
)


def still_numbers(bench: Bench) -> Iterator[Number]:
    """Zero for all that the flow alone makes."""
    if bench.desk.case.medium.velocity_at_stem.state != NONE:
        return
    for name in BY_FLOW:
        entry = bench.desk.constant(
            f"choosing.{name}",
            0.0,
            "",
            quantities()[name].title,
            note="the case states that nothing flows across it",
            source="derived",
        )
        yield Number(name, (entry,))
