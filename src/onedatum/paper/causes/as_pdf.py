"""The paper on which part may be wrong as an accessible PDF, A4."""

from onedatum.paper.causes.chart import level_svg, pattern_svg
from onedatum.paper.causes.model import WhichPart
from onedatum.paper.data import Data, drawing_data, foot_data, plain
from onedatum.paper.text import missing_sentence
from onedatum.paper.typeset import typeset

TEMPLATE = "causes.typ"
MOST_MISSING = 40
DRAWN = ("chart", "patterns")


def which_part_pdf(paper: WhichPart) -> bytes:
    """The paper as PDF/UA-1; the same bytes for the same content."""
    return typeset(TEMPLATE, which_part_data(paper))


def which_part_data(paper: WhichPart) -> Data:
    """Everything the template prints, each text reduced to what the fonts hold; what that cost joins the cautions."""
    missing: dict[str, None] = {}
    names = [name for name in WhichPart.__dataclass_fields__ if name not in DRAWN]
    data: Data = {name: plain(getattr(paper, name), missing) for name in names}
    data["chart"] = drawing_data(level_svg(paper.chart))
    data["patterns"] = [drawing_data(pattern_svg(each)) for each in paper.patterns]
    if missing:
        data["cautions"] = [*data["cautions"], missing_sentence("The paper", tuple(missing)[:MOST_MISSING])]
    data["foot"] = foot_data(data["head"])
    return data
