"""A link survives what its port does: refusals, resets, silence, rubbish, errors of a library; and it waits longer."""

from __future__ import annotations

import asyncio
from collections.abc import Callable
from contextlib import suppress

import pytest

from onedatum.logs.live.clock import OwnClock
from onedatum.logs.live.link import Backoff, Link
from onedatum.logs.live.sample import LinkError, Reading, Sample
from onedatum.logs.live.watcher import watch
from soak.quick_time import quickly
from tests.closeness import close

NOW_s = 1.7e9


def clock_of_loop() -> OwnClock:
    """The clock of the loop that runs."""
    loop = asyncio.get_running_loop()
    return OwnClock(lambda: NOW_s + loop.time(), loop.time)


class Script:
    """A port that does what a script says for the time it is read at."""

    def __init__(self, does: Callable[[float], float | Exception | None]) -> None:
        self.does = does
        self.opened = self.closed = 0
        self.is_open = False

    line = "script"

    async def open(self) -> None:
        """Count what is opened."""
        self.opened += not self.is_open
        self.is_open = True

    async def read(self) -> Reading:
        """None waits for ever."""
        found = self.does(asyncio.get_running_loop().time())
        if found is None:
            await asyncio.sleep(1e6)
        if isinstance(found, Exception):
            raise found
        return Reading(found)

    async def close(self) -> None:
        """Count what is closed."""
        self.closed += self.is_open
        self.is_open = False


def watched(does: Callable[[float], float | Exception | None], for_s: float, every_s: float = 1.0) -> list[Sample]:
    """All samples of one port over a while."""
    found: list[Sample] = []

    async def whole() -> None:
        ended = asyncio.Event()
        asyncio.get_running_loop().call_later(for_s, ended.set)
        link = Link("A", Script(does), clock_of_loop(), 0.5)
        await watch([link], every_s, found.append, ended)

    quickly(whole)
    return found


def test_pauses_double_up_to_the_longest() -> None:
    """1, 2, 4, 8, 16, 30, 30 s: doubling by arithmetic; and one success makes the next failure the first."""
    backoff, waits, now_s = Backoff(1.0, 30.0), [], 0.0
    for _ in range(7):
        backoff.failed(now_s)
        waits.append(backoff.wait_s(now_s))
        now_s = backoff.next_s
    assert waits == [1.0, 2.0, 4.0, 8.0, 16.0, 30.0, 30.0]
    backoff.worked()
    assert backoff.wait_s(now_s) == 0.0
    backoff.failed(now_s)
    assert backoff.wait_s(now_s) == 1.0


def test_a_device_that_is_off_for_years_does_not_overflow() -> None:
    backoff = Backoff()
    for _ in range(5000):
        backoff.failed(0.0)
    assert backoff.wait_s(0.0) == 30.0


@pytest.mark.parametrize(
    "error",
    [
        ConnectionRefusedError(111, "Connection refused"),
        ConnectionResetError(104, "Connection reset by peer"),
        OSError(113, "No route to host"),
        LinkError("the other end has closed the line"),
        TimeoutError(),
        ValueError("a library at its end"),
        ZeroDivisionError(),
    ],
)
def test_every_error_becomes_an_unknown_and_the_link_comes_back(error: Exception) -> None:
    found = watched(lambda at_s: error if 10.0 <= at_s < 20.0 else 12.0, 60.0)
    values = [each.reading.value for each in found]
    assert set(values) == {12.0, None} and values[0] == values[-1] == 12.0
    assert all(each.reading.doubt for each in found if each.reading.value is None)
    assert len(found) == 60, "a row for every second, with or without a value"


def test_a_library_that_breaks_itself_off_does_not_end_the_watch() -> None:
    """A cancellation that leaks out of a library, as of a future that it gave up, is an error like others."""

    class Leaking(Script):
        """Breaks itself off for ten seconds."""

        async def read(self) -> Reading:
            if asyncio.get_running_loop().time() < 10.0:
                raise asyncio.CancelledError
            return Reading(12.0)

    found: list[Sample] = []

    async def whole() -> None:
        ended = asyncio.Event()
        asyncio.get_running_loop().call_later(30.0, ended.set)
        await watch([Link("A", Leaking(lambda at_s: 12.0), clock_of_loop(), 0.5)], 1.0, found.append, ended)

    quickly(whole)
    assert found[0].reading.value is None and "broken off" in found[0].reading.doubt
    assert found[-1].reading.value == 12.0


def test_a_library_that_cannot_be_broken_off_is_left_behind() -> None:
    class Stubborn(Script):
        """Waits on for a minute whatever is asked of it."""

        async def read(self) -> Reading:
            end_s = asyncio.get_running_loop().time() + 60.0
            while asyncio.get_running_loop().time() < end_s:
                with suppress(asyncio.CancelledError):
                    await asyncio.sleep(1.0)
            return Reading(12.0)

    async def whole() -> list[Sample]:
        link = Link("A", Stubborn(lambda at_s: 12.0), clock_of_loop(), 0.5)
        found = [await link.sample()]
        took_s = asyncio.get_running_loop().time()
        assert took_s < 1.0
        await asyncio.sleep(100.0)
        return found

    (only,) = quickly(whole)
    assert only.reading.value is None and "no answer within" in only.reading.doubt


def test_silence_costs_the_time_limit_and_no_more() -> None:
    found = watched(lambda at_s: None if at_s < 3.0 else 12.0, 20.0)
    assert found[0].reading.doubt == "no answer within 0.5 s"
    close((found[0].time_us - NOW_s * 1e6) / 1e6, 0.5, 1e-3, "a microsecond of the clock")
    assert found[-1].reading.value == 12.0


def test_after_an_error_the_line_is_closed_before_it_is_used_again() -> None:
    """A late answer of the old connection must not be taken for the next: it is another connection then."""
    port = Script(lambda at_s: None if at_s < 0.1 else 12.0)

    async def whole() -> None:
        link = Link("A", port, clock_of_loop(), 0.5)
        await link.sample()
        assert (port.opened, port.closed) == (1, 1)
        await asyncio.sleep(5.0)
        assert (await link.sample()).reading.value == 12.0
        assert (port.opened, port.closed) == (2, 1)

    quickly(whole)


def test_ports_of_one_line_take_turns_and_the_turn_is_no_part_of_the_time_limit() -> None:
    busy: list[int] = []

    class Slow(Script):
        """Takes 0.4 s, and must be alone."""

        async def read(self) -> Reading:
            assert not busy
            busy.append(1)
            await asyncio.sleep(0.4)
            busy.pop()
            return Reading(1.0)

    async def whole() -> list[Sample]:
        turn, clock = asyncio.Lock(), clock_of_loop()
        slow = [Link(str(number), Slow(lambda at_s: 1.0), clock, 0.5, turn) for number in range(5)]
        return list(await asyncio.gather(*(link.sample() for link in slow)))

    assert [each.reading.value for each in quickly(whole)] == [1.0] * 5


def test_a_clock_that_is_set_back_never_makes_time_go_back_and_one_set_forward_is_followed() -> None:
    wall, steady = [1000.0], [0.0]
    clock = OwnClock(lambda: wall[0], lambda: steady[0])
    told = [clock.now_us()]
    for wall_s, steady_s in ((1001.0, 1.0), (500.0, 2.0), (501.0, 3.0), (5000.0, 4.0)):
        wall[0], steady[0] = wall_s, steady_s
        told.append(clock.now_us())
        assert bool(clock.remark) is (wall_s < 1000.0)
    assert [each / 1e6 for each in told] == [1000.0, 1001.0, 1002.0, 1003.0, 5000.0]
