"""The certificate as an accessible PDF for the archive, with its data in it.

The file is PDF/A-3 (level a) and PDF/UA-1 at once; the machine-readable forms are attached, so that paper and data
cannot be parted.
"""

from collections.abc import Sequence

from onedatum.paper.certificate.chart import error_svg
from onedatum.paper.certificate.model import Attached, Certificate
from onedatum.paper.data import Data, drawing_data, foot_data, plain
from onedatum.paper.quantity.as_pdf import pairs
from onedatum.paper.text import missing_sentence
from onedatum.paper.typeset import Enclosed, Standard, typeset

TEMPLATE = "certificate.typ"
STANDARDS: tuple[Standard, ...] = ("a-3a", "ua-1")
MOST_MISSING = 40


def certificate_pdf(certificate: Certificate, attached: Sequence[Attached] = ()) -> bytes:
    """The certificate with the files attached; the same bytes for the same content."""
    enclosed = [Enclosed(each.name, each.content.decode("utf-8"), each.mime_type, each.words) for each in attached]
    return typeset(TEMPLATE, certificate_data(certificate), STANDARDS, enclosed)


def certificate_data(certificate: Certificate) -> Data:
    """Everything the template prints, each text reduced to what the fonts hold; what that cost joins the cautions."""
    missing: dict[str, None] = {}
    names = ("head", "answer", "rule", "rule_said", "records", "statement", "cautions", "attached")
    data: Data = {name: plain(getattr(certificate, name), missing) for name in names}
    for name in ("decision", "what", "reference"):
        data[name] = plain(pairs(getattr(certificate, name)), missing)
    data["dated"] = dict(zip(("year", "month", "day"), map(int, certificate.dated.split("-")), strict=True))
    data["runs"] = []
    for run in certificate.runs:
        shown = plain(run, missing)
        data["runs"].append(
            shown | {"lines": plain(pairs(run.lines), missing), "figures": plain(pairs(run.figures), missing)}
        )
    data["chart"] = drawing_data(error_svg(certificate.chart))
    if missing:
        data["cautions"] = [*data["cautions"], missing_sentence("The certificate", tuple(missing)[:MOST_MISSING])]
    data["foot"] = foot_data(data["head"])
    return data
