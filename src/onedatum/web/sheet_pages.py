"""The page of the sheets with their drawings, and the case file as text."""

from __future__ import annotations

from typing import Any

from fastapi import APIRouter
from fastapi.responses import HTMLResponse, Response

from onedatum.jobs.page.file import file_view
from onedatum.jobs.page.made import CaseText
from onedatum.jobs.page.sheets import sheets_view
from onedatum.paper.text import file_stem
from onedatum.web.files import attached
from onedatum.web.making import shown
from onedatum.web.serving import Server

router = APIRouter(include_in_schema=False)


@router.get("/cases/{name}/sheets")
async def sheets_page(name: str, server: Server) -> HTMLResponse:
    """Every sheet of the case."""
    return HTMLResponse(await server.quick.work(shown, "sheets.html", sheets_view, await server.case(name)))


@router.get("/cases/{name}/file")
async def file_page(name: str, server: Server) -> HTMLResponse:
    """The case file with line numbers, its faults, and its earlier versions."""
    case = await server.case(name)
    versions = await server.versions(name)
    return HTMLResponse(await server.quick.work(_file, case, versions))


def _file(case: CaseText, versions: list[Any]) -> str:
    return shown("file.html", file_view, case, versions=versions)


@router.get("/cases/{name}/file.yaml")
async def file_itself(name: str, server: Server) -> Response:
    """The case file to keep."""
    case = await server.case(name)
    return attached(f"{file_stem(name)}.yaml", case.text.encode("utf-8", "surrogatepass"))
