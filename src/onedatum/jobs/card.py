"""The card of the signal: what a meter shows at the marks and at every step of the level, as PDF, text, CSV and JSON.

Every number is read off the scale that the page draws, so the card and the page say the same.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from math import ceil, floor, log10
from pathlib import Path
from typing import Any

from onedatum.case.model.case import US_CUSTOMARY
from onedatum.case.reading import Statement
from onedatum.foundation.constants import VERSION
from onedatum.foundation.errors import Fault
from onedatum.foundation.units import in_print, in_unit
from onedatum.jobs.page.scales import PageScale, page_scales
from onedatum.jobs.paper_of_study import head_of
from onedatum.jobs.reading import for_sensors, limits_of
from onedatum.jobs.ruler_of_study import marks_of
from onedatum.jobs.table import step_of
from onedatum.jobs.write import write_json, write_whole
from onedatum.paper.card.model import Card, Row
from onedatum.paper.text import file_stem
from onedatum.study.cautions import CHARGE, DEFERENCE, LOOP
from onedatum.study.form import head_json
from onedatum.study.result import Study
from onedatum.study.study import study

FORM = 1
"""Version of the JSON form of a card."""
SHOWN = ("percent", "mA", "mV", "sensor")
MARKS = ("range", "critical", "alarm", "loop end")
MOST_ROWS = 500
LEAST_ROWS = 20
NONE = "\u2013"
EVEN = 1e-9
"""Of a step: how far a multiple of it may miss the end of the range and still be it."""
TITLE = "Signal by level"
CARD = "-signal"
"""What the names of its files end in."""


@dataclass(frozen=True)
class SignalCard:
    """A card with the numbers it was made of, in SI."""

    found: Study
    card: Card
    step_m: float
    levels_m: tuple[float, ...]
    columns: tuple[PageScale, ...]


def card_of_statement(statement: Statement, step: str, said_as: str = "--table") -> SignalCard | Fault:
    """The card of a case for a step of the level."""
    return card_of_study(for_sensors(statement, study(statement)), step, said_as)


def card_of_study(found: Study, step: str, said_as: str = "--table") -> SignalCard | Fault:
    """The card of a study; a fault where nothing can be printed."""
    step_m = step_of(step, said_as)
    if isinstance(step_m, Fault) or step_m is None:
        return step_m or Fault(said_as, "a length with its unit", "nothing")
    lower, upper = found.value("range.4 mA"), found.value("range.20 mA")
    scales = {scale.kind.key: scale for scale in page_scales(found)}
    if lower is None or upper is None or not scales or scales["mA"].unknown:
        return Fault(said_as, "asked for where the range is known", "an unknown range", "state 4 mA and 20 mA")
    low, high = min(lower, upper), max(lower, upper)
    count = (high - low) / step_m
    if count > MOST_ROWS:
        why = f"the range of {1e3 * (high - low):.0f} mm would take {count:.0f} rows, {MOST_ROWS} are printed at most"
        return Fault(said_as, "a step that leaves a card to be read", f'"{step}"', why)
    levels = tuple(levels_of(low, high, step_m))
    columns = tuple(scales[key] for key in (_height(found), *SHOWN) if key in scales and not scales[key].unknown)
    card = Card(
        head=head_of(found),
        title=TITLE,
        facts=tuple(_facts(found)),
        columns=tuple(_name(scale) for scale in columns),
        marks=tuple(Row(name, _cells(columns, level)) for name, level in _marks(found)),
        rows=tuple(Row("", _cells(columns, level)) for level in levels),
        step=in_print(step),
        assumed=any(scale.assumed for scale in columns),
        cautions=("Read the current on the test resistor without opening the loop.", LOOP, CHARGE, DEFERENCE),
    )
    return SignalCard(found, card, step_m, levels, columns)


def usual_step(found: Study) -> str:
    """A round step that fills a card and no more: 1, 2 or 5 of a power of ten, from 20 rows on."""
    lower, upper = found.value("range.4 mA"), found.value("range.20 mA")
    unit = _height(found)
    if lower is None or upper is None or lower == upper:
        return f"1 {unit}"
    wanted = float(in_unit(abs(upper - lower), unit)) / LEAST_ROWS
    power = 10.0 ** floor(log10(wanted))
    return f"{max(each * power for each in (1.0, 2.0, 5.0) if each * power <= wanted):g} {unit}"


def levels_of(low: float, high: float, step_m: float) -> Iterator[float]:
    """The ends of the range, and the multiples of the step between them."""
    first, last = ceil(low / step_m + EVEN), floor(high / step_m - EVEN)
    yield low
    yield from (number * step_m for number in range(first, last + 1))
    yield high


def _height(found: Study) -> str:
    return "in" if found.statement.case.print_units.word == US_CUSTOMARY else "mm"


def _name(scale: PageScale) -> str:
    """The unit of a column; what it is read on where that is a resistor."""
    return f"{scale.kind.name} {scale.kind.group}" if scale.kind.key == "mV" else scale.kind.name


def _cells(columns: tuple[PageScale, ...], level_m: float) -> tuple[str, ...]:
    return tuple(cell(scale, level_m) for scale in columns)


def cell(scale: PageScale, level_m: float) -> str:
    """What a scale shows at a level, to the digit the page shows; a dash where it tells nothing."""
    value = scale.value(level_m) if scale.kind.entry else float(in_unit(level_m, scale.kind.unit))
    if value is None:
        return NONE
    rounded = round(value, scale.kind.decimals) + 0.0
    return f"{rounded:.{scale.kind.decimals}f}".replace("-", "\u2212")


def _marks(found: Study) -> Iterator[tuple[str, float]]:
    """The marks that concern the signal and its quarters, from the top."""
    lower, upper = found.value("range.4 mA") or 0.0, found.value("range.20 mA") or 0.0
    marks = [(mark.name, mark.height_m) for _, mark in marks_of(found) if mark.kind in MARKS]
    marks += [(f"{4 + 4 * n} mA", lower + 0.25 * n * (upper - lower)) for n in (1, 2, 3)]
    for end in ("low", "high"):
        level, current = found.value(f"range.level_at_saturation_{end}"), f"range.saturation.{end}"
        if level is not None and current in found.sheet:
            marks.append((f"stops at {found.sheet[current].text}", level))
    yield from sorted(marks, key=lambda mark: -mark[1])


def _facts(found: Study) -> Iterator[str]:
    datum = found.statement.case.vessel.datum.word
    if datum:
        yield f"Levels count from the datum: {datum}."
    yield from (f"{in_print(line)[:1].upper()}{in_print(line)[1:]}." for line in limits_of(found)[2:])
    low, high = (show for show in (found.safe.bands.failure_low_A.value, found.safe.bands.failure_high_A.value))
    yield f"Up to {1e3 * low:g} mA and from {1e3 * high:g} mA the current tells a failure, and no level."
    yield f"A dash ({NONE}) stands where nothing is told."


# ---------------------------------------------------------------- the forms


def _pdf(made: SignalCard) -> bytes:
    from onedatum.paper.card.as_pdf import card_pdf

    return card_pdf(made.card)


def _text(made: SignalCard) -> bytes:
    return card_text_of(made).encode("utf-8", "replace")


def card_text_of(made: SignalCard) -> str:
    """The card as text."""
    from onedatum.paper.card.as_text import card_text

    return card_text(made.card)


def _csv(made: SignalCard) -> bytes:
    from onedatum.paper.card.as_text import card_csv

    return card_csv(made.card).encode("utf-8", "replace")


FORMS: dict[str, Callable[[SignalCard], bytes]] = {"pdf": _pdf, "txt": _text, "csv": _csv}
"""By the ending of its file, what writes a card."""


def write_card(made: SignalCard, stem: str, out: Path) -> tuple[Path, ...]:
    """Write the card in every form into a folder; raises OutputError."""
    name = f"{file_stem(stem)}{CARD}"
    files = []
    for ending, content in FORMS.items():
        files.append(out / f"{name}.{ending}")
        write_whole(files[-1], content(made))
    data = out / f"{name}.json"
    write_json(data, card_json(made))
    return (*files, data)


def card_json(made: SignalCard) -> dict[str, Any]:
    """The card in SI, unrounded; a level beyond a scale has none of its values."""
    columns = {
        scale.kind.key: {
            "unit": scale.kind.unit,
            "title": scale.kind.title,
            "values": [scale.value(level) for level in made.levels_m],
        }
        for scale in made.columns
        if scale.kind.entry
    }
    marks = [{"name": name, "level_m": level} for name, level in _marks(made.found)]
    head = {"form": FORM, **head_json(made.found, VERSION)}
    return {**head, "step_m": made.step_m, "level_m": list(made.levels_m), "columns": columns, "marks": marks}
