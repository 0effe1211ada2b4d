"""Where no simple check of the circuit is made, or none can be yet: Lo/Ro, refusals, unknown and doubtful values.

Lo/Ro and the figures for unknown cable: IEC 60079-25, read second-hand; the standard atmosphere: IEC 60079-0, read;
the bounds of what is plausible: from memory or estimates.
"""

from __future__ import annotations

import pytest

from onedatum.jobs.safety_sheets import safety_sheets
from onedatum.study.result import Study
from onedatum.verdicts import Effect, Verdict
from tests.closeness import close
from tests.study.test_area import asked
from tests.study.test_circuit import ALONE, NO_HART, SOLVENT, circuit, holds, keys, number, solvent, verdicts
from tests.study.variants import study_with

# ---------------------------------------------------------------- inductance per resistance

OF_CABLE = ("    inductance: 0.7 uH/m\n", "    inductance: 0.7 uH/m\n    inductance_per_resistance: 30 uH/ohm\n")
RATIO = (("Lo: 17 mH", "Lo: 3 mH"), ("Li: 0.2 mH", "Li: 0.03 mH"), ("length: 180 m", "length: 4500 m"), NO_HART, ALONE)


def test_where_the_sum_fails_the_ratio_may_hold() -> None:
    study = solvent(*RATIO, OF_CABLE, ("capacitance: 110 pF/m", "capacitance: 60 pF/m"))
    assert number(study, "circuit.inductance", 1e-3) > 3.0
    assert verdicts(study)["circuit-ratio"] is Verdict.SUITS
    assert "circuit-inductance" not in verdicts(study)
    assert circuit(study).longest_by_inductance is None
    close(number(study, "loop.cable.inductance_per_resistance", 1e-6), 30.0, 3e-8, "as stated")


def test_the_figure_for_unknown_cable_is_not_taken_for_a_cable_whose_inductance_is_known() -> None:
    """0.7 uH/m over 39 ohm/km is 18 uH/ohm, over thicker cores more: the cable's own data go before any figure."""
    assert "circuit-ratio" not in verdicts(solvent(*RATIO))
    bare = ("    inductance: 0.7 uH/m\n", "")
    study = solvent(*RATIO, bare, ("capacitance: 110 pF/m", "capacitance: 60 pF/m"))
    close(number(study, "loop.cable.inductance_per_resistance", 1e-6), 30.0, 3e-8, "the figure for unknown cable")
    assert verdicts(study)["circuit-ratio"] is Verdict.SUITS


def test_the_ratio_is_not_usable_above_one_per_cent() -> None:
    """Li above 1 % of Lo: the sum decides, whatever Lo/Ro is."""
    study = solvent(*RATIO[:1], ("Li: 0.2 mH", "Li: 0.031 mH"), *RATIO[2:])
    assert "circuit-ratio" not in verdicts(study)
    assert verdicts(study)["circuit-inductance"] is Verdict.DOES_NOT_SUIT


def test_a_ratio_that_fails_as_well_leaves_the_length_by_the_sum() -> None:
    """Neither holds at 4500 m: a shorter cable does by the sum, so there is a longest one and it is 4243 m."""
    study = solvent(*RATIO, OF_CABLE, ("225 uH/ohm", "29 uH/ohm"))
    assert verdicts(study)["circuit-ratio"] is Verdict.DOES_NOT_SUIT
    assert "check:circuit-ratio" in keys(study, Effect.BLOCKS)
    longest = circuit(study).longest_by_inductance
    assert longest is not None
    close(longest.value, (3e-3 - 0.03e-3) / 0.7e-6, 1e-6, "rounding")


@pytest.mark.parametrize(
    "change",
    [
        ("construction: two or three cores, with or without screen", "construction: other"),
        ("construction: two or three cores, with or without screen", "construction: unknown"),
        ("Io: 88 mA", "Io: 3.1 A"),
        ("    Lo_per_Ro: 225 uH/ohm\n", ""),
        ("    Lo_per_Ro: 225 uH/ohm\n", "    Lo_per_Ro: unknown\n"),
    ],
)
def test_the_figure_for_unknown_cable_is_for_conventional_cable_and_three_amperes(change: tuple[str, str]) -> None:
    bare = ("    inductance: 0.7 uH/m\n", "")
    study = solvent(*RATIO, bare, change)
    assert "circuit-ratio" not in verdicts(study)
    assert verdicts(study)["circuit-inductance"] is not Verdict.SUITS


def test_a_stated_ratio_of_the_cable_goes_before_the_figure() -> None:
    stated = ("    inductance: 0.7 uH/m\n", "    inductance: 0.7 uH/m\n    inductance_per_resistance: 230 uH/ohm\n")
    assert verdicts(solvent(*RATIO, stated))["circuit-ratio"] is Verdict.DOES_NOT_SUIT


