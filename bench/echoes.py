"""How long ten thousand received records take through the matched filter, peak and parabola included, on one thread.

The peer correlates record by record with scipy.signal, as a script would; it does a part of the records and the goal is
scaled. One transform there and back, of the same records in the same precision, is what no filter of whole records by
transforms can be without: the filter is held against it once with a window over the whole record, where it does that
work too, and once with windows about two floats, where it filters those samples only.
"""

from __future__ import annotations

import numpy as np
from scipy import fft, signal

from bench.race import Race, Work
from onedatum.physics.echoes import Line, Ricker, Sampling, Target, Window, by_matched_filter, noisy_V, received_V

RECORDS, SAMPLES, PART = 10_000, 4_000, 200
RATE_HZ, WIDTH_S, SEED, ROUNDS, FASTER = 1e7, 1.5e-6, 20261126, 7, 7
BLOCK = 28
"""Records that the transforms alone are fastest with."""
ABOUT_FLOATS = Window(1200, 1700), Window(2600, 3100)
WHOLE = (Window(120, SAMPLES - 120),)
"""Up to where a pulse would reach over the ends."""


def races() -> list[Race]:
    """Two floats on a stem of one metre, 40 dB, single precision."""
    sampling, pulse = Sampling(RATE_HZ, SAMPLES), Ricker(WIDTH_S)
    line = Line(1.1, 2800.0, 0.0112, -0.05, 0.5)
    clean = received_V(line, [Target(0.4, 1.0), Target(0.8, 1.0)], pulse, sampling)
    records = noisy_V(clean, 0.01, RECORDS, np.random.default_rng(SEED)).astype(np.float32)
    template = pulse.values((np.arange(121) - 60) / RATE_HZ).astype(np.float32)

    def filtered(windows: tuple[Window, ...]) -> Work:
        return lambda: by_matched_filter(records, pulse, sampling, windows, 0.3)

    def one_by_one() -> None:
        for record in records[:PART]:
            correlated = signal.correlate(record, template, mode="same", method="fft")
            for window in ABOUT_FLOATS:
                correlated[window.low : window.high].argmax()

    def there_and_back() -> None:
        for start in range(0, RECORDS, BLOCK):
            fft.irfft(fft.rfft(records[start : start + BLOCK], axis=1), axis=1)

    peer, floor = f"scipy.signal.correlate, {PART} of them one by one", "one transform there and back"
    scaled = RECORDS / PART / FASTER
    about, whole = filtered(ABOUT_FLOATS), filtered(WHOLE)
    return [
        Race("matched filter of 10,000 records about two floats", about, peer, one_by_one, scaled, ROUNDS),
        Race("matched filter of 10,000 records, searched from end to end", whole, peer, one_by_one, scaled, ROUNDS),
        Race("matched filter of 10,000 records about two floats", about, floor, there_and_back, 1.2, ROUNDS),
        Race("matched filter of 10,000 records, searched from end to end", whole, floor, there_and_back, 1.2, ROUNDS),
    ]
