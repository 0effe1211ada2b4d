"""The outline of the vessel for drawings."""

from __future__ import annotations

from onedatum.physics.vessels import vertical_outline
from onedatum.study.result import Study


def outline(study: Study) -> tuple[tuple[float, float], ...]:
    """Half the section, as points (radius, height above the datum) in metres; none while the vessel is unknown."""
    measures = {name: entry.value for name, entry in study.vessel.measures.items()}
    known = {name: value for name, value in measures.items() if value is not None}
    if len(known) < len(measures) or not study.vessel.inside_height.known:
        return ()
    line = vertical_outline(
        known["diameter_m"],
        known["shell_length_m"],
        known["bottom_crown_radius_m"],
        known["bottom_knuckle_radius_m"],
        known["top_crown_radius_m"],
        known["top_knuckle_radius_m"],
    )
    return tuple(zip(line.radius_m.tolist(), line.height_m.tolist(), strict=True))
