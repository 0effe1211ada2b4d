"""The ranking as a user meets it: its laws, what it may never say, and what is refused."""

from __future__ import annotations

import copy
from collections.abc import Mapping
from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from onedatum.case.reading import read_case_text
from onedatum.data import table
from onedatum.foundation.errors import CaseError
from onedatum.proving.causes import (
    NOT_LISTED,
    NOTHING,
    Ranking,
    Row,
    rank,
    read_priors,
    readings_of,
    stated_priors,
    told,
)
from onedatum.simulate import CHANNELS, Readings, instrument_of, read
from onedatum.study.study import study
from tests.house.tree import ROOT
from tests.simulate.instruments import CHAMBER, EVERY, FLOAT, LEGS, PROBE, instrument, levels, state

READ = ("current_A", "voltage_V", "supply_V")


def readings(example: str, channels: tuple[str, ...] = READ, **faults: float) -> Readings:
    """Three levels, read while filling and while emptying, with faults by name."""
    return readings_with(example, faults, channels)


def readings_with(example: str, faults: Mapping[str, float], channels: tuple[str, ...] = READ) -> Readings:
    """The same with faults as a table."""
    up = state(example, levels(example, 0.15, 0.5, 0.85))
    down = state(example, levels(example, 0.85, 0.5, 0.15), rising=False)
    joined = type(up)(*(np.concatenate([getattr(up, n), getattr(down, n)]) for n in up.__dataclass_fields__))
    return read(instrument(example), joined, stated_priors().spread, np.random.default_rng(1), faults, None, channels)


def ranked(example: str, **faults: float) -> Ranking:
    return rank(instrument(example), readings_with(example, faults), further=False)


def shares(found: Ranking) -> dict[str, float]:
    return {cause.key: cause.probability for cause in found.causes}


# ---------------------------------------------------------------- it finds what is there


@pytest.mark.parametrize(
    ("example", "fault", "size"),
    [
        (FLOAT, "density", -0.2),
        (FLOAT, "stuck", 1.3),
        (FLOAT, "lower", 0.05),
        (FLOAT, "load", 500.0),
        (FLOAT, "milliammeter", -1.0 / 3.0),
        (PROBE, "film", 3e-4),
        (PROBE, "upper", 0.08),
        (CHAMBER, "chamber", -60.0),
        (LEGS, "leg", 0.3),
        (LEGS, "resistor", 0.05),
    ],
)
def test_a_plain_fault_comes_first_with_its_size(example: str, fault: str, size: float) -> None:
    found = rank(instrument(example), readings_with(example, {fault: size}), further=False)
    assert found.place(fault) == 1
    cause = next(each for each in found.causes if each.key == fault)
    # The constants are held to be known within a tenth, so the size is at best as well.
    assert cause.size == pytest.approx(size, rel=0.2, abs=4.0 * cause.size_u)


@pytest.mark.parametrize("example", EVERY)
def test_a_sound_instrument_has_nothing_wrong_first(example: str) -> None:
    found = ranked(example)
    assert NOTHING in found.groups[0].keys


def test_the_prediction_of_the_leading_cause_lies_within_the_noise() -> None:
    found = ranked(FLOAT, lower=0.05)
    given = readings(FLOAT, lower=0.05)
    assert np.abs(found.causes[0].predicted["current_A"] - given.current_A).max() < 5e-5
    assert np.isnan(found.causes[0].predicted["shown_m"]).all()


# ---------------------------------------------------------------- laws


@pytest.mark.parametrize("example", EVERY)
def test_probabilities_sum_to_one_and_groups_hold_every_cause_once(example: str) -> None:
    found = ranked(example, datum=0.01)
    assert sum(shares(found).values()) == pytest.approx(1.0)
    assert sum(group.probability for group in found.groups) == pytest.approx(1.0)
    keys = sorted(key for group in found.groups for key in group.keys)
    assert keys == sorted([*instrument(example).kinds, NOTHING, NOT_LISTED])


