"""Pages and data of choosing: selection, what would change it, questions, order.

What would change the verdicts takes seconds where nearly everything is unknown: that goes to the slow worker.
"""

from __future__ import annotations

from fastapi import APIRouter
from fastapi.responses import HTMLResponse

from onedatum.jobs.page.choosing import (
    FlipsView,
    OrderView,
    QuestionsView,
    SelectionView,
    flips_view,
    order_view,
    questions_view,
    selection_view,
)
from onedatum.web.making import shown
from onedatum.web.serving import Server

router = APIRouter()


@router.get("/cases/{name}/selection", include_in_schema=False)
async def selection_page(name: str, server: Server, all: str = "") -> HTMLResponse:  # noqa: A002 - a word of the address
    """The verdict on every principle; with `all` everything at once."""
    case = await server.case(name)
    worker = server.slow if all else server.quick
    return HTMLResponse(await worker.work(shown, "selection.html", selection_view, case, bool(all)))


@router.get("/cases/{name}/questions", include_in_schema=False)
async def questions_page(name: str, server: Server) -> HTMLResponse:
    """The questions to the customer."""
    return HTMLResponse(await server.quick.work(shown, "questions.html", questions_view, await server.case(name)))


@router.get("/cases/{name}/order", include_in_schema=False)
async def order_page(name: str, server: Server) -> HTMLResponse:
    """The order."""
    return HTMLResponse(await server.quick.work(shown, "order.html", order_view, await server.case(name)))


@router.get("/api/cases/{name}/selection", tags=["choosing"])
async def selection(name: str, server: Server) -> SelectionView:
    """The verdict on every principle with its reasons; what would change them is in `flips`."""
    return await server.quick.work(selection_view, await server.case(name), False)


@router.get("/api/cases/{name}/flips", tags=["choosing"])
async def flips(name: str, server: Server) -> FlipsView:
    """What would change each verdict that stands against a principle."""
    return await server.slow.work(flips_view, await server.case(name))


@router.get("/api/cases/{name}/questions", tags=["choosing"])
async def questions(name: str, server: Server) -> QuestionsView:
    """The questions to the customer, those that decide first."""
    return await server.quick.work(questions_view, await server.case(name))


@router.get("/api/cases/{name}/order", tags=["choosing"])
async def order(name: str, server: Server) -> OrderView:
    """Every line of what is ordered."""
    return await server.quick.work(order_view, await server.case(name))
