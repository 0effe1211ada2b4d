"""How well a number is known, as a case states it: u, within, or U with k, and what kind of spread that is."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from math import inf
from typing import get_args

from onedatum.case.reader import Notes, Stated
from onedatum.case.tree import Leaf, Node
from onedatum.foundation.units import hint
from onedatum.foundation.working import Bounded, Uncertainty

UNCERTAINTY_KEYS = ("u", "within", "U", "k", "form", "degrees_of_freedom")
_WIDTHS = ("u", "within", "U")
_FORMS: Mapping[str, Bounded] = {form: form for form in get_args(Bounded)}
_COMPANIONS = {
    "k": (("U",), "u and within carry no coverage factor"),
    "form": (("within",), "u and U are of a normal form"),
    "degrees_of_freedom": (("u", "U"), "what ends at a half-width is known beyond doubt"),
}
"""What may stand beside a width only: beside which, and why."""

Read = Callable[[Node], float | None]


def uncertainty_of(stated: Stated, notes: Notes, size: Read, number: Read) -> Uncertainty | None:
    """The uncertainty stated with a number; `size` reads a width in its unit, `number` a plain number."""
    given = [key for key in _WIDTHS if key in stated.parts]
    _refuse_strays(stated, given, notes)
    if not given:
        return None
    node = stated.parts[given[0]]
    if len(given) > 1:
        notes.fault(node, "one of u, within, U", ", ".join(given), "one number, one statement of its uncertainty")
        return None
    width = size(node)
    text = f"{given[0]} {getattr(node, 'text', '')}"
    count_before = notes.count
    freedom, form = _freedom(stated, notes, number), _form(stated, notes)
    if width is None or notes.count > count_before:
        return None
    if given[0] == "within":
        return Uncertainty.within(width, text if form == "rectangular" else f"{text}, {form}", form)
    text += f", {freedom:g} degrees of freedom" if freedom < inf else ""
    if given[0] == "u":
        return Uncertainty(width, "normal", text, freedom)
    k = number(stated.parts["k"]) if "k" in stated.parts else None
    if notes.count > count_before:
        return None
    if k is None or k <= 0:
        notes.fault(node, "given with its coverage factor, for example k: 2", text, "U without k says nothing")
        return None
    return Uncertainty.expanded(width, k, f"{text}, k = {k:g}", freedom)


def _refuse_strays(stated: Stated, given: list[str], notes: Notes) -> None:
    """What belongs to another way of stating an uncertainty."""
    for key, (owners, why) in _COMPANIONS.items():
        if key in stated.parts and not set(owners) & set(given):
            owner = " or ".join(owners)
            notes.fault(stated.parts[key], f"stated with the {owner} it belongs to", f"{key} without {owner}", why)


def _freedom(stated: Stated, notes: Notes, number: Read) -> float:
    node = stated.parts.get("degrees_of_freedom")
    found = None if node is None else number(node)
    if found is not None and found < 1:
        notes.fault(
            stated.parts["degrees_of_freedom"], "1 or more", f"{found:g}", "one reading says nothing of a spread"
        )
    return inf if found is None else found


def _form(stated: Stated, notes: Notes) -> Bounded:
    node = stated.parts.get("form")
    if node is None:
        return "rectangular"
    text = node.text.strip() if isinstance(node, Leaf) else ""
    if text not in _FORMS:
        notes.fault(node, f"one of: {'; '.join(_FORMS)}", repr(text), "", hint(text, _FORMS))
    return _FORMS.get(text, "rectangular")
