"""The review of a level log: the choice of files, the review with its picture to be zoomed, its papers; and as data.

A review takes longer than a blink and is made in the background. What is looked at stands in the address: the files,
and from when to when.
"""

from __future__ import annotations

import asyncio
import json
from dataclasses import replace
from pathlib import Path
from typing import Annotated, Any

from fastapi import APIRouter, Form, Query, UploadFile
from fastapi.responses import HTMLResponse, RedirectResponse, Response
from pydantic import BaseModel, ConfigDict, Field

from onedatum.foundation.errors import Fault, LogError, OnedatumError
from onedatum.jobs.keeping.logs import ENDINGS, logs_of
from onedatum.jobs.page.made import CaseText
from onedatum.jobs.page.review import KEPT, Chosen, Reviewed, Stamped, form_view, not_held, stamped
from onedatum.jobs.page.review_chart import (
    LEAST_WIDE,
    MOST_WIDE,
    USUAL_WIDE,
    Asked,
    ChartView,
    Value,
    chart_view,
    columns_data,
)
from onedatum.paper.text import file_stem
from onedatum.web.bench import Missing
from onedatum.web.files import attached
from onedatum.web.making import printed
from onedatum.web.serving import Server, Serving
from onedatum.web.tasks import Task, Told
from onedatum.web.templating import part

router = APIRouter()
MOST_COLUMNS = 4000
Name = Annotated[str, Field(max_length=200)]


class Files(BaseModel):
    """The files of a review, by their names in the folder `logs` beside the cases."""

    log: list[Name] = Field(default_factory=list, max_length=100, description="the log, or its parts in their order")
    map: Name = Field("", description="which column says what")
    dips: Name = Field("", description="lines of time,level")
    movements: Name = Field("", description="lines of from,to,volume")

    def chosen(self) -> Chosen:
        """The same as the job takes it."""
        return Chosen(tuple(each for each in self.log if each), self.map, self.dips, self.movements)


class Wish(Files):
    """The same as data, in which nothing else may stand."""

    model_config = ConfigDict(extra="forbid")


class Look(Files):
    """The files, and what of them is looked at."""

    begin: str = Field("", alias="from", max_length=80, description="from when, in UTC where no offset is stated")
    end: str = Field("", alias="to", max_length=80, description="to when")
    show: Value = "level"

    def asked(self, wide_px: int) -> Asked:
        """The same as the job takes it."""
        return Asked(self.begin, self.end, self.show, wide_px)


class Page(Look):
    """The address of the page."""

    task: str = Field("", max_length=64)


class Drawn(Look):
    """The address of the picture alone."""

    width: int = Field(USUAL_WIDE, ge=LEAST_WIDE, le=MOST_WIDE, description="px")


class Wanted(Look):
    """Columns as data."""

    columns: int = Field(1000, ge=1, le=MOST_COLUMNS, description="columns; where there are few rows, these instead")


class Listed(BaseModel):
    """A file that can be chosen."""

    name: str
    size_bytes: int
    kinds: list[str]


@router.get("/cases/{name}/review", include_in_schema=False)
async def review_page(name: str, server: Server, look: Annotated[Page, Query()]) -> Response:
    """The review of the files in the address where it is held; else their choice."""
    case = await server.case(name)
    task = server.reviews.task(look.task, case) if look.task else None
    chosen = task.asked.chosen if task is not None and look.chosen().is_empty else look.chosen()
    if task is not None and task.state == "done":
        if not task.result.faults:
            return RedirectResponse(f"/cases/{part(name)}/review?{chosen.query()}", 303)
        return HTMLResponse(await server.quick.work(_refused, case, chosen, task.result.faults), 422)
    found, faults = await asyncio.to_thread(stamped, Path(case.folder), chosen)
    held = server.reviews.of(case, found)
    told = task.told() if task is not None else None
    if held is None or told is not None:
        return HTMLResponse(await server.quick.work(_form, case, chosen, {} if chosen.is_empty else faults, told))
    try:
        page = await server.quick.work(_shown, case, chosen, _slim(held), server.reviews.place, look.asked(USUAL_WIDE))
    except Missing:
        page = await server.quick.work(_form, case, chosen, {}, None)
    return HTMLResponse(page)


@router.get("/cases/{name}/review/chart", include_in_schema=False)
async def chart(name: str, server: Server, look: Annotated[Drawn, Query()]) -> HTMLResponse:
    """The picture alone, in the width that there is for it."""
    case, held = await _held(server, name, look)
    asked = look.asked(look.width)
    html, wrong = await server.quick.work(_chart, case, look.chosen(), _slim(held), server.reviews.place, asked)
    return HTMLResponse(html, 422 if wrong else 200)


@router.post("/cases/{name}/review", include_in_schema=False)
async def ask(name: str, server: Server, files: Annotated[Files, Form()]) -> Response:
    """Review; with a fault the choice again, each fault at its field."""
    case, chosen = await server.case(name), files.chosen()
    found, faults = await asyncio.to_thread(stamped, Path(case.folder), chosen)
    if found is None:
        return HTMLResponse(await server.quick.work(_form, case, chosen, faults, None), 422)
    task = _begin(server, case, found)
    query = chosen.query() if task is None else f"task={task.id}"
    return RedirectResponse(f"/cases/{part(name)}/review?{query}", 303)


