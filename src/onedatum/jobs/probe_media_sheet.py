"""The liquid on the sheet of a probe: where its permittivity comes from, what its changes do, the reference section."""

from __future__ import annotations

from collections.abc import Iterator

from onedatum.case.leaf import Text
from onedatum.foundation.sources import Source
from onedatum.foundation.units import in_print, show
from onedatum.foundation.working import Entry
from onedatum.jobs.safety_sheets.words import said, shown, two_columns
from onedatum.paper import model as paper
from onedatum.physics.media import LiquidPermittivity
from onedatum.study.probe import Change, ProbeChapter
from onedatum.study.result import Study

NOTHING_MOVES = (
    "The coating alone counts: permittivity, warmth and composition of the liquid move nothing, and have no row."
)
EVEN = "The changes are told for a liquid that is one and even over the whole rod."


def permittivity_table(study: Study, probe: ProbeChapter) -> paper.SheetTable | None:
    """Where the permittivity comes from; None where it is stated and nothing beside it."""
    rows = [("relative permittivity, as counted with", shown(probe.permittivity))]
    rows += list(_from_the_handbook(study))
    rows += list(_parts(study))
    rows += [(other.text, shown(other.permittivity)) for other in probe.medium.others]
    if len(rows) == 1 and not probe.medium.worked:
        return None
    return two_columns("Permittivity of the liquid", rows, _origin(probe))


def _origin(probe: ProbeChapter) -> str:
    """The law, and every source that it rests on."""
    if not probe.medium.worked:
        return "As stated in the case."
    law = probe.permittivity.tag
    sources = dict.fromkeys(f"{each.title} ({each.tag})" for each in _sources(probe.permittivity))
    return in_print(f"{law.what if law else ''} {'; '.join(sources)}.".strip())


def _sources(entry: Entry) -> Iterator[Source]:
    """Those of an entry and of the permittivities beneath it."""
    if entry.tag is None or "permittivity" not in entry.tag.name or entry.source is None:
        return
    yield entry.source.source
    for beneath in entry.inputs.values():
        yield from _sources(beneath)


def _from_the_handbook(study: Study) -> Iterator[tuple[str, str]]:
    """The point value beside the polynomial."""
    medium = study.statement.case.medium
    for leaf in (medium.substance, medium.mixture.other):
        liquid = _liquid(study, leaf)
        if liquid is not None:
            point = in_print(f"{liquid.point:g} at {show(liquid.point_K, 'degC')}")
            yield f"{liquid.name} ({liquid.cas}), point value of the handbook", point
            if liquid.has_polynomial:
                ends = in_print(f"{show(liquid.lowest_K, 'degC')} to {show(liquid.highest_K, 'degC')}")
                yield f"{liquid.name}, range of the polynomial", ends


def _liquid(study: Study, leaf: Text) -> LiquidPermittivity | None:
    whole = study.sheet[leaf.path].whole if leaf.path in study.sheet else None
    return whole if isinstance(whole, LiquidPermittivity) else None


def _parts(study: Study) -> Iterator[tuple[str, str]]:
    """What a mixture or a bulk is made of."""
    for name, words in (
        ("medium.permittivity_worked_20_degC", "by the table, at 20 degC"),
        ("medium.base_permittivity", "the medium itself"),
        ("medium.mixture.other_permittivity_worked", "the liquid mixed in"),
        ("medium.mixture.share", "its share of the volumes before mixing"),
        ("medium.bulk.grain_permittivity", "the moist grain itself, without air"),
        ("medium.bulk.packing", "volume of the grains in the bulk"),
        ("medium.bulk.moisture", "mass of water in the moist grain"),
    ):
        if name in study.sheet and study.sheet[name].known:
            source = study.sheet[name].source
            memory = source is not None and source.source.tag == "from memory"
            yield in_print(f"{words} (from memory)" if memory else words), shown(study.sheet[name])


# ---------------------------------------------------------------- changes


def changes_table(probe: ProbeChapter) -> paper.SheetTable | None:
    """What each change does at the highest level of the range, with every remedy the probe has."""
    told = [change for change in probe.changes if change.told]
    if not told:
        return None
    by_reference = any(change.left is not None for change in told)
    head = ["liquid then", "change per change of level", "set by calculation", "set at two levels"]
    widths = [2.2, 1.3, 1.1, 1.1]
    if by_reference:
        head.append("left with the reference section")
        widths.append(1.2)
    rows = tuple(_row(change, by_reference) for change in told)
    note = (
        "How much too high the highest level of the range reads, the probe set before in the liquid as stated; a minus "
        "reads low. What is not known of the liquid a setting at two levels takes in; what changes later it does not: "
        "nothing at the tip, most when full."
    )
    return paper.SheetTable("If the liquid changes after the setting", tuple(head), rows, tuple(widths), note=note)


def _row(change: Change, by_reference: bool) -> tuple[str, ...]:
    after = _nothing(change.error) if change.uncertain else shown(change.error)
    row = (change.text, shown(change.slope), shown(change.error), after)
    if not by_reference:
        return row
    return (*row, in_print(change.left_text) or "not counted on")


def _nothing(error: Entry) -> str:
    return "nothing" if error.known else shown(error)


def reference_table(probe: ProbeChapter) -> paper.SheetTable | None:
    """The reference section; None where there is none."""
    reference = probe.reference
    if reference is None:
        return None
    rows = (
        ("from", shown(reference.lower)),
        ("to", shown(reference.upper)),
        ("lowest level of the range", shown(reference.lowest)),
        ("stays wetted over the range", _yes(reference.covered)),
        ("stands in the one liquid, and that is even", _yes(reference.one_liquid)),
        ("what is wrong of it counts in the level, so many times", shown(reference.gain)),
    )
    note = "It takes off what the whole liquid changes by; water round it, layers and a film it does not."
    return two_columns("Reference section", rows, note)


def _yes(holds: bool | None) -> str:
    return {True: "yes", False: "no", None: "not known"}[holds]


def reference_lines(study: Study) -> tuple[tuple[str, str], ...]:
    """The lines of the order for the reference section."""
    stated = study.statement.case.probe.reference_section
    if not (stated.from_.known or stated.to.known):
        return ()
    return (("reference section, from", said(stated.from_)), ("reference section, to", said(stated.to)))


def media_notes(study: Study, probe: ProbeChapter) -> Iterator[paper.Note]:
    """What must be known to read the changes."""
    if probe.regime.word == "conductive":
        yield paper.Note(NOTHING_MOVES, "derived")
        return
    yield paper.Note(EVEN, "derived")
    medium = study.statement.case.medium
    if any(leaf.known for leaf in medium.bulk.leaves()):
        yield paper.Note(
            "Grain and powder: filling and settling move the packing by five to ten per cent; water bound in the grain "
            "acts less than free water. Measure the product. Only the probe knows the bulk: level and quantity take it "
            "for a liquid of its bulk density, with a level surface.",
            "common practice, no source",
        )
    if any(leaf.known for leaf in medium.mixture.leaves()):
        yield paper.Note(
            "No rule of mixing is right for every mixture: the rules differ, and the width says by how much.", "derived"
        )
