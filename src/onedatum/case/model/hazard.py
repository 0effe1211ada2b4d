"""The hazardous area: zones and substance, how the instrument is protected, the circuit by its certificates, charge."""

from __future__ import annotations

from typing import Annotated

from onedatum.case.kinds import Choice, FreeText, Listing, Quantity
from onedatum.case.leaf import Rows, Text, Value, Word
from onedatum.case.model.circuit import NO, YES
from onedatum.case.section import Section

ZONES = ("0", "1", "2", "20", "21", "22", "none")
GROUPS = ("IIA", "IIB", "IIC", "IIIA", "IIIB", "IIIC")
CLASSES = ("T1", "T2", "T3", "T4", "T5", "T6")
EPLS = ("Ga", "Gb", "Gc", "Da", "Db", "Dc")
LEVELS = ("ia", "ib", "ic")
AIR, NOT_AIR = "air", "more oxygen than air"
INTRINSIC, OTHER = "intrinsic safety", "other"
LINEAR = "linear"
ONE, SEVERAL = "one", "several"
METAL, PLASTIC = "metal", "plastic"


class Zone(Section):
    """Hazardous area, inside the vessel and at the head, and the substance that makes it one."""

    inside: Annotated[Word, Choice("zone inside the vessel", words=ZONES)]
    at_head: Annotated[Word, Choice("zone at the head", words=ZONES)]
    group: Annotated[Word, Choice("gas or dust group", words=(*GROUPS, "none"))]
    temperature_class: Annotated[Word, Choice("temperature class", words=(*CLASSES, "none"))]
    substance: Annotated[
        Text, FreeText("substance that decides group and temperature class, for example ethanol", "process", longest=60)
    ]
    flash_point: Annotated[
        Value,
        Quantity(
            "flash point by the safety data sheet", dimension="temperature", allowed="[100, 700]", example="12 degC"
        ),
    ]
    ignition_temperature: Annotated[
        Value,
        Quantity(
            "ignition temperature by the safety data sheet",
            dimension="temperature",
            allowed="[300, 1300]",
            example="363 degC",
        ),
    ]
    gas_space: Annotated[Word, Choice("oxygen in the gas space of the vessel", words=(AIR, NOT_AIR))]
    ambient_min: Annotated[
        Value,
        Quantity(
            "lowest ambient temperature at the head", dimension="temperature", allowed="[180, 340]", example="-15 degC"
        ),
    ]
    ambient_max: Annotated[
        Value,
        Quantity(
            "highest ambient temperature at the head", dimension="temperature", allowed="[180, 400]", example="35 degC"
        ),
    ]
    drawing: Annotated[Text, FreeText("reference of the drawing of the zones", longest=120)]
    assessment: Annotated[Text, FreeText("assessment by a competent person, by its reference", "process", longest=200)]
    note: Annotated[Text, FreeText("note")]


class Protection(Section):
    """How the instrument is protected, by its certificate."""

    type: Annotated[Word, Choice("type of protection", "instrument", words=(INTRINSIC, OTHER))]
    certificate: Annotated[Text, FreeText("certificate of the instrument, with its special conditions", longest=200)]
    marking: Annotated[Text, FreeText("marking of the instrument", longest=120)]
    epl_inside: Annotated[
        Word, Choice("protection level (EPL) of the part inside the vessel", "instrument", words=(*EPLS, "none"))
    ]
    epl_at_head: Annotated[Word, Choice("protection level (EPL) of the head", "instrument", words=(*EPLS, "none"))]
    group: Annotated[Word, Choice("gas or dust group of the instrument", "instrument", words=GROUPS)]
    temperature_class: Annotated[Word, Choice("temperature class of the instrument", "instrument", words=CLASSES)]
    process_temperature_max: Annotated[
        Value,
        Quantity(
            "highest process temperature of that class by the certificate",
            "instrument",
            dimension="temperature",
            allowed="[200, 1300]",
            example="90 degC",
        ),
    ]
    ambient_min: Annotated[
        Value,
        Quantity(
            "lowest ambient temperature by the certificate",
            "instrument",
            dimension="temperature",
            allowed="[180, 340]",
            example="-20 degC",
        ),
    ]
    ambient_max: Annotated[
        Value,
        Quantity(
            "highest ambient temperature of that class by the certificate",
            "instrument",
            dimension="temperature",
            allowed="[200, 400]",
            example="40 degC",
        ),
    ]
    boundary_wall: Annotated[
        Word,
        Choice(
            "wall between the zones inside the instrument, by the certificate",
            "instrument",
            words=("certified", "none"),
        ),
    ]


