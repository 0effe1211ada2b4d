"""What is held likely before anything is read: how often each cause is met, how large it then is, how well one reads.

The table that ships is common practice without a source; a user hands in one of his own by `read_priors`.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, fields
from math import isfinite, log
from typing import Any

import numpy as np
from scipy.special import ndtr

from onedatum.data import table
from onedatum.foundation.errors import CaseError, Fault
from onedatum.foundation.numerics import Reals
from onedatum.simulate import CHANNELS, KINDS, Instrument, Spread, kind

NORMAL, HALF, LOG_NORMAL, EVEN = "normal", "half normal", "log-normal", "even"
BROAD, HALF_BROAD = "broad", "half broad"
"""Student's distribution of two degrees of freedom: gross errors are not shut out."""
_NEEDS = {
    NORMAL: ("standard",),
    HALF: ("standard",),
    LOG_NORMAL: ("median", "factor"),
    EVEN: ("low", "high"),
    BROAD: ("scale",),
    HALF_BROAD: ("scale",),
}
_WIDE = np.array([0.02, 0.05, 0.1, 0.17, 0.25, 0.35, 0.5, 0.7, 0.9, 1.15, 1.45, 1.8, 2.3, 2.9, 3.8])
_TAIL = np.array([5.0, 7.0, 10.0, 15.0, 25.0])
_EVEN_NODES, _LOG_NODES, _HALF_NODES = 33, 25, 49
SPAN, RANGE = "span", "range"
LEAST_SPREAD = 1e-12
LEAST_CAP = 0.5
"""What is beyond a cap goes to one other group, which may then not be beyond it itself."""
MOST = 1e6
"""Of every number of a table: beyond it nothing of a tank is meant."""
MOST_TEXT = 200


@dataclass(frozen=True)
class Size:
    """How large a cause is where it is there."""

    form: str
    first: float
    """Standard deviation, scale, median or lower end."""
    second: float = 0.0
    """Factor of a standard deviation, or upper end."""
    of: str = ""
    """`span`: the numbers are shares of the span; `range`: shares of the way from the level at 4 mA to that at 20."""

    def scaled(self, instrument: Instrument) -> Size:
        """The same in SI, for an instrument."""
        span_m = abs(instrument.upper_m - instrument.lower_m)
        if self.of == SPAN:
            return Size(self.form, self.first * span_m, self.second * span_m)
        if self.of == RANGE:
            low_m = min(instrument.lower_m, instrument.upper_m)
            return Size(self.form, low_m + self.first * span_m, low_m + self.second * span_m)
        return self

    def nodes(self) -> Reals:
        """Sizes between which the pattern of a cause is taken as straight, close together where much is likely."""
        if self.form in (NORMAL, BROAD):
            side = _WIDE if self.form == NORMAL else np.concatenate([_WIDE, _TAIL])
            return self.first * np.concatenate([-side[::-1], [0.0], side])
        if self.form in (HALF, HALF_BROAD):
            side = 4.0 * np.linspace(0.0, 1.0, _HALF_NODES) ** 1.5
            return self.first * (side if self.form == HALF else np.concatenate([side, _TAIL]))
        if self.form == LOG_NORMAL:
            return self.first * self.second ** np.linspace(-3.5, 3.5, _LOG_NODES)
        return np.linspace(self.first, self.second, _EVEN_NODES)

    def masses(self, nodes: Reals) -> Reals:
        """The prior probability of each gap between nodes."""
        if self.form in (NORMAL, HALF):
            mass = np.diff(ndtr(nodes / self.first))
        elif self.form in (BROAD, HALF_BROAD):
            mass = np.diff(nodes / np.sqrt(2.0 * self.first**2 + nodes**2))
        elif self.form == LOG_NORMAL:
            mass = np.diff(ndtr(np.log(nodes / self.first) / log(self.second)))
        else:
            mass = np.diff(nodes)
        kept: Reals = mass / mass.sum()
        return kept


@dataclass(frozen=True)
class Measurement:
    """A further measurement, and what it costs."""

    key: str
    kind: str
    """`level`, `falling`, `channel` or `tells`."""
    cost: float
    words: str
    channel: str = ""
    causes: tuple[str, ...] = ()
    standard: float = 0.0


@dataclass(frozen=True)
class Change:
    """What a word on a recent change makes likelier."""

    words: tuple[str, ...]
    causes: tuple[str, ...]
    by: float


