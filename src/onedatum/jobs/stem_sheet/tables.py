"""The tables of the sheet of stem and float."""

from __future__ import annotations

from onedatum.case.model.case import US_CUSTOMARY
from onedatum.foundation.units import in_print, show
from onedatum.foundation.working import Entry
from onedatum.jobs.safety_sheets.words import shown, two_columns
from onedatum.paper import model as paper
from onedatum.study.result import Study

PER_KG_PER_M3 = 10.0
MOST_FLOATS = 5
ASPECTS = {
    "principle": "principle",
    "surface": "stem",
    "cartridge": "wire",
    "float": "float",
    "fixing": "fixing",
    "head": "head",
    "place": "place",
    "dead_zones": "dead zones",
    "hot_neck": "hot neck",
}
"""The aspects of a build as people call them."""


def build_table(study: Study) -> paper.SheetTable | None:
    """The words of the build, with where it may be cut and set."""
    rows = [
        (ASPECTS[build.aspect], build.word, build.cuttable, build.adjustable, "; ".join(build.wetted))
        for build in study.depth.build.chosen
    ]
    if not rows:
        return None
    head = ("", "build", "may be cut", "set on site", "wetted")
    return paper.SheetTable(
        "The build", head, tuple(tuple(map(in_print, row)) for row in rows), (1.6, 3.0, 3.0, 1.2, 2.0)
    )


def answer_table(study: Study) -> paper.SheetTable:
    """How the float rides and answers in every state."""
    head = ("state", "immersion", "surface above magnet", "per 10 kg/m3", "friction band", "settles in")
    rows = tuple(
        (
            answer.riding.state,
            shown(answer.riding.immersion),
            shown(answer.riding.waterline),
            _per_density(study, answer.per_density),
            _or_dash(answer.band),
            _or_dash(answer.settling),
        )
        for answer in study.depth.answers
    )
    return paper.SheetTable("How the float answers", head, rows, (2.4, 1.6, 2.0, 1.6, 1.6, 1.4), note=_beside(study))


def _per_density(study: Study, entry: Entry) -> str:
    """Change of immersion for ten kilograms per cubic metre, as people picture it."""
    us = study.statement.case.print_units.word == US_CUSTOMARY
    return "not known" if entry.value is None else show(PER_KG_PER_M3 * entry.value, "in" if us else "mm")


def _or_dash(entry: Entry | None) -> str:
    return "–" if entry is None else shown(entry)


def _beside(study: Study) -> str:
    """What deposit, soaking and wetting make, and whether it stands upright."""
    first = study.depth.answers[0]
    told = [
        (first.by_deposit, "reads low by {} with the deposit stated"),
        (first.by_soaking, "reads low by {} when soaked"),
        (first.by_wetting, "shifts by {} at most with wetting"),
    ]
    parts = [words.format(shown(entry)) for entry, words in told if entry is not None]
    upright = study.depth.upright
    if upright is not None:
        state, height = upright.heights[0]
        parts.append(f"metacentric height {shown(height)}, {state}")
    return in_print("; ".join(parts)).capitalize() + ("." if parts else "")


def accuracy_table(study: Study) -> paper.SheetTable:
    """The budget of the reading; the datum stands on a line of its own and is no part of the total."""
    accuracy = study.depth.accuracy
    rows = [(line.text, _or_dash(line.half_width), shown(line.standard)) for line in accuracy.lines]
    rows.append(("together, at known density", "", shown(accuracy.standard)))
    rows.append(("reading, k = 2", "", shown(accuracy.expanded)))
    rows.append(("resolution of the display, which is another thing", "", shown(accuracy.resolution)))
    rows.append(("datum, apart: error and how well it is known", "", _datum(accuracy.datum)))
    note = f"A stem out of plumb always reads long: correct its mean of {shown(accuracy.plumb_mean)}."
    head = ("part", "half width", "standard uncertainty")
    return paper.SheetTable("How well it reads", head, tuple(rows), (4.0, 1.8, 2.2), note=in_print(note))


def _datum(entry: Entry) -> str:
    known = f", {entry.uncertainty.text}" if entry.uncertainty is not None else ""
    return in_print(f"{entry.text}{known}") if entry.known else "not known"


def wire_table(study: Study) -> paper.SheetTable:
    """Speed, time, rate, and what temperatures make of the reading."""
    wire = study.depth.wire
    rows = [
        ("speed of the pulse", shown(wire.speed)),
        ("change of the speed", shown(wire.coefficient)),
        ("time of flight from the greatest distance", shown(wire.flight)),
        ("readings per second at most, one round trip waited for", shown(wire.rate)),
        ("share of the stem in its dead zones", _per_cent(wire.share)),
    ]
    rows += [(f"distance by warmth along the stem, {state}", shown(entry)) for state, entry in wire.by_gradient]
    rows += [(f"level by the rise of the head, {state}", shown(entry)) for state, entry in wire.by_wall]
    for title, zone in (("lower", wire.zone_low), ("upper", wire.zone_high)):
        if zone is not None:
            rows.append((f"{title} dead zone by its parts", shown(zone)))
    return two_columns("The wire", rows)


