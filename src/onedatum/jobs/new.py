"""Start a case: a commented skeleton, and the schema for editors."""

from __future__ import annotations

import json
from pathlib import Path

from onedatum.case.schema import case_schema
from onedatum.case.skeleton import skeleton
from onedatum.jobs.write import write_new, write_whole

SCHEMA_FILE = "onedatum.schema.json"


def new_case(path: Path, with_schema: bool = False) -> list[Path]:
    """Write the skeleton of a case, and beside it the JSON Schema if it is asked for; gives the files written."""
    text = skeleton()
    if not with_schema:
        write_new(path, text.encode("utf-8"))
        return [path]
    schema = path.parent / SCHEMA_FILE
    write_new(path, f"# yaml-language-server: $schema={SCHEMA_FILE}\n{text}".encode())
    write_whole(schema, (json.dumps(case_schema(), indent=1) + "\n").encode("utf-8"))
    return [path, schema]
