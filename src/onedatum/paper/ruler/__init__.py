"""The ruler: the vessel in elevation beside parallel scales on one height."""

from onedatum.paper.ruler.detail import detail_svg
from onedatum.paper.ruler.drawing import Placed, all_fit, ruler_drawing, ruler_svg
from onedatum.paper.ruler.look import PRINT, SCREEN, Look

__all__ = ["PRINT", "SCREEN", "Look", "Placed", "all_fit", "detail_svg", "ruler_drawing", "ruler_svg"]
