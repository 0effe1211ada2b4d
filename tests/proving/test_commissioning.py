"""What known levels say, against readings made with one defect at a time.

The readings come from an instrument of the test's own: a float that shows the level less or more by a datum, a slope
of the measurement, a range that is set, a trim of the output. Which of them was moved must be told, and by how much.
"""

from __future__ import annotations

import json
from dataclasses import dataclass
from functools import cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from onedatum.foundation.errors import Fault
from onedatum.foundation.working import entry_text
from onedatum.jobs.examine import examine
from onedatum.jobs.known import adjusted_in
from onedatum.proving.commissioning import Adjusting
from onedatum.study.result import Study
from tests.cli.run import onedatum
from tests.closeness import close
from tests.reference import case
from tests.study.variants import EXAMPLES

SPIRIT = "spirit_receiver_isolator"
DIPS_M = 0.400, 2.600
MICROAMPERE_MM = 1e-3 / 16.0 * 2700.0
"""A digit of the readings made here, as a level."""


@cache
def study_of(name: str) -> Study:
    return examine(EXAMPLES / f"{name}.yaml")


@dataclass(frozen=True)
class Instrument:
    """An instrument of the spirit receiver, 4 mA at 100 mm and 20 mA at 2800 mm, with defects in metres and amperes."""

    offset_m: float = 0.0
    slope: float = 1.0
    lower_m: float = 0.1
    upper_m: float = 2.8
    trim_mA: float = 0.0

    def said(self, dip_m: float, digital: bool) -> str:
        """What somebody notes at a dip."""
        told = self.slope * dip_m + self.offset_m
        current = 4.0 + 16.0 * (told - self.lower_m) / (self.upper_m - self.lower_m) + self.trim_mA
        return f"dip {dip_m:.3f} m, {current:.3f} mA" + (f", digital {told:.4f} m" if digital else "")


def known(instrument: Instrument, digital: bool = False, dips_m: tuple[float, ...] = DIPS_M) -> Adjusting:
    texts = [instrument.said(dip, digital) for dip in dips_m]
    found = adjusted_in(study_of(SPIRIT), texts, dip_within="2 mm", meter_within="0.004 mA")
    assert isinstance(found, Adjusting), found
    return found


def refused(*texts: str, name: str = SPIRIT, on: str = "", **widths: str) -> str:
    found = adjusted_in(study_of(name), texts, on, **widths)
    assert isinstance(found, tuple)
    assert all(isinstance(each, Fault) for each in found)
    return " ".join(each.sentence() for each in found)


def value(found: Adjusting, name: str) -> float:
    entry = found.sheet[name]
    assert entry.value is not None
    return entry.value


# ---------------------------------------------------------------- one defect at a time


@pytest.mark.parametrize("digital", [False, True])
def test_a_sound_instrument_is_left_alone(digital: bool) -> None:
    found = known(Instrument(), digital)
    assert found.key == "none"
    assert "nothing need be adjusted" in " ".join(found.said)
    assert "trim the output" not in " ".join(found.said)


def test_a_datum_that_is_off_is_an_offset() -> None:
    found = known(Instrument(offset_m=0.012), digital=True)
    assert found.key == "offset"
    for number in (1, 2):
        close(1e3 * value(found, f"known.error[{number}]"), 12.0, MICROAMPERE_MM, "a digit of the reading")
    said = " ".join(found.said)
    assert "density moves the offset and never the slope" in said
    assert "the output needs no trim" in said
    assert "it is another range" not in said, "the output agrees with the digital level"


def test_an_offset_without_a_digital_level_may_be_a_range_of_the_same_span() -> None:
    """Both levels of the range moved by -12 mm show the same currents as a datum that is off by 12 mm."""
    datum, range_ = known(Instrument(offset_m=0.012)), known(Instrument(lower_m=0.088, upper_m=2.788))
    assert datum.said == range_.said
    close(1e3 * value(datum, "known.range[4 mA]"), 88.0, 0.2, "a digit of each reading")