class CircuitSource(Section):
    """What feeds the intrinsically safe circuit, by its certificate."""

    certificate: Annotated[Text, FreeText("certificate of the source", longest=200)]
    sources: Annotated[Word, Choice("how many sources feed the circuit", "instrument", words=(ONE, SEVERAL))]
    characteristic: Annotated[
        Word, Choice("output characteristic of the source", "instrument", words=(LINEAR, "not linear"))
    ]
    level: Annotated[Word, Choice("level of protection of the source", "instrument", words=LEVELS)]
    for_group: Annotated[Word, Choice("group that Co and Lo are stated for", "instrument", words=GROUPS)]
    Uo: Annotated[
        Value, Quantity("Uo of the source", "instrument", dimension="voltage", allowed="(0, 400]", example="28 V")
    ]
    Io: Annotated[
        Value, Quantity("Io of the source", "instrument", dimension="current", allowed="(0, 10]", example="93 mA")
    ]
    Po: Annotated[
        Value, Quantity("Po of the source", "instrument", dimension="power", allowed="(0, 100]", example="0.65 W")
    ]
    Co: Annotated[
        Value, Quantity("Co of the source", "instrument", dimension="capacitance", allowed="(0, 0.1]", example="650 nF")
    ]
    Lo: Annotated[
        Value, Quantity("Lo of the source", "instrument", dimension="inductance", allowed="(0, 100]", example="16 mH")
    ]
    Lo_per_Ro: Annotated[
        Value,
        Quantity(
            "Lo/Ro of the source",
            "instrument",
            dimension="inductance per resistance",
            allowed="(0, 1]",
            example="55 uH/ohm",
        ),
    ]


class CircuitDevice(Section):
    """One apparatus in the hazardous area on the circuit, by its certificate."""

    name: Annotated[Text, FreeText("name of the apparatus", longest=60)]
    certificate: Annotated[Text, FreeText("certificate of the apparatus", longest=200)]
    level: Annotated[Word, Choice("level of protection of the apparatus", "instrument", words=LEVELS)]
    group: Annotated[Word, Choice("group of the apparatus", "instrument", words=GROUPS)]
    Ui: Annotated[
        Value, Quantity("Ui of the apparatus", "instrument", dimension="voltage", allowed="(0, 400]", example="30 V")
    ]
    Ii: Annotated[
        Value, Quantity("Ii of the apparatus", "instrument", dimension="current", allowed="(0, 10]", example="100 mA")
    ]
    Pi: Annotated[
        Value, Quantity("Pi of the apparatus", "instrument", dimension="power", allowed="(0, 100]", example="0.9 W")
    ]
    Ci: Annotated[
        Value,
        Quantity("Ci of the apparatus", "instrument", dimension="capacitance", allowed="[0, 0.1]", example="10 nF"),
    ]
    Li: Annotated[
        Value,
        Quantity("Li of the apparatus", "instrument", dimension="inductance", allowed="[0, 100]", example="0.1 mH"),
    ]


class Circuit(Section):
    """The intrinsically safe circuit: one source, its apparatus, the cable of the loop."""

    source: CircuitSource
    devices: Annotated[
        Rows, Listing("apparatus of the circuit in the hazardous area", "instrument", of=CircuitDevice, longest=20)
    ]
    earth_resistance: Annotated[
        Value,
        Quantity(
            "resistance to the equipotential earth of the barrier",
            dimension="resistance",
            allowed="[0, 1e6]",
            example="0.5 ohm",
        ),
    ]
    earth_points: Annotated[Word, Choice("points at which the circuit is earthed", words=("none", ONE, SEVERAL))]
    insulated_500_V: Annotated[
        Word, Choice("whether the circuit withstands 500 V to earth elsewhere, by the certificates", words=(YES, NO))
    ]


class Charge(Section):
    """What could hold static charge at the instrument, and what charges it."""

    layer: Annotated[
        Value,
        Quantity(
            "thickness of an insulating layer on stem or probe", "instrument", allowed="[0, 0.1]", example="0.5 mm"
        ),
    ]
    layer_diameter: Annotated[
        Value, Quantity("diameter over the insulating layer", "instrument", allowed="(0, 1]", example="16 mm")
    ]
    layer_length: Annotated[
        Value, Quantity("length of the insulating layer in the vessel", "instrument", allowed="(0, 100]", example="2 m")
    ]
    layer_breakdown: Annotated[
        Value,
        Quantity(
            "breakdown voltage of the insulating layer",
            "instrument",
            dimension="voltage",
            allowed="(0, 1e6]",
            example="20 kV",
        ),
    ]
    core_earthed: Annotated[
        Word,
        Choice("whether the core under the layer is bonded for direct current (1 Mohm)", "instrument", words=(YES, NO)),
    ]
    float_surface: Annotated[Word, Choice("outside of the float", "instrument", words=(METAL, PLASTIC))]
    float_bonded: Annotated[
        Word, Choice("whether the metal of the float is bonded (1 Mohm)", "instrument", words=(YES, NO))
    ]
    float_capacitance: Annotated[
        Value,
        Quantity(
            "capacitance of the float that is not bonded",
            "instrument",
            dimension="capacitance",
            allowed="[0, 1e-6]",
            example="2 pF",
        ),
    ]
    strong_charging: Annotated[
        Word,
        Choice(
            "strong charging at the instrument: spray, fast flow of two phases, steam, pneumatic filling",
            words=(YES, NO),
        ),
    ]
