"""The further pages through the server: answers, files to keep, what is made in the background, bad addresses.

Content types as registered with IANA (DXF: image/vnd.dxf; XLSX as by ECMA-376); `attachment` by RFC 6266; the first
bytes of each file by its own form (PDF: ISO 32000; ZIP: the archive that an XLSX is; DXF: a group code first).
"""

from __future__ import annotations

import shutil
import time
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from onedatum.jobs.folder import Folder
from onedatum.web.guard import POLICY
from tests.web.conftest import EXAMPLES, Desk
from tests.web.markup import read

PAGES = (
    "selection questions order sheets quantity table papers proving proving/enter causes compare file signal"
).split()
DATA = "selection flips questions order quantity table proving signal card known compare?with=other".split()
FIRST = {"pdf": b"%PDF-", "xlsx": b"PK\x03\x04", "svg": b"<svg ", "json": b"{", "dxf": b"  0\n"}
KINDS = {
    "pdf": "application/pdf",
    "xlsx": "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
    "svg": "image/svg+xml",
    "json": "application/json",
    "dxf": "image/vnd.dxf",
    "csv": "text/csv; charset=utf-8",
    "txt": "text/plain; charset=utf-8",
    "yaml": "application/yaml",
}
MOST_S = 120.0
"""However busy the machine; alone it takes a few seconds."""
OTHER = """\
onedatum: 1
invented: yes
tag: LT-1
vessel:
  shape: vertical cylinder
  inside_diameter: 1 m
  shell_length: 1 m
  bottom_head: {form: flat}
  top_head: {form: flat}
  datum: lowest inside point
"""


