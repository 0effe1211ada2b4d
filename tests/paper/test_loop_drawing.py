"""The drawing of a loop: what an electrician needs stands on it, clear and whole, and no input breaks it.

No value here has a source: the rules are those of a drawing (nothing overlaps, nothing is lost, red says so in words).
"""

import re
from dataclasses import replace
from itertools import groupby, pairwise
from math import inf, nan
from typing import get_args
from xml.etree import ElementTree as Xml

import pytest
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st

from onedatum.paper.loop.circuit import circuit_of
from onedatum.paper.loop.drawing import NO_PARTS, TOO_MANY, TOO_NARROW, loop_height_px, loop_svg
from onedatum.paper.loop.lines import wrapped
from onedatum.paper.loop.model import Border, Column, Kind, LoopDrawing, Part, Row
from onedatum.paper.loop.places import GAPS_PX, stood
from onedatum.paper.loop.symbols import CORNERS
from onedatum.paper.loop.words import caption, description, words_of
from onedatum.paper.ruler import PRINT
from onedatum.paper.ruler.svg import Style
from onedatum.paper.text import printable
from tests.closeness import close
from tests.paper.loop_sample import BARRIER, ISOLATOR, PLAIN, SAMPLES
from tests.paper.metrics import SVG, measured, overlapping, text_boxes
from tests.paper.strokes import Path, crossed_words, overlapping_words, paths, words

WIDTHS = (240.0, 320.0, 390.0, 480.0, 600.0, 760.0, 1280.0)
KINDS: tuple[Kind, ...] = get_args(Kind)
every_loop = pytest.mark.parametrize("name", SAMPLES)
every_width = pytest.mark.parametrize("wide", WIDTHS)
LONG = "resistance of the loop end to end " * 12


def texts(svg: str) -> list[str]:
    """All texts in the order they are drawn."""
    return [word.text for word in words(svg)]


def together(svg: str) -> str:
    """All texts, joined again where they were wrapped."""
    return " ".join(texts(svg))


def check(drawing: LoopDrawing, wide: float) -> str:
    """The drawing, after the rules that hold for every one."""
    svg = loop_svg(drawing, wide)
    root = Xml.fromstring(svg)
    high = float(root.attrib["height"])
    close(high, loop_height_px(drawing, wide), 0.006, "a height printed to 0.01 px")
    assert overlapping(svg) == []
    assert overlapping_words(svg) == []
    assert crossed_words(svg) == []
    for box in text_boxes(svg):
        assert box.left >= 0 and box.right <= wide and box.top >= 0 and box.bottom <= high, box
    for path in paths(svg):
        assert all(0 <= x <= wide and 0 <= y <= high for x, y in path.points), path
    for fill, run in groupby(root.iter(f"{SVG}text"), lambda node: node.attrib["fill"]):
        said = " ".join(node.text or "" for node in run).lower()
        assert fill != PRINT.blocks or "fails" in said or "unknown" in said, "red that does not say why"
    return svg


@every_loop
@every_width
def test_words_stay_clear_of_words_and_lines_and_on_the_sheet(name: str, wide: float) -> None:
    check(SAMPLES[name], wide)


@every_loop
@every_width
def test_nothing_that_was_given_is_lost(name: str, wide: float) -> None:
    shown = together(loop_svg(SAMPLES[name], wide))
    assert "…" not in shown
    for text in words_of(SAMPLES[name]):
        for word in text.split():
            assert word in shown, word


@every_loop
def test_at_the_width_of_the_paper_the_words_stand_beside_the_elements(name: str) -> None:
    circuit = circuit_of(SAMPLES[name], 760.0, PRINT)
    assert circuit is not None and not circuit.numbered
    assert len(circuit.spots) >= len(SAMPLES[name].parts) + 1, "every part, and the arrow of the current"


def test_on_a_phone_numbers_stand_for_the_words_and_a_list_explains_them() -> None:
    shown = texts(loop_svg(BARRIER, 320.0))
    for number in range(1, 7):
        assert shown.count(str(number)) == 2, "at the element and in the list"
    assert "input resistor: 240 ohm" in shown
    assert "earth: busbar, 0.8 ohm to earth" in shown


