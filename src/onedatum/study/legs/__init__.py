"""The legs of a pressure transmitter: what stands in them, its range, what changes of them make of the level."""

from onedatum.study.legs.chapter import LegsChapter, Row, has_legs, legs_chapter
from onedatum.study.legs.findings import legs_findings
from onedatum.study.legs.pressures import level_of, pressure_rows_of_legs
from onedatum.study.legs.what_if import WhatIf, what_ifs, within_allowed

__all__ = [
    "LegsChapter",
    "Row",
    "WhatIf",
    "has_legs",
    "legs_chapter",
    "legs_findings",
    "level_of",
    "pressure_rows_of_legs",
    "what_ifs",
    "within_allowed",
]
