"""The conversion of a batch: against the study of the same level, against NE 43, and with everything wrong in it."""

from __future__ import annotations

from itertools import pairwise
from math import pi, sqrt
from typing import Any

import numpy as np
import pyarrow as pa
import pytest

from onedatum.case.change import with_level
from onedatum.foundation.errors import LogError
from onedatum.foundation.working import replay
from onedatum.logs import reasons
from onedatum.logs.converter import Converter
from onedatum.logs.kernel import DIGITS_OF_U, convert
from onedatum.logs.mapping import LogMapping
from onedatum.logs.reasons import CODE, FLAGS, REASONS
from onedatum.logs.tanks import QUANTITIES
from onedatum.study.sensitivity import spread_of, standard_of, uncertain_under
from onedatum.study.study import study
from tests.logs.rows import example, mapped, minutes, worked
from tests.simulate.instruments import FLOAT, signal

SEED = 20260301
LEVELS = 1000
KEPT = 2.0**-DIGITS_OF_U
"""How far an uncertainty may be rounded, for itself."""


def column(rows: list[dict[str, Any]], key: str) -> list[Any]:
    return [row[key] for row in rows]


# ---------------------------------------------------------------- against the sheet


@pytest.mark.parametrize("name", ["spirit_receiver", "lying_spirit_tank", "gas_oil_tank", "tilted_vessel"])
def test_quantities_are_those_of_the_sheet_to_the_last_digit(name: str) -> None:
    """At a thousand random levels each quantity is off by less than half of its last digit."""
    found = example(name)
    made = Converter.of([found], mapped())
    low, high = made.tanks[0].low_m, made.tanks[0].high_m
    levels = np.random.default_rng(SEED).uniform(low, high, LEVELS)
    rows, rejected = worked((1e3 * levels).tolist(), names=(name,))
    assert rejected == []
    names = {each.column: each for each in QUANTITIES if each.column in made.columns}
    again = replay(found.sheet, [each.entry for each in names.values()], {"level_now": levels}).results
    for key, each in names.items():
        told = np.array(column(rows, key), dtype=float)
        assert np.nanmax(np.abs(told - again[each.entry])) < 0.05 * each.digit
        assert np.array_equal(np.isnan(told), np.isnan(again[each.entry]))


@pytest.mark.parametrize("level_mm", [312.0, 1850.0, 2501.5])
def test_a_row_says_what_the_study_of_that_level_says(level_mm: float) -> None:
    """A whole study with the level put in."""
    there = study(with_level(example().statement, f"{level_mm} mm", "--level"))
    row = worked([level_mm])[0][0]
    assert row["level_m"] == pytest.approx(level_mm / 1e3, abs=1e-12)
    for each in QUANTITIES:
        assert row[each.column] == pytest.approx(there.value(each.entry), abs=0.05 * each.digit)


def test_the_uncertainty_is_that_of_the_budget() -> None:
    """At the level of the case the budget of the study stands beside it."""
    found = example()
    row = worked([1850.0])[0][0]
    assert row["u_pure_alcohol_m3"] == pytest.approx(found.value("budget.standard_uncertainty"), rel=1e-3)
    expanded_m3 = found.value("uncertainty[quantity.table_volume]")
    assert expanded_m3 is not None
    assert 2.0 * row["u_volume_m3"] == pytest.approx(expanded_m3, rel=2.0 * KEPT)


def test_the_uncertainty_of_a_level_is_the_root_of_its_squares() -> None:
    """JCGM 100, 4.3.7 and 5.1.2: half-widths of 0.5 mm and 2 mm of the case, then 3 mm stated for the log."""
    assert worked([1850.0])[0][0]["u_level_m"] == pytest.approx(sqrt(0.5**2 + 2.0**2) / sqrt(3.0) * 1e-3, rel=KEPT)
    stated = worked([1850.0], mapped(within=(3e-3, "length")))[0][0]
    assert stated["u_level_m"] == pytest.approx(sqrt(3.0**2 + 2.0**2) / sqrt(3.0) * 1e-3, rel=KEPT)
    of_current = worked([12.0], mapped(unit="mA", within=(16e-6, "current")))[0][0]
    level_mm = 2700.0 * 16e-6 / 16e-3
    assert of_current["u_level_m"] == pytest.approx(sqrt(level_mm**2 + 2.0**2) / sqrt(3.0) * 1e-3, rel=KEPT)


