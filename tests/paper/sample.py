"""A spirit receiver of an invented works, filled by hand: what the paper room is tried on.

Geometry: vertical vessel, inside diameter 1600, torispherical heads R 1600 r 160, shell 2400. The volumes are discs
summed over the outline itself by Simpson's rule; mass and pure alcohol scale with them to the stated 3134.7 kg and
2393.8 L at 1850 mm.
"""

from math import pi, sqrt

from onedatum.paper.model import (
    Band,
    Chapter,
    Entry,
    Finding,
    Group,
    Head,
    Input,
    Link,
    Mark,
    Note,
    Nozzle,
    Number,
    Paper,
    Ruler,
    Scale,
    Span,
    Stem,
    Stop,
    Verdict,
    WorkingRange,
)

RADIUS_M, CROWN_M, KNUCKLE_M, SHELL_M = 0.8, 1.6, 0.16, 2.4
LEVEL_M, LRV_M, URV_M = 1.85, 0.1, 2.8
LOOP_END_M, LOOP_END_MA = 2.701, 19.41
FLANGE_M, STEM_M = 3.1701, 0.02
DEAD_LOW_M, DEAD_HIGH_M = 0.091, 3.001


def head_depth_m() -> float:
    """Depth of a torispherical head: R - sqrt((R - r)^2 - (D/2 - r)^2)."""
    return CROWN_M - sqrt((CROWN_M - KNUCKLE_M) ** 2 - (RADIUS_M - KNUCKLE_M) ** 2)


def head_radius_m(height_m: float) -> float:
    """Inside radius of the lower head at a height over its lowest point."""
    depth, centre = head_depth_m(), RADIUS_M - KNUCKLE_M
    junction = CROWN_M * (1 - (CROWN_M - depth) / (CROWN_M - KNUCKLE_M))
    if height_m <= junction:
        return sqrt(max(0.0, 2 * CROWN_M * height_m - height_m**2))
    return centre + sqrt(max(0.0, KNUCKLE_M**2 - (depth - height_m) ** 2))


def top_m() -> float:
    """Height of the inside top."""
    return 2 * head_depth_m() + SHELL_M


def outline(count: int = 60) -> tuple[tuple[float, float], ...]:
    """The half section from the lowest inside point to the top, closer where the wall turns."""
    depth = head_depth_m()
    lower = [
        (head_radius_m(h), h) for h in (depth * (i / count) ** 2 * (2 - (i / count) ** 2) for i in range(count + 1))
    ]
    upper = [(r, top_m() - h) for r, h in reversed(lower)]
    return tuple(lower + upper)


def radius_m(height_m: float) -> float:
    """Inside radius at any height."""
    depth = head_depth_m()
    if height_m < depth:
        return head_radius_m(height_m)
    return RADIUS_M if height_m <= top_m() - depth else head_radius_m(max(0.0, top_m() - height_m))


def volumes_m3(count: int = 800) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """Heights and volumes, summed by Simpson's rule."""
    step, total = top_m() / count, 0.0
    heights, volumes = [0.0], [0.0]
    for i in range(count):
        a, b = i * step, (i + 1) * step
        total += pi * step / 6 * (radius_m(a) ** 2 + 4 * radius_m((a + b) / 2) ** 2 + radius_m(b) ** 2)
        heights.append(b)
        volumes.append(total)
    at_14_degC = 1 + 2 * 16e-6 * (14 - 20)
    return tuple(heights), tuple(v * at_14_degC for v in volumes)


def linear(
    name: str, group: str, decimals: int, at_zero: float, per_m: float, top: float = FLANGE_M, stop: str = ""
) -> Scale:
    """A scale that is a straight line of the height."""
    ends = (-0.03 if stop else 0.0, top)
    end = Stop(LOOP_END_M, f"no reliable signal above {stop}") if stop else None
    return Scale(name, group, ends, tuple(at_zero + per_m * h for h in ends), decimals, end)


