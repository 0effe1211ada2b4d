"""A section of a case: a mapping whose leaves and sections are read one by one, none of them stopping the others."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from functools import cached_property
from typing import Any, Self, get_args

from pydantic import (
    BaseModel,
    ConfigDict,
    GetJsonSchemaHandler,
    ModelWrapValidatorHandler,
    ValidationInfo,
    model_validator,
)
from pydantic_core import CoreSchema

from onedatum.case.leaf import Leaf, Rows
from onedatum.case.reader import Absent, Notes, refuse_key
from onedatum.case.tree import Branch, Node, join_key
from onedatum.case.tree import Leaf as Scalar

NONE = "none"
"""In place of a section: nothing of it is there, so every leaf of it states absence."""


KEPT = 3000
"""Sections kept as they were read; a case has some 140."""
_READ: dict[Any, tuple[Node | Absent, Section]] = {}
"""Sections without a fault by their class and the node they were read from: who types changes one of them at a time.

What a section says turns on its node alone, and a node is never written to. The node is kept with it, so that no other
comes to bear its number.
"""


class Section(BaseModel):
    """Base of every section; a key left away is a leaf that is unknown, a key too many is a fault."""

    model_config = ConfigDict(
        frozen=True, extra="forbid", arbitrary_types_allowed=True, validate_by_alias=True, defer_build=True
    )

    @classmethod
    def keys(cls) -> dict[str, str]:
        """The keys as they stand in the file, by field name."""
        return {name: info.alias or name for name, info in cls.model_fields.items()}

    @model_validator(mode="wrap")
    @classmethod
    def _open(cls, node: Any, handler: ModelWrapValidatorHandler[Self], info: ValidationInfo) -> Self:
        notes: Notes = info.context  # type: ignore[assignment]
        key = (cls, id(node)) if isinstance(node, Branch) else (cls, node.path) if isinstance(node, Absent) else None
        kept = _READ.get(key)
        if kept is not None and (kept[0] is node or isinstance(node, Absent)):
            return kept[1]  # type: ignore[return-value]
        count = notes.count
        section = handler(cls.parts(node, notes))
        if key is not None and notes.count == count:
            if len(_READ) > KEPT:
                _READ.clear()
            _READ[key] = (node, section)
        return section

    @classmethod
    def parts(cls, node: Node | Absent, notes: Notes) -> dict[str, Node | Absent]:
        """The node of every key; what is missing stands as absent, what has no place is noted."""
        keys = cls.keys().values()
        if isinstance(node, Branch):
            for key in node.items:
                if key not in keys:
                    refuse_key(node, key, tuple(keys), notes)
            return {key: node.items.get(key, Absent(join_key(node.path, key))) for key in keys}
        if isinstance(node, Scalar) and node.text.strip() == NONE:
            return {key: replace(node, path=join_key(node.path, key)) for key in keys}
        if not isinstance(node, Absent) and not (isinstance(node, Scalar) and node.text.strip() in ("", "unknown")):
            got = repr(node.text) if isinstance(node, Scalar) else "a list"
            notes.fault(node, f"a mapping with the keys {', '.join(keys)}", got)
        return {key: Absent(join_key(node.path, key)) for key in keys}

    @classmethod
    def __get_pydantic_json_schema__(cls, core: CoreSchema, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        """Every key may be left away; the section may be unknown, or kept in a file beside the case."""
        written = handler(core)
        schema = handler.resolve_ref_schema(written)
        schema.pop("required", None)
        schema.pop("type", None)
        schema["properties"] |= {key: {"type": "string"} for key in ("file", "entry")}
        schema["anyOf"] = [{"type": "object"}, {"enum": ["unknown", NONE, None]}]
        return written

    def leaves(self) -> tuple[Leaf, ...]:
        """Every leaf of the section and of the sections in it, in the order of the model."""
        return self._leaves

    @cached_property
    def _leaves(self) -> tuple[Leaf, ...]:
        """Walked once: a study asks for them two dozen times."""
        return tuple(self._walked())

    def _walked(self) -> Iterator[Leaf]:
        for name in type(self).model_fields:
            part = getattr(self, name)
            for each in part if isinstance(part, tuple) else (part,):
                if isinstance(each, Section):
                    yield from each.leaves()
                elif isinstance(each, Leaf):
                    yield each
                    for item in each.items if isinstance(each, Rows) else ():
                        yield from item.leaves()

    def model_copy(self, *, update: Mapping[str, Any] | None = None, deep: bool = False) -> Self:
        """A copy with other parts in it has other leaves."""
        copy = super().model_copy(update=update, deep=deep)
        copy.__dict__.pop("_leaves", None)
        return copy


def section_of(annotation: Any) -> type[Section] | None:
    """The section a field holds, one or a list of them."""
    for candidate in (annotation, *get_args(annotation)):
        if isinstance(candidate, type) and issubclass(candidate, Section):
            return candidate
    return None