def lines_of_width(svg: str, width: float) -> list[Path]:
    """Paths drawn with a stroke of this width."""
    return [path for path in paths(svg) if path.width == width]


def reach(path: Path) -> tuple[float, float]:
    """Left and right end of a path."""
    return min(x for x, _ in path.points), max(x for x, _ in path.points)


def test_an_isolator_parts_the_loop_in_two_and_a_barrier_does_not() -> None:
    """Ink between the conductors of both sides: none across the gap of an isolator."""

    def gaps(drawing: LoopDrawing) -> list[tuple[float, float]]:
        reaches = sorted(reach(p) for p in paths(loop_svg(replace(drawing, rows=(), columns=()))) if p.width >= 1.2)
        ends = [reaches[0][1]]
        found = []
        for left, right in reaches[1:]:
            if left > ends[-1] + 0.5:
                found.append((ends[-1], left))
            ends.append(max(ends[-1], right))
        return found

    parted = gaps(replace(ISOLATOR, border=None))
    assert len(parted) == 1
    close(parted[0][1] - parted[0][0], 10.0, 0.03, "two coordinates printed to 0.01 px")
    assert gaps(replace(BARRIER, border=None)) == []
    arrows = [p for p in paths(loop_svg(ISOLATOR)) if p.fill == PRINT.ink and len(p.points) == 3]
    assert len(arrows) == 2, "the current of each loop"
    assert texts(loop_svg(ISOLATOR)).count("I") == 2


def strokes_of_earth(svg: str) -> list[Path]:
    """Level strokes of 22, 14 and 6 px, one beneath the other."""
    level = [p for p in paths(svg) if len(p.points) == 2 and p.points[0][1] == p.points[1][1]]
    three = zip(level, level[1:], level[2:], strict=False)
    return [a for a, b, c in three if [round(p.size()[0]) for p in (a, b, c)] == [22, 14, 6]]


def test_only_a_barrier_stands_on_earth_and_its_words_under_it() -> None:
    svg = loop_svg(BARRIER)
    assert len(strokes_of_earth(svg)) == 1
    earth = next(word for word in words(svg) if word.text == BARRIER.earth)
    left, right = reach(strokes_of_earth(svg)[0])
    close(earth.at[0] + earth.wide / 2, (left + right) / 2, 0.6, "the table of advances rounds to whole thousandths")
    for name in ("isolator", "plain"):
        assert strokes_of_earth(loop_svg(SAMPLES[name])) == []
    assert f"earth: {ISOLATOR.earth}" in texts(loop_svg(ISOLATOR))


def test_the_boundary_stands_between_barrier_and_cable_with_its_words_on_both_sides() -> None:
    svg = loop_svg(BARRIER)
    dashed = [p for p in paths(svg) if p.dash == "9 4"]
    assert len(dashed) == 1
    x = dashed[0].points[0][0]
    where = {word.text: word for word in words(svg)}
    assert where["not hazardous"].at[0] + where["not hazardous"].wide < x
    assert where["zone 1 at the head, zone 0 in the vessel"].at[0] > x
    assert where["shunt-diode barrier"].at[0] + where["shunt-diode barrier"].wide < x < where["two-core cable"].at[0]
    assert [p for p in paths(loop_svg(PLAIN)) if p.dash == "9 4"] == []


def test_the_loop_closes_through_supply_and_transmitter_plus_above_minus() -> None:
    """Both conductors begin at the supply and end at the transmitter; the signs say which is which."""
    svg = loop_svg(PLAIN)
    signs = [word for word in words(svg) if word.text in ("+", "−")]
    assert [word.text for word in signs] == ["+", "−", "+", "−"]
    assert all(plus.at[1] < minus.at[1] for plus, minus in zip(signs[::2], signs[1::2], strict=True))
    letters = next(word for word in words(svg) if word.text == "LT")
    assert letters.at[0] > max(sign.at[0] for sign in signs)


