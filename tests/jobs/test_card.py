"""The card of the signal: its numbers against the straight line, scenarios from outside and the page; its files."""

from __future__ import annotations

import csv
import io
import json
import shutil
from functools import cache
from itertools import pairwise
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from onedatum.case.reading import read_case
from onedatum.foundation.errors import Fault
from onedatum.jobs.card import SignalCard, card_json, card_of_statement, card_text_of, levels_of, usual_step, write_card
from onedatum.jobs.examine import examine
from onedatum.jobs.page.scales import page_scales
from tests.cli.run import onedatum
from tests.closeness import close
from tests.pdf import pages_of
from tests.reference import case
from tests.study.variants import EXAMPLES

DASH = "\u2013"


@cache
def card(name: str, step: str) -> SignalCard:
    made = card_of_statement(read_case(EXAMPLES / f"{name}.yaml"), step)
    assert isinstance(made, SignalCard), made
    return made


def rows(name: str, step: str) -> list[dict[str, str]]:
    made = card(name, step).card
    return [dict(zip(made.columns, row.cells, strict=True)) | {"mark": row.name} for row in (*made.marks, *made.rows)]


def test_currents_follow_the_straight_line() -> None:
    """IEC 60381-1 on 100 mm to 2800 mm: 4 + 16 (h - 100)/2700 mA, and ten times as many mV on 10 ohm."""
    told = [row for row in rows("spirit_receiver", "100 mm") if not row["mark"] and row["mA"] != DASH]
    assert len(told) == 27
    for row in told:
        expected = 4.0 + 16.0 * (float(row["mm"]) - 100.0) / 2700.0
        close(float(row["mA"]), expected, 0.00051, "printed to the microampere")
        close(float(row["mV on 10 \u03a9"]), 10.0 * expected, 0.051, "printed to 0.1 mV")


def test_no_signal_is_printed_beyond_the_end_of_the_loop() -> None:
    """Scenario A: the loop ends at 2.7009 m."""
    end = 1e3 * case("scenarios-A").expected["loop_sat_level_m"]
    for row in rows("spirit_receiver", "100 mm"):
        assert (row["mA"] == DASH) == (float(row["mm"]) > end + 0.5), row


def test_the_capacitance_beside_the_current() -> None:
    given = case("scenarios-B")
    at = next(row for row in rows("caustic_tank", "100 mm") if row["mm"] == "1600")
    close(float(at["pF"]), given.expected["C_1600_pF"], 0.051, "printed to 0.1 pF")
    close(float(at["mA"]), given.expected["mA_1600"], 0.00051, "printed to the microampere")


def test_alarms_stand_among_the_marks() -> None:
    given = case("scenarios-D").expected
    found = {row["mark"]: row for row in rows("tilted_vessel", "2 in")}
    close(float(found["CH critical"]["mA"]), given["CH_mA"], 0.00051, "printed to the microampere")
    close(float(found["URV 20 mA"]["in"]), 6.0, 1e-9, "printed")


@pytest.mark.parametrize(
    ("name", "step"), [("caustic_tank", "100 mm"), ("tilted_vessel", "2 in"), ("steam_drum", "25 mm")]
)
def test_the_page_shows_the_same_digits(name: str, step: str) -> None:
    made = card(name, step)
    scales = {scale.kind.key: scale for scale in page_scales(examine(EXAMPLES / f"{name}.yaml"))}
    for number, level in enumerate(made.levels_m):
        for place, column in enumerate(made.columns):
            if not column.kind.entry:
                continue
            value = scales[column.kind.key].value(level)
            shown = made.card.rows[number].cells[place].replace("\u2212", "-")
            digit = 0.5 * 10.0**-column.kind.decimals * (1.0 + 1e-6)
            assert (shown == DASH) == (value is None)
            assert value is None or abs(float(shown) - value) <= digit


@given(low=st.floats(-2.0, 2.0), span=st.floats(0.01, 5.0), step=st.floats(0.005, 1.0))
@settings(max_examples=50)
def test_levels_rise_by_the_step_between_the_ends(low: float, span: float, step: float) -> None:
    found = list(levels_of(low, low + span, step))
    assert (found[0], found[-1]) == (low, low + span)
    inner = found[1:-1]
    assert all(abs(level / step - round(level / step)) < 1e-6 for level in inner)
    assert all(after > before for before, after in pairwise(found))
    assert all(after - before <= step * (1.0 + 1e-6) for before, after in pairwise(found))


