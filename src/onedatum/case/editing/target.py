"""Where a path of a case leads in the model: to a leaf, to a part of its long form, or to a section as a whole."""

from __future__ import annotations

from dataclasses import dataclass
from typing import get_args

from onedatum.case.kinds import RANGE_KEYS, Kind, Listing, Quantity
from onedatum.case.model import Case
from onedatum.case.model.vessel import OrWord
from onedatum.case.reader import BASIS_KEYS
from onedatum.case.section import Section, section_of
from onedatum.case.tree import join_index, join_key
from onedatum.case.tree.node import Step, steps_of
from onedatum.case.uncertain import UNCERTAINTY_KEYS
from onedatum.foundation.errors import Fault
from onedatum.foundation.units import hint

MAIN_KEYS = ("value", "normal")


class Refusal(Exception):
    """A change that is not made; carries the fault that says why."""

    def __init__(self, fault: Fault) -> None:
        super().__init__(fault.sentence())
        self.fault = fault


@dataclass(frozen=True)
class Target:
    """What a path names."""

    path: str
    steps: tuple[Step, ...]
    """The way to the leaf or the section, without the part."""
    orders: tuple[tuple[str, ...], ...]
    """For each step the keys of the section it is taken in, in the order of the model; () for an index."""
    kind: Kind | None
    """How the leaf is read; None for a section as a whole."""
    part: str = ""
    """The key of the long form that is meant, "" for the value."""
    words: tuple[str, ...] = ()
    """Words that may stand in place of the section."""

    @property
    def base(self) -> str:
        """The path of the leaf or section itself."""
        return path_of(self.steps)

    @property
    def leaf_order(self) -> tuple[str, ...]:
        """The keys of the long form in the order they are written in."""
        return (*MAIN_KEYS, *own_keys(self.kind), *BASIS_KEYS)


def own_keys(kind: Kind | None) -> tuple[str, ...]:
    """The keys that a long form has beside its value and what every leaf has."""
    return (*RANGE_KEYS, *UNCERTAINTY_KEYS, *kind.companions) if isinstance(kind, Quantity) else ()


def path_of(steps: tuple[Step, ...]) -> str:
    """Steps as a path, spelled as the reader spells it."""
    path = ""
    for step in steps:
        path = join_key(path, step) if isinstance(step, str) else join_index(path, step)
    return path


def target_of(path: str) -> Target:
    """What a path names in the model; raises Refusal where it names nothing."""
    steps, rest = steps_of(path)
    if rest:
        raise _unknown(path, rest, ())
    section: type[Section] = Case
    orders: list[tuple[str, ...]] = []
    at = 0
    while at < len(steps):
        keys = section.keys()
        name = next((name for name, key in keys.items() if key == steps[at]), None)
        if name is None:
            raise _unknown(path, str(steps[at]), tuple(keys.values()))
        orders.append(tuple(keys.values()))
        at += 1
        info = section.model_fields[name]
        kind = next((item for item in info.metadata if isinstance(item, Kind)), None)
        inner = kind.of if isinstance(kind, Listing) else section_of(info.annotation)
        if inner is None or (isinstance(kind, Listing) and at == len(steps)):
            return _leaf(path, steps, at, orders, kind)
        if isinstance(kind, Listing) or get_args(info.annotation):
            if at == len(steps) or not isinstance(steps[at], int):
                raise _unknown(path, path_of(steps[:at]), (), "with the number of the item, as in states[0].name")
            orders.append(())
            at += 1
        section = inner
        if at == len(steps):
            own = tuple(item.word for item in info.metadata if isinstance(item, OrWord))
            return Target(path, steps, tuple(orders), None, words=("unknown", "none", *own))
    raise _unknown(path, path, tuple(Case.keys().values()))


def _leaf(path: str, steps: tuple[Step, ...], at: int, orders: list[tuple[str, ...]], kind: Kind | None) -> Target:
    rest = steps[at:]
    known = () if isinstance(kind, Listing) else (*own_keys(kind), *BASIS_KEYS)
    if not rest:
        return Target(path, steps, tuple(orders), kind)
    if len(rest) == 1 and rest[0] in known:
        return Target(path, steps[:at], tuple(orders), kind, str(rest[0]))
    raise _unknown(path, str(rest[0]), known)


def _unknown(path: str, got: str, known: tuple[str, ...], allowed: str = "a value that a case has") -> Refusal:
    return Refusal(Fault(path or "the path", allowed, repr(got), remedy=hint(got, known) if known else ""))
