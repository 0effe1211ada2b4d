"""Make src/onedatum/data/units_worth.json: what pint answers for the units the trade writes every day.

Run it by hand after a change of `data/units.txt` or of the units offered, from the project folder:

    python3 tools/make_units_worth.py
"""

from __future__ import annotations

import json
from pathlib import Path

from onedatum.foundation.units.dimensions import DIMENSIONS, SHARES
from onedatum.foundation.units.grammar import GrammarError, factors, pressure_reference
from onedatum.foundation.units.registry import vocabulary, worth_by_pint

TARGET = Path(__file__).resolve().parents[1] / "src" / "onedatum" / "data" / "units_worth.json"
ALSO = {"mg/L"}
"""Units that limits are written in, though no kind of quantity offers them first."""
ABOUT = (
    "Factor to SI and base units with their powers, for every name of units.txt and every unit offered. Made by "
    "tools/make_units_worth.py from pint; a test compares each row with pint."
)


def usual_units() -> list[str]:
    """Every name of the vocabulary and every expression a kind of quantity offers, without gauge or absolute."""
    offered = {pressure_reference(unit)[0] for kind in DIMENSIONS.values() for unit in (kind.si, *kind.offered)} | ALSO
    return sorted(unit for unit in (offered | vocabulary()) - set(SHARES) - {""} if is_written(unit))


def is_written(unit: str) -> bool:
    """Whether the grammar knows the expression; names that only pint uses inside are not written by people."""
    try:
        factors(unit)
    except GrammarError:
        return False
    return True


def main() -> None:
    """Write the table."""
    rows = {unit: (str(worth.factor), worth.bases) for unit in usual_units() for worth in [worth_by_pint(unit)]}
    lines = ",\n  ".join(f"{json.dumps(unit)}: {json.dumps(row)}" for unit, row in rows.items())
    TARGET.write_text(f'{{\n "about": {json.dumps(ABOUT)},\n "units": {{\n  {lines}\n }}\n}}\n', encoding="utf-8")


if __name__ == "__main__":
    main()
