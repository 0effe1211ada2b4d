"""See it: the drawing for the screen, what moves over it, and the table that says the same."""

from __future__ import annotations

import json
import re
from functools import cache
from html import escape
from xml.etree import ElementTree as Xml

import pytest
from jinja2 import Environment, FileSystemLoader

import onedatum
from onedatum.case.reading import read_case, read_case_text
from onedatum.jobs.page.see import Geometry, SeeView, see_view
from onedatum.study.study import study
from tests.closeness import close
from tests.paper.metrics import SVG, overlapping, text_boxes
from tests.study.tanks import tank, upright
from tests.study.variants import EXAMPLES, study_with

ALL = tuple(sorted(path.stem for path in EXAMPLES.glob("*.yaml")))
SIZES = ((680, 642), (830, 908), (346, 600))
TEMPLATES = f"{onedatum.__path__[0]}/web/templates"


@cache
def view(name: str = "spirit_receiver", wide: float = 680, high: float = 642) -> SeeView:
    return see_view(study(read_case(EXAMPLES / f"{name}.yaml")), wide, high)


def geometry(found: SeeView) -> Geometry:
    assert found.geometry is not None
    return found.geometry


@pytest.mark.parametrize(("wide", "high"), SIZES)
@pytest.mark.parametrize("name", ALL)
def test_no_two_texts_overlap_and_all_lie_on_the_sheet(name: str, wide: float, high: float) -> None:
    shown = view(name, wide, high).svg
    still = re.sub(r'<g class="readouts">.*?</g>', "", shown, flags=re.DOTALL)
    assert len(text_boxes(still)) > 20
    assert overlapping(still) == []
    assert max(box.right for box in text_boxes(still)) <= wide


@pytest.mark.parametrize("name", ALL)
def test_the_policy_of_the_page_is_kept(name: str) -> None:
    """Content Security Policy Level 3: style attributes and event handlers fall under style-src and script-src."""
    nodes = list(Xml.fromstring(view(name).svg).iter())
    assert nodes
    for node in nodes:
        assert "style" not in node.attrib
        assert not [name for name in node.attrib if name.startswith("on")]


def test_colours_are_those_of_the_page() -> None:
    """Only custom properties and textures: light and dark share one drawing."""
    colours = set(re.findall(r'(?:fill|stroke)="([^"]+)"', view().svg))
    assert {"var(--ink)", "var(--liquid)", "var(--blocks)"} <= colours
    assert not [c for c in colours if c != "none" and not c.startswith(("var(--", "url(#ruler-"))]


def test_all_scales_stand_at_the_design_size() -> None:
    assert view().left_out == ()
    assert {lane.key for lane in geometry(view()).lanes} >= {
        "mm",
        "in",
        "percent",
        "mA",
        "mV",
        "sensor",
        "volume",
        "mass",
        "pure",
    }


def test_a_phone_has_no_elevation_and_names_what_it_leaves_out() -> None:
    narrow = view("spirit_receiver", 346, 600)
    assert "Elevation" not in {box.text for box in text_boxes(narrow.svg)}
    assert {"kg", "L pure"} <= set(narrow.left_out)
    assert {"mm", "mA"} <= {lane.key for lane in geometry(narrow).lanes}


def test_the_moving_parts_stand_at_the_level() -> None:
    """Liquid and line are moved to the height that the geometry gives the level; the float sits its immersion lower."""
    found = see_view(study_with(), 680, 642, 1.0)
    g = geometry(found)
    float_ = g.float_
    assert float_ is not None
    at = g.top_px + (g.high_m - 1.0) * g.px_per_m
    moved = {
        node.attrib["class"]: [float(x) for x in re.findall(r"-?[\d.]+", node.attrib["transform"])]
        for node in Xml.fromstring(found.svg).iter(f"{SVG}g")
        if "transform" in node.attrib and node.attrib.get("class", "").startswith("moves-")
    }
    assert set(moved) == {"moves-liquid", "moves-line", "moves-float"}
    assert close(moved["moves-liquid"][1], at, 0.01, "two decimals of a px")
    assert close(moved["moves-line"][1], at, 0.01, "two decimals of a px")
    assert close(moved["moves-float"][1], at + float_.immersion_m * g.px_per_m, 0.01, "two decimals of a px")
    assert close(float_.immersion_m, 0.0409, 5e-5, "immersion of the example, 40.92 mm in its scenario")


