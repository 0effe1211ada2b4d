"""The papers: the list of all there are, made on request, handed out to be kept."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Query, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response

from onedatum.jobs.page.papers import KINDS, made_papers
from onedatum.web.files import attached
from onedatum.web.serving import Server, refusal
from onedatum.web.templating import part

router = APIRouter(include_in_schema=False)
MAKING = "papers"


@router.get("/cases/{name}/papers")
async def papers_page(name: str, server: Server, task: Annotated[str, Query(max_length=64)] = "") -> HTMLResponse:
    """Every paper with what it is; those that are made already to be kept."""
    case = await server.case(name)
    found = server.tasks.found(task, MAKING, case) or server.tasks.last(MAKING, case)
    made = found.result if found is not None and found.state == "done" else None
    waiting = None if found is None or made is not None else found.told()
    return server.render(
        "papers.html", head=None, case=case, kinds=KINDS, made=made, task=waiting, id="" if found is None else found.id
    )


@router.post("/cases/{name}/papers")
async def make(name: str, server: Server) -> Response:
    """Make all papers of the case as it is kept now."""
    task = server.tasks.start(MAKING, "Papers", await server.case(name), made_papers)
    return RedirectResponse(f"/cases/{part(name)}/papers?task={task.id}", 303)


@router.get("/cases/{name}/papers/{task}/{file}")
async def paper(request: Request, name: str, task: str, file: str, server: Server) -> Response:
    """One paper to keep."""
    found = server.tasks.of(task, MAKING)
    made = found.result if found is not None and found.state == "done" and found.case.name == name else ()
    for each in made:
        if each.file.name == file:
            return attached(file, each.file.content)
    return refusal(request, 404, "This paper is no longer held. Make the papers of the case again.")
