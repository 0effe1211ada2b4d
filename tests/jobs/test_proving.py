"""Calibrations as jobs: recorded whole or not at all, put right by another record, looked back on, due.

Sources: the straight line of the range (IEC 60381-1: 4 to 20 mA, linear); the decision rule (ILAC-G8:09/2019,
non-binary with a guard band of U, from memory); a drift that is linear by construction gives its own rate back; SHA-256
(FIPS 180-4).
"""

from __future__ import annotations

import sqlite3
from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from hashlib import sha256
from pathlib import Path

import pytest

from onedatum.foundation.errors import ProvingError, StoreError
from onedatum.jobs.examine import examine
from onedatum.jobs.proving.certificate import certificate_of
from onedatum.jobs.proving.entry import EntryError
from onedatum.jobs.proving.keep import verified
from onedatum.jobs.proving.past import NEVER, due_of, past_of, rule_of
from onedatum.jobs.proving.plan import Wished, plan_of, read_plan, write_plan
from onedatum.jobs.proving.records import (
    FILE,
    Correction,
    Working,
    Written,
    calibration_of,
    calibrations,
    one_of,
    opened,
    pair_of,
    place_beside,
    record_run,
    working_of,
)
from onedatum.jobs.proving.told import written_text
from onedatum.proving import read_readings
from tests.closeness import close
from tests.proving_desk import BEGIN, CASE, FIELDS, POINTS, TAG, case_in, lines

STUDY = examine(CASE)
PLAN = plan_of(STUDY)
YEAR = timedelta(days=365.25)


def record(
    where: Path,
    error_mm: Callable[[float], float] = lambda level: 2.0,
    begin: datetime = BEGIN,
    kind: str = "as found",
    correction: Correction | None = None,
    **fields: str,
) -> Written:
    """Record a run with this error."""
    readings = read_readings(lines(error_mm, begin))
    said = "as left" if kind == "as left" else "as found"
    return record_run(where, STUDY, PLAN, said, {**FIELDS, **fields}, readings, correction)  # type: ignore[arg-type]


def rows(where: Path) -> int:
    """How many records a file holds, asked of SQLite itself."""
    with sqlite3.connect(where) as connection:
        return int(connection.execute("select count(*) from onedatum_records").fetchone()[0])


# ---------------------------------------------------------------- one record


def test_a_record_holds_case_tool_who_and_when(tmp_path: Path) -> None:
    written = record(tmp_path / FILE)
    kept = written.calibration.record
    assert kept.case == sha256(CASE.read_bytes()).hexdigest()
    assert (kept.kind, kept.tag, kept.who, kept.id) == ("calibration", TAG, "A. Reader", 1)
    assert kept.at_utc == BEGIN + timedelta(minutes=20)  # the first reading, as no begin is stated
    assert kept.tool
    assert (written.head.id, written.head.hash) == (1, kept.hash)
    assert verified(tmp_path / FILE).whole


def test_what_is_read_back_is_what_was_judged(tmp_path: Path) -> None:
    written = record(tmp_path / FILE, trims="none", checked_by="B. Checker", remark="calm", temperature="14 degC")
    with opened(tmp_path / FILE) as store:
        (found,) = calibrations(store.all())
    assert found == written.calibration
    assert (found.checked_by, found.trims, found.run.remark) == ("B. Checker", "none", "calm")
    assert close(found.run.ambient.temperature_K, 287.15, 1e-9, "14 degC in kelvin, SI brochure; rounding")


@pytest.mark.parametrize(
    ("error_mm", "word"),
    # tolerance 15 mm, U between 1.0 mm (the reference alone) and 1.6 mm: pass to 13.4 mm at least, fail from 16.6 mm on
    [(12.0, "pass"), (14.5, "conditional pass"), (15.5, "conditional fail"), (18.0, "fail"), (-18.0, "fail")],
)
def test_the_verdict_follows_the_rule(tmp_path: Path, error_mm: float, word: str) -> None:
    judged = record(tmp_path / FILE, lambda level: error_mm).calibration.judged
    assert 0.0010 < judged.expanded_m < 0.0016
    assert judged.verdict == word


