"""The level line: dragged, stepped, sent to marks, typed in any unit; what it reads is what the study works."""

from __future__ import annotations

import json
import random
import re
from typing import Any

import numpy as np
import pytest
from playwright.sync_api import Browser, Page

from onedatum.case.reading import read_case
from onedatum.foundation.units import in_unit
from onedatum.jobs.page.scales import page_scales
from onedatum.study.scales import worked
from onedatum.study.study import study
from system.conftest import EXAMPLES, Server, Watched, watched
from system.pages import SCENARIO_A, calm

OTHERS = ("lying_spirit_tank", "gas_oil_tank")
LEVELS = 1000


def opened(page: Page, server: Server, case: str = SCENARIO_A) -> None:
    """The case page, at rest."""
    page.goto(f"{server.link}/cases/{case}")
    calm(page)


def level_mm(page: Page) -> float:
    """Where the line stands, as the slider tells it."""
    return float(page.locator("#ruler-grip").get_attribute("aria-valuenow") or "nan")


def px_per_mm(page: Page) -> float:
    """Px on the screen of one millimetre, from the drawing itself."""
    data = json.loads(page.locator("#see-data").inner_text())
    box = page.locator("#ruler svg").bounding_box()
    assert box is not None
    return float(data["geometry"]["px_per_m"] / 1000 * box["width"] / data["geometry"]["width_px"])


def test_the_mouse_drags_the_line_by_whole_millimetres(server: Server, desk: Watched) -> None:
    opened(desk.page, server)
    before = level_mm(desk.page)
    box = desk.page.locator("#ruler-grip").bounding_box()
    assert box is not None
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    desk.page.mouse.move(x, y)
    desk.page.mouse.down()
    desk.page.mouse.move(x, y - 60, steps=6)
    desk.page.mouse.up()
    after = level_mm(desk.page)
    assert after == int(after)
    assert after - before == pytest.approx(60 / px_per_mm(desk.page), abs=1)


def test_keys_step_the_line(server: Server, desk: Watched) -> None:
    opened(desk.page, server)
    desk.page.locator("#ruler-grip").focus()
    for key, step in (
        ("ArrowUp", 1), ("ArrowDown", -1), ("Shift+ArrowUp", 10), ("Shift+ArrowDown", -10),
        ("PageUp", 100), ("PageDown", -100),
    ):  # fmt: skip
        before = level_mm(desk.page)
        desk.page.keyboard.press(key)
        assert level_mm(desk.page) - before == pytest.approx(step, abs=1e-9), key


def test_home_and_end_go_to_what_can_be_measured_and_alt_to_the_next_mark(server: Server, desk: Watched) -> None:
    """By hand: the stem ends 20 mm over the datum, its lower dead zone is 60 mm, so the magnet is at 80 mm or higher
    and the liquid, which wets the float over its magnet, at little more. 4 mA stands at 100 mm."""
    opened(desk.page, server)
    desk.page.locator("#ruler-grip").focus()
    desk.page.keyboard.press("Home")
    assert 80 < level_mm(desk.page) < 100
    desk.page.keyboard.press("Alt+ArrowUp")
    assert level_mm(desk.page) == 100
    desk.page.keyboard.press("End")
    assert level_mm(desk.page) > 2800
    desk.page.keyboard.press("Alt+ArrowDown")
    assert level_mm(desk.page) <= 2900


@pytest.mark.parametrize(
    ("typed", "expected_mm", "within_mm"),
    [
        # By hand: 100 mm + 2700 mm (14.37 - 4)/16 = 1849.9 mm; half of the last digit of the current is 0.8 mm.
        ("14.37 mA", 1849.9, 0.9),
        # 1 in is 25.4 mm by definition: 72.83 in = 1849.9 mm.
        ("72.83 in", 1849.9, 0.15),
        ("1.85 m", 1850.0, 0.05),
        ("143.7 mV", 1849.9, 9.0),
    ],
)
def test_the_level_is_taken_in_any_unit(
    server: Server, desk: Watched, typed: str, expected_mm: float, within_mm: float
) -> None:
    opened(desk.page, server)
    desk.page.keyboard.press("Escape")
    desk.page.locator("#see-level").fill(typed)
    desk.page.keyboard.press("Enter")
    assert level_mm(desk.page) == pytest.approx(expected_mm, abs=within_mm)
    assert desk.page.locator("#see-level").get_attribute("aria-invalid") is None


def test_litres_of_alcohol_and_the_name_of_a_mark_are_taken_too(server: Server, desk: Watched) -> None:
    opened(desk.page, server)
    there = desk.page.locator("#see-table tr.is-level td").last.text_content() or ""
    desk.page.locator("#see-level").fill(f"{there} L")
    desk.page.keyboard.press("Enter")
    assert level_mm(desk.page) == pytest.approx(1850, abs=0.2)
    desk.page.locator("#see-level").fill("hh")
    desk.page.keyboard.press("Enter")
    marks = json.loads(desk.page.locator("#see-data").inner_text())["marks"]
    high_high_m = next(each["height_m"] for each in marks if each["name"].startswith("HH"))
    assert level_mm(desk.page) == pytest.approx(high_high_m * 1000, abs=0.06)


