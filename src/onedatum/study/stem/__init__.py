"""Stem and float: what is ordered so that it fits, where the float rides, what can be measured, how well."""

from onedatum.study.stem.chapter import Riding, StemChapter, stem_chapter
from onedatum.study.stem.detail import StemDetail, stem_detail

__all__ = ["Riding", "StemChapter", "StemDetail", "stem_chapter", "stem_detail"]
