"""The receiver in a whole case: its uncertainty, what it takes for a failure, meters, digital communication.

The solvent tank: span 2750 mm, 12 bit over 0 to 20 mA, level now 1650 mm.
"""

from __future__ import annotations

from math import sqrt

import pytest

from onedatum.physics.loop import usual_bands
from onedatum.study.result import Study
from onedatum.verdicts import Check, Effect, Finding, Verdict
from tests.closeness import close, exact
from tests.study.tanks import number
from tests.study.variants import EXAMPLES, WITH_BARRIER, study_with

SOLVENT = EXAMPLES / "solvent_tank.yaml"
ROUNDING = "rounding of a dozen steps"
SPAN_M = 2.750
CURRENT_A = 0.004 + 0.016 * 1.500 / SPAN_M
"""At 1650 mm."""
ACTS = "    acts_on_failure_currents: yes"


def solvent(*changes: tuple[str, str]) -> Study:
    """The solvent tank with changes."""
    return study_with(*changes, example=SOLVENT)


def bands(*lines: str) -> Study:
    """The solvent tank whose receiver states thresholds of its own."""
    return solvent((ACTS, "\n".join((ACTS, *(f"    {line}" for line in lines)))))


def finding_of(study: Study, key: str) -> Finding:
    """The finding with this key."""
    return next(finding for finding in study.findings if finding.key == key)


def check_of(study: Study, key: str) -> Check:
    """The check with this key."""
    return next(check for check in study.checks if check.key == key)


# ---------------------------------------------------------------- uncertainty


def test_the_parts_of_the_receiver_and_their_sum() -> None:
    """Steps q/sqrt(12), errors rectangular (JCGM 100, F.2.2.1 and 4.3.7); 0.1 % of 20 mA and of the resistor."""
    study = solvent()
    count = SPAN_M / (4096.0 * 0.8)
    card, resistor = SPAN_M * 0.001 * 20.0 / 16.0, SPAN_M * 0.001 * 20.0 / 16.0
    close(number(study, "loop.level_per_count"), count, 1e-12, ROUNDING)
    close(number(study, "loop.card_error"), card, 1e-12, ROUNDING)
    close(number(study, "loop.resistor_error"), resistor, 1e-12, ROUNDING)
    exact(number(study, "loop.offset_error"), 0.0)
    expected = sqrt(count**2 / 12.0 + (card**2 + resistor**2) / 3.0)
    close(number(study, "loop.receiver_standard"), expected, 1e-12, ROUNDING)


def test_an_offset_counts_by_the_input_resistor() -> None:
    """10 mV on 250 ohm are 0.04 mA: 6.875 mm of 2750 mm over 16 mA."""
    study = solvent(("offset_voltage: none", "offset_voltage: 10 mV"))
    close(number(study, "loop.offset_error"), 0.006875, 1e-12, ROUNDING)


def test_a_reverse_acting_range_makes_the_same_receiver_no_better() -> None:
    study = solvent(("4 mA: 150 mm", "4 mA: 2900 mm"), ("20 mA: 2900 mm", "20 mA: 150 mm"))
    close(number(study, "loop.receiver_standard"), number(solvent(), "loop.receiver_standard"), 1e-12, ROUNDING)


def test_what_the_uncertainty_needs_is_asked_for() -> None:
    study = solvent(("    range_high: 20 mA\n", ""))
    assert "loop.receiver.range_high" in {question.path for question in study.questions}
    assert not study.sheet["overfill.high_high"].known
    assert study.order == "waits for answers"


# ---------------------------------------------------------------- what the current tells


def test_the_usual_bands_hold_until_the_receiver_states_its_own() -> None:
    exact(solvent().safe.loop.bands.currents_A, [0.0036, 0.0038, 0.0205, 0.021])
    assert usual_bands().failure_high_A.value == 0.021
    study = bands("failure_low: 3.7 mA", "failure_high: 21.5 mA")
    close(study.safe.loop.bands.currents_A, [0.0037, 0.0038, 0.0205, 0.0215], 1e-15, "as stated")
    assert study.safe.loop.bands.failure_high_A.source == "case"
    assert study.faults == ()


def test_the_ends_of_the_information_are_those_of_the_range() -> None:
    study = solvent(("{low: 3.8 mA, high: 20.5 mA}", "{low: 3.9 mA, high: 20.8 mA}"))
    close(study.safe.loop.bands.currents_A, [0.0036, 0.0039, 0.0208, 0.021], 1e-15, "as stated")


