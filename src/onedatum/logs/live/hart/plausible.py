"""Whether what a transmitter tells digitally fits together: current, per cent, primary variable and range.

Each `Doubt` names what does not fit and by how much; what is unknown is told as unknown and compared with nothing. The
tolerances are common practice, without a source: a level moves between two commands. A doubt is no proof of a fault,
and no doubt is no proof that the level is right: that is for a dip or a check of the loop.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from onedatum.logs.live.hart.answers import LoopReading, OutputRange, PrimaryVariable, Variables
from onedatum.logs.live.hart.codes import DeviceStatus, Value
from onedatum.physics.loop import current_A, signal_state, span_share, usual_bands

CURRENT_TOLERANCE_A = 16e-6
"""0.1 % of the span of 16 mA (common practice, no source): current and per cent come in one answer."""
SHARE_TOLERANCE = 0.005
"""0.5 % of the span (common practice, no source): primary variable and current come in two answers."""

_AGAINST_LEVEL = ("malfunction", "current_fixed", "current_saturated", "primary_out_of_limits")


@dataclass(frozen=True)
class Told:
    """What was read of one device at about one time; None where it was not asked or not answered."""

    loop: LoopReading | None = None
    variables: Variables | None = None
    output: OutputRange | None = None
    primary: PrimaryVariable | None = None
    status: DeviceStatus | None = None

    @property
    def value(self) -> Value | None:
        """The primary variable, from command 3 or else from command 1."""
        if self.variables and self.variables.primary:
            return self.variables.primary
        return self.primary.value if self.primary else None


@dataclass(frozen=True)
class Doubt:
    """One thing that does not fit."""

    key: str
    words: str


def doubts(
    told: Told, current_tolerance_A: float = CURRENT_TOLERANCE_A, share_tolerance: float = SHARE_TOLERANCE
) -> tuple[Doubt, ...]:
    """All that speaks against taking the numbers as they are, in the order status, unknown, current, range."""
    return (
        *_of_status(told),
        *_of_unknowns(told),
        *_of_current(told, current_tolerance_A),
        *_of_range(told, share_tolerance),
    )


def share_of_range(told: Told) -> float | None:
    """The primary variable as a share of the range of the output; None where it cannot be worked out."""
    value, output = told.value, told.output
    if value is None or output is None or output.transfer_function != 0:
        return None
    if value.unit == output.lower.unit == output.upper.unit:
        numbers = value.number, output.lower.number, output.upper.number
    elif value.unit.dimension == output.lower.unit.dimension == output.upper.unit.dimension:
        numbers = value.in_si, output.lower.in_si, output.upper.in_si
    else:
        return None
    primary, lower, upper = numbers
    if primary is None or lower is None or upper is None or lower == upper:
        return None
    return float(span_share(primary, lower, upper))


def _of_status(told: Told) -> Iterator[Doubt]:
    if told.status:
        for key, words in zip(told.status.keys, told.status.words, strict=True):
            if key in _AGAINST_LEVEL:
                yield Doubt(key, f"the device says: {words}")


def _of_unknowns(told: Told) -> Iterator[Doubt]:
    if told.value is not None and told.value.number is None:
        yield Doubt("primary_unknown", "the primary variable is not available: the level is unknown")
    if told.loop and told.loop.current_A is None:
        yield Doubt("current_unknown", "the loop current is not available")
    if told.loop and told.loop.share is None:
        yield Doubt("share_unknown", "the per cent of the range is not available")
    if told.output:
        lower, upper = told.output.lower.number, told.output.upper.number
        if lower is None or upper is None:
            yield Doubt("range_unknown", "the range is not available")
        elif lower == upper:
            yield Doubt("no_span", f"the range has no span: {told.output.lower} at 4 mA and at 20 mA")


def _of_current(told: Told, tolerance_A: float) -> Iterator[Doubt]:
    """Current against failure, saturation and the per cent told with it."""
    if told.loop is None or told.loop.current_A is None:
        return
    state = signal_state(told.loop.current_A, usual_bands())
    told_mA = _in_mA(told.loop.current_A)
    if state != "measuring":
        yield Doubt("not_measuring", f"{told_mA} is no measurement ({state.replace('_', ' ')}): the level is unknown")
        return
    if told.loop.share is None or _follows_not(told):
        return
    due_A = float(current_A(told.loop.share, 0.0, 1.0))
    if signal_state(due_A, usual_bands()) == "measuring" and abs(told.loop.current_A - due_A) > tolerance_A:
        share = f"{100 * told.loop.share:.4g} %"
        yield Doubt("current_against_share", f"{told_mA} does not fit {share} of range, which is {_in_mA(due_A)}")


def _of_range(told: Told, tolerance: float) -> Iterator[Doubt]:
    """Primary variable and range against the per cent told."""
    share = share_of_range(told)
    if share is None or told.loop is None or told.loop.share is None or told.value is None:
        return
    if abs(share - told.loop.share) > tolerance:
        yield Doubt(
            "value_against_range",
            f"{told.value} is {100 * share:.4g} % of the range, and {100 * told.loop.share:.4g} % is told: "
            "the range was changed, the level moved between the readings, or another variable drives the current",
        )


def _follows_not(told: Told) -> bool:
    """Whether the device itself says that its current does not follow the level."""
    return told.status is not None and (told.status.has("current_fixed") or told.status.has("current_saturated"))


def _in_mA(current_A: float) -> str:
    return f"{current_A * 1000:.6g} mA"
