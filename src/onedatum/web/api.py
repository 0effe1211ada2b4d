"""The JSON API: the page uses it, and so may any program on this machine."""

from __future__ import annotations

import asyncio
from dataclasses import asdict
from typing import Annotated, Any

from fastapi import APIRouter, Query, Response
from pydantic import BaseModel, Field

from onedatum.jobs.folder import Conflict
from onedatum.jobs.page.change import change_case
from onedatum.web.parts import Asked, news, page, working_of
from onedatum.web.serving import Server

router = APIRouter(prefix="/api", tags=["cases"])


class Room(BaseModel):
    """How much room the browser has, and what it looks at."""

    level: str = Field("", max_length=80, description="level looked at, with its unit; empty: as the case states it")
    width_px: int = Field(680, ge=200, le=4000)
    height_px: int = Field(640, ge=200, le=4000)
    work: str = Field("", max_length=200, description="the number whose working is open")
    every: str = Field("", max_length=80, description="the section of which every value is shown")
    add: str = Field("", max_length=200, description="the item that is added to a list, by its path")
    tried: list[Annotated[str, Field(max_length=5000)]] = Field(
        default_factory=list, max_length=50, description="ways out that are tried and not kept, each as path=text"
    )
    beside: str = Field("", max_length=200, description="the value of which is shown what stands beside it")

    def asked(self) -> Asked:
        """The same as the worker takes it."""
        return Asked(**{**self.model_dump(), "tried": tuple(self.tried)})

    def changes(self) -> dict[str, str | None]:
        """The ways out that are tried, by path."""
        pairs = (each.partition("=") for each in self.tried)
        return {path: text or None for path, sign, text in pairs if sign}


class Changes(BaseModel):
    """What is changed: the text of each value by its path; null takes the value away."""

    changes: dict[str, Annotated[str, Field(max_length=5000)] | None] = Field(default_factory=dict, max_length=500)


class Tried(Changes):
    """Changes that are tried, not kept."""

    room: Room = Room()
    window: str = Field("", max_length=64, description="of one window only the newest recalculation is worked")
    has: dict[str, Annotated[str, Field(max_length=16)]] = Field(
        default_factory=dict,
        max_length=500,
        description="marks of parts and pieces that stand there: left out",
    )


class Kept(Changes):
    """Changes that are kept; `version` is the one they were made on."""

    version: str = Field(max_length=64)


class On(BaseModel):
    """The version that something is done on."""

    version: str = Field(max_length=64)


@router.get("/cases")
async def cases(server: Server) -> list[dict[str, Any]]:
    """The cases of the folder."""
    found = await asyncio.to_thread(server.folder.cases)
    return [asdict(each) for each in found]


@router.post("/cases/{name}/try", response_model=dict[str, Any])
async def tried(name: str, body: Tried, server: Server) -> Response:
    """Study the case with changes that are not kept, and give the parts of its page."""
    case = await server.case(name)
    window = f"{name}\0{body.window}"
    changes = {**body.room.changes(), **body.changes}
    content = await server.quick.newest(window, news, case, changes, body.room.asked(), body.has)
    return Response(content, media_type="application/json")


@router.get("/cases/{name}/page")
async def parts(name: str, server: Server, room: Annotated[Room, Query()]) -> dict[str, Any]:
    """The parts of the page of the case as it is kept."""
    return (await server.quick.work(page, await server.case(name), room.changes(), room.asked())).told()


@router.get("/cases/{name}/working/{entry}")
async def working(name: str, entry: str, server: Server) -> dict[str, Any]:
    """The working of one number of the sheet."""
    return {"html": await server.quick.work(working_of, await server.case(name), {}, entry)}


@router.post("/cases/{name}/undo")
async def undo(name: str, body: On, server: Server) -> dict[str, Any]:
    """Back to the version before; refused where the file has changed since `version`."""
    return stepped(await asyncio.to_thread(server.folder.undo, name, body.version))


@router.post("/cases/{name}/redo")
async def redo(name: str, body: On, server: Server) -> dict[str, Any]:
    """Forward again to what was undone; refused where the file has changed since `version`."""
    return stepped(await asyncio.to_thread(server.folder.redo, name, body.version))


def stepped(found: Any) -> dict[str, Any]:
    """What came of a step: the version now, "" where there was no step, or the version that stands in the way."""
    if isinstance(found, Conflict):
        return {"version": "", "conflict": asdict(found)}
    return {"version": "" if found is None else found.version, "conflict": None}


@router.put("/cases/{name}/fields")
async def kept(name: str, body: Kept, server: Server) -> dict[str, Any]:
    """Keep changes in the file of the case; refused where the file has changed since `version`."""
    outcome = await asyncio.to_thread(change_case, server.folder, name, body.changes, body.version)
    return outcome.as_data()
