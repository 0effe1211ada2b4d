"""What may stand beside a value, as fields of a form: how well it is known, its ends, on what basis it stands.

The same for every value of one kind; paths are those that `case.edit` takes, such as `medium.temperature.within`.
"""

from __future__ import annotations

from functools import lru_cache

from onedatum.case.asking import Ask
from onedatum.case.form import FormField
from onedatum.case.tree import join_key
from onedatum.foundation.working import State

_LABELS = {
    "min": "least",
    "max": "greatest",
    "within": "known within",
    "form": "spread within it",
    "u": "standard uncertainty u",
    "U": "expanded uncertainty U",
    "k": "coverage factor k",
    "degrees_of_freedom": "degrees of freedom",
    "basis": "basis",
    "by": "by",
    "note": "note",
    "source": "source",
}
_WORDS = {"form": ("rectangular", "triangular", "arcsine"), "basis": ("stated", "assumed")}
_RANGE = ("min", "max")
_UNCERTAINTY = ("within", "form", "u", "U", "k", "degrees_of_freedom")
_BASIS = ("basis", "by", "note", "source")


def beside(field: FormField) -> tuple[FormField, ...]:
    """The fields of what stands beside a value, filled with what stands there; of a list, none."""
    if field.ask.form == "list":
        return ()
    told = {**dict(field.parts), "by": field.by, "note": field.note, "source": field.source}
    told["basis"] = field.state if field.state in ("stated", "assumed") else ""
    found = (_part(field.ask, key) for key in _keys(field.ask))
    return tuple(
        FormField(join_key(field.path, ask_key), ask_key, ask, _state(told.get(ask_key, "")), told.get(ask_key, ""))
        for ask_key, ask in found
    )


def _state(text: str) -> State:
    """Nothing beside a value is nothing that is missing."""
    return "stated" if text else "none"


def _keys(ask: Ask) -> tuple[str, ...]:
    numbers = (*(_RANGE if ask.ranged else ()), *_UNCERTAINTY) if ask.form == "quantity" else ()
    return (*numbers, *_BASIS)


@lru_cache(maxsize=100)
def _ask(side: str, key: str) -> Ask:
    words = _WORDS.get(key, ())
    return Ask(_LABELS[key], side, "choice" if words else "text", words)  # type: ignore[arg-type]


def _part(ask: Ask, key: str) -> tuple[str, Ask]:
    return key, _ask(ask.side, key)
