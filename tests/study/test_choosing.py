"""Choosing in the study: the verdicts of the three scenarios, limits and instruments of a site, hostile input of both.

`verdicts.json` holds the verdicts that an independent script gave from the same answers.
"""

from __future__ import annotations

import pytest

from onedatum.study.choosing.own import LENGTHS
from onedatum.study.result import Study
from onedatum.verdicts import Knowledge, Verdict
from onedatum.verdicts.rules import JOINS, OF_OWN, quantities, rule_base
from tests.closeness import close
from tests.study.test_choosing_numbers import SCENARIOS, changed, facts, studied

EVERY = [(key, principle) for key, scenario in SCENARIOS.items() for principle in scenario["verdicts"]]
# Where a stand-in of the script gave another verdict; docs/decisions/0014 says why.
OTHERWISE = {("C", "magnetostrictive"): "suits on conditions"}


def verdict(found: Study, principle: str) -> str:
    assert found.choosing is not None
    return found.choosing.verdicts[principle].verdict.value


@pytest.mark.parametrize(("key", "principle"), EVERY)
def test_the_study_gives_the_verdict(key: str, principle: str) -> None:
    expected = OTHERWISE.get((key, principle), SCENARIOS[key]["verdicts"][principle]["verdict"])
    assert verdict(studied(key), principle) == expected


IN_US_UNITS = {
    "A": [
        ("error_allowed_of_level: 15 mm", "error_allowed_of_level: 0.5905511811 in"),
        ("gas_difference: 15 K", "gas_difference: 27 degF"),
    ],
    "B": [("error_allowed_of_level: 25 mm", "error_allowed_of_level: 0.9842519685 in")],
    "C": [("velocity_at_stem: 0.2 m/s", "velocity_at_stem: 0.656167979 ft/s"), ("value: 0.18 mPa.s", "value: 0.18 cP")],
}


@pytest.mark.parametrize("key", SCENARIOS)
def test_the_unit_system_changes_no_verdict(key: str) -> None:
    """Neither the units of print nor those in which the answers are given."""
    metric = studied(key)
    printed = ("invented: yes\n", "invented: yes\nprint_units: US customary\n")
    others = [changed(key, printed), changed(key, *IN_US_UNITS[key])]
    for principle in SCENARIOS[key]["verdicts"]:
        assert {verdict(other, principle) for other in others} == {verdict(metric, principle)}, principle


def test_what_differs_is_asked_of_the_order_in_place_of_the_stand_in() -> None:
    """No stem in the drum is stated: what the flow makes of one is a line of the order."""
    found = studied("C")
    assert SCENARIOS["C"]["numbers_of_one_principle"]["magnetostrictive"]["stem.deflection_share"] > 1
    assert facts(found).of("magnetostrictive", "stem.deflection_share").knowledge is Knowledge.OURS
    assert found.choosing is not None
    demands = [str(each.demand) for each in found.choosing.verdicts["magnetostrictive"].requirements]
    assert any("stem.deflection_share <= 1" in demand for demand in demands)


@pytest.mark.parametrize("key", SCENARIOS)
def test_the_choice_asks_nothing_that_the_script_did_not(key: str) -> None:
    """Beside what the case itself leaves open: the length of the rod in the tank of caustic."""
    found = studied(key)
    assert found.choosing is not None
    for principle, told in found.choosing.verdicts.items():
        theirs = set(SCENARIOS[key]["verdicts"][principle].get("questions", []))
        more = {"length.confirmed"} if (key, principle) == ("B", "capacitive-reference") else set()
        assert set(told.questions) == theirs | more, principle


def test_deciding_rules_of_the_drum() -> None:
    """Where every number is the study's own, the rules that decide are those of the script."""
    found = studied("C")
    assert found.choosing is not None
    for principle in ("bypass", "differential-pressure", "capacitive-high-temperature", "hydrostatic", "load-cells"):
        theirs = {row["rule"] for row in SCENARIOS["C"]["verdicts"][principle]["deciding"]}
        assert {each.rule.name for each in found.choosing.verdicts[principle].deciding} == theirs, principle


