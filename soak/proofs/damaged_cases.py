"""Five thousand damaged cases: each is read and studied, and none breaks the tool."""

from __future__ import annotations

from collections import Counter
from pathlib import Path
from random import Random

from onedatum.case.reading import read_case_text
from onedatum.study.study import study
from soak.damage import damaged
from soak.report import Report

NAME = "damaged_cases"
SEED = 20261125
TRIALS = 5_000
EXAMPLES = Path(__file__).resolve().parents[2] / "examples"


def run() -> Report:
    """Damage, read, study; count what came of it."""
    random, outcomes = Random(SEED), Counter[str]()
    texts = {path.name: path.read_text(encoding="utf-8").splitlines() for path in sorted(EXAMPLES.glob("*.yaml"))}
    for trial in range(TRIALS):
        name = sorted(texts)[trial % len(texts)]
        try:
            found = study(read_case_text(damaged(random, texts[name]), name, EXAMPLES))
        except Exception as error:  # noqa: BLE001 - whatever escapes is what this proof looks for
            outcomes[f"broke: {type(error).__name__}"] += 1
            continue
        outcomes[found.order] += 1
    broken = sum(count for outcome, count in outcomes.items() if outcome.startswith("broke"))
    return Report(
        title="Damaged cases never break the tool",
        statement="A case with lines lost, doubled, cut or absurd is read and studied without an exception.",
        method=(
            f"{TRIALS} times one to four lines of a shipped example, each in turn, are damaged at random, and the text "
            "is read and studied. Whatever escapes as an exception is counted."
        ),
        numbers=tuple((outcome, str(count)) for outcome, count in sorted(outcomes.items())),
        seeds=(SEED,),
        holds=not broken,
    )