@dataclass(frozen=True)
class Priors:
    """Everything that is held likely before the readings."""

    nothing: float
    not_listed: float
    weights: Mapping[str, float]
    sizes: Mapping[str, Size]
    spread: Spread
    unread_temperature_K: float
    cap_one_row: float
    cap_ever: float
    measurements: tuple[Measurement, ...]
    changes: tuple[Change, ...]

    def cap(self, rows: int) -> float:
        """The most that any cause is held likely on so many rows: a single one never makes it near certain."""
        return min(self.cap_ever, 1.0 - (1.0 - self.cap_one_row) / max(rows, 1))

    def weighed(self, kinds: Sequence[str], change: str) -> tuple[dict[str, float], tuple[str, ...]]:
        """The probability of each cause that an instrument can have, and the words of the change that were known."""
        said = change.casefold().replace(",", " ").replace(".", " ").replace(";", " ").split()
        weights = {key: self.weights.get(key, 0.0) for key in kinds}
        known = []
        for each in self.changes:
            met = [word for word in each.words if all(part in said for part in word.casefold().split())]
            known.extend(met)
            for key in each.causes if met else ():
                if key in weights:
                    weights[key] *= each.by
        whole = sum(weights.values()) or 1.0
        listed = 1.0 - self.nothing - self.not_listed
        return {key: listed * weight / whole for key, weight in weights.items()}, tuple(dict.fromkeys(known))


def stated_priors() -> Priors:
    """The table that ships with the tool."""
    return read_priors(table("causes.json"))


def read_priors(stated: Any) -> Priors:
    """A table of priors of the form of the one that ships; whatever is wrong in it is told at once."""
    faults = list(_faults(stated))
    if faults:
        raise CaseError(faults)
    sizes = {}
    for key, each in stated["causes"].items():
        size = each["size"]
        first, second = [*(float(size[name]) for name in _NEEDS[size["form"]]), 0.0][:2]
        sizes[key] = Size(size["form"], first, second, size.get("of", ""))
    return Priors(
        float(stated["nothing"]),
        float(stated["not_listed"]),
        {key: float(each["weight"]) for key, each in stated["causes"].items()},
        sizes,
        Spread(**{name: float(value) for name, value in stated["spread"].items()}),
        float(stated["unread_temperature_K"]),
        float(stated["caps"]["one_row"]),
        float(stated["caps"]["ever"]),
        tuple(Measurement(**{**each, "causes": tuple(each.get("causes", ()))}) for each in stated["measurements"]),
        tuple(Change(tuple(e["words"]), tuple(e["causes"]), float(e["by"])) for e in stated["changes"]),
    )


# ---------------------------------------------------------------- what may be wrong in a table

_PARTS = ("nothing", "not_listed", "causes", "spread", "unread_temperature_K", "caps", "measurements", "changes")


def _faults(stated: Any) -> Iterator[Fault]:
    if not isinstance(stated, Mapping) or (missing := [name for name in _PARTS if name not in stated]):
        got = "another" if not isinstance(stated, Mapping) else f"one without {', '.join(missing)}"
        yield Fault("priors", f"a table with {', '.join(_PARTS)}", got, "copy the one that ships and edit it")
        return
    shares = [_number(stated[name]) for name in ("nothing", "not_listed")]
    if None in shares or not all(share > 0.0 for share in shares if share is not None):
        yield Fault("priors.nothing, priors.not_listed", "shares above 0", f"{shares}", "neither is ever shut out")
    elif sum(share for share in shares if share is not None) >= 1.0:
        yield Fault("priors.nothing, priors.not_listed", "below 1 together", f"{shares}", "the causes share the rest")
    yield from _cause_faults(stated["causes"])
    yield from _spread_faults(stated["spread"])
    yield from _rest_faults(stated)


def _number(value: Any) -> float | None:
    """A number that may stand in a table; None for everything else."""
    fits = isinstance(value, (int, float)) and not isinstance(value, bool) and isfinite(value) and abs(value) <= MOST
    return float(value) if fits else None


def _cause_faults(causes: Any) -> Iterator[Fault]:
    known = {each.key for each in KINDS}
    if not isinstance(causes, Mapping) or not causes:
        yield Fault("priors.causes", "a table of causes", _got(causes))
        return
    for key, each in causes.items():
        path = f"priors.causes.{key}"
        if key not in known:
            yield Fault(path, f"one of {', '.join(sorted(known))}", _got(key), "no other fault has a model")
            continue
        weight = _number(each.get("weight")) if isinstance(each, Mapping) else None
        if weight is None or weight < 0.0:
            yield Fault(f"{path}.weight", "a number of 0 or more", _got(each))
            continue
        yield from _size_faults(f"{path}.size", each.get("size"), kind(key).least)


def _size_faults(path: str, size: Any, least: float) -> Iterator[Fault]:
    form = size.get("form") if isinstance(size, Mapping) else None
    if not isinstance(form, str) or form not in _NEEDS:
        yield Fault(f"{path}.form", f"one of {', '.join(_NEEDS)}", _got(form))
        return
    numbers = [_number(size.get(name)) for name in _NEEDS[form]]
    if any(number is None for number in numbers):
        yield Fault(path, f"with {' and '.join(_NEEDS[form])}", _got(dict(size)))
        return
    first, second = [number or 0.0 for number in (*numbers, 0.0)][:2]
    in_order = second > first if form == EVEN else first >= LEAST_SPREAD and (form != LOG_NORMAL or second > 1.0)
    if not in_order or size.get("of", "") not in ("", SPAN, RANGE):
        why = "a spread lies above 0, a factor above 1, the high end above the low one, of is span or range"
        yield Fault(path, "a spread", _got(dict(size)), why)
    elif (form in (NORMAL, BROAD) and isfinite(least)) or (form == EVEN and first < least):
        forms = f"a spread from {least:g} on: {HALF}, {HALF_BROAD}, {LOG_NORMAL}, or {EVEN}"
        yield Fault(path, forms, _got(dict(size)), "the size of this cause goes no lower")