def test_the_example_of_a_wrong_slope_passes_but_is_told_to_be_adjusted(tmp_path: Path) -> None:
    written = record_run(tmp_path / FILE, STUDY, PLAN, "as found", FIELDS, read_readings(POINTS.read_bytes()))
    judged = written.calibration.judged
    assert judged.verdict == "pass"
    assert any("adjust" in words for words in judged.remarks)
    assert [point.greatest_error_m for point in judged.points] == sorted(
        p.greatest_error_m or 0.0 for p in judged.points
    )


# ---------------------------------------------------------------- what is refused, nothing written


def refused(tmp_path: Path, content: str, **fields: str) -> dict[str, str]:
    """What stands against a run, by where it belongs; nothing may have been written."""
    where = tmp_path / FILE
    with pytest.raises(EntryError) as caught:
        record_run(where, STUDY, PLAN, "as found", {**FIELDS, **fields}, read_readings(content))
    assert not where.exists() or rows(where) == 0
    return {wrong.at: wrong.fault.sentence() for wrong in caught.value.wrongs}


def test_a_point_outside_what_can_be_measured_is_named(tmp_path: Path) -> None:
    told = refused(tmp_path, lines(lambda level: 2.0).replace(",2697.0,", ",3500.0,", 1))
    (at,) = told
    assert at == "4.reference_m"
    assert "dead zone" in told[at]


def test_a_missing_way_down_is_named(tmp_path: Path) -> None:
    told = refused(tmp_path, lines(lambda level: 2.0, down=False))
    assert "no down-run" in told[""]


def test_a_reference_worse_than_the_tolerance_is_named_at_its_field(tmp_path: Path) -> None:
    told = refused(tmp_path, lines(lambda level: 2.0), reference_u="16 mm")
    assert "16.00 mm" in told["reference_u"]
    assert "Take a better reference" in told["reference_u"]


def test_a_clock_that_goes_backwards_within_a_run_is_named(tmp_path: Path) -> None:
    later = (BEGIN + timedelta(days=1)).isoformat()
    told = refused(tmp_path, lines(lambda level: 2.0), when=later)
    assert "clock went backwards" in told["0.at"]


def test_a_clock_that_goes_backwards_between_runs_is_named_and_nothing_written(tmp_path: Path) -> None:
    where = tmp_path / FILE
    record(where)
    with pytest.raises(EntryError) as caught:
        record(where, begin=BEGIN - YEAR)
    assert [wrong.at for wrong in caught.value.wrongs] == ["when"]
    assert "clock went backwards" in str(caught.value)
    assert rows(where) == 1


def test_a_case_that_changed_since_the_plan_is_named(tmp_path: Path) -> None:
    case = case_in(tmp_path)
    (_, data, _) = write_plan(plan_of(examine(case)), case, tmp_path / "plan")
    case.write_text(case.read_text(encoding="utf-8") + "\n# another range is to come\n", encoding="utf-8")
    with pytest.raises(EntryError, match="The case has changed since the plan was made"):
        record_run(
            tmp_path / FILE, examine(case), read_plan(data), "as found", FIELDS, read_readings(lines(lambda _: 1.0))
        )
    assert not (tmp_path / FILE).exists()


def test_a_case_without_a_tag_has_no_record(tmp_path: Path) -> None:
    case = case_in(tmp_path)
    case.write_text(case.read_text(encoding="utf-8").replace(f"tag: {TAG}", "tag: unknown"), encoding="utf-8")
    study = examine(case)
    with pytest.raises(EntryError, match="tag must be known"):
        record_run(tmp_path / FILE, study, plan_of(study), "as found", FIELDS, read_readings(lines(lambda _: 1.0)))


