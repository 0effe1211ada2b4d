"""The other alarms as they are set: each within what can be measured and within the measurement information."""

from __future__ import annotations

from collections.abc import Sequence

from onedatum.foundation.working import Entry
from onedatum.study.apart import CURRENTS
from onedatum.study.desk import Desk, Sense
from onedatum.study.loop import LoopChapter
from onedatum.study.reach import Reach
from onedatum.study.signal import SignalChapter

NOT_MEASURED = "{0} is not {1} what can be measured", "{0} is set {1} what can be measured"
CARRIED = "the loop carries {0}", "{0} can never come"
READ = "{0} can be read at the {1} end of the current", "{0} is set beyond the {1} end of the measurement information"


def other_alarms(desk: Desk) -> tuple[tuple[str, Entry], ...]:
    """LL, L and H as far as they are stated: their names and levels."""
    points = desk.case.overfill.set_points
    stated = [(name, leaf) for name, leaf in (("LL", points.LL), ("L", points.L), ("H", points.H)) if leaf.known]
    return tuple((name, desk.take(leaf, "mm")) for name, leaf in stated)


def can_come(
    desk: Desk, signal: SignalChapter, reach: Reach, loop: LoopChapter, alarms: Sequence[tuple[str, Entry]]
) -> None:
    """Check each of them."""
    for name, level in alarms:
        _measured(desk, reach, name, level)
        _read(desk, signal, loop, name, level)


def _measured(desk: Desk, reach: Reach, name: str, level: Entry) -> None:
    ends: tuple[tuple[str, Sense, Entry], ...] = (
        ("above", "at most", reach.highest),
        ("below", "at least", reach.lowest),
    )
    for side, sense, limit in ends:
        holds, fails = (words.format(name, side) for words in NOT_MEASURED)
        meaning = f"distance of {name} from {limit.meaning}"
        entry = f"overfill.set_points.{name}.not_{side}"
        desk.compare_apart(f"{name}-not-{side}", (holds, fails), level, sense, limit, entry, meaning, safety=True)


def _read(desk: Desk, signal: SignalChapter, loop: LoopChapter, name: str, level: Entry) -> None:
    current = signal.current(desk, f"overfill.set_points.{name}.current", level, f"current at {name}")
    ends: tuple[tuple[str, Sense, Entry], ...] = (
        ("upper", "at most", signal.saturation_high),
        ("lower", "at least", signal.saturation_low),
    )
    for side, sense, edge in ends:
        holds, fails = (words.format(name, side) for words in READ)
        entry = f"overfill.set_points.{name}.current_to_{side}_end"
        meaning = f"current of {name}, {sense} the end of the measurement information"
        desk.compare_apart(
            f"{name}-reads-{side}", (holds, fails), current, sense, edge, entry, meaning, by=CURRENTS, safety=True
        )
    holds, fails = (words.format(name) for words in CARRIED)
    loop.compare(desk, f"{name}-carried", (holds, fails), current, name, f"at {name}", safety=True)
