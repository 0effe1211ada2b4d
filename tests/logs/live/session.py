"""A recorded session with a transmitter, out of its file: what was sent, and each lot that came back with its time."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from pathlib import Path

from tests.logs.live.recorded import count_at

FILE = Path(__file__).with_name("recorded_session.txt")


@dataclass(frozen=True)
class Lot:
    """Bytes that the bridge handed on at once."""

    at_s: float
    """Time of day."""
    from_master: bool
    sent: bytes


@dataclass(frozen=True)
class Exchange:
    """A request and all that came before the next one."""

    asked: Lot
    lots: tuple[Lot, ...]

    @property
    def request(self) -> bytes:
        """The frame of the request, without its preambles."""
        return self.asked.sent.lstrip(b"\xff")

    @property
    def command(self) -> int:
        """The byte before the byte count."""
        return self.request[count_at(self.request) - 1]

    @property
    def stream(self) -> bytes:
        """All that came."""
        return b"".join(lot.sent for lot in self.lots)

    @property
    def answer(self) -> bytes:
        """The same without preambles."""
        return self.stream.lstrip(b"\xff")

    @property
    def status(self) -> bytes:
        """The two status bytes."""
        at = count_at(self.answer)
        return self.answer[at + 1 : at + 3]

    @property
    def data(self) -> bytes:
        """What stands between the status and the check byte."""
        return self.answer[count_at(self.answer) + 3 : -1]

    @property
    def wait_s(self) -> float:
        """From the request to the first lot."""
        return self.lots[0].at_s - self.asked.at_s


@cache
def lots() -> tuple[Lot, ...]:
    """The record in the order of time."""
    found = []
    for line in FILE.read_text(encoding="utf-8").splitlines():
        if not line.startswith("#"):
            time, way, *sent = line.split()
            hours, minutes, seconds = time.split(":")
            found.append(
                Lot(3600 * int(hours) + 60 * int(minutes) + float(seconds), way == "S", bytes.fromhex("".join(sent)))
            )
    return tuple(found)


@cache
def exchanges() -> tuple[Exchange, ...]:
    """The record by its requests."""
    begins = [at for at, lot in enumerate(lots()) if lot.from_master]
    return tuple(
        Exchange(lots()[begin], lots()[begin + 1 : end])
        for begin, end in zip(begins, [*begins[1:], len(lots())], strict=True)
    )


def of_command(command: int) -> tuple[Exchange, ...]:
    """All exchanges of one command."""
    return tuple(each for each in exchanges() if each.command == command)