def test_another_range_is_named() -> None:
    """The instrument is set to 0 to 3 m; nothing else is off."""
    found = known(Instrument(lower_m=0.0, upper_m=3.0))
    assert found.key == "range"
    close(1.0 + value(found, "known.range[4 mA]"), 1.0, 3e-4, "a digit of each reading")
    close(value(found, "known.range[20 mA]"), 3.0, 3e-4, "a digit of each reading")
    assert "set the range, and trim nothing" in " ".join(found.said)
    assert "never trim the sensor to hide a wrong range" in " ".join(found.said)


def test_another_range_behind_a_digital_level_that_is_right() -> None:
    found = known(Instrument(lower_m=0.0, upper_m=3.0), digital=True)
    assert found.key == "output"
    close(value(found, "known.output_range[20 mA]"), 3.0, 5e-4, "a digit of each reading")
    said = " ".join(found.said)
    assert "more than a trim usually mends" in said
    assert "sensor and datum are left as they are" in said


def test_a_trim_of_the_output_is_told_from_a_range_by_its_size() -> None:
    found = known(Instrument(trim_mA=0.06), digital=True)
    assert found.key == "output"
    for number in (1, 2):
        close(1e3 * value(found, f"known.output_error[{number}]"), 0.06, 1.1e-3, "a digit of the reading and of 0.1 mm")
    assert "of the size of a trim" in " ".join(found.said)


def test_a_slope_of_the_measurement_itself() -> None:
    found = known(Instrument(slope=0.97), digital=True)
    assert found.key == "slope"
    close(value(found, "known.slope_error"), -0.03, 1.5e-4, "a digit of each reading over 2.2 m")
    said = " ".join(found.said)
    assert "speed of the wire" in said
    assert "that lies before the output" in said


def test_a_range_in_reverse_runs_against() -> None:
    found = known(Instrument(lower_m=2.8, upper_m=0.1))
    assert found.key == "against"
    said = " ".join(found.said)
    assert "a range set in reverse" in said
    assert "legs joined the wrong way round" in said
    close(value(found, "known.range[4 mA]"), 2.8, 3e-4, "a digit of each reading")


def test_two_near_levels_within_their_uncertainty_run_in_no_direction() -> None:
    """Dips 2 mm apart, each known to 2 mm: by JCGM 100, 4.3.7 and 5.1.2, the slope is known to 2*sqrt(2)/sqrt(3) of it.

    That the current falls by 0.010 mA between them is then no direction.
    """
    texts = ["dip 1.500 m, 12.300 mA", "dip 1.502 m, 12.290 mA"]
    found = adjusted_in(study_of(SPIRIT), texts, dip_within="2 mm", meter_within="0.004 mA")
    assert isinstance(found, Adjusting)
    assert value(found, "known.slope_error") < -1.0 < value(found, "known.slope_error") + 2.0 * 2.0**0.5 / 3.0**0.5
    assert found.key != "against"


@pytest.mark.parametrize(
    ("dip", "digit_m"),
    [
        ("4 ft 5.15 in", 0.01 * 0.0254),
        ("53.1 in", 0.1 * 0.0254),
        ("4.43 ft", 0.01 * 0.3048),
        ("1.350 m", 1e-3),
        ("1350\u00a0mm", 1e-3),
    ],
)
def test_a_dip_is_read_to_its_last_digit(dip: str, digit_m: float) -> None:
    """An inch is 25.4 mm and a foot 304.8 mm (international yard and pound agreement of 1959)."""
    found = adjusted_in(study_of(SPIRIT), [f"dip {dip}, 11.400 mA"], dip_within="2 mm", meter_within="0.004 mA")
    assert isinstance(found, Adjusting), found
    close(value(found, "known.dip_digit[1]"), digit_m, 1e-12, "rounding")


def test_a_per_cent_without_its_space_is_read_to_its_last_digit() -> None:
    found = adjusted_in(study_of(SPIRIT), ["dip 0.650 m, 20.4%"])
    assert isinstance(found, Adjusting), found
    close(1e3 * value(found, "known.current_digit[1]"), 0.1 / 100.0 * 16.0, 1e-9, "0.1 % of 16 mA")


