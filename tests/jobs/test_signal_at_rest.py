"""The signal of a level that the instrument cannot tell: that of the end at which its reading stops."""

from __future__ import annotations

import json
import re
from functools import cache

import numpy as np
import pytest

from onedatum.case.reading import read_case
from onedatum.jobs.signal import at_rest, entry_of, signal_at, signal_remarks, signal_text
from onedatum.simulate import State
from onedatum.study.result import Study
from tests.cli.run import ROOT, onedatum
from tests.closeness import close
from tests.simulate.instruments import instrument

SHOWN = "signal.current_shown"


@cache
def signal(name: str, level: str) -> tuple[Study, Study | None]:
    """The study of an example at a level, and where its reading then stops."""
    found = signal_at(read_case(ROOT / "examples" / f"{name}.yaml"), level)
    return found, at_rest(found)


@pytest.mark.parametrize(
    ("name", "level_m", "side", "by_hand"),
    [
        ("spirit_receiver", 0.05, "at or below", lambda end_m: 4.0 + 16.0 * (end_m - 0.1) / 2.7),
        ("gas_oil_tank", 0.05, "at or below", lambda end_m: 4.0 + 16.0 * (end_m - 0.15) / 3.95),
        ("solvent_tank", 2.98, "at or above", lambda end_m: 4.0 + 16.0 * (end_m - 0.15) / 2.75),
        ("tilted_vessel", 0.05, "at or below", lambda end_m: 4.0 + 16.0 * (end_m / 0.0254 - 68.0) / (6.0 - 68.0)),
        ("wet_leg_tank", 2.6, "at or above", lambda end_m: 4.0 + 16.0 * end_m / 2.54),
        ("caustic_tank", 0.005, "at or below", lambda end_m: 3.8),
    ],
)
def test_beyond_its_reach_the_current_is_that_of_the_end(name: str, level_m: float, side: str, by_hand: object) -> None:
    """By hand the line of the range at the end, or 3.8 mA where that lies below it; as the simulated instrument tells.

    Float on a stem, probe, legs; a range that falls with the level.
    """
    found, rest = signal(name, f"{1e3 * level_m:g} mm")
    assert rest is not None and found.measuring.levels is not None and callable(by_hand)
    reach = found.measuring.levels
    end_m = (reach.now_lowest if side == "at or below" else reach.now_highest).value
    sent_A = entry_of(found, rest, SHOWN).value
    assert end_m is not None and sent_A is not None
    close(1e3 * sent_A, by_hand(end_m), 1e-6, "the end is put in to a ten-thousandth of a millimetre")
    own = instrument(name)
    state = State(np.array([level_m]), np.full(1, own.temperature_K), np.ones(1), np.full(1, level_m))
    close(1e3 * sent_A, 1e3 * float(own.signal(state).current_A[0]), 1e-5, "as simulated, same rounding")
    assert any(f"tells a level {side} " in each for each in signal_remarks(found, rest))


@pytest.mark.parametrize(
    ("name", "level_m", "at_mA", "lower_m", "upper_m", "side"),
    [
        ("caustic_tank", 2.503, 20.5, 0.15, 2.2, "at or above"),
        ("caustic_tank", 0.045, 3.8, 0.15, 2.2, "at or below"),
        ("spirit_receiver", 3.1, 19.413, 0.1, 2.8, "at or above"),
    ],
)
def test_where_the_current_stops_before_the_reading_the_bound_is_its_own(
    name: str, level_m: float, at_mA: float, lower_m: float, upper_m: float, side: str
) -> None:
    """The same current stands for every level from there on: by hand on the line of the range, lower and upper m.

    20.5 and 3.8 mA: NE 43 (from memory); 19.413 mA: where the loop of that example ends, as its own remark says.
    """
    bound_mm = 1e3 * (lower_m + (at_mA - 4.0) / 16.0 * (upper_m - lower_m))
    said = next(each for each in signal_remarks(*signal(name, f"{1e3 * level_m:g} mm")) if "stops" in each)
    found = re.search(rf"tells a level {side} ([\d.]+) mm", said)
    assert found is not None
    close(
        float(found[1]),
        bound_mm,
        0.1,
        "currents are stated to 0.5 uA, 0.08 mm of the longer range, and levels printed to 0.01 mm",
    )


def test_a_reading_that_stops_before_the_current_bounds_the_level_itself() -> None:
    said = [each for each in signal_remarks(*signal("spirit_receiver", "50 mm")) if "stops" in each]
    assert len(said) == 1 and said[0].endswith("this is the signal of that level, and tells a level at or below it")


def test_within_its_reach_nothing_is_other() -> None:
    found, rest = signal("spirit_receiver", "1.85 m")
    assert rest is None and not any("stops" in each for each in signal_remarks(found))
    # the line of the range by hand: 4 + 16 x 1750 / 2700
    assert signal_text(found, SHOWN, rest) == f"{4 + 16 * 1750 / 2700:.3f} mA"


def test_the_command_states_the_current_of_the_resting_float() -> None:
    """What lies below is as full as ever: the volume is that of the level asked for."""
    words = ("signal", str(ROOT / "examples" / "spirit_receiver.yaml"), "--level")
    low, lower = (onedatum(*words, level).out for level in ("50 mm", "20 mm"))
    assert "3.946 mA  current" in low and "3.946 mA  current" in lower and "3.800 mA" not in low
    assert "50 mm  level now" in low and "at or below" in low
    told = json.loads(onedatum(*words, "50 mm", "--json").out)
    numbers = {each["name"]: each for each in told["numbers"]}
    close(numbers[SHOWN]["value_A"], 0.003946, 1e-6, "the three digits above")
    close(numbers["level_now"]["value_m"], 0.05, 1e-12, "as asked")
    assert any("at or below" in each for each in told["remarks"])
