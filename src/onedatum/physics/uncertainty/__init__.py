"""Uncertainty: what each input does to a result, what they do together, and what can be decided then."""

from onedatum.physics.uncertainty.conformity import (
    GUARDED_ACCEPTANCE,
    GUARDED_REJECTION,
    SIMPLE,
    Decision,
    Limits,
    Risks,
    acceptance_limits,
    conformance_probability,
    decide,
    global_risks,
    guard_band,
    specific_risk,
)
from onedatum.physics.uncertainty.correlation import correlation_matrix, is_correlation, least_eigenvalue
from onedatum.physics.uncertainty.coverage import coverage_factor, effective_degrees_of_freedom
from onedatum.physics.uncertainty.decision_rules import DecisionRule, decision_rules
from onedatum.physics.uncertainty.draws import Distribution, draws, sobol_draws
from onedatum.physics.uncertainty.interval import histogram, shortest_interval, symmetric_interval
from onedatum.physics.uncertainty.level import (
    error_standard_m,
    level_uncertainty_m,
    with_column_uncertainty_m,
    with_probe_uncertainty_m,
)
from onedatum.physics.uncertainty.linear import (
    combined_standard,
    combined_standard_of_each,
    contributions,
    expanded,
    relative,
    shares,
)
from onedatum.physics.uncertainty.margin import expanded_share, share_margin
from onedatum.physics.uncertainty.monte_carlo import (
    Outcome,
    Validation,
    monte_carlo,
    numerical_tolerance,
    outcome_of,
    validated,
)
from onedatum.physics.uncertainty.prior import risks_of_share
from onedatum.physics.uncertainty.second_order import displacements, second_order_standard

__all__ = [
    "GUARDED_ACCEPTANCE",
    "GUARDED_REJECTION",
    "SIMPLE",
    "Decision",
    "DecisionRule",
    "Distribution",
    "Limits",
    "Outcome",
    "Risks",
    "Validation",
    "acceptance_limits",
    "combined_standard",
    "combined_standard_of_each",
    "conformance_probability",
    "contributions",
    "correlation_matrix",
    "coverage_factor",
    "decide",
    "decision_rules",
    "displacements",
    "draws",
    "effective_degrees_of_freedom",
    "error_standard_m",
    "expanded",
    "expanded_share",
    "global_risks",
    "guard_band",
    "histogram",
    "is_correlation",
    "least_eigenvalue",
    "level_uncertainty_m",
    "monte_carlo",
    "numerical_tolerance",
    "outcome_of",
    "relative",
    "risks_of_share",
    "second_order_standard",
    "share_margin",
    "shares",
    "shortest_interval",
    "sobol_draws",
    "specific_risk",
    "symmetric_interval",
    "validated",
    "with_column_uncertainty_m",
    "with_probe_uncertainty_m",
]
