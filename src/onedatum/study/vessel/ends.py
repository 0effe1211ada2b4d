"""The ends of a cylinder: by a standard, by their depth, by their radii."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from onedatum.case.model.vessel import (
    ASME_FD,
    CONICAL,
    DIN_28011,
    DIN_28013,
    ELLIPSOID,
    FLAT,
    HEMISPHERE,
    OUTSIDE,
    TORISPHERE,
    TWO_TO_ONE,
    Head,
)
from onedatum.foundation.working import Entry
from onedatum.physics.vessels import (
    conical_end,
    ellipsoidal_end,
    end_volume_m3,
    flat_end,
    proportional_depth_m,
    radius_inside_wall_m,
    standard_radius_m,
    torispherical_depth_m,
    torispherical_end,
)
from onedatum.study.desk import Desk
from onedatum.study.vessel.shell import Shell

STANDARDS: Mapping[str, tuple[float, float, str]] = {
    DIN_28011: (1.0, 0.1, "din-28011"),
    DIN_28013: (0.8, 0.154, "din-28013"),
    ASME_FD: (1.0, 0.06, "asme-viii-1"),
}
"""Crown and knuckle radius as shares of the outside diameter, and the source."""
SHARES: Mapping[str, float] = {HEMISPHERE: 0.5, TWO_TO_ONE: 0.25}


@dataclass(frozen=True)
class EndOfShell:
    """An end on the sheet, and its depth."""

    end: Entry
    depth: Entry


def end_of(desk: Desk, which: str, head: Head, shell: Shell) -> EndOfShell:
    """Work one end; `which` is its name as people say it: bottom head, near end."""
    form = desk.word(head.form, f"depth and volume of the {which}")
    name = f"vessel.{which.replace(' ', '_')}"
    meaning = f"inside depth of the {which}"
    if not form:
        return _unknown(desk, name, head, meaning)
    made = _FORMS.get(form, _by_standard)(desk, name, head, shell, meaning)
    desk.calc(f"{name}.volume", end_volume_m3, shown="m3", meaning=f"inside volume of the {which}", head=made.end)
    return made


def _unknown(desk: Desk, name: str, head: Head, meaning: str) -> EndOfShell:
    path, place = head.form.path, head.form.place
    end = desk.sheet.give(name, None, "", "end of the shell", path=path, place=place)
    return EndOfShell(end, desk.sheet.give(f"{name}.depth", None, "m", meaning, path=path, place=place))


def _flat(desk: Desk, name: str, head: Head, shell: Shell, meaning: str) -> EndOfShell:
    end = desk.calc(name, flat_end, diameter_m=shell.diameter)
    note = "a flat end has no depth"
    depth = desk.sheet.give(f"{name}.depth", 0.0, "m", meaning, state="constant", shown="mm", note=note)
    return EndOfShell(end, depth)


def _by_depth(desk: Desk, name: str, head: Head, shell: Shell, meaning: str) -> EndOfShell:
    depth = desk.take(head.depth, "mm")
    make: Callable[..., object] = conical_end if head.form.word == CONICAL else ellipsoidal_end
    return EndOfShell(desk.calc(name, make, shown="mm", diameter_m=shell.diameter, depth_m=depth), depth)


def _by_share(desk: Desk, name: str, head: Head, shell: Shell, meaning: str) -> EndOfShell:
    share = desk.sheet.give(
        f"{name}.depth_share",
        SHARES[head.form.word],
        "",
        "depth over diameter",
        state="constant",
        source="derived",
        note=head.form.word,
    )
    depth = desk.calc(
        f"{name}.depth", proportional_depth_m, shown="mm", meaning=meaning, share=share, diameter_m=shell.diameter
    )
    return EndOfShell(desk.calc(name, ellipsoidal_end, shown="mm", diameter_m=shell.diameter, depth_m=depth), depth)


def _by_radii(desk: Desk, name: str, head: Head, shell: Shell, meaning: str) -> EndOfShell:
    belong_to = desk.word(head.on, "which diameter the radii of the head belong to")
    crown, knuckle = desk.take(head.crown_radius, "mm"), desk.take(head.knuckle_radius, "mm")
    if belong_to == OUTSIDE:
        crown = _inside(desk, f"{name}.inside_crown_radius", crown, shell, "inside radius of the crown")
        knuckle = _inside(desk, f"{name}.inside_knuckle_radius", knuckle, shell, "inside radius of the knuckle")
    return _torisphere(desk, name, shell, crown, knuckle, meaning)


def _by_standard(desk: Desk, name: str, head: Head, shell: Shell, meaning: str) -> EndOfShell:
    crown_share, knuckle_share, source = STANDARDS[head.form.word]
    radii = []
    for part, share in (("crown", crown_share), ("knuckle", knuckle_share)):
        factor = desk.sheet.give(
            f"{name}.{part}_factor",
            share,
            "",
            f"radius of the {part} over outside diameter",
            state="constant",
            source=source,
        )
        radii.append(
            desk.calc(
                f"{name}.inside_{part}_radius",
                standard_radius_m,
                shown="mm",
                meaning=f"inside radius of the {part}",
                factor=factor,
                outside_diameter_m=shell.outside(desk),
                lining_m=shell.lining(desk),
            )
        )
    crown, knuckle = radii
    return _torisphere(desk, name, shell, crown, knuckle, meaning)


def _torisphere(desk: Desk, name: str, shell: Shell, crown: Entry, knuckle: Entry, meaning: str) -> EndOfShell:
    measures = {"diameter_m": shell.diameter, "crown_radius_m": crown, "knuckle_radius_m": knuckle}
    depth = desk.calc(f"{name}.depth", torispherical_depth_m, shown="mm", meaning=meaning, **measures)
    return EndOfShell(desk.body(name, torispherical_end, measures), depth)


def _inside(desk: Desk, name: str, outside: Entry, shell: Shell, meaning: str) -> Entry:
    return desk.calc(
        name,
        radius_inside_wall_m,
        shown="mm",
        meaning=meaning,
        outside_radius_m=outside,
        wall_m=shell.wall(desk),
        lining_m=shell.lining(desk),
    )


_FORMS: Mapping[str, Callable[[Desk, str, Head, Shell, str], EndOfShell]] = {
    FLAT: _flat,
    HEMISPHERE: _by_share,
    TWO_TO_ONE: _by_share,
    ELLIPSOID: _by_depth,
    CONICAL: _by_depth,
    TORISPHERE: _by_radii,
}
