"""The model of a case, section by section.

Ranges are the limits of sense, wide enough for every plant; what a formula holds for is said by the formula. A side
says who can know a value: the customer (process) or we who choose the instrument.
"""

from onedatum.case.model.case import Case

__all__ = ["Case"]
