"""Chapter probe: a capacitive probe as it acts in its liquid, and what must be said of it."""

from onedatum.study.probe.accuracy import Part, ProbeAccuracy, accuracy_of
from onedatum.study.probe.changes import Change
from onedatum.study.probe.chapter import ProbeChapter, has_probe, probe_chapter
from onedatum.study.probe.checks import probe_checks
from onedatum.study.probe.field import FieldCurve, FieldRow
from onedatum.study.probe.film import FilmAt, FilmChapter
from onedatum.study.probe.findings import probe_findings
from onedatum.study.probe.fit import ProbeFit
from onedatum.study.probe.judged import by_capacitance
from onedatum.study.probe.level import AtLevel
from onedatum.study.probe.off import left_text
from onedatum.study.probe.permittivity import Permittivity
from onedatum.study.probe.picture import DrawnCurve, FieldPicture, drawn_curve, field_picture
from onedatum.study.probe.reference import Reference
from onedatum.study.probe.regime import Regime

__all__ = [
    "AtLevel",
    "Change",
    "DrawnCurve",
    "FieldCurve",
    "FieldPicture",
    "FieldRow",
    "FilmAt",
    "FilmChapter",
    "Part",
    "Permittivity",
    "ProbeAccuracy",
    "ProbeChapter",
    "ProbeFit",
    "Reference",
    "Regime",
    "accuracy_of",
    "by_capacitance",
    "drawn_curve",
    "field_picture",
    "has_probe",
    "left_text",
    "probe_chapter",
    "probe_checks",
    "probe_findings",
]