@pytest.mark.parametrize(
    ("key", "text", "said"),
    [
        ("who", "", "who read must be stated"),
        ("who", "a\x1bb", "printable"),
        ("who", "x" * 500, "at most 200"),
        ("reference_u", "1", "length with its unit"),
        ("reference_u", "1,5 mm", "1,5"),
        ("reference_u", "-1 mm", "must be above 0 mm"),
        ("reference_u", "1e30 m", "must be"),
        ("reference_k", "two", "plain number"),
        ("reference_k", "99", "1 to 5"),
        ("meter", "", "A current is known no better than its meter"),
        ("meter_u", "", "must be stated"),
        ("meter_u", "3 mm", "current"),
        ("when", "yesterday", "offset"),
        ("when", "2026-11-20T08:00", "offset"),
        ("temperature", "5 kg", "temperature"),
        ("temperature", "900 degC", "150 K to 400 K"),
        ("rule", "whatever pleases", "must be one of"),
        ("factor", "-1", "plain number"),
        ("factor", "7", "0 to 5"),
        ("tank_stated", "3 m", "must be stated where the other"),
    ],
)
def test_a_field_that_cannot_be_is_told_at_its_place(tmp_path: Path, key: str, text: str, said: str) -> None:
    told = refused(tmp_path, lines(lambda level: 2.0), **{key: text})
    at = "tank_found" if key == "tank_stated" else key
    assert said in told[at]


