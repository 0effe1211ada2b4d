"""Study a case."""

from __future__ import annotations

import os

from onedatum.case.reading import Statement, read_case
from onedatum.study.result import Study
from onedatum.study.study import study


def examine(case: Statement | str | os.PathLike[str]) -> Study:
    """Study a case, given as read or as the path of its file."""
    return study(case if isinstance(case, Statement) else read_case(case))
