"""Disks that fail under the server: it says what is wrong and what to do, and shows again what was typed.

Processes without rights and without room are real ones. What a system says to each is from POSIX (errno).
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
from collections.abc import Callable
from itertools import takewhile
from pathlib import Path
from tempfile import gettempdir

import pytest

from tests.web.conftest import HOST, Desk
from tests.web.markup import read

ROOT = Path(__file__).parents[2]
TYPED = {"nozzle.bore": "81.5 mm"}

SERVING = f"""
import json, os, sys, tempfile
from pathlib import Path
from starlette.testclient import TestClient
from onedatum.jobs.folder import Folder
from onedatum.web.app import create_app
from onedatum.web.bench import Worker
from onedatum.web.guard import Door
from onedatum.web.serving import Serving
folder = Path(sys.argv[1])
tempfile.tempdir = str(folder.parent)
app = create_app(folder, Door({{"{HOST}"}}))
app.state.serving = Serving(Folder(folder), Worker(int), Worker(int))
client = TestClient(app, base_url="http://{HOST}", follow_redirects=False)
version = client.get("/api/cases").json()[0]["version"]
change = {{"changes": {TYPED}, "version": version}}
client.post("/cases/one/edit", data={{"_version": "none"}})
client.post("/cases/one/edit", data={{"_version": version}})  # everything is loaded before the rights go
BEFORE
form = {TYPED} | {{"_version": version}}
asked = [client.post("/cases/one/edit", data=form), client.put("/api/cases/one/fields", json=change),
         client.post("/cases", data={{"name": "two"}}), client.post("/upload", files={{"file": ("two.yaml", BROUGHT)}}),
         client.post("/cases/one/undo", data={{"_version": version}}), client.get("/")]
