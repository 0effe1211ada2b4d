"""A text read block by block: each key at the margin with all that stands beneath it, kept for the next reading.

Who types changes one block at a time, and to scan a text takes longer than to study the case. Where the blocks cannot
be told apart at a glance, or one of them has a fault, None is given and the text is read in one piece: what is told of
a text that is not sound depends on all of it.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from functools import lru_cache
from typing import TYPE_CHECKING, NamedTuple

from onedatum.case.tree.build import Builder
from onedatum.case.tree.limits import MAX_NODES
from onedatum.case.tree.node import Branch, Node, lower
from onedatum.case.tree.spots import Spot, spots_of
from onedatum.foundation.errors import Place

if TYPE_CHECKING:
    from ruamel.yaml.events import Event

_KEY = re.compile(r"(?:[a-z][a-z0-9_]*):(?: |$)")
_OTHER_BREAKS = re.compile("[\r\x85\u2028\u2029]")
"""Line breaks of YAML beside the usual one; \x85 and those behind it were breaks of its older form."""
_BENEATH = (" ", "#", "- ")
"""How a line begins that belongs to the block above it."""
MOST = 100
"""Blocks of a text; a case has half of them, and to begin a scanner for each would be dear in a text of thousands."""
KEPT = 256
LONG, KEPT_LONG = 4_000, 32
"""Characters of a long block, and how many of these are kept: the largest sections of a new case, with their hints."""
LONGEST = 16_000
"""Characters of a block that is kept; longer ones are tables, which are not typed."""

Run = Callable[[Builder, str, "list[Event]"], object]
"""Feeds a text to a builder, and adds the events that were fed to a list."""


class _Block(NamedTuple):
    """What was read of a block."""

    branch: Branch
    nodes: int
    spot: Spot
    """Where its nodes stand in the text of the block."""


def read_in_blocks(text: str, file: str, run: Run) -> Branch | None:
    """The root of a text without faults; None where it is to be read in one piece."""
    read = _read_blocks(text, file, run)
    return None if read is None else _joined(read)


def traced_in_blocks(text: str, file: str, run: Run) -> tuple[Branch, Spot] | None:
    """The same, with the spot of the root."""
    read = _read_blocks(text, file, run)
    if read is None:
        return None
    root = Spot("branch", read[0][1].spot.start, 0, 0)
    for begin, block in read:
        for key, (start, end) in block.spot.keys.items():
            root.keys[key] = (start + begin, end + begin)
            root.items[key] = block.spot.items[key].moved(begin)
            root.end = root.items[key].end
    return _joined(read), root


def _read_blocks(text: str, file: str, run: Run) -> list[tuple[int, _Block]] | None:
    """Each block with the number of characters before it."""
    found = list(_blocks(text))
    if not 2 <= len(found) <= MOST:
        return None
    read: list[tuple[int, _Block]] = []
    keys: set[str] = set()
    begin, nodes = 0, 0
    for above, text_of_block in found:
        block = _kept(text_of_block, file, above, run)
        if block is None or block.branch.items.keys() & keys:
            return None
        read.append((begin, block))
        keys |= block.branch.items.keys()
        begin += len(text_of_block)
        nodes += block.nodes
    return None if nodes > MAX_NODES else read


def _joined(read: list[tuple[int, _Block]]) -> Branch:
    """The branches of all blocks as one."""
    items: dict[str, Node] = {}
    places: dict[str, Place] = {}
    for _, block in read:
        items |= block.branch.items
        places |= block.branch.key_places
    first = read[0][1].branch
    return Branch(items, first.place, first.path, places)


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


def _kept(text: str, file: str, above: int, run: Run) -> _Block | None:
    """A block as it was read before, or read now."""
    if len(text) > LONGEST:
        return _read(text, file, above, run)
    return (_kept_long if len(text) > LONG else _kept_short)(text, file, above, run)


def _read(text: str, file: str, above: int, run: Run) -> _Block | None:
    """A block with so many lines above it; None where something is wrong with it, or it is more than one key."""
    block = _kept_at_top(text, file, run) if len(text) <= LONG else _at_top(text, file, run)
    return block._replace(branch=lower(block.branch, above)) if block is not None and above else block


def _at_top(text: str, file: str, run: Run) -> _Block | None:
    """A block as if it stood first: what stands above it may grow without its being scanned again."""
    builder = Builder(file, [])
    events: list[Event] = []
    run(builder, text, events)
    if builder.faults or builder.broken:
        return None
    root, spot = builder.finished_root(), spots_of(tuple(events), text)
    if spot is None or len(root.items) != 1 or builder.faults:
        return None
    return _Block(root, builder.nodes, spot)


_kept_short = lru_cache(maxsize=KEPT)(_read)
_kept_long = lru_cache(maxsize=KEPT_LONG)(_read)
_kept_at_top = lru_cache(maxsize=KEPT)(_at_top)
