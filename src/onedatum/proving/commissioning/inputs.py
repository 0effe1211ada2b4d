"""What the working of known levels rests on: the range of the case, the readings, and how well each is known."""

from __future__ import annotations

from dataclasses import dataclass
from math import sqrt

from onedatum.case.leaf import Value
from onedatum.foundation.units import SYSTEMS
from onedatum.foundation.working import Entry, Sheet
from onedatum.physics.calibration import current_step_m
from onedatum.physics.loop import level_at_current_m
from onedatum.proving.commissioning.known import Known, Within
from onedatum.study.result import Study
from onedatum.verdicts import COVERAGE

NOT_STATED = "not stated: only the digit it was read to counts, and it is known less well than that"
TYPED = "typed in"


@dataclass(frozen=True)
class Read:
    """One reading: the level it shows, and itself."""

    shown: Entry
    current: Entry | None = None
    capacitance: Entry | None = None


class Inputs:
    """The sheet with what is given."""

    def __init__(self, found: Study, within: Within) -> None:
        self.sheet = Sheet(SYSTEMS.get(found.statement.case.print_units.word))
        self.found, self.within = found, within
        self.lower, self.upper = (self._of_case(f"range.{mark}") for mark in ("4 mA", "20 mA"))
        words, source = "coverage factor", "jcgm-100: 6.3.3"
        self.k = self.sheet.give("known.k", COVERAGE, "", words, state="constant", source=source)
        self.datum_u = self._datum()
        self.none = self.sheet.give("known.nothing", 0.0, "m", "nothing", state="constant", source="derived")

    @property
    def ends(self) -> dict[str, Entry]:
        """The range of the case, as formulas take it."""
        return {"lower_range_value_m": self.lower, "upper_range_value_m": self.upper}

    def typed(self, name: str, value: float, suffix: str, meaning: str, shown: str) -> Entry:
        """A number that was typed in."""
        return self.sheet.give(name, value, suffix, meaning, shown=shown, note=TYPED)

    def stated(self, leaf: Value, shown: str) -> Entry:
        """A value of the case."""
        return self.sheet.give(
            leaf.path,
            leaf.si,
            leaf.suffix,
            leaf.title,
            state=leaf.state,
            shown=shown,
            as_stated=leaf.text,
            place=leaf.place,
        )

    def reading(self, known: Known, at: str, told: str) -> Read:
        """What was read at a known level."""
        if known.current_A is not None:
            current = self.typed(f"known.current{at}", known.current_A, "A", f"current as read{told}", "mA")
            inputs = {"current_A": current, **self.ends}
            meaning = f"level shown{told}"
            shown = self.sheet.calc(f"known.shown{at}", level_at_current_m, shown="mm", meaning=meaning, **inputs)
            return Read(shown, current)
        meaning, note = f"level by the scale of the case{told}", f"read off the scale of the sensor at {known.text}"
        shown = self.sheet.give(f"known.shown{at}", known.shown_m, "m", meaning, shown="mm", note=note)
        if known.capacitance_F is None:
            return Read(shown)
        meaning = f"capacitance as read{told}"
        return Read(shown, None, self.typed(f"known.capacitance{at}", known.capacitance_F, "F", meaning, "pF"))

    def dip_knowledge(self, known: Known, at: str, told: str) -> dict[str, Entry]:
        """How well the dip is known, as the uncertainty of an error takes it."""
        meaning = f"standard uncertainty of the dip{told}"
        return {
            "reference_u_m": self._width(f"known.dip_u{at}", self.within.dip_m, "m", meaning, "mm"),
            "reference_digit_m": self.typed(
                f"known.dip_digit{at}", known.dip_digit_m, "m", f"digit of the dip{told}", "mm"
            ),
        }

    def meter_knowledge(self, known: Known, at: str, told: str) -> dict[str, Entry]:
        """How well the reading is known, as a level."""
        digit = f"known.reading_digit{at}"
        if known.current_A is None:
            shown = self.typed(digit, known.digit_m, "m", f"digit of the reading{told}", "mm")
            return {"meter_u_m": self.none, "shown_digit_m": shown}
        meter = self._width(
            f"known.current_u{at}", self.within.meter_A, "A", f"standard uncertainty of the meter{told}", "mA"
        )
        read_to = self.typed(f"known.current_digit{at}", known.digit_A, "A", f"digit of the current{told}", "mA")
        return {
            "meter_u_m": self._as_level(f"known.meter_u{at}", f"uncertainty of the meter, as a level{told}", meter),
            "shown_digit_m": self._as_level(digit, f"digit of the current, as a level{told}", read_to),
        }

    def _as_level(self, name: str, meaning: str, current: Entry) -> Entry:
        inputs = {"difference_A": current, **self.ends}
        return self.sheet.calc(name, current_step_m, shown="mm", meaning=meaning, **inputs)

    def _width(self, name: str, half_width: float | None, suffix: str, meaning: str, shown: str) -> Entry:
        """The standard uncertainty of a half-width, all values within it as likely; none where it is not stated."""
        if half_width is None:
            return self.sheet.give(name, 0.0, suffix, meaning, state="assumed", shown=shown, note=NOT_STATED)
        note, source = "half-width over the square root of 3, all values within it as likely", "jcgm-100: 4.3.7"
        return self.sheet.give(
            name, half_width / sqrt(3.0), suffix, meaning, shown=shown, note=f"{TYPED}: {note}", source=source
        )

    def _of_case(self, name: str) -> Entry:
        """An entry of the study as an entry here."""
        entry = self.found.sheet[name]
        return self.sheet.give(
            name,
            entry.value,
            entry.suffix,
            entry.meaning,
            state=entry.state,
            shown=entry.shown,
            as_stated=entry.as_stated,
            path=entry.path,
            place=entry.place,
            note=entry.note,
            source=entry.source,
        )

    def _datum(self) -> Entry:
        """What both dips have in common: how well the datum is known."""
        stated, name = self.found.statement.case.datum_error, "known.datum_u"
        meaning = "standard uncertainty of the datum"
        if stated.uncertainty is None:
            note = "not stated in the case: the datum counts as known"
            return self.sheet.give(name, 0.0, "m", meaning, state="assumed", shown="mm", note=note)
        width = stated.uncertainty
        return self.sheet.give(
            name, width.standard, "m", meaning, shown="mm", path=stated.path, place=stated.place, note=width.text
        )
