"""The gauge of a study in its nozzle, by the numbers that every drawing of it needs."""

from __future__ import annotations

from onedatum.paper.dxf.model import InterfaceFloat
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


def float_of(study: Study, name: str = "float") -> tuple[float | None, float | None, float | None]:
    """Diameter, height and immersion of a float in the liquid now; a ball is as high as its bore is long."""
    height = f"{name}.height" if f"{name}.height" in study.sheet else f"instrument.{name}.height"
    names = (f"instrument.{name}.outside_diameter", height, f"{name}.immersion[{study.now.name}]")
    diameter, high, immersion = map(study.value, names)
    return diameter, high, immersion


def interface_float_of(study: Study) -> InterfaceFloat | None:
    """The float between two liquids under the least upper layer; None while a size is unknown or there is none."""
    diameter, height, immersion = float_of(study, "interface_float")
    layer = study.value("interface.upper_layer_least")
    if layer is None or diameter is None or height is None or immersion is None:
        return None
    return InterfaceFloat(layer, diameter, height, immersion)
