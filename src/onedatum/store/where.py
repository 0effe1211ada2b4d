"""Telling a URL from the path of a file, without loading a database for it."""

from __future__ import annotations

from pathlib import Path


def is_url(where: str | Path) -> bool:
    """Whether records are named by a URL; everything else is the path of a file."""
    return isinstance(where, str) and (where.startswith(("postgresql:", "postgresql+", "postgres:")) or "://" in where)
