"""Why a row is set aside, and what is said of a row that is converted: words, and the numbers that stand for them."""

from __future__ import annotations

MARK = "\ufffd"
"""In place of what is no text in its coding."""

NO_TIME = "the time is missing"
BAD_TIME = "the time is not in the form stated"
IN_GAP = "this local time does not exist: the clocks went forward"
IN_FOLD = "this local time comes twice: the clocks went back, and no offset says which it is"
BEYOND = "the time lies beyond the latest that can be: it is not taken for an order of rows"
LATE = "out of order: a later time of this tag stands before it"
AGAIN = "the time stands before it already, of the same tag"
STRANGER = "the tag is not in the tag list"
BROKEN_TAG = "the tag is not in the tag list, and holds a sign that is not UTF-8"
NO_VALUE = "the value is missing"
NO_NUMBER = "the value is not a plain number"
NOT_FINITE = "the value is not finite"
BAD_UNIT = "the unit is not one of a level, a current, a voltage, a per cent of the span or counts"
NO_WORTH = "no level follows: the range of the case, the counts or the resistor is not stated"
NO_CURRENT = "no current of a loop: below -0.5 mA or above 25 mA"

REASONS = (
    "",
    NO_TIME,
    BAD_TIME,
    IN_GAP,
    IN_FOLD,
    BEYOND,
    BROKEN_TAG,
    STRANGER,
    NO_VALUE,
    NO_NUMBER,
    NOT_FINITE,
    BAD_UNIT,
    NO_WORTH,
    NO_CURRENT,
    LATE,
    AGAIN,
)
"""A row has the first that holds."""
CODE = {reason: number for number, reason in enumerate(REASONS)}

FLAGS = {
    "at_or_below": 1,
    "at_or_above": 2,
    "no_measurement": 4,
    "outside_table": 8,
    "no_temperature": 16,
    "temperature_outside": 32,
    "not_followed": 64,
}
"""Bits of the column `flags`."""
FLAG_WORDS = {
    "at_or_below": "the signal or the float stands at its end: the level is this or lower (censored)",
    "at_or_above": "the signal or the float stands at its end: the level is this or higher (censored)",
    "no_measurement": "the current is failure information, or neither failure nor measurement: no level",
    "outside_table": "the level lies outside the vessel: no quantity",
    "no_temperature": "the temperature of the row is missing or no number: no quantity but the volume",
    "not_followed": "the instrument follows no level there: a float rests, a probe or a tap is beyond",
    "temperature_outside": "no density is known at the temperature of the row: no quantity but the volume",
}
