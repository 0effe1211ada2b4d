"""Foam about the rod of a probe, and grain whose density contradicts its packing: told, never counted as nothing."""

from __future__ import annotations

import pytest

from onedatum.study.result import Study
from onedatum.verdicts import Effect
from tests.study.test_probe import GLAND, OIL, STEEL, finding, number, probe, text_of
from tests.study.test_probe_media import AT_20, GRAIN, LIGHT, LONE, liquid

NO_HEIGHT = "level_allowance: 20 mm\n  foam: none"


def foaming(foam: str, height: str = "unknown", *changes: tuple[str, str]) -> Study:
    stated = (
        ("  foam: none\n  deposits", f"  foam: {foam}\n  deposits"),
        (NO_HEIGHT, NO_HEIGHT.replace("none", height)),
    )
    return probe(*stated, *changes)


@pytest.mark.parametrize(
    ("changes", "title"), [((), "The liquid conducts, and so may its foam"), ((*STEEL, *OIL, GLAND), "What foam it is")]
)
def test_foam_is_told_as_reading_high_and_asked_for(changes: tuple[tuple[str, str], ...], title: str) -> None:
    """Foam that conducts shorts the coating to earth as its liquid does (common practice, no source)."""
    found = foaming("200 mm", "200 mm", *changes)
    said = finding(found, "probe-foam-reads")
    assert said is not None
    assert said.effect is Effect.WARNING
    assert said.title.startswith(title)
    assert "May read too high by up to 200 mm" in text_of(said)
    (asked,) = (each for each in found.questions if each.path == "medium.foam.kind")
    assert all(word in asked.title for word in ("conducts", "height", "share of liquid"))


def test_foam_without_a_height_counts_whole() -> None:
    said = finding(foaming("yes, in filling"), "probe-foam-reads")
    assert said is not None
    assert "not stated" in text_of(said)


@pytest.mark.parametrize("foam", ["none", "unknown", ""])
def test_no_foam_is_no_finding(foam: str) -> None:
    assert finding(foaming(foam, "none"), "probe-foam-reads") is None


# ---------------------------------------------------------------- grain


def told(density: str, bulk: str = GRAIN) -> list[str]:
    found = liquid(f"{LIGHT.replace('866 kg/m3', density)}{bulk}{AT_20}")
    assert number(found, "vessel.full_volume") > 10.0
    return [str(fault) for fault in found.faults if fault.path == "medium.density"]


def test_a_bulk_that_weighs_what_its_grains_do_not_is_a_fault_that_names_both() -> None:
    """By hand: 54 to 62 % of 1400 kg/m3 with 16 to 10 % of water weighs 710 to 834 kg/m3; water of 998.2 kg/m3."""
    least, greatest = 0.54 / (0.16 / 998.2 + 0.84 / 1400.0), 0.62 / (0.10 / 998.2 + 0.90 / 1400.0)
    (fault,) = told("1200 kg/m3")
    assert f"medium.density must be from {least:.0f}" in fault.replace(".", " ").replace("  ", " ") or "710" in fault
    assert f"{greatest:.0f}" in fault
    assert "medium.bulk.packing" in fault
    assert "medium.bulk.moisture" in fault
    assert "medium.bulk.solid_density" in fault
    assert "caustic_tank.yaml:" in fault


@pytest.mark.parametrize(
    ("density", "bulk", "wrong"),
    [
        ("775 kg/m3", GRAIN, False),
        ("866 kg/m3", GRAIN, False),  # 5 % of a density without uncertainty
        ("{value: 866 kg/m3, within: 5 kg/m3}", GRAIN, True),
        ("650 kg/m3", GRAIN, True),
        ("850 kg/m3", LONE, False),  # one packing counts within a tenth of it
        ("900 kg/m3", LONE, True),
        ("850 kg/m3", LONE.replace("58 %vol", "{value: 58 %vol, within: 0.5 %vol}"), True),
        ("1200 kg/m3", GRAIN.replace("{value: 12 %mass, min: 10 %mass, max: 16 %mass}", "unknown"), False),
        ("1200 kg/m3", LONE.replace("58 %vol", "0 %vol"), True),
        ("unknown", GRAIN, False),
    ],
)
def test_within_what_is_stated_or_usual_the_two_agree(density: str, bulk: str, wrong: bool) -> None:
    assert bool(told(density, bulk)) is wrong
