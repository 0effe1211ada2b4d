"""The gauge of a study in its nozzle, by the numbers that every drawing of it needs."""

from __future__ import annotations

from onedatum.study.result import Study


def nozzle_of(study: Study) -> tuple[float, float, float] | None:
    """Bore, and heights of the foot and the flange face; None while one is unknown."""
    bore, foot = study.statement.case.nozzle.bore.si, study.value("vessel.inside_height")
    face = study.value("nozzle.flange_face_height")
    return None if bore is None or foot is None or face is None else (bore, foot, face)


def stem_of(study: Study) -> tuple[float, float] | None:
    """Heights of the tip and the flange face; None while one is unknown."""
    tip, face = study.value("instrument.stem.tip_above_datum"), study.value("nozzle.flange_face_height")
    return None if tip is None or face is None else (tip, face)


def float_of(study: Study) -> tuple[float | None, float | None, float | None]:
    """Diameter, height and immersion in the liquid now; a ball is as high as its bore is long."""
    height = "float.height" if "float.height" in study.sheet else "instrument.float.height"
    names = ("instrument.float.outside_diameter", height, f"float.immersion[{study.now.name}]")
    diameter, high, immersion = map(study.value, names)
    return diameter, high, immersion