def test_ends_of_which_nothing_is_stated_are_open_terminals() -> None:
    def small_rings(drawing: LoopDrawing) -> int:
        return len([p for p in paths(loop_svg(drawing)) if len(p.points) == CORNERS and 6 < p.size()[0] < 7])

    assert small_rings(PLAIN) == 0
    assert small_rings(replace(PLAIN, parts=PLAIN.parts[:-1])) == 2
    assert small_rings(replace(PLAIN, parts=PLAIN.parts[1:-1])) == 4


def test_a_test_resistor_has_two_test_points_and_stays_with_its_input_resistor() -> None:
    svg = loop_svg(BARRIER)
    points = [p for p in paths(svg) if len(p.points) == CORNERS and round(p.size()[0]) == 6 and p.fill == "none"]
    assert len(points) == 2
    outline = next(p for p in paths(svg) if p.dash == "10 3 2 3")
    assert all(outline.points[0][0] < x < outline.points[1][0] for p in points for x, _ in p.points)
    assert "10 3 2 3" not in loop_svg(PLAIN)


@pytest.mark.parametrize("kind", KINDS)
def test_what_is_not_known_is_dashed_and_says_so(kind: Kind) -> None:
    known = LoopDrawing("loop", (Part(kind, "element", ("12 ohm",)),))
    unknown = LoopDrawing("loop", (Part(kind, "element", ("12 ohm",), known=False),))
    assert [p.dash for p in paths(check(known, 760.0)) if p.dash] == []
    svg = check(unknown, 760.0)
    assert {p.dash for p in paths(svg) if p.dash} == {"4 2.5"}
    assert "unknown" in texts(svg)
    assert "unknown" in description(unknown)


def test_what_fails_is_red_and_says_so_and_the_worst_column_is_bold_and_says_so() -> None:
    nodes = list(Xml.fromstring(loop_svg(BARRIER)).iter(f"{SVG}text"))
    red = [node.text for node in nodes if node.attrib["fill"] == PRINT.blocks]
    assert red == ["worst case, fails", "fails: −0.23 V"]
    bold = {node.text for node in nodes if "font-weight" in node.attrib}
    assert {"22 mA", "high failure current", "fails: −0.23 V"} <= bold
    assert not {"3.6 mA", "4 mA", "20 mA", "low failure current"} & bold
    assert PRINT.blocks not in loop_svg(PLAIN)


def test_the_budget_stands_in_rows_and_columns() -> None:
    """Values of a row on one base line; values of a column flush right with its head."""
    svg = loop_svg(BARRIER)
    places = {word.text: word for word in words(svg)}
    for row in BARRIER.rows:
        values = [v for v in row.values if texts(svg).count(v) == 1]
        assert {places[v].at[1] for v in values} <= {places[row.name].at[1]}
    ends = [places[c.current].at[0] + places[c.current].wide for c in BARRIER.columns]
    for value, end in zip(BARRIER.rows[-1].values[:3], ends, strict=False):
        close(places[value].at[0] + places[value].wide, end, 0.05, "widths from the font's own tables")
    assert all(b - a > 60 for a, b in pairwise(ends))


@every_width
def test_twelve_columns_and_twenty_rows(wide: float) -> None:
    columns = tuple(Column(f"{i}.5 mA", "upper range value", worst=i == 7, fails=i == 9) for i in range(12))
    rows = tuple(
        Row(f"row {r}", tuple(f"{r}.{c:02} V" for c in range(12)), strong=r % 5 == 0, failing=(9,)) for r in range(20)
    )
    svg = check(replace(BARRIER, columns=columns, rows=rows), wide)
    shown = texts(svg)
    for r in range(20):
        for c in range(12):
            assert (f"fails: {r}.{c:02} V" if c == 9 else f"{r}.{c:02} V") in shown


