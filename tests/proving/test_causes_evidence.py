"""The sums of probability under the ranking, each against a closed form or a library that does it another way."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.integrate import quad
from scipy.stats import lognorm, multivariate_normal, norm, t

from onedatum.proving.causes import Size
from onedatum.proving.causes.evidence import _along, of_point, over_sizes
from onedatum.proving.causes.further import information_bits
from onedatum.proving.causes.model import Predicted


def linear(nodes: np.ndarray, slope: np.ndarray, covariance: np.ndarray) -> Predicted:
    """Readings in proportion to the size, with the same scatter at each."""
    return Predicted(nodes[:, None] * slope, np.broadcast_to(covariance, (len(nodes), *covariance.shape)))


@pytest.mark.parametrize("seed", range(6))
def test_a_linear_normal_cause_agrees_with_its_closed_form(seed: int) -> None:
    """y ~ N(0, C + s^2 p p'); the size by the usual weighing of prior and reading (linear regression with a prior)."""
    random = np.random.default_rng(seed)
    count, standard = 6, 0.4
    mixed = random.standard_normal((count, count))
    covariance = mixed @ mixed.T / count + 0.1 * np.eye(count)
    slope = 3.0 * random.standard_normal(count)
    values = random.standard_normal(count) + 0.3 * slope
    size = Size("normal", standard)
    nodes = size.nodes()
    found = over_sizes(values, nodes, size.masses(nodes), linear(nodes, slope, covariance))
    whole = multivariate_normal(np.zeros(count), covariance + standard**2 * np.outer(slope, slope))
    weight = slope @ np.linalg.solve(covariance, slope) + standard**-2
    expected = slope @ np.linalg.solve(covariance, values) / weight
    # The prior is taken as even between two nodes: a hundredth in the evidence, a tenth of a standard in the size.
    assert found.log_likelihood == pytest.approx(whole.logpdf(values), abs=0.03)
    assert found.size == pytest.approx(expected, abs=float(0.1 * weight**-0.5))
    assert found.size_u == pytest.approx(weight**-0.5, rel=0.1)


def test_a_reading_far_sharper_than_the_prior_is_not_missed_between_two_nodes() -> None:
    size = Size("normal", 1.0)
    nodes = size.nodes()
    found = over_sizes(np.array([0.4321]), nodes, size.masses(nodes), linear(nodes, np.ones(1), np.array([[1e-12]])))
    assert found.size == pytest.approx(0.4321, abs=1e-6)
    assert found.size_u == pytest.approx(1e-6, rel=0.01)
    assert found.log_likelihood == pytest.approx(norm.logpdf(0.4321), abs=0.05)


@pytest.mark.parametrize(
    ("a", "b", "width"), [(4.0, 1.0, 0.5), (900.0, 300.0, 1.0), (1e-14, 0.0, 2.0), (50.0, -60.0, 1.0)]
)
def test_the_integral_over_a_gap_agrees_with_quadrature(a: float, b: float, width: float) -> None:
    def density(x: float) -> float:
        return float(np.exp(-0.5 * a * x * x + b * x - 0.5 * max(b, 0.0) ** 2 / a if a > 1e-9 else 0.0))

    log_area, mean, variance = _along(np.array([a]), np.array([b]), np.array([width]))
    area = quad(density, 0.0, width, points=[min(max(b / a, 0.0), width)], epsabs=0.0)[0]
    middle = quad(lambda x: x * density(x), 0.0, width, points=[min(max(b / a, 0.0), width)], epsabs=0.0)[0] / area
    square = quad(lambda x: x * x * density(x), 0.0, width, epsabs=0.0, limit=200)[0] / area
    shift = 0.5 * max(b, 0.0) ** 2 / a if a > 1e-9 else 0.0
    assert log_area[0] == pytest.approx(np.log(area) + shift, abs=1e-6)
    assert mean[0] == pytest.approx(middle, rel=1e-5)
    assert variance[0] == pytest.approx(square - middle**2, rel=1e-3)


def test_one_size_is_the_normal_density() -> None:
    covariance = np.array([[2.0, 0.3], [0.3, 1.0]])
    values = np.array([0.7, -0.2])
    found = of_point(values, linear(np.zeros(1), np.zeros(2), covariance))
    assert found == pytest.approx(multivariate_normal(np.zeros(2), covariance).logpdf(values), abs=1e-12)


@pytest.mark.parametrize(
    ("size", "distribution"),
    [
        (Size("normal", 0.3), norm(0.0, 0.3)),
        (Size("broad", 0.3), t(2, 0.0, 0.3)),
        (Size("log-normal", 2e-4, 3.0), lognorm(np.log(3.0), 0.0, 2e-4)),
    ],
)
def test_the_masses_of_a_prior_are_those_of_its_distribution(size: Size, distribution: object) -> None:
    nodes = size.nodes()
    whole = distribution.cdf(nodes[-1]) - distribution.cdf(nodes[0])  # type: ignore[attr-defined]
    assert size.masses(nodes) == pytest.approx(np.diff(distribution.cdf(nodes)) / whole, abs=1e-12)  # type: ignore[attr-defined]
    assert size.masses(nodes).sum() == pytest.approx(1.0)


@pytest.mark.parametrize("size", [Size("half normal", 2.0), Size("half broad", 2.0), Size("even", 1.0, 3.0)])
def test_a_size_on_one_side_begins_at_its_end(size: Size) -> None:
    nodes = size.nodes()
    assert nodes[0] == (1.0 if size.form == "even" else 0.0) and (np.diff(nodes) > 0.0).all()
    assert size.masses(nodes).sum() == pytest.approx(1.0)


def test_information_of_a_binary_signal_in_noise_agrees_with_quadrature_and_its_limits() -> None:
    """Far apart 1 bit, alike none; between them 1 - E[log2(1 + exp(-2 y a))], the known form for plus or minus a."""
    even = np.array([0.5, 0.5])
    assert information_bits(even, np.array([-50.0, 50.0]), np.ones(2)) == pytest.approx(1.0, abs=1e-5)
    assert information_bits(even, np.zeros(2), np.ones(2)) == pytest.approx(0.0, abs=1e-9)
    for a in (0.5, 1.0, 2.0):
        lost = quad(lambda y, a=a: norm.pdf(y, a) * np.log2(1.0 + np.exp(-2.0 * y * a)), -12.0, 14.0)[0]
        assert information_bits(even, np.array([-a, a]), np.ones(2)) == pytest.approx(1.0 - lost, abs=1e-4)


def test_information_never_exceeds_what_is_open() -> None:
    shares = np.array([0.7, 0.2, 0.1])
    open_bits = float(-(shares * np.log2(shares)).sum())
    assert information_bits(shares, np.array([0.0, 30.0, 90.0]), np.ones(3)) == pytest.approx(open_bits, abs=1e-6)
    assert information_bits(shares, np.array([0.0, 1.0, 2.0]), np.array([1.0, 2.0, 0.1])) < open_bits
