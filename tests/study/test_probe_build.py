"""The build of a capacitive probe, its dead lengths, its gland and its earth, in a whole case.

Limits of the parts: common practice, no source, unless a test says otherwise.
"""

from __future__ import annotations

import pytest

from onedatum.physics.capacitive import film_depth_m, film_left_m, film_resistance_ohm_per_m
from onedatum.study.result import Study
from onedatum.verdicts import Effect, Verdict
from tests.closeness import close
from tests.study.test_probe import (
    BARE,
    BY_ROD,
    OIL,
    PERMITTIVITY,
    STAYS,
    STEEL,
    TESTED,
    finding,
    number,
    probe,
    verdicts,
)

Change = tuple[str, str]
BUILD = "  build: {form: rod, hot_neck: no, head: with display, guard_section: no}\n"
TEMPERATURE = "temperature: 20 degC\n  viscosity"
OPERATING = "operating: 0 bar(g)"
ACTIVE_TO = "active_to: 2500 mm"
BRIDGE = "gland: {bridge: no}"
OIL_TANK = (*BARE, *STEEL, *OIL)
HOLDS, FAILS, ORDER, OPEN = Verdict.SUITS, Verdict.DOES_NOT_SUIT, Verdict.ON_CONDITIONS, Verdict.UNDECIDED


def built(words: str) -> Change:
    """The build in other words."""
    return BUILD, f"  build: {{{words}}}\n"


def more(words: str) -> Change:
    """More words in the build."""
    return "guard_section: no}", f"guard_section: no, {words}}}"


def hot(most: str) -> Change:
    return TEMPERATURE, f"temperature: {{value: 20 degC, min: -5 degC, max: {most}}}\n  viscosity"


def asked(study: Study) -> set[str]:
    return {question.path for question in study.questions} | {each.path for each in study.requirements}


# ---------------------------------------------------------------- temperature, pressure, vacuum


@pytest.mark.parametrize(
    ("changes", "verdict"),
    [
        ((hot("99 degC"),), HOLDS),  # spacers of the earthed rod: 100 degC
        ((hot("101 degC"),), FAILS),
        ((*STEEL, hot("149 degC")), HOLDS),  # the gland: 150 degC
        ((*STEEL, hot("151 degC")), FAILS),
        ((*STEEL, ("PTFE", "PE"), hot("59 degC")), HOLDS),  # the coating: 60 degC
        ((*STEEL, ("PTFE", "PE"), hot("61 degC")), FAILS),
        ((*STEEL, ("PTFE", "PVDF"), hot("121 degC")), FAILS),
        ((*STEEL, ("hot_neck: no", "hot_neck: yes"), hot("199 degC")), HOLDS),  # PTFE: 200 degC
        ((*STEEL, ("hot_neck: no", "hot_neck: yes"), hot("201 degC")), FAILS),
        ((*BARE, *STEEL, ("hot_neck: no", "hot_neck: yes"), hot("399 degC")), HOLDS),  # ceramic: 400 degC
        ((*STEEL, more("temperature_max: 90 degC"), hot("99 degC")), FAILS),  # what is stated comes first
        ((more("temperature_max: 130 degC"), hot("129 degC")), HOLDS),
        ((("PTFE", "enamel"), hot("99 degC")), ORDER),  # no figure is kept of it: it is ordered
        ((("PTFE", "unknown"),), ORDER),
        (((BUILD, ""),), ORDER),  # no gland is said
    ],
)
def test_the_weakest_part_ends_the_temperature(changes: tuple[Change, ...], verdict: Verdict) -> None:
    """Gland 150, ceramic 400, PE 60, PVDF 120, PTFE 200, spacers 100 degC."""
    study = probe(*changes)
    assert verdicts(study, "rod-hot") == [verdict]
    assert ("probe.build.temperature_max" in asked(study)) is (verdict is ORDER)


def test_the_limit_says_of_which_part_it_is_and_how_far_it_was_seen() -> None:
    entry = probe().sheet["probe.build.temperature_max"]
    assert "earthed rod beside it" in entry.note
    assert "common practice, no source" in entry.note
    assert entry.state == "assumed"


