"""Signal, supply and cable of a two-wire loop against worked cases, printed conductor values and node equations."""

from __future__ import annotations

import json
from importlib.resources import files

import numpy as np
import pytest

from onedatum.foundation.errors import QuantityError, ValidityError
from onedatum.foundation.sources import citation
from onedatum.foundation.working import apply
from onedatum.physics import loop
from onedatum.physics.loop import (
    cable_resistance_ohm,
    clamped_current_A,
    copper_temperature_coefficient,
    core_resistance,
    current_A,
    current_margin_A,
    largest_barrier_ohm,
    last_good_current_A,
    level_at_current_m,
    loop_resistance_ohm,
    signal_voltage_V,
    source_voltage_V,
    span_share,
    terminal_voltage_V,
    voltage_margin_V,
)
from tests.closeness import close, exact
from tests.reference import Case, case

MM = MA = MV = 1e-3
MM2 = 1e-6
ZERO_K = 273.15
CONDUCTORS = (
    "class 1 or 2, plain copper",
    "class 1 or 2, tinned copper",
    "class 5, plain copper",
    "class 5, tinned copper",
)
AREAS_MM2 = (0.5, 0.75, 1.0, 1.5, 2.5)


# ---------------------------------------------------------------- signal


@pytest.mark.parametrize("identity", ["loop-L01", "loop-L03"])
def test_current_at_a_level(identity: str) -> None:
    stated = case(identity)
    stated.check(current_A(stated.value("level"), stated.value("lrv"), stated.value("urv")) / MA)


def test_current_of_a_range_in_millimetres() -> None:
    stated = case("floats-L06")
    level, low, high = (stated.value(name) * MM for name in ("level", "LRV", "URV"))
    stated.check(current_A(level, low, high) / MA)


def test_level_at_a_current() -> None:
    stated = case("loop-L02")
    stated.check(level_at_current_m(stated.value("current") * MA, stated.value("lrv"), stated.value("urv")))


def test_level_above_the_range_saturates() -> None:
    stated = case("loop-L04")
    unlimited = current_A(stated.value("level"), stated.value("lrv"), stated.value("urv"))
    assert unlimited > 0.021, "not limited it would read as a failure"
    low, high = (limit * MA for limit in stated.value("limits"))
    stated.check(clamped_current_A(unlimited, low, high) / MA)


@pytest.mark.parametrize(("lrv_m", "urv_m"), [(0.2, 3.2), (3.0, 0.0)])
def test_saturation_leaves_the_range_alone_in_either_direction(lrv_m: float, urv_m: float) -> None:
    levels = np.linspace(lrv_m, urv_m, 11)
    inside = current_A(levels, lrv_m, urv_m)
    exact(clamped_current_A(inside, 0.0038, 0.0205), inside)
    beyond = clamped_current_A(current_A(np.array([-50.0, 50.0]), lrv_m, urv_m), 0.0038, 0.0205)
    exact(np.sort(beyond), [0.0038, 0.0205])


def test_levels_at_the_saturation_currents() -> None:
    stated = case("loop-L05")
    currents = np.array(stated.value("currents")) * MA
    stated.check(level_at_current_m(currents, stated.value("lrv"), stated.value("urv")))


@pytest.mark.parametrize(("lrv_m", "urv_m"), [(0.135, 2.5), (3.0, 0.0), (-1.2, 4.0)])
def test_current_and_level_undo_each_other(lrv_m: float, urv_m: float) -> None:
    levels = np.linspace(-1.5, 5.0, 27)
    close(level_at_current_m(current_A(levels, lrv_m, urv_m), lrv_m, urv_m), levels, 1e-13, "rounding")
    close(0.004 + 0.016 * span_share(levels, lrv_m, urv_m), current_A(levels, lrv_m, urv_m), 1e-15, "rounding")


def test_voltage_on_a_series_resistor() -> None:
    stated = case("loop-L07")
    stated.check(signal_voltage_V(np.array(stated.value("currents")) * MA, stated.value("R")) / MV)


def test_range_without_span_is_refused() -> None:
    with pytest.raises(ValidityError, match="upper_range_value_m must be other than"):
        apply(current_A, {"level_m": 1.0, "lower_range_value_m": 2.0, "upper_range_value_m": 2.0})


# ---------------------------------------------------------------- cable


