"""What a reading tells, against scenarios worked from outside, the law of Ohm, and the limits of the signal.

Expected levels and currents: `tests/reference/scenarios.json` and its neighbours, worked by two routes each.
"""

from __future__ import annotations

import json
from functools import cache
from pathlib import Path

import pytest

from onedatum.case.reading import read_case
from onedatum.foundation.errors import Fault
from onedatum.jobs.examine import examine
from onedatum.jobs.page.level import level_of
from onedatum.jobs.page.scales import page_scales
from onedatum.jobs.reading import Reading, limits_of, reading_of, told_of
from onedatum.study.result import Study
from tests.cli.run import onedatum
from tests.closeness import close
from tests.reference import case
from tests.study.variants import EXAMPLES

INCH_M = 0.0254
PRINTED_uA = 0.00005
"""Half of the last digit of a current printed to 0.1 uA, in mA."""


@cache
def study_of(name: str) -> Study:
    return examine(EXAMPLES / f"{name}.yaml")


def read(name: str, text: str, on: str = "") -> Reading:
    found = reading_of(study_of(name), text, on)
    assert isinstance(found, Reading), found
    return found


def refused(name: str, text: str, on: str = "") -> str:
    found = reading_of(study_of(name), text, on)
    assert isinstance(found, Fault), found
    return found.sentence()


# ---------------------------------------------------------------- the level of a reading


def test_a_current_of_the_spirit_receiver() -> None:
    given = case("scenarios-A")
    found = read("spirit_receiver", f"{given.expected['mA_level']} mA")
    close(found.level_m, 1.850, PRINTED_uA / 16.0 * 2.7, "current printed to 0.1 uA, 2700 mm of span")


def test_a_current_that_acts_in_reverse() -> None:
    given = case("scenarios-D")
    found = read("tilted_vessel", f"{given.expected['mA_level']} mA")
    close(found.level_m, 41.25 * INCH_M, PRINTED_uA / 16.0 * 62.0 * INCH_M, "current printed to 0.1 uA, 62 in of span")


def test_a_voltage_is_a_current_by_ohms_law() -> None:
    """3.5926 V on 250 ohm and 143.704 mV on the 10 ohm of the case are 14.3704 mA both."""
    by_current = read("spirit_receiver", "14.3704 mA").level_m
    for text, on in (("3.5926 V", "250 ohm"), ("143.704 mV", ""), ("14.3704 V", "1 kohm")):
        close(read("spirit_receiver", text, on).level_m, by_current or 0.0, 1e-12, "Ohm's law")


def test_per_cent_is_of_the_span() -> None:
    """Half of 100 mm to 2800 mm is 1450 mm, 12 mA (IEC 60381-1)."""
    found = read("spirit_receiver", "50 %")
    close(found.level_m, 1.45, 1e-12, "half of the span")
    close(found.current_A, 0.012, 1e-15, "half of the span")


def test_a_capacitance_of_the_caustic_tank() -> None:
    given = case("scenarios-B")
    tolerance = given.tolerance["C_1600_pF"]["abs"] / given.expected["dC_dh_pF_m"]
    found = read("caustic_tank", f"{given.expected['C_1600_pF']} pF")
    close(found.level_m, 1.6, tolerance + 1e-5, "tolerance of the capacitance by its slope")


@pytest.mark.parametrize(
    ("name", "text"),
    [
        ("spirit_receiver", "7.5 mA"), ("spirit_receiver", "143.7 mV"), ("spirit_receiver", "550 us"),
        ("caustic_tank", "312 pF"), ("wet_leg_tank", "-51.7 inH2O(60 degF)"), ("tilted_vessel", "10 mA"),
    ],
)  # fmt: skip
def test_it_is_the_level_of_the_scale_on_the_page(name: str, text: str) -> None:
    """The cubic of the page holds to 2 % of the last digit it shows; that is the largest difference."""
    scales = page_scales(study_of(name))
    there, here = level_of(text, scales, {}), read(name, text).level_m
    assert isinstance(there, float)
    assert here is not None
    unit = text.split(" ", 1)[1].replace("us", "µs").split("(")[0].replace("inH2O", "inH₂O")
    scale = next(each for each in scales if each.kind.name == unit)
    shown = [scale.value(level) for level in (there, here)]
    assert None not in shown
    close(shown[0] or 0.0, shown[1] or 0.0, 0.02 * 10.0**-scale.kind.decimals * 1.25, "error of the page's table")


def test_a_time_of_flight_grows_with_the_distance_from_the_head() -> None:
    """Two times of flight apart by the time of one metre tell levels one metre apart."""
    per_metre_us = 1e6 / 2800.0  # the wave of the example travels at 2800 m/s
    low, high = (read("spirit_receiver", f"{time:.6f} us").level_m for time in (300.0 + per_metre_us, 300.0))
    assert low is not None
    assert high is not None
    close(high - low, 1.0, 1e-4, "error of the page's table, 0.02 of 0.1 us")


# ---------------------------------------------------------------- where no level is told


