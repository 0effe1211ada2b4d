"""Twenty level logs of weeks and months, as data: five of sound gauges, fifteen with faults of known moment and size.

All are of the invented examples. Sizes are what a works would meet, not what would be easy to find: a reader of logs is
tried on them. ``python3 -m soak.histories FOLDER [names]`` writes each as a folder, the truth apart.
"""

from __future__ import annotations

import sys
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from onedatum.case.reading import read_case_text
from onedatum.foundation.errors import OutputError
from onedatum.foundation.moments import DAY_s, HOUR_s
from onedatum.simulate.history import Hands, History, Life, Plan, Reading, Record, Trouble, history, written
from onedatum.study.study import study

EXAMPLES = Path(__file__).resolve().parents[1] / "examples"
MINUTE_s = 60.0
PER_HOUR = 1.0 / HOUR_s
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
        if self.changes == ONE_TAP:
            text = text[: text.index("  upper_leg:")] + text[text.index("  unit: inH2O") :]
        for old, new in self.changes:
            if old not in text:
                raise ValueError(f"{self.case}.yaml must have a line with {old!r}; got none.")
            text = text.replace(old, new)
        return text


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


def _at(month: int, day: int) -> datetime:
    return datetime(2026, month, day, tzinfo=UTC)


def _days(number: float) -> float:
    return number * DAY_s


