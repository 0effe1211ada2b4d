"""Forms filled in at random and sent: what a hand, a half-typed field, a stale window or ill will may send."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from hypothesis import strategies as st

from onedatum.case.form import fields
from onedatum.case.reading import read_case_text
from onedatum.case.tree import parse_text
from onedatum.jobs.keeping.history import version_of
from onedatum.jobs.page.form import every_path
from onedatum.web.guard import POLICY
from soak.damage import VALUES

CASE = """\
# a tank of an invented works
onedatum: 1   # the first version
invented: yes
tag: LT-1  # at the north wall
vessel:
  shape: vertical cylinder # to be measured
  inside_diameter: 2 m     # from the drawing
  shell_length: {value: 3 m, within: 5 mm} # as built
states:
  - name: storing  # the only one
    medium: {density: 820 kg/m3}
# the end
"""
"""Small, so that thousands of posts are soon sent; a comment in every kind of place."""
COMMENTS = tuple(re.findall(r"# [a-z ]+", CASE))
FIELDS = tuple(
    field.path
    for section in fields(read_case_text(CASE, "case.yaml"))
    for field in every_path(section)
    if field.ask.form != "list"
)
STRANGE = (
    "", ".", "..", "vessel", "vessel.", "vessel..shape", "states[0]", "states[99999999].name", "states[-1].name",
    "states[0].medium.density.value", "vessel.shape.basis", "__class__", "constructor", "\x00", "a[", '"', "[0]",
    "vessel.shape[0]", "onedatum", "invented", "_version", "x" * 500, "{{7*7}}", "\u202e", "states",
)  # fmt: skip
WHOLE = {"vessel", "states", "states[0]", "states[0].medium"}
"""Paths of sections: who writes `none` in place of one does away with its comments."""
HOSTILE = (
    *VALUES, "", " ", "<script>alert(1)</script>", "{{7*7}}", "${7*7}", "a\nb: c", "- a", "| a", "> a", "%YAML 1.1",
    "---", "...", "!!python/object/apply:os.system ['x']", "\x00", "\x1b[2J", "\u2028", "\ufeff", "9" * 400,
    "5 furlong", "1e-400 m", "-0 mm", "{file: /etc/passwd}", "{value: 1 m, within: ", "a # b", "'; drop", "😀",
)  # fmt: skip
ANSWERS = {303: "kept", 400: "refused as a form", 404: "no such version", 409: "conflict", 422: "refused in words"}
"""What may come of a post."""


@dataclass(frozen=True)
class Post:
    """One form as it is sent."""

    texts: dict[str, str]
    version: str
    """`now`, or what is said in its place."""
    as_data: bool
    """Sent to the interface of the page rather than as a form."""


def posts() -> st.SearchStrategy[Post]:
    """Every kind of post."""
    names = st.sampled_from(FIELDS) | st.sampled_from(FIELDS) | st.sampled_from(STRANGE) | st.text(max_size=20)
    texts = st.sampled_from(HOSTILE) | st.text(max_size=30)
    versions = st.sampled_from(("now", "now", "now", "now", "", "0" * 64, "é", "../../x"))
    return st.builds(Post, st.dictionaries(names, texts, max_size=6), versions, st.booleans())


def outcome(client: Any, folder: Path, post: Post) -> tuple[str, list[str]]:
    """What came of a post, and what about it must not be; `client` sends to a server of the folder."""
    file = folder / "case.yaml"
    file.write_text(CASE, encoding="utf-8", newline="\n")
    version = version_of(file.read_bytes()) if post.version == "now" else post.version
    if post.as_data:
        body = {"changes": post.texts, "version": version}
        answer = client.put("/api/cases/case/fields", json=body)
    else:
        sent = {key: text for key, text in post.texts.items() if key != "_version"}
        answer = client.post("/cases/case/edit", data={**sent, "_version": version})
    text = file.read_bytes().decode("utf-8", errors="strict")
    said = _of_data(answer.json()) if answer.status_code == 200 else ANSWERS.get(answer.status_code, "")
    wrong = [] if said else [f"answered with {answer.status_code}"]
    if not WHOLE & post.texts.keys():
        wrong += [f"the comment {each!r} is lost" for each in COMMENTS if each not in text]
    wrong += ["the file cannot be read any more"] if parse_text(text, "case.yaml").broken else []
    wrong += ["the file has changed all the same"] if said not in ("kept", "refused in words") and text != CASE else []
    wrong += ["the policy is missing"] if answer.headers.get("content-security-policy") != POLICY else []
    wrong += ["the folder holds more"] if {each.name for each in folder.iterdir()} - {"case.yaml", ".onedatum"} else []
    return said or "broke", wrong


def _of_data(told: Mapping[str, Any]) -> str:
    """What the interface says came of it; what can be read is kept although the rest is refused."""
    if told["conflict"] is not None:
        return "conflict"
    return "refused in words" if told["refused"] else "kept"