def test_in_a_drum_what_nobody_has_sized_does_not_come_first() -> None:
    """Common practice, no source: chamber, displacer and differential pressure before a stem in the drum itself."""
    found = studied("C")
    assert found.choosing is not None
    order = [place.verdict.principle for place in found.choosing.ranking]
    stem = order.index("magnetostrictive")
    assert all(order.index(name) < stem for name in ("bypass", "displacer", "differential-pressure"))


@pytest.mark.parametrize(
    ("limit", "path", "said"),
    [
        ("quantity: flow.kind, was: 100 mPa.s, now: 300 mPa.s", "quantity", "told in words"),
        ("quantity: viscosity, was: 200 mPa.s, now: -5 mPa.s", "now", "0 mPa.s or more"),
        ("quantity: viscosity, was: 200 mm, now: 300 mPa.s", "was", "unit of length"),
        ("quantity: viscosity, was: 200 mPa.s", "now", "the limit of the site, with its unit; got nothing"),
        ("quantity: viscositi, was: 200 mPa.s, now: 300 mPa.s", "quantity", "Nearest: viscosity."),
        ("quantity: conductivity, was: 5 uS/cm, now: 6 uS/cm", "quantity", "does not read"),
        ("quantity: viscosity, was: 201 mPa.s, now: 300 mPa.s", "was", "It has: 200 mPa.s, 5000 mPa.s."),
    ],
)
def test_a_limit_that_cannot_be_is_a_fault_at_its_place(limit: str, path: str, said: str) -> None:
    told = f"\nchoosing: {{limits: [{{rule: magnetostrictive/viscosity, {limit}}}]}}\nrange:\n  4 mA: 100 mm"
    faults = changed("A", ("\nrange:\n  4 mA: 100 mm", told)).faults
    assert [fault.path for fault in faults] == [f"choosing.limits[0].{path}"]
    assert faults[0].place is not None
    assert said in str(faults[0])


def test_without_conditions_nothing_is_chosen() -> None:
    from onedatum.case.reading import read_case_text
    from onedatum.study.study import study
    from tests.study.variants import EXAMPLES, WITH_ISOLATOR, text_with

    found = study(read_case_text(text_with(example=WITH_ISOLATOR), "case.yaml", EXAMPLES))
    assert found.choosing is None
    assert not [name for name in found.sheet.entries if name.startswith("choosing.")]


# ---------------------------------------------------------------- instruments of one's own

OWN = """
choosing:
  instruments:
%s
range:
  4 mA: 100 mm"""


def with_own(*rows: str) -> Study:
    """The spirit receiver with instruments beside it; each row is one mapping."""
    told = "".join(f"    - {{{row}}}\n" for row in rows)
    return changed("A", ("\nrange:\n  4 mA: 100 mm", OWN % told))


GOOD = (
    "name: stem in the stores, principle: magnetostrictive, temperature_min: -20 degC, temperature_max: 90 degC, "
    "ambient_min: -30 degC, ambient_max: 60 degC, pressure_max: 16 bar(g), length_max: 4 m"
)


def own(found: Study, name: str) -> Verdict:
    assert found.choosing is not None
    assert found.faults == ()
    return dict(found.choosing.own)[name].verdict


def test_an_instrument_within_its_figures() -> None:
    found = with_own(GOOD)
    assert own(found, "stem in the stores") is Verdict.ON_CONDITIONS
    assert found.choosing is not None
    told = dict(found.choosing.own)["stem in the stores"]
    held = {each.rule.name: each.verdict for each in told.judgements}
    assert held["beyond-its-data-sheet"] is Verdict.SUITS
    assert held["magnetostrictive/temperature"] is Verdict.SUITS