def test_both_cores_by_resistivity_over_section() -> None:
    stated = case("loop-L12")
    per_m = stated.value("rho20") / stated.value("area")
    temperature_K = stated.value("T") + ZERO_K
    stated.check(cable_resistance_ohm(stated.value("length"), per_m, temperature_K, stated.value("alpha")))


def test_one_core_by_formula_and_by_table() -> None:
    stated = case("loop-L24")
    km_m = 1000 * stated.value("length")
    at_20_K = stated.value("T") + ZERO_K
    by_formula = cable_resistance_ohm(km_m, stated.value("rho20") / stated.value("area"), at_20_K, 0.00393) / 2
    stated.check(by_formula, "formula")
    row = core_resistance(stated.value("area") * MM2, "class 1 or 2, plain copper")
    stated.check(cable_resistance_ohm(km_m, row.resistance_ohm_per_m, at_20_K, 0.00393) / 2, "iec60228_max")


@pytest.mark.parametrize("identity", ["loop-R01", "loop-R02"])
def test_loop_resistance_of_hot_cables(identity: str) -> None:
    stated = case(identity)
    conductor = stated.value("conductor")
    rows = [core_resistance(area * MM2, conductor).resistance_ohm_per_m for area in stated.value("areas")]
    stated.check(cable_resistance_ohm(1000.0, np.array(rows), stated.value("T") + ZERO_K, stated.value("alpha")))


def test_flexible_cable_of_500_m() -> None:
    stated = case("loop-R03")
    row = core_resistance(stated.value("area") * MM2, "class 5, plain copper")
    alpha = copper_temperature_coefficient().alpha_per_K
    hot_K = stated.value("T") + ZERO_K
    found = cable_resistance_ohm(stated.value("length"), row.resistance_ohm_per_m, hot_K, alpha)
    stated.check(found)


@pytest.mark.parametrize("area_mm2", AREAS_MM2)
def test_real_conductors_are_worse_than_pure_copper_and_tinned_ones_than_plain(area_mm2: float) -> None:
    """Order that any table must keep: resistivity over section, class 1 or 2, flexible; tinned above plain."""
    pure = 0.017241 / area_mm2
    solid, solid_tinned, flexible, flexible_tinned = (
        core_resistance(area_mm2 * MM2, conductor).resistance_ohm_per_m for conductor in CONDUCTORS
    )
    assert pure < solid < solid_tinned < flexible < flexible_tinned < 1.2 * pure


@pytest.mark.parametrize("conductor", CONDUCTORS)
def test_a_conductor_names_its_source(conductor: str) -> None:
    row = core_resistance(1.0e-6, conductor)
    assert row.tag == "read second-hand, three concordant reproductions"
    assert citation(row.source).source.tag == "read second-hand"


def test_the_coefficient_of_copper_is_said_to_be_from_memory() -> None:
    copper = copper_temperature_coefficient()
    assert copper.tag == citation(copper.source).source.tag == "from memory"


def test_an_odd_section_is_refused_with_those_there_are() -> None:
    with pytest.raises(QuantityError, match=r"one of 0\.5 mm2, 0\.75 mm2, 1 mm2, 1\.5 mm2, 2\.5 mm2; got 0\.6 mm2"):
        core_resistance(0.6e-6, CONDUCTORS[0])


def test_an_unknown_conductor_is_refused_with_those_there_are() -> None:
    with pytest.raises(QuantityError, match="class 5, tinned copper; got aluminium"):
        core_resistance(1.0e-6, "aluminium")


def test_the_table_holds_the_rows_that_are_named() -> None:
    table = json.loads(files("onedatum.data").joinpath("iec_60228.json").read_text(encoding="utf-8"))
    assert tuple(table["resistance_ohm_per_m"]) == CONDUCTORS
    close(table["area_m2"], np.array(AREAS_MM2) * MM2, 1e-18, "rounding")


# ---------------------------------------------------------------- supply


def cable_of(stated: Case) -> float:
    """The cable of a case by resistivity over section."""
    return float(
        cable_resistance_ohm(
            stated.value("length"), 0.017241 / stated.value("area"), stated.value("T") + ZERO_K, 0.00393
        )
    )


def test_largest_load_of_a_transmitter() -> None:
    stated = case("loop-L11")
    stated.check(
        largest_barrier_ohm(stated.value("U_supply"), stated.value("U_min"), stated.value("I") * MA, 0.0, 0.0, 0.0)
    )