@pytest.mark.parametrize(
    ("name", "text", "words"),
    [  # failure and measurement by NE 43 (read second-hand); the end of the loop from scenario A, 19.413 mA
        ("spirit_receiver", "19.42 mA", "the loop is at its end: the level may be higher"),
        ("spirit_receiver_isolator", "20.5 mA", "the level stands there or higher"),
        ("spirit_receiver_isolator", "3.8 mA", "the level stands there or lower"),
        ("tilted_vessel", "3.8 mA", "the level stands there or higher"),
        ("tilted_vessel", "20.5 mA", "the level stands there or lower"),
        ("spirit_receiver_isolator", "20.8 mA", "no measurement information"),
        ("spirit_receiver_isolator", "21.5 mA", "no measurement information"),
        ("spirit_receiver_isolator", "3.6 mA", "no measurement information"),
        ("spirit_receiver_isolator", "0 mA", "no measurement information"),
    ],
)  # fmt: skip
def test_no_level_is_promised_beyond(name: str, text: str, words: str) -> None:
    found = read(name, text)
    assert found.level_m is None
    assert words in found.why


def test_a_level_is_told_just_inside_the_measurement_information() -> None:
    """20.49 mA stands 1.7 mm below the level at 20.5 mA of scenario A2, 2.8844 m."""
    found = read("spirit_receiver_isolator", "20.49 mA")
    limit = case("scenarios-A2")
    close(found.level_m, limit.expected["level_at_20_5_mA_m"] - 0.01 / 16.0 * 2.7, 5e-5, "printed to 0.1 mm")


def test_the_limits_name_range_saturation_and_end_of_loop() -> None:
    given = case("scenarios-A").expected
    said = " ".join(limits_of(study_of("spirit_receiver")))
    assert "100 mm is the level at 4 mA" in said
    assert f"ends, at {given['loop_sat_mA']} mA" in said
    assert f"{1e3 * given['loop_sat_level_m']:.0f}"[:3] in said
    assert "2884.38 mm is where the current stops at 20.5 mA" in said  # 100 + 2700 * 16.5/16


# ---------------------------------------------------------------- what cannot be read


@pytest.mark.parametrize(
    ("text", "on", "words"),
    [
        ("12 kg", "", "a unit of mass"),
        ("", "", "nothing is written"),
        ("14,37 mA", "", "14.37"),
        ("-1 mA", "", "from 0 to 100 mA"),
        ("500 mA", "", "from 0 to 100 mA"),
        ("400 V", "250 ohm", "it stands for 1600"),
        ("900 %", "", "from 0 to 100 mA"),
        ("100 pF", "", "no scale of this case is read as a capacitance"),
        ("5 us", "", "the scale goes from"),
        ("3.59 V", "0 ohm", "a resistance above 0"),
        ("3.59 V", "-250 ohm", "a resistance above 0"),
        ("3.59 V", "250 m", "resistance"),
        ("3.59 V", "a resistor", "resistance"),
        ("14.37 mA", "250 ohm", "left away unless the reading is a voltage"),
        ("nan mA", "", "must be"),
        ("1e999 mA", "", "must be"),
    ],
)  # fmt: skip
def test_what_cannot_be_read_is_told(text: str, on: str, words: str) -> None:
    assert words.casefold() in refused("spirit_receiver", text, on).casefold()


def test_a_bare_number_is_in_milliamperes() -> None:
    assert read("spirit_receiver", "12").current_A == read("spirit_receiver", "12 mA").current_A


def test_a_voltage_needs_a_resistor() -> None:
    assert "no test resistor is stated" in refused("tilted_vessel", "120 mV").casefold()
    assert read("tilted_vessel", "120 mV", "10 ohm").current_A == pytest.approx(0.012, abs=1e-15)


def test_without_a_level_now_the_sensor_is_read_all_the_same(tmp_path: Path) -> None:
    text = (EXAMPLES / "caustic_tank.yaml").read_text(encoding="utf-8")
    path = tmp_path / "one.yaml"
    path.write_text(text.replace("level_now: {value: 1600 mm, within: 5 mm}", "level_now: unknown"), encoding="utf-8")
    told = told_of(read_case(path), "312 pF")
    assert not isinstance(told, Fault)
    assert told.reading.level_m == pytest.approx(read("caustic_tank", "312 pF").level_m, abs=1e-5)


# ---------------------------------------------------------------- the command


def test_the_command_tells_the_level_and_the_dip() -> None:
    outcome = onedatum("signal", "examples/spirit_receiver.yaml", "--reading", "3.5925 V", "--on", "250 ohm")
    assert outcome.code == 0
    assert "1849.94 mm  level now, as read" in outcome.out  # 14.37 mA: 100 + 2700 * 10.37/16
    assert "a dip should then show 1850 mm over the datum (lowest inside point)" in outcome.out
    assert "without opening the loop" in outcome.out


def test_the_command_promises_no_level_beyond_the_end_of_the_loop() -> None:
    outcome = onedatum("signal", "examples/spirit_receiver.yaml", "--reading", "19.6 mA")
    assert outcome.code == 0
    assert "level now" not in outcome.out
    assert "no reliable signal above 19.41 mA" in outcome.out
    assert "replaces neither certificate nor inspection" in outcome.out


def test_the_command_as_data() -> None:
    data = json.loads(onedatum("signal", "examples/spirit_receiver.yaml", "--reading", "50 %", "--json").out)
    assert data["reading"]["level_m"] == pytest.approx(1.45, abs=1e-12)
    none = json.loads(onedatum("signal", "examples/spirit_receiver.yaml", "--reading", "22 mA", "--json").out)
    assert none["reading"]["level_m"] is None
    assert none["numbers"] == []
    assert none["cautions"]
