"""The tables of the page: read as a browser reads them, they give the numbers of the study to the digit shown."""

from __future__ import annotations

import json
from bisect import bisect_right
from functools import cache
from itertools import pairwise
from typing import Any

import numpy as np
import pytest

from onedatum.case.reading import read_case, read_case_text
from onedatum.foundation.units import in_unit
from onedatum.jobs.page.scales import MOST_POINTS, PageScale, page_scales
from onedatum.study.result import Study
from onedatum.study.scales import worked
from onedatum.study.study import study
from tests.closeness import close
from tests.study.tanks import LYING, tank, upright
from tests.study.variants import EXAMPLES, study_with

THREE = ("spirit_receiver", "lying_spirit_tank", "tilted_vessel")
ALL = tuple(sorted(path.stem for path in EXAMPLES.glob("*.yaml")))
LEVELS = 1000


@cache
def studied(name: str) -> Study:
    return study(read_case(EXAMPLES / f"{name}.yaml"))


@cache
def scales_of(name: str) -> tuple[PageScale, ...]:
    return page_scales(studied(name))


def read(table: dict[str, Any], level_m: float) -> float:
    """The cubic of Hermite between two points, written once more from its four basis functions."""
    x, y, slope = table["levels_m"], table["values"], table["slopes"]
    i = min(max(bisect_right(x, level_m) - 1, 0), len(x) - 2)
    wide = x[i + 1] - x[i]
    t = (level_m - x[i]) / wide
    h00, h10 = 2 * t**3 - 3 * t**2 + 1, t**3 - 2 * t**2 + t
    h01, h11 = -2 * t**3 + 3 * t**2, t**3 - t**2
    return float(h00 * y[i] + h10 * wide * slope[i] + h01 * y[i + 1] + h11 * wide * slope[i + 1])


def sent(scale: PageScale) -> dict[str, Any]:
    """The table after its way to the browser."""
    made: dict[str, Any] = json.loads(json.dumps(scale.json(), allow_nan=False))
    return made


@pytest.mark.parametrize("name", THREE)
def test_a_table_reads_as_the_study_does(name: str) -> None:
    """Equal to the last digit shown, but where the study itself lies within the error stated of a tie of rounding."""
    random = np.random.default_rng(4)
    shown = seen = 0
    for scale in scales_of(name):
        if not scale.kind.entry or scale.unknown:
            continue
        table = sent(scale)
        levels = random.uniform(table["levels_m"][0], table["levels_m"][-1], LEVELS)
        column = worked(studied(name), [scale.kind.entry], levels)[scale.kind.entry]
        exact = [in_unit(value, scale.kind.unit) for value in column.tolist()]
        for level, wanted in zip(levels.tolist(), exact, strict=True):
            found = read(table, level)
            assert abs(found - wanted) <= table["error"]
            seen += 1
            digit = 10.0**-scale.kind.decimals
            from_tie = abs((wanted / digit) % 1.0 - 0.5) * digit
            if from_tie > table["error"]:
                assert f"{found:.{scale.kind.decimals}f}" == f"{wanted:.{scale.kind.decimals}f}"
                shown += 1
    assert seen >= 4 * LEVELS
    assert shown > 0.9 * seen


@pytest.mark.parametrize("level_mm", [137, 1000, 1851, 2650])
def test_a_table_reads_as_a_case_stated_at_that_level(level_mm: int) -> None:
    """The whole case studied anew with another level now, nothing replayed."""
    anew = study_with(("{value: 1850 mm", f"{{value: {level_mm} mm"))
    for scale in scales_of("spirit_receiver"):
        if scale.kind.entry:
            wanted = anew.sheet[scale.kind.entry].value
            found = scale.value(level_mm / 1000)
            assert wanted is not None and found is not None
            assert abs(found - in_unit(wanted, scale.kind.unit)) <= scale.error


