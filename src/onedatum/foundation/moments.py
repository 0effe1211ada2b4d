"""Moments as whole microseconds since 1970 in UTC, and lengths of time in seconds."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

MICRO = 1_000_000
"""Microseconds in a second."""
HOUR_s, DAY_s = 3600.0, 86_400.0
YEAR_s = 365.25 * DAY_s
EPOCH = datetime(1970, 1, 1, tzinfo=UTC)
_MICRO = timedelta(microseconds=1)


def us_of(moment: datetime) -> int:
    """Microseconds since 1970 of a moment that states its offset.

    >>> us_of(datetime(1970, 1, 1, 0, 0, 1, tzinfo=UTC))
    1000000
    """
    return (moment - EPOCH) // _MICRO


def moment_of(us: float) -> datetime:
    """The moment in UTC; raises OverflowError where the calendar does not reach."""
    return EPOCH + timedelta(microseconds=us)


def clock(us: int) -> str:
    """Microseconds since 1970 as a time in UTC; in plain words where the calendar does not reach.

    >>> clock(1_000_000), clock(10**18)
    ('1970-01-01T00:00:01+00:00', '1000000000000000000 us since 1970')
    """
    try:
        return moment_of(us).isoformat(timespec="seconds")
    except OverflowError:
        return f"{us} us since 1970"
