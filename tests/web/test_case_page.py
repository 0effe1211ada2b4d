"""The case page itself: whole HTML that the policy lets pass, whatever is looked at, tried or added.

What is forbidden follows from the Content Security Policy (W3C, level 3) and from HTML; see `tests/web/markup.py`.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import replace

import pytest

from onedatum.case.reading import read_case_text
from onedatum.case.skeleton import skeleton
from onedatum.jobs.page.made import CaseText
from onedatum.web.parts import Asked, Page, page
from onedatum.web.templating import moment, of_field, templates
from tests.web.conftest import EXAMPLES, HOST, Desk
from tests.web.markup import Markup, read

TEXT = (EXAMPLES / "spirit_receiver.yaml").read_text(encoding="utf-8")
HOSTILE = '<script>alert(1)</script>"><img src=x onerror=alert(2)>'
TRIED = "loop.barrier.resistance=245 ohm"
ORIGIN = {"Origin": f"http://{HOST}"}

CASES = {
    "scenario A": TEXT,
    "steam drum": (EXAMPLES / "steam_drum.yaml").read_text(encoding="utf-8"),
    "new": skeleton(),
    "empty": "",
    "faulty": TEXT.replace("inside_diameter: 1600 mm", "inside_diameter: 5 kg"),
}
LOOKS = {
    "as it is": Asked(),
    "every value": Asked(every="medium"),
    "more about a value": Asked(beside="medium.viscosity"),
    "a state more": Asked(add="states[3]"),
    "no such thing": Asked(every=HOSTILE, beside=HOSTILE, add=HOSTILE, work=HOSTILE, level=HOSTILE, tried=(HOSTILE,)),
}


def made(text: str, asked: Asked, changes: Mapping[str, str | None] | None = None) -> Page:
    """The parts of a page."""
    return page(CaseText(str(EXAMPLES), "spirit_receiver", text, "0" * 64), changes or {}, asked)


def whole(found: Page) -> Markup:
    """The page as it is sent, without the data of the level line, which is no script that runs."""
    case = CaseText(str(EXAMPLES), "spirit_receiver", "", "0" * 64)
    html = templates().get_template("case.html").render(case=case, parts=found.html, data=found.data)
    return read(html.replace('<script type="application/json" id="see-data">', '<template id="see-data">').replace(
        "</script>\n</div>", "</template>\n</div>"
    ))  # fmt: skip


@pytest.mark.parametrize("look", LOOKS)
@pytest.mark.parametrize("name", CASES)
def test_the_page_is_whole(name: str, look: str) -> None:
    found = whole(made(CASES[name], LOOKS[look]))
    faults = [each for each in found.faults if not each.startswith("?work=")]  # another working on the same page
    assert faults == []
    assert HOSTILE not in "".join(found.ids)


def test_a_way_out_stands_in_the_page_and_can_be_kept() -> None:
    found = made(TEXT, Asked(tried=(TRIED,)), {"loop.barrier.resistance": "245 ohm"})
    assert "Tried, not kept: resistance of the barrier, end to end 245 ohm" in read(found.html["head"]).text
    assert "blocked" not in read(found.html["head"]).text
    assert 'value="245 ohm"' in found.html["state"]
    plain = read(made(TEXT, Asked()).html["judge"])
    assert "Try 245 Ω" in plain.text
    assert "Detail A" in plain.text


def test_a_complaint_names_the_label_of_its_field() -> None:
    told = read(made(CASES["faulty"], Asked()).html["state"]).text
    assert "Inside diameter must be a length with its unit, for example 1850 mm; got '5 kg'." in told
    assert of_field("a.b must be x; got y.", "a.c", "label") == "a.b must be x; got y."


def test_the_papers_say_what_stops_them() -> None:
    assert "Order blocked by 1 finding" in read(made(TEXT, Asked()).html["document"]).text
    assert "Order no instrument is chosen" in read(made(skeleton(), Asked()).html["document"]).text
    faulty = read(made(CASES["faulty"], Asked()).html["document"]).text
    assert "Order blocked by 1 finding and 1 input to correct" in faulty


def test_tried_kept_and_undone_by_forms_alone(desk: Desk) -> None:
    """What the buttons of a page without scripts send: Try, Keep, Confirm, a new item, Undo."""
    client, file = desk.client, desk.folder / "one.yaml"
    tried = client.get("/cases/one", params={"tried": TRIED})
    assert tried.status_code == 200
    assert "Back to the case as stated" in tried.text
    assert file.read_text(encoding="utf-8") == TEXT

    def send(values: Mapping[str, str]) -> None:
        version = json.loads(client.get("/api/cases/one/page").text)["version"]
        answer = client.post("/cases/one/edit", data={"_version": version, **values}, headers=ORIGIN)
        assert answer.status_code == 303

    send({"loop.barrier.resistance": "245 ohm"})
    send({"medium.viscosity.basis": "stated"})
    send({"states[3].name": "cold", "states[3].instrument": "fitted"})
    case = read_case_text(file.read_text(encoding="utf-8"), "one.yaml", desk.folder).case
    assert case.loop.barrier.resistance.si == 245.0
    assert case.medium.viscosity.state == "stated"
    assert [state.name.text for state in case.states][3:] == ["cold"]

    version = json.loads(client.get("/api/cases/one/page").text)["version"]
    back = client.post("/api/cases/one/undo", json={"version": version}, headers=ORIGIN).json()
    assert back["conflict"] is None
    assert back["version"] not in ("", version)
    assert "name: cold" not in file.read_text(encoding="utf-8")
    stale = client.post("/api/cases/one/redo", json={"version": version}, headers=ORIGIN).json()
    assert stale["conflict"] is not None


def test_a_moment_is_told_to_the_minute_in_universal_time() -> None:
    assert moment("2026-11-26T10:40:12.345+01:00") == "2026-11-26 09:40 UTC"
    assert moment("") == ""


def test_what_stands_there_is_not_sent_again() -> None:
    before = made(TEXT, Asked())
    after = made(TEXT, Asked(), {"medium.temperature": "31 degC"})
    less = after.news(before.marks)
    assert list(less.pieces) == ["s-medium"]
    assert "see" in less.frames and "document" not in less.frames
    stands = replace(before, frames={**before.frames, **less.frames}, pieces={**before.pieces, **less.pieces})
    assert stands.html == after.html
    assert less.marks == after.marks


def test_nobody_who_has_nothing_misses_anything() -> None:
    found = made(TEXT, Asked())
    assert found.news({}) == found
    assert found.news({"s-medium": "another", "no such": "piece"}).pieces == found.pieces


def test_no_text_of_a_user_is_where_a_piece_belongs() -> None:
    found = made(TEXT, Asked(), {"tag": "<!--piece s-medium-->"})
    assert found.html["state"].count('id="s-medium"') == 1
    assert "<!--piece" not in "".join(found.html.values())
