"""One recalculation at a time, the newest of each window; tasks that are cancelled, forgotten, ended with the server.

Processes are real; what they work is small. Of two calls of one window the later is worked (the earlier is told that it
was replaced), calls of different windows are all worked.
"""

from __future__ import annotations

import asyncio
import time
from collections.abc import Coroutine
from pathlib import Path
from types import SimpleNamespace
from typing import Any, ClassVar, cast

import pytest

from onedatum.foundation.errors import OnedatumError
from onedatum.jobs.folder import Folder
from onedatum.jobs.page.made import CaseText
from onedatum.web import tasks as tasks_room
from onedatum.web.bench import Crew, Failed, Refused, Replaced, Worker
from onedatum.web.serving import KNOWN, Serving
from onedatum.web.tasks import HELD, Task, Tasks
from tests.web.works import broken, dying, long, noted, nothing, quick, refusing, slow

CASE: Any = "one, version 0"
CHANGED: Any = "one, version 1"
"""What stands for a case: the tasks look at nothing in it."""
MOST_S = 20.0


def run(work: Coroutine[Any, Any, None]) -> None:
    """Run it, however busy the machine, within a time that ends."""
    asyncio.run(asyncio.wait_for(work, 3 * MOST_S))


async def until(done: Any) -> None:
    """Wait until something is so."""
    begun = time.monotonic()
    while not done():
        assert time.monotonic() - begun < MOST_S
        await asyncio.sleep(0.01)


def test_of_each_window_the_newest_call_is_worked_and_no_two_at_a_time() -> None:
    async def work() -> None:
        worker = Worker(nothing)
        try:
            calls = [worker.newest(window, slow, number) for number, window in enumerate("aababb")]
            found = await asyncio.gather(*calls, return_exceptions=True)
            told = [each if isinstance(each, int) else type(each).__name__ for each in found]
            assert told == [0, "Replaced", "Replaced", 3, "Replaced", 5]  # the first had begun
            assert worker._newest == {}
            begun = time.monotonic()
            await asyncio.gather(worker.newest("a", slow, 1), worker.newest("b", slow, 2))
            assert time.monotonic() - begun >= 0.6  # one after the other, 0.3 s each
        finally:
            worker.stop()

    run(work())


def test_a_crew_works_two_calls_at_a_time_and_the_newest_of_each_window() -> None:
    async def work() -> None:
        crew = Crew(nothing, 2)
        try:
            await crew.warm()
            begun = time.monotonic()
            found = await asyncio.gather(*(crew.newest(window, slow, at) for at, window in enumerate("ab")))
            assert found == [0, 1]
            assert time.monotonic() - begun < 0.6  # side by side, 0.3 s each
            calls = [crew.newest(window, slow, number) for number, window in enumerate("abab")]
            told = await asyncio.gather(*calls, return_exceptions=True)
            assert [each if isinstance(each, int) else type(each).__name__ for each in told] == [0, 1, 2, 3]
            calls = [crew.newest("a", slow, number) for number in range(3)]
            told = await asyncio.gather(*calls, return_exceptions=True)
            assert [each if isinstance(each, int) else type(each).__name__ for each in told] == [0, "Replaced", 2]
            assert await asyncio.gather(*(crew.work(quick, number) for number in range(5))) == list(range(5))
        finally:
            crew.stop()

    run(work())


def test_a_call_that_was_begun_is_ended_and_the_newest_of_those_waiting_follows() -> None:
    async def work() -> None:
        worker = Worker(nothing)
        try:
            first = asyncio.create_task(worker.newest("a", slow, 1))
            await asyncio.sleep(0.05)
            second, third = (asyncio.create_task(worker.newest("a", slow, number)) for number in (2, 3))
            assert await first == 1
            with pytest.raises(Replaced):
                await second
            assert await third == 3
        finally:
            worker.stop()

    run(work())


