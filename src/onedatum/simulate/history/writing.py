"""A history as a folder: what a works would hand over, and the truth in a folder of its own beneath it."""

from __future__ import annotations

import json
from dataclasses import asdict
from datetime import UTC, timedelta
from decimal import Decimal
from math import isfinite
from pathlib import Path
from typing import Any, Literal

import numpy as np

from onedatum.foundation.errors import OutputError
from onedatum.foundation.moments import HOUR_s
from onedatum.foundation.numerics import Reals
from onedatum.simulate.history.hands import meters
from onedatum.simulate.history.made import History
from onedatum.simulate.history.recorded import hours
from onedatum.simulate.history.troubles import trouble_kind

TRUTH = "truth"
COLUMNS = {"mA": "current_mA", "mm": "level_mm", "m": "level_m", "%": "level_percent", "counts": "counts"}
ZERO_degC = 273.15


def written(history: History, folder: Path, case_text: str | None = None) -> Path:
    """Write log.csv, map.yaml, dips.csv, movements.csv and case.yaml, and truth/truth.json; gives the folder.

    The case is written as in its file, or by `case_text` where it was read from a text. Without a vessel in the case
    there is no movements.csv. Raises OutputError where the folder cannot be written or the case not be read again.
    """
    if case_text is None:
        case_text = _text_of(Path(history.case_file))
    files = {
        "log.csv": log_text(history),
        "map.yaml": map_text(history),
        "dips.csv": dips_text(history),
        "case.yaml": case_text,
        f"{TRUTH}/truth.json": truth_text(history),
    }
    if not history.vessel.stands_in:
        files["movements.csv"] = movements_text(history)
    for name, text in files.items():
        path = folder / name
        try:
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_bytes(text.encode("utf-8"))
        except OSError as error:
            raise OutputError.of(path, error) from error
    return folder


def _text_of(case_file: Path) -> str:
    try:
        return case_file.read_text(encoding="utf-8")
    except OSError as error:
        remedy = "Hand in the text of the case"
        raise OutputError("case.yaml", f"{case_file}: {error.strerror or error}", remedy) from error


def log_text(history: History) -> str:
    """The log, a header and a row for each reading that was kept."""
    record, rows = history.plan.record, history.recorded
    exponent = Decimal(str(record.step)).normalize().as_tuple().exponent
    decimals = max(0, -exponent) if isinstance(exponent, int) else 0
    header, columns = ["time", COLUMNS[record.unit]], [log_times(history), _texts(rows.value, decimals)]
    if history.temperature_K is not None:
        header.append("liquid_degC")
        columns.append(_texts(history.temperature_K - ZERO_degC, 1))
    lines = [",".join(header), *map(",".join, zip(*columns, strict=True))]
    return "\n".join(lines) + "\n"


def _texts(values: Reals, decimals: int) -> list[str]:
    """Numbers with so many decimals, each different one written once."""
    known, place = np.unique(np.round(values, decimals), return_inverse=True)
    texts = [f"{each + 0.0:.{decimals}f}" for each in known.tolist()]
    return [texts[which] for which in place.tolist()]


def log_times(history: History) -> list[str]:
    """The times as the clock of the record tells them."""
    rows, record = history.recorded, history.plan.record
    true_s = history.tank.time_s[rows.which]
    shown_ms = np.round((true_s + rows.behind_s + rows.offset_s) * 1e3).astype(np.int64)
    unit: Literal["s", "ms"] = "s" if not np.any(shown_ms % 1000) else "ms"
    since_1970_ms = round(history.plan.start.timestamp() * 1e3)
    texts = np.datetime_as_string((since_1970_ms + shown_ms).astype("datetime64[ms]"), unit=unit)
    if record.clock != "offset":
        return list(texts.tolist())
    shown: list[str] = texts.tolist()
    for offset_s in np.unique(rows.offset_s).tolist():
        end = hours(offset_s)
        for place in np.flatnonzero(rows.offset_s == offset_s).tolist():
            shown[place] += end
    return shown


def map_text(history: History) -> str:
    """What the columns of the log mean."""
    record = history.plan.record
    zone = {"offset": "in the text", "legal": record.zone, "utc": "UTC"}[record.clock]
    lines = [
        "# Which column of the log says what. A simulated history of an invented works.",
        "mapping: 1",
        f"time: {{column: time, form: iso, zone: {zone}}}",
        f'value: {{column: {COLUMNS[record.unit]}, unit: "{record.unit}"}}',
    ]
    if history.temperature_K is not None:
        lines.append("temperature: {column: liquid_degC, unit: degC}")
    if record.unit == "counts":
        lines.append(f"counts: {{at_4_mA: {record.counts[0]:g}, at_20_mA: {record.counts[1]:g}}}")
    return "\n".join(lines) + "\n"


def dips_text(history: History) -> str:
    """Dips, each with its time and its level."""
    lines = [f"{utc(history, each.time_s)},{each.level_m:.3f} m" for each in history.dips]
    return "\n".join(["time,level", *lines]) + "\n"


def movements_text(history: History) -> str:
    """Movements by the meters, positive into the vessel."""
    lines = [
        f"{utc(history, each.start_s)},{utc(history, each.end_s)},{each.volume_m3:.3f} m3" for each in history.booked
    ]
    return "\n".join(["from,to,volume", *lines]) + "\n"


def truth_text(history: History) -> str:
    """What was put in, and how the tank really stood, hour by hour."""
    plan, tank = history.plan, history.tank
    every = max(int(HOUR_s / plan.record.interval_s), 1)
    hourly = slice(None, None, every)
    off_in, off_out = meters(plan)
    told: dict[str, Any] = {
        "invented": "a simulated history of an invented works",
        "seed": plan.seed,
        "start": utc(history, 0.0),
        "duration_s": plan.duration_s,
        "interval_s": plan.record.interval_s,
        "healthy": history.is_healthy,
        "faults": [_fault(history, index) for index in range(len(plan.troubles))],
        "reading": asdict(plan.reading),
        "hands": asdict(plan.hands),
        "sound_meters_off_by": {"in": off_in, "out": off_out},
        "leaked_kg": float(tank.leaked_kg[-1]),
        "moves": [
            {"from": utc(history, move.start_s), "to": utc(history, move.end_s), "volume_m3": move.volume_m3}
            for move in tank.moves
        ],
        "hourly": {
            "time_s": tank.time_s[hourly].tolist(),
            "level_m": np.round(tank.level_m[hourly], 6).tolist(),
            "volume_m3": np.round(tank.volume_m3[hourly], 6).tolist(),
            "temperature_K": np.round(tank.temperature_K[hourly], 3).tolist(),
        },
    }
    return json.dumps(told, indent=1) + "\n"


def _fault(history: History, index: int) -> dict[str, Any]:
    each = history.plan.troubles[index]
    kind = trouble_kind(each.kind)
    return {
        "kind": each.kind,
        "words": kind.words,
        "size": each.size,
        "size_is": kind.size,
        "unit": kind.suffix,
        "from": utc(history, each.start_s),
        "until": utc(history, each.until_s) if isfinite(each.until_s) else None,
        "grows_s": each.grows_s,
    }


def utc(history: History, time_s: float) -> str:
    """A true time in ISO 8601 with its offset."""
    return (history.plan.start.astimezone(UTC) + timedelta(seconds=round(time_s))).isoformat()
