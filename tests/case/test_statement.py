"""Liquid, quantity, batch and tolerance as stated: what is refused, and with what remedy."""

from __future__ import annotations

from math import inf, sqrt

import pytest

from onedatum.case.leaf import Value
from onedatum.case.reading import Statement, read_case_text
from tests.closeness import close


def read(text: str) -> Statement:
    """A case of a few lines."""
    return read_case_text(f"onedatum: 1\n{text}\n", "case.yaml")


def told(text: str) -> str:
    """All faults of a case as printed."""
    return "\n".join(str(fault) for fault in read(text).faults)


def level(stated: str) -> Value:
    """The level now, read from its long form."""
    return read(f"level_now: {{value: 1850 mm, {stated}}}").case.level_now


# ---------------------------------------------------------------- how well a number is known


@pytest.mark.parametrize(
    ("stated", "standard_mm", "form", "freedom"),
    [
        ("within: 0.6 mm", 0.6 / sqrt(3), "rectangular", inf),
        ("within: 0.6 mm, form: rectangular", 0.6 / sqrt(3), "rectangular", inf),
        ("within: 0.6 mm, form: triangular", 0.6 / sqrt(6), "triangular", inf),
        ("within: 0.6 mm, form: arcsine", 0.6 / sqrt(2), "arcsine", inf),
        ("u: 0.4 mm", 0.4, "normal", inf),
        ("u: 0.4 mm, degrees_of_freedom: 9", 0.4, "normal", 9.0),
        ("U: 0.9 mm, k: 3, degrees_of_freedom: 5", 0.3, "normal", 5.0),
    ],
)
def test_an_uncertainty_says_its_form_and_how_well_it_is_known(
    stated: str, standard_mm: float, form: str, freedom: float
) -> None:
    """JCGM 100, 4.3.7 and 4.3.9: a/sqrt(3), a/sqrt(6); the arcsine form a/sqrt(2) (from memory: JCGM 101, 6.4.6)."""
    found = level(stated).uncertainty
    assert found is not None
    close(1000.0 * found.standard, standard_mm, 1e-12, "rounding")
    assert (found.form, found.degrees_of_freedom) == (form, freedom)


@pytest.mark.parametrize(
    ("stated", "words"),
    [
        ("u: 0.4 mm, form: triangular", "form without within"),
        ("within: 0.4 mm, degrees_of_freedom: 9", "degrees_of_freedom without u or U"),
        ("u: 0.4 mm, k: 2", "k without U"),
        ("within: 0.4 mm, form: triangle", "Nearest: triangular"),
        ("u: 0.4 mm, degrees_of_freedom: 0.5", "degrees_of_freedom must be 1 or more"),
        ("u: 0.4 mm, degrees_of_freedom: many", "a plain number"),
        ("degrees_of_freedom: 4", "degrees_of_freedom without u or U"),
    ],
)
def test_what_does_not_go_together_is_refused(stated: str, words: str) -> None:
    assert words in told(f"level_now: {{value: 1850 mm, {stated}}}")


# ---------------------------------------------------------------- liquids


@pytest.mark.parametrize(
    ("name", "instead"),
    [
        ("LPG", "density table"),
        ("propane", "density table"),
        ("ethanol", "ethanol-water"),
        ("methanol", "density table"),
    ],
)
@pytest.mark.parametrize("line", ["kind: {}", "kind: petroleum product\n  group: {}"])
def test_a_product_the_petroleum_tables_do_not_cover_is_refused_by_name(name: str, instead: str, line: str) -> None:
    said = told(f"medium:\n  {line.format(name)}")
    assert repr(name) in said and instead in said


@pytest.mark.parametrize("density", ["0.89 kg/m3", "0.8364 kg/m3", "1.1 kg/m3"])
def test_a_density_in_the_wrong_unit_is_asked(density: str) -> None:
    said = told(f"medium:\n  kind: petroleum product\n  density: {density}")
    assert "medium.density must be from 30 kg/m3" in said and "kg/L or g/cm3 may be meant" in said
    assert told(f"medium:\n  kind: petroleum product\n  density: {density.replace('kg/m3', 'kg/L')}") == ""


def test_a_density_without_a_unit_is_asked() -> None:
    said = told("medium:\n  density: 0.89")
    assert "medium.density must be a density with its unit" in said and "The unit is missing" in said


@pytest.mark.parametrize(
    "line", ["strength: {value: 120 %vol, at: 20 degC}", "strength_by_mass: -1 %mass", "us_proof: 201"]
)
def test_a_strength_outside_is_refused(line: str) -> None:
    path = line.partition(":")[0]
    assert f"medium.{path} must be" in told(f"medium:\n  kind: ethanol-water\n  {line}")


@pytest.mark.parametrize(
    ("lines", "path"),
    [
        (("strength: {value: 68 %vol, at: 20 degC}", "us_proof: 136"), "medium.us_proof"),
        (("strength_by_mass: 60 %mass", "us_proof: 136"), "medium.us_proof"),
        (("strength: {value: 68 %vol, at: 20 degC}", "density: 890 kg/m3"), "medium.density"),
        (("kind: water", "group: crude oil"), "medium.group"),
    ],
)
def test_one_thing_is_stated_once(lines: tuple[str, str], path: str) -> None:
    kind = () if lines[0].startswith("kind") else ("kind: ethanol-water",)
    said = told("medium:\n  " + "\n  ".join((*kind, *lines)))
    assert f"{path} must be left away" in said


def test_rounding_belongs_to_petroleum() -> None:
    text = "medium: {kind: ethanol-water}\nquantity: {arithmetic: rounded as the standard}"
    assert "quantity.arithmetic must be exact" in told(text)


# ---------------------------------------------------------------- quantity, batch, tolerance, limits


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("quantity: {free_water_level: 40 mm, free_water: 2 m3}", "quantity.free_water must be left away"),
        ("quantity: {reference_temperature: 25 degC}", "one of: 15 degC; 20 degC; 60 degF"),
        ("quantity: {sediment_and_water: 0.05 %mass}", "quantity.sediment_and_water must be"),
        ("tolerance: {volume_at_least: 5 m3, volume_at_most: 4 m3}", "tolerance.volume_at_most must be above"),
        ("tolerance: {rule: simple acceptance, guard_factor: 1}", "tolerance.guard_factor must be left away"),
        ("batch: {level_before: 2 m, level_after: 2000 mm}", "batch.level_after must be another level"),
        ("legal: {gauge: nl-2007}", "nl-2007-initial"),
        ("correlations:\n  - {between: level_now, and: datum_error, r: 1.5}", "correlations[0].r must be"),
        ("medium: {kind: gas oil}", "medium.kind must be one of"),
        ("wanted: {of: barrels}", "wanted.of must be one of"),
    ],
)
def test_what_cannot_be_is_refused_with_its_place(text: str, words: str) -> None:
    assert words in told(text)


@pytest.mark.parametrize("form", ["[1, 2]", "{a: b}", "yes", "1e400 m3", "''", "- x"])
@pytest.mark.parametrize("section", ["quantity", "batch", "tolerance", "legal", "correlations"])
def test_nonsense_in_a_section_leaves_the_rest_to_be_read(section: str, form: str) -> None:
    found = read(f"tag: LT-1\n{section}: {form}" if form != "- x" else f"tag: LT-1\n{section}:\n  - x")
    assert found.case.tag.text == "LT-1"
    if form == "''":
        assert found.faults == (), "empty is as good as absent"
    else:
        assert [fault.path for fault in found.faults if fault.path.startswith(section)]
