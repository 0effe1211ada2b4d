"""From a file or a text to a tree; whatever they hold, the answer is a tree and its faults."""

from __future__ import annotations

import os
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

from onedatum.case.tree.blocks import read_in_blocks, traced_in_blocks
from onedatum.case.tree.build import Builder, Stop
from onedatum.case.tree.node import Branch, Tree
from onedatum.case.tree.source import Refused, check_size, decoded, display_name, read_bytes, without_invisible
from onedatum.case.tree.spots import Spot, spots_of
from onedatum.case.tree.syntax import syntax_fault, unreadable_fault
from onedatum.foundation.errors import Fault, Place

if TYPE_CHECKING:
    from collections.abc import Iterator

    from ruamel.yaml.events import Event

TEXTS_KEPT = 4
"""Texts whose trees are kept: what was edited is read next, and scanning is most of the work of both."""

_SCANNER_GIVES_UP = (ValueError, OverflowError, LookupError, TypeError, AttributeError, AssertionError, RecursionError)


@dataclass(frozen=True)
class Traced:
    """A tree, and where its nodes stand; both are kept, so nobody writes to one."""

    tree: Tree
    root: Spot | None
    """The spot of the root; None where the text breaks off or holds nothing."""


def read_tree(path: str | os.PathLike[str]) -> Tree:
    """The tree of a file; whatever is wrong with the file is in its faults."""
    file = display_name(path)
    try:
        return parse_text(read_bytes(path), file)
    except Refused as refused:
        return _empty(file, refused.fault)


def parse_text(text: str | bytes, file_name: str = "<text>") -> Tree:
    """The tree of a text, or of the bytes of a file."""
    try:
        plain, faults = decoded(text, file_name) if isinstance(text, bytes) else _sized(text, file_name)
    except Refused as refused:
        return _empty(file_name, refused.fault)
    clean, invisible = without_invisible(plain, file_name)
    told = faults or invisible
    root = None if told else read_in_blocks(clean, file_name, _run)
    return in_one_piece(plain, clean, file_name, told) if root is None else Tree(root, (), file_name, plain)


def parse_traced(text: str | bytes, file_name: str = "<text>") -> Traced:
    """The tree of a text with its spots, which count in the text without a byte order mark."""
    try:
        plain, faults = decoded(text, file_name) if isinstance(text, bytes) else _sized(text, file_name)
    except Refused as refused:
        return Traced(_empty(file_name, refused.fault), None)
    return _traced(plain, tuple(faults), file_name)


@lru_cache(maxsize=TEXTS_KEPT)
def _traced(plain: str, faults: tuple[Fault, ...], file_name: str) -> Traced:
    clean, invisible = without_invisible(plain, file_name)
    told = faults or invisible
    read = None if told else traced_in_blocks(clean, file_name, _run)
    if read is not None:
        return Traced(Tree(read[0], (), file_name, plain), read[1])
    return traced_in_one_piece(plain, clean, file_name, list(told))


def traced_in_one_piece(plain: str, clean: str, file_name: str, faults: list[Fault]) -> Traced:
    """The same of a text whatever it holds; `clean` is the text without what cannot be seen."""
    builder = Builder(file_name, faults)
    events: list[Event] = []
    _run(builder, clean, events)
    tree = _finished(builder, plain)
    return Traced(tree, None if tree.broken else spots_of(tuple(events), plain))


def in_one_piece(plain: str, clean: str, file_name: str, faults: list[Fault]) -> Tree:
    """The tree of a text whatever it holds; `clean` is the text without what cannot be seen."""
    builder = Builder(file_name, faults)
    _run(builder, clean)
    return _finished(builder, plain)


def _finished(builder: Builder, plain: str) -> Tree:
    root = builder.finished_root()
    return Tree(root, tuple(builder.faults), builder.file, plain, builder.broken)


def _run(builder: Builder, text: str, trace: list[Event] | None = None) -> None:
    """Feed the events of a text to the builder until one of them is at its end; `trace` takes those that were fed."""
    from ruamel.yaml.error import MarkedYAMLError, YAMLError

    try:
        for event in _events(text):
            builder.take(event)
            if trace is not None:
                trace.append(event)
    except Stop:
        builder.broken = True
    except (MarkedYAMLError, YAMLError) as error:
        builder.break_off(syntax_fault(error, text.split("\n"), builder.file))
    except _SCANNER_GIVES_UP:
        builder.break_off(unreadable_fault(builder.last_place))


def _events(text: str) -> Iterator[Event]:
    """The events of YAML 1.2. The pure scanner is asked for, so that places do not depend on what is installed."""
    from ruamel.yaml import YAML

    from onedatum.case.tree.scanner import QuickParser, QuickReader, QuickScanner

    yaml = YAML(typ="safe", pure=True)
    yaml.Reader, yaml.Scanner, yaml.Parser = QuickReader, QuickScanner, QuickParser
    events: Iterator[Event] = yaml.parse(text)
    return events


def _sized(text: str, file: str) -> tuple[str, list[Fault]]:
    check_size(len(text.encode("utf-8", "surrogatepass")), file)
    return text.removeprefix("\ufeff"), []


def _empty(file: str, fault: Fault) -> Tree:
    return Tree(Branch({}, Place(file, 1, 1), ""), (fault,), file, "", True)
