"""What is seen of the logs of a run beside their rows: whose rows lie there already, how they end, how they follow."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from itertools import groupby
from pathlib import Path
from typing import NamedTuple

from onedatum.foundation.errors import Fault, LogError
from onedatum.foundation.moments import clock
from onedatum.jobs.convert.parts import Parts
from onedatum.jobs.convert.unit import Log, Part
from onedatum.logs.chunk import shown
from onedatum.logs.csv_blocks import PACKED
from onedatum.logs.mapping import LogMapping
from onedatum.logs.reading import look
from onedatum.logs.reasons import LATE
from onedatum.logs.row_groups import is_parquet

NAMES = 5
"""So many logs are named; of more, how many."""
TAIL = 1 << 16
FEWER = "%s: %d rows of it lay here, and the log has %d now: the others are gone from the folder"


def keep_rows(parts: Parts, logs: Sequence[Path], mapping: LogMapping) -> None:
    """Raise LogError where rows of a log lie in the folder that this run does not have, or cannot read."""
    lying, faults = parts.lying(), list[Fault]()
    if not lying:
        return
    for path in logs:
        try:
            look(path, mapping)
            lying[shown(path.name)] -= 1
        except LogError as error:
            faults += error.faults
    lost = sorted(name for name, count in lying.items() if count > 0)
    if not lost:
        return
    named = ", ".join(lost[:NAMES]) + (f" and {len(lost) - NAMES} more" if len(lost) > NAMES else "")
    why = "a folder holds what one run made of all its logs: those rows would be taken away"
    remedy = f"Name another folder with --out, or give {named} as well"
    got = f"one with rows of {named}"
    raise LogError([*faults, Fault(shown(parts.out), "a folder of the logs that are given", got, why, remedy=remedy)])


def fewer(before: Iterable[Part], done: Iterable[Part]) -> dict[str, str]:
    """By its name, what is said of each log that had more rows in the folder before than now."""
    had, has = Counter[str](), Counter[str]()
    for count, parts in ((had, before), (has, done)):
        for part in parts:
            count[part.log.name] += part.tally.rows
    return {name: FEWER % (name, rows, has[name]) for name, rows in sorted(had.items()) if has[name] < rows}


def last_is_open(path: Path, size: int) -> bool:
    """Whether the last of several lines of a plain CSV file has no end, and no quote that closes it."""
    if path.suffix in PACKED or is_parquet(path):
        return False
    with path.open("rb") as file:
        file.seek(max(size - TAIL, 0))
        tail = file.read(min(size, TAIL))
    return not tail.endswith((b"\n", b"\r", b'"')) and (b"\n" in tail or b"\r" in tail)


class Overlap(NamedTuple):
    """A log that begins before the end of one that was given before it."""

    log: str
    before: str
    """The log that was given before it."""
    tag: str
    begin_us: int
    """Where the later given one begins."""
    end_us: int
    """The greatest time of the one before it."""
    late: int
    """Rows of it that come late."""

    def __str__(self) -> str:
        begin, end = clock(self.begin_us), clock(self.end_us)
        return (
            f"{self.late} rows of {self.log} come late: it begins with {begin}, and {self.before}, given before it, "
            f"goes on to {end} ({self.tag}). Give logs in the order of time; where they are, they overlap, or that "
            "time is wrong"
        )


def overlaps(done: Sequence[Part]) -> list[Overlap]:
    """Logs with late rows that begin before the end of one given before them; `done`: parts in their order."""
    ends, found = dict[str, tuple[int, Log]](), list[Overlap]()
    for _, group in groupby(done, key=lambda part: part.name[:4]):
        parts = list(group)
        begins = {tag: first for part in reversed(parts) for tag, (first, _) in part.spans.items()}
        late = sum((part.tally.rejected for part in parts), Counter[str]())[LATE]
        over = [(ends[tag][0] - us, tag) for tag, us in begins.items() if tag in ends and us < ends[tag][0]]
        if late and over:
            tag = max(over)[1]
            end_us, before = ends[tag]
            found.append(Overlap(parts[0].log.name, before.name, tag, begins[tag], end_us, late))
        for part in parts:
            for tag, (_, most) in part.spans.items():
                if tag not in ends or most > ends[tag][0]:
                    ends[tag] = most, part.log
    return found