def test_it_may_be_too_cold() -> None:
    """-40 degC for rods, common practice; a liquid at -45 degC."""
    assert verdicts(probe((TEMPERATURE, "temperature: {value: 20 degC, min: -45 degC}\n  viscosity")), "rod-cold") == [
        FAILS
    ]


@pytest.mark.parametrize(
    ("changes", "acting", "verdict"),
    [
        (STEEL, "24.9 bar(g)", HOLDS),  # coated: 25 bar
        (STEEL, "25.1 bar(g)", FAILS),
        ((*BARE, *STEEL), "39 bar(g)", HOLDS),  # gland: 40 bar
        ((*BARE, *STEEL), "41 bar(g)", FAILS),
        ((*BARE, *STEEL, ("hot_neck: no", "hot_neck: yes")), "99 bar(g)", HOLDS),
        ((*BARE, *STEEL, ("hot_neck: no", "hot_neck: yes")), "101 bar(g)", FAILS),
        ((*STEEL, more("pressure_max: 31 bar(a)")), "29 bar(g)", HOLDS),
        ((*STEEL, more("pressure_max: 31 bar(a)")), "30.5 bar(g)", FAILS),
        ((*BARE, *STEEL, built("form: rod")), "1 bar(g)", ORDER),
    ],
)
def test_gland_and_coating_end_the_pressure(changes: tuple[Change, ...], acting: str, verdict: Verdict) -> None:
    study = probe(*changes, (OPERATING, f"operating: {acting}"))
    assert verdicts(study, "rod-pressure[operation]") == [verdict]
    failed = [each for each in study.findings if each.key == "check:rod-pressure[operation]"]
    assert [each.effect for each in failed] == [Effect.BLOCKS] * (verdict is FAILS)


@pytest.mark.parametrize(
    ("words", "verdict"),
    [("coating_adheres: unknown", ORDER), ("coating_adheres: no", FAILS), ("coating_adheres: yes", HOLDS),
     ("pressure_min: 0.4 bar(a)", HOLDS), ("pressure_min: 0.6 bar(a)", FAILS)],
)  # fmt: skip
def test_vacuum_lifts_a_coating_that_does_not_adhere(words: str, verdict: Verdict) -> None:
    """0.9 bar(a), common practice; here 0.5 bar(a)."""
    study = probe(*STEEL, more(words), (OPERATING, "operating: 0.5 bar(a)"))
    assert verdicts(study, "rod-vacuum") == [verdict]
    assert verdicts(probe(*BARE, *STEEL, (OPERATING, "operating: 0.5 bar(a)")), "rod-vacuum") == []
    assert verdicts(probe(), "rod-vacuum") == [HOLDS]


# ---------------------------------------------------------------- lengths

TALL = (("shell_length: 2500 mm", "shell_length: 4000 mm"), (ACTIVE_TO, "active_to: 4000 mm"))


@pytest.mark.parametrize(
    ("changes", "verdict"),
    [
        ((), HOLDS),  # 2.65 m against 4 m
        (TALL, FAILS),  # 4.15 m
        ((*TALL, more("length_max: 4.2 m")), HOLDS),
        ((more("length_max: 2600 mm"),), FAILS),
        ((built("form: rope, hot_neck: no, anchor_length: 20 mm, rope_stretch: 5 mm"),), ORDER),
        ((("hot_neck: no", "hot_neck: yes"),), FAILS),  # 2 m: it creeps when hot
    ],
)
def test_the_length_from_the_sealing_face_against_the_longest(changes: tuple[Change, ...], verdict: Verdict) -> None:
    assert verdicts(probe(*changes), "rod-length") == [verdict]


def test_the_length_is_that_of_the_order() -> None:
    """Inside height 2500, face 200 above it, tip at 50 mm: 2650 mm; a rope with its weight below, by hand."""
    close(number(probe(), "probe.insertion_length"), 2.65, 1e-12, "by hand")
    rope = probe(built("form: rope, anchor_length: 20 mm, rope_stretch: 5 mm"))
    close(number(rope, "probe.insertion_length"), 2.675, 1e-12, "by hand")


