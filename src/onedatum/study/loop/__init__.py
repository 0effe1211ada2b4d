"""The loop: supply and cable, receiver, digital communication, what the current tells."""

from onedatum.study.loop.bands import bands_of
from onedatum.study.loop.chapter import loop_chapter
from onedatum.study.loop.supply import LoopChapter, largest_barrier_for, largest_input_resistor_for

__all__ = ["LoopChapter", "bands_of", "largest_barrier_for", "largest_input_resistor_for", "loop_chapter"]
