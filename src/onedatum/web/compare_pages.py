"""Two cases, or two versions of one, beside each other: as a page and as data."""

from __future__ import annotations

import asyncio
from typing import Annotated, Any

from fastapi import APIRouter, Query
from fastapi.responses import HTMLResponse
from pydantic import BaseModel, ConfigDict

from onedatum.jobs.page.comparing import compare_data, compare_view
from onedatum.jobs.page.made import CaseText
from onedatum.web.bench import Refused
from onedatum.web.making import shown
from onedatum.web.serving import Server, Serving

router = APIRouter()
With = Annotated[str, Query(alias="with", max_length=200, description="another case of the folder")]
Version = Annotated[str, Query(max_length=64, description="a version of a case; of this one where `with` is empty")]


class ComparedData(BaseModel):
    """What changed, as plain data; every dimensional key of a number ends in its unit."""

    model_config = ConfigDict(extra="allow")
    form: int
    new: dict[str, Any]
    old: dict[str, Any]
    compared: bool
    inputs: list[dict[str, Any]]
    numbers: list[dict[str, Any]]
    verdicts: list[dict[str, Any]]
    findings: list[dict[str, Any]]
    order: list[dict[str, Any]]


@router.get("/cases/{name}/compare", include_in_schema=False)
async def compare_page(name: str, server: Server, other: With = "", version: Version = "") -> HTMLResponse:
    """What changed since a version, or from another case to this one; the choice where none is made yet."""
    case = await server.case(name)
    cases = [each.name for each in await asyncio.to_thread(server.folder.cases) if each.name != name]
    chosen: dict[str, Any] = {"cases": cases, "versions": await server.versions(name), "other": other}
    if not (other or version):
        return server.render("compare.html", case=case, view=None, head=None, version="", **chosen)
    old = await _old(server, name, other, version)
    page = await server.quick.work(_shown, case, old, {**chosen, "version": version})
    return HTMLResponse(page)


@router.get("/api/cases/{name}/compare", tags=["cases"])
async def compare(name: str, server: Server, other: With = "", version: Version = "") -> ComparedData:
    """What changed since a version, or from another case to this one."""
    if not (other or version):
        raise Refused("with must be another case of the folder, or version a version of this one; got neither.")
    case, old = await server.case(name), await _old(server, name, other, version)
    return ComparedData(**await server.quick.work(compare_data, case, old))


async def _old(server: Serving, name: str, other: str, version: str) -> CaseText:
    """The case compared with; raises NotThere."""
    return await (server.version(other or name, version) if version else server.case(other))


def _shown(new: CaseText, old: CaseText, chosen: dict[str, Any]) -> str:
    return shown("compare.html", compare_view, new, old, **chosen)
