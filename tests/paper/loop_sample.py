"""Loops of an invented works, laid out by hand: what the loop drawing is tried on.

Their numbers agree with Ohm's law and IEC 60228 copper, worked by hand; nothing here is worked out.
"""

from onedatum.paper.loop.model import Border, Column, LoopDrawing, Part, Row

BARRIER = LoopDrawing(
    title="LT-2041, acid day tank: loop on a 24 V supply with a shunt-diode barrier",
    parts=(
        Part("supply", "supply", ("24 V d.c. ± 2.5 %", "lowest 23.4 V")),
        Part("input resistor", "input resistor", ("240 ohm",)),
        Part("test resistor", "test resistor", ("10 ohm, 0.01 %",)),
        Part("barrier", "shunt-diode barrier", ("28 V, 93 mA, 650 mW", "327 ohm end to end")),
        Part("cable", "two-core cable", ("350 m, 0.75 mm²", "19.8 ohm at 60 °C")),
        Part("transmitter", "level transmitter", ("needs 10.5 V",)),
    ),
    columns=(
        Column("3.6 mA", "low failure current"),
        Column("4 mA", "lower range value"),
        Column("20 mA", "upper range value"),
        Column("22 mA", "high failure current", worst=True, fails=True),
    ),
    rows=(
        Row("supply, lowest", ("23.40 V", "23.40 V", "23.40 V", "23.40 V")),
        Row("input resistor and test resistor", ("−0.90 V", "−1.00 V", "−5.00 V", "−5.50 V")),
        Row("barrier", ("−1.18 V", "−1.31 V", "−6.54 V", "−7.19 V")),
        Row("cable", ("−0.07 V", "−0.08 V", "−0.40 V", "−0.44 V")),
        Row("at the transmitter", ("21.25 V", "21.01 V", "11.46 V", "10.27 V"), strong=True),
        Row("it needs", ("10.50 V", "10.50 V", "10.50 V", "10.50 V")),
        Row("margin", ("10.75 V", "10.51 V", "0.96 V", "−0.23 V"), strong=True, failing=(3,)),
    ),
    border=Border("not hazardous", "zone 1 at the head, zone 0 in the vessel"),
    earth="busbar, 0.8 ohm to earth",
    longest="Longest cable with enough voltage at 22 mA: 165 m (stated: 350 m).",
    note=(
        "Conductor resistance by IEC 60228 (from memory), both cores, at the highest cable temperature.",
        "End-to-end resistance of the barrier from its certificate; ask for it at the highest ambient temperature.",
    ),
)

ISOLATOR = LoopDrawing(
    title="LT-1107, solvent receiver: loop with an isolator",
    parts=(
        Part("supply", "supply", ("24 V d.c.", "lowest 21.6 V")),
        Part("input resistor", "input resistor", ("250 ohm",)),
        Part("isolator", "isolator", ("field side at least", "15.5 V at 22 mA")),
        Part("cable", "two-core cable", ("length unknown", "1.0 mm², 18.1 ohm/km"), known=False),
        Part("transmitter", "level transmitter", ("needs 10.5 V",)),
    ),
    columns=(Column("3.6 mA", "low failure current"), Column("22 mA", "high failure current", worst=True)),
    rows=(
        Row("field side of the isolator", ("22.0 V", "15.5 V")),
        Row("cable", ("unknown", "unknown")),
        Row("at the transmitter", ("unknown", "unknown"), strong=True),
        Row("it needs", ("10.5 V", "10.5 V")),
        Row("margin", ("unknown", "unknown"), strong=True),
    ),
    border=Border("not hazardous", "zone 0"),
    earth="no earth at the field side; screen on the busbar of the cabinet",
    longest="Longest cable: 5.4 km at 60 °C, 22 mA.",
    note=("Ask the customer: length of the cable from the cabinet to the head.",),
)

PLAIN = LoopDrawing(
    title="LIT-310, sump: loop without barrier",
    parts=(
        Part("supply", "supply", ("24 VDC",)),
        Part("input resistor", "input resistor", ("250 ohms",)),
        Part("other", "loop indicator", ("drops 1.0 V",)),
        Part("cable", "two-wire cable", ("1,150 ft, 18 AWG", "15.8 ohms at 104 °F")),
        Part("transmitter", "level transmitter", ("needs 10.5 V",)),
    ),
    columns=(Column("3.6 mA", "low failure current"), Column("22.5 mA", "high failure current", worst=True)),
    rows=(
        Row("supply", ("24.0 V", "24.0 V")),
        Row("input resistor", ("−0.90 V", "−5.63 V")),
        Row("loop indicator", ("−1.0 V", "−1.0 V")),
        Row("cable", ("−0.06 V", "−0.36 V")),
        Row("at the transmitter", ("22.0 V", "17.0 V"), strong=True),
        Row("it needs", ("10.5 V", "10.5 V")),
        Row("margin", ("11.5 V", "6.5 V"), strong=True),
    ),
    longest="Longest cable: 22,100 ft at 104 °F.",
)

SAMPLES = {"barrier": BARRIER, "isolator": ISOLATOR, "plain": PLAIN}
