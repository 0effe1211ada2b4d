"""The quantity statement: as a page, with its Monte Carlo where that was asked for, and as data."""

from __future__ import annotations

from typing import Annotated, Any

from fastapi import APIRouter, Query
from fastapi.responses import HTMLResponse, RedirectResponse, Response
from pydantic import BaseModel

from onedatum.jobs.page.made import CaseText
from onedatum.jobs.page.quantity import QuantityView, drawn_view, quantity_data, quantity_view
from onedatum.web.making import printed, shown
from onedatum.web.serving import Server
from onedatum.web.tasks import Told
from onedatum.web.templating import part

router = APIRouter()
DRAWING = "quantity"


class Stated(BaseModel):
    """The statement in SI, unrounded; without one, why."""

    statement: dict[str, Any] | None
    sentence: str


@router.get("/cases/{name}/quantity", include_in_schema=False)
async def quantity_page(name: str, server: Server, task: Annotated[str, Query(max_length=64)] = "") -> HTMLResponse:
    """The statement; with a task its Monte Carlo, once that is drawn."""
    case = await server.case(name)
    found = server.tasks.found(task, DRAWING, case)
    if found is not None and found.state == "done":
        return HTMLResponse(await server.quick.work(_drawn, case, found.result))
    return HTMLResponse(await server.quick.work(_linear, case, None if found is None else found.told()))


@router.post("/cases/{name}/quantity", include_in_schema=False)
async def draw(name: str, server: Server) -> Response:
    """Draw the Monte Carlo."""
    task = server.tasks.start(DRAWING, "Monte Carlo", await server.case(name), drawn_view)
    return RedirectResponse(f"/cases/{part(name)}/quantity?task={task.id}", 303)


@router.get("/api/cases/{name}/quantity", tags=["quantities"])
async def quantity(name: str, server: Server) -> Stated:
    """The quantity statement with its linear budget."""
    return Stated(**await server.quick.work(quantity_data, await server.case(name)))


def _linear(case: CaseText, task: Told | None) -> str:
    return shown("quantity.html", quantity_view, case, task=task)


def _drawn(case: CaseText, view: QuantityView) -> str:
    return printed("quantity.html", case, view, task=None)
