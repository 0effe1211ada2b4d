"""Which cases a path names: one file, or the cases of a folder."""

from __future__ import annotations

from pathlib import Path


def cases_of(path: Path) -> list[Path]:
    """The file itself, or every case file of a folder in the order of their names.

    A folder may also hold own data files; a case is known by its key `onedatum`.
    """
    if not path.is_dir():
        return [path]
    files = sorted([*path.glob("*.yaml"), *path.glob("*.yml")])
    return [file for file in files if file.is_file() and _is_case(file)]


def left_out(path: Path) -> list[Path]:
    """The YAML files of a folder that are no cases."""
    if not path.is_dir():
        return []
    return [file for file in sorted([*path.glob("*.yaml"), *path.glob("*.yml")]) if not _is_case(file)]


def _is_case(file: Path) -> bool:
    try:
        with file.open(encoding="utf-8", errors="replace") as lines:
            return any(line.startswith("onedatum:") for line, _ in zip(lines, range(1000), strict=False))
    except OSError:
        return True
