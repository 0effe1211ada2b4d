"""The papers of a case, written once for all tests that only read them."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from pathlib import Path

import pytest

from onedatum.jobs.document import document

Papers = Callable[[Path], tuple[Path, ...]]
"""The files of the papers of a case."""


@pytest.fixture(scope="session")
def papers(tmp_path_factory: pytest.TempPathFactory) -> Papers:
    """Whole papers take seconds to typeset: they are written once by each worker that reads them."""

    @cache
    def written(case: Path) -> tuple[Path, ...]:
        return document(case, tmp_path_factory.mktemp("papers")).files

    return written
