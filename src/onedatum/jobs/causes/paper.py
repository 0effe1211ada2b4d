"""The ranking as the paper prints it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from onedatum.foundation.units import in_print, in_unit, number, show
from onedatum.jobs.causes.asked import fields_of
from onedatum.jobs.causes.found import MOST_SHOWN, NAMES, Found, written
from onedatum.jobs.causes.told import cautions_of, priors_words, sentences
from onedatum.jobs.paper_of_study import head_of
from onedatum.paper.causes.chart import less
from onedatum.paper.causes.model import Explanation, LevelChart, Mark, Pattern, Prior, Trace, WhichPart
from onedatum.paper.model import Note
from onedatum.proving.causes import MEASURED, NOT_LISTED, NOTHING, UNITS, Cause, Further, Group, Size, per_cent
from onedatum.simulate import kind

SPREADS = {
    "dip_m": ("dip", "mm"),
    "temperature_K": ("temperature", "K"),
    "current_A": ("current", "mA"),
    "voltage_V": ("voltage on the test resistor", "mV"),
    "supply_V": ("voltage at the transmitter", "V"),
    "shown_m": ("level shown", "mm"),
    "volume_m3": ("volume shown", "m3"),
    "offset_m": ("a sound instrument, offset", "mm"),
    "slope": ("a sound instrument, slope", "%"),
    "constants": ("every constant of the model", "%"),
    "resistor": ("the test resistor", "%"),
}
_WAYS = {True: "from below", False: "from above", None: "–"}
_UNITS = {"m": "mm", "A": "mA", "K": "K", "ohm": "ohm"}
MOST_PATTERNS = 6
_CONDUCTIVITY = "conductivity"


def which_part_of(found: Found) -> WhichPart:
    """Everything the paper prints."""
    answer, *said = sentences(found)
    fields = _read_fields(found)
    heads = {field: name for name, (field, _) in MEASURED.items()}
    return WhichPart(
        head=head_of(found.study),
        answer=in_print(answer),
        said=tuple(in_print(words) for words in said),
        cautions=cautions_of(),
        heads=("row", "level came", *(in_print(f"{heads[field]}, {UNITS[field]}") for field in fields)),
        rows=tuple(_rows(found, fields)),
        chart=chart_of(found),
        patterns=tuple(_patterns(found)),
        explanations=tuple(_explanation(found, place, group) for place, group in enumerate(found.likely, 1)),
        unlikely="; ".join(found.unlikely),
        further=tuple(Note(in_print(each.words), in_print(found.why(each))) for each in _further(found)),
        priors_said=f"{priors_words(found)}. Nothing certain: no group goes above {per_cent(found.ranking.cap)} on "
        "these readings.",
        priors=tuple(_priors(found)),
        spreads=tuple(_spreads(found)),
    )


def causes_file(found: Found) -> bytes:
    """The paper as PDF."""
    from onedatum.paper.causes.as_pdf import which_part_pdf

    return which_part_pdf(which_part_of(found))


def _further(found: Found) -> Sequence[Further]:
    return found.ranking.further[:MOST_SHOWN]


# ---------------------------------------------------------------- readings and explanations


def _read_fields(found: Found) -> list[str]:
    """The columns in which something was read."""
    known = [field for field, _ in MEASURED.values()]
    return [field for field in known if any(getattr(row, field) is not None for row in found.asked.rows)]


def _rows(found: Found, fields: Sequence[str]) -> Iterator[tuple[str, ...]]:
    for number_of, row in enumerate(found.asked.rows, 1):
        cells = (in_print(written(field, getattr(row, field), unit=False)) for field in fields)
        yield str(number_of), _WAYS[row.is_rising], *cells


def _explanation(found: Found, place: int, group: Group) -> Explanation:
    first, *rest = group.left
    cause, size = found.cause(first), in_print(found.sized(first))
    alike = tuple(in_print(", ".join(filter(None, (found.cause(key).words, found.sized(key))))) for key in rest)
    return Explanation(str(place), per_cent(group.probability), cause.words, size, cause.shape, alike)


# ---------------------------------------------------------------- charts


def chart_of(found: Found) -> LevelChart:
    """The channel that was read most, over the level."""
    channel = found.channels[0] if found.channels else "current_A"
    return LevelChart(
        in_print(NAMES[channel]),
        in_print(UNITS[channel]),
        _marks(found, channel),
        Trace("sound instrument", _marks(found, channel, found.cause(NOTHING))),
        tuple(
            Trace(f"explanation {place}", _marks(found, channel, _first(found, group)), place)
            for group in found.shown
            if (place := found.explanations.index(group) + 1)
        ),
    )


def _patterns(found: Found) -> Iterator[Pattern]:
    """Every cause of the likeliest explanations alone, the first of each at least; those of one look alike."""
    chart, channel = chart_of(found), found.channels[0] if found.channels else "current_A"
    keys = [(found.explanations.index(group) + 1, key) for group in found.shown for key in group.left]
    heads = {group.keys[0] for group in found.shown}
    kept = sorted(keys, key=lambda each: each[1] not in heads)[:MOST_PATTERNS]
    read = tuple(less(chart.read, chart.sound.marks))
    for place, key in (each for each in keys if each in kept):
        predicted = tuple(less(_marks(found, channel, found.cause(key)), chart.sound.marks))
        yield Pattern(f"{place}. {found.cause(key).words}", place, chart.unit, read, predicted)


def _first(found: Found, group: Group) -> Cause:
    return found.cause(group.keys[0])


def _marks(found: Found, channel: str, cause: Cause | None = None) -> tuple[Mark, ...]:
    """What was read, or what a cause predicts, in every row that is predicted; NaN where there is nothing."""
    nothing = float("nan")
    marks = []
    for at, number_of in enumerate(found.numbers):
        row = found.asked.rows[number_of - 1]
        value = getattr(row, channel) if cause is None else float(cause.predicted[channel][at])
        level = nothing if row.dip_m is None else in_unit(row.dip_m, "mm")
        shown = nothing if value is None else in_unit(value, UNITS[channel])
        marks.append(Mark(level, shown, row.is_rising is not False))
    return tuple(marks)


# ---------------------------------------------------------------- priors


def _priors(found: Found) -> Iterator[Prior]:
    weighed, _ = found.priors.weighed(found.instrument.kinds, found.asked.change)
    yield Prior(found.cause(NOTHING).words, per_cent(found.priors.nothing), "–")
    for key, share in sorted(weighed.items(), key=lambda each: -each[1]):
        if share > 0.0:
            yield Prior(kind(key).words, per_cent(share), in_print(prior_size(key, found.priors.sizes[key])))
    yield Prior(found.cause(NOT_LISTED).words, per_cent(found.priors.not_listed), "–")


def prior_size(key: str, size: Size) -> str:
    """How large a cause is held to be, in words."""
    first, second = (_sized(key, value, size.of) for value in (size.first, size.second))
    if size.form == "even":
        return f"even, from {first} to {second}"
    if size.form == "log-normal":
        return f"log-normal, median {first}, factor {number(size.second, 3)}"
    scale = "standard deviation" if "normal" in size.form else "scale"
    return f"{size.form}, {scale} {first}"


def _sized(key: str, value: float, of: str) -> str:
    if of:
        return f"{number(100.0 * value, 3)} % of the {of}"
    if key == _CONDUCTIVITY:
        return f"{number(value, 3)} powers of ten"
    unit = _UNITS.get(kind(key).suffix, "")
    return f"{number(in_unit(value, unit), 3)} {unit}" if unit else f"{number(100.0 * value, 3)} %"


def _spreads(found: Found) -> Iterator[tuple[str, str]]:
    read = fields_of(found.instrument)
    for name, (words, unit) in SPREADS.items():
        if name in UNITS and name not in read:
            continue
        value = getattr(found.priors.spread, name)
        yield words, in_print(show(value, unit, 2))
    yield "a temperature that was not read", show(found.priors.unread_temperature_K, "K", 2)