@pytest.mark.parametrize(("name", "words"), [(SPIRIT, "water inside"), ("caustic_tank", "conductivity")])
def test_what_else_moves_float_and_probe_is_named(name: str, words: str) -> None:
    """A float that takes water swims deeper (Archimedes); a liquid that conducts less is seen less: common practice."""
    dips = ("dip 0.400 m, 6 mA", "dip 1.600 m, 12 mA") if words == "conductivity" else ("dip 1.350 m, 11.700 mA",)
    found = adjusted_in(study_of(name), dips, dip_within="2 mm", meter_within="0.004 mA")
    assert isinstance(found, Adjusting), found
    assert words in " ".join(found.said)


def test_one_dip_and_the_geometry_of_the_stem_give_the_offset() -> None:
    found = known(Instrument(offset_m=-0.02), dips_m=(1.5,))
    assert found.key == "offset of one"
    assert "the slope follows from the stem" in found.title
    close(1e3 * value(found, "known.error[1]"), -20.0, MICROAMPERE_MM, "a digit of the reading")
    assert "known.slope_error" not in found.sheet


def test_two_levels_too_near_do_not_judge_the_slope() -> None:
    found = known(Instrument(offset_m=0.012), dips_m=(1.5, 1.7))
    assert found.key == "open"
    assert "too near" in found.said[0]
    needed = value(found, "known.least_apart")
    far = known(Instrument(offset_m=0.012), dips_m=(0.5, 0.5 + needed + 0.01))
    assert far.key == "offset", "at the distance that was asked for"


def test_what_is_not_stated_of_dip_and_meter_is_asked_for() -> None:
    found = adjusted_in(study_of(SPIRIT), ["dip 0.4 m, 5.9 mA", "dip 2.6 m, 18.9 mA"])
    assert isinstance(found, Adjusting)
    assert ["dip" in found.open_[0], "meter" in found.open_[1]] == [True, True]
    assert found.sheet["known.dip_u[1]"].state == "assumed"


# ---------------------------------------------------------------- the working


def test_the_uncertainty_by_the_guide() -> None:
    """JCGM 100 4.3.7 and 5.1.2: 2 mm and 4 uA within, digits of 1 mm and 1 uA; the datum within 2 mm beside them."""
    found = known(Instrument(), dips_m=(1.5,))
    per_ampere = 2700.0 / 0.016
    parts_mm = (2.0, 4e-6 * per_ampere, 0.5, 0.5e-6 * per_ampere, 2.0)
    expected = 2.0 * sum(part**2 / 3.0 for part in parts_mm) ** 0.5
    close(1e3 * value(found, "known.error[1].U"), expected, 1e-9, "rounding")


def test_every_number_shows_where_it_comes_from() -> None:
    found = known(Instrument(offset_m=0.012), digital=True)
    for entry in found.sheet.entries.values():
        text = entry_text(entry)
        assert entry.source or entry.note or entry.place or entry.state == "computed", text
    assert any(entry.place for entry in found.sheet.entries.values()), "the range is stated in the case"


# ---------------------------------------------------------------- probes and legs


def test_a_probe_is_set_with_any_two_wetted_levels() -> None:
    """Scenario B: capacitances of any two levels tell those at 4 and 20 mA, and the current at each level."""
    scenario = case("scenarios-B")
    slope, low = scenario.expected["dC_dh_pF_m"], scenario.expected["C_150_pF"]
    texts = [f"dip {level} mm, {low + slope * (1e-3 * level - 0.15):.3f} pF" for level in (600, 1600)]
    found = adjusted_in(study_of("caustic_tank"), texts, dip_within="2 mm")
    assert isinstance(found, Adjusting)
    scenario.check(1e12 * value(found, "known.set_to[4 mA]"), "C_150_pF")
    scenario.check(1e12 * value(found, "known.set_to[20 mA]"), "C_2200_pF")
    scenario.check(1e3 * value(found, "known.wanted[2]"), "mA_1600")
    said = " ".join(found.said)
    assert "enter 70.73 % of the span or 15.317 mA while the dip tells 1600.00 mm" in said
    assert "at 4 mA" in said


