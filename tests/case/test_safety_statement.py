"""What is wrong in the statement of what touches safety: each fault by its name, its place and its remedy."""

from __future__ import annotations

import pytest

from onedatum.study.result import Study
from tests.study.variants import EXAMPLES, WITH_BARRIER, study_with, text_with

SOLVENT = EXAMPLES / "solvent_tank.yaml"

FAULTS = [
    # the order of the alarms
    (("HH: 2650 mm", "HH: 2440 mm"), "overfill.set_points.HH", "must be above H, 2450 mm; got 2440 mm"),
    (("AOPS: 2780 mm", "AOPS: 2950 mm"), "overfill.CH", "must be above AOPS, 2950 mm"),
    (("LL: 200 mm", "LL: 350 mm"), "overfill.set_points.L", "must be above LL, 350 mm; got 350 mm"),
    # filling and response
    (("fill_rate_max: 12 m3/h", "fill_rate_max: 0 m3/h"), "overfill.fill_rate_max", "must be above 0 m3/h"),
    (("fill_rate_max: 12 m3/h", "fill_rate_max: -3 m3/h"), "overfill.fill_rate_max", "got -3 m3/h"),
    (("fill_rate_max: 12 m3/h", "fill_rate_max: 12"), "overfill.fill_rate_max", "with its unit"),
    (("  least_gap: 75 mm", "  least_gap: 75 mm\n  response: 3 min"), "overfill.response_parts.detection", "left away"),
    (('clock: "14:30"', 'clock: "25:10"'), "overfill.clock", "a time of day"),
    # zone, group, class, substance
    (("  group: IIA\n", "  group: none\n"), "zone.group", "stated where a zone is stated, or unknown; got none"),
    (("  group: IIA\n", "  group: IIIB\n"), "zone.group", "must be a gas group; got IIIB"),
    (("  group: IIA\n", "  group: IID\n"), "zone.group", "one of: IIA; IIB; IIC"),
    (("temperature_class: T1", "temperature_class: none"), "zone.temperature_class", "or unknown; got none"),
    (("temperature_class: T1", "temperature_class: T7"), "zone.temperature_class", "one of: T1; T2"),
    (('inside: "0"', 'inside: "3"'), "zone.inside", "one of: 0; 1; 2; 20"),
    (("substance: toluene", "substance: moonshine"), "zone.substance", "safety data sheet"),
    (("substance: toluene", "substance: butane"), "zone.substance", "n-butane"),
    # the circuit by its certificates
    (("Uo: 27 V", "Uo: 0 V"), "circuit.source.Uo", "must be above 0 V"),
    (("Uo: 27 V", "Uo: 27 mA"), "circuit.source.Uo", "a voltage with its unit"),
    (("Co: 705 nF", "Co: 705 nH"), "circuit.source.Co", "a capacitance with its unit"),
    (("Co: 705 nF", "Co: 705 mF"), "circuit.source.Co", "Write pF, nF or uF"),
    (("Lo: 17 mH", "Lo: -17 mH"), "circuit.source.Lo", "got -17 mH"),
    (("Ci: 10 nF", "Ci: -10 nF"), "circuit.devices[0].Ci", "got -10 nF"),
    (("Pi: 0.9 W", "Pi: 900"), "circuit.devices[0].Pi", "with its unit"),
    (("for_group: IIB", "for_group: none of it"), "circuit.source.for_group", "one of: IIA"),
    (
        ("    load_max: 600 ohm", "    load_max: 600 ohm\n    working_voltage_max: 26 V"),
        "loop.barrier.working_voltage_max",
        "left away",
    ),
    (("    load_max: 600 ohm", "    load_max: 600 ohm\n    diode_drop: 0.9 V"), "loop.barrier.diode_drop", "left away"),
    # the receiver
    (("bits: 12", "bits: 12.5"), "loop.receiver.bits", "a whole number"),
    (
        ("    damping_tau: 1 s", "    damping_tau: 1 s\n    failure_low: 3.9 mA"),
        "loop.receiver.failure_low",
        "below the lowest current",
    ),
    (
        ("    damping_tau: 1 s", "    damping_tau: 1 s\n    failure_high: 20.2 mA"),
        "loop.receiver.failure_high",
        "above the highest current",
    ),
    # static charge
    (
        ("layer: none", "layer: none\n  layer_diameter: 16 mm"),
        "charge.layer_diameter",
        "left away where there is no layer",
    ),
    (("layer: none", "layer: 0 mm\n  core_earthed: yes"), "charge.core_earthed", "left away where there is no layer"),
    (("float_surface: metal", "float_surface: plastic"), "charge.float_bonded", "must be no"),
    (("layer: none", "layer: -1 mm"), "charge.layer", "got -1 mm"),
    # filling
    (("pipe_bore: 50 mm", "pipe_bore: 0 mm"), "filling.pipe_bore", "must be above 0 mm"),
    (("inlet: bottom", "inlet: side"), "filling.inlet", "one of: bottom"),
    (("start_rate: 7 m3/h", "start_rate: 12.1 m3/h"), "filling.start_rate", "at most the highest filling rate"),
]


