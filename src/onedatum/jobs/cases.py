"""Which cases a path names: one file, or the cases of a folder."""

from __future__ import annotations

from pathlib import Path


def cases_of(path: Path) -> list[Path]:
    """The file itself, or every case file of a folder in the order of their names.

    A folder may also hold own data files; a case is known by its key `onedatum`.
    """
    return [file for file in _yaml_files(path) if _is_case(file)] if path.is_dir() else [path]


def left_out(path: Path) -> list[Path]:
    """The YAML files of a folder that are no cases."""
    return [file for file in _yaml_files(path) if not _is_case(file)] if path.is_dir() else []


def _yaml_files(folder: Path) -> list[Path]:
    """In the order of their names; pipes and folders are no files, and what is hidden is no case."""
    found = sorted([*folder.glob("*.yaml"), *folder.glob("*.yml")])
    return [file for file in found if not file.name.startswith(".") and file.is_file()]


def _is_case(file: Path) -> bool:
    try:
        with file.open(encoding="utf-8", errors="replace") as lines:
            return any(line.startswith("onedatum:") for line, _ in zip(lines, range(1000), strict=False))
    except OSError:
        return True
