"""Uncertainty: what each input does to a result, and what they do together."""

from onedatum.physics.uncertainty.level import level_uncertainty_m
from onedatum.physics.uncertainty.linear import combined_standard, contributions, expanded, relative, shares
from onedatum.physics.uncertainty.margin import expanded_share, share_margin

__all__ = [
    "combined_standard",
    "contributions",
    "expanded",
    "expanded_share",
    "level_uncertainty_m",
    "relative",
    "share_margin",
    "shares",
]