@settings(max_examples=8)
@given(order=st.permutations(range(6)))
def test_the_order_of_the_rows_changes_nothing(order: list[int]) -> None:
    given_ = readings(PROBE, film=1e-4)
    one = rank(instrument(PROBE), given_, further=False)
    other = rank(instrument(PROBE), given_.rows(order), further=False)
    assert shares(other) == pytest.approx(shares(one), abs=1e-9)


@pytest.mark.parametrize("row", [Row(), Row(dip_m=1.0), Row(dip_m=2.7, temperature_K=290.0, is_rising=True)])
def test_a_row_without_a_reading_changes_nothing(row: Row) -> None:
    given_ = readings(FLOAT, datum=0.006)
    more = readings_of([row])
    joined = Readings(*(np.concatenate([getattr(given_, n), getattr(more, n)]) for n in Readings.__dataclass_fields__))
    one, other = (rank(instrument(FLOAT), each, further=False) for each in (given_, joined))
    assert shares(other) == pytest.approx(shares(one), abs=1e-12) and other.cap == one.cap


@pytest.mark.parametrize("example", EVERY)
@pytest.mark.parametrize("current_A", [0.0, 0.0036, 0.0062, 0.012, 0.0207, 0.0999])
def test_no_single_row_makes_anything_near_certain(example: str, current_A: float) -> None:
    level_m = float(levels(example, 0.5)[0])
    row = Row(dip_m=level_m, current_A=current_A, voltage_V=10.0 * current_A, supply_V=14.0)
    found = rank(instrument(example), readings_of([row]), further=False)
    assert found.cap == pytest.approx(0.8)
    assert max(group.probability for group in found.groups) <= found.cap + 1e-12


def test_however_many_rows_nothing_is_ever_certain() -> None:
    given_ = readings(FLOAT, stuck=1.0)
    found = rank(instrument(FLOAT), given_.rows([0, 1, 2, 3, 4, 5] * 8), further=False)
    assert found.groups[0].probability <= 0.98 + 1e-12
    assert shares(found)[NOT_LISTED] >= 0.0199


def test_readings_beyond_every_model_go_to_what_is_not_listed() -> None:
    """A current that wanders without a rule is no offset, no slope, no cap."""
    given_ = readings(LEGS)
    wild = replace(given_, current_A=np.array([0.008, 0.005, 0.019, 0.011, 0.016, 0.004]))
    assert rank(instrument(LEGS), wild, further=False).groups[0].keys == (NOT_LISTED,)


# ---------------------------------------------------------------- missing readings, groups, limits


@pytest.mark.parametrize("channels", [("current_A",), ("voltage_V",), ("current_A", "shown_m"), CHANNELS])
def test_any_set_of_channels_can_be_ranked(channels: tuple[str, ...]) -> None:
    found = rank(instrument(FLOAT), readings(FLOAT, channels=channels, lower=0.06), further=False)
    assert sum(shares(found).values()) == pytest.approx(1.0)
    assert found.place("lower") <= 2


def test_without_a_dip_two_meters_still_tell_of_one_another() -> None:
    rows = [Row(current_A=0.008, voltage_V=0.12), Row(current_A=0.0106667, voltage_V=0.16)]
    found = rank(instrument(FLOAT), readings_of(rows), further=False)
    assert {found.place("milliammeter"), found.place("resistor")} <= {1, 2, 3}
    assert shares(found)["milliammeter"] > shares(found)["datum"]


def test_what_no_reading_shows_is_joined_with_nothing_being_wrong() -> None:
    found = ranked(FLOAT)
    assert set(found.unseen) == {"receiver", "table"}
    shown = rank(instrument(FLOAT), readings(FLOAT, channels=CHANNELS), further=False)
    assert shown.unseen == ()
    with_receiver = rank(instrument(FLOAT), readings(FLOAT, channels=CHANNELS, receiver=0.05), further=False)
    assert with_receiver.place("receiver") == 1
    with_table = rank(instrument(FLOAT), readings(FLOAT, channels=CHANNELS, table=0.03), further=False)
    assert with_table.place("table") == 1


