"""What a magnetostrictive stem makes of the distance of the float: speed, temperatures, echo, accuracy."""

from __future__ import annotations

from typing import Annotated

from onedatum.case.kinds import Choice, Quantity
from onedatum.case.leaf import Value, Word
from onedatum.case.section import Section

RICKER, DOUBLET = "one lobe with two flanks", "one swing up and down"


class Waveguide(Section):
    """The wire in the stem: how fast the pulse travels, and what temperature does to it."""

    speed: Annotated[
        Value,
        Quantity(
            "speed of the pulse, the instrument's own figure",
            "instrument",
            dimension="velocity",
            allowed="[1500, 5000]",
            example="2800 m/s",
        ),
    ]
    slowness: Annotated[
        Value,
        Quantity(
            "the instrument's own figure as time per length, in place of the speed",
            "instrument",
            dimension="time per length",
            allowed="[2e-4, 6.7e-4]",
            example="357.14 us/m",
        ),
    ]
    shear_modulus: Annotated[
        Value,
        Quantity(
            "shear modulus of the wire, where no figure is given",
            "instrument",
            dimension="stress",
            allowed="[1e10, 2e11]",
            example="65.5 GPa",
        ),
    ]
    density: Annotated[
        Value,
        Quantity(
            "density of the wire, where no figure is given",
            "instrument",
            dimension="density",
            allowed="[2000, 20000]",
            example="8050 kg/m3",
        ),
    ]
    speed_coefficient: Annotated[
        Value,
        Quantity(
            "change of the speed per kelvin",
            "instrument",
            dimension="expansion",
            allowed="[-0.001, 0.001]",
            example="-40 ppm/K",
        ),
    ]
    speed_temperature: Annotated[
        Value,
        Quantity(
            "temperature at which the figure of the speed holds",
            "instrument",
            dimension="temperature",
            allowed="[200, 700]",
            example="20 degC",
        ),
    ]
    head_temperature: Annotated[
        Value,
        Quantity(
            "temperature of the stem at its head",
            dimension="temperature",
            allowed="[200, 700]",
            example="25 degC",
        ),
    ]
    corrected: Annotated[
        Word,
        Choice("whether the instrument corrects the speed for temperature", "instrument", words=("yes", "no")),
    ]


class Echo(Section):
    """The pulse as it is received."""

    form: Annotated[Word, Choice("form of the received pulse", "instrument", words=(RICKER, DOUBLET))]
    pulse_width: Annotated[
        Value,
        Quantity(
            "width of the received pulse (standard width of its Gaussian)",
            "instrument",
            dimension="time",
            allowed="[1e-8, 1e-3]",
            example="1.5 us",
        ),
    ]
    pulse_duration: Annotated[
        Value,
        Quantity(
            "time a pulse takes to pass, before the next can be told apart",
            "instrument",
            dimension="time",
            allowed="[1e-8, 1e-3]",
            example="10 us",
        ),
    ]
    noise: Annotated[
        Value,
        Quantity(
            "noise of one sample over the height of the pulse",
            "instrument",
            dimension="share of value",
            allowed="[0, 1]",
            example="1 %value",
        ),
    ]
    sampling: Annotated[
        Value,
        Quantity("rate of the samples", "instrument", dimension="frequency", allowed="[1e3, 1e10]", example="10 MHz"),
    ]
    ring_down_ratio: Annotated[
        Value,
        Quantity(
            "drive pulse at the pick-up over the detection threshold",
            "instrument",
            dimension="number",
            allowed="[1, 1e9]",
            example="1000",
        ),
    ]
    ring_down_decay: Annotated[
        Value,
        Quantity(
            "decay of the drive pulse at the pick-up, time constant",
            "instrument",
            dimension="time",
            allowed="[1e-8, 1e-2]",
            example="4 us",
        ),
    ]
    end_reflection: Annotated[
        Value,
        Quantity(
            "share of the pulse that the end of the wire returns",
            "instrument",
            dimension="number",
            allowed="[-1, 1]",
            example="-0.05",
        ),
    ]
    head_reflection: Annotated[
        Value,
        Quantity(
            "share of the pulse that the head returns",
            "instrument",
            dimension="number",
            allowed="[-1, 1]",
            example="0.9",
        ),
    ]
    quality: Annotated[
        Value,
        Quantity(
            "quality factor of the wire",
            "instrument",
            dimension="number",
            allowed="[10, 1e6]",
            example="1000",
        ),
    ]


class Accuracy(Section):
    """What the maker states of the reading, or what is counted on until he does."""

    nonlinearity: Annotated[
        Value,
        Quantity(
            "nonlinearity, half width over the measuring length",
            "instrument",
            dimension="share of span",
            allowed="[0, 0.1]",
            example="0.01 %span",
        ),
    ]
    clock: Annotated[
        Value,
        Quantity(
            "clock that the flight is timed with",
            "instrument",
            dimension="frequency",
            allowed="[1e5, 1e11]",
            example="100 MHz",
        ),
    ]
    display_step: Annotated[Value, Quantity("step of the display", "instrument", allowed="[0, 0.1]", example="0.1 mm")]
    temperature_known_to: Annotated[
        Value,
        Quantity(
            "half width to which the temperature of the wire is known",
            "instrument",
            dimension="temperature difference",
            allowed="[0, 300]",
            example="3 K",
        ),
    ]
    density_known_to: Annotated[
        Value,
        Quantity(
            "half width to which the density of the liquid is known",
            dimension="density",
            allowed="[0, 1000]",
            example="5 kg/m3",
        ),
    ]
    stiction: Annotated[
        Value,
        Quantity(
            "half of the difference between rising and falling",
            "instrument",
            allowed="[0, 0.1]",
            example="0.25 mm",
        ),
    ]
    out_of_plumb: Annotated[
        Value,
        Quantity(
            "angle by which the stem may stand out of plumb",
            "instrument",
            dimension="angle",
            allowed="[0, 0.2]",
            example="0.5 deg",
        ),
    ]
