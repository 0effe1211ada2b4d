"""The pages of a case by what they are called, and what is asked of every one of them."""

from __future__ import annotations

from pathlib import Path

from playwright.sync_api import Page

AXE = Path(__file__).parent / "node_modules" / "axe-core" / "axe.min.js"
SCENARIO_A = "spirit_receiver"
OTHERS = ("caustic_tank", "steam_drum", "lying_spirit_tank")

OF_A_CASE = {
    "case": "",
    "working": "?work=signal.current",
    "selection": "/selection",
    "questions": "/questions",
    "order": "/order",
    "sheets": "/sheets",
    "quantity": "/quantity",
    "table": "/table",
    "papers": "/papers",
    "proving": "/proving",
    "entry of a calibration": "/proving/enter?as=left",
    "which part": "/causes?dip=1350+mm&meter=11.52+mA",
    "review of a log": "/review?log=three_days.csv&map=three_days_map.yaml",
    "compare": "/compare",
    "file": "/file",
    "signal": "/signal",
}
OF_NO_CASE = {
    "record": f"/cases/{SCENARIO_A}/proving/records/2?work=error.U",
    "folder": "/",
    "due": "/due",
    "formulas": "/formulas?search=rod",
    "formula": "/formulas/loop.current?level=1.85+m&lower_range_value=100+mm&upper_range_value=2.8+m",
    "refusal": "/cases/not_there",
}


CALM = """() => new Promise((done) => {
  const look = () => (document.body.hasAttribute("data-busy") ? setTimeout(look, 10) : done(true));
  look();
})"""


def links(case: str) -> dict[str, str]:
    """The pages of a case, and those that belong to none."""
    return {name: f"/cases/{case}{tail}" for name, tail in OF_A_CASE.items()} | OF_NO_CASE


def settled(page: Page) -> None:
    """Wait until nothing more is asked of the server."""
    page.wait_for_load_state("networkidle")


def calm(page: Page) -> None:
    """Wait until what was typed is tried and kept."""
    page.evaluate(CALM)


def violations(page: Page) -> list[str]:
    """What axe-core finds against the page as it stands; its page must let foreign scripts in."""
    page.evaluate(AXE.read_text(encoding="utf-8") + "\n;undefined")
    found = page.evaluate("axe.run(document, {resultTypes: ['violations']})")
    return [
        f"{each['id']} ({each['impact']}): {node['html'][:160]} at {node['target']}: {node['failureSummary'][:300]}"
        for each in found["violations"]
        for node in each["nodes"]
    ]