@pytest.mark.parametrize("wide", [240.0, 320.0, 760.0])
@pytest.mark.parametrize(
    "text", ["x" * 400, LONG, "Ω" * 400, "語" * 400], ids=["one word", "words", "omega", "missing"]
)
def test_names_of_four_hundred_characters(text: str, wide: float) -> None:
    parts = tuple(Part(kind, text, (text, text, text)) for kind in KINDS)
    every = LoopDrawing(
        text,
        parts,
        (Column(text, text, True, True), Column("22 mA", text)),
        (Row(text, (text, text), True, (1,)),),
        Border(text, text),
        text,
        text,
        (text, text),
    )
    check(every, wide)
    assert text in description(every)
    mixed = replace(BARRIER, parts=(replace(BARRIER.parts[0], name=text), *BARRIER.parts[1:]))
    check(mixed, wide)


HOSTILE = (
    "<script>alert(1)</script>",
    "\u202egnol\u202c",
    "a\x00b\x1bc\x7f",
    "]]>&amp;\"'<!--",
    "e\u0301\u0301 \u0301x",
)


@pytest.mark.parametrize("text", HOSTILE)
def test_hostile_text_is_text(text: str) -> None:
    hostile = LoopDrawing(
        text,
        tuple(Part(kind, text, (text,)) for kind in KINDS),
        (Column(text, text),),
        (Row(text, (text,)),),
        Border(text, text),
        text,
        text,
        (text,),
    )
    for wide in (320.0, 760.0):
        svg = check(hostile, wide)
        assert {node.tag for node in Xml.fromstring(svg).iter()} <= {
            f"{SVG}{t}" for t in ("svg", "defs", "path", "rect", "text")
        }
        assert not re.search(r"[\x00-\x08\x0b-\x1f\x7f\u202a-\u202e\u2066-\u2069]", svg)
        assert printable(text).text in texts(svg)


def test_nothing_to_draw_is_said() -> None:
    svg = check(LoopDrawing("loop"), 760.0)
    assert texts(svg) == ["loop", NO_PARTS]
    bare = check(LoopDrawing("", border=Border("safe", "zone 0"), earth="busbar"), 760.0)
    assert texts(bare) == [NO_PARTS, "boundary of the hazardous area: safe | zone 0", "earth: busbar"]
    table = check(replace(BARRIER, parts=()), 760.0)
    assert "fails: −0.23 V" in texts(table)


def test_too_many_elements_are_listed() -> None:
    many = replace(BARRIER, parts=tuple(Part("barrier", f"barrier {i}", ("1 ohm",)) for i in range(60)))
    shown = texts(check(many, 760.0))
    assert TOO_MANY in shown
    assert all(f"barrier {i}: 1 ohm" in shown for i in range(60))


@pytest.mark.parametrize("wide", [0.0, -5.0, nan, inf, -inf, 1e9, 100.0, 239.0])
def test_no_width_crashes(wide: float) -> None:
    for drawing in SAMPLES.values():
        assert Xml.fromstring(loop_svg(drawing, wide)).tag == f"{SVG}svg"
        close(
            loop_height_px(drawing, wide), float(Xml.fromstring(loop_svg(drawing, wide)).attrib["height"]), 0.006, "px"
        )
    assert TOO_NARROW in together(loop_svg(BARRIER, 239.0))


@every_loop
def test_the_same_loop_gives_the_same_bytes(name: str) -> None:
    assert loop_svg(SAMPLES[name]) == loop_svg(replace(SAMPLES[name]))
    parts = SAMPLES[name].parts
    assert loop_svg(replace(SAMPLES[name], parts=(*parts[1:], parts[0]))) == loop_svg(SAMPLES[name]), "supply first"


@every_loop
def test_the_words_for_those_who_cannot_see_it_hold_every_value(name: str) -> None:
    said = description(SAMPLES[name])
    for word in words_of(SAMPLES[name]):
        assert word in said, word
    assert Xml.fromstring(loop_svg(SAMPLES[name])).attrib["aria-label"] == printable(said).text
    assert "not how it is wired" in caption(SAMPLES[name])


def test_the_words_say_at_which_current_and_what_fails() -> None:
    said = description(BARRIER)
    assert "margin: 10.75 V at 3.6 mA; 10.51 V at 4 mA; 0.96 V at 20 mA; −0.23 V at 22 mA, fails." in said
    assert "22 mA, high failure current, worst case, fails" in said
    assert "The isolator separates two loops." in description(ISOLATOR)


