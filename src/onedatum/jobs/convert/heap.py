"""Memory of one batch for the next, without the system in between.

The C library gives large blocks back to the system and asks for them again, and the system fills every page with
zeros: a twentieth of the time of a conversion. It keeps blocks up to the size of the largest that was freed so far, of
32 MB at most (glibc, mallopt(3), M_MMAP_THRESHOLD). Elsewhere this changes nothing.
"""

from __future__ import annotations

from functools import cache

import numpy as np

LARGEST = (32 << 20) - (64 << 10)


@cache
def keep_what_is_freed() -> None:
    """From now on keep what this process frees; of the block that says so no page is touched."""
    np.empty(LARGEST, dtype=np.uint8)
