"""Records as the typesetter takes them: dictionaries, lists, text that the fonts hold, drawings with their words."""

from dataclasses import fields, is_dataclass
from html import unescape
from typing import Any

from onedatum.paper.text import breakable, printable

Data = dict[str, Any]


def foot_data(head: Data) -> Data:
    """What stands at the foot of every page, each part short enough for one line together."""
    longest = {"tag": 60, "case_hash": 72, "tool_version": 24}
    return {name: head[name] if len(head[name]) <= most else head[name][:most] + "…" for name, most in longest.items()}


def plain(value: object, missing: dict[str, None]) -> Any:
    """Records as dictionaries and lists, with text made printable on the way."""
    if isinstance(value, str):
        reduced = printable(value)
        missing.update(dict.fromkeys(reduced.missing))
        return breakable(reduced.text)
    if isinstance(value, tuple):
        return [plain(item, missing) for item in value]
    if is_dataclass(value):
        return {f.name: plain(getattr(value, f.name), missing) for f in fields(value)}
    return value


def drawing_data(svg: str) -> Data:
    """A drawing with the words it carries for those who cannot see it."""
    return {"svg": svg, "alt": unescape(svg.split('aria-label="', 1)[1].split('"', 1)[0])}
