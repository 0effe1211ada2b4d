"""What is stated of a probe's build: contradictions by place and remedy, words with a record, absurd values."""

from __future__ import annotations

import pytest

from onedatum.case.builds import build_of, builds
from onedatum.case.model.probe import Earth, Probe
from onedatum.case.model.probe_build import ProbeBuild
from onedatum.case.reading import Statement
from tests.closeness import close
from tests.study.variants import EXAMPLES, statement_with

CAUSTIC = EXAMPLES / "caustic_tank.yaml"
BUILD = "  build: {form: rod, hot_neck: no, head: with display, guard_section: no}\n"
COATED = """  rod: coated all over
  core_diameter: 10 mm
  coating_diameter: 14 mm
  coating_permittivity: 2.1
  coating_material: PTFE
  length_confirmed: unknown
"""
ACTIVE = "active_to: 2500 mm"
BARE = (COATED, "  rod: bare\n  core_diameter: 10 mm\n")
TIP = ("rod: coated all over", "rod: coated but for a bare tip")
CHARGE = ("zone: none", "zone: none\ncharge: {%s}")


def stated(*changes: tuple[str, str]) -> Statement:
    return statement_with(*changes, example=CAUSTIC)


def built(words: str) -> tuple[str, str]:
    return BUILD, f"  build: {{{words}}}\n"


def charged(words: str) -> tuple[str, str]:
    return CHARGE[0], CHARGE[1] % words


@pytest.mark.parametrize(
    ("changes", "path", "words"),
    [
        ((built("form: rod, anchor_length: 100 mm"),), "build.anchor_length", "left away with a rod"),
        ((built("form: rod, rope_stretch: 5 mm"),), "build.rope_stretch", "left away with a rod"),
        ((BARE, built("coating_adheres: yes")), "build.coating_adheres", "left away with a bare rod"),
        ((BARE, built("pressure_min: 0.5 bar(a)")), "build.pressure_min", "left away with a bare rod"),
        ((built("form: stick"),), "build.form", "one of"),
        ((built("form: rod, colour: red"),), "build.colour", ""),
        ((built("temperature_max: 90"),), "build.temperature_max", "unit"),
        ((built("temperature_max: 90 C"),), "build.temperature_max", "degC"),
        ((built("pressure_max: 25 bar"),), "build.pressure_max", "bar"),
        ((built("pressure_min: 0.5 bar(g)"),), "build.pressure_min", ""),
        ((built("length_max: -4 m"),), "build.length_max", ""),
        ((built("length_max: 0 m"),), "build.length_max", ""),
        ((built("capacitance_max: 0 pF"),), "build.capacitance_max", ""),
        ((built("anchor_length: 1e9 m"),), "build.anchor_length", ""),
        (((BUILD, "  build: rod\n"),), "build", "a mapping with the keys"),
        (((BUILD, "  build: [rod]\n"),), "build", "a mapping with the keys"),
        ((("gland: {bridge: no}", "gland: {bridge: no, film_thickness: 1 mm}"),), "gland.film_thickness", "left away"),
        ((BARE, ("gland: {bridge: no}", "gland: {film_length: 1 mm}")), "gland.film_length", "left away"),
        ((("gland: {bridge: no}", "gland: {bridge: perhaps}"),), "gland.bridge", "one of"),
        (((ACTIVE, f"{ACTIVE}\n  gland_diameter: 9 mm"),), "gland_diameter", "above the diameter"),
        ((("500 kohm", "-1 ohm"),), "bleed.resistance", ""),
        ((("500 kohm", "500"),), "bleed.resistance", "unit"),
        ((("head_removed: yes", "head_removed: sometimes"),), "bleed.head_removed", "one of"),
        ((TIP, (ACTIVE, f"{ACTIVE}\n  inactive_length: none")), "inactive_length", "coated part"),
        ((TIP, (ACTIVE, f"{ACTIVE}\n  inactive_length: 0 mm")), "inactive_length", "coated part"),
        (((ACTIVE, f"{ACTIVE}\n  inactive_length: -1 mm"),), "inactive_length", ""),
        ((("apart: 150 mm", "apart: 150 mm, vented: yes"),), "earth.vented", "without an earthed tube"),
        ((("apart: 150 mm", "apart: 150 mm, drained: no"),), "earth.drained", "without an earthed tube"),
        (
            (("earthed rod beside it, rod_diameter: 16 mm, apart: 150 mm", "wall of the vessel, reaches_to: 30 mm"),),
            "earth.reaches_to",
            "without an earthed rod",
        ),
    ],
)  # fmt: skip
def test_each_contradiction_is_named_with_place_and_remedy(
    changes: tuple[tuple[str, str], ...], path: str, words: str
) -> None:
    faults = stated(*changes).faults
    assert [fault.path for fault in faults] == [f"probe.{path}"]
    assert words in faults[0].sentence()
    assert faults[0].place is not None


@pytest.mark.parametrize(
    ("words", "path"),
    [("layer: 2 mm", "charge.layer"), ("layer_diameter: 14 mm", "charge.layer_diameter"),
     ("layer_length: 2 m", "charge.layer_length"), ("core_earthed: yes", "charge.core_earthed"),
     ("float_surface: metal", "charge.float_surface"), ("float_bonded: yes", "charge.float_bonded")],
)  # fmt: skip
def test_the_coating_of_a_probe_is_stated_once(words: str, path: str) -> None:
    faults = stated(charged(words)).faults
    assert [fault.path for fault in faults] == [path]
    assert "left away with a capacitive probe" in faults[0].sentence()
    beside = stated(charged(words), ("principle: capacitive probe", "principle: differential pressure"))
    assert path not in {fault.path for fault in beside.faults}


def test_every_word_of_the_build_has_its_record() -> None:
    """What the case offers and what the table knows are the same words."""
    offers = {
        "probe form": (ProbeBuild, "form"),
        "probe gland": (ProbeBuild, "hot_neck"),
        "probe head": (ProbeBuild, "head"),
        "probe guard": (ProbeBuild, "guard_section"),
        "probe rod": (Probe, "rod"),
        "probe earth": (Earth, "kind"),
    }
    for aspect, (section, key) in offers.items():
        schema = section.model_json_schema(by_alias=True)["properties"][key]
        offered = {word for each in schema["anyOf"] for word in each.get("enum", ()) if isinstance(word, str)}
        known = {build.word for build in builds() if build.aspect == aspect}
        assert known == offered - {"unknown", "none"}, aspect


@pytest.mark.parametrize(
    ("aspect", "word", "degC"),
    [("probe coating", "PE", 60), ("probe coating", "PVDF", 120), ("probe coating", "PTFE", 200),
     ("probe coating", "PFA", 200), ("probe gland", "no", 150), ("probe gland", "yes", 400)],
)  # fmt: skip
def test_the_figures_of_the_trade_are_kept_in_kelvin(aspect: str, word: str, degC: float) -> None:
    """Common practice, no source."""
    found = build_of(aspect, word)
    assert found is not None and found.temperature_max_K is not None
    close(found.temperature_max_K, degC + 273.15, 1e-9, "degC in K")


def test_a_coated_rod_is_cut_nowhere_and_a_bare_tip_at_its_tip() -> None:
    words = {build.word: build.cuttable for build in builds() if build.aspect == "probe rod"}
    assert words["coated all over"].startswith("nowhere")
    assert "bare end only" in words["coated but for a bare tip"]
    assert "on site" in words["bare"]
