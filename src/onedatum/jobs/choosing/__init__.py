"""The sheets of choosing, from a study: selection, questions to the customer, order."""

from onedatum.jobs.choosing.order import measuring_lines, order_blocks, order_sheet
from onedatum.jobs.choosing.questions import question_sheet
from onedatum.jobs.choosing.selection import selection_sheet

__all__ = ["measuring_lines", "order_blocks", "order_sheet", "question_sheet", "selection_sheet"]
