"""The numbers that the rules read, in the study of the three scenarios.

`verdicts.json` holds them as an independent script worked them from the same inputs; its stand-ins are no numbers to
be met. Where the study counts something that the script did not, the reason stands beside the number.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from functools import cache
from math import log, pi, sqrt
from pathlib import Path
from typing import Any

import pytest

from onedatum.case.reading import read_case_text
from onedatum.study.choosing.numbers import fact_of_entries
from onedatum.study.result import Study
from onedatum.study.study import study
from onedatum.verdicts import Knowledge, Verdict
from onedatum.verdicts.rules import Fact, Facts, quantities
from tests.closeness import close
from tests.study.variants import EXAMPLES, text_with

REFERENCE = Path(__file__).resolve().parents[1] / "reference" / "verdicts.json"
SCENARIOS: Mapping[str, Any] = json.loads(REFERENCE.read_text(encoding="utf-8"))["scenarios"]
FILES = {"A": "spirit_receiver.yaml", "B": "caustic_tank.yaml", "C": "steam_drum.yaml"}

# How far the study may lie from the script, as a share, and why.
AGREES: dict[str, dict[str, tuple[str, float]]] = {
    "A": {
        "alarm.critical_current_margin": ("magnetostrictive", 0.01),
        "alarm.fail_current_margin": ("magnetostrictive", 0.001),
        "alarm.high_to_critical": ("radar", 0.001),
        "alarm.high_to_range": ("magnetostrictive", 0.005),
        "budget.corrected_share": ("magnetostrictive", 0.001),
        "density.gas_ratio": ("radar", 0.001),
        "error.allowed_percent": ("radar", 0.001),
        "error.distance_percent": ("radar", 0.001),
        "ex.surface_margin": ("radar", 0.001),
        "ex.surface_percent": ("radar", 0.001),
        "float.density_ratio": ("magnetostrictive", 0.002),
        "float.immersion_share": ("magnetostrictive", 0.001),
        "float.nozzle_margin": ("magnetostrictive", 0.001),
        "head.span": ("radar", 0.001),
        "nozzle.float_gap": ("magnetostrictive", 0.001),
        "probe.loss_tangent": ("capacitive-bare", 0.001),
        "radar.path_share": ("radar", 0.001),
        "radar.range": ("radar", 0.001),
        "radar.reflected_power": ("radar", 0.001),
        "sound.gradient_share": ("ultrasonic", 0.001),
        "stem.headroom_margin": ("magnetostrictive", 0.001),
        "stem.length": ("magnetostrictive", 0.001),
        # The script took 2.85 m of liquid, the study the highest level wanted, 2.80 m.
        "head.density_share": ("hydrostatic", 0.02),
        # The script let the alarm stand at the level of its own rounding, the study at that of its sheet.
        "alarm.high_current_margin": ("magnetostrictive", 0.04),
    },
    "B": {
        "alarm.critical_current_margin": ("radar", 0.001),
        "alarm.high_current_margin": ("capacitive-reference", 0.001),
        "alarm.high_to_critical": ("radar", 0.001),
        "chamber.setting_margin": ("bypass", 0.001),
        "error.allowed_percent": ("radar", 0.001),
        "error.distance_percent": ("radar", 0.001),
        "head.span": ("displacer", 0.001),
        "probe.headroom_margin": ("capacitive-reference", 0.001),
        "probe.length": ("capacitive-reference", 0.001),
        "probe.loss_tangent": ("capacitive-bare", 0.001),
        "probe.span_capacitance": ("capacitive-reference", 0.001),
        "radar.path_share": ("radar", 0.001),
        "radar.range": ("radar", 0.001),
        "radar.reflected_power": ("radar", 0.001),
        "reference.wall_to_spacing": ("capacitive-reference", 0.001),
        "sound.gradient_share": ("ultrasonic", 0.001),
    },
    "C": {
        "chamber.boiling_margin": ("bypass", 0.001),
        "density.gas_ratio": ("displacer", 0.001),
        "error.allowed_percent": ("radar", 0.001),
        "float.density_ratio": ("bypass", 0.001),
        "head.density_share": ("displacer", 0.002),
        "head.span": ("displacer", 0.001),
        "leg.head_to_span": ("differential-pressure", 0.001),
        "medium.reduced_temperature": ("capacitive-high-temperature", 0.001),
        "probe.loss_tangent": ("capacitive-bare", 0.005),
        "radar.reflected_power": ("radar", 0.001),
        "taps.distance": ("bypass", 0.001),
        # The script took permittivities rounded to 26.7 and 43.3; by the release they are 26.74 and 43.66.
        "probe.slope_share": ("capacitive-bare", 0.02),
    },
}


@cache
def studied(key: str) -> Study:
    return study(read_case_text(text_with(example=EXAMPLES / FILES[key]), FILES[key], EXAMPLES))


def changed(key: str, *changes: tuple[str, str]) -> Study:
    return study(read_case_text(text_with(*changes, example=EXAMPLES / FILES[key]), FILES[key], EXAMPLES))


def facts(found: Study, state: int = 0) -> Facts:
    assert found.choosing is not None
    return found.choosing.matrix.states[state]


def worst(name: str, fact: Fact, expected: float) -> float:
    """The end of the range that lies nearer to what the script gives: its worst state."""
    return min((fact.low, fact.high), key=lambda value: abs(value - expected))


@pytest.mark.parametrize(("key", "name"), [(key, name) for key, rows in AGREES.items() for name in rows])
def test_a_number_of_the_study_is_that_of_the_script(key: str, name: str) -> None:
    principle, share = AGREES[key][name]
    expected = quantities()[name].in_si(SCENARIOS[key]["numbers"][name]["value"])
    fact = facts(studied(key)).of(principle, name)
    assert fact.known
    close(worst(name, fact, expected), expected, share * abs(expected), "worked independently from the same inputs")


@pytest.mark.parametrize("key", FILES)
def test_every_number_stands_on_the_sheet_with_its_source(key: str) -> None:
    found, told = studied(key), 0
    for state in range(len(found.choosing.matrix.states) if found.choosing else 0):
        here = facts(found, state)
        for name, fact in [*here.stated.items(), *(pair for own in here.of_principle.values() for pair in own.items())]:
            if quantities()[name].kind != "computed":
                continue
            told += 1
            entry = found.sheet[fact.entry]
            assert entry.known
            assert entry.source is not None or entry.inputs or entry.path, name
            assert entry.meaning
    assert told > 30


def test_of_the_sheets_own_entries_where_a_chapter_has_worked_them() -> None:
    here = facts(studied("A"))
    assert here.of("magnetostrictive", "stem.length").entry == "stem.length"
    assert here.of("magnetostrictive", "float.density_ratio").entry.startswith("float.density_ratio[")
    assert here.of("radar", "radar.path_share").entry == "choosing.radar.path_share[normal]"


# ---------------------------------------------------------------- whose number it is


def test_the_stem_does_not_answer_for_a_rod() -> None:
    here = facts(studied("A"))
    for principle in ("capacitive-bare", "capacitive-coated", "guided-radar", "bypass"):
        assert not here.of(principle, "stem.length").known
        assert not here.of(principle, "probe.length").known
        assert not here.of(principle, "range.uncovered").known
        assert not here.of(principle, "float.density_ratio").known


def test_a_rod_answers_for_its_own_kind_alone() -> None:
    here = facts(studied("B"))
    assert here.of("capacitive-reference", "probe.length").known
    for principle in ("capacitive-bare", "capacitive-coated", "magnetostrictive"):
        assert not here.of(principle, "probe.length").known
        assert not here.of(principle, "probe.span_capacitance").known
        assert not here.of(principle, "probe.active").known


def test_the_frequency_alone_makes_no_rod() -> None:
    found = studied("A")
    assert found.measuring.probe is None
    assert "probe.core_radius" not in found.sheet
    assert facts(found).of("capacitive-bare", "probe.loss_tangent").known
    without = changed("A", ("  frequency: 100 kHz\n", ""))
    assert facts(without).of("capacitive-bare", "probe.loss_tangent").knowledge is Knowledge.OURS


# ---------------------------------------------------------------- what is not known


@pytest.mark.parametrize(
    ("old", "new", "principle", "name", "knowledge"),
    [
        ("  error_allowed_of_level: 15 mm\n", "", "radar", "radar.path_share", Knowledge.ASK),
        (", gas_difference: 15 K", "", "ultrasonic", "sound.gradient_share", Knowledge.ASK),
        (
            "{value: 5 uS/cm, basis: assumed, by: case writer,",
            "{value: unknown,",
            "capacitive-bare",
            "probe.loss_tangent",
            Knowledge.ASK,
        ),
        ("    bore: 16.0 mm\n", "", "magnetostrictive", "float.lag_share", Knowledge.OURS),
    ],
)
def test_a_number_whose_inputs_are_not_known_is_left_out(
    old: str, new: str, principle: str, name: str, knowledge: Knowledge
) -> None:
    found = changed("A", (old, new))
    fact = facts(found).of(principle, name)
    assert fact.knowledge is knowledge
    assert f"choosing.{name}" not in found.sheet


def test_no_usual_figure_makes_a_number_known() -> None:
    """The limits of the build are the usual ones in the example; the stem is judged by them, the principle is not."""
    found = studied("A")
    assert found.sheet["instrument.build.temperature_max"].state == "assumed"
    assert facts(found).of("magnetostrictive", "build.temperature_margin").knowledge is Knowledge.OURS
    assert found.sheet["accuracy.expanded"].rests_on_assumed
    stated = changed(
        "A", ("    hot_neck: no\n", "    hot_neck: no\n    temperature_max: 120 degC\n    temperature_min: -20 degC\n")
    )
    close(facts(stated).of("magnetostrictive", "build.temperature_margin").low, 25.0, 1e-6, "5 degC above -20 degC")


def test_one_limit_alone_excludes_and_does_not_pass() -> None:
    hot = changed("A", ("    hot_neck: no\n", "    hot_neck: no\n    temperature_max: 30 degC\n"))
    close(facts(hot).of("magnetostrictive", "build.temperature_margin").low, -5.0, 1e-6, "35 degC against 30 degC")
    cool = changed("A", ("    hot_neck: no\n", "    hot_neck: no\n    temperature_max: 90 degC\n"))
    assert facts(cool).of("magnetostrictive", "build.temperature_margin").knowledge is Knowledge.OURS


# ---------------------------------------------------------------- uncertainty


def test_twice_the_standard_uncertainty_beneath_a_number() -> None:
    """Chamber at 150 degC known to u = 5 K: 0.36 mm of the vessel per kelvin at 350 mm (worked independently).

    In the chamber that is less by its factor, 0.86322, and at the end of the range, 650 mm, more by the height.
    """
    fact = facts(studied("C")).of("bypass", "chamber.density_share")
    per_kelvin = 0.00036 * 0.86322 * 650 / 350
    expected = 2 * 5 * per_kelvin / 0.015
    close(fact.half, expected, 0.03 * expected, "printed to two digits")
    share = facts(studied("C")).of("bypass", "chamber.corrected_share")
    expected = 2 * 5 * 0.00036 / 0.015
    close(share.high, expected, 0.03 * expected, "the same at the level now")


def test_where_none_is_stated_that_is_said() -> None:
    here = facts(studied("A"))
    assert here.of("radar", "radar.path_share").exact == "uncertainty not stated"
    assert here.of("magnetostrictive", "float.density_ratio").exact == ""
    assert here.of("radar", "wall.kind").exact == ""


def test_a_range_keeps_what_is_uncertain_of_each_end() -> None:
    found = studied("C")
    entries = [found.sheet["float.density_ratio[normal]"], found.sheet["float.density_ratio_as_hot[normal]"]]
    fact = fact_of_entries(entries, {entries[0].name: 0.01})
    close(fact.low - fact.half, (entries[0].value or 0.0) - 0.01, 1e-9, "the uncertain end")
    close(fact.high + fact.half, entries[1].value, 1e-9, "the certain end")


# ---------------------------------------------------------------- permittivity below 1.5 (common practice, no source)

BARE = """probe:
  rod: bare
  core_diameter: 10 mm
  active_from: 50 mm
  active_to: 2900 mm
  frequency: 100 kHz
  earth: {kind: wall of the vessel}
  wall: {kind: "metal, earthed"}
