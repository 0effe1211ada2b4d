"""The server: its routes, its door, its workers; `create_app` makes one for a folder of cases."""

from __future__ import annotations

import asyncio
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from pathlib import Path
from typing import Any

from fastapi import FastAPI, Request
from fastapi.exceptions import RequestValidationError
from fastapi.responses import JSONResponse, Response
from fastapi.staticfiles import StaticFiles
from pydantic import BaseModel, ConfigDict
from starlette.exceptions import HTTPException

from onedatum.foundation.constants import VERSION
from onedatum.foundation.errors import OnedatumError
from onedatum.jobs.folder import Folder, NotThere
from onedatum.web import api, further, pages
from onedatum.web.bench import Crew, Failed, Missing, Replaced, Worker, usual_workers
from onedatum.web.guard import HEADERS, Door, Guard
from onedatum.web.parts import prepare
from onedatum.web.serving import Serving, refusal

HERE = Path(__file__).parent


class Told(BaseModel):
    """Why something was not done."""

    model_config = ConfigDict(extra="allow")
    sentence: str


REFUSALS: dict[int | str, dict[str, Any]] = {
    400: {"model": Told, "description": "The request cannot be read"},
    404: {"model": Told, "description": "There is no such case, version, record or task"},
    422: {"model": Told, "description": "What was sent cannot be used"},
    503: {"model": Told, "description": "The calculation ended before it answered"},
    401: {"content": {"text/plain": {}}, "description": "The token is missing"},
    403: {"content": {"text/plain": {}}, "description": "The change comes from a page elsewhere"},
    413: {"content": {"text/plain": {}}, "description": "More than is taken at a time"},
    421: {"content": {"text/plain": {}}, "description": "The server is not called so"},
}
"""What every route may answer in place of what was asked for."""


def create_app(folder: Path, door: Door, workers: int | None = None, records: str = "") -> FastAPI:
    """The server of a folder of cases, answering whom the door lets in.

    workers: where not as many as usual. records: file or URL of the calibrations, where they are not in the folder.
    """

    @asynccontextmanager
    async def lifespan(app: FastAPI) -> AsyncIterator[None]:
        app.state.serving = Serving(Folder(folder), Crew(prepare, workers or usual_workers()), Worker(prepare), records)
        warm = asyncio.create_task(app.state.serving.quick.warm())
        yield
        warm.cancel()
        app.state.serving.stop()

    app = FastAPI(
        title="onedatum", version=VERSION, lifespan=lifespan, docs_url=None, redoc_url=None,
        openapi_url="/api/openapi.json", responses=REFUSALS,
    )  # fmt: skip
    app.include_router(api.router)
    app.include_router(pages.router)
    app.include_router(further.router)
    app.mount("/static", StaticFiles(directory=HERE / "static"), "static")
    _tell_errors(app)
    app.add_middleware(Guard, door=door)
    return app


def _tell_errors(app: FastAPI) -> None:
    """Every error as one sentence, as a page or as data."""

    @app.exception_handler(NotThere)
    @app.exception_handler(Missing)
    async def not_there(request: Request, error: OnedatumError) -> Response:
        return refusal(request, 404, str(error))

    @app.exception_handler(OnedatumError)
    async def refused(request: Request, error: OnedatumError) -> Response:
        return refusal(request, 422, str(error))

    @app.exception_handler(Replaced)
    async def replaced(request: Request, error: Replaced) -> Response:
        return JSONResponse({"sentence": "a later edit took its place", "replaced": True})

    @app.exception_handler(Failed)
    async def failed(request: Request, error: Failed) -> Response:
        return refusal(request, 503, "The calculation ended before it answered. Nothing was lost; try again.")

    @app.exception_handler(RequestValidationError)
    async def invalid(request: Request, error: RequestValidationError) -> Response:
        told = "; ".join(f"{'.'.join(map(str, each['loc'][1:]))}: {each['msg']}" for each in error.errors()[:5])
        return refusal(request, 422, f"The request cannot be read: {told}.")

    @app.exception_handler(HTTPException)
    async def http(request: Request, error: HTTPException) -> Response:
        return refusal(request, error.status_code, f"{error.detail.rstrip('.')}.")

    @app.exception_handler(Exception)
    async def ours(request: Request, error: Exception) -> Response:
        """Sent outside the door, so the policy is put on it here; the terminal of the server tells the rest."""
        told = f"An error of ours: {type(error).__name__}. Nothing was lost; the terminal of the server says more."
        answer = refusal(request, 500, told)
        answer.headers.update(HEADERS)
        return answer
