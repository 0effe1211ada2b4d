"""The pages of formulas: all of them, and one worked alone with what is typed."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Query, Request
from fastapi.responses import HTMLResponse, Response

from onedatum.jobs.page.formulas import LONGEST, UnknownFormula, formula_view, formulas_view
from onedatum.web.making import alone
from onedatum.web.serving import Server, refusal

router = APIRouter(include_in_schema=False)
UNIT = "shown_in"


@router.get("/formulas")
async def formulas_page(
    server: Server,
    search: Annotated[str, Query(max_length=LONGEST, description="words that all must stand in it")] = "",
) -> HTMLResponse:
    """The formulas, all or those that hold every word looked for."""
    return HTMLResponse(await server.quick.work(_all, search))


@router.get("/formulas/{name}")
async def formula_page(request: Request, name: str, server: Server) -> Response:
    """One formula; with numbers in the address it is worked."""
    found, sentence = await server.quick.work(_one, name, dict(request.query_params))
    return refusal(request, 404, sentence) if sentence else HTMLResponse(found)


def _all(search: str) -> str:
    return alone("formulas.html", formulas_view(search))


def _one(name: str, typed: dict[str, str]) -> tuple[str, str]:
    """The page, or the sentence that says that there is no such formula."""
    unit = typed.pop(UNIT, "")
    try:
        view = formula_view(name, typed or None, unit)
    except UnknownFormula as error:
        return "", str(error)
    return alone("formula.html", view), ""
