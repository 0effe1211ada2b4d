"""Work that must soon be done.

A limit stands five times above what the work takes on a quiet machine at least: processor time, too, grows where other
work takes the caches.
"""

from __future__ import annotations

import gc
import time
from collections.abc import Iterator
from contextlib import contextmanager


@contextmanager
def soon(limit_s: float) -> Iterator[None]:
    """What stands within takes less processor time; what other tests have left in memory is no part of it.

    What is left stays out of sight to the end, as what the collection has loaded does: to give it back would make all
    further tests look through it for garbage.
    """
    gc.collect()
    gc.freeze()
    start = time.process_time()
    yield
    took_s = time.process_time() - start
    assert took_s < limit_s
