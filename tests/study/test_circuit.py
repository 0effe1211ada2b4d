"""The intrinsically safe circuit of a case: the rule of one half, the longest cable, Lo/Ro, refusals, what is unknown.

Rule of one half and Lo/Ro: IEC 60079-14 and 60079-25, from memory; cable of unknown data: IEC 60079-25, read
second-hand; the standard atmosphere: IEC 60079-0, read.
"""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from onedatum.study.ignition import CIRCUIT_KEYS, CircuitChapter
from onedatum.study.result import Study
from onedatum.verdicts import Effect, Verdict
from tests.closeness import close
from tests.reference import case
from tests.study.variants import EXAMPLES, study_with

SOLVENT = EXAMPLES / "solvent_tank.yaml"
CABLE = (
    ("length: 120 m\n", "length: 300 m\n"),
    ("capacitance: 110 pF/m", "capacitance: 200 pF/m"),
    ("inductance: 0.7 uH/m", "inductance: 1 uH/m"),
)
IIC = (
    ('group: {value: IIB, source: "ethanol, from memory"}', "group: IIC"),
    ("for_group: IIB", "for_group: IIC"),
    ("Co: 650 nF", "Co: 83 nF"),
    ("Lo: 16 mH", "Lo: 4.2 mH"),
)
BY_SUM = ("    Lo_per_Ro: 225 uH/ohm\n", "")
ALONE = ("    capacitance_to_screen: 160 pF/m\n", "")
NO_HART = ("used: yes", "used: no")
ROUNDING = 1e-6


def circuit(study: Study) -> CircuitChapter:
    """The circuit as worked."""
    assert study.safe.ignition is not None
    assert study.safe.ignition.circuit is not None
    return study.safe.ignition.circuit


def verdicts(study: Study) -> dict[str, Verdict]:
    """The checks of the circuit by key."""
    return {check.key: check.verdict for check in study.checks if check.key.startswith(CIRCUIT_KEYS)}


def keys(study: Study, effect: Effect) -> set[str]:
    """The keys of the findings of an effect."""
    return {finding.key for finding in study.findings if finding.effect is effect}


def holds(study: Study) -> bool:
    """Whether the study says anywhere that the circuit holds."""
    return "circuit-holds" in keys(study, Effect.HOLDS)


def solvent(*changes: tuple[str, str]) -> Study:
    """The solvent tank with changes."""
    return study_with(*changes, example=SOLVENT)


def number(study: Study, name: str, unit: float) -> float:
    """A number of the sheet in a unit."""
    value = study.value(name)
    assert value is not None
    return value / unit


# ---------------------------------------------------------------- the named cases, through a case file


def test_loop_I01() -> None:
    expected = case("loop-I01").expected
    study = study_with(*CABLE, *IIC)
    halving = circuit(study).halving
    assert halving is not None
    assert (halving.over_capacitance, halving.over_inductance, halving.applies) == (True, True, expected["rule50"])
    for name, result, unit in (
        ("circuit.usable_capacitance", "C_limit_nF", 1e-9),
        ("circuit.capacitance", "C_total_nF", 1e-9),
        ("circuit.usable_inductance", "L_limit_mH", 1e-3),
        ("circuit.inductance", "L_total_mH", 1e-3),
    ):
        close(number(study, name, unit), expected[result], 1e-9 * expected[result], "tolerance of the case")
    found = verdicts(study)
    failing = {key for key, verdict in found.items() if verdict is not Verdict.SUITS}
    assert failing == {"circuit-capacitance"}
    assert {"circuit-voltage[1]", "circuit-current[1]", "circuit-power[1]", "circuit-inductance"} <= set(found)
    assert "check:circuit-capacitance" in keys(study, Effect.BLOCKS)
    assert holds(study) is expected["pass"]


def test_loop_I02() -> None:
    study = study_with(*CABLE, *IIC)
    case("loop-I02").check(number(study, "circuit.longest_by_capacitance", 1.0))
    close(number(study, "circuit.longest_by_inductance", 1.0), 2000.0, 2e-6, "tolerance of the case")


