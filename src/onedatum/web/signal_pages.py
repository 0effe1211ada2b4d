"""The expected signal: a card for whoever stands at the tank, as a page, as a part, as data."""

from __future__ import annotations

from typing import Annotated, Any

from fastapi import APIRouter, Depends, Path, Query, Request
from fastapi.responses import HTMLResponse, Response
from pydantic import BaseModel, ConfigDict

from onedatum.jobs.page.adjusting import AdjustingView, KnownLevels, adjusting_view
from onedatum.jobs.page.signal import SignalView, signal_data, signal_file, signal_view
from onedatum.paper.text import file_stem
from onedatum.web.bench import Refused
from onedatum.web.files import attached
from onedatum.web.making import shown
from onedatum.web.serving import Server, refusal

router = APIRouter()
Dip = Annotated[str, Query(max_length=80, description="level by dip, with its unit; empty: as the case states it")]
Step = Annotated[str, Query(max_length=40, description="a length added to the dip")]
Meter = Annotated[
    str,
    Query(max_length=40, description="reading in mA, in mV on a resistor, in % of the span, or of the sensor itself"),
]
On = Annotated[str, Query(max_length=40, description="resistor that a voltage is read on; empty: that of the case")]


Field = Annotated[str, Query(max_length=40)]


def known_levels(
    first_dip: Field = "",
    first_reading: Field = "",
    first_digital: Field = "",
    second_dip: Field = "",
    second_reading: Field = "",
    second_digital: Field = "",
    resistor: Field = "",
    dip_within: Field = "",
    meter_within: Field = "",
) -> KnownLevels:
    """The fields of the form of known levels."""
    first, second = (first_dip, first_reading, first_digital), (second_dip, second_reading, second_digital)
    return KnownLevels(*first, *second, resistor, dip_within, meter_within)


Known = Annotated[KnownLevels, Depends(known_levels)]


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
    name: str,
    server: Server,
    known: Known,
    dip: Dip = "",
    step: Step = "",
    meter: Meter = "",
    on: On = "",
    card: str = "",
) -> HTMLResponse:
    """The card, and known levels beneath it; with `card` the card alone, for a page that swaps it."""
    template = "card.html" if card else "signal.html"
    case = await server.case(name)
    return HTMLResponse(await server.quick.work(shown, template, signal_view, case, dip, step, meter, on, known))


@router.get("/cases/{name}/signal.{ending}", include_in_schema=False)
async def signal_as_file(
    request: Request,
    name: str,
    server: Server,
    ending: Annotated[str, Path(pattern="^(pdf|csv|txt)$")],
    step: Annotated[str, Query(max_length=40)] = "",
) -> Response:
    """The card to print: the signal at the marks and at every step."""
    case = await server.case(name)
    worker = server.slow if ending == "pdf" else server.quick
    found = await worker.work(signal_file, case, step, ending)
    if isinstance(found, str):
        return refusal(request, 422, found)
    return attached(f"{file_stem(name)}-{found.name}", found.content)


@router.get("/api/cases/{name}/known", tags=["signal"])
async def known_levels_of(name: str, server: Server, known: Known) -> AdjustingView:
    """What known levels say of range, output, datum and slope, in the words of the page."""
    return await server.quick.work(adjusting_view, await server.case(name), known)


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
