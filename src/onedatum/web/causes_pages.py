"""Which part may be wrong: the form, the ranking above it, its paper; and the same as data.

Many rows take longer than a blink and are ranked in the background, as everything is that does.
"""

from __future__ import annotations

from functools import partial
from typing import Annotated, Any

from fastapi import APIRouter, Query, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response
from pydantic import BaseModel, ConfigDict, Field

from onedatum.jobs.page.causes import (
    MOST_TYPED,
    QUICK_ROWS,
    CausesView,
    begun_view,
    causes_data,
    causes_view,
    form_file,
    is_long,
    paper_file,
    ranked_view,
)
from onedatum.jobs.page.made import CaseText
from onedatum.paper.text import file_stem
from onedatum.proving.causes import ALLOWED, MOST_ROWS
from onedatum.web.files import attached
from onedatum.web.making import printed
from onedatum.web.serving import Server
from onedatum.web.tasks import Told
from onedatum.web.templating import part

router = APIRouter()
RANKING = "causes"
TEMPLATE = "causes.html"
MOST_FIELDS = 20 * MOST_TYPED
Text = Annotated[str, Query(max_length=80)]


def _read(name: str, words: str) -> Any:
    low, high, unit = ALLOWED[name]
    return Field(None, ge=low, le=high, allow_inf_nan=False, description=f"{words}, in {unit}; null: not read")


class Reading(BaseModel):
    """What was read at one level, in SI."""

    model_config = ConfigDict(extra="forbid")
    dip_m: float | None = _read("dip_m", "level by the dip, from the datum of the case")
    current_A: float | None = _read("current_A", "by a milliammeter in series")
    voltage_V: float | None = _read("voltage_V", "on the test resistor")
    supply_V: float | None = _read("supply_V", "at the terminals of the transmitter")
    temperature_K: float | None = _read("temperature_K", "of the liquid")
    shown_m: float | None = _read("shown_m", "level that the receiver shows")
    volume_m3: float | None = _read("volume_m3", "volume that the receiver shows")
    is_rising: bool | None = Field(None, description="whether the level was approached from below")


class Question(BaseModel):
    """Readings to be ranked by."""

    rows: list[Reading] = Field(min_length=1, max_length=MOST_ROWS)
    recent: str = Field("", max_length=500, description="words on a recent change")
    priors: str = Field("", max_length=200_000, description="a table of priors in JSON; empty: the one that ships")


class Ranked(BaseModel):
    """The ranking in SI, unrounded."""

    model_config = ConfigDict(extra="allow")
    tag: str
    explanations: list[dict[str, Any]]
    highest_probability: float
    further: list[dict[str, Any]]
    sentences: list[str]
    cautions: list[str]


@router.get("/cases/{name}/causes", include_in_schema=False)
async def causes_page(name: str, server: Server, task: Text = "", dip: Text = "", meter: Text = "") -> HTMLResponse:
    """The form; with a task what came of it."""
    case = await server.case(name)
    found = server.tasks.found(task, RANKING, case)
    if found is None:
        return HTMLResponse(await server.quick.work(_begun, case, dip, meter))
    if found.state == "done":
        return HTMLResponse(await server.quick.work(_printed, case, found.result), _status(found.result))
    return HTMLResponse(await server.quick.work(_waiting, case, found.asked, found.told()))


@router.post("/cases/{name}/causes", include_in_schema=False)
async def ask(request: Request, name: str, server: Server) -> Response:
    """Rank by what was typed; with a fault the form again, everything as it was typed."""
    case, texts = await server.case(name), await _texts(request)
    if "more" in texts:
        return HTMLResponse(await server.quick.work(_waiting, case, texts, None))
    if is_long(texts):
        task = server.tasks.start(RANKING, "Ranking", case, partial(ranked_view, texts=texts), texts)
        return RedirectResponse(f"/cases/{part(name)}/causes?task={task.id}", 303)
    view = await server.quick.work(ranked_view, case, texts)
    return HTMLResponse(await server.quick.work(_printed, case, view), _status(view))


@router.post("/cases/{name}/causes.pdf", include_in_schema=False)
async def paper(request: Request, name: str, server: Server) -> Response:
    """The paper of what was typed."""
    case, texts = await server.case(name), await _texts(request)
    found = await server.slow.work(paper_file, case, texts)
    if isinstance(found, bytes):
        return attached(f"{file_stem(name)}-which-part.pdf", found)
    return HTMLResponse(await server.quick.work(_printed, case, found), 422)


@router.get("/cases/{name}/causes.csv", include_in_schema=False)
async def empty_form(name: str, server: Server) -> Response:
    """The empty form to be filled in at the tank."""
    content = await server.quick.work(form_file, await server.case(name))
    return attached(f"{file_stem(name)}-readings.csv", content)


@router.post("/api/cases/{name}/causes", tags=["causes"])
async def causes(name: str, body: Question, server: Server) -> Ranked:
    """Rank what may be wrong by readings; explanations with probabilities, never a finding."""
    case = await server.case(name)
    worker = server.quick if len(body.rows) <= QUICK_ROWS else server.slow
    rows = [each.model_dump() for each in body.rows]
    return Ranked(**await worker.work(causes_data, case, rows, body.recent, body.priors))


async def _texts(request: Request) -> dict[str, str]:
    form = await request.form(max_fields=MOST_FIELDS, max_part_size=200_000)
    return {key: text for key, text in form.multi_items() if isinstance(text, str)}


def _status(view: CausesView) -> int:
    return 200 if view.result is not None else 422


def _begun(case: CaseText, dip: str, meter: str) -> str:
    return printed(TEMPLATE, case, begun_view(case, dip, meter), task=None)


def _waiting(case: CaseText, texts: dict[str, str], task: Told | None) -> str:
    return printed(TEMPLATE, case, causes_view(case, texts), task=task)


def _printed(case: CaseText, view: CausesView) -> str:
    return printed(TEMPLATE, case, view, task=None)
