"""Twenty level logs for a second blind trial of the log review, as data: six of sound gauges, fourteen with faults.

Written and committed before any source of a detector, any page of proof of the review or any decision on it was read by
the one who wrote it; what was read is the user's page, how histories are made, and the two sets before. Beside each
fault stands why its size matters and which signatures count as told; a signature tells a fault where it meets it in
time, by the rule of the set before. No size is to be changed, and no detector to be tuned to these logs.
"""

from __future__ import annotations

from onedatum.foundation.moments import HOUR_s
from onedatum.simulate.history import Hands, Order, Plan, Reading, Record, Trouble
from soak.works import (
    AMINE,
    BRINE,
    BRINE_TANK,
    CAUSTIC,
    CURRENT,
    DRUM,
    GAS_OIL,
    GLYCOL,
    LITRES_A_DAY,
    LYING,
    OFFSET,
    PER_HOUR,
    RECEIVER,
    SCATTER,
    SETTLING,
    SLOPE,
    SOLVENT,
    STORE,
    STUCK,
    WIDE_STORE,
    Log,
    MINUTE_s,
    Tried,
    at,
    days,
)

FLOOR_TOLD = 14
"""Of 25 faults, so many at least are to be told at the first run; written down before it. The one thing known then was
that of the set before 12 of 21, 57 %, had been told at its first run, and that the review was mended after. Expected
are 16 of 25, give or take 2.5 by chance alone; the floor is 57 % of 25, what the set before reached.
"""
MOST_FALSE_IN_SOUND = 1
"""Findings that are false in the six sound logs together, at most. Written down before the first run."""

