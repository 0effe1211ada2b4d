"""Converting level logs: which cases, part by part into a folder, put together and told.

`ready` says whether the library of record batches is there; the other modules of this room load it.
"""

from __future__ import annotations

from importlib.util import find_spec

from onedatum.foundation.errors import Fault

NEEDED = "pyarrow"


def ready() -> Fault | None:
    """None where the extra is installed; else what to install."""
    if find_spec(NEEDED) is not None:
        return None
    remedy = 'Install it from the folder of the project: pip install ".[logs]"'
    return Fault(
        "the extra logs", "installed", "an installation without it", "logs are read with pyarrow", remedy=remedy
    )
