"""A history of a case: what was true, what the receiver took, what was written down."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from onedatum.foundation.errors import QuantityError
from onedatum.foundation.numerics import Reals
from onedatum.simulate.history.hands import Booked, Dip, booked, dips
from onedatum.simulate.history.liquid import Vessel, vessel_of
from onedatum.simulate.history.plan import Plan, refuse_plan
from onedatum.simulate.history.received import received_A
from onedatum.simulate.history.recorded import Recorded, recorded
from onedatum.simulate.history.tank import Lived, lived
from onedatum.simulate.history.troubles import refuse_troubles
from onedatum.simulate.instrument import Instrument, instrument_of
from onedatum.study.result import Study


@dataclass(frozen=True)
class History:
    """Everything, the truth beside what a person would be handed."""

    plan: Plan
    instrument: Instrument
    vessel: Vessel
    tank: Lived
    received_A: Reals
    recorded: Recorded
    temperature_K: Reals | None
    """As written beside the rows."""
    dips: tuple[Dip, ...]
    booked: tuple[Booked, ...]
    """Empty where the case has no vessel of its own: no volume could be told of it."""
    case_file: str
    """Where the case was read from."""

    @property
    def is_healthy(self) -> bool:
        """Whether nothing was put in."""
        return not self.plan.troubles


def history(study: Study, plan: Plan) -> History:
    """The history of a case by a plan; the same seed gives the same history.

    What is drawn for one matter does not depend on the others: with a fault added, tank, noise and dips stay as they
    were; only a leak moves the levels by which later batches are ordered. Raises QuantityError where the plan cannot
    be, or the case does not tell what its instrument feels.
    """
    refuse_plan(plan)
    instrument = instrument_of(study)
    if instrument is None:
        why = "its range, its sensor or the liquid is not known"
        raise QuantityError("a case whose instrument can be simulated", "one that cannot", why)
    refuse_troubles(plan.troubles, instrument, plan.duration_s)
    ends_m = sorted((instrument.lower_m, instrument.upper_m))
    vessel = vessel_of(study, ends_m[0], ends_m[1], plan.life.section_m2)
    tank = lived(vessel, plan, instrument.temperature_K)
    current = received_A(instrument, tank, plan)
    rows = recorded(instrument, current, plan)
    return History(
        plan,
        instrument,
        vessel,
        tank,
        current,
        rows,
        _beside_K(tank, rows, plan),
        dips(tank, plan),
        () if vessel.stands_in else booked(tank, plan),
        study.statement.file,
    )


def _beside_K(tank: Lived, rows: Recorded, plan: Plan) -> Reals | None:
    if plan.record.temperature_K is None:
        return None
    noise = np.random.default_rng([plan.seed, 12]).standard_normal(len(tank.time_s))
    return np.asarray((tank.temperature_K + plan.record.temperature_K * noise)[rows.which])