def test_without_a_sealing_face_it_is_asked() -> None:
    study = probe(("  flange_face: {value: 200 mm, above: inside crown of top head}\n", ""))
    assert "nozzle.flange_face" in asked(study)
    assert verdicts(study, "rod-length") == [OPEN]


@pytest.mark.parametrize(
    ("anchor", "verdict"), [("40 mm", HOLDS), ("46 mm", FAILS), ("unknown", ORDER)], ids=["fits", "does not", "open"]
)
def test_a_weight_has_its_room_above_the_bottom(anchor: str, verdict: Verdict) -> None:
    """The active length begins at 50 mm; 5 mm of stretch."""
    study = probe(built(f"form: rope, anchor_length: {anchor}, rope_stretch: 5 mm"))
    assert verdicts(study, "rod-anchor") == [verdict]
    assert ("probe.build.anchor_length" in asked(study)) is (verdict is ORDER)


INACTIVE = (ACTIVE_TO, "active_to: 2400 mm\n  inactive_length: 300 mm\n  splash: 100 mm")


@pytest.mark.parametrize(
    ("changes", "covers", "leaves_free"),
    [
        ((INACTIVE,), HOLDS, HOLDS),  # nozzle 200 mm and splash 100 mm: 300 mm, down to 2400 mm
        ((INACTIVE, ("splash: 100 mm", "splash: 101 mm")), FAILS, HOLDS),
        ((INACTIVE, ("active_to: 2400 mm", "active_to: 2401 mm")), HOLDS, FAILS),
        ((INACTIVE, ("splash: 100 mm", "splash: unknown")), OPEN, HOLDS),
        ((INACTIVE, ("splash: 100 mm", "splash: none")), HOLDS, HOLDS),
        ((("guard_section: no", "guard_section: yes"),), OPEN, ORDER),  # a guard is an inactive part
    ],
)
def test_the_inactive_part_covers_nozzle_and_splash(
    changes: tuple[Change, ...], covers: Verdict, leaves_free: Verdict
) -> None:
    study = probe(*changes)
    assert verdicts(study, "rod-inactive") == [covers]
    assert verdicts(study, "rod-active-end") == [leaves_free]


def test_nothing_is_said_of_an_inactive_part_that_nobody_wants() -> None:
    assert verdicts(probe(), "rod-inactive") == []
    assert "probe.splash" not in asked(probe())


# ---------------------------------------------------------------- coated but for a bare tip

TIP = (
    ("rod: coated all over", "rod: coated but for a bare tip"),
    ("active_to: 2500 mm", "active_to: 2000 mm\n  inactive_length: 700 mm\n  splash: 100 mm"),
    ("set_high: 2200 mm", "set_high: 1900 mm"),
    ("20 mA: 2200 mm", "20 mA: 1900 mm"),
)


def test_a_bare_tip_is_worked_as_a_bare_rod_over_its_active_length() -> None:
    """The coated part adds a constant; wetted, the bare end holds 2 pi epsilon/ln(R/a) per length, by hand."""
    tip = probe(*TIP, *STEEL, *OIL)
    close(number(tip, "probe.sensitivity") * 1e12, 55.6325 * 1.3 / 5.438079, 1e-4, "by hand")
    assert verdicts(tip, "probe-loss") == [HOLDS]
    assert verdicts(probe(*TIP, *STEEL), "probe-loss") == [FAILS]
    assert not [leaf.path for leaf in tip.not_read if leaf.path.startswith("probe.")]


def test_of_a_bare_tip_the_tip_can_be_cut() -> None:
    study = probe(*TIP, *STEEL, *OIL)
    said = finding(study, "probe-length-open")
    assert said is not None
    assert said.effect is Effect.WARNING
    whole = finding(probe(), "probe-length-open")
    assert whole is not None
    assert whole.effect is Effect.BLOCKS


def test_a_bare_tip_needs_the_length_of_what_is_coated() -> None:
    study = probe(*TIP, *STEEL, *OIL, ("inactive_length: 700 mm", "inactive_length: unknown"))
    assert "probe.inactive_length" in asked(study)
    assert verdicts(study, "rod-inactive") == [ORDER]


