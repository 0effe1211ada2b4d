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
_MEASURED = ("level", "falling", "channel", "tells")
TOLD = "told_m"
"""The level that the transmitter tells itself: read by no row, and asked for as a further measurement alone."""


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
    fits = isinstance(value, (int, float)) and not isinstance(value, bool) and isfinite(value)
    return float(value) if fits else None


def _cause_faults(causes: Any) -> Iterator[Fault]:
    known = {each.key for each in KINDS}
    if not isinstance(causes, Mapping) or not causes:
        yield Fault("priors.causes", "a table of causes", f"{causes!r}")
        return
    for key, each in causes.items():
        path = f"priors.causes.{key}"
        if key not in known:
            yield Fault(path, f"one of {', '.join(sorted(known))}", f"{key!r}", "no other fault has a model")
            continue
        weight = _number(each.get("weight")) if isinstance(each, Mapping) else None
        if weight is None or weight < 0.0:
            yield Fault(f"{path}.weight", "a number of 0 or more", f"{each!r}")
            continue
        yield from _size_faults(f"{path}.size", each.get("size"), kind(key).least)


def _size_faults(path: str, size: Any, least: float) -> Iterator[Fault]:
    form = size.get("form") if isinstance(size, Mapping) else None
    if not isinstance(form, str) or form not in _NEEDS:
        yield Fault(f"{path}.form", f"one of {', '.join(_NEEDS)}", f"{form!r}")
        return
    numbers = [_number(size.get(name)) for name in _NEEDS[form]]
    if any(number is None for number in numbers):
        yield Fault(path, f"with {' and '.join(_NEEDS[form])}", f"{dict(size)!r}")
        return
    first, second = [number or 0.0 for number in (*numbers, 0.0)][:2]
    in_order = second > first if form == EVEN else first > 0.0 and (form != LOG_NORMAL or second > 1.0)
    if not in_order or size.get("of", "") not in ("", SPAN, RANGE):
        why = "a spread lies above 0, a factor above 1, the high end above the low one, of is span or range"
        yield Fault(path, "a spread", f"{dict(size)!r}", why)
    elif (form in (NORMAL, BROAD) and least > float("-inf")) or (form == EVEN and first < least):
        forms = f"a spread from {least:g} on: {HALF}, {HALF_BROAD}, {LOG_NORMAL}, or {EVEN}"
        yield Fault(path, forms, f"{dict(size)!r}", "the size of this cause goes no lower")


def _spread_faults(spread: Any) -> Iterator[Fault]:
    names = {each.name for each in fields(Spread)}
    if not isinstance(spread, Mapping) or set(spread) != names:
        yield Fault("priors.spread", f"a table with {', '.join(sorted(names))}", f"{spread!r}")
        return
    for name, value in spread.items():
        number = _number(value)
        if number is None or number < LEAST_SPREAD:
            allowed, why = f"a number of {LEAST_SPREAD:g} or more", "nothing is read without error"
            yield Fault(f"priors.spread.{name}", allowed, f"{value!r}", why)


def _rest_faults(stated: Mapping[str, Any]) -> Iterator[Fault]:
    caps = stated["caps"]
    numbers = [_number(caps.get(name)) if isinstance(caps, Mapping) else None for name in ("one_row", "ever")]
    if any(number is None or not LEAST_CAP <= number < 1.0 for number in numbers):
        allowed = f"one_row and ever from {LEAST_CAP:g} on and below 1"
        yield Fault("priors.caps", allowed, f"{caps!r}", "nothing is ever certain, and what is beyond goes on")
    if (_number(stated["unread_temperature_K"]) or 0.0) <= 0.0:
        yield Fault("priors.unread_temperature_K", "a number above 0", f"{stated['unread_temperature_K']!r}")
    for part, needs in (("measurements", ("key", "kind", "cost", "words")), ("changes", ("words", "causes", "by"))):
        rows = stated[part]
        whole = isinstance(rows, list) and all(isinstance(e, Mapping) and all(n in e for n in needs) for e in rows)
        if not whole:
            yield Fault(f"priors.{part}", f"rows with {', '.join(needs)}", f"{rows!r}"[:80])
            continue
        for number, row in enumerate(rows):
            path = f"priors.{part}[{number}]"
            yield from _measurement_faults(path, row) if part == "measurements" else _change_faults(path, row)


def _measurement_faults(path: str, row: Mapping[str, Any]) -> Iterator[Fault]:
    names = [each.name for each in fields(Measurement)]
    if other := [str(name) for name in row if name not in names]:
        yield Fault(path, f"a row of {', '.join(names)}", f"one with {', '.join(other)}")
    if not all(isinstance(row[name], str) and row[name] for name in ("key", "words")):
        yield Fault(path, "a row whose key and words are text", f"{row['key']!r}, {row['words']!r}")
    if row["kind"] not in _MEASURED:
        yield Fault(f"{path}.kind", f"one of {', '.join(_MEASURED)}", f"{row['kind']!r}")
    if (_number(row["cost"]) or 0.0) <= 0.0:
        yield Fault(f"{path}.cost", "a number above 0", f"{row['cost']!r}")
    if row["kind"] == "channel" and row.get("channel") not in (TOLD, *CHANNELS):
        yield Fault(f"{path}.channel", f"one of {', '.join((TOLD, *CHANNELS))}", f"{row.get('channel')!r}")
    if row["kind"] == "tells":
        yield from _list_faults(f"{path}.causes", row.get("causes"), [each.key for each in KINDS])
    needed = row["kind"] == "tells" or row.get("channel") == TOLD
    if (needed or "standard" in row) and (_number(row.get("standard")) or 0.0) <= 0.0:
        why = "nothing is measured without error"
        yield Fault(f"{path}.standard", "a number above 0", f"{row.get('standard')!r}", why)


def _change_faults(path: str, row: Mapping[str, Any]) -> Iterator[Fault]:
    yield from _list_faults(f"{path}.words", row["words"])
    yield from _list_faults(f"{path}.causes", row["causes"], [each.key for each in KINDS])
    if (_number(row["by"]) or 0.0) <= 0.0:
        yield Fault(f"{path}.by", "a number above 0", f"{row['by']!r}")


def _list_faults(path: str, words: Any, known: Sequence[str] = ()) -> Iterator[Fault]:
    """A list of words, each of the known ones where there are some."""
    if not isinstance(words, list) or not words or not all(isinstance(word, str) and word.strip() for word in words):
        yield Fault(path, "a list of words", f"{words!r}"[:80])
        return
    if known and (other := [word for word in words if word not in known]):
        yield Fault(path, f"out of {', '.join(known)}", ", ".join(other))
