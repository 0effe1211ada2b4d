"""What must be said of the liquid of a probe: where its permittivity comes from, and what its changes do."""

from __future__ import annotations

from collections.abc import Iterator

from onedatum.case.leaf import Text
from onedatum.foundation.units import show
from onedatum.foundation.working import Entry
from onedatum.physics.media import LiquidPermittivity
from onedatum.physics.media.permittivity_liquids import LARGEST_DISAGREEMENT
from onedatum.study.desk import Desk, Want
from onedatum.study.probe.changes import Change
from onedatum.study.probe.chapter import ProbeChapter
from onedatum.study.probe.off import effect_of, far_below_allowed, off
from onedatum.study.probe.reference import COVERED, ONE_LIQUID, Reference, drowned
from onedatum.study.probe.regime import CONDUCTIVE
from onedatum.verdicts import Effect, Finding, Link

NEW_SETTING = Link("A reference section that stays wetted, a new setting with every product; or another principle")


def reference_checks(desk: Desk, reference: Reference | None, remark: bool) -> None:
    """Judge the reference section: that it stays covered, and by the one liquid."""
    if reference is None:
        return
    name, meaning = "probe.reference_margin", "from the reference section up to the lowest level of the range"
    desk.compare_apart(
        "probe-reference-covered", COVERED, reference.upper, "at most", reference.lowest, name, meaning, remark=remark
    )
    even = desk.case.probe.reference_section.even
    said = "another liquid reaches it" if drowned(desk, reference.lower) else even.word or "not said"
    waits = (even.path,) if not even.known else ()
    desk.judge(
        "probe-reference-even", ONE_LIQUID, said, "is", "even", reference.one_liquid, waits_for=waits, remark=remark
    )


def media_findings(desk: Desk, probe: ProbeChapter, grave: Effect) -> Iterator[Finding]:
    """Every finding of the liquid and its changes."""
    medium = desk.case.medium
    for leaf in (medium.substance, medium.mixture.other):
        yield from _handbook(desk, leaf)
    yield from _against_the_handbook(desk, probe)
    yield from _warmth_not_told(desk, probe)
    for change in probe.changes:
        yield from _change(desk, change, grave)
    yield from _reference(desk, probe.reference, grave)
    yield from _deposits(desk, probe)
    yield from _grain(desk, probe)


# ---------------------------------------------------------------- where the permittivity comes from


def _liquid(desk: Desk, leaf: Text) -> LiquidPermittivity | None:
    whole = desk.sheet[leaf.path].whole if leaf.path in desk.sheet else None
    return whole if isinstance(whole, LiquidPermittivity) else None


def _handbook(desk: Desk, leaf: Text) -> Iterator[Finding]:
    """Where point value and polynomial of the handbook contradict one another."""
    liquid = _liquid(desk, leaf)
    if liquid is None or not liquid.warning:
        return
    chain = [Link("Tabled", f"{liquid.point:g} at {show(liquid.point_K, 'K')}", leaf.path)]
    if liquid.doubtful:
        chain.append(Link("The polynomial differs from it by", show(liquid.disagreement, "%")))
    if liquid.doubtful and not liquid.comparable:
        chain.append(Link("That point lies outside the range of the polynomial, which may explain it"))
    yield Finding(
        f"probe-handbook[{leaf.path}]",
        f"The handbook contradicts itself on the permittivity of {liquid.name}",
        Effect.WARNING,
        tuple(chain),
        (Link("Measure it, and state it as medium.permittivity"),),
    )


def _against_the_handbook(desk: Desk, probe: ProbeChapter) -> Iterator[Finding]:
    """A permittivity is stated, and the liquid is named: the two must agree."""
    named, stated = desk.case.medium.substance, probe.permittivity
    liquid = _liquid(desk, named)
    if probe.medium.worked or liquid is None or stated.value is None:
        return
    if abs(stated.value / liquid.point - 1.0) <= LARGEST_DISAGREEMENT:
        return
    yield Finding(
        "probe-permittivity-other",
        f"The permittivity stated is not the one that the handbook has for {liquid.name}",
        Effect.WARNING,
        (
            Link("The handbook has", f"{liquid.point:g} at {show(liquid.point_K, 'K')}", named.path),
            Link("Stated, and counted with", stated.text, stated.name),
        ),
        (Link("Leave the permittivity away to have it worked at the temperature; or say where it was measured"),),
    )


def _warmth_not_told(desk: Desk, probe: ProbeChapter) -> Iterator[Finding]:
    """A stated permittivity says nothing of warmth and cold; where the liquid counts they move the reading."""
    stated, warmth = desk.case.medium.permittivity, desk.case.medium.temperature
    ranged = stated.low is not None or stated.high is not None
    if probe.medium.worked or not stated.known or ranged or probe.regime.word in (CONDUCTIVE, ""):
        return
    if warmth.low is None and warmth.high is None:
        return
    yield Finding(
        "probe-warmth-not-told",
        "What warmth and cold do to the permittivity is not told: one value is stated for all temperatures",
        Effect.WARNING,
        (Link("Temperature of the liquid", warmth.text, warmth.path), Link("Permittivity", stated.text, stated.path)),
        (Link("State its least and greatest over the range of temperature, or name the liquid in its place"),),
    )


