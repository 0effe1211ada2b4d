"""The conditions that the rules of choosing ask for, as a section of the case made from their table.

What a case states at another place is asked for there and has no second place here.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from functools import cache
from math import pi
from typing import Annotated, Any

from pydantic import create_model

from onedatum import data
from onedatum.case.kinds import Choice, Kind, Quantity
from onedatum.case.leaf import Leaf, Value, Word
from onedatum.case.reader import Absent, Notes
from onedatum.case.section import Section
from onedatum.case.tree import Branch, Node, join_key
from onedatum.foundation.errors import Fault
from onedatum.foundation.units import dimension

TABLE = "conditions.json"
YES_OR_NO = "yes or no"
YES, NO = "yes", "no"
PLACED = {"in_chamber": "in the bypass chamber", "in_pipe": "in the still pipe"}
"""Places where a condition may differ from that in the vessel."""
MOST_SI: Mapping[str, float] = {
    "angle": pi / 2,
    "conductivity": 1e8,
    "density": 20000.0,
    "force": 1e8,
    "length": 1000.0,
    "number": 1e6,
    "resistance": 1e15,
    "temperature": 1300.0,
    "temperature difference": 1000.0,
    "temperature rate": 100.0,
    "velocity": 100.0,
    "volume fraction": 1.0,
}
"""In SI: nothing larger is ever asked for."""
DIFFER = ("flow.speed", "gas.in_liquid", "temperature.process", "surface.state", "solids.kind", "vapour.kind")
"""The conditions that are asked for each place."""
SECTION = "conditions"


class Conditions(Section):
    """Base of the section: names what is stated elsewhere instead of losing it."""

    @classmethod
    def parts(cls, node: Node | Absent, notes: Notes) -> dict[str, Node | Absent]:
        """As of every section; a condition stated at the wrong place is sent to the right one."""
        if isinstance(node, Branch):
            own = set(cls.keys().values())
            sent = [key for key in node.items if key not in own and key in _elsewhere(node.path)]
            for key in sent:
                _send(node, key, notes)
            node = replace(node, items={key: part for key, part in node.items.items() if key not in sent})
        return super().parts(node, notes)


def condition_leaves(conditions: Section) -> Mapping[str, Leaf]:
    """Every leaf by the name that the rules know it by; those of another place begin with that place."""
    return {leaf.path.removeprefix(f"{SECTION}."): leaf for leaf in conditions.leaves()}


@cache
def conditions_section() -> type[Section]:
    """The section, with a section for each group of names."""
    rows = [row for row in data.table(TABLE)["asked"] if "elsewhere" not in row]
    placed = [row for row in data.table(TABLE)["asked"] if row["name"] in DIFFER]
    places = {
        place: (_section(f"Conditions {words}", [_at(row, words) for row in placed]), ...)
        for place, words in PLACED.items()
    }
    return _section("Conditions of the case", rows, places)


def _at(row: Mapping[str, Any], words: str) -> dict[str, Any]:
    return {**row, "question": f"{row['question'].rstrip('?')} ({words})?"}


def _section(name: str, rows: Sequence[Mapping[str, Any]], more: Mapping[str, Any] | None = None) -> type[Section]:
    """A section of leaves, and of a section for each first word of a name in two words."""
    groups: dict[str, list[Any]] = {}
    for row in rows:
        group, _, rest = row["name"].partition(".")
        groups.setdefault(group, []).append({**row, "name": rest or group, "alone": not rest})
    fields: dict[str, Any] = {}
    for group, members in groups.items():
        if len(members) == 1 and members[0]["alone"]:
            fields[group] = (_leaf(members[0]), ...)
        else:
            own: dict[str, Any] = {row["name"]: (_leaf(row), ...) for row in members}
            fields[group] = (
                create_model(f"{name}: {group}", __base__=Conditions, __doc__=f"{name}: {group}.", **own),
                ...,
            )
    made: type[Section] = create_model(name, __base__=Conditions, __doc__=f"{name}.", **fields, **dict(more or {}))
    return made


def _leaf(row: Mapping[str, Any]) -> Any:
    kind = _kind(row)
    return Annotated[Value if isinstance(kind, Quantity) else Word, kind]


def _kind(row: Mapping[str, Any]) -> Kind:
    if row["kind"] == "number":
        return Quantity(
            row["question"],
            row["side"],
            dimension=row["dimension"],
            allowed=_allowed(row),
            ranged=True,
            example=dimension(row["dimension"]).example,
        )
    words = (YES, NO) if row["kind"] == YES_OR_NO else tuple(row["words"])
    return Choice(row["question"], row["side"], words=words)


def _allowed(row: Mapping[str, Any]) -> str:
    most = MOST_SI[row["dimension"]]
    return f"[{row.get('least_si', -most)!r}, {most!r}]"


@cache
def stated_elsewhere() -> Mapping[str, str]:
    """Where the case states what has no place in this section, by the name that the rules know it by."""
    return {row["name"]: row["elsewhere"] for row in data.table(TABLE)["asked"] if "elsewhere" in row}


@cache
def _elsewhere(path: str) -> Mapping[str, str]:
    """Where each condition is stated that has no place at a path of the section."""
    before = path.removeprefix(SECTION).removeprefix(".")
    found = {}
    for name, where in stated_elsewhere().items():
        if name.startswith(f"{before}.") if before else True:
            key = name.removeprefix(f"{before}.") if before else name.partition(".")[0]
            found[key] = where
    return found


def _send(node: Branch, key: str, notes: Notes) -> None:
    where = _elsewhere(node.path)[key]
    place = node.key_places.get(key, node.place)
    why = "a quantity has one place in a case"
    path = join_key(node.path, key)
    notes.tell(Fault(path, f"stated at {where}", repr(key), why, place, f"Move it to {where}"))
