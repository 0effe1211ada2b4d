"""From a syntax error of the YAML scanner to our sentence: what the line most likely lacks, and what to do."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from onedatum.foundation.errors import Fault, Place

if TYPE_CHECKING:
    from ruamel.yaml.error import YAMLError

_HINTS: tuple[tuple[str, str, str], ...] = (
    # what the scanner says, why, remedy
    (r"character '\\t'", "A tab is used for indenting", "Use spaces only"),
    (r"character '[%@`]'", "A value cannot begin with that sign unquoted", "Put the value into 'quotes'"),
    (r"mapping values are not allowed", "A second colon stands there, or the line is indented too far",
     "Line the key up with its neighbours, and put a text that holds ': ' into 'quotes'"),
    (r"could not find expected ':'", "A key without its colon", "Write key: value, with a space behind the colon"),
    (r"expected <block end>", "The line does not line up with the lines above", "Indent keys of one level alike"),
    (r"expected ',' or '\]'", "A list in brackets is not closed, or a comma is missing", "Write [a, b]"),
    (r"expected ',' or '\}'", "Keys in braces are not closed, or a comma is missing", "Write {a: 1, b: 2}"),
    (r"unexpected end of stream", "A quoted text is not closed", "Close it with the quote that opened it"),
    (r"unexpected document separator", "A quoted text is not closed", "Close it with the quote that opened it"),
    (r"escape", "A backslash has a meaning between double quotes", "Use 'single quotes' for a text with a backslash"),
    (r"document start", "Something stands behind the end of the document", "Keep one document in one file"),
    (r"(directive|version)", "A directive (a line that begins with %) is not read", "Delete that line"),
    (r"(anchor|alias)", "& and * begin names of anchors", "Put the value into 'quotes'"),
    (r"tag", "! begins a tag", "Put the value into 'quotes'"),
    (r"sequence entries are not allowed", "A dash begins a list item only on a line of its own",
     "Start the list on the next line, or write [a, b]"),
)  # fmt: skip

_KNOWN_BY_THEIR_START = ("expected ':'", "end of stream", "document separator", "expected ',' or")
"""Errors that are seen late: the place to mend is where the key, the quote or the bracket began."""

_NO_SPACE = re.compile(r"\s*(?:- )?([A-Za-z_][\w ]*):(?=[^\s/])")


def syntax_fault(error: YAMLError, lines: list[str], file: str) -> Fault:
    """The fault of a text that is no YAML, at the place that the scanner names."""
    problem = f"{getattr(error, 'context', '')} {getattr(error, 'problem', '')}"
    at_start = any(words in problem for words in _KNOWN_BY_THEIR_START)
    marks = [getattr(error, "problem_mark", None), getattr(error, "context_mark", None)]
    mark = next((mark for mark in (reversed(marks) if at_start else marks) if mark is not None), None)
    line = min(mark.line, max(len(lines) - 1, 0)) if mark is not None else 0
    column = mark.column if mark is not None and mark.line == line else 0
    slip = _colon_without_space(lines, line)
    if slip is not None:
        line, column, why, remedy = slip
    else:
        why, remedy = _hint(problem)
    return Fault(file, "YAML that can be read", _shown(lines, line), why, Place(file, line + 1, column + 1), remedy)


def unreadable_fault(after: Place) -> Fault:
    """The fault of a text on which the scanner gave up without a place; `after` is the last it got through."""
    why = "What follows cannot be taken apart, perhaps an escape in double quotes"
    return Fault(after.file, "YAML that can be read", "something else", why, after, "Use 'single quotes'")


def _hint(problem: str) -> tuple[str, str]:
    found = next((hint for hint in _HINTS if re.search(hint[0], problem)), None)
    return (found[1], found[2]) if found else ("The line is no key with a value and no list item", "Write key: value")


def _colon_without_space(lines: list[str], line: int) -> tuple[int, int, str, str] | None:
    """A key whose colon has no space behind it, on the line of the error or the one above: the commonest slip."""
    for at in (line, line - 1):
        found = _NO_SPACE.match(lines[at]) if 0 <= at < len(lines) else None
        if found:
            return at, found.end() - 1, "No space stands behind the colon", f"Write {found[1]}: and then the value"
    return None


def _shown(lines: list[str], line: int) -> str:
    from onedatum.foundation.units.grammar import quoted

    return quoted(lines[line].strip()) if 0 <= line < len(lines) else "the end of the file"