def tank(*changes: tuple[str, str]) -> Study:
    """The solvent tank with changes."""
    return study_with(*changes, example=SOLVENT)


@pytest.mark.parametrize(
    ("change", "path", "said"), FAULTS, ids=[f"{path} {new[-14:]}" for (_, new), path, _ in FAULTS]
)
def test_each_is_named_with_place_and_remedy(change: tuple[str, str], path: str, said: str) -> None:
    study = tank(change)
    fault = next(each for each in study.faults if each.path.startswith(path))
    assert {each.path.removesuffix(".value") for each in study.faults} == {path}
    assert said in str(fault)
    assert fault.place is not None
    written = text_with(change, example=SOLVENT).split("\n")[fault.place.line - 1]
    assert path.rpartition(".")[2].partition("[")[0] in written
    assert str(fault).startswith(f"solvent_tank.yaml:{fault.place.line}:{fault.place.column}: {path}")
    assert study.order == "blocked"
    assert study.sheet["quantity.gross_observed_volume"].known


@pytest.mark.parametrize(
    ("change", "path"),
    [
        (("  group: IIA\n", ""), "zone.group"),
        (("  group: IIA\n", "  group: unknown\n"), "zone.group"),
        (('  at_head: "1"\n', ""), "zone.at_head"),
        (("  gas_space: air\n", ""), "zone.gas_space"),
        (("fill_rate_max: 12 m3/h", "fill_rate_max: unknown"), "overfill.fill_rate_max"),
        (("    detection: 5 s\n", ""), "overfill.response_parts.detection"),
        (("Co: 705 nF", "Co: 705 uF"), "circuit.source.Co (by the certificate)"),
        (("Po: 0.6 W", "Po: 0.06 W"), "circuit.source.Po (by the certificate)"),
        (("  strong_charging: no\n", ""), "charge.strong_charging"),
    ],
)
def test_what_is_missing_or_doubtful_is_asked_by_its_name(change: tuple[str, str], path: str) -> None:
    study = tank(change)
    assert study.faults == ()
    question = next(each for each in study.questions if each.path == path)
    assert question.title
    assert study.order == "waits for answers"


def test_only_an_isolator_is_said_to_pass_hart() -> None:
    barrier = "barrier: {kind: shunt-diode barrier, resistance: 300 ohm}"
    study = study_with((barrier, barrier.replace("}", ", passes_hart: yes}")), example=WITH_BARRIER)
    assert {fault.path for fault in study.faults} == {"loop.barrier.passes_hart"}


def test_what_counts_things_is_a_whole_number() -> None:
    fault = next(iter(tank(("bits: 12", "bits: 12.5")).faults))
    assert (fault.allowed, fault.got) == ("a whole number", "12.5")
    assert "as in 12" in fault.remedy
    assert tank(("bits: 12", "bits: 12.0")).faults == ()


def test_a_response_that_is_not_stated_at_all_is_asked() -> None:
    text = SOLVENT.read_text(encoding="utf-8")
    parts = text[text.index("  response_parts:\n") : text.index("  automatic_response")]
    assert "overfill.response" in {question.path for question in tank((parts, "")).questions}


def test_values_for_another_group_than_that_of_the_gas_block() -> None:
    study = tank(("for_group: IIB", "for_group: IIA"), ("  group: IIA\n", "  group: IIB\n"))
    finding = next(each for each in study.findings if each.key == "check:circuit-group-source")
    assert finding.title == "Co and Lo are stated for another group"
    assert [link.value for link in finding.chain] == ["IIA", "IIB"]


def test_a_barrier_has_what_only_a_barrier_has() -> None:
    change = ("resistance: 300 ohm}", "resistance: 300 ohm, load_max: 600 ohm}")
    study = study_with(change, example=WITH_BARRIER)
    assert {each.path for each in study.faults} == {"loop.barrier.load_max"}
    whole = study_with(("resistance: 300 ohm}", "resistance: 300 ohm, diode_drop: 0.9 V, working_voltage_max: 26 V}"))
    assert whole.faults == ()


def test_many_faults_are_all_told_and_the_study_still_ends() -> None:
    paths = {"zone.group", "circuit.source.Uo", "charge.layer", "filling.inlet"}
    picked = dict(change for change, path, _ in FAULTS if path in paths)
    study = tank(*picked.items())
    assert {each.path for each in study.faults} == paths
    assert study.order == "blocked"
