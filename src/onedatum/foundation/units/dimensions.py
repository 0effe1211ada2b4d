"""The kinds of quantity a case can state: their word, their SI unit, the units offered, an example."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from onedatum.foundation.units.suffix import same_quantity


@dataclass(frozen=True)
class Dimension:
    """One kind of quantity: what people call it and how it is written."""

    word: str
    si: str
    """The SI unit, written as `unit_of_name` writes it."""
    offered: tuple[str, ...]
    """Units named to people, the commonest first."""
    example: str
    """A number with its unit, as a case would state it."""
    shown: str
    """The unit that results are shown in unless another is asked for."""

    @property
    def named(self) -> str:
        """The word with its article."""
        word = _SAID.get(self.word, self.word)
        return word if word in _WITHOUT_ARTICLE else f"{'an' if word[0] in 'aeio' else 'a'} {word}"

    @property
    def allowed(self) -> str:
        """What a value must be, for the sentence of an error."""
        if self.word == "number":
            return f"a plain number without a unit, for example {self.example}"
        return f"{self.named} with its unit, for example {self.example}"


_SAID = {
    "pressure (absolute)": "absolute pressure",
    "pressure (gauge)": "gauge pressure",
    "pressure (either)": "gauge or absolute pressure",
}
_WITHOUT_ARTICLE = frozenset({"acceleration", "relative humidity"})

_TABLE = (
    # word, SI unit, units offered, example, unit shown
    ("length", "m", "mm m cm um in ft", "1850 mm", "mm"),
    ("area", "m2", "mm2 cm2 m2 in2 ft2", "0.75 mm2", "mm2"),
    ("volume", "m3", "m3 L mL cm3 US~gal UK~gal ft3", "5.6 m3", "m3"),
    ("second moment of area", "m4", "mm4 cm4 m4", "1018 mm4", "mm4"),
    ("mass", "kg", "kg g mg t lb", "72 g", "kg"),
    ("time", "s", "s ms us min h d", "15 min", "s"),
    ("temperature", "K", "degC degF K", "20 degC", "degC"),
    ("temperature difference", "K", "K degC degF", "0.5 K", "K"),
    ("temperature rate", "K/s", "K/min K/h K/s", "5 K/min", "K/min"),
    ("density", "kg/m3", "kg/m3 g/cm3 kg/L lb/ft3 lb/US~gal", "998.2 kg/m3", "kg/m3"),
    ("pressure (absolute)", "Pa(a)", "bar(a) mbar(a) kPa(a) Pa(a) MPa(a) psi(a)", "1.01325 bar(a)", "bar(a)"),
    ("pressure (gauge)", "Pa(g)", "bar(g) mbar(g) kPa(g) Pa(g) MPa(g) psi(g)", "6 bar(g)", "bar(g)"),
    (
        "pressure difference",
        "Pa",
        "mbar kPa Pa bar psi inH2O(4~degC) inH2O(20~degC) inH2O(60~degF) mmH2O(4~degC)",
        "250 mbar",
        "mbar",
    ),
    ("pressure (either)", "Pa", "bar(g) bar(a) kPa(g) kPa(a) psi(g) psi(a)", "6 bar(g)", "bar(g)"),
    ("pressure per length", "Pa/m", "Pa/m kPa/m Pa/mm mbar/m psi/ft", "8.3 kPa/m", "kPa/m"),
    ("stress", "Pa", "MPa GPa N/mm2 kPa psi", "200 GPa", "MPa"),
    ("voltage", "V", "V mV kV", "24 V", "V"),
    ("current", "A", "mA uA A", "21.5 mA", "mA"),
    ("resistance", "ohm", "ohm mohm kohm Mohm", "250 ohm", "ohm"),
    ("resistance per length", "ohm/m", "ohm/km ohm/m ohm/kft", "24.5 ohm/km", "ohm/km"),
    ("resistivity", "ohm.m", "ohm.m ohm.cm ohm.mm2/m", "0.0172 ohm.mm2/m", "ohm.m"),
    ("conductance", "S", "uS mS S", "20 uS", "uS"),
    ("conductivity", "S/m", "uS/cm mS/cm S/m mS/m pS/m", "5 uS/cm", "uS/cm"),
    ("capacitance", "F", "pF nF uF", "220 pF", "pF"),
    ("capacitance per length", "F/m", "pF/m nF/km pF/ft", "60 pF/m", "pF/m"),
    ("inductance", "H", "mH uH", "0.1 mH", "mH"),
    ("inductance per length", "H/m", "uH/m mH/km", "0.7 uH/m", "uH/m"),
    ("inductance per resistance", "H/ohm", "uH/ohm mH/ohm", "25 uH/ohm", "uH/ohm"),
    ("magnetic flux density", "T", "mT T", "5 mT", "mT"),
    ("magnetic moment", "A.m2", "A.m2", "1.8 A.m2", "A.m2"),
    ("flux density per length", "T/m", "T/m", "5 T/m", "T/m"),
    ("charge", "A.s", "nC uC A.s", "60 nC", "nC"),
    ("energy", "J", "mJ uJ J kJ", "0.2 mJ", "mJ"),
    ("power", "W", "W mW kW", "1 W", "W"),
    ("force", "N", "N mN kN lbf", "3.5 N", "N"),
    ("force per length", "N/m", "N/m mN/m kN/m", "72 mN/m", "N/m"),
    ("drag per velocity", "N.s/m", "N.s/m", "11 N.s/m", "N.s/m"),
    ("bending stiffness", "N.m2", "N.m2", "102 N.m2", "N.m2"),
    ("length per density", "m4/kg", "m4/kg", "-5e-5 m4/kg", "m4/kg"),
    ("mass per length", "kg/m", "kg/m g/m lb/ft", "0.25 kg/m", "kg/m"),
    ("volume flow", "m3/s", "m3/h L/min L/h m3/s US~gal/min", "1.2 m3/h", "m3/h"),
    ("mass flow", "kg/s", "kg/h t/h kg/s lb/h", "900 kg/h", "kg/h"),
    ("velocity", "m/s", "m/s mm/s mm/min m/h ft/s", "5 mm/s", "m/s"),
    ("acceleration", "m/s2", "m/s2 ft/s2", "9.80665 m/s2", "m/s2"),
    ("time per length", "s/m", "us/m us/in us/mm", "360 us/m", "us/m"),
    ("viscosity", "Pa.s", "mPa.s Pa.s cP", "3.5 mPa.s", "mPa.s"),
    ("kinematic viscosity", "m2/s", "mm2/s cSt m2/s", "1.0 mm2/s", "mm2/s"),
    ("expansion", "1/K", "1/K ppm/K 1/degC 1/degF", "16e-6 1/K", "1/K"),
    ("frequency", "Hz", "Hz kHz MHz GHz", "50 Hz", "Hz"),
    ("rate", "1/s", "1/h 1/min 1/s 1/d 1/a", "2 1/a", "1/h"),
    ("angle", "rad", "deg rad", "2 deg", "deg"),
    ("thermal conductivity", "W/(m.K)", "W/(m.K) W/m/K", "15 W/(m.K)", "W/(m.K)"),
    ("specific heat", "J/(kg.K)", "J/(kg.K) kJ/(kg.K)", "4186 J/(kg.K)", "J/(kg.K)"),
    ("number", "", "", "1.2", ""),
    ("volume fraction", "", "%vol", "68 %vol", "%vol"),
    ("mass fraction", "", "%mass", "60.3 %mass", "%mass"),
    ("share of span", "", "%span", "0.1 %span", "%span"),
    ("share of capacity", "", "%capacity", "95 %capacity", "%capacity"),
    ("share of value", "", "%value", "0.5 %value", "%value"),
    ("relative humidity", "", "%RH", "60 %RH", "%RH"),
)


def _dimension(word: str, si: str, offered: str, example: str, shown: str) -> Dimension:
    return Dimension(word, si, tuple(unit.replace("~", " ") for unit in offered.split()), example, shown)


DIMENSIONS: Mapping[str, Dimension] = MappingProxyType({row[0]: _dimension(*row) for row in _TABLE})
"""Every kind of quantity by its word."""

SHARES: Mapping[str, str] = MappingProxyType(
    {kind.offered[0]: kind.word for kind in DIMENSIONS.values() if "%" in kind.shown}
)
"""The per cents by kind, and the dimension of each."""


def dimension(word: str) -> Dimension:
    """The dimension of that word; `ValueError` for a word that is not in the table."""
    try:
        return DIMENSIONS[word]
    except KeyError:
        raise ValueError(f"no dimension is called {word!r}") from None


def dimension_of_unit(si_unit: str) -> Dimension | None:
    """The first dimension that is measured in that canonical SI unit, or None; "" is a plain number."""
    candidates = (kind for kind in DIMENSIONS.values() if kind.word not in SHARES.values())
    return next((kind for kind in candidates if same_quantity(kind.si, si_unit)), None)
