"""The liquid of a probe: its permittivity by what it is, what its changes do to the reading, the reference section."""

from __future__ import annotations

import numpy as np
import pytest

from onedatum.physics.media import (
    liquid_permittivity,
    maxwell_garnett_permittivity,
    wiener_lower_permittivity,
    wiener_upper_permittivity,
)
from onedatum.study.probe import Change, ProbeChapter
from onedatum.study.result import Study
from onedatum.verdicts import Effect, Verdict
from tests.closeness import close
from tests.reference import case
from tests.study.test_probe import (
    BARE,
    CONDUCTIVITY,
    PERMITTIVITY,
    STAYS,
    STEEL,
    TESTED,
    finding,
    number,
    probe,
    text_of,
    verdicts,
)

_KIND = "kind: liquid of stated density\n  density: 1525.3 kg/m3\n  density_at: 20 degC\n  temperature: 20 degC\n"
_NO_PERMITTIVITY = (f"  permittivity: {PERMITTIVITY}\n", "")
_DRY = ((CONDUCTIVITY, "1 pS/m"), (STAYS, TESTED))
WARM = "temperature: {value: 20 degC, min: 5 degC, max: 35 degC}\n"
AT_20 = "temperature: 20 degC\n"
LIGHT = "kind: liquid of stated density\n  density: 866 kg/m3\n  density_at: 20 degC\n  "
GAS_OIL = "kind: petroleum product\n  group: refined product\n  density: 800 kg/m3\n  density_at: 20 degC\n  "
SPIRIT = "kind: ethanol-water\n  strength: {value: 68 %vol, at: 20 degC}\n  "
GRAIN = (
    "bulk: {solid_permittivity: 3.0, solid_density: 1400 kg/m3, "
    "packing: {value: 58 %vol, min: 54 %vol, max: 62 %vol}, "
    "moisture: {value: 12 %mass, min: 10 %mass, max: 16 %mass}}\n  "
)
REFERENCE = "reference_section: {from: 50 mm, to: 140 mm, even: yes}"


def liquid(medium: str, *changes: tuple[str, str], rod: tuple[tuple[str, str], ...] = BARE) -> Study:
    """The caustic tank, of steel, with a rod in another liquid that does not conduct."""
    return probe((_KIND, medium), _NO_PERMITTIVITY, *_DRY, *rod, *STEEL, *changes)


def stated(permittivity: str, *changes: tuple[str, str], rod: tuple[tuple[str, str], ...] = BARE) -> Study:
    """The same with its permittivity stated."""
    return liquid(f"{LIGHT}{AT_20}  permittivity: {permittivity}\n", *changes, rod=rod)


def section(words: str = REFERENCE) -> tuple[str, str]:
    return "  film:\n", f"  {words}\n  film:\n"


def chapter(study: Study) -> ProbeChapter:
    assert study.measuring.probe is not None
    return study.measuring.probe


def change(study: Study, text: str) -> Change:
    return next(each for each in chapter(study).changes if each.text == text)


def texts(study: Study) -> set[str]:
    return {each.text for each in chapter(study).changes if each.told}


LEAST, GREATEST = (f"permittivity at its {end} within what is not known of it" for end in ("least", "greatest"))
COLD, HOT = "liquid at its coldest", "liquid at its hottest"


# ---------------------------------------------------------------- what the permittivity is


def test_a_pure_liquid_by_its_name_and_its_number() -> None:
    """Toluene at 20 degC by hand from the three terms of the handbook; the handbook has 2.379 at 23.2 degC."""
    by_hand = 3.2584 - 0.003441 * 293.15 + 1.5937e-6 * 293.15**2
    for name in ("Toluene", "toluene", "108-88-3"):
        found = liquid(f"{LIGHT}substance: {name}\n  {AT_20}")
        close(number(found, "medium.permittivity_worked"), by_hand, 1e-12, "three terms, rounded")
        assert found.faults == ()


