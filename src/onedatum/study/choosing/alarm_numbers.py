"""Numbers of signal and loop: whether the currents of the alarms can come."""

from __future__ import annotations

from collections.abc import Iterator

from onedatum.study.apart import CURRENTS
from onedatum.study.choosing.bench import Bench, Number, given, one


def alarm_numbers(bench: Bench) -> Iterator[Number]:
    """All of them: of the range for every principle, of the transmitter in its loop for that of the case."""
    saturation = bench.desk.case.range.saturation
    highest, lowest = bench.taken(saturation.high), bench.taken(saturation.low)
    critical = bench.at_hand("overfill.critical_current")
    yield from bench.apart("alarm.critical_current_margin", CURRENTS, highest, critical)
    low = bench.at_hand("overfill.set_points.LL.current")
    yield from bench.apart("alarm.low_current_margin", CURRENTS, low, lowest)
    if not bench.principle:
        return
    ends = [entry for entry in (bench.at_hand("loop.last_good_current"), highest) if entry is not None]
    last = bench.end_of(
        "alarm.last_current", "least", "highest current that the loop carries and the information has", ends
    )
    alarm, holds = bench.at_hand("overfill.high_high_current"), (bench.principle,)
    if bench.at_hand("loop.last_good_current") is not None:
        yield from bench.apart("alarm.high_current_margin", CURRENTS, last, alarm, holds)
    yield from given("alarm.fail_current_margin", one(bench.at_hand("loop.margin_at_worst")), holds)
