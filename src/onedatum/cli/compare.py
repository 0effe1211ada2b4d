"""What changed between two cases, as text."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from textwrap import wrap
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from onedatum.jobs.compare import Compared
    from onedatum.study.compare import Changed

COLUMNS = 80


def comparison_lines(compared: Compared) -> Iterator[str]:
    """Group by group; a group in which nothing changed is left away."""
    found = compared.found
    groups: tuple[tuple[str, Sequence[Changed]], ...] = (
        ("Inputs", found.inputs),
        ("Numbers", found.numbers),
        ("Verdicts", found.verdicts),
        ("Findings", found.findings),
        ("Order", compared.order),
    )
    for file in compared.unread:
        yield f"Nothing compared: {file} holds no case."
    if compared.same and not compared.unread:
        yield "Nothing changed."
    for title, changes in groups:
        if changes:
            yield f"{title}: {len(changes)} changed"
        for each in changes:
            yield from wrap(f"  {_line(each)}", COLUMNS, subsequent_indent="    ")


def _line(each: Changed) -> str:
    named = each.name if each.title == each.name else f"{each.name} ({each.title})"
    return f"{named}: {each.old} -> {each.new}"
