"""Make src/onedatum/data/permittivity_liquids.json: relative permittivity of liquids, as one open package states it.

Run it by hand with the package chemicals installed, from the project folder; its output is kept in the project:

    python3 tools/make_permittivity_liquids.py

The package is read, not imported: neither its own dependencies nor its code are needed.
"""

from __future__ import annotations

import csv
import json
from importlib.metadata import Distribution, distribution
from pathlib import Path
from typing import Any

TARGET = Path(__file__).resolve().parents[1] / "src" / "onedatum" / "data" / "permittivity_liquids.json"
TABLE = "Permittivity (Dielectric Constant) of Liquids.tsv"
COLUMNS = ("CAS", "Chemical", "T", "Permittivity", "A", "B", "C", "D", "Tmin", "Tmax")


def text_of(package: Distribution, name: str) -> str:
    """The text of the one file of the package that is called so."""
    (place,) = [file for file in package.files or () if file.name == name]
    return Path(str(place.locate())).read_text(encoding="utf-8")


def head(package: Distribution, disagreeing: int) -> dict[str, object]:
    """What the table is, where it comes from, under which licence, and where it holds."""
    return {
        "about": "Relative permittivity of pure liquids: a point value, and where A stands A + B T + C T^2 + D T^3 "
        "from lowest_K to highest_K",
        "document": "CRC Handbook of Chemistry and Physics, 2014, as the package cites it",
        "source": "crc-permittivity",
        "tag": "read second-hand",
        "made_by": f"tools/make_permittivity_liquids.py from the package chemicals {package.version}",
        "licence": text_of(package, "LICENSE.txt").split("\n"),
        "units": "T in K",
        "validity": "each polynomial within its own range of temperature",
        "traps": [
            f"Of {disagreeing} liquids polynomial and point value at its temperature differ by more than 2 %",
            "A missing C or D is nought",
            "The range of oxirane (75-21-8) runs backwards in the package; its polynomial is never used",
        ],
    }


def row(stated: dict[str, str]) -> list[Any]:
    """One liquid, its numbers as they are stated; a missing one is null."""
    numbers = [float(stated[column]) if stated[column] else None for column in COLUMNS[2:]]
    return [stated["CAS"], stated["Chemical"], *numbers]


def disagrees(each: list[Any]) -> bool:
    """Whether the polynomial of a row differs by more than 2 % from its point value."""
    _, _, point_K, point, *coefficients, _, _ = each
    at_point = sum((factor or 0.0) * point_K**power for power, factor in enumerate(coefficients))
    return coefficients[0] is not None and abs(at_point / point - 1.0) > 0.02


def main() -> None:
    """Read the package and write the table, one liquid a line."""
    package = distribution("chemicals")
    rows = [row(stated) for stated in csv.DictReader(text_of(package, TABLE).splitlines(), delimiter="\t")]
    columns = ["cas", "name", "point_K", "point", "A", "B", "C", "D", "lowest_K", "highest_K"]
    top = json.dumps(
        {"head": head(package, sum(map(disagrees, rows))), "columns": columns}, indent=1, ensure_ascii=False
    )
    lines = ",\n".join(json.dumps(each, ensure_ascii=False) for each in rows)
    written = f'{top.removesuffix("}").rstrip()},\n "liquids": [\n{lines}\n ]\n}}\n'
    json.loads(written)
    TARGET.write_text(written, encoding="utf-8", newline="\n")
    print(f"{TARGET.name}: {len(rows)} liquids, {sum(each[4] is not None for each in rows)} with a polynomial")


if __name__ == "__main__":
    main()
