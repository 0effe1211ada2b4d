"""Cases of every kind for the pages: other vessels, other units, gaps, faults.

The shapes and words are those of the case file.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

from onedatum.case.skeleton import skeleton
from onedatum.jobs.page.causes import begun_view
from onedatum.jobs.page.choosing import order_view, questions_view, selection_view
from onedatum.jobs.page.file import file_view
from onedatum.jobs.page.made import CaseText
from onedatum.jobs.page.proving import proving_view
from onedatum.jobs.page.proving_entry import entry_view
from onedatum.jobs.page.quantity import quantity_view
from onedatum.jobs.page.sheets import sheets_view
from onedatum.jobs.page.signal import signal_view
from onedatum.jobs.page.table import table_view
from onedatum.jobs.proving.plan import Wished
from onedatum.web.making import shown
from onedatum.web.parts import Asked, page

EXAMPLES = Path(__file__).parents[2] / "examples"
TEXTS = {path.stem: path.read_text(encoding="utf-8") for path in sorted(EXAMPLES.glob("*.yaml"))}
VESSELS = {
    "sphere": "shape: sphere\n  inside_diameter: 4 m",
    "box": "shape: box\n  length: 3 m\n  width: 2 m\n  height: 2.5 m",
    "lying": "shape: lying cylinder\n  inside_diameter: 2 m\n  shell_length: 6 m\n"
    "  near_end: {form: hemisphere}\n  far_end: {form: flat}",
    "cone": "shape: vertical cylinder\n  inside_diameter: 2 m\n  shell_length: 3 m\n  "
    "bottom_head: {form: cone, depth: 1 m}\n"
    "  top_head: {form: flat}",
    "lying, nothing known": "shape: lying cylinder\n  inside_diameter: unknown",
    "no such shape": "shape: pretzel\n  inside_diameter: 2 m",
    "US units": "shape: vertical cylinder\n  inside_diameter: 10 ft\n  shell_length: 20 ft 6 in\n"
    "  bottom_head: {form: flat}\n"
    "  top_head: {form: flat}",
    "nothing": "shape: unknown",
}


def with_vessel(vessel: str) -> str:
    """The spirit receiver in another vessel."""
    text = re.sub(
        r"(?ms)^vessel:\n.*?(?=^\w)", f"vessel:\n  {vessel}\n  datum: lowest inside point\n\n", TEXTS["spirit_receiver"]
    )
    if vessel not in text:
        raise ValueError("the example has no vessel any more")
    return text


def faulty(text: str) -> str:
    """Every number of a case with a unit that cannot be."""
    return re.sub(r"(?m)(: )-?\d[\d.,]* ?(?:mm|m|kg|degC|mA|V|ohm)\b", r"\g<1>5 furlong", text)


CASES = {
    **{name: with_vessel(vessel) for name, vessel in VESSELS.items()},
    **{f"{name}, all faulty": faulty(TEXTS[name]) for name in ("spirit_receiver", "caustic_tank")},
    "new": skeleton(),
    "version alone": "onedatum: 1\n",
    "empty": "",
    "no YAML": "vessel: {\n",
    "two floats": "onedatum: 1\ntag: T\ninstrument:\n  float: {mass: 1 kg}\n  interface_float: {mass: 2 kg}\n",
}


def case(text: str, name: str = "case") -> CaseText:
    """A case as the server hands it to a worker."""
    return CaseText(str(EXAMPLES), name, text, "0" * 64)


def pages(of: CaseText, asked: Asked | None = None) -> Iterator[tuple[str, str]]:
    """The case page and every further page, as they are sent."""
    made = page(of, {}, asked or Asked())
    yield "case", "".join(made.html.values())
    yield "selection", shown("selection.html", selection_view, of, False)
    yield "questions", shown("questions.html", questions_view, of)
    yield "order", shown("order.html", order_view, of)
    yield "sheets", shown("sheets.html", sheets_view, of)
    yield "quantity", shown("quantity.html", quantity_view, of, task=None)
    yield "table", shown("table.html", table_view, of, "")
    yield "file", shown("file.html", file_view, of, versions=())
    yield "proving", shown("proving.html", proving_view, of, Wished())
    yield "proving_enter", shown("proving_enter.html", entry_view, of, Wished(), "left")
    yield "causes", shown("causes.html", begun_view, of, "1350 mm", "11.52 mA", task=None)
    yield "signal", shown("signal.html", signal_view, of, "", "", "")


BAD = re.compile(
    r"\bNone\b|\bnan\b|\bNaN\b(?! *(?:&#39;|'))|\binf\b|Undefined|<bound method|object at 0x"
    r"|\bTrue\b|\bFalse\b(?! echoes)"
)


def wrong(html: str) -> list[str]:
    """Words of the language the tool is written in, which say nothing to a reader."""
    text = re.sub(r"(?s)<[^>]*>", " ", html)
    return [text[max(0, found.start() - 60) : found.end() + 30] for found in BAD.finditer(text)]
