"""A watch as a whole: what is shown, what is kept and how it survives, and that a begun part is never taken for one."""

from __future__ import annotations

import asyncio
import json
import os
import threading
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path
from typing import Any

import pyarrow.parquet as pq
import pytest

from onedatum.foundation.errors import LogError, OutputError
from onedatum.jobs.watch.kept import FOLDER, SCHEMA, WRITING, Kept, line_of
from onedatum.jobs.watch.made import followed
from onedatum.jobs.watch.run import Asked, Watching
from onedatum.jobs.watch.told import Status, change_line, rounded, table_text, view_json
from onedatum.logs.live.clock import OwnClock
from onedatum.logs.live.follower import BESIDE, Row, View
from onedatum.logs.live.levelling import Amount
from onedatum.logs.live.plan_reader import read_plan
from onedatum.logs.live.sample import Port, Reading, Sample
from onedatum.store.store import Store
from soak.quick_time import quickly
from tests.cli.run import ROOT, Outcome, onedatum
from tests.closeness import close
from tests.logs.live.servers import Registers, served

CASE = ROOT / "examples" / "spirit_receiver.yaml"
BEGIN_s = 1.8e9
PLAN = """watch: 1
every: {every}
stale_after: 5 s
rate_over: 10 min
tags:
  LT-201:
    case: {case}
    modbus: {{tcp: "127.0.0.1:{port}", device: 1, registers: input, address: 0, form: float32,
             unit: mA, least: 0 mA, most: 25 mA}}
"""


def plan_file(folder: Path, port: int = 1, every: str = "1 s", case: Path = CASE) -> Path:
    """A plan of one tag."""
    path = folder / "watch.yaml"
    path.write_text(PLAN.format(port=port, every=every, case=case), encoding="utf-8")
    return path


def row(second: int, level_m: float | None = 1.0) -> Row:
    """A row of an invented tag."""
    reading = Reading(None if level_m is None else 9.33, "" if level_m is not None else "no line")
    return Row(Sample("LT-1", second * 1_000_000, reading), Amount(level_m=level_m), "mA", reading.doubt)


def parts(out: Path) -> list[dict[str, Any]]:
    """All rows of a folder, as any reader of Parquet joins them."""
    rows: list[dict[str, Any]] = pq.read_table(out / FOLDER).to_pylist()
    return rows


# ---------------------------------------------------------------- what is kept


def test_rows_stand_in_parts_and_a_second_watch_goes_on(tmp_path: Path) -> None:
    for begin in (0, 10):
        with Kept.of(tmp_path) as kept:
            for second in range(begin, begin + 5):
                kept.add(row(second, None if second % 2 else 1.0))
            assert kept.commit() and kept.waiting == 0
    found = parts(tmp_path)
    assert [int(each["time"].timestamp()) for each in found] == [*range(5), *range(10, 15)]
    assert all((each["level_m"] is None) is (each["doubt"] == "no line") for each in found)
    assert [path.name for path in sorted((tmp_path / FOLDER).iterdir())] == ["00000001.parquet", "00000002.parquet"]


def test_what_a_killed_watch_left_half_written_is_no_part(tmp_path: Path) -> None:
    with Kept.of(tmp_path) as kept:
        kept.add(row(1))
        kept.commit()
    (tmp_path / FOLDER / WRITING).write_bytes(b"PAR1 half")
    with Kept.of(tmp_path) as kept:
        assert kept.last_us() == 1_000_000
        kept.add(row(2))
        kept.commit()
    assert len(parts(tmp_path)) == 2