def test_the_table_says_what_the_drawing_says() -> None:
    rows = {row.name: dict(zip([s.kind.key for s in view().scales], row.cells, strict=True)) for row in view().rows}
    assert rows["level line"]["mm"] == "1850"
    assert rows["level line"]["mA"] == "14.370"
    assert rows["URV 20 mA"]["mA"] == "no signal", "20 mA lies above the end of the loop"
    assert rows["LRV 4 mA"]["percent"] == "0.00"
    assert rows["dead zone, lower"]["percent"] == "−0.31", "(91.74 - 100)/2700"
    heights = [float(cells["mm"]) for cells in rows.values()]
    assert heights == sorted(heights, reverse=True)


def test_home_and_end_are_what_can_be_measured() -> None:
    """By the dead zones and the float of the example: 91.7 to 3000.7 mm in every state (scenario of the study)."""
    low, high = view().reach_m or (0.0, 0.0)
    assert f"{low * 1000:.1f}" == "91.7"
    assert f"{high * 1000:.1f}" == "3000.7"


def test_an_unknown_vessel_keeps_marks_and_heights() -> None:
    found = see_view(study(read_case_text(UNKNOWN, "case.yaml")), 680, 642)
    assert found.geometry is not None
    shown = {box.text for box in text_boxes(found.svg)}
    assert {"LRV 4 mA", "URV 20 mA", "mm", "mA"} <= shown
    assert any(text.startswith("unknown, ask:") for text in shown)
    assert next(s for s in found.scales if s.kind.key == "volume").unknown


UNKNOWN = """
onedatum: 1
invented: yes
level_now: 1 m
range:
  4 mA: 100 mm
  20 mA: 2000 mm
"""


def test_nothing_known_says_so() -> None:
    found = see_view(study(read_case_text("onedatum: 1\ninvented: yes\n", "case.yaml")), 680, 642)
    assert found.geometry is None and found.scales == () and found.span_m is None
    assert "No drawing" in found.svg
    json.dumps(found.json(), allow_nan=False)


@pytest.mark.parametrize("level_m", [-5.0, 1e9, float("nan"), float("inf")])
def test_an_absurd_level_stays_on_the_ruler(level_m: float) -> None:
    found = see_view(study_with(), 680, 642, level_m)
    assert found.level_m is None or 0.0 <= found.level_m <= 3.0201
    json.dumps(found.json(), allow_nan=False)


@pytest.mark.parametrize(("wide", "high"), [(0, 0), (1e9, 1e9), (float("nan"), 600), (60, 60)])
def test_an_absurd_size_breaks_nothing(wide: float, high: float) -> None:
    assert Xml.fromstring(see_view(study_with(), wide, high).svg).tag == f"{SVG}svg"


def test_the_fragment_escapes_and_obeys_the_policy() -> None:
    """What the case says comes out as text, also inside the data block, which may not end early."""
    room = Environment(loader=FileSystemLoader(TEMPLATES), autoescape=True)
    evil = "</script><b onclick=x>"
    html = room.get_template("see.html").render(see=view(), fault=evil, carry=((evil, evil),))
    assert evil not in html
    assert not re.search(r"<[^>]*\s(style|on\w+)=", html.replace(escape(evil), ""))
    data = re.search(r'<script type="application/json" id="see-data">(.*?)</script>', html, re.DOTALL)
    assert data is not None
    assert len(json.loads(data[1])["scales"]) == len(view().scales)
    assert html.count("<script") == 1


def test_without_a_level_the_table_asks() -> None:
    found = see_view(tank(upright()), 680, 642)
    assert found.level_m is None and found.level_text == ""
    assert next(row for row in found.rows if row.is_level).cells[0] == "?"
