"""Uncertainty: what each input does to a result, and what they do together."""

from onedatum.physics.uncertainty.level import level_uncertainty_m
from onedatum.physics.uncertainty.linear import combined_standard, contributions, expanded, shares
from onedatum.physics.uncertainty.margin import share_margin

__all__ = ["combined_standard", "contributions", "expanded", "level_uncertainty_m", "share_margin", "shares"]
