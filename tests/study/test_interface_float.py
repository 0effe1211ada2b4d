"""Two floats on one stem: the window of density, the thickness of the layer, the pull of the magnets."""

from __future__ import annotations

import pytest

from onedatum.case.reading import read_case_text
from onedatum.study.result import Study
from onedatum.study.study import study
from onedatum.verdicts import Effect, Verdict
from tests.closeness import close
from tests.reference import case
from tests.study.stems import STEM, with_lines

INTERFACE = """
interface:
  lower_density: 998 kg/m3
  upper_layer_least: {layer}
"""
UPPER = """
  interface_float:
    form: cylinder
    outside_diameter: 45 mm
    bore: 14 mm
    height: 50 mm
    mass: 65.5 g
    magnet_plane_above_bottom: centre
    friction: 20 mN
  magnet:
    form: ring
    inside_diameter: 16 mm
    outside_diameter: 31 mm
    length: 10 mm
    remanence: 400 mT
    least_field: 5 mT
  echo: {pulse_duration: 12 us}
"""


def layered(layer: str = "300 mm", lower: str = "998 kg/m3", upper: str = "830 kg/m3") -> Study:
    """Oil over water with a float for each."""
    text = with_lines(STEM, {"density": upper})
    text = text.replace("instrument:\n", "instrument:" + UPPER, 1)
    text += INTERFACE.format(layer=layer).replace("998 kg/m3", lower)
    return study(read_case_text(text, "layered.yaml"))


LAYERED = layered()


def blocks(found: Study) -> set[str]:
    return {finding.key for finding in found.findings if finding.effect is Effect.BLOCKS}


def test_the_interface_stands_where_the_balance_puts_it() -> None:
    case("floats-H09").check(float(LAYERED.value("interface_float.immersion[normal]") or 0.0) * 1e3)


def test_friction_band_of_the_interface_float() -> None:
    """2 F/(drho g A) with 20 mN, 168 kg/m3, 14.365 cm2: 16.9 mm (derived by hand; exact for a cylinder)."""
    close(float(LAYERED.value("interface_float.friction_band[normal]") or 0.0), 16.9e-3, 0.1e-3, "printed to 0.1 mm")


def test_the_two_magnets_snap_where_the_force_grows_faster_than_the_stiffness() -> None:
    """Floats of 17.746 and 2.3667 N/m snap at 76.2 mm; these differ by the bores, so the spring is worked anew."""
    stiffness = LAYERED.value("interface.combined_stiffness")
    snap = LAYERED.value("interface.snap_spacing")
    assert stiffness is not None and snap is not None
    close(snap * 1e3, 76.2 * (2.0882 / stiffness) ** 0.2, 1.5, "far field goes with the fifth root of the spring")


def test_pull_near_a_distance_of_200_mm() -> None:
    """1.1 mN at 200 mm moves a float of 2.37 N/m by 0.5 mm (worked independently); far fields fall with s^4."""
    found = layered("220 mm")
    distance = float(found.value("interface.plane_distance_least") or 0.0)
    assert 0.19 < distance < 0.21
    share = (0.2 / distance) ** 4
    close(abs(float(found.value("interface.pull") or 0.0)), 1.1e-3 * share, 0.05e-3, "printed to 0.1 mN")
    close(
        abs(float(found.value("interface_float.moved_by_pull") or 0.0)),
        0.47e-3 * share,
        0.02e-3,
        "force over stiffness",
    )


def test_the_magnet_planes_are_what_counts_not_the_layer() -> None:
    """Surface and interface stand over their magnet planes by the waterlines: layer - z_1 + z_2 (by hand)."""
    upper, lower = LAYERED.value("float.waterline_above_magnet[normal]"), LAYERED.value("interface_float.interface_above_magnet[normal]")  # fmt: skip # noqa: E501
    assert upper is not None and lower is not None
    close(float(LAYERED.value("interface.plane_distance[normal]") or 0.0), 0.3 - upper + lower, 1e-12, "heights")


def test_a_sound_pair_of_floats_is_not_blocked_by_its_layer() -> None:
    keys = {check.key: check.verdict for check in LAYERED.checks}
    assert keys["layer"] is Verdict.SUITS
    assert keys["snapping"] is Verdict.SUITS
    assert keys["interface-window[normal]"] is Verdict.SUITS


@pytest.mark.parametrize(
    ("found", "key", "words"),
    [
        (layered(lower="800 kg/m3"), "check:interface-reversed[normal]", "reversed in the state normal"),
        (layered(lower="870 kg/m3"), "check:interface-window[normal]", "too alike"),
        (layered(upper="940 kg/m3"), "check:interface-rises[normal]", "rises into the upper liquid"),
        (layered("100 mm"), "check:layer", "too thin for two floats"),
        (layered("100 mm"), "check:snapping", "snapping together"),
        (layered("60 mm"), "check:spacing", "nearer than the distance"),
    ],
)
def test_what_no_pair_of_floats_can_have_blocks_and_names_its_state(found: Study, key: str, words: str) -> None:
    titles = {finding.key: finding.title for finding in found.findings}
    assert key in blocks(found)
    assert words in titles[key]


def test_a_thin_layer_is_told_where_it_must_be_corrected() -> None:
    found = layered("170 mm")
    warned = {finding.key for finding in found.findings if finding.effect is Effect.WARNING}
    assert "check:thick-layer" in warned
    assert "check:layer" not in blocks(found)


def test_a_layer_not_stated_is_asked() -> None:
    found = layered("unknown")
    assert "interface.upper_layer_least" in {question.path for question in found.questions}
    assert found.order != "not blocked"


def test_without_an_interface_nothing_of_it_is_asked() -> None:
    found = study(read_case_text(STEM, "plain.yaml"))
    assert found.detail.interface is None
    assert not any("interface" in question.path for question in found.questions)
