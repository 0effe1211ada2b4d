"""Which sheets a study has: the loop and the alarms always, the others where there is something to say.

Without an instrument there are the alarms alone, as far as vessel and filling place them.
"""

from __future__ import annotations

from onedatum.jobs.safety_sheets.alarms import alarm_sheet
from onedatum.jobs.safety_sheets.area import area_sheet
from onedatum.jobs.safety_sheets.charge import charge_sheet
from onedatum.jobs.safety_sheets.circuit import circuit_sheet
from onedatum.jobs.safety_sheets.integrity import integrity_sheet
from onedatum.jobs.safety_sheets.loop import loop_sheet
from onedatum.paper import model as paper
from onedatum.study.result import Study


def safety_sheets(study: Study) -> tuple[paper.TopicSheet, ...]:
    """Every sheet that touches safety, in the order they are read."""
    alarms = alarm_sheet(study) if study.safe.overfill is not None else None
    if not study.has_instrument:
        return () if alarms is None else (alarms,)
    made = [
        loop_sheet(study),
        alarms,
        area_sheet(study),
        circuit_sheet(study),
        charge_sheet(study),
        integrity_sheet(study),
    ]
    return tuple(sheet for sheet in made if sheet is not None)
