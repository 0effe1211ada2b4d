"""Times in UTC as a page shows them, and the ticks of an axis of time: whole seconds, minutes, hours or days."""

from collections.abc import Iterator
from datetime import datetime
from math import ceil, floor

from onedatum.foundation.moments import moment_of

SECOND_us, DAY_us = 1e6, 86_400e6
_SECONDS = (1, 2, 5, 10, 15, 30, 60, 120, 300, 600, 900, 1800, 3600, 7200, 10800, 21600, 43200)
_DAYS = (1, 2, 7, 14, 28, 91, 182, 364, 3640, 36400, 364000)
STEPS_us = (*(each * SECOND_us for each in _SECONDS), *(each * DAY_us for each in _DAYS))
MOST = 60


def at(us: float) -> datetime | None:
    """A moment in UTC; None where the calendar does not reach."""
    try:
        return moment_of(us)
    except OverflowError:
        return None


def text_of(us: int) -> str:
    """A time as it is typed and shown, in UTC; the number where the calendar does not reach."""
    moment = at(us)
    if moment is None:
        return str(us)
    whole = us % 1_000_000 == 0
    text = moment.replace(tzinfo=None).isoformat(" ", "seconds" if whole else "milliseconds")
    return text.removesuffix(":00") if whole else text


def time_ticks(from_us: float, to_us: float, px_per_us: float, apart_px: float) -> Iterator[tuple[float, str]]:
    """Where the ticks stand and what they say, at least so far apart."""
    step = next((each for each in STEPS_us if each * px_per_us >= apart_px), None)
    if step is None:
        return
    year = None
    for number in range(ceil(from_us / step), floor(to_us / step) + 1)[:MOST]:
        moment = at(number * step)
        if moment is None:
            continue
        yield number * step, _said(moment, step, moment.year != year)
        year = moment.year if moment.hour == moment.minute == moment.second == 0 else year


def _said(moment: datetime, step: float, with_year: bool) -> str:
    if step < DAY_us and (moment.hour, moment.minute, moment.second) != (0, 0, 0):
        return moment.strftime("%H:%M:%S" if step < 60 * SECOND_us else "%H:%M")
    day = f"{moment.day} {moment:%b}"
    return f"{day} {moment.year}" if with_year else day
