"""Rules for what surrounds the code: news, decisions, the gate, the pinned versions, and no trace of one machine."""

from __future__ import annotations

import re
import tomllib

import pytest

from tests.house.tree import ROOT, Text, texts

# ---------------------------------------------------------------- no trace of one machine

# Put together here, so that this file does not breach its own rule.
MACHINE_PATH = re.compile(r"(?<![\w.)\]])/(?:" + "|".join(["work", "root"]) + r")/")

LOOKED_THROUGH = [
    "src",
    "tests",
    "docs",
    "examples",
    "news",
    "bench",
    "soak",
    "tools",
    "README.md",
    "CONTRIBUTING.md",
    "dev.py",
]


def machine_paths(text: Text) -> list[str]:
    """Lines that name a place on somebody's machine."""
    return [f"{text.name}:{number}" for number, line in enumerate(text.lines, 1) if MACHINE_PATH.search(line)]


def test_nothing_names_a_place_on_one_machine() -> None:
    found = texts(*LOOKED_THROUGH)
    assert {text.name for text in found} >= {"README.md", "CONTRIBUTING.md", "dev.py"}
    assert [place for text in found for place in machine_paths(text)] == []


@pytest.mark.parametrize("room", ["work", "root"])
def test_a_place_on_one_machine_is_found(room: str) -> None:
    assert machine_paths(Text("x.md", f"first\nsee `/{room}/main/x.py`\n")) == ["x.md:2"]
    assert machine_paths(Text("x.md", f"pressure/{room}/flow and ../{room}/x\n")) == []


# ---------------------------------------------------------------- news


def news_breaches(text: Text) -> list[str]:
    """What keeps a fragment from being one line of prose: a sentence, without marks of a list or a heading."""
    if len(text.lines) != 1 or not text.text.endswith("\n"):
        return [f"{text.name}: must be one line"]
    line = text.lines[0]
    prose = re.fullmatch(r"[^\W\d_].*[.!?]", line) and len(line.split()) >= 3 and line[0] == line[0].upper()
    return [] if prose else [f"{text.name}: must be a sentence"]


def test_every_news_fragment_is_one_line_of_prose() -> None:
    fragments = [text for text in texts("news") if text.name != "news/README.md"]
    assert fragments
    assert [breach for text in fragments for breach in news_breaches(text)] == []
    assert [text.name for text in fragments if not re.fullmatch(r"news/\d{4}-[a-z0-9-]+\.md", text.name)] == []


@pytest.mark.parametrize(
    "fragment", ["", "One.\nTwo.\n", "- A point of a list.\n", "# A heading.\n", "no stop\n", "Yes.\n"]
)
def test_a_fragment_that_is_no_line_of_prose_is_found(fragment: str) -> None:
    assert news_breaches(Text("news/0001-x.md", fragment)) != []
    assert news_breaches(Text("news/0001-x.md", "The ruler now carries litres.\n")) == []


# ---------------------------------------------------------------- decisions

PARTS = ["## Context", "## Decision", "## Consequences"]
STATUS = re.compile(r"Status: (proposed|accepted|rejected|superseded by \d{4})")


def decision_breaches(text: Text) -> list[str]:
    """What a decision record lacks: number in name and title, status, the three parts in their order, filled."""
    found = []
    name = re.fullmatch(r"docs/decisions/(\d{4})-[a-z0-9-]+\.md", text.name)
    title = re.match(r"# (\d{4}) \S", text.text)
    if not (name and title and name[1] == title[1]):
        found.append("number and title")
    if not any(STATUS.fullmatch(line) for line in text.lines):
        found.append("status")
    if [line for line in text.lines if line.startswith("## ")] != PARTS:
        found.append("context, decision, consequences")
    if not all(part.strip() for part in re.split(r"^## .*$", text.text, flags=re.MULTILINE)):
        found.append("text in every part")
    return [f"{text.name}: lacks {part}" for part in found]


def decisions() -> list[Text]:
    """All decision records."""
    return texts("docs/decisions")


def test_every_decision_record_is_whole() -> None:
    assert decisions()
    assert [breach for text in decisions() for breach in decision_breaches(text)] == []


def test_decision_numbers_are_given_once() -> None:
    numbers = [text.name.split("/")[-1][:4] for text in decisions()]
    assert len(set(numbers)) == len(numbers)


SOUND = "# 0007 Use metres\n\nStatus: accepted\n\n## Context\n\na\n\n## Decision\n\nb\n\n## Consequences\n\nc\n"


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("# 0007", "# 0008"),
        ("# 0007", "#"),
        ("accepted", "perhaps"),
        ("## Decision", "## Result"),
        ("\nb\n", "\n"),
        ("\nc\n", "\n"),
    ],
)
def test_a_record_that_is_not_whole_is_found(old: str, new: str) -> None:
    assert decision_breaches(Text("docs/decisions/0007-metres.md", SOUND)) == []
    assert decision_breaches(Text("docs/decisions/0007-metres.md", SOUND.replace(old, new, 1))) != []


# ---------------------------------------------------------------- the gate


def gate_lacks(script: str) -> list[str]:
    """The commands that the gate must call and does not, each at the start of a line, so that its failure counts."""
    lines = [line.rstrip() for line in script.splitlines()]
    return [word for word in ("run", "test", "check") if f"python3 dev.py {word}" not in lines]


def test_the_gate_runs_the_example_the_tests_and_the_checks() -> None:
    script = (ROOT / ".ci" / "run").read_text(encoding="utf-8")
    assert gate_lacks(script) == []
    assert "set -euo pipefail" in script.splitlines()


def test_a_gate_that_lets_a_failure_pass_is_found() -> None:
    assert gate_lacks("python3 dev.py run\n# python3 dev.py test\npython3 dev.py check || true\n") == ["test", "check"]


# ---------------------------------------------------------------- versions


def plain(requirement: str) -> str:
    """The name of a package as the index compares it, without extras and versions."""
    return re.sub(r"[-_.]+", "-", re.split(r"[\[<>=!~; ]", requirement)[0]).lower()


def pinned(constraints: str) -> set[str]:
    """The names that a constraints file pins, each by ``name==version``."""
    lines = [line for line in constraints.splitlines() if line and not line.startswith("#")]
    return {plain(line) for line in lines if re.fullmatch(r"[\w.-]+==[\w.]+", line)}


def test_every_named_package_is_pinned_and_no_other() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
    tool = project["project"]
    extras = tool["optional-dependencies"].values()
    groups = [tool["dependencies"], *extras, *project["dependency-groups"].values()]
    named = {plain(word) for words in groups for word in words}
    assert pinned((ROOT / "constraints.txt").read_text(encoding="utf-8")) == named


def test_a_loose_pin_does_not_count() -> None:
    assert pinned("# x\nRuamel.YAML==0.19.1\nnumpy>=2\nscipy\n") == {"ruamel-yaml"}
