"""Plans: where the points stand, which are moved, how good the reference must be (common practice, no source)."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from onedatum.case.reading import read_case_text
from onedatum.proving import ELEVEN, FIVE, SIX, ProvingError, Tolerance, plan_points
from onedatum.proving.points import CAUTION_FILLING, CAUTION_UNKNOWN_END, plan_faults
from onedatum.study.result import Study
from onedatum.study.study import study
from tests.closeness import close, exact
from tests.proving.runs import EXAMPLES, MM, examined, plan_of, within

ROUNDING = "rounding of a few additions"


def test_five_points_of_a_range_by_hand() -> None:
    """LRV 100, URV 2800 mm: a quarter of the span is 675 mm and 4 mA (IEC 60381-1, from memory)."""
    plan = plan_of()
    close([p.level_m for p in plan.points], [0.1, 0.775, 1.45, 2.125, 2.8], 1e-12, ROUNDING)
    close([p.current_A for p in plan.points], [0.004, 0.008, 0.012, 0.016, 0.020], 1e-14, ROUNDING)
    assert [p.name for p in plan.points] == ["0 %", "25 %", "50 %", "75 %", "100 %"]
    assert not any(p.moved for p in plan.points)
    assert (plan.tag, plan.cycles, plan.directions) == ("LT-201", 3, ("up", "down"))


def test_the_reference_is_a_quarter_or_at_worst_a_third_of_the_tolerance() -> None:
    plan = plan_of()
    assert plan.tolerance == Tolerance(-0.015, 0.015), "as the case states it"
    close([plan.reference_expanded_m, plan.reference_tolerated_m], [3.75 * MM, 5.0 * MM], 1e-12, ROUNDING)
    one_sided = plan_of(tolerance=Tolerance(None, 0.006))
    close(one_sided.reference_expanded_m, 1.5 * MM, 1e-12, ROUNDING)
    uneven = plan_of(tolerance=Tolerance(-0.002, 0.006))
    close(uneven.reference_expanded_m, 1.0 * MM, 1e-12, ROUNDING)


def test_nobody_is_sent_to_fill_the_tank_to_where_filling_must_stop() -> None:
    """The high-high of the receiver stands at 2717.3 mm, below its 20 mA: the last point stays 20 mm below that."""
    plan = plan_of(filled=True)
    high_high = examined("spirit_receiver").sheet["overfill.high_high"].value
    last = plan.points[-1]
    assert high_high is not None and last.level_m <= high_high - 0.020
    close(last.level_m, 2.697, 1e-12, ROUNDING)
    close(last.share, (2697.0 - 100.0) / 2700.0, 1e-12, ROUNDING)
    assert "below where filling must stop" in last.moved
    assert last.name == "100 %"
    assert CAUTION_FILLING in plan.cautions


def with_range(lower: str, upper: str) -> Study:
    """The receiver with another range."""
    text = (EXAMPLES / "spirit_receiver.yaml").read_text(encoding="utf-8")
    text = text.replace("4 mA: 100 mm", f"4 mA: {lower}").replace("20 mA: 2800 mm", f"20 mA: {upper}")
    return study(read_case_text(text))


def test_points_in_a_dead_zone_move_to_the_nearest_level() -> None:
    """The receiver measures from 91.74 to 3000.67 mm; a range from 0 to 3100 mm is not there at its ends."""
    plan = plan_points(with_range("0 mm", "3100 mm"), shares=ELEVEN, filled=False)
    first, last = plan.points[0], plan.points[-1]
    close([first.level_m, last.level_m], [0.092, 3.0], 1e-12, "whole millimetres inside")
    assert "lowest level that can be measured" in first.moved
    assert "highest level that can be measured" in last.moved
    assert not any(p.moved for p in plan.points[1:-1])
    assert len(plan.points) == 11 and plan.left_out == ()


def test_points_that_would_fall_together_are_left_out_and_said() -> None:
    """Of a range from -1 to 2 m the shares of 0 to 30 % lie at -1.0 to -0.1 m, all below what can be measured."""
    plan = plan_points(with_range("-1000 mm", "2000 mm"), shares=ELEVEN, filled=False)
    assert plan.points[0].moved and plan.points[0].name == "0 %"
    assert len(plan.left_out) == 3 and plan.left_out[0].startswith("10 % falls together with 0 %")
    assert len(plan.points) == 8


def test_a_range_that_acts_in_reverse() -> None:
    plan = plan_of("tilted_vessel", tolerance=within(10.0), shares=SIX)
    assert plan.lower_range_value_m > plan.upper_range_value_m
    levels = [p.level_m for p in plan.points]
    assert levels == sorted(levels, reverse=True)
    close(plan.points[0].current_A, 0.004, 1e-12, ROUNDING)


def test_where_no_end_of_filling_is_known_the_plan_says_so() -> None:
    plan = plan_of("wet_leg_tank", filled=True)
    assert CAUTION_UNKNOWN_END in plan.cautions


def test_the_working_of_a_plan_is_kept() -> None:
    lines = {line["name"]: line for line in plan_of(filled=True).working}
    assert lines["point.wanted[25 %]"]["formula"] == "calibration.share_level"
    assert "common practice" in lines["reference.ratio[usual]"]["source"]
    exact(lines["range.20 mA"]["value_m"], 2.8)


@pytest.mark.parametrize(
    ("wishes", "path"),
    [
        ({"shares": (0.5,)}, "plan.shares"),
        ({"shares": (0.0, 1.2)}, "plan.shares[1]"),
        ({"shares": (0.0, float("nan"))}, "plan.shares[1]"),
        ({"shares": (0.0, 0.0)}, "plan.shares"),
        ({"shares": tuple(n / 40 for n in range(41))}, "plan.shares"),
        ({"cycles": 0}, "plan.cycles"),
        ({"cycles": 10**9}, "plan.cycles"),
        ({"directions": ("sideways",)}, "plan.directions"),
        ({"directions": ()}, "plan.directions"),
        ({"tolerance": Tolerance(None, None)}, "tolerance"),
        ({"tolerance": Tolerance(0.001, 0.002)}, "tolerance"),
        ({"tolerance": Tolerance(0.0, 0.0)}, "tolerance"),
        ({"tolerance": Tolerance(None, float("inf"))}, "tolerance"),
        ({"tolerance": Tolerance(-100.0, 100.0)}, "tolerance"),
    ],
)
def test_absurd_wishes_are_refused_by_path(wishes: dict[str, Any], path: str) -> None:
    with pytest.raises(ProvingError) as caught:
        plan_points(examined("spirit_receiver"), **wishes)
    assert path in {fault.path for fault in caught.value.faults}
    assert all(fault.sentence().startswith(f"{fault.path} must be ") for fault in caught.value.faults)


def test_without_a_tolerance_nothing_is_planned() -> None:
    with pytest.raises(ProvingError, match="State it in the case"):
        plan_points(examined("gas_oil_tank"))


def test_a_plan_that_was_tampered_with_is_found() -> None:
    plan = plan_of()
    assert plan_faults(plan) == []
    for wrong in (
        replace(plan, upper_range_value_m=plan.lower_range_value_m),
        replace(plan, points=plan.points[:1]),
        replace(plan, points=(plan.points[0], plan.points[0])),
        replace(plan, lowest_m=5.0),
        replace(plan, reference_expanded_m=0.0),
        replace(plan, cycles=0),
        replace(plan, saturation_low_A=0.03),
        replace(plan, tolerance=Tolerance(None, None)),
    ):
        assert len(plan_faults(wrong)) == 1


def test_the_usual_shares() -> None:
    """IEC 61298-2, from memory: five points at least, six or eleven where linearity or hysteresis matters."""
    assert [len(shares) for shares in (FIVE, SIX, ELEVEN)] == [5, 6, 11]
    assert all((shares[0], shares[-1]) == (0.0, 1.0) for shares in (FIVE, SIX, ELEVEN))
