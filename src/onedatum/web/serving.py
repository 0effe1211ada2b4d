"""What the routes share: the folder, the workers, the templates; and the words of a refusal."""

from __future__ import annotations

import asyncio
from collections import OrderedDict
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Annotated, Any

from fastapi import Depends, Request
from fastapi.responses import HTMLResponse, JSONResponse, Response
from jinja2 import Environment

from onedatum.jobs.folder import Folder
from onedatum.jobs.keeping.history import Version
from onedatum.jobs.page.made import CaseText
from onedatum.web.bench import Crew, Worker
from onedatum.web.parts import Asked, page
from onedatum.web.reviews import Reviews
from onedatum.web.tasks import Tasks
from onedatum.web.templating import templates

KNOWN = 64
"""Cases of which it is held that every worker knows them."""


@dataclass
class Serving:
    """One server: its folder of cases, its workers, its templates."""

    folder: Folder
    quick: Crew
    slow: Worker
    records: str = field(default="", repr=False)
    """File or URL of the calibrations, "" where they are in the folder; a URL may hold a password."""
    templates: Environment = field(default_factory=templates)
    tasks: Tasks = field(init=False)
    reviews: Reviews = field(init=False)
    _opened: OrderedDict[str, asyncio.Task[None]] = field(default_factory=OrderedDict, repr=False)
    """By the name of a case that was opened, what has the workers come to know it; the oldest goes first."""

    def __post_init__(self) -> None:
        """The tasks go to the slow worker, and with them the reviews."""
        self.tasks = Tasks(self.slow)
        self.reviews = Reviews(self.tasks, Path(self.slow.lasting))

    def stop(self) -> None:
        """End what is at work, and every worker."""
        for task in self._opened.values():
            task.cancel()
        self.tasks.stop()
        self.quick.stop()
        self.slow.stop()

    def render(self, template: str, status: int = 200, **values: Any) -> HTMLResponse:
        """A page."""
        return HTMLResponse(self.templates.get_template(template).render(**values), status)

    async def case(self, name: str) -> CaseText:
        """A case as its file holds it now; raises NotThere."""
        kept = await asyncio.to_thread(self.folder.read, name)
        return CaseText(str(Path(self.folder.path)), name, kept.text, kept.version, self.records)

    def opened(self, case: CaseText, by: Worker | None) -> None:
        """A case was opened and is likely to be changed: every worker comes to know it, save one that does already."""
        if case.name in self._opened:
            return
        self._opened[case.name] = asyncio.create_task(self.quick.others(by, page, case, {}, Asked()))
        while len(self._opened) > KNOWN:
            self._opened.popitem(last=False)[1].cancel()

    async def version(self, name: str, version: str) -> CaseText:
        """A case as an earlier version holds it; raises NotThere."""
        kept = await asyncio.to_thread(self.folder.version, name, version)
        return CaseText(str(Path(self.folder.path)), name, kept.text, kept.version, self.records)

    async def versions(self, name: str) -> tuple[Version, ...]:
        """The earlier versions kept of a case, the newest first."""
        return (await asyncio.to_thread(self.folder.versions, name))[::-1]


def serving(request: Request) -> Serving:
    """The server that a request came to."""
    found: Serving = request.app.state.serving
    return found


Server = Annotated[Serving, Depends(serving)]
"""What a route asks for to get at its server."""


def wants_data(request: Request) -> bool:
    """Whether the answer is read by a program rather than shown."""
    return request.url.path.startswith("/api/")


def refusal(request: Request, status: int, sentence: str, more: Mapping[str, Any] | None = None) -> Response:
    """Why something was not done, as data or as a page."""
    if wants_data(request):
        return JSONResponse({"sentence": sentence, **(more or {})}, status)
    return serving(request).render("refusal.html", status, sentence=sentence)
