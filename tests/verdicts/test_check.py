"""A margin against its uncertainty: bands that leave nothing out and never overlap."""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from onedatum.verdicts import Check, Effect, Finding, Knowledge, Limit, Verdict, check, gravest

LIMIT = Limit("1850 mm", "level_now", "2900 mm", "overfill.CH", "at most")
MARGINS = st.floats(-1e6, 1e6)
SPREADS = st.floats(0.0, 1e5)


def judged(margin: float | None, spread: float | None, safety: bool = False) -> Check:
    """The check of a margin."""
    return check("level below CH", LIMIT, margin, standard_uncertainty=spread, safety=safety)


def bands(margin: float, spread: float) -> list[Verdict]:
    """Every band the margin lies in, each asked by itself: the margin as far off as two standard uncertainties."""
    best, worst = margin + 2.0 * spread, margin - 2.0 * spread
    return [
        verdict
        for verdict, holds in (
            (Verdict.SUITS, worst >= 0.0),
            (Verdict.UNDECIDED, worst < 0.0 <= best),
            (Verdict.DOES_NOT_SUIT, best < 0.0),
        )
        if holds
    ]


@given(MARGINS, SPREADS)
def test_one_band_holds_each_margin(margin: float, spread: float) -> None:
    """Value and limit apart by more than twice the uncertainty of their difference, or undecided (k = 2)."""
    assert bands(margin, spread) == [judged(margin, spread).verdict]


@pytest.mark.parametrize("spread", [0.0, 0.5, 3.0])
def test_a_sweep_passes_the_bands_in_order_and_each_but_once(spread: float) -> None:
    sweep = np.linspace(-4.0 * spread - 1.0, 4.0 * spread + 1.0, 801)
    found = [judged(float(margin), spread).verdict for margin in sweep]
    changes = [found[0], *(new for old, new in pairwise(found) if new is not old)]
    middle = [Verdict.UNDECIDED] if spread else []
    assert changes == [Verdict.DOES_NOT_SUIT, *middle, Verdict.SUITS]


@pytest.mark.parametrize(
    ("margin", "verdict"),
    [
        (1.0, Verdict.SUITS),
        (np.nextafter(1.0, 0.0), Verdict.UNDECIDED),
        (0.0, Verdict.UNDECIDED),
        (-1.0, Verdict.UNDECIDED),
        (np.nextafter(-1.0, -2.0), Verdict.DOES_NOT_SUIT),
    ],
)
def test_the_ends_of_the_bands(margin: float, verdict: Verdict) -> None:
    found = judged(float(margin), 0.5)
    assert found.verdict is verdict
    assert ("k = 2" in found.reason) == (verdict is Verdict.UNDECIDED)


@given(MARGINS, SPREADS)
def test_a_limit_of_safety_is_passed_or_not(margin: float, spread: float) -> None:
    """Overlap is not passed; everything else is judged as for any limit."""
    plain, safe = judged(margin, spread), judged(margin, spread, safety=True)
    assert safe.safety and not plain.safety
    if plain.verdict is Verdict.UNDECIDED:
        assert safe.verdict is Verdict.DOES_NOT_SUIT
        assert "not passed" in safe.reason
    else:
        assert safe.verdict is plain.verdict


@given(MARGINS, SPREADS, st.floats(0.0, 1e5), st.booleans())
def test_a_larger_margin_is_never_judged_worse(margin: float, spread: float, more: float, safety: bool) -> None:
    assert judged(margin + more, spread, safety).verdict.gravity <= judged(margin, spread, safety).verdict.gravity


@given(MARGINS, st.booleans())
def test_without_an_uncertainty_the_bare_margin_decides_and_that_is_said(margin: float, safety: bool) -> None:
    found = judged(margin, None, safety)
    assert found.verdict is (Verdict.SUITS if margin >= 0 else Verdict.DOES_NOT_SUIT)
    assert not found.uncertainty_stated
    assert judged(margin, 0.0, safety).uncertainty_stated


@pytest.mark.parametrize(("margin", "spread"), [(math.nan, 1.0), (math.nan, None), (1.0, math.nan)])
def test_what_is_not_a_number_never_suits(margin: float, spread: float | None) -> None:
    assert judged(margin, spread).verdict is not Verdict.SUITS
    assert judged(margin, spread, safety=True).verdict is Verdict.DOES_NOT_SUIT


@pytest.mark.parametrize(
    ("knowledge", "verdict"),
    [
        (Knowledge.ASK, Verdict.UNDECIDED),
        (Knowledge.KNOWN, Verdict.UNDECIDED),
        (Knowledge.OURS, Verdict.ON_CONDITIONS),
    ],
)
@pytest.mark.parametrize("safety", [True, False])
def test_a_missing_number_waits_for_what_is_named(knowledge: Knowledge, verdict: Verdict, safety: bool) -> None:
    """Who can know it was not said: then it is asked, which never hides an open question."""
    found = check("t", LIMIT, None, safety=safety, waits_for=("medium.density",), knowledge=knowledge)
    assert (found.verdict, found.waits_for, found.reason) == (verdict, ("medium.density",), "a number is missing")


def test_title_and_numbers_are_carried_through() -> None:
    found = judged(1.0, 0.1)
    assert (found.title, found.limit) == ("level below CH", LIMIT)


@given(st.lists(st.sampled_from(Effect), max_size=12))
def test_the_gravest_findings_come_first_and_keep_their_order(effects: list[Effect]) -> None:
    findings = [Finding(str(number), "title", effect, ()) for number, effect in enumerate(effects)]
    order = [Effect.BLOCKS, Effect.WARNING, Effect.HOLDS]
    assert gravest(findings) == [each for effect in order for each in findings if each.effect is effect]
    assert [int(each.key) for each in findings] == list(range(len(effects)))
