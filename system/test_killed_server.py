"""Servers killed while edits are kept: the file is whole, no edit answered is lost; the proof kills more."""

from __future__ import annotations

from pathlib import Path

from soak.proofs.killed_server import wrongs

KILLS = 5


def test_a_server_that_is_killed_loses_no_edit_that_it_answered(tmp_path: Path) -> None:
    broken, lost, left, last = wrongs(tmp_path, KILLS, seed=7)
    assert (broken, lost, left) == (0, 0, 0)
    assert last >= KILLS  # edits were kept at all
