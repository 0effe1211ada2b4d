"""The clock that rows are stamped with: that of this machine, as long as it does not go back."""

from __future__ import annotations

import time
from collections.abc import Callable

from onedatum.foundation.moments import MICRO

JUMP_s = 1.0
"""From this difference between the two clocks on, the one of the day was set."""


class OwnClock:
    """Time of day that never goes back: it runs on with a steady clock and follows the other only forward.

    A machine that slept, or whose clock was set forward, finds its last values older, which is the safe side. Where the
    clock was set back, times go on from where they were, and `remark` says so.
    """

    def __init__(self, wall_s: Callable[[], float] = time.time, steady_s: Callable[[], float] = time.monotonic) -> None:
        self._wall_s, self._steady_s = wall_s, steady_s
        self._from_s, self._at_s = wall_s(), steady_s()
        self._last_us = 0
        self.remark = ""

    def now_us(self) -> int:
        """Microseconds since 1970."""
        own_s = self._from_s + self._steady_s() - self._at_s
        wall_s = self._wall_s()
        if wall_s - own_s > JUMP_s:
            self._from_s, self._at_s = wall_s, self._steady_s()
            own_s = wall_s
        back_s = own_s - wall_s
        self.remark = (
            f"the clock of this machine was set back by {back_s:.0f} s: times run on" if back_s > JUMP_s else ""
        )
        self._last_us = max(self._last_us, round(own_s * MICRO))
        return self._last_us

    def steady_s(self) -> float:
        """Seconds of the clock that nobody sets."""
        return self._steady_s()
