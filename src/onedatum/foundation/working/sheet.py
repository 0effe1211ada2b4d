"""The sheet: the working of a study, every number an entry with formula, inputs and source.

`give` puts down a number that somebody stated, `calc` calls a tagged function with entries, `decide` records the branch
that was taken. Unknown flows through: an entry that rests on an unknown one is unknown and says on what it waits. A
value outside the validity of a formula is a fault, recorded with the place of the stated number that caused it; what
rests on it is unknown, and the rest of the sheet stands.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cache, cached_property
from math import inf, isfinite, sqrt
from typing import Any, Literal

from onedatum.foundation.errors import Fault, Place, SheetError, ValidityError
from onedatum.foundation.sources import Citation, citation
from onedatum.foundation.working.expression import Expression
from onedatum.foundation.working.formula import Tag, apply, tag_of
from onedatum.foundation.working.spell import spell, unit_of_suffix, usual_unit
from onedatum.foundation.working.whole import Whole

State = Literal["stated", "assumed", "computed", "constant", "unknown", "none", "faulty"]
"""How a number is known; *constant*: it comes from a table or standard, whatever the case."""


Bounded = Literal["rectangular", "triangular", "arcsine"]
"""Distributions that end at a half-width: all values as likely, the middle more likely, the ends more likely."""
_SHARE_OF_HALF_WIDTH: Mapping[Bounded, float] = {"rectangular": 3.0, "triangular": 6.0, "arcsine": 2.0}


@dataclass(frozen=True)
class Uncertainty:
    """Standard uncertainty of a given number and the distribution it stands for, in SI."""

    standard: float
    form: Literal["normal", "rectangular", "triangular", "arcsine"]
    text: str
    """As it was stated, for print: "within 0.5 mm"."""
    degrees_of_freedom: float = inf
    """How far the standard uncertainty itself is known; infinite: beyond doubt."""

    @classmethod
    def within(cls, half_width: float, text: str, form: Bounded = "rectangular") -> Uncertainty:
        """No value beyond the half-width: a / sqrt(3), a / sqrt(6), a / sqrt(2), JCGM 100 4.3.7 and 4.3.9."""
        return cls(half_width / sqrt(_SHARE_OF_HALF_WIDTH[form]), form, text)

    @classmethod
    def expanded(cls, expanded: float, k: float, text: str, degrees_of_freedom: float = inf) -> Uncertainty:
        """An expanded uncertainty with its coverage factor: U / k, JCGM 100 4.3.3."""
        return cls(expanded / k, "normal", text, degrees_of_freedom)


@dataclass(frozen=True)
class Entry:
    """One number of the sheet."""

    name: str
    suffix: str
    value: float | None
    state: State
    meaning: str
    shown: str = ""
    function: Callable[..., Any] | None = None
    relation: Expression | None = None
    """Of a decided entry: what was compared; the value is 1 where it holds."""
    selects: Literal["", "least", "greatest"] = ""
    """Of a selected entry: which of its inputs it is."""
    method: str = ""
    """Of a recorded entry: the procedure over the sheet that gave it."""
    inputs: Mapping[str, Entry] = field(default_factory=dict)
    """Of a calculated entry by parameter, of a decided one by symbol."""
    as_stated: str = ""
    """Of a given entry: the words in which it was stated."""
    path: str = ""
    place: Place | None = None
    note: str = ""
    source: Citation | None = None
    uncertainty: Uncertainty | None = None
    waits_for: tuple[str, ...] = ()
    """For an unknown entry: the paths of the stated values it waits for."""
    whole: Whole | None = None
    """In place of a number, what a formula hands on in one piece."""

    @property
    def unit(self) -> str:
        """The SI unit in print."""
        return unit_of_suffix(self.suffix)

    @property
    def known(self) -> bool:
        """Whether there is a number, or a whole in its place."""
        return self.value is not None or self.whole is not None

    @property
    def content(self) -> float | Whole | None:
        """What formulas are given: the number or the whole, None while unknown."""
        return self.value if self.whole is None else self.whole

    @property
    def text(self) -> str:
        """The value as people read it."""
        if self.relation is not None:
            return {None: "unknown", 0.0: "no", 1.0: "yes"}[self.value]
        if self.whole is not None:
            return self.whole.told(self.shown)
        if self.known and self.as_stated:
            return self.as_stated
        return spell(self.value, self.suffix, self.shown)

    @property
    def tag(self) -> Tag | None:
        """The description of the formula that gave the number."""
        return tag_of(self.function) if self.function else None

    @cached_property
    def rests_on_assumed(self) -> bool:
        """Whether an assumed value stands somewhere beneath it."""
        return self.state == "assumed" or any(entry.rests_on_assumed for entry in self.inputs.values())

    @cached_property
    def uncertain(self) -> bool:
        """Whether it carries an uncertainty, or rests on what does."""
        own = self.uncertainty is not None and self.uncertainty.standard > 0.0
        return own or any(entry.uncertain for entry in self.inputs.values())


class Sheet:
    """The entries of one study in the order they were worked."""

    def __init__(self, print_units: Mapping[str, str] | None = None) -> None:
        """`print_units` names the unit that is printed in place of another, such as inches for millimetres."""
        self._print_units = print_units or {}
        self._entries: dict[str, Entry] = {}
        self.faults: list[Fault] = []

    @property
    def entries(self) -> Mapping[str, Entry]:
        """Every entry by name, in the order of the working."""
        return self._entries

    def __getitem__(self, name: str) -> Entry:
        try:
            return self._entries[name]
        except KeyError:
            raise SheetError(f"no entry {name!r} on the sheet") from None

    def __contains__(self, name: str) -> bool:
        return name in self._entries

    def give(
        self,
        name: str,
        value: float | None,
        suffix: str,
        meaning: str,
        *,
        state: State = "stated",
        shown: str = "",
        as_stated: str = "",
        path: str = "",
        place: Place | None = None,
        note: str = "",
        source: str | Citation | None = None,
        uncertainty: Uncertainty | None = None,
    ) -> Entry:
        """Put down a number that was stated, assumed, or is a constant; `value` None is unknown."""
        if value is None and state in ("stated", "assumed", "computed"):
            state = "unknown"
        return self._put(
            Entry(
                name,
                suffix,
                None if value is None else float(value),
                state,
                meaning,
                shown,
                as_stated=as_stated,
                path=path or name,
                place=place,
                note=note,
                source=citation(source) if isinstance(source, str) else source,
                uncertainty=uncertainty,
                waits_for=(path or name,) if value is None else (),
            )
        )

    def hold(
        self,
        name: str,
        whole: Whole | None,
        meaning: str,
        *,
        state: State = "stated",
        shown: str = "",
        path: str = "",
        place: Place | None = None,
        note: str = "",
    ) -> Entry:
        """Put down a whole that was stated, such as the points of a profile; None is unknown."""
        return self._put(
            Entry(
                name,
                "",
                None,
                state if whole is not None else "unknown",
                meaning,
                shown,
                path=path or name,
                place=place,
                note=note,
                waits_for=(path or name,) if whole is None else (),
                whole=whole,
            )
        )

    def calc(
        self, name: str, function: Callable[..., Any], *, shown: str = "", meaning: str = "", **inputs: Entry
    ) -> Entry:
        """Call a tagged function with entries; the result is an entry of the sheet."""
        tag = tag_of(function)
        self._check_joints(name, tag, inputs)
        content, waits_for = self._worked(tag, function, inputs)
        whole = content if isinstance(content, Whole) else None
        return self._put(
            Entry(
                name,
                tag.result.suffix,
                None if isinstance(content, Whole) else content,
                "computed" if content is not None else "unknown",
                meaning or tag.result.meaning,
                shown,
                function=function,
                inputs=inputs,
                source=citation(tag.source),
                waits_for=waits_for,
                whole=whole,
            )
        )

    def decide(self, name: str, relation: str, meaning: str, **inputs: Entry) -> bool | None:
        """Record the branch that follows from a comparison of entries; None where one of them is unknown."""
        expression = _relation(relation)
        if set(expression.names) != set(inputs):
            raise SheetError(f"{name}: {relation!r} compares {expression.names}, given {tuple(inputs)}")
        if len({entry.suffix for entry in inputs.values()}) > 1:
            raise SheetError(f"{name}: entries of different units are compared")
        self._refuse_foreign(name, inputs.values())
        waits_for = _waiting(inputs)
        holds = (
            None
            if not _all_known(inputs.values())
            else bool(expression.evaluate({s: e.value for s, e in inputs.items()}))
        )
        self._put(
            Entry(
                name,
                "",
                None if holds is None else float(holds),
                "unknown" if holds is None else "computed",
                meaning,
                relation=expression,
                inputs=inputs,
                waits_for=waits_for,
            )
        )
        return holds

    def select(self, name: str, end: Literal["least", "greatest"], meaning: str, entries: Sequence[Entry]) -> Entry:
        """The least or the greatest of entries of one unit, for instance of one number over several states."""
        if len({entry.suffix for entry in entries}) != 1:
            raise SheetError(f"{name}: {end} of entries of one unit, at least one of them")
        self._refuse_foreign(name, entries)
        inputs = {f"x_{number}": entry for number, entry in enumerate(entries, start=1)}
        waits_for = _waiting(inputs)
        pick = min if end == "least" else max
        chosen = None if not _all_known(entries) else pick(entries, key=lambda entry: entry.value or 0.0)
        return self._put(
            Entry(
                name,
                entries[0].suffix,
                chosen.value if chosen else None,
                "computed" if chosen else "unknown",
                meaning,
                entries[0].shown,
                inputs=inputs,
                selects=end,
                waits_for=waits_for,
            )
        )

    def record(
        self,
        name: str,
        value: float | None,
        suffix: str,
        meaning: str,
        *,
        method: str,
        source: str,
        rests_on: Sequence[Entry],
        shown: str = "",
    ) -> Entry:
        """Put down what a procedure over the sheet itself gave, such as a sensitivity found by replay."""
        self._refuse_foreign(name, rests_on)
        inputs = {f"x_{number}": entry for number, entry in enumerate(rests_on, start=1)}
        return self._put(
            Entry(
                name,
                suffix,
                None if value is None else float(value),
                "unknown" if value is None else "computed",
                meaning,
                shown,
                inputs=inputs,
                method=method,
                source=citation(source),
                waits_for=_waiting(inputs) if value is None else (),
            )
        )

    def gather(
        self, name: str, whole: Whole, meaning: str, *, method: str, rests_on: Sequence[Entry], shown: str = ""
    ) -> Entry:
        """Put down a whole made of numbers of the sheet itself, such as the repeated readings of a point."""
        self._refuse_foreign(name, rests_on)
        inputs = {f"x_{number}": entry for number, entry in enumerate(rests_on, start=1)}
        return self._put(Entry(name, "", None, "computed", meaning, shown, inputs=inputs, method=method, whole=whole))

    def _put(self, entry: Entry) -> Entry:
        if entry.name in self._entries:
            raise SheetError(f"entry {entry.name!r} stands on the sheet already")
        if self._print_units:
            usual = entry.shown or usual_unit(entry.suffix)
            entry = replace(entry, shown=self._print_units.get(usual, entry.shown))
        self._entries[entry.name] = entry
        return entry

    def _refuse_foreign(self, name: str, entries: Iterable[Entry]) -> None:
        for entry in entries:
            if self._entries.get(entry.name) is not entry:
                raise SheetError(f"{name}: {entry.name} is no entry of this sheet")

    def _check_joints(self, name: str, tag: Tag, inputs: Mapping[str, Entry]) -> None:
        if inputs.keys() != tag.takes:
            raise SheetError(f"{name}: {tag.name} takes {list(tag.parameters)}, given {list(inputs)}")
        self._refuse_foreign(name, inputs.values())
        for symbol in tag.symbols:
            entry, parameter = inputs[symbol.parameter], symbol.parameter
            content = entry.content
            if content is not None and not isinstance(content, symbol.whole or float):
                raise SheetError(f"{name}: {parameter} of {tag.name} cannot take {entry.name}, {entry.text}")
            if entry.suffix != symbol.suffix and entry.unit != symbol.unit:
                raise SheetError(f"{name}: {parameter} of {tag.name} cannot take {entry.name} in {entry.unit or '1'}")

    def _worked(
        self, tag: Tag, function: Callable[..., Any], inputs: Mapping[str, Entry]
    ) -> tuple[float | Whole | None, tuple[str, ...]]:
        contents = {parameter: entry.content for parameter, entry in inputs.items()}
        if None in contents.values():
            return None, _waiting(inputs)
        try:
            applied = apply(function, contents)  # type: ignore[arg-type]
        except ValidityError as error:
            entry = inputs[error.parameter]
            self._fault(entry, error)
            return None, _stated_under(entry)
        value = applied.value if isinstance(applied.value, Whole) else float(applied.value)
        if value.missing() if isinstance(value, Whole) else not isfinite(value):
            leading = _leading(next(iter(inputs.values())))
            allowed = f"such that {tag.name} has a finite result"
            self._tell(Fault(leading.path, allowed, leading.text, "", leading.place, kind="validity"))
            return None, _stated_under(next(iter(inputs.values())))
        return value, ()

    def _fault(self, entry: Entry, error: ValidityError) -> None:
        """Note a value outside; a computed one is led back to the stated value at the head of its working."""
        stated = _leading(entry)
        allowed, got = error.allowed, error.got
        if stated is not entry:
            allowed, got = f"such that {entry.name} is {allowed}", f"{entry.name} = {got}"
        fault = Fault(stated.path, allowed, got, error.why, stated.place, kind="validity")
        self._tell(fault)

    def _tell(self, fault: Fault) -> None:
        if all((fault.path, fault.why) != (other.path, other.why) for other in self.faults):
            self.faults.append(fault)


def beneath(heads: Iterable[Entry], uncertain: bool = False, seen: set[str] | None = None) -> Iterator[Entry]:
    """These entries and all they rest on, each once, the nearest first; only what is uncertain, where that is asked.

    `seen`: names of what was met before, which is left out with all it rests on; what is met now joins it.
    """
    met = set() if seen is None else seen
    waiting = deque(heads)
    while waiting:
        entry = waiting.popleft()
        if entry.name not in met and (entry.uncertain or not uncertain):
            met.add(entry.name)
            waiting.extend(entry.inputs.values())
            yield entry


@cache
def _relation(text: str) -> Expression:
    """A comparison as it stands in the code, read once."""
    return Expression(text)


def _all_known(entries: Iterable[Entry]) -> bool:
    return all(entry.known for entry in entries)


def _waiting(inputs: Mapping[str, Entry]) -> tuple[str, ...]:
    """What the unknown inputs wait for, each once."""
    return tuple(dict.fromkeys(path for entry in inputs.values() for path in entry.waits_for))


def _leading(entry: Entry) -> Entry:
    """The stated value that an entry leads back to by the first input of every formula."""
    while entry.inputs:
        entry = next(iter(entry.inputs.values()))
    return entry


def _stated_under(entry: Entry) -> tuple[str, ...]:
    """The stated values beneath an entry: what to correct when it lies outside a validity."""
    if not entry.inputs:
        return (entry.path,)
    return tuple(dict.fromkeys(path for below in entry.inputs.values() for path in _stated_under(below)))
