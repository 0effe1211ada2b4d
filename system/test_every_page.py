"""Every page of a case: nothing leaves this machine, nothing goes wrong in the browser, and axe-core finds nothing.

axe-core checks what a machine can check of WCAG 2.2; a reader of the screen has still to be asked by ear. Its script
is let in past the policy of the pages, so it runs in a window of its own; the first test runs under the policy.
"""

from __future__ import annotations

import pytest
from playwright.sync_api import Browser

from system.conftest import Server, watched
from system.pages import OTHERS, SCENARIO_A, links, settled, violations

SIZES = {"desk": (1280, 800), "wide": (1920, 1080), "phone": (390, 844)}
REFUSAL = "status of 404"
"""What the browser itself says of the page that refuses; it is the answer that was wanted."""
EVERY = [(SCENARIO_A, name) for name in links("")]
SOME = [(case, name) for case in OTHERS for name in ("case", "working", "selection", "sheets", "order", "signal")]


@pytest.mark.parametrize(("case", "name"), EVERY + SOME)
def test_nothing_goes_wrong_and_nothing_leaves_this_machine(
    server: Server, browser: Browser, case: str, name: str
) -> None:
    window = watched(browser, 1280, 800)
    window.page.goto(server.link + links(case)[name])
    settled(window.page)
    assert window.page.locator("h1, h2, .answer").first.inner_text()
    asked = [each for each in window.wrong if not (name == "refusal" and REFUSAL in each)]
    window.page.context.close()
    assert asked == []


SHORT = (("desk", "light"), ("phone", "dark"))
"""What the gate looks at; the other sizes and schemes are of the same pages."""
LOOKS = [
    pytest.param(size, scheme, marks=() if (size, scheme) in SHORT else pytest.mark.long)
    for size in SIZES
    for scheme in ("light", "dark")
]


@pytest.mark.parametrize(("size", "scheme"), LOOKS)
def test_axe_core_finds_nothing_in_scenario_a(server: Server, browser: Browser, size: str, scheme: str) -> None:
    assert _found(server, browser, size, scheme, EVERY) == []


@pytest.mark.long
@pytest.mark.parametrize(("size", "scheme"), [("desk", "light"), ("phone", "dark")])
def test_axe_core_finds_nothing_in_other_cases(server: Server, browser: Browser, size: str, scheme: str) -> None:
    assert _found(server, browser, size, scheme, SOME) == []


@pytest.mark.parametrize("size", SIZES)
def test_no_page_is_wider_than_its_window(server: Server, browser: Browser, size: str) -> None:
    """WCAG 2.2, 1.4.10: no scrolling in two directions at 320 CSS px and more."""
    window = watched(browser, *SIZES[size])
    wide = []
    for case, name in EVERY + SOME:
        window.page.goto(server.link + links(case)[name])
        over = window.page.evaluate("document.documentElement.scrollWidth - window.innerWidth")
        if over > 0:
            wide.append(f"{case} {name}: {over} px")
    window.page.context.close()
    assert wide == []


def _found(server: Server, browser: Browser, size: str, scheme: str, pages: list[tuple[str, str]]) -> list[str]:
    window = watched(browser, *SIZES[size], scheme=scheme, policy=False)
    found = []
    for case, name in pages:
        window.page.goto(server.link + links(case)[name])
        settled(window.page)
        found += [f"{case} {name}: {each}" for each in violations(window.page)]
    window.page.context.close()
    return found