def test_a_probe_with_another_liquid_differs_in_the_slope() -> None:
    """A probe whose capacitance grows a tenth less per length shows a slope a tenth less."""
    scenario = case("scenarios-B")
    slope, low = 0.9 * scenario.expected["dC_dh_pF_m"], scenario.expected["C_150_pF"]
    texts = [f"dip {level} mm, {low + slope * (1e-3 * level - 0.15):.3f} pF" for level in (300, 2100)]
    found = adjusted_in(study_of("caustic_tank"), texts, dip_within="1 mm")
    assert isinstance(found, Adjusting)
    assert found.key == "slope"
    close(value(found, "known.slope_error"), -0.1, 1e-3, "tolerances of the scenario")
    assert "permittivity" in " ".join(found.said)


def test_legs_with_another_density_differ_in_the_slope() -> None:
    texts = ["dip 10 in, 5.5 mA", "dip 90 in, 17.5 mA"]  # 12 mA over 80 in, where the range of 100 in wants 12.8
    found = adjusted_in(study_of("wet_leg_tank"), texts, dip_within="0.1 in", meter_within="0.01 mA")
    assert isinstance(found, Adjusting)
    assert found.key == "range"
    close(value(found, "known.slope_error"), 12.0 / 12.8 - 1.0, 1e-9, "rounding")
    assert "another density of the liquid" in " ".join(found.said)


def test_a_case_that_is_printed_in_inches_is_told_in_inches() -> None:
    """By hand: 7.3 mA is 3.3/16 of 100 in, 16.4 mA 12.4/16; their line is 4 mA at 20 - 3.3*60/9.1 in."""
    texts = ["dip 20 in, 7.3 mA", "dip 80 in, 16.4 mA"]
    found = adjusted_in(study_of("wet_leg_tank"), texts, dip_within="0.1 in", meter_within="0.01 mA")
    assert isinstance(found, Adjusting)
    close(value(found, "known.shown[1]"), 20.625 * 0.0254, 1e-9, "rounding")
    close(value(found, "known.shown[2]"), 77.5 * 0.0254, 1e-9, "rounding")
    assert found.sheet["known.shown[1]"].text == "20.625 in"
    assert "4 mA at \u22121.758 in" in " ".join(found.said)
    assert not [entry.text for entry in found.sheet.entries.values() if entry.text.endswith(" mm")]
    assert "120.0 in" in refused("dip 120 in, 7.3 mA", name="wet_leg_tank")


# ---------------------------------------------------------------- what cannot be taken


@pytest.mark.parametrize(
    ("texts", "words"),
    [
        (("dip 1.35 m, 12 mA", "dip 1350 mm, 13 mA"), "two different levels"),
        (("dip 3.01 m, 19 mA",), "a level that can be measured"),
        (("dip 50 mm, 4.1 mA",), "a level that can be measured"),
        (("dip 2.95 m, 19 mA",), "a level that the current can tell"),
        (("dip 1.35 m, 20.5 mA",), "the current stops at"),
        (("dip 1.35 m, 21.5 mA",), "no measurement information"),
        (("dip 1.35 m, 12 mA", "dip 1.8 m, 12 mA"), "The level moved and the signal did not"),
        (("dip 1.35 m, 12 mA", "dip 1.8 m, 500 us"), "two readings of one kind"),
        (("dip 1 m, 8 mA", "dip 1.5 m, 9 mA", "dip 2 m, 10 mA"), "given once or twice"),
        ((), "given once or twice"),
        (("dip 1.35 m",), "a dip and a reading"),
        (("12 mA",), "a dip and a reading"),
        (("dip 1,35 m, 12 mA",), "a decimal sign is a point"),
        (("dip 1.35 m, 12 mA, 13 mA",), "a dip and a reading"),
        (("dip 1.35 kg, 12 mA",), "a unit of mass"),
        (("dip nan m, 12 mA",), "finite"),
        (("dip 1e400 m, 12 mA",), "must be"),
        (("dip 1.35 m, 12 mA, digital x",), "the digital level"),
        (("dip 1.35 m, 300 pF",), "No scale of this case is read as a capacitance"),
        (("dip 1.35 m, 12 Pa.s",), "must be"),
        (("",), "a dip and a reading"),
        (("dip \x1b[2J, 12 mA",), "must be"),
    ],
)
def test_known_levels_that_cannot_be_taken(texts: tuple[str, ...], words: str) -> None:
    assert words.casefold() in refused(*texts).casefold()


