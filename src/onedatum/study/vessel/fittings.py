"""What stands in the vessel and takes room, or lies beside it and adds some, one after the other."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from onedatum.case.model.vessel import EVENLY, LYING_PIPE, ROUND, Part
from onedatum.foundation.working import Entry
from onedatum.physics.overfill import margin_m
from onedatum.physics.vessels import even_part, less_part, lying_pipe_part, round_part, with_part
from onedatum.study.desk import Desk, Want

_FORMS: Mapping[str, Callable[..., object]] = {EVENLY: even_part, LYING_PIPE: lying_pipe_part, ROUND: round_part}


def fitted_out(desk: Desk, body: Entry) -> Entry:
    """The vessel less or plus every part listed; where nothing is said of parts, that is asked."""
    listed = desk.case.vessel.deadwood
    desk.read.add(listed.path)
    if listed.state == "unknown":
        desk.wants[listed.path] = Want(listed.title, listed.side, "every volume above it")
    if listed.state == "faulty":
        return desk.sheet.hold(
            "vessel.fitted_out", None, "inside of the vessel with its parts", path=listed.path, place=listed.place
        )
    for number, part in enumerate(listed.items, start=1):
        body = _with(desk, body, part, part.name.text or str(number), number)
    return body


def _with(desk: Desk, body: Entry, part: Part, called: str, number: int) -> Entry:
    name = f"vessel.part[{called}]" if f"vessel.part[{called}]" not in desk.sheet else f"vessel.part[{called} {number}]"
    adds = part.adds.state != "unknown"
    low = desk.take(part.from_, "mm")
    height = desk.calc(
        f"{name}.height",
        margin_m,
        shown="mm",
        meaning=f"height of the part: {called}",
        limit_m=desk.take(part.to, "mm"),
        value_m=low,
    )
    form = desk.word(part.form, f"how the part is spread over its height: {called}")
    made = desk.calc(
        name,
        _FORMS.get(form, even_part),
        shown="mm",
        meaning=f"part: {called}",
        volume_m3=desk.take(part.adds if adds else part.takes, "L"),
        height_m=height,
    )
    fit = with_part if adds else less_part
    meaning = f"inside of the vessel {'with' if adds else 'less'} the part: {called}"
    return desk.calc(f"{name}.fitted", fit, shown="mm", meaning=meaning, vessel=body, part=made, at_m=low)
