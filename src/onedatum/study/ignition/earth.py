"""Earthing of the circuit: a shunt-diode barrier needs a good earth; one point, or insulation that stands 500 V."""

from __future__ import annotations

from onedatum.case.model.circuit import SHUNT_DIODE, YES
from onedatum.case.model.hazard import ONE
from onedatum.physics.ignition import earth_limit
from onedatum.physics.loop import resistance_margin_ohm
from onedatum.study.desk import NONE, Desk

GOOD_EARTH = "the earth of the barrier is good enough", "The earth of the barrier is too poor"
ONE_POINT = "the circuit is earthed at one point only", "The circuit is not earthed at one point only"
INSULATED = (
    "apart from its earth the circuit stands 500 V to earth",
    "The circuit does not stand 500 V to earth apart from its earth",
)


def earthing(desk: Desk) -> None:
    """Check the earth of the circuit."""
    circuit = desk.case.circuit
    points = desk.said(circuit.earth_points, "whether current can flow from one earth to another")
    by_barrier = desk.case.loop.barrier.kind.word == SHUNT_DIODE
    allowed = (ONE,) if by_barrier else (ONE, NONE)
    holds = points in allowed if points else None
    limit = ONE if by_barrier else "one, or none"
    desk.judge("earth-points", ONE_POINT, points or "unknown", "", limit, holds, waits_for=(circuit.earth_points.path,))
    stands = desk.said(circuit.insulated_500_V, "whether the circuit is earthed nowhere else")
    desk.judge(
        "earth-insulation",
        INSULATED,
        stands or "unknown",
        "",
        YES,
        stands == YES if stands else None,
        waits_for=(circuit.insulated_500_V.path,),
    )
    if by_barrier:
        _good_earth(desk)
    else:
        desk.read.add(circuit.earth_resistance.path)


def _good_earth(desk: Desk) -> None:
    """The resistance to the equipotential earth that a shunt-diode barrier needs."""
    stated, limit = desk.take(desk.case.circuit.earth_resistance, "ohm"), earth_limit()
    most = desk.sheet.give(
        "circuit.earth_limit",
        limit.resistance_ohm,
        "ohm",
        "largest resistance to the equipotential earth",
        state="constant",
        shown="ohm",
        source=limit.source,
    )
    margin = desk.calc("circuit.earth_margin", resistance_margin_ohm, shown="ohm", limit_ohm=most, value_ohm=stated)
    desk.compare("earth-barrier", GOOD_EARTH, stated, "at most", most, margin, safety=True)
