"""Work that must soon be done."""

from __future__ import annotations

import gc
import time
from collections.abc import Iterator
from contextlib import contextmanager


@contextmanager
def soon(limit_s: float) -> Iterator[None]:
    """What stands within takes less processor time; what other tests have left in memory is no part of it."""
    gc.freeze()
    try:
        start = time.process_time()
        yield
        took_s = time.process_time() - start
    finally:
        gc.unfreeze()
    assert took_s < limit_s
