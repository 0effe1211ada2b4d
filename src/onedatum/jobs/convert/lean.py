"""What a process that converts keeps, and what it does without."""

from __future__ import annotations

import sys
from functools import cache
from importlib.abc import MetaPathFinder

import numpy as np
import pyarrow as pa

LARGEST = (32 << 20) - (64 << 10)
UNNEEDED = "pandas"


@cache
def keep_what_is_freed() -> None:
    """From now on keep the memory that this process frees, for the next batch.

    The C library gives large blocks back to the system and asks for them again, and the system fills every page with
    zeros: a twentieth of the time of a conversion. It keeps blocks up to the size of the largest that was freed so far,
    of 32 MB at most (glibc, mallopt(3), M_MMAP_THRESHOLD); of the one freed here no page is touched. Elsewhere this
    changes nothing.
    """
    np.empty(LARGEST, dtype=np.uint8)


@cache
def leave_pandas_out() -> None:
    """In a process of our own, not to be called in one of the user: the library of columns does without pandas.

    Where pandas is installed it loads it at the first array it makes, to see whether it is given one of its series: a
    second and 60 MB for nothing. It looks once, and here it finds none.
    """
    if UNNEEDED in sys.modules:
        return
    refusing = _Refusing()
    sys.meta_path.insert(0, refusing)
    try:
        pa.array([0])
    finally:
        sys.meta_path.remove(refusing)


class _Refusing(MetaPathFinder):
    """Says of one library that it is not there."""

    def find_spec(self, name: str, *_: object) -> None:
        """Where a module lies; for all others the next is asked."""
        if name == UNNEEDED:
            raise ModuleNotFoundError(name, name=name)
