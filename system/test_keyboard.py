"""Scenario A by keyboard alone: from the list of cases to a new case, its values, the answer, and the papers.

Nothing is clicked and no element is focused by the test: it presses Tab until the field it wants has the focus, as who
has no mouse does. What was typed is held against the example file: every value of it must read alike in the new one.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Page, expect
from pypdf import PdfReader

from onedatum.case.leaf import Leaf, Value
from onedatum.case.reading import read_case
from system.conftest import EXAMPLES, Server, Watched
from system.pages import calm

FILE = EXAMPLES / "spirit_receiver.yaml"
FOCUS = """() => {
  const at = document.activeElement;
  const box = at.closest("details");
  return {id: at.id, name: at.name || "", tag: at.tagName, text: (at.innerText || "").trim(), value: at.value ?? "",
    section: box ? box.id : "", closed: at.tagName === "SUMMARY" && !box.open,
    options: at.tagName === "SELECT" ? [...at.options].map((each) => each.text) : []};
}"""
MOST_TABS = 4000


def wanted() -> dict[str, str]:
    """What scenario A states, by the path of its field."""
    found: dict[str, str] = {}
    case = read_case(FILE).case
    for head, path in (("bottom_head", "vessel.bottom_head"), ("top_head", "vessel.top_head")):
        for leaf in getattr(case.vessel, head).leaves():
            found |= _texts(leaf, f"{path}.{leaf.path.rpartition('.')[2]}")
    for leaf in case.leaves():
        if "_head." not in leaf.path and "listed" not in leaf.text:
            found |= _texts(leaf, leaf.path)
    return found


def _texts(leaf: Leaf, path: str) -> dict[str, str]:
    if leaf.state not in ("stated", "assumed", "none"):
        return {}
    told = {path: leaf.text} | {f"{path}.{key}": text for key, text in leaf.parts}
    told |= {f"{path}.{key}": text for key in ("by", "note", "source") if (text := getattr(leaf, key))}
    if isinstance(leaf, Value):
        told |= {f"{path}.{key}": each.text for key, each in leaf.companions.items()}
    return told | ({f"{path}.basis": "assumed"} if leaf.state == "assumed" else {})


def focus(page: Page) -> dict[str, Any]:
    """What has the focus."""
    return dict(page.evaluate(FOCUS))


def tabs(page: Page, most: int = MOST_TABS) -> Iterator[dict[str, Any]]:
    """What has the focus after each further press of Tab."""
    for _ in range(most):
        page.keyboard.press("Tab")
        yield focus(page)


def tab_to(page: Page, text: str) -> None:
    """Press Tab until the focus is on what bears this text."""
    assert any(at["text"] == text for at in tabs(page, 300)), f"Tab never came to {text}"


def put(page: Page, at: dict[str, Any], text: str) -> None:
    """Type a value into the field that has the focus."""
    if at["tag"] == "SELECT":
        assert text in at["options"], f"{at['name']} does not offer {text}"
        others = [each for each in at["options"] if each != text]
        page.keyboard.type(next((p for i in range(1, len(text)) if _own(p := text[:i], others)), text))
        if page.evaluate("document.activeElement.value") == text:
            return
        calm(page)
        for _ in range(len(at["options"])):
            if page.evaluate("document.activeElement.value") == text:
                return
            page.keyboard.press("ArrowDown")
            calm(page)
        raise AssertionError(f"{at['name']} cannot be set to {text} by keyboard")
    page.keyboard.press("ControlOrMeta+a")
    page.keyboard.type(text)


def _own(prefix: str, others: list[str]) -> bool:
    return not any(each.lower().startswith(prefix.lower()) for each in others)


def walk(page: Page, left: dict[str, str]) -> None:
    """Once through the form by Tab: closed sections are opened, fields that are wanted are filled."""
    seen_form = False
    for at in tabs(page):
        inside = at["section"].startswith("s-")
        seen_form = seen_form or inside
        if seen_form and not inside and at["tag"] != "BUTTON":
            return
        if at["closed"] or (at["id"].startswith("m-") and at["text"].startswith("Every")):
            page.keyboard.press("Enter")
            calm(page)
        elif at["id"].startswith("b-") and any(path.startswith(f"{at['id'][2:]}.") for path in left):
            if not at["text"].endswith("close"):
                page.keyboard.press("Enter")
                calm(page)
        elif at["name"] in left:
            put(page, at, left.pop(at["name"]))
            waits = "[" in at["name"] or any(path.startswith(f"{at['name']}.") for path in left)
            if waits:
                page.keyboard.press("Enter")
                calm(page)


@pytest.mark.long
def test_scenario_a_from_an_empty_form_to_the_pdf(own_server: Server, desk: Watched, tmp_path: Path) -> None:
    page = desk.page
    page.goto(own_server.link)
    assert any(at["name"] == "name" for at in tabs(page, 100))
    page.keyboard.type("by_keyboard")
    page.keyboard.press("Enter")
    page.wait_for_url("**/cases/by_keyboard")
    calm(page)

    left = wanted()
    walk(page, left)
    calm(page)
    assert left == {}
    assert page.locator("[aria-invalid]").all_inner_texts() == []

    _reads_alike(own_server.folder / "by_keyboard.yaml")
    page.goto(f"{own_server.link}/cases/spirit_receiver")
    answer = page.locator("#answer").inner_text()
    page.go_back()
    calm(page)
    expect(page.locator("#answer")).to_have_text(answer)

    tab_to(page, "Papers")
    page.keyboard.press("Enter")
    page.wait_for_url("**/papers")
    tab_to(page, "Make the papers")
    page.keyboard.press("Enter")
    page.get_by_role("button", name="Make them again").wait_for(timeout=120_000)
    for at in tabs(page, 100):
        if at["text"].endswith(".pdf"):
            with page.expect_download() as waiting:
                page.keyboard.press("Enter")
            file = tmp_path / "paper.pdf"
            waiting.value.save_as(file)
            break
    words = "\n".join(each.extract_text() for each in PdfReader(file).pages)
    assert file.read_bytes().startswith(b"%PDF-")
    assert "LT-201" in words
    assert "HH" in words


def _reads_alike(file: Path) -> None:
    """Every value of the example reads alike in the file that was made by keyboard."""
    made, example = ({leaf.path: leaf for leaf in read_case(each).case.leaves()} for each in (file, FILE))
    for path, leaf in example.items():
        if leaf.state in ("stated", "assumed", "none") and "listed" not in leaf.text:
            other = made[path]
            told = [
                json.dumps([getattr(each, key, None) for key in ("state", "text", "si", "low", "high")])
                for each in (leaf, other)
            ]
            assert told[0] == told[1], path
