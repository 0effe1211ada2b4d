"""A quantity statement of an invented tank, as papers get it: plain records."""

from __future__ import annotations

from onedatum.paper.model import Head, Note
from onedatum.paper.quantity.model import (
    Amount,
    Batch,
    Budget,
    Decision,
    Limit,
    MonteCarlo,
    Picture,
    Share,
    Statement,
)
from onedatum.paper.table.model import Line

SHARES = (
    Share("relative error of the tank table", "U 0.3 %value, k = 2", "19 L", 0.632, "34.2 L"),
    Share("error of the datum", "within 2 mm", "11 L", 0.229, "43.0 L"),
    Share("temperature of the liquid", "within 0.4 K", "−2.9 L", -0.061, "46.9 L"),
)
BUDGET = Budget(
    "Pure alcohol at 20 °C",
    "12505 L",
    "U = 47 L",
    "0.378 %",
    "k = 2.00",
    SHARES,
    "Know the table better.",
    ("A note.",),
)
PICTURE = Picture(
    tuple(12400.0 + 2.0 * i for i in range(101)),
    tuple(max(1e-4 * (50 - abs(i - 50)), 0.0) for i in range(100)),
    (("shortest 95 %", 12455.0, 12551.0), ("linear 95 %", 12452.0, 12554.0)),
    12504.6,
    "L",
    1,
)
STATEMENT = Statement(
    head=Head(
        "LT-999", "invented tank", "An Author", case_hash="ab" * 8, tool_version="0", datum="lowest inside point"
    ),
    answer="Pure alcohol at 20 °C: 12505 L, known to 47 L or 0.378 % (k = 2.00).",
    conditions=(Line("level as read", "1400 mm (u 0.5 mm)", "stated"), Line("strength", "", "unknown")),
    amounts=(
        Amount("Volume by the tank table", "12.986 m³", "0.047 m³", "0.36 %"),
        Amount("Free water", "", state="unknown"),
        Amount("Pure alcohol at 20 °C", "12505 L", "47 L", "0.38 %", wanted=True),
    ),
    coverage="U (k = 2.00)",
    factors=(Line("density now", "810.011 kg/m³"),),
    budget=BUDGET,
    monte_carlo=MonteCarlo(
        (Line("trials", "1 000 000, seed 1"),), "The linear budget holds here.", True, PICTURE, ("Tables are off.",)
    ),
    batch=Batch(
        ("", "before", "after", "difference"),
        (("Pure alcohol at 20 °C", "12505 L", "4149 L", "8356 L"), ("Mass in vacuum", "", "3489 kg", "–")),
        BUDGET,
        (Line("least difference of level", "354 mm"),),
    ),
    limits=(
        Limit("Invented country, order 1, art. 2", "error of the gauge", "4.00 mm", "2.52 mm", "within: suits", "read"),
    ),
    decision=Decision("guarded acceptance", (Line("accepted to", "12953 L"),), "Pure alcohol: accepted."),
    faults=(Note("tolerance.rule must be stated", "case.yaml:9:3"),),
    questions=(Note("sediment and water", "decides: net volume"),),
    assumptions=(Note("viscosity: 1.4 mPa.s", "from memory"),),
    cautions=("It replaces neither certificate nor inspection.",),
    sources=(Note("A standard", "read"),),
)
