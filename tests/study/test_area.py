"""The hazardous area of a case: zone, group, class, substance, instrument, atmosphere, as the study judges them.

EPL and category by zone, and the order of the groups: from memory (IEC 60079-14, IEC 60079-0). Class limits and the
standard atmosphere: IEC 60079-0, read. Ignition temperatures: IEC 60079-20-1 and NFPA 497, read.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from onedatum.study.result import Study
from onedatum.verdicts import Effect, Verdict
from tests.study.variants import EXAMPLES, WITH_BARRIER, study_with

SOLVENT = EXAMPLES / "solvent_tank.yaml"
DUST = (('inside: "0"', 'inside: "20"'), ('at_head: "1"', 'at_head: "21"'), ("substance: toluene\n", "note: flour\n"))
IN_DUST = (
    ("  group: IIA\n", "  group: IIIB\n"),
    ("epl_inside: Ga", "epl_inside: Da"),
    ("epl_at_head: Gb", "epl_at_head: Db"),
)
NO_ZONE = (('inside: "0"', "inside: none"), ('at_head: "1"', "at_head: none"))
HOTTEST = "max: 35 degC}"


def area(*changes: tuple[str, str]) -> Study:
    """The solvent tank with changes."""
    return study_with(*changes, example=SOLVENT)


def verdict(study: Study, key: str) -> Verdict:
    """The outcome of one check."""
    return next(check.verdict for check in study.checks if check.key == key)


def keys(study: Study, effect: Effect) -> set[str]:
    """The keys of the findings of an effect."""
    return {finding.key for finding in study.findings if finding.effect is effect}


def asked(study: Study) -> set[str]:
    """What is asked of the customer, and what becomes a requirement."""
    return {question.path for question in study.questions} | {each.path for each in study.requirements}


def test_the_solvent_tank_is_served() -> None:
    study = area()
    wanted = ("epl-inside", "epl-head", "instrument-group", "instrument-class", "boundary-wall", "process-temperature")
    assert {verdict(study, key) for key in (*wanted, "process-class", "ambient-high", "ambient-low")} == {Verdict.SUITS}
    assert study.order == "not blocked"


@pytest.mark.parametrize(
    ("change", "key"),
    [
        (("epl_inside: Ga", "epl_inside: Gb"), "epl-inside"),
        (("epl_at_head: Gb", "epl_at_head: Gc"), "epl-head"),
        (("epl_at_head: Gb", "epl_at_head: Da"), "epl-head"),
        (("    group: IIC\n    temperature_class", "    group: IIIC\n    temperature_class"), "instrument-group"),
        (("temperature_class: T1", "temperature_class: T5"), "instrument-class"),
        (("process_temperature_max: 90 degC", "process_temperature_max: 34 degC"), "process-temperature"),
        (("    ambient_max: 50 degC", "    ambient_max: 34 degC"), "ambient-high"),
        (("    ambient_min: -20 degC", "    ambient_min: -14 degC"), "ambient-low"),
        (("boundary_wall: certified", "boundary_wall: none"), "boundary-wall"),
        (("epl_inside: Ga", "epl_inside: none"), "epl-inside"),
        (("epl_at_head: Gb", "epl_at_head: none"), "epl-head"),
    ],
)
def test_an_instrument_that_does_not_serve_blocks(change: tuple[str, str], key: str) -> None:
    study = area(change)
    assert verdict(study, key) is Verdict.DOES_NOT_SUIT
    assert f"check:{key}" in keys(study, Effect.BLOCKS)
    assert study.order == "blocked"


@pytest.mark.parametrize("key", ["group", "temperature_class", "epl_inside", "epl_at_head", "boundary_wall", "type"])
def test_a_certificate_that_does_not_say_becomes_a_requirement(key: str) -> None:
    lines = {
        "group": "    group: IIC\n    temperature_class",
        "temperature_class": "    temperature_class: T4",
        "epl_inside": "    epl_inside: Ga",
        "epl_at_head": "    epl_at_head: Gb",
        "boundary_wall": "    boundary_wall: certified",
        "type": "    type: intrinsic safety",
    }
    head, _, tail = lines[key].partition(": ")
    study = area((lines[key], f"{head}: unknown{tail[tail.find(chr(10)) :] if chr(10) in tail else ''}"))
    assert f"instrument.protection.{key}" in {each.path for each in study.requirements}
    judged = {check.key: check.verdict for check in study.checks if f"protection.{key}" in " ".join(check.waits_for)}
    assert Verdict.SUITS not in judged.values()


@pytest.mark.parametrize(
    ("name", "least_degC", "needed", "too_low"),
    [("ethanol", 363.0, "T2", "T1"), ("n-butane", 288.0, "T3", "T2"), ("ethyl acetate", 427.0, "T2", "T1")],
)
def test_the_lower_ignition_temperature_of_both_tables_gives_the_class(
    name: str, least_degC: float, needed: str, too_low: str
) -> None:
    """Ethanol 400 and 363, n-butane 372 and 288, ethyl acetate 470 and 427 degC (IEC 60079-20-1, NFPA 497, read)."""
    named = ("substance: toluene", f"substance: {name}"), ("  group: IIA\n", "  group: IIB\n")
    study = area(*named, ("  temperature_class: T1\n", ""))
    least = study.sheet["zone.ignition_temperature_least"]
    assert round(least.value or 0.0, 2) == round(least_degC + 273.15, 2)
    assert study.safe.ignition is not None
    assert study.safe.ignition.needs.temperature_class == needed
    assert {entry.name for entry in least.inputs.values()} == {
        "zone.ignition_temperature_iec",
        "zone.ignition_temperature_nfpa",
    }
    blocked = area(*named, ("  temperature_class: T1\n", f"  temperature_class: {too_low}\n"))
    assert "class-too-low" in keys(blocked, Effect.BLOCKS)


def test_a_lower_ignition_temperature_of_the_safety_data_sheet_goes_before_both_tables() -> None:
    study = area(("substance: toluene", "substance: toluene\n  ignition_temperature: 199 degC"))
    assert "class-too-low" in keys(study, Effect.BLOCKS)
    assert study.safe.ignition is not None
    assert study.safe.ignition.needs.temperature_class == "T4"
    higher = area(("substance: toluene", "substance: toluene\n  ignition_temperature: 600 degC"))
    assert higher.value("zone.ignition_temperature_least") == area().value("zone.ignition_temperature_least")


def test_a_class_harder_than_the_substance_asks_for_is_kept() -> None:
    study = area(
        ("temperature_class: T1", "temperature_class: T4"),
        ("temperature_class: T4\n    process", "temperature_class: T3\n    process"),
    )
    assert verdict(study, "instrument-class") is Verdict.DOES_NOT_SUIT
    assert "class-too-low" not in keys(study, Effect.BLOCKS)


def test_no_class_lies_below_the_ignition_temperature_of_all() -> None:
    """T6 is 85 degC: an ignition temperature of 80 degC leaves no class."""
    study = area(("substance: toluene", "substance: toluene\n  ignition_temperature: 80 degC"))
    assert "no-class-serves" in keys(study, Effect.BLOCKS)
    assert verdict(study, "instrument-class") is Verdict.UNDECIDED


def test_a_group_less_demanding_than_the_substance_blocks_and_nothing_is_said_to_hold() -> None:
    study = area(("substance: toluene", "substance: hydrogen"))
    assert "group-too-low" in keys(study, Effect.BLOCKS)
    assert "circuit-holds" not in keys(study, Effect.HOLDS)


def test_a_hotter_liquid_than_the_class_allows_blocks() -> None:
    """T6 is 85 degC (IEC 60079-0, read); liquids above 60 degC are beyond the ratings and are told as well."""
    changes = (HOTTEST, "max: 86 degC}"), ("temperature_class: T1", "temperature_class: T6")
    study = area(*changes, ("temperature_class: T4", "temperature_class: T6"))
    assert {"check:process-class"} <= keys(study, Effect.BLOCKS)


@pytest.mark.parametrize("where", ['inside: "0"', 'at_head: "1"'])
def test_an_unknown_zone_is_asked_and_nothing_is_said_to_hold(where: str) -> None:
    study = area((where, f"{where.partition(':')[0]}: unknown"))
    assert f"zone.{where.partition(':')[0]}" in asked(study)
    assert study.order == "waits for answers"
    assert "circuit-holds" not in keys(study, Effect.HOLDS)


def test_without_any_zone_stated_both_are_asked() -> None:
    study = area(('inside: "0"', "inside: unknown"), ('at_head: "1"', "at_head: unknown"))
    assert {"zone.inside", "zone.at_head"} <= asked(study)
    assert study.safe.ignition is None


@pytest.mark.parametrize("example", [SOLVENT, WITH_BARRIER], ids=["isolator", "barrier"])
def test_no_zone_brings_no_check_and_no_question(example: Path) -> None:
    study = study_with(*NO_ZONE, example=example)
    assert study.safe.ignition is None
    assert study.safe.filling is None
    assert not [path for path in asked(study) if path.startswith(("zone", "circuit", "charge", "filling"))]
    assert not [leaf.path for leaf in study.not_read if leaf.path.startswith(("zone", "filling"))]


def test_a_zone_without_group_is_asked_by_name() -> None:
    study = area(("  group: IIA\n", ""))
    assert "zone.group" in {question.path for question in study.questions}
    assert verdict(study, "instrument-group") is Verdict.UNDECIDED
    assert "circuit-holds" not in keys(study, Effect.HOLDS)


def test_dust_is_served_by_dust_alone() -> None:
    study = area(*DUST, *IN_DUST)
    assert {"check:instrument-group", "check:circuit-group-source", "check:circuit-group-device[1]"} <= keys(
        study, Effect.BLOCKS
    )
    assert verdict(study, "epl-inside") is Verdict.SUITS


def test_dust_at_the_head_takes_no_check_of_the_gas_inside_away() -> None:
    """Zone 0 inside and zone 22 at the head: the class of the gas still binds the part inside."""
    head = ('at_head: "1"', 'at_head: "22"'), ("epl_at_head: Gb", "epl_at_head: Dc")
    study = area(*head, ("temperature_class: T1", "temperature_class: T6"))
    assert verdict(study, "instrument-class") is Verdict.DOES_NOT_SUIT
    hot = area(*head, ("  ambient_max: 35 degC", "  ambient_max: 75 degC"))
    assert verdict(hot, "ambient-high") is Verdict.DOES_NOT_SUIT


def test_dust_is_held_to_the_ambient_of_the_certificate_too() -> None:
    dusty = ("    group: IIC\n    temperature_class", "    group: IIIC\n    temperature_class")
    study = area(*DUST, *IN_DUST, dusty, ("  ambient_max: 35 degC", "  ambient_max: 75 degC"))
    assert "check:ambient-high" in keys(study, Effect.BLOCKS)


def test_a_hot_liquid_heats_a_head_in_a_zone_whatever_is_inside() -> None:
    """The class of the head holds up to the process temperature of the certificate, with no zone inside as well."""
    study = area(('inside: "0"', "inside: none"), (HOTTEST, "max: 91 degC}"))
    assert verdict(study, "process-temperature") is Verdict.DOES_NOT_SUIT


def test_equal_zones_need_no_wall() -> None:
    study = area(
        ('at_head: "1"', 'at_head: "0"'), ("epl_at_head: Gb", "epl_at_head: Ga"), ("    boundary_wall: certified\n", "")
    )
    assert "boundary-wall" not in {check.key for check in study.checks}
    assert "instrument.protection.boundary_wall" not in asked(study)


def test_a_zone_beside_none_needs_the_wall() -> None:
    study = area(('at_head: "1"', "at_head: none"), ("boundary_wall: certified", "boundary_wall: unknown"))
    assert "instrument.protection.boundary_wall" in {each.path for each in study.requirements}
    assert "epl-head" not in {check.key for check in study.checks}


@pytest.mark.parametrize("kind", ["none", "{kind: none}"])
def test_intrinsic_safety_without_barrier_or_isolator_blocks(kind: str) -> None:
    """Without either nothing limits voltage, current and power in the zone."""
    study = study_with(("barrier: {kind: shunt-diode barrier, resistance: 300 ohm}", f"barrier: {kind}"))
    assert "no-barrier" in keys(study, Effect.BLOCKS)
    assert study.order == "blocked"


def test_another_protection_is_handed_on() -> None:
    study = area(("type: intrinsic safety", "type: other"))
    assert "protection-other" in keys(study, Effect.WARNING)
    assert "zone.assessment" in asked(study)
    assert not [check for check in study.checks if check.key.startswith("circuit-")]
