"""What stands against judging a run: each fault has a path and a remedy or a reason, and nothing is half taken."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta
from typing import Any

import pytest

from onedatum.proving import Ambient, CurrentMeter, Reading, ReferenceInstrument, Run, TankReference, run_faults
from onedatum.proving.readings import level_of, tells_a_level
from tests.closeness import close
from tests.proving.runs import BEGIN, METER, MM, TAPE, even, plan_of, run_of, timed, with_reading

PLAN = plan_of(cycles=2)
SOUND = run_of(PLAN, even(1.0))


def paths(run: Run) -> list[str]:
    return [fault.path for fault in run_faults(run, PLAN)]


def test_a_sound_run_has_no_faults() -> None:
    assert run_faults(SOUND, PLAN) == ()
    assert run_faults(timed(SOUND), PLAN) == ()


@pytest.mark.parametrize(
    ("changed", "path", "words"),
    [
        ({"tag": "LT-999"}, "run.tag", "one measuring point"),
        ({"case_hash": "0" * 64}, "run.case_hash", "Plan again from the case"),
        ({"case_hash": ""}, "run.case_hash", "the case has changed"),
        ({"kind": "as hoped"}, "run.kind", "as found or as left"),
        ({"who": "  "}, "run.who", "a name"),
        ({"when": datetime(2026, 11, 20, 8, 0)}, "run.when", "offset"),
        ({"readings": ()}, "run.readings", "1 to 1000"),
        ({"readings": SOUND.readings * 100}, "run.readings", "2000"),
        ({"reference": replace(TAPE, expanded_m=5.1 * MM)}, "run.reference.expanded_m", "better reference"),
        ({"reference": replace(TAPE, expanded_m=0.0)}, "run.reference.expanded_m", "above 0 mm"),
        ({"reference": replace(TAPE, expanded_m=float("nan"))}, "run.reference.expanded_m", "nan"),
        ({"reference": replace(TAPE, digit_m=-1.0)}, "run.reference.digit_m", "0 to 1"),
        ({"reference": replace(TAPE, k=0.0)}, "run.reference.k", "coverage factor"),
        ({"meter": replace(METER, expanded_A=float("inf"))}, "run.meter.expanded_A", "inf"),
        ({"meter": replace(METER, k=50.0)}, "run.meter.k", "1 to 5"),
        ({"shown_digit_m": float("nan")}, "run.shown_digit_m", "nan"),
        ({"tank_reference": TankReference(-1.0, 3.0)}, "run.tank_reference", "above 0 m"),
        ({"ambient": Ambient(20.0)}, "run.ambient.temperature_K", "kelvin"),
    ],
)
def test_what_is_wrong_with_the_run_is_told_by_path(changed: dict[str, Any], path: str, words: str) -> None:
    faults = run_faults(replace(SOUND, **changed), PLAN)
    assert [fault.path for fault in faults] == [path]
    assert words.lower() in faults[0].sentence().lower()


@pytest.mark.parametrize(
    ("changed", "path", "words"),
    [
        ({"cycle": 3}, "run.readings[4].cycle", "cycles of the plan"),
        ({"cycle": -1}, "run.readings[4].cycle", "cycles of the plan"),
        ({"direction": "sideways"}, "run.readings[4].direction", "up or down"),
        ({"reference_m": 3.2}, "run.readings[4].reference_m", "dead zone"),
        ({"reference_m": 1.9}, "run.readings[4].reference_m", "of a planned point"),
        ({"reference_m": float("nan")}, "run.readings[4].reference_m", "nan"),
        ({"reference_m": 1e9}, "run.readings[4].reference_m", "1e+09"),
        ({"reference_m": None}, "run.readings[4]", "neither"),
        ({"reference_A": 0.02}, "run.readings[4]", "both"),
        ({"shown_m": None}, "run.readings[4]", "Nothing to compare"),
        ({"shown_m": float("inf")}, "run.readings[4].shown_m", "inf"),
        ({"shown_A": 4.0}, "run.readings[4].shown_A", "0 to 0.1 A"),
    ],
)
def test_what_is_wrong_with_a_reading_is_told_by_its_number(changed: dict[str, Any], path: str, words: str) -> None:
    run = replace(with_reading(SOUND, 4, **changed), meter=METER)
    faults = run_faults(run, PLAN)
    assert [fault.path for fault in faults] == [path]
    assert words in faults[0].sentence()


def test_a_missing_down_run() -> None:
    run = replace(SOUND, readings=tuple(r for r in SOUND.readings if r.direction == "up"))
    faults = run_faults(run, PLAN)
    assert [fault.path for fault in faults] == [f"run.readings[cycle {n}, down]" for n in (1, 2)]
    assert "no down-run" in faults[0].sentence() and "hysteresis is then not judged" in faults[0].sentence()


def test_a_missing_point_and_one_read_twice() -> None:
    short = replace(SOUND, readings=SOUND.readings[:2] + SOUND.readings[3:])
    (fault,) = run_faults(short, PLAN)
    assert fault.path == "run.readings[cycle 1, up]" and "none at 50 %" in fault.sentence()
    (fault,) = run_faults(replace(SOUND, readings=(*SOUND.readings, SOUND.readings[0])), PLAN)
    assert fault.path == "run.readings[cycle 1, up]" and "more at 0 %" in fault.sentence()


def test_readings_of_unlike_signals() -> None:
    mixed = replace(with_reading(SOUND, 3, shown_A=0.012), meter=METER)
    assert paths(mixed) == ["run.readings"]


def test_a_current_without_its_meter() -> None:
    readings = tuple(replace(r, shown_A=0.012, shown_m=None) for r in SOUND.readings)
    assert paths(replace(SOUND, readings=readings)) == ["run.meter"]


def test_a_clock_that_goes_backwards() -> None:
    run = timed(SOUND)
    back = with_reading(run, 7, at=BEGIN + timedelta(minutes=5))
    (fault,) = run_faults(back, PLAN)
    assert fault.path == "run.readings[7].at" and "clock went backwards" in fault.sentence().lower()
    (fault,) = run_faults(with_reading(run, 0, at=BEGIN - timedelta(days=1)), PLAN)
    assert "the beginning of the run" in fault.sentence()
    assert paths(with_reading(run, 2, at=datetime(2026, 11, 20, 9, 0))) == ["run.readings[2].at"]
    assert run_faults(with_reading(run, 3, at=None), PLAN) == ()


def test_all_faults_are_told_at_once() -> None:
    bad = with_reading(replace(SOUND, who="", tag="x"), 0, shown_m=float("nan"))
    assert paths(bad) == ["run.tag", "run.who", "run.readings[0].shown_m"]


def test_the_level_of_a_current_that_was_set() -> None:
    """12 mA is the middle of 100 to 2800 mm."""
    close(level_of(Reading(1, "up", reference_A=0.012), PLAN) or 0.0, 1.45, 1e-12, "rounding")
    assert level_of(Reading(1, "up"), PLAN) is None


def test_which_currents_tell_a_level() -> None:
    """NE 43: measurement information between 3.8 and 20.5 mA; at its ends the level is unknown."""
    told = [tells_a_level(Reading(1, "up", shown_A=mA * MM), PLAN) for mA in (3.6, 3.8, 3.81, 12.0, 20.49, 20.5, 21.5)]
    assert told == [False, False, True, True, True, False, False]


def test_records_are_plain_values() -> None:
    assert ReferenceInstrument("a", "b", 1.0, 2.0, 0.0) == ReferenceInstrument("a", "b", 1.0, 2.0, 0.0)
    assert CurrentMeter("a", "b", 1.0, 2.0, 0.0) != METER