def test_ethanol_with_water_by_strength_and_warmth() -> None:
    """68 %vol is 60.27 % by mass; the table of Akerlof has 44.67 at 60 and 39.14 at 70 (from memory)."""
    fraction = number(liquid(SPIRIT + AT_20), "medium.mass_fraction")
    straight = 44.67 + (fraction - 0.6) / 0.1 * (39.14 - 44.67)
    close(number(liquid(SPIRIT + AT_20), "medium.permittivity_worked"), straight, 1e-9, "straight between two rows")
    cold = number(liquid(SPIRIT + WARM), "medium.permittivity_worked[state coldest]")
    per_kelvin = (cold - straight) / 15.0
    # Water falls by 0.37 and ethanol by 0.12 per kelvin (read): the mixture between the two.
    assert 0.12 < per_kelvin < 0.37


def test_petroleum_brings_the_half_width_of_its_constant() -> None:
    """800 kg/m3 at 20 degC: K of 0.340 within 0.012 cm3/g gives 2.121 within 0.054 (worked by hand)."""
    found = liquid(GAS_OIL + AT_20)
    value, least, greatest = (number(found, f"medium.permittivity_worked{end}") for end in ("", "_least", "_greatest"))
    close(value, 2.121, 1e-3, "as printed")
    close(greatest, (1 + 2 * 0.000352 * 800) / (1 - 0.000352 * 800), 2e-4, "density printed to a tenth")
    close(least, (1 + 2 * 0.000328 * 800) / (1 - 0.000328 * 800), 2e-3, "the wider side counts for both")


def test_a_mixture_has_the_spread_of_the_rules_and_keeps_to_the_bounds() -> None:
    """Grain of 5.5 at 35 % in air: the rules run from 1.797 to 2.038 (reference cases of the rules)."""
    found = liquid(
        f"{LIGHT}substance: hexane\n  mixture: {{other_permittivity: 5.5, share: 35 %vol, bind: no}}\n  {AT_20}"
    )
    base = liquid_permittivity("110-54-3").at(293.15)
    value = number(found, "medium.permittivity_worked")
    least, greatest = (number(found, f"medium.permittivity_worked_{end}") for end in ("least", "greatest"))
    assert wiener_lower_permittivity(0.35, 5.5, base) < least < value < greatest
    assert greatest < wiener_upper_permittivity(0.35, 5.5, base) * 1.01
    # The lowest of the rules is that of balls far apart, or the law of logarithms.
    assert least <= maxwell_garnett_permittivity(0.35, 5.5, base)
    assert {LEAST, GREATEST} <= texts(found)


def test_dry_grain_in_air_has_the_spread_of_the_reference_cases() -> None:
    """Lichtenecker, Looyenga and balls of the reference lie within; the ends are the least and greatest of them."""
    dry = "bulk: {solid_permittivity: 5.5, solid_density: 1400 kg/m3, packing: 35 %vol, moisture: 0 %mass}\n  "
    found = liquid(LIGHT + dry + AT_20)
    least, greatest = (number(found, f"medium.permittivity_worked_{end}") for end in ("least", "greatest"))
    case("capacitance-mix_maxwell_garnett").check(least)
    case("capacitance-mix_looyenga").check(greatest)


def test_moist_wheat_lies_in_the_usual_range() -> None:
    """Wheat of 12 % moisture: 2.5 to 4 (from memory)."""
    assert 2.5 < number(liquid(LIGHT + GRAIN + AT_20), "medium.permittivity_worked") < 4.0


def test_two_that_bind_mix_by_their_volumes() -> None:
    """Half water, half glycol by volume at 20 degC: 80.22 and 41.4 give 60.8 within 4 % (derived)."""
    found = liquid(f'kind: water\n  mixture: {{other: "1,2-Ethanediol", share: 50 %vol, bind: yes}}\n  {AT_20}')
    close(number(found, "medium.permittivity_worked"), 0.5 * (80.2226 + 41.4), 0.3, "polynomial beside point value")
    low = number(found, "medium.permittivity_worked_least")
    assert 0.95 < low / number(found, "medium.permittivity_worked") < 0.97


def test_a_stated_permittivity_comes_before_every_law() -> None:
    found = stated("2.30\n  substance: toluene")
    close(number(found, "probe.sensitivity") * 1e12, 55.6325 * 1.3 / 5.438079, 1e-4, "by hand")
    assert "medium.permittivity_worked" not in found.sheet
    said = finding(found, "probe-permittivity-other")
    assert said is not None
    assert "2.379" in text_of(said)
    assert finding(stated("2.38\n  substance: toluene"), "probe-permittivity-other") is None


# ---------------------------------------------------------------- what its changes do