@pytest.fixture(scope="module")
def home(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder of two cases."""
    folder = tmp_path_factory.mktemp("cases")
    shutil.copy(EXAMPLES / "spirit_receiver.yaml", folder / "one.yaml")
    (folder / "other.yaml").write_text(OTHER, encoding="utf-8")
    return folder


@pytest.fixture
def client(shared: Desk, home: Path) -> TestClient:
    """A client of the server on that folder."""
    shared.app.state.serving.folder = Folder(home)
    return shared.client


@pytest.mark.parametrize("page", [*PAGES, "selection?all=1", "compare?with=other", "signal?card=1&step=1%20mm"])
def test_every_page_answers(client: TestClient, page: str) -> None:
    answer = client.get(f"/cases/one/{page}")
    assert (answer.status_code, answer.headers["content-security-policy"]) == (200, POLICY)
    found = read(answer.text)
    assert found.faults == []
    for link in {each for each in found.links if each.startswith("/static/")}:
        assert client.get(link).status_code == 200


@pytest.mark.parametrize("path", DATA)
def test_every_page_is_also_data(client: TestClient, path: str) -> None:
    answer = client.get(f"/api/cases/one/{path}")
    assert answer.status_code == 200
    assert isinstance(answer.json(), dict)
    described = client.get("/api/openapi.json").json()["paths"][f"/api/cases/{{name}}/{path.partition('?')[0]}"]
    assert described["get"]["responses"]["200"]["content"]["application/json"]["schema"]


def test_what_comes_later_is_what_the_whole_page_says(client: TestClient) -> None:
    whole = read(client.get("/cases/one/selection?all=1").text).text
    flips = client.get("/api/cases/one/flips").json()["flips"]
    assert flips
    for each in flips:
        assert " ".join(each["sentence"].split()) in whole


@pytest.mark.parametrize("ending", ["csv", "txt", "xlsx", "pdf"])
def test_the_table_is_a_file_to_keep(client: TestClient, ending: str) -> None:
    answer = client.get(f"/cases/one/table.{ending}?step=100%20mm")
    assert answer.headers["content-type"] == KINDS[ending]
    assert answer.headers["content-disposition"] == f'attachment; filename="one-table.{ending}"'
    assert answer.content.startswith(FIRST.get(ending, b""))


@pytest.mark.parametrize("ending", ["csv", "txt", "pdf"])
def test_the_card_of_the_signal_is_a_file_to_keep(client: TestClient, ending: str) -> None:
    answer = client.get(f"/cases/one/signal.{ending}?step=100%20mm")
    assert answer.headers["content-type"] == KINDS[ending]
    assert answer.headers["content-disposition"] == f'attachment; filename="one-signal.{ending}"'
    assert answer.content.startswith(FIRST.get(ending, b""))
    assert client.get(f"/cases/one/signal.{ending}").status_code == 200, "the usual step"


def test_the_case_file_is_the_file(client: TestClient) -> None:
    answer = client.get("/cases/one/file.yaml")
    assert answer.content == (EXAMPLES / "spirit_receiver.yaml").read_bytes()
    assert answer.headers["content-disposition"] == 'attachment; filename="one.yaml"'


def waited(client: TestClient, id_: str) -> dict[str, object]:
    """How a task stands once it is over."""
    begun = time.monotonic()
    while (told := client.get(f"/api/tasks/{id_}").json())["state"] == "running":
        assert time.monotonic() - begun < MOST_S, "the task takes too long"
        time.sleep(0.1)
    return dict(told)


def started(client: TestClient, page: str) -> str:
    """The id of a task that a form has started."""
    answer = client.post(page, follow_redirects=False)
    assert answer.status_code == 303
    return str(answer.headers["location"].rpartition("=")[2])


def test_papers_are_made_on_request_and_kept_out_of_the_folder(client: TestClient) -> None:
    page, before = "/cases/other/papers", client.get("/api/cases").json()
    id_ = started(client, page)
    assert "data-task" in client.get(f"{page}?task={id_}").text
    assert started(client, page) == id_  # one at a time of one version
    assert waited(client, id_)["state"] == "done"
    links = [each for each in read(client.get(page).text).links if f"/papers/{id_}/" in each]
    assert len(links) >= 8
    for link in links:
        answer, ending = client.get(link), link.rpartition(".")[2]
        assert (answer.status_code, answer.headers["content-type"]) == (200, KINDS[ending])
        assert answer.headers["content-disposition"] == f'attachment; filename="{link.rpartition("/")[2]}"'
        assert answer.content.startswith(FIRST.get(ending, b""))
    assert client.get("/api/cases").json() == before
    assert client.get(f"/cases/one/papers/{id_}/{links[0].rpartition('/')[2]}").status_code == 404


def test_a_task_is_cancelled_and_the_next_is_worked(client: TestClient) -> None:
    id_ = started(client, "/cases/one/papers")
    assert client.delete(f"/api/tasks/{id_}").json()["state"] == "cancelled"
    assert "data-task" not in client.get("/cases/one/papers").text
    again = started(client, "/cases/one/quantity")
    assert waited(client, again)["state"] == "done"
    assert "Histogram" in client.get(f"/cases/one/quantity?task={again}").text
    assert client.post(f"/tasks/{again}/cancel", follow_redirects=False).headers["location"] == "/cases/one/quantity"
    assert client.get("/api/tasks/none").status_code == client.delete("/api/tasks/none").status_code == 404


@pytest.mark.parametrize("page", [*PAGES, "file.yaml", "table.csv"])
def test_a_case_that_is_not_there_is_told_with_the_nearest(client: TestClient, page: str) -> None:
    answer = client.get(f"/cases/othr/{page}")
    assert answer.status_code == 404
    assert "Nearest: other" in answer.text


@pytest.mark.parametrize(
    "path",
    [
        "/api/cases/one/table?step=5%20kg",
        "/api/cases/one/signal?dip=x",
        "/api/cases/one/compare",
        "/api/cases/one/compare?with=..%2F..%2Fetc",
        "/cases/one/table.xlsx?step=0",
        "/cases/one/table.exe",
        "/api/cases/one/card?meter=" + "9" * 5000,
        "/cases/one/signal.pdf?step=0%20mm",
        "/cases/one/signal.csv?step=1%20um",
        "/cases/one/signal.exe",
        "/cases/one/signal?first_dip=" + "9" * 5000,
    ],
)
def test_what_cannot_be_read_is_told_in_a_sentence(client: TestClient, path: str) -> None:
    answer = client.get(path)
    assert answer.status_code == 422
    assert "must be" in answer.text or "cannot be read" in answer.text


@pytest.mark.parametrize(
    "path",
    [
        "/cases/..%2F..%2Fetc%2Fpasswd/file",
        "/cases/%00/order",
        "/cases/%3Cscript%3E/selection",
        "/cases/one/papers/x/..%2F..%2Fone.yaml",
        "/cases/one/compare?version=" + "f" * 64,
        "/cases/one/compare?with=%F0%9F%92%A9",
        "/cases/one/quantity?task=%22%3E",
        "/cases/one/table?step=1e-300%20mm",
        "/cases/one/signal?step=1e9%20km&meter=1e300",
        "/cases/one/signal?first_dip=1e300%20m&first_reading=1e300%20mA&dip_within=1e300%20m",
        "/cases/one/signal?first_dip=%3Cscript%3E&first_reading=%F0%9F%92%A9&first_digital=%22%3E&on=%00",
    ],
)
def test_no_address_breaks_the_server(client: TestClient, path: str) -> None:
    answer = client.get(path)
    assert answer.status_code < 500
    assert read(answer.text).faults == [] or answer.status_code == 404
