"""Reading quantities: what is taken, what is refused and in which words, and that nothing else can happen."""

from __future__ import annotations

import math
import re
import subprocess
import sys
import time
from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from onedatum.foundation.errors import QuantityError
from onedatum.foundation.units import DIMENSIONS, SHARES, nearest, read_one_of, read_pressure, read_quantity

READABLE = sorted(set(DIMENSIONS) - {"pressure (either)"})
SENTENCE = re.compile(r"the value must be an? .+; got '.*'\. [^ ].*\.", re.DOTALL)
SENTENCE_WITHOUT_ARTICLE = re.compile(
    r"the value must be (acceleration|relative humidity) .+; got '.*'\. .+\.", re.DOTALL
)

# text, dimension, value in SI; each by the definition of its unit
TAKEN = [
    ("1850 mm", "length", 1.85),
    ("52.5 mm", "length", 0.0525),
    ("0.1 mm", "length", 0.0001),
    ("+7.5 mm", "length", 0.0075),
    ("-7.5 mm", "length", -0.0075),
    ("\u22127.5 mm", "length", -0.0075),
    (".5 in", "length", 0.0127),
    ("1850\u00a0mm", "length", 1.85),
    ("  1850   mm ", "length", 1.85),
    ("1.85e3 mm", "length", 1.85),
    ("5 µm", "length", 5e-6),
    ("3 ft 4 in", "length", 1.016),
    ("-3 ft 4 in", "length", -1.016),
    ("3 ft 4.5 in", "length", 1.0287),
    ("0.75 mm2", "area", 0.75e-6),
    ("0.75 mm²", "area", 0.75e-6),
    ("5 l", "volume", 0.005),
    ("5 L", "volume", 0.005),
    ("1 US gal", "volume", 0.003785411784),
    ("1 UK gal", "volume", 0.00454609),
    ("3.6 m3/h", "volume flow", 0.001),
    ("60 L/min", "volume flow", 0.001),
    ("1 US gal/min", "volume flow", 0.0000630901964),
    ("72.0 g", "mass", 0.072),
    ("15 min", "time", 900.0),
    ("998.2 kg/m3", "density", 998.2),
    ("1 g/cm3", "density", 1000.0),
    ("24 V", "voltage", 24.0),
    ("3.6 mA", "current", 0.0036),
    ("24.5 ohm/km", "resistance per length", 0.0245),
    ("0.0172 ohm.mm2/m", "resistivity", 1.72e-8),
    ("5 uS/cm", "conductivity", 5e-4),
    ("5 µS/cm", "conductivity", 5e-4),
    ("220 pF", "capacitance", 220e-12),
    ("60 pF/m", "capacitance per length", 60e-12),
    ("25 uH/ohm", "inductance per resistance", 25e-6),
    ("3.5 mPa.s", "viscosity", 0.0035),
    ("3.5 cP", "viscosity", 0.0035),
    ("16e-6 1/K", "expansion", 16e-6),
    ("16 ppm/K", "expansion", 16e-6),
    ("16 um/m/K", "expansion", 16e-6),
    ("16e-6 1/degC", "expansion", 16e-6),
    ("9.80665 m/s2", "acceleration", 9.80665),
    ("60 nC", "charge", 60e-9),
    ("180 deg", "angle", math.pi),
    ("1.01325 bar(a)", "pressure (absolute)", 101325.0),
    ("6 bar(g)", "pressure (gauge)", 6e5),
    ("-0.5 bar(g)", "pressure (gauge)", -5e4),
    ("6 barg", "pressure (gauge)", 6e5),
    ("250 mbar", "pressure difference", 25000.0),
    ("200 GPa", "stress", 2e11),
    ("44", "number", 44.0),
    ("1.2e0", "number", 1.2),
    ("68.0 %vol", "volume fraction", 0.68),
    ("60.3 %mass", "mass fraction", 0.603),
    ("-5 %value", "share of value", -0.05),
    ("0.1 %span", "share of span", 0.001),
    ("95 %capacity", "share of capacity", 0.95),
    ("60 %RH", "relative humidity", 0.6),
]  # fmt: skip