def test_a_database_that_is_held_is_told_and_nothing_is_written(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    where = tmp_path / FILE
    record(where)
    monkeypatch.setattr("onedatum.jobs.proving.records.WAIT_S", 0.2)
    other = sqlite3.connect(where, isolation_level=None)
    other.execute("begin immediate")
    with pytest.raises(StoreError, match="another writer holds"):
        record(where, begin=BEGIN + YEAR)
    other.execute("rollback")
    other.close()
    assert rows(where) == 1


def test_a_database_of_a_later_tool_is_told_and_left_as_it_is(tmp_path: Path) -> None:
    where = tmp_path / FILE
    record(where)
    with sqlite3.connect(where) as connection:
        connection.execute("update onedatum_revision set version_num = '9999'")
    with pytest.raises(StoreError, match="newer than the tool"):
        record(where, begin=BEGIN + YEAR)
    assert rows(where) == 1


def test_the_same_run_is_recorded_once(tmp_path: Path) -> None:
    record(tmp_path / FILE)
    with pytest.raises(EntryError, match="the same as record 1"):
        record(tmp_path / FILE)
    assert rows(tmp_path / FILE) == 1


def test_a_correction_of_nothing_or_without_reason_is_refused(tmp_path: Path) -> None:
    where = tmp_path / FILE
    record(where)
    for correction, said in (
        (Correction(7, "typing error"), "the record to be put right must be"),
        (Correction(1, " "), "reason"),
    ):
        with pytest.raises(EntryError, match=said):
            record(where, correction=correction)
    assert rows(where) == 1


# ---------------------------------------------------------------- corrections


def test_a_correction_holds_in_place_of_the_first_which_stays(tmp_path: Path) -> None:
    where = tmp_path / FILE
    record(where, lambda level: 18.0)
    record(where, begin=BEGIN + YEAR)
    record(where, correction=Correction(1, "the tape was read a decimetre off"))
    with opened(where) as store:
        held = store.all()
    found = calibrations(held)
    assert [each.corrected_by for each in found] == [3, None, None]
    assert found[2].reason == "the tape was read a decimetre off"
    past = past_of(held, TAG)
    assert [run.record.id for run in past.runs] == [3, 2]  # where the first stood, not where it was written
    assert [run.judged.verdict for run in past.runs] == ["pass", "pass"]
    with pytest.raises(StoreError, match="record 3 corrects"):
        pair_of(held, 1)
    with pytest.raises(StoreError, match="corrects record 1 already"):
        record(where, correction=Correction(1, "again"))


def test_as_found_and_as_left_of_one_visit_belong_together(tmp_path: Path) -> None:
    where = tmp_path / FILE
    record(where, lambda level: 14.0)
    record(where, begin=BEGIN + timedelta(days=2), kind="as left")
    record(where, begin=BEGIN + YEAR)
    with opened(where) as store:
        held = store.all()
    ids = [tuple(each and each.record.id for each in pair_of(held, chosen)) for chosen in (1, 2, 3, None)]
    assert ids == [(1, 2), (1, 2), (3, None), (3, None)]
    with pytest.raises(StoreError, match="number of a calibration"):
        one_of(held, 99)


@pytest.mark.parametrize(
    ("path", "value"),
    [
        (("form",), 2),
        (("plan",), {}),
        (("run", "when"), "2026-11-20T08:00:00"),
        (("run", "readings", 0, "at"), "2026-11-20T08:00:00"),
        (("judged", "rule", "name"), "whatever pleases"),
        (("judged", "verdict"), "splendid"),
        (("judged", "standard_u_m"), "x"),
        (("judged", "points", 0, "level_m"), None),
    ],
)
def test_a_record_that_holds_something_else_is_refused_in_a_sentence(
    tmp_path: Path, path: tuple[str | int, ...], value: object
) -> None:
    """A chain from elsewhere may be whole and yet hold what no calibration is."""
    content = record(tmp_path / FILE).calibration.record.content
    inner = content
    for key in path[:-1]:
        inner = inner[key]
    inner[path[-1]] = value
    with opened(tmp_path / "other.sqlite") as store:
        other = store.append("calibration", TAG, "Somebody", content)
    with pytest.raises(ProvingError, match="must be"):
        calibration_of(other)


# ---------------------------------------------------------------- history and what is due


def test_a_drift_that_is_there_is_found_with_its_uncertainty(tmp_path: Path) -> None:
    """Errors that grow by 2 mm in a year, left alone: the drift found must be that, within twice its uncertainty."""
    where = tmp_path / FILE
    for year in range(4):
        record(where, lambda level, year=year: 1.0 + 2.0 * year, begin=BEGIN + year * YEAR)  # type: ignore[misc]
    with opened(where) as store:
        history = past_of(store.by_tag(TAG), TAG).history
    assert history is not None
    a_year_s = YEAR.total_seconds()
    for drift in history.drifts:
        assert abs(drift.rate_m_per_s * a_year_s - 0.002) < 2.0 * drift.rate_u_m_per_s * a_year_s
        assert drift.told_from_zero
    assert history.due is not None
    # 7 mm at the last run, 15 mm less a guard band of 1.0 to 1.6 mm: at 2 mm a year or faster in 3.5 years at most
    assert BEGIN + 3 * YEAR < history.due < BEGIN + 6.6 * YEAR


def test_what_was_agreed_is_the_longest(tmp_path: Path) -> None:
    where = tmp_path / FILE
    for year in range(2):
        record(where, begin=BEGIN + year * YEAR)
    with opened(where) as store:
        history = past_of(store.by_tag(TAG), TAG, rule_of(90.0)).history
    assert history is not None
    assert history.due == BEGIN + timedelta(minutes=20) + YEAR + timedelta(days=90)


def test_what_was_never_calibrated_is_due_first(tmp_path: Path) -> None:
    case = case_in(tmp_path, "b")
    other = case_in(tmp_path, "a")
    other.write_text(other.read_text(encoding="utf-8").replace(TAG, "LT-999"), encoding="utf-8")
    for year in range(2):
        record(place_beside(case), begin=BEGIN + year * YEAR)
    soon, late = (due_of(tmp_path, now=BEGIN + days * YEAR) for days in (1.1, 9.0))
    assert [(each.tag, each.case, each.overdue) for each in soon] == [("LT-999", "a", True), (TAG, "b", False)]
    assert soon[0].words == NEVER
    assert late[1].overdue


def test_the_agreed_interval_stands_where_no_method_can_propose_one(tmp_path: Path) -> None:
    """Of a single run; what was agreed holds whatever the methods say (ILAC-G24:2022, from memory)."""
    case = case_in(tmp_path)
    record(place_beside(case))
    now = BEGIN + timedelta(days=400)
    assert [(each.due, each.overdue) for each in due_of(tmp_path, now=now)] == [(None, False)]
    (found,) = due_of(tmp_path, now=now, rule=rule_of(365.0))
    assert found.due is not None and found.overdue
    assert abs(found.due - BEGIN - timedelta(days=365)) < timedelta(hours=1)


def test_no_case_is_missing_from_what_is_due(tmp_path: Path) -> None:
    case = case_in(tmp_path)
    text = case.read_text(encoding="utf-8")
    (tmp_path / "broken.yaml").write_text("onedatum: 1\ntag: [\n", encoding="utf-8")
    (tmp_path / "nameless.yaml").write_text(text.replace(f"tag: {TAG}", ""), encoding="utf-8")
    record(place_beside(case))
    found = {each.tag: (each.words, each.overdue) for each in due_of(tmp_path, now=BEGIN - YEAR)}
    assert sorted(found) == [TAG, "broken", "nameless"]
    assert "cannot be read" in found["broken"][0] and "states no tag" in found["nameless"][0]
    assert "still to come: put its record right" in found[TAG][0]
    assert all(overdue for _, overdue in found.values())


def test_a_folder_without_records_is_not_given_any(tmp_path: Path) -> None:
    case_in(tmp_path)
    assert [each.words for each in due_of(tmp_path)] == [NEVER]
    assert not (tmp_path / FILE).exists()


# ---------------------------------------------------------------- plan


def test_a_plan_is_read_back_as_it_was_written(tmp_path: Path) -> None:
    text, data, form = write_plan(PLAN, CASE, tmp_path)
    assert read_plan(data) == replace(PLAN, working=read_plan(data).working)
    assert "2697.0 mm" in text.read_text(encoding="utf-8")
    assert len(form.read_text(encoding="utf-8").splitlines()) == 1 + 3 * 2 * 5


@pytest.mark.parametrize("content", [b"", b"{", b"[]", b"{}", b"\xff\x00", b"[" * 100_000, b'{"onedatum": "run"}'])
def test_what_is_no_plan_is_told(tmp_path: Path, content: bytes) -> None:
    file = tmp_path / "plan.json"
    file.write_bytes(content)
    with pytest.raises(ProvingError, match="must be"):
        read_plan(file)


@pytest.mark.parametrize(
    "wished",
    [Wished(points=1), Wished(points=99), Wished(cycles=0), Wished(tolerance="5 kg"), Wished(tolerance="0 mm")],
)
def test_a_plan_that_cannot_be_is_told(wished: Wished) -> None:
    with pytest.raises(ProvingError, match="must be"):
        plan_of(STUDY, wished)


def test_a_record_too_long_for_its_working_says_so_and_has_it_worked_again(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What is worked again from the readings that were kept gives what was kept, to the last digit."""
    whole = record(tmp_path / "whole.sqlite").calibration
    monkeypatch.setattr("onedatum.jobs.proving.records.MOST_WITH_WORKING", 40_000)
    short = record(tmp_path / FILE)
    found = short.calibration
    assert (found.judged.sheet, whole.judged.sheet == ()) == ((), False)
    assert working_of(whole) == Working(whole.judged.sheet, "")
    assert working_of(found).sheet == whole.judged.sheet
    assert "With 30 readings this record keeps them and its results without the working" in written_text(short)
    other = replace(found, judged=replace(found.judged, standard_u_m=0.9 * found.judged.standard_u_m))
    assert working_of(other).sheet == ()
    assert "This version gives other results" in working_of(other).words


def test_a_run_of_the_most_readings_that_a_plan_may_ask_for_is_recorded(tmp_path: Path) -> None:
    plan = plan_of(STUDY, Wished(points=21, cycles=10))
    rows_ = ["cycle;direction;reference level [mm];shown current [mA]"]
    for cycle in range(1, plan.cycles + 1):
        for direction in plan.directions:
            for point in plan.points:
                level = 1e3 * point.level_m
                rows_.append(f"{cycle};{direction};{level};{4.0 + 16.0 * (level + 2.0 - 100.0) / 2700.0:.6f}")
    fields = {**FIELDS, "when": BEGIN.isoformat()}
    written = record_run(tmp_path / FILE, STUDY, plan, "as found", fields, read_readings("\n".join(rows_)))
    assert len(written.calibration.run.readings) == 420  # 21 points, 10 cycles, up and down
    assert written.calibration.judged.verdict == "pass"
    assert working_of(written.calibration).sheet


def test_the_certificate_names_both_references_where_they_differ(tmp_path: Path) -> None:
    where = tmp_path / FILE
    record(where)
    record(where, begin=BEGIN + timedelta(days=2), kind="as left", reference="dip tape 8")
    with opened(where) as store:
        pair = [each for each in pair_of(store.all()) if each is not None]
        said = " ".join(line.value for line in certificate_of(pair, store.head()).reference)
    assert "dip tape 7" in said
    assert "dip tape 8" in said


def test_a_certificate_of_two_rules_says_by_which_each_run_was_judged(tmp_path: Path) -> None:
    """ISO/IEC 17025:2017, 7.8.6.2 (from memory): the report says to which results the decision rule applies."""
    where = tmp_path / FILE
    record(where, lambda level: 14.6, rule="simple acceptance")
    record(where, begin=BEGIN + timedelta(days=2), kind="as left")
    with opened(where) as store:
        pair = [each for each in pair_of(store.all()) if each is not None]
        made = certificate_of(pair, store.head())
    said = [{line.label: line.value for line in run.lines}.get("decision rule of this run") for run in made.runs]
    assert (made.rule, said) == ("Non-binary acceptance", ["simple acceptance, factor 1", None])


def test_a_reference_is_compared_with_the_factor_of_two_whatever_its_certificate_states(tmp_path: Path) -> None:
    """JCGM 100:2008, 6.2.1: U = k u. With k = 1, U = 4.9 mm is 9.8 mm with k = 2, and a third of 15 mm is 5 mm."""
    said = refused(tmp_path, lines(lambda level: 2.0), reference_u="4.9 mm", reference_k="1")
    assert "up to 5.000 mm (k = 2); got 9.800 mm (k = 2)" in said["reference_u"]
    record(tmp_path / FILE, reference_u="7.4 mm", reference_k="3")  # 4.93 mm with k = 2


def test_a_way_that_is_missing_and_a_reading_are_called_as_on_the_form(tmp_path: Path) -> None:
    said = refused(tmp_path, lines(lambda level: 2.0, down=False))
    assert said[""].startswith("the readings of cycle 3, down must be")
    content = lines(lambda level: 2.0).splitlines()
    content[2] = content[2].replace("2026-11-20", "2026-11-19")
    (clock,) = refused(tmp_path, "\n".join(content)).values()
    assert clock.startswith(
        "reading 2 (cycle 1, up), time must be no earlier than 2026-11-20T08:20:00+00:00, reading 1"
    )


def test_times_are_kept_as_universal_time(tmp_path: Path) -> None:
    written = record(tmp_path / FILE, when="2026-11-20T09:00:00+01:00")
    assert written.calibration.record.at_utc == datetime(2026, 11, 20, 8, 0, tzinfo=UTC)
