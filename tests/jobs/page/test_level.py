"""The level field without JavaScript: any scale, any mark, and one sentence for what is neither."""

from __future__ import annotations

from functools import cache

import pytest

from onedatum.foundation.errors import Fault
from onedatum.jobs.page.level import level_of
from onedatum.jobs.page.see import SeeView, see_view
from tests.closeness import close
from tests.study.variants import study_with


@cache
def view() -> SeeView:
    return see_view(study_with(), 680, 642)


def found(text: str) -> float | Fault:
    return level_of(text, view().scales, {mark.name: mark.height_m for mark in view().marks})


@pytest.mark.parametrize(
    ("text", "level_mm", "digit_mm"),
    [
        ("1850 mm", 1850.0, 1e-6),
        ("1.85 m", 1850.0, 1e-6),
        ("72.83 in", 1849.882, 1e-6),  # 25.4 mm to the inch, exactly
        ("14.370 mA", 1849.9375, 1e-6),  # 100 + 2700*(14.370 - 4)/16
        ("14.370 ma", 1849.9375, 1e-6),
        ("143.70 mV", 1849.9375, 1e-6),  # on 10 ohm
        ("0.1437 V", 1849.9375, 1e-6),
        ("2393.8 L", 1850.0, 0.05),  # the pure alcohol of the example at 1850 mm
        ("3.5016 m3", 1850.0, 0.05),  # its volume there, OIML R 22 and closed forms of the heads: tests of the study
        ("HH", 2717.3, 0.05),
        ("ch critical", 2900.0, 1e-6),
        ("LRV", 100.0, 1e-6),
        ("datum", 0.0, 1e-6),
    ],
)
def test_any_scale_and_any_mark_gives_the_level(text: str, level_mm: float, digit_mm: float) -> None:
    level = found(text)
    assert isinstance(level, float)
    assert abs(level * 1000 - level_mm) <= digit_mm


def test_half_of_the_last_digit_is_granted_at_the_ends() -> None:
    """The end of the loop reads 19.413 mA; what is read can be typed."""
    level = found("19.413 mA")
    assert isinstance(level, float)
    assert close(level, 2.70086, 2e-4, "half a digit of 0.001 mA is 0.08 mm")


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("", "neither a number"),
        ("12", "neither a number"),
        ("14,37 mA", "no scale here is read in ,37 mA"),
        ("12 furlong", "no scale here is read in furlong"),
        ("20 mA", "3.800 to 19.413 mA; no reliable signal above 19.41"),
        ("3 mA", "3.800 to 19.413 mA; signal ends at 3.80"),
        ("-5 mm", "0 to 3020 mm"),
        ("1" * 400 + " mm", "neither a number"),
        ("<script>alert(1)</script>", "neither a number"),
        ("nan mm", "neither a number"),
    ],
)
def test_what_stands_for_no_level_is_told_in_one_sentence(text: str, why: str) -> None:
    fault = found(text)
    assert isinstance(fault, Fault)
    assert fault.sentence().startswith(
        'level must be a reading on a scale or the name of a mark, for example "1850 mm"'
    )
    assert why.lower() in fault.sentence().lower()
