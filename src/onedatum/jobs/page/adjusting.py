"""Two known levels on the page: what was typed, what is wrong with it, what it says of range, output, datum, slope."""

from __future__ import annotations

from dataclasses import dataclass, field

from onedatum.foundation.errors import Fault
from onedatum.foundation.units import in_print
from onedatum.jobs.known import CAUTIONS_OF, Typed, adjusted_from
from onedatum.jobs.page.made import CaseText, made_of
from onedatum.jobs.paper_of_study import head_of
from onedatum.jobs.reading import for_sensors
from onedatum.paper.model import Head
from onedatum.study.result import Study

HALF = "A known level must be a dip and a reading; got one without {}."
OPTIONS = {"--dip-within": "How well the dip is known", "--meter-within": "How well the meter is known"}


@dataclass(frozen=True)
class KnownLevels:
    """The fields of the form, as they are typed."""

    first_dip: str = ""
    first_reading: str = ""
    first_digital: str = ""
    second_dip: str = ""
    second_reading: str = ""
    second_digital: str = ""
    resistor: str = ""
    dip_within: str = ""
    meter_within: str = ""

    @property
    def levels(self) -> tuple[Typed, ...]:
        """The known levels; one of which nothing is typed is left away."""
        first = Typed(self.first_dip.strip(), self.first_reading.strip(), self.first_digital.strip())
        second = Typed(self.second_dip.strip(), self.second_reading.strip(), self.second_digital.strip())
        return tuple(each for each in (first, second) if each != Typed("", ""))


@dataclass(frozen=True)
class NumberView:
    """One number of the working."""

    label: str
    value: str


@dataclass(frozen=True)
class AdjustingView:
    """What the form shows beneath itself; nothing where nothing is typed."""

    head: Head
    typed: KnownLevels
    faults: tuple[str, ...] = ()
    title: str = ""
    said: tuple[str, ...] = ()
    open_: tuple[str, ...] = ()
    numbers: tuple[NumberView, ...] = ()
    cautions: tuple[str, ...] = field(default=CAUTIONS_OF)


def adjusting_view(case: CaseText, typed: KnownLevels) -> AdjustingView:
    """The form with what the known levels say."""
    return adjusting_of(made_of(case, {}).study, typed)


def adjusting_of(found: Study, typed: KnownLevels) -> AdjustingView:
    """The same of a study."""
    head, levels = head_of(found), typed.levels
    if not levels:
        return AdjustingView(head, typed)
    halves = [each for each in levels if not (each.dip and each.reading)]
    if halves:
        return AdjustingView(head, typed, faults=(HALF.format("a reading" if halves[0].dip else "a dip"),))
    widths = typed.dip_within, typed.meter_within
    told = adjusted_from(for_sensors(found.statement, found), levels, typed.resistor, *widths, said_as="A known level")
    if isinstance(told, tuple):
        return AdjustingView(head, typed, faults=tuple(_sentence(fault) for fault in told))
    return AdjustingView(
        head=head,
        typed=typed,
        title=told.title,
        said=tuple(in_print(line) for line in told.said),
        open_=told.open_,
        numbers=tuple(
            NumberView(in_print(entry.meaning), in_print(entry.text).replace("%value", "%").replace("%span", "%"))
            for entry in told.numbers
        ),
    )


def _sentence(fault: Fault) -> str:
    """A fault in the words of the form."""
    words = fault.sentence()
    for option, label in OPTIONS.items():
        words = words.replace(option, label)
    return in_print(words)
