"""What a history is made from: how the tank lives, how its level is read and written down, and what goes wrong when.

All is stated, none is drawn here; what is drawn comes from the seed. Times count from the start of the history.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, datetime
from math import inf, isfinite
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from onedatum.foundation.errors import QuantityError
from onedatum.foundation.moments import DAY_s

MOST_ROWS = 5_000_000
MOST_s = 3653.0 * DAY_s
"""Ten years."""
LEAST_s = 60.0
"""Between movements and between dips."""
UNITS = ("mA", "mm", "m", "%", "counts")
CLOCKS = ("offset", "legal", "utc")
Range = tuple[float, float]


@dataclass(frozen=True)
class Life:
    """How the tank is used and how warm it is."""

    start_m: float
    low_m: float
    """Down to here it is emptied."""
    high_m: float
    """Up to here it is filled."""
    in_m3: Range
    """Least and most of a batch that comes in; what the tank cannot take stays out."""
    out_m3: Range
    in_m3_per_s: Range
    out_m3_per_s: Range
    pause_s: Range
    """Between two movements: any length between these is as likely as its double."""
    warm_K: float | None = None
    """Mean over the year; None: the temperature of the case."""
    season_K: float = 5.0
    """From the mean of the year to the warmest day."""
    day_K: float = 0.8
    """From the mean of the day to the warmest hour."""
    weather_K: float = 0.7
    """Standard deviation of what wanders from week to week."""
    agitated_s: float = 0.0
    """How long the agitator runs after a batch has come in."""
    section_m2: float | None = None
    """Of an upright vessel that stands in where the case has none."""


@dataclass(frozen=True)
class Reading:
    """Noise on the way from the surface to the receiver, at rest and while something moves."""

    sensor_m: float = 0.0003
    """Standard deviation of the transmitter's own noise."""
    receiver_A: float = 1e-6
    """Standard deviation of the receiver's noise."""
    waves_m: float = 0.002
    """Standard deviation of the surface while a batch comes in or the agitator runs."""
    wave_period_s: float = 1.6
    damping_s: float = 0.0
    mains_Hz: float = 50.0
    mains_wander_Hz: float = 0.01
    """Standard deviation of the frequency of the mains, which wanders over minutes."""
    spikes_per_s: float = 12.0 / DAY_s
    """How often a spike meets a reading, where there are any."""
    open_s: float = 15.0
    """How long an intermittent contact stays open, in the mean."""
    contact_ohm: Range = (2e3, 1e6)
    """Resistance of the contact while it is open."""


@dataclass(frozen=True)
class Record:
    """How readings are written down."""

    interval_s: float = 10.0
    unit: str = "mA"
    step: float = 0.001
    """Last digit of what is written, in its unit."""
    clamped: bool = False
    """Whether it is cut at 0 and 100 % of the span."""
    band: float = 0.0
    """By exception: a row is written when the value has moved by more than this, in its unit; 0: every row."""
    longest_s: float = 3600.0
    """By exception: after this time a row is written anyway."""
    counts: Range = (6400.0, 32000.0)
    """At 4 mA and at 20 mA."""
    clock: str = "offset"
    """`offset`: local time with its offset; `legal`: local time without it; `utc`."""
    zone: str = "Europe/Berlin"
    temperature_K: float | None = 0.1
    """Standard deviation of the temperature written beside; None: none is written."""


@dataclass(frozen=True)
class Hands:
    """Dips and meters."""

    dip_every_s: float = 2.0 * DAY_s
    dip_m: float = 0.0015
    """Standard deviation of a dip."""
    rest_s: float = 1800.0
    """So long the tank has stood still before a dip."""
    meter: float = 0.001
    """Standard deviation of what a sound meter is off by, the same over the whole history; share of the volume."""
    repeat: float = 0.0005
    """Standard deviation from batch to batch, share of the volume."""


@dataclass(frozen=True)
class Trouble:
    """One fault: what, from when, how large."""

    kind: str
    start_s: float
    size: float = 0.0
    until_s: float = inf
    """When it is put right."""
    grows_s: float = 0.0
    """How long it takes to its size; 0: at once."""


@dataclass(frozen=True)
class Order:
    """A movement that is planned, such as a wash, a fill for the season or a tank emptied before the works closes."""

    start_s: float
    """It waits until a batch that is under way has ended."""
    to_m: float
    """Where the level ends."""
    rate_m3_per_s: float
    rests_s: float = 0.0
    """So long nothing is moved after it."""


@dataclass(frozen=True)
class Plan:
    """Everything that makes a history of a case."""

    seed: int
    duration_s: float
    life: Life
    start: datetime = datetime(2026, 3, 2, tzinfo=UTC)
    reading: Reading = Reading()
    record: Record = Record()
    hands: Hands = Hands()
    troubles: tuple[Trouble, ...] = ()
    orders: tuple[Order, ...] = ()
    """By their start."""

    @property
    def rows(self) -> int:
        """How many readings are taken."""
        return int(self.duration_s / self.record.interval_s) + 1


