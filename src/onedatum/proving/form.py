"""The one JSON form of plan, run and judged result: plain dictionaries that a store can keep, and the way back.

`{"onedatum": "run", "form": 1, ...}`; every dimensional key ends in its unit; times are ISO 8601. What is read back is
checked as strictly as anything from outside: no key too many, none too few, no number that is none.
"""

from __future__ import annotations

import types
from collections.abc import Mapping
from dataclasses import fields, is_dataclass
from datetime import datetime
from math import isfinite
from typing import Any, Literal, Union, get_args, get_origin, get_type_hints

from onedatum.foundation.errors import Fault, ProvingError
from onedatum.proving.judged import Judged
from onedatum.proving.points import Plan
from onedatum.proving.readings import Run

FORM = 1
"""Version of this form."""
Record = Plan | Run | Judged
_KINDS: Mapping[str, type[Record]] = {"plan": Plan, "run": Run, "judged": Judged}
_MOST_ITEMS, _MOST_TEXT, _DEEPEST = 20_000, 10_000, 6


def as_data(record: Record) -> dict[str, Any]:
    """A plan, a run or a judged result as plain data."""
    kind = next(word for word, of in _KINDS.items() if isinstance(record, of))
    return {"onedatum": kind, "form": FORM, **_plain(record)}


def from_data(data: Mapping[str, Any]) -> Record:
    """A plan, a run or a judged result from plain data; raises ProvingError for what is none."""
    if not isinstance(data, Mapping):
        raise _refused("record", "a mapping of keys", data)
    kind = data.get("onedatum")
    if not isinstance(kind, str) or kind not in _KINDS:
        raise _refused("record.onedatum", f"one of {', '.join(_KINDS)}", kind)
    if data.get("form") != FORM or isinstance(data.get("form"), bool):
        why = "this version of the tool reads no other"
        raise _refused("record.form", f"{FORM}", data.get("form"), why)
    rest = {key: value for key, value in data.items() if key not in ("onedatum", "form")}
    record: Record = _record(_KINDS[kind], rest, kind)
    return record


def _plain(value: Any) -> Any:
    if is_dataclass(value):
        return {field.name: _plain(getattr(value, field.name)) for field in fields(value)}
    if isinstance(value, datetime):
        return value.isoformat()
    if isinstance(value, tuple | list):
        return [_plain(each) for each in value]
    if isinstance(value, Mapping):
        return {key: _plain(each) for key, each in value.items()}
    return value


_HINTS: dict[type[Any], Mapping[str, Any]] = {}


def _hints(of: type[Any]) -> Mapping[str, Any]:
    if of not in _HINTS:
        _HINTS[of] = get_type_hints(of)
    return _HINTS[of]


def _record(of: type[Any], data: Any, path: str) -> Any:
    if not isinstance(data, Mapping):
        raise _refused(path, "a mapping of keys", data)
    names = [field.name for field in fields(of)]
    if unknown := sorted(str(key) for key in data if key not in names):
        raise _refused(f"{path}.{unknown[0][:40]}", f"no key, or one of {', '.join(names)}", "another")
    if missing := [name for name in names if name not in data]:
        raise _refused(f"{path}.{missing[0]}", "stated", None)
    return of(**{name: _value(_hints(of)[name], data[name], f"{path}.{name}") for name in names})


def _value(hint: Any, value: Any, path: str) -> Any:
    origin = get_origin(hint)
    if origin in (Union, types.UnionType):
        (inner,) = (each for each in get_args(hint) if each is not type(None))
        return None if value is None else _value(inner, value, path)
    if origin is Literal:
        if value not in get_args(hint) or not isinstance(value, str):
            raise _refused(path, f"one of {', '.join(map(str, get_args(hint)))}", value)
        return value
    if origin is tuple:
        return _items(get_args(hint)[0], value, path)
    if origin is not None and issubclass(origin, Mapping):
        if not isinstance(value, Mapping):
            raise _refused(path, "a mapping of keys", value)
        return _free(value, path, _DEEPEST)
    if is_dataclass(hint):
        return _record(hint if isinstance(hint, type) else type(hint), value, path)
    return _SCALARS[hint](value, path)


def _free(value: Any, path: str, depth: int) -> Any:
    """What stands in an entry of a sheet: whatever JSON knows, but finite and not without end."""
    if value is None or isinstance(value, bool):
        return value
    if isinstance(value, Mapping | list | tuple):
        if depth == 0 or len(value) > _MOST_ITEMS:
            raise _refused(path, f"at most {_DEEPEST} deep and {_MOST_ITEMS} long", type(value).__name__)
        if isinstance(value, Mapping):
            return {_text(key, path): _free(each, f"{path}.{key}"[:200], depth - 1) for key, each in value.items()}
        return [_free(each, path, depth - 1) for each in value]
    if isinstance(value, str):
        return _text(value, path)
    _number(value, path)
    return value


def _items(hint: Any, value: Any, path: str) -> tuple[Any, ...]:
    if not isinstance(value, list | tuple) or len(value) > _MOST_ITEMS:
        raise _refused(path, f"a list of at most {_MOST_ITEMS}", value)
    return tuple(_value(hint, each, f"{path}[{number}]") for number, each in enumerate(value))


def _number(value: Any, path: str) -> float:
    if isinstance(value, bool) or not isinstance(value, int | float) or abs(value) > 1e300 or not isfinite(value):
        raise _refused(path, "a finite number", value)
    return float(value)


def _count(value: Any, path: str) -> int:
    if isinstance(value, bool) or not isinstance(value, int) or abs(value) > _MOST_ITEMS:
        raise _refused(path, f"a whole number up to {_MOST_ITEMS}", value)
    return value


def _text(value: Any, path: str) -> str:
    if not isinstance(value, str) or len(value) > _MOST_TEXT:
        raise _refused(path, f"a text of at most {_MOST_TEXT} letters", value)
    return value


def _time(value: Any, path: str) -> datetime:
    try:
        return datetime.fromisoformat(_text(value, path))
    except ValueError:
        raise _refused(path, "a time as 2026-11-20T09:30+00:00", value) from None


_SCALARS: Mapping[Any, Any] = {float: _number, int: _count, str: _text, datetime: _time}


def _refused(path: str, allowed: str, value: Any, why: str = "") -> ProvingError:
    got = "nothing" if value is None else f"{type(value).__name__} {str(value)[:40]!r}"
    return ProvingError([Fault(path, allowed, got, why, remedy="Bring back the record as it was kept")])
