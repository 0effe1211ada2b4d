"""The page of a log review: files by name and nothing else, reviewed once, zoomed without reviewing again.

What HTML and the policy of the pages forbid is read from the markup.
"""

from __future__ import annotations

import shutil
import time
from pathlib import Path
from typing import Any
from urllib.parse import urlencode

import pytest

from onedatum.jobs.folder import Folder
from onedatum.web.guard import POLICY
from tests.review_desk import BROKEN, CHOSEN, DIPS, LOG, MAP, MISSING, current_A, level_mm, written
from tests.web.conftest import EXAMPLES, Desk
from tests.web.markup import Markup, read

BASE, API = "/cases/one/review", "/api/cases/one/review"
HOSTILE = '<script>alert(1)</script>"><img src=x onerror=alert(2)>'
QUERY = urlencode(CHOSEN)
MOST_S = 120.0


@pytest.fixture(scope="module")
def home(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder of one case with a log beside it."""
    folder = tmp_path_factory.mktemp("reviewed")
    shutil.copy(EXAMPLES / "spirit_receiver.yaml", folder / "one.yaml")
    shutil.copy(EXAMPLES / "spirit_receiver.yaml", folder.parent / "outside.csv")
    written(folder)
    (folder / "logs" / "linked.csv").symlink_to(folder.parent / "outside.csv")
    (folder / "logs" / "notes.txt").write_text("none of ours", encoding="utf-8")
    return folder


@pytest.fixture
def here(shared: Desk, home: Path) -> Desk:
    """The server on that folder."""
    shared.app.state.serving.folder = Folder(home)
    return Desk(shared.client, home, shared.app)


@pytest.fixture(scope="module")
def reviewed(shared: Desk, home: Path) -> str:
    """The address of the log once it is reviewed, and how that was told meanwhile."""
    shared.app.state.serving.folder = Folder(home)
    answer = shared.client.post(BASE, data=CHOSEN)
    assert answer.status_code == 303
    link, until = answer.headers["location"], time.monotonic() + MOST_S
    while (answer := shared.client.get(link)).status_code == 200 and time.monotonic() < until:
        assert read(answer.text).faults == [] and "is being made" in answer.text, read(answer.text).text
        time.sleep(0.1)
    assert (answer.status_code, answer.headers["location"]) == (303, f"{BASE}?{QUERY}")
    return str(answer.headers["location"])


def get(desk: Desk, link: str, status: int = 200) -> tuple[str, Markup]:
    answer = desk.client.get(link)
    assert (answer.status_code, answer.headers["content-security-policy"]) == (status, POLICY)
    found = read(answer.text)
    beyond = [] if "<html" in answer.text else ["chart-keys is named but not there"]  # it stands on the page around it
    assert found.faults == beyond
    return answer.text, found


def test_the_files_of_the_folder_are_offered_by_name(here: Desk) -> None:
    html, found = get(here, BASE)
    assert all(name in html for name in (LOG, MAP, DIPS))
    assert "linked.csv" not in html and "notes.txt" not in html
    assert "no proof that a gauge is sound" in found.text
    listed = here.client.get("/api/cases/one/logs").json()
    assert {each["name"]: each["kinds"] for each in listed} == {
        LOG: ["log", "lines"],
        DIPS: ["log", "lines"],
        MAP: ["map"],
    }


def test_a_review_stands_with_its_findings_beside_the_picture(here: Desk, reviewed: str) -> None:
    html, found = get(here, reviewed)
    for words in (
        "no current",
        "rows are missing",
        "Not judged",
        "No movements",
        "May be",
        "Look next",
        "False alarms",
    ):
        assert words in found.text
    assert "held while the server runs" in found.text and "take as PDF or JSON" in found.text
    assert "never its cause" in found.text and 'aria-current="page">Log review' in html
    assert f"{BASE}.pdf?{QUERY}" in found.links


def test_to_zoom_does_not_review_again(here: Desk, reviewed: str) -> None:
    tasks = dict(here.app.state.serving.tasks._tasks)
    _, found = get(here, f"{reviewed}&from=2026-02-01+06:00&to=2026-02-01+10:00")
    assert "2026-02-01 06:00 to 2026-02-01 10:00 UTC" in found.text
    part, alone = get(here, f"{BASE}/chart?{QUERY}&from=2026-02-01+06:00&to=2026-02-01+10:00")
    assert "2026-02-01 06:00 to 2026-02-01 10:00 UTC" in alone.text and "<html" not in part
    assert dict(here.app.state.serving.tasks._tasks) == tasks
    assert here.client.post(BASE, data=CHOSEN).headers["location"] == reviewed


def test_the_columns_as_data_are_the_levels_that_the_log_was_made_of(here: Desk, reviewed: str) -> None:
    wanted = f"{API}/columns?{QUERY}&from=2026-02-01T00:00Z&to=2026-02-01T06:00Z&columns=6"
    told = here.client.get(wanted).json()
    assert told["low_level_m"] == pytest.approx([level_mm(current_A(0)) / 1e3] * 6, abs=0.003)
    noon = here.client.get(wanted.replace("T00:00Z", "T10:00Z").replace("T06:00Z", "T16:00Z")).json()
    assert noon["high_level_m"] == pytest.approx([level_mm(current_A(720)) / 1e3] * 6, abs=0.003)
    current = here.client.get(f"{API}/columns?{QUERY}&show=current&columns=1").json()
    assert current["low_current_A"] == [0.0]


def test_papers_and_data_of_a_review_are_handed_out(here: Desk, reviewed: str) -> None:
    paper = here.client.get(f"{BASE}.pdf?{QUERY}")
    assert paper.content[:5] == b"%PDF-" and "one-review.pdf" in paper.headers["content-disposition"]
    told = here.client.get(f"{API}?{QUERY}").json()
    assert told == here.client.get(f"{BASE}.json?{QUERY}").json()
    gap, broken = (next(each for each in told["findings"] if each["kind"] == kind) for kind in ("gaps", "wire_break"))
    assert gap["from"] == f"2026-02-03T{(MISSING.start - 2 - 2880) // 60:02}:{(MISSING.start - 2) % 60:02}:00+00:00"
    assert broken["from"] == f"2026-02-02T{(BROKEN.start - 1440) // 60:02}:{BROKEN.start % 60:02}:00+00:00"


@pytest.mark.parametrize(
    ("more", "field"),
    [
        ("from=nan", "zoom-from"),
        ("to=x", "zoom-to"),
        ("from=2026-02-03&to=2026-02-02", "zoom-to"),
        ("from=1999-01-01&to=1999-02-01", "zoom-from"),
        (urlencode({"from": HOSTILE}), "zoom-from"),
    ],
)
def test_a_time_that_cannot_be_is_told_at_its_field(here: Desk, reviewed: str, more: str, field: str) -> None:
    for link, status in ((f"{reviewed}&{more}", 200), (f"{BASE}/chart?{QUERY}&{more}", 422)):
        html, found = get(here, link, status)
        assert f"{field}-why" in found.ids and HOSTILE not in html
    told = here.client.get(f"{API}/columns?{QUERY}&{more}")
    assert told.status_code == 422 and told.json()["sentence"].endswith(".")


@pytest.mark.parametrize(
    "more", ["width=nan", "width=-1", "width=1e9", "width=999999999", f"from={'9' * 900}", "show=x"]
)
def test_an_absurd_address_is_refused_in_a_sentence(here: Desk, reviewed: str, more: str) -> None:
    assert "The request cannot be read" in get(here, f"{BASE}/chart?{QUERY}&{more}", 422)[1].text


@pytest.mark.parametrize(
    ("changed", "field"),
    [
        ({"log": "../one.yaml"}, "log"),
        ({"log": "/etc/passwd"}, "log"),
        ({"log": "..%2f..%2fetc%2fpasswd"}, "log"),
        ({"log": "linked.csv"}, "log"),
        ({"log": "notes.txt"}, "log"),
        ({"log": "none.csv"}, "log"),
        ({"log": HOSTILE}, "log"),
        ({"log": "a\x00.csv"}, "log"),
        ({"log": ""}, "log"),
        ({"log": [LOG, LOG]}, "log"),
        ({"map": LOG}, "map"),
        ({"map": ""}, "map"),
        ({"dips": MAP}, "dips"),
        ({"movements": "../../x.csv"}, "movements"),
    ],
)
def test_no_name_leads_out_of_the_folder(here: Desk, changed: dict[str, Any], field: str) -> None:
    answer = here.client.post(BASE, data=CHOSEN | changed)
    found = read(answer.text)
    assert (answer.status_code, found.faults) == (422, [])
    assert f"{field}-why" in found.ids and HOSTILE not in answer.text
    body = CHOSEN | {"log": [LOG]} | changed
    wanted = body | {"log": body["log"] if isinstance(body["log"], list) else [body["log"]]}
    told = here.client.post(API, json=wanted)
    assert told.status_code == 422 and "must be" in told.json()["sentence"]
    assert here.client.get(f"{API}?{urlencode(CHOSEN | changed, doseq=True)}").status_code == 422


def test_a_log_that_is_no_log_is_told_with_the_names_of_files_alone(here: Desk) -> None:
    link = here.client.post(BASE, data={"log": DIPS, "map": MAP}).headers["location"]
    until = time.monotonic() + MOST_S
    while (answer := here.client.get(link)).status_code == 200 and time.monotonic() < until:
        time.sleep(0.05)
    found = read(answer.text)
    assert (answer.status_code, found.faults) == (422, [])
    assert "Not reviewed" in found.text and "pv" in found.text
    assert str(here.folder) not in answer.text and f"{DIPS}" in found.text


def test_a_review_that_is_cancelled_keeps_what_was_chosen(here: Desk) -> None:
    link = here.client.post(BASE, data={"log": LOG, "map": MAP}).headers["location"]
    back = here.client.post(f"/tasks/{link.partition('=')[2]}/cancel")
    assert (back.status_code, back.headers["location"]) == (303, link)
    html, found = get(here, link)
    assert "Cancelled." in found.text
    assert f'value="{LOG}" checked' in html and f'<option value="{MAP}" selected' in html


def test_what_was_reviewed_outlasts_a_cancelled_task_and_not_a_changed_file(here: Desk, reviewed: str) -> None:
    get(here, f"{BASE}/chart?{QUERY}")
    dips = here.folder / "logs" / DIPS
    before = dips.read_bytes()
    dips.write_bytes(before + b"2026-02-03T13:00:00Z,1000 mm\n")
    assert here.client.get(f"{API}?{QUERY}").status_code == 404
    assert "Findings" not in get(here, reviewed)[1].text
    dips.write_bytes(before)


def test_a_file_is_added_under_its_own_name_and_never_over_another(desk: Desk) -> None:
    def send(name: str, content: bytes) -> Any:
        return desk.client.post(f"{BASE}/files", files={"file": (name, content)})

    assert "No file lies in the folder" in get(desk, BASE)[1].text
    answer = send("new.csv", b"time,pv\n")
    assert answer.status_code == 303 and "log=new.csv" in answer.headers["location"]
    assert (desk.folder / "logs" / "new.csv").read_bytes() == b"time,pv\n"
    before = desk.files()
    for name, content in (
        ("new.csv", b"other"),
        ("../out.csv", b"x"),
        (".hidden.csv", b"x"),
        ("x.exe", b"x"),
        ("empty.csv", b""),
        ("con.csv", b"x"),
    ):
        answer = send(name, content)
        assert (answer.status_code, read(answer.text).faults) == (422, []), name
        assert "file-why" in read(answer.text).ids, name
    assert send("large.csv", b"x" * 500_000).status_code == 413
    assert desk.files() == before


def test_the_routes_stand_in_the_description_of_the_interface(here: Desk) -> None:
    paths = here.client.get("/api/openapi.json").json()["paths"]
    assert {"get", "post"} <= set(paths["/api/cases/{name}/review"])
    assert "/api/cases/{name}/review/columns" in paths and "/api/cases/{name}/logs" in paths
    assert here.client.get("/cases/none/review").status_code == 404


def test_a_change_from_elsewhere_is_not_taken(here: Desk) -> None:
    headers = {"Origin": "http://elsewhere.example"}
    for path in (BASE, f"{BASE}/files", API):
        assert here.client.post(path, headers=headers).status_code == 403
