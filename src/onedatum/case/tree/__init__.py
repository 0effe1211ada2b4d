"""YAML text to a tree of nodes, each with its path and its place; safe against any file.

Values stay text as written: 0770, no, 12:30 and 2026-11-01 are what they look like. Tags, anchors, aliases, second
documents and duplicate keys are faults. Whatever a file holds, reading ends soon and with a tree.
"""

from onedatum.case.tree.node import Branch, Leaf, Node, Row, Tree, join_index, join_key, node_at
from onedatum.case.tree.parse import parse_text, read_tree
from onedatum.case.tree.source import beside

__all__ = [
    "Branch",
    "Leaf",
    "Node",
    "Row",
    "Tree",
    "beside",
    "join_index",
    "join_key",
    "node_at",
    "parse_text",
    "read_tree",
]