def test_a_disk_that_takes_nothing_loses_no_row(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    with Kept.of(tmp_path) as kept:
        with monkeypatch.context() as full:
            full.setattr(os, "fsync", _no_room)
            kept.add(row(1))
            assert not kept.commit() and "No space left" in kept.trouble
        kept.add(row(2))
        assert kept.commit() and not kept.trouble
    assert len(parts(tmp_path)) == 2


def test_how_long_a_number_stands_is_read_back_from_the_parts(tmp_path: Path) -> None:
    """LT-1 tells 9.33 from second 3 on, over two parts; before that another number.

    Of these seconds one led to a row without a value: it is not counted.
    """
    with Kept.of(tmp_path) as kept:
        for second in range(10):
            own = row(second, None if second == 6 else 1.0)
            reading = replace(own.sample.reading, value=9.0) if second < 3 else own.sample.reading
            kept.add(replace(own, sample=replace(own.sample, reading=reading)))
            if second == 5:
                kept.commit()
        kept.commit()
        (tmp_path / FOLDER / "00000009.parquet").write_bytes(b"no part")
        still = kept.stood_still({"LT-1": 60.0, "LT-2": 60.0}, 20_000_000)
        assert still == {"LT-1": ("LT-1", 9.33, "mA", None, 4_000_000)}
        assert kept.stood_still({"LT-1": 12.0}, 20_000_000)["LT-1"].since_us <= 8_000_000, "as far as it matters"


def test_what_was_no_reading_is_not_read_back_as_standing_still(tmp_path: Path) -> None:
    """Of 30 s two go over to the next watch: from 0 s to 1 s, and from the row before it to the last.

    The others have no number, or one that the source disowned; that over which it was found frozen counts.
    """
    unread, disowned = Reading(None, "no line"), Reading(9.33, "bad", denies_level=True)
    with Kept.of(tmp_path) as kept:
        for second, reading in ((0, None), (1, None), (2, disowned), (20, unread), (21, disowned), (29, disowned)):
            own = row(second)
            doubt = own.doubt if reading is None else reading.doubt
            if reading is disowned:
                doubt = f"bad; {BESIDE} 9.33 mA"
            told = own.sample.reading if reading is None else reading
            kept.add(Row(replace(own.sample, reading=told), Amount(), "mA", doubt))
            if second == 20:
                kept.commit()
        kept.add(Row(row(30).sample, Amount(), "mA", "frozen: the very same number for 60 s"))
        kept.commit()
        still = kept.stood_still({"LT-1": 60.0}, 40_000_000)
        assert still == {"LT-1": ("LT-1", 9.33, "mA", None, 28_000_000)}


def _no_room(handle: int) -> None:
    raise OSError(28, "No space left on device")


def test_a_folder_is_held_by_one_watch_and_a_foreign_one_is_left_alone(tmp_path: Path) -> None:
    with Kept.of(tmp_path / "a"), pytest.raises(OutputError, match="nother run"), Kept.of(tmp_path / "a"):
        pass
    (tmp_path / "b" / FOLDER).mkdir(parents=True)
    with pytest.raises(OutputError, match="another origin"), Kept.of(tmp_path / "b"):
        pass


# ---------------------------------------------------------------- the whole, in time that does not wait


class Filling:
    """A port to a level that rises evenly from 1 m, with a hole in the line."""

    line = "filling"
    holes: Sequence[tuple[float, float]] = ((900.0, 960.0),)

    async def open(self) -> None:
        """The line is there, but for the holes."""
        if any(begin <= _now_s() < end for begin, end in self.holes):
            raise ConnectionRefusedError(111, "Connection refused")

    async def read(self) -> Reading:
        """The current of the level, by hand: 4 mA at 0.1 m, 20 mA at 2.8 m."""
        return Reading(4.0 + 16.0 * (level_m(_now_s()) - 0.1) / 2.7)

    async def close(self) -> None:
        """Nothing to let go of."""


def _now_s() -> float:
    return asyncio.get_running_loop().time()


def level_m(second: float) -> float:
    """0.2 mm a second from 1 m."""
    return 1.0 + 0.0002 * second


def test_a_filling_with_a_hole_in_the_line(tmp_path: Path) -> None:
    plan = read_plan(plan_file(tmp_path, every="5 s"))
    made, seen, tables = followed(plan), list[dict[str, Any]](), list[str]()

    def sampled(view: View, now_us: int) -> None:
        seen.append(view_json(view, now_us))

    def looked(views: Sequence[View], status: Status) -> None:
        tables.append(table_text(views, status))

    async def whole() -> None:
        loop = asyncio.get_running_loop()
        with Kept.of(tmp_path / "out") as kept:
            clock = OwnClock(lambda: BEGIN_s + loop.time(), loop.time)
            watching = Watching(plan, made, Asked(tmp_path / "out", 60.0, 1200.0, 5.0), clock, kept)
            watching.sampled, watching.looked = sampled, looked
            await watching.run(lambda tag: _port())

    quickly(whole)
    rows = parts(tmp_path / "out")
    assert len(rows) == len(seen) == 240
    for each in rows:
        second = each["time"].timestamp() - BEGIN_s
        if each["level_m"] is None:
            assert 900.0 <= second < 980.0 and "refused" in each["doubt"]
        else:
            close(each["level_m"], level_m(second), 1e-6, "the clock stamps to a microsecond, 0.2 mm in a second")
            assert each["volume_m3"] > 0.0 and each["u_level_m"] > 0.0
    assert sum(each["level_m"] is None for each in rows) >= 12
    before = next(each for each in reversed(seen) if each["time"].startswith("2027-01-15 08:14"))
    assert before["standing"] == "good" and before["forecast"][0]["earliest"] < before["forecast"][0]["latest"]
    within = next(each for each in seen if each["time"].startswith("2027-01-15 08:15:3"))
    assert within["standing"] == "stale" and within["level_m"] is None and within["forecast"][0]["earliest"] is None
    assert any("HH at its highest in" in each for each in tables) and any(
        "stale" in each and "(was 1." in each for each in tables
    )


def test_a_reader_that_is_gone_ends_the_watch_and_every_row_is_kept(tmp_path: Path) -> None:
    """As of `onedatum watch ... --json | head -1`."""
    plan, shown = read_plan(plan_file(tmp_path)), list[int]()

    def sampled(view: View, now_us: int) -> None:
        shown.append(now_us)
        if len(shown) > 3:
            raise BrokenPipeError(32, "Broken pipe")

    async def whole() -> tuple[int, OSError | None]:
        loop = asyncio.get_running_loop()
        with Kept.of(tmp_path / "out") as kept:
            clock = OwnClock(lambda: BEGIN_s + loop.time(), loop.time)
            watching = Watching(plan, followed(plan), Asked(tmp_path / "out", for_s=600.0), clock, kept)
            watching.sampled = sampled
            found = await watching.run(lambda tag: _port())
            return found.samples, found.unshown

    samples, why = quickly(whole)
    assert samples == len(parts(tmp_path / "out")) == 4 and isinstance(why, BrokenPipeError)


def _port() -> Port:
    return Filling()


def test_the_case_of_another_tag_is_refused(tmp_path: Path) -> None:
    text = plan_file(tmp_path).read_text().replace("LT-201", "LT-999")
    (tmp_path / "other.yaml").write_text(text)
    with pytest.raises(LogError, match="another vessel"):
        followed(read_plan(tmp_path / "other.yaml"))


def test_a_tag_may_be_read_by_the_case_of_another_where_that_is_stated(tmp_path: Path) -> None:
    """Two tags of one case: its tables are worked once, and it is said each time."""
    text = plan_file(tmp_path).read_text()
    own = text[text.index("  LT-201") :]
    for tag in ("LT-8", "LT-9"):
        text += own.replace("LT-201:", f"{tag}:").replace("    modbus", "    case_tag: LT-201\n    modbus")
    (tmp_path / "three.yaml").write_text(text)
    made = followed(read_plan(tmp_path / "three.yaml"))
    assert list(made.followers) == ["LT-201", "LT-8", "LT-9"]
    assert len({id(each.levelling) for each in made.followers.values()}) == 1
    assert [each.partition(":")[0] for each in made.remarks if "case_tag" in each] == ["LT-8", "LT-9"]
    (tmp_path / "wrong.yaml").write_text(text.replace("case_tag: LT-201", "case_tag: LT-202"))
    with pytest.raises(LogError, match="the case of LT-202"):
        followed(read_plan(tmp_path / "wrong.yaml"))


def test_a_case_that_is_not_there_is_told(tmp_path: Path) -> None:
    with pytest.raises(LogError, match="a file that exists"):
        followed(read_plan(plan_file(tmp_path, case=tmp_path / "none.yaml")))


def test_a_line_of_a_change_never_shows_an_old_level_as_one() -> None:
    old = Amount(level_m=1.85)
    view = View("LT-1", "stale", 60.0, None, old, 60.0, "no line", None, None, None, ())
    assert (
        change_line(view, 0) == "1970-01-01 00:00:00.000Z LT-1 stale, level unknown (was 1.8500 m 1 min ago): no line"
    )


def test_the_current_of_a_failure_stands_beside_the_level_that_was() -> None:
    failed = Amount("failure_low", current_A=0.0036)
    view = View("LT-1", "no measurement", 1.0, failed, Amount(level_m=0.53), 9.0, "", None, None, None, ())
    assert "failure current, low, level unknown at 3.600 mA (was 0.5300 m 9 s ago)" in change_line(view, 0)
    said = replace(view, standing="no level", amount=Amount(), remark="the server says BadSensorFailure")
    told = "no level, level unknown (was 0.5300 m 9 s ago): the server says BadSensorFailure"
    assert told in change_line(said, 0)
    shown = view_json(said, 0)
    assert shown["standing"] == "no level" and shown["level_m"] is None and shown["last"]["age_s"] == 9.0


def test_a_failure_that_is_not_confirmed_is_kept_as_the_number_and_the_doubt() -> None:
    failed = replace(row(1, None), amount=Amount("failure_low", 4, 0.0035), unconfirmed="once")
    kept, confirmed = line_of(failed), line_of(replace(failed, unconfirmed=""))
    assert (kept["state"], kept["current_A"], kept["flags"]) == (None, None, 0) and kept["doubt"].endswith("once")
    assert (confirmed["state"], confirmed["current_A"]) == ("failure_low", 0.0035)


@pytest.mark.parametrize(
    ("value", "half", "told"),
    [(1.23456, 0.0123, ("1.235", "0.012")), (1234.5, 24.3, ("1234", "24")), (0.5, 0.0, ("0.5000", "0.0000"))],
)
def test_numbers_end_where_their_uncertainty_does(value: float, half: float, told: tuple[str, str]) -> None:
    """GUM 7.2.6: an uncertainty has two digits at most, and the number ends at the same place (from memory)."""
    assert rounded(value, half) == told


# ---------------------------------------------------------------- the command


@contextmanager
def device(value_mA: float) -> Iterator[Registers]:
    """A small device in a thread of its own."""
    server, loop, ready = Registers(value_mA), asyncio.new_event_loop(), threading.Event()
    end = asyncio.Event()

    async def whole() -> None:
        async with served(server):
            ready.set()
            await end.wait()

    thread = threading.Thread(target=lambda: loop.run_until_complete(whole()))
    thread.start()
    ready.wait(10.0)
    try:
        yield server
    finally:
        loop.call_soon_threadsafe(end.set)
        thread.join(10.0)
        loop.close()


def watched(*words: str) -> Outcome:
    """Run the command."""
    return onedatum("watch", *words)


def test_the_command_watches_a_device_keeps_rows_and_notes_it(tmp_path: Path) -> None:
    store = str(tmp_path / "records.sqlite")
    with device(12.0) as server:
        path = str(plan_file(tmp_path, server.port, "200 ms"))
        words = ("--for", "2s", "--part", "1 s", "--out", str(tmp_path / "out"), "--records", store, "--json")
        done = watched(path, *words)
    lines = [json.loads(line) for line in done.out.splitlines()]
    assert done.code == 0 and "no alarm" in done.err and server.functions == {4}
    assert f"{len(lines)} samples, {len(lines)} with a level; {len(lines)} rows kept" in done.err
    assert len(lines) >= 3 and len(lines) == len(parts(tmp_path / "out"))
    # 12 mA is the middle of 100 mm to 2800 mm
    close(lines[-1]["level_m"], 1.45, 1e-9, "rounding")
    assert pq.read_schema(next((tmp_path / "out" / FOLDER).iterdir())).names == SCHEMA.names
    with Store.open(store, existing=True) as records:
        assert [each.content["what"] for each in records.by_kind("watch")] == ["begun", "ended"]
        assert records.by_tag("LT-201")[-1].content["rows_of_all_tags"] == len(lines)


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("none.yaml",), "a file that exists"),
        (("{plan}", "--for", "soon"), "--for must be a time"),
        (("{plan}", "--for", "0 s"), "--for must be above 0"),
        (("{plan}", "--part", "1 ms"), "--part must be from"),
        (("{plan}", "--out", "{plan}"), "must be a place that can be written"),
        ((str(CASE),), "Known: watch, every"),
    ],
)
def test_what_is_wrong_is_told_before_anything_is_read(tmp_path: Path, words: tuple[str, ...], said: str) -> None:
    path = str(plan_file(tmp_path))
    done = watched(*(each.replace("{plan}", path) for each in words))
    assert done.code == 2 and said in done.err


def test_without_the_extra_it_says_what_to_install(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    import onedatum.jobs.watch as room

    monkeypatch.setitem(room.NEEDED, "a_library_that_is_not_there", "it reads everything")
    done = watched(str(plan_file(tmp_path)))
    assert done.code == 2 and 'pip install ".[live]"' in done.err
