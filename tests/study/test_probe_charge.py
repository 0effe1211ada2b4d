"""Static charge on a capacitive probe in a zone: what does not hold, what holds, what the certificate decides.

Limits of surfaces and layers: from memory (IEC 60079-0); 1 Mohm to earth: read second-hand, and from memory with the
head removed; breakdown voltage of 4 kV: read second-hand. The data files say so.
"""

from __future__ import annotations

import pytest

from onedatum.study.result import Study
from onedatum.verdicts import Effect, Verdict
from tests.closeness import close
from tests.study.test_probe import BARE, OIL, STEEL, finding, number, probe, verdicts
from tests.study.test_probe_build import TIP

Change = tuple[str, str]
BLEED = "bleed: {resistance: 500 kohm, head_removed: yes}"
SHORT = (
    ("active_to: 2500 mm", "active_to: 700 mm"),
    ("set_high: 2200 mm", "set_high: 650 mm"),
    ("20 mA: 2200 mm", "20 mA: 650 mm"),
    ("value: 1600 mm", "value: 400 mm"),
)
"""14 mm by 650 mm: 9100 mm2, below the 10000 mm2 of a zone 1 and of group IIB."""
HOLDS, FAILS, OPEN = Verdict.SUITS, Verdict.DOES_NOT_SUIT, Verdict.UNDECIDED


def zoned(inside: str, group: str, *changes: Change, strong: str = "no") -> Study:
    """The tank of oil in a zone."""
    words = f'zone:\n  inside: "{inside}"\n  at_head: "{inside}"\n  group: {group}\n  temperature_class: T4\n'
    words += f"  gas_space: air\n\ncharge:\n  strong_charging: {strong}"
    return probe(("zone: none", words), *STEEL, *OIL, *changes)


@pytest.mark.parametrize(
    ("inside", "group", "changes", "verdict"),
    [
        ("0", "IIC", (), FAILS),  # 34300 mm2, 14 mm, 2 mm against 400 mm2, 1 mm, 0.2 mm
        ("1", "IIC", (), OPEN),  # kept by its width of 20 mm alone
        ("0", "IIB", (), OPEN),  # kept by its thickness of 2 mm alone
        ("0", "IIB", (("coating_diameter: 14 mm", "coating_diameter: 14.2 mm"),), FAILS),
        ("1", "IIB", (), OPEN),  # width and thickness, not the area
        ("1", "IIB", SHORT, HOLDS),
        ("2", "IIA", SHORT, HOLDS),
        ("1", "IIB", (*SHORT, ("coating_diameter: 14 mm", "coating_diameter: 15.5 mm")), OPEN),
    ],
)
def test_the_coating_against_the_limits(inside: str, group: str, changes: tuple[Change, ...], verdict: Verdict) -> None:
    study = zoned(inside, group, *changes)
    assert verdicts(study, "probe-charge") == [verdict]
    said = finding(study, "probe-charged")
    assert (said is None) is (verdict is HOLDS)
    if said is not None:
        assert said.effect is (Effect.BLOCKS if verdict is FAILS else Effect.WARNING)
        assert said.safety
        assert said.ways_out
    assert finding(study, "check:probe-charge") is None


def test_the_area_is_diameter_by_active_length() -> None:
    """14 mm by 2450 mm: 34300 mm2, by hand; of a bare tip the coated part of 700 mm: 9800 mm2."""
    close(number(zoned("0", "IIC"), "probe.projected_area") * 1e6, 34300.0, 1e-6, "by hand")
    close(number(zoned("1", "IIB", *TIP), "probe.projected_area") * 1e6, 9800.0, 1e-6, "by hand")
    assert verdicts(zoned("1", "IIB", *TIP), "probe-charge") == [HOLDS]


@pytest.mark.parametrize(
    ("bleed", "verdict"),
    [
        ("{resistance: 1 Mohm, head_removed: yes}", HOLDS),
        ("{resistance: 1.01 Mohm, head_removed: yes}", FAILS),
        ("{resistance: {value: 990 kohm, within: 100 kohm}, head_removed: yes}", FAILS),  # uncertain is not safe
        ("{resistance: 500 kohm, head_removed: no}", FAILS),
        ("{resistance: 500 kohm, head_removed: unknown}", OPEN),
        ("{resistance: unknown, head_removed: yes}", OPEN),
        ("{resistance: none, head_removed: yes}", FAILS),
        ("{head_removed: no}", FAILS),
        ("none", FAILS),
        ("unknown", OPEN),
    ],
)
@pytest.mark.parametrize("rod", [SHORT, BARE], ids=["coated", "bare"])
def test_an_isolated_core_ignites(rod: tuple[Change, ...], bleed: str, verdict: Verdict) -> None:
    study = zoned("1", "IIB", *rod, (BLEED, f"bleed: {bleed}"))
    assert verdicts(study, "probe-charge") == [verdict]
    wanted = {each.path for each in study.requirements}
    if verdict is OPEN:
        assert any(path.startswith("probe.bleed") for path in wanted)


