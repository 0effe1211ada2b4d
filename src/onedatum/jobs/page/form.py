"""The form of the case on its page: the sections as they are stated, with what the study asks for shown."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from onedatum.case.form import FormField, FormSection, fields
from onedatum.jobs.page.made import Made

FIRST_OPEN = ("vessel", "medium")
"""Sections that stand open at first, beside those that hold something wrong or unknown."""


@dataclass(frozen=True)
class FormView:
    """The sections of the case, and how many of the values that count are known how."""

    sections: tuple[FormSection, ...]
    open: frozenset[str]
    said: frozenset[str]
    """Sections that hold something stated, asked for or wrong; the others stand behind the rest."""
    stated: int
    assumed: int
    unknown: int


def form_view(made: Made) -> FormView:
    """The form of the case."""
    asked = {each.path for each in made.study.questions}
    sections = fields(made.study.statement, asked)
    every = [field for section in sections for field in section.every_field()]
    return FormView(
        sections=sections,
        open=frozenset(_open(sections, made)),
        said=frozenset(_said(sections)),
        stated=sum(field.state == "stated" for field in every),
        assumed=sum(field.state == "assumed" for field in every),
        unknown=sum(field.asked and field.state == "unknown" for field in every),
    )


def every_path(section: FormSection) -> Iterator[FormField]:
    """Every field of a section, with what its values must be read with; lists that may be none are fields too."""
    for each in section.every_section():
        for field in (*each.fields, *((each.stated,) if each.stated else ())):
            yield field
            yield from field.companions


def _open(sections: tuple[FormSection, ...], made: Made) -> Iterator[str]:
    for section in sections:
        wrong = any(field.faults or field.path in made.refused for field in section.every_field())
        if section.path in FIRST_OPEN or wrong or section.faults:
            yield section.path


def _said(sections: tuple[FormSection, ...]) -> Iterator[str]:
    for section in sections:
        if section.faults or section.items or any(field.shown for field in section.every_field()):
            yield section.path
            yield from _said(section.sections)
