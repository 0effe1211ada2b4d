"""What is measured and under what conditions: medium, gas, pressure, states, what is wanted of the measurement."""

from __future__ import annotations

from typing import Annotated

from onedatum.case.kinds import PRESSURE, Choice, FreeText, Listing, Quantity
from onedatum.case.leaf import Rows, Text, Value, Word
from onedatum.case.model.chamber import ColumnTemperature
from onedatum.case.model.mixture import Bulk, Mixture
from onedatum.case.section import Section

FREE, NON_MAGNETIC, MAGNETIC = "free of particles", "not magnetic", "magnetic"
FITTED, REMOVED, ISOLATED = "fitted", "removed", "isolated"
PURE_ALCOHOL, MASS, MASS_IN_AIR = "litres of pure alcohol", "mass", "mass in air"
REFERENCE_VOLUME, NET_STANDARD = "volume at the reference temperature", "net standard volume"
LEVEL = "level"
AMOUNTS = (PURE_ALCOHOL, MASS, MASS_IN_AIR, REFERENCE_VOLUME, NET_STANDARD)

ETHANOL_WATER, WATER, BOILING_WATER = "ethanol-water", "water", "water at its boiling point"
STATED_DENSITY, TABLED, PETROLEUM = "liquid of stated density", "liquid by density table", "petroleum product"
LIQUIDS = (ETHANOL_WATER, WATER, BOILING_WATER, STATED_DENSITY, TABLED, PETROLEUM)

CRUDE, REFINED, LUBRICATING = "crude oil", "refined product", "lubricating oil"
OWN_EXPANSION = "by its expansion at 60 degF"
NOT_PETROLEUM = "petroleum_not_covered.json"
"""The table of products that the petroleum tables do not cover, and what to use instead."""


class Gas(Section):
    """What stands above the liquid."""

    kind: Annotated[Text, FreeText("gas above the liquid")]
    density: Annotated[
        Value,
        Quantity("density of the gas above the liquid", dimension="density", allowed="[0, 500]", example="1.2 kg/m3"),
    ]
    permittivity: Annotated[
        Value,
        Quantity("relative permittivity of the gas above", dimension="number", allowed="[1, 10]", example="1.04"),
    ]


class DensityRow(Section):
    """One row of a table of densities."""

    temperature: Annotated[
        Value, Quantity("temperature of the row", dimension="temperature", allowed="[73, 1300]", example="20 degC")
    ]
    density: Annotated[
        Value, Quantity("density at it", dimension="density", allowed="(0, 20000]", example="1113.2 kg/m3")
    ]


class Medium(Section):
    """The liquid to be measured."""

    kind: Annotated[Word, Choice("kind of liquid", words=LIQUIDS, elsewhere=NOT_PETROLEUM)]
    group: Annotated[
        Word,
        Choice(
            "group of the petroleum product",
            words=(CRUDE, REFINED, LUBRICATING, OWN_EXPANSION),
            elsewhere=NOT_PETROLEUM,
        ),
    ]
    strength: Annotated[
        Value,
        Quantity(
            "alcoholic strength by volume",
            dimension="volume fraction",
            allowed="[0, 1]",
            companions={
                "at": Quantity(
                    "temperature of the strength",
                    dimension="temperature",
                    allowed="[293.149, 293.151]",
                    why="strength by volume is stated at 20 degC (OIML R 22)",
                )
            },
            why="no mixture holds more than all alcohol",
            example="{value: 68.0 %vol, at: 20 degC, within: 0.1 %vol}",
        ),
    ]
    strength_by_mass: Annotated[
        Value,
        Quantity(
            "alcoholic strength by mass, in place of the strength by volume",
            dimension="mass fraction",
            allowed="[0, 1]",
            why="no mixture holds more than all alcohol",
            example="60.3 %mass",
        ),
    ]
    us_proof: Annotated[
        Value,
        Quantity(
            "strength as US proof at 60 degF, in place of the strength by volume",
            dimension="number",
            allowed="[0, 200]",
            why="twice the per cent by volume",
            example="136",
        ),
    ]
    strength_least: Annotated[
        Value,
        Quantity(
            "least strength by volume at 20 degC that the liquid may come to have after the setting",
            dimension="volume fraction",
            allowed="[0, 1]",
            why="no mixture holds less than no alcohol",
            example="60 %vol",
        ),
    ]
    strength_greatest: Annotated[
        Value,
        Quantity(
            "greatest strength by volume at 20 degC that the liquid may come to have after the setting",
            dimension="volume fraction",
            allowed="[0, 1]",
            why="no mixture holds more than all alcohol",
            example="75 %vol",
        ),
    ]
    density: Annotated[
        Value,
        Quantity(
            "density of the liquid",
            ranged=True,
            dimension="density",
            allowed="[30, 20000]",
            why="no liquid is lighter; kg/L or g/cm3 may be meant",
            example="895 kg/m3",
        ),
    ]
    density_at: Annotated[
        Value, Quantity("reference temperature of the density", dimension="temperature", allowed="[200, 500]")
    ]
    expansion: Annotated[
        Value,
        Quantity(
            "cubic expansion of the liquid from the reference temperature; of a petroleum product at 60 degF",
            dimension="expansion",
            allowed="[0, 0.01]",
            example="5.6e-4 1/K",
        ),
    ]
    density_table: Annotated[Rows, Listing("densities by temperature, from the coldest up", of=DensityRow)]
    temperature: Annotated[
        Value,
        Quantity(
            "temperature of the liquid",
            ranged=True,
            dimension="temperature",
            allowed="[73, 1300]",
            example="{value: 14 degC, within: 0.5 K, min: 5 degC, max: 35 degC}",
        ),
    ]
    viscosity: Annotated[
        Value,
        Quantity("dynamic viscosity", ranged=True, dimension="viscosity", allowed="(0, 10000]", example="3.5 mPa.s"),
    ]
    conductivity: Annotated[
        Value, Quantity("conductivity", ranged=True, dimension="conductivity", allowed="[0, 1000]", example="5 uS/cm")
    ]
    permittivity: Annotated[
        Value, Quantity("relative permittivity", ranged=True, dimension="number", allowed="[1, 1000]", example="24")
    ]
    substance: Annotated[
        Text,
        FreeText("pure liquid by its name or CAS number in the handbook, for its permittivity", "process", longest=80),
    ]
    mixture: Mixture
    bulk: Bulk
    surface_tension: Annotated[
        Value,
        Quantity("surface tension", dimension="force per length", allowed="[0, 1]", example="72 mN/m"),
    ]
    particles: Annotated[Word, Choice("particles in the liquid", words=(FREE, NON_MAGNETIC, MAGNETIC))]
    velocity_at_stem: Annotated[
        Value,
        Quantity("velocity of the liquid across the stem", dimension="velocity", allowed="[0, 20]", example="0.1 m/s"),
    ]
    void_share: Annotated[
        Value,
        Quantity(
            "share of bubbles in the liquid below its surface",
            dimension="volume fraction",
            allowed="[0, 0.9]",
            example="10 %vol",
        ),
    ]
    gas_above: Gas
    foam: Annotated[Text, FreeText("foam", side="process")]
    deposits: Annotated[Text, FreeText("deposits", side="process")]
    agitator: Annotated[Text, FreeText("agitator", side="process")]


