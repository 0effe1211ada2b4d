"""Conditions of a case: answers that cannot both be are told with both places, hostile ones with their remedy.

What is called conductive or insulating, and what a vent holds, is common practice, no source.
"""

from __future__ import annotations

import pytest

from onedatum.case.reading import Statement, read_case_text
from tests.study.variants import EXAMPLES

HEAD = """onedatum: 1
invented: yes
medium: {kind: liquid of stated density, density: 900 kg/m3%s}
%s
conditions:
%s
"""


def read(conditions: str, medium: str = "", rest: str = "") -> Statement:
    """A small invented case with conditions; each line of them begins a group."""
    lines = "\n".join(f"  {line}" for line in conditions.split("\n"))
    return read_case_text(HEAD % (f", {medium}" if medium else "", rest, lines), "case.yaml", EXAMPLES)


CONTRADICTIONS = [
    (
        "deposit: {kind: soft, conductive: yes, conductivity: 0.01 uS/cm}",
        "",
        "",
        "conditions.deposit.conductive",
        "conditions.deposit.conductivity",
    ),
    (
        "deposit: {kind: soft, conductive: no, conductivity: 5 S/m}",
        "",
        "",
        "conditions.deposit.conductive",
        "conditions.deposit.conductivity",
    ),
    (
        "vapour: {kind: condensing conductive}",
        "conductivity: 0.01 uS/cm",
        "",
        "conditions.vapour.kind",
        "medium.conductivity",
    ),
    ("foam: {kind: wet conductive}", "conductivity: 0.01 uS/cm", "", "conditions.foam.kind", "medium.conductivity"),
    ("foam: {kind: wet insulating}", "conductivity: 2 S/m", "", "conditions.foam.kind", "medium.conductivity"),
    (
        "interface: {upper_conductive: yes}",
        "conductivity: 0.01 uS/cm",
        "",
        "conditions.interface.upper_conductive",
        "medium.conductivity",
    ),
    (
        "interface: {upper_conductive: no}",
        "conductivity: 2 S/m",
        "",
        "conditions.interface.upper_conductive",
        "medium.conductivity",
    ),
    ("solids: {kind: hard}", "particles: free of particles", "", "conditions.solids.kind", "medium.particles"),
    ("solids: {magnetic: yes}", "particles: not magnetic", "", "conditions.solids.magnetic", "medium.particles"),
    ("solids: {magnetic: no}", "particles: magnetic", "", "conditions.solids.magnetic", "medium.particles"),
    ("solids: {kind: none}", "particles: not magnetic", "", "conditions.solids.kind", "medium.particles"),
    ("solids: {kind: none, grain_size: 2 mm}", "", "", "conditions.solids.grain_size", "conditions.solids.kind"),
    ("solids: {kind: none, settle: yes}", "", "", "conditions.solids.settle", "conditions.solids.kind"),
    ("deposit: {kind: none, thickness: 1 mm}", "", "", "conditions.deposit.thickness", "conditions.deposit.kind"),
    ("deposit: {kind: sticky}", "deposits: none", "", "conditions.deposit.kind", "medium.deposits"),
    ("deposit: {kind: none}", "deposits: a crust", "", "conditions.deposit.kind", "medium.deposits"),
    ("foam: {kind: none, height: 50 mm}", "", "", "conditions.foam.height", "conditions.foam.kind"),
    ("foam: {kind: none, top_wanted: yes}", "", "", "conditions.foam.top_wanted", "conditions.foam.kind"),
    ("foam: {kind: dry}", "foam: none", "", "conditions.foam.kind", "medium.foam"),
    ("gas: {in_liquid: none}", "void_share: 10 %vol", "", "conditions.gas.in_liquid", "medium.void_share"),
    ("gas: {in_liquid: aerated}", "void_share: none", "", "conditions.gas.in_liquid", "medium.void_share"),
    ("vapour: {kind: steam, composition: air}", "", "", "conditions.vapour.composition", "conditions.vapour.kind"),
    ("vessel: {gas: open}", "", "pressure: {operating: 3 bar(g)}", "conditions.vessel.gas", "pressure.operating"),
    (
        "vessel: {gas: closed varying}\n roof: {kind: open}".replace("\n ", "\n"),
        "",
        "",
        "conditions.vessel.gas",
        "conditions.roof.kind",
    ),
    (
        "temperature: {setting: 60 degC}\nflow: {kind: runs off}",
        "temperature: 20 degC",
        "",
        "conditions.temperature.setting",
        "medium.temperature",
    ),
    ("wall: {kind: metal}", "", "probe: {wall: {kind: plastic}}", "conditions.wall.kind", "probe.wall.kind"),
    ("wall: {kind: metal, liner_thickness: 3 mm}", "", "", "conditions.wall.liner_thickness", "conditions.wall.kind"),
    ("mount: {top: no}", "", 'nozzle: {place: "top, on the axis"}', "conditions.mount.top", "nozzle.place"),
    ("rate: {level: 1 mm/s}", "", "chamber: {level_rate: 5 mm/s}", "conditions.rate.level", "chamber.level_rate"),
    ("charging: none", "", "charge: {strong_charging: yes}", "conditions.charging", "charge.strong_charging"),
    ("charging: strong", "", "charge: {strong_charging: no}", "conditions.charging", "charge.strong_charging"),
    ("charging: none", "", "zone: {inside: none, at_head: none, group: IIB}", "zone.group", "zone.inside"),
    ("bulk: {grain: powder}", "", "", "conditions.bulk.grain", "medium.kind"),
]


