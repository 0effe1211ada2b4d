"""The border of quantities: units in names, reading what people write, writing what they read.

Inside the house every number is in SI. Importing this room loads no units library; the first reading does.
"""

from onedatum.foundation.units.dimensions import DIMENSIONS, SHARES, Dimension, dimension, dimension_of_unit
from onedatum.foundation.units.nearest import hint, nearest
from onedatum.foundation.units.print import in_print
from onedatum.foundation.units.read import Pressure, Reference, read_one_of, read_pressure, read_quantity
from onedatum.foundation.units.suffix import name_without_unit, same_quantity, unit_of_name
from onedatum.foundation.units.systems import SYSTEMS
from onedatum.foundation.units.write import SHOWN, Scale, in_unit, number, show, show_with_u, whole

__all__ = [
    "DIMENSIONS",
    "SHARES",
    "SHOWN",
    "SYSTEMS",
    "Dimension",
    "Pressure",
    "Reference",
    "Scale",
    "dimension",
    "dimension_of_unit",
    "hint",
    "in_print",
    "in_unit",
    "name_without_unit",
    "nearest",
    "number",
    "read_one_of",
    "read_pressure",
    "read_quantity",
    "same_quantity",
    "show",
    "show_with_u",
    "unit_of_name",
    "whole",
]
