"""A certificate of an invented measuring point, and its machine-readable form, for the tests of the papers."""

from __future__ import annotations

from datetime import UTC, datetime

from onedatum.paper.certificate.dcc import DccData, DccEquipment, DccPoint, DccRun
from onedatum.paper.certificate.model import (
    Certificate,
    DriftChart,
    ErrorChart,
    PartRow,
    PointRow,
    RunSheet,
    Trace,
)
from onedatum.paper.model import Head, Note
from onedatum.paper.table.model import Line

FOUND = RunSheet(
    "As found",
    "conditional pass",
    "Probability of conformity 97.2 %; every error has U = 1.3 mm (k = 2).",
    (Line("read by", "A. Reader"), Line("trims and adjustments made", "none")),
    (
        PointRow("0 %", "100.0 mm", "0.4 mm", "0.9 mm", "0.6 mm", "more than 99.99 %", "pass"),
        PointRow("100 %", "2697.0 mm", "13.8 mm", "14.1 mm", "13.9 mm", "97.2 %", "conditional pass"),
    ),
    (Line("hysteresis", "0.03 %"),),
    (PartRow("current output against the level shown", "−0.1 mm", "0.3 mm", "trim of the current output"),),
    ("100 % was moved to 2697.0 mm",),
)
CHART = ErrorChart(
    (
        Trace("as found", ((100.0, 0.4, 0.9, 0.6), (2697.0, 13.8, 14.1, 13.9))),
        Trace("as left", ((100.0, 0.1, 0.5, 0.3), (2697.0, 0.2, 0.8, 0.5))),
    ),
    -15.0,
    15.0,
    1.3,
)
DRIFT = DriftChart(
    ("0 %", "50 %", "100 %"),
    ("as found", "as left", "as found"),
    (0.0, 2.0, 367.0),
    ("2026-11-20", "2026-11-22", "2027-11-22"),
    ((0.6, 0.3, 0.9), (7.0, None, 1.4), (13.9, 0.5, 2.4)),
    -15.0,
    15.0,
)
CERTIFICATE = Certificate(
    head=Head("LT-201", "invented receiver", case_hash="10572948c2f8ce21", tool_version="0.1.0", invented=True),
    answer="LT-201 as found on 2026-11-20: conditional pass.",
    rule="Non-binary acceptance",
    rule_said="Pass inside the guard band, conditional pass up to the limit.",
    decision=(Line("error allowed", "−15.0 mm to 15.0 mm"), Line("guard band", "1.3 mm")),
    what=(Line("tag", "LT-201"),),
    reference=(Line("levels compared with", "dip tape 7, certificate K-2031"), Line("its uncertainty", "U = 1.0 mm")),
    runs=(FOUND,),
    chart=CHART,
    records=(Note("Record 1: SHA-256", "377085505b4c77a533f6938069e0b53cb3f5a7e5e5ef1bffc12d2f3a961da12b"),),
    statement="It replaces no accredited certificate.",
    dated="2026-11-26",
    cautions=("It supports the competent person.",),
)
DCC = DccData(
    identifier="LT-201-3770",
    tag="LT-201",
    service="invented receiver",
    tool_version="0.1.0",
    rule="non-binary acceptance",
    rule_said="Pass inside the guard band.",
    method="Levels were compared.",
    statement="It replaces no accredited certificate.",
    checked_by="B. Checker",
    runs=(
        DccRun(
            "as found",
            datetime(2026, 11, 20, 8, tzinfo=UTC),
            datetime(2026, 11, 21, 17, tzinfo=UTC),
            "A. Reader",
            "3770",
            0.00134,
            2.0,
            "conditional pass",
            (
                DccPoint("0 %", 0.1, (("least error", 0.0004), ("greatest error", 0.0009)), "pass"),
                DccPoint("100 %", 2.697, (("least error", 0.0138), ("greatest error", None)), "conditional pass"),
            ),
            (DccEquipment("dip tape 7", "K-2031", 0.001, 2.0, r"\metre"),),
            287.15,
        ),
    ),
    invented=True,
)
