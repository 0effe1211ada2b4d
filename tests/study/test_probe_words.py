"""What a probe says of a case that cannot be, in the user's words: at its own place, and only where it matters."""

from __future__ import annotations

import pytest

from tests.closeness import close
from tests.study.test_probe import BARE, CONDUCTIVITY, GLAND, PERMITTIVITY, STAYS, STEEL, TESTED, finding, number, probe
from tests.study.test_probe_media import AT_20, GRAIN, LIGHT, liquid

DRY = (CONDUCTIVITY, "1 pS/m")


@pytest.mark.parametrize("permittivity", ["1.0", "{value: 1.0, within: 0.1}", "{value: 1, max: 1.2}"])
def test_a_liquid_like_its_gas_is_no_fault_of_the_rod(permittivity: str) -> None:
    found = probe((PERMITTIVITY, permittivity), DRY, (STAYS, TESTED), *BARE, *STEEL, GLAND)
    assert not [str(fault) for fault in found.faults]
    assert finding(found, "probe-feels-nothing") is not None
    assert not found.sheet["probe.level_uncertainty"].known


@pytest.mark.parametrize("frequency", ["100 MHz", "5 MHz"])
def test_a_frequency_too_high_for_the_rod_is_told_by_the_highest_that_goes(frequency: str) -> None:
    found = probe(("frequency: 100 kHz", f"frequency: {frequency}"), (STAYS, TESTED))
    (fault,) = (str(each) for each in found.faults if each.path == "probe.frequency")
    assert "probe.frequency must be at most" in fault
    assert "quarter of the wave" in fault
    assert "capacitive." not in fault
    assert "phase_length" not in fault
    assert not found.sheet["probe.level_uncertainty"].known
    kilohertz = float(fault.split("at most about ")[1].split(" kHz")[0])
    assert not [each for each in probe(("100 kHz", f"{0.99 * kilohertz:.1f} kHz")).faults if "frequency" in each.path]


def test_the_highest_frequency_is_that_of_nearly_a_quarter_wave() -> None:
    """The phase grows as the frequency: from 100 kHz on the sheet to 1.5 rad, a quarter being pi/2."""
    found = probe(("frequency: 100 kHz", "frequency: 100 MHz"), (STAYS, TESTED))
    (fault,) = (str(each) for each in found.faults if each.path == "probe.frequency")
    told = float(fault.split("at most about ")[1].split(" kHz")[0])
    close(
        told,
        100.0 * 1.5 / number(probe(), "probe.phase_length"),
        0.01 * told,
        "the liquid acts a little otherwise there",
    )


def test_grain_is_not_called_a_liquid() -> None:
    found = liquid(LIGHT + GRAIN + AT_20)
    own = [
        entry
        for entry in found.sheet.entries.values()
        if entry.name.startswith(("medium.bulk", "medium.perm", "probe."))
    ]
    assert own
    assert not [entry.meaning for entry in own if "liquid" in entry.meaning]
    assert "bulk" in found.sheet["medium.permittivity_worked"].meaning
    assert "moist grain" in found.sheet["medium.bulk.grain_permittivity"].meaning


def test_with_the_permittivity_of_the_gas_unknown_what_is_assumed_is_not_asked_for() -> None:
    gas = ("density: 1.2 kg/m3}", "density: 1.2 kg/m3, permittivity: unknown}")
    pressed = ("operating: 0 bar(g)", "operating: 20 bar(g)")
    for more in ((), (("frequency: 100 kHz", "frequency: 100 MHz"),)):
        found = probe((PERMITTIVITY, "2.3"), DRY, (STAYS, TESTED), *BARE, *STEEL, gas, pressed, *more)
        assert any(each.path == "medium.gas_above.permittivity" for each in found.questions)
        asked = {each.path for each in (*found.questions, *found.requirements)}
        assert "probe.wall.off_axis" not in asked
        assert any(each.path == "probe.wall.off_axis" for each in found.assumptions)


@pytest.mark.parametrize(("allowed", "told"), [("25 mm", False), ("5 mm", True), ("unknown", True)])
def test_an_error_far_below_the_one_allowed_has_its_row_and_no_finding(allowed: str, told: bool) -> None:
    """2.300 to 2.299: 2.15 m x 0.001/1.3 = 1.7 mm; a tenth of 25 mm is 2.5 mm, of 5 mm half a millimetre."""
    found = probe(
        (PERMITTIVITY, "{value: 2.3, min: 2.299, max: 2.3}"), DRY, (STAYS, TESTED), *BARE, *STEEL, GLAND,
        ("error_allowed_of_level: 25 mm", f"error_allowed_of_level: {allowed}"),
    )  # fmt: skip
    close(-number(found, "probe.permittivity_least.error"), 2.15 * 0.001 / 1.3, 1e-9, "by hand")
    assert (finding(found, "probe-change[permittivity at its least]") is not None) is told
    chapter = found.measuring.probe
    assert chapter is not None
    assert any(change.told and "least" in change.text for change in chapter.changes)