@pytest.mark.parametrize(("name", "step"), [("spirit_receiver", "100 mm"), ("tilted_vessel", "2 in")])
def test_the_usual_step_is_round(name: str, step: str) -> None:
    """2700 mm and 62 in take 27 and 31 of these; the next rounder steps would take fewer than 20."""
    assert usual_step(examine(EXAMPLES / f"{name}.yaml")) == step


@pytest.mark.parametrize(
    ("step", "words"),
    [
        ("0 mm", "above 0"), ("-5 mm", "above 0"), ("1 um", "500 are printed"), ("x", "length"), ("1 kg", "length"),
        ("", "length"), ("nan mm", "must be"),
    ],
)  # fmt: skip
def test_steps_that_cannot_be_taken(step: str, words: str) -> None:
    made = card_of_statement(read_case(EXAMPLES / "spirit_receiver.yaml"), step)
    assert isinstance(made, Fault)
    assert words in made.sentence()


def test_without_a_range_there_is_no_card(tmp_path: Path) -> None:
    text = (EXAMPLES / "spirit_receiver.yaml").read_text(encoding="utf-8")
    path = tmp_path / "one.yaml"
    path.write_text(text.replace("20 mA: 2800 mm", "20 mA: unknown"), encoding="utf-8")
    made = card_of_statement(read_case(path), "100 mm")
    assert isinstance(made, Fault)
    assert "range" in made.sentence()


def test_the_files_hold_the_same_rows(tmp_path: Path) -> None:
    made = card("spirit_receiver", "100 mm")
    files = {file.suffix: file for file in write_card(made, "spirit_receiver", tmp_path)}
    assert next(file.name for file in files.values()) == "spirit_receiver-signal.pdf"
    table = list(csv.reader(io.StringIO(files[".csv"].read_text(encoding="utf-8"))))
    assert len(table) == 1 + len(made.card.marks) + len(made.card.rows)
    assert table[-2][2] == "19.407"
    assert table[-1][2] == "", "nothing is told at 2800 mm"
    assert float(table[len(made.card.marks)][1]) < 0.0, "a minus that programs read"
    data = json.loads(files[".json"].read_text(encoding="utf-8"))
    assert data["columns"]["mA"]["values"][-1] is None
    assert data["level_m"] == list(made.levels_m)
    assert files[".txt"].read_text(encoding="utf-8") == card_text_of(made)
    printed = " ".join(" ".join(pages_of(files[".pdf"].read_bytes())).split())
    for words in ("19.407", "HH no signal", "without opening the loop", "invented example", "neither certificate nor"):
        assert words in printed
    assert card_json(made)["step_m"] == 0.1


def test_hostile_words_stay_words(tmp_path: Path) -> None:
    text = (EXAMPLES / "spirit_receiver.yaml").read_text(encoding="utf-8")
    path = tmp_path / "one.yaml"
    path.write_text(text.replace("tag: LT-201", 'tag: "#panic() =1+1 \\u65e5"'), encoding="utf-8")
    made = card_of_statement(read_case(path), "500 mm")
    assert isinstance(made, SignalCard)
    printed = " ".join(pages_of(next(iter(write_card(made, "one", tmp_path))).read_bytes()))
    assert "#panic()" in printed
    assert "[U+65E5]" in printed


def test_the_command_prints_and_writes(tmp_path: Path) -> None:
    outcome = onedatum("signal", "examples/spirit_receiver.yaml", "--table", "100 mm")
    assert outcome.code == 0
    assert "19.407" in outcome.out
    folder = tmp_path / "papers"
    outcome = onedatum("signal", "examples/spirit_receiver.yaml", "--table", "100 mm", "--out", str(folder))
    assert outcome.code == 0
    assert len(list(folder.iterdir())) == 4
    shutil.rmtree(folder)
    folder.write_text("a file", encoding="utf-8")
    outcome = onedatum("signal", "examples/spirit_receiver.yaml", "--table", "100 mm", "--out", str(folder))
    assert outcome.code == 2
    assert "must be" in outcome.err
    outcome = onedatum("signal", "examples/spirit_receiver.yaml", "--level", "1 m", "--out", str(folder))
    assert "--out goes with --table" in outcome.err