def scales() -> tuple[Scale, ...]:
    """The eight scales of this release."""
    span = URV_M - LRV_M
    heights, volumes = volumes_m3()
    level_volume = volume_at(LEVEL_M)
    per_kg, per_litre = 3134.7 / level_volume, 2393.8 / level_volume
    return (
        linear("mm", "over datum", 0, 0, 1000),
        linear("in", "over datum", 2, 0, 1 / 0.0254),
        linear("%", "output", 2, -100 * LRV_M / span, 100 / span, stop="96.3"),
        linear("mA", "output", 3, 4 - 16 * LRV_M / span, 16 / span, stop="19.41"),
        linear("mV", "on 10 Ω", 1, 40 - 160 * LRV_M / span, 160 / span, stop="194.1"),
        Scale("m³", "at 14.0 °C", heights, volumes, 3),
        Scale("kg", "at 14.0 °C", heights, tuple(v * per_kg for v in volumes), 1),
        Scale("L pure", "at 20 °C", heights, tuple(v * per_litre for v in volumes), 1),
    )


def volume_at(height_m: float) -> float:
    """Volume at a height, from the same sum."""
    heights, volumes = volumes_m3()
    i = next(i for i, h in enumerate(heights) if h >= height_m)
    share = (height_m - heights[i - 1]) / (heights[i] - heights[i - 1])
    return volumes[i - 1] + share * (volumes[i] - volumes[i - 1])


def marks() -> tuple[Mark, ...]:
    """Every mark; HH lies above the loop's end and is named for it."""
    return (
        Mark("flange face", FLANGE_M, "geometry"),
        Mark("dead zone", DEAD_HIGH_M, "dead zone"),
        Mark("inside top", top_m(), "geometry"),
        Mark("CH critical", 2.9, "critical"),
        Mark("URV 20 mA", URV_M, "range"),
        Mark("HH no signal", 2.717, "alarm", blocks=True),
        Mark("loop ends", LOOP_END_M, "loop end", blocks=True),
        Mark("H alarm", 2.6, "alarm", assumed=True),
        Mark("L alarm", 0.35, "alarm", assumed=True),
        Mark("LL alarm", 0.2, "alarm", assumed=True),
        Mark("LRV 4 mA", LRV_M, "range"),
        Mark("dead zone", DEAD_LOW_M, "dead zone"),
        Mark("stem end", STEM_M, "geometry"),
        Mark("datum", 0.0, "datum"),
    )


def ruler() -> Ruler:
    """The ruler of the spirit receiver."""
    return Ruler(
        datum="lowest inside point",
        outline=outline(),
        scales=scales(),
        marks=marks(),
        bands=(
            Band("outside range", -1.0, LRV_M),
            Band("outside range", URV_M, 9.0),
            Band("dead zone", 0.0, DEAD_LOW_M),
            Band("dead zone", DEAD_HIGH_M, FLANGE_M),
            Band("response time", 2.717, 2.9),
        ),
        nozzle=Nozzle(0.08, top_m(), FLANGE_M),
        stem=Stem(STEM_M, FLANGE_M, 0.0, 0.0525, 0.053, 0.037),
        working_range=WorkingRange(LRV_M, URV_M, "working range 2700"),
        level_m=LEVEL_M,
    )


def findings() -> tuple[Finding, ...]:
    """The finding that blocks the order, as a chain."""
    chain = (
        Link("Supply 24 V − 5 % leaves", "22.80 V"),
        Link("Barrier, input and cable make", "556 Ω"),
        Link("At 21.5 mA 10.84 V stay for the transmitter; it needs", "12.0 V"),
        Link("The loop ends at", "19.41 mA, 2701 mm"),
        Link("HH is 19.51 mA, 2717 mm:", "16 mm above"),
    )
    ways = ("Isolator with 17.0 V in place of the barrier: 16.86 V, enough", "Input resistor 190 Ω or less")
    heel = Finding(
        "19 mm of heel cannot be measured",
        "States a limit",
        (Link("LRV lies over the dead zone by", "9 mm"),),
        uncertainty_stated=False,
    )
    return Finding(
        "HH can never come", "Blocks the order", chain, ways, blocks=True, detail=Span(LOOP_END_M, 2.9)
    ), heel


