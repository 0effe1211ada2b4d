"""A log to be reviewed, for the tests of its page: three days of the invented receiver, with what is wrong put in.

The level follows from the current by the straight line of the range 100 mm to 2800 mm (IEC 60381-1).
"""

from __future__ import annotations

from pathlib import Path

import numpy as np

LOG, MAP, DIPS = "three_days.csv", "three_days_map.yaml", "three_days_dips.csv"
CHOSEN = {"log": LOG, "map": MAP, "dips": DIPS}
MINUTES = 3 * 1440
EVERY = 2
MAPPING = "mapping: 1\ntime: {column: time, form: iso, zone: UTC}\nvalue: {column: pv, unit: mA}\n"
BROKEN, MISSING, STILL = range(2000, 2120), range(2900, 3100), range(600, 900)
"""Minutes of the log: no current, no rows, one and the same reading."""
HIGH_A, LOW_A = 14e-3, 9e-3
SEED = 20260421


def current_A(minute: int) -> float:
    """In the middle of each day the tank is full, at night low; an hour to fill, an hour to empty."""
    day = minute % 1440
    share = min(max((day - 420) / 60.0, 0.0), 1.0) - min(max((day - 1080) / 60.0, 0.0), 1.0)
    return LOW_A + share * (HIGH_A - LOW_A)


def level_mm(current: float) -> float:
    """On the straight line of the range."""
    return 100.0 + (current * 1e3 - 4.0) / 16.0 * 2700.0


def moment(minute: int) -> str:
    """A minute of the log as a time."""
    return f"2026-02-{1 + minute // 1440:02}T{minute // 60 % 24:02}:{minute % 60:02}:00"


def written(folder: Path) -> Path:
    """The log, its mapping and dips in the folder `logs` beside the cases."""
    place = folder / "logs"
    place.mkdir()
    noise_mA = 0.003 * np.random.default_rng(SEED).standard_normal(MINUTES)
    lines = ["time,pv"]
    for minute in range(0, MINUTES, EVERY):
        if minute in MISSING:
            continue
        shown = 1e3 * current_A(minute) + noise_mA[STILL.start if minute in STILL else minute]
        lines.append(f"{moment(minute)},{0.0 if minute in BROKEN else shown:.3f}")
    dips = [f"{moment(noon)}Z,{level_mm(current_A(noon)):.0f} mm" for noon in range(720, MINUTES, 1440)]
    (place / LOG).write_text("\n".join([*lines, ""]), encoding="utf-8")
    (place / MAP).write_text(MAPPING, encoding="utf-8")
    (place / DIPS).write_text("\n".join(["time,level", *dips, ""]), encoding="utf-8")
    return folder
