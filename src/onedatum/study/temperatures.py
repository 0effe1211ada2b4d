"""Every temperature the instrument sees while it is fitted: of each state, with both ends of a range."""

from __future__ import annotations

from onedatum.case.leaf import Value
from onedatum.case.model.liquid import ISOLATED, REMOVED
from onedatum.foundation.working import Entry
from onedatum.study.desk import Desk


def fitted_temperatures(desk: Desk) -> tuple[Entry, ...]:
    """Stated temperatures and their ends, whether or not a density is worked at them."""
    medium, found = desk.case.medium.temperature, dict[str, Entry]()
    fitted = [each for each in desk.case.states if each.instrument.word not in (REMOVED, ISOLATED)]
    stands_in = [each.medium.kind.state != "unknown" for each in fitted]
    leaves = [
        each.medium.temperature if other or each.medium.temperature.state != "unknown" else medium
        for each, other in zip(fitted, stands_in, strict=True)
    ]
    for leaf in leaves or [medium]:
        for entry in _with_ends(desk, leaf):
            found[entry.name] = entry
    return tuple(found.values())


def _with_ends(desk: Desk, leaf: Value) -> list[Entry]:
    found = [desk.take(leaf)]
    for which, end, stated in (("low", "min", leaf.low), ("high", "max", leaf.high)):
        if stated is not None:
            path = f"{leaf.path}.{end}"
            put = next((entry for entry in desk.sheet.entries.values() if entry.path == path), None)
            found.append(put or desk.end(leaf, which, f"{leaf.path}, {end}"))
    return found
