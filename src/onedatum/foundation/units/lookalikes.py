"""Units that look like something else, and spellings that are not ours: refused by name, with what to write."""

from __future__ import annotations

from onedatum.foundation.units.dimensions import SHARES, Dimension
from onedatum.foundation.units.grammar import SIGNS, GrammarError

_TWO_MEANINGS: dict[str, tuple[str, str]] = {
    "C": ("C may be the degree Celsius or the coulomb", "Write degC for a temperature, nC, uC or A.s for a charge"),
    "F": ("F may be the degree Fahrenheit or the farad", "Write degF for a temperature, pF or nF for a capacitance"),
    "gal": ("The US gallon and the UK gallon differ by a fifth", "Write US gal or UK gal"),
    "GPM": ("The US gallon and the UK gallon differ by a fifth", "Write US gal/min or UK gal/min"),
    "ton": ("A ton may be metric, long or short", "Write t for 1000 kg, or lb"),
    "tons": ("A ton may be metric, long or short", "Write t for 1000 kg, or lb"),
    "oz": ("An ounce may be a mass or a volume", "Write g or mL"),
    "M": ("M alone may be metre, mega or minute", "Write m or min"),
    "mn": ("mn may be minute or a slip", "Write min"),
    "mil": ("mil may be a thousandth of an inch or a millimetre", "Write in or mm"),
    "mmHg": ("A column of liquid is a pressure only at a stated density", "Write mbar, kPa or psi"),
    "inHg": ("A column of liquid is a pressure only at a stated density", "Write mbar, kPa or psi"),
    "mHO": (
        "A column of water is a pressure only at a stated temperature",
        "Write mH2O(4 degC), (20 degC) or (60 degF)",
    ),
    "mmHO": (
        "A column of water is a pressure only at a stated temperature",
        "Write mmH2O(4 degC), (20 degC) or (60 degF)",
    ),
    "inHO": (
        "A column of water is a pressure only at a stated temperature",
        "Write inH2O(4 degC), (20 degC) or (60 degF)",
    ),
    "inWC": (
        "A column of water is a pressure only at a stated temperature",
        "Write inH2O(4 degC), (20 degC) or (60 degF)",
    ),
    "ftHO": (
        "A column of water is a pressure only at a stated temperature",
        "Write ftH2O(4 degC), (20 degC) or (60 degF)",
    ),
    "kgf": ("kgf is no SI unit", "Write N"),
    "atm": ("atm is not read", "Write 1.01325 bar(a) for one standard atmosphere"),
    "at": ("at is not read", "Write bar(a) or bar(g)"),
    "ata": ("ata is not read", "Write bar(a)"),
    "atg": ("atg is not read", "Write bar(g)"),
    "kp": ("kp is no SI unit", "Write N"),
}
"""By name (digits left out): why it is refused, and what to write."""

_SHARES_BY_HABIT: dict[str, str] = {
    "vol%": "%vol", "%v/v": "%vol", "%abv": "%vol", "%volume": "%vol", "%byvolume": "%vol", "vol.%": "%vol",
    "%vol.": "%vol", "wt%": "%mass", "%wt": "%mass", "mass%": "%mass", "%m/m": "%mass", "%w/w": "%mass",
    "%bymass": "%mass", "%byweight": "%mass", "%ofspan": "%span", "%ofvalue": "%value", "%ofreading": "%value",
    "%reading": "%value", "%rdg": "%value", "%ofrate": "%value", "%o.r.": "%value", "%ofcapacity": "%capacity",
    "%full": "%capacity", "%rh": "%RH", "%r.h.": "%RH",
    "%fs": "%span or %capacity, as is meant", "%f.s.": "%span or %capacity, as is meant",
    "%offs": "%span or %capacity, as is meant", "%fullscale": "%span or %capacity, as is meant",
}  # fmt: skip
"""Usual ways to write a per cent, without spaces and in small letters, and ours."""


def refuse_sign(unit: str) -> None:
    """Refuse a unit that begins with a mere sign."""
    if unit[0] in SIGNS:
        raise GrammarError(*SIGNS[unit[0]])


def refuse_name(name: str) -> None:
    """Refuse one unit name that has two meanings."""
    if name in _TWO_MEANINGS:
        raise GrammarError(*_TWO_MEANINGS[name])


def refuse_per_cent(unit: str, wanted: Dimension) -> None:
    """Refuse a per cent that does not say of what, or says it in another spelling."""
    if "%" not in unit or unit in SHARES:
        return
    if unit == "%":
        which = wanted.offered[0] if wanted.word in SHARES.values() else f"one of {', '.join(SHARES)}"
        raise GrammarError("A bare % does not say of what", f"Write {which}")
    habit = unit.replace(" ", "").lower()
    ours = next((share for share in SHARES if share.lower() == habit), _SHARES_BY_HABIT.get(habit))
    raise GrammarError(
        f"{unit!r} is not how a per cent is written here", f"Write {ours or 'one of ' + ', '.join(SHARES)}"
    )
