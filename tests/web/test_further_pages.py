"""The further pages of a case for every example, a new case, a case with faults: whole HTML that the policy lets pass.

What is forbidden follows from the Content Security Policy that the server sends (W3C CSP level 3: no inline script,
style or handler) and from HTML itself (an id stands once, a field has a label, an end belongs to a beginning).
"""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from onedatum.case.skeleton import skeleton
from onedatum.jobs.page.adjusting import AdjustingView, KnownLevels
from onedatum.jobs.page.causes import begun_view
from onedatum.jobs.page.choosing import order_view, questions_view, selection_view
from onedatum.jobs.page.comparing import compare_view
from onedatum.jobs.page.file import file_view
from onedatum.jobs.page.made import CaseText
from onedatum.jobs.page.proving import proving_view
from onedatum.jobs.page.proving_entry import entry_view
from onedatum.jobs.page.quantity import quantity_view
from onedatum.jobs.page.review import Chosen, form_view
from onedatum.jobs.page.sheets import sheets_view
from onedatum.jobs.page.signal import ReadingView, signal_view
from onedatum.jobs.page.table import table_view
from onedatum.jobs.proving.plan import Wished
from onedatum.web.making import shown
from tests.web.markup import Markup, read

EXAMPLES = Path(__file__).parents[2] / "examples"
RECEIVER = (EXAMPLES / "spirit_receiver.yaml").read_text(encoding="utf-8")
HOSTILE = '<script>alert(1)</script>"><img src=x onerror=alert(2)>'


def case(name: str, text: str) -> CaseText:
    """A case as the server hands it to a worker."""
    return CaseText(str(EXAMPLES), name, text, "0" * 64)


CASES = {path.stem: case(path.stem, path.read_text(encoding="utf-8")) for path in sorted(EXAMPLES.glob("*.yaml"))} | {
    "new": case("new", skeleton()),
    "empty": case("empty", ""),
    "no YAML": case("no YAML", "vessel: {\n"),
    "faulty": case("faulty", RECEIVER.replace("inside_diameter: 1600 mm", "inside_diameter: 5 kg")),
    "hostile": case(HOSTILE, re.sub("(?m)^(tag|service):.*", rf"\1: '{HOSTILE}'", RECEIVER)),
}
PAGES: dict[str, tuple[Callable[..., Any], tuple[Any, ...], dict[str, Any]]] = {
    "selection": (selection_view, (False,), {}),
    "questions": (questions_view, (), {}),
    "order": (order_view, (), {}),
    "sheets": (sheets_view, (), {}),
    "quantity": (quantity_view, (), {"task": None}),
    "table": (table_view, ("",), {}),
    "file": (file_view, (), {"versions": ()}),
    "proving": (proving_view, (Wished(),), {}),
    "proving_enter": (entry_view, (Wished(), "found"), {}),
    "review": (form_view, (Chosen(), {}), {"task": None, "shown": None, "chart": None, "refused": ()}),
    "causes": (begun_view, ("1350 mm", "11.52 mA"), {"task": None}),
    "signal": (signal_view, ("", "", ""), {}),
}


def page(name: str, of: CaseText, *arguments: Any) -> Markup:
    """A page as it is sent."""
    make, usual, beside = PAGES[name]
    return read(shown(f"{name}.html", make, of, *(arguments or usual), **beside))


@pytest.mark.parametrize("name", CASES)
def test_every_page_of_a_case_is_whole(name: str) -> None:
    faults = {each: found.faults for each in PAGES if (found := page(each, CASES[name])).faults}
    assert faults == {}


@pytest.mark.parametrize("each", PAGES)
def test_what_a_case_says_stays_text(each: str) -> None:
    found = page(each, CASES["hostile"])
    assert HOSTILE in found.text.replace("\u200b", "")


def test_a_comparison_names_both_sides() -> None:
    changed = case("spirit_receiver", RECEIVER.replace("inside_diameter: 1600 mm", "inside_diameter: 1700 mm"))
    chosen = {"cases": ["gas_oil_tank"], "versions": (), "other": "", "version": "x"}
    found = read(shown("compare.html", compare_view, changed, CASES["spirit_receiver"], **chosen))
    assert found.faults == []
    assert "inside diameter vessel.inside_diameter 1600 mm 1700 mm" in found.text
    same = compare_view(changed, changed)
    assert (same.words, same.groups) == ("Nothing changed.", ())
    assert "says nothing" in compare_view(changed, CASES["empty"]).words