def test_loop_I04() -> None:
    """As corrected: the rule of one half needs both, and Li is not above 1 % of Lo."""
    expected = case("loop-I04").expected
    study = study_with(*CABLE)
    chapter = circuit(study)
    assert chapter.halving is not None
    assert (chapter.halving.over_capacitance, chapter.halving.over_inductance) == (True, False)
    assert chapter.halving.applies is expected["rule50"]
    assert "circuit.usable_capacitance" not in study.sheet
    limits = {line.text: line.limit.value or 0.0 for line in chapter.inequalities}
    close(limits["Ci + Cc <= C usable"] * 1e9, expected["C_limit_nF"], 1e-6, "tolerance of the case")
    close(limits["Li + Lc <= L usable"] * 1e3, expected["L_limit_mH"], 1e-8, "tolerance of the case")
    close(number(study, "circuit.capacitance", 1e-9), expected["C_total_nF"], 7e-8, "tolerance of the case")
    close(number(study, "circuit.inductance", 1e-3), expected["L_total_mH"], 4e-10, "tolerance of the case")
    assert set(verdicts(study).values()) == {Verdict.SUITS}
    assert holds(study) is expected["pass"]


@pytest.mark.parametrize(
    ("change", "key"),
    [
        (("Ui: 30 V", "Ui: 27.9 V"), "circuit-voltage[1]"),
        (("Ii: 100 mA", "Ii: 92.9 mA"), "circuit-current[1]"),
        (("Pi: 0.9 W", "Pi: 0.64 W"), "circuit-power[1]"),
        (("      level: ia", "      level: ib"), "circuit-level-inside"),
        (("for_group: IIB", "for_group: IIA"), "circuit-group-source"),
        (("      group: IIC", "      group: IIA"), "circuit-group-device[1]"),
        (("earth_resistance: 0.5 ohm", "earth_resistance: 1.1 ohm"), "earth-barrier"),
        (("earth_points: one", "earth_points: several"), "earth-points"),
    ],
)
def test_each_line_that_fails_blocks(change: tuple[str, str], key: str) -> None:
    study = study_with(change)
    assert verdicts(study)[key] is Verdict.DOES_NOT_SUIT
    assert f"check:{key}" in keys(study, Effect.BLOCKS)
    assert not holds(study)


def test_the_internal_values_of_all_apparatus_count_together() -> None:
    second = (
        "      Li: 0.1 mH\n",
        "      Li: 0.1 mH\n    - {name: indicator, level: ia, group: IIC, Ui: 30 V, Ii: 100 mA, Pi: 0.9 W, "
        "Ci: 0 nF, Li: 0.07 mH}\n",
    )
    study = study_with(*CABLE, second)
    assert circuit(study).devices == ("level transmitter", "indicator")
    assert circuit(study).halving is not None
    assert circuit(study).halving.applies is True  # type: ignore[union-attr]
    close(number(study, "circuit.usable_capacitance", 1e-9), 325.0, 1e-6, "half of 650 nF")
    weak = study_with(*CABLE, (second[0], second[1].replace("Ui: 30 V", "Ui: 27 V")))
    assert verdicts(weak)["circuit-voltage[2]"] is Verdict.DOES_NOT_SUIT


# ---------------------------------------------------------------- the longest cable is where the check flips


def flips(study_of: object, longest_m: float, key: str) -> None:
    """Just below the length the check holds, just above it does not."""
    below, above = (study_of(f"{longest_m * share:.9f} m") for share in (1 - ROUNDING, 1 + ROUNDING))  # type: ignore[operator]
    found = [next(check.verdict for check in study.checks if check.key == key) for study in (below, above)]
    assert found == [Verdict.SUITS, Verdict.DOES_NOT_SUIT]
    assert f"check:{key}" in keys(above, Effect.BLOCKS) or key == "worst-current"


@given(st.floats(60.0, 400.0), st.floats(0.0, 60.0), st.sampled_from(["0.01 mH", "0.5 mH"]))
@settings(max_examples=5)
def test_by_capacitance(per_length_pF: float, internal_nF: float, internal_mH: str) -> None:
    common = (
        ("capacitance: 110 pF/m", f"capacitance: {per_length_pF:.6f} pF/m"),
        ("Ci: 10 nF", f"Ci: {internal_nF:.6f} nF"),
        ("Li: 0.2 mH", f"Li: {internal_mH}"),
        ALONE,
        NO_HART,
    )
    longest = number(solvent(*common), "circuit.longest_by_capacitance", 1.0)
    flips(lambda length: solvent(*common, ("length: 180 m", f"length: {length}")), longest, "circuit-capacitance")


