"""The loop in a whole case: what is left for the transmitter, the last good current, the longest cable, the table.

Voltages by hand from node to node (Kirchhoff); copper by IEC 60228 as reproduced: 24.5 and 19.5 ohm/km, 0.00393 1/K.
"""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from onedatum.jobs.safety_sheets.loop_drawing import drawing_of
from onedatum.study.loop_table import LoopTable, loop_table
from onedatum.study.result import Study
from onedatum.verdicts import Check, Effect, Finding, Verdict
from tests.closeness import close, exact
from tests.draws import DRAWS
from tests.study.tanks import number
from tests.study.variants import EXAMPLES, WITH_BARRIER, WITH_ISOLATOR, study_with

SOLVENT = EXAMPLES / "solvent_tank.yaml"
ROUNDING = "rounding of a dozen steps"
BARRIER = "{kind: shunt-diode barrier, resistance: 300 ohm}"
NONE = "  other_resistance: none"
CABLE_A_OHM = 2.0 * 120.0 * 0.0245 * (1.0 + 0.00393 * 20.0)
"""Scenario A: 120 m of 0.75 mm2, class 1 or 2, at 40 degC."""
CABLE_SOLVENT_OHM = 2.0 * 180.0 * 0.0195 * (1.0 + 0.00393 * 30.0)
"""180 m of 1.0 mm2, class 5, at 50 degC."""


def blocking(study: Study) -> set[str]:
    """The keys of the findings that block."""
    return {finding.key for finding in study.findings if finding.effect is Effect.BLOCKS}


def check_of(study: Study, key: str) -> Check:
    """The check with this key."""
    return next(check for check in study.checks if check.key == key)


def finding_of(study: Study, key: str) -> Finding:
    """The finding with this key."""
    return next(finding for finding in study.findings if finding.key == key)


def barrier(stated: str, *changes: tuple[str, str]) -> Study:
    """The spirit receiver with another barrier."""
    return study_with((BARRIER, stated), *changes, example=WITH_BARRIER)


# ---------------------------------------------------------------- the table, from node to node


def by_hand(table: LoopTable, source_V: float, drops: dict[str, float], least_V: float) -> None:
    """Walk from the source to the transmitter, element by element, at every current of the table."""
    assert dict(table.drops_V).keys() == drops.keys()
    assert table.terminal_V is not None
    assert table.margin_V is not None
    for place, current_A in enumerate(table.currents_A.tolist()):
        node_V = source_V
        for name, resistance_ohm in drops.items():
            drop = dict(table.drops_V)[name]
            assert drop is not None
            close(drop[place], current_A * resistance_ohm, 1e-9, ROUNDING)
            node_V -= current_A * resistance_ohm
        close(table.terminal_V[place], node_V, 1e-9, ROUNDING)
        close(table.margin_V[place], node_V - least_V, 1e-9, "rounding; the margin is 0.1 V or more")


def test_the_table_with_a_barrier() -> None:
    table = loop_table(barrier(BARRIER, (NONE, "  other_resistance: 12 ohm")))
    close(table.currents_A, [0.0036, 0.004, 0.012, 0.020, 0.0215], 1e-15, "as stated")
    assert table.names[0] == "low failure current"
    assert table.names[-1] == "highest failure current"
    drops = {"input resistor": 250.0, "barrier": 300.0, "cable, both cores": CABLE_A_OHM, "other resistances": 12.0}
    by_hand(table, 22.8, drops, 12.0)


def test_the_table_with_a_barrier_that_drops_over_its_diodes() -> None:
    table = loop_table(barrier("{kind: shunt-diode barrier, resistance: 300 ohm, diode_drop: 0.9 V}"))
    drops = {"input resistor": 250.0, "barrier": 300.0, "cable, both cores": CABLE_A_OHM}
    by_hand(table, 22.8 - 0.9, drops, 12.0)


def test_the_table_with_an_isolator() -> None:
    """The input resistor lies on the other side of the isolator."""
    table = loop_table(study_with(example=SOLVENT))
    close(table.currents_A, [0.0036, 0.004, 0.012, 0.020, 0.022], 1e-15, "as stated")
    by_hand(table, 17.0, {"cable, both cores": CABLE_SOLVENT_OHM}, 12.0)


