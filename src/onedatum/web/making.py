"""A further page or its data, made in a worker: the view of a case, and the template that prints it."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from typing import Any, TypeVar

from jinja2 import Environment

from onedatum.foundation.errors import OnedatumError
from onedatum.jobs.page.made import CaseText
from onedatum.web.templating import templates

View = TypeVar("View")


class Refused(OnedatumError):
    """Why a view could not be made: one sentence, which is all that comes back from another process."""


def viewed(make: Callable[..., View], *arguments: Any) -> View:
    """The view that `make` gives; raises Refused."""
    try:
        return make(*arguments)
    except OnedatumError as error:
        raise Refused(str(error)) from None


def shown(template: str, make: Callable[..., Any], case: CaseText, *arguments: Any, **beside: Any) -> str:
    """The page of a view as HTML; raises Refused."""
    return printed(template, case, viewed(make, case, *arguments), **beside)


def printed(template: str, case: CaseText, view: Any, **beside: Any) -> str:
    """A view in its template."""
    return _environment().get_template(template).render(case=case, view=view, head=view.head, **beside)


@cache
def _environment() -> Environment:
    return templates()
