"""The hazardous area: what zone and substance ask, what the instrument has, the circuit by its certificates, charge."""

from onedatum.study.ignition.chapter import IgnitionChapter, ignition_chapter
from onedatum.study.ignition.charge import ChargeChapter
from onedatum.study.ignition.circuit import CIRCUIT_KEYS, CircuitChapter
from onedatum.study.ignition.place import Needs

__all__ = ["CIRCUIT_KEYS", "ChargeChapter", "CircuitChapter", "IgnitionChapter", "Needs", "ignition_chapter"]
