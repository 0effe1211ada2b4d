"""Cylinders with ends drawn at random, for what must hold for every vessel."""

from __future__ import annotations

from hypothesis import strategies as st

from onedatum.physics.vessels import End, conical_end, ellipsoidal_end, flat_end, torispherical_end


@st.composite
def ends(draw: st.DrawFn, diameter: float) -> End:
    """An end of any form and depth on a shell of this diameter, from nearly flat to a spire."""
    form = draw(st.sampled_from(["flat", "cone", "ellipsoid", "torisphere"]))
    if form == "flat":
        return flat_end(diameter)
    if form == "torisphere":
        crown = diameter * draw(st.floats(0.5, 10.0))
        return torispherical_end(diameter, crown, draw(st.floats(0.0, 0.5)) * diameter)
    depth = diameter * draw(st.floats(0.01, 2.0))
    return (conical_end if form == "cone" else ellipsoidal_end)(diameter, depth)


@st.composite
def cylinders(draw: st.DrawFn) -> tuple[float, End, End]:
    """Length of the shell and two ends."""
    diameter = draw(st.floats(0.1, 10.0))
    return draw(st.floats(0.1, 5.0)) * diameter, draw(ends(diameter)), draw(ends(diameter))
