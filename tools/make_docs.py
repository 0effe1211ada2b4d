"""Make docs/formulas.md and docs/case.md from the code itself; a test holds them to it.

python3 tools/make_docs.py
"""

from __future__ import annotations

from pathlib import Path

from onedatum.case.skeleton import skeleton
from onedatum.foundation.sources import citation, sources
from onedatum.foundation.working import Tag, interval_text
from onedatum.jobs.formula import formulas

DOCS = Path(__file__).resolve().parents[1] / "docs"


def formulas_page() -> str:
    """Every formula with its text, symbols, validity and source, and the register of sources."""
    parts = [
        "# Formulas",
        "Each can be worked alone: `onedatum formula NAME key=quantity ...`. Made by `tools/make_docs.py`.",
        *(_formula(tag) for tag in formulas().values()),
        "# Sources",
        "The tag says how far the text was seen; it is printed with every value that rests on the source.",
        "\n".join(
            f"- **{source.title}**: {source.tag}{f'; {source.note}' if source.note else ''}"
            for source in sources().values()
        ),
    ]
    return "\n\n".join(parts) + "\n"


def case_page() -> str:
    """Every key of a case with its meaning and how it is stated."""
    return (
        "# The case file\n\nEvery key, as `onedatum new` writes them. This page is made by `tools/make_docs.py`.\n\n"
        f"```yaml\n{skeleton()}```\n"
    )


def _formula(tag: Tag) -> str:
    rows = [f"| `{s.key}` | {s.symbol} | {s.meaning} | {s.measured_in} | {interval_text(s)} |" for s in tag.symbols]
    needs = [f"Needs `{need.relation.text}`: {need.why}." for need in tag.requires]
    text = tag.text if tag.kind != "implicit" else f"{tag.text} = 0"
    lines = [
        f"## {tag.name}",
        "",
        tag.what,
        "",
        f"`{text}`" if tag.kind != "procedure" else f"By: {text}.",
        "",
        f"Gives {tag.result.symbol}, {tag.result.meaning} [{tag.result.measured_in}].",
        "",
        "| key | symbol | meaning | unit | validity |",
        "| --- | --- | --- | --- | --- |",
        *rows,
        "",
        *needs,
        f"Source: {citation(tag.source)}.",
    ]
    return "\n".join(lines)


PAGES = {"formulas.md": formulas_page, "case.md": case_page}


def main() -> None:
    """Write the pages."""
    for name, page in PAGES.items():
        (DOCS / name).write_text(page(), encoding="utf-8")


if __name__ == "__main__":
    main()
