"""The form as HTML, its fields and sections kept as they were last rendered: who types changes one of many."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache, lru_cache
from typing import Any

from markupsafe import Markup

from onedatum.case.beside import beside
from onedatum.case.form import FormField, FormSection, blank_item
from onedatum.jobs.page.form import FormView
from onedatum.web.templating import templates

KEPT = 4096
"""Fields kept; a page shows some two hundred, and each may stand in a few ways."""
KEPT_SECTIONS = 1000
_SECTIONS: dict[tuple[FormSection, Any], Markup] = {}
"""By section, each itself alone, and how it looks."""


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
        self._moved = {*typed, *refused, *changed, *([open_] if open_ else [])}

    def _moves(self, section: FormSection) -> bool:
        """Whether anything in a section is tried, refused or open."""
        own = {field.path for field in section.fields} if not section.path else set()
        within = (section.path, f"{section.path}.", f"{section.path}[")
        return any(path in own if own else path == within[0] or path.startswith(within[1:]) for path in self._moved)

    def section(self, section: FormSection, form: FormView, every: str) -> Markup:
        """A section; `every` is the key of the one of which every value is shown."""
        key = section.path or section.key
        whole, add = every == key, form.add if form.add.startswith(section.key) else ""
        look = (section.path in form.open or whole, whole, add, self._name)
        moves = self._moves(section)
        found = None if moves else _SECTIONS.get((section, look))
        if found is not None:
            return found
        html: Markup = _of("section.html").one(section, look[0], whole, form, self._name, self, blank_item)
        if not moves:
            if len(_SECTIONS) >= KEPT_SECTIONS:
                _SECTIONS.clear()
            _SECTIONS[section, look] = html
        return html

    def __call__(self, field: FormField, label: str = "", alone: bool = False) -> Markup:
        """The field; one that stands alone has nothing beside it to open."""
        path = field.path
        shown = self._typed.get(path, field.text) or ""
        refused, is_open = self._refused.get(path, ""), self._open == path
        html = _one(field, label, alone, shown, refused, path in self._changed, is_open, self._name)
        if is_open:
            wrong = refused or field.faults
            html += _of("field.html").more(field, "faulty" if wrong else field.state, self, beside)
        return Markup("").join([html, *(self(part, part.ask.label) for part in field.companions)])


class FormHtml:
    """The sections of a form, each a piece of its own: what stands in the form is where it belongs."""

    def __init__(self, control: Controls, form: FormView, every: str) -> None:
        """`every` is the key of the section of which every value is shown."""
        self._control, self._form, self._every = control, form, every
        self.pieces: dict[str, str] = {}
        """What was asked for, by the id of its element."""

    def __call__(self, section: FormSection) -> Markup:
        """Where a section belongs."""
        name = f"s-{section.path or section.key}"
        self.pieces[name] = self._control.section(section, self._form, self._every).strip()
        return Markup(f"<!--piece {name}-->")


@lru_cache(maxsize=KEPT)
def _one(*given: Any) -> Markup:
    html: Markup = _of("field.html").one(*given)
    return html


@cache
def _of(template: str) -> Any:
    """The macros of a template."""
    return templates().get_template(template).module