SOUND = (
    Tried(
        Log(
            "a receiver that is emptied, washed and filled again",
            "spirit_receiver",
            Plan(
                88101,
                days(31),
                RECEIVER,
                at(2028, 4, 10),
                record=Record(30.0, "mA", 0.002),
                orders=(
                    Order(days(13.37), 0.14, 6.0 * PER_HOUR, rests_s=40.0 * MINUTE_s),
                    Order(days(13.37), 0.55, 12.0 * PER_HOUR, rests_s=25.0 * MINUTE_s),
                    Order(days(13.37), 0.14, 9.0 * PER_HOUR, rests_s=12.0 * MINUTE_s),
                    Order(days(13.37), 0.55, 12.0 * PER_HOUR, rests_s=25.0 * MINUTE_s),
                    Order(days(13.37), 0.14, 9.0 * PER_HOUR, rests_s=5.0 * HOUR_s),
                    Order(days(13.37), 2.3, 9.0 * PER_HOUR, rests_s=3.0 * HOUR_s),
                ),
            ),
        ),
        why=("a planned wash: two quick fills of half a metre, a heel at rest, then the quickest fill of the month",),
    ),
    Tried(
        Log(
            "a store of heating oil over a year at an hour",
            "gas_oil_tank",
            Plan(
                88102,
                days(330),
                STORE,
                at(2028, 1, 17),
                Reading(sensor_m=0.0008),
                Record(3600.0, "%", 0.02),
                Hands(days(7), dip_m=0.0025),
                orders=(Order(days(148.3), 3.85, 90.0 * PER_HOUR, rests_s=days(41)),),
            ),
            WIDE_STORE,
        ),
        why=("at rest for six weeks while the season moves a full tank by centimetres",),
    ),
    Tried(
        Log(
            "a day tank, two weekends without rows and nine days closed",
            "solvent_tank",
            Plan(
                88103,
                days(44),
                SOLVENT,
                at(2028, 6, 5),
                record=Record(60.0, "%", 0.05),
                hands=Hands(days(2)),
                troubles=(
                    Trouble("gap", days(4.757), until_s=days(7.243)),
                    Trouble("gap", days(11.757), until_s=days(14.243)),
                ),
                orders=(
                    Order(days(25.41), 0.25, 4.0 * PER_HOUR, rests_s=days(9.2)),
                    Order(days(34.7), 2.5, 25.0 * PER_HOUR),
                ),
            ),
        ),
        why=("no recorder from Friday evening to Monday; the works closes and the tank stands at its heel",),
        allowed=("gaps",),
    ),
    Tried(
        Log(
            "an agitated vessel by exception, through the hour of autumn",
            "tilted_vessel",
            Plan(
                88104,
                days(24),
                GLYCOL,
                at(2028, 10, 16),
                Reading(sensor_m=0.0008, waves_m=0.010, damping_s=5.0),
                Record(20.0, "mm", 1.0, band=5.0, longest_s=1800.0),
                Hands(days(1.5), dip_m=0.003),
            ),
        ),
        why=("few rows at rest, many while it is agitated; the local time with its offset goes back by an hour",),
    ),
    Tried(
        Log(
            "a brine tank in coarse steps",
            "wet_leg_tank",
            Plan(
                88105,
                days(50),
                BRINE,
                at(2028, 2, 21),
                Reading(sensor_m=0.0015, waves_m=0.004),
                Record(300.0, "%", 0.5, clamped=True),
                Hands(days(10), dip_m=0.003),
            ),
            BRINE_TANK,
        ),
        why=("steps of 13 mm hold the reading still for hours; five dips",),
    ),
    Tried(
        Log(
            "caustic at a row a second",
            "caustic_tank",
            Plan(
                88106,
                days(4),
                CAUSTIC,
                at(2028, 8, 7),
                Reading(sensor_m=0.001, waves_m=0.015, damping_s=1.0),
                Record(1.0, "mA", 0.004),
                Hands(days(1), dip_m=0.003),
            ),
        ),
        why=("waves of 15 mm while it is filled, against 1 mm at rest",),
    ),
)
ONE_FAULT = (
    Tried(
        Log(
            "a day tank that loses 15 litres a day",
            "solvent_tank",
            Plan(
                88201,
                days(70),
                SOLVENT,
                at(2028, 9, 4),
                record=Record(600.0, "mm", 1.0),
                troubles=(Trouble("leak", days(26.93), 15.0 * LITRES_A_DAY),),
            ),
        ),
        (("leak", "loss_at_rest"),),
        ("5 mm a day of toluene into the ground: 5 t in a year",),
    ),
    Tried(
        Log(
            "mains hum on the probe at a row a second",
            "caustic_tank",
            Plan(
                88202,
                days(5),
                CAUSTIC,
                at(2028, 5, 22),
                Reading(sensor_m=0.001, waves_m=0.005, damping_s=2.0, mains_wander_Hz=0.02),
                Record(1.0, "mA", 0.001),
                Hands(days(1), dip_m=0.003),
                (Trouble("hum", days(2.27), 30e-6),),
            ),
        ),
        (("hum", "noise_up"),),
        ("a wave of 4 mm up and down: the screen is open, the next one will be larger",),
    ),
    Tried(
        Log(
            "a film on the probe until it is cleaned",
            "caustic_tank",
            Plan(
                88203,
                days(60),
                CAUSTIC,
                at(2028, 10, 2),
                Reading(sensor_m=0.001, waves_m=0.005, damping_s=2.0),
                Record(60.0, "%", 0.05),
                Hands(days(1), dip_m=0.002),
                (Trouble("film", days(12.41), 8e-6, until_s=days(48.83), grows_s=days(15.3)),),
            ),
        ),
        (("film",),),
        ("reads high by more than the 25 mm that are allowed, after emptying: the pump runs dry",),
    ),
)
TWO_FAULTS = (
    Tried(
        Log(
            "a float that takes liquid, and a dip with a wrong digit before",
            "lying_spirit_tank",
            Plan(
                88301,
                days(66),
                LYING,
                at(2028, 5, 8),
                record=Record(60.0, "counts", 1.0),
                troubles=(
                    Trouble("misread", days(10.71), 0.1, until_s=days(12.19)),
                    Trouble("float_mass", days(17.63), 0.10, grows_s=days(33.4)),
                ),
            ),
        ),
        (("far_dip",), ("sinking", "drift")),
        (
            "100 mm of one dip are 1 m3 of spirit in the books",
            "4 mm are 44 litres of spirit, and it sinks on",
        ),
    ),
    Tried(
        Log(
            "a floor that settles under a store, and a float that hangs",
            "gas_oil_tank",
            Plan(
                88302,
                days(330),
                STORE,
                at(2028, 2, 7),
                Reading(sensor_m=0.0008),
                Record(3600.0, "mm", 1.0),
                Hands(days(7), dip_m=0.002),
                (
                    Trouble("datum", days(71.34), -0.014, grows_s=days(187.0)),
                    Trouble("stuck", days(212.61), until_s=days(223.92)),
                ),
            ),
            WIDE_STORE,
        ),
        (("drift", "step_against_dips"), STUCK),
        ("14 mm of 113 m2 are 1.6 m3 of oil", "eleven days on which the overfill alarm of this gauge would not come"),
    ),
    Tried(
        Log(
            "a denser brine, then a transmitter that scatters",
            "wet_leg_tank",
            Plan(
                88303,
                days(45),
                BRINE,
                at(2028, 3, 13),
                Reading(sensor_m=0.0015, waves_m=0.004),
                Record(60.0, "mm", 1.0),
                Hands(days(1), dip_m=0.002),
                (Trouble("density", days(14.21), 0.012), Trouble("noise", days(29.43), 2.0, grows_s=days(4.1))),
            ),
            BRINE_TANK,
        ),
        (SLOPE, ("noise_up",)),
        ("up to 28 mm too high near full, 1.2 % of the stock", "4.5 mm where it was 1.5 mm: water in the cable gland"),
    ),
    Tried(
        Log(
            "a clock set back by an hour, then three hours without rows",
            "spirit_receiver",
            Plan(
                88304,
                days(36),
                RECEIVER,
                at(2028, 10, 9),
                record=Record(60.0, "mA", 0.002, clock="utc"),
                troubles=(
                    Trouble("clock_jump", days(19.43), -HOUR_s),
                    Trouble("gap", days(27.81), until_s=days(27.81) + 3.3 * HOUR_s),
                ),
            ),
        ),
        (("clock_back", "clock_lag"), ("gaps",)),
        ("set by hand to the winter time: each batch in the wrong hour", "three hours of which nothing is known"),
    ),
    Tried(
        Log(
            "a valve that lets gas oil in, by a clock that loses",
            "gas_oil_tank",
            Plan(
                88305,
                days(80),
                GAS_OIL,
                at(2028, 1, 24),
                record=Record(300.0, "mm", 1.0, clock="utc"),
                troubles=(
                    Trouble("clock_drift", days(3.32), -2.4e-4),
                    Trouble("inflow", days(22.17), 40.0 * LITRES_A_DAY),
                ),
            ),
        ),
        (("clock_lag",), ("gains",)),
        (
            "26 min at the end: events of two logs no longer match",
            "2.3 m3 that nobody counted",
        ),
    ),
    Tried(
        Log(
            "a head fitted 12 mm too high, never dipped, then a frozen record",
            "tilted_vessel",
            Plan(
                88306,
                days(30),
                GLYCOL,
                at(2028, 9, 11),
                Reading(sensor_m=0.0005, waves_m=0.008, damping_s=5.0),
                Record(30.0, "mA", 0.001),
                Hands(days(400)),
                (
                    Trouble("datum", days(9.72), 0.012),
                    Trouble("frozen", days(21.38), until_s=days(21.38) + 2.6 * HOUR_s),
                ),
            ),
        ),
        (("step",), STUCK),
        ("90 litres of 12 m3 on every reading after", "a batch in that time would not be seen"),
    ),
    Tried(
        Log(
            "a wet leg that runs out, then spikes",
            "wet_leg_tank",
            Plan(
                88307,
                days(60),
                AMINE,
                at(2028, 6, 19),
                Reading(sensor_m=0.001, waves_m=0.004),
                Record(60.0, "mm", 1.0),
                Hands(days(2), dip_m=0.002),
                (Trouble("leg", days(24.63), 0.03, grows_s=days(9.2)), Trouble("spikes", days(46.15), 250e-6)),
            ),
        ),
        (OFFSET, ("spikes",)),
        ("33 mm too high, and the leg goes on to run out", "40 mm in the mean: trips of the high alarm"),
    ),
    Tried(
        Log(
            "a terminal that corrodes, then a core that breaks",
            "oil_over_water",
            Plan(
                88308,
                days(40),
                SETTLING,
                at(2028, 11, 13),
                Reading(sensor_m=0.0006, waves_m=0.004),
                Record(120.0, "mA", 0.002),
                Hands(days(2), dip_m=0.002),
                (
                    Trouble("load", days(18.44), 600.0, grows_s=days(12.3)),
                    Trouble("break", days(33.27), until_s=days(33.27) + 70.0 * MINUTE_s),
                ),
            ),
        ),
        (("saturation",), CURRENT),
        ("the current ends below the high alarm", "70 min without a reading"),
    ),
    Tried(
        Log(
            "a meter of what goes out, then half a day not booked",
            "gas_oil_tank",
            Plan(
                88309,
                days(90),
                GAS_OIL,
                at(2028, 4, 24),
                record=Record(120.0, "mm", 1.0),
                troubles=(
                    Trouble("meter_out", days(27.74), -0.015),
                    Trouble("unbooked", days(58.31), until_s=days(59.02)),
                ),
            ),
        ),
        (("meter",), ("unbooked",)),
        ("1.5 % sold and not counted, three times what a meter may be off by", "a delivery without a ticket"),
    ),
    Tried(
        Log(
            "lagging taken off a chamber, and a clock that follows the legal time",
            "steam_drum",
            Plan(
                88310,
                days(28),
                DRUM,
                at(2028, 3, 12),
                Reading(sensor_m=0.001, waves_m=0.006, damping_s=4.0),
                Record(30.0, "mA", 0.002, clock="utc"),
                Hands(days(1), dip_m=0.003, rest_s=300.0),
                (
                    Trouble("chamber", days(9.36), -80.0),
                    Trouble("daylight", days(13.93)),
                ),
            ),
        ),
        ((*SLOPE, "bias"), ("clock_forward",)),
        ("the drum stands up to 16 mm higher than is told: water goes over with the steam", "an hour off all summer"),
    ),
    Tried(
        Log(
            "a gauge 9 mm high from the first row on, damped later",
            "spirit_receiver_isolator",
            Plan(
                88311,
                days(25),
                RECEIVER,
                at(2028, 7, 3),
                Reading(sensor_m=0.0006),
                Record(10.0, "mA", 0.001),
                Hands(days(1)),
                (Trouble("datum", 0.0, 0.009), Trouble("damping", days(12.83), 45.0)),
            ),
        ),
        (("bias",), SCATTER),
        ("17 litres of spirit on every reading", "fills are told late by the time constant; someone hid a noise"),
    ),
)
TWENTY = (*SOUND, *ONE_FAULT, *TWO_FAULTS)
