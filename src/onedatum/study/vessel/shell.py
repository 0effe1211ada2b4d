"""The shell of a cylinder: its diameter inside and outside, its length."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from onedatum.case.model.vessel import Head, Vessel
from onedatum.foundation.working import Entry
from onedatum.physics.vessels import inside_diameter_m, outside_diameter_m, shell_with_flanges_m
from onedatum.study.desk import Desk

BARE = "vessel.bare"
"""The entry of the vessel without what is in it."""


@dataclass(frozen=True)
class Shell:
    """The inside diameter, and the ways to the outside one."""

    diameter: Entry
    stated: Vessel

    def wall(self, desk: Desk) -> Entry:
        """Thickness of the wall."""
        return desk.take(self.stated.wall, "mm", none=0.0)

    def lining(self, desk: Desk) -> Entry:
        """Thickness of the lining; where none is spoken of there is none, and that is said."""
        return desk.absent(self.stated.lining, "no lining is stated", "mm")

    def outside(self, desk: Desk) -> Entry:
        """The outside diameter: as stated, else from the inside one."""
        if self.stated.outside_diameter.known or "vessel.outside_diameter" in desk.sheet:
            return desk.take(self.stated.outside_diameter, "mm")
        return desk.calc(
            "vessel.outside_diameter",
            outside_diameter_m,
            shown="mm",
            diameter_m=self.diameter,
            wall_m=self.wall(desk),
            lining_m=self.lining(desk),
        )


def shell_of(desk: Desk) -> Shell:
    """The shell by its inside diameter, or by its outside one less wall and lining."""
    vessel = desk.case.vessel
    if vessel.inside_diameter.known or not vessel.outside_diameter.known:
        return Shell(desk.take(vessel.inside_diameter, "mm"), vessel)
    bare = Shell(desk.take(vessel.outside_diameter, "mm"), vessel)
    inside = desk.calc(
        "vessel.inside_diameter",
        inside_diameter_m,
        shown="mm",
        outside_diameter_m=bare.diameter,
        wall_m=bare.wall(desk),
        lining_m=bare.lining(desk),
    )
    return Shell(inside, vessel)


def length_of(desk: Desk, heads: Sequence[Head]) -> Entry:
    """The length of the cylinder: between the tangent lines, with straight flanges that it does not count."""
    length = desk.take(desk.case.vessel.shell_length, "mm")
    if not any(head.straight_flange.known for head in heads):
        return length
    first, last = (desk.absent(head.straight_flange, "the shell length counts it", "mm") for head in heads)
    return desk.calc(
        "vessel.cylinder_length",
        shell_with_flanges_m,
        shown="mm",
        shell_length_m=length,
        first_flange_m=first,
        last_flange_m=last,
    )
