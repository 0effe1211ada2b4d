"""Chapter signal: the level as current, as voltage on the test resistor, as share of the span."""

from __future__ import annotations

from dataclasses import dataclass

from onedatum.foundation.working import Entry
from onedatum.physics.loop import clamped_current_A, current_A, level_at_current_m, signal_voltage_V, span_share
from onedatum.study.desk import Desk


@dataclass(frozen=True)
class SignalChapter:
    """The range, and how to read a level on it."""

    lower: Entry
    upper: Entry
    saturation_low: Entry
    saturation_high: Entry

    def current(self, desk: Desk, name: str, level: Entry, meaning: str) -> Entry:
        """The current of the straight line at a level."""
        return desk.calc(
            name,
            current_A,
            shown="mA",
            meaning=meaning,
            level_m=level,
            lower_range_value_m=self.lower,
            upper_range_value_m=self.upper,
        )

    def level(self, desk: Desk, name: str, current: Entry, meaning: str) -> Entry:
        """The level at which the straight line carries a current."""
        return desk.calc(
            name,
            level_at_current_m,
            shown="mm",
            meaning=meaning,
            current_A=current,
            lower_range_value_m=self.lower,
            upper_range_value_m=self.upper,
        )


def signal_chapter(desk: Desk, level: Entry) -> SignalChapter:
    """Work the signal at the level as read, and the ends of the measurement information."""
    range_ = desk.case.range
    chapter = SignalChapter(
        desk.take(range_.lower, "mm"),
        desk.take(range_.upper, "mm"),
        desk.take(range_.saturation.low, "mA"),
        desk.take(range_.saturation.high, "mA"),
    )
    current = chapter.current(desk, "signal.current", level, "current at the level as read")
    shown = desk.calc(
        "signal.current_shown",
        clamped_current_A,
        shown="mA",
        meaning="current that a sound loop shows",
        current_A=current,
        saturation_low_A=chapter.saturation_low,
        saturation_high_A=chapter.saturation_high,
    )
    _voltages(desk, current, shown)
    desk.calc(
        "signal.span_share",
        span_share,
        shown="%span",
        meaning="level as share of the span",
        level_m=level,
        lower_range_value_m=chapter.lower,
        upper_range_value_m=chapter.upper,
    )
    for end, limit in (("low", chapter.saturation_low), ("high", chapter.saturation_high)):
        chapter.level(
            desk, f"range.level_at_saturation_{end}", limit, f"level at the {end} end of the measurement information"
        )
    return chapter


def _voltages(desk: Desk, current: Entry, shown: Entry) -> None:
    """The voltages on the test resistor, where there is one in the loop."""
    stated = desk.case.loop.test_resistor
    if stated.state in ("unknown", "none"):
        return
    resistor = desk.take(stated, "ohm")
    for name, through, meaning in (
        ("signal.test_voltage", shown, "voltage on the test resistor"),
        ("signal.line_voltage", current, "voltage on the test resistor by the straight line"),
    ):
        desk.calc(name, signal_voltage_V, shown="mV", meaning=meaning, current_A=through, resistance_ohm=resistor)
