"""A text read block by block: each key at the margin with all that stands beneath it, kept for the next reading.

Who types changes one block at a time, and to scan a text takes longer than to study the case. Where the blocks cannot
be told apart at a glance, or one of them has a fault, None is given and the text is read in one piece: what is told of
a text that is not sound depends on all of it.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from functools import lru_cache

from onedatum.case.tree.build import Builder
from onedatum.case.tree.limits import MAX_NODES
from onedatum.case.tree.node import Branch, Node
from onedatum.foundation.errors import Place

_KEY = re.compile(r"(?:[a-z][a-z0-9_]*):(?: |$)")
_OTHER_BREAKS = re.compile("[\r\x85\u2028\u2029]")
"""Line breaks of YAML beside the usual one; \x85 and those behind it were breaks of its older form."""
_BENEATH = (" ", "#", "- ")
"""How a line begins that belongs to the block above it."""
MOST = 100
"""Blocks of a text; a case has half of them, and to begin a scanner for each would be dear in a text of thousands."""
KEPT = 512
LONGEST = 4_000
"""Characters of a block that is kept; longer ones are tables, which are not typed."""

Run = Callable[[Builder, str], object]
"""Feeds a text to a builder."""
_Block = tuple[Branch, int]
"""The branch of a block and the number of its nodes."""


def read_in_blocks(text: str, file: str, run: Run) -> Branch | None:
    """The root of a text without faults; None where it is to be read in one piece."""
    found = list(_blocks(text))
    if not 2 <= len(found) <= MOST:
        return None
    items: dict[str, Node] = {}
    places: dict[str, Place] = {}
    nodes, root = 0, None
    for above, block in found:
        read = (_kept if len(block) <= LONGEST else _read)(block, file, above, run)
        if read is None or read[0].items.keys() & items.keys():
            return None
        branch, number = read
        items |= branch.items
        places |= branch.key_places
        nodes += number
        root = root or branch
    return None if root is None or nodes > MAX_NODES else Branch(items, root.place, root.path, places)


def _blocks(text: str) -> Iterator[tuple[int, str]]:
    """Each block with the number of lines above it; nothing where the text is not made of blocks."""
    lines = text.split("\n")
    heads = [number for number, line in enumerate(lines) if _KEY.match(line)]
    others = (line for line in lines if line and not line.startswith(_BENEATH) and not _KEY.match(line))
    if not heads or _OTHER_BREAKS.search(text) or any(others):
        return
    heads[0] = 0
    for start, end in zip(heads, [*heads[1:], len(lines)], strict=True):
        yield start, "\n".join([*lines[start:end], ""] if end < len(lines) else lines[start:end])


def _read(block: str, file: str, above: int, run: Run) -> _Block | None:
    """A block on its own; None where something is wrong with it, or it is more than one key."""
    builder = Builder(file, [], above)
    run(builder, block)
    if builder.faults or builder.broken:
        return None
    root = builder.finished_root()
    return (root, builder.nodes) if len(root.items) == 1 and not builder.faults else None


_kept = lru_cache(maxsize=KEPT)(_read)
