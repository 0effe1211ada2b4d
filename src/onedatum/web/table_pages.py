"""The tank table: as a page, as files, as data."""

from __future__ import annotations

from typing import Annotated, Any

from fastapi import APIRouter, Path, Query, Request
from fastapi.responses import HTMLResponse, Response

from onedatum.jobs.page.table import table_data, table_file, table_view
from onedatum.paper.text import file_stem
from onedatum.web.bench import Refused
from onedatum.web.files import attached
from onedatum.web.making import shown
from onedatum.web.serving import Server, refusal

router = APIRouter()
Step = Annotated[str, Query(max_length=80, description="a length with its unit; empty: as the case states it")]


@router.get("/cases/{name}/table", include_in_schema=False)
async def table_page(name: str, server: Server, step: Step = "") -> HTMLResponse:
    """The tank table."""
    return HTMLResponse(await server.quick.work(shown, "table.html", table_view, await server.case(name), step))


@router.get("/cases/{name}/table.{ending}", include_in_schema=False)
async def table_as_file(
    request: Request,
    name: str,
    server: Server,
    ending: Annotated[str, Path(pattern="^(xlsx|csv|pdf|txt)$")],
    step: Step = "",
) -> Response:
    """The tank table to keep."""
    case = await server.case(name)
    worker = server.slow if ending == "pdf" else server.quick
    found = await worker.work(table_file, case, step, ending)
    if isinstance(found, str):
        return refusal(request, 422, found)
    return attached(f"{file_stem(name)}-{found.name}", found.content)


@router.get("/api/cases/{name}/table", tags=["quantities"])
async def table(name: str, server: Server, step: Step = "") -> dict[str, Any]:
    """The tank table in SI, unrounded, with what it rests on."""
    found = await server.quick.work(table_data, await server.case(name), step)
    if isinstance(found, str):
        raise Refused(found)
    return dict(found)
