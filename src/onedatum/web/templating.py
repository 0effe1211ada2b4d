"""The templates of the pages: whatever is put into them is escaped."""

from __future__ import annotations

from typing import Any
from urllib.parse import quote

from jinja2 import Environment, PackageLoader, StrictUndefined, select_autoescape

from onedatum.foundation.constants import VERSION


def part(text: Any) -> str:
    """A text as one part of an address."""
    return quote(str(text), safe="")


def templates() -> Environment:
    """The templates; whatever is put into them is escaped."""
    made = Environment(
        loader=PackageLoader("onedatum.web"),
        autoescape=select_autoescape(default=True, default_for_string=True),
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    made.filters["part"] = part
    made.globals["tool_version"] = VERSION
    return made