"""


LOOSE = "basis: assumed, by: case writer, source: from memory"
NO_ROD = """probe:                       # none is stated: what any probe in this liquid would meet
  frequency: 100 kHz
  length_confirmed: yes
"""


def light(permittivity: str, conductivity: str, rod: str = BARE) -> Study:
    """The example with another liquid and a rod beside its stem."""
    return changed(
        "A",
        (f"  permittivity: {{value: 44, {LOOSE}}}\n", f"  permittivity: {permittivity}\n"),
        (f"  conductivity: {{value: 5 uS/cm, {LOOSE},\n", f"  conductivity: {{value: {conductivity},\n"),
        (NO_ROD, rod),
    )


@pytest.mark.parametrize(("permittivity", "verdict"), [("1.49", "does not suit"), ("1.51", "suits on conditions")])
def test_a_bare_rod_in_a_liquid_that_holds_next_to_nothing(permittivity: str, verdict: str) -> None:
    found = light(permittivity, "1e-7 uS/cm")
    assert found.choosing is not None
    bare = found.choosing.verdicts["capacitive-bare"]
    rule = next(each for each in bare.judgements if each.rule.name == "capacitive-bare/permittivity")
    assert rule.verdict.value == verdict
    span = facts(found).of("capacitive-bare", "probe.span_capacitance")
    assert span.known
    assert span.text.endswith("pF")


COATED = BARE.replace("rod: bare", "rod: coated all over").replace(
    "  active_from", "  coating_diameter: 14 mm\n  coating_permittivity: 2.1\n  length_confirmed: yes\n  active_from"
)


@pytest.mark.parametrize(("permittivity", "verdict"), [("1.04", "does not suit"), ("1.45", "suits on conditions")])
def test_a_coated_rod_in_a_liquid_that_insulates_by_its_span(permittivity: str, verdict: str) -> None:
    """10 pF over the span part the two, whatever the permittivity."""
    found = light(permittivity, "1e-7 uS/cm", COATED)
    assert found.choosing is not None
    coated = found.choosing.verdicts["capacitive-coated"]
    rule = next(each for each in coated.judgements if each.rule.name == "capacitive-coated/permittivity")
    span = facts(found).of("capacitive-coated", "probe.span_capacitance")
    assert (span.low < 10e-12) == (verdict == "does not suit")
    assert rule.verdict.value == verdict


# ---------------------------------------------------------------- layers that hold charge

SLEEVE = """  layer: 0.5 mm
  layer_diameter: 14 mm
  layer_length: 3 m
  core_earthed: yes