@given(st.floats(0.4, 2.0), st.floats(0.0, 2.0))
@settings(max_examples=5)
def test_by_inductance(per_length_uH: float, internal_mH: float) -> None:
    common = (
        ("inductance: 0.7 uH/m", f"inductance: {per_length_uH:.6f} uH/m"),
        ("Li: 0.2 mH", f"Li: {internal_mH:.6f} mH"),
        ("Lo: 17 mH", "Lo: 6 mH"),
        BY_SUM,
        NO_HART,
    )
    longest = number(solvent(*common), "circuit.longest_by_inductance", 1.0)
    flips(lambda length: solvent(*common, ("length: 180 m", f"length: {length}")), longest, "circuit-inductance")


@given(st.floats(12.5, 17.0), st.sampled_from(["0.5 mm2", "0.75 mm2", "1.5 mm2"]))
@settings(max_examples=5)
def test_by_voltage(terminals_V: float, area: str) -> None:
    common = (
        ("voltage_at_its_terminals: 17.0 V", f"voltage_at_its_terminals: {terminals_V:.6f} V"),
        ("area: 1.0 mm2", f"area: {area}"),
        NO_HART,
    )
    longest = number(solvent(*common), "loop.longest_cable", 1.0)
    flips(lambda length: solvent(*common, ("length: 180 m", f"length: {length}")), longest, "worst-current")


# ---------------------------------------------------------------- groups


@given(
    st.floats(20.0, 1500.0),
    st.floats(1.0, 10.0),
    st.floats(0.0, 30.0),
    st.floats(0.0, 0.3),
    st.floats(10.0, 400.0),
)
@settings(max_examples=8)
def test_what_passes_in_a_group_passes_in_every_less_demanding_one(
    permitted_nF: float, permitted_mH: float, internal_nF: float, internal_mH: float, length_m: float
) -> None:
    def passes(group: str) -> bool:
        study = solvent(
            ("  group: IIA\n", f"  group: {group}\n"),
            ("for_group: IIB", f"for_group: {group}"),
            ("      group: IIC", f"      group: {group}"),
            ("    group: IIC\n    temperature_class", f"    group: {group}\n    temperature_class"),
            ("  substance: toluene\n", ""),
            ("Co: 705 nF", f"Co: {permitted_nF:.4f} nF"),
            ("Lo: 17 mH", f"Lo: {permitted_mH:.4f} mH"),
            ("Ci: 10 nF", f"Ci: {internal_nF:.4f} nF"),
            ("Li: 0.2 mH", f"Li: {internal_mH:.4f} mH"),
            ("length: 180 m", f"length: {length_m:.3f} m"),
        )
        return set(verdicts(study).values()) == {Verdict.SUITS}

    found = [passes(group) for group in ("IIC", "IIB", "IIA")]
    assert found == sorted(found)


@pytest.mark.parametrize(("group", "cap_nF"), [("IIC", 600.0), ("IIB", 1000.0), ("IIA", 1000.0)])
def test_the_cap_of_the_rule_of_one_half_goes_with_the_group(group: str, cap_nF: float) -> None:
    """600 nF for IIC, 1 uF for the others, from memory: 688 nF are too much for the one and not for the others."""
    halved = ("Co: 705 nF", "Co: 3 uF"), ("Lo: 17 mH", "Lo: 10 mH"), ("Ci: 10 nF", "Ci: 40 nF")
    study = solvent(*halved, ("length: 180 m", "length: 2400 m"), ("for_group: IIB", f"for_group: {group}"), NO_HART)
    close(number(study, "circuit.usable_capacitance", 1e-9), cap_nF, 1e-6, "rounding")
    assert (verdicts(study)["circuit-capacitance"] is Verdict.SUITS) is (group != "IIC")
