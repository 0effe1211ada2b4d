"""The receiver: how finely and how truly it turns the current into a level, and what a meter at the resistor reads."""

from __future__ import annotations

from onedatum.foundation.working import Entry
from onedatum.physics.loop import (
    card_error_m,
    combined_receiver_standard_m,
    level_per_count_m,
    meter_loading,
    offset_error_m,
    quantisation_standard_m,
    range_span_m,
    read_voltage_V,
    resistor_error_m,
    shunted_current_A,
)
from onedatum.study.desk import Desk
from onedatum.study.signal import SignalChapter

NOT_STATED = "not stated while other data of the receiver are: counted as none"


def receiver(desk: Desk, signal: SignalChapter) -> Entry | None:
    """The standard uncertainty the receiver adds to the level; None where nothing of the receiver is stated."""
    _meter(desk)
    stated = desk.case.loop.receiver
    parts = stated.bits, stated.error_of_full_scale, stated.resistor_tolerance, stated.offset_voltage
    if not any(leaf.known for leaf in parts):
        return None
    span = desk.calc(
        "range.span",
        range_span_m,
        shown="mm",
        lower_range_value_m=signal.lower,
        upper_range_value_m=signal.upper,
    )
    return desk.calc(
        "loop.receiver_standard",
        combined_receiver_standard_m,
        shown="mm",
        meaning="standard uncertainty that the receiver adds to the level",
        quantisation_standard_m=_quantisation(desk, span),
        card_error_m=_card(desk, span),
        resistor_error_m=_resistor(desk, span),
        offset_error_m=_offset(desk, span),
    )


def _quantisation(desk: Desk, span: Entry) -> Entry:
    stated = desk.case.loop.receiver
    if not stated.bits.known:
        return _counted_as_none(desk, "loop.quantisation_standard", stated.bits.path, "steps of the receiver")
    count = desk.calc(
        "loop.level_per_count",
        level_per_count_m,
        shown="mm",
        span_m=span,
        bits=desk.take(stated.bits),
        range_low_A=desk.take(stated.range_low, "mA", none=0.0),
        range_high_A=desk.take(stated.range_high, "mA"),
    )
    return desk.calc("loop.quantisation_standard", quantisation_standard_m, shown="mm", level_per_count_m=count)


def _card(desk: Desk, span: Entry) -> Entry:
    stated = desk.case.loop.receiver
    if stated.error_of_full_scale.state == "unknown":
        return _counted_as_none(desk, "loop.card_error", stated.error_of_full_scale.path, "error of the receiver")
    return desk.calc(
        "loop.card_error",
        card_error_m,
        shown="mm",
        span_m=span,
        full_scale_error=desk.take(stated.error_of_full_scale, "%span", none=0.0),
        full_scale_A=desk.take(stated.range_high, "mA"),
    )


def _resistor(desk: Desk, span: Entry) -> Entry:
    """The error by the tolerance of the input resistor, at the end of the range where it is greatest."""
    stated = desk.case.loop.receiver.resistor_tolerance
    if stated.state == "unknown":
        return _counted_as_none(desk, "loop.resistor_error", stated.path, "tolerance of the input resistor")
    return desk.calc(
        "loop.resistor_error",
        resistor_error_m,
        shown="mm",
        meaning="greatest error by the tolerance of the input resistor, at 20 mA",
        span_m=span,
        current_A=desk.sheet["loop.upper_signal"],
        resistance_share=desk.take(stated, "%value", none=0.0),
    )


def _offset(desk: Desk, span: Entry) -> Entry:
    stated = desk.case.loop.receiver.offset_voltage
    if stated.state == "none" or desk.case.loop.input_resistor.state == "none":
        return desk.sheet.give("loop.offset_error", 0.0, "m", "no offset", state="none", shown="mm", path=stated.path)
    if stated.state == "unknown":
        return _counted_as_none(desk, "loop.offset_error", stated.path, "offset of the receiver")
    return desk.calc(
        "loop.offset_error",
        offset_error_m,
        shown="mm",
        span_m=span,
        offset_V=desk.take(stated, "mV"),
        resistance_ohm=desk.take(desk.case.loop.input_resistor, "ohm"),
    )


def _counted_as_none(desk: Desk, name: str, path: str, meaning: str) -> Entry:
    return desk.sheet.give(name, 0.0, "m", meaning, state="assumed", shown="mm", path=path, note=NOT_STATED)


def _meter(desk: Desk) -> None:
    """What meters at the test resistor would read at the level now."""
    resistor, meter = desk.case.loop.test_resistor, desk.case.loop.test_meter
    if not resistor.known:
        return
    through, value = desk.sheet["signal.current_shown"], desk.take(resistor, "ohm")
    if meter.voltmeter_resistance.known:
        own = desk.take(meter.voltmeter_resistance, "ohm")
        desk.calc("loop.meter_loading", meter_loading, shown="%value", resistance_ohm=value, meter_resistance_ohm=own)
        desk.calc(
            "loop.meter_voltage",
            read_voltage_V,
            shown="mV",
            current_A=through,
            resistance_ohm=value,
            meter_resistance_ohm=own,
        )
    if meter.milliammeter_burden.known:
        desk.calc(
            "loop.current_read_across",
            shunted_current_A,
            shown="mA",
            meaning="what a milliammeter wrongly put across the test resistor would read",
            current_A=through,
            resistance_ohm=value,
            burden_ohm=desk.take(meter.milliammeter_burden, "ohm"),
        )