def sheet() -> tuple[Chapter, ...]:
    """Entries of every kind, one with a formula that is no maths."""
    vessel = (
        Entry("vessel.diameter", "inside diameter", "1.600 m", "stated", place="receiver.yaml:8:13"),
        Entry(
            "nozzle.bore",
            "bore of the nozzle",
            "0.080 m",
            "assumed",
            place="receiver.yaml:14:9",
            note="by the office: usual size",
        ),
        Entry("tank.support", "support of the tank", "unknown", "unknown", note="decides load cells"),
        Entry(
            "head.depth",
            "depth of one head",
            "0.310 m",
            "computed",
            formula="h = R - sqrt((R - r)^2 - (D / 2 - r)^2)",
            numbers="h = 1.600 - sqrt((1.600 - 0.160)^2 - (1.600 / 2 - 0.160)^2)",
            inputs=(
                Input("R", "crown radius", "vessel.crown", "1.600 m", "stated"),
                Input("r", "knuckle radius", "vessel.knuckle", "0.160 m", "assumed"),
                Input("D", "inside diameter", "vessel.diameter", "1.600 m", "stated"),
            ),
            source="geometry of a torispherical head",
            source_tag="derived and checked",
            rests_on_assumed=True,
        ),
    )
    loop = (
        Entry(
            "loop.end",
            "current at which the loop ends",
            "19.41 mA",
            "computed",
            formula='I_"end" = (U_"supply" - U_"min") / R_"loop"',
            numbers='I_"end" = (22.80 - 12.00) / 556.3',
            inputs=(
                Input("U", "supply at its lowest", "loop.supply", "22.80 V"),
                Input("R", "loop resistance", "loop.resistance", "556.3 Ω"),
            ),
            source="law of Ohm",
        ),
        Entry(
            "loop.broken",
            "a formula that is no maths",
            "1",
            "computed",
            formula="sqrt((x",
            numbers="#panic()",
            source_tag="from memory",
        ),
        Entry("tank.table", "table of the tank", "801 rows", "computed", procedure="Simpson's rule over the outline"),
    )
    return Chapter("Vessel", vessel), Chapter("Loop", loop)


def paper() -> Paper:
    """The whole paper of the spirit receiver."""
    return Paper(
        head=Head(
            "Spirit receiver A",
            "new-make spirit, stock record",
            author="A. Example",
            case_hash="5d2e0c7bb1f94a1e",
            tool_version="0.1.0",
            datum="lowest inside point",
            state="State: normal, 14.0 °C",
            invented=True,
        ),
        answer="Magnetostrictive float on stem suits.",
        blocking="Order blocked: HH needs 19.51 mA, no reliable signal above 19.41 mA.",
        ruler=ruler(),
        findings=findings(),
        verdicts=(
            Verdict(
                "Magnetostrictive float on stem",
                "suits",
                "float 611 kg/m³, limit 746 kg/m³",
                "Floats with 30 % of its height dry.",
            ),
            Verdict("Radar through the vapour", "suits", "reflects 54 % of the power"),
            Verdict(
                "Hydrostatic pressure",
                "suits on conditions",
                "density moves 2.8 % from 5 to 35 °C",
                "Needs density from live temperature.",
            ),
            Verdict("Load cells under the tank", "undecided", "ask: support of tank"),
            Verdict(
                "Capacitive, bare rod",
                "does not suit",
                "loss tangent 2.04, limit 0.1",
                "Loss current hides the capacitance.",
            ),
        ),
        questions=(Note("Support of tank", "decides load cells"), Note("Nozzle bore", "assumed 80 mm")),
        requirements=(Note("EPL Ga at the stem", "zone 0 inside"),),
        assumptions=(Note("nozzle.bore 80 mm", "by the office: usual size; receiver.yaml:14:9"),),
        numbers=(
            Group(
                "Levels",
                (
                    Number("overfill.hh", "high-high alarm", "2.717 m"),
                    Number("nozzle.bore", "bore of the nozzle", "0.080 m", "assumed"),
                    Number("float.immersion", "immersion at 14 °C", "0.0370 m", rests_on_assumed=True),
                    Number("tank.support", "support of the tank", "unknown", "unknown"),
                ),
            ),
        ),
        sheet=sheet(),
        cautions=("The check supports the competent person; it replaces neither certificate nor inspection.",),
        sources=(Note("geometry of a torispherical head", "derived and checked"),),
        data_files=(Note("cables.csv", "IEC 60228"),),
    )
