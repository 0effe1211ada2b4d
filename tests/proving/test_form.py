"""Plain data and back: nothing is lost, and what is no record is refused by its path."""

from __future__ import annotations

import json
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from onedatum.proving import Ambient, ProvingError, TankReference, as_data, from_data, judge
from onedatum.proving.form import Record
from tests.proving.runs import METER, even, plan_of, run_of, timed

PLAN = plan_of(cycles=1)
RUN = timed(run_of(PLAN, even(1.0), ambient=Ambient(288.15, "calm"), tank_reference=TankReference(3.17, 3.171)))
RECORDS: dict[str, Record] = {"plan": PLAN, "run": RUN, "judged": judge(PLAN, RUN)}


@pytest.mark.parametrize("kind", RECORDS)
def test_a_record_comes_back_as_it_was(kind: str) -> None:
    record = RECORDS[kind]
    data = as_data(record)
    assert (data["onedatum"], data["form"]) == (kind, 1)
    assert from_data(json.loads(json.dumps(data, allow_nan=False))) == record


def test_a_run_without_what_is_optional_comes_back() -> None:
    run = run_of(PLAN, even(1.0), meter=METER)
    assert from_data(json.loads(json.dumps(as_data(run)))) == run


def test_what_comes_back_is_judged_the_same() -> None:
    plan, run = (from_data(json.loads(json.dumps(as_data(RECORDS[kind])))) for kind in ("plan", "run"))
    assert judge(plan, run) == RECORDS["judged"]  # type: ignore[arg-type]


CHANGES: list[tuple[str, Any, str]] = [
    ("onedatum", "case", "record.onedatum"),
    ("onedatum", ["run"], "record.onedatum"),
    ("form", 2, "record.form"),
    ("form", True, "record.form"),
    ("tag", 7, "run.tag"),
    ("kind", "as hoped", "run.kind"),
    ("kind", ["as found"], "run.kind"),
    ("when", "yesterday", "run.when"),
    ("shown_digit_m", float("nan"), "run.shown_digit_m"),
    ("shown_digit_m", "1", "run.shown_digit_m"),
    ("shown_digit_m", True, "run.shown_digit_m"),
    ("shown_digit_m", 10**400, "run.shown_digit_m"),
    ("readings", "none", "run.readings"),
    ("readings", [3], "run.readings[0]"),
    ("readings", [{}] * 30_000, "run.readings"),
    ("reference", None, "run.reference"),
    ("reference", {"name": "x"}, "run.reference.certificate"),
    ("extra", 1, "run.extra"),
    ("who", "x" * 20_000, "run.who"),
]


@pytest.mark.parametrize(("key", "value", "path"), CHANGES, ids=[f"{c[0]} {n}" for n, c in enumerate(CHANGES)])
def test_what_is_no_record_is_refused_by_path(key: str, value: Any, path: str) -> None:
    with pytest.raises(ProvingError) as caught:
        from_data(as_data(RUN) | {key: value})
    (fault,) = caught.value.faults
    assert fault.path == path and len(fault.sentence()) < 600


@pytest.mark.parametrize("wrong", [float("nan"), {"a": [[[[[[[1]]]]]]]}, object(), {3: 1}, "x" * 20_000, 10**400])
def test_what_stands_in_the_working_is_looked_at(wrong: Any) -> None:
    with pytest.raises(ProvingError) as caught:
        from_data(as_data(PLAN) | {"working": [{"name": wrong}]})
    assert caught.value.faults[0].path.startswith("plan.working[0].name")


def test_a_missing_key_is_refused_by_path() -> None:
    data = as_data(RUN)
    del data["who"]
    with pytest.raises(ProvingError) as caught:
        from_data(data)
    assert caught.value.faults[0].path == "run.who"
    not_mappings: list[Any] = [None, [], "run", 3]
    for nothing in not_mappings:
        with pytest.raises(ProvingError):
            from_data(nothing)


def record_or_faults(data: dict[str, Any]) -> object:
    try:
        return from_data(data)
    except ProvingError as error:
        return error.faults


PLAIN = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=5),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=5), inner, max_size=3),
    max_leaves=5,
)


@given(key=st.sampled_from(sorted(as_data(RUN))), value=PLAIN)
def test_whatever_stands_for_a_part_is_read_or_refused(key: str, value: Any) -> None:
    assert record_or_faults(as_data(RUN) | {key: value})
