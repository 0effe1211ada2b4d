"""Every number is a door to its working: it opens beside the case, closes by Esc and Back, and is marked meanwhile."""

from __future__ import annotations

from playwright.sync_api import expect

from system.conftest import Server, Watched
from system.pages import SCENARIO_A, calm

DOOR = "#part-judge a.number[data-entry='loop.last_good_current']"


def test_a_number_opens_its_working_and_esc_gives_the_focus_back(server: Server, desk: Watched) -> None:
    page = desk.page
    page.goto(f"{server.link}/cases/{SCENARIO_A}")
    calm(page)
    page.locator(DOOR).focus()
    page.keyboard.press("Enter")
    expect(page.locator("#working .work")).to_be_visible()
    expect(page.locator(DOOR)).to_have_class("number on")
    expect(page.locator("#working [data-close]")).to_be_focused()
    assert "mA" in page.locator("#working .big").inner_text()
    page.keyboard.press("Escape")
    expect(page.locator("#working")).to_be_hidden()
    expect(page.locator(DOOR)).to_be_focused()
    expect(page.locator(DOOR)).to_have_class("number")


def test_back_closes_one_after_another(server: Server, desk: Watched) -> None:
    page = desk.page
    page.goto(f"{server.link}/cases/{SCENARIO_A}")
    calm(page)
    page.locator(DOOR).click()
    page.locator("#working .work").wait_for()
    first = page.locator("#working h2").inner_text()
    page.locator("#working a.number").first.click()
    expect(page.locator("#working h2")).not_to_have_text(first)
    page.go_back()
    expect(page.locator("#working h2")).to_have_text(first)
    page.go_back()
    expect(page.locator("#working")).to_be_hidden()
    assert "work=" not in page.url


def test_a_working_stays_open_over_a_reload_and_follows_what_is_typed(own_server: Server, desk: Watched) -> None:
    page = desk.page
    page.goto(f"{own_server.link}/cases/{SCENARIO_A}?work=signal.current")
    calm(page)
    before = page.locator("#working").inner_text()
    page.locator("[id='t-range']").press("Enter")
    page.locator("[id='f-range.20 mA']").fill("2700 mm")
    calm(page)
    expect(page.locator("#working")).not_to_have_text(before)
    page.reload()
    expect(page.locator("#working .work")).to_be_visible()