@pytest.mark.parametrize(("rod", "worked"), [(BARE, "eps_error_2pt"), ((), "eps_error_2pt_coated")])
def test_the_error_of_another_permittivity_is_that_of_the_worked_case(
    rod: tuple[tuple[str, str], ...], worked: str
) -> None:
    """2.30 to 2.25: -3.846 % of the wetted length bare, -3.680 % coated in a tank of 1 m."""
    tank = ("kind: metal, earthed", "kind: metal, earthed\n    equivalent_radius: 500 mm")
    found = stated("{value: 2.30, min: 2.25, max: 2.30}", tank, rod=rod)
    error = change(found, "permittivity at its least").error.value
    assert error is not None
    case(f"capacitance-{worked}").check(100.0 * error / number(found, "probe.wetted[20 mA]"))


@pytest.mark.parametrize(
    ("medium", "expected"),
    [
        (f"{LIGHT}substance: toluene\n  {WARM}", {COLD, HOT}),
        (GAS_OIL + WARM, {COLD, HOT, LEAST, GREATEST}),
        (SPIRIT + WARM, {COLD, HOT, LEAST, GREATEST}),
        (f"{SPIRIT}strength_least: 60 %vol\n  {AT_20}", {"strength at its least"}),
        (f"{SPIRIT}strength_greatest: 75 %vol\n  {AT_20}", {"strength at its greatest"}),
        (
            f"{GAS_OIL}mixture: {{other: toluene, bind: no, share: {{value: 10 %vol, min: 5 %vol, max: 20 %vol}}}}\n  "
            + AT_20,
            {"share mixed in at its least", "share mixed in at its greatest"},
        ),
        (
            LIGHT + GRAIN + AT_20,
            {
                "moisture at its least",
                "moisture at its greatest",
                "packing of the grains at its least",
                "packing of the grains at its greatest",
            },
        ),
        (f"kind: water\n  {WARM}", {COLD, HOT}),
    ],
)
def test_every_change_that_is_stated_has_its_row(medium: str, expected: set[str]) -> None:
    found = liquid(medium)
    assert found.faults == ()
    assert expected <= texts(found)


def test_warmth_moves_petroleum_as_its_density_does() -> None:
    """A bare rod: h (e - e_0)/(e_0 - 1), with e by Clausius and Mossotti at the density in the heat (derived)."""
    found = liquid(GAS_OIL + WARM)
    hot, now = (
        (1 + 2 * 0.00034 * number(found, f"medium.density[{state}]"))
        / (1 - 0.00034 * number(found, f"medium.density[{state}]"))
        for state in ("hottest", "normal")
    )
    expected = number(found, "probe.wetted[20 mA]") * (hot - now) / (now - 1.0)
    close(change(found, HOT).error.value, expected, 1e-9, "by hand")
    assert expected < -0.03


def test_a_setting_at_two_levels_takes_in_what_is_not_known_and_not_what_changes() -> None:
    found = liquid(GAS_OIL + WARM)
    unknown, warm = change(found, LEAST), change(found, HOT)
    assert (unknown.set_in_it, unknown.settled) == (True, True)
    assert (warm.set_in_it, warm.settled) == (False, False)
    said, change_said = finding(found, f"probe-change[{LEAST}]"), finding(found, f"probe-change[{HOT}]")
    assert said is not None and change_said is not None
    assert said.title.startswith("Set by calculation alone")
    assert (said.effect, change_said.effect) == (Effect.WARNING, Effect.BLOCKS)
    open_ = liquid(GAS_OIL + WARM, ("  set_low: 150 mm\n", ""))
    assert not change(open_, LEAST).settled
    stops = finding(open_, f"probe-change[{LEAST}]")
    assert stops is not None and stops.effect is Effect.BLOCKS


def test_the_uncertainty_of_a_stated_permittivity_is_one_of_the_widths() -> None:
    """Within 0.1, as likely anywhere: twice its standard uncertainty is 0.2/sqrt 3 (JCGM 100 4.3.7)."""
    found = stated("{value: 2.3, within: 0.1}")
    close(number(found, "medium.permittivity_least"), 2.3 - 0.2 / np.sqrt(3.0), 1e-12, "by hand")
    assert {LEAST, GREATEST} <= texts(found)


