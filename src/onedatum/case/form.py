"""The values of a case as the fields of a form, section by section, in the order of the model.

Every value of the model is a field; `shown` marks those that say something, are asked for or are wrong, which are the
few a page shows at first. Paths are those that `case.edit` takes.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property, lru_cache
from typing import Any

from onedatum.case.asking import Ask, Part, about, parts_of, title_of
from onedatum.case.editing.target import Refusal, target_of
from onedatum.case.leaf import Leaf, Rows, Value
from onedatum.case.model import Case
from onedatum.case.reading import Statement
from onedatum.case.section import Section
from onedatum.case.tree import join_index, join_key
from onedatum.foundation.errors import Fault, Place
from onedatum.foundation.working import State, spell_limit

HEADINGS = {"onedatum": "Case", "level_now": "Level now and errors in common"}
"""Headings of the values that stand in no section, by the first of them."""
NOTHING = "nothing stated"
MOST_SAID = 4
"""Values that a closed section tells in its line."""
LONGEST_SAID = 40
_LAST_STEP = re.compile(r'[.\[]?(?:"(?:[^"\\]|\\.)*"|[^.\["]+)$')
_FIRST_STEP = re.compile(r"[^.\[]+")
_INDEX = re.compile(r"\[(\d{1,8})\]")

Told = Mapping[str, list[Fault]]
Seen = tuple[Any, ...]
"""What is asked and told of a part of the case."""

KEPT = 1000
"""Sections kept as they were made; a case has some twenty."""
_MADE: dict[tuple[str, int], tuple[Any, Seen, FormSection]] = {}
"""By key and number of what is held, which is kept with it so that no other comes to bear its number."""


@dataclass(frozen=True, slots=True)
class FormField:
    """One value of the case."""

    path: str
    key: str
    ask: Ask
    state: State = "unknown"
    text: str = ""
    """As written; what could not be read stands here too."""
    asked: bool = False
    """Whether `unknown` is written out, or the study asks for it."""
    shown: bool = False
    by: str = ""
    note: str = ""
    source: str = ""
    uncertainty: str = ""
    """How well it is known, as stated: `within 0.5 K`."""
    ends: str = ""
    """The ends of its range: `5 degC to 35 degC`."""
    faults: tuple[Fault, ...] = ()
    companions: tuple[FormField, ...] = ()
    place: Place | None = None
    parts: tuple[tuple[str, str], ...] = ()
    """What stands beside it in a long form, as written, by key."""

    @property
    def sentences(self) -> tuple[str, ...]:
        """What is wrong with it, each as one sentence."""
        return tuple(fault.sentence() for fault in self.faults)


@dataclass(frozen=True, slots=True, eq=False)
class FormSection:
    """A section with its fields and the sections in it; each is itself alone, so what is told of it can be kept."""

    path: str
    """"" for the values that stand in no section."""
    key: str
    title: str
    about: str
    summary: str
    """Its content in one line, for when it is closed."""
    fields: tuple[FormField, ...] = ()
    sections: tuple[FormSection, ...] = ()
    items: tuple[FormSection, ...] = ()
    """Of a list: one section for each item."""
    stated: FormField | None = None
    """Of a list that may be `none`: the list itself."""
    next_path: str = ""
    """Of a list: the path of an item that is not there yet."""
    words: tuple[str, ...] = ()
    """Words that may stand in place of the section, such as `as bottom_head`."""
    as_section: str = ""
    """The section this one is stated to be alike to."""
    absent: bool = False
    """Whether it is stated to be `none` as a whole."""
    faults: tuple[Fault, ...] = ()
    """What is wrong with the section itself, not with one of its values."""

    @property
    def counts(self) -> Mapping[State, int]:
        """How many of its values are in each state, those beneath it counted in."""
        found: dict[State, int] = {}
        for each in self.every_field():
            found[each.state] = found.get(each.state, 0) + 1
        return found

    def every_field(self) -> Iterator[FormField]:
        """Every field of the section and beneath it."""
        yield from self.fields
        for section in (*self.sections, *self.items):
            yield from section.every_field()

    def every_section(self) -> Iterator[FormSection]:
        """The section and every one beneath it."""
        yield self
        for section in (*self.sections, *self.items):
            yield from section.every_section()


@dataclass(frozen=True)
class _Sight:
    """What is looked up while a form is made."""

    told: Told
    asked: Collection[str]
    rows: Mapping[str, int] = field(default_factory=dict)
    """For each list the number of items that faults speak of."""

    @cached_property
    def by_part(self) -> Mapping[str, Seen]:
        """The same for each part of the case, by its key."""
        found: dict[str, list[Any]] = {}
        for path in sorted(self.asked):
            found.setdefault(_first(path), []).append(path)
        for path, faults in self.told.items():
            found.setdefault(_first(path), []).append((path, tuple(faults)))
        for path, number in self.rows.items():
            found.setdefault(_first(path), []).append((path, number))
        return {key: tuple(seen) for key, seen in found.items()}


def fields(statement: Statement, asked: Collection[str] = ()) -> tuple[FormSection, ...]:
    """The sections of a case with their fields; `asked` are paths that a study asks for."""
    sight = _sight(statement.faults, asked)
    sections: list[FormSection] = []
    loose: list[FormField] = []
    for part in parts_of(Case):
        if part.section is None:
            loose.append(_field(part, part.key, getattr(statement.case, part.name), sight))
            continue
        sections += _loose(loose, sight, first=not sections)
        loose = []
        sections.append(_kept(part, getattr(statement.case, part.name), sight))
    return (*sections, *_loose(loose, sight, first=not sections))


def _kept(part: Part, held: Any, sight: _Sight) -> FormSection:
    """A section as it was made before, while what it holds and what is seen of it stay: who types changes one."""
    seen, key = sight.by_part.get(part.key, ()), (part.key, id(held))
    found = _MADE.get(key)
    if found is not None and found[0] is held and found[1] == seen:
        return found[2]
    made = _section(part, part.key, held, sight)
    if len(_MADE) >= KEPT:
        _MADE.clear()
    _MADE[key] = held, seen, made
    return made


def _first(path: str) -> str:
    """The key that a path begins with."""
    found = _FIRST_STEP.match(path)
    return found[0] if found is not None else ""


def _loose(loose: list[FormField], sight: _Sight, first: bool) -> Iterator[FormSection]:
    """The values between two sections as one; faults of the file itself stand with the first."""
    if loose:
        title = HEADINGS.get(loose[0].key, title_of(loose[0].key))
        faults = tuple(sight.told.get("", ())) if first else ()
        yield FormSection("", loose[0].key, title, "", _summary(loose, ()), tuple(loose), faults=faults)


def _sight(faults: Collection[Fault], asked: Collection[str]) -> _Sight:
    told: dict[str, list[Fault]] = {}
    rows: dict[str, int] = {}
    for fault in faults:
        told.setdefault(_home(fault.path), []).append(fault)
        for found in _INDEX.finditer(fault.path):
            name = fault.path[: found.start()]
            rows[name] = max(rows.get(name, 0), int(found[1]) + 1)
    return _Sight(told, frozenset(asked), rows)


@lru_cache(maxsize=1000)
def _home(path: str) -> str:
    """The path of the field or section that a fault belongs to; "" for the file as a whole."""
    while path:
        try:
            target = target_of(path)
        except Refusal:
            shorter = _LAST_STEP.sub("", path, count=1)
            path = shorter if len(shorter) < len(path) else ""
            continue
        companions = getattr(target.kind, "companions", ())
        return target.path if target.part in companions else target.base
    return ""


def _section(part: Part, path: str, held: Any, sight: _Sight) -> FormSection:
    if part.section is None:
        raise ValueError(f"{path} is no section")
    if part.many:
        return _list(part, path, held, sight)
    return _one(part.section, path, part.key, part.title, held, sight, part.words)


def _one(
    kind: type[Section], path: str, key: str, title: str, held: Section, sight: _Sight, words: tuple[str, ...] = ()
) -> FormSection:
    leaves = next(iter(held.leaves()), None)
    alike = _alike(path, leaves)
    absent = leaves is not None and leaves.state == "none" and _absent(held)
    fields: list[FormField] = []
    sections: list[FormSection] = []
    for part in parts_of(kind):
        inner, below = getattr(held, part.name), join_key(path, part.key)
        if part.section is None:
            fields.append(_field(part, below, inner, sight, hidden=absent or bool(alike)))
        else:
            sections.append(_section(part, below, inner, sight))
    said = f"as {alike.rpartition('.')[2]}" if alike else "none" if absent else _summary(fields, sections)
    return FormSection(
        path,
        key,
        title,
        about(kind),
        said,
        tuple(fields),
        tuple(sections),
        words=words,
        as_section=alike,
        absent=absent,
        faults=tuple(sight.told.get(path, ())),
    )


def _list(part: Part, path: str, held: Rows | tuple[Section, ...], sight: _Sight) -> FormSection:
    if part.section is None:
        raise ValueError(f"{path} is no list")
    items = held.items if isinstance(held, Rows) else held
    sections = []
    last = sight.rows.get(path, 0)
    for at, item in enumerate(items):
        own = _item_path(path, at, item)
        last = max(last, int(own[len(path) + 1 : -1]) + 1)
        sections.append(_one(part.section, own, part.key, f"{part.title} {at + 1}", item, sight))
    stated = _field(part, path, held, sight) if isinstance(held, Rows) else None
    said = f"{len(items)}: " + "; ".join(each.summary for each in sections[:MOST_SAID]) if sections else ""
    summary = said or ("none" if stated is not None and stated.state == "none" else NOTHING)
    return FormSection(
        path,
        part.key,
        part.title,
        about(part.section) if stated is None else stated.ask.label,
        _cut(summary, LONGEST_SAID * MOST_SAID),
        items=tuple(sections),
        stated=stated,
        next_path=join_index(path, last),
        faults=tuple(sight.told.get(path, ())) if stated is None else (),
    )


def blank_item(path: str) -> tuple[FormField, ...]:
    """The fields of an item that is not in its list yet, by its path: `states[2]`; none where no list is meant."""
    try:
        target = target_of(f"{path}")
    except Refusal:
        return ()
    kind: type[Section] | None = Case
    for step in target.steps:
        if kind is not None and isinstance(step, str):
            kind = next((part.section for part in parts_of(kind) if part.key == step), None)
    return tuple(_blank_fields(kind, path)) if kind is not None and path.endswith("]") else ()


def _blank_fields(kind: type[Section], path: str) -> Iterator[FormField]:
    for part in parts_of(kind):
        below = join_key(path, part.key)
        if part.ask is not None and not part.many:
            yield _blank(part.ask, below, part.key)
        elif part.section is not None and not part.many:
            yield from _blank_fields(part.section, below)


def _item_path(path: str, at: int, item: Section) -> str:
    """The path of an item as the file counts it: an item that cannot be used is counted too."""
    leaf = next(iter(item.leaves()), None)
    found = _INDEX.match(leaf.path, len(path)) if leaf is not None and leaf.path.startswith(path) else None
    return join_index(path, int(found[1]) if found else at)


def _field(part: Part, path: str, leaf: Leaf, sight: _Sight, hidden: bool = False) -> FormField:
    if part.ask is None:
        raise ValueError(f"{path} is no value")
    faults = sight.told.get(path)
    asked = leaf.asked or path in sight.asked
    if leaf.state == "unknown" and leaf.place is None and not faults and not asked:
        return _blank(part.ask, path, part.key)
    said = leaf.state in ("stated", "assumed", "none") or asked
    return FormField(
        path,
        part.key,
        part.ask,
        leaf.state,
        leaf.text,
        asked,
        (said and not hidden) or leaf.state == "faulty" or bool(faults),
        leaf.by,
        leaf.note,
        leaf.source,
        _uncertainty(leaf),
        _ends(leaf, part.ask),
        tuple(faults or ()),
        tuple(_companions(part.ask, path, leaf, sight)),
        leaf.place,
        leaf.parts,
    )


@lru_cache(maxsize=4000)
def _blank(ask: Ask, path: str, key: str) -> FormField:
    companions = tuple(_blank(inner, join_key(path, name), name) for name, inner in ask.companions.items())
    return FormField(path, key, ask, companions=companions)


def _companions(ask: Ask, path: str, leaf: Leaf, sight: _Sight) -> Iterator[FormField]:
    held = leaf.companions if isinstance(leaf, Value) else {}
    for key, inner in ask.companions.items():
        part = Part(key, key, inner.label, inner)
        below = join_key(path, key)
        companion = held.get(key)
        if companion is not None:
            yield _field(part, below, companion, sight)
        else:
            faults = tuple(sight.told.get(below, ()))
            yield FormField(below, key, inner, "faulty" if faults else "unknown", shown=bool(faults), faults=faults)


def _uncertainty(leaf: Leaf) -> str:
    return leaf.uncertainty.text if isinstance(leaf, Value) and leaf.uncertainty is not None else ""


def _ends(leaf: Leaf, ask: Ask) -> str:
    if not isinstance(leaf, Value) or (leaf.low is None and leaf.high is None):
        return ""
    unit = "" if leaf.suffix.startswith("Pa") else ask.shown_in
    ends = ["open" if end is None else spell_limit(end, leaf.suffix, unit) for end in (leaf.low, leaf.high)]
    return " to ".join(ends)


def _alike(path: str, leaf: Leaf | None) -> str:
    """The section whose values are read for this one, where it is stated to be as another."""
    if leaf is None or leaf.path.startswith((f"{path}.", f"{path}[")):
        return ""
    return _LAST_STEP.sub("", leaf.path, count=1)


def _absent(held: Section) -> bool:
    """Whether one word stands for all of a section: every value is none at one place."""
    leaves = list(held.leaves())
    return all(leaf.state == "none" for leaf in leaves) and len({leaf.place for leaf in leaves}) == 1


def _summary(fields: Collection[FormField], sections: Collection[FormSection]) -> str:
    said = [_said(each) for each in fields if each.state in ("stated", "assumed")]
    said += [f"{each.title.lower()}: {each.summary}" for each in sections if each.summary != NOTHING]
    if not said:
        wrong = any(each.state == "faulty" for each in fields)
        return "to be corrected" if wrong else NOTHING
    more = f" and {len(said) - MOST_SAID} more" if len(said) > MOST_SAID else ""
    return ", ".join(_cut(each, LONGEST_SAID) for each in said[:MOST_SAID]) + more


def _said(each: FormField) -> str:
    """A value in a line of others; a word that says little alone comes with its label."""
    return f"{each.key.replace('_', ' ')} {each.text}" if each.text in ("yes", "no") else each.text


def _cut(text: str, longest: int) -> str:
    return text if len(text) <= longest else text[: longest - 3].rstrip() + "..."
