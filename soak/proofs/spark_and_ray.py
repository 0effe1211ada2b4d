"""The examples of docs/logs_at_scale.md run as they stand there, against the command on the same log."""

from __future__ import annotations

import re
import shutil
import subprocess
import sys
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import numpy as np
import pyarrow as pa
import pyarrow.dataset as ds
import pyarrow.parquet as pq

from onedatum.jobs.convert.run import Asked
from onedatum.jobs.convert.run import run as converted
from soak.report import Report

NAME = "spark_and_ray"
ROOT = Path(__file__).resolve().parent.parent.parent
CASES = ("spirit_receiver", "lying_spirit_tank")
MAP = """mapping: 1
time: {column: time, form: iso, zone: UTC}
value: {column: level, unit: mm}
tag: {column: tag}
"""
ROWS, LATE = 60_000, 100
EXAMPLE = re.compile(r"^```python (\w+)\n(.*?)^```$", re.MULTILINE | re.DOTALL)


def examples() -> dict[str, str]:
    """The examples of the page by their names."""
    return dict(EXAMPLE.findall((ROOT / "docs" / "logs_at_scale.md").read_text(encoding="utf-8")))


def environment(folder: Path) -> Path:
    """A Python with the tool and both engines, in a folder that is thrown away."""
    uv = shutil.which("uv") or str(ROOT / ".tools" / "bin" / "uv")
    python = folder / "venv" / "bin" / "python"
    subprocess.run([uv, "venv", "--quiet", "--python", sys.executable, str(folder / "venv")], check=True)
    words = [uv, "pip", "install", "--quiet", "--python", str(python), "--constraints", str(ROOT / "constraints.txt")]
    subprocess.run([*words, "--group", f"{ROOT / 'pyproject.toml'}:scale", f"{ROOT}[logs]"], check=True)
    return python


def prepared(folder: Path) -> None:
    """Cases, mapping and a log of two tags by turns, in which some rows come late."""
    (folder / "cases").mkdir()
    for name in CASES:
        shutil.copy(ROOT / "examples" / f"{name}.yaml", folder / "cases")
    (folder / "map.yaml").write_text(MAP, encoding="utf-8")
    at = np.arange(ROWS)
    moment = at.copy()
    moment[np.random.default_rng(20261128).choice(ROWS, LATE, replace=False)] -= 50
    log = {
        "row": at + 1,
        "time": pa.array(1_700_000_000_000_000 + moment * 1_000_000).cast(pa.timestamp("us", "UTC")),
        "tag": np.where(at % 2 == 0, "LT-201", "LT-233"),
        "level": np.round(700 + 400 * np.sin(at / 5_000), 1),
    }
    pq.write_table(pa.table(log), folder / "log.parquet")


def rows_of(folder: Path, names: list[str]) -> Any:
    """The rows of a folder of results in the order of the log."""
    table = ds.dataset(folder, format="parquet", exclude_invalid_files=True).to_table(columns=names)
    at = table.column_names.index("time")  # one engine writes times without their zone
    time_us = table.column("time").cast(pa.timestamp("us")).cast(pa.timestamp("us", "UTC"))
    return table.set_column(at, "time", time_us).sort_by("row")


def unlike(one: Any, other: Any) -> int:
    """Columns that differ in any row."""
    if one.num_rows != other.num_rows:
        return int(one.num_columns)
    return sum(a.to_pylist() != b.to_pylist() for a, b in zip(one.columns, other.columns, strict=True))


def run() -> Report:
    """Both examples in an environment of their own."""
    with TemporaryDirectory() as place:
        folder = Path(place)
        prepared(folder)
        asked = Asked((folder / "log.parquet",), None, folder / "cases", folder / "map.yaml", folder / "out")
        reference = converted(asked, lambda rows, share: None)
        python = environment(folder)
        found: dict[str, int] = {}
        for name, code in examples().items():
            (folder / f"{name}_example.py").write_text(code, encoding="utf-8")
            done = subprocess.run([str(python), f"{name}_example.py"], cwd=folder, capture_output=True, check=False)
            schema = pq.read_schema(next((folder / "out" / "parts").glob("*.parquet")))
            names = [name_of for name_of in schema.names if name_of != "file"]
            whole = rows_of(folder / "out" / "parts", names)
            found[name] = unlike(whole, rows_of(folder / name, names)) if done.returncode == 0 else len(names)
    return Report(
        title="Level logs converted by Spark and by Ray",
        statement="The examples of the page give the rows that the command gives, every number to its last bit.",
        method=(
            "Both are installed into an environment that is thrown away. The examples are taken from "
            "`docs/logs_at_scale.md` as they stand there and run on a log of two tags by turns in which some rows come "
            "late. Their rows are compared column by column with those of the command."
        ),
        numbers=(
            ("rows converted by the command", f"{reference.tally.converted} of {reference.tally.rows}"),
            *((f"columns of {name} that differ", f"{count}") for name, count in found.items()),
        ),
        seeds=(20261128,),
        holds=set(found) == {"spark", "ray"} and not any(found.values()) and 0 < reference.tally.converted < ROWS,
    )
