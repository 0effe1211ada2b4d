"""The API and the forms under what nobody would send: described answers only, no failure, no lost file."""

from __future__ import annotations

import random
import subprocess
import sys
from pathlib import Path

import httpx2 as httpx
import pytest

from onedatum.case.reading import read_case
from system.conftest import Server

POSTS = 500
"""Of each of the two ways to keep a change."""
TEXTS = (
    "",
    "1600 mm",
    "abc",
    "-1 m",
    "1e999 m",
    "NaN",
    "unknown",
    "none",
    "\u0000",
    "a\nb: c",
    "'",
    '"',
    "{",
    "}",
    "[",
    "- x",
    "&a",
    "*a",
    "!!python/object:os.system",
    "# comment",
    "x: y",
    "<script>alert(1)</script>",
    "../../etc/passwd",
    "\u202e1 m",
    "１ m",
    "𝟏 m",
    "a" * 4000,
    "0x10 m",
    "1_000 mm",
    "1 m\u2028",
    "yes",
    "~",
    "|",
    ">",
    "%",
    "@",
    "`",
)
PATHS = (
    "vessel.inside_diameter",
    "vessel",
    "vessel.",
    ".",
    "",
    "states[0].name",
    "states[3].name",
    "states[99].name",
    "states[-1]",
    "range.4 mA",
    "medium.temperature.within",
    "medium.temperature.basis",
    "medium.strength.at",
    "invented",
    "onedatum",
    "x" * 150,
    "vessel.inside_diameter.value.value",
    "__class__",
    "circuit.devices[0].Ui",
    "vessel.deadwood",
    "vessel.top_head",
    "a[b]",
    '"',
)
CASE = "hostile"
SMALL = """# Invented.
onedatum: 1
tag: T-1   # a comment
vessel:
  shape: vertical cylinder
  inside_diameter: 1600 mm
  deadwood: none
medium:
  temperature: {value: 14 degC, within: 0.5 K}
range: {4 mA: 100 mm, 20 mA: 2800 mm}
states:
  - name: normal
"""


def everything(folder: Path) -> dict[str, bytes]:
    """Every case file of the folder."""
    return {file.name: file.read_bytes() for file in folder.glob("*.yaml")}


@pytest.mark.parametrize("way", ["form", "data"])
def test_a_thousand_hostile_edits_leave_a_file_that_reads(own_server: Server, way: str) -> None:
    draw = random.Random(f"onedatum {way}")
    others = everything(own_server.folder)
    file = own_server.folder / f"{CASE}.yaml"
    file.write_text(SMALL, encoding="utf-8")
    faults = len(read_case(file).faults)
    with httpx.Client(base_url=own_server.link, headers={"Origin": own_server.link}, timeout=30) as client:
        version = _version(client)
        for _ in range(POSTS):
            changes = {draw.choice(PATHS): draw.choice(TEXTS) for _ in range(draw.randint(1, 4))}
            made_on = version if draw.random() < 0.8 else draw.choice(["", "0" * 64, "é", version[:10]])
            if way == "form":
                answer = client.post(f"/cases/{CASE}/edit", data=changes | {"_version": made_on})
            else:
                answer = client.put(f"/api/cases/{CASE}/fields", json={"changes": changes, "version": made_on})
            assert answer.status_code < 500, (changes, answer.text[:300])
            if answer.status_code in (200, 303, 409):
                version = _version(client)
            assert not [each for each in read_case(file).faults if "file" in each.allowed], changes
    others_now = everything(own_server.folder)
    others_now.pop(file.name)
    assert others_now == others
    assert "# a comment" in file.read_text(encoding="utf-8")
    assert len(read_case(file).faults) <= faults + len(PATHS)


def _version(client: httpx.Client) -> str:
    """The version that stands now, asked without a study: an edit of nothing tells it."""
    told = client.put(f"/api/cases/{CASE}/fields", json={"changes": {}, "version": ""}).json()
    return str(told["version"])


def test_the_api_answers_as_it_says(own_server: Server) -> None:
    """schemathesis draws requests from the description of the API and holds the answers against it."""
    checks = (
        "not_a_server_error",
        "status_code_conformance",
        "content_type_conformance",
        "response_schema_conformance",
    )
    words = [str(Path(sys.executable).with_name("schemathesis")), "run", f"{own_server.link}/api/openapi.json"]
    words += ["--max-examples", "8", "--seed", "20261126", "--checks", ",".join(checks)]
    words += ["--phases", "examples,fuzzing", "--max-time", "40", "--request-timeout", "30", "--no-color"]
    words += ["--header", f"Origin: {own_server.link}"]
    run = subprocess.run(words, capture_output=True, text=True, check=False, timeout=240)
    assert run.returncode == 0, run.stdout[-6000:] + run.stderr[-500:]
