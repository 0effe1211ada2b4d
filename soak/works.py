"""What the sets of simulated logs share: how their tanks live, what a log is made from, moments and lengths of time.

All works and tanks are the invented ones of the examples.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from onedatum.case.reading import read_case_text
from onedatum.foundation.moments import DAY_s, HOUR_s
from onedatum.simulate.history import History, Life, Plan, history
from onedatum.study.study import study

EXAMPLES = Path(__file__).resolve().parents[1] / "examples"
MINUTE_s = 60.0
PER_HOUR = 1.0 / HOUR_s
LITRES_A_DAY = 1e-3 / DAY_s
BARE_IN_OIL = (
    ("rod: coated all over", "rod: bare"),
    ("conductivity: {value: 20 S/m", "conductivity: {value: 1e-9 S/m"),
    ("permittivity: {value: 30,", "permittivity: {value: 2.3,"),
    ("density: 1525.3 kg/m3", "density: 905 kg/m3"),
    ("# 50 % by mass of sodium hydroxide", "# an oil that does not conduct"),
)
"""The probe of the caustic tank without its coating, in an oil."""
ONE_TAP = (
    ("  taps_apart: 100 in\n", ""),
    ("  high_side: lower tap\n", ""),
    ("difference between two taps", "one tap, against the atmosphere"),
    ("principle: differential pressure", "principle: hydrostatic pressure"),
)
"""The wet leg and its tap left out."""
WIDE_STORE = (("inside_diameter: 4000 mm", "inside_diameter: 12000 mm"),)
"""The gas oil tank three times as wide: 475 m3 of heating oil for a winter."""
BRINE_TANK = (
    *ONE_TAP,
    (
        "vessel:\n  datum: lower tap\n",
        "vessel:\n  shape: vertical cylinder\n  inside_diameter: 2400 mm\n  shell_length: 2700 mm\n"
        "  bottom_head: {form: flat}\n  top_head: {form: flat}\n  datum: lowest inside point\n"
        "  metal: austenitic stainless steel\n  shell_expansion: 16e-6 1/K\n  table_temperature: 20 degC\n"
        "  shell_temperature: as liquid\n  deadwood: none\n",
    ),
    ("below_lower_tap: 50 in", "lower_tap: 0 mm\n  below_lower_tap: 0 mm"),
    ('kind: "nitrogen blanket"', 'kind: "atmospheric, vent open"'),
    ("operating: 20 psi(g)", "operating: 0 bar(g)"),
    ("{kind: nitrogen, density: 2.9 kg/m3}", "{kind: air, density: 1.2 kg/m3}"),
    ("value: 1020 kg/m3, within: 10 kg/m3", "value: 1180 kg/m3, within: 5 kg/m3"),
)
"""One tap at the floor of an open upright tank of brine, 12 m3."""


@dataclass(frozen=True)
class Log:
    """One log: its case, with lines put for others, and its plan."""

    name: str
    case: str
    plan: Plan
    changes: tuple[tuple[str, str], ...] = ()

    @property
    def case_text(self) -> str:
        """The case file."""
        text = (EXAMPLES / f"{self.case}.yaml").read_text(encoding="utf-8")
        if self.changes[: len(ONE_TAP)] == ONE_TAP:
            text = text[: text.index("  upper_leg:")] + text[text.index("  unit: inH2O") :]
        for old, new in self.changes:
            if old not in text:
                raise ValueError(f"{self.case}.yaml must have a line with {old!r}; got none.")
            text = text.replace(old, new)
        return text


@dataclass(frozen=True)
class Tried:
    """A log, and for each of its troubles the signatures that tell it rightly; none for a sound one."""

    log: Log
    told_by: tuple[tuple[str, ...], ...] = ()
    why: tuple[str, ...] = ()
    """For each of its troubles, why one of its size matters; of a sound log, what may be taken for a fault."""
    allowed: tuple[str, ...] = ()
    """Signatures that tell of a sound log what is so, such as hours without rows."""


def made(log: Log) -> History:
    """The history of a log."""
    return history(study(read_case_text(log.case_text, f"{log.case}.yaml", EXAMPLES)), log.plan)


def at(year: int, month: int, day: int) -> datetime:
    """The first moment of a day, UTC."""
    return datetime(year, month, day, tzinfo=UTC)


def days(number: float) -> float:
    """Days in seconds."""
    return number * DAY_s


RECEIVER = Life(
    start_m=1.1,
    low_m=0.35,
    high_m=2.6,
    in_m3=(0.6, 1.6),
    out_m3=(1.0, 3.8),
    in_m3_per_s=(0.7 * PER_HOUR, 1.6 * PER_HOUR),
    out_m3_per_s=(4.0 * PER_HOUR, 7.0 * PER_HOUR),
    pause_s=(0.5 * HOUR_s, 30.0 * HOUR_s),
    season_K=4.0,
)
CAUSTIC = Life(
    start_m=1.4,
    low_m=0.3,
    high_m=2.15,
    in_m3=(4.0, 7.0),
    out_m3=(0.2, 0.9),
    in_m3_per_s=(9.0 * PER_HOUR, 12.0 * PER_HOUR),
    out_m3_per_s=(0.5 * PER_HOUR, 1.5 * PER_HOUR),
    pause_s=(1.0 * HOUR_s, 12.0 * HOUR_s),
    season_K=3.0,
    day_K=0.5,
)
GAS_OIL = Life(
    start_m=2.6,
    low_m=0.5,
    high_m=3.9,
    in_m3=(12.0, 28.0),
    out_m3=(1.5, 9.0),
    in_m3_per_s=(25.0 * PER_HOUR, 40.0 * PER_HOUR),
    out_m3_per_s=(8.0 * PER_HOUR, 20.0 * PER_HOUR),
    pause_s=(2.0 * HOUR_s, 48.0 * HOUR_s),
    season_K=8.0,
    day_K=1.5,
    weather_K=1.2,
)
SOLVENT = Life(
    start_m=1.7,
    low_m=0.3,
    high_m=2.7,
    in_m3=(2.0, 5.0),
    out_m3=(0.4, 1.8),
    in_m3_per_s=(6.0 * PER_HOUR, 10.0 * PER_HOUR),
    out_m3_per_s=(1.0 * PER_HOUR, 3.0 * PER_HOUR),
    pause_s=(0.5 * HOUR_s, 16.0 * HOUR_s),
    season_K=6.0,
    day_K=1.2,
)
LYING = Life(
    start_m=0.9,
    low_m=0.25,
    high_m=1.75,
    in_m3=(2.0, 6.0),
    out_m3=(2.0, 6.0),
    in_m3_per_s=(3.0 * PER_HOUR, 6.0 * PER_HOUR),
    out_m3_per_s=(3.0 * PER_HOUR, 8.0 * PER_HOUR),
    pause_s=(4.0 * HOUR_s, 72.0 * HOUR_s),
    season_K=3.0,
    day_K=0.3,
)
GLYCOL = Life(
    start_m=0.9,
    low_m=0.3,
    high_m=1.6,
    in_m3=(1.0, 4.0),
    out_m3=(1.0, 4.0),
    in_m3_per_s=(2.0 * PER_HOUR, 4.0 * PER_HOUR),
    out_m3_per_s=(2.0 * PER_HOUR, 5.0 * PER_HOUR),
    pause_s=(1.0 * HOUR_s, 10.0 * HOUR_s),
    season_K=0.5,
    day_K=2.0,
    weather_K=2.0,
    agitated_s=3.0 * HOUR_s,
)
AMINE = Life(
    start_m=1.2,
    low_m=0.3,
    high_m=2.2,
    in_m3=(2.0, 6.0),
    out_m3=(1.0, 4.0),
    in_m3_per_s=(3.0 * PER_HOUR, 6.0 * PER_HOUR),
    out_m3_per_s=(1.0 * PER_HOUR, 4.0 * PER_HOUR),
    pause_s=(2.0 * HOUR_s, 24.0 * HOUR_s),
    section_m2=6.0,
)
SETTLING = Life(
    start_m=1.3,
    low_m=0.9,
    high_m=2.2,
    in_m3=(0.5, 1.5),
    out_m3=(0.5, 2.5),
    in_m3_per_s=(1.0 * PER_HOUR, 3.0 * PER_HOUR),
    out_m3_per_s=(2.0 * PER_HOUR, 6.0 * PER_HOUR),
    pause_s=(1.0 * HOUR_s, 20.0 * HOUR_s),
    season_K=4.0,
)
DRUM = Life(
    start_m=0.35,
    low_m=0.22,
    high_m=0.46,
    in_m3=(0.1, 0.5),
    out_m3=(0.1, 0.5),
    in_m3_per_s=(2.0 * PER_HOUR, 6.0 * PER_HOUR),
    out_m3_per_s=(2.0 * PER_HOUR, 6.0 * PER_HOUR),
    pause_s=(2.0 * MINUTE_s, 40.0 * MINUTE_s),
    season_K=0.0,
    day_K=0.2,
    weather_K=0.5,
    section_m2=4.0,
)
STORE = Life(
    start_m=1.9,
    low_m=0.6,
    high_m=3.9,
    in_m3=(60.0, 180.0),
    out_m3=(20.0, 90.0),
    in_m3_per_s=(60.0 * PER_HOUR, 100.0 * PER_HOUR),
    out_m3_per_s=(30.0 * PER_HOUR, 60.0 * PER_HOUR),
    pause_s=(1.0 * DAY_s, 20.0 * DAY_s),
    season_K=9.0,
    day_K=0.6,
    weather_K=1.5,
)
BRINE = Life(
    start_m=1.5,
    low_m=0.35,
    high_m=2.3,
    in_m3=(3.0, 6.0),
    out_m3=(0.3, 1.2),
    in_m3_per_s=(8.0 * PER_HOUR, 12.0 * PER_HOUR),
    out_m3_per_s=(1.0 * PER_HOUR, 3.0 * PER_HOUR),
    pause_s=(20.0 * MINUTE_s, 8.0 * HOUR_s),
    season_K=4.0,
    day_K=1.5,
)

# What tells a fault, by the signatures of the user's page.
STUCK = ("stuck",)
OFFSET = ("step_against_dips", "bias", "drift")
SLOPE = ("gain", "step_against_dips", "drift")
SCATTER = ("noise_down",)
CURRENT = ("wire_break", "failure_current")
