"""The sheets of a study that touch safety, as the paper room prints them."""

from onedatum.jobs.safety_sheets.sheets import safety_sheets

__all__ = ["safety_sheets"]
