"""Study a case."""

from __future__ import annotations

import os
from typing import Any

from onedatum.case.reading import Statement, read_case
from onedatum.foundation.constants import VERSION
from onedatum.study.form import as_json
from onedatum.study.result import Study
from onedatum.study.study import study


def examine(case: Statement | str | os.PathLike[str]) -> Study:
    """Study a case, given as read or as the path of its file."""
    return study(case if isinstance(case, Statement) else read_case(case))


def examine_as_json(case: Statement | str | os.PathLike[str]) -> dict[str, Any]:
    """The study of a case in its JSON form."""
    return as_json(examine(case), VERSION)
