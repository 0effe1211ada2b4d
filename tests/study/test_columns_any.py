"""Chambers, legs and probes with anything in the place of any of their leaves: a study with its papers comes of it."""

from __future__ import annotations

from collections import Counter
from pathlib import Path

import pytest

from onedatum.case.leaf import Leaf, Rows
from onedatum.case.reading import read_case, read_case_text
from onedatum.jobs.paper_of_study import paper_of
from onedatum.study.form import as_json
from onedatum.study.study import study
from tests.draws import LONG
from tests.study.variants import EXAMPLES

SECTIONS = ("chamber", "legs", "probe", "states", "pressure", "medium.conduct", "medium.permit", "vessel.datum")
STRANGE = ("none", "-1 m", "[b]{c}", "-100 degC")


def leaves_of(example: str) -> list[Leaf]:
    """The leaves that have a text of their own."""
    leaves = tuple(read_case(EXAMPLES / example).case.leaves())
    shared = Counter(leaf.place for leaf in leaves)
    return [
        leaf
        for leaf in leaves
        if leaf.place is not None
        and shared[leaf.place] == 1
        and not isinstance(leaf, Rows)
        and leaf.path.startswith(SECTIONS)
    ]


TEXTS = ("unknown", STRANGE[0], "unknown", STRANGE[1], "unknown", STRANGE[2], "unknown", STRANGE[3])
EACH = [
    pytest.param(name, leaf, TEXTS[number % len(TEXTS)], id=f"{name}:{leaf.path}")
    for name in ("steam_drum.yaml", "wet_leg_tank.yaml", "caustic_tank.yaml")
    for number, leaf in enumerate(leaves_of(name))
][:: 1 if LONG else 3]
"""Leaves unknown or with one of the strange texts, in turn: every third, and each where there is time for many draws;
damage at random of every example is a long proof."""


@pytest.mark.parametrize(("example", "leaf", "strange"), EACH)
def test_strange_texts_leave_a_study_and_its_papers(example: str, leaf: Leaf, strange: str) -> None:
    file: Path = EXAMPLES / example
    lines = file.read_text(encoding="utf-8").split("\n")
    place = leaf.place
    assert place is not None
    line, start = lines[place.line - 1], place.column - 1
    old = f"{line[start]}{leaf.text}{line[start]}" if line[start] in ("'", '"') else leaf.text
    lines[place.line - 1] = line[:start] + strange + line[start + len(old) :]
    found = study(read_case_text("\n".join(lines), example, EXAMPLES))
    assert as_json(found, "0")["sheet"]
    if strange == "unknown":
        assert paper_of(found).stem
    assert all(fault.sentence() for fault in found.faults)
