"""What is stated of the instrument: contradictions by place and remedy, builds and the limits they bring along."""

from __future__ import annotations

from dataclasses import fields

import pytest

from onedatum.case.builds import Build, build_of, builds, greatest, least
from onedatum.case.model.build import Build as StatedBuild
from onedatum.case.reading import Statement, read_case_text
from tests.closeness import close
from tests.study.stems import STEM, with_lines


def stated(text: str) -> Statement:
    return read_case_text(text, "stem.yaml")


def in_float(**changes: str) -> str:
    start = STEM.index("  float:\n    form")
    return STEM[:start] + with_lines(STEM[start:], changes)


def with_magnet(**changes: str) -> str:
    magnet = "  magnet:\n    form: ring\n    inside_diameter: 16 mm\n    outside_diameter: 31 mm\n    length: 10 mm\n"
    return STEM.replace("  stem:\n", with_lines(magnet, changes) + "  stem:\n", 1)


def test_the_small_case_has_no_fault() -> None:
    assert stated(STEM).faults == ()
    assert stated(with_magnet()).faults == ()


@pytest.mark.parametrize(
    ("text", "path", "words"),
    [
        (in_float(bore="50 mm"), "instrument.float.bore", "outside diameter"),
        (in_float(form="ring", height="26 mm"), "instrument.float.height", "less than half"),
        (in_float(form="ring", height="12 mm", bore="14 mm"), "instrument.float.bore", "about 26.0 mm"),
        (in_float(form="sphere with a bore"), "instrument.float.height", "left away"),
        (in_float(magnet_plane_above_bottom="centre\n    wall: 25 mm"), "instrument.float.wall", "half the diameter"),
        (with_magnet(outside_diameter="16 mm"), "instrument.magnet.outside_diameter", "above the inside diameter"),
        (with_magnet(inside_diameter="12 mm"), "instrument.magnet.inside_diameter", "at least the bore"),
        (with_magnet(outside_diameter="60 mm"), "instrument.magnet.outside_diameter", "diameter of the float"),
        (STEM.replace("float: metal", "float: plastic"), "instrument.build.float", "kind of the material"),
        (
            STEM.replace("hot_neck: no", "hot_neck: no\n    bend_radius: 300 mm"),
            "instrument.build.bend_radius",
            "rigid",
        ),
        (
            STEM.replace("  stem:\n", "  waveguide: {speed: 2800 m/s, slowness: 357 us/m}\n  stem:\n", 1),
            "instrument.waveguide.slowness",
            "beside the speed",
        ),
        (STEM.replace("density: 850 kg/m3", "density: 850"), "medium.density", "unit"),
        (
            STEM.replace("pressure_rating: 10 bar(g)", "pressure_rating: 10 bar"),
            "instrument.float.pressure_rating",
            "bar",
        ),
        (STEM.replace("surface: plain metal", "surface: wood"), "instrument.build.surface", "one of"),
        (STEM.replace("hot_neck: no", "hot_neck: no\n    colour: red"), "instrument.build.colour", ""),
    ],
)
def test_each_contradiction_is_named_with_place_and_remedy(text: str, path: str, words: str) -> None:
    faults = stated(text).faults
    assert [fault.path for fault in faults] == [path]
    assert words in faults[0].sentence()
    assert faults[0].place is not None


# ---------------------------------------------------------------- builds


def test_every_word_of_a_build_has_its_record() -> None:
    """What the case offers and what the table knows are the same words."""
    schema = StatedBuild.model_json_schema(by_alias=True)["properties"]
    for aspect in ("surface", "cartridge", "float", "fixing", "head", "place", "dead_zones", "hot_neck"):
        offered = {word for each in schema[aspect]["anyOf"] for word in each.get("enum", ()) if isinstance(word, str)}
        known = {build.word for build in builds() if build.aspect == aspect}
        assert known == offered - {"unknown", "none"}, aspect


def test_every_record_says_how_far_it_was_seen_and_what_it_changes() -> None:
    assert {build.tag for build in builds()} == {"common practice, no source"}
    silent = {build.word for build in builds() if not build.changes}
    plain = {
        "fixed in the stem",
        "flange or thread",
        "with display",
        "in the tank",
        "usual",
        "no",
        "wall of the vessel",
    }
    assert silent == plain | {"PE", "PVDF", "PTFE", "PFA"}


def test_the_plain_build_ends_at_90_degc() -> None:
    """Common practice, no source: 90 degC, 194 degF."""
    plastic = build_of("float", "plastic")
    assert plastic is not None and plastic.temperature_max_K is not None
    close(plastic.temperature_max_K, 90 + 273.15, 1e-9, "90 degC")
    close(plastic.temperature_max_K, (194 + 459.67) * 5 / 9, 1e-9, "194 degF")


def test_the_weakest_part_binds_and_says_which() -> None:
    chosen = [found for found in builds() if found.word in ("plastic", "magnetostrictive float on a flexible stem")]
    hottest = least(chosen, lambda build: build.temperature_max_K)
    assert hottest is not None and hottest.build.word == "magnetostrictive float on a flexible stem"
    assert least(chosen, lambda build: build.temperature_min_K) is None
    widest = greatest(chosen, lambda build: build.length_max_m)
    assert widest is not None and widest.figure == 20.0


def test_a_word_that_is_not_in_the_table_has_no_record() -> None:
    assert build_of("float", "cork") is None


def test_dead_zones_for_small_tanks_are_shorter() -> None:
    usual, short = build_of("principle", "magnetostrictive float on a rigid stem"), build_of("dead_zones", "shortened")
    assert usual is not None and short is not None
    assert usual.dead_zone_low_m is not None and short.dead_zone_low_m is not None
    assert short.dead_zone_low_m[1] <= usual.dead_zone_low_m[1] / 2 + 1e-12


def test_the_limits_of_a_record_carry_their_units() -> None:
    plain = {
        "aspect",
        "word",
        "changes",
        "source",
        "tag",
        "cuttable",
        "adjustable",
        "wetted",
        "epl",
        "dead_zones_share",
    }
    others = {field.name for field in fields(Build)} - plain
    assert all(name.endswith(("_K", "_m", "_Pa_gauge", "_Pa_abs")) for name in others)
