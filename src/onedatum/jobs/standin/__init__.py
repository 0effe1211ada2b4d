"""A stand-in for a plant on this machine: tanks that run, told over three ways of the trade, for tests and training.

`tanks` makes running tanks of cases, `plan` reads which faults come when, `links` says what is wrong with a link at a
moment. `modbus`, `opc_ua` and `hart` each tell the same tanks; `gate` stands before each of them and spoils the link.
`run` holds all together, `told` says where each tag is and writes the file by which it is watched. `lacking` says
which library is not there; the modules of the servers load it when they start.

It is a simulation: its numbers prove nothing about a plant. It listens on the loopback address alone and is only read.
"""

from __future__ import annotations

from collections.abc import Iterable
from importlib.util import find_spec

from onedatum.foundation.errors import Fault

MODBUS, OPC_UA, HART = "modbus", "opc_ua", "hart"
WAYS = (MODBUS, OPC_UA, HART)
NEEDED = {MODBUS: "pymodbus", OPC_UA: "asyncua"}
LOOPBACK = "127.0.0.1"


def lacking(ways: Iterable[str]) -> Fault | None:
    """None where all that these ways need is installed; else what to install."""
    missing = [NEEDED[way] for way in ways if way in NEEDED and find_spec(NEEDED[way]) is None]
    if not missing:
        return None
    why = f"this way needs {' and '.join(missing)}; a HART byte stream alone needs neither"
    remedy = 'Install it from the folder of the project: pip install ".[live]"'
    return Fault("the extra live", "installed", "an installation without it", why, remedy=remedy)