"""


def test_a_layer_by_thickness_and_by_the_lesser_of_area_and_width() -> None:
    """Zone 0, IIB: 2500 mm2, 3 mm, 2 mm (IEC 60079-0, from memory); a sleeve of 14 mm by 3 m is 42000 mm2."""
    here = facts(changed("A", ("  layer: none\n", SLEEVE)))
    close(here.of("magnetostrictive", "static.layer_share").low, 0.5 / 2.0, 1e-9, "thickness")
    close(here.of("magnetostrictive", "static.area_share").low, min(42000 / 2500, 14 / 3), 1e-6, "the lesser")
    assert here.of("magnetostrictive", "layer.kind").word == "insulating"
    assert not here.of("capacitive-coated", "static.layer_share").known


def test_sleeve_and_coating_each_answer_for_themselves() -> None:
    found = light("44", "1e-7 uS/cm", COATED)
    both = changed(
        "A",
        ("  layer: none\n", SLEEVE),
        (NO_ROD, COATED),
    )
    close(facts(both).of("capacitive-coated", "static.layer_share").low, 1.0, 1e-9, "2 mm of coating")
    close(facts(both).of("magnetostrictive", "static.layer_share").low, 0.25, 1e-9, "half a millimetre of sleeve")
    assert not facts(found).of("magnetostrictive", "static.layer_share").known


# ---------------------------------------------------------------- a deposit that conducts

LAYER = (
    ("  deposits: none\n", "  deposits: a soft layer\n"),
    ("  deposit: {kind: none}", "  deposit: {kind: soft, thickness: 0.5 mm, conductive: yes, conductivity: 0.1 S/m}"),
)


def test_a_deposit_is_as_long_as_the_rod_above_the_highest_level() -> None:
    """By hand, the line of resistance and capacitance: r = 1/(s pi (2 b t + t^2)), delta = sqrt(2/(2 pi f r c)).

    b 7 mm, t 0.5 mm, s 0.1 S/m: r = 439 kohm/m; c = 2 pi eps0 2.1/ln(7/5) = 347.2 pF/m; 100 kHz: delta = 144.5 mm.
    The rod ends at 2500 mm and the range at 2200 mm: 300 mm of deposit, not the 2450 mm of the rod.
    """
    r = 1 / (0.1 * pi * (2 * 0.007 * 0.0005 + 0.0005**2))
    c = 2 * pi * 8.8541878e-12 * 2.1 / log(7 / 5)
    delta = sqrt(2 / (2 * pi * 1e5 * r * c))
    close(delta, 0.1445, 5e-5, "by hand, three digits")
    share = facts(changed("B", *LAYER)).of("capacitive-reference", "probe.film_to_penetration")
    close(share.low, 0.3 / delta, 1e-5 * share.low, "300 mm over the depth")
    assert share.low == share.high


def test_the_compensation_of_a_short_deposit_is_not_believed() -> None:
    """A film shorter than two depths leaves its loss and its capacitance unequal: taking the loss off mends nothing."""
    stays = ("    stays: unknown           # no test of hysteresis yet", "    stays: yes")
    longer = ("  active_to: 2500 mm", "  active_to: 2450 mm")
    for changes, excluded in (((), False), ((longer,), True)):
        found = changed("B", *LAYER, stays, *changes)
        assert found.choosing is not None
        verdict = found.choosing.verdicts["capacitive-reference"]
        rules = {each.rule.name for each in verdict.judgements if each.verdict is Verdict.DOES_NOT_SUIT}
        assert ("capacitive-reference/deposits" in rules) is excluded


# ---------------------------------------------------------------- pressures of the operation

CLOSED = ("vessel: {gas: open,", "vessel: {gas: closed known,")


@pytest.mark.parametrize(
    ("stated", "low", "high"),
    [
        ("{min: 0.2 bar(g), value: 3 bar(g), max: 6 bar(g)}", 0.2e5, 6e5),
        # 1.013 bar of the atmosphere of the example off each end.
        ("{min: 1.213 bar(a), value: 4.013 bar(a), max: 7.013 bar(a)}", 0.2e5, 6e5),
        ("3 bar(g)", 3e5, 3e5),
        ("4.013 bar(a)", 3e5, 3e5),
    ],
)
def test_a_range_of_the_pressure_reaches_the_rules_whatever_it_was_stated_from(
    stated: str, low: float, high: float
) -> None:
    found = changed("B", ("  operating: 0 bar(g)", f"  operating: {stated}"), CLOSED)
    here = facts(found)
    above, absolute = here.of("radar", "pressure.max"), here.of("radar", "pressure.min")
    for fact, atmosphere in ((above, 0.0), (absolute, 101300.0)):
        close(fact.low, low + atmosphere, 1e-3, "lowest")
        close(fact.high, high + atmosphere, 1e-3, "highest")


def test_the_highest_pressure_of_a_range_acts_on_an_instrument() -> None:
    """Rated 5 bar, up to 6 bar in operation: 5/6, whatever it usually is."""
    rated = "choosing: {instruments: [{name: own, principle: radar, pressure_max: 5 bar(g)}]}\nlevel_now:"
    found = changed(
        "B",
        ("  operating: 0 bar(g)", "  operating: {min: 0.2 bar(g), value: 3 bar(g), max: 6 bar(g)}"),
        CLOSED,
        ("level_now:", rated),
    )
    margins = [entry.value for name, entry in found.sheet.entries.items() if "build.pressure_margin" in name]
    assert [round(float(value or 0.0), 6) for value in margins] == [round(5 / 6, 6)]


def test_a_range_of_the_density_is_an_error_of_a_head() -> None:
    """By hand: set at the middle, half of 50 kg/m3 over 1525 kg/m3 of 2.2 m is 36.07 mm, over 25 mm allowed."""
    density = "  density: {min: 1500 kg/m3, value: 1525.3 kg/m3, max: 1550 kg/m3}"
    here = facts(changed("B", ("  density: 1525.3 kg/m3", density)))
    close(here.of("hydrostatic", "head.density_share").low, 25 / 1525 * 2200 / 25, 1e-9, "by hand")
    assert (here.of("radar", "density").low, here.of("radar", "density").high) == (1500.0, 1550.0)