def test_in_the_cylinder_a_volume_grows_by_the_section() -> None:
    """Volume between two levels of the 1600 mm shell: a quarter of pi times the square of the diameter."""
    one, other = worked([1000.0, 2000.0])[0]
    assert other["volume_m3"] - one["volume_m3"] == pytest.approx(pi / 4 * 1.6**2 * 1.0, rel=1e-6)


# ---------------------------------------------------------------- units and the state of the signal


@pytest.mark.parametrize(
    ("unit", "value", "more"),
    [
        ("mA", 12.0, {}),
        ("A", 0.012, {}),
        ("%", 50.0, {}),
        ("mV", 3000.0, {"resistor_ohm": 250.0}),
        ("V", 3.0, {"resistor_ohm": 250.0}),
        ("counts", 20000.0, {"counts": (8000.0, 32000.0)}),
        ("mm", 1450.0, {}),
        ("m", 1.45, {}),
        ("in", 1450.0 / 25.4, {}),
    ],
)
def test_every_unit_of_the_middle_of_the_range(unit: str, value: float, more: dict[str, Any]) -> None:
    """4 mA is 100 mm and 20 mA is 2800 mm: the middle, 12 mA or 50 %, is 1450 mm."""
    row = worked([value], mapped(unit=unit, **more))[0][0]
    assert row["level_m"] == pytest.approx(1.45, rel=1e-12)
    assert row["state"] == (None if unit in ("mm", "m", "in") else "measuring")


def test_states_by_ne_43() -> None:
    """NE 43 (read second-hand): failure to 3.6 mA and from 21 mA, measurement from 3.8 mA to 20.5 mA."""
    currents = [3.6, 3.7, 3.8, 4.0, 20.0, 20.5, 20.7, 21.0, 0.0]
    rows = worked(currents, mapped(unit="mA"), names=("spirit_receiver_isolator",))[0]
    low, high, good = ["failure_low", "undefined_low"], ["undefined_high", "failure_high"], ["measuring"] * 4
    assert column(rows, "state") == [*low, *good, *high, "failure_low"]
    assert [row["level_m"] is None for row in rows] == [True, True, False, False, False, False, True, True, True]
    silent = FLAGS["no_measurement"]
    assert [bool(row["flags"] & silent) for row in rows] == [row["level_m"] is None for row in rows]


def test_what_stands_at_the_end_is_censored_and_kept() -> None:
    """At 3.8 mA the level is that or lower, at 20.5 mA that or higher: a bound, no reading; its number stays."""
    rows = worked([3.8, 4.0, 20.4, 20.5], mapped(unit="mA"), names=("spirit_receiver_isolator",))[0]
    assert column(rows, "flags") == [FLAGS["at_or_below"], 0, 0, FLAGS["at_or_above"]]
    assert all(row["level_m"] is not None and row["volume_m3"] is not None for row in rows)
    levels = worked([66.25, 100.0, 2884.375, 2950.0], names=("spirit_receiver_isolator",))[0]
    assert column(levels, "flags") == [FLAGS["at_or_below"], 0, FLAGS["at_or_above"], 0]


@pytest.mark.parametrize("name", ["spirit_receiver", "gas_oil_tank", "oil_over_water", "caustic_tank"])
def test_a_reading_where_the_float_rests_is_a_bound(name: str) -> None:
    """Where no level can be followed, as the sizing says, and within twice the uncertainty of a reading before that."""
    reach = example(name).measuring.levels
    assert reach is not None and reach.lowest.value is not None and reach.highest.value is not None
    low_mm, high_mm = 1e3 * reach.lowest.value, 1e3 * reach.highest.value
    u_mm = 1e3 * standard_of(example(name).sheet["level_now"])
    assert 0.1 < u_mm < 10.0
    levels = [
        low_mm - 3.0,
        low_mm + 1.9 * u_mm,
        low_mm + 2.1 * u_mm,
        high_mm - 2.1 * u_mm,
        high_mm - 1.9 * u_mm,
        high_mm + 1.0,
    ]
    bits = [row["flags"] & ~FLAGS["outside_table"] for row in worked(levels, names=(name,))[0]]
    below, above, rests = (FLAGS[word] for word in ("at_or_below", "at_or_above", "not_followed"))
    assert bits == [below + rests] * 2 + [0, 0] + [above + rests] * 2


