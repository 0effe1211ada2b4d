"""Reading a case file: every fault in one pass, and the healthy part of the statement as a case."""

from __future__ import annotations

import os
from dataclasses import dataclass
from pathlib import Path

from onedatum.case.checks import contradictions
from onedatum.case.model import Case
from onedatum.case.own_data import OwnData
from onedatum.case.reader import Absent, Notes
from onedatum.case.states import told_apart
from onedatum.case.table_file import TableFile, read_table
from onedatum.case.tree import Branch, Tree, parse_text, read_tree
from onedatum.foundation.errors import Fault

VERSION = "1"


@dataclass(frozen=True)
class Statement:
    """What was read: the case, what is wrong with it, and the text it rests on."""

    case: Case
    faults: tuple[Fault, ...]
    file: str
    content_hash: str
    """SHA-256 over the case file and the own data files it takes in."""
    own_files: tuple[str, ...] = ()
    table: TableFile | None = None
    """The tank table the case brings along, where it could be read."""


def read_case(path: str | os.PathLike[str]) -> Statement:
    """Read a case file; what is wrong with it stands in `faults` and leaves the value unknown.

    Raises nothing for a user's file: a file that cannot be read at all gives an empty case with its fault.
    """
    return read_case_tree(read_tree(path), Path(path).parent)


def read_case_text(text: str | bytes, file_name: str = "<text>", folder: str | os.PathLike[str] = ".") -> Statement:
    """Read a case from its text; own data files are looked for in `folder`."""
    return read_case_tree(parse_text(text, file_name), Path(folder))


def read_case_tree(tree: Tree, folder: Path) -> Statement:
    """Read a case from its tree; own data files are looked for in `folder`."""
    notes = Notes()
    own = OwnData(folder, notes)
    root = own.taken_in(tree.root)
    empty = not isinstance(root, Branch) or not root.items
    case = Case.model_validate(Absent("") if empty else root, context=notes)
    states, alike = told_apart(case.states)
    case = case.model_copy(update={"states": states})
    table = read_table(case.table.read_from, folder, notes, own.files)
    version = [] if empty or tree.broken else _version(case)
    faults = [*tree.faults, *notes.faults, *version, *alike, *contradictions(case)]
    if empty and not tree.faults:
        faults.append(Fault(tree.file, "a case, starting with onedatum: 1", "an empty file"))
    return Statement(
        case, tuple(dict.fromkeys(faults)), tree.file, tree.content_hash(own.files), tuple(own.files), table
    )


def _version(case: Case) -> list[Fault]:
    stated = case.onedatum
    if stated.state not in ("unknown", "none"):
        return []
    got, why = stated.text or "nothing", "the version of the form of the case"
    return [Fault(stated.path, f"stated, as onedatum: {VERSION}", got, why, stated.place)]
