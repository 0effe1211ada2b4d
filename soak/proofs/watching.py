"""A day of ten tanks watched in compressed time, with faults forced on lines and the watch killed again and again."""

from __future__ import annotations

import asyncio
import json
import os
import signal
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from hashlib import sha256
from math import ceil
from pathlib import Path
from random import Random
from tempfile import TemporaryDirectory
from typing import Any

import pyarrow.parquet as pq

from onedatum.jobs.watch.kept import FOLDER, Kept
from onedatum.jobs.watch.made import Followed, followed
from onedatum.jobs.watch.run import Asked, Watching
from onedatum.jobs.watch.told import Status
from onedatum.logs.live.clock import OwnClock
from onedatum.logs.live.follower import Follower, Row, View
from onedatum.logs.live.plan import TagPlan, WatchPlan
from onedatum.logs.live.plan_reader import read_plan
from onedatum.logs.live.sample import Port
from soak.quick_time import quickly
from soak.report import Report
from soak.watching import (
    LINE_KINDS,
    LOOP,
    NODES,
    REGISTERS,
    TAGS,
    BOOT_s,
    DAY_s,
    FASTEST_m_per_s,
    Fault,
    LoopPort,
    NodePort,
    RegisterPort,
    faults,
    level_m,
)

NAME = "watching"
SEED = 20261126
EACH = 12
KILLS = 16
EVERY_s, STALE_s, FROZEN_s, LIMIT_s, PART_s, DOWN_s = 30.0, 70.0, 120.0, 2.0, 60.0, 15.0
BASE_s = 1.8e9
BEGINS: list[float] = []
"""When each life of the watch began."""
LOST_s = PART_s + DOWN_s + EVERY_s
"""What stood still since less than this before a life began may have left no row that the next could read back."""
STAGES = ("at any moment", "before a part is written", "before it has its name", "before a word is said of it")
DIGIT_m = 0.0002
"""One step of the coarsest number, 0.001 mA, is 0.17 mm."""
CASE = Path(__file__).resolve().parents[2] / "examples" / "spirit_receiver.yaml"


@dataclass
class Found:
    """What is found wrong, and how much was looked at."""

    rows: int = 0
    levels: int = 0
    unknown: int = 0
    said: int = 0
    lost: int = 0
    invented: int = 0
    frozen: int = 0
    """Levels of a source that stood still, within the time after which that is told."""
    silent: int = 0
    """Rows without a level and without a reason."""
    stale_shown: int = 0
    """Views that showed a level older than it may be, or one that is not the true one within what it may have moved."""
    views: int = 0
    first: list[str] = field(default_factory=list)


def plan_of(folder: Path) -> WatchPlan:
    """The cases and the watch file of the works."""
    text = CASE.read_text(encoding="utf-8")
    lines = [f"watch: 1\nevery: {EVERY_s:g} s\nstale_after: {STALE_s:g} s\nrate_over: 20 min\ntags:\n"]
    for tag in TAGS:
        (folder / f"{tag}.yaml").write_text(text.replace("tag: LT-201", f"tag: {tag}"), encoding="utf-8")
        way = "hart: {tcp: invented, address: 0}"
        limit = LIMIT_s if tag != LOOP else 4.0 * LIMIT_s
        guard = f"limit: {limit:g} s, frozen_after: {FROZEN_s:g} s, fastest: 1 mm/s"
        lines.append(f"  {tag}: {{case: {tag}.yaml, {guard}, {way.replace('invented', tag)}}}\n")
    path = folder / "watch.yaml"
    path.write_text("".join(lines), encoding="utf-8")
    return read_plan(path)


def port_of(plan: Sequence[Fault]) -> Any:
    """The disturbed port of a tag."""

    def made(tag: TagPlan) -> Port:
        kind = RegisterPort if tag.tag in REGISTERS else NodePort if tag.tag in NODES else LoopPort
        return kind(tag.tag, plan)

    return made