def test_shifts_of_every_level_alike_are_one_group_for_a_float_and_apart_from_slopes() -> None:
    """Archimedes: an even float rides deeper by the same at every level, as a datum that differs."""
    groups = [set(group.keys) for group in ranked(FLOAT, datum=0.01).groups]
    assert {"density", "float_mass", "datum", "zero"} in groups
    assert {"upper", "gain"} in groups and {"lower"} in groups and {"stuck"} in groups


def test_the_detection_limit_of_a_meter_is_that_of_its_mean_error() -> None:
    """One voltmeter against the resistor within 0.2 %, six readings of 0.1 mV, the current known far better by itself.

    By generalised least squares: 3.29 standard deviations, which the resistor leads: 3.29 * 0.2 % = 0.66 %.
    """
    limit = ranked(FLOAT).limits["resistor"][1]
    assert limit == pytest.approx(3.29 * 0.002, rel=0.05)


# ---------------------------------------------------------------- what next


def test_what_is_cheaper_for_what_it_tells_is_asked_first() -> None:
    given_ = readings(FLOAT, datum=0.012)
    found = rank(instrument(FLOAT), given_)
    assert found.further and all(
        one.worth >= two.worth for one, two in zip(found.further, found.further[1:], strict=False)
    )
    held = stated_priors()
    dearer = replace(
        held,
        measurements=tuple(
            replace(each, cost=0.001 if each.key == "current_test" else each.cost) for each in held.measurements
        ),
    )
    assert rank(instrument(FLOAT), given_, priors=dearer).further[0].key == "current_test"


def test_a_measurement_within_a_group_tells_what_a_further_dip_does_not() -> None:
    """A float that rides deeper and a datum that differs look alike at every level: one dip more tells little."""
    bits = {each.key: each.bits for each in rank(instrument(FLOAT), readings(FLOAT, datum=0.012)).further}
    assert bits["reference_height"] > 0.5 and bits["told"] > 0.5
    assert bits.get("other_level", 0.0) < 0.05


def test_words_on_a_recent_change_raise_what_they_speak_of() -> None:
    given_ = readings(FLOAT, density=-0.12)
    plain = rank(instrument(FLOAT), given_, further=False)
    changed = rank(instrument(FLOAT), given_, "New product since Monday.", further=False)
    assert changed.known_words == ("product",)
    assert shares(changed)["density"] > shares(plain)["density"]
    unknown = rank(instrument(FLOAT), given_, "'; rm -rf / \x00 --", further=False)
    assert unknown.known_words == () and shares(unknown) == pytest.approx(shares(plain))


# ---------------------------------------------------------------- words


@pytest.mark.parametrize(
    ("example", "faults"),
    [
        (FLOAT, {"stuck": 1.0}),
        (PROBE, {"film": 2e-4}),
        (PROBE, {"conductivity": 4.0}),
        (LEGS, {}),
        (CHAMBER, {"load": 500.0}),
    ],
)
def test_no_cause_is_asserted_and_what_competes_is_named(example: str, faults: dict[str, float]) -> None:
    lines = told(rank(instrument(example), readings_with(example, faults), "new product"))
    assert lines[0].startswith("The readings agree best with: ")
    assert any(line.startswith("Competing: ") for line in lines)
    assert any("held likelier than" in line for line in lines)
    assert "it finds no cause" in lines[-1] and "permit to work" in lines[-1]
    assert not any(word in line for line in lines for word in ("100 %", "nan", "certainly", "the cause is"))


def test_what_the_sign_of_the_readings_shuts_out_is_not_called_alike() -> None:
    """A liquid that conducts less makes a coated probe read low, never high: two capacitors in series with a loss."""
    level_m = levels(PROBE, 0.2, 0.5, 0.8)
    high = [Row(dip_m=float(h), current_A=0.004 + 0.016 * (1.12 * h - 0.156) / 2.05) for h in level_m]
    found = rank(instrument(PROBE), readings_of(high), further=False)
    first = found.groups[0]
    assert "conductivity" in first.keys and "conductivity" not in first.left
    assert 2 <= len(first.left) < len(first.keys)
    assert not any("conducts less" in line for line in told(found) if line.startswith("No reading"))
    low = [Row(dip_m=float(h), current_A=0.004 + 0.016 * (0.99 * h - 0.1495) / 2.05) for h in level_m]
    assert any("conductivity" in group.left for group in rank(instrument(PROBE), readings_of(low)).groups)


