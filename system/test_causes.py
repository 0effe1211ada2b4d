"""Which part may be wrong in a real browser: by keyboard, with and without JavaScript, the result free of faults."""

from __future__ import annotations

import pytest
from playwright.sync_api import Browser, Page

from system.conftest import ROOT, Server, watched
from system.pages import SCENARIO_A, settled, violations

READINGS = ROOT / "examples" / "proving" / "spirit_receiver_readings.csv"
FIELDS = ("dip_m", "current_A", "voltage_V", "supply_V", "temperature_K")
REFUSED = "status of 422"
"""What the browser itself says of the page that tells a fault."""


def fill(page: Page) -> None:
    """The rows of the example."""
    for at, line in enumerate(READINGS.read_text(encoding="utf-8").splitlines()[1:]):
        way, *cells, _ = line.split(",")
        page.locator(f"[name='r{at}.way']").select_option(way)
        for field, cell in zip(FIELDS, cells, strict=True):
            page.locator(f"[name='r{at}.{field}']").fill(cell)


@pytest.mark.parametrize(
    ("size", "scheme"), [((1280, 800), "light"), ((390, 844), "light"), ((390, 844), "dark"), ((1280, 800), "dark")]
)
def test_a_ranking_is_free_of_faults_and_no_wider_than_its_window(
    server: Server, browser: Browser, size: tuple[int, int], scheme: str
) -> None:
    window = watched(browser, *size, scheme=scheme, policy=False)
    window.page.goto(f"{server.link}/cases/{SCENARIO_A}/causes")
    fill(window.page)
    window.page.locator("[name='r5.temperature_K']").press("Enter")
    settled(window.page)
    assert "The readings agree best with" in window.page.inner_text("body")
    assert violations(window.page) == []
    assert window.page.evaluate("document.documentElement.scrollWidth") <= size[0]
    assert window.wrong == []
    window.page.context.close()


def test_without_javascript_a_fault_keeps_what_is_typed(server: Server, browser: Browser) -> None:
    window = watched(browser, 390, 844, script=False)
    window.page.goto(f"{server.link}/cases/{SCENARIO_A}/causes")
    fill(window.page)
    window.page.locator("[name='r1.dip_m']").fill("14,5")
    window.page.get_by_role("button", name="Rank what may be wrong").click()
    assert window.page.locator("[name='r1.dip_m']").input_value() == "14,5"
    assert window.page.locator("[id='r1.dip_m-why']").is_visible()
    window.page.locator("[name='r1.dip_m']").fill("1454")
    window.page.get_by_role("button", name="Rank what may be wrong").click()
    assert "The readings agree best with" in window.page.inner_text("body")
    assert [each for each in window.wrong if REFUSED not in each] == []
    window.page.context.close()
