"""The expected signal: a card for whoever stands at the tank, as a page, as a part, as data."""

from __future__ import annotations

from typing import Annotated, Any

from fastapi import APIRouter, Query
from fastapi.responses import HTMLResponse
from pydantic import BaseModel, ConfigDict

from onedatum.jobs.page.signal import SignalView, signal_data, signal_view
from onedatum.web.bench import Refused
from onedatum.web.making import shown
from onedatum.web.serving import Server

router = APIRouter()
Dip = Annotated[str, Query(max_length=80, description="level by dip, with its unit; empty: as the case states it")]
Step = Annotated[str, Query(max_length=40, description="a length added to the dip")]
Meter = Annotated[
    str,
    Query(max_length=40, description="reading in mA, in mV on a resistor, in % of the span, or of the sensor itself"),
]
On = Annotated[str, Query(max_length=40, description="resistor that a voltage is read on; empty: that of the case")]


class Signal(BaseModel):
    """The expected signal in SI, unrounded."""

    model_config = ConfigDict(extra="allow")
    tag: str
    numbers: list[dict[str, Any]]
    state: str
    remarks: list[str]
    reliable: bool
    cautions: list[str]


@router.get("/cases/{name}/signal", include_in_schema=False)
async def signal_page(
    name: str, server: Server, dip: Dip = "", step: Step = "", meter: Meter = "", on: On = "", card: str = ""
) -> HTMLResponse:
    """The card; with `card` that part alone, for a page that swaps it."""
    template = "card.html" if card else "signal.html"
    case = await server.case(name)
    return HTMLResponse(await server.quick.work(shown, template, signal_view, case, dip, step, meter, on))


@router.get("/api/cases/{name}/card", tags=["signal"])
async def card(name: str, server: Server, dip: Dip = "", step: Step = "", meter: Meter = "", on: On = "") -> SignalView:
    """The card in the words of the page."""
    return await server.quick.work(signal_view, await server.case(name), dip, step, meter, on)


@router.get("/api/cases/{name}/signal", tags=["signal"])
async def signal(name: str, server: Server, dip: Dip = "", step: Step = "") -> Signal:
    """The expected signal in SI, unrounded."""
    found = await server.quick.work(signal_data, await server.case(name), dip, step)
    sentence = found.pop("sentence")
    if sentence:
        raise Refused(sentence)
    return Signal(**found)
