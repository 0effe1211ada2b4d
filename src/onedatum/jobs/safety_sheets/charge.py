"""The sheet of static charge: what was looked at on the instrument and of the filling; it warns, it never passes."""

from __future__ import annotations

from onedatum.foundation.units import in_print, show
from onedatum.foundation.wording import counted
from onedatum.jobs.safety_sheets.words import checked, facts, present, said, shown, two_columns
from onedatum.paper import model as paper
from onedatum.physics.ignition import charge_facts, filling_facts, filling_velocities
from onedatum.study.cautions import CHARGE, DEFERENCE
from onedatum.study.filling import HIGH, FillingChapter
from onedatum.study.ignition import ChargeChapter
from onedatum.study.result import Study

NO_PRODUCT = (
    "No product of velocity and bore is asked: it keeps down the charge that a liquid of low conductivity holds, and "
    "this one gives its charge up to the earthed vessel."
)
NEVER_PASSED = "No pass is given for static charge; what else is to be known is said below."


def charge_sheet(study: Study) -> paper.TopicSheet | None:
    """The sheet of static charge; None where no explosive atmosphere is in the vessel."""
    ignition, filling = study.safe.ignition, study.safe.filling
    if ignition is None or filling is None:
        return None
    count = len(ignition.charge.warnings)
    left = len(ignition.charge.open)
    open_ = f"{counted(left, 'point')} of the instrument not known. " if left else ""
    warned = f"{counted(count, 'warning')} for the instrument. " if count else ""
    answer = f"{open_}{warned}{NEVER_PASSED}"
    rows = (*charge_facts(), *filling_facts())
    return paper.TopicSheet(
        "Static charge: instrument and filling",
        answer,
        (CHARGE, DEFERENCE),
        present(
            (
                _warnings(ignition.charge),
                checked(study, ("probe-charge",), "Charge on the probe"),
                _instrument(study, ignition.charge),
                _filling(study, filling),
                checked(study, ("filling-",), "Velocity, at the start and once the inlet is covered"),
            )
        ),
        None,
        facts((fact.text, fact.source, fact.tag) for fact in rows),
    )


def _warnings(charge: ChargeChapter) -> paper.SheetTable | None:
    if not charge.warnings:
        return None
    rows = tuple(
        (finding.title, "; ".join(f"{link.text} {link.value}".strip() for link in finding.chain))
        for finding in charge.warnings
    )
    told = tuple(tuple(map(in_print, row)) for row in rows)
    return paper.SheetTable("Warnings", ("warning", "because"), told, (3.0, 5.0), tuple(range(len(rows))))


def _instrument(study: Study, charge: ChargeChapter) -> paper.SheetTable:
    stated = study.statement.case.charge
    bleed = study.statement.case.probe.bleed
    leaves = (*stated.leaves(), *bleed.leaves())
    rows = [(leaf.title, said(leaf)) for leaf in leaves if leaf.known or leaf.state == "none"]
    rows += [(title, "not known: asked") for title in charge.open]
    if charge.area is not None:
        rows.append(("area of the layer, by its largest projection", shown(charge.area)))
    note = ""
    if charge.limits is not None and charge.limits.area_m2 is not None:
        limits = charge.limits
        sizes = (
            show(limits.area_m2 or 0.0, "mm2"),
            show(limits.width_m or 0.0, "mm"),
            show(limits.layer_m or 0.0, "mm"),
        )
        note = f"Limits for this zone and group: area {sizes[0]}, width {sizes[1]}, layer {sizes[2]} ({limits.tag})."
    elif charge.limits is not None:
        note = charge.limits.reason
    return two_columns("The instrument", rows, in_print(note))


def _filling(study: Study, filling: FillingChapter) -> paper.SheetTable:
    case = study.statement.case
    word = f" ({filling.conductivity}, bounds from memory)" if filling.conductivity else ""
    rows = [
        ("conductivity of the liquid", said(case.medium.conductivity) + word),
        ("relaxation time of charge", shown(filling.relaxation)),
        ("where the liquid enters", said(case.filling.inlet)),
        ("a second phase", said(case.filling.second_phase)),
    ]
    if filling.velocity is not None:
        rows += [
            ("smallest bore upstream", said(case.filling.pipe_bore)),
            ("velocity at the highest filling rate", shown(filling.velocity)),
            ("velocity until the inlet is covered", shown(filling.at_start)),
            ("until the inlet is covered, at most", shown(filling.start)),
            ("then at most", shown(filling.largest)),
        ]
    return two_columns("The filling", rows, _conducting(filling))


def _conducting(filling: FillingChapter) -> str:
    """What is said of a liquid of high conductivity; "" of any other."""
    if filling.conductivity != HIGH:
        return ""
    bounds = filling_velocities()
    judged = (
        f"The limits of every filling are judged: {bounds.start_m_per_s:g} m/s at the start, "
        f"{bounds.max_m_per_s:g} m/s then ({bounds.tag})."
    )
    open_ = "No velocity is judged: the bore of the filling line is not stated."
    return f"{NO_PRODUCT} {open_ if filling.velocity is None else judged}"