@pytest.mark.parametrize(
    ("strong", "breakdown", "verdict"),
    [("yes", "", OPEN), ("yes", "\n  layer_breakdown: 3 kV", OPEN), ("yes", "\n  layer_breakdown: 20 kV", FAILS),
     ("unknown", "", OPEN), ("none", "", OPEN), ("no", "", HOLDS)],
)  # fmt: skip
def test_with_strong_charging_the_thickness_keeps_nothing(strong: str, breakdown: str, verdict: Verdict) -> None:
    assert verdicts(zoned("1", "IIB", *SHORT, strong=f"{strong}{breakdown}"), "probe-charge") == [verdict]
    by_thickness = zoned("0", "IIB", strong=f"{strong}{breakdown}")
    assert verdicts(by_thickness, "probe-charge") == [FAILS if strong == "yes" else OPEN]


def test_what_is_missing_is_named() -> None:
    study = zoned("1", "IIB", *SHORT, (BLEED, "bleed: unknown"), strong="unknown")
    said = finding(study, "probe-charged")
    assert said is not None
    named = {link.value for link in said.chain if link.text == "Not known"}
    assert named == {
        "resistance from the core to earth for direct current",
        "whether that way to earth stays with the head removed",
        "strong charging at the instrument: spray, fast flow of two phases, steam, pneumatic filling",
    }


@pytest.mark.parametrize(
    "change",
    [("core_diameter: 10 mm", "core_diameter: unknown"), ("coating_diameter: 14 mm", "coating_diameter: unknown"),
     ("rod: coated all over", "rod: unknown"), ("active_from: 50 mm", "active_from: unknown"),
     ("  group: IIB", "  group: unknown")],
)  # fmt: skip
def test_what_is_not_known_of_the_coating_never_holds(change: Change) -> None:
    assert verdicts(zoned("1", "IIB", *SHORT, change), "probe-charge") == [OPEN]


def test_what_is_uncertain_or_in_doubt_never_holds() -> None:
    """9100 mm2 of 10000 mm2, but a diameter known to 3 mm only; hydrogen asks for IIC, and IIB is stated."""
    wide = ("coating_diameter: 14 mm", "coating_diameter: {value: 14 mm, within: 3 mm}")
    assert verdicts(zoned("1", "IIB", *SHORT, wide), "probe-charge") == [OPEN]
    near = ("coating_diameter: 14 mm", "coating_diameter: {value: 14 mm, within: 0.5 mm}")
    assert verdicts(zoned("1", "IIA", *SHORT, near, ("14 mm, within", "13.4 mm, within")), "probe-charge") == [HOLDS]
    study = zoned("1", "IIB", *SHORT, ("  temperature_class: T4", "  temperature_class: T4\n  substance: hydrogen"))
    assert finding(study, "group-too-low") is not None
    assert verdicts(study, "probe-charge") == [OPEN]


def test_of_dust_no_limit_is_known_and_an_isolated_core_still_ignites() -> None:
    assert verdicts(zoned("20", "IIIB", *SHORT), "probe-charge") == [OPEN]
    assert verdicts(zoned("20", "IIIB", *SHORT, (BLEED, "bleed: {head_removed: no}")), "probe-charge") == [FAILS]


def test_without_a_zone_nothing_is_judged_and_nothing_asked() -> None:
    study = probe((BLEED, "bleed: unknown"))
    assert verdicts(study, "probe-charge") == []
    assert not [each for each in study.requirements if each.path.startswith("probe.bleed")]


def test_a_probe_has_no_float_and_no_other_layer() -> None:
    study = zoned("1", "IIB", *SHORT)
    asked = {each.path for each in (*study.questions, *study.requirements)}
    assert not [path for path in asked if path.startswith("charge.")]
    assert not [each.key for each in study.findings if each.key.startswith("charge:")]


def test_the_sheet_of_charge_warns_of_the_probe() -> None:
    study = zoned("0", "IIC")
    assert study.safe.ignition is not None
    assert [each.key for each in study.safe.ignition.charge.warnings] == ["probe-charged"]
    assert study.safe.ignition.charge.area is not None