def test_a_fault_stands_beside_its_line() -> None:
    view = file_view(CASES["faulty"])
    told = {line.text.strip(): line.faults for line in view.lines if line.faults}
    assert list(told) == ["inside_diameter: 5 kg"]
    assert view.apart == ()
    assert file_view(CASES["no YAML"]).faults == sum(len(line.faults) for line in file_view(CASES["no YAML"]).lines)


def test_a_verdict_is_said_in_words_not_by_form_alone() -> None:
    sheet = selection_view(CASES["spirit_receiver"], False).sheet
    assert sheet is not None
    found = page("selection", CASES["spirit_receiver"])
    cells = [cell.sign for row in sheet.rows for cell in row.cells]
    assert len(cells) == len(sheet.rows) * len(sheet.conditions)
    for sign in set(cells):
        assert found.text.count(sign) >= cells.count(sign)
    assert {row.name for row in sheet.rows} <= set(found.ids)


def test_a_drawing_follows_the_colours_of_the_page() -> None:
    view = sheets_view(CASES["caustic_tank"])
    drawn = [each for sheet in view.sheets for each in (sheet.drawing, *sheet.pictures) if each is not None]
    assert len(drawn) >= 3  # vessel, loop, a picture of the probe
    for each in drawn:
        assert not re.search(r"#[0-9A-Fa-f]{6}\b", each.svg)
        assert "var(--ink)" in each.svg


def expected_mA(level_mm: float) -> float:
    """The straight line of the range 100 mm to 2800 mm of the spirit receiver: 4 mA to 20 mA (IEC 60381-1)."""
    return 4.0 + 16.0 * (level_mm - 100.0) / 2700.0


@pytest.mark.parametrize("level_mm", [100.0, 850.0, 1850.0, 2500.0])
def test_the_card_expects_the_straight_line(level_mm: float) -> None:
    view = signal_view(CASES["spirit_receiver"], f"{level_mm} mm", "", "")
    assert view.unit == "mA"
    assert abs(float(view.current) - expected_mA(level_mm)) <= 0.00051  # printed to the microampere


@pytest.mark.parametrize(
    ("meter", "head", "text", "within"),
    [
        # 20 uA of 16 mA over 2700 mm are 3.4 mm; from 14.3704 mA on, 14.39 mA stands 3.3 mm above
        ("14.39", "0.02 mA high", "reads 3 mm above the dip", "within the error allowed of 15 mm"),
        ("14.39 mA", "0.02 mA high", "reads 3 mm above the dip", "within the error allowed of 15 mm"),
        ("143.9 mV", "0.02 mA high", "reads 3 mm above the dip", "within the error allowed of 15 mm"),  # on 10 ohm
        ("14.27 mA", "0.10 mA low", "reads 17 mm below the dip", "outside the error allowed of 15 mm"),
        ("14.3704 mA", "As expected", "reads as the dip", "within the error allowed of 15 mm"),
    ],
)
def test_a_reading_is_held_against_the_dip(meter: str, head: str, text: str, within: str) -> None:
    view = signal_view(CASES["spirit_receiver"], "1850 mm", "", meter)
    assert view.reading == ReadingView(head, text, within)


def test_no_limit_is_judged_where_none_is_stated() -> None:
    view = signal_view(CASES["solvent_tank"], "1650 mm", "", "13 mA")
    assert view.reading is not None
    assert view.reading.within == ""


def test_the_end_of_the_loop_tells_no_level() -> None:
    view = signal_view(CASES["spirit_receiver"], "2750 mm", "", "19.42 mA")
    assert view.reading is not None
    assert view.reading.head == "Loop is at its end"


@pytest.mark.parametrize(("step", "level"), [("-10 mm", "1840 mm"), ("1 mm", "1851 mm"), ("10 mm", "1860 mm")])
def test_the_dip_is_stepped(step: str, level: str) -> None:
    assert signal_view(CASES["spirit_receiver"], "1.85 m", step, "").dip == level
    assert signal_view(CASES["spirit_receiver"], "", step, "").dip == level


