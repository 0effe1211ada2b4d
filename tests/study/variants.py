"""Cases made from the shipped example by replacing what stands in it."""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path

from onedatum.case.reading import Statement, read_case_text
from onedatum.study.result import Study
from onedatum.study.study import study

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
WITH_BARRIER = EXAMPLES / "spirit_receiver.yaml"
WITH_ISOLATOR = EXAMPLES / "spirit_receiver_isolator.yaml"

ALTERED = (
    ("inside_diameter: 1600 mm", "inside_diameter: 1750 mm"),
    ("crown_radius: 1600 mm", "crown_radius: 1750 mm"),
    ("knuckle_radius: 160 mm", "knuckle_radius: 175 mm"),
    ("value: 68.0 %vol", "value: 72.5 %vol"),
    ("{value: 14.0 degC", "{value: 9.5 degC"),
    ("4 mA: 100 mm", "4 mA: 150 mm"),
    ("20 mA: 2800 mm", "20 mA: 2750 mm"),
    ("{value: 1850 mm", "{value: 1620 mm"),
    ("length: 120 m\n", "length: 260 m\n"),
    ("area: 0.75 mm2", "area: 1.0 mm2"),
)
"""Scenario A with diameter, strength, temperature, level, range and cable altered."""


def text_with(*changes: tuple[str, str], example: Path = WITH_BARRIER) -> str:
    """The text of an example with each of the changes made, all of which must find their place."""
    text = example.read_text(encoding="utf-8")
    for old, new in changes:
        if old not in text:
            raise ValueError(f"{old!r} does not stand in {example.name}")
        text = text.replace(old, new)
    return text


def statement_with(*changes: tuple[str, str], example: Path = WITH_BARRIER) -> Statement:
    """The example with changes, as read."""
    return read_case_text(text_with(*changes, example=example), example.name, example.parent)


@lru_cache(maxsize=32)
def study_with(*changes: tuple[str, str], example: Path = WITH_BARRIER) -> Study:
    """The example with changes, studied."""
    return study(statement_with(*changes, example=example))
