"""Earthing of the circuit: a shunt-diode barrier needs a good earth; one point, or insulation that stands 500 V."""

from __future__ import annotations

from onedatum.case.model.circuit import NO, SHUNT_DIODE
from onedatum.physics.ignition import earth_limit
from onedatum.physics.loop import resistance_margin_ohm
from onedatum.study.desk import Desk

GOOD_EARTH = "the earth of the barrier is good enough", "The earth of the barrier is too poor"
ONE_POINT = "the circuit is earthed at one point only", "The circuit is earthed at several points"


def earthing(desk: Desk) -> None:
    """Check the earth of the circuit."""
    circuit = desk.case.circuit
    points = desk.word(circuit.earth_points, "whether current can flow from one earth to another")
    several = points == "several"
    desk.judge(
        "earth-points",
        ONE_POINT,
        points or "unknown",
        "at most",
        "one",
        not several if points else None,
        waits_for=(circuit.earth_points.path,),
    )
    desk.read.add(circuit.insulated_500_V.path)
    if circuit.insulated_500_V.word == NO and points == "none":
        desk.want(circuit.earth_points, "where the circuit is earthed, since it does not stand 500 V to earth")
    if desk.case.loop.barrier.kind.word != SHUNT_DIODE:
        desk.read.add(circuit.earth_resistance.path)
        return
    stated = desk.take(circuit.earth_resistance, "ohm")
    limit = earth_limit()
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
    desk.compare("barrier-earth", GOOD_EARTH, stated, "at most", most, margin, safety=True)
