"""Samples of what formulas hand on in one piece, by its class, and how two of them are compared."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np

from onedatum.foundation.working import Tag, Whole
from onedatum.physics import vessels
from onedatum.physics.bypass import Column, Thermometers
from onedatum.physics.calibration import AverageCurve, Changes, Repeats
from onedatum.physics.media import (
    DensityTable,
    LiquidPermittivity,
    PetroleumGroup,
    liquid_permittivity,
    petroleum_group,
)
from onedatum.physics.vessels import Batches, Body, End, Profile, Rows

_KLOEPPER = vessels.torispherical_end(2.0, 2.0, 0.2)
_FLAT = vessels.flat_end(2.0)
_TEMPERATURES_K = np.array([288.15, 289.15, 291.15])

_THERMOMETERS = Thermometers(np.array([0.0, 0.4, 1.0]), np.array([300.0, 330.0, 350.0]))
_COLUMN = Column(
    _THERMOMETERS.heights_m, 1200.0 - _THERMOMETERS.nodes()[1], 1200.0 - _THERMOMETERS.temperatures_K[[0, -1]]
)

PARTS: Sequence[Body] = (vessels.even_part(0.002, 0.2), vessels.lying_pipe_part(0.004, 0.1))
"""Small enough to stand in any of the vessels."""
SAMPLES: Mapping[type[Whole], Sequence[Whole]] = {
    End: (_FLAT, _KLOEPPER, vessels.conical_end(2.0, 0.4), vessels.ellipsoidal_end(2.0, 0.5)),
    Body: (
        vessels.upright_cylinder(3.0, _KLOEPPER, _FLAT),
        vessels.lying_cylinder(5.0, _KLOEPPER, vessels.conical_end(2.0, 0.4)),
        vessels.tilted_cylinder(5.0, _KLOEPPER, _FLAT, 0.02, 1.0),
        vessels.box(3.0, 2.0, 1.5),
    ),
    Profile: (Profile(np.array([0.0, 0.3, 1.0]), np.array([0.2, 0.8, 1.0])),),
    Rows: (Rows(np.array([0.0, 0.5, 1.0]), np.array([0.0, 0.9, 2.1])),),
    PetroleumGroup: tuple(map(petroleum_group, ("refined product", "crude oil", "lubricating oil"))),
    DensityTable: (DensityTable(np.array([250.0, 290.0, 330.0]), np.array([1020.0, 1000.0, 970.0])),),
    LiquidPermittivity: tuple(map(liquid_permittivity, ("64-17-5", "110-54-3"))),
    Column: (_COLUMN,),
    Thermometers: (_THERMOMETERS,),
    Repeats: (Repeats(np.array([0.001, 0.0012, 0.0009])),),
    AverageCurve: (AverageCurve(np.array([0.0, 0.5, 1.0]), np.array([0.0, 0.002, 0.001])),),
    Changes: (Changes(np.array([1e7, 2e7]), np.array([0.001, 0.003]), np.array([0.001, 0.001])),),
    Batches: (Batches(np.array([0.0, 0.5, 0.9]), np.array([0.0, 10.0, 9.0]), _TEMPERATURES_K, np.full(3, 290.15)),),
}


def samples_of(parameter: str, whole: type[Whole]) -> Sequence[Whole]:
    """What may stand for a parameter of this class."""
    return PARTS if parameter == "part" else SAMPLES[whole]


def first_wholes(tag: Tag) -> dict[str, Any]:
    """For every parameter that is a whole the first of its samples."""
    return {s.parameter: samples_of(s.parameter, s.whole)[0] for s in tag.symbols if s.whole}


def in_numbers(value: Any) -> Any:
    """A number as a column of one, a whole as the column of its numbers, each of the shape of the value."""
    if isinstance(value, Whole):
        return np.stack([np.broadcast_to(number, value.shape) for number in value.numbers()])
    return np.asarray(value)[None]
