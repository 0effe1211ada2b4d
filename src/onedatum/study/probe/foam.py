"""Foam about the rod of a probe: what of it conducts reads as level, and nobody has said how much does."""

from __future__ import annotations

from collections.abc import Iterator

from onedatum.study.desk import Desk, Want
from onedatum.study.probe.chapter import ProbeChapter
from onedatum.study.probe.regime import CONDUCTIVE
from onedatum.verdicts import Effect, Finding, Link

ASKED = "medium.foam.kind"
"""Under this path it is asked for what foam it is."""
HIGH = {
    True: "The liquid conducts, and so may its foam: on the rod it reads as level, and the level reads too high",
    False: "What foam it is, is not known: what of it wets the rod or conducts reads as level, too high",
}


def foam_findings(desk: Desk, probe: ProbeChapter) -> Iterator[Finding]:
    """Foam is stated: it may read high, by its own height where it conducts, by its share of liquid where not."""
    foam, height = desk.case.medium.foam, desk.case.overfill.foam
    if not foam.known:
        return
    desk.read.add(foam.path)
    title = "of the foam: whether it conducts, its height, its share of liquid"
    desk.wants.setdefault(ASKED, Want(title, "process", "how much of the foam the probe reads as level"))
    most = height.text if height.known else "its whole height, which is not stated"
    yield Finding(
        "probe-foam-reads",
        HIGH[probe.regime.word == CONDUCTIVE],
        Effect.WARNING,
        (
            Link(foam.title, foam.text, foam.path if foam.path in desk.sheet else ""),
            Link("May read too high by up to", most, height.path if height.path in desk.sheet else ""),
            Link(
                "No uncertainty of the level counts it; an alarm of a high level comes early, one of a low level late"
            ),
        ),
        (
            Link(
                "Ask whether it conducts, its height, its share of liquid; or look at the reading with foam and without"
            ),
            Link("A spray or an agent against foam, a still pipe; or another principle"),
        ),
    )
