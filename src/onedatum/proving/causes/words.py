"""The ranking in sentences: likelihoods and what competes with them, never a cause asserted."""

from __future__ import annotations

from math import isfinite

from onedatum.foundation.units import in_unit, number
from onedatum.proving.causes.ranking import NOT_LISTED, NOTHING, Cause, Group, Ranking
from onedatum.simulate import kind

_UNITS = {"m": "mm", "A": "mA", "K": "K", "ohm": "ohm"}
_SHARES_OF_TEN = "powers of ten"
_MOST, _LEAST = 4, 0.01
"""Competing explanations that are told one by one."""
CAUTION = (
    "This ranks explanations by stated priors; it finds no cause. Before anything is opened, trimmed or re-ranged, "
    "look for yourself, and keep to the certificate, the permit to work and the rules of the plant."
)


def told(ranking: Ranking) -> tuple[str, ...]:
    """The ranking as sentences: the leading explanation, what competes, what cannot be told apart, what to measure."""
    by_key = {cause.key: cause for cause in ranking.causes}
    first, *rest = [group for group in ranking.groups if group.keys]
    lines = []
    if ranking.in_failure:
        rows = ", ".join(map(str, ranking.in_failure))
        lines.append(f"Failure information by NE 43 in row {rows}: ask the transmitter for its own diagnosis first.")
    lines.append(f"The readings agree best with: {_group(first, by_key)}.")
    kept = [group for group in rest[:_MOST] if group.probability >= _LEAST] or rest[:1]
    lines += [f"Competing: {_group(group, by_key)}." for group in kept]
    if NOTHING not in first.keys and (alike := first.left)[1:]:
        words = "; ".join(by_key[key].words for key in alike)
        lines.append(f"No reading at hand tells these apart: {words}.")
    if ranking.unseen:
        words = "; ".join(by_key[key].words for key in ranking.unseen if key in by_key)
        lines.append(f"These readings would not show: {words}.")
    if ranking.left_out:
        lines.append(f"Left out, as the case does not hold there: row {', '.join(map(str, ranking.left_out))}.")
    if ranking.known_words:
        lines.append(f"The change was understood by: {', '.join(ranking.known_words)}.")
    if not ranking.further:
        lines.append("No further measurement of the list is expected to tell more.")
    else:
        best = ranking.further[0]
        lines.append(f"Most told for the effort next: {best.words} ({number(best.bits, 2)} bit expected).")
    lines.append(f"No explanation is held likelier than {per_cent(ranking.cap)} on these readings.")
    return (*lines, CAUTION)


def _group(group: Group, by_key: dict[str, Cause]) -> str:
    """The likeliest of a group with its size, and the probability of the whole group."""
    cause = by_key[group.keys[0]]
    size = size_words(cause)
    others = len(group.left) - 1
    alike = f", or {others} more that look{'s' if others == 1 else ''} alike" if others else ""
    size = f", {size}" if size else ""
    return f"{cause.words}{size}{alike} ({per_cent(group.probability)})"


def size_words(cause: Cause) -> str:
    """How large a cause would be, with its standard uncertainty; empty where it has no size."""
    if cause.key in (NOTHING, NOT_LISTED) or not isfinite(cause.size):
        return ""
    unit = _UNITS.get(cause.suffix, "")
    if cause.key == "conductivity":
        return f"by {number(cause.size, 2)} {_SHARES_OF_TEN}"
    factor, unit = (in_unit(1.0, unit), unit) if unit else (100.0, "%")
    value, spread = number(cause.size * factor, 3), number(cause.size_u * factor, 1)
    return f"{kind(cause.key).size} {value} {unit}, standard uncertainty {spread} {unit}"


def per_cent(share: float) -> str:
    """A probability in whole per cent; nothing is certain, and nothing shut out."""
    if share > 0.99:
        return "above 99 %"
    return "below 1 %" if share < 0.01 else f"{100.0 * share:.0f} %"