@pytest.mark.parametrize("none", ["none", "{kind: none}"])
def test_the_table_without_a_barrier(none: str) -> None:
    by_hand(loop_table(barrier(none)), 22.8, {"input resistor": 250.0, "cable, both cores": CABLE_A_OHM}, 12.0)


def test_the_table_leaves_out_what_is_unknown() -> None:
    study = study_with(("current_worst: 21.5 mA", "current_worst: unknown"), ("length: 120 m\n", "length: unknown\n"))
    table = loop_table(study)
    assert table.names == ("low failure current", "4 mA", "12 mA", "20 mA")
    assert table.terminal_V is None
    assert table.margin_V is None
    assert dict(table.drops_V)["cable, both cores"] is None


def test_the_drawing_marks_the_currents_that_starve_the_transmitter() -> None:
    """Scenario A carries up to 19.41 mA: 20 and 21.5 mA fail, 3.6, 4 and 12 mA do not."""
    drawing = drawing_of(study_with())
    assert [column.fails for column in drawing.columns] == [False, False, False, True, True]
    assert not any(column.fails for column in drawing_of(study_with(example=SOLVENT)).columns)


# ---------------------------------------------------------------- properties


@settings(max_examples=3 * DRAWS // 10)
@given(
    st.sampled_from(["barrier", "input", "length", "other"]),
    st.integers(1, 300),
    st.integers(0, 400),
    st.integers(20, 400),
    st.integers(0, 2000),
    st.integers(0, 100),
)
def test_more_resistance_never_raises_the_last_good_current(
    which: str, added: int, barrier_ohm: int, input_ohm: int, length_m: int, other_ohm: int
) -> None:
    before = {"barrier": barrier_ohm, "input": input_ohm, "length": length_m, "other": other_ohm}
    after = {**before, which: before[which] + added}
    last = [number(of_resistances(**stated), "loop.last_good_current") for stated in (before, after)]
    assert last[1] < last[0]


def of_resistances(**stated: int) -> Study:
    """The spirit receiver with these resistances in its loop."""
    return barrier(
        f"{{kind: shunt-diode barrier, resistance: {stated['barrier']} ohm}}",
        ("input_resistor: 250 ohm", f"input_resistor: {stated['input']} ohm"),
        ("length: 120 m\n", f"length: {stated['length']} m\n"),
        (NONE, f"  other_resistance: {stated['other']} ohm"),
    )


@settings(max_examples=DRAWS // 5)
@given(
    st.integers(0, 200),
    st.integers(20, 230),
    st.sampled_from(["0.5", "0.75", "1.0", "1.5", "2.5"]),
    st.integers(0, 70),
    st.sampled_from(["21.5", "22", "22.8"]),
)
def test_the_longest_cable_is_where_the_check_of_the_worst_current_flips(
    barrier_ohm: int, input_ohm: int, area: str, hottest: int, worst: str
) -> None:
    changes = (
        ("input_resistor: 250 ohm", f"input_resistor: {input_ohm} ohm"),
        ("area: 0.75 mm2", f"area: {area} mm2"),
        ("temperature_max: 40 degC", f"temperature_max: {hottest} degC"),
        ("current_worst: 21.5 mA", f"current_worst: {worst} mA"),
    )
    stated = f"{{kind: shunt-diode barrier, resistance: {barrier_ohm} ohm}}"
    longest = number(barrier(stated, *changes), "loop.longest_cable")
    assert longest > 0.0
    for length_m, verdict in (
        (longest * (1.0 - 1e-6), Verdict.SUITS),
        (longest * (1.0 + 1e-6), Verdict.DOES_NOT_SUIT),
    ):
        if length_m <= 20000.0:
            study = barrier(stated, *changes, ("length: 120 m\n", f"length: {length_m:.9f} m\n"))
            assert check_of(study, "worst-current").verdict is verdict


def test_where_no_cable_is_short_enough_the_longest_is_negative() -> None:
    study = study_with()
    assert number(study, "loop.longest_cable") < 0.0
    assert "short enough" in drawing_of(study).longest


# ---------------------------------------------------------------- barrier and isolator


def test_the_diodes_of_the_barrier_take_from_the_lowest_supply_only() -> None:
    """22.8 - 0.9 V over 556.34 ohm (scenario A); without current the transmitter still sees 25.2 V."""
    study = barrier("{kind: shunt-diode barrier, resistance: 300 ohm, diode_drop: 0.9 V}")
    close(number(study, "loop.last_good_current"), (21.9 - 12.0) / (550.0 + CABLE_A_OHM), 1e-12, ROUNDING)
    exact(number(study, "loop.margin_without_current"), number(study_with(), "loop.margin_without_current"))


@pytest.mark.parametrize(("most", "blocks"), [("25.3 V", False), ("25.1 V", True)])
def test_the_supply_keeps_below_the_working_voltage_of_the_barrier(most: str, blocks: bool) -> None:
    """24 V and 5 % are 25.2 V."""
    study = barrier(f"{{kind: shunt-diode barrier, resistance: 300 ohm, working_voltage_max: {most}}}")
    assert ("check:working-voltage" in blocking(study)) is blocks


@pytest.mark.parametrize(("most", "blocks"), [("250 ohm", False), ("249 ohm", True)])
def test_the_receiver_is_a_load_the_isolator_drives(most: str, blocks: bool) -> None:
    study = study_with(("load_max: 600 ohm", f"load_max: {most}"), example=SOLVENT)
    assert ("check:isolator-load" in blocking(study)) is blocks


@pytest.mark.parametrize(("open_circuit", "blocks"), [("36 V", False), ("36.5 V", True)])
def test_the_transmitter_withstands_the_open_circuit_of_the_isolator(open_circuit: str, blocks: bool) -> None:
    study = study_with(("open_circuit: 25 V", f"open_circuit: {open_circuit}"), example=SOLVENT)
    assert ("check:withstands-supply" in blocking(study)) is blocks


def test_other_resistances_count_and_silence_is_told_as_none() -> None:
    counted = barrier(BARRIER, (NONE, "  other_resistance: 12 ohm"))
    close(number(counted, "loop.resistance"), 562.0 + CABLE_A_OHM, 1e-9, ROUNDING)
    silent = study_with((f"{NONE}\n", ""))
    exact(number(silent, "loop.resistance"), number(study_with(), "loop.resistance"))
    assert "loop.other_resistance" in {assumption.path for assumption in silent.assumptions}


def test_an_isolator_that_gives_too_little_blocks_at_the_alarm() -> None:
    """11.9 V are less than 12 V at any current."""
    study = study_with(("terminals: 17.0 V", "terminals: 11.9 V"), example=SOLVENT)
    assert {"alarm-never-comes"} <= blocking(study)
    assert check_of(study, "worst-current").verdict is Verdict.DOES_NOT_SUIT


def test_a_supply_below_the_least_voltage_is_refused_and_blocks() -> None:
    study = study_with(("  supply: 24 V\n", "  supply: 12 V\n"))
    assert [fault.path for fault in study.faults] == ["loop.supply"]
    assert "alarm-never-comes" in blocking(study)


# ---------------------------------------------------------------- findings


def test_a_reverse_acting_range_warns_that_a_dead_loop_looks_full() -> None:
    study = study_with(("4 mA: 100 mm", "4 mA: 2800 mm"), ("20 mA: 2800 mm", "20 mA: 100 mm"), example=WITH_ISOLATOR)
    finding = finding_of(study, "reverse-acting")
    assert finding.effect is Effect.WARNING
    assert any("wire break is 0 mA" in link.text for link in finding.chain)
    assert "reverse-acting" not in {each.key for each in study_with(example=WITH_ISOLATOR).findings}


def test_a_worst_current_below_the_usual_one_is_remarked() -> None:
    assert finding_of(study_with(example=WITH_ISOLATOR), "worst-current-small").effect is Effect.WARNING
    assert "worst-current-small" not in {finding.key for finding in study_with(example=SOLVENT).findings}
