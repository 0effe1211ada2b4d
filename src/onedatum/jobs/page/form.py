"""The form of the case on its page: the sections as they are stated, with what the study asks for shown."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache

from onedatum.case.form import FormField, FormSection, fields
from onedatum.jobs.page.made import Made

FIRST_OPEN = ("vessel", "medium")
"""Sections that stand open at first, beside those that hold something wrong or tried."""


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
    first: Mapping[str, str]
    """By state of knowing the path of the first value in it."""
    nothing: frozenset[str]
    """Sections of the file that say nothing and are not asked for: they stand together at the end."""
    add: str = ""
    """The item that is added to a list, by its path."""


def form_view(made: Made, add: str = "") -> FormView:
    """The form of the case; `add` is the path of an item that is not there yet."""
    asked = {each.path for each in made.study.questions}
    sections = fields(made.study.statement, asked)
    told = [_told(section) for section in sections]
    return FormView(
        sections=sections,
        open=frozenset(_open(sections, made)),
        said=frozenset(path for each in told for path in each.said),
        stated=sum(each.stated for each in told),
        assumed=sum(each.assumed for each in told),
        unknown=sum(each.unknown for each in told),
        first={state: path for each in reversed(told) for state, path in each.first.items()},
        nothing=frozenset(_silent(sections, add)),
        add=add,
    )


@dataclass(frozen=True)
class _Told:
    """What is told of one section, whatever else the page shows."""

    stated: int
    assumed: int
    unknown: int
    first: Mapping[str, str]
    said: tuple[str, ...]
    silent: bool
    faulty: bool
    paths: frozenset[str]


@lru_cache(maxsize=1000)
def _told(section: FormSection) -> _Told:
    """Kept with the section: most of them stay from one change to the next."""
    every = list(section.every_field())
    held = section.faults or section.absent or section.as_section or section.items
    return _Told(
        stated=sum(field.state == "stated" for field in every),
        assumed=sum(field.state == "assumed" for field in every),
        unknown=sum(field.asked and field.state == "unknown" for field in every),
        first={field.state: field.path for field in reversed(every) if field.shown},
        said=tuple(_said((section,))),
        silent=not held and not any(field.shown for field in every_path(section)),
        faulty=bool(section.faults) or any(field.faults for field in every),
        paths=frozenset(field.path for field in every),
    )


def _silent(sections: tuple[FormSection, ...], add: str) -> Iterator[str]:
    """Sections of which nothing is stated, asked for or wrong."""
    for section in sections:
        if _told(section).silent and not add.startswith(section.key):
            yield section.path or section.key


def every_path(section: FormSection) -> Iterator[FormField]:
    """Every field of a section, with what its values must be read with; lists that may be none are fields too."""
    for each in section.every_section():
        for field in (*each.fields, *((each.stated,) if each.stated else ())):
            yield field
            yield from field.companions


def _open(sections: tuple[FormSection, ...], made: Made) -> Iterator[str]:
    moved = {*made.refused, *(path for path, _ in made.changes)}
    for section in sections:
        told = _told(section)
        if section.path in FIRST_OPEN or told.faulty or not moved.isdisjoint(told.paths):
            yield section.path


def _said(sections: tuple[FormSection, ...]) -> Iterator[str]:
    for section in sections:
        if section.faults or section.items or any(field.shown for field in section.every_field()):
            yield section.path
            yield from _said(section.sections)
