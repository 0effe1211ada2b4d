"""Stem and float: what is ordered so that it fits, where the float rides, what can be measured, how well."""

from onedatum.study.stem.chapter import StemChapter, stem_chapter
from onedatum.study.stem.detail import StemDetail, stem_detail
from onedatum.study.stem.fit import reserve
from onedatum.study.stem.float import Float, float_of
from onedatum.study.stem.magnet import Beside
from onedatum.study.stem.riding import Riding

__all__ = [
    "Beside",
    "Float",
    "Riding",
    "StemChapter",
    "StemDetail",
    "float_of",
    "reserve",
    "stem_chapter",
    "stem_detail",
]