def refuse_plan(plan: Plan) -> None:
    """What holds of every plan, whatever the tank."""
    _above("duration_s", plan.duration_s)
    _above("record.interval_s", plan.record.interval_s)
    _above("record.step", plan.record.step)
    if plan.seed < 0:
        raise QuantityError("a seed of 0 or more", f"{plan.seed}")
    if plan.duration_s / plan.record.interval_s > MOST_ROWS:
        raise QuantityError(f"at most {MOST_ROWS} readings", "more", "take a longer interval or fewer days")
    if plan.duration_s > MOST_s:
        raise QuantityError("at most ten years", f"{plan.duration_s:g} s", "of the history")
    if plan.start.tzinfo is None:
        raise QuantityError("a start with its offset", plan.start.isoformat(), "a local time alone is not one moment")
    for word, words in ((plan.record.unit, UNITS), (plan.record.clock, CLOCKS)):
        if word not in words:
            raise QuantityError(f"one of {', '.join(words)}", repr(word), "a record is written in no other way")
    try:
        ZoneInfo(plan.record.zone)
    except (ZoneInfoNotFoundError, ValueError, OSError):
        raise QuantityError("a time zone by its name, such as UTC", repr(plan.record.zone)) from None
    if plan.record.counts[0] == plan.record.counts[1]:
        raise QuantityError("two different numbers of counts", f"{plan.record.counts}")
    if plan.record.unit not in ("mm", "m") and any(each.kind == "receiver" for each in plan.troubles):
        raise QuantityError(
            "a record in mm or m", plan.record.unit, "a receiver scaled for another range shows in levels"
        )
    _refuse_life(plan.life)
    _refuse_orders(plan)
    _refuse_parts(plan)


def _refuse_life(life: Life) -> None:
    for name in ("in_m3", "out_m3", "in_m3_per_s", "out_m3_per_s", "pause_s"):
        low, high = getattr(life, name)
        if not 0.0 < low <= high < inf:
            why = f"the least of life.{name} comes first and is above 0"
            raise QuantityError("two numbers in their order", f"{low:g}, {high:g}", why)
    if life.pause_s[0] < LEAST_s:
        raise QuantityError(f"{LEAST_s:g} s or more", f"{life.pause_s[0]:g} s", "the shortest pause of life.pause_s")
    if not life.low_m < life.high_m:
        raise QuantityError("a lowest level below the highest", f"{life.low_m:g} m and {life.high_m:g} m")


def _refuse_orders(plan: Plan) -> None:
    last_s = 0.0
    for each in plan.orders:
        if not last_s <= each.start_s < plan.duration_s:
            raise QuantityError(
                "within the history, each after the last", f"{each.start_s:g} s", "the start of an order"
            )
        _above("order.rate_m3_per_s", each.rate_m3_per_s)
        if not 0.0 <= each.rests_s < inf:
            raise QuantityError("0 or more", f"{each.rests_s:g}", "order.rests_s is a size")
        last_s = each.start_s


def _refuse_parts(plan: Plan) -> None:
    """Spreads and times that cannot be below 0."""
    optional = {"temperature_K": plan.record.temperature_K, "section_m2": plan.life.section_m2}
    parts = {
        **{f"life.{name}": getattr(plan.life, name) for name in ("season_K", "day_K", "weather_K", "agitated_s")},
        **{f"reading.{name}": value for name, value in vars(plan.reading).items() if name != "contact_ohm"},
        **{f"hands.{name}": value for name, value in vars(plan.hands).items()},
        "record.band": plan.record.band,
        **{name: value for name, value in optional.items() if value is not None},
    }
    for name, value in parts.items():
        if not 0.0 <= value < inf:
            raise QuantityError("0 or more", f"{value:g}", f"{name} is a size")
    for name in ("wave_period_s", "open_s"):
        _above(f"reading.{name}", getattr(plan.reading, name))
    if plan.hands.dip_every_s < LEAST_s:
        raise QuantityError(f"{LEAST_s:g} s or more", f"{plan.hands.dip_every_s:g} s", "the time between dips")
    _above("record.longest_s", plan.record.longest_s)
    if plan.life.section_m2 is not None:
        _above("life.section_m2", plan.life.section_m2)
    low_ohm, high_ohm = plan.reading.contact_ohm
    if not 0.0 < low_ohm <= high_ohm < inf:
        raise QuantityError("two resistances in their order", f"{low_ohm:g}, {high_ohm:g}", "of an open contact")


def _above(name: str, value: float) -> None:
    if not (isfinite(value) and value > 0.0):
        raise QuantityError("above 0", f"{value:g}", f"{name} is a length of time or a step")
