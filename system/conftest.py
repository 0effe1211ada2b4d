"""A server on a copy of the examples, and a browser that reports every request off this machine and every error."""

from __future__ import annotations

import shutil
import subprocess
import sys
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from urllib.parse import urlsplit

import pytest
from playwright.sync_api import Browser, ConsoleMessage, Page, Request, sync_playwright

from tests.proving_desk import visits
from tests.review_desk import written

ROOT = Path(__file__).resolve().parent.parent
EXAMPLES = ROOT / "examples"
LOOPBACK = ("127.0.0.1", "localhost")
ARGUMENTS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]
CHROMIUM = shutil.which("chromium") or "/usr/bin/chromium"


@dataclass
class Server:
    """A running server: its address, its folder, its process."""

    link: str
    folder: Path
    process: subprocess.Popen[str]


def started(folder: Path, *more: str) -> Server:
    """A server of a folder on a free port."""
    words = [sys.executable, "-m", "onedatum", "serve", str(folder), "--port", "0", "--no-browser", *more]
    process = subprocess.Popen(words, stdout=subprocess.PIPE, text=True, cwd=ROOT)
    if process.stdout is None:
        raise RuntimeError("the server says nothing")
    line = process.stdout.readline()
    return Server(line.rsplit(" at ", 1)[-1].strip().rstrip("/"), folder, process)


def stop(server: Server) -> None:
    """End a server."""
    server.process.terminate()
    try:
        server.process.wait(10)
    except subprocess.TimeoutExpired:
        server.process.kill()
        server.process.wait()
    if server.process.stdout is not None:
        server.process.stdout.close()


def copied(folder: Path) -> Path:
    """The examples in a folder of their own, with an invented log beside them."""
    folder.mkdir(parents=True, exist_ok=True)
    for file in EXAMPLES.iterdir():
        if file.is_file():
            shutil.copy(file, folder / file.name)
    return written(folder)


def with_records(folder: Path) -> Path:
    """The same with calibrations of the receiver, which are invented."""
    visits(folder / "spirit_receiver.yaml")
    return folder


@pytest.fixture(scope="session")
def server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Server]:
    """A server on the examples, for tests that only read."""
    made = started(with_records(copied(tmp_path_factory.mktemp("cases"))))
    yield made
    stop(made)


@pytest.fixture
def own_server(tmp_path: Path) -> Iterator[Server]:
    """A server on a copy of the examples that the test may change."""
    made = started(copied(tmp_path / "cases"))
    yield made
    stop(made)


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """Debian's Chromium."""
    with sync_playwright() as driver:
        made = driver.chromium.launch(executable_path=CHROMIUM, headless=True, args=ARGUMENTS)
        yield made
        made.close()


@dataclass
class Watched:
    """A page, and what went wrong on it."""

    page: Page
    wrong: list[str] = field(default_factory=list)

    def on_request(self, request: Request) -> None:
        """A request that leaves this machine."""
        parts = urlsplit(request.url)
        if parts.scheme not in ("data", "blob", "about") and parts.hostname not in LOOPBACK:
            self.wrong.append(f"request off this machine: {request.url}")

    def on_console(self, message: ConsoleMessage) -> None:
        """An error told to the console."""
        if message.type in ("error", "warning"):
            self.wrong.append(f"console {message.type}: {message.text}")


def watched(
    browser: Browser, width: int, height: int, scheme: str = "light", script: bool = True, policy: bool = True
) -> Watched:
    """A page in a window of its own, watched; without `policy` it lets in the script that checks it."""
    context = browser.new_context(
        viewport={"width": width, "height": height},
        color_scheme="dark" if scheme == "dark" else "light",
        java_script_enabled=script,
        has_touch=width < 600,
        bypass_csp=not policy,
    )
    made = Watched(context.new_page())
    made.page.on("request", made.on_request)
    made.page.on("console", made.on_console)
    made.page.on("pageerror", lambda error: made.wrong.append(f"page error: {error}"))
    return made


@pytest.fixture
def desk(browser: Browser) -> Iterator[Watched]:
    """A window at the design size; the test fails on anything that went wrong in it."""
    made = watched(browser, 1280, 800)
    yield made
    made.page.context.close()
    assert made.wrong == []
