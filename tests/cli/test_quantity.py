"""`onedatum quantity`: text, JSON, PDF, its options, and what it says where nothing can be said."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from onedatum.jobs.quantity import quantity
from tests.cli.run import onedatum
from tests.closeness import close
from tests.study.variants import EXAMPLES, text_with

TANK = EXAMPLES / "lying_spirit_tank.yaml"
FUEL = EXAMPLES / "gas_oil_tank.yaml"


def data_of(*words: str) -> dict[str, object]:
    done = onedatum("quantity", *words, "--json")
    assert done.code == 0, done.err
    found: dict[str, object] = json.loads(done.out)
    return found


def test_the_statement_in_words() -> None:
    done = onedatum("quantity", str(TANK), "--trials", "20000")
    assert done.code == 0
    for said in (
        "Pure alcohol at 20 °C: 12505 L",
        "Batch",
        "Monte Carlo",
        "seed 1",
        "guarded acceptance",
        "Limit: France",
    ):
        assert said in done.out


def test_json_holds_the_numbers_in_si() -> None:
    found = data_of(str(TANK), "--trials", "20000", "--seed", "3")
    monte_carlo = found["monte_carlo"]
    assert isinstance(monte_carlo, dict)
    assert (monte_carlo["trials"], monte_carlo["seed"], monte_carlo["settled"]) == (20000, 3, None)
    low, high = monte_carlo["shortest_95_percent_m3"]
    assert low < monte_carlo["mean_m3"] < high
    assert found["wanted"] == "quantity.pure_alcohol"


@pytest.mark.parametrize("case", [TANK, FUEL])
def test_every_share_of_the_variance_is_printed(case: Path) -> None:
    budget = quantity(case, None).paper.budget
    assert budget is not None
    close(sum(share.share for share in budget.shares), 1.0, 1e-12, "rounding")


def test_the_same_seed_gives_the_same_statement() -> None:
    words = (str(FUEL), "--trials", "20000", "--seed", "5")
    assert data_of(*words) == data_of(*words)


def test_without_trials_there_is_the_budget_alone() -> None:
    assert data_of(str(FUEL), "--linear")["monte_carlo"] is None


def test_evenly_spread_points_leave_the_shortest_interval_away() -> None:
    found = data_of(str(FUEL), "--sobol")["monte_carlo"]
    assert isinstance(found, dict)
    assert found["shortest_95_percent_m3"] is None and found["trials"] == 65536
    plain = data_of(str(FUEL), "--trials", "200000")["monte_carlo"]
    assert isinstance(plain, dict)
    u = "standard_uncertainty_m3"
    close(found[u], plain[u], 0.007 * plain[u], "four standard errors of 200 000 trials")


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("--sobol", "--trials", "20000"), "--sobol sets the number of points itself"),
        (("--sobol", "--linear"), "--sobol sets the number of points itself"),
        (("--trials", "5"), "10000"),
        (("--trials", "1e6"), "not a valid integer"),
        (("--seed", "-1"), "-1"),
    ],
)
def test_options_that_make_no_sense_are_refused(words: tuple[str, ...], said: str) -> None:
    done = onedatum("quantity", str(FUEL), *words)
    assert done.code == 2 and said in done.err


def test_files_are_written_and_none_over_another(tmp_path: Path) -> None:
    folder, out = tmp_path / "cases", tmp_path / "out"
    folder.mkdir()
    for name in ("a.yaml", "a.yml"):
        (folder / name).write_text(FUEL.read_text(encoding="utf-8"), encoding="utf-8")
    done = onedatum("quantity", str(folder), "--trials", "20000", "--out", str(out))
    assert done.code == 0
    assert sorted(file.name for file in out.iterdir()) == [
        "a-2-quantity.json",
        "a-2-quantity.pdf",
        "a-quantity.json",
        "a-quantity.pdf",
    ]
    assert (out / "a-quantity.pdf").read_bytes().startswith(b"%PDF")


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("level_now: {value: 3150 mm, u: 0.7 mm}", "level_now: 5000 mm", "level_now must be"),
        (
            "density: {value: 836.4 kg/m3, u: 0.2 kg/m3, note: hydrometer in the sample}",
            "density: 0.89 kg/m3",
            "kg/L or g/cm3",
        ),
        ("group: refined product", "group: LPG", "density table"),
        ("group: refined product", "group: ethanol", "ethanol-water"),
        (
            "temperature: {value: 22.0 degC, within: 0.5 K, min: -5 degC, max: 35 degC}",
            "temperature: 170 degC",
            "medium.temperature",
        ),
        (
            "sediment_and_water: {value: 0.05 %vol, within: 0.02 %vol}",
            "sediment_and_water: 120 %vol",
            "sediment_and_water must be",
        ),
    ],
)
def test_a_wrong_input_is_told_with_its_place_and_the_rest_stands(
    tmp_path: Path, old: str, new: str, said: str
) -> None:
    case = tmp_path / "case.yaml"
    case.write_text(text_with((old, new), example=FUEL), encoding="utf-8")
    done = onedatum("quantity", str(case), "--trials", "20000")
    assert done.code in (2, 3)
    assert said in done.err and "case.yaml:" in done.err
    assert "Quantity statement of LT-702" in done.out


def test_trials_that_leave_the_vessel_give_no_figure_but_a_reason(tmp_path: Path) -> None:
    case = tmp_path / "case.yaml"
    case.write_text(
        text_with(("level_now: {value: 1400 mm, u: 0.5 mm}", "level_now: {value: 3 mm, u: 1.4 mm}"), example=TANK)
    )
    done = onedatum("quantity", str(case))
    assert "outside" in done.err
    assert done.code == 2


def test_a_folder_without_a_case_says_so(tmp_path: Path) -> None:
    assert "no case in this folder" in onedatum("quantity", str(tmp_path)).out