@pytest.mark.parametrize(("text", "kind", "value"), TAKEN)
def test_a_quantity_is_read_in_si(text: str, kind: str, value: float) -> None:
    assert read_quantity(text, kind) == value


# text, dimension, what the answer must say
REFUSED = [
    # numbers
    ("7,5 mm", "length", "Write 7.5 mm"),
    ("1,000 mm", "length", "Write 1.000 or 1000, as is meant"),
    ("1 000 mm", "length", "Write 1000 mm"),
    ("1\u00a0000 mm", "length", "Write 1000 mm"),
    ("1'000 mm", "length", "Write 1000 mm"),
    ("1_000 mm", "length", "Write 1000 mm"),
    ("1 000 000 mm", "length", "Write 1000000 mm"),
    ("inf mm", "length", "finite"),
    ("-Infinity mm", "length", "finite"),
    ("nan", "number", "finite"),
    ("1e400 m", "length", "from -30 to 30"),
    ("1e31 m", "length", "from -30 to 30"),
    ("1e-31 m", "length", "from -30 to 30"),
    ("1e99999999999999999999 m", "length", "from -30 to 30"),
    ("0x10 mm", "length", "no unit"),
    ("٣ mm", "length", "Digits are 0 to 9"),
    ("５ mm", "length", "Digits are 0 to 9"),
    ("9**9**9 mm", "length", "nothing is calculated"),
    ("2*3 mm", "length", "nothing is calculated"),
    ("4 1/2 in", "length", "4.5 for 4 1/2"),
    ("1/2 in", "length", "nothing is calculated"),
    ("--5 mm", "length", "does not begin with a number"),
    ("mm", "length", "does not begin with a number"),
    ("1e3", "length", "The unit is missing"),
    ("1e mm", "length", "no unit"),
    ("1.2.3 mm", "length", "no unit"),
    ("5 ± 1 mm", "length", "within"),
    ("5-10 mm", "length", "{min: ..., max: ...}"),
    ("5 to 10 mm", "length", "{min: ..., max: ...}"),
    ("<5 mm", "length", "begins with <"),
    ("24V", "voltage", "Write 24 V"),
    ("5 mm\x00", "length", "control character"),
    ("5 mm\x1b[31m", "length", "control character"),
    ("5\u202emm", "length", "control character"),
    ("", "length", "Nothing is written"),
    ("1" * 61, "number", "at most 60"),
    ("1 " + "m" * 1_000_000, "length", "at most 60"),
    # units
    ("1850", "length", "The unit is missing"),
    ("5 mm mm", "length", "twice"),
    ("2.4 V", "length", "V is a unit of voltage; a length is written in mm, m"),
    ("5 mm", "time", "mm is a unit of length; a time is written in s"),
    ("3 m3", "area", "m3 is a unit of volume"),
    ("44 mm", "number", "none is wanted"),
    ("24 Volz", "voltage", "Write V, if that is meant"),
    ("24 Volts", "voltage", "Write V, if that is meant"),
    ("5 MM", "length", "Write mm, if that is meant"),
    ("3 hours", "time", "Write h, if that is meant"),
    ("3 ins", "length", "is no unit known here"),
    ("3 kin", "length", "is no unit known here"),
    ("0.1 ohm mm2/m", "resistivity", "Write ohm.mm2/m"),
    ('9 "', "length", "Write in"),
    ('9"', "length", "Write in"),
    ("9'", "length", "Write ft"),
    ("3.5 ft 4 in", "length", "whole number"),
    ("3 ft 14 in", "length", "less than 12"),
    ("5 gal", "volume", "Write US gal or UK gal"),
    ("5 gal/min", "volume flow", "Write US gal or UK gal"),
    ("5 US_gal", "mass", "US gal is a unit of volume"),
    ("5 ton", "mass", "Write t for 1000 kg"),
    ("20 C", "temperature", "Write degC"),
    ("20 F", "temperature", "Write degF"),
    ("16e-6 1/C", "expansion", "Write degC"),
    ("1e-9 F", "capacitance", "pF or nF"),
    ("-300 degC", "temperature", "below absolute zero"),
    ("5 delta_F", "temperature", "no scale of temperature"),
    ("5 m", "temperature", "m is a unit of length"),
    # pressures
    ("1 bar", "pressure (gauge)", "1 bar(g) if above the atmosphere, 1 bar(a) if above vacuum"),
    ("15 psi", "pressure (absolute)", "15 psi(g) if above the atmosphere"),
    ("1 bar(a)", "pressure (gauge)", "absolute pressure; a gauge pressure is written in bar(g)"),
    ("1 bar(g)", "pressure (absolute)", "gauge pressure; an absolute pressure is written in bar(a)"),
    ("1 bar(g)", "pressure difference", "Write bar without (g)"),
    ("-1 bar(a)", "pressure (absolute)", "Nothing is below vacuum"),
    ("10 inH2O", "pressure difference", "Write inH2O(4 degC), (20 degC) or (60 degF)"),
    ("1 bar(g)", "length", "gauge pressure; a length"),
    ("1 bar(x)", "pressure (gauge)", "is no unit"),
    # per cents
    ("68 %", "volume fraction", "Write %vol"),
    ("68 %", "length", "Write one of %vol, %mass"),
    ("68 %mass", "volume fraction", "mass fraction; a volume fraction is written in %vol"),
    ("68 % vol", "volume fraction", "Write %vol"),
    ("68 vol%", "volume fraction", "Write %vol"),
    ("0.1 % of span", "share of span", "Write %span"),
    ("0.1 %FS", "share of span", "%span or %capacity"),
    ("0.5", "volume fraction", "The unit is missing"),
    ("5 mm", "volume fraction", "mm is a unit of length"),
    ("5 %vol", "length", "volume fraction; a length"),
    ("5 %foo", "length", "one of %vol"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "kind", "said"), REFUSED)
