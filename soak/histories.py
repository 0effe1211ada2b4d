"""Twenty level logs of weeks and months, as data: five of sound gauges, fifteen with faults of known moment and size.

All are of the invented examples. Sizes are what a works would meet, not what would be easy to find: a reader of logs is
tried on them. ``python3 -m soak.histories FOLDER [names]`` writes each as a folder, the truth apart.
"""

from __future__ import annotations

import sys
from collections.abc import Sequence
from pathlib import Path

from onedatum.foundation.errors import OutputError
from onedatum.foundation.moments import HOUR_s
from onedatum.simulate.history import Hands, Plan, Reading, Record, Trouble, written
from soak.works import (
    AMINE,
    BARE_IN_OIL,
    CAUSTIC,
    GAS_OIL,
    GLYCOL,
    LYING,
    ONE_TAP,
    PER_HOUR,
    RECEIVER,
    SOLVENT,
    Log,
    MINUTE_s,
    at,
    days,
    made,
)

HEALTHY = (
    Log("sound receiver", "spirit_receiver", Plan(9101, days(30), RECEIVER, at(2026, 4, 7))),
    Log(
        "sound probe by exception",
        "caustic_tank",
        Plan(
            9102,
            days(60),
            CAUSTIC,
            at(2026, 1, 12),
            Reading(sensor_m=0.0012, receiver_A=2e-6, waves_m=0.006, damping_s=3.0),
            Record(60.0, "mm", 1.0, band=4.0, longest_s=2 * HOUR_s, temperature_K=None),
            Hands(days(3), dip_m=0.003, meter=0.003),
        ),
    ),
    Log(
        "sound through an hour that comes twice",
        "lying_spirit_tank",
        Plan(
            9103,
            days(45),
            LYING,
            at(2026, 9, 28),
            record=Record(30.0, "counts", 1.0, clock="legal"),
            hands=Hands(days(5)),
        ),
    ),
    Log(
        "sound store in spring",
        "gas_oil_tank",
        Plan(9104, days(75), GAS_OIL, at(2026, 3, 9), record=Record(60.0, "%", 0.01, clamped=True)),
    ),
    Log(
        "sound under an agitator",
        "tilted_vessel",
        Plan(
            9105,
            days(21),
            GLYCOL,
            at(2026, 6, 1),
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
            days(30),
            SOLVENT,
            at(2026, 5, 4),
            record=Record(30.0, "mm", 1.0),
            troubles=(
                Trouble("stuck", days(11.4), until_s=days(11.4) + 9.0 * HOUR_s),
                Trouble("stuck", days(23.1), until_s=days(23.1) + 5.0 * HOUR_s),
            ),
        ),
    ),
    Log(
        "float takes up liquid",
        "spirit_receiver",
        Plan(
            9202,
            days(70),
            RECEIVER,
            at(2026, 2, 2),
            record=Record(60.0, "mA", 0.001),
            hands=Hands(days(2), dip_m=0.001),
            troubles=(Trouble("float_mass", days(18.0), 0.12, grows_s=days(45.0)),),
        ),
    ),
    Log(
        "store leaks",
        "gas_oil_tank",
        Plan(
            9203,
            days(75),
            GAS_OIL,
            at(2026, 2, 16),
            record=Record(60.0, "mm", 1.0),
            troubles=(Trouble("leak", days(27.0), 8e-4 * PER_HOUR),),
        ),
    ),
    Log(
        "meter wrong and a movement not booked",
        "gas_oil_tank",
        Plan(
            9204,
            days(90),
            GAS_OIL,
            at(2026, 8, 3),
            record=Record(120.0, "%", 0.01),
            troubles=(
                Trouble("meter_out", days(30.0), -0.006),
                Trouble("unbooked", days(61.0), until_s=days(62.0)),
            ),
        ),
    ),
    Log(
        "film grows on the probe",
        "caustic_tank",
        Plan(
            9205,
            days(60),
            CAUSTIC,
            at(2026, 9, 7),
            Reading(sensor_m=0.001, waves_m=0.005, damping_s=2.0),
            Record(60.0, "mA", 0.004),
            Hands(days(3), dip_m=0.003, meter=0.003),
            (Trouble("film", days(14.0), 4e-6, until_s=days(52.0), grows_s=days(30.0)),),
        ),
    ),
    Log(
        "terminal works loose and the core breaks",
        "spirit_receiver",
        Plan(
            9206,
            days(21),
            RECEIVER,
            at(2026, 11, 2),
            record=Record(10.0, "mA", 0.001),
            troubles=(
                Trouble("contact", days(7.0), 0.002, until_s=days(16.3)),
                Trouble("break", days(16.3), until_s=days(16.3) + 25.0 * MINUTE_s),
            ),
        ),
    ),
    Log(
        "range set anew by a person",
        "spirit_receiver_isolator",
        Plan(
            9207,
            days(40),
            RECEIVER,
            at(2026, 6, 15),
            record=Record(60.0, "mm", 1.0, clamped=True),
            troubles=(Trouble("upper", days(16.4), 0.015),),
        ),
    ),
    Log(
        "datum moved while the electronics drift",
        "lying_spirit_tank",
        Plan(
            9208,
            days(80),
            LYING,
            at(2026, 3, 30),
            record=Record(120.0, "mA", 0.002),
            hands=Hands(days(2)),
            troubles=(
                Trouble("zero", days(20.0), 40e-6, grows_s=days(60.0)),
                Trouble("datum", days(44.0), -0.006),
            ),
        ),
    ),
    Log(
        "denser liquid over one tap",
        "wet_leg_tank",
        Plan(
            9209,
            days(45),
            AMINE,
            at(2026, 4, 20),
            Reading(sensor_m=0.001, waves_m=0.004),
            Record(60.0, "mm", 1.0),
            Hands(days(1.5), dip_m=0.002),
            (Trouble("density", days(19.0), 0.004),),
        ),
        ONE_TAP,
    ),
    Log(
        "another oil about a bare probe",
        "caustic_tank",
        Plan(
            9210,
            days(50),
            CAUSTIC,
            at(2026, 5, 11),
            Reading(sensor_m=0.0015, waves_m=0.004),
            Record(60.0, "%", 0.05, clamped=True),
            Hands(days(2), dip_m=0.002),
            (Trouble("permittivity", days(22.0), -0.005),),
        ),
        BARE_IN_OIL,
    ),
    Log(
        "mains hum at every second",
        "spirit_receiver",
        Plan(
            9211,
            days(6),
            RECEIVER,
            at(2026, 10, 5),
            Reading(sensor_m=0.0005),
            Record(1.0, "mA", 0.001),
            Hands(days(1)),
            (Trouble("hum", days(2.6), 12e-6),),
        ),
    ),
    Log(
        "resistance grows in the loop",
        "caustic_tank",
        Plan(
            9212,
            days(45),
            CAUSTIC,
            at(2026, 7, 6),
            Reading(sensor_m=0.001, waves_m=0.005),
            Record(60.0, "mA", 0.004),
            troubles=(Trouble("load", days(10.0), 450.0, grows_s=days(25.0)),),
        ),
    ),
    Log(
        "clock runs slow and is set wrong",
        "lying_spirit_tank",
        Plan(
            9213,
            days(60),
            LYING,
            at(2026, 5, 18),
            record=Record(30.0, "mm", 1.0, clock="utc"),
            troubles=(
                Trouble("clock_drift", days(5.0), -6e-5),
                Trouble("clock_jump", days(38.0), 9.0 * MINUTE_s),
            ),
        ),
    ),
    Log(
        "clock follows the legal time and noise grows",
        "gas_oil_tank",
        Plan(
            9214,
            days(50),
            GAS_OIL,
            at(2026, 3, 2),
            Reading(sensor_m=0.0008),
            Record(60.0, "mm", 0.1, clock="utc"),
            troubles=(
                Trouble("daylight", 0.0),
                Trouble("noise", days(24.0), 1.5, grows_s=days(12.0)),
                Trouble("spikes", days(31.0), 150e-6),
            ),
        ),
    ),
    Log(
        "record frozen and later a damping set high",
        "tilted_vessel",
        Plan(
            9215,
            days(28),
            GLYCOL,
            at(2026, 8, 10),
            Reading(sensor_m=0.0005, waves_m=0.012, damping_s=5.0),
            Record(30.0, "mA", 0.001),
            troubles=(
                Trouble("frozen", days(9.6), until_s=days(9.6) + 3.0 * HOUR_s),
                Trouble("gap", days(13.2), until_s=days(13.2) + 7.0 * HOUR_s),
                Trouble("damping", days(17.0), 180.0),
            ),
        ),
    ),
)
LOGS = (*HEALTHY, *FAULTY)


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
