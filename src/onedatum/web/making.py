"""A further page or its data, made in a worker: the view of a case, and the template that prints it."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from typing import Any

from jinja2 import Environment

from onedatum.jobs.page.made import CaseText
from onedatum.web.templating import templates


def shown(template: str, make: Callable[..., Any], case: CaseText, *arguments: Any, **beside: Any) -> str:
    """The page of the view that `make` gives, as HTML."""
    return printed(template, case, make(case, *arguments), **beside)


def printed(template: str, case: CaseText, view: Any, **beside: Any) -> str:
    """A view in its template."""
    return _environment().get_template(template).render(case=case, view=view, head=view.head, **beside)


def alone(template: str, view: Any) -> str:
    """A view that belongs to no case in its template."""
    return _environment().get_template(template).render(view=view)


@cache
def _environment() -> Environment:
    return templates()
