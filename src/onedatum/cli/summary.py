"""The summary of a study for a terminal of 80 columns and 40 lines: what blocks first, then the numbers."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from textwrap import wrap

from onedatum.cli.choosing import choosing_lines
from onedatum.foundation.units import in_unit, show
from onedatum.foundation.working import Entry
from onedatum.jobs.choosing.asked import FIRST_ASKED, deciding, others
from onedatum.jobs.choosing.told import capital
from onedatum.study.cautions import DEFERENCE
from onedatum.study.findings import AT_LEVEL
from onedatum.study.result import Question, Requirement, Study
from onedatum.verdicts import Effect, Finding, Link
from onedatum.verdicts.rules.words import quantity_title

COLUMNS, LINES = 80, 40
LEVEL_U = {"chamber.level_uncertainty", "legs.level_uncertainty", "probe.level_uncertainty"}
"""The uncertainty of the level with what chamber, legs or probe add; where there is one it is the one that counts."""

HIGH_HIGH = "overfill.high_high"
"""Where HH may stand at most; where it is set, the summary says that."""
NUMBERS: tuple[tuple[str, tuple[tuple[str, str], ...]], ...] = (
    ("vessel", (("inside height", "vessel.inside_height"), ("full", "vessel.full_volume"))),
    ("stem", (("length", "stem.length"), ("float freeboard", "float.freeboard"))),
    ("measurable", (("from", "level.measurable_low"), ("to", "level.measurable_high"))),
    ("level now", (("", "level_now"), ("", "signal.current_shown"), ("", "signal.test_voltage"))),
    (
        "quantity",
        (
            ("", "quantity.table_volume"),
            ("", "quantity.mass"),
            ("pure", "quantity.pure_alcohol"),
            ("ref.", "quantity.gross_standard_volume"),
        ),
    ),
    (
        "U (k = 2)",
        (("level", "level.uncertainty"), ("", "budget.expanded_uncertainty"), ("", "budget.relative_uncertainty")),
    ),
    ("alarm", (("HH", HIGH_HIGH), ("", "overfill.high_high_current"), ("CH", "overfill.critical_current"))),
)
"""The lines of numbers: title, then label and entry of each."""


def summary(study: Study) -> list[str]:
    """At most 40 lines of at most 80 columns; what had to be left away is said."""
    head, foot = list(_head(study)), list(_foot(study))
    middle = [*_faults(study), *_findings(study), *_open(study)]
    numbers = list(_numbers(study))
    room = LINES - len(head) - len(foot) - len(numbers)
    if len(middle) > room:
        left = len(middle) - room + 1
        middle = [*middle[: room - 1], f"  ... {left} more lines: --json shows all"]
    return [*head, *middle, *numbers, *foot]


def _head(study: Study) -> Iterator[str]:
    case = study.statement.case
    tag, service = (leaf.text if leaf.known else "not stated" for leaf in (case.tag, case.service))
    yield _cut(f"{tag}  {service}")
    yield from wrap(f"{study.answer} {study.blocking}".strip(), COLUMNS)
    yield from choosing_lines(study)
    yield ""


def _faults(study: Study) -> Iterator[str]:
    for fault in study.faults:
        yield from wrap(f"To correct: {fault}", COLUMNS, subsequent_indent="  ", max_lines=6)


def _findings(study: Study) -> Iterator[str]:
    for finding in study.findings:
        if finding.effect is Effect.BLOCKS:
            yield from _chain(finding)
        else:
            link = _telling(finding)
            number = f" ({link.text}: {link.value})" if link.value else ""
            yield from wrap(f"{_word(finding)}: {finding.title}{number}", COLUMNS, subsequent_indent="  ")


def _telling(finding: Finding) -> Link:
    """The link of a chain that carries the number the title speaks of."""
    if finding.effect is Effect.HOLDS:
        return next((link for link in reversed(finding.chain) if link.value), finding.chain[-1])
    return finding.chain[1] if len(finding.chain) > 1 else finding.chain[0]


def _chain(finding: Finding) -> Iterator[str]:
    mark = "" if finding.uncertainty_stated else "  (uncertainty not stated)"
    yield _cut(f"{_word(finding)}: {finding.title}{mark}")
    for item in _joined(finding.chain):
        yield from wrap(f"- {item}", COLUMNS, initial_indent="  ", subsequent_indent="    ")
    for link in finding.ways_out:
        text = f"way out: {link.text} {link.value}".rstrip()
        yield from wrap(text, COLUMNS, initial_indent="  ", subsequent_indent="    ")


def _joined(chain: Sequence[Link]) -> list[str]:
    """The links in words; a level that follows from a current stands beside it."""
    items: list[str] = []
    for link in chain:
        if link.text == AT_LEVEL and items:
            items[-1] += f", at {link.value}"
        else:
            items.append(f"{link.text} {link.value}")
    return items


def _word(finding: Finding) -> str:
    return finding.effect.value[:1].upper() + finding.effect.value[1:]


def _open(study: Study) -> Iterator[str]:
    yield from _asked(study)
    yield from _list("To be ordered", _titles(study.requirements))
    yield from _list("Assumed", [f"{leaf.title} {leaf.text}" for leaf in study.assumptions])
    if study.not_read:
        yield f"Stated, but moving no number yet: {len(study.not_read)} values (--json names them)"


def _asked(study: Study) -> Iterator[str]:
    """What is asked of the customer; where no instrument is chosen, first what decides on most principles."""
    choosing = study.choosing
    if study.has_instrument or choosing is None or study.faults:
        yield from _list("Ask the customer", _titles(study.questions))
        return
    first = [f"{capital(quantity_title(each.path))}: {_decides(each)}" for each in deciding(choosing)]
    if first:
        yield "Ask the customer first; an answer decides on"
    yield from (_cut(f"  {number}. {text}") for number, text in enumerate(first[:FIRST_ASKED], start=1))
    if len(first) > FIRST_ASKED:
        yield f"  ... {len(first) - FIRST_ASKED} more: onedatum document writes the sheet of questions"
    yield from _list("Beside, for the numbers of the study", _titles(tuple(others(study, choosing))))


def _decides(question: Question) -> str:
    """On how many principles an answer decides."""
    told = question.decides
    return told[0] if len(told) == 1 else f"{len(told)} principles"


def _titles(points: Sequence[Question | Requirement]) -> list[str]:
    """The titles of open points; those that share one are told apart by their paths."""
    titles = [point.title for point in points]
    return [f"{p.title} ({p.path})" if titles.count(p.title) > 1 else p.title for p in points]


def _list(title: str, items: Sequence[str]) -> Iterator[str]:
    if items:
        yield from wrap(f"{title}: {'; '.join(items)}", COLUMNS, subsequent_indent="  ", max_lines=4)


def _numbers(study: Study) -> Iterator[str]:
    yield ""
    yield from _pressures(study)
    for title, columns in (*NUMBERS[:3], *_columns(study), *NUMBERS[3:]):
        texts = [
            f"{_label(study, *each)} {_entry(study, each[1]).text}".strip()
            for each in columns
            if each[1] in study.sheet
        ]
        if texts:
            yield _cut(f"{title:<12}" + "".join(f"{text:<26}" for text in texts).rstrip())


def _label(study: Study, label: str, name: str) -> str:
    """The label of an entry; an uncertainty that could not count everything is the least it can be."""
    return "at least" if name == "budget.expanded_uncertainty" and study.measuring.left_out else label


def _columns(study: Study) -> Iterator[tuple[str, tuple[tuple[str, str], ...]]]:
    """The line of a chamber."""
    chamber = study.measuring.chamber
    if chamber is not None:
        ends = (("4 mA", chamber.lower_set.name), ("20 mA", chamber.upper_set.name))
        yield "in chamber", (("now", chamber.in_chamber.name), *ends)


def _pressures(study: Study) -> Iterator[str]:
    """The line of the legs of a transmitter; its unit stands once."""
    legs = study.measuring.legs
    if legs is not None and legs.now.known and legs.span.known:
        named = (("now", legs.now), ("4 mA", legs.rows[0].difference), ("20 mA", legs.rows[-1].difference))
        told = [f"{name} {show(in_unit(entry.value or 0.0, legs.unit), '')}" for name, entry in named]
        yield _cut(f"{'pressure':<12}{', '.join(told)} {legs.unit}")


def _entry(study: Study, name: str) -> Entry:
    """The entry of a name; of HH the level it stands at, as set where it is set."""
    overfill, whole = study.safe.overfill, LEVEL_U.intersection(study.sheet.entries)
    if name == "level.uncertainty" and whole:
        return study.sheet[min(whole)]
    return overfill.high_high.stands if name == HIGH_HIGH and overfill is not None else study.sheet[name]


def _foot(study: Study) -> Iterator[str]:
    yield ""
    yield from wrap(DEFERENCE, COLUMNS)


def _cut(text: str) -> str:
    return text if len(text) <= COLUMNS else text[: COLUMNS - 1] + "…"