@pytest.mark.parametrize(
    ("line", "path"),
    [("failure_high: 20.2 mA", "loop.receiver.failure_high"), ("failure_low: 3.9 mA", "loop.receiver.failure_low")],
)
def test_a_current_that_carries_a_level_must_not_read_as_a_failure(line: str, path: str) -> None:
    study = bands(line)
    assert path in {fault.path for fault in study.faults}
    assert study.order == "blocked"


def test_a_receiver_that_heeds_no_failure_current_is_warned_of() -> None:
    study = solvent(("acts_on_failure_currents: yes", "acts_on_failure_currents: no"))
    finding = finding_of(study, "failure-unheeded")
    assert finding.effect is Effect.WARNING
    assert finding.safety
    assert "failure-unheeded" not in {each.key for each in solvent().findings}


# ---------------------------------------------------------------- meters


def test_a_voltmeter_on_the_test_resistor_and_a_milliammeter_across_it() -> None:
    """10 ohm and 10 Mohm: a millionth; 5 ohm across 10 ohm takes two thirds (current divider)."""
    study = solvent()
    close(number(study, "loop.meter_loading"), -10.0 / (10.0 + 10e6), 1e-15, ROUNDING)
    close(number(study, "loop.meter_voltage"), CURRENT_A * 10.0 * 10e6 / (10.0 + 10e6), 1e-12, ROUNDING)
    close(number(study, "loop.current_read_across"), CURRENT_A * 10.0 / 15.0, 1e-12, ROUNDING)


def test_a_poor_voltmeter_reads_low() -> None:
    study = solvent(("voltmeter_resistance: 10 Mohm", "voltmeter_resistance: 1 kohm"))
    close(number(study, "loop.meter_voltage"), CURRENT_A * 10.0 / 1.01, 1e-12, ROUNDING)


def test_no_meter_is_worked_where_none_is_stated() -> None:
    study = study_with(example=WITH_BARRIER)
    assert {"loop.meter_voltage", "loop.current_read_across", "loop.receiver_standard"} & set(study.entries) == set()


# ---------------------------------------------------------------- digital communication


def longest_by_bisection(resistance_ohm: float, capacitance_F: float) -> float:
    """Length at which the product of resistance and capacitance is 65 us, by halving."""
    ohm_per_m, F_per_m = 2.0 * 0.0195 * (1.0 + 0.00393 * 30.0), 270e-12
    low, high = 0.0, 20000.0
    for _ in range(100):
        middle = 0.5 * (low + high)
        product = (resistance_ohm + ohm_per_m * middle) * (capacitance_F + F_per_m * middle)
        low, high = (middle, high) if product < 65e-6 else (low, middle)
    return low


def test_the_longest_cable_for_hart_counts_the_cable_in_both_factors() -> None:
    """250 ohm, 15 nF of devices, 110 pF/m between the cores and 160 pF/m to the screen."""
    found = solvent().safe.loop.hart_longest_cable
    assert found is not None
    close(found.value, longest_by_bisection(250.0, 15e-9), 1e-6, "halved a hundred times")


@pytest.mark.parametrize(
    ("change", "key"),
    [
        (("input_resistor: 250 ohm", "input_resistor: 200 ohm"), "hart-least"),
        (("input_resistor: 250 ohm", "input_resistor: 1200 ohm"), "hart-most"),
        (("length: 180 m", "length: 800 m"), "hart-cable"),
    ],
)
def test_what_hart_misses_is_remarked_and_never_blocks(change: tuple[str, str], key: str) -> None:
    """The limits are from memory or second hand (hart.json)."""
    load = ("load_max: 600 ohm", "load_max: 1500 ohm")
    study = solvent(change, load)
    assert check_of(study, key).verdict is Verdict.DOES_NOT_SUIT
    assert check_of(study, key).remark
    assert finding_of(study, f"check:{key}").effect is Effect.WARNING
    hart = {each.key for each in study.findings if "hart" in each.key and each.effect is Effect.BLOCKS}
    assert hart == set()


@pytest.mark.parametrize("used", ["no", "unknown"])
def test_without_hart_nothing_of_it_is_worked(used: str) -> None:
    study = solvent(("    used: yes", f"    used: {used}"))
    assert study.safe.loop.hart_longest_cable is None
    assert not any("hart" in name for name in study.entries)
    assert not any(check.key.startswith("hart-") for check in study.checks)