# ---------------------------------------------------------------- what is refused


@pytest.mark.parametrize(
    ("rows", "words"),
    [
        ([], "rows must be 1 to 60 rows; got 0"),
        ([Row(dip_m=1.0)] * 61, "got 61"),
        ([Row(current_A=12.0)], r"rows\[0\].current_A must be a number from 0 A to 0.1 A; got 12.0"),
        ([Row(dip_m=float("nan"))], r"rows\[0\].dip_m"),
        ([Row(dip_m=1.0), Row(supply_V=-1.0)], r"rows\[1\].supply_V"),
        ([Row(dip_m="1 m")], "got '1 m'"),  # type: ignore[arg-type]
        ([Row(current_A=True)], "got True"),
    ],
)
def test_a_row_that_cannot_be_is_refused_with_its_place(rows: list[Row], words: str) -> None:
    with pytest.raises(CaseError, match=words):
        readings_of(rows)


@pytest.mark.parametrize("row", [Row(dip_m=1.0), Row(), Row(dip_m=0.5, temperature_K=300.0)])
def test_readings_that_say_nothing_are_refused(row: Row) -> None:
    with pytest.raises(CaseError, match="at least one reading that the case can predict"):
        rank(instrument(FLOAT), readings_of([row]))


def edited(**parts: Any) -> Any:
    """The table that ships with other parts."""
    stated = copy.deepcopy(table("causes.json"))
    stated.update(parts)
    return stated


def test_a_table_of_the_user_is_taken() -> None:
    stated = edited()
    stated["causes"]["datum"]["weight"] = 300
    found = rank(instrument(FLOAT), readings(FLOAT), priors=read_priors(stated), further=False)
    assert shares(found)["datum"] > shares(ranked(FLOAT))["datum"]


@pytest.mark.parametrize(
    ("stated", "words"),
    [
        (None, "priors must be a table"),
        ({}, "without nothing, not_listed"),
        (edited(nothing=0.0), "shares above 0"),
        (edited(nothing=0.9, not_listed=0.2), "below 1 together"),
        (edited(nothing="much"), "shares above 0"),
        (edited(causes={}), "a table of causes"),
        (edited(causes={"gremlin": {"weight": 1}}), "priors.causes.gremlin must be one of"),
        (edited(causes={"datum": {"weight": -1}}), "a number of 0 or more"),
        (edited(causes={"datum": {"weight": 1, "size": {"form": "round"}}}), "priors.causes.datum.size.form"),
        (edited(causes={"datum": {"weight": 1, "size": {"form": "normal"}}}), "with standard"),
        (edited(causes={"datum": {"weight": 1, "size": {"form": "normal", "standard": 0}}}), "a spread"),
        (edited(causes={"datum": {"weight": 1, "size": {"form": "even", "low": 2, "high": 1}}}), "a spread"),
        (edited(spread={"dip_m": 1}), "priors.spread must be"),
        (edited(spread={**table("causes.json")["spread"], "dip_m": 0}), "priors.spread.dip_m"),
        (edited(caps={"one_row": 1, "ever": 1}), "nothing is ever certain"),
        (edited(unread_temperature_K=-1), "priors.unread_temperature_K"),
        (edited(measurements=[{"key": "x"}]), r"priors.measurements\[0\] must be a table"),
        (edited(changes=[{"words": ["x"], "causes": [], "by": 0}]), r"priors.changes\[0\].by"),
        (edited(caps={"one_row": 0.1, "ever": 0.2}), "from 0.5 on"),
        (edited(causes={"film": {"weight": 1, "size": {"form": "normal", "standard": 1e-4}}}), "goes no lower"),
        (
            edited(causes={"conductivity": {"weight": 1, "size": {"form": "even", "low": -1, "high": 1}}}),
            "goes no lower",
        ),
        (edited(causes={"film": {"weight": 1, "size": {"form": ["even"]}}}), "priors.causes.film.size.form must be"),
    ],
)
def test_a_table_that_cannot_be_is_refused(stated: Any, words: str) -> None:
    with pytest.raises(CaseError, match=f"(?i){words}"):
        read_priors(stated)


