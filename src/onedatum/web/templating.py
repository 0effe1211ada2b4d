"""The templates of the pages: whatever is put into them is escaped."""

from __future__ import annotations

from datetime import UTC, datetime
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


def moment(time: str) -> str:
    """A moment in universal time, to the minute, as it is read: 2026-11-26 09:40 UTC; other texts stay as they are."""
    try:
        return datetime.fromisoformat(time).astimezone(UTC).strftime("%Y-%m-%d %H:%M UTC")
    except ValueError:
        return time


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
    made.filters["moment"] = moment
    made.filters["of_field"] = of_field
    made.globals["tool_version"] = VERSION
    return made
