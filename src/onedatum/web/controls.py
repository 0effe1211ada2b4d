"""The fields of the form as HTML, each kept as it was last rendered: who types changes one of some two hundred."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache, lru_cache
from typing import Any

from markupsafe import Markup

from onedatum.case.beside import beside
from onedatum.case.form import FormField
from onedatum.web.templating import templates

KEPT = 4096
"""Fields kept; a page shows some two hundred, and each may stand in a few ways."""


class Controls:
    """Renders the fields of one page: a call gives a field with whatever it must be read with."""

    def __init__(
        self,
        name: str,
        typed: Mapping[str, str | None],
        refused: Mapping[str, str],
        changed: frozenset[str],
        open_: str,
    ) -> None:
        """`typed` and `refused`: what stands in a field though it cannot be read, and why; `open_`: the field of
        which more is shown."""
        self._name, self._typed, self._refused = name, typed, refused
        self._changed, self._open = changed, open_

    def __call__(self, field: FormField, label: str = "", alone: bool = False) -> Markup:
        """The field; one that stands alone has nothing beside it to open."""
        path = field.path
        shown = self._typed.get(path, field.text) or ""
        refused, is_open = self._refused.get(path, ""), self._open == path
        html = _one(field, label, alone, shown, refused, path in self._changed, is_open, self._name)
        if is_open:
            wrong = refused or field.faults
            html += _macros().more(field, "faulty" if wrong else field.state, self, beside)
        return Markup("").join([html, *(self(part, part.ask.label) for part in field.companions)])


@lru_cache(maxsize=KEPT)
def _one(*given: Any) -> Markup:
    html: Markup = _macros().one(*given)
    return html


@cache
def _macros() -> Any:
    return templates().get_template("field.html").module
