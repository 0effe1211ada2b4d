"""Whether the probe fits and bears it: its build, its lengths, its earth, its gland."""

from __future__ import annotations

from dataclasses import dataclass

from onedatum.foundation.working import Entry
from onedatum.study.desk import Desk
from onedatum.study.probe.bridge import Bridge, bridge_of
from onedatum.study.probe.build import BuildLimits, build_of_probe
from onedatum.study.probe.lengths import (
    Lengths,
    earth_reaches,
    head_reads,
    length_within,
    lengths_of,
)
from onedatum.study.probe.level import AtLevel
from onedatum.study.probe.regime import Regime
from onedatum.study.probe.section import ProbeSection


@dataclass(frozen=True)
class Rod:
    """The rod as it was worked: its section, its ends, what it gains with the level."""

    section: ProbeSection
    lower: Entry
    upper: Entry
    active: Entry
    slope: Entry
    rows: tuple[AtLevel, ...]


@dataclass(frozen=True)
class ProbeFit:
    """What the sheet and the order need of build and lengths."""

    build: BuildLimits | None
    lengths: Lengths
    bridge: Bridge | None


def fit_of(desk: Desk, rod: Rod, regime: Regime) -> ProbeFit:
    """Work them and put down what must hold."""
    desk.read.update(leaf.path for leaf in desk.case.probe.bleed.leaves())
    bridge = bridge_of(desk, rod.section, regime, rod.slope, rod.rows)
    build = build_of_probe(desk)
    lengths = lengths_of(desk, rod.section.sleeved, rod.lower, rod.upper)
    if build is not None:
        length_within(desk, lengths, rod.active, build.length_max)
        head_reads(desk, rod.rows)
    earth_reaches(desk, rod.lower)
    return ProbeFit(build, lengths, bridge)