HEALTHY = (
    Log("sound receiver", "spirit_receiver", Plan(9101, _days(30), RECEIVER, _at(4, 7))),
    Log(
        "sound probe by exception",
        "caustic_tank",
        Plan(
            9102,
            _days(60),
            CAUSTIC,
            _at(1, 12),
            Reading(sensor_m=0.0012, receiver_A=2e-6, waves_m=0.006, damping_s=3.0),
            Record(60.0, "mm", 1.0, band=4.0, longest_s=2 * HOUR_s, temperature_K=None),
            Hands(_days(3), dip_m=0.003, meter=0.003),
        ),
    ),
    Log(
        "sound through an hour that comes twice",
        "lying_spirit_tank",
        Plan(
            9103,
            _days(45),
            LYING,
            _at(9, 28),
            record=Record(30.0, "counts", 1.0, clock="legal"),
            hands=Hands(_days(5)),
        ),
    ),
    Log(
        "sound store in spring",
        "gas_oil_tank",
        Plan(9104, _days(75), GAS_OIL, _at(3, 9), record=Record(60.0, "%", 0.01, clamped=True)),
    ),
    Log(
        "sound under an agitator",
        "tilted_vessel",
        Plan(
            9105,
            _days(21),
            GLYCOL,
            _at(6, 1),
            Reading(sensor_m=0.0005, waves_m=0.012, damping_s=5.0),
            Record(10.0, "mA", 0.004),
        ),
    ),
)
FAULTY = (
    Log(
        "float sticks twice",
        "solvent_tank",
        Plan(
            9201,
            _days(30),
            SOLVENT,
            _at(5, 4),
            record=Record(30.0, "mm", 1.0),
            troubles=(
                Trouble("stuck", _days(11.4), until_s=_days(11.4) + 9.0 * HOUR_s),
                Trouble("stuck", _days(23.1), until_s=_days(23.1) + 5.0 * HOUR_s),
            ),
        ),
    ),
    Log(
        "float takes up liquid",
        "spirit_receiver",
        Plan(
            9202,
            _days(70),
            RECEIVER,
            _at(2, 2),
            record=Record(60.0, "mA", 0.001),
            hands=Hands(_days(2), dip_m=0.001),
            troubles=(Trouble("float_mass", _days(18.0), 0.12, grows_s=_days(45.0)),),
        ),
    ),
    Log(
        "store leaks",
        "gas_oil_tank",
        Plan(
            9203,
            _days(75),
            GAS_OIL,
            _at(2, 16),
            record=Record(60.0, "mm", 1.0),
            troubles=(Trouble("leak", _days(27.0), 8e-4 * PER_HOUR),),
        ),
    ),
    Log(
        "meter wrong and a movement not booked",
        "gas_oil_tank",
        Plan(
            9204,
            _days(90),
            GAS_OIL,
            _at(8, 3),
            record=Record(120.0, "%", 0.01),
            troubles=(
                Trouble("meter_out", _days(30.0), -0.006),
                Trouble("unbooked", _days(61.0), until_s=_days(62.0)),
            ),
        ),
    ),
    Log(
        "film grows on the probe",
        "caustic_tank",
        Plan(
            9205,
            _days(60),
            CAUSTIC,
            _at(9, 7),
            Reading(sensor_m=0.001, waves_m=0.005, damping_s=2.0),
            Record(60.0, "mA", 0.004),
            Hands(_days(3), dip_m=0.003, meter=0.003),
            (Trouble("film", _days(14.0), 4e-6, until_s=_days(52.0), grows_s=_days(30.0)),),
        ),
    ),
    Log(
        "terminal works loose and the core breaks",
        "spirit_receiver",
        Plan(
            9206,
            _days(21),
            RECEIVER,
            _at(11, 2),
            record=Record(10.0, "mA", 0.001),
            troubles=(
                Trouble("contact", _days(7.0), 0.002, until_s=_days(16.3)),
                Trouble("break", _days(16.3), until_s=_days(16.3) + 25.0 * MINUTE_s),
            ),
        ),
    ),
    Log(
        "range set anew by a person",
        "spirit_receiver_isolator",
        Plan(
            9207,
            _days(40),
            RECEIVER,
            _at(6, 15),
            record=Record(60.0, "mm", 1.0, clamped=True),
            troubles=(Trouble("upper", _days(16.4), 0.015),),
        ),
    ),
    Log(
        "datum moved while the electronics drift",
        "lying_spirit_tank",
        Plan(
            9208,
            _days(80),
            LYING,
            _at(3, 30),
            record=Record(120.0, "mA", 0.002),
            hands=Hands(_days(2)),
            troubles=(
                Trouble("zero", _days(20.0), 40e-6, grows_s=_days(60.0)),
                Trouble("datum", _days(44.0), -0.006),
            ),
        ),
    ),
    Log(
        "denser liquid over one tap",
        "wet_leg_tank",
        Plan(
            9209,
            _days(45),
            AMINE,
            _at(4, 20),
            Reading(sensor_m=0.001, waves_m=0.004),
            Record(60.0, "mm", 1.0),
            Hands(_days(1.5), dip_m=0.002),
            (Trouble("density", _days(19.0), 0.004),),
        ),
        ONE_TAP,
    ),
    Log(
        "another oil about a bare probe",
        "caustic_tank",
        Plan(
            9210,
            _days(50),
            CAUSTIC,
            _at(5, 11),
            Reading(sensor_m=0.0015, waves_m=0.004),
            Record(60.0, "%", 0.05, clamped=True),
            Hands(_days(2), dip_m=0.002),
            (Trouble("permittivity", _days(22.0), -0.005),),
        ),
        BARE_IN_OIL,
    ),
    Log(
        "mains hum at every second",
        "spirit_receiver",
        Plan(
            9211,
            _days(6),
            RECEIVER,
            _at(10, 5),
            Reading(sensor_m=0.0005),
            Record(1.0, "mA", 0.001),
            Hands(_days(1)),
            (Trouble("hum", _days(2.6), 12e-6),),
        ),
    ),
    Log(
        "resistance grows in the loop",
        "caustic_tank",
        Plan(
            9212,
            _days(45),
            CAUSTIC,
            _at(7, 6),
            Reading(sensor_m=0.001, waves_m=0.005),
            Record(60.0, "mA", 0.004),
            troubles=(Trouble("load", _days(10.0), 450.0, grows_s=_days(25.0)),),
        ),
    ),
    Log(
        "clock runs slow and is set wrong",
        "lying_spirit_tank",
        Plan(
            9213,
            _days(60),
            LYING,
            _at(5, 18),
            record=Record(30.0, "mm", 1.0, clock="utc"),
            troubles=(
                Trouble("clock_drift", _days(5.0), -6e-5),
                Trouble("clock_jump", _days(38.0), 9.0 * MINUTE_s),
            ),
        ),
    ),
    Log(
        "clock follows the legal time and noise grows",
        "gas_oil_tank",
        Plan(
            9214,
            _days(50),
            GAS_OIL,
            _at(3, 2),
            Reading(sensor_m=0.0008),
            Record(60.0, "mm", 0.1, clock="utc"),
            troubles=(
                Trouble("daylight", 0.0),
                Trouble("noise", _days(24.0), 1.5, grows_s=_days(12.0)),
                Trouble("spikes", _days(31.0), 150e-6),
            ),
        ),
    ),
    Log(
        "record frozen and later a damping set high",
        "tilted_vessel",
        Plan(
            9215,
            _days(28),
            GLYCOL,
            _at(8, 10),
            Reading(sensor_m=0.0005, waves_m=0.012, damping_s=5.0),
            Record(30.0, "mA", 0.001),
            troubles=(
                Trouble("frozen", _days(9.6), until_s=_days(9.6) + 3.0 * HOUR_s),
                Trouble("gap", _days(13.2), until_s=_days(13.2) + 7.0 * HOUR_s),
                Trouble("damping", _days(17.0), 180.0),
            ),
        ),
    ),
)
LOGS = (*HEALTHY, *FAULTY)


def made(log: Log) -> History:
    """The history of a log."""
    return history(study(read_case_text(log.case_text, f"{log.case}.yaml", EXAMPLES)), log.plan)


def main(words: Sequence[str]) -> int:
    """Write those named, or all; 0 when done, 1 where they cannot be written, 2 where a name or the folder is amiss."""
    known = {log.name: log for log in LOGS}
    unknown = [word for word in words[1:] if word not in known]
    if not words or unknown:
        got = ", ".join(unknown) or "no folder"
        print(f"words must be a folder, then some of {', '.join(known)}; got {got}.", file=sys.stderr)
        return 2
    for name in words[1:] or known:
        try:
            place = written(made(known[name]), Path(words[0]) / name.replace(" ", "_"), known[name].case_text)
        except OutputError as error:
            print(error, file=sys.stderr)
            return 1
        print(f"{name}: {place}")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