def test_failures_are_told_and_the_next_call_is_worked() -> None:
    async def work() -> None:
        worker = Worker(nothing)
        try:
            with pytest.raises(Refused, match="one must be something else"):
                await worker.work(refusing, "one")
            with pytest.raises(ZeroDivisionError):
                await worker.work(broken, "one")
            for _ in range(2):
                with pytest.raises(Failed):
                    await worker.newest("a", dying, "one")
                assert worker._newest == {}
                assert await worker.newest("a", quick, 7) == 7
        finally:
            worker.stop()
        with pytest.raises(Failed):
            await worker.work(quick, 1)

    run(work())


def test_a_call_whose_client_is_gone_holds_up_nobody() -> None:
    async def work() -> None:
        worker = Worker(nothing)
        try:
            await worker.warm()
            gone = asyncio.create_task(worker.newest("a", slow, 1))
            waiting = asyncio.create_task(worker.newest("b", slow, 2))
            await asyncio.sleep(0.05)
            gone.cancel()
            waiting.cancel()
            assert await worker.newest("c", quick, 3) == 3
            assert worker._newest == {}
            assert not worker._turn.locked()
        finally:
            worker.stop()

    run(work())


def test_a_worker_that_ends_leaves_no_process_and_no_file() -> None:
    async def work() -> None:
        worker = Worker(nothing)
        place, lasting = Path(worker._place), Path(worker.lasting)
        lasting.mkdir()
        working = asyncio.create_task(worker.work(long, 1))
        await until(lambda: list(place.glob("test-*/left")))
        (process,) = (worker._pool._processes or {}).values()
        worker.restart()
        with pytest.raises(Failed):
            await working
        assert not process.is_alive()
        assert not place.exists() and lasting.exists()  # what outlasts a restart
        again = Path(worker._place)
        assert await worker.work(quick, 2) == 2
        worker.stop()
        assert not again.exists() and not lasting.exists()

    run(work())


def test_tasks_are_worked_in_turn_and_the_same_is_made_once() -> None:
    async def work() -> None:
        worker = Worker(nothing)
        tasks = Tasks(worker)
        try:
            one, two = tasks.start("papers", "Papers", CASE, slow), tasks.start("quantity", "Drawing", CASE, slow)
            assert tasks.start("papers", "Papers", CASE, slow) is one
            assert two.id != one.id
            await until(lambda: two.state == "done")
            assert (one.state, one.result, two.result) == ("done", CASE, CASE)
            assert one.ended_s is not None and two.ended_s is not None
            assert two.ended_s - one.ended_s >= 0.3  # each takes that long
            assert tasks.of(one.id, "quantity") is None
            assert tasks.found(one.id, "papers", CHANGED) is None
        finally:
            worker.stop()

    run(work())


def test_tasks_that_fail_say_so(capsys: pytest.CaptureFixture[str]) -> None:
    async def work() -> None:
        worker = Worker(nothing)
        tasks = Tasks(worker)
        try:
            made: list[Task] = []
            for page, make in (("a", refusing), ("b", broken), ("c", dying), ("d", quick)):
                made.append(tasks.start(page, page, CASE, make))
            await until(lambda: all(each.state != "running" for each in made))
            assert [each.state for each in made] == ["failed", "failed", "failed", "done"]
            assert "must be something else" in made[0].sentence
            assert "An error of ours: ZeroDivisionError." in made[1].sentence
            assert "Nothing was lost; try again." in made[2].sentence
        finally:
            worker.stop()

    run(work())
    assert "ZeroDivisionError" in capsys.readouterr().err