@pytest.mark.parametrize("name", ["steam_drum", "wet_leg_tank"])
def test_where_no_vessel_is_stated_the_level_has_its_uncertainty_all_the_same(name: str) -> None:
    """That of the level of the study, which is worked the other way."""
    found = example(name)
    level_mm = 1e3 * (found.value("level_now") or 0.0)
    row = worked([level_mm], names=(name,))[0][0]
    surface = found.sheet["level.surface" if "level.surface" in found.sheet else "level_now"]
    wanted = spread_of(found.sheet, [surface.name], uncertain_under(surface)).standard(surface.name)
    assert row["flags"] == 0 and row["u_level_m"] == pytest.approx(wanted, rel=0.01)


def test_a_tag_without_a_vessel_is_not_outside_of_one() -> None:
    """Also where another tag has one."""
    names = ("spirit_receiver", "wet_leg_tank")
    tags = [example(name).statement.case.tag.text for name in names]
    rows, _ = worked([4000.0, 1000.0], mapped(tag="g"), names, g=tags)
    assert [row["flags"] & FLAGS["outside_table"] for row in rows] == [FLAGS["outside_table"], 0]


def test_however_uncertain_readings_are_not_all_of_them_stand_at_an_end() -> None:
    rows = worked([300.0, 1500.0, 2700.0], mapped(within=(1.5, "length")))[0]
    assert [row["flags"] for row in rows] == [0, 0, 0]
    assert rows[1]["u_level_m"] > 0.8


def test_what_the_simulated_float_reads_of_an_empty_tank_is_a_bound() -> None:
    """At 45 mm of liquid the float rests: the current that comes of it is a level of nothing."""
    shown_mA = 1e3 * float(signal(FLOAT, np.array([0.045])).current_A[0])
    assert 3.9 < shown_mA < 4.0
    flags = FLAGS["at_or_below"] + FLAGS["not_followed"]
    assert worked([shown_mA], mapped(unit="mA"))[0][0]["flags"] == flags


def test_the_end_of_the_loop_comes_before_that_of_the_signal() -> None:
    """Behind the barrier of the example the supply ends the current earlier than its saturation."""
    last_A = example().value("loop.last_good_current")
    assert last_A is not None and last_A < 0.0205
    rows = worked([1e3 * last_A - 0.01, 1e3 * last_A, 20.0], mapped(unit="mA"))[0]
    assert column(rows, "flags") == [0, FLAGS["at_or_above"], FLAGS["at_or_above"]]


def test_outside_the_vessel_there_is_a_level_and_no_quantity() -> None:
    rows = worked([-1.0, 0.0, 3020.0, 3021.0])[0]
    below, above = (FLAGS[word] + FLAGS["not_followed"] for word in ("at_or_below", "at_or_above"))
    outside = FLAGS["outside_table"]
    assert column(rows, "flags") == [below + outside, below, above, above + outside]
    assert [row["volume_m3"] is None for row in rows] == [True, False, False, True]
    assert [row["level_m"] for row in rows] == pytest.approx([-0.001, 0.0, 3.02, 3.021])


