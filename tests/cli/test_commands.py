"""Every command as a new user runs it, with good, wrong and absurd input."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from onedatum.case.tree import parse
from onedatum.case.tree.source import read_bytes
from onedatum.cli.main import COMMANDS
from tests.cli.run import ROOT, in_a_process, onedatum
from tests.study.variants import ALTERED, EXAMPLES, text_with

BARRIER, ISOLATOR = "examples/spirit_receiver.yaml", "examples/spirit_receiver_isolator.yaml"


def test_help_names_every_command() -> None:
    outcome = onedatum("--help")
    assert outcome.code == 0
    assert all(name in outcome.out for name in COMMANDS)
    assert max(map(len, outcome.out.splitlines())) <= 80


@pytest.mark.parametrize("command", COMMANDS)
def test_every_command_explains_itself(command: str) -> None:
    outcome = onedatum(command, "--help")
    assert outcome.code == 0
    assert "Usage:" in outcome.out


@pytest.mark.parametrize(
    "words",
    [("study", BARRIER, "--strict"), ("study", "no_such.yaml"), ("formula", "loop.currant"), ("check", BARRIER)],
)
def test_a_process_of_its_own_says_the_same(words: tuple[str, ...]) -> None:
    """Most tests run the command in their own process, for speed."""
    apart, here = in_a_process(*words), onedatum(*words)
    assert (apart.code, apart.out) == (here.code, here.out)
    assert apart.err.replace("python -m onedatum", "onedatum") == here.err


def test_a_mistyped_command_is_answered_with_the_nearest() -> None:
    outcome = onedatum("studdy")
    assert outcome.code == 2
    assert "Nearest: study" in outcome.err


@pytest.mark.parametrize("case", [BARRIER, ISOLATOR])
def test_the_summary_fits_the_terminal_and_says_first_what_blocks(case: str) -> None:
    outcome = onedatum("study", case)
    lines = outcome.out.splitlines()
    assert outcome.code == 0
    assert len(lines) <= 40
    assert max(map(len, lines)) <= 80
    assert ("Order blocked" in outcome.out) is (case == BARRIER)
    if case == BARRIER:
        assert lines.index(next(line for line in lines if line.startswith("Blocks"))) < next(
            number for number, line in enumerate(lines) if line.startswith("Warning")
        )


def test_strict_answers_by_its_exit_code() -> None:
    assert onedatum("study", BARRIER, "--strict").code == 1
    assert onedatum("study", ISOLATOR, "--strict").code == 0


def test_json_is_one_object_for_a_case_and_a_list_for_a_folder() -> None:
    one = json.loads(onedatum("study", BARRIER, "--json").out)
    folder = json.loads(onedatum("study", "examples", "--json").out)
    assert one["order"] == "blocked"
    assert [each["order"] for each in folder] == [
        "blocked",
        "not blocked",
        "not blocked",
        "not blocked",
        "not blocked",
        "blocked",
        "not blocked",
        "not blocked",
        "not blocked",
        "not blocked",
    ]


def test_one_number_shows_its_working() -> None:
    outcome = onedatum("study", BARRIER, "--show", "stem.length")
    assert outcome.code == 0
    assert "stem.length = 3150.08 mm" in outcome.out
    assert "instrument.stem.tip_above_datum = 20 mm" in outcome.out
    assert "source:" in outcome.out


def test_a_mistyped_number_is_answered_with_the_nearest() -> None:
    assert "Nearest: stem.length" in onedatum("study", BARRIER, "--show", "stem.lenght").err


def test_signal_at_a_level() -> None:
    """IEC 60381-1: 4 + 16 (1.85 - 0.1)/2.7 mA; on 10 ohm ten times as many mV."""
    outcome = onedatum("signal", BARRIER, "--level", "1.850 m")
    assert outcome.code == 0
    assert "14.370 mA" in outcome.out
    assert "143.70 mV" in outcome.out
    assert "no reliable signal" not in outcome.out


def test_signal_above_the_end_of_the_loop_is_not_to_be_trusted() -> None:
    outcome = onedatum("signal", BARRIER, "--level", "2.75 m")
    assert "no reliable signal above 19.413 mA" in outcome.out
    assert "19.704 mA" not in outcome.out


def test_signal_beyond_the_measurement_information_stays_at_its_end() -> None:
    """NE 43: a level beyond the range shows 20.5 mA, not more."""
    outcome = onedatum("signal", ISOLATOR, "--level", "2.95 m")
    assert "20.500 mA" in outcome.out
    assert "lies beyond the measurement information" in outcome.out


@pytest.mark.parametrize(
    ("level", "words"),
    [
        ("1,850 m", "Write 1.850 or 1850, as is meant"),
        ("12 bar", "length"),
        ("5 m", "is at most 3020.078 mm"),
        ("nonsense", "length with its unit"),
        ("unknown", "a level with its unit"),
    ],
)
def test_signal_refuses_a_wrong_level(level: str, words: str) -> None:
    outcome = onedatum("signal", BARRIER, "--level", level)
    assert outcome.code in (2, 3)
    assert "level_now must be" in outcome.err
    assert words in outcome.err


def test_a_refused_question_reads_its_case_once(monkeypatch: pytest.MonkeyPatch) -> None:
    read: list[object] = []
    monkeypatch.setattr(parse, "read_bytes", lambda path: (read.append(path), read_bytes(path))[1])
    outcome = onedatum("signal", BARRIER, "--reading", "12 kg")
    assert (outcome.code, read) == (2, [Path(BARRIER)]) and "12 kg" in outcome.err


def test_signal_of_a_pressure_gives_the_level() -> None:
    """There and back: the pressure of the level, and the level of that pressure."""
    wet = "examples/wet_leg_tank.yaml"
    there = onedatum("signal", wet, "--level", "62 in")
    assert there.code == 0
    assert "\u221251.6845 inH2O(60 degF)" in there.out
    back = onedatum("signal", wet, "--pressure", "-51.6845 inH2O(60 degF)")
    assert back.code == 0
    assert "1574.80 mm" in back.out, "62 inches"


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("examples/wet_leg_tank.yaml", "--pressure", "-51.7"), "The unit is missing"),
        (("examples/wet_leg_tank.yaml", "--pressure", "-51.7 inH2O"), "Write inH2O(4 degC), (20 degC) or (60 degF)"),
        (("examples/spirit_receiver.yaml", "--pressure", "1 kPa"), "for a case without legs"),
        (("examples/wet_leg_tank.yaml",), "Give one of --level, --reading, --pressure"),
        (("examples/wet_leg_tank.yaml", "--level", "1 m", "--pressure", "1 kPa"), "Give one of --level"),
        (("examples/wet_leg_tank.yaml", "--pressure", "1 kPa", "--rate", "1 m3/h"), "--rate goes with --level"),
        (("examples/wet_leg_tank.yaml", "--pressure", "1 kPa", "--at", "14:30"), "--at goes with --level"),
        (("examples/wet_leg_tank.yaml", "--level", "1 m", "--on", "250 ohm"), "--on goes with --reading"),
    ],
)
def test_signal_refuses_a_wrong_pressure(words: tuple[str, ...], said: str) -> None:
    outcome = onedatum("signal", *words)
    assert outcome.code == 2
    assert said in " ".join((outcome.out + outcome.err).split())


@pytest.mark.parametrize(
    ("unit", "code", "said"),
    [
        ("inH2O(60 degF)", 0, "= 100 inH2O(60 degF)"),
        ("inH2O", 2, "a unit that results are shown in"),
        ("mm", 2, "a unit of length"),
    ],
)
def test_a_formula_in_the_unit_asked_for(unit: str, code: int, said: str) -> None:
    """An inch of water at 60 degF a hundred times: 24 884 Pa."""
    words = ("pressure.pressure_difference", "high=100 inH2O(60 degF)", "low=0 Pa", "--unit", unit)
    outcome = onedatum("formula", *words)
    assert outcome.code == code
    assert said in outcome.out + outcome.err


def test_a_level_alone_has_neither_table_nor_quantity() -> None:
    """Alone it is a fault that says so; in a folder it is passed over."""
    for command, why in (("table", "vessel.shape must be stated"), ("quantity", "wanted.of must be a quantity")):
        outcome = onedatum(command, "examples/wet_leg_tank.yaml")
        assert outcome.code == 2
        assert why in outcome.err
        assert outcome.out == ""


def test_formula_list_shows_every_formula_with_its_source() -> None:
    outcome = onedatum("formula", "--list")
    assert outcome.code == 0
    assert "floats.cylinder_immersion" in outcome.out
    assert outcome.out.count("source:") == outcome.out.count("  gives ")


def test_formula_works_alone() -> None:
    inputs = ("level=1.35 m", "lower_range_value=0.20 m", "upper_range_value=3.20 m")
    outcome = onedatum("formula", "loop.current", *inputs)
    assert outcome.code == 0
    assert "loop.current = 10.133 mA" in outcome.out


def test_formula_takes_numbers_of_a_case() -> None:
    inputs = ("level=@overfill.high_high", "lower_range_value=@range.4 mA", "upper_range_value=@range.20 mA")
    outcome = onedatum("formula", "loop.current", *inputs, "--case", BARRIER)
    assert outcome.code == 0
    assert "19.510 mA" in outcome.out


@pytest.mark.parametrize(
    ("words", "code", "said"),
    [
        (("loop.curent", "level=1 m"), 2, "Nearest: loop.current"),
        (("loop.current", "level=1 m"), 2, "lower_range_value must be given"),
        (("loop.current", "levle=1 m"), 2, "Nearest: level"),
        (("loop.current", "level=1 m", "lower_range_value=1 m", "upper_range_value=1 m"), 3, "must be other than"),
        (("loop.current", "level=1 kg", "lower_range_value=1 m", "upper_range_value=2 m"), 2, "a length"),
        (("media.ethanol_mass_fraction", "strength=120 %vol"), 3, "strength must be"),
        (("media.ethanol_mass_fraction", "strength=68 %mass"), 2, "strength must be"),
        (("loop.current", "level=@nothing", "lower_range_value=1 m", "upper_range_value=2 m"), 2, "entry of the case"),
    ],
)
def test_formula_refuses_wrong_input(words: tuple[str, ...], code: int, said: str) -> None:
    outcome = onedatum("formula", *words)
    assert outcome.code == code
    assert said in outcome.err


def test_new_writes_a_case_that_reads_and_never_overwrites(tmp_path: Path) -> None:
    file = tmp_path / "case.yaml"
    assert onedatum("new", str(file), "--schema").code == 0
    assert json.loads((tmp_path / "onedatum.schema.json").read_text(encoding="utf-8"))["title"] == "Case"
    assert onedatum("check", str(file)).code == 0
    study = onedatum("study", str(file))
    assert study.code == 0
    assert "Ask the customer" in study.out
    file.write_text("mine", encoding="utf-8")
    again = onedatum("new", str(file))
    assert again.code == 2
    assert "not overwritten" in again.err
    assert file.read_text(encoding="utf-8") == "mine"


def test_check_names_faults_with_their_place(tmp_path: Path) -> None:
    file = tmp_path / "wrong.yaml"
    file.write_text(text_with(("68.0 %vol", "120 %vol"), ("shell_length", "shel_length")), encoding="utf-8")
    outcome = onedatum("check", str(file))
    assert outcome.code == 2
    assert f"{file}:42:21: medium.strength must be" in outcome.err
    assert "Nearest: shell_length" in outcome.err
    assert "2 faults" in outcome.out


def test_a_faulty_case_is_studied_as_far_as_it_is_sound(tmp_path: Path) -> None:
    file = tmp_path / "wrong.yaml"
    file.write_text(text_with(("68.0 %vol", "120 %vol")), encoding="utf-8")
    outcome = onedatum("study", str(file))
    assert outcome.code == 2
    assert "To correct" in outcome.out
    assert "3150.08 mm" in outcome.out


def test_outside_validity_has_its_own_exit_code(tmp_path: Path) -> None:
    file = tmp_path / "hot.yaml"
    old = "{value: 14.0 degC, within: 0.5 K, min: 5 degC, max: 35 degC}"
    file.write_text(text_with((old, "55 degC")), encoding="utf-8")
    assert onedatum("study", str(file)).code == 3


def test_document_writes_whole_papers(tmp_path: Path) -> None:
    folder = tmp_path / "cases"
    folder.mkdir()
    (folder / "gas_oil_tank.yaml").write_bytes((EXAMPLES / "gas_oil_tank.yaml").read_bytes())
    (folder / "bare.yaml").write_text("onedatum: 1\ninvented: yes\n", encoding="utf-8")
    outcome = onedatum("document", str(folder), "--out", str(tmp_path / "papers"))
    assert outcome.code == 0
    endings = {
        "bare": (".pdf", ".json", "-safety.pdf", "-selection.pdf", "-questions.pdf"),
        "gas_oil_tank": (".pdf", ".json", "-safety.pdf", "-loop.svg", "-order.pdf", "-elevation.dxf"),
    }
    assert {file.name for file in (tmp_path / "papers").iterdir()} == {
        f"{case}{ending}" for case, found in endings.items() for ending in found
    }


def test_papers_into_a_place_that_is_a_file(tmp_path: Path) -> None:
    (tmp_path / "taken").write_text("", encoding="utf-8")
    (tmp_path / "bare.yaml").write_text("onedatum: 1\ninvented: yes\n", encoding="utf-8")
    outcome = onedatum("document", str(tmp_path / "bare.yaml"), "--out", str(tmp_path / "taken"))
    assert outcome.code == 2
    assert "must be a place that can be written" in outcome.err


def test_an_empty_folder_is_said(tmp_path: Path) -> None:
    for command in (("check",), ("study",)):
        outcome = onedatum(*command, str(tmp_path))
        assert outcome.code == 0
        assert "no case in this folder" in outcome.out


def test_a_terminal_is_never_steered_by_a_case(tmp_path: Path) -> None:
    file = tmp_path / "steer.yaml"
    file.write_text(text_with(("tag: LT-201", 'tag: "LT\\e[2J-201"')), encoding="utf-8")
    assert "\x1b" not in onedatum("study", str(file)).out


def test_the_altered_receiver_from_its_file(tmp_path: Path) -> None:
    file = tmp_path / "altered.yaml"
    file.write_text(text_with(*ALTERED), encoding="utf-8")
    assert "HH needs 20.03 mA, the loop ends at 19.28 mA" in " ".join(onedatum("study", str(file)).out.split())


def test_version() -> None:
    assert onedatum("--version").out.strip().endswith("0.1.0")
    assert (ROOT / "pyproject.toml").read_text(encoding="utf-8").count('version = "0.1.0"') == 1
