"""What a proof says, and the page it becomes."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Report:
    """The outcome of one proof."""

    title: str
    statement: str
    """What is claimed, in words that can be wrong."""
    method: str
    """How it was tried, and against what that is independent of the tool."""
    numbers: tuple[tuple[str, str], ...]
    """What was found: a name and the number as it is to be read, with its unit."""
    seeds: tuple[int, ...]
    """Every seed used; empty where nothing was drawn at random."""
    holds: bool


def page(report: Report) -> str:
    """The report as a page of Markdown."""
    verdict = "The statement holds." if report.holds else "**The statement does not hold.**"
    seeds = ", ".join(str(seed) for seed in report.seeds) or "none; nothing is drawn at random"
    rows = [f"| {cell(name)} | {cell(number)} |" for name, number in report.numbers]
    parts = [
        f"# {report.title}",
        report.statement.strip(),
        verdict,
        f"## How it was tried\n\n{report.method.strip()}",
        "\n".join(["## Numbers", "", "| what | found |", "| --- | --- |", *rows]),
        f"Seeds: {seeds}.",
        "Written by `python3 dev.py soak`; running it again writes the same page.",
    ]
    return "\n\n".join(parts) + "\n"


def cell(text: str) -> str:
    """Text that stays within its cell of a table."""
    return " ".join(text.split()).replace("|", "\\|")