def fresh(made: Followed) -> Followed:
    """Followers that have seen nothing, on the tables that are worked already."""
    anew = {
        tag: Follower(each.plan, each.levelling, each.stale_after_s, each.rate_over_s, each.alarms)
        for tag, each in made.followers.items()
    }
    return Followed(anew, made.remarks, made.faults)


class Saying(Kept):
    """Keeps as ever, says what stands once it stands, and dies where the plan says so."""

    saying: int
    kill: tuple[float, str] | None = None

    def __init__(self, out: Path) -> None:
        super().__init__(out)
        self._own: list[tuple[Any, ...]] = []

    def add(self, row: Row) -> None:
        """Take a row, and keep an own note of it."""
        self._own.append(
            (row.sample.time_us, row.sample.tag, row.sample.reading.value, row.amount.level_m, row.kept_doubt)
        )
        super().add(row)

    def commit(self) -> bool:
        """Write, say, or die on the way."""
        stage = self.kill[1] if self.kill is not None and _now_s() >= self.kill[0] else ""
        if stage == STAGES[1]:
            _die()
        if stage == STAGES[2]:
            os.fsync = _die  # type: ignore[assignment]  # the bytes are written, the name is not given
        done = super().commit()
        if stage == STAGES[3]:
            _die()
        if done and self._own:
            word = {"count": len(self._own), "sha256": digest(self._own)}
            os.write(self.saying, (json.dumps(word) + "\n").encode())
            self._own = []
        return done


def _die(*_: object) -> None:
    os.kill(os.getpid(), signal.SIGKILL)


def _now_s() -> float:
    return asyncio.get_running_loop().time()


def digest(rows: Sequence[tuple[Any, ...]]) -> str:
    """SHA-256 over rows, number by number as they are."""
    return sha256(repr([tuple(row) for row in rows]).encode()).hexdigest()


def child(
    plan: WatchPlan, made: Followed, out: Path, plan_of_faults: Sequence[Fault], begin_s: float, end: tuple[float, str]
) -> tuple[list[dict[str, Any]], int]:
    """One life of the watch in a process of its own: what it said, and how it ended."""
    reading, saying = os.pipe()
    process = os.fork()
    if not process:
        code = 1
        try:
            os.close(reading)
            live(plan, fresh(made), out, plan_of_faults, begin_s, end, saying)
            code = 0
        finally:
            os._exit(code)
    os.close(saying)
    with os.fdopen(reading, encoding="ascii") as words:
        said = [json.loads(line) for line in words if line.endswith("\n")]
    return said, os.waitstatus_to_exitcode(os.waitpid(process, 0)[1])


def live(
    plan: WatchPlan,
    made: Followed,
    out: Path,
    plan_of_faults: Sequence[Fault],
    begin_s: float,
    end: tuple[float, str],
    saying: int,
) -> None:
    """Watch from a time of the day to its end, or until it is killed."""
    shown = {"views": 0, "wrong": 0}

    def looked(views: Sequence[View], status: Status) -> None:
        now_s = status.now_us / 1e6 - BASE_s
        for view in views:
            shown["views"] += 1
            shown["wrong"] += is_wrong(view, now_s, plan_of_faults)

    async def whole() -> None:
        loop = asyncio.get_running_loop()
        Saying.saying, Saying.kill = saying, end if end[1] else None
        with Saying.of(out) as kept:
            clock = OwnClock(lambda: BASE_s + loop.time(), loop.time)
            watching = Watching(plan, made, Asked(out, PART_s, DAY_s - begin_s, EVERY_s / 2.0), clock, kept)
            watching.looked = looked
            if end[1] == STAGES[0]:
                loop.call_at(end[0], _die)
            loop.call_later(PART_s, _report, loop, saying, shown)
            await watching.run(port_of(plan_of_faults))
            os.write(saying, (json.dumps(shown) + "\n").encode())

    quickly(whole, begin_s)


