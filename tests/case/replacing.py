"""The example with the text of one leaf replaced, found by the place that reading gave it."""

from __future__ import annotations

from collections import Counter

from onedatum.case.leaf import Rows
from onedatum.case.reading import Statement, read_case, read_case_text
from tests.study.variants import EXAMPLES, WITH_BARRIER

TEXT = WITH_BARRIER.read_text(encoding="utf-8")
LINES = TEXT.split("\n")


def written(line: int, column: int, text: str) -> str:
    """What stands at a place for a leaf of that text, with its quotes."""
    rest = LINES[line - 1][column - 1 :]
    return f"{rest[0]}{text}{rest[0]}" if rest[:1] in ("'", '"') else text


def stated() -> dict[str, tuple[int, int, str]]:
    """Line, column and written text of every leaf of the example, by path.

    A list has no text of its own, nor has a leaf of a section that is none.
    """
    leaves = tuple(read_case(WITH_BARRIER).case.leaves())
    shared = Counter(leaf.place for leaf in leaves)
    return {
        leaf.path: (leaf.place.line, leaf.place.column, written(leaf.place.line, leaf.place.column, leaf.text))
        for leaf in leaves
        if leaf.place is not None and shared[leaf.place] == 1 and not isinstance(leaf, Rows)
    }


STATED = stated()


def with_text(path: str, text: str) -> str:
    """The example with another text for one leaf."""
    line, column, old = STATED[path]
    lines = list(LINES)
    before, after = lines[line - 1][: column - 1], lines[line - 1][column - 1 + len(old) :]
    lines[line - 1] = f"{before}{text}{after}"
    return "\n".join(lines)


def read_with(path: str, text: str) -> Statement:
    """The same, read."""
    return read_case_text(with_text(path, text), "case.yaml", EXAMPLES)