def test_a_voltage_is_read_on_the_resistor_that_is_named() -> None:
    assert "no test resistor is stated" in refused("dip 40 in, 120 mV", name="tilted_vessel").casefold()
    assert "a resistance above 0" in refused("dip 1.35 m, 3 V", on="0 ohm")
    found = adjusted_in(study_of(SPIRIT), ["dip 1.35 m, 2.85 V"], "250 ohm")
    assert isinstance(found, Adjusting)
    close(1e3 * value(found, "known.current[1]"), 11.4, 1e-9, "2.85 V on 250 ohm")
    close(1e3 * value(found, "known.current_digit[1]"), 0.04, 1e-9, "10 mV on 250 ohm")


@pytest.mark.parametrize(("name", "text"), [("dip_within", "-1 mm"), ("dip_within", "3 kg"), ("meter_within", "1 A")])
def test_widths_that_cannot_be_taken(name: str, text: str) -> None:
    assert f"--{name.replace('_', '-')} must be" in refused("dip 1.35 m, 12 mA", **{name: text})


def test_levels_that_tell_nothing_together_are_refused() -> None:
    """20 mm apart and each known within 300 mm: the slope would be known to 36 times itself."""
    assert "known well enough, to tell anything" in refused(
        "dip 1.178 m, 6.2 mA", "dip 1.158 m, 16 mA", dip_within="300 mm"
    )


@given(
    dips=st.lists(st.floats(0.1, 2.8), min_size=1, max_size=2),
    currents=st.tuples(st.floats(3.9, 20.4), st.floats(3.9, 20.4)),
    digital=st.one_of(st.none(), st.floats(-10.0, 10.0)),
    widths=st.tuples(st.sampled_from(["", "0 mm", "3 mm", "9 m"]), st.sampled_from(["", "0 mA", "0.01 mA", "10 mA"])),
)
@settings(max_examples=60, deadline=None)
def test_whatever_was_read_is_judged_whole_or_refused(
    dips: list[float], currents: tuple[float, float], digital: float | None, widths: tuple[str, str]
) -> None:
    tail = "" if digital is None else f", digital {digital:.3f} m"
    texts = [f"dip {dip:.3f} m, {current:.3f} mA{tail}" for dip, current in zip(dips, currents, strict=False)]
    found = adjusted_in(study_of(SPIRIT), texts, "", *widths)
    if isinstance(found, tuple):
        assert all("must be" in each.sentence() for each in found)
        return
    assert found.sheet.faults == []
    assert all(entry.known for entry in found.sheet.entries.values())
    assert found.said


# ---------------------------------------------------------------- the command

WORDS = "signal", "examples/spirit_receiver_isolator.yaml", "--known", "dip 400 mm, 5.85 mA", "--known"


def test_the_command_names_range_trim_and_cautions() -> None:
    outcome = onedatum(*WORDS, "dip 2600 mm, 18.90 mA", "--dip-within", "2 mm", "--meter-within", "0.01 mA")
    assert outcome.code == 0
    assert "The readings lie on 4 mA at" in outcome.out
    assert "replaces neither certificate nor inspection" in outcome.out
    assert "test the alarms afterwards" in outcome.out
    assert "u_g = " not in outcome.out


def test_the_command_shows_the_working_and_gives_data() -> None:
    outcome = onedatum(*WORDS, "dip 2600 mm, 18.90 mA", "--working")
    assert "g = (h_2 - h_1) / (H_2 - H_1) - 1" in outcome.out
    data = json.loads(onedatum(*WORDS, "dip 2600 mm, 18.90 mA", "--json").out)
    assert data["difference"] == "range"
    assert any(number["name"] == "known.range[4 mA]" for number in data["numbers"])


def test_the_command_refuses_what_it_cannot_take() -> None:
    outcome = onedatum(*WORDS, "dip 0.4 m, 18.90 mA")
    assert outcome.code == 2
    assert "two different levels" in outcome.err
    outcome = onedatum(*WORDS[:-1], "--level", "1 m")
    assert outcome.code == 2
    assert "Give one of" in outcome.err