def _report(loop: asyncio.AbstractEventLoop, saying: int, shown: dict[str, int]) -> None:
    """Say what was shown so far, again and again: a killed process says nothing more."""
    os.write(saying, (json.dumps(shown) + "\n").encode())
    loop.call_later(PART_s, _report, loop, saying, shown)


def is_wrong(view: View, now_s: float, plan_of_faults: Sequence[Fault]) -> bool:
    """Whether a view shows a level that it must not: too old, or farther from the truth than it can have moved."""
    amount = view.amount
    if amount is None or amount.level_m is None or view.age_s is None:
        return False
    if view.age_s > STALE_s:
        return True
    moved_m = FASTEST_m_per_s * (view.age_s + 4.0 * LIMIT_s) + DIGIT_m
    if abs(amount.level_m - level_m(view.tag, now_s)) <= moved_m:
        return False
    return not _while_frozen(view.tag, now_s - view.age_s, plan_of_faults)


def _while_frozen(tag: str, at_s: float, plan_of_faults: Sequence[Fault]) -> bool:
    """Whether a source stood still then, for no longer than it takes to be told, be the watch begun anew or not."""
    slack_s = FROZEN_s + EVERY_s + 4.0 * LIMIT_s
    began_s = max((begin_s for begin_s in BEGINS if begin_s <= at_s), default=0.0)
    return any(
        each.kind == "freeze"
        and each.is_on(tag, at_s - margin)
        and at_s - (began_s if 0.0 <= began_s - each.begin_s <= LOST_s else each.begin_s) <= slack_s
        for each in plan_of_faults
        for margin in (0.0, 4.0 * LIMIT_s)
    )


def lives(random: Random) -> list[tuple[float, tuple[float, str]]]:
    """When the watch begins, and when and how each life ends; the last runs to the end of the day."""
    found, begin_s = [], 0.0
    for number, at_s in enumerate(sorted(random.uniform(600.0, DAY_s - 600.0) for _ in range(KILLS))):
        stage = STAGES[number % len(STAGES)]
        at_s = max(at_s, begin_s + 2.0 * PART_s)
        died_s = at_s if stage == STAGES[0] else begin_s + PART_s * ceil((at_s - begin_s) / PART_s)
        found.append((begin_s, (at_s, stage)))
        begin_s = died_s + DOWN_s
    return [*found, (begin_s, (DAY_s, ""))]


def judged(out: Path, said: Sequence[Mapping[str, Any]], plan_of_faults: Sequence[Fault], found: Found) -> None:
    """All rows that stand, against the truth and against what was said."""
    standing = []
    for path in sorted((out / FOLDER).glob("*.parquet")):
        table = pq.read_table(path)
        times = table.column("time").cast("int64").to_pylist()
        columns = [table.column(name).to_pylist() for name in ("tag", "value", "level_m", "doubt")]
        rows = list(zip(times, *columns, strict=True))
        standing.append(digest(rows))
        for row in rows:
            _judge(row, plan_of_faults, found)
    words = [each["sha256"] for each in said if "sha256" in each]
    found.said = sum(each["count"] for each in said if "sha256" in each)
    found.lost = sum(word not in standing for word in words)


def _judge(row: tuple[Any, ...], plan_of_faults: Sequence[Fault], found: Found) -> None:
    time_us, tag, value, level, doubt = row
    at_s = time_us / 1e6 - BASE_s
    found.rows += 1
    if level is None:
        found.unknown += 1
        # a current that is no measurement is a state, and was read: zeros of a server that starts
        zeros = value == 0.0 and any(
            each.kind == "restart" and each.begin_s <= at_s <= each.begin_s + each.last_s + BOOT_s + 4.0 * LIMIT_s
            for each in plan_of_faults
        )
        is_silent = not doubt and not zeros and not (value is not None and _no_measurement(value))
        found.silent += is_silent
        return
    found.levels += 1
    if abs(level - level_m(tag, at_s)) <= DIGIT_m + 4.0 * LIMIT_s * FASTEST_m_per_s:
        return
    if _while_frozen(tag, at_s, plan_of_faults):
        found.frozen += 1
        return
    found.invented += 1
    if len(found.first) < 5:
        found.first.append(f"{tag} at {at_s:.1f} s: {level:.4f} m for {level_m(tag, at_s):.4f} m")