def test_a_task_is_cancelled_at_work_and_while_it_waits(tmp_path: Path) -> None:
    async def work() -> None:
        worker = Worker(nothing)
        tasks = Tasks(worker)
        try:
            told = tmp_path / "share"
            one = tasks.start("a", "a", CASE, long, progress=told)
            two = tasks.start("b", "b", CASE, long)
            three = tasks.start("c", "c", CASE, quick)
            await until(lambda: tasks._now == one.id)
            shares: list[float | None] = []
            for text in (None, "0.42", "", "x"):
                if text is not None:
                    told.write_text(text, encoding="ascii")
                shares.append(one.told().share)
            assert shares == [None, 0.42, None, None]
            assert tasks.cancel("unknown") is None
            assert tasks.told("unknown") is None
            for each in (two, one):
                assert tasks.cancel(each.id) is each
                assert tasks.cancel(each.id) is each  # once more changes nothing
            await until(lambda: three.state == "done")
            assert [each.state for each in (one, two)] == ["cancelled", "cancelled"]
            assert tasks.last("a", CASE) is None
        finally:
            worker.stop()

    run(work())


def test_tasks_are_held_for_a_while_and_too_many_are_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    async def work() -> None:
        worker = Worker(nothing)
        tasks = Tasks(worker)
        try:
            first = [tasks.start(f"{number}", "", CASE, quick) for number in range(HELD + 3)]
            await until(lambda: all(each.state == "done" for each in first))
            tasks.start("last", "", CASE, quick)
            assert [tasks.told(each.id) is None for each in first] == [True] * 4 + [False] * (HELD - 1)
            monkeypatch.setattr(tasks_room, "MOST_WAITING", 3)
            for number in range(3 - sum(each.state == "running" for each in tasks._tasks.values())):
                tasks.start(f"long {number}", "", CASE, long)
            with pytest.raises(OnedatumError, match="Too much waits"):
                tasks.start("one more", "", CASE, long)
        finally:
            tasks.stop()
            worker.stop()

    run(work())


def test_the_server_ends_with_tasks_at_work() -> None:
    async def work() -> None:
        worker = Worker(nothing)
        tasks = Tasks(worker)
        one, two = tasks.start("a", "a", CASE, long), tasks.start("b", "b", CASE, long)
        await until(lambda: list(Path(worker._place).glob("test-*/left")))
        place, begun = Path(worker._place), time.monotonic()
        tasks.stop()
        worker.stop()
        await until(lambda: not tasks._working)
        assert time.monotonic() - begun < 5.0
        assert (one.state, two.state) == ("cancelled", "cancelled")
        assert not place.exists()

    run(work())


def test_a_worker_makes_its_own_place_so_that_none_is_left_of_one_that_never_started(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("tempfile.tempdir", str(tmp_path))

    async def work() -> None:
        worker = Worker(nothing)
        assert list(tmp_path.iterdir()) == []
        await worker.warm()
        (place,) = tmp_path.iterdir()
        assert place.stat().st_mode & 0o777 == 0o700
        worker.stop()
        assert list(tmp_path.iterdir()) == []

    run(work())


def test_every_worker_comes_to_know_what_is_opened(tmp_path: Path) -> None:
    async def work() -> None:
        crew = Crew(nothing, 3)
        try:
            _, first = await crew.first(noted, str(tmp_path))
            (by,) = tmp_path.iterdir()
            by.rename(by.with_suffix(".first"))
            await crew.others(first, noted, str(tmp_path))
            assert len(list(tmp_path.iterdir())) == 3 and not by.exists()
            await crew.others(None, refusing, 0)
            await crew.others(None, dying, 0)
            assert await crew.work(quick, 5) == 5
        finally:
            crew.stop()

    run(work())


def test_what_the_workers_know_is_held_for_a_number_of_cases() -> None:
    class Noting:
        names: ClassVar[list[str]] = []

        async def others(self, by: object, function: object, case: Any, *more: object) -> None:
            self.names.append(case.name)

    async def work() -> None:
        server = Serving(cast("Folder", None), cast("Crew", Noting()), cast("Worker", SimpleNamespace(lasting="x")))
        for name in ("0", *map(str, range(2 * KNOWN)), "0", f"{2 * KNOWN - 1}"):
            server.opened(CaseText("", name, "", ""), None)
            await asyncio.sleep(0)
        assert Noting.names == [*map(str, range(2 * KNOWN)), "0"]  # once while it is held, and again when it is not

    run(work())