def test_what_is_no_quantity_is_refused_in_words(text: str, kind: str, said: str) -> None:
    with pytest.raises(QuantityError) as caught:
        read_quantity(text, kind)
    assert said in f"{caught.value.why}. {caught.value.remedy}"
    assert SENTENCE.fullmatch(str(caught.value))
    assert caught.value.allowed == DIMENSIONS[kind].allowed
    assert caught.value.got.isprintable()


def test_the_commonest_refusal_word_for_word() -> None:
    with pytest.raises(QuantityError) as caught:
        read_quantity("2.4 V", "length")
    assert str(caught.value) == (
        "the value must be a length with its unit, for example 1850 mm; got '2.4 V'. "
        "But V is a unit of voltage; a length is written in mm, m, cm, um, in or ft."
    )


@pytest.mark.parametrize("kind", READABLE)
def test_a_bare_number_is_never_proposed_with_a_unit(kind: str) -> None:
    """A wrong proposal would be taken over unread: 2.4 V must not become 2.4 mm."""
    if kind == "number":
        return
    for text in ("987654", "987654 kg.K2"):
        with pytest.raises(QuantityError) as caught:
            read_quantity(text, kind)
        assert "987654" not in caught.value.why + caught.value.remedy + caught.value.allowed


def test_pressures_say_what_they_count_from() -> None:
    assert read_pressure("6 bar(g)") == (600000.0, "gauge")
    assert read_pressure("1.01325 bar(a)") == (101325.0, "absolute")
    for text in ("6 bar", "6 mm", "6", "6 bar(x)"):
        with pytest.raises(QuantityError) as caught:
            read_pressure(text)
        assert "gauge or absolute pressure" in str(caught.value)


def test_a_text_may_be_of_several_kinds() -> None:
    assert read_one_of("2 mm", ["length", "share of value"]) == (0.002, "length")
    assert read_one_of("0.5 %value", ["length", "share of value"]) == (0.005, "share of value")
    with pytest.raises(QuantityError, match="a length or a share of value, for example 1850 mm; got '2 V'"):
        read_one_of("2 V", ["length", "share of value"])


def test_the_programmers_slips_are_no_users_errors() -> None:
    with pytest.raises(ValueError, match="lenght"):
        read_quantity("1 mm", "lenght")
    with pytest.raises(ValueError, match="read_pressure"):
        read_quantity("1 bar(g)", "pressure (either)")
    with pytest.raises(ValueError, match="no dimension"):
        read_one_of("1 mm", [])