def _no_measurement(value_mA: float) -> bool:
    """By NAMUR NE 43: outside 3.8 to 20.5 mA a current tells no level."""
    return not 3.8 <= value_mA <= 20.5


def day(folder: Path, random: Random) -> tuple[Found, int, int]:
    """The whole day: what was found, how many lives were killed, how many faults were forced on lines."""
    plan = plan_of(folder)
    made, out, forced, found = followed(plan), folder / "out", faults(random, EACH), Found()
    said: list[dict[str, Any]] = []
    killed, planned = 0, lives(random)
    BEGINS[:] = [begin_s for begin_s, _ in planned]
    for begin_s, end in planned:
        words, code = child(plan, made, out, forced, begin_s, end)
        said += words
        killed += code == -signal.SIGKILL
        if code != (-signal.SIGKILL if end[1] else 0):
            raise RuntimeError(f"a life from {begin_s:g} s ended with {code}")
        shown = [each for each in words if "views" in each]
        found.views += shown[-1]["views"] if shown else 0
        found.stale_shown += shown[-1]["wrong"] if shown else 0
    judged(out, said, forced, found)
    return found, killed, len(forced)


METHOD = f"""\
Time is compressed: an event loop jumps to the next moment at which something is due. The levels are sines, worked apart
from the tool, so the truth is known at each moment. Seven tags are registers of seven forms, two are nodes, one is a
transmitter behind a stream of bytes; what reads bytes, registers and data values is the tool's own, the sockets are
left away. Forced are {EACH} of each: {", ".join(LINE_KINDS)}; garbage is random registers, flipped bits or values that
are none. The watch runs in processes that are killed with a signal that cannot be caught: {", ".join(STAGES)}; the next
goes on {DOWN_s:g} s later. A level must be within one step of its number and what the level can have moved while it was
read. A source that stands still cannot be told from a level at rest before the {FROZEN_s:g} s that the plan states:
such levels are counted apart; a watch that begins again reads back how long a number has stood. Rubbish that is in its
limits is kept out because the plan states how fast a level moves; without that it would pass."""


def run() -> Report:
    """A day, its faults and its kills."""
    random = Random(SEED)
    with TemporaryDirectory() as place:
        found, killed, forced = day(Path(place), random)
    wrong = found.lost + found.invented + found.silent + found.stale_shown
    return Report(
        title="A day of watching with faults of the line",
        statement=(
            f"Ten tanks watched for 24 h, with {forced} faults forced on their lines and the watch killed {killed} "
            "times: no level is kept or shown that is not the true one, no part that was said to stand is lost, and "
            "no row without a level is without a reason."
        ),
        method=METHOD,
        numbers=(
            ("faults of lines", f"{forced}"),
            ("watches killed", f"{killed}"),
            ("rows kept", f"{found.rows}"),
            ("of these with a level", f"{found.levels}"),
            ("rows that were said to stand", f"{found.said}"),
            ("parts that were said to stand and do not, as they were", f"{found.lost}"),
            ("levels that are not the true one", f"{found.invented}"),
            (f"levels of a source that stood still, within {FROZEN_s:g} s", f"{found.frozen}"),
            ("rows without a level and without a reason", f"{found.silent}"),
            ("views of a tag looked at", f"{found.views}"),
            ("views with a level that is too old or not the true one", f"{found.stale_shown}"),
        ),
        seeds=(SEED,),
        holds=not wrong and killed == KILLS and forced + killed == 100 and found.levels > 0,
    )
