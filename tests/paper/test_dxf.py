"""The elevation for drawing programs: sound, to scale, the same bytes every time, and every text as it was written."""

from __future__ import annotations

import io
from dataclasses import replace
from math import nan
from typing import Any

import ezdxf
import pytest

from onedatum.paper.dxf.elevation import LAYERS, elevation_dxf
from onedatum.paper.dxf.model import Elevation, InterfaceFloat
from onedatum.paper.dxf.words import line_of, spaced
from onedatum.paper.model import Mark
from tests.closeness import close
from tests.paper import sample
from tests.paper.test_document import HOSTILE

ORDER = (("length of the stem, face to tip", "3150.1 mm"), ("bore of the nozzle", "80 mm"))
ELEVATION = Elevation(sample.paper().head, sample.ruler(), ORDER)


def read(elevation: Elevation) -> Any:
    return ezdxf.read(io.StringIO(elevation_dxf(elevation).decode("utf-8")))  # type: ignore[attr-defined]


def texts(elevation: Elevation) -> list[str]:
    return [entity.dxf.text for entity in read(elevation).modelspace().query("TEXT")]


def test_the_file_is_sound_and_in_millimetres() -> None:
    document = read(ELEVATION)
    audit = document.audit()
    assert not audit.errors and not audit.fixes
    assert document.units == ezdxf.units.MM  # type: ignore[attr-defined]
    assert {name for name, _ in LAYERS} <= {layer.dxf.name for layer in document.layers}


def test_the_sizes_are_measured_off_the_shapes() -> None:
    """A dimension of the format measures its own points: face to tip, bore of the nozzle."""
    sizes = sorted(entity.get_measurement() for entity in read(ELEVATION).modelspace().query("DIMENSION"))
    stem, nozzle = sample.ruler().stem, sample.ruler().nozzle
    assert stem is not None and nozzle is not None
    close(sizes, [nozzle.bore_m * 1e3, (stem.face_m - stem.tip_m) * 1e3], 1e-6, "rounding of the format")


def test_the_vessel_is_drawn_to_scale_on_both_sides() -> None:
    lines = read(ELEVATION).modelspace().query('LWPOLYLINE[layer=="VESSEL"]')
    ends = [[point[0] for point in line.get_points()] for line in lines]
    widest = max(radius for radius, _ in sample.ruler().outline) * 1e3
    close(max(max(x) for x in ends), widest, 1e-6, "half of the diameter")
    close(min(min(x) for x in ends), -widest, 1e-6, "half of the diameter")


def test_the_float_rides_at_the_level() -> None:
    (body,) = read(ELEVATION).modelspace().query('LWPOLYLINE[layer=="FLOAT"]')
    stem, level = sample.ruler().stem, sample.ruler().level_m
    assert stem is not None and level is not None and stem.float_immersion_m is not None
    low = min(point[1] for point in body.get_points())
    close(low, (level - stem.float_immersion_m) * 1e3, 1e-6, "immersion below the level")


BETWEEN = InterfaceFloat(layer_m=0.350, diameter_m=0.080, height_m=0.040, immersion_m=0.0221)


def test_the_float_between_the_liquids_hangs_by_the_least_layer() -> None:
    document = read(replace(ELEVATION, interface_float=BETWEEN))
    assert not document.audit().errors
    floats = document.modelspace().query('LWPOLYLINE[layer=="FLOAT"]')
    foot = min(point[1] for body in floats for point in body.get_points())
    level = sample.ruler().level_m
    assert len(floats) == 2 and level is not None
    close(foot, (level - 0.350 - 0.0221) * 1e3, 1e-6, "rounding of the format")
    sizes = [entity.get_measurement() for entity in document.modelspace().query("DIMENSION")]
    assert any(abs(size - 350.0) < 1e-6 for size in sizes)


def test_a_level_too_low_for_the_layer_draws_no_second_float() -> None:
    document = read(replace(ELEVATION, interface_float=replace(BETWEEN, layer_m=50.0)))
    assert len(document.modelspace().query('LWPOLYLINE[layer=="FLOAT"]')) == 1


def test_every_mark_and_every_line_of_the_order_is_written() -> None:
    written = texts(ELEVATION)
    for mark in sample.ruler().marks:
        assert any(line.startswith(f"{mark.name} ") for line in written), mark.name
    for what, value in ORDER:
        assert f"{what}: {value}" in written
    assert "invented example" in written
    assert any("replaces neither certificate" in line for line in written)


def test_the_same_elevation_gives_the_same_bytes() -> None:
    assert elevation_dxf(ELEVATION) == elevation_dxf(ELEVATION)


@pytest.mark.parametrize("text", HOSTILE)
def test_what_the_user_wrote_stays_text(text: str) -> None:
    head = replace(sample.paper().head, tag=text, service=text, author=text)
    ruler = replace(sample.ruler(), datum=text, marks=(*sample.ruler().marks, Mark(text, 1.0, "alarm")))
    hostile = Elevation(head, ruler, ((text, text),))
    audit = read(hostile).audit()
    assert not audit.errors
    assert all(len(line) <= 160 and "\n" not in line for line in texts(hostile))


@pytest.mark.parametrize("text", ["%%c 5", "^J", "\\P", "{x}", "a\nb"])
def test_no_text_is_read_as_a_command(text: str) -> None:
    written = line_of(text)
    assert not any(sign in written for sign in ("%%", "^", "\\", "\n"))


def test_what_is_not_known_is_not_drawn() -> None:
    bare = replace(sample.ruler(), stem=None, nozzle=None, bands=(), outline=((nan, 0.0),), marks=())
    document = read(Elevation(sample.paper().head, bare))
    assert not document.audit().errors
    assert not document.modelspace().query('LWPOLYLINE[layer=="VESSEL"]')


def test_names_of_marks_do_not_cover_each_other() -> None:
    placed = spaced([0.0, 1.0, 2.0, 50.0], 10.0)
    assert placed == [0.0, 10.0, 20.0, 50.0]
