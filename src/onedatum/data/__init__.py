"""The tables that ship with the tool, read by their file names."""

import json
from functools import cache
from importlib.resources import files
from typing import Any


def text(name: str) -> str:
    """The text of one file of this folder."""
    return files(__name__).joinpath(name).read_text(encoding="utf-8")


@cache
def table(name: str) -> Any:
    """The content of one JSON file of this folder: one object for all who read it, never to be written to."""
    return json.loads(text(name))
