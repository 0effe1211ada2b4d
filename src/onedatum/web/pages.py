"""The pages: every one of them works without a line of JavaScript."""

from __future__ import annotations

import asyncio
from collections.abc import Mapping
from typing import Annotated, Any
from urllib.parse import quote

from fastapi import APIRouter, Form, Query, Request, UploadFile
from fastapi.responses import HTMLResponse, RedirectResponse, Response

from onedatum.foundation.errors import OnedatumError
from onedatum.jobs.folder import Conflict, NotThere
from onedatum.jobs.page.change import change_case, changes_of_form
from onedatum.web.api import Room
from onedatum.web.parts import page
from onedatum.web.serving import Server, Serving

router = APIRouter(include_in_schema=False)


@router.get("/")
async def folder(server: Server) -> HTMLResponse:
    """The cases of the folder."""
    found = await asyncio.to_thread(server.folder.cases)
    return server.render("folder.html", cases=found, folder=str(server.folder.path))


@router.post("/cases")
async def new(server: Server, name: Annotated[str, Form(max_length=80)] = "") -> Response:
    """A new case with everything unknown."""
    made = await asyncio.to_thread(server.folder.new, name.strip())
    return to_case(made.name)


@router.post("/upload")
async def upload(server: Server, file: UploadFile) -> Response:
    """A case file brought along; it is kept under its own name and never over another."""
    made = await asyncio.to_thread(server.folder.upload, file.filename or "", await file.read())
    return to_case(made.name)


@router.get("/cases/{name}")
async def case(request: Request, name: str, server: Server, room: Annotated[Room, Query()]) -> HTMLResponse:
    """The case page."""
    kept = await server.case(name)
    made, by = await server.quick.first(page, kept, room.changes(), room.asked())
    server.opened(kept, None if room.changes() else by)
    return server.render("case.html", case=kept, parts=made.html, data=made.data, room=room)


@router.post("/cases/{name}/edit")
async def edit(request: Request, name: str, server: Server) -> Response:
    """The form of the case: what differs from the file is kept in it."""
    form = await request.form(max_fields=5000, max_part_size=20_000)
    texts = {key: value for key, value in form.multi_items() if isinstance(value, str)}
    version = texts.pop("_version", "")
    typed: Mapping[str, str | None] = {path: text for path, text in texts.items() if text.strip()}
    try:
        typed = changes = await asyncio.to_thread(changes_of_form, server.folder, name, texts, version)
        outcome = await asyncio.to_thread(change_case, server.folder, name, changes, version)
    except OnedatumError as error:
        status = 404 if isinstance(error, NotThere) else 422
        return server.render("not_kept.html", status, name=name, sentence=str(error), typed=typed)
    if outcome.conflict is not None:
        return server.render("conflict.html", 409, name=name, conflict=outcome.conflict, changes=changes)
    if not outcome.refused:
        return to_case(name)
    kept = await server.case(name)
    made = await server.quick.work(page, kept, outcome.refused, Room().asked())
    return server.render("case.html", 422, case=kept, parts=made.html, data=made.data, room=Room())


@router.post("/cases/{name}/undo")
async def undo(
    name: str, server: Server, version: Annotated[str, Form(max_length=64, alias="_version")] = ""
) -> Response:
    """Back to the version before."""
    return await _stepped(server, name, server.folder.undo, version)


@router.post("/cases/{name}/redo")
async def redo(
    name: str, server: Server, version: Annotated[str, Form(max_length=64, alias="_version")] = ""
) -> Response:
    """Forward again to what was undone."""
    return await _stepped(server, name, server.folder.redo, version)


async def _stepped(server: Serving, name: str, step: Any, version: str) -> Response:
    found = await asyncio.to_thread(step, name, version)
    if isinstance(found, Conflict):
        return server.render("conflict.html", 409, name=name, conflict=found, changes={})
    return to_case(name)


def to_case(name: str) -> Response:
    """On to the page of a case."""
    return RedirectResponse(f"/cases/{quote(name, safe='')}", 303)
