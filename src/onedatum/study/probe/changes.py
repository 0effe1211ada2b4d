"""What becomes of the reading when the liquid is, or becomes, another than the one the probe was set for."""

from __future__ import annotations

from dataclasses import dataclass

from onedatum.foundation.working import Entry
from onedatum.physics.capacitive import changed_slope_error_m, sensitivity_F_per_m
from onedatum.study.desk import Desk
from onedatum.study.probe.full import Full
from onedatum.study.probe.off import left_text
from onedatum.study.probe.reference import Reference, left_by
from onedatum.study.probe.regime import Liquids

TOLD_M = 5e-4
"""What moves the reading by less has no row and no finding."""


@dataclass(frozen=True)
class Change:
    """The liquid otherwise than as stated, and what that does to the highest level of the range."""

    text: str
    slope: Entry
    error: Entry
    """With a probe set by calculation, in the liquid as stated."""
    uncertain: bool = False
    """Whether the liquid is so from the start, and no change."""
    set_in_it: bool = False
    """Whether a setting at two levels, in the liquid itself, takes the error in."""
    left: Entry | None = None
    """What a reference section leaves; None without one that can be counted on."""

    @property
    def feels(self) -> bool:
        """Whether the probe feels the level then, or that is not known."""
        return self.slope.value is None or self.slope.value > 0.0

    @property
    def settled(self) -> bool:
        """Whether setting or reference section take the error off."""
        return self.set_in_it or self.left is not None

    @property
    def left_text(self) -> str:
        """What is left, as people read it: what rounding leaves is nothing."""
        return "" if self.left is None else left_text(self.left)

    @property
    def told(self) -> bool:
        """Whether it moves the reading, or that is not known."""
        return self.error.value is None or abs(self.error.value) >= TOLD_M


def changes_of(
    desk: Desk, liquids: Liquids, full: Full, reference: Reference | None, set_at_two: bool
) -> tuple[Change, ...]:
    """What each end of the liquid does to the highest level of the range."""
    return tuple(
        _changed(
            desk,
            (end.key, end.text),
            end.corner.wet,
            full,
            reference if reference is not None and reference.sound else None,
            (end.uncertain, end.uncertain and set_at_two),
        )
        for end in liquids.ends
    )


def layer_change(desk: Desk, wet: Entry | None, full: Full) -> tuple[Change, ...]:
    """A layer on the rod; a reference section is not counted on: none grows evenly."""
    if wet is None:
        return ()
    return (_changed(desk, ("probe.layer", "layer that insulates on the rod"), wet, full),)


def _changed(
    desk: Desk,
    named: tuple[str, str],
    wet: Entry,
    full: Full,
    reference: Reference | None = None,
    known: tuple[bool, bool] = (False, False),
) -> Change:
    """The slope then, what it does to the highest level of the range, and what is left of that."""
    name, text = named
    both = {"wet_F_per_m": wet, "dry_F_per_m": full.dry}
    meaning = f"change of capacitance per change of level, {text}"
    now = desk.worked(f"{name}.sensitivity", sensitivity_F_per_m, both, shown="pF/m", meaning=meaning)
    inputs = {"wetted_m": full.wetted, "now_F_per_m": now, "set_F_per_m": desk.sheet["probe.sensitivity"]}
    meaning = f"the highest level of the range reads too high by, {text}"
    slopes = (now, desk.sheet["probe.sensitivity"])
    feels = all(slope.value is None or slope.value > 0.0 for slope in slopes)
    if feels:
        error = desk.worked(f"{name}.error", changed_slope_error_m, inputs, shown="mm", meaning=meaning)
    else:
        method = "not worked: the probe does not feel the level then, or as it is set"
        error = desk.sheet.record(
            f"{name}.error", None, "m", meaning, method=method, source="derived", rests_on=list(slopes), shown="mm"
        )
    left = None if reference is None or not feels else left_by(desk, name, text, reference, wet, full)
    return Change(text, now, error, *known, left)
