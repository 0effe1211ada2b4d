"""The review of a log in a real browser: chosen by keyboard, zoomed by hand and by keys, each zoom an address; without
JavaScript the links do the same; axe-core finds nothing, light and dark, on the phone and on the wide screen.
"""

from __future__ import annotations

from urllib.parse import parse_qs, urlsplit

import pytest
from playwright.sync_api import Browser, Page, expect

from system.conftest import Server, watched
from system.pages import SCENARIO_A, settled, violations
from tests.review_desk import DIPS, LOG, MAP

FORM = f"/cases/{SCENARIO_A}/review"
REFUSED = "status of 422"
"""What the browser itself says of a time that cannot be."""
SIZES = {(1280, 800): ("light", "dark"), (390, 844): ("dark",), (1920, 1080): ("light",)}


@pytest.fixture(scope="module")
def reviewed(server: Server, browser: Browser) -> str:
    """The address of a review, which was asked for by keyboard alone."""
    window = watched(browser, 1280, 800)
    page = window.page
    page.goto(server.link + FORM)
    page.get_by_label(LOG, exact=True).focus()
    page.keyboard.press("Space")
    page.locator("#map").select_option(MAP)
    page.locator("#dips").select_option(DIPS)
    page.locator("#map").focus()
    for _ in range(3):
        page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    expect(page.locator(".findings")).to_be_visible(timeout=60_000)
    assert window.wrong == []
    link = page.url
    page.context.close()
    return link


def span(page: Page) -> tuple[str, ...]:
    """From when to when, by the address."""
    found = parse_qs(urlsplit(page.url).query)
    return tuple(found.get(key, [""])[0] for key in ("from", "to"))


def shown(page: Page, words: str) -> None:
    """Wait until the picture says what it shows."""
    expect(page.locator("#chart-when")).to_contain_text(words)


def test_hand_and_keys_zoom_and_each_zoom_is_an_address(browser: Browser, reviewed: str) -> None:
    window = watched(browser, 1280, 800)
    page = window.page
    page.goto(reviewed)
    page.locator("#zoom-from").fill("2026-02-01 06:00")
    page.locator("#zoom-to").fill("2026-02-01 18:00")
    page.keyboard.press("Enter")
    shown(page, "2026-02-01 06:00 to 2026-02-01 18:00")
    assert span(page) == ("2026-02-01 06:00", "2026-02-01 18:00")
    page.locator("#chart-sheet").focus()
    page.keyboard.press("+")
    shown(page, "2026-02-01 09:00 to 2026-02-01 15:00")
    page.keyboard.press("ArrowRight")
    shown(page, "2026-02-01 12:00 to 2026-02-01 18:00")
    assert page.evaluate("document.activeElement.id") == "chart-sheet"
    box = page.locator("#chart-sheet svg").bounding_box()
    assert box is not None
    left, right = (float(page.locator("[data-chart]").get_attribute(f"data-{end}") or "") for end in ("left", "right"))
    page.mouse.move(box["x"] + left + (right - left) / 3, box["y"] + 90)
    page.mouse.down()
    page.mouse.move(box["x"] + left + (right - left) * 2 / 3, box["y"] + 90, steps=3)
    page.mouse.up()
    shown(page, "2026-02-01 14:0")
    assert all(time[:13] in ("2026-02-01 13", "2026-02-01 14", "2026-02-01 15", "2026-02-01 16") for time in span(page))
    page.go_back()
    shown(page, "2026-02-01 12:00 to 2026-02-01 18:00")
    page.keyboard.down("Shift")
    page.mouse.wheel(0, 300)
    page.keyboard.up("Shift")
    expect(page.locator("#chart-when")).not_to_contain_text("2026-02-01 12:00 to")
    page.locator("#zoom-from").fill("x")
    page.keyboard.press("Enter")
    expect(page.locator("#zoom-from-why")).to_contain_text("must be a time")
    assert page.locator("#zoom-from").input_value() == "x" and "from=x" not in page.url
    page.locator("[data-finding='1']").click()
    expect(page.locator("#finding-1")).to_have_attribute("aria-current", "true")
    assert [each for each in window.wrong if REFUSED not in each] == []
    page.context.close()


def test_without_javascript_links_and_form_do_the_same(browser: Browser, reviewed: str) -> None:
    window = watched(browser, 390, 844, script=False)
    page = window.page
    page.goto(reviewed)
    page.locator("#door-closer").click()
    closer = span(page)
    page.locator("#door-earlier").click()
    assert span(page)[0] < closer[0] < span(page)[1] < closer[1]
    page.locator("#zoom-to").fill("2026-02-01")
    page.get_by_role("button", name="Show").click()
    assert page.locator("#zoom-to-why, #zoom-from-why").first.is_visible()
    page.goto(reviewed)
    page.locator("[data-finding='1']").click()
    assert page.locator("#finding-1").get_attribute("aria-current") == "true"
    assert window.wrong == []
    page.context.close()


def test_axe_core_finds_nothing_and_nothing_is_wider_than_its_window(browser: Browser, reviewed: str) -> None:
    found = []
    for size, schemes in SIZES.items():
        for scheme in schemes:
            window = watched(browser, *size, scheme=scheme, policy=False)
            window.page.goto(reviewed)
            settled(window.page)
            found += [f"{size} {scheme}: {each}" for each in (*violations(window.page), *window.wrong)]
            if window.page.evaluate("document.documentElement.scrollWidth") > size[0]:
                found.append(f"{size}: wider than its window")
            window.page.context.close()
    assert found == []
