"""The echoes of a magnetostrictive stem: pulses, records, when they came, which float they are of."""

from onedatum.physics.echoes.bias import (
    leading_edge,
    parabola_bias_m,
    reflection_bias_m,
    ricker_autocorrelation,
    time_walk_m,
)
from onedatum.physics.echoes.bounds import (
    bound_m,
    clock_step_m,
    doublet_delay_bound_s,
    energy_to_noise,
    ricker_delay_bound_s,
    ricker_energy_to_noise,
    sample_interval_s,
    step_standard_m,
    zero_crossing_delay_s,
)
from onedatum.physics.echoes.estimate import by_matched_filter, filtered_V
from onedatum.physics.echoes.identify import Expected, Found, identified
from onedatum.physics.echoes.pulses import Doublet, Pulse, Ricker
from onedatum.physics.echoes.record import Line, Pickup, RingDown, Sampling, Target, noisy_V, received_V
from onedatum.physics.echoes.unfiltered import by_threshold, by_zero_crossing
from onedatum.physics.echoes.usual import UsualEcho, WrongPeaks, usual_echo, wrong_peaks
from onedatum.physics.echoes.window import Estimate, Window

__all__ = [
    "Doublet",
    "Estimate",
    "Expected",
    "Found",
    "Line",
    "Pickup",
    "Pulse",
    "Ricker",
    "RingDown",
    "Sampling",
    "Target",
    "UsualEcho",
    "Window",
    "WrongPeaks",
    "bound_m",
    "by_matched_filter",
    "by_threshold",
    "by_zero_crossing",
    "clock_step_m",
    "doublet_delay_bound_s",
    "energy_to_noise",
    "filtered_V",
    "identified",
    "leading_edge",
    "noisy_V",
    "parabola_bias_m",
    "received_V",
    "reflection_bias_m",
    "ricker_autocorrelation",
    "ricker_delay_bound_s",
    "ricker_energy_to_noise",
    "sample_interval_s",
    "step_standard_m",
    "time_walk_m",
    "usual_echo",
    "wrong_peaks",
    "zero_crossing_delay_s",
]
