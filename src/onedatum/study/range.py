"""Chapter range: does the range lie within what can be measured, and the level within the range?"""

from __future__ import annotations

from onedatum.foundation.working import Entry
from onedatum.physics.overfill.levels import margin_m
from onedatum.study.desk import Desk, Sense
from onedatum.study.signal import SignalChapter
from onedatum.study.stem import StemChapter


def range_chapter(desk: Desk, signal: SignalChapter, stem: StemChapter, level: Entry) -> None:
    """Compare the range with the measurable levels; a reverse acting range has its lower end at 20 mA."""
    ends = [signal.lower, signal.upper]
    low = desk.sheet.select("range.low", "least", "lower end of the range", ends)
    high = desk.sheet.select("range.high", "greatest", "upper end of the range", ends)
    _compare(desk, "the range starts within what can be measured", low, "at least", stem.lowest)
    _compare(desk, "the range ends within what can be measured", high, "at most", stem.highest)
    if level.known:
        _compare(desk, "the level now can be measured, at the low end", level, "at least", stem.now.lowest)
        _compare(desk, "the level now can be measured, at the high end", level, "at most", stem.now.highest)


def _compare(desk: Desk, title: str, value: Entry, sense: Sense, limit: Entry) -> None:
    upper, lower = (limit, value) if sense == "at most" else (value, limit)
    margin = desk.calc(
        f"{value.name}.{'below' if sense == 'at most' else 'above'}[{limit.name}]",
        margin_m,
        shown="mm",
        meaning=f"distance of {value.meaning} from {limit.meaning}",
        limit_m=upper,
        value_m=lower,
    )
    desk.compare(title, value, sense, limit, margin)
