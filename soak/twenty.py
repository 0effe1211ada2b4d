"""Twenty more level logs, as data, for one blind trial of the log review: five of sound gauges, fifteen with faults.

They were written and committed before any source of a detector was read by the one who wrote them, and the review was
then run over them once. What counts as told is stated here beside each fault, by the signatures of the user's page.
Sizes, samplings and moments are what a works would meet; none of them is to be changed, nor a detector tuned to them.
"""

from __future__ import annotations

from onedatum.foundation.moments import HOUR_s
from onedatum.simulate.history import Hands, Plan, Reading, Record, Trouble
from soak.works import (
    AMINE,
    CAUSTIC,
    CURRENT,
    DRUM,
    GAS_OIL,
    GLYCOL,
    LITRES_A_DAY,
    LYING,
    OFFSET,
    RECEIVER,
    SCATTER,
    SETTLING,
    SLOPE,
    SOLVENT,
    STUCK,
    Log,
    MINUTE_s,
    Tried,
    at,
    days,
)

SOUND = (
    Tried(
        Log(
            "a day tank at ten seconds",
            "solvent_tank",
            Plan(77101, days(12), SOLVENT, at(2027, 2, 8), record=Record(10.0, "mm", 1.0), hands=Hands(days(1))),
        )
    ),
    Tried(
        Log(
            "a settling tank at five minutes",
            "oil_over_water",
            Plan(
                77102,
                days(120),
                SETTLING,
                at(2027, 5, 3),
                Reading(sensor_m=0.0006, waves_m=0.004),
                Record(300.0, "%", 0.1, clamped=True),
                Hands(days(7), dip_m=0.003, meter=0.002),
            ),
        )
    ),
    Tried(
        Log(
            "a receiver through the hour that is left out",
            "spirit_receiver",
            Plan(
                77103,
                days(35),
                RECEIVER,
                at(2027, 3, 8),
                record=Record(30.0, "counts", 1.0, clock="legal", temperature_K=None),
                hands=Hands(days(1), dip_m=0.0025),
            ),
        )
    ),
    Tried(
        Log(
            "a store for a year at a quarter of an hour",
            "gas_oil_tank",
            Plan(77104, days(365), GAS_OIL, at(2027, 1, 4), record=Record(900.0, "mm", 1.0), hands=Hands(days(7))),
        )
    ),
    Tried(
        Log(
            "a steam drum without dips",
            "steam_drum",
            Plan(
                77105,
                days(10),
                DRUM,
                at(2027, 6, 6),
                Reading(sensor_m=0.001, waves_m=0.008, damping_s=4.0),
                Record(10.0, "mA", 0.002),
                Hands(days(400)),
            ),
        )
    ),
)
ONE_FAULT = (
    Tried(
        Log(
            "a float held in the night and at noon",
            "solvent_tank",
            Plan(
                77201,
                days(20),
                SOLVENT,
                at(2027, 4, 11),
                record=Record(60.0, "mA", 0.002),
                troubles=(
                    Trouble("stuck", days(6.2), until_s=days(6.2) + 14.0 * HOUR_s),
                    Trouble("stuck", days(14.5), until_s=days(14.5) + 3.0 * HOUR_s),
                ),
            ),
        ),
        (STUCK, STUCK),
    ),
    Tried(
        Log(
            "a current that drifts, coarse dips",
            "solvent_tank",
            Plan(
                77202,
                days(150),
                SOLVENT,
                at(2027, 1, 18),
                record=Record(300.0, "mm", 1.0),
                hands=Hands(days(3), dip_m=0.003),
                troubles=(Trouble("zero", days(30.0), 60e-6, grows_s=days(90.0)),),
            ),
        ),
        (("drift", "step_against_dips"),),
    ),
    Tried(
        Log(
            "a lying tank loses 25 litres a day",
            "lying_spirit_tank",
            Plan(
                77203,
                days(60),
                LYING,
                at(2027, 7, 5),
                record=Record(120.0, "mm", 1.0),
                troubles=(Trouble("leak", days(25.0), 25.0 * LITRES_A_DAY),),
            ),
        ),
        (("leak", "loss_at_rest"),),
    ),
    Tried(
        Log(
            "the meter of the caustic that comes in",
            "caustic_tank",
            Plan(
                77204,
                days(60),
                CAUSTIC,
                at(2027, 9, 19),
                Reading(sensor_m=0.001, waves_m=0.005, damping_s=2.0),
                Record(60.0, "mm", 1.0),
                Hands(days(2), dip_m=0.002),
                (Trouble("meter_in", days(20.0), 0.012),),
            ),
        ),
        (("meter",),),
    ),
    Tried(
        Log(
            "a film on the probe, wiped off later",
            "caustic_tank",
            Plan(
                77205,
                days(55),
                CAUSTIC,
                at(2027, 3, 1),
                Reading(sensor_m=0.001, waves_m=0.004, damping_s=2.0),
                Record(60.0, "%", 0.05),
                Hands(days(1), dip_m=0.002),
                (Trouble("film", days(10.0), 6e-6, until_s=days(40.0), grows_s=days(20.0)),),
            ),
        ),
        (("film",),),
    ),
    Tried(
        Log(
            "a terminal that opens now and then",
            "gas_oil_tank",
            Plan(
                77206,
                days(25),
                GAS_OIL,
                at(2027, 10, 10),
                record=Record(30.0, "mA", 0.001),
                troubles=(Trouble("contact", days(9.5), 0.0005, until_s=days(20.0)),),
            ),
        ),
        (CURRENT,),
    ),
    Tried(
        Log(
            "the slope of the current set wrong",
            "tilted_vessel",
            Plan(
                77207,
                days(30),
                GLYCOL,
                at(2027, 5, 17),
                Reading(sensor_m=0.0005, waves_m=0.01, damping_s=5.0),
                Record(60.0, "mA", 0.001),
                Hands(days(1), dip_m=0.002),
                (Trouble("gain", days(10.0), 0.006),),
            ),
        ),
        (SLOPE,),
    ),
    Tried(
        Log(
            "resistance in the loop of the store",
            "gas_oil_tank",
            Plan(
                77208,
                days(50),
                GAS_OIL,
                at(2027, 8, 22),
                record=Record(60.0, "%", 0.05, clamped=True),
                troubles=(Trouble("load", days(10.0), 600.0, grows_s=days(30.0)),),
            ),
        ),
        (("saturation",),),
    ),
    Tried(
        Log(
            "a clock that loses 17 seconds a day",
            "solvent_tank",
            Plan(
                77209,
                days(120),
                SOLVENT,
                at(2027, 4, 18),
                record=Record(300.0, "mm", 1.0, clock="utc"),
                troubles=(Trouble("clock_drift", days(2.0), -2e-4),),
            ),
        ),
        (("clock_lag",),),
    ),
    Tried(
        Log(
            "a float under which deposit gathers",
            "oil_over_water",
            Plan(
                77210,
                days(90),
                SETTLING,
                at(2027, 2, 14),
                Reading(sensor_m=0.0006, waves_m=0.004),
                Record(120.0, "mm", 0.5),
                Hands(days(2), dip_m=0.002),
                (Trouble("float_mass", days(20.0), 0.08, grows_s=days(60.0)),),
            ),
        ),
        (("sinking", "drift"),),
    ),
)
TWO_FAULTS = (
    Tried(
        Log(
            "a day not booked, then a clock 25 minutes ahead",
            "gas_oil_tank",
            Plan(
                77301,
                days(60),
                GAS_OIL,
                at(2027, 6, 27),
                record=Record(60.0, "mm", 1.0, clock="utc"),
                troubles=(
                    Trouble("unbooked", days(12.0), until_s=days(13.5)),
                    Trouble("clock_jump", days(35.0), 25.0 * MINUTE_s),
                ),
            ),
        ),
        (("unbooked",), ("clock_forward", "clock_lag")),
    ),
    Tried(
        Log(
            "a receiver scaled anew, then a leg that runs out",
            "wet_leg_tank",
            Plan(
                77302,
                days(70),
                AMINE,
                at(2027, 1, 25),
                Reading(sensor_m=0.001, waves_m=0.004),
                Record(60.0, "mm", 1.0),
                Hands(days(1.5), dip_m=0.002),
                (
                    Trouble("receiver", days(15.0), 0.006),
                    Trouble("leg", days(40.0), 0.06, grows_s=days(20.0)),
                ),
            ),
        ),
        (SLOPE, OFFSET),
    ),
    Tried(
        Log(
            "hum at five seconds, then spikes",
            "spirit_receiver_isolator",
            Plan(
                77303,
                days(9),
                RECEIVER,
                at(2027, 11, 7),
                Reading(sensor_m=0.0005),
                Record(5.0, "mA", 0.001),
                Hands(days(1)),
                (Trouble("hum", days(3.0), 20e-6), Trouble("spikes", days(5.5), 120e-6)),
            ),
        ),
        (("hum", "noise_up"), ("spikes",)),
    ),
    Tried(
        Log(
            "a damping of a minute, then nine hours without rows",
            "spirit_receiver",
            Plan(
                77304,
                days(20),
                RECEIVER,
                at(2027, 9, 5),
                Reading(sensor_m=0.0006),
                Record(10.0, "mA", 0.001),
                troubles=(
                    Trouble("damping", days(9.0), 60.0),
                    Trouble("gap", days(14.0), until_s=days(14.0) + 9.0 * HOUR_s),
                ),
            ),
        ),
        (SCATTER, ("gaps",)),
    ),
    Tried(
        Log(
            "a record frozen for 40 minutes, a core open for three",
            "oil_over_water",
            Plan(
                77305,
                days(15),
                SETTLING,
                at(2027, 10, 24),
                Reading(sensor_m=0.0006, waves_m=0.004),
                Record(10.0, "mA", 0.001),
                troubles=(
                    Trouble("frozen", days(5.4), until_s=days(5.4) + 40.0 * MINUTE_s),
                    Trouble("break", days(11.7), until_s=days(11.7) + 3.0 * MINUTE_s),
                ),
            ),
        ),
        (STUCK, CURRENT),
    ),
)
TWENTY = (*SOUND, *ONE_FAULT, *TWO_FAULTS)
