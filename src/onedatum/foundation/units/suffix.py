"""Units in names: the one list of suffixes, and the unit that a name therefore carries.

Every dimensional parameter, field, key and result of a formula ends in its SI unit: an underscore multiplies,
`per` divides everything behind it. A name without a suffix is dimensionless.

    level_m                      m
    density_kg_per_m3            kg/m3
    viscosity_Pa_s               Pa.s
    heat_capacity_J_per_kg_K     J/(kg.K)
    alpha_per_K                  1/K
    pressure_Pa_abs              Pa(a)    above vacuum
    pressure_Pa_gauge            Pa(g)    above the atmosphere
    pressure_difference_Pa       Pa       a difference, a stress, a modulus: no reference

The first word of a name is never a unit (`m_kg` is a mass called m, `K` a plain number), so single-letter symbols
stay usable. Part and state around a name do not matter: `float.immersion_m[hottest]` is in m.
"""

from __future__ import annotations

import re
from functools import cache

BASE = ("m", "kg", "s", "A", "K", "mol", "rad")
"""The order of the exponents below. An angle is kept apart from a plain number on purpose."""

TOKENS: dict[str, tuple[int, ...]] = {
    "m": (1, 0, 0, 0, 0, 0, 0),
    "kg": (0, 1, 0, 0, 0, 0, 0),
    "s": (0, 0, 1, 0, 0, 0, 0),
    "A": (0, 0, 0, 1, 0, 0, 0),
    "K": (0, 0, 0, 0, 1, 0, 0),
    "mol": (0, 0, 0, 0, 0, 1, 0),
    "rad": (0, 0, 0, 0, 0, 0, 1),
    "Hz": (0, 0, -1, 0, 0, 0, 0),
    "N": (1, 1, -2, 0, 0, 0, 0),
    "Pa": (-1, 1, -2, 0, 0, 0, 0),
    "J": (2, 1, -2, 0, 0, 0, 0),
    "W": (2, 1, -3, 0, 0, 0, 0),
    "V": (2, 1, -3, -1, 0, 0, 0),
    "ohm": (2, 1, -3, -2, 0, 0, 0),
    "S": (-2, -1, 3, 2, 0, 0, 0),
    "F": (-2, -1, 4, 2, 0, 0, 0),
    "H": (2, 1, -2, -2, 0, 0, 0),
    "T": (0, 1, -2, -1, 0, 0, 0),
}
"""The units that a name may end in; each may carry a power from 2 to 6 (`m3`, `s2`)."""

REFERENCES = {"abs": "(a)", "gauge": "(g)"}
"""What may follow `Pa`: a pressure above vacuum, a pressure above the atmosphere."""

_TOKEN = re.compile(rf"({'|'.join(sorted(TOKENS, key=len, reverse=True))})([2-6])?")
_AROUND = re.compile(r"\[[^\]]*\]$")


def unit_of_name(name: str) -> str:
    """The SI unit that a name carries in its suffix, in the canonical writing; "" for a dimensionless one."""
    return _split(name)[1]


def name_without_unit(name: str) -> str:
    """The name without its unit: `density_kg_per_m3` gives `density`. Part and state are kept."""
    return _split(name)[0]


def same_quantity(unit: str, other: str) -> bool:
    """Whether two canonical SI units measure the same: `Pa.s` and `N.s/m2` do, `Pa`, `Pa(a)` and `Pa(g)` do not."""
    return unit == other or exponents(unit) == exponents(other)


@cache
def exponents(unit: str) -> tuple[str, tuple[int, ...]]:
    """Pressure reference and exponents over `BASE` of a canonical SI unit; `ValueError` if it is not one."""
    reference = unit[-3:] if unit in ("Pa(a)", "Pa(g)") else ""
    above, _, below = unit.removesuffix(reference).partition("/")
    if below.startswith("(") and below.endswith(")"):
        below = below[1:-1]
    total = [0] * len(BASE)
    for part, sign in ((above, 1), (below, -1)):
        for token in part.split(".") if part not in ("", "1") else ():
            for place, exponent in enumerate(_token_exponents(token, unit)):
                total[place] += sign * exponent
    return reference, tuple(total)


def _token_exponents(token: str, unit: str) -> tuple[int, ...]:
    found = _TOKEN.fullmatch(token)
    if found is None:
        raise ValueError(f"{unit!r} is not an SI unit as names carry it: {token!r} is unknown")
    power = int(found[2] or 1)
    return tuple(power * exponent for exponent in TOKENS[found[1]])


@cache
def _split(name: str) -> tuple[str, str]:
    """The name without its suffix, and the unit of the suffix."""
    state = _AROUND.search(name)
    bare = name[: state.start()] if state else name
    part, dot, last = bare.rpartition(".")
    words = last.split("_")
    start = _suffix_start(words)
    unit = _written(words[start:])
    return f"{part}{dot}{'_'.join(words[:start])}{state[0] if state else ''}", unit


def _suffix_start(words: list[str]) -> int:
    """Where the longest suffix begins that is a unit; the first word is never part of it."""
    for start in range(1, len(words)):
        if _is_suffix(words[start:]):
            return start
    return len(words)


def _is_suffix(words: list[str]) -> bool:
    """Whether the words are units, `per` before a unit each time, and a reference only behind a lone `Pa`."""
    if len(words) == 2 and words[0] == "Pa" and words[1] in REFERENCES:
        return True
    tokens = [word for word in words if word != "per"]
    followed = all(after != "per" for word, after in zip(words, [*words[1:], "per"], strict=True) if word == "per")
    return bool(tokens) and followed and all(_TOKEN.fullmatch(word) for word in tokens)


def _written(words: list[str]) -> str:
    """The canonical writing of a suffix: `J_per_kg_K` gives `J/(kg.K)`."""
    if not words:
        return ""
    if words[-1] in REFERENCES:
        return words[0] + REFERENCES[words[-1]]
    first_per = words.index("per") if "per" in words else len(words)
    above = ".".join(words[:first_per]) or "1"
    below = [word for word in words[first_per:] if word != "per"]
    if not below:
        return above
    return f"{above}/{below[0]}" if len(below) == 1 else f"{above}/({'.'.join(below)})"