@pytest.mark.parametrize(
    ("old", "new", "quantity", "margin"),
    [
        ("temperature_max: 90 degC", "temperature_max: 34 degC", "build.temperature_margin", -1.0),
        ("temperature_min: -20 degC", "temperature_min: 6 degC", "build.temperature_margin", -1.0),
        ("ambient_max: 60 degC", "ambient_max: 34 degC", "build.ambient_margin", -1.0),
        ("ambient_min: -30 degC", "ambient_min: -9 degC", "build.ambient_margin", -1.0),
        ("length_max: 4 m", "length_max: 3.0 m", "build.length_margin", -0.150078),
        ("pressure_max: 16 bar(g)", "pressure_max: 0 bar(g)", "build.pressure_margin", 0.0),
    ],
)
def test_an_instrument_beyond_one_of_its_figures(old: str, new: str, quantity: str, margin: float) -> None:
    """Liquid 5 to 35 degC, air -10 to 35 degC, a stem of 3.15008 m (worked independently), no pressure."""
    found = with_own(GOOD.replace(old, new))
    assert own(found, "stem in the stores") is Verdict.DOES_NOT_SUIT
    assert found.choosing is not None
    decides = dict(found.choosing.own)["stem in the stores"].deciding
    fact = next(fact for each in decides for atom, fact in each.because if atom.name == quantity)
    if margin:
        close(fact.low, margin, 1e-5 * abs(margin), "the difference by hand")
    assert fact.entry in found.sheet


def test_one_end_alone_leaves_the_other_to_the_order() -> None:
    found = with_own("name: half a sheet, principle: radar, temperature_max: 80 degC")
    assert own(found, "half a sheet") is Verdict.ON_CONDITIONS
    assert found.choosing is not None
    demands = [str(each.demand) for each in dict(found.choosing.own)["half a sheet"].requirements]
    assert any("build.temperature_margin" in demand for demand in demands)


def test_own_figures_leave_the_principles_as_they_are() -> None:
    found, before = with_own(GOOD.replace("length_max: 4 m", "length_max: 1 m")), studied("A")
    for principle in rule_base().principles:
        assert verdict(found, principle) == verdict(before, principle)


def test_the_rule_of_the_data_sheet_joins_no_verdict_on_a_principle() -> None:
    rules = [rule for rule in rule_base().rules if rule.effect == OF_OWN]
    assert [rule.name for rule in rules] == ["beyond-its-data-sheet"]
    assert all(rule.effect != JOINS for rule in rules)
    found = studied("A")
    assert found.choosing is not None
    assert "beyond-its-data-sheet" not in {each.rule.name for each in found.choosing.verdicts["radar"].judgements}
    assert "beyond-its-data-sheet" not in {each.rule.name for each in found.choosing.matrix.told("magnetostrictive")}


def test_the_lengths_that_are_compared_are_numbers_of_the_rules() -> None:
    assert set(LENGTHS) <= set(rule_base().principles)
    assert all(quantities()[name].unit == "m" for name in LENGTHS.values())


@pytest.mark.parametrize(
    ("rows", "path", "said"),
    [
        (("principle: radar",), "choosing.instruments[0].name", "the name of the instrument"),
        (("name: nameless kind",), "choosing.instruments[0].principle", "the principle"),
        (("name: x, principle: lidar",), "choosing.instruments[0].principle", "one of"),
        (("name: x, principle: rader",), "choosing.instruments[0].principle", "radar"),
        (("name: x, principle: radar", "name: x, principle: radar"), "choosing.instruments[1].name", "no other"),
        (
            ("name: x, principle: radar, temperature_min: 90 degC, temperature_max: 20 degC",),
            "choosing.instruments[0].temperature_min",
            "below the highest",
        ),
        (
            ("name: x, principle: radar, ambient_min: 50 degC, ambient_max: 40 degC",),
            "choosing.instruments[0].ambient_min",
            "below the highest",
        ),
        (("name: x, principle: radar, length_max: -4 m",), "choosing.instruments[0].length_max", ""),
        (("name: x, principle: radar, length_max: 4 kg",), "choosing.instruments[0].length_max", ""),
        (("name: x, principle: radar, pressure_max: 16 bar",), "choosing.instruments[0].pressure_max", "bar"),
        (("name: x, principle: radar, colour: red",), "choosing.instruments[0].colour", ""),
    ],
)
def test_an_instrument_that_cannot_be_judged_is_a_fault_at_its_place(
    rows: tuple[str, ...], path: str, said: str
) -> None:
    faults = with_own(*rows).faults
    mine = [fault for fault in faults if fault.path == path]
    assert mine, [str(fault) for fault in faults]
    assert mine[0].place is not None
    assert said in str(mine[0])


