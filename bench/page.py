"""How long a user waits for the page: the first page, its weight, an edit until it is drawn, twenty users at once.

The server and the browser are real (Debian's Chromium, without a window); without a browser only the requests are
timed. The time of an edit counts from the key to the parts in place, the pause of 80 ms that the page waits for more
keys included. Beside what a clock says stands what the processor worked, since other work on the machine
falls on the clock.
"""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from functools import cache
from pathlib import Path
from statistics import median, quantiles
from tempfile import TemporaryDirectory

import httpx2

from bench.race import Figure
from onedatum.jobs.page.made import CaseText
from onedatum.web.parts import Asked, page, prepare

ROOT = Path(__file__).resolve().parents[1]
CASE, FIELD = "spirit_receiver", "medium.temperature"
EDITS, CLIENTS, LASTS_S, EVERY_S = 30, 20, 15.0, 1.0
EDIT_MS, FIRST_S, WEIGHT_MB, SERVED_MS, WORK_MS = 150.0, 1.0, 1.5, 250.0, 70.0
"""What a page may let wait, and weigh; the work of one edit that leaves room for the pause."""
CHROMIUM = shutil.which("chromium")


@contextmanager
def served() -> Iterator[str]:
    """A warm server on a copy of the examples; gives its link."""
    with TemporaryDirectory() as place:
        shutil.copytree(ROOT / "examples", place, dirs_exist_ok=True)
        words = [sys.executable, "-m", "onedatum", "serve", place, "--port", "0", "--no-browser"]
        process = subprocess.Popen(words, stdout=subprocess.PIPE, text=True, cwd=ROOT)
        try:
            if process.stdout is None:
                raise RuntimeError("the server says nothing")
            link = process.stdout.readline().rpartition(" at ")[2].strip().rstrip("/")
            httpx2.get(f"{link}/cases/caustic_tank", timeout=120.0)  # the worker is warm, this case is not
            yield link
        finally:
            process.terminate()
            process.wait(20)


def files_of(html: str) -> set[str]:
    """What a page has the browser load."""
    return set(re.findall(r'(?:src|href)="(/static/[^"]+)"', html))


@cache
def first_page() -> tuple[float, float]:
    """Seconds to the first page of a case, and the megabytes of it with all that it loads."""
    with served() as link, httpx2.Client(base_url=link, timeout=60.0) as client:
        begin = time.perf_counter()
        answer = client.get(f"/cases/{CASE}")
        took_s = time.perf_counter() - begin
        waiting, seen, size = files_of(answer.text), set[str](), len(answer.content)
        while waiting - seen:
            path = (waiting - seen).pop()
            seen.add(path)
            found = client.get(path)
            size += len(found.content)
            if path.endswith((".css", ".js")):
                base = path.rpartition("/")[0]
                named = re.findall(r"""(?:url\(|from |import )["']?\.?/?([\w.-]+\.(?:js|css|woff2|svg))""", found.text)
                waiting |= {f"{base}/{name}" for name in named}
    return took_s, size / 1e6


@cache
def work_ms() -> float:
    """Processor time of one edit in the worker, median."""
    prepare()
    case = CaseText(str(ROOT / "examples"), CASE, (ROOT / "examples" / f"{CASE}.yaml").read_text("utf-8"), "0")
    page(case, {}, Asked())
    times = []
    for number in range(EDITS):
        begin = time.process_time()
        page(case, {FIELD: f"{12 + number / 10} degC"}, Asked())
        times.append(time.process_time() - begin)
    return 1e3 * median(times)


SWAPPED = """
async (value) => {
  const field = document.getElementById("f-FIELD");
  field.closest("details").open = true;
  field.focus();
  const swapped = new Promise((done) => document.addEventListener("parts", done, { once: true }));
  const begin = performance.now();
  field.value = value;
  field.dispatchEvent(new InputEvent("input", { bubbles: true }));
  await swapped;
  return performance.now() - begin;
}
""".replace("FIELD", FIELD)


def edit_ms() -> float:
    """From the key to the parts in place, in the browser, median."""
    from playwright.sync_api import sync_playwright

    with served() as link, sync_playwright() as driver:
        browser = driver.chromium.launch(
            executable_path=CHROMIUM, headless=True, args=["--no-sandbox", "--disable-gpu"]
        )
        opened = browser.new_page(viewport={"width": 1280, "height": 800})
        opened.goto(f"{link}/cases/{CASE}", wait_until="networkidle")
        times = [float(opened.evaluate(SWAPPED, f"{12 + number / 10} degC")) for number in range(EDITS)]
        browser.close()
    return median(times)


@cache
def many() -> tuple[float, float, float]:
    """Twenty users who each change a field once a second: milliseconds, middle and worst of a hundred; errors."""
    times: list[float] = []
    wrong: list[int] = []

    def client(number: int, link: str) -> None:
        with httpx2.Client(base_url=link, timeout=60.0) as session:
            time.sleep(number * EVERY_S / CLIENTS)
            end, turn, has = time.perf_counter() + LASTS_S, 0, dict[str, str]()
            while (begin := time.perf_counter()) < end:
                turn += 1
                body = {"changes": {FIELD: f"{10 + number} degC", "tag": f"T{turn}"}, "window": str(number), "has": has}
                answer = session.post(f"/api/cases/{CASE}/try", json=body)
                times.append(1e3 * (time.perf_counter() - begin))
                wrong.extend([answer.status_code] if answer.status_code != 200 else [])
                has = answer.json().get("marks", has)
                time.sleep(max(0.0, begin + EVERY_S - time.perf_counter()))

    with served() as link:
        httpx2.get(f"{link}/cases/{CASE}", timeout=60.0)  # whoever changes a case has opened it
        time.sleep(EVERY_S)
        clients = [threading.Thread(target=client, args=(number, link)) for number in range(CLIENTS)]
        for each in clients:
            each.start()
        for each in clients:
            each.join()
    return median(times), quantiles(times, n=100)[98], float(len(wrong))


def part(measure: Callable[[], tuple[float, ...]], at: int) -> Callable[[], float]:
    """One number of a measurement that gives several; it is taken once."""
    return lambda: measure()[at]


def races() -> list[Figure]:
    """Goals of the page; the load of the machine is said with them."""
    load = f"load {os.getloadavg()[0]:.1f} on {os.cpu_count()} processors"
    browser = [Figure("an edit, from the key to the page redrawn", edit_ms, EDIT_MS, "ms")] if CHROMIUM else []
    return [
        Figure(f"an edit, processor time in the worker ({load})", work_ms, WORK_MS, "ms"),
        *browser,
        Figure("the first page of a case", part(first_page, 0), FIRST_S, "s"),
        Figure("the first page with all that it loads", part(first_page, 1), WEIGHT_MB, "MB"),
        Figure(f"an edit of one of {CLIENTS} users, middle", part(many, 0), SERVED_MS, "ms"),
        Figure(f"an edit of one of {CLIENTS} users, worst of a hundred", part(many, 1), SERVED_MS, "ms"),
        Figure(f"edits of {CLIENTS} users that failed", part(many, 2), 0.0, "requests"),
    ]