print(json.dumps([[each.status_code, each.text] for each in asked]), flush=True)
os._exit(0)  # what its workers hold was taken with other rights
"""


def answers(folder: Path, before: str, brought: str = "b'onedatum: 1'") -> list[tuple[int, str]]:
    """What a server in a process of its own answers after `before`: edit, fields, new, upload, undo, list."""
    script = SERVING.replace("BEFORE", before).replace("BROUGHT", brought)
    command = [sys.executable, "-c", script, str(folder)]
    whole = {**os.environ, "PYTHONPATH": str(ROOT / "src")}
    run = subprocess.run(command, capture_output=True, text=True, env=whole, timeout=60, check=False)
    assert run.returncode == 0, run.stderr
    return [(status, text) for status, text in json.loads(run.stdout)]


def check_told(found: list[tuple[int, str]], said: str, remedy: str) -> None:
    """Each that writes says what is wrong and what to do; the form shows what was typed; the list stands."""
    (edit, page), (fields, data), *more, (list_status, _) = found
    assert (edit, fields, list_status) == (422, 422, 200)
    for text in (
        read(page).text,
        json.loads(data)["sentence"],
        *(read(each).text for status, each in more if status == 422),
    ):
        assert said in text
        assert remedy in text
    assert "nozzle.bore: 81.5 mm" in read(page).text
    assert read(page).faults == []


def test_a_folder_that_cannot_be_written_is_told(desk: Desk) -> None:
    ours = takewhile(lambda path: path != Path(gettempdir()).resolve(), (desk.folder, *desk.folder.parents))
    for path in ours:
        path.chmod(path.stat().st_mode | 0o055)
    before = desk.files()
    desk.folder.chmod(0o555)
    try:
        found = answers(desk.folder, "import os; os.getuid() == 0 and os.setuid(65534)")
    finally:
        desk.folder.chmod(0o755)
    check_told(found, "Permission denied", "Give the folder the right to be written")
    assert [status for status, _ in found[2:4]] == [422, 422]
    assert desk.files() == before


def test_a_full_disk_is_told_and_the_old_file_is_whole(desk: Desk) -> None:
    """No file may grow beyond 3 kB; the example has more."""
    before = desk.files()
    limit = "import resource, signal; signal.signal(signal.SIGXFSZ, signal.SIG_IGN); "
    found = answers(
        desk.folder,
        f"{limit}resource.setrlimit(resource.RLIMIT_FSIZE, (3000, 3000))",
        "b'onedatum: 1\\n' * 1 + b'#' * 5000",
    )
    check_told(found, "File too large", "Make room on the disk")
    assert [status for status, _ in found[2:4]] == [422, 422]
    assert desk.files() == before


def asked(desk: Desk, version: str = "0") -> list[tuple[int, str]]:
    """The status and the words of every way to a case."""
    client = desk.client
    change = {"changes": TYPED, "version": version}
    pages = [
        client.get("/cases/one"),
        client.get("/cases/one/file"),
        client.post("/cases/one/edit", data={**TYPED, "_version": version}),
    ]
    data = [client.get("/api/cases/one/page"), client.put("/api/cases/one/fields", json=change),
            client.post("/api/cases/one/try", json={"changes": TYPED})]  # fmt: skip
    return [(each.status_code, read(each.text).text) for each in pages] + [
        (each.status_code, each.json()["sentence"]) for each in data
    ]


def test_a_folder_that_is_gone_is_told_and_served_again_once_it_is_back(desk: Desk) -> None:
    version = desk.client.get("/api/cases").json()[0]["version"]
    away = desk.folder.rename(desk.folder.with_name("away"))
    found = asked(desk, version)
    list_page = desk.client.get("/")
    assert {status for status, _ in [*found, (list_page.status_code, "")]} == {404}
    for _, text in [*found, (404, read(list_page.text).text)]:
        assert "the folder must be one that can be read" in text
        assert "Bring it back to its place" in text
    assert "nozzle.bore: 81.5 mm" in found[2][1]
    for answer in (
        desk.client.post("/cases", data={"name": "two"}),
        desk.client.post("/upload", files={"file": ("two.yaml", b"onedatum: 1")}),
    ):
        assert answer.status_code == 422
        assert "Bring the folder back" in read(answer.text).text
    assert not desk.folder.exists()
    away.rename(desk.folder)
    assert desk.client.put("/api/cases/one/fields", json={"changes": TYPED, "version": version}).json()["refused"] == {}
    assert b"81.5 mm" in desk.files()["one.yaml"]


def to_folder(path: Path) -> None:
    path.mkdir()


def to_outside(path: Path) -> None:
    path.symlink_to("/etc/hostname")


def to_device(path: Path) -> None:
    path.symlink_to("/dev/full")


def to_nothing(path: Path) -> None:
    path.symlink_to(path.with_name("gone.yaml"))


def to_itself(path: Path) -> None:
    path.symlink_to(path)


@pytest.mark.parametrize("made", [to_folder, to_outside, to_device, to_nothing, to_itself, os.mkfifo, Path.unlink])
def test_a_case_that_is_no_file_any_more_is_told(desk: Desk, made: Callable[[Path], object]) -> None:
    version = desk.client.get("/api/cases").json()[0]["version"]
    path = desk.folder / "one.yaml"
    if made is not Path.unlink:
        path.unlink()
    made(path)
    found = asked(desk, version)
    assert {status for status, _ in found} <= {404, 422}
    assert all("must be" in text for _, text in found)
    assert "nozzle.bore: 81.5 mm" in found[2][1]
    assert desk.client.get("/").status_code == 200
    assert desk.client.post("/cases", data={"name": "two"}).status_code == 303
    assert not path.is_file() or path.is_symlink()


def test_a_version_that_is_not_kept_loses_nothing_of_what_was_typed(desk: Desk) -> None:
    before = desk.files()
    answer = desk.client.post("/cases/one/edit", data={**TYPED, "tag": "<b>", "_version": "f" * 64})
    assert answer.status_code == 404
    found = read(answer.text)
    assert found.faults == []
    assert "nozzle.bore: 81.5 mm" in found.text and "tag: <b>" in found.text
    assert desk.files() == before
