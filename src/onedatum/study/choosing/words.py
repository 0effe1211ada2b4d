"""Words of the build that the case states at places of its own, under the names of the rules."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from onedatum.case.leaf import Leaf
from onedatum.case.model.build import IN_TANK, STILL_PIPE
from onedatum.case.model.instrument import FLEXIBLE, RIGID
from onedatum.case.model.legs import THE_GAS
from onedatum.case.model.probe import BY_ROD, BY_TUBE, YES
from onedatum.case.model.probe_build import ROD, ROPE
from onedatum.study.choosing.bench import Bench
from onedatum.study.choosing.principle import DIFFERENTIAL, MAGNETOSTRICTIVE, REFERENCE_ROD, probe_principle
from onedatum.study.desk import NONE


@dataclass(frozen=True)
class Said:
    """A word, where it stands, and the principle that it holds for."""

    name: str
    word: str
    path: str
    principle: str


def words_of(bench: Bench) -> Iterator[Said]:
    """All of them: of the stem in the vessel, of the probe, of the legs that the case states."""
    if bench.principle == MAGNETOSTRICTIVE:
        yield from _stem(bench)
    if bench.measuring.probe is not None:
        yield from _probe(bench)
    legs = bench.measuring.legs
    if legs is not None and legs.taps is not None and legs.upper is not None:
        filling = legs.upper.stated.filling
        word = "filled seal" if legs.upper.sealed else "dry leg" if filling.word == THE_GAS else "wet leg"
        if filling.known:
            yield Said("dp.leg", word, filling.path, DIFFERENTIAL)


def _said(name: str, leaf: Leaf, word: str, principle: str) -> Iterator[Said]:
    if word:
        yield Said(name, word, leaf.path, principle)


def _stem(bench: Bench) -> Iterator[Said]:
    instrument, layer = bench.desk.case.instrument, bench.desk.case.charge.layer
    form = {RIGID: "rigid", FLEXIBLE: "flexible"}.get(instrument.principle.word, "")
    yield from _said("build.form", instrument.principle, form, MAGNETOSTRICTIVE)
    place = {IN_TANK: "tank", STILL_PIPE: "still pipe"}.get(instrument.build.place.word, "")
    yield from _said("build.place", instrument.build.place, place, MAGNETOSTRICTIVE)
    none = layer.state == NONE or layer.si == 0.0
    yield from _said("layer.kind", layer, "none" if none else "insulating" if layer.known else "", MAGNETOSTRICTIVE)


def _probe(bench: Bench) -> Iterator[Said]:
    probe, principle = bench.desk.case.probe, probe_principle(bench.desk)
    form = {ROD: "rigid", ROPE: "flexible"}.get(probe.build.form.word, "")
    yield from _said("build.form", probe.build.form, form, principle)
    coated = bench.measuring.probe is not None and bench.measuring.probe.section.coated
    if probe.rod.known:
        yield from _said("layer.kind", probe.rod, "insulating" if coated else "none", principle)
    if principle == REFERENCE_ROD:
        earth = {BY_ROD: "rods", BY_TUBE: "tube"}.get(probe.earth.kind.word, "")
        yield from _said("reference.form", probe.earth.kind, earth, principle)
        if probe.rod.known:
            yield from _said("probe.active", probe.rod, "coated" if coated else "bare", principle)
    inactive = YES if probe.inactive_length.known else "no" if probe.inactive_length.state == NONE else ""
    yield from _said("inactive.fitted", probe.inactive_length, inactive, principle)