# ---------------------------------------------------------------- what its changes do


def _change(desk: Desk, change: Change, grave: Effect) -> Iterator[Finding]:
    error = change.error
    if not change.feels:
        yield Finding(
            f"probe-feels-nothing[{change.text}]",
            f"With the {change.text} the probe does not feel the level",
            grave,
            (Link("Change of capacitance per change of level then", change.slope.text, change.slope.name),),
            (Link("A permittivity known better, or another principle"),),
        )
    if error.value is None or not change.told or far_below_allowed(desk, error.value):
        return
    word, size = off(error)
    when = "Set by calculation alone" if change.uncertain else "Set before"
    chain = [
        Link("Change of capacitance per change of level then", change.slope.text, change.slope.name),
        Link(f"The highest level of the range would read too {word} by", size, error.name),
    ]
    if change.left is not None:
        chain.append(Link("Read by the reference section there is left", change.left_text, change.left.name))
    yield Finding(
        f"probe-change[{change.text}]",
        f"{when}, the probe reads {word} with the {change.text}",
        Effect.WARNING if change.set_in_it else effect_of(desk, change.left or error, grave),
        tuple(chain),
        _ways_out(change),
    )


def _ways_out(change: Change) -> tuple[Link, ...]:
    if change.left is not None:
        return (Link("Keep the reference section in use, wetted and clean"),)
    if change.uncertain:
        return (Link("A setting at two levels in the liquid itself takes it in; or a permittivity measured"),)
    return (NEW_SETTING,)


def _reference(desk: Desk, reference: Reference | None, grave: Effect) -> Iterator[Finding]:
    if reference is None:
        return
    if reference.covered is False:
        yield Finding(
            "probe-reference-bare",
            "The reference section comes out of the liquid within the range: what it tells is then wrong",
            grave,
            (
                Link("It ends at", reference.upper.text, reference.upper.name),
                Link("The range goes down to", reference.lowest.text, reference.lowest.name),
            ),
            (Link("A reference section that ends lower, or a range that begins higher"),),
        )
    if reference.one_liquid is False:
        yield Finding(
            "probe-reference-second-liquid",
            "The reference section stands in another liquid than the one whose level is measured",
            grave,
            _other_liquid(desk, reference.lower),
            (Link("A section above the water, or a vessel kept mixed; or no reference section"),),
        )


def _other_liquid(desk: Desk, lower: Entry) -> tuple[Link, ...]:
    water, heavier = desk.case.quantity.free_water_level, desk.case.interface.lower_density
    chain = [Link("The section begins at", lower.text, lower.name)]
    if water.known:
        chain.append(Link(water.title, water.text, water.path if water.path in desk.sheet else ""))
    elif heavier.known:
        chain.append(Link(heavier.title, heavier.text, heavier.path if heavier.path in desk.sheet else ""))
    else:
        even = desk.case.probe.reference_section.even
        chain.append(Link(even.title, even.word, ""))
    return tuple(chain)


def _deposits(desk: Desk, probe: ProbeChapter) -> Iterator[Finding]:
    """Deposits are stated and no layer: one that insulates reads low on a coated rod, and makes the alarm late."""
    deposits, layer = desk.case.medium.deposits, desk.case.probe.layer.thickness
    if not deposits.known or probe.section.insulation is None or probe.regime.word != CONDUCTIVE:
        return
    desk.read.add(deposits.path)
    if layer.state != "unknown":
        return
    desk.want(layer, "what deposits on the rod make of the reading, and of the alarm")
    yield Finding(
        "probe-deposits-open",
        "Deposits are stated, and no layer on the rod: one that insulates would read low, and make the alarm late",
        Effect.WARNING,
        (Link("Deposits", deposits.text),),
        (Link("State the layer that may grow, probe.layer, to see what it does; or that none stays"),),
    )


def _grain(desk: Desk, probe: ProbeChapter) -> Iterator[Finding]:
    """Grain packs as it is filled and settles, and its moisture moves: one value of each counts as no error."""
    bulk = desk.case.medium.bulk
    lone = [leaf for leaf in (bulk.packing, bulk.moisture) if leaf.known and leaf.low is None and leaf.high is None]
    if not lone or not probe.medium.worked or (probe.reference is not None and probe.reference.sound):
        return
    for leaf in lone:
        decides = "what filling, settling and drying make of the reading"
        desk.wants.setdefault(f"{leaf.path}.range", Want(f"least and greatest: {leaf.title}", "process", decides))
    yield Finding(
        "probe-grain-range",
        "Grain packs and dries: stated by one value, no error of the level counts that",
        Effect.WARNING,
        tuple(Link(leaf.title, leaf.text, leaf.path) for leaf in lone),
        (
            Link("State least and greatest of each; usually 5 to 10 % of packing (common practice, no source)"),
            NEW_SETTING,
        ),
    )
