"""The templates of the pages: whatever is put into them is escaped."""

from __future__ import annotations

from typing import Any
from urllib.parse import quote

from jinja2 import Environment, PackageLoader, StrictUndefined, select_autoescape

from onedatum.foundation.constants import VERSION


def part(text: Any) -> str:
    """A text as one part of an address."""
    return quote(str(text), safe="")


def of_field(sentence: str, path: str, label: str) -> str:
    """A complaint about the value of a field, by the label of the field instead of its path in the file."""
    if not sentence.startswith((f"{path} ", f"{path}.value ")):
        return sentence
    return f"{label[:1].upper()}{label[1:]} {sentence.partition(' ')[2]}"


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
    made.filters["of_field"] = of_field
    made.globals["tool_version"] = VERSION
    return made
