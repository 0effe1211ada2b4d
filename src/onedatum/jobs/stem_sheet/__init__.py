"""The sheet of stem and float: the order, the build, how the float answers, how well it reads."""

from onedatum.jobs.stem_sheet.order import order_lines
from onedatum.jobs.stem_sheet.sheet import stem_sheet

__all__ = ["order_lines", "stem_sheet"]
