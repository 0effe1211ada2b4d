"""A bypass chamber: what stands in it in every state, how it is set, how it follows, what the stem beside it reads."""

from onedatum.study.chamber.chapter import ChamberChapter, chamber_chapter, has_chamber
from onedatum.study.chamber.drum import pressure_rows
from onedatum.study.chamber.stem import chamber_stem

__all__ = ["ChamberChapter", "chamber_chapter", "chamber_stem", "has_chamber", "pressure_rows"]
