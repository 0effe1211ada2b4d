"""The exact probability of failure on demand of a group of equal channels: a Markov model in phases.

Between two proof tests the channels fail and are repaired at constant rates. A test or a renewal moves the group in
an instant: what it finds goes into repair. The group is followed from renewal to renewal, in the state in which a
renewal begins as the last one began, and the time it is down is integrated along the way.

Each channel is up, or detected (found by the diagnostics), hidden (for the proof test to find), concealed (for the
renewal alone) or found (in repair after a test). A failure of common cause strikes every channel that is up. Each
failed channel is repaired by itself: after a failure of common cause 1oo2 serves again with the first one repaired,
where the equations of IEC 61508-6 count the mean time of one repair. In all comparisons made they lie above the model.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import combinations_with_replacement
from math import ceil, factorial, isclose, log2

import numpy as np

from onedatum.foundation.errors import QuantityError
from onedatum.foundation.numerics import Reals
from onedatum.physics.overfill.integrity import architecture_of

_State = tuple[str, ...]
_ORDER = ("up", "detected", "hidden", "concealed", "found")
_TERMS = 24
"""Of the series of exp for at most 1: what is left out is below the rounding."""


@dataclass(frozen=True)
class _Move:
    """From one condition of a channel into another."""

    start: str
    end: str
    rate_per_s: float


@dataclass(frozen=True)
class _Group:
    """The states of a group, how it moves between them, and what a test makes of each condition."""

    needed: int
    states: tuple[_State, ...]
    singles: tuple[_Move, ...]
    commons: tuple[_Move, ...]
    test: dict[str, str]
    renewal: dict[str, str]


MOST_INTERVALS = 10_000
"""Proof tests until renewal; a test every day for 27 years has no more."""


def pfd_by_markov(
    architecture: str,
    dangerous_rate_per_s: float,
    diagnostic_coverage: float,
    beta: float,
    beta_detected: float,
    test_coverage: float,
    proof_interval_s: float,
    renewal_interval_s: float,
    repair_time_s: float,
    restoration_time_s: float,
) -> float:
    """Average probability of failure on demand of a group of equal channels, without approximation.

    Formula
    -------
    PFD = mean over T_2 of p(t)*d; dp/dt = p*Q between the tests, p -> p*P at each; p after T_2 as at the start

    Parameters
    ----------
    architecture : str
        "1oo1", "1oo2", "2oo2", "2oo3"
    dangerous_rate_per_s : float
        lambda_D, rate of dangerous failures of one channel [1/s]
    diagnostic_coverage : float
        DC, share of the dangerous failures that the diagnostics find [1]
    beta, beta_detected : float
        shares of the undetected and of the detected failures that strike all channels at once [1]
    test_coverage : float
        c, share of the undetected failures that the proof test finds [1]
    proof_interval_s, renewal_interval_s : float
        T_1 and T_2; with c = 1 the renewal makes no difference and T_2 is not looked at [s]
    repair_time_s, restoration_time_s : float
        MRT and MTTR, mean times until a failure found by a test, or by the diagnostics, is repaired; 0 for at once [s]

    Returns
    -------
    float
        PFD [1]

    Validity
    --------
    constant rates; T_2 a whole multiple of T_1 (at most 10,000), or it is refused; every failed channel is repaired by
    itself; tests take no time; exact to about 1e-12 of the value

    Source
    ------
    Derived from geometry or first principles, Markov chain in continuous time [derived and checked]

    Example
    -------
    >>> round(pfd_by_markov("1oo1", 2e-7 / 3600, 0.0, 0.0, 0.0, 1.0, 8760 * 3600.0, 8760 * 3600.0, 0.0, 0.0), 11)
    0.00087548864
    """
    kept = architecture_of(architecture)
    intervals = _intervals(test_coverage, proof_interval_s, renewal_interval_s)
    detected_per_s = dangerous_rate_per_s * diagnostic_coverage * (restoration_time_s > 0.0)
    undetected_per_s = dangerous_rate_per_s * (1.0 - diagnostic_coverage)
    failures = (
        ("detected", detected_per_s, beta_detected),
        ("hidden", undetected_per_s * test_coverage, beta),
        ("concealed", undetected_per_s * (1.0 - test_coverage), beta),
    )
    after_test = "found" if repair_time_s > 0.0 else "up"
    repairs = [("detected", restoration_time_s), ("found", repair_time_s)]
    singles = [_Move("up", end, rate_per_s * (1.0 - common)) for end, rate_per_s, common in failures]
    singles += [_Move(start, "up", 1.0 / time_s) for start, time_s in repairs if time_s > 0.0]
    commons = [_Move("up", end, rate_per_s * common) for end, rate_per_s, common in failures]
    reached = {"up", *([after_test] if undetected_per_s > 0.0 else [])}
    reached |= {end for end, rate_per_s, _ in failures if rate_per_s > 0.0}
    group = _Group(
        needed=kept.needed,
        states=tuple(combinations_with_replacement([word for word in _ORDER if word in reached], kept.channels)),
        singles=tuple(move for move in singles if move.start in reached and move.rate_per_s > 0.0),
        commons=tuple(move for move in commons if move.rate_per_s > 0.0),
        test={"hidden": after_test},
        renewal={"hidden": after_test, "concealed": after_test},
    )
    return _mean_down(group, proof_interval_s, intervals)


def _intervals(test_coverage: float, proof_interval_s: float, renewal_interval_s: float) -> int:
    """How many proof test intervals go into one renewal; 1 where the test leaves nothing for it."""
    if test_coverage == 1.0:
        return 1
    ratio = renewal_interval_s / proof_interval_s
    if round(ratio) < 1 or not isclose(ratio, round(ratio), rel_tol=1e-9):
        raise QuantityError(
            "a whole multiple of the proof test interval",
            f"{ratio:g} of it",
            "The phases of the model are whole proof test intervals",
        )
    if ratio > MOST_INTERVALS:
        raise QuantityError(
            f"at most {MOST_INTERVALS} proof test intervals", f"{ratio:g} of them", "No part is tested so often"
        )
    return round(ratio)


def _mean_down(group: _Group, interval_s: float, intervals: int) -> float:
    """Share of the time that a group is down, in the state that repeats from renewal to renewal."""
    down = np.array([float(state.count("up") < group.needed) for state in group.states])
    within, share = _interval(_generator_per_s(group), down, interval_s)
    tested, renewed = within @ _instant(group, group.test), within @ _instant(group, group.renewal)
    state = _repeated(np.linalg.matrix_power(tested, intervals - 1) @ renewed)
    total = 0.0
    for _ in range(intervals):
        total += float(state @ share)
        state = state @ tested
    return total / intervals


def _generator_per_s(group: _Group) -> Reals:
    """Rates from each state into each other one, less on the diagonal what leaves it."""
    place = {state: number for number, state in enumerate(group.states)}
    rates_per_s = np.zeros((len(place), len(place)))
    for state, number in place.items():
        for move in group.singles:
            if move.start in state:
                left = list(state)
                left[left.index(move.start)] = move.end
                rates_per_s[number, place[_ordered(left)]] += state.count(move.start) * move.rate_per_s
        for move in group.commons:
            if move.start in state:
                struck = [move.end if word == move.start else word for word in state]
                rates_per_s[number, place[_ordered(struck)]] += move.rate_per_s
    rates_per_s[np.diag_indices(len(place))] = -rates_per_s.sum(axis=1)
    return rates_per_s


def _instant(group: _Group, change: dict[str, str]) -> Reals:
    """What a test makes of each state, as a matrix of ones and noughts."""
    place = {state: number for number, state in enumerate(group.states)}
    matrix = np.zeros((len(place), len(place)))
    for state, number in place.items():
        matrix[number, place[_ordered([change.get(word, word) for word in state])]] = 1.0
    return matrix


def _ordered(words: list[str]) -> _State:
    return tuple(sorted(words, key=_ORDER.index))


def _interval(rates_per_s: Reals, share: Reals, time_s: float) -> tuple[Reals, Reals]:
    """exp(Q*t), and the mean of exp(Q*s)*share over s from 0 to t, by scaling and squaring.

    Q is raised to no negative element first, so that nothing cancels; what leaves a state is kept at 1 throughout, so
    that rounding does not grow with the squarings.
    """
    count = len(share)
    fastest_per_s = float(np.max(-np.diag(rates_per_s)))
    halvings = max(0, ceil(log2(fastest_per_s * time_s))) if fastest_per_s > 0.0 else 0
    step_s = time_s / 2**halvings
    raised = np.zeros((count + 1, count + 1))
    raised[:count, :count] = rates_per_s * step_s
    raised[:count, count] = share
    raised += np.eye(count + 1) * (fastest_per_s * step_s)
    term: Reals = np.eye(count + 1)
    total: Reals = term
    for power in range(1, _TERMS):
        term = term @ raised
        total = total + term / factorial(power)
    leaving = total[:count, :count].sum(axis=1)
    within, mean = total[:count, :count] / leaving[:, None], total[:count, count] / leaving
    for _ in range(halvings):
        mean = (mean + within @ mean) / 2
        within = within @ within
        within = within / within.sum(axis=1)[:, None]
    return within, mean


def _repeated(matrix: Reals) -> Reals:
    """The shares of the states that a whole cycle leaves as they are.

    States are taken out one by one, the last first, by additions alone (Grassmann, Taksar, Heyman): rare states keep
    their digits.
    """
    left = matrix.copy()
    shares = np.zeros(len(left))
    shares[0] = 1.0
    for last in range(len(left) - 1, 0, -1):
        left[:last, last] /= left[last, :last].sum()
        left[:last, :last] += np.outer(left[:last, last], left[last, :last])
    for number in range(1, len(left)):
        shares[number] = shares[:number] @ left[:number, number]
    return shares / float(shares.sum())
