"""`onedatum table`: the rows, the error between them, the files, and what it refuses."""

from __future__ import annotations

import csv
import json
from pathlib import Path

import pytest

from onedatum.physics.vessels import TankTable
from tests.cli.run import onedatum
from tests.closeness import close

TILTED = "examples/tilted_vessel.yaml"


def test_the_text_names_what_a_table_must_say_of_itself() -> None:
    outcome = onedatum("table", TILTED)
    assert outcome.code == 0
    assert max(map(len, outcome.out.splitlines())) <= 80
    for words in (
        "datum",
        "basis",
        "interpolation rule",
        "expanded uncertainty",
        "deadwood",
        "no certificate",
        "invented",
    ):
        assert words in outcome.out, words
    assert "  41.000" in outcome.out


def test_every_form_holds_the_same_rows(tmp_path: Path) -> None:
    outcome = onedatum("table", TILTED, "--step", "1 in", "--out", str(tmp_path))
    assert outcome.code == 0
    assert {file.suffix for file in tmp_path.iterdir()} == {".txt", ".csv", ".xlsx", ".pdf", ".json"}
    data = json.loads((tmp_path / "tilted_vessel-table.json").read_text(encoding="utf-8"))["table"]
    with (tmp_path / "tilted_vessel-table.csv").open(encoding="utf-8", newline="") as lines:
        head, *rows = csv.reader(lines)
    assert head[:2] == ["Level [in]", "Volume [US gal]"]
    assert len(rows) == len(data["level_m"])
    for row, level, volume in zip(rows, data["level_m"], data["volume_m3"], strict=True):
        close(float(row[0]), level / 0.0254, 0.00051, "printed to 0.001 in") if level else None
        close(float(row[1]), volume / 0.003785411784, 0.00501, "printed to 0.01 gal") if volume > 0.001 else None


def test_the_table_reads_back_as_a_vessel_with_the_same_volume(tmp_path: Path) -> None:
    onedatum("table", TILTED, "--step", "1 in", "--out", str(tmp_path))
    case = (Path(TILTED)).read_text(encoding="utf-8")
    start, end = case.index("  shape: lying"), case.index("  deadwood: none")
    case = case[:start] + "  shape: by its table\n  datum: zero of the table\n" + case[end:]
    case = case.replace("basis: drawing", "basis: table of another, read_from: tilted_vessel-table.csv")
    (tmp_path / "again.yaml").write_text(case, encoding="utf-8")
    data = json.loads(onedatum("study", str(tmp_path / "again.yaml"), "--json").out)
    volume = next(entry for entry in data["sheet"] if entry["name"] == "quantity.table_volume")
    close(volume["value_m3"], 1939.61 * 0.003785411784, 0.0005, "of the shape, by interpolation between printed rows")


def test_the_error_it_states_is_the_error_it_has(tmp_path: Path) -> None:
    data = json.loads(onedatum("table", TILTED, "--json").out)["table"]
    table = TankTable(data["level_m"], data["volume_m3"])
    fine = json.loads(onedatum("table", TILTED, "--step", "1 mm", "--json").out)["table"]
    worst = max(
        abs(float(table.volume_m3(level)) - volume)
        for level, volume in zip(fine["level_m"][1:-1], fine["volume_m3"][1:-1], strict=True)
    )
    stated = abs(data["largest_error"]["error_m3"])
    assert worst <= stated * 1.001
    close(worst, stated, 0.05 * stated, "the worst place is met within a millimetre")


@pytest.mark.parametrize(
    ("step", "said"),
    [
        ("0 mm", "above 0"),
        ("-1 mm", "above 0"),
        ("7,5 mm", "Write 7.5"),
        ("10", "unit"),
        ("1e-9 mm", "rows"),
        ("1 kg", "length"),
    ],
)
def test_a_step_that_cannot_be_is_refused(step: str, said: str) -> None:
    outcome = onedatum("table", TILTED, "--step", step)
    assert outcome.code in (2, 3)
    assert said in outcome.err
    assert outcome.out == ""


def test_a_vessel_that_is_not_known_has_no_table_and_says_what_it_waits_for(tmp_path: Path) -> None:
    text = Path(TILTED).read_text(encoding="utf-8").replace("inside_diameter: 72 in", "inside_diameter: unknown")
    file = tmp_path / "open.yaml"
    file.write_text(text, encoding="utf-8")
    outcome = onedatum("table", str(file))
    assert outcome.code == 2
    assert "waits for vessel.inside_diameter" in outcome.err
    assert outcome.out == ""


def test_a_folder_gives_every_table() -> None:
    tables = json.loads(onedatum("table", "examples", "--json").out)
    assert [each["case"]["tag"] for each in tables] == [
        "LT-310",
        "LT-702",
        "LT-233",
        "LT-733",
        "LT-460",
        "LT-201",
        "LT-201",
        "LT-508",
    ]


def test_two_cases_of_one_name_do_not_overwrite_each_other(tmp_path: Path) -> None:
    for ending in ("yaml", "yml"):
        (tmp_path / f"same.{ending}").write_text(Path(TILTED).read_text(encoding="utf-8"), encoding="utf-8")
    outcome = onedatum("table", str(tmp_path), "--step", "1 in", "--out", str(tmp_path / "tables"))
    assert outcome.code == 0
    names = {file.name for file in (tmp_path / "tables").glob("*.csv")}
    assert names == {"same-table.csv", "same-2-table.csv"}


def test_an_output_folder_that_is_a_file(tmp_path: Path) -> None:
    (tmp_path / "taken").write_text("", encoding="utf-8")
    outcome = onedatum("table", TILTED, "--out", str(tmp_path / "taken"))
    assert outcome.code == 2
    assert "must be a place that can be written" in outcome.err
