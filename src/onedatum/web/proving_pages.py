"""Calibrations: plan and past of a case, the form to enter one, one record, its certificate; as pages and as data."""

from __future__ import annotations

from pathlib import Path as FolderPath
from typing import Annotated, Any, Literal

from fastapi import APIRouter, Path, Query, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response
from pydantic import BaseModel, Field

from onedatum.jobs.page.made import CaseText
from onedatum.jobs.page.proving import (
    certificate_file,
    plan_file,
    proving_data,
    proving_view,
    record_data,
    record_view,
)
from onedatum.jobs.page.proving_entry import EntryView, entry_view, recorded, recorded_data
from onedatum.jobs.proving.past import due_json, due_of
from onedatum.jobs.proving.plan import Wished
from onedatum.jobs.proving.records import Correction
from onedatum.paper.text import file_stem
from onedatum.web.files import attached
from onedatum.web.making import alone, printed, shown
from onedatum.web.serving import Server
from onedatum.web.templating import part

router = APIRouter()
MOST_CELLS = 5000
As = Literal["found", "left"]
Number = Annotated[int, Path(description="number of a record")]


class Wish(BaseModel):
    """How the plan is wanted."""

    points: int = Field(5, ge=2, le=21, description="points along the span")
    cycles: int = Field(3, ge=1, le=10)
    upwards_only: bool = Field(False, description="without the way down; hysteresis is then not judged")
    tolerance: str = Field("", max_length=60, description="error allowed on both sides; empty: as the case states it")
    on_bench: bool = Field(False, description="the tank is not filled: alarms do not limit the points")

    def wished(self) -> Wished:
        """The same as the job takes it."""
        return Wished(self.points, self.cycles, self.upwards_only, self.tolerance, not self.on_bench)


class Entry(Wish):
    """A run to be judged and recorded."""

    kind: As = Field(alias="as", description="before or after an adjustment")
    fields: dict[Annotated[str, Field(max_length=40)], Annotated[str, Field(max_length=2000)]] = Field(
        max_length=60, description="what is stated beside the readings: who, reference, reference_u and others"
    )
    readings: str = Field(max_length=200_000, description="the readings as the lines of a file: the form of the plan")
    corrects: int | None = Field(None, ge=1, le=2**53, description="the record that this one puts right")
    reason: str = Field("", max_length=2000, description="why it is corrected")


@router.get("/cases/{name}/proving", include_in_schema=False)
async def proving_page(name: str, server: Server, wish: Annotated[Wish, Query()]) -> HTMLResponse:
    """Plan, records, drift, next date."""
    case = await server.case(name)
    return HTMLResponse(await server.quick.work(shown, "proving.html", proving_view, case, wish.wished()))


@router.get("/cases/{name}/proving/points.csv", include_in_schema=False)
async def points(name: str, server: Server, wish: Annotated[Wish, Query()]) -> Response:
    """The empty form to be filled in at the tank."""
    content = await server.quick.work(plan_file, await server.case(name), wish.wished())
    return attached(f"{file_stem(name)}-calibration-points.csv", content)


@router.get("/cases/{name}/proving/enter", include_in_schema=False)
async def enter_page(
    name: str,
    server: Server,
    wish: Annotated[Wish, Query()],
    kind: Annotated[As, Query(alias="as")] = "found",
    corrects: Annotated[str, Query(max_length=15)] = "",
) -> HTMLResponse:
    """The form to enter a run with."""
    case = await server.case(name)
    return HTMLResponse(
        await server.quick.work(shown, "proving_enter.html", entry_view, case, wish.wished(), kind, corrects)
    )


@router.post("/cases/{name}/proving/enter", include_in_schema=False)
async def enter(
    request: Request,
    name: str,
    server: Server,
    wish: Annotated[Wish, Query()],
    kind: Annotated[As, Query(alias="as")] = "found",
) -> Response:
    """Judge and record what was typed; with a fault the form again, everything as it was typed."""
    form = await request.form(max_fields=MOST_CELLS, max_part_size=200_000)
    texts = {key: text for key, text in form.multi_items() if isinstance(text, str)}
    case = await server.case(name)
    version = texts.pop("_version", "")
    found = await server.quick.work(recorded, case, wish.wished(), kind, version, texts)
    if found.recorded is not None:
        return RedirectResponse(f"/cases/{part(name)}/proving/records/{found.recorded}", 303)
    return HTMLResponse(await server.quick.work(_form, case, found), 422)


@router.get("/cases/{name}/proving/records/{number}", include_in_schema=False)
async def record_page(
    name: str, number: Number, server: Server, work: Annotated[str, Query(max_length=200)] = ""
) -> HTMLResponse:
    """One record; with `work` the working of one of its numbers."""
    case = await server.case(name)
    return HTMLResponse(await server.quick.work(shown, "proving_record.html", record_view, case, number, work))


@router.get("/cases/{name}/proving/records/{number}/certificate.{ending}", include_in_schema=False)
async def certificate(
    name: str, number: Number, server: Server, ending: Annotated[str, Path(pattern="^(pdf|xml|json)$")]
) -> Response:
    """A file of the certificate."""
    worker = server.slow if ending == "pdf" else server.quick
    file, content = await worker.work(certificate_file, await server.case(name), number, ending)
    return attached(file, content)


# ---------------------------------------------------------------- as data


@router.get("/api/cases/{name}/proving", tags=["calibrations"])
async def proving(name: str, server: Server, wish: Annotated[Wish, Query()]) -> dict[str, Any]:
    """Plan, past and head of the records, in SI, unrounded."""
    return dict(await server.quick.work(proving_data, await server.case(name), wish.wished()))


@router.post("/api/cases/{name}/proving/records", tags=["calibrations"])
async def record_run(name: str, body: Entry, server: Server) -> dict[str, Any]:
    """Judge a run and write it as one record; 422 with every fault where it cannot be judged."""
    case = await server.case(name)
    correction = None if body.corrects is None else Correction(body.corrects, body.reason)
    return dict(
        await server.quick.work(recorded_data, case, body.wished(), body.kind, body.fields, body.readings, correction)
    )


@router.get("/api/cases/{name}/proving/records/{number}", tags=["calibrations"])
async def record(name: str, number: Number, server: Server) -> dict[str, Any]:
    """One record with what it holds."""
    return dict(await server.quick.work(record_data, await server.case(name), number))


@router.get("/due", include_in_schema=False)
async def due_page(server: Server) -> HTMLResponse:
    """What of the folder is to be calibrated next."""
    return HTMLResponse(await server.quick.work(_due, server.folder.path, server.records))


@router.get("/api/due", tags=["calibrations"])
async def due(server: Server) -> list[dict[str, Any]]:
    """What of the folder is to be calibrated next, the soonest first."""
    return due_json(await server.quick.work(due_of, server.folder.path, server.records))


def _due(folder: FolderPath, records: str) -> str:
    return alone("due.html", due_json(due_of(folder, records)))


def _form(case: CaseText, view: EntryView) -> str:
    return printed("proving_enter.html", case, view)
