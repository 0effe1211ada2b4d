"""A bridge at the gland and the lengths of a probe: against rings added up, complex numbers, a chain of cells."""

from __future__ import annotations

import inspect
from collections.abc import Callable
from typing import Any

import numpy as np
import pytest

from onedatum.foundation.errors import ValidityError
from onedatum.foundation.working import apply
from onedatum.physics.capacitive import (
    below_rope_m,
    bridge_extra_m,
    bridge_left_m,
    bridge_loss_F,
    bridge_resistance_ohm,
    coating_thickness_m,
    film_depth_m,
    film_extra_m,
    film_left_m,
    film_resistance_ohm_per_m,
    inactive_end_m,
    inactive_needed_m,
    insertion_length_m,
    sealing_face_m,
)
from tests.closeness import close


@pytest.mark.parametrize("ring_m", [0.006, 0.020, 0.150])
def test_the_ring_against_narrow_rings_added_up(ring_m: float) -> None:
    """Each narrow ring is a strip of width 2 pi r: dr/(2 pi r sigma t), by Simpson's rule."""
    count = 4001
    radii = np.linspace(0.005, ring_m, count)
    weights = np.ones(count)
    weights[1:-1:2], weights[2:-1:2] = 4.0, 2.0
    added = np.sum(weights / (2 * np.pi * radii * 0.05 * 0.0004)) * (radii[1] - radii[0]) / 3
    close(float(bridge_resistance_ohm(0.005, ring_m, 0.0004, 0.05)), added, added * 1e-8, "quadrature")


def test_a_bridge_against_the_admittance_of_both() -> None:
    """Amount of j omega C + G over omega, and C - G/omega: by complex numbers, with G = 1/R."""
    omega, held, resistance, slope = 2 * np.pi * 100e3, 45e-12, 30e3, 12e-12
    both = 1j * omega * held + 1 / resistance
    loss = bridge_loss_F(100e3, resistance)
    amount = (abs(both) / omega - held) / slope
    close(float(bridge_extra_m(held, loss, slope)), amount, 1e-12, "amount of the admittance")
    left = (both.imag - both.real) / omega / slope - held / slope
    close(float(bridge_left_m(loss, slope)), left, 1e-12, "capacitance less loss")


def test_a_bridge_reads_high_and_with_the_loss_taken_off_low() -> None:
    loss = np.array([1e-12, 20e-12, 400e-12])
    high, low = bridge_extra_m(45e-12, loss, 12e-12), bridge_left_m(loss, 12e-12)
    assert np.all(np.diff(high) > 0) and np.all(high > 0)
    assert np.all(np.diff(low) < 0) and np.all(low < 0)
    assert bridge_extra_m(45e-12, 0.0, 12e-12) == 0.0


def test_a_film_down_from_the_nozzle_against_a_chain_of_cells() -> None:
    """Earthed at the nozzle and open below: the chain is worked from its open lower end up; 4000 cells."""
    coating_F, frequency, length = 347.215e-12, 100e3, 0.15
    along = float(film_resistance_ohm_per_m(0.007, 0.0003, 0.1))
    cells = 4000
    piece, omega = length / cells, 2 * np.pi * frequency
    seen = 0.5j * omega * coating_F * piece
    for cell in range(cells):
        share = 0.5 if cell == cells - 1 else 1.0
        seen = 1 / (along * piece + 1 / seen) + share * 1j * omega * coating_F * piece
    depth = film_depth_m(frequency, along, coating_F)
    held, leaked = seen.imag / omega / coating_F, seen.real / omega / coating_F
    close(float(film_extra_m(length, depth)), held, 1e-6, "cells of 38 um")
    close(float(film_left_m(length, depth)), held - leaked, 1e-6, "cells of 38 um")


def test_lengths_end_to_end() -> None:
    """A tank 2.5 m high, face 0.2 m above it, tip 0.05 m above the floor: 2.65 m of probe, by hand."""
    face = sealing_face_m(2.5, 0.2)
    close(insertion_length_m(face, 0.05, 0.0), 2.65, 1e-12, "by hand")
    close(insertion_length_m(face, 0.2, 0.15), 2.65, 1e-12, "the weight hangs to the same height")
    close(inactive_end_m(face, inactive_needed_m(0.2, 0.1)), 2.4, 1e-12, "splash below the inside top")
    close(below_rope_m(0.15, 0.01), 0.16, 1e-12, "by hand")


@pytest.mark.parametrize(
    ("function", "values", "words"),
    [
        (bridge_resistance_ohm, (0.02, 0.02, 3e-4, 0.1), "The ring lies round the rod"),
        (bridge_resistance_ohm, (0.005, 0.02, 0.0, 0.1), "thickness"),
        (bridge_resistance_ohm, (0.005, 0.02, 3e-4, -1.0), "conductivity"),
        (insertion_length_m, (1.0, 1.2, 0.0), "hangs down"),
        (coating_thickness_m, (0.010, 0.010), "has a thickness"),
    ],
)
def test_what_makes_no_sense_is_refused(function: Callable[..., Any], values: tuple[float, ...], words: str) -> None:
    named = dict(zip(inspect.signature(function).parameters, values, strict=True))
    with pytest.raises(ValidityError, match=words):
        apply(function, named)