def test_where_the_coating_alone_counts_nothing_of_the_liquid_moves_it() -> None:
    found = probe((_KIND, f"kind: water\n  {WARM}"), _NO_PERMITTIVITY, *STEEL, (STAYS, TESTED))
    assert chapter(found).regime.word == "conductive"
    assert len(chapter(found).changes) == 2
    assert texts(found) == set()


def test_warmth_counts_for_the_regime_as_well() -> None:
    """Colder water has the greater permittivity, so the coating alone counts from a greater conductivity."""
    found = probe((_KIND, f"kind: water\n  {WARM}"), _NO_PERMITTIVITY, *STEEL, (CONDUCTIVITY, "95 uS/cm"))
    assert number(found, "probe.conductive_from_all") > number(found, "probe.conductive_from")


def test_warmth_beside_a_stated_permittivity_is_asked_for() -> None:
    one = liquid(f"{LIGHT}{WARM}  permittivity: 2.3\n")
    said = finding(one, "probe-warmth-not-told")
    assert said is not None
    assert said.effect is Effect.WARNING
    both = liquid(f"{LIGHT}{WARM}  permittivity: {{value: 2.3, min: 2.25, max: 2.35}}\n")
    assert finding(both, "probe-warmth-not-told") is None


def test_a_handbook_at_odds_with_itself_is_told() -> None:
    """2-octanol: 16 % between point value and polynomial (counted in the package)."""
    said = finding(liquid(f"{LIGHT}substance: 4128-31-8\n  {AT_20}"), "probe-handbook[medium.substance]")
    assert said is not None
    assert "15.9" in text_of(said)
    assert finding(liquid(f"{LIGHT}substance: toluene\n  {AT_20}"), "probe-handbook[medium.substance]") is None


def test_a_liquid_warmer_than_set_makes_the_alarm_late_unless_it_is_taken_off() -> None:
    assert verdicts(liquid(GAS_OIL + WARM), "probe-late")
    assert verdicts(liquid(GAS_OIL + WARM, section()), "probe-late") == []


def test_a_liquid_that_may_hold_less_than_its_gas_is_not_felt_and_nothing_else_is_blamed() -> None:
    gas = ("density: 1.2 kg/m3}", "density: 1.2 kg/m3, permittivity: 1.8}")
    found = stated("{value: 2.0, min: 1.7, max: 2.1}", gas)
    assert found.faults == ()
    assert verdicts(found, "probe-feels") == [Verdict.DOES_NOT_SUIT]
    said = finding(found, "probe-feels-nothing[permittivity at its least]")
    assert said is not None
    assert said.effect is Effect.BLOCKS


# ---------------------------------------------------------------- the reference section


@pytest.mark.parametrize("rod", [BARE, ()])
def test_a_reference_section_takes_every_even_change_off(rod: tuple[tuple[str, str], ...]) -> None:
    """Both see the same liquid: exact, bare and coated (derived); here to the arithmetic."""
    found = liquid(GAS_OIL + WARM, section(), rod=rod)
    for each in chapter(found).changes:
        assert each.left is not None and each.left.value is not None and each.error.value is not None
        assert abs(each.left.value) < 1e-9 < abs(each.error.value)
    assert verdicts(found, "probe-reference-covered") == [Verdict.SUITS]
    assert verdicts(found, "probe-reference-even") == [Verdict.SUITS]
    said = finding(found, f"probe-change[{HOT}]")
    assert said is not None
    assert said.effect is Effect.WARNING
    close(number(found, "probe.reference_gain"), 2.15 / 0.09, 1e-9, "by hand")


@pytest.mark.parametrize(
    ("words", "changes", "key", "finding_key"),
    [
        ("reference_section: {from: 50 mm, to: 300 mm, even: yes}", (), "covered", "bare"),
        (REFERENCE, (("free_water_level: none", "free_water_level: 80 mm"),), "even", "second-liquid"),
        (
            REFERENCE,
            (("pressure:\n", "interface: {lower_density: 998 kg/m3}\n\npressure:\n"),),
            "even",
            "second-liquid",
        ),
        ("reference_section: {from: 50 mm, to: 140 mm, even: no}", (), "even", "second-liquid"),
    ],
)
def test_a_reference_section_that_cannot_be_counted_on_stops_the_order(
    words: str, changes: tuple[tuple[str, str], ...], key: str, finding_key: str
) -> None:
    found = liquid(GAS_OIL + WARM, section(words), *changes)
    assert verdicts(found, f"probe-reference-{key}") == [Verdict.DOES_NOT_SUIT]
    said = finding(found, f"probe-reference-{finding_key}")
    assert said is not None
    assert said.effect is Effect.BLOCKS
    assert all(each.left is None for each in chapter(found).changes)
    assert finding(found, f"probe-change[{HOT}]").effect is Effect.BLOCKS  # type: ignore[union-attr]


