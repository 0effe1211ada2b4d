"""Chapter range: does the range lie within what can be measured, and the level within the range?"""

from __future__ import annotations

from onedatum.foundation.working import Entry
from onedatum.study.desk import Desk, Sense
from onedatum.study.reach import Reach
from onedatum.study.signal import SignalChapter

RANGE_LOW = "the range starts within what can be measured", "The range starts below what can be measured"
RANGE_HIGH = "the range ends within what can be measured", "The range ends above what can be measured"
LEVEL_LOW = "the level now is not below what can be measured", "The level now is below what can be measured"
LEVEL_HIGH = "the level now is not above what can be measured", "The level now is above what can be measured"


def range_ends(desk: Desk, signal: SignalChapter) -> tuple[Entry, Entry]:
    """Its lower and its upper end; a reverse acting range has its lower end at 20 mA."""
    ends = [signal.lower, signal.upper]
    low = desk.sheet.select("range.low", "least", "lower end of the range", ends)
    return low, desk.sheet.select("range.high", "greatest", "upper end of the range", ends)


def range_chapter(desk: Desk, signal: SignalChapter, reach: Reach, level: Entry) -> None:
    """Compare the range with the measurable levels."""
    low, high = range_ends(desk, signal)
    _compare(desk, "range-low", RANGE_LOW, low, "at least", reach.lowest)
    _compare(desk, "range-high", RANGE_HIGH, high, "at most", reach.highest)
    if level.known:
        _compare(desk, "level-low", LEVEL_LOW, level, "at least", reach.now_lowest, remark=True)
        _compare(desk, "level-high", LEVEL_HIGH, level, "at most", reach.now_highest, remark=True)


def _compare(
    desk: Desk, key: str, words: tuple[str, str], value: Entry, sense: Sense, limit: Entry, remark: bool = False
) -> None:
    name = f"{value.name}.{'below' if sense == 'at most' else 'above'}[{limit.name}]"
    meaning = f"distance of {value.meaning} from {limit.meaning}"
    desk.compare_apart(key, words, value, sense, limit, name, meaning, remark=remark)
