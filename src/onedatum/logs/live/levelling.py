"""One live number made a level and quantities by the same function that converts logs."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any

import numpy as np
import pyarrow as pa

from onedatum.logs.converter import Converter
from onedatum.logs.kernel import convert
from onedatum.logs.mapping import LogMapping
from onedatum.logs.reasons import FLAGS, NO_CURRENT
from onedatum.study.result import Study

VOLUME = "volume_m3"
FIXED = ("row", "time", "tag", "state", "flags", "current_A", "level_m", "u_level_m")
"""Columns of every case, which are no quantities."""
NO_ROW = "the number cannot be converted"
NO_CURRENT_LOW, NO_CURRENT_HIGH = "no_current_low", "no_current_high"
"""States of a number that stands for a current which no loop carries.

In a log such a row is set aside. Here it is news of now: whatever the input tells, it is no longer the level, and the
failure information of NE 43 has no upper end (from memory).
"""


@dataclass(frozen=True)
class Amount:
    """What a number is worth: as a converted row of a log says it."""

    state: str | None = None
    """What the current says of itself; None where a level was read."""
    flags: int = 0
    current_A: float | None = None
    level_m: float | None = None
    u_level_m: float | None = None
    quantities: Mapping[str, float | None] = field(default_factory=dict)
    """By column, `u_` before the name for the standard uncertainty."""
    doubt: str = ""
    """Why nothing follows from the number; beside a state, what is wrong with it."""

    @property
    def at_end(self) -> bool:
        """Whether the signal stands at its end, so that the level is a bound."""
        return bool(self.flags & (FLAGS["at_or_below"] | FLAGS["at_or_above"]))


class Levelling:
    """The tables of one case for numbers of one unit."""

    def __init__(self, study: Study, unit: str) -> None:
        self.tag = study.statement.case.tag.text
        self._mapping = LogMapping("time", "iso", "UTC", "value", unit)
        self._converter = Converter.of([study], self._mapping)
        self.remarks = self._converter.tanks[0].remarks
        self.lasting_hash = self._converter.key

    @property
    def columns(self) -> tuple[str, ...]:
        """The quantities that the case knows."""
        return self._converter.columns

    def amount(self, time_us: int, value: float) -> Amount:
        """What a number is worth."""
        time = pa.array([time_us], pa.timestamp("us", "UTC"))
        batch = pa.RecordBatch.from_arrays([time, pa.array([value], pa.float64())], names=["time", "value"])
        rows, rejected = convert(batch, self._converter, self._mapping)
        if not rows.num_rows:
            why = str(rejected.column("reason")[0].as_py()) if rejected.num_rows else NO_ROW
            return self._no_current(value, rows.schema.names) if why == NO_CURRENT else Amount(doubt=why)
        row: Mapping[str, Any] = rows.to_pylist()[0]
        return Amount(
            row["state"],
            row["flags"],
            row["current_A"],
            row["level_m"],
            row.get("u_level_m"),
            {key: each for key, each in row.items() if key not in FIXED},
        )

    def _no_current(self, value: float, columns: Iterable[str]) -> Amount:
        """Of a number that stands for a current which no loop carries."""
        line = self._converter.line(self._mapping.unit)
        if line is None:
            return Amount(doubt=NO_CURRENT)
        current_A = float(line.current_at_0[0] + line.current_per[0] * value)
        state = NO_CURRENT_HIGH if current_A > 0.0 else NO_CURRENT_LOW
        none = {key: None for key in columns if key not in FIXED}
        return Amount(state, FLAGS["no_measurement"], current_A, quantities=none, doubt=NO_CURRENT)

    def volume_m3(self, level_m: float) -> float | None:
        """The volume of the table at a level; None outside the vessel, or where there is no table."""
        if VOLUME not in self.columns:
            return None
        amounts, level = self._converter.over_level, np.array([level_m])
        spots = amounts.spots(0, level)
        found = float(spots.read(amounts.values[VOLUME], amounts.rises[VOLUME])[0])
        return None if spots.outside[0] or not np.isfinite(found) else found