def test_an_evenness_that_is_not_said_is_asked_and_nothing_is_taken_off() -> None:
    found = liquid(GAS_OIL + WARM, section("reference_section: {from: 50 mm, to: 140 mm}"))
    assert verdicts(found, "probe-reference-even") == [Verdict.UNDECIDED]
    assert any(question.path == "probe.reference_section.even" for question in found.questions)
    assert all(each.left is None for each in chapter(found).changes)


def test_a_reference_section_half_stated_is_a_requirement() -> None:
    found = liquid(GAS_OIL + WARM, section("reference_section: {from: 50 mm, even: yes}"))
    assert any(each.path == "probe.reference_section.to" for each in found.requirements)


# ---------------------------------------------------------------- as it cannot be, or is not known

MIXED = "mixture: {other: toluene, share: 10 %vol, bind: no}"
CANNOT = (
    (f"{LIGHT}substance: tolune\n  {AT_20}", "medium.substance must be the name", "Nearest: Toluene"),
    (f"{LIGHT}substance: 0-00-0\n  {AT_20}", "medium.substance must be the name", "CAS number"),
    (f"{GAS_OIL}{MIXED.replace('toluene', 'nosuch')}\n  {AT_20}", "medium.mixture.other must be", "table"),
    (f"{LIGHT}substance: toluene\n  temperature: 60 degC\n", "medium.temperature must be", "hotter"),
    (f"{LIGHT}substance: Acetaldehyde\n  {AT_20}", "medium.temperature must be", "hotter"),
    (f"kind: water\n  substance: toluene\n  {AT_20}", "medium.substance must be left away", "Water brings its own"),
    (f"{GAS_OIL}{MIXED}\n  permittivity: 2.3\n  {AT_20}", "medium.mixture.share must be left away", "as it is"),
    (f"{LIGHT}{GRAIN}permittivity: 2.3\n  {AT_20}", "medium.bulk.moisture must be left away", "as it is"),
    (f"{GAS_OIL}{GRAIN}{AT_20}", "medium.kind must be liquid of stated density", "bulk"),
    (f"{LIGHT}{GRAIN}{MIXED}\n  {AT_20}", "medium.mixture.other must be left away", "no liquid"),
    (f"{GAS_OIL}mixture: {{other: toluene, other_permittivity: 2, share: 1 %vol, bind: no}}\n  {AT_20}",
     "medium.mixture.other_permittivity must be left away", "one way"),
    (f"{GAS_OIL}{MIXED.replace('10 %', '110 %')}\n  {AT_20}", "medium.mixture.share must be", "all"),
    (f"{GAS_OIL}{MIXED.replace('10 %vol', '10')}\n  {AT_20}", "medium.mixture.share must be", "%vol"),
    (f"{GAS_OIL}{MIXED.replace('no', 'maybe')}\n  {AT_20}", "medium.mixture.bind must be", "yes"),
    (f"{GAS_OIL}mixture: toluene\n  {AT_20}", "medium.mixture must be a mapping", "other"),
    (f"{LIGHT}{GRAIN.replace('12 %mass', '-2 %mass')}{AT_20}", "medium.bulk.moisture must be", "0"),
    (f"{LIGHT}{GRAIN.replace('3.0', '0.5')}{AT_20}", "medium.bulk.solid_permittivity must be", "1"),
    (f"{SPIRIT}strength_least: 70 %vol\n  {AT_20}", "medium.strength_least must be at most the strength", "now"),
    (f"{SPIRIT}strength_greatest: 60 %vol\n  {AT_20}", "medium.strength must be at most the greatest", "now"),
    (f"{GAS_OIL}strength_least: 60 %vol\n  {AT_20}", "medium.strength_least must be left away", "no alcohol"),
    (f"{SPIRIT}temperature: -10 degC\n", "medium.temperature must be", "colder"),
)  # fmt: skip


