"""Files handed out to be kept: each with its content type and a safe name, never shown in place of a page."""

from __future__ import annotations

from collections.abc import Mapping

from fastapi.responses import Response

CONTENT_TYPES: Mapping[str, str] = {
    "pdf": "application/pdf",
    "json": "application/json",
    "svg": "image/svg+xml",
    "dxf": "image/vnd.dxf",
    "xlsx": "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
    "csv": "text/csv; charset=utf-8",
    "txt": "text/plain; charset=utf-8",
    "xml": "application/xml",
    "yaml": "application/yaml",
}
"""By the ending of a name."""


def attached(name: str, content: bytes) -> Response:
    """A file to keep; the name is one that `file_stem` made, with an ending of ours."""
    kind = CONTENT_TYPES[name.rpartition(".")[2]]
    return Response(content, media_type=kind, headers={"Content-Disposition": f'attachment; filename="{name}"'})
