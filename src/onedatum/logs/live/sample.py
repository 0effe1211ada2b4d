"""What a port hands over, and how it says that its line is lost."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Protocol

from onedatum.foundation.errors import OnedatumError


class LinkError(OnedatumError):
    """The line to a device is lost, or no longer to be trusted: it is closed and made anew."""


@dataclass(frozen=True)
class Reading:
    """One reading of a device: its number in the unit of the plan, or None with the reason, never zero instead.

    A number that could not be read, or cannot be one, says nothing: it is silence. What the source says of itself, by a
    bad status or by a number that stands for none, is news of now.
    """

    value: float | None
    doubt: str = ""
    """Why there is no value; beside a value, what the device says against it."""
    source_us: int | None = None
    """When the source says that it measured, in microseconds since 1970 by its own clock."""
    primary: float | None = None
    """The variable that the device tells digitally, in SI."""
    primary_unit: str = ""
    denies_level: bool = False
    """Whether the source itself says that there is no level now: a number beside it tells at most a failure."""
    hint: str = ""
    """What may be stated wrongly, where no reading of the tag has ever made sense."""


@dataclass(frozen=True)
class Sample:
    """A reading of a tag with the time at which it came, by the clock of whoever watches."""

    tag: str
    time_us: int
    reading: Reading


class Port(Protocol):
    """A way to one device. It may raise LinkError and any OSError; it can only read."""

    @property
    def line(self) -> str:
        """What it shares with other ports: ports of one line take turns."""

    async def open(self) -> None:
        """Make sure that the line is there."""

    async def read(self) -> Reading:
        """Read once."""

    async def close(self) -> None:
        """Let go of the line; never raises."""
