"""The loop: supply and cable, receiver, digital communication, what the current tells."""

from onedatum.study.loop.chapter import loop_chapter
from onedatum.study.loop.supply import LoopChapter, largest_barrier_for

__all__ = ["LoopChapter", "largest_barrier_for", "loop_chapter"]
