"""The frames of the measurements and the long proofs: that they judge as they say."""

from __future__ import annotations

from pathlib import Path

import pytest

import soak.__main__ as proving
from bench.race import Figure, Outcome, Race, hold, read
from soak.report import Report, page


def race(goal: float, rounds: int = 15) -> Race:
    return Race("ours", lambda: None, "peer", lambda: None, goal, rounds)


@pytest.mark.parametrize(("ours_s", "reached"), [(0.24, True), (0.26, False)])
def test_the_goal_is_a_ratio_to_the_peer(ours_s: float, reached: bool) -> None:
    outcome = Outcome(race(goal=1.25), ours_s, peer_s=0.2)
    assert outcome.reached is reached
    assert outcome.line().endswith("reached" if reached else "MISSED")


def test_both_take_turns_and_the_first_round_does_not_count() -> None:
    calls: list[str] = []
    contest = Race("a", lambda: calls.append("a"), "b", lambda: calls.append("b"), goal=1.0, rounds=3)
    hold(contest)
    assert "".join(calls) == "baabbaab"


@pytest.mark.parametrize(("value", "reached"), [(199.0, True), (201.0, False)])
def test_a_figure_is_held_against_its_limit(value: float, reached: bool) -> None:
    reading = read(Figure("memory", lambda: value, 200.0, "MB"))
    assert reading.reached is reached
    assert reading.line() == f"memory: {value:g} MB, goal 200, {'reached' if reached else 'MISSED'}"


def report(holds: bool = True) -> Report:
    return Report("Title", "It is so.", "By trying.", (("worst | error", "1e-9 m"),), (1, 2), holds)


@pytest.mark.parametrize("holds", [True, False])
def test_a_proof_is_written_down_whether_it_holds_or_not(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, holds: bool
) -> None:
    monkeypatch.setattr(proving, "PAGES", tmp_path / "proofs")
    monkeypatch.setattr(proving, "found", lambda: {"one": lambda: report(holds)})
    assert proving.main([]) == (0 if holds else 1)
    text = (tmp_path / "proofs" / "one.md").read_text(encoding="utf-8")
    assert text == page(report(holds))
    assert ("does not hold" in text) is not holds


def test_a_page_shows_numbers_and_seeds() -> None:
    text = page(report())
    assert "| worst \\| error | 1e-9 m |" in text
    assert "Seeds: 1, 2." in text


def test_nothing_proven_is_no_success(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(proving, "found", dict)
    assert proving.main([]) == 1
    assert proving.main(["unheard"]) == 2
