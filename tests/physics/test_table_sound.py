"""In a sound table nothing is found, however it is spaced, rounded and printed, and wherever its lowest point lies."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from onedatum.foundation.numerics import Reals
from onedatum.physics.vessels.table_checks import check_table
from onedatum.physics.vessels.table_rows import rows
from onedatum.physics.vessels.table_smoothness import grain_m3
from tests.closeness import close, exact
from tests.physics.table_kinds import (
    GALLON_M3,
    LITRE_M3,
    ROUNDED_TO_M3,
    VESSELS,
    dished,
    every_rounding,
    every_step,
    every_vessel,
    lying,
    rounded,
    table_of,
)


@every_vessel
@every_step
@every_rounding
def test_a_sound_table_has_no_fault(vessel: str, step_m: float, grain: float) -> None:
    assert check_table(*table_of(vessel, step_m, grain)) == ()


@every_vessel
@every_rounding
@pytest.mark.parametrize("step_m", [0.005, 0.01, 0.05])
def test_a_table_with_finer_rows_has_no_fault(vessel: str, grain: float, step_m: float) -> None:
    """As the tool makes them itself: uneven steps, and a last row at the top, wherever that is."""
    volume_m3, high_m = VESSELS[vessel]

    def section_m2(level_m: Reals) -> Reals:
        below, above = np.clip(level_m - 1e-7, 0.0, high_m), np.clip(level_m + 1e-7, 0.0, high_m)
        return np.asarray((volume_m3(above) - volume_m3(below)) / (above - below))

    made = rows(volume_m3, section_m2, 0.0, high_m - 0.0033, step_m)
    assert check_table(made.levels_m, rounded(made.volumes_m3, grain)) == ()


@given(
    radius_m=st.floats(0.2, 2.0),
    length_m=st.floats(0.5, 20.0),
    step_m=st.sampled_from([1e-3, 2e-3, 5e-3, 0.01, 0.02]),
    grain=st.sampled_from([1e-2, 1e-3, 1e-4, 1e-6, 0.0]),
)
def test_any_lying_cylinder_is_sound(radius_m: float, length_m: float, step_m: float, grain: float) -> None:
    levels_m = np.round(np.arange(int(2.0 * radius_m / step_m) + 1) * step_m, 9)
    assert check_table(levels_m, rounded(lying(radius_m, length_m)(levels_m), grain)) == ()


@pytest.mark.parametrize("count", [2, 3, 4, 5, 6, 7])
def test_a_short_table_is_sound(count: int) -> None:
    levels_m = np.linspace(0.0, 1.0, count)
    assert check_table(levels_m, 2.0 * levels_m) == ()


def test_a_flat_start_is_sound() -> None:
    levels_m = np.round(np.arange(301) * 0.01, 9)
    assert check_table(levels_m, 3.0 * np.clip(levels_m - 0.055, 0.0, None)) == ()


@given(
    crown_m=st.floats(0.55, 2.0),
    radius_m=st.floats(0.2, 0.5),
    below_m=st.floats(0.0, 0.1),
    step_m=st.sampled_from([1e-3, 5e-3, 0.01, 0.02]),
    grain=st.sampled_from([1e-2, 1e-3, 5e-3, 1e-4, GALLON_M3, 0.1 * GALLON_M3, 0.0]),
)
def test_any_dished_bottom_above_the_datum_is_sound(
    crown_m: float, radius_m: float, below_m: float, step_m: float, grain: float
) -> None:
    """The lowest point lies anywhere between two rows, so that the first interval that holds something is cut."""
    levels_m = np.round(np.arange(int(3.0 / step_m) + 1) * step_m, 9)
    volumes_m3 = dished(crown_m, radius_m)(np.clip(levels_m - below_m, 0.0, None))
    assert check_table(levels_m, np.round(volumes_m3 / grain) * grain if grain else volumes_m3) == ()


@pytest.mark.parametrize("below_m", [0.0, 0.013, 0.0037])
@pytest.mark.parametrize("depth_m", [0.06, 0.1, 0.13])
def test_a_cone_of_few_rows_below_a_shell_is_sound(below_m: float, depth_m: float) -> None:
    levels_m = np.round(np.arange(156) * 0.02, 9)
    in_cone_m = np.clip(levels_m - below_m, 0.0, depth_m)
    volumes_m3 = 1.2 * (in_cone_m**3 / (3.0 * depth_m**2) + np.clip(levels_m - below_m - depth_m, 0.0, None))
    for grain in ROUNDED_TO_M3.values():
        assert check_table(levels_m, rounded(volumes_m3, grain)) == ()


@pytest.mark.parametrize("unit_m3", [1.0, 0.0254**3, 0.3048**3, GALLON_M3, 42.0 * GALLON_M3, 4.54609e-3])
@pytest.mark.parametrize("rise_m3", [0.00803, 0.0321, 0.1637])
def test_a_box_in_any_unit_is_sound(unit_m3: float, rise_m3: float) -> None:
    """Rises that are nearly whole numbers of last digits: rounding shows in few rows, and there by a whole digit.

    Inch, foot and US gallon of 231 cubic inches, barrel of 42 gallons, UK gallon: by definition; from memory.
    """
    levels_m = np.round(np.arange(401) * 0.01, 9)
    for power in (0, -1, -2, -3):
        grain = unit_m3 * 10.0**power
        assert check_table(levels_m, np.round(rise_m3 * np.arange(401) / grain) * grain) == ()


@pytest.mark.parametrize("rise_l", [20, 80, 105])
@pytest.mark.parametrize("way", [np.floor, np.ceil, np.round])
def test_a_box_cut_to_litres_by_a_program_is_sound(rise_l: int, way: Callable[[Reals], Reals]) -> None:
    """Binary fractions put some whole litres just below or above themselves, and cutting makes a litre of that."""
    levels_m = np.round(np.arange(301) * 0.01, 9)
    volumes_m3 = way(levels_m * (rise_l / 10.0) / LITRE_M3) * LITRE_M3
    assert check_table(levels_m, volumes_m3) == ()


@every_rounding
def test_the_last_digit_of_print_is_recognised(grain: float) -> None:
    exact(grain_m3(table_of("lying", 0.01, grain)[1]), grain)


@pytest.mark.parametrize("grain", [LITRE_M3, 5e-3, 1e-4, GALLON_M3])
@pytest.mark.parametrize("high_m3", [0.05, 0.4, 90.0, 40_000.0])
def test_the_last_digit_is_recognised_in_vessels_of_any_size(grain: float, high_m3: float) -> None:
    volumes_m3 = np.round(high_m3 * np.linspace(0.0, 1.0, 301) ** 1.5 / grain) * grain
    close(grain_m3(volumes_m3), grain, 1e-12, "rounding")