def _spread_faults(spread: Any) -> Iterator[Fault]:
    names = {each.name for each in fields(Spread)}
    if not isinstance(spread, Mapping) or set(spread) != names:
        yield Fault("priors.spread", f"a table with {', '.join(sorted(names))}", _got(spread))
        return
    for name, value in spread.items():
        number = _number(value)
        if number is None or number < LEAST_SPREAD:
            allowed, why = f"a number of {LEAST_SPREAD:g} or more", "nothing is read without error"
            yield Fault(f"priors.spread.{name}", allowed, _got(value), why)


def _rest_faults(stated: Mapping[str, Any]) -> Iterator[Fault]:
    caps = stated["caps"]
    numbers = [_number(caps.get(name)) if isinstance(caps, Mapping) else None for name in ("one_row", "ever")]
    if any(number is None or not LEAST_CAP <= number < 1.0 for number in numbers):
        allowed = f"one_row and ever from {LEAST_CAP:g} on and below 1"
        yield Fault("priors.caps", allowed, _got(caps), "nothing is ever certain, and what is beyond goes on")
    if (_number(stated["unread_temperature_K"]) or 0.0) <= 0.0:
        yield Fault("priors.unread_temperature_K", "a number above 0", _got(stated["unread_temperature_K"]))
    for part, check in (("measurements", _measurement_faults), ("changes", _change_faults)):
        rows = stated[part]
        if not isinstance(rows, list):
            yield Fault(f"priors.{part}", "a list of tables", _got(rows))
            continue
        for number, row in enumerate(rows):
            yield from check(f"priors.{part}[{number}]", row)


def _measurement_faults(path: str, row: Any) -> Iterator[Fault]:
    yield from _row_faults(path, row, ("key", "kind", "cost", "words"), ("channel", "causes", "standard"))
    if not isinstance(row, Mapping):
        return
    if not _is_text(row.get("key", "")) or not _is_text(row.get("words", "")):
        yield Fault(f"{path}.key, {path}.words", f"texts of 1 to {MOST_TEXT} letters", _got(row), "they are printed")
    kinds = ("level", "falling", "channel", "tells")
    if row.get("kind") not in kinds:
        yield Fault(f"{path}.kind", f"one of {', '.join(kinds)}", _got(row.get("kind")))
    channels = (*CHANNELS, "told_m", "")
    if row.get("channel", "") not in channels or (row.get("kind") == "channel" and not row.get("channel")):
        yield Fault(f"{path}.channel", f"one of {', '.join(channels[:-1])}", _got(row.get("channel")))
    yield from _keys_faults(f"{path}.causes", row.get("causes", []))
    standard = _number(row.get("standard", LEAST_SPREAD))
    if standard is None or standard < LEAST_SPREAD or (row.get("kind") == "tells" and "standard" not in row):
        why = "nothing is read without error"
        yield Fault(f"{path}.standard", f"a number from {LEAST_SPREAD:g} to {MOST:g}", _got(row.get("standard")), why)


def _change_faults(path: str, row: Any) -> Iterator[Fault]:
    yield from _row_faults(path, row, ("words", "causes", "by"), ())
    if not isinstance(row, Mapping):
        return
    words = row.get("words", [])
    if not isinstance(words, list) or not all(_is_text(word) for word in words):
        yield Fault(f"{path}.words", f"a list of texts of 1 to {MOST_TEXT} letters", _got(words))
    yield from _keys_faults(f"{path}.causes", row.get("causes", []))


def _row_faults(path: str, row: Any, needs: Sequence[str], may: Sequence[str]) -> Iterator[Fault]:
    """Whether a row has what it needs and nothing that is unknown, and whether its last need is a number above 0."""
    if not isinstance(row, Mapping) or [n for n in needs if n not in row] or set(row) - {*needs, *may}:
        other = f" and no other than {', '.join(may)}" if may else " alone"
        yield Fault(path, f"a table with {', '.join(needs)}{other}", _got(row))
        return
    name = "cost" if "cost" in needs else "by"
    value = _number(row[name])
    if value is None or value < 1.0 / MOST:
        yield Fault(f"{path}.{name}", f"a number from {1.0 / MOST:g} to {MOST:g}", _got(row[name]))


def _keys_faults(path: str, keys: Any) -> Iterator[Fault]:
    known = sorted(each.key for each in KINDS)
    if not isinstance(keys, list) or not all(isinstance(key, str) and key in known for key in keys):
        yield Fault(path, f"a list of {', '.join(known)}", _got(keys))


def _is_text(value: Any) -> bool:
    return isinstance(value, str) and 0 < len(value.strip()) <= MOST_TEXT


def _got(value: Any) -> str:
    return f"{value!r}"[:80]