# ---------------------------------------------------------------- earth, reference section, head


@pytest.mark.parametrize(("reaches", "verdict"), [("50 mm", HOLDS), ("51 mm", FAILS), ("unknown", ORDER)])
def test_the_earthed_rod_reaches_down_to_the_tip(reaches: str, verdict: Verdict) -> None:
    study = probe((BY_ROD, BY_ROD.replace("}", f", reaches_to: {reaches}}}")))
    assert verdicts(study, "rod-earth-reach") == [verdict]
    assert verdicts(probe(*STEEL), "rod-earth-reach") == []


@pytest.mark.parametrize(
    ("ends", "verdict"),
    [
        ("vented: yes, drained: yes", HOLDS),
        ("vented: no, drained: yes", FAILS),
        ("vented: yes, drained: no", FAILS),
        ("vented: yes", ORDER),
        ("vented: unknown, drained: no", FAILS),
        ("vented: none, drained: yes", FAILS),
    ],
)
def test_a_tube_is_vented_and_drains(ends: str, verdict: Verdict) -> None:
    study = probe((BY_ROD, f"{{kind: concentric earthed tube, tube_bore: 25 mm, {ends}}}"))
    assert verdicts(study, "rod-tube") == [verdict]
    said = finding(study, "check:rod-tube")
    assert (said is not None) is (verdict is FAILS)
    assert said is None or said.chain[1].text == "It must be"


def test_a_reference_section_is_a_word_of_the_build() -> None:
    section = ("  film:\n", "  reference_section: {from: 50 mm, to: 150 mm, even: yes}\n  film:\n")
    for study, expected in ((probe(section), 1), (probe(), 0)):
        chapter = study.measuring.probe
        assert chapter is not None and chapter.fit.build is not None
        assert [each.aspect for each in chapter.fit.build.chosen].count("probe reference") == expected


@pytest.mark.parametrize(
    ("words", "verdict"),
    [("capacitance_max: 750 pF", HOLDS), ("capacitance_max: 749 pF", FAILS), ("capacitance_max: unknown", ORDER)],
)
def test_a_compact_head_reads_the_full_probe(words: str, verdict: Verdict) -> None:
    """749.2 pF at 20 mA: the worked caustic tank."""
    assert verdicts(probe(("with display", '"compact, without display"'), more(words)), "rod-head") == [verdict]
    assert verdicts(probe(), "rod-head") == []


# ---------------------------------------------------------------- a film at the gland

FILM = "gland: {bridge: yes, film_thickness: 0.3 mm, film_conductivity: 1 mS/cm%s}"


def test_a_film_at_the_gland_of_a_coated_rod_reads_as_level() -> None:
    """The film on a coating as the house has it for one above the level, turned upside down: earthed at the nozzle."""
    study = probe((BRIDGE, FILM % ", film_length: 100 mm"))
    depth = film_depth_m(100e3, film_resistance_ohm_per_m(0.007, 0.0003, 0.1), number(study, "probe.coating"))
    close(number(study, "probe.bridge_error"), float(film_left_m(0.10, depth)), 1e-12, "the loss is taken off")
    assert verdicts(study, "rod-bridge") == [FAILS]
    said = finding(study, "probe-bridge-reads")
    assert said is not None
    assert said.effect is Effect.BLOCKS
    assert finding(study, "check:rod-bridge") is None


def test_a_film_over_the_ring_of_a_bare_rod_hides_the_level_once_its_loss_is_taken_off() -> None:
    """ln(20/5)/(2 pi 0.1 S/m 0.3 mm) = 7354 ohm; over omega 216.4 pF; of 13.3 pF/m that is 16 m, low. By hand."""
    ring = ("frequency: 100 kHz", "frequency: 100 kHz\n  gland_diameter: 40 mm")
    study = probe(*OIL_TANK, ring, (BRIDGE, FILM % ""))
    close(number(study, "probe.bridge_resistance"), 7354.5, 0.1, "by hand")
    close(number(study, "probe.bridge_error"), -216.41 / (55.6325 * 1.3 / 5.438079), 1e-2, "by hand")
    said = finding(study, "probe-bridge-reads")
    assert said is not None
    assert said.title.endswith("read low")
    blind = probe(*OIL_TANK, ring, (BRIDGE, FILM % ""), ("takes_off_loss: yes", "takes_off_loss: no"))
    assert number(blind, "probe.bridge_error") > 0.0