def test_the_table_that_ships_names_every_fault_and_its_source() -> None:
    stated = table("causes.json")
    assert stated["source"] == "common-practice" and stated["tag"] == "common practice, no source"
    for example in EVERY:
        assert set(instrument(example).kinds) <= set(stated["causes"])


@pytest.mark.parametrize(
    "row", [Row(dip_m=900.0, current_A=0.012), Row(dip_m=1.0, temperature_K=1400.0, current_A=0.012)]
)
def test_a_row_at_which_the_case_does_not_hold_is_left_out_and_told(row: Row) -> None:
    good = Row(dip_m=1.45, current_A=0.012)
    found = rank(instrument(FLOAT), readings_of([good, row]))
    alone = rank(instrument(FLOAT), readings_of([good]))
    assert found.left_out == (2,) and shares(found) == pytest.approx(shares(alone))
    assert any("row 2" in line for line in told(found))


@pytest.mark.parametrize("row", [Row(dip_m=1.45, current_A=0.0036), Row(dip_m=1.45, voltage_V=0.215)])
def test_failure_information_is_told_as_such(row: Row) -> None:
    """NE 43, read second-hand: 3.6 mA and below, 21 mA and above is no level."""
    found = rank(instrument(FLOAT), readings_of([row]))
    assert found.in_failure == (1,)
    assert told(found)[0].startswith("Failure information"), "the transmitter's own diagnosis comes before a ranking"


def test_meters_stated_without_error_end_in_no_breakdown() -> None:
    stated = edited(spread=dict.fromkeys(table("causes.json")["spread"], 1e-12))
    found = rank(instrument(FLOAT), readings(FLOAT, datum=0.01), priors=read_priors(stated), further=False)
    assert sum(shares(found).values()) == pytest.approx(1.0)


def test_a_signal_that_acts_in_reverse_is_ranked_like_one_that_does_not() -> None:
    text = (ROOT / "examples" / f"{LEGS}.yaml").read_text(encoding="utf-8")
    text = text.replace("  4 mA: 0 in\n  20 mA: 100 in\n", "  4 mA: 100 in\n  20 mA: 0 in\n")
    reverse = instrument_of(study(read_case_text(text, "reverse.yaml")))
    assert reverse is not None and reverse.lower_m > reverse.upper_m
    where = state(LEGS, levels(LEGS, 0.15, 0.5, 0.85))
    random, spread = np.random.default_rng(3), stated_priors().spread
    given_ = read(reverse, where, spread, random, {"leg": 0.3}, None, READ)
    assert given_.current_A[0] > given_.current_A[2]
    assert rank(reverse, given_, further=False).place("leg") == 1


def test_after_emptying_the_level_is_low_in_whatever_direction_the_signal_acts() -> None:
    text = (ROOT / "examples" / f"{PROBE}.yaml").read_text(encoding="utf-8")
    text = text.replace("  4 mA: 150 mm\n  20 mA: 2200 mm\n", "  4 mA: 2200 mm\n  20 mA: 150 mm\n")
    made = instrument_of(study(read_case_text(text, "reverse.yaml")))
    assert made is not None and made.lower_m > made.upper_m
    where = state(PROBE, levels(PROBE, 0.5))
    given_ = read(made, where, stated_priors().spread, np.random.default_rng(3), {}, None, READ)
    emptied = [each.level_m for each in rank(made, given_).further if each.key == "after_emptying"]
    assert emptied and emptied[0] is not None and emptied[0] < 0.5 * (made.lower_m + made.upper_m)