@pytest.mark.parametrize("names", [("spirit_receiver",), ("spirit_receiver", "gas_oil_tank"), ("tilted_vessel",)])
def test_a_table_is_read_alike_in_its_middle_and_at_both_ends(names: tuple[str, ...]) -> None:
    """Straight lines between the values of the table by numpy's own, whatever stands in the batch beside them."""
    made = Converter.of([example(name) for name in names], mapped(tag="tag"))
    for tank in made.tanks:
        tables = {**tank.values, **{f"u_{key}": u for key, u in tank.u.items()}}
        steps = np.linspace(tank.low_m, tank.high_m, len(tables["volume_m3"]))
        within = steps[:-1] + 0.3 * np.diff(steps)
        middle = within[len(within) // 3 : len(within) // 2 : 29]
        for levels in (middle, np.concatenate([steps[:1], within[:9], middle, within[-9:], steps[-1:]])):
            rows, rejected = worked((1e3 * levels).tolist(), mapped(tag="tag"), names, tag=[tank.tag] * len(levels))
            assert rejected == []
            for key, table in tables.items():
                told, wanted = np.array(column(rows, key), dtype=float), np.interp(levels, steps, table)
                near = KEPT if key.startswith("u_") else 1e-9
                assert np.allclose(told, wanted, rtol=near, atol=1e-12, equal_nan=True), key


@pytest.mark.parametrize("name", ["solvent_tank", "oil_over_water"])
def test_an_empty_tank_has_its_uncertainty_too(name: str) -> None:
    """On a flat bottom, where no volume is yet, it is that of the level times the area (JCGM 100:2008, 5.1.2)."""
    tank = Converter.of([example(name)], mapped()).tanks[0]
    volume = tank.values["volume_m3"]
    area_m2 = (volume[1] - volume[0]) / (tank.high_m - tank.low_m) * (len(volume) - 1)
    row = worked([1e3 * tank.low_m], names=(name,))[0][0]
    assert abs(row["volume_m3"]) < 1e-9 and row["u_level_m"] > 2e-4
    assert row["u_volume_m3"] == pytest.approx(area_m2 * row["u_level_m"], rel=3.0 * KEPT)
    full = worked([1e3 * tank.high_m], names=(name,))[0][0]
    assert full["u_volume_m3"] > row["u_volume_m3"]


# ---------------------------------------------------------------- temperature


@pytest.mark.parametrize("name", ["spirit_receiver", "tilted_vessel", "lying_spirit_tank"])
def test_a_logged_temperature_is_that_of_the_sheet(name: str) -> None:
    """The sheet worked with level and temperature put in."""
    found = example(name)
    random = np.random.default_rng(SEED)
    levels, celsius = random.uniform(0.2, 1.7, 200), random.uniform(2.0, 34.0, 200)
    mapping = mapped(temperature="T", temperature_unit="degC")
    rows, _ = worked((1e3 * levels).tolist(), mapping, (name,), T=celsius.tolist())
    temperature = found.amounts.links.temperature.name
    for each in QUANTITIES:
        if each.entry not in found.sheet:
            continue
        again = replay(found.sheet, [each.entry], {"level_now": levels, temperature: celsius + 273.15}).results
        assert np.array(column(rows, each.column)) == pytest.approx(again[each.entry], abs=0.5 * each.digit)
    assert Converter.of([found], mapping).tanks[0].remarks == ()


def test_without_a_temperature_no_quantity_is_made_up() -> None:
    mapping = mapped(temperature="T", temperature_unit="degF")
    rows, rejected = worked([1850.0] * 4, mapping, T=["57.2", None, "warm", "5000"])
    assert rejected == []
    assert rows[0]["mass_kg"] == pytest.approx(worked([1850.0])[0][0]["mass_kg"], rel=1e-6), "57.2 degF is 14 degC"
    assert column(rows, "flags") == [0, *[FLAGS["no_temperature"]] * 2, FLAGS["temperature_outside"]]
    assert column(rows, "mass_kg")[1:] == [None] * 3 == column(rows, "u_mass_kg")[1:]
    assert len(set(column(rows, "volume_m3"))) == 1


# ---------------------------------------------------------------- what is set aside


def test_every_fault_of_a_value_is_named() -> None:
    values = [
        "1850",
        "",
        None,
        "NaN",
        "inf",
        "-INF",
        "1,85",
        "185O",
        "1850 mm",
        "0x10",
        "1e999",
        "9" * 400,
        "+.5e3",
        " 7 ",
    ]
    rows, rejected = worked(values)
    assert column(rows, "row") == [1, 13, 14]
    assert column(rows, "level_m") == pytest.approx([1.85, 0.5, 0.007])
    number, finite, missing = reasons.NO_NUMBER, reasons.NOT_FINITE, reasons.NO_VALUE
    assert column(rejected, "reason") == [missing] * 2 + [finite] * 3 + [number] * 4 + [finite] * 2
    assert column(rejected, "row") == list(range(2, 13))
    assert all(len(row["value"] or "") <= 60 for row in rejected)


def test_rows_and_rejects_together_are_all_rows() -> None:
    random = np.random.default_rng(SEED)
    strange = ["12", "x", "", None, "nan", "1e400", "20.6", "-3", "2026", "1_000", "１２", "\x00", "12\n13"]
    values = [strange[i] for i in random.integers(0, len(strange), 500)]
    rows, rejected = worked(values, mapped(unit="mA"))
    assert sorted([*column(rows, "row"), *column(rejected, "row")]) == list(range(1, 501))
    assert set(column(rejected, "reason")) <= set(REASONS)


def test_times_late_and_again_are_told_by_tag() -> None:
    times = minutes(6)
    order = [times[i] for i in (0, 2, 1, 2, 3, 2)]
    rows, rejected = worked([1.0] * 6, t=order)
    assert column(rows, "row") == [1, 2, 5]
    assert column(rejected, "reason") == [reasons.LATE, reasons.AGAIN, reasons.LATE]
    tags = ["LT-201", "LT-202", "LT-201", "LT-202", "LT-201", "LT-202"]
    both = ("spirit_receiver", "lying_spirit_tank")
    names = [example(name).statement.case.tag.text for name in both]
    named = [names[tags.index(tag)] for tag in tags]
    rows, rejected = worked([1.0] * 6, mapped(tag="g"), both, t=order, g=named)
    by_tag = {name: [row["row"] for row in rows if row["tag"] == name] for name in names}
    assert by_tag == {names[0]: [1, 3, 5], names[1]: [2]}
    assert column(rejected, "reason") == [reasons.AGAIN, reasons.AGAIN]


def test_a_batch_goes_on_where_the_one_before_it_ended() -> None:
    mapping = mapped()
    made = Converter.of([example()], mapping)
    batch = pa.RecordBatch.from_pydict({"t": minutes(3), "v": [1.0, 2.0, 3.0]})
    second_us = 1_767_225_600_000_000 + 60_000_000
    rows, rejected = convert(batch, made, mapping, {"LT-201": second_us})
    assert rows["row"].to_pylist() == [3]
    assert rejected["reason"].to_pylist() == [reasons.LATE, reasons.AGAIN]


def test_tags_and_units_by_row() -> None:
    mapping = mapped(tag="g", unit_column="e", names={"receiver level": "LT-201"})
    tags = ["LT-201", "receiver level", "LT-999", None, "LT-201", "LT-201"]
    rows, rejected = worked([1.45, 12.0, 1.0, 1.0, 3000.0, 1.0], mapping, g=tags, e=["m", "mA", "m", "m", "mV", "kg"])
    assert column(rows, "level_m") == pytest.approx([1.45, 1.45])
    assert column(rows, "tag") == ["LT-201", "LT-201"]
    assert column(rows, "state") == [None, "measuring"]
    assert column(rejected, "reason") == [reasons.STRANGER, reasons.STRANGER, reasons.BAD_UNIT, reasons.BAD_UNIT]


def test_a_tank_keeps_its_own_numbers_among_others() -> None:
    names = ("spirit_receiver", "lying_spirit_tank", "gas_oil_tank")
    tags = [example(name).statement.case.tag.text for name in names]
    mixed, _ = worked([1200.0] * 3, mapped(tag="g"), names, g=tags)
    for row, name in zip(mixed, names, strict=True):
        alone = worked([1200.0], names=(name,))[0][0]
        shared = set(alone) - {"row", "time"}
        assert {key: row[key] for key in shared} == {key: alone[key] for key in shared}
    assert mixed[2]["pure_alcohol_m3"] is None


def test_a_column_that_is_missing_is_named() -> None:
    with pytest.raises(LogError, match=r"the column T must be in the log; got columns t, v\."):
        worked([1.0], mapped(temperature="T"))


def test_nothing_comes_of_no_rows() -> None:
    assert worked([]) == ([], [])


@pytest.mark.parametrize("kind", [pa.bool_(), pa.date32(), pa.list_(pa.int64())])
def test_a_column_of_a_strange_kind_is_set_aside(kind: Any) -> None:
    mapping = mapped()
    made = Converter.of([example()], mapping)
    value = pa.nulls(2, kind)
    batch = pa.RecordBatch.from_arrays([pa.array(minutes(2)), value], ["t", "v"])
    rows, rejected = convert(batch, made, mapping)
    assert rows.num_rows == 0 and rejected["reason"].to_pylist() == [reasons.NO_VALUE] * 2
    batch = pa.RecordBatch.from_arrays([value, pa.array([1.0, 2.0])], ["t", "v"])
    assert convert(batch, made, mapping)[1]["reason"].to_pylist() == [reasons.NO_TIME] * 2


def test_numbers_of_reasons_and_flags_are_given_once() -> None:
    assert len(CODE) == len(REASONS) and all(one & other == 0 for one, other in pairwise(FLAGS.values()))


def test_what_is_handed_in_stays_as_it_is() -> None:
    """Pure: the same batch twice gives the same, and the columns handed in are not written to."""
    mapping: LogMapping = mapped()
    made = Converter.of([example()], mapping)
    values = np.array([1850.0, 12.0, 2900.0])
    batch = pa.RecordBatch.from_arrays([pa.array(minutes(3)), pa.array(values)], ["t", "v"])
    first = convert(batch, made, mapping)
    assert values.tolist() == [1850.0, 12.0, 2900.0] == batch["v"].to_pylist()
    assert convert(batch, made, mapping)[0].equals(first[0])
