"""The page on which part may be wrong: what was typed stays typed, faults beside their cells, many rows as a task.

The readings of another range follow from the straight line of the range (IEC 60381-1). What HTML and the policy of the
pages forbid is read from the markup.
"""

from __future__ import annotations

import re
import time
from typing import Any

import pytest

from onedatum.web.guard import POLICY
from tests.causes_desk import LEVELS_MM, line_mA, ranged
from tests.web.conftest import Desk
from tests.web.markup import Markup, read

BASE = "/cases/one/causes"
HOSTILE = '<script>alert(1)</script>"><img src=x onerror=alert(2)>'
MOST_S = 120.0


def typed(low_mm: float = 150.0) -> dict[str, str]:
    """Rows of an instrument whose level at 4 mA is set 50 mm too high."""
    cells = {"rows": "6", "recent": "", "lines": "", "priors": ""}
    for at, level in enumerate(LEVELS_MM):
        cells |= {f"r{at}.way": "up", f"r{at}.dip_m": f"{level:g}"}
        cells[f"r{at}.current_A"] = f"{line_mA(level, low_mm):.3f}"
    return cells


def post(desk: Desk, texts: dict[str, str], status: int = 200, tail: str = "") -> tuple[Any, Markup]:
    answer = desk.client.post(f"{BASE}{tail}", data=texts)
    assert (answer.status_code, answer.headers["content-security-policy"]) == (status, POLICY)
    found = read(answer.text)
    assert found.faults == []
    return answer, found


def values(html: str) -> dict[str, str]:
    """What stands in the cells."""
    return dict(re.findall(r'<input id="[^"]*" name="([^"]*)" value="([^"]*)"', html))


def test_rows_are_ranked_and_stay_typed(desk: Desk) -> None:
    answer, found = post(desk, typed())
    assert "The readings agree best with: the level at 4 mA is set to another value, set too high by" in found.text
    assert found.text.index("it finds no cause") < found.text.index("The readings agree best with")
    assert "What to measure next" in found.text and "common practice, no source" in found.text
    assert values(answer.text)["r1.dip_m"] == "1450"


def test_what_cannot_be_read_stays_typed_with_the_reason_beside_it(desk: Desk) -> None:
    texts = typed() | {
        "r0.dip_m": "13,50",
        "r1.current_A": "115.2",
        "r2.way": "x",
        "recent": HOSTILE,
        "r5.dip_m": "1 m",
    }
    answer, found = post(desk, texts, 422)
    assert "Not ranked: 4 fields to correct" in found.text
    for key in ("r0.dip_m", "r1.current_A", "r2.way", "r5.dip_m"):
        assert f"{key}-why" in found.ids
    kept = values(answer.text)
    assert (kept["r0.dip_m"], kept["r1.current_A"]) == ("13,50", "115.2")
    assert HOSTILE not in answer.text


@pytest.mark.parametrize("key", ["lines", "priors"])
def test_what_is_pasted_stays_with_its_fault(desk: Desk, key: str) -> None:
    answer, found = post(desk, typed() | {key: HOSTILE}, 422)
    assert f"{key}-why" in found.ids and HOSTILE in found.text.replace("\u200b", "")
    assert HOSTILE not in answer.text


def test_nothing_typed_is_told(desk: Desk) -> None:
    _, found = post(desk, {"rows": "6"}, 422)
    assert "the readings must be typed in; got nothing" in found.text


def test_more_rows_keep_what_is_typed_up_to_twelve(desk: Desk) -> None:
    answer, _ = post(desk, typed() | {"more": "yes"})
    assert "r8.dip_m" in values(answer.text) and "r9.dip_m" not in values(answer.text)
    assert values(answer.text)["r0.dip_m"] == "500"
    answer, _ = post(desk, typed() | {"rows": "12", "more": "yes"})
    assert "r11.dip_m" in values(answer.text) and "r12.dip_m" not in values(answer.text)
    for rows in ("-3", "9999999", "x", "\u0663"):
        assert "r5.dip_m" in values(post(desk, typed() | {"rows": rows})[0].text)


def test_the_first_row_comes_from_the_card(desk: Desk) -> None:
    card = desk.client.get("/cases/one/signal?dip=1350+mm&meter=11.52+mA").text
    link = re.search(r'href="(/cases/one/causes[^"]*)"', card)
    assert link is not None
    answer = desk.client.get(link[1].replace("&amp;", "&"))
    assert read(answer.text).faults == []
    assert (values(answer.text)["r0.dip_m"], values(answer.text)["r0.current_A"]) == ("1350", "11.52")
    by_voltage = values(desk.client.get(f"{BASE}?dip=x&meter=115.2+mV").text)
    assert (by_voltage["r0.dip_m"], by_voltage["r0.voltage_V"]) == ("", "115.2")
    assert "/cases/one/causes" in read(desk.client.get("/cases/one/proving").text).links


