"""Write ``docs/pictures`` and ``docs/pages.md``: every page of the examples as the browser shows it.

Run: ``PYTHONPATH=src python tools/make_pictures.py``, in the environment that ``dev.py system`` makes. The server runs
on a copy of the examples. Pictures are JPEG, since the browser writes these small.
"""

from __future__ import annotations

import sys
import tempfile
from pathlib import Path
from urllib.parse import urlencode

from playwright.sync_api import Browser, sync_playwright

ROOT = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(ROOT))

from system.conftest import ARGUMENTS, CHROMIUM, copied, started, stop, watched, with_records  # noqa: E402
from system.pages import calm, settled  # noqa: E402
from tests.review_desk import CHOSEN  # noqa: E402

PICTURES = ROOT / "docs" / "pictures"
MOST_BYTES = 200_000
CASE = "/cases/spirit_receiver"
DESK = (1280, 800)
NO_PATH = "() => location.pathname === '/' && (document.querySelector('.who .quiet').textContent = 'cases')"
"""The list of cases names its folder; that of this machine is nobody's business."""
PAGES: tuple[tuple[str, str, tuple[int, int], str, str], ...] = (
    ("folder", "/", DESK, "light", "The cases of a folder: open one, start one, bring one."),
    ("case", CASE, DESK, "light", "What is stated, one height in every scale, what is judged and documented."),
    ("case-dark", CASE, DESK, "dark", "The same in the dark."),
    ("case-1920", CASE, (1920, 1080), "light", "The same on a wide screen: the working has a column of its own."),
    ("case-390", CASE, (390, 844), "light", "The same on a phone: the expected signal comes first."),
    ("working", f"{CASE}?work=signal.current", DESK, "light", "The working of a number, over the case it rests on."),
    ("lying", "/cases/lying_spirit_tank", DESK, "light", "A lying vessel: scales that are no straight lines."),
    ("selection", f"{CASE}/selection", DESK, "light", "The verdict on every principle, with what decides it."),
    ("questions", f"{CASE}/questions", DESK, "light", "What to ask, and what each answer decides."),
    ("order", f"{CASE}/order", DESK, "light", "What is to be ordered, and what stops the order."),
    ("sheets", f"{CASE}/sheets", DESK, "light", "The sheets with their drawings."),
    ("quantity", f"{CASE}/quantity", DESK, "light", "The quantity with its uncertainty, and what it is made of."),
    ("table", f"{CASE}/table", DESK, "light", "The tank table."),
    ("signal", f"{CASE}/signal", DESK, "light", "The expected signal, for whoever stands at the tank."),
    ("papers", f"{CASE}/papers", DESK, "light", "The papers of a case."),
    ("proving", f"{CASE}/proving", DESK, "light", "What was calibrated, how it drifts, when it is due again."),
    ("entry", f"{CASE}/proving/enter?as=found", DESK, "light", "Entering a calibration: readings along the plan."),
    ("record", f"{CASE}/proving/records/2", DESK, "light", "One record: the rule first, then the run."),
    ("which-part", f"{CASE}/causes?dip=1350+mm&meter=11.52+mA", DESK, "light",
     "Dip and meter disagree: readings from which explanations are ranked."),
    ("review", f"{CASE}/review?{urlencode(CHOSEN)}", DESK, "light",
     "What stands out in a level log, with what else it may be; any part of it is shown closer."),
    ("review-part", f"{CASE}/review?{urlencode(CHOSEN)}&from=2026-02-02+06:00&to=2026-02-03+06:00", DESK, "light",
     "A part of it: no current, rows that are missing, a dip."),
    ("compare", f"{CASE}/compare?with=spirit_receiver_isolator", DESK, "light",
     "Two cases, or two versions of one, value by value."),
    ("file", f"{CASE}/file", DESK, "light", "The case file with its faults and its earlier versions."),
    ("formulas", "/formulas", DESK, "light", "Every formula with its source."),
    ("formula", "/formulas/loop.current?level=1.85+m&lower_range_value=100+mm&upper_range_value=2.8+m", DESK, "light",
     "One formula, worked alone."),
)  # fmt: skip


def picture(browser: Browser, link: str, name: str, size: tuple[int, int], scheme: str) -> None:
    """One page as a file below the greatest size."""
    window = watched(browser, *size, scheme=scheme)
    window.page.goto(link)
    settled(window.page)
    calm(window.page)
    window.page.evaluate(NO_PATH)
    file = PICTURES / f"{name}.jpg"
    for quality in (88, 80, 70, 60, 50, 40, 30):
        window.page.screenshot(path=file, type="jpeg", quality=quality)
        if file.stat().st_size < MOST_BYTES:
            break
    else:
        raise SystemExit(f"{file} is {file.stat().st_size:,} bytes even at the least quality")
    window.page.context.close()


def review(browser: Browser, link: str) -> None:
    """Have the log reviewed, so that its page shows it."""
    window = watched(browser, *DESK)
    window.page.goto(f"{link}{CASE}/review?{urlencode(CHOSEN)}")
    window.page.get_by_role("button", name="Review", exact=True).click()
    window.page.locator(".findings").wait_for(timeout=60_000)
    window.page.context.close()


def main() -> None:
    """Take every picture, write the page that shows them."""
    PICTURES.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as driver:
        server = started(with_records(copied(Path(folder) / "cases")))
        try:
            browser = driver.chromium.launch(executable_path=CHROMIUM, headless=True, args=ARGUMENTS)
            review(browser, server.link)
            for name, link, size, scheme, _ in PAGES:
                picture(browser, server.link + link, name, size, scheme)
            browser.close()
        finally:
            stop(server)
    told = "\n\n".join(f"{words}\n\n![{words}](pictures/{name}.jpg)" for name, _, _, _, words in PAGES)
    head = "# The pages\n\nMade by `tools/make_pictures.py` from the examples, which are invented.\n\n"
    (ROOT / "docs" / "pages.md").write_text(head + told + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