@router.post("/cases/{name}/review/files", include_in_schema=False)
async def add(name: str, server: Server, file: UploadFile) -> Response:
    """A file brought along; it is kept under its own name and never over another."""
    case = await server.case(name)
    try:
        kept = await asyncio.to_thread(server.folder.add_log, file.filename or "", await file.read())
    except LogError as error:
        return HTMLResponse(await server.quick.work(_form, case, Chosen(), {"file": error.faults[0]}, None), 422)
    lower = kept.lower()
    chosen = Chosen(map=kept) if lower.endswith(ENDINGS["map"]) else Chosen((kept,))
    return RedirectResponse(f"/cases/{part(name)}/review?{chosen.query()}#choose", 303)


@router.get("/cases/{name}/review.pdf", include_in_schema=False)
async def paper(name: str, server: Server, look: Annotated[Files, Query()]) -> Response:
    """The paper of a review that is held."""
    _, held = await _held(server, name, look)
    return attached(f"{file_stem(name)}-review.pdf", held.pdf)


@router.get("/cases/{name}/review.json", include_in_schema=False)
async def data(name: str, server: Server, look: Annotated[Files, Query()]) -> Response:
    """The same review as data, to keep."""
    _, held = await _held(server, name, look)
    return attached(f"{file_stem(name)}-review.json", held.json)


# ---------------------------------------------------------------- as data


@router.get("/api/cases/{name}/logs", tags=["reviews"])
async def logs(name: str, server: Server) -> list[Listed]:
    """The files of the folder `logs` that a review can be made of."""
    case = await server.case(name)
    found = await asyncio.to_thread(logs_of, Path(case.folder))
    return [
        Listed(name=each.name, size_bytes=each.size_bytes, kinds=[kind for kind in ENDINGS if each.is_of(kind)])
        for each in found
    ]


@router.post("/api/cases/{name}/review", tags=["reviews"])
async def begin(name: str, server: Server, body: Wish) -> Told:
    """Begin a review; how it stands is told by its task, and the review is had once that is done."""
    case = await server.case(name)
    found, faults = await asyncio.to_thread(stamped, Path(case.folder), body.chosen())
    if found is None:
        raise LogError(list(faults.values()))
    task = _begin(server, case, found) or server.tasks.last("review", case, found)
    return task.told() if task is not None else Told("", "review", "Review", "done", 0.0)


@router.get("/api/cases/{name}/review", tags=["reviews"])
async def review(name: str, server: Server, look: Annotated[Files, Query()]) -> dict[str, Any]:
    """A review in SI, unrounded, once it is made; 404 before."""
    _, held = await _held(server, name, look)
    return dict(json.loads(held.json))


@router.get("/api/cases/{name}/review/columns", tags=["reviews"])
async def columns(name: str, server: Server, look: Annotated[Wanted, Query()]) -> dict[str, Any]:
    """Least and greatest in each column between two times of a review that is made."""
    _, held = await _held(server, name, look)
    return dict(
        await server.quick.work(columns_data, held.shown, server.reviews.place, look.asked(USUAL_WIDE), look.columns)
    )


def _begin(server: Serving, case: CaseText, found: Stamped) -> Task | None:
    """The task that reviews; None where it is held already."""
    return None if server.reviews.of(case, found) is not None else server.reviews.start(case, found)


async def _held(server: Serving, name: str, look: Files) -> tuple[CaseText, Reviewed]:
    """The review that is asked for; raises LogError for files that cannot be, Missing for one that is not held."""
    case = await server.case(name)
    found, faults = await asyncio.to_thread(stamped, Path(case.folder), look.chosen())
    if found is None:
        raise LogError(list(faults.values()))
    held = server.reviews.of(case, found)
    if held is None:
        raise Missing(not_held(look.chosen()))
    return case, held


def _slim(held: Reviewed) -> Reviewed:
    """What a worker draws from: without the papers."""
    return replace(held, pdf=b"", json=b"")


# ---------------------------------------------------------------- in the worker


def _form(case: CaseText, chosen: Chosen, faults: dict[str, Fault], task: Told | None) -> str:
    view = form_view(case, chosen, faults)
    return printed("review.html", case, view, task=task, shown=None, chart=None, refused=())


def _refused(case: CaseText, chosen: Chosen, faults: tuple[str, ...]) -> str:
    return printed("review.html", case, form_view(case, chosen, {}), task=None, shown=None, chart=None, refused=faults)


def _shown(case: CaseText, chosen: Chosen, held: Reviewed, place: Path, asked: Asked) -> str:
    if held.shown is None:
        raise OnedatumError(not_held(chosen))
    found = chart_view(held.shown, chosen, place, asked)
    view = form_view(case, chosen, {})
    return printed("review.html", case, view, task=None, shown=held.shown, chart=found, refused=(), kept=KEPT)


def _chart(case: CaseText, chosen: Chosen, held: Reviewed, place: Path, asked: Asked) -> tuple[str, bool]:
    if held.shown is None:
        raise OnedatumError(not_held(chosen))
    found: ChartView = chart_view(held.shown, chosen, place, asked)
    view = form_view(case, chosen, {})
    return printed("review_chart.html", case, view, chart=found, shown=held.shown), bool(found.faults)
