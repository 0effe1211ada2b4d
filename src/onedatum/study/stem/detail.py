"""Stem and float in depth: build, walls, answers of the float, wire, accuracy, magnet, interface, mechanics, search."""

from __future__ import annotations

from dataclasses import dataclass

from onedatum.study.desk import Desk
from onedatum.study.states import StatesChapter
from onedatum.study.stem.accuracy import AccuracyChapter, accuracy_chapter
from onedatum.study.stem.build import BuildChapter, build_chapter
from onedatum.study.stem.chapter import StemChapter
from onedatum.study.stem.interface import InterfaceChapter, interface_chapter, interface_float
from onedatum.study.stem.magnet import Beside, MagnetChapter, magnet_chapter
from onedatum.study.stem.mechanics import MechanicsChapter, mechanics_chapter
from onedatum.study.stem.response import Response, responses
from onedatum.study.stem.search import SearchChapter, search_chapter
from onedatum.study.stem.upright import UprightChapter, upright_chapter
from onedatum.study.stem.walls import WallsChapter, walls_chapter
from onedatum.study.stem.waveguide import WaveguideChapter, flight_now, waveguide_chapter


@dataclass(frozen=True)
class StemDetail:
    """What the sheet of stem and float is made from; None where nothing of it is stated."""

    stem: StemChapter
    answers: tuple[Response, ...]
    walls: WallsChapter
    build: BuildChapter
    wire: WaveguideChapter
    accuracy: AccuracyChapter
    upright: UprightChapter | None
    magnet: MagnetChapter | None
    interface: InterfaceChapter | None
    interface_walls: WallsChapter | None
    mechanics: MechanicsChapter | None
    """None for a stem outside on a chamber, which nothing flows across."""
    search: SearchChapter | None


def stem_detail(desk: Desk, stem: StemChapter, states: StatesChapter, beside: Beside | None = None) -> StemDetail:
    """Work it, each part on what stands above it."""
    answers = responses(desk, stem)
    walls = walls_chapter(desk, stem, stem.float_)
    build = build_chapter(desk, stem, states, walls)
    between = interface_float(desk)
    wire = waveguide_chapter(desk, stem, between)
    if beside is None:
        flight_now(desk, stem, wire, states.now.name)
    accuracy = accuracy_chapter(desk, wire, answers)
    magnet = magnet_chapter(desk, stem, wire, beside)
    ring = magnet.strongest if magnet is not None else None
    interface = None if between is None else interface_chapter(desk, stem, between, wire, answers, ring)
    lower = None if between is None else walls_chapter(desk, stem, between)
    return StemDetail(
        stem,
        answers,
        walls,
        build,
        wire,
        accuracy,
        upright_chapter(desk, stem.float_, answers, "stem" if beside is None else "chamber"),
        magnet,
        interface,
        lower,
        mechanics_chapter(desk, stem) if beside is None else None,
        search_chapter(desk, stem, walls) if beside is None else None,
    )
