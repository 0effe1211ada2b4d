"""onedatum: continuous level measurement from the enquiry to the proof.

>>> import onedatum as od                                            # doctest: +SKIP
>>> result = od.examine(od.read_case("examples/spirit_receiver.yaml"))   # doctest: +SKIP
>>> print(result.show("stem.length"))                               # doctest: +SKIP

The names below are loaded when they are first used, so that importing the package costs nothing.
"""

from __future__ import annotations

from importlib import import_module

TYPE_CHECKING = False  # as that of `typing`, whose loading would take longer than all else before Ctrl-C is heard
if TYPE_CHECKING:
    from typing import Any

    from onedatum.case.reading import Statement, read_case
    from onedatum.jobs.examine import examine
    from onedatum.study.result import Study

    __version__: str

_HOMES = {
    "Statement": "onedatum.case.reading",
    "Study": "onedatum.study.result",
    "examine": "onedatum.jobs.examine",
    "read_case": "onedatum.case.reading",
}

__all__ = ["Statement", "Study", "__version__", "examine", "read_case"]


def __getattr__(name: str) -> Any:
    """Load a public name on first use."""
    if name == "__version__":
        return import_module("onedatum.foundation.constants").VERSION
    if name in _HOMES:
        return getattr(import_module(_HOMES[name]), name)
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
