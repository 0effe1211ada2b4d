"""What a watch has kept, converted and reviewed as docs/watch.md says: nothing that it doubted becomes a level."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Any

import pyarrow.parquet as pq
import pytest

from onedatum.jobs.watch.kept import FOLDER, Kept
from onedatum.logs.live.sample import Reading, Sample
from tests.cli.run import ROOT, onedatum
from tests.closeness import close
from tests.logs.live.test_follower import current_mA, follower

CASE = str(ROOT / "examples" / "spirit_receiver.yaml")
BEGIN_us = 1_700_000_000_000_000
GOOD_mA = 12.0
DENIED = Reading(current_mA(2.0), "the server says BadSensorFailure", denies_level=True)
NO_CURRENTS = 3
"""Of a current that no loop carries: kept as one from the third on, and set aside when it is converted."""
READINGS: Sequence[Reading] = (
    *[Reading(GOOD_mA)] * 5,
    Reading(current_mA(2.5)),  # bits that make a level
    *[Reading(GOOD_mA)] * 3,
    Reading(1.0),  # bits that make a failure current
    *[Reading(GOOD_mA)] * 3,
    Reading(None, "1e30 is outside the limits 0 to 25"),
    DENIED,
    *[Reading(3.5)] * 4,
    *[Reading(25.5)] * NO_CURRENTS,
)
"""By hand: 12 mA is the middle of 100 to 2800 mm. Where 5 mm/s is stated, the first two after each gap are doubted."""
LEVELS, FAILURES = 3 + 1 + 1, 2
DOC = (ROOT / "docs" / "watch.md").read_text("utf-8")


def mapping(value: str) -> str:
    """A mapping file as the page shows it, with another column."""
    begin = DOC.index("mapping: 1")
    shown = DOC[begin : DOC.index("```", begin)]
    assert "value: {column: current_A, unit: A}" in shown
    return shown.replace("column: current_A, unit: A", value)


@pytest.fixture(scope="module")
def kept(tmp_path_factory: pytest.TempPathFactory) -> list[str]:
    """The parts of a watch of that tag, two of them."""
    out, tag = tmp_path_factory.mktemp("kept"), follower(fastest_m_per_s=0.005)
    with Kept.of(out) as rows:
        for second, reading in enumerate(READINGS):
            rows.add(tag.take(Sample("LT-201", BEGIN_us + second * 1_000_000, reading)))
            if second == 10:
                rows.commit()
        rows.commit()
    return [str(path) for path in sorted((out / FOLDER).iterdir())]


def converted(kept: list[str], folder: Path, value: str) -> list[dict[str, Any]]:
    """The rows that come of it."""
    (folder / "map.yaml").write_text(mapping(value), encoding="utf-8")
    done = onedatum("convert", *kept, "--case", CASE, "--map", str(folder / "map.yaml"), "--out", str(folder / "out"))
    assert done.code == 0, done.err
    return [row for path in sorted((folder / "out" / "parts").glob("*.parquet")) for row in rows_of(path)]


def rows_of(path: Path) -> list[dict[str, Any]]:
    """The rows of a part."""
    rows: list[dict[str, Any]] = pq.read_table(path).to_pylist()
    return rows


@pytest.mark.parametrize(
    ("value", "failures"), [("column: current_A, unit: A", FAILURES), ("column: level_m, unit: m", 0)]
)
def test_what_was_doubted_is_no_level_and_a_confirmed_failure_is_one(
    kept: list[str], tmp_path: Path, value: str, failures: int
) -> None:
    rows = converted(kept, tmp_path, value)
    levels = [row["level_m"] for row in rows if row["level_m"] is not None]
    close(levels, [1.45] * LEVELS, 1e-9, "rounding of the line of the range")
    assert [row["state"] for row in rows if row["level_m"] is None] == ["failure_low"] * failures


def test_a_current_of_no_loop_is_kept_with_its_state(kept: list[str]) -> None:
    rows = [row for path in kept for row in rows_of(Path(path)) if row["value"] == 25.5]
    assert [row["state"] for row in rows] == [None, None, "no_current_high"]
    assert all(row["level_m"] is None and "no current of a loop" in row["doubt"] for row in rows)


def test_the_bare_numbers_are_all_that_was_read_as_the_page_warns(kept: list[str], tmp_path: Path) -> None:
    rows = converted(kept, tmp_path, "column: value, unit_column: unit")
    levels = [row["level_m"] for row in rows if row["level_m"] is not None]
    assert len(rows) == len(READINGS) - 1 - NO_CURRENTS and max(levels) > 2.4
    assert "doubted comes back as good" in " ".join(DOC.split())
