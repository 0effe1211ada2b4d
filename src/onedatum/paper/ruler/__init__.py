"""The ruler: the vessel in elevation beside parallel scales on one height."""

from onedatum.paper.ruler.detail import detail_svg
from onedatum.paper.ruler.drawing import ruler_svg
from onedatum.paper.ruler.look import PRINT, Look

__all__ = ["PRINT", "Look", "detail_svg", "ruler_svg"]