@pytest.mark.parametrize(
    "rows",
    [
        ("name: x, principle: bypass, pressure_max: 20 bar(a), length_max: 3 m",),
        ("name: x, principle: load-cells, length_max: 3 m",),
        ("name: x, principle: capacitive-coated, temperature_max: unknown, length_max: none",),
        ("name: x, principle: ultrasonic, length_max: 3 m, ambient_max: none",),
    ],
)
def test_an_instrument_of_any_principle_is_judged(rows: tuple[str, ...]) -> None:
    found = with_own(*rows)
    assert found.choosing is not None
    assert found.faults == ()
    assert [each.name for each in found.choosing.own] == ["x"]


# ---------------------------------------------------------------- absurd and missing input of what the numbers read


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("  error_allowed_of_level: 15 mm\n", "  error_allowed_of_level: none\n"),
        ("  frequency: 100 kHz\n", "  frequency: none\n"),
        ("gas_difference: 15 K", "gas_difference: none"),
        ("setting: -45 degC", "setting: none"),
        ("angle: 0.5 deg", "angle: 80 deg"),
        ("rate: {level: 0.3 mm/s}", "rate: {level: none}"),
        ("  permittivity: {value: 44, basis: assumed, by: case writer, source: from memory}", "  permittivity: none"),
        ("  permittivity: {value: 44, basis: assumed, by: case writer, source: from memory}", "  permittivity: 1"),
        (" permittivity: 1.001,", " permittivity: none,"),
        ("  20 mA: 2800 mm", "  20 mA: unknown"),
        ("  bore: 80 mm\n", "  bore: none\n"),
        ("  headroom_above_face: 4.0 m\n", "  headroom_above_face: none\n"),
        ("  ambient_max: 35 degC\n  drawing", "  ambient_max: none\n  drawing"),
        ("  CH: {value: 2900 mm, note: overflow}\n", "  CH: unknown\n"),
        ("  operating: 0 bar(g)\n", "  operating: unknown\n"),
        ("  viscosity: {value: 3.5 mPa.s", "  viscosity: {value: 9000 Pa.s"),
        ("foam: {kind: none}", "foam: {kind: dry, height: 90 mm, liquid_fraction: 0 %vol}"),
        ("solids: {kind: none, magnetic: no}", "solids: {kind: none, magnetic: no, settled_height: none}"),
        ("flange_face: {value: 150 mm, above", "flange_face: {value: unknown, above"),
    ],
)
def test_odd_answers_leave_a_study(old: str, new: str) -> None:
    """Never a traceback; what the numbers cannot be worked from is left out, and no fault is laid at their door."""
    found = changed("A", (old, new))
    assert found.choosing is not None
    assert len(found.choosing.verdicts) == 15
    assert not [str(fault) for fault in found.faults if "screening" in str(fault)]


def test_without_a_fitted_state_what_is_stated_alone_is_judged() -> None:
    found = changed("A", ("    instrument: fitted\n", "    instrument: removed\n"))
    assert found.choosing is not None
    assert verdict(found, "radiometric") == "does not suit"
    assert verdict(found, "radar") == "undecided"
    assert found.choosing.own == ()
