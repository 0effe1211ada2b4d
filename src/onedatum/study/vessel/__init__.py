"""Chapter vessel: its shape by its measures, what is in it, what it holds at a level."""

from onedatum.study.vessel.chapter import VesselChapter, vessel_chapter
from onedatum.study.vessel.siting import at_level_now, heels

__all__ = ["VesselChapter", "at_level_now", "heels", "vessel_chapter"]
