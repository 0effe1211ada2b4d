"""The hazardous area: what zone and substance ask, what the instrument has, the circuit by its certificates, charge."""

from onedatum.study.ignition.chapter import IgnitionChapter, ignition_chapter
from onedatum.study.ignition.charge import ChargeChapter
from onedatum.study.ignition.circuit import CIRCUIT_KEYS, CircuitChapter

__all__ = ["CIRCUIT_KEYS", "ChargeChapter", "CircuitChapter", "IgnitionChapter", "ignition_chapter"]