def _per_cent(entry: Entry) -> str:
    return "not known" if entry.value is None else f"{100 * entry.value:.1f} %"


def walls_table(study: Study) -> paper.SheetTable | None:
    """What every wall of the float is allowed, by calculation."""
    walls = study.depth.walls
    if not walls.parts:
        return None
    rows = [(name, shown(entry)) for name, entry in walls.parts]
    rows.append(("the weakest of them", shown(walls.by_walls)))
    rows += [(f"not fitted: {state}", "removed or isolated") for state in walls.removed]
    note = "Perfect walls brought down by knockdown and factors of safety; a rating or a test of the maker comes first."
    return two_columns("Walls of the float, pressure allowed", rows, note)


def magnet_table(study: Study) -> paper.SheetTable | None:
    """The field at the wire, and how long its echo is."""
    magnet = study.depth.magnet
    if magnet is None:
        return None
    rows = [(f"field at the wire, {state}", shown(entry)) for state, entry in magnet.strengths]
    rows.append(("least field needed", shown(magnet.least)))
    if magnet.lobe is not None and magnet.echo is not None:
        rows += [("width of the field along the wire", shown(magnet.lobe)), ("length of the echo", shown(magnet.echo))]
    note = "Steel walls, clamps, coils and magnets stay 100 mm away, or two diameters of a chamber (common practice)."
    return two_columns("The magnet", rows, note)


def interface_tables(study: Study) -> tuple[paper.SheetTable | None, ...]:
    """The float between two liquids, state by state, and the two floats against each other."""
    interface = study.depth.interface
    if interface is None:
        return ()
    head = ("state", "window", "place in it", "immersion", "interface above magnet", "friction band")
    rows = tuple(
        (
            each.state,
            shown(each.window),
            shown(each.share),
            shown(each.immersion),
            shown(each.above_magnet),
            _or_dash(each.band),
        )
        for each in interface.states
    )
    first = paper.SheetTable("The float between two liquids", head, rows, (2.6, 1.6, 1.2, 1.5, 2.0, 1.5))
    both = [
        ("least upper layer, as stated", shown(interface.least_layer)),
        ("magnet planes then apart by at least", shown(interface.distance)),
        ("the magnets snap together below", _or_dash(interface.snap)),
        ("least distance of the magnet planes", _or_dash(interface.spacing)),
        ("force between the magnets there", _or_dash(interface.pull)),
        ("it moves the interface float by", _or_dash(interface.moved)),
    ]
    return first, two_columns("The two floats", both)


def mechanics_table(study: Study) -> paper.SheetTable | None:
    """What flow and warmth do to the stem."""
    mechanics = study.depth.mechanics
    if mechanics is None:
        return None
    told = (
        ("clearance needed below the tip", mechanics.clearance),
        ("load of the flow", mechanics.load),
        ("greatest deflection", mechanics.deflection),
        ("bending stress", mechanics.stress),
        ("bending frequency in the liquid", mechanics.frequency),
        ("velocity at which it would swing", mechanics.critical),
        ("sag", mechanics.sag),
        ("reads long by", mechanics.excess),
    )
    rows = [(what, shown(entry)) for what, entry in told if entry is not None]
    return two_columns("Mechanics of the stem", rows) if rows else None


def search_table(study: Study) -> paper.SheetTable | None:
    """The smallest floats that serve, where a search was made."""
    search = study.depth.search
    if search is None:
        return None
    chosen = search.chosen
    nearest = (chosen.nearest,) if chosen.nearest is not None else ()
    candidates = chosen.serving[:MOST_FLOATS] or nearest
    rows = tuple(
        (
            show(each.diameter_m, "mm"),
            show(each.height_m, "mm"),
            show(each.mass_kg, "g"),
            show(each.error_m, "mm") if each.error_m < 1.0 else "does not float",
            show(each.allowed_difference_Pa, "bar"),
            "; ".join(each.misses) or each.binding,
        )
        for each in candidates
    )
    head = (
        "wide",
        "high",
        "mass",
        "errs by at most",
        "pressure allowed",
        "misses" if not chosen.serving else "nearest limit",
    )
    note = f"{chosen.tried} tried ({search.form}), {len(chosen.serving)} serve; an order takes a float that is made."
    return paper.SheetTable("Search of a float", head, rows, (1.2, 1.2, 1.2, 1.5, 1.6, 3.0), note=in_print(note))
