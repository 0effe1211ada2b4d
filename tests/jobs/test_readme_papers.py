"""The papers that the README has written: each command runs, and writes what belongs to its case."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.cli.run import ROOT, onedatum
from tests.jobs.conftest import Papers
from tests.readme import commands
from tests.study.variants import WITH_BARRIER

EVERY = (".pdf", ".json", "-safety.pdf", "-loop.svg", "-order.pdf")
WRITTEN = {
    "spirit_receiver": {*EVERY, "-elevation.dxf"},
    "solvent_tank": {*EVERY, "-elevation.dxf"},
    "wet_leg_tank": {*EVERY},
    "caustic_tank": {*EVERY, "-elevation.dxf"},
}
"""Endings of the names of the files by case: a level alone has no elevation, for it has no ruler."""
DOCUMENTED = [words for words in commands() if words[0] == "document"]


@pytest.mark.parametrize("words", DOCUMENTED, ids=" ".join)
def test_the_papers_of_the_readme_are_written_byte_for_byte_the_same_on_repeat(
    words: tuple[str, ...], papers: Papers, tmp_path: Path
) -> None:
    case = ROOT / words[1]
    outcome = onedatum(*(str(tmp_path) if word == "papers" else word for word in words))
    files = [Path(line.removeprefix("written: ")) for line in outcome.out.splitlines()]
    assert outcome.code == 0
    assert sorted(files) == sorted(tmp_path.iterdir())
    assert {file.name.removeprefix(case.stem) for file in files} >= WRITTEN[case.stem]
    assert files[0].name == f"{case.stem}.pdf"
    if case.stem == "wet_leg_tank":
        assert [file.name.removeprefix(case.stem) for file in files] == [*EVERY]
    if case == WITH_BARRIER:
        assert [file.read_bytes() for file in files] == [file.read_bytes() for file in papers(case)]


def test_a_case_of_each_of_these_is_documented() -> None:
    """What is asked of their papers would else be asked of none."""
    assert {Path(words[1]).stem for words in DOCUMENTED} == set(WRITTEN)