def test_an_inactive_part_takes_the_film_out_of_the_measurement() -> None:
    study = probe((BRIDGE, FILM % ", film_length: 100 mm"), INACTIVE)
    assert verdicts(study, "rod-bridge") == []
    assert verdicts(study, "rod-inactive") == [HOLDS]
    assert finding(study, "probe-bridge-reads") is None


def test_a_film_at_the_gland_is_asked_of_a_liquid_that_conducts() -> None:
    study = probe((BRIDGE, "gland: unknown"))
    assert "probe.gland.bridge" in asked(study)
    assert verdicts(study, "rod-bridge") == [OPEN]
    assert verdicts(probe(*OIL_TANK, (f"  {BRIDGE}\n", "")), "rod-bridge") == []
    half = probe((BRIDGE, "gland: {bridge: yes}"))
    assert {"probe.gland.film_thickness", "probe.gland.film_conductivity", "probe.inactive_length"} <= asked(half)
    assert verdicts(half, "rod-bridge") == [OPEN]


# ---------------------------------------------------------------- said once, and of an alternative


@pytest.mark.parametrize(
    ("changes", "check", "told"),
    [
        ((("length_confirmed: unknown", "length_confirmed: no"),), "probe-length", "probe-length-open"),
        ((*OIL_TANK, (PERMITTIVITY, "1"), ("value: 2.3, min: 2.2, max: 2.3", "value: 1")), "probe-feels", ""),
        ((*BARE, *STEEL), "probe-loss", "probe-shorted"),
        (((STAYS, "stays: yes"),), "probe-film", "probe-film-reads"),
    ],
)
def test_each_thing_is_said_once(changes: tuple[Change, ...], check: str, told: str) -> None:
    if check == "probe-feels":
        changes, told = (*BARE, *STEEL, (STAYS, TESTED), OIL[0], (PERMITTIVITY, "1")), "probe-feels-nothing"
    study = probe(*changes)
    assert verdicts(study, check) == [FAILS]
    assert finding(study, told) is not None
    assert finding(study, f"check:{check}") is None


def test_as_an_alternative_its_build_stops_nothing() -> None:
    beside = ("principle: capacitive probe", "principle: differential pressure")
    study = probe(beside, more("temperature_max: 15 degC"))
    mine = [check for check in study.checks if check.key.startswith("rod-")]
    assert [check.verdict for check in mine if check.key == "rod-hot"] == [FAILS]
    assert mine
    assert all(check.remark for check in mine)
    silent = probe(beside, (BUILD, ""))
    assert not [check for check in silent.checks if check.key in ("rod-hot", "rod-length")]
    assert not [path for path in asked(silent) if path.startswith("probe.build")]


@pytest.mark.parametrize(
    "changes",
    [
        (("rod: coated all over", "rod: unknown"),),
        ((BUILD, "  build: none\n"),),
        ((BUILD, "  build: unknown\n"),),
        (built("form: none"),),
        (("core_diameter: 10 mm", "core_diameter: unknown"),),
        ((ACTIVE_TO, "active_to: unknown"),),
        (("datum: lowest inside point", "datum: unknown"),),
        ((TEMPERATURE, "temperature: unknown\n  viscosity"),),
        ((OPERATING, "operating: unknown"),),
        ((BRIDGE, "gland: none"),),
        ((BY_ROD, "none"),),
        (("inside_diameter: 2300 mm", "inside_diameter: unknown"),),
    ],
)
def test_whatever_is_not_known_the_study_is_made_and_nothing_of_the_build_is_kinder(
    changes: tuple[Change, ...],
) -> None:
    study = probe(*changes)
    plain = {check.key: check.verdict for check in probe().checks}
    for check in study.checks:
        if check.key.startswith("rod-") and check.verdict is HOLDS:
            assert plain[check.key] is HOLDS
