"""What is wrong with a tank table that comes from elsewhere: row by row, with what was to be expected.

First what stops the table from being one: rows too few, without a number, not rising. Only in a table that rises is it
looked at where it starts, whether rows are missing, and whether it runs smoothly.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from onedatum.foundation.errors import ValidityError
from onedatum.foundation.numerics import Reals
from onedatum.physics.vessels.table_faults import Amount, FaultKind, TableFault
from onedatum.physics.vessels.table_smoothness import LEAST_ROWS, NORMAL_JUMP, Smoothness, grain_m3, runs_of

_MOST_STEPS = 0.9
"""Steps are uniform if this share of them is the same: the others are gaps, ends and rows put in on purpose."""

_LEAST_STEPS = 3
"""So many steps at least make a rule."""

_SAME_STEP = 1e-3
"""Steps are the same within this share of a step: levels are printed rounded."""

_MOST_ON_END = 2
"""More wide steps than this on end are no gaps but a part of the table in wider steps."""

_MOST_NAMED = 10
"""Missing levels named one by one; of more the first and the last are named."""

_SOURCE = "Compare the row with the source of the table"


def check_table(levels_m: Reals, volumes_m3: Reals) -> tuple[TableFault, ...]:
    """Everything that is wrong with a table or looks wrong; nothing for a sound table, however it is rounded."""
    levels, volumes = np.asarray(levels_m, dtype=np.float64), np.asarray(volumes_m3, dtype=np.float64)
    if levels.ndim != 1 or levels.shape != volumes.shape:
        got = f"{levels.shape} levels and {volumes.shape} volumes"
        raise ValidityError("vessels.table_checks", "rows", "a level and a volume each", got, "rows have two numbers")
    stopping = _not_a_table(levels, volumes) or [*_levels_not_rising(levels), *_volumes_falling(levels, volumes)]
    if stopping:
        return tuple(stopping)
    spacing = _rows_missing(levels)
    shifted = {fault.rows[0] - 1 for fault in spacing if fault.kind is FaultKind.STICKS_OUT}
    return (*_start(levels, volumes), *spacing, *_not_smooth(levels, volumes, shifted))


# ---------------------------------------------------------------- what stops


def _not_a_table(levels_m: Reals, volumes_m3: Reals) -> list[TableFault]:
    """Rows too few or without a number."""
    count = len(levels_m)
    if count < 2:
        why = "one row says nothing of what lies above it"
        seen = (Amount(float(count), ""),)
        return [TableFault(FaultKind.TOO_FEW_ROWS, (), True, "two rows or more", seen, (), why, "Give the whole table")]
    bad = np.flatnonzero(~(np.isfinite(levels_m) & np.isfinite(volumes_m3)))
    why, remedy = "a row without a number cannot be entered", "Give both numbers, or leave out the row"
    return [
        TableFault(
            FaultKind.NOT_FINITE,
            (int(row) + 1,),
            True,
            "a level and a volume",
            (_m(levels_m[row]), _m3(volumes_m3[row])),
            (),
            why,
            remedy,
        )
        for row in bad
    ]


def _levels_not_rising(levels_m: Reals) -> list[TableFault]:
    steps_m = np.diff(levels_m)
    allowed, why = "a level above that of the row before", "each level must stand in the table once, in rising order"
    found = []
    for twice in np.flatnonzero(steps_m == 0.0).tolist():
        pair, remedy = (twice + 1, twice + 2), "Strike one of the two rows, or correct its level"
        level = (_m(levels_m[twice]),)
        found.append(TableFault(FaultKind.LEVEL_REPEATED, pair, True, allowed, level, (), why, remedy))
    places = np.arange(len(levels_m), dtype=np.float64)
    step_m = float(np.median(steps_m))
    for run in runs_of(np.flatnonzero(steps_m < 0.0)):
        row, line_m = _out_of_line(places, levels_m, run)
        expected = (_m(line_m),) if len(run) == 1 and _is_between(levels_m, row, step_m) else ()
        rows = _blamed(run, row)
        seen = tuple(_m(levels_m[each - 1]) for each in rows)
        found.append(TableFault(FaultKind.LEVEL_FALLS, rows, True, allowed, seen, expected, why, _remedy_of_run(run)))
    return found


def _volumes_falling(levels_m: Reals, volumes_m3: Reals) -> list[TableFault]:
    rising = bool((np.diff(levels_m) > 0.0).all())
    at = levels_m if rising else np.arange(len(levels_m), dtype=np.float64)
    allowed, why = "no volume below that of the row before", "a vessel does not hold less at a higher level"
    found = []
    for run in runs_of(np.flatnonzero(np.diff(volumes_m3) < 0.0)):
        row, line_m3 = _out_of_line(at, volumes_m3, run)
        rows = _blamed(run, row)
        seen = tuple(_m3(volumes_m3[each - 1]) for each in rows)
        expected = (_m3(line_m3),) if len(rows) == 1 and np.isfinite(line_m3) else ()
        found.append(TableFault(FaultKind.VOLUME_FALLS, rows, True, allowed, seen, expected, why, _remedy_of_run(run)))
    return found


def _out_of_line(at: Reals, numbers: Reals, run: NDArray[np.intp]) -> tuple[int, float]:
    """Which of the rows either side of a fall is off the line of the rows around them, and what that line gives there.

    The line goes through the nearest row on each side, at an end of the table through two on one side; without two
    such rows it is the later row, and the line is not known.
    """
    low, high, last = int(run[0]), int(run[-1]) + 1, len(numbers) - 1
    around = [row for row in (low - 1, high + 1, low - 2, high + 2) if 0 <= row <= last][:2]
    if len(around) < 2:
        return high, float("nan")
    first, second = sorted(around)
    rows = np.arange(low, high + 1)
    slope = (numbers[second] - numbers[first]) / (at[second] - at[first])
    line = numbers[first] + slope * (at[rows] - at[first])
    worst = int(np.argmax(np.abs(numbers[rows] - line)))
    return int(rows[worst]), float(line[worst])


def _is_between(levels_m: Reals, row: int, step_m: float) -> bool:
    """Whether the rows either side of a row are two usual steps apart, so that its level is known."""
    inner = 0 < row < len(levels_m) - 1
    return inner and abs(levels_m[row + 1] - levels_m[row - 1] - 2.0 * step_m) <= _SAME_STEP * step_m


def _blamed(run: NDArray[np.intp], row: int) -> tuple[int, ...]:
    """One fall is the fault of one row; of several on end all rows are named by the first and the last."""
    return (row + 1,) if len(run) == 1 else (int(run[0]) + 1, int(run[-1]) + 2)


def _remedy_of_run(run: NDArray[np.intp]) -> str:
    return _SOURCE if len(run) == 1 else "Put the rows into rising order"


# ---------------------------------------------------------------- where it starts, and gaps


def _start(levels_m: Reals, volumes_m3: Reals) -> list[TableFault]:
    found = []
    if levels_m[0] != 0.0 or volumes_m3[0] > 0.0:
        seen, usual = (_m(levels_m[0]), _m3(volumes_m3[0])), (_m(0.0), _m3(0.0))
        why = "the table may be cut off below, or count from another datum"
        remedy = "Make sure what the levels of the table count from, and what lies below its first row"
        found.append(TableFault(FaultKind.DATUM, (1,), False, "nothing at the level 0", seen, usual, why, remedy))
    negative = np.flatnonzero(volumes_m3 < 0.0)
    if negative.size:
        rows = tuple(sorted({1, int(negative[-1]) + 1}))
        below = tuple(_m3(volumes_m3[row - 1]) for row in rows)
        why, remedy = "a vessel holds no less than nothing", "Add the volume that was taken off, or strike the rows"
        found.append(TableFault(FaultKind.DATUM, rows, False, "volumes of 0 or more", below, (), why, remedy))
    return found


def _rows_missing(levels_m: Reals) -> list[TableFault]:
    """Gaps of whole steps, and levels off their place, among steps that are otherwise the same."""
    steps_m = np.diff(levels_m)
    step_m = float(np.median(steps_m))
    same = np.abs(steps_m - step_m) <= _SAME_STEP * step_m
    if same.sum() < max(_LEAST_STEPS, min(_MOST_STEPS * same.size, same.size - 2)):
        return []
    counts = np.round(steps_m / step_m)
    whole = (counts >= 2) & (np.abs(steps_m - counts * step_m) <= _SAME_STEP * step_m * counts)
    gaps = [int(row) for run in runs_of(np.flatnonzero(whole)) if len(run) <= _MOST_ON_END for row in run]
    pairs = ~same[:-1] & ~same[1:] & (np.abs(steps_m[:-1] + steps_m[1:] - 2.0 * step_m) <= _SAME_STEP * step_m)
    off = [_level_off(levels_m, int(row) + 1) for row in np.flatnonzero(pairs)]
    return [*(_gap(levels_m, row, int(counts[row])) for row in gaps), *off]


def _gap(levels_m: Reals, row: int, count: int) -> TableFault:
    missing_m = np.round(np.linspace(levels_m[row], levels_m[row + 1], count + 1)[1:-1], 9)
    named_m = missing_m if len(missing_m) <= _MOST_NAMED else missing_m[[0, -1]]
    how_many = "1 row is" if len(missing_m) == 1 else f"{len(missing_m)} rows are"
    return TableFault(
        FaultKind.ROWS_MISSING,
        (row + 1, row + 2),
        False,
        "a row at every step",
        (_m(levels_m[row]), _m(levels_m[row + 1])),
        tuple(_m(level_m) for level_m in named_m),
        f"{how_many} missing between the two, where all around the steps are the same",
        "Give the rows from the source of the table; without them the line between the two rows is straight",
    )


def _level_off(levels_m: Reals, row: int) -> TableFault:
    seen, expected = (_m(levels_m[row]),), (_m(0.5 * (levels_m[row - 1] + levels_m[row + 1])),)
    why = "the level does not lie in the middle of its neighbours, where all around the steps are the same"
    return TableFault(
        FaultKind.STICKS_OUT, (row + 1,), False, "a level one step above the last", seen, expected, why, _SOURCE
    )


# ---------------------------------------------------------------- smoothness


def _not_smooth(levels_m: Reals, volumes_m3: Reals, shifted: set[int]) -> list[TableFault]:
    """How the volumes run, but around rows whose level is off: there the volumes need not be wrong."""
    grain = grain_m3(volumes_m3)
    runs = _repeated(levels_m, volumes_m3, grain)
    if len(levels_m) < LEAST_ROWS:
        return [_volume_repeated(volumes_m3, low, high, ()) for low, high in runs]
    smoothness = Smoothness(levels_m, volumes_m3, grain)
    taken = shifted | {row for low, high in runs for row in range(low, high + 1)}
    odd = smoothness.odd_rows()
    near = _beside(taken.union(odd))
    return [
        *(_volume_repeated(volumes_m3, *run, _expected_in(smoothness, run, odd)) for run in runs),
        *(_odd(smoothness, row) for row in odd if row not in taken | _beside(shifted)),
        *(_jump(smoothness, row) for row in smoothness.jumps() if row not in near),
        *(_lump(smoothness, row) for row in smoothness.lumps() if row not in near),
    ]


def _beside(rows: set[int]) -> set[int]:
    """These rows and two either side."""
    return {row + off for row in rows for off in range(-2, 3)}


def _repeated(levels_m: Reals, volumes_m3: Reals, grain: float) -> list[tuple[int, int]]:
    """First and last row of each run of one volume, but the flat start and what rounding makes of a small rise."""
    runs = [(int(run[0]), int(run[-1]) + 1) for run in runs_of(np.flatnonzero(np.diff(volumes_m3) == 0.0))]
    return [run for run in runs if run[0] > 0 and _least_rise_m3(levels_m, volumes_m3, *run, grain) >= grain]


def _least_rise_m3(levels_m: Reals, volumes_m3: Reals, low: int, high: int, grain: float) -> float:
    """By how much the volume should at least have risen from row to row, by the rows before and after."""
    before, after = low - 1, min(high + 1, len(levels_m) - 1)
    rise_m3 = volumes_m3[after] - volumes_m3[before] - grain
    return float(rise_m3 * (levels_m[high] - levels_m[low]) / (levels_m[after] - levels_m[before]))


def _expected_in(smoothness: Smoothness, run: tuple[int, int], odd: list[int]) -> tuple[Amount, ...]:
    """What the second of two rows alike should hold, if it is the one that sticks out; else what the first should."""
    low, high = run
    wrong = [row for row in odd if low <= row <= high]
    if high - low > 1 or not wrong:
        return ()
    volumes_m3 = [smoothness.by_neighbours_m3(row) if row in wrong else smoothness.volumes_m3[row] for row in run]
    return tuple(_m3(volume_m3) for volume_m3 in volumes_m3)


def _volume_repeated(volumes_m3: Reals, low: int, high: int, expected: tuple[Amount, ...]) -> TableFault:
    seen = (_m3(volumes_m3[low]), _m3(volumes_m3[high]))
    why = "the level rises and the volume does not, by more than the last digit explains"
    rows = (low + 1, high + 1)
    return TableFault(
        FaultKind.VOLUME_REPEATED, rows, False, "a volume above the one before", seen, expected, why, _SOURCE
    )


def _odd(smoothness: Smoothness, row: int) -> TableFault:
    seen, expected = (_m3(smoothness.volumes_m3[row]),), (_m3(smoothness.by_neighbours_m3(row)),)
    why = "the section changes up and down again around this row alone, as a mistyped digit makes it"
    return TableFault(
        FaultKind.STICKS_OUT, (row + 1,), False, "a volume in line with the rows around", seen, expected, why, _SOURCE
    )


def _jump(smoothness: Smoothness, row: int) -> TableFault:
    sections_m2 = smoothness.sections_m2
    seen = (Amount(float(sections_m2[row - 1]), "m2"), Amount(float(sections_m2[row]), "m2"))
    why = f"from one course to the next the section changes by a few per cent, not by more than {NORMAL_JUMP:.0%}"
    remedy = "Make sure that the vessel changes there, and compare the rows above with the source of the table"
    return TableFault(
        FaultKind.SECTION_JUMPS, (row + 1,), False, "a section that goes on as below", seen, (), why, remedy
    )


def _lump(smoothness: Smoothness, row: int) -> TableFault:
    sections_m2 = smoothness.sections_m2
    expected = (Amount(float(0.5 * (sections_m2[row - 1] + sections_m2[row + 1])), "m2"),)
    seen = (Amount(float(sections_m2[row]), "m2"),)
    why = (
        "between these two rows alone the section differs from below and above: a fitting, or volumes shifted from here"
    )
    remedy = "Make sure what lies in the vessel there, and compare the rows above with the source of the table"
    rows = (row + 1, row + 2)
    return TableFault(FaultKind.SECTION_JUMPS, rows, False, "a section as below and above", seen, expected, why, remedy)


# ---------------------------------------------------------------- words


def _m(level_m: float) -> Amount:
    return Amount(float(level_m), "m")


def _m3(volume_m3: float) -> Amount:
    return Amount(float(volume_m3), "m3")
