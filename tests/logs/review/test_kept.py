"""The rows kept for a picture: each way of reading them gives what numpy gives over the rows themselves."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from onedatum.logs.review import kept
from onedatum.logs.review.kept import GROUP, Keeping, Kept, Strokes
from onedatum.logs.review.rows import AT_HIGH, FAILED_LOW, MEASURED, Rows

COUNT, EVERY_us = 6000, 60_000_000
FIRST_us = 1_772_323_200_000_000
SEED = 20260425


@pytest.fixture(scope="module")
def whole() -> Rows:
    """Levels that wander, a while without any, a while at the upper end."""
    random = np.random.default_rng(SEED)
    level = 1.0 + np.cumsum(random.standard_normal(COUNT)) * 1e-3
    kind = np.full(COUNT, MEASURED, dtype=np.int8)
    kind[2000:2100], kind[4000:4010] = FAILED_LOW, AT_HIGH
    level[kind != MEASURED] = np.nan
    return Rows(FIRST_us + np.arange(COUNT) * EVERY_us, level, kind, np.full(COUNT, 0.012))


def keep(folder: Path, whole: Rows, size: int = 700) -> Kept:
    keeping = Keeping(folder)
    for start in range(0, COUNT, size):
        keeping.put(whole.cut(start, start + size))
    keeping.done()
    return Kept(folder)


def by_numpy(whole: Rows, from_us: int, to_us: int, columns: int) -> list[tuple[float, float, int]]:
    """Least, greatest and kinds of each column, column by column."""
    found = []
    edges = [from_us + (to_us - from_us) * at / columns for at in range(columns + 1)]
    for at in range(columns):
        last = at == columns - 1
        own = (whole.time_us >= edges[at]) & ((whole.time_us <= to_us) if last else (whole.time_us < edges[at + 1]))
        level = whole.level_m[own & np.isfinite(whole.level_m)]
        bits = int(np.bitwise_or.reduce(1 << whole.kind[own])) if own.any() else 0
        found.append((level.min(), level.max(), bits) if len(level) else (np.nan, np.nan, bits))
    return found


def told(strokes: Strokes) -> list[tuple[float, float, int]]:
    return list(zip(strokes.low.tolist(), strokes.high.tolist(), strokes.kinds.tolist(), strict=True))


@pytest.mark.parametrize(("start", "end"), [(0, COUNT - 1), (1950, 4300), (-500, 3000), (5000, 9000)])
def test_columns_are_those_of_the_rows(tmp_path: Path, whole: Rows, start: int, end: int) -> None:
    from_us, to_us = FIRST_us + start * EVERY_us, FIRST_us + end * EVERY_us
    found = keep(tmp_path / "k", whole).strokes("level_m", from_us, to_us, 97)
    assert not found.is_rows
    for mine, other in zip(told(found), by_numpy(whole, from_us, to_us, 97), strict=True):
        assert mine[:2] == pytest.approx(other[:2], rel=1e-6, nan_ok=True)
        assert mine[2] == other[2]


def test_few_rows_stand_at_their_own_time_with_a_neighbour_on_either_side(tmp_path: Path, whole: Rows) -> None:
    from_us, to_us = FIRST_us + 100 * EVERY_us - 1, FIRST_us + 140 * EVERY_us + 1
    found = keep(tmp_path / "k", whole).strokes("level_m", from_us, to_us, 400)
    assert found.is_rows
    assert found.at_us.tolist() == whole.time_us[99:142].tolist()
    assert found.low.tolist() == found.high.tolist() == pytest.approx(whole.level_m[99:142].tolist(), rel=1e-6)


def test_many_rows_are_read_by_groups_and_none_of_their_extremes_is_lost(
    tmp_path: Path, whole: Rows, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(kept, "DIRECT", 0)
    found = keep(tmp_path / "k", whole).strokes("level_m", FIRST_us, int(whole.time_us[-1]), 8)
    assert np.nanmin(found.low) == pytest.approx(np.nanmin(whole.level_m), rel=1e-6)
    assert np.nanmax(found.high) == pytest.approx(np.nanmax(whole.level_m), rel=1e-6)
    rows = by_numpy(whole, FIRST_us, int(whole.time_us[-1]), 8)
    off_m = np.nanmax([abs(mine[0] - other[0]) for mine, other in zip(told(found), rows, strict=True)])
    assert off_m <= np.nanmax(np.abs(np.diff(whole.level_m))) * GROUP


def test_of_a_log_that_is_too_long_the_groups_alone_stay(
    tmp_path: Path, whole: Rows, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(kept, "MOST", 3000)
    found = keep(tmp_path / "k", whole)
    assert not found.has_rows
    assert not [each for each in (tmp_path / "k").iterdir() if each.name.startswith("row-")]
    strokes = found.strokes("level_m", FIRST_us, int(whole.time_us[-1]), 10)
    assert np.nanmax(strokes.high) == pytest.approx(np.nanmax(whole.level_m), rel=1e-6)
    current = found.strokes("current_A", FIRST_us, int(whole.time_us[-1]), 10)
    assert current.low.tolist() == pytest.approx([0.012] * 10, rel=1e-6)
