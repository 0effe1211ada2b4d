"""A new case: every key of the model with its title, an example, and `unknown` to be overwritten."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from typing import Any, get_args

from onedatum.case.kinds import Choice, Kind, Listing, Quantity
from onedatum.case.model import Case
from onedatum.case.section import Section, section_of

HEAD = """\
# A case of onedatum: one measuring point.
# Every value is a number with its unit, a word from the list beside it, `unknown` (it will be asked for) or `none`.
# Long form: {value: 14 degC, within: 0.5 K, min: 5 degC, max: 35 degC}
#   basis: assumed, by: who, note: why, source: where from
#   uncertainty: u (standard), within (half-width; form: rectangular, triangular or arcsine), or U with k;
#   degrees_of_freedom beside u or U, where they come from few readings
# A section may be kept in a file beside the case: {file: floats.yaml, entry: F-52}
"""
_FIRST = {"onedatum": "1", "invented": "no"}
_COLUMN = 46


@cache
def skeleton() -> str:
    """The text of a new case; it reads without a fault."""
    return HEAD + "\n" + "\n".join(_section(Case, 0)) + "\n"


def _section(section: type[Section], depth: int) -> Iterator[str]:
    for name, info in section.model_fields.items():
        key = f"{'  ' * depth}{info.alias or name}:"
        kind = next((item for item in info.metadata if isinstance(item, Kind)), None)
        inner = section_of(info.annotation)
        if kind is not None:
            stated = f"{key} {_FIRST.get(name, 'unknown')}"
            yield f"{stated:<{_COLUMN}} # {_hint(kind)}"
        elif inner is not None and _is_list(info.annotation):
            yield from ("", f"{key}")
            first, *rest = _section(inner, depth + 2)
            yield f"{'  ' * (depth + 1)}- {first.strip()}"
            yield from rest
        elif inner is not None:
            yield from ("",) if depth == 0 else ()
            yield key
            yield from _section(inner, depth + 1)


def _is_list(annotation: Any) -> bool:
    return bool(get_args(annotation))


def _hint(kind: Kind) -> str:
    side = " (ours to choose)" if kind.side == "instrument" else ""
    if isinstance(kind, Listing):
        return f"{kind.title}{side}: none | a list, each with {', '.join(kind.of.keys().values())}"
    if isinstance(kind, Choice):
        return f"{kind.title}{side}: {' | '.join(kind.words)}"
    if isinstance(kind, Quantity):
        examples = " | ".join((kind.stated_like, *kind.words))
        return f"{kind.title}{side}, for example {examples}"
    return f"{kind.title}{side}"
