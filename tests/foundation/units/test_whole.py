"""A limit in whole units is never exceeded, whichever way it is rounded."""

from __future__ import annotations

import math

from hypothesis import given
from hypothesis import strategies as st

from onedatum.foundation.units import whole


@given(value=st.floats(-1e6, 1e6))
def test_whole_units_stand_on_the_side_asked_for(value: float) -> None:
    """Against floor and ceiling of the C library, for a unit whose factor is one."""
    assert whole(value, "ohm") == f"{math.floor(value)} ohm"
    assert whole(value, "ohm", up=True) == f"{math.ceil(value)} ohm"


def test_millimetres_are_counted_exactly() -> None:
    """2.818 m is 2818 mm, though 2.818 / 0.001 in binary is a little less."""
    assert whole(2.818, "mm") == "2818 mm"
    assert whole(2.8170001, "mm", up=True) == "2818 mm"