@pytest.mark.parametrize(("conditions", "medium", "rest", "path", "other"), CONTRADICTIONS)
def test_a_contradiction_names_both_places(conditions: str, medium: str, rest: str, path: str, other: str) -> None:
    faults = {fault.path: fault for fault in read(conditions, medium, rest).faults}
    assert path in faults, [str(fault) for fault in faults.values()]
    assert other in str(faults[path])
    assert faults[path].place is not None
    assert faults[path].why


@pytest.mark.parametrize(
    ("conditions", "medium", "rest"),
    [
        ("deposit: {kind: soft, conductive: yes, conductivity: 300 uS/cm}", "", ""),
        ("deposit: {kind: soft, conductive: no, conductivity: 0.001 uS/cm}", "deposits: soft wax", ""),
        ("vapour: {kind: condensing conductive}", "conductivity: {min: 0.001 uS/cm, value: 1 uS/cm, max: 5 uS/cm}", ""),
        ("solids: {kind: none, magnetic: no, grain_size: none, settle: no}", "particles: free of particles", ""),
        ("foam: {kind: none, height: 0 mm, top_wanted: no}", "foam: none", "overfill: {foam: none}"),
        ("foam: {kind: dry}", "foam: a light head", ""),
        ("vessel: {gas: open}", "", "pressure: {operating: 0 bar(g)}"),
        ("vessel: {gas: closed known}", "", "pressure: {operating: 3 bar(g)}"),
        ("temperature: {setting: 60 degC}\nflow: {kind: gel or setting}", "temperature: 20 degC", ""),
        ("wall: {kind: lined metal, liner_thickness: 3 mm}", "", 'probe: {wall: {kind: "metal, earthed"}}'),
        ("mount: {top: no}", "", ""),
        ("rate: {level: 5 mm/s}", "", "chamber: {level_rate: 5 mm/s}"),
        ("interface: {upper_conductive: yes}", "conductivity: 300 uS/cm", ""),
        ("charging: splash", "", "charge: {strong_charging: no}"),
        ("charging: none", "", "zone: {inside: none, at_head: none, group: none}"),
    ],
)
def test_what_is_merely_unusual_is_left_alone(conditions: str, medium: str, rest: str) -> None:
    assert [str(fault) for fault in read(conditions, medium, rest).faults] == []


def test_steam_over_boiling_water_is_not_dry() -> None:
    text = "onedatum: 1\nmedium: {kind: water at its boiling point}\nconditions: {vapour: {kind: dry}}\n"
    faults = read_case_text(text, "case.yaml", EXAMPLES).faults
    assert any(fault.path == "conditions.vapour.kind" and "medium.kind" in str(fault) for fault in faults)


# ---------------------------------------------------------------- hostile answers


@pytest.mark.parametrize(
    ("conditions", "path", "said"),
    [
        ("duty: {custody: perhaps}", "conditions.duty.custody", "none; volume; mass"),
        ("duty: {custdy: none}", "conditions.duty.custdy", "custody"),
        ("dutty: {custody: none}", "conditions.dutty", "duty"),
        ("rate: {level: -3 mm/s}", "conditions.rate.level", ""),
        ("rate: {level: 3 kg}", "conditions.rate.level", ""),
        ("rate: {level: 9e99 m/s}", "conditions.rate.level", ""),
        ("rate: {level: fast}", "conditions.rate.level", ""),
        ("mount: {top: maybe}", "conditions.mount.top", "yes; no"),
        ("mount: {angle: 200 deg}", "conditions.mount.angle", ""),
        ("temperature: {setting: -400 degC}", "conditions.temperature.setting", ""),
        ("viscosity: 3 mPa.s", "conditions.viscosity", "medium.viscosity"),
        ("temperature: {ambient: 20 degC}", "conditions.temperature.ambient", "site.ambient_temperature"),
        ("foam: [dry, wet]", "conditions.foam", ""),
        ("foam: 3", "conditions.foam", ""),
        ("composition: {value: constant, basis: guessed}", "conditions.composition", ""),
    ],
)
def test_a_hostile_answer_is_a_fault_at_its_place(conditions: str, path: str, said: str) -> None:
    faults = read(conditions).faults
    mine = [fault for fault in faults if fault.path.startswith(path)]
    assert mine, [str(fault) for fault in faults]
    assert mine[0].place is not None
    assert said in str(mine[0])


@pytest.mark.parametrize("answer", ["unknown", "none"])
def test_every_number_may_be_unknown_or_none(answer: str) -> None:
    text = f"rate: {{level: {answer}}}\nmount: {{angle: {answer}}}\nsolids: {{grain_size: {answer}}}"
    assert [str(fault) for fault in read(text).faults] == []