def test_nonsense_moves_nothing_and_says_what_may_stand_there(server: Server, desk: Watched) -> None:
    opened(desk.page, server)
    for typed in ("abc", "1850", "12 parsec", "99 mA", "1e999 mm", "<script>", "−1e5 mm"):
        desk.page.locator("#see-level").fill(typed)
        desk.page.keyboard.press("Enter")
        assert level_mm(desk.page) == 1850, typed
        assert desk.page.locator("#see-level").get_attribute("aria-invalid") == "true", typed
        assert "level must be" in desk.page.locator("#see-said").inner_text(), typed
        assert desk.page.locator("#see-level").input_value() == typed


def test_a_click_on_a_mark_sends_the_line_there_and_opens_its_working(server: Server, desk: Watched) -> None:
    opened(desk.page, server)
    desk.page.locator(".ruler-mark[title='Level line to CH critical']").click()
    assert level_mm(desk.page) == 2900
    desk.page.locator("#working .work").wait_for()
    assert "work=" in desk.page.url


def test_a_finger_drags_the_grip_and_scrolls_elsewhere(server: Server, browser: Browser) -> None:
    window = watched(browser, 390, 844)
    page = window.page
    opened(page, server)
    page.locator("#ruler-grip").scroll_into_view_if_needed()
    before = level_mm(page)
    _swipe(page, *_middle(page, "#ruler-grip"), 50)
    dragged = level_mm(page)
    assert before - dragged == pytest.approx(50 / px_per_mm(page), abs=2)
    scrolled = page.evaluate("scrollY")
    x, y = _middle(page, "#ruler")
    _swipe(page, x - 120, y, -120)
    assert level_mm(page) == dragged
    assert page.evaluate("scrollY") > scrolled
    window.page.context.close()
    assert window.wrong == []


def _middle(page: Page, name: str) -> tuple[float, float]:
    box = page.locator(name).bounding_box()
    assert box is not None
    return box["x"] + box["width"] / 2, min(box["y"] + box["height"] / 2, 600)


def _swipe(page: Page, x: float, y: float, by: float) -> None:
    """A finger put down, moved and lifted, as the browser is told of it by a touch screen."""
    session = page.context.new_cdp_session(page)
    session.send("Input.dispatchTouchEvent", {"type": "touchStart", "touchPoints": [{"x": x, "y": y}]})
    for step in range(1, 11):
        at = {"x": x, "y": y + by * step / 10}
        session.send("Input.dispatchTouchEvent", {"type": "touchMove", "touchPoints": [at]})
    session.send("Input.dispatchTouchEvent", {"type": "touchEnd", "touchPoints": []})
    page.evaluate("() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)))")


READ = """async (levels) => {
  const { readout } = await import("/static/scales.js");
  const see = JSON.parse(document.getElementById("see-data").textContent);
  return levels.map((level) => see.scales.map((scale) => readout(scale, level)));
}"""


@pytest.mark.parametrize("case", [SCENARIO_A, *OTHERS])
def test_what_the_line_reads_is_what_the_study_works(server: Server, desk: Watched, case: str) -> None:
    """Equal to the last digit shown, but where the study itself lies within the error stated of a tie of rounding."""
    opened(desk.page, server, case)
    data: dict[str, Any] = json.loads(desk.page.locator("#see-data").inner_text())
    low, high = data["span_m"]
    draw = random.Random(20261126)
    levels = [draw.uniform(low, high) for _ in range(LEVELS)]
    shown = desk.page.evaluate(READ, levels)
    found = study(read_case(EXAMPLES / f"{case}.yaml"))
    entries = [each["entry"] for each in data["scales"] if each["entry"] and not each["unknown"]]
    columns = worked(found, entries, np.array(levels))
    units = {each.kind.key: each.kind.unit for each in page_scales(found)}
    compared = 0
    for at, scale in enumerate(data["scales"]):
        for row, text in enumerate(row[at] for row in shown):
            if scale["entry"] in columns and re.fullmatch(r"−?[\d.]+", text):
                exact = in_unit(float(columns[scale["entry"]][row]), units[scale["key"]])
                compared += _agrees(scale, exact, text)
    assert compared > 0.8 * LEVELS * len(columns)


def _agrees(scale: dict[str, Any], exact: float, text: str) -> bool:
    """Whether the text was compared: near a tie of rounding either neighbour is right."""
    digit = 10.0 ** -scale["decimals"]
    if abs((exact / digit) % 1.0 - 0.5) * digit <= scale["error"]:
        return False
    assert float(text.replace("−", "-")) == pytest.approx(round(exact, scale["decimals"]), abs=digit / 100), scale[
        "key"
    ]
    return True
