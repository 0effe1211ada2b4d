"""The commands on the examples that the README shows."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

README = Path(__file__).resolve().parents[1] / "README.md"


def commands() -> Iterator[tuple[str, ...]]:
    """The words of each, as a shell hands them over."""
    for line in re.findall(r"^onedatum (.+)$", README.read_text(encoding="utf-8"), flags=re.MULTILINE):
        yield tuple(word.strip('"') for word in re.findall(r'"[^"]*"|\S+', line))
