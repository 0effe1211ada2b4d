"""Placing labels beside marks: the least sum of squared moves that keeps order and gap, so leaders never cross."""

from collections.abc import Sequence


def place_labels(wanted: Sequence[float], gap: float, top: float, bottom: float) -> list[float]:
    """Positions for labels wanted at rising positions, at least `gap` apart, inside top and bottom where they fit.

    With z[i] = y[i] - i gap the least squares problem is isotonic regression, solved by pooling adjacent violators.
    """
    shifted = [y - i * gap for i, y in enumerate(wanted)]
    last = bottom - (len(wanted) - 1) * gap
    return [min(max(z, top), max(last, top)) + i * gap for i, z in enumerate(isotonic(shifted))]


def isotonic(values: Sequence[float]) -> list[float]:
    """The non-decreasing sequence nearest to the values in least squares."""
    blocks: list[tuple[float, int]] = []
    for value in values:
        total, count = value, 1
        while blocks and blocks[-1][0] / blocks[-1][1] > total / count:
            before, members = blocks.pop()
            total, count = total + before, count + members
        blocks.append((total, count))
    return [total / count for total, count in blocks for _ in range(count)]
