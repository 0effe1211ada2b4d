"""The JSON Schema of a case, for editors that check while one types."""

from __future__ import annotations

from typing import Any

from onedatum.case.model import Case


def case_schema() -> dict[str, Any]:
    """The schema of the case file, JSON Schema 2020-12."""
    schema = Case.model_json_schema(by_alias=True)
    return {"$schema": "https://json-schema.org/draft/2020-12/schema", **schema, "required": ["onedatum"]}
