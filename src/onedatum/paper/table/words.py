"""What the papers of a tank table say alike: figures, names of columns, remarks on rows, sections of lines."""

import re
import unicodedata
from collections.abc import Iterator
from itertools import groupby
from math import isfinite
from typing import NamedTuple

from onedatum.paper.table.model import Column, Line, TankTable
from onedatum.paper.text import LONGEST_LINE, code

NOTHING = "–"
UNKNOWN = "unknown"
MOST_DECIMALS = 9
LONGEST_FIGURE = 15
LONGEST_NAME, LONGEST_UNIT = 40, 14  # over a column of figures
KEPT_JOINERS = "\u200c\u200d"
UNSEEN = {"Cc", "Cf", "Cs", "Co"}
FINE_MARK, ZONE_MARK = "•", "×"
FINE_WORDS = "finer row"
ZONE_WORDS = "do not use"


class Section(NamedTuple):
    """Lines of a paper under one title."""

    title: str
    lines: tuple[tuple[str, ...], ...]


def figure(value: float | None, decimals: int) -> str:
    """A number with its decimals and no minus zero; a very long one with an exponent; a dash where there is none."""
    if value is None or not isfinite(value):
        return NOTHING
    text = f"{value:.{held_decimals(decimals)}f}"
    if len(text) > LONGEST_FIGURE:
        text = f"{value:.8g}"
    return text.lstrip("-") if float(text) == 0 else text


def held_decimals(decimals: int) -> int:
    """Decimals held between none and as many as a column bears."""
    return min(max(decimals, 0), MOST_DECIMALS)


def figures(column: Column) -> list[str]:
    """All numbers of a column as they are printed."""
    return [figure(value, column.decimals) for value in column.values]


def printed(column: Column) -> list[float | None]:
    """All numbers of a column, rounded as they are printed; None where there is none."""
    return [None if text == NOTHING else float(text) for text in figures(column)]


def plain(text: str) -> str:
    """Text on one line for files that hold every script: what cannot be seen or written stands as its code."""
    line = re.sub(r"\s+", " ", unicodedata.normalize("NFC", text)).strip()
    line, rest = line[:LONGEST_LINE], line[LONGEST_LINE:]
    cut = f" [cut: {len(rest)} more characters]" if rest else ""
    return "".join(char if seen(char) else f"[{code(char)}]" for char in line) + cut


def seen(char: str) -> bool:
    """Whether a character can stand in any file: no control, no surrogate, no noncharacter."""
    point = ord(char)
    if point & 0xFFFE == 0xFFFE or 0xFDD0 <= point <= 0xFDEF:
        return False
    return char in KEPT_JOINERS or unicodedata.category(char) not in UNSEEN


def shortened(text: str, most: int) -> str:
    """Text of at most so many characters."""
    return text if len(text) <= most else text[: most - 1] + "…"


def column_name(column: Column) -> str:
    """The name of a column with its unit: "level [mm]"."""
    name, unit = plain(column.name), plain(column.unit)
    return f"{name} [{unit}]" if unit else name


def value_of(line: Line) -> str:
    """The value of a line, with the word of how it is known where that matters."""
    value = line.value if line.value.strip() else UNKNOWN
    return f"{value}, {line.state}" if line.state in ("assumed", UNKNOWN) and value != UNKNOWN else value


def zone_of(table: TankTable, level: float | None) -> int | None:
    """The index of the first zone that a level lies in."""
    if level is None:
        return None
    return next((i for i, zone in enumerate(table.zones) if zone.low <= level <= zone.high), None)


def is_fine(table: TankTable) -> tuple[bool, ...]:
    """For each row whether it is finer than the step."""
    return table.fine or (False,) * len(table.level.values)


def marks(table: TankTable) -> list[str]:
    """For each row the sign that stands beside its level: not to be used, finer than the step, or none."""
    pairs = zip(table.level.values, is_fine(table), strict=True)
    return [ZONE_MARK if zone_of(table, v) is not None else FINE_MARK if fine else "" for v, fine in pairs]


def remarks(table: TankTable) -> list[str]:
    """For each row in words what its sign says."""
    reasons = [f"{ZONE_WORDS}: {plain(zone.words)}" for zone in table.zones]
    found = []
    for level, fine in zip(table.level.values, is_fine(table), strict=True):
        zone = zone_of(table, level)
        said = [FINE_WORDS] if fine else []
        if zone is not None:
            said.insert(0, reasons[zone])
        found.append("; ".join(said))
    return found


def zone_sentences(table: TankTable) -> tuple[str, ...]:
    """Each zone with its levels and its reason."""
    unit, decimals = table.level.unit, table.level.decimals
    return tuple(
        f"{span(figure(z.low, decimals), figure(z.high, decimals), unit)}, {ZONE_WORDS}: {z.words}" for z in table.zones
    )


def fine_sentences(table: TankTable) -> tuple[str, ...]:
    """Where the rows are finer than the step, one sentence for each run of such rows."""
    unit = table.level.unit
    return tuple(
        f"Rows of {span(low, high, unit)} are finer than the step."
        if low != high
        else f"The row of {low} {unit} is finer than the step."
        for low, high in fine_runs(table)
    )


def fine_runs(table: TankTable) -> Iterator[tuple[str, str]]:
    """The lowest and highest level of each run of finer rows, as printed."""
    for fine, run in groupby(zip(is_fine(table), figures(table.level), strict=True), key=lambda pair: pair[0]):
        levels = [level for _, level in run]
        if fine:
            yield levels[0], levels[-1]


def span(low: str, high: str, unit: str) -> str:
    """Two figures with their unit: "0 to 100 mm"."""
    return f"{low} to {high} {unit}".strip()


def statement(table: TankTable) -> str:
    """The sentence that heads the paper: as given, or the volume at the highest row."""
    if table.statement.strip():
        return table.statement
    if not table.level.values:
        return "The table has no rows."
    level, volume = figures(table.level)[-1], figures(table.volume)[-1]
    return f"{volume} {table.volume.unit} at {level} {table.level.unit}, the highest row of {len(table.level.values)}."


def said_of(table: TankTable) -> tuple[tuple[str, str], ...]:
    """Whose table it is: what of the head is said, by its label."""
    head = table.head
    pairs = (
        ("tag", head.tag),
        ("service", head.service),
        ("state", head.state),
        ("author", head.author),
        ("checker", head.checker),
        ("revision", head.revision),
        ("date", head.date),
        ("heights over", head.datum),
        ("case", head.case_hash),
        ("onedatum", head.tool_version),
        ("example", "invented" if head.invented else ""),
    )
    return tuple(pair for pair in pairs if pair[1])


def sections(table: TankTable) -> tuple[Section, ...]:
    """Everything but the rows, in the order it is printed; sections that hold nothing are left out."""
    found = (
        Section("Tank table", said_of(table)),
        Section("Vessel", tuple((line.label, value_of(line)) for line in table.vessel)),
        Section("Conditions", tuple((line.label, value_of(line)) for line in table.conditions)),
        Section("Heels", tuple((h.label, h.level or UNKNOWN, h.volume or UNKNOWN) for h in table.heels)),
        Section("Interpolation", tuple((words,) for words in (*table.interpolation, *fine_sentences(table)))),
        Section("Not to be used", tuple((words,) for words in zone_sentences(table))),
        Section("Cautions", tuple((words,) for words in table.cautions)),
    )
    return tuple(section for section in found if section.lines)