def test_voltage_left_at_the_failure_current() -> None:
    stated = case("loop-L13")
    resistance = loop_resistance_ohm(stated.value("R_sense"), stated.value("R_barrier"), cable_of(stated), 0.0)
    terminal = terminal_voltage_V(stated.value("U_supply"), stated.value("I") * MA, resistance)
    stated.check(terminal)
    close(voltage_margin_V(terminal, 10.5), 0.961, 0.0005, "printed to 1 mV with the case: 0.961 V over 10.5 V")


def test_loop_of_the_spirit_receiver() -> None:
    stated = case("loop-A01")
    row = core_resistance(stated.value("area") * MM2, CONDUCTORS[0])
    cable = cable_resistance_ohm(
        stated.value("length"), row.resistance_ohm_per_m, stated.value("T") + ZERO_K, stated.value("alpha")
    )
    resistance = loop_resistance_ohm(stated.value("R_i"), stated.value("R_b"), cable, 0.0)
    source, least = source_voltage_V(stated.value("U"), stated.value("t")), stated.value("U_min")
    last = last_good_current_A(source, least, resistance)
    low, high = stated.value("lrv") * MM, stated.value("urv") * MM
    found = {
        "cable": cable,
        "terminal": terminal_voltage_V(source, stated.value("I") * MA, resistance),
        "last": last / MA,
        "last_level": level_at_current_m(last, low, high),
        "barrier": largest_barrier_ohm(source, least, stated.value("I") * MA, stated.value("R_i"), cable, 0.0),
        "current": current_A(stated.value("h") * MM, low, high) / MA,
        "CH": current_A(stated.value("CH") * MM, low, high) / MA,
        "at_20_5": level_at_current_m(0.0205, low, high),
    }
    for result, value in found.items():
        stated.check(value, result)


def solved_current_A(source_V: float, transmitter_V: float, resistors_ohm: tuple[float, ...]) -> float:
    """Current of a source, resistors in series and a transmitter that holds its voltage: node equations, solved."""
    count = len(resistors_ohm)
    # unknowns: potentials behind the source and behind each resistor, then the current
    matrix, right = np.zeros((count + 2, count + 2)), np.zeros(count + 2)
    matrix[0, 0], right[0] = 1.0, source_V
    for index, resistance in enumerate(resistors_ohm):
        matrix[index + 1, [index, index + 1, count + 1]] = 1.0, -1.0, -resistance
    matrix[count + 1, count], right[count + 1] = 1.0, transmitter_V
    return float(np.linalg.solve(matrix, right)[-1])


@pytest.mark.parametrize(
    "resistors", [(250.0, 300.0, 6.342, 0.0), (100.0, 245.98, 40.0, 22.0), (250.0, 0.0, 1.0, 130.0)]
)
def test_node_equations_give_the_same_current_and_barrier(resistors: tuple[float, float, float, float]) -> None:
    current = solved_current_A(22.8, 12.0, resistors)
    resistance = loop_resistance_ohm(*resistors)
    close(last_good_current_A(22.8, 12.0, resistance), current, 1e-14, "rounding of the elimination")
    close(terminal_voltage_V(22.8, current, resistance), 12.0, 1e-12, "rounding of the elimination")
    found = largest_barrier_ohm(22.8, 12.0, current, resistors[0], resistors[2], resistors[3])
    close(found + 1000.0, resistors[1] + 1000.0, 1e-9, "rounding of the elimination")


def test_no_barrier_fits_when_the_cable_takes_it_all() -> None:
    assert largest_barrier_ohm(22.8, 12.0, 0.0215, 500.0, 100.0, 0.0) < 0


def test_supply_at_both_ends_of_its_tolerance() -> None:
    close(source_voltage_V(24.0, np.array([-0.05, 0.05])), [22.8, 25.2], 1e-14, "rounding")


def test_supply_below_the_least_voltage_is_refused() -> None:
    with pytest.raises(ValidityError, match="source_voltage_V must be above"):
        apply(last_good_current_A, {"source_voltage_V": 11.0, "voltage_min_V": 12.0, "resistance_ohm": 250.0})


def test_current_beyond_the_limit_has_a_negative_margin() -> None:
    close(current_margin_A(0.0205, 0.020593), -0.000093, 1e-9, "rounding of one subtraction")


def test_the_room_offers_what_it_lists() -> None:
    assert [name for name in loop.__all__ if not callable(getattr(loop, name))] == []