def test_the_paper_and_the_empty_form_are_handed_out(desk: Desk) -> None:
    answer = desk.client.post(f"{BASE}.pdf", data=typed())
    assert (answer.status_code, answer.content[:5]) == (200, b"%PDF-")
    assert "one-which-part.pdf" in answer.headers["content-disposition"]
    post(desk, {"rows": "6"}, 422, ".pdf")
    form = desk.client.get(f"{BASE}.csv")
    assert (form.status_code, form.text.startswith("direction,dip [mm],current [mA]")) == (200, True)


def test_many_rows_are_ranked_in_the_background_and_stay_pasted(desk: Desk) -> None:
    head, *lines = ranged(150.0).splitlines()
    texts = {"rows": "6", "lines": "\n".join([head, *lines, *lines, *lines])}
    answer = desk.client.post(BASE, data=texts)
    assert answer.status_code == 303
    link, until = answer.headers["location"], time.monotonic() + MOST_S
    while "is being made" in (html := desk.client.get(link).text) and time.monotonic() < until:
        assert read(html).faults == [] and head in html
        time.sleep(0.1)
    found = read(html)
    assert found.faults == [] and head in html
    assert (
        "the level at 4 mA is set to another value" in found.text and "Explanations, the likeliest first" in found.text
    )


def test_a_ranking_that_is_cancelled_keeps_what_was_pasted(desk: Desk) -> None:
    head, *lines = ranged(160.0).splitlines()
    first = desk.client.post(BASE, data={"rows": "6", "lines": "\n".join([head, *lines * 9])}).headers["location"]
    other = desk.client.post(BASE, data={"rows": "6", "lines": "\n".join([head, *lines * 8])}).headers["location"]
    assert first != other
    for link in (other, first):
        back = desk.client.post(f"/tasks/{link.partition('=')[2]}/cancel")
        assert (back.status_code, back.headers["location"]) == (303, link)
        assert head in desk.client.get(link).text


def test_the_same_as_data(desk: Desk) -> None:
    rows = [{"dip_m": level / 1e3, "current_A": line_mA(level, 150.0) / 1e3, "is_rising": True} for level in LEVELS_MM]
    data = desk.client.post("/api/cases/one/causes", json={"rows": rows, "recent": "re-ranged"}).json()
    first = data["explanations"][0]
    assert "lower" in [each["key"] for each in first["causes"]]
    assert first["probability"] <= data["highest_probability"] < 1.0
    assert data["cautions"]


@pytest.mark.parametrize(
    "body",
    [
        {},
        {"rows": []},
        {"rows": [{}]},
        {"rows": [{"dip_m": 1.0}]},
        {"rows": [{"dip_m": "x", "current_A": 0.01}]},
        {"rows": [{"dip_m": 1.35, "current_A": 11.52}]},
        {"rows": [{"dip": 1.35}]},
        {"rows": [{"dip_m": 1.35, "current_A": 0.01152}] * 61},
        {"rows": [{"dip_m": 1.35, "current_A": 0.01152}], "priors": "[]"},
        {"rows": [{"dip_m": 1.35, "current_A": 0.01152}], "recent": "x" * 501},
    ],
)
def test_data_that_cannot_be_used_are_refused_in_a_sentence(desk: Desk, body: dict[str, Any]) -> None:
    answer = desk.client.post("/api/cases/one/causes", json=body)
    assert answer.status_code == 422
    assert answer.json()["sentence"].endswith(".")


def test_the_route_stands_in_the_description_of_the_interface(desk: Desk) -> None:
    found = desk.client.get("/api/openapi.json").json()
    assert "post" in found["paths"]["/api/cases/{name}/causes"]


def test_a_case_that_leaves_the_instrument_open_says_so(desk: Desk) -> None:
    (desk.folder / "one.yaml").write_text("onedatum: 1\n", encoding="utf-8")
    found = read(desk.client.get(BASE).text)
    assert found.faults == [] and "the case must be one of a known instrument" in found.text
    assert desk.client.post(BASE, data=typed()).status_code == 422
    assert desk.client.get(f"{BASE}.csv").status_code == 422
    assert desk.client.get("/cases/none/causes").status_code == 404
