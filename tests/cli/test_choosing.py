"""What the command line says of principles, and of what changed between two cases."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from onedatum.case.skeleton import skeleton
from onedatum.cli.choosing import choosing_lines
from tests.cli.run import onedatum
from tests.jobs.judged import case_in, judged, text_with_conditions
from tests.study.variants import text_with

BARRIER, ISOLATOR = "examples/spirit_receiver.yaml", "examples/spirit_receiver_isolator.yaml"
NOT_CASES = ("", "tag: [", "- a\n- b\n", "\x00\x01", "just words")


@pytest.fixture
def case(tmp_path: Path) -> str:
    return str(case_in(tmp_path, text_with_conditions("A")))


def folded(text: str) -> str:
    return " ".join(text.split())


# ---------------------------------------------------------------- study


def test_the_summary_says_verdict_ranking_and_questions(case: str) -> None:
    outcome = onedatum("study", case)
    lines = outcome.out.splitlines()
    assert outcome.code == 0
    assert len(lines) <= 40
    assert max(map(len, lines)) <= 80
    said = folded(outcome.out)
    assert "Magnetostrictive float on a stem: " in said
    assert " decide." in said or " decides." in said


def test_the_first_three_that_suit_are_named_in_their_order() -> None:
    """Reference, scenario A: eight principles suit on conditions, nothing is asked."""
    assert folded(" ".join(choosing_lines(judged("A")))) == (
        "Magnetostrictive float on a stem: suits on conditions. First of 8 that suit: radar, magnetostrictive float on "
        "a stem, guided radar. 0 questions decide."
    )
    assert folded(" ".join(choosing_lines(judged("B")))).endswith("1 question decides.")


def test_faults_come_before_questions(tmp_path: Path) -> None:
    text = text_with_conditions("A").replace("kind: runs off", "kind: runs")
    said = folded(onedatum("study", str(case_in(tmp_path, text))).out)
    assert "Magnetostrictive float on a stem: undecided." in said
    assert "decide." not in said
    assert "conditions.flow.kind must be" in said


def test_a_case_without_conditions_says_nothing_of_principles() -> None:
    assert "decide" not in onedatum("study", ISOLATOR).out


def test_the_skeleton_offers_the_conditions(tmp_path: Path) -> None:
    assert "\nconditions:\n" in skeleton()
    outcome = onedatum("study", str(case_in(tmp_path, skeleton())))
    said = folded(outcome.out)
    assert "No instrument is chosen: no principle suits yet, 15 are undecided." in said
    assert "Undecided: every principle 83 questions decide." in said
    assert "Ask the customer first; an answer decides on 1. Temperature of the content: every principle" in said
    assert "stem" not in said
    assert "To be ordered" not in said
    assert "Is the vessel bonded" not in outcome.out, "what is ours to choose is told by the verdict alone"


def test_json_holds_matrix_questions_and_flips(case: str) -> None:
    told = json.loads(onedatum("study", case, "--json").out)["choosing"]
    assert told["stated"] == "magnetostrictive"
    assert [each["rank"] for each in told["ranking"]] == list(range(1, len(told["ranking"]) + 1))
    names = {each["principle"] for each in told["principles"]}
    assert len(names) == 15
    for each in told["principles"]:
        against = each["verdict"] in ("does not suit", "undecided")
        assert each["flip"] is None or against
        conditions = {rule["condition"] for rule in each["rules"] if rule["condition"]} | set(each["no_influence"])
        assert len(conditions) == 22, "every condition has its rule or its word that it has no influence"
    assert {pair["principle"] for asked in told["questions"] for pair in asked["decides"]} <= names
    bare = next(each for each in told["principles"] if each["principle"] == "load-cells")
    assert any(pair["quantity"] == "pipework" for rule in bare["rules"] for pair in rule["because"])


# ---------------------------------------------------------------- one principle


def test_one_principle_shows_its_whole_reasoning(case: str) -> None:
    outcome = onedatum("study", case, "--principle", "load-cells")
    said = folded(outcome.out)
    assert max(map(len, outcome.out.splitlines())) <= 80
    assert said.startswith("Load cells: does not suit")
    assert "What would change it:" in said
    assert "pipe connections: stiff" in said
    assert "lifting of the vessel: cannot be lifted" in said
    assert "source: Derived from geometry or first principles [derived and checked]" in said
    assert "No influence: solids, viscosity, conductivity, permittivity" in said
    assert "replaces neither certificate nor inspection" in said


def test_one_principle_as_json(case: str) -> None:
    told = json.loads(onedatum("study", case, "--principle", "radar", "--json").out)
    assert told["principle"] == "radar"
    assert told["rules"]


@pytest.mark.parametrize(
    ("name", "said"),
    [
        ("radarr", "no principle is called 'radarr'. Nearest: radar."),
        ("Load-Cells", "Nearest: load-cells."),
        ("", "no principle is called ''."),
        ("x" * 5000, "no principle is called"),
        ("\x1b[2J", "no principle is called"),
    ],
)
def test_an_unknown_principle_is_answered_with_the_nearest(name: str, said: str, case: str) -> None:
    outcome = onedatum("study", case, "--principle", name)
    assert outcome.code == 2
    assert said in outcome.err
    assert outcome.out == ""
    assert "\x1b" not in outcome.err


def test_a_case_that_judges_none_says_what_to_do() -> None:
    outcome = onedatum("study", ISOLATOR, "--principle", "radar")
    assert outcome.code == 2
    assert "the case states no conditions. Add the section conditions" in outcome.err


def test_only_one_thing_is_shown_at_a_time() -> None:
    outcome = onedatum("study", BARRIER, "--principle", "radar", "--show", "stem.length")
    assert outcome.code == 2
    assert "give one of them" in outcome.err


# ---------------------------------------------------------------- against


def test_the_same_case_changed_nothing() -> None:
    outcome = onedatum("study", ISOLATOR, "--against", ISOLATOR)
    assert outcome.out == "Nothing changed.\n"
    assert outcome.code == 0


def test_another_spelling_of_a_value_is_no_change(tmp_path: Path) -> None:
    """1600 mm and 1.6 m are one diameter; another unit of print moves no number."""
    again = case_in(tmp_path, text_with(("inside_diameter: 1600 mm", "inside_diameter: 1.6 m")))
    assert onedatum("study", str(again), "--against", BARRIER).out == "Nothing changed.\n"


def test_what_changed_is_told_from_input_to_order(tmp_path: Path) -> None:
    """IEC 60381-1: 4 + 16 (1.85 - 0.1)/2.6 mA with the range moved from 2800 mm to 2700 mm, before 14.370 mA."""
    new = case_in(tmp_path, text_with(("20 mA: 2800 mm", "20 mA: 2700 mm")))
    said = folded(onedatum("study", str(new), "--against", BARRIER).out)
    assert "Inputs: 1 changed range.20 mA" in said
    assert "2800 mm -> 2700 mm" in said
    assert "14.370 mA -> 14.769 mA" in said
    assert "Range: Level at 20 mA (URV): 2800 mm -> 2700 mm" in said
    assert "vessel.full_volume" not in said, "what did not change is not told"


def test_findings_and_the_word_on_the_order_are_told() -> None:
    said = folded(onedatum("study", ISOLATOR, "--against", BARRIER).out)
    assert "order (the order): blocked -> not blocked" in said
    assert "alarm-never-comes (HH can never come): blocks the order: HH can never come -> not there" in said


def test_verdicts_on_principles_are_told(tmp_path: Path, case: str) -> None:
    """Reference: stiff pipes exclude load cells; flexible ones and a vessel that can be lifted do not."""
    text = text_with_conditions("A").replace("pipework: stiff", "pipework: flexible")
    new = case_in(tmp_path, text.replace("lift: cannot be lifted", "lift: can be lifted"), "new.yaml")
    outcome = onedatum("study", str(new), "--against", case)
    assert "principle load-cells (load-cells): does not suit -> " in folded(outcome.out)


def test_the_comparison_as_json() -> None:
    told = json.loads(onedatum("study", ISOLATOR, "--against", BARRIER, "--json").out)
    assert told["compared"] is True
    assert told["old"]["file"] == "spirit_receiver.yaml"
    number = next(each for each in told["numbers"] if each["name"] == "loop.terminal_voltage_at_worst")
    assert number["old"] == "10.839 V"
    assert number["old_value_V"] == pytest.approx(10.839, abs=5e-4)
    assert number["new_value_V"] > number["old_value_V"]
    assert {"inputs", "numbers", "verdicts", "findings", "order"} < told.keys()


@pytest.mark.parametrize("which", ["new", "old"])
def test_a_missing_file_is_named_whichever_it_is(which: str) -> None:
    words = ("nothing.yaml", "--against", BARRIER) if which == "new" else (BARRIER, "--against", "nothing.yaml")
    outcome = onedatum("study", *words)
    assert outcome.code == 2
    assert "nothing.yaml must be a file that exists" in outcome.err
    assert outcome.out == "Nothing compared: nothing.yaml holds no case.\n"


@pytest.mark.parametrize("text", NOT_CASES)
def test_an_old_that_is_no_case_is_named(text: str, tmp_path: Path) -> None:
    old = case_in(tmp_path, text, "old.yaml")
    outcome = onedatum("study", BARRIER, "--against", str(old))
    assert outcome.code == 2
    assert "old.yaml" in outcome.err
    assert outcome.out.startswith("Nothing compared: ")


def test_a_faulty_old_is_named_with_its_place_and_the_rest_compared(tmp_path: Path) -> None:
    old = case_in(tmp_path, text_with(("bore: 80 mm", "bore: 80,5 mm")), "old.yaml")
    outcome = onedatum("study", BARRIER, "--against", str(old))
    assert outcome.code == 2
    assert "old.yaml:37" in outcome.err
    assert "nozzle.bore must be" in outcome.err
    assert "nozzle.bore (bore of the nozzle): faulty 80,5 mm -> 80 mm" in folded(outcome.out)


def test_a_folder_is_not_compared() -> None:
    outcome = onedatum("study", BARRIER, "--against", "examples")
    assert outcome.code == 2
    assert "examples must be one case file; got a folder." in outcome.err