@pytest.mark.parametrize("kind", READABLE)
def test_every_unit_offered_and_every_example_is_read(kind: str) -> None:
    """What a message tells people to write must be right."""
    for unit in DIMENSIONS[kind].offered:
        assert math.isfinite(read_quantity(f"1 {unit}", kind))
    assert math.isfinite(read_quantity(DIMENSIONS[kind].example, kind))


PIECES = st.sampled_from(
    ["1", "7.5", "-", "+", "e", "1e3", ",", ".", " ", "mm", "m", "3", "/", "(", ")", "*", "**", "%", "%vol", "bar",
     "psi", "(g)", "(a)", "degC", "°C", "F", "ft", "in", "US gal", "µ", "²", "inf", "nan", "_", "'", '"', "±",
     "\x00", "10"]
)  # fmt: skip
TEXTS = st.one_of(st.text(), st.lists(PIECES, max_size=12).map("".join), st.lists(PIECES, max_size=9).map(" ".join))


def answered(text: str, kind: str) -> float | QuantityError:
    try:
        return read_quantity(text, kind)
    except QuantityError as error:
        return error


@given(TEXTS, st.sampled_from(READABLE))
@example("1 F/F", "number")
@example("1 1/1", "length")
@example("1 1", "length")
@example("9 delta_C", "temperature")
def test_any_text_gives_a_finite_number_or_the_one_error(text: str, kind: str) -> None:
    answer = answered(text, kind)
    if isinstance(answer, float):
        assert math.isfinite(answer)
    else:
        assert SENTENCE.fullmatch(str(answer)) or SENTENCE_WITHOUT_ARTICLE.fullmatch(str(answer))
        assert answer.got.isprintable()


@given(st.decimals(-(10**12), 10**12, places=6), st.sampled_from(["mm", "m", "in", "km", "um"]))
def test_a_number_is_read_to_the_nearest_float(value: Decimal, unit: str) -> None:
    factor = {"mm": "0.001", "m": "1", "in": "0.0254", "km": "1000", "um": "0.000001"}[unit]
    assert read_quantity(f"{value:f}"[:50] + f" {unit}", "length") == float(Fraction(str(value)) * Fraction(factor))


def test_hostile_texts_are_refused_at_once() -> None:
    """Each within 10 ms, the first of all readings (which loads the units library) apart."""
    read_quantity("1 mm", "length")
    hostile = ["9**9**9 mm", "1e400 m", "1 " + "m" * 10**6, "1" * 10**6, "(" * 60, "1 " + "m/" * 29, "1 " + "%" * 58,
               "1 " + "mm.mm." * 9, "1 m" + "(" * 50, "1," * 30, "1 000" * 12, " " * 60, "1 " + "_" * 58]  # fmt: skip
    for text in hostile:
        best = math.inf
        for _ in range(3):
            start = time.process_time()
            with pytest.raises(QuantityError):
                read_quantity(text, "length")
            best = min(best, time.process_time() - start)
        assert best < 0.010, text[:40]


def test_importing_the_room_loads_no_units_library() -> None:
    code = (
        "import sys; import onedatum.foundation.units as u; u.show(1.85, 'mm'); u.unit_of_name('level_m');"
        "print([name for name in ('pint', 'numpy', 'scipy', 'pydantic') if name in sys.modules]);"
        "u.read_quantity('3 g/mm3', 'density'); print('pint' in sys.modules)"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.split("\n")[:2] == ["[]", "True"]


def test_nearest_word() -> None:
    assert nearest("acuracy", ["accuracy", "height"]) == "accuracy"
    assert nearest("HEIGHT", ["accuracy", "height"]) == "height"
    assert nearest("zzz", ["accuracy", "height"]) is None
    assert nearest("", ["accuracy"]) is None
    assert nearest("a" * 10**6, ["a" * 60]) is None


def test_every_kind_of_per_cent_keeps_to_itself() -> None:
    for unit, kind in SHARES.items():
        for other in set(SHARES.values()) - {kind}:
            with pytest.raises(QuantityError, match=re.escape(unit)):
                read_quantity(f"1 {unit}", other)
