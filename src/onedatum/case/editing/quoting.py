"""A text as YAML: plain where every reader of YAML takes it as that text, in quotes where it might not."""

from __future__ import annotations

import re

from onedatum.case.tree.node import Leaf, Node, Row

_NO_TEXTS = frozenset({"y", "n", "yes", "no", "true", "false", "on", "off", "null", "nan", "inf"})
"""Words that a reader of YAML 1.1 or 1.2 takes as a truth value, a number or nothing."""
_PLAIN_START = re.compile(r"[^\W_]|[(]|-?\d")
_PLAIN_NUMBER = re.compile(r"-?(0|[1-9]\d*)(\.\d+)?([eE][-+]?\d+)?", re.ASCII)
_LIKE_NUMBER = re.compile(r"[-+]?[\d.][\d_.,:eExXoOa-fA-F+-]*", re.ASCII)
"""Numbers of every base, times of day, dates."""
_IN_FLOW = frozenset(",[]{}:")


def written(text: str, in_flow: bool, number: bool, style: str = "") -> str:
    """The text of one line as it is written; `number` where a bare number is meant as one.

    `style` is the quote that stood there before, kept where it can be.
    """
    if style == '"' and not set(text) & {'"', "\\"}:
        return f'"{text}"'
    if style != "'" and _plain(text, in_flow, number):
        return text
    return quoted(text)


def quoted(text: str) -> str:
    """The text in quotes: single ones, double ones where it holds what single ones cannot."""
    if not text.isprintable():
        escaped = text.replace("\\", "\\\\").replace('"', '\\"')
        return '"' + escaped.replace("\n", "\\n").replace("\t", "\\t").replace("\r", "\\r") + '"'
    return "'" + text.replace("'", "''") + "'"


def flow_of(node: Node) -> str:
    """A node as it is written on one line, in braces and brackets."""
    if isinstance(node, Leaf):
        return written(node.text, True, not node.quoted) if node.text else "''" if node.quoted else "null"
    if isinstance(node, Row):
        return "[" + ", ".join(flow_of(item) for item in node.items) + "]"
    return "{" + ", ".join(f"{written(key, True, False)}: {flow_of(item)}" for key, item in node.items.items()) + "}"


def _plain(text: str, in_flow: bool, number: bool) -> bool:
    if not _PLAIN_START.match(text) or text.lower() in _NO_TEXTS or not text.isprintable():
        return False
    if ": " in text or " #" in text or text.endswith(":") or "\xa0" in text:
        return False
    if in_flow and set(text) & _IN_FLOW:
        return False
    if _LIKE_NUMBER.fullmatch(text):
        return number and _PLAIN_NUMBER.fullmatch(text) is not None
    return True
