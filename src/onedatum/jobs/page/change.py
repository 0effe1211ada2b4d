"""A change to a case in the folder: what can be read is kept, what cannot is told, and no edit of another is lost."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from dataclasses import asdict, dataclass, replace
from pathlib import Path
from typing import Any

from onedatum.case.beside import beside
from onedatum.case.edit import edited
from onedatum.case.form import FormField, FormSection, blank_item, fields
from onedatum.case.reading import Statement, read_case_text
from onedatum.foundation.errors import Fault
from onedatum.jobs.folder import Conflict, Folder, NotThere, differences
from onedatum.jobs.page.form import every_path
from onedatum.jobs.page.made import CaseText, sound_changes


@dataclass(frozen=True)
class Outcome:
    """What came of a change."""

    version: str
    """The version of the file now."""
    refused: Mapping[str, str | None]
    """What was typed and cannot be read, by path; it stands in no file."""
    faults: Mapping[str, Fault]
    conflict: Conflict | None = None

    def as_data(self) -> dict[str, Any]:
        """The same as data."""
        return {
            "version": self.version,
            "refused": {path: fault.sentence() for path, fault in self.faults.items()},
            "conflict": None if self.conflict is None else asdict(self.conflict),
        }


def change_case(folder: Folder, name: str, changes: Mapping[str, str | None], version: str) -> Outcome:
    """Keep the changes that can be read; `version` is the one they were made on. Raises NotThere, OutputError."""
    kept = folder.read(name)
    case = CaseText(str(folder.path), name, kept.text, kept.version)
    good, faults, _ = sound_changes(case, changes)
    if not good:
        return Outcome(kept.version, dict(changes), faults)
    made = edited(kept.text, good, f"{name}.yaml")
    faults |= {fault.path: fault for fault in made.faults}
    refused = {path: text for path, text in changes.items() if path in faults}
    saved = folder.save(name, made.text, version)
    if isinstance(saved, Conflict):
        return Outcome(kept.version, refused, faults, _since(folder, name, version, saved))
    return Outcome(saved.version, refused, faults)


def _since(folder: Folder, name: str, version: str, conflict: Conflict) -> Conflict:
    """The conflict with what others have changed since the version the edit was made on, where that is still held."""
    try:
        base = folder.version(name, version).text
    except NotThere:
        return conflict
    return replace(conflict, differences=differences(base, conflict.theirs, folder.path))


def changes_of_form(folder: Folder, name: str, texts: Mapping[str, str], version: str) -> dict[str, str | None]:
    """What of a posted form differs from the version it was made on, by path."""
    kept = folder.version(name, version)
    case = CaseText(str(folder.path), name, kept.text, kept.version)
    stood = {field.path: _said(field) for section in fields(_read(case)) for field in _fields(section, texts)}
    return {path: text.strip() or None for path, text in texts.items() if path in stood and text.strip() != stood[path]}


def _fields(section: FormSection, posted: Collection[str]) -> Iterator[FormField]:
    """Every field that a posted form may hold: what stands beside a value too, and an item that is not there yet."""
    beneath = {path.rpartition(".")[0] for path in posted}
    for field in every_path(section):
        yield field
        if field.path in beneath:
            yield from beside(field)
    for each in section.every_section():
        if each.next_path and any(path.startswith(f"{each.next_path}.") for path in posted):
            yield from blank_item(each.next_path)


def _said(field: FormField) -> str:
    """What a field of the form holds: nothing for what is unknown."""
    return "" if field.text == "unknown" else field.text


def _read(case: CaseText) -> Statement:
    return read_case_text(case.text, f"{case.name}.yaml", Path(case.folder))