@pytest.mark.parametrize(("medium", "words", "remedy"), CANNOT)
def test_what_cannot_be_is_named_with_its_remedy(medium: str, words: str, remedy: str) -> None:
    found = liquid(medium)
    told = [str(fault) for fault in found.faults]
    assert any(words in fault and remedy in fault and "caustic_tank.yaml:" in fault for fault in told), told
    assert number(found, "vessel.full_volume") > 10.0


@pytest.mark.parametrize(
    ("words", "fault"),
    [
        ("reference_section: {from: 140 mm, to: 50 mm}", "probe.reference_section.to must be above its lower end"),
        ("reference_section: {from: 140 mm, to: 3 m}", "probe.reference_section.to must be at most the end"),
        ("reference_section: {from: 140, to: 150 mm}", "probe.reference_section.from must be"),
        ("reference_section: {from: 0 mm, to: 140 mm, even: perhaps}", "probe.reference_section.even must be one of"),
        ("reference_section: 100 mm", "probe.reference_section must be a mapping"),
        ("reference_section: {length: 100 mm}", "probe.reference_section.length must be a key that is known"),
    ],
)
def test_a_reference_section_that_cannot_be_is_named(words: str, fault: str) -> None:
    found = liquid(GAS_OIL + WARM, section(words))
    assert any(fault in str(each) for each in found.faults), [str(each) for each in found.faults]


@pytest.mark.parametrize(
    ("medium", "path"),
    [
        (f"{LIGHT}{AT_20}", "medium.permittivity"),
        (f"{LIGHT}substance: unknown\n  {AT_20}", "medium.permittivity"),
        (f"{GAS_OIL}mixture: {{other: toluene, share: 10 %vol}}\n  {AT_20}", "medium.mixture.bind"),
        (f"{GAS_OIL}mixture: {{other: toluene, bind: no}}\n  {AT_20}", "medium.mixture.share"),
        (f"{GAS_OIL}mixture: {{share: 10 %vol, bind: no}}\n  {AT_20}", "medium.mixture.other"),
        (f"{LIGHT}{MIXED}\n  {AT_20}", "medium.substance"),
        (f"{LIGHT}bulk: {{packing: 58 %vol}}\n  {AT_20}", "medium.bulk.moisture"),
        (f"kind: ethanol-water\n  strength: unknown\n  {AT_20}", "medium.strength"),
        (f"{LIGHT}substance: toluene\n  temperature: unknown\n", "medium.temperature"),
    ],
)
def test_what_is_not_known_is_asked_for_by_name(medium: str, path: str) -> None:
    found = liquid(medium)
    assert not found.sheet["probe.sensitivity"].known
    assert path in {question.path for question in found.questions}


def test_a_state_may_bear_any_name() -> None:
    """A name that looks like one of the tool's own takes nothing from it."""
    state = ("  - name: normal\n", "  - name: strength_least\n    instrument: fitted\n  - name: coldest\n")
    found = liquid(f"{SPIRIT}strength_least: 60 %vol\n  {WARM}", state)
    assert "strength at its least" in texts(found)
    assert {COLD, HOT} & texts(found)


LONE = "bulk: {solid_permittivity: 3.0, solid_density: 1400 kg/m3, packing: 58 %vol, moisture: 12 %mass}\n  "
PACKED = LONE.replace("58 %vol", "{value: 58 %vol, min: 54 %vol, max: 62 %vol}")


@pytest.mark.parametrize(
    ("bulk", "changes", "asked"),
    [
        (LONE, (), {"medium.bulk.packing.range", "medium.bulk.moisture.range"}),
        (PACKED, (), {"medium.bulk.moisture.range"}),
        (GRAIN, (), set()),
        (LONE, (section(),), set()),  # a section that stays covered takes it off
    ],
)
def test_grain_of_one_packing_and_moisture_is_asked_for_its_range(
    bulk: str, changes: tuple[tuple[str, str], ...], asked: set[str]
) -> None:
    """Filling and settling move it by 5 to 10 % (common practice, no source): one value must not count as none."""
    found = liquid(f"{LIGHT}{bulk}{AT_20}", *changes)
    assert {each.path for each in found.questions if each.path.startswith("medium.bulk")} == asked
    said = finding(found, "probe-grain-range")
    assert (said is not None) is bool(asked)
    assert said is None or said.effect is Effect.WARNING
