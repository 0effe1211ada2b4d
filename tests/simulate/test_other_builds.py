"""Builds beside the examples: a dry leg, one tap, a bare probe; each against its law."""

from __future__ import annotations

import numpy as np
import pytest

from onedatum.case.reading import read_case_text
from onedatum.foundation.numerics import Reals
from onedatum.simulate import Instrument, State, instrument_of
from onedatum.study.study import study
from tests.house.tree import ROOT


def built(text: str) -> Instrument:
    """The instrument of an altered example."""
    found = instrument_of(study(read_case_text(text, "case.yaml")))
    assert found is not None
    return found


def example(name: str) -> str:
    return (ROOT / "examples" / f"{name}.yaml").read_text(encoding="utf-8")


def off_m(own: Instrument, level_m: Reals, **faults: float) -> Reals:
    """How much too high it tells."""
    state = State(level_m, np.full(3, own.temperature_K), np.ones(3), np.full(3, level_m.max()))
    return own.signal(state, {key: np.full(1, size) for key, size in faults.items()}).told_m - level_m


def upper_leg(text: str, filling: str) -> str:
    """The example with another leg at the upper tap, or none."""
    start, end = text.index("  upper_leg:"), text.index("  unit: inH2O")
    return text[:start] + filling + text[end:]


LEVELS = np.array([0.4, 1.2, 2.1])


def test_a_dry_leg_that_fills_with_the_liquid_tells_too_low_by_its_height() -> None:
    """Pascal's law: the liquid on both sides of the cell cancels."""
    own = built(upper_leg(example("wet_leg_tank"), "  upper_leg: {filling: the gas above}\n"))
    assert off_m(own, LEVELS, leg=0.25) == pytest.approx(np.full(3, -0.25))


def test_one_tap_in_a_denser_liquid_tells_too_high_in_proportion() -> None:
    """Pascal's law: 5 % of the height over the transmitter, 1.27 m below the tap; the gas is left out."""
    text = upper_leg(example("wet_leg_tank"), "")
    for line in ("  taps_apart: 100 in\n", "  high_side: lower tap\n"):
        assert line in text
        text = text.replace(line, "")
    text = text.replace("difference between two taps", "one tap, against the atmosphere")
    own = built(text.replace("principle: differential pressure", "principle: hydrostatic pressure"))
    assert "leg" not in own.kinds
    assert off_m(own, LEVELS, density=0.05) == pytest.approx(0.05 * (LEVELS + 1.27), rel=1e-9)


def test_a_bare_probe_in_a_liquid_of_another_permittivity_is_off_by_the_excess_over_the_gas() -> None:
    """A capacitor between conductors: what the level adds goes with eps - 1; the active part begins at 50 mm."""
    text = example("caustic_tank").replace("rod: coated all over", "rod: bare")
    text = text.replace("conductivity: {value: 20 S/m", "conductivity: {value: 1e-9 S/m")
    own = built(text.replace("permittivity: {value: 30,", "permittivity: {value: 2.3,"))
    assert "film" not in own.kinds
    gain = (2.3 * 1.1 - 1.0) / (2.3 - 1.0) - 1.0
    assert off_m(own, LEVELS, permittivity=0.1) == pytest.approx(gain * (LEVELS - 0.05), rel=1e-6)