def test_values_without_a_head_and_heads_without_a_value_are_kept() -> None:
    odd = replace(PLAIN, rows=(Row("more", ("1 V", "2 V", "3 V"), failing=(2, 9, -1)), Row("fewer", ())))
    shown = texts(check(odd, 760.0))
    assert "fails: 3 V" in shown
    assert shown.count("–") == 3
    assert "3 V, fails" in description(odd)


def test_a_number_keeps_its_unit() -> None:
    """At every room the unit stands on the line of its number, if both fit there at all."""
    style = Style(11.0, PRINT.ink)
    for room in range(24, 160):
        lines = [line.text for line in wrapped("drops 19.8 ohm at 60 °C in 350 m", style, float(room), 12)]
        for pair in ("19.8 ohm", "60 °C", "350 m"):
            whole = any(pair in line for line in lines)
            assert whole == (measured(pair, 11.0, False) <= room), (room, lines)


def test_what_is_cut_ends_in_an_ellipsis() -> None:
    """At every room: either all words stand, or the last line says that there were more."""
    style, text = Style(11.0, PRINT.ink), "a bb ccc dddd e fffff gg hhh"
    for room in range(12, 120):
        lines = [line.text for line in wrapped(text, style, float(room), 2)]
        assert (" ".join(lines) == text) == (not lines[-1].endswith("…")), (room, lines)
        assert all(measured(line, 11.0, False) <= room for line in lines)


letters = st.one_of(
    st.text(max_size=30), st.sampled_from(["", "24 V d.c.", "250 ohm", "unknown", LONG, "x" * 400, *HOSTILE])
)
some_parts = st.lists(
    st.builds(Part, st.sampled_from(KINDS), letters, st.lists(letters, max_size=3).map(tuple), st.booleans()),
    max_size=9,
).map(tuple)
some_columns = st.lists(st.builds(Column, letters, letters, st.booleans(), st.booleans()), max_size=12).map(tuple)
some_rows = st.lists(
    st.builds(
        Row,
        letters,
        st.lists(letters, max_size=13).map(tuple),
        st.booleans(),
        st.lists(st.integers(-2, 14), max_size=3).map(tuple),
    ),
    max_size=6,
).map(tuple)
drawings = st.builds(
    LoopDrawing,
    letters,
    some_parts,
    some_columns,
    some_rows,
    st.none() | st.builds(Border, letters, letters),
    letters,
    letters,
    st.lists(letters, max_size=3).map(tuple),
)


@settings(max_examples=20, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(drawings, st.sampled_from(WIDTHS))
@example(LoopDrawing("", (Part("transmitter", ""), Part("supply", ""), Part("transmitter", ""))), 760.0)
@example(LoopDrawing("", (Part("supply", ""), Part("supply", ""))), 240.0)
def test_no_loop_breaks_the_drawing(drawing: LoopDrawing, wide: float) -> None:
    check(drawing, wide)
    said = description(drawing)
    assert all(word in said for word in words_of(drawing) if word.strip())


@settings(max_examples=50, deadline=None)
@given(st.lists(st.sampled_from(KINDS), min_size=1, max_size=9), st.sampled_from(WIDTHS))
def test_elements_keep_their_air_and_their_order(kinds: list[Kind], wide: float) -> None:
    """The distances of the plan hold for every pair in every lane, wherever the free width went."""
    drawing = LoopDrawing("", tuple(Part(kind, "element", ("12 ohm",)) for kind in kinds), border=Border("a", "b"))
    circuit = circuit_of(drawing, wide, PRINT)
    if circuit is None:
        return
    for i, (first, x) in enumerate(circuit.spots):
        for second, y in circuit.spots[i + 1 :]:
            for a, b, gap in zip(first.spans, second.spans, GAPS_PX, strict=True):
                assert a is None or b is None or y + b[0] - x - a[1] >= gap - 1e-6
    assert stood(tuple(e for e, _ in circuit.spots), 10.0, 11.0) is None, "they do not fit into 1 px"
