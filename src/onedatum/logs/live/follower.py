"""One tag as it stands: what its samples tell, how old that is, what is not to be believed, where it is going.

A sample becomes a `Row`, which is kept, and the tag can be looked at as a `View` at any time. A number is believed
unless it is the very same for too long (where the plan says how long), or the level has moved faster than it can (the
same): then it is unknown until as many readings as `CONFIRMED` in a row agree with each other. Where that speed is
stated, so is the first level after any gap: how far it may have moved grows with the gap, and rubbish falls within it.

A failure waits for no second reading, be it told by the current or by the source itself: it is shown at once. What is
kept is read in peace later: there, where that speed is stated, a failure current stands in doubt until it is confirmed.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from typing import Literal, NamedTuple

from onedatum.foundation.moments import MICRO
from onedatum.logs.live.levelling import VOLUME, Amount, Levelling
from onedatum.logs.live.outlook import COVERAGE, Outlook, Rate, Way, Window, outlook
from onedatum.logs.live.plan import TagPlan
from onedatum.logs.live.sample import Reading, Sample
from onedatum.logs.reasons import FLAGS

Standing = Literal[
    "good", "at or below", "at or above", "no measurement", "no level", "unknown", "stale", "nothing yet"
]
HOLDING: tuple[Standing, ...] = ("good", "at or below", "at or above", "no measurement", "no level")
"""Of a tag whose last news holds now; `no level`: its source itself says that there is no level."""
MEASURING = "measuring"
BESIDE = "beside it stands"
"""In the doubt of a number that its source disowns."""
CONFIRMED = 3


class Alarm(NamedTuple):
    """A level of concern: its name in print, where it stands, and whether it is above."""

    name: str
    level_m: float
    rising: bool


@dataclass(frozen=True)
class Row:
    """One sample with what it is worth: what is kept."""

    sample: Sample
    amount: Amount
    unit: str
    doubt: str
    """Why there is no level; beside a level, what was said against it."""
    unconfirmed: str = ""
    """Why the failure that is shown is not yet kept as one."""

    @property
    def kept_doubt(self) -> str:
        """What is kept of both."""
        return _together(self.doubt, self.unconfirmed)


@dataclass(frozen=True)
class View:
    """A tag as it stands at a time. Level and quantities are None unless they hold now."""

    tag: str
    standing: Standing
    age_s: float | None
    """Since the last news that was believed: a level, a failure current, or that there is no level."""
    amount: Amount | None
    """Where it holds."""
    last: Amount | None
    """The last that told a level, to be shown with its age and never as the level now."""
    last_age_s: float | None
    remark: str
    source_age_s: float | None
    """Since the source measured, by its own clock."""
    rate_m_per_s: Rate | None
    rate_m3_per_s: Rate | None
    outlooks: tuple[Outlook, ...]


@dataclass
class Follower:
    """The state of one tag."""

    plan: TagPlan
    levelling: Levelling
    stale_after_s: float
    rate_over_s: float
    alarms: Sequence[Alarm] = ()
    _news: Row | None = None
    """The last that told a level, or that there is none, and was believed."""
    _level: Row | None = None
    """The last that told a level."""
    _latest: Row | None = None
    _same: tuple[float, int | None, int] | None = None
    """Number, time of the source, and since when both are so, as if what was no reading had taken no time."""
    _jumped: list[tuple[int, float]] = field(default_factory=list)
    _failed: int = 0
    """Readings in a row that told a state other than measuring, on the same side of it."""

    def __post_init__(self) -> None:
        """Windows of level and volume."""
        self._levels, self._volumes = Window(self.rate_over_s), Window(self.rate_over_s)

    def take(self, sample: Sample) -> Row:
        """What a sample is worth; times go forward."""
        row = self._confirmed(self._row(sample))
        self._latest = row
        if row.amount.level_m is not None or row.amount.state is not None or sample.reading.denies_level:
            self._news = row
        level = row.amount.level_m
        if level is not None:
            self._level = row
        if level is not None and not row.amount.at_end:
            self._levels.add(sample.time_us, level)
            volume = row.amount.quantities.get(VOLUME)
            if volume is not None:
                self._volumes.add(sample.time_us, volume)
        return row

    def _row(self, sample: Sample) -> Row:
        reading = sample.reading
        if reading.value is None:
            self._jumped.clear()
            self._pass(sample)
            hint = reading.hint if self._level is None else ""
            return Row(sample, Amount(), self.plan.unit, _together(reading.doubt or "no value", hint))
        amount = self.levelling.amount(sample.time_us, reading.value)
        if reading.denies_level:
            return self._denied(sample, amount)
        against = "" if amount.state else amount.doubt
        against = against or self._frozen(sample, reading, amount) or self._jump(sample, amount)
        if against:
            return Row(sample, Amount(), self.plan.unit, against)
        return Row(sample, amount, self.plan.unit, _together(reading.doubt, amount.doubt))

    def _denied(self, sample: Sample, amount: Amount) -> Row:
        """What the source disowns: a failure current tells its state, any other number nothing."""
        self._jumped.clear()
        value, doubt = sample.reading.value, sample.reading.doubt or "the source says that there is no level"
        if self._same is not None and self._same[:2] == (value, sample.reading.source_us):
            self._pass(sample)
        else:
            self._same = None
        if amount.state not in (None, MEASURING):
            return Row(sample, amount, self.plan.unit, _together(doubt, amount.doubt))
        return Row(sample, Amount(), self.plan.unit, f"{doubt}; {BESIDE} {value:.4g} {self.plan.unit}")

    def _confirmed(self, row: Row) -> Row:
        """Whether a failure current is one for what is kept: random bits within the limits are one at times."""
        state, before = row.amount.state, self._latest
        if state is None or state == MEASURING:
            self._failed = 0
            return row
        same = before is not None and _side(before.amount.state) == _side(state)
        self._failed = self._failed + 1 if same else 1
        if self.plan.fastest_m_per_s is None or row.sample.reading.denies_level or self._failed >= CONFIRMED:
            return row
        words = f"kept as one from {CONFIRMED} readings in a row on; this is number {self._failed}"
        return replace(row, unconfirmed=f"{state.replace('_', ' ')}: {words}")

    def remember(self, value: float, source_us: int | None, since_us: int) -> None:
        """What an earlier watch has kept: its last number, the time of its source, and since when both were so."""
        self._same = (value, source_us, since_us)

    def _pass(self, sample: Sample) -> None:
        """A silence or a denial is no standing still: the time since the sample before it is not counted."""
        if self._same is not None and self._latest is not None:
            value, source_us, since_us = self._same
            self._same = value, source_us, since_us + sample.time_us - self._latest.sample.time_us

    def _frozen(self, sample: Sample, reading: Reading, amount: Amount) -> str:
        """Whether number and time of the source have stood still for too long. A failure current may: it is set so."""
        if reading.value is None:
            return ""
        if self._same is None or self._same[:2] != (reading.value, reading.source_us):
            self._same = (reading.value, reading.source_us, sample.time_us)
        after_s, since_s = self.plan.frozen_after_s, (sample.time_us - self._same[2]) / MICRO
        if after_s is None or since_s < after_s or amount.level_m is None:
            return ""
        return f"frozen: the very same number for {since_s:.0f} s"

    def _jump(self, sample: Sample, amount: Amount) -> str:
        """Whether the level is where it cannot be yet, or comes after a gap, and was not confirmed there."""
        fastest, level, before = self.plan.fastest_m_per_s, amount.level_m, self._latest
        if fastest is None or level is None:
            return ""
        follows = before is not None and before.amount.level_m is not None
        if before is not None and follows:
            follows = _reached(fastest, (before.sample.time_us, before.amount), (sample.time_us, amount))
        if follows:
            self._jumped.clear()
            return ""
        if self._jumped:
            time_us, there_m = self._jumped[-1]
            if not _reached(fastest, (time_us, replace(amount, level_m=there_m)), (sample.time_us, amount)):
                self._jumped.clear()
        self._jumped.append((sample.time_us, level))
        if len(self._jumped) >= CONFIRMED:
            self._jumped.clear()
            self._forget_if_elsewhere(fastest, sample, amount)
            return ""
        return f"{level:.4g} m comes after a gap or too fast: {CONFIRMED} readings in a row must agree"

    def _forget_if_elsewhere(self, fastest_m_per_s: float, sample: Sample, amount: Amount) -> None:
        """A rate does not go over a jump."""
        last = self._level
        there = (sample.time_us, amount)
        if last is None or not _reached(fastest_m_per_s, (last.sample.time_us, last.amount), there):
            self._levels.clear()
            self._volumes.clear()

    # ---------------------------------------------------------------- looking

    def view(self, now_us: int) -> View:
        """The tag at a time."""
        news, latest, last = self._news, self._latest, self._level
        age_s, last_age_s = _age_s(news, now_us), _age_s(last, now_us)
        standing = self._standing(age_s)
        amount = news.amount if news is not None and standing in HOLDING else None
        source_us = latest.sample.reading.source_us if latest is not None else None
        rates: tuple[Rate | None, Rate | None] = (None, None)
        if standing == "good":
            rates = self._levels.rate(now_us), self._volumes.rate(now_us)
        return View(
            self.plan.tag,
            standing,
            age_s,
            amount,
            last.amount if last is not None else None,
            last_age_s,
            latest.doubt if latest is not None else "",
            None if source_us is None else (now_us - source_us) / MICRO,
            *rates,
            self._outlooks(amount, standing, rates[1], age_s or 0.0),
        )

    def _standing(self, age_s: float | None) -> Standing:
        news = self._news
        if news is None or age_s is None:
            return "nothing yet" if self._latest is None else "unknown"
        if age_s > self.stale_after_s:
            return "stale"
        if news.amount.level_m is None:
            return "no level" if news.amount.state is None else "no measurement"
        if news.amount.flags & FLAGS["at_or_below"]:
            return "at or below"
        return "at or above" if news.amount.flags & FLAGS["at_or_above"] else "good"

    def _outlooks(
        self, amount: Amount | None, standing: Standing, rate: Rate | None, age_s: float
    ) -> tuple[Outlook, ...]:
        if standing != "good" or amount is None or amount.level_m is None:
            return tuple(Outlook(each.name, each.level_m, why=f"none: {standing}") for each in self.alarms)
        half = COVERAGE * (amount.u_level_m or 0.0)
        ends = [self.levelling.volume_m3(amount.level_m + way * half) for way in (-1.0, 1.0)]
        middle = self.levelling.volume_m3(amount.level_m)
        least, most = (middle if each is None else each for each in ends)
        return tuple(
            outlook(
                each.name,
                each.level_m,
                Way(least, most, self.levelling.volume_m3(each.level_m)),
                rate,
                each.rising,
                age_s,
            )
            for each in self.alarms
        )


def _together(*doubts: str) -> str:
    """What is said against a level, more than one in a line."""
    return "; ".join(filter(None, doubts))


def _side(state: str | None) -> str:
    """On which side of the measurement a state stands: a current that wavers at a limit stays on its side."""
    return (state or "").rpartition("_")[2]


def _age_s(row: Row | None, now_us: int) -> float | None:
    return None if row is None else max(now_us - row.sample.time_us, 0) / MICRO


def _reached(fastest_m_per_s: float, before: tuple[int, Amount], now: tuple[int, Amount]) -> bool:
    """Whether a level can be reached from another in the time between, within their uncertainties."""
    apart_s = (now[0] - before[0]) / MICRO
    room = COVERAGE * ((before[1].u_level_m or 0.0) + (now[1].u_level_m or 0.0))
    return abs((now[1].level_m or 0.0) - (before[1].level_m or 0.0)) <= fastest_m_per_s * apart_s + room