def test_cable_data_that_are_not_stated_are_the_figures_of_conventional_cable_only() -> None:
    """200 pF/m and 1 uH/m (read second-hand), said to be assumed; another construction is asked."""
    bare = ("    capacitance: 110 pF/m\n", ""), ("    inductance: 0.7 uH/m\n", ""), ALONE, NO_HART
    study = solvent(*bare)
    close(number(study, "circuit.cable_capacitance", 1e-9), 36.0, 3.6e-8, "180 m of 200 pF/m")
    close(number(study, "circuit.cable_inductance", 1e-3), 0.18, 2e-10, "180 m of 1 uH/m")
    assert {"loop.cable.capacitance", "loop.cable.inductance"} <= {each.path for each in study.assumptions}
    other = solvent(*bare, ("construction: two or three cores, with or without screen", "construction: other"))
    assert {"loop.cable.capacitance", "loop.cable.inductance"} <= {each.path for each in other.questions}
    assert not holds(other)


def test_the_capacitance_to_the_screen_is_added() -> None:
    close(number(solvent(), "circuit.cable_capacitance", 1e-9), 180 * 0.270, 1e-7, "110 and 160 pF/m on 180 m")


# ---------------------------------------------------------------- refusals

REFUSALS = {
    "several": (("sources: one", "sources: several"), "Several sources"),
    "not linear": (("characteristic: linear", "characteristic: not linear"), "not linear"),
    "oxygen": (("gas_space: air", "gas_space: more oxygen than air"), "gas space"),
    "hot": (("max: 35 degC}", "max: 70 degC}"), "above 60"),
    "cold": (("min: -5 degC", "min: -30 degC"), "below"),
    "pressure": (("operating: 0 bar(g)", "operating: 2 bar(g)"), "above 1.1"),
    "hot for all that is known": (
        ("18 degC, within: 1 K, min: -5 degC, max: 35 degC}", "59.5 degC, within: 2 K}"),
        "60",
    ),
    "pressure at times": (("operating: 0 bar(g)", "operating: {value: 0 bar(g), max: 0.5 bar(g)}"), "above 1.1"),
    "vacuum": (("operating: 0 bar(g)", "operating: -0.5 bar(g)"), "below 0.8"),
}


@pytest.mark.parametrize("name", REFUSALS)
def test_what_the_simple_check_is_not_made_for_is_refused_by_name(name: str) -> None:
    change, word = REFUSALS[name]
    study = solvent(change)
    finding = next(each for each in study.findings if each.key == "circuit-refused")
    assert finding.effect is Effect.WARNING
    assert any(word in link.text for link in finding.chain), [link.text for link in finding.chain]
    assert not {key for key in verdicts(study) if key.startswith("circuit-")}
    assert not holds(study)
    assert "zone.assessment" in {question.path for question in study.questions}
    assert study.order != "not blocked"
    assessed = solvent(change, ("drawing: Z-460", "assessment: A-12 (invented)\n  drawing: Z-460"))
    assert "circuit-refused" in keys(assessed, Effect.WARNING)
    assert not holds(assessed)
    assert assessed.order == "not blocked"


def test_both_ends_of_the_atmosphere_are_within_it() -> None:
    study = solvent(
        ("min: -5 degC, max: 35 degC}", "min: -20 degC, max: 60 degC}"),
        ("operating: 0 bar(g)", "operating: 1.1 bar(a)"),
    )
    assert circuit(study).refused == ()


# ---------------------------------------------------------------- what is not known, or doubtful

SOURCE = ("level: ia\n    for_group", "for_group: IIB", "Uo: 27 V", "Io: 88 mA", "Po: 0.6 W", "Co: 705 nF", "Lo: 17 mH")
DEVICE = ("      level: ia", "      group: IIC", "Ui: 30 V", "Ii: 100 mA", "Pi: 0.9 W", "Ci: 10 nF", "Li: 0.2 mH")


def said_to_hold(study: Study) -> bool:
    """Whether a finding or the sheet of the circuit says that the simple check holds."""
    sheet = next(sheet for sheet in safety_sheets(study) if "circuit" in sheet.title)
    return holds(study) or " holds by the values" in sheet.answer


@pytest.mark.parametrize("old", [*SOURCE, *DEVICE, "sources: one", "characteristic: linear", "earth_points: one"])
def test_one_value_of_a_certificate_not_known_is_enough_not_to_hold(old: str) -> None:
    name, _, value = old.partition(": ")
    study = solvent((old, f"{name}: unknown{value[value.find(chr(10)) :] if chr(10) in value else ''}"))
    assert not said_to_hold(study)
    waited_for = [path for path in asked(study) if path.startswith("circuit.")]
    assert [path.rpartition(".")[2] for path in waited_for] == [name.strip()]


@pytest.mark.parametrize("old", [*SOURCE[:-1], *DEVICE[:-2], "sources: one", "characteristic: linear"])
def test_none_is_no_value_of_a_certificate(old: str) -> None:
    """Apparatus may have no capacitance and no inductance inside; everything else it has, or the check is not made."""
    name, _, value = old.partition(": ")
    study = solvent((old, f"{name}: none{value[value.find(chr(10)) :] if chr(10) in value else ''}"))
    assert not said_to_hold(study)