class Interface(Section):
    """A heavier liquid beneath the medium, and what is known of the plane between the two."""

    lower_density: Annotated[
        Value,
        Quantity(
            "density of the lower liquid",
            ranged=True,
            dimension="density",
            allowed="[30, 20000]",
            example="998 kg/m3",
        ),
    ]
    upper_layer_least: Annotated[
        Value, Quantity("least thickness of the upper liquid", allowed="[0, 100]", example="300 mm")
    ]
    emulsion: Annotated[Text, FreeText("emulsion between the two", side="process")]


class Pressure(Section):
    """The pressure in the gas space; gauge or absolute is said with each."""

    kind: Annotated[Text, FreeText("how the gas space is connected", side="process")]
    operating: Annotated[
        Value, Quantity("operating pressure", ranged=True, dimension=PRESSURE, allowed="[-110000, 1e9]")
    ]
    test: Annotated[Value, Quantity("test pressure", ranged=True, dimension=PRESSURE, allowed="[-110000, 1e9]")]


class Wanted(Section):
    """What the customer asks of the measurement."""

    U: Annotated[
        Value,
        Quantity("expanded uncertainty wanted", dimension="share of value", allowed="(0, 1]", example="0.5 %value"),
    ]
    k: Annotated[
        Value, Quantity("coverage factor of the uncertainty wanted", dimension="number", allowed="[1, 5]", example="2")
    ]
    of: Annotated[Word, Choice("quantity the uncertainty is wanted of", words=(*AMOUNTS, LEVEL))]
    error_allowed_of_level: Annotated[Value, Quantity("error allowed of the level", allowed="(0, 10]", example="15 mm")]


class StateOfLiquid(Section):
    """The liquid in one operating condition: another temperature, or another kind that stands in for the medium."""

    kind: Annotated[Word, Choice("kind of liquid in this state", words=(WATER, STATED_DENSITY))]
    temperature: Annotated[
        Value, Quantity("temperature in this state", ranged=True, dimension="temperature", allowed="[73, 1300]")
    ]
    density: Annotated[Value, Quantity("density in this state", dimension="density", allowed="(0, 20000]")]
    gas_density: Annotated[
        Value,
        Quantity(
            "density of the gas above in this state", dimension="density", allowed="[0, 500]", example="1.2 kg/m3"
        ),
    ]


class OperatingState(Section):
    """One operating condition, and what is done with the instrument in it."""

    name: Annotated[Text, FreeText("name of the state", longest=60)]
    instrument: Annotated[Word, Choice("instrument in this state", words=(FITTED, REMOVED, ISOLATED))]
    pressure: Annotated[
        Value, Quantity("pressure in this state", dimension=PRESSURE, allowed="[-110000, 1e9]", example="8 bar(g)")
    ]
    medium: StateOfLiquid
    chamber_temperature: ColumnTemperature
