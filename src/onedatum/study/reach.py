"""What can be measured, whatever measures it: the levels between which the chapters behind may ask for one."""

from __future__ import annotations

from dataclasses import dataclass

from onedatum.foundation.working import Entry


@dataclass(frozen=True)
class Reach:
    """Levels above the datum."""

    lowest: Entry
    """In every state of the liquid itself in which the instrument is fitted."""
    highest: Entry
    now_lowest: Entry
    now_highest: Entry
    set_elsewhere: tuple[tuple[str, Entry], ...] = ()
    """States with a stand-in liquid, and by how much an instrument set in them reads low in the medium."""
