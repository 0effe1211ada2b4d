"""What can go wrong, as data: one tree of errors, one sentence for every complaint.

    OnedatumError
    ├── QuantityError      a text is not a quantity of the kind asked for
    ├── ValidityError      a formula was used outside its validity
    ├── ExpressionError    an equation text cannot be read (our own mistake)
    ├── SheetError         the working was joined wrongly (our own mistake)
    ├── CaseError          a case file cannot be used at all; carries its faults
    ├── ProvingError       a calibration cannot be planned or judged; carries its faults
    ├── LogError           a level log cannot be converted at all; carries its faults
    ├── OutputError        a result cannot be written where it was asked for
    └── StoreError         records cannot be read, written or trusted
        ├── NotRecorded    there is no such record
        └── Overtaken      another record was written after the head that was looked at

The sentence: *path* must be *allowed*; got *value*. *Why, clause.*
"""

from __future__ import annotations

import errno
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import PurePath
from typing import NamedTuple


class Place(NamedTuple):
    """Where something was stated: file, line and column, both counted from 1."""

    file: str
    line: int
    column: int

    @property
    def by_name(self) -> Place:
        """The same with the name of the file alone: a result reads the same wherever it is made."""
        return self._replace(file=PurePath(self.file).name)

    def __str__(self) -> str:
        return f"{self.file}:{self.line}:{self.column}"


def sentence(path: str, allowed: str, got: str, why: str = "", remedy: str = "") -> str:
    """The one form of every complaint made to a user."""
    head = f"{path} must be {allowed}; got {got}."
    return " ".join([head, *(f"{part[:1].upper()}{part[1:].rstrip('.')}." for part in (why, remedy) if part)])


@dataclass(frozen=True)
class Fault:
    """One thing that is wrong with what was stated, with its place and the remedy."""

    path: str
    allowed: str
    got: str
    why: str = ""
    place: Place | None = None
    remedy: str = ""
    kind: str = "statement"
    """`statement`: the input is wrong; `validity`: right in itself, but outside what a formula holds for."""

    def sentence(self) -> str:
        """The complaint as one sentence, without its place."""
        return sentence(self.path, self.allowed, self.got, self.why, self.remedy)

    def __str__(self) -> str:
        return f"{self.place}: {self.sentence()}" if self.place else self.sentence()


class OnedatumError(Exception):
    """Root of every error this package raises on purpose."""


class QuantityError(OnedatumError):
    """A text is not a quantity of the kind asked for."""

    def __init__(self, allowed: str, got: str, why: str = "", remedy: str = "") -> None:
        super().__init__(sentence("the value", allowed, got, why, remedy))
        self.allowed, self.got, self.why, self.remedy = allowed, got, why, remedy


class ValidityError(OnedatumError):
    """A formula was used outside its validity; names the parameter, the range and the value."""

    def __init__(self, formula: str, parameter: str, allowed: str, got: str, why: str = "") -> None:
        super().__init__(sentence(parameter, allowed, got, why or f"Validity of {formula}"))
        self.formula, self.parameter, self.allowed, self.got, self.why = formula, parameter, allowed, got, why


class ExpressionError(OnedatumError):
    """An equation text holds something the reader of equations does not know."""


class SheetError(OnedatumError):
    """The working was joined wrongly: a name given twice, a unit that does not fit, an input that is no entry."""


class CaseError(OnedatumError):
    """A case file cannot be used at all; `faults` says why and where."""

    def __init__(self, faults: Sequence[Fault]) -> None:
        super().__init__("\n".join(str(fault) for fault in faults))
        self.faults = tuple(faults)


class ProvingError(OnedatumError):
    """A calibration cannot be planned, read or judged; `faults` says why and where."""

    def __init__(self, faults: Sequence[Fault]) -> None:
        super().__init__("\n".join(str(fault) for fault in faults))
        self.faults = tuple(faults)


class LogError(OnedatumError):
    """A level log, or what says how to read it, cannot be used; `faults` says why and where."""

    def __init__(self, faults: Sequence[Fault]) -> None:
        super().__init__("\n".join(str(fault) for fault in faults))
        self.faults = tuple(faults)


class OutputError(OnedatumError):
    """A result cannot be written where it was asked for."""

    def __init__(self, path: str, why: str, remedy: str = "") -> None:
        super().__init__(sentence(path, "a place that can be written", "an error", why, remedy))
        self.path, self.why, self.remedy = path, why, remedy

    @classmethod
    def of(cls, path: PurePath, error: OSError) -> OutputError:
        """What the system says against writing to a path, with the remedy where there is a usual one."""
        return cls(str(path), error.strerror or str(error), _REMEDIES.get(error.errno or 0, ""))


class StoreError(OnedatumError):
    """Records cannot be read, written or trusted; nothing was written."""

    def __init__(self, path: str, allowed: str, got: str, why: str = "", remedy: str = "") -> None:
        super().__init__(sentence(path, allowed, got, why, remedy))
        self.path, self.allowed, self.got, self.why, self.remedy = path, allowed, got, why, remedy


class NotRecorded(StoreError):
    """There is no record of that number."""


class Overtaken(StoreError):
    """Another record was written after the head that was looked at; nothing was written."""


_REMEDIES = {
    **dict.fromkeys(
        (errno.EACCES, errno.EPERM, errno.EROFS), "Give the folder the right to be written, or work in a copy of it"
    ),
    **dict.fromkeys((errno.ENOSPC, errno.EDQUOT, errno.EFBIG), "Make room on the disk, then keep it again"),
    **dict.fromkeys((errno.ENOENT, errno.ENOTDIR), "Bring the folder back to its place, then keep it again"),
}
