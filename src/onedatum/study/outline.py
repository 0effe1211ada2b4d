"""The outline of the vessel for drawings."""

from __future__ import annotations

from onedatum.physics.vessels import Body, Outline
from onedatum.study.result import Study

Points = tuple[tuple[float, float], ...]


def outline(study: Study) -> Points:
    """Half the plumb section at the gauge, as points (distance, height above the datum); none while it is unknown."""
    found = _outline(study)
    return _points(found.half_section) if found else ()


def side_view(study: Study) -> Points:
    """The vessel from the side as a closed line; distances count from the plumb line of the gauge."""
    found = _outline(study)
    return _points(found.side) if found else ()


def axis(study: Study) -> tuple[tuple[float, float], tuple[float, float]] | None:
    """The axis of the vessel by its two ends."""
    found = _outline(study)
    return found.axis if found else None


def axis_is_plumb(study: Study) -> bool:
    """Whether the vessel stands about a plumb axis, so that its half section is half its elevation."""
    line = axis(study)
    return line is not None and line[0][0] == line[1][0]


def tangents(study: Study) -> tuple[tuple[tuple[float, float], tuple[float, float]], ...]:
    """The tangent lines of the vessel, each by its two ends."""
    found = _outline(study)
    return found.tangents if found else ()


def _outline(study: Study) -> Outline | None:
    body = study.vessel.body.whole if study.vessel is not None else None
    return body.outline if isinstance(body, Body) else None


def _points(line: tuple[object, object]) -> Points:
    across, high = line
    return tuple(zip(across.tolist(), high.tolist(), strict=True))  # type: ignore[attr-defined]
