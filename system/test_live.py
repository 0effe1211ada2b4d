"""The case, live: what is typed is tried, what is left is kept; nothing that is typed breaks the page or is lost."""

from __future__ import annotations

from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from system.conftest import Server, Watched, watched
from system.pages import SCENARIO_A, calm

DIAMETER = "[id='f-vessel.inside_diameter']"
WHY = "[id='f-vessel.inside_diameter-why']"


def opened(page: Page, server: Server) -> None:
    """The page of scenario A, at rest."""
    page.goto(f"{server.link}/cases/{SCENARIO_A}")
    calm(page)


def litres(page: Page) -> str:
    """The last scale of the level line: litres of pure alcohol."""
    return page.locator("#see-table tr.is-level td").last.text_content() or ""


def kept(server: Server) -> str:
    """The file of scenario A as it stands."""
    return (Path(server.folder) / f"{SCENARIO_A}.yaml").read_text(encoding="utf-8")


def test_a_new_diameter_changes_the_answer_in_place(own_server: Server, desk: Watched) -> None:
    page = desk.page
    opened(page, own_server)
    page.evaluate("window.never_left = true")
    before = litres(page)
    page.locator(DIAMETER).click()
    page.keyboard.press("End")
    for _ in range(len("600 mm")):
        page.keyboard.press("ArrowLeft")
    page.keyboard.press("Delete")
    page.keyboard.type("7")
    calm(page)
    assert litres(page) != before
    assert page.evaluate("window.never_left") is True
    expect(page.locator(DIAMETER)).to_be_focused()
    assert page.locator(DIAMETER).input_value() == "1700 mm"
    assert page.evaluate("document.activeElement.selectionStart") == 2
    assert "inside_diameter: 1600 mm" in kept(own_server)
    page.keyboard.press("Enter")
    calm(page)
    assert "inside_diameter: 1700 mm" in kept(own_server)


@pytest.mark.parametrize("typed", ["1.", "abc", "1e", "-1 m", "1600", "1e999 mm", "NaN m", "１６００ mm", "<b>"])
def test_what_cannot_be_read_leaves_the_last_good_value(own_server: Server, desk: Watched, typed: str) -> None:
    page = desk.page
    opened(page, own_server)
    before, file = litres(page), kept(own_server)
    page.locator(DIAMETER).fill(typed)
    calm(page)
    assert litres(page) == before
    assert "must be" in page.locator(WHY).inner_text()
    assert "to correct" in page.locator(".counts").inner_text()
    page.keyboard.press("Enter")
    calm(page)
    assert kept(own_server) == file
    assert page.locator(DIAMETER).input_value() == typed


def test_an_emptied_field_asks_and_an_edit_keeps_comments(own_server: Server, desk: Watched) -> None:
    page = desk.page
    opened(page, own_server)
    comments = [line[line.index("#") :] for line in kept(own_server).splitlines() if "#" in line]
    page.locator(DIAMETER).fill("")
    page.keyboard.press("Tab")
    calm(page)
    assert "inside_diameter: unknown" in kept(own_server)
    page.locator(DIAMETER).fill("1650 mm")
    page.keyboard.press("Tab")
    calm(page)
    assert "inside_diameter: 1650 mm" in kept(own_server)
    assert [line[line.index("#") :] for line in kept(own_server).splitlines() if "#" in line] == comments


def test_undo_and_redo(own_server: Server, desk: Watched) -> None:
    page = desk.page
    opened(page, own_server)
    before = kept(own_server)
    page.locator(DIAMETER).fill("1650 mm")
    page.keyboard.press("Enter")
    calm(page)
    after = kept(own_server)
    page.get_by_role("button", name="Undo").click()
    calm(page)
    assert kept(own_server) == before != after
    expect(page.locator(DIAMETER)).to_have_value("1600 mm")
    page.get_by_role("button", name="Redo").click()
    calm(page)
    assert kept(own_server) == after


def test_the_second_of_two_windows_is_told_and_loses_nothing(
    own_server: Server, browser: Browser, desk: Watched
) -> None:
    other = watched(browser, 1280, 800)
    opened(desk.page, own_server)
    opened(other.page, own_server)
    desk.page.locator(DIAMETER).fill("1650 mm")
    desk.page.keyboard.press("Enter")
    calm(desk.page)
    other.page.locator("[id='f-vessel.shell_length']").fill("2500 mm")
    other.page.keyboard.press("Enter")
    other.page.locator("h1", has_text="has changed meanwhile").wait_for()
    told = other.page.locator("main").inner_text()
    assert "1650 mm" in told
    assert "1600 mm" in told
    assert other.page.locator("input[name='vessel.shell_length']").input_value() == "2500 mm"
    assert "shell_length: 2400 mm" in kept(own_server)
    other.page.get_by_role("button", name="Keep these").click()
    other.page.wait_for_url(f"**/cases/{SCENARIO_A}")
    other.page.context.close()
    assert "inside_diameter: 1650 mm" in kept(own_server)
    assert "shell_length: 2500 mm" in kept(own_server)


def test_without_a_script_every_thing_works_by_forms(own_server: Server, browser: Browser) -> None:
    window = watched(browser, 1280, 800, script=False)
    page = window.page
    page.goto(f"{own_server.link}/cases/{SCENARIO_A}")
    page.locator(DIAMETER).fill("1650 mm")
    page.get_by_role("button", name="Keep changes").click()
    assert "inside_diameter: 1650 mm" in kept(own_server)
    page.locator(DIAMETER).fill("abc")
    page.get_by_role("button", name="Keep changes").click()
    assert "must be" in page.locator(WHY).inner_text()
    assert page.locator(DIAMETER).input_value() == "abc"
    page.goto(f"{own_server.link}/cases/{SCENARIO_A}")
    page.locator("#see-level").fill("12 mA")
    page.get_by_role("button", name="Show", exact=True).click()
    # By hand: half of the way from 100 mm to 2800 mm.
    assert "1450" in page.locator("#see-table tr.is-level").inner_text()
    page.locator("#part-judge a.number").first.click()
    assert page.locator("#working .work .big").inner_text()
    page.goto(f"{own_server.link}/cases/{SCENARIO_A}?every=states")
    page.locator("[name='states[3].name']").fill("cleaning")
    page.get_by_role("button", name="Keep changes").click()
    assert "name: cleaning" in kept(own_server)
    page.goto(f"{own_server.link}/cases/{SCENARIO_A}/papers")
    page.get_by_role("button", name="Make the papers").click()
    page.get_by_role("button", name="Make them again").wait_for(timeout=120_000)
    with page.expect_download() as waiting:
        page.locator("a[download][href$='.pdf']").first.click()
    assert Path(waiting.value.path()).read_bytes().startswith(b"%PDF-")
    page.context.close()
    assert [each for each in window.wrong if "422" not in each] == []
