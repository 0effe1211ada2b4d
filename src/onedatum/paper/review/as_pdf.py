"""The paper of a log review as an accessible PDF, A4."""

from onedatum.paper.data import Data, drawing_data, foot_data, plain
from onedatum.paper.review.chart import log_svg
from onedatum.paper.review.model import LogReview
from onedatum.paper.text import missing_sentence
from onedatum.paper.typeset import typeset

TEMPLATE = "review.typ"
MOST_MISSING = 40


def review_pdf(paper: LogReview) -> bytes:
    """The paper as PDF/UA-1; the same bytes for the same content."""
    return typeset(TEMPLATE, review_data(paper))


def review_data(paper: LogReview) -> Data:
    """Everything the template prints, each text reduced to what the fonts hold."""
    missing: dict[str, None] = {}
    names = [name for name in LogReview.__dataclass_fields__ if name != "chart"]
    data: Data = {name: plain(getattr(paper, name), missing) for name in names}
    data["chart"] = drawing_data(log_svg(paper.chart))
    if missing:
        data["cautions"] = [*data["cautions"], missing_sentence("The paper", tuple(missing)[:MOST_MISSING])]
    data["foot"] = foot_data(data["head"])
    return data
