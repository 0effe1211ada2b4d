"""One text for one value of JSON, so that its hash can be made again anywhere.

Keys in the order of their code points, no blanks, ASCII with `\\u` escapes, numbers in the shortest form that reads
back as the same double. Not a number, infinity and what JSON has no word for are refused.
"""

from __future__ import annotations

import json
import math
from typing import Any

from onedatum.foundation.errors import StoreError

DEEPEST = 100
"""Levels of lists and objects within one another."""
LARGEST = 2**63 - 1
"""The largest whole number, which every database and most readers hold."""
LONGEST = 1_000_000
"""Characters of the text of one payload."""


def canonical(value: Any) -> str:
    """The text of a value that is known to be plain."""
    return json.dumps(value, sort_keys=True, separators=(",", ":"), ensure_ascii=True, allow_nan=False)


def payload_text(value: Any) -> str:
    """The canonical text of a payload; raises StoreError where it is not plain JSON or too long."""
    _check(value, "payload", 0)
    text = canonical(value)
    if len(text) > LONGEST:
        why = "a record holds what was found, not the files it came from"
        raise StoreError("payload", f"at most {LONGEST} characters of JSON", f"{len(text)}", why)
    return text


def _check(value: Any, path: str, depth: int) -> None:
    """Refuse what JSON would change or cannot hold."""
    if depth > DEEPEST:
        raise StoreError("payload", f"at most {DEEPEST} levels deep", "more")
    if isinstance(value, dict):
        for key, each in value.items():
            if not isinstance(key, str):
                raise StoreError(path, "an object whose keys are texts", f"a key of type {type(key).__name__}")
            _check(each, f"{path}.{key[:60]}", depth + 1)
    elif isinstance(value, list | tuple):
        for number, each in enumerate(value):
            _check(each, f"{path}.{number}", depth + 1)
    else:
        _check_plain(value, path)


def _check_plain(value: Any, path: str) -> None:
    if value is None or isinstance(value, str | bool):
        return
    if isinstance(value, int):
        if abs(value) > LARGEST:
            raise StoreError(path, "a whole number of at most 63 bits", "a larger one", remedy="write it as a text")
    elif isinstance(value, float):
        if not math.isfinite(value):
            raise StoreError(path, "a finite number", f"{value}", "JSON has no word for it", "leave it out or say null")
    else:
        allowed = "a text, a number, true, false, null, a list or an object"
        raise StoreError(path, allowed, f"a value of type {type(value).__name__}")
