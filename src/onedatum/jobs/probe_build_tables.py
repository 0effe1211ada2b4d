"""The build of a probe on its sheet: its words, its lengths, what each word changes, its lines of the order."""

from __future__ import annotations

from collections.abc import Iterator

from onedatum.case.leaf import Value
from onedatum.case.model.probe import BARE, BARE_TIP, BY_ROD, BY_TUBE, NO
from onedatum.case.model.probe_build import ProbeBuild
from onedatum.foundation.units import in_print
from onedatum.jobs.safety_sheets.words import checked, said, shown, two_columns
from onedatum.paper import model as paper
from onedatum.study.probe import ProbeChapter
from onedatum.study.result import Study

KEYS = ("rod-",)
ASPECTS = {
    "probe form": "form",
    "probe rod": "rod",
    "probe coating": "coating",
    "probe earth": "circuit closed by",
    "probe gland": "hot neck",
    "probe guard": "guard section",
    "probe reference": "reference section",
    "probe head": "head",
}
"""The aspects of a build as people call them."""


def build_tables(study: Study, probe: ProbeChapter) -> tuple[paper.SheetTable | None, ...]:
    """What holds of build and lengths, and the words of the build."""
    return checked(study, KEYS, "Does it fit, and does its build bear it"), _words(probe)


def _words(probe: ProbeChapter) -> paper.SheetTable | None:
    """The words of the build with where it may be cut and set; those that say nothing of that are left out."""
    build = probe.fit.build
    rows = [
        (ASPECTS[each.aspect], each.word, each.cuttable, each.adjustable, "; ".join(each.wetted))
        for each in (build.chosen if build is not None else ())
        if each.cuttable or each.adjustable or each.wetted
    ]
    if not rows:
        return None
    head = ("", "build", "may be cut", "set on site", "wetted")
    told = tuple(tuple(map(in_print, row)) for row in rows)
    return paper.SheetTable("The build of the probe", head, told, (1.6, 2.4, 3.0, 1.6, 2.2))


def lengths_table(probe: ProbeChapter) -> paper.SheetTable:
    """What is measured down from the sealing face, and the limits of the build."""
    lengths, build, bridge = probe.fit.lengths, probe.fit.build, probe.fit.bridge
    rows = [("below the sealing face, in all", shown(lengths.whole)), ("active length", shown(probe.active))]
    if lengths.inactive is not None:
        rows.append(("inactive part, down from the sealing face", shown(lengths.inactive)))
        rows.append(("nozzle and splash to be covered", shown(lengths.needed)))
    if build is not None:
        rows += [
            ("longest that the build allows", shown(build.length_max)),
            ("highest temperature", shown(build.temperature_max)),
            ("highest pressure", shown(build.pressure_max)),
        ]
    if bridge is not None:
        rows.append(("a film at the gland reads off by", shown(bridge.error)))
    return two_columns("Lengths and limits", rows)


def build_notes(probe: ProbeChapter) -> Iterator[paper.Note]:
    """What each word of the build changes, with how far that was seen."""
    build = probe.fit.build
    for each in build.chosen if build is not None else ():
        for words in each.changes:
            yield paper.Note(in_print(words), f"{_called(each.aspect, each.word)}; {each.tag}")


def _called(aspect: str, word: str) -> str:
    """A word that stands for itself, or a yes with what it says yes to."""
    return f"{ASPECTS[aspect]}: {word}" if word in ("yes", "no") else word


def build_order_lines(study: Study, probe: ProbeChapter) -> Iterator[tuple[str, str]]:
    """The lines of the order that build, lengths and bleed make; those of an option only where it is chosen."""
    stated = study.statement.case.probe
    build = stated.build
    yield "form", said(build.form)
    yield "length below the sealing face", shown(probe.fit.lengths.whole)
    if stated.rod.word == BARE_TIP or stated.inactive_length.known:
        yield "inactive part, down from the sealing face", said(stated.inactive_length)
    if stated.earth.kind.word == BY_ROD:
        yield "earthed rod reaches down to", said(stated.earth.reaches_to)
    if stated.earth.kind.word == BY_TUBE:
        yield "earthed tube vented above the highest level", said(stated.earth.vented)
        yield "earthed tube drains below", said(stated.earth.drained)
    yield from _options(build)
    if stated.rod.word != BARE:
        yield "coating adheres to the core, against vacuum", said(build.coating_adheres)
    yield "core to earth for direct current", said(stated.bleed.resistance)
    yield "that stays with the head removed", said(stated.bleed.head_removed)


def _options(build: ProbeBuild) -> Iterator[tuple[str, str]]:
    """What is chosen beside the form, and every figure that comes before a usual limit."""
    words = (
        ("head", build.head),
        ("neck and gland for high temperature", build.hot_neck),
        ("guard section below the gland", build.guard_section),
    )
    for name, leaf in words:
        if leaf.known and leaf.word != NO:
            yield name, said(leaf)
    for figure in build.leaves():
        if figure.known and isinstance(figure, Value):
            yield figure.title.partition(", in place")[0], said(figure)