@pytest.mark.parametrize(
    ("change", "path"),
    [
        (("length: 180 m", "length: unknown"), "loop.cable.length"),
        (("gas_space: air", "gas_space: unknown"), "zone.gas_space"),
        (("operating: 0 bar(g)", "operating: unknown"), "pressure.operating"),
        (
            ("temperature: {value: 18 degC, within: 1 K, min: -5 degC, max: 35 degC}", "temperature: unknown"),
            "medium.temperature",
        ),
        (("group: IIA\n", "group: unknown\n"), "zone.group"),
    ],
)
def test_one_value_of_the_place_not_known_is_enough_not_to_hold(change: tuple[str, str], path: str) -> None:
    study = solvent(change)
    assert path in {question.path for question in study.questions}
    assert not said_to_hold(study)


@pytest.mark.parametrize("devices", ["", "  devices: none\n"])
def test_a_circuit_without_apparatus_is_not_said_to_hold(devices: str) -> None:
    text = SOLVENT.read_text(encoding="utf-8")
    listed = text[text.index("  devices:\n") : text.index("  earth_points: one")]
    study = solvent((listed, devices))
    assert "circuit.devices" in {each.path for each in study.requirements}
    assert not said_to_hold(study)


def test_while_one_test_of_the_half_is_open_what_may_be_used_is_open() -> None:
    study = solvent(("Li: 0.2 mH", "Li: unknown"))
    halving = circuit(study).halving
    assert halving is not None
    assert (halving.over_capacitance, halving.over_inductance, halving.applies) == (True, None, None)
    assert not halving.capacitance.known
    assert verdicts(study)["circuit-capacitance"] is not Verdict.SUITS
    assert any(path.endswith(".Li") for path in study.sheet["circuit.usable_capacitance"].waits_for)


def test_one_test_that_is_not_triggered_decides_the_half() -> None:
    """Li unknown, Ci not above 1 % of Co: the whole Co is usable whatever Li is."""
    study = solvent(("Li: 0.2 mH", "Li: unknown"), ("Ci: 10 nF", "Ci: 7 nF"))
    assert verdicts(study)["circuit-capacitance"] is Verdict.SUITS
    assert verdicts(study)["circuit-inductance"] is not Verdict.SUITS


@pytest.mark.parametrize(
    ("change", "path"),
    [
        (("Po: 0.65 W", "Po: 0.3 W"), "circuit.source.Po"),
        (("Po: 0.65 W", "Po: 0.85 W"), "circuit.source.Po"),
        (("Co: 650 nF", "Co: 650 uF"), "circuit.source.Co"),
        (("Co: 650 nF", "Co: 0.65 nF"), "circuit.source.Co"),
        (("Lo: 16 mH", "Lo: 16 uH"), "circuit.source.Lo"),
        (("Lo: 16 mH", "Lo: 16 H"), "circuit.source.Lo"),
        (("resistance: 300 ohm", "resistance: 200 ohm"), "loop.barrier.resistance"),
    ],
)
def test_a_value_that_does_not_go_with_the_others_is_asked_once_more(change: tuple[str, str], path: str) -> None:
    """Po far from Uo Io / 4, uF for nF, uH for mH, a barrier of 200 ohm where Uo / Io is 301 ohm."""
    study = study_with(change)
    finding = next(each for each in study.findings if each.key == f"implausible:{path}")
    assert finding.effect is Effect.WARNING
    assert finding.ways_out
    assert f"{path} (by the certificate)" in {question.path for question in study.questions}
    assert not said_to_hold(study)


@pytest.mark.parametrize("change", [("Po: 0.65 W", "Po: 0.66 W"), ("resistance: 300 ohm", "resistance: 327 ohm")])
def test_what_certificates_round_is_not_doubted(change: tuple[str, str]) -> None:
    assert not [each.key for each in study_with(change).findings if each.key.startswith("implausible")]


def test_a_shunt_diode_barrier_without_earth_blocks() -> None:
    """A shunt-diode barrier limits nothing without its earth (IEC 60079-14, from memory)."""
    study = study_with(("earth_points: one", "earth_points: none"))
    assert verdicts(study)["earth-points"] is Verdict.DOES_NOT_SUIT


def test_a_circuit_of_an_isolator_may_float_where_it_stands_500_V() -> None:
    study = solvent(("earth_points: one", "earth_points: none"))
    assert verdicts(study)["earth-points"] is Verdict.SUITS
    assert said_to_hold(study)
    assert study.order == "not blocked"


@pytest.mark.parametrize("points", ["one", "none"])
def test_a_circuit_that_does_not_stand_500_V_to_earth_does_not_hold(points: str) -> None:
    """Then the apparatus itself is an earth: one beside that of the barrier, or one that nobody has stated."""
    study = solvent(("earth_points: one", f"earth_points: {points}"), ("insulated_500_V: yes", "insulated_500_V: no"))
    assert not said_to_hold(study)
    assert study.order != "not blocked"
