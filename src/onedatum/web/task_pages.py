"""How a task stands, and its end: as data for the page that waits, as a form where there is no script."""

from __future__ import annotations

from fastapi import APIRouter
from fastapi.responses import RedirectResponse, Response
from starlette.exceptions import HTTPException

from onedatum.web.serving import Server
from onedatum.web.tasks import Told
from onedatum.web.templating import part

router = APIRouter()
NOT_HELD = "This task is no longer held"


@router.get("/api/tasks/{id}", tags=["tasks"])
async def task(id: str, server: Server) -> Told:  # noqa: A002 - a word of the address
    """How a task stands."""
    found = server.tasks.told(id)
    if found is None:
        raise HTTPException(404, NOT_HELD)
    return found


@router.delete("/api/tasks/{id}", tags=["tasks"])
async def cancel(id: str, server: Server) -> Told:  # noqa: A002 - a word of the address
    """Cancel a task."""
    found = server.tasks.cancel(id)
    if found is None:
        raise HTTPException(404, NOT_HELD)
    return found.told()


@router.post("/tasks/{id}/cancel", include_in_schema=False)
async def cancel_by_form(id: str, server: Server) -> Response:  # noqa: A002 - a word of the address
    """Cancel a task, and go back to the page that waited for it, with what was asked there."""
    found = server.tasks.cancel(id)
    if found is None:
        raise HTTPException(404, NOT_HELD)
    back = "" if found.asked is None else f"?task={part(found.id)}"
    return RedirectResponse(f"/cases/{part(found.case.name)}/{found.page}{back}", 303)
