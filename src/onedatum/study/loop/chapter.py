"""Chapter loop: will the transmitter keep its voltage, and what does the current tell at the receiver?"""

from __future__ import annotations

from dataclasses import replace

from onedatum.study.desk import Desk
from onedatum.study.loop.bands import failures_seen
from onedatum.study.loop.hart import hart
from onedatum.study.loop.receiver import receiver
from onedatum.study.loop.supply import LoopChapter, supply
from onedatum.study.signal import SignalChapter


def loop_chapter(desk: Desk, signal: SignalChapter) -> LoopChapter:
    """Work the loop."""
    loop = supply(desk, signal)
    failures_seen(desk, loop.bands, loop.worst)
    return replace(loop, receiver_standard=receiver(desk, signal), hart_longest_cable=hart(desk, loop))
