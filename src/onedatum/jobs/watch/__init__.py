"""Watching tags live: plan and cases together, samples into parts on the disk, what a terminal is shown.

`ready` says whether the libraries are there; the other modules of this room load them. Nothing here writes to a device.
"""

from __future__ import annotations

from importlib.util import find_spec

from onedatum.foundation.errors import Fault

NEEDED = {
    "pyarrow": "rows are kept with it",
    "pymodbus": "registers are read with it",
    "asyncua": "OPC UA is read with it",
    "serial": "serial lines are read with it",
}
CAUTION = (
    "This display is no alarm and no protective system: it may stand still, be late or be wrong. Alarms and trips "
    "belong to their own certified circuit, and what is done at a tank is decided by those who answer for it."
)


def ready() -> Fault | None:
    """None where the extra is installed; else what to install."""
    lacking = next((name for name in NEEDED if find_spec(name) is None), None)
    if lacking is None:
        return None
    why = f"{lacking} is missing: {NEEDED[lacking]}"
    remedy = 'Install it from the folder of the project: pip install ".[live]"'
    return Fault("the extra live", "installed", "an installation without it", why, remedy=remedy)