@pytest.mark.parametrize("name", ALL)
def test_tables_are_short_and_never_turn(name: str) -> None:
    known = [scale for scale in scales_of(name) if not scale.unknown]
    assert {"mm", "in", "mA"} <= {scale.kind.key for scale in known}
    for scale in known:
        table = sent(scale)
        assert 2 <= len(table["levels_m"]) <= MOST_POINTS
        assert all(a <= b for a, b in pairwise(table["levels_m"]))
        levels = np.linspace(table["levels_m"][0], table["levels_m"][-1], 3001).tolist()
        way = 1 if table["values"][-1] > table["values"][0] else -1
        values = [way * read(table, level) for level in levels]
        rounding = 1e-12 * max(abs(values[0]), abs(values[-1]))
        assert all(a <= b + rounding for a, b in pairwise(values))


@pytest.mark.parametrize("name", ALL)
def test_the_error_stated_keeps_the_digit_shown(name: str) -> None:
    for scale in scales_of(name):
        if not scale.unknown:
            assert scale.error < 0.05 * 10.0**-scale.kind.decimals


def test_the_current_stops_where_the_loop_ends() -> None:
    """The loop of the example ends at 19.413 mA (copper by IEC 60228, zener barrier 300 ohm, from its scenario)."""
    current = next(scale for scale in scales_of("spirit_receiver") if scale.kind.key == "mA")
    assert current.above is not None and current.above.words == "no reliable signal above 19.41"
    assert current.levels_m[-1] == current.above.level_m
    assert current.value(2.75) is None


def test_a_reverse_range_stops_at_both_ends_of_the_information() -> None:
    """NAMUR NE 43: measurement information from 3.8 to 20.5 mA; here 20.5 mA lies at the bottom."""
    current = next(scale for scale in scales_of("tilted_vessel") if scale.kind.key == "mA")
    assert current.values[0] > current.values[-1]
    assert current.below is not None and current.below.words == "signal ends at 20.50"
    assert current.above is not None and current.above.words == "signal ends at 3.80"


def test_the_straight_line_of_the_current_by_hand() -> None:
    """4 mA at 100 mm, 20 mA at 2800 mm: 1850 mm is 4 + 16*1750/2700 = 14.370 mA."""
    current = next(scale for scale in scales_of("spirit_receiver") if scale.kind.key == "mA")
    assert f"{current.value(1.85):.3f}" == "14.370"


def test_the_pulse_needs_longer_for_a_lower_level() -> None:
    """By hand at 2800 m/s: flange face 3170.08, surface 10.92 mm above the magnet; (3170.08-1850+10.92)/2.8 us."""
    flight = next(scale for scale in scales_of("spirit_receiver") if scale.kind.key == "sensor")
    assert flight.kind.name == "µs"
    found = flight.value(1.85)
    assert found is not None
    assert close(found, (3170.08 - 1850.0 + 10.92) / 2.8, 0.01, "heights printed to 0.01 mm, each 0.004 us")
    assert flight.values[0] > flight.values[-1]
    assert flight.above is not None and flight.above.words == "not measurable"


def test_an_unknown_scale_asks_for_what_it_lacks() -> None:
    made = page_scales(tank(upright(), "level_now: 3 m"))
    mass = next(scale for scale in made if scale.kind.key == "mass")
    assert mass.unknown and mass.unknown_path
    assert mass.levels_m == ()
    assert mass.value(1.0) is None


def test_without_a_vessel_heights_and_signal_remain() -> None:
    keys = {scale.kind.key for scale in scales_of("wet_leg_tank") if not scale.unknown}
    assert {"mm", "in", "mA", "sensor"} <= keys
    assert "volume" not in {scale.kind.key for scale in scales_of("wet_leg_tank")}


def test_a_lying_vessel_is_followed_into_its_crown() -> None:
    """Half of a lying cylinder with flat ends, 2 m across and 5 m long: pi/2*5 m3 (circle, in closed form)."""
    volume = next(s for s in page_scales(tank(LYING, "level_now: 1 m\ndatum_error: none")) if s.kind.key == "volume")
    assert f"{volume.value(1.0):.3f}" == f"{np.pi / 2 * 5:.3f}"
    assert f"{volume.value(2.0):.3f}" == f"{np.pi * 5:.3f}"


def test_nothing_known_gives_no_scales() -> None:
    assert page_scales(study(read_case_text("onedatum: 1\ninvented: yes\n", "case.yaml"))) == ()