@pytest.mark.parametrize("dip", ["5 kg", "nan", "-", "1e400 m", HOSTILE])
def test_a_dip_that_cannot_be_read_stays_and_is_told(dip: str) -> None:
    view = signal_view(CASES["spirit_receiver"], dip, "", "")
    assert view.dip == dip
    assert "must be" in view.dip_fault
    assert view.current == signal_view(CASES["spirit_receiver"], "", "", "").current
    assert page("signal", CASES["spirit_receiver"], dip, "", dip).faults == []


@pytest.mark.parametrize("meter", ["foo", "-3", "nan", "20 kV", "0.2 A", HOSTILE])
def test_a_reading_that_cannot_be_is_told(meter: str) -> None:
    view = signal_view(CASES["spirit_receiver"], "1850 mm", "", meter)
    assert view.reading is None
    assert "must be" in view.meter_fault


def test_a_voltage_may_be_read_on_any_resistor() -> None:
    """3.5975 V on 250 ohm are 14.39 mA by Ohm's law, as 143.9 mV are on the 10 ohm of the case."""
    view = signal_view(CASES["spirit_receiver"], "1850 mm", "", "3.5975 V", "250 ohm")
    assert view.reading == signal_view(CASES["spirit_receiver"], "1850 mm", "", "143.9 mV").reading
    refused = signal_view(CASES["spirit_receiver"], "1850 mm", "", "3.5975 V", "0 ohm")
    assert refused.meter_fault.startswith("The resistor must be")


def test_a_sensor_may_be_read_itself() -> None:
    """Scenario B: 546.323 pF at 1600 mm."""
    view = signal_view(CASES["caustic_tank"], "1600 mm", "", "546.323 pF")
    assert view.reading is not None
    assert view.reading.text == "reads as the dip"
    far = signal_view(CASES["caustic_tank"], "1600 mm", "", "579.9 pF")  # 33.6 pF of 338.171 pF/m
    assert far.reading is not None
    assert (far.reading.text, far.reading.within) == (
        "reads 99 mm above the dip",
        "outside the error allowed of 25 mm",
    )


def known_page(name: str, **fields: str) -> AdjustingView:
    known = KnownLevels(**fields)
    made = read(shown("signal.html", signal_view, CASES[name], "", "", "", "", known))
    assert made.faults == []
    return signal_view(CASES[name], "", "", "", "", known).known


def test_two_known_levels_are_judged_beneath_the_card() -> None:
    """4 mA at 0 m and 20 mA at 3 m: 4 + 16 h/3 mA, where the case wants 100 mm and 2800 mm."""
    view = known_page(
        "spirit_receiver_isolator", first_dip="600 mm", first_reading="7.200 mA", second_dip="2400 mm",
        second_reading="16.800 mA", dip_within="1 mm", meter_within="0.01 mA",
    )  # fmt: skip
    assert view.title.startswith("The slope differs: another range")
    assert "20 mA at 3000.00 mm" in " ".join(view.said)
    assert view.open_ == ()
    assert any("test the alarms afterwards" in words for words in view.cautions)


@pytest.mark.parametrize(
    ("fields", "words"),
    [
        ({"first_dip": "600 mm"}, "got one without a reading"),
        ({"second_reading": "6 mA"}, "got one without a dip"),
        ({"first_dip": "1,2 m", "first_reading": "6 mA"}, "Write 1.2 m"),
        ({"first_dip": "600 mm", "first_reading": HOSTILE}, "must be"),
        ({"first_dip": "600 mm", "first_reading": "6 mA", "dip_within": "x"}, "How well the dip is known must be"),
        (
            {"first_dip": "1 m", "first_reading": "9 mA", "second_dip": "1 m", "second_reading": "8 mA"},
            "two different levels",
        ),
    ],
)
def test_known_levels_that_cannot_be_taken_are_told(fields: dict[str, str], words: str) -> None:
    view = known_page("spirit_receiver", **fields)
    assert view.title == ""
    assert words in " ".join(view.faults)


def test_the_zones_are_told_where_a_meter_is_brought() -> None:
    assert signal_view(CASES["spirit_receiver"], "", "", "").cautions[0].startswith("Zone 1 at the head, zone 0 inside")
    assert "ask before" in signal_view(CASES["new"], "", "", "").cautions[0]
