"""Change in a series of residuals: what a log shows, how sure it is, and how often chance shows the same.

A residual is level less what it should be: less the flow balance, a second gauge, or dips. Series come as arrays in the
order of time, without gaps, in any unit; functions over them give named tuples. Single numbers come from formulas with
a tag.

- `charts`: `cusum`, `cusum_alarms`, `ewma`, `shewhart` over standardised residuals.
- `run_length`: mean time to an alarm, in control and after a shift, exact; design of h and L; false alarms in a time.
- `autocorrelation`: what correlated residuals are worth; innovations to chart in their stead.
- `robust`: spikes, noise from differences, runs of identical readings, readings at the ends of the signal.
- `bias`, `spread`, `trend`, `steps`: against dips; noise up or down; drift and several causes; a step at any time.
- `association`, `lines`: with a pump that runs, with a series that lags, with a hum that is folded down; a steady line.
- `balance`, `inventory`: reconciliation and its tests; leak, meter and table told apart.

No function names a cause: a finding is handed on with its competing explanations. All probabilities hold for residuals
independent of each other; those of a level log are not, unless thinned or reduced to their innovations.
"""

from onedatum.physics.detection.association import (
    Lag,
    OnAndOff,
    alias_Hz,
    lag_between,
    line_amplitude,
    middle_of_change_s,
    on_and_off,
)
from onedatum.physics.detection.autocorrelation import (
    FirstOrder,
    effective_count,
    first_order,
    innovation_shift,
    innovations,
)
from onedatum.physics.detection.balance import (
    Reconciled,
    balance_residual_m3,
    balance_statistic,
    balance_u_m3,
    inventory_limit_m3,
    reconciled,
)
from onedatum.physics.detection.bias import (
    bias_bound_m,
    bias_degrees_of_freedom,
    bias_standard_m,
    bias_t,
    least_told,
    t_probability,
)
from onedatum.physics.detection.charts import (
    Alarms,
    CusumPath,
    EwmaPath,
    cusum,
    cusum_alarms,
    ewma,
    ewma_limit,
    shewhart,
)
from onedatum.physics.detection.inventory import (
    InventoryFit,
    inventory_fit,
)
from onedatum.physics.detection.lines import FittedLine, StrongestLine, fitted_line, strongest_line
from onedatum.physics.detection.robust import (
    Censored,
    Runs,
    Spikes,
    censored,
    common_step,
    difference_noise,
    events_in_time,
    hampel,
    identical_runs,
    repeat_probability,
    repeat_run_limit,
    repeat_run_probability,
    repeat_runs_expected,
)
from onedatum.physics.detection.run_length import (
    both_sides_run_length,
    cusum_decision_interval,
    cusum_run_length,
    cusum_run_length_approximate,
    ewma_limit_factor,
    ewma_run_length,
    false_alarms,
    shewhart_run_length,
)
from onedatum.physics.detection.spread import (
    chi_squared_probability,
    variance_lower_limit,
    variance_statistic,
    variance_upper_limit,
)
from onedatum.physics.detection.steps import (
    StepSearch,
    step_chance,
    step_search,
)
from onedatum.physics.detection.trend import (
    Line,
    MedianSlope,
    RankTrend,
    Regression,
    line,
    median_slope,
    rank_trend,
    regression,
)

__all__ = [
    "Alarms",
    "Censored",
    "CusumPath",
    "EwmaPath",
    "FirstOrder",
    "FittedLine",
    "InventoryFit",
    "Lag",
    "Line",
    "MedianSlope",
    "OnAndOff",
    "RankTrend",
    "Reconciled",
    "Regression",
    "Runs",
    "Spikes",
    "StepSearch",
    "StrongestLine",
    "alias_Hz",
    "balance_residual_m3",
    "balance_statistic",
    "balance_u_m3",
    "bias_bound_m",
    "bias_degrees_of_freedom",
    "bias_standard_m",
    "bias_t",
    "both_sides_run_length",
    "censored",
    "chi_squared_probability",
    "common_step",
    "cusum",
    "cusum_alarms",
    "cusum_decision_interval",
    "cusum_run_length",
    "cusum_run_length_approximate",
    "difference_noise",
    "effective_count",
    "events_in_time",
    "ewma",
    "ewma_limit",
    "ewma_limit_factor",
    "ewma_run_length",
    "false_alarms",
    "first_order",
    "fitted_line",
    "hampel",
    "identical_runs",
    "innovation_shift",
    "innovations",
    "inventory_fit",
    "inventory_limit_m3",
    "lag_between",
    "least_told",
    "line",
    "line_amplitude",
    "median_slope",
    "middle_of_change_s",
    "on_and_off",
    "rank_trend",
    "reconciled",
    "regression",
    "repeat_probability",
    "repeat_run_limit",
    "repeat_run_probability",
    "repeat_runs_expected",
    "shewhart",
    "shewhart_run_length",
    "step_chance",
    "step_search",
    "strongest_line",
    "t_probability",
    "variance_lower_limit",
    "variance_statistic",
    "variance_upper_limit",
]
