"""The picture of the record at the level now: what came in, what the filter makes of it, what was taken."""

from __future__ import annotations

from onedatum.foundation.units import show
from onedatum.paper.echo.model import EchoDrawing, Taken, Window
from onedatum.simulate.echo import EchoRecord, echo_now
from onedatum.study.result import Study

US = 1e6


def echo_of(study: Study) -> EchoDrawing | None:
    """The drawing; None while nothing can be simulated."""
    record = echo_now(study)
    return None if record is None else drawing_of(record)


def drawing_of(record: EchoRecord) -> EchoDrawing:
    """A record as the paper room draws it; the curves are drawn over the height that two pulses would reach."""
    times = tuple(float(time) * US for time in record.sampling.times_s)
    rate = record.sampling.rate_Hz
    return EchoDrawing(
        title="Received record at the level now, simulated",
        times_us=times,
        received=tuple(float(value) for value in record.received_V),
        filtered=tuple(float(value) for value in record.filtered_V),
        threshold=record.threshold_V,
        windows=tuple(
            Window(window.low / rate * US, window.high / rate * US, name)
            for window, name in zip(record.windows, record.names, strict=True)
        ),
        taken=tuple(
            Taken(delay * US, f"{name} {show(distance, 'mm')}")
            for name, delay, distance in zip(record.names, record.found.delays_s, record.distances_m, strict=False)
        ),
        fault=f"no reading: {record.found.fault}" if record.found.fault else "",
        caption=(
            "Simulated from the wire as stated, one record with its noise; distances count from the head. Above what "
            "came in, below it the matched filter; shaded, where each float was looked for."
        ),
    )
