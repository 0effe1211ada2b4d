"""The certificate on paper and as XML: everything is printed, the rule first; the file is PDF/A-3 with its data in it.

PDF/A-3 is ISO 19005-3, PDF/UA-1 is ISO 14289-1; both say of themselves in the metadata what they are. The order of the
elements is that of the schema of the Digital Calibration Certificate, version 3.3.0, as read in a public copy of it.
"""

from __future__ import annotations

from dataclasses import replace
from io import BytesIO
from itertools import pairwise
from typing import Any
from xml.etree import ElementTree

import pytest
from pypdf import PdfReader

from onedatum.paper.certificate.as_pdf import certificate_pdf
from onedatum.paper.certificate.chart import drift_svg, error_svg
from onedatum.paper.certificate.dcc import DCC as DCC_SPACE
from onedatum.paper.certificate.dcc import SI, dcc_xml
from onedatum.paper.certificate.model import Attached, Certificate, ErrorChart
from onedatum.paper.model import Head, Note
from onedatum.paper.table.model import Line
from tests.closeness import close, exact
from tests.paper.certificate_sample import CERTIFICATE, CHART, DCC, DRIFT, FOUND
from tests.pdf import pages_of

NASTY = "#eval(1) $x$ \\ <b> \u0007 日本 " + "W" * 300
FILES = (
    Attached("a.xml", b"<a>\xc3\xa9</a>", "application/xml", "data"),
    Attached("b.json", b"{}", "application/json", "more data"),
)


def words_of(pdf: bytes) -> str:
    return " ".join("".join(pages_of(pdf)).split())


def hostile() -> Certificate:
    """Every text replaced by what would break a paper that trusted it."""
    run = replace(FOUND, kind=NASTY, answer=NASTY, lines=(Line(NASTY, NASTY),), remarks=(NASTY,) * 40)
    return replace(
        CERTIFICATE,
        head=Head(NASTY, NASTY),
        answer=NASTY,
        rule=NASTY,
        rule_said=NASTY,
        decision=(Line(NASTY, NASTY),),
        what=(Line(NASTY, NASTY),),
        reference=(Line(NASTY, ""),),
        runs=(run, run),
        chart=ErrorChart((), None, None, 0.0),
        records=(Note(NASTY, NASTY),),
        statement=NASTY,
        cautions=(NASTY,),
    )


# ---------------------------------------------------------------- PDF


@pytest.mark.parametrize(
    "said",
    [
        "dip tape 7, certificate K-2031",
        "U = 1.0 mm",
        "Non-binary acceptance",
        "13.8 mm",
        "conditional pass",
        "97.2 %",
        "trim of the current output",
        "A. Reader",
        "377085505b4c77a533f6938069e0b53cb3f5a7e5e5ef1bffc12d2f3a961da12b",
        "It replaces no accredited certificate.",
        "invented example",
    ],
)
def test_every_part_stands_on_paper(said: str) -> None:
    assert said.replace(" ", "") in words_of(certificate_pdf(CERTIFICATE)).replace(" ", "")


def test_the_rule_stands_before_the_runs() -> None:
    said = words_of(certificate_pdf(CERTIFICATE))
    assert said.index("agreed before the result") < said.index("As found:")


def test_the_file_is_for_the_archive_and_holds_its_data() -> None:
    pdf = certificate_pdf(CERTIFICATE, FILES)
    reader = PdfReader(BytesIO(pdf))
    assert {name: content[0] for name, content in reader.attachments.items()} == {
        each.name: each.content for each in FILES
    }
    catalogue: Any = reader.trailer["/Root"]
    metadata = catalogue["/Metadata"].get_object().get_data().decode()
    assert "<pdfaid:part>3</pdfaid:part>" in metadata
    assert "<pdfaid:conformance>A</pdfaid:conformance>" in metadata
    assert "<pdfuaid:part>1</pdfuaid:part>" in metadata


def test_the_same_content_gives_the_same_bytes() -> None:
    assert certificate_pdf(CERTIFICATE, FILES) == certificate_pdf(CERTIFICATE, FILES)


def test_hostile_text_is_printed_as_text() -> None:
    said = words_of(certificate_pdf(hostile()))
    assert "#eval(1)" in said
    assert "U+65E5" in said


# ---------------------------------------------------------------- charts


def marks(svg: str) -> list[tuple[float, float]]:
    """Where the marks of a chart stand: the first corner of every diamond that stands in the field, in px."""
    paths = [e.get("d", "") for e in ElementTree.fromstring(svg).iter() if e.tag.endswith("path")]
    corners = [[tuple(map(float, p.split())) for p in d[1:].split("L")] for d in paths if d.count("L") == 4]
    closed = [c for c in corners if c[0] == c[4]]
    return [(c[0][0], (c[0][1] + c[2][1]) / 2) for c in closed if c[0][1] > 20.0]


def test_marks_stand_at_their_errors() -> None:
    """Heights of marks are affine in the errors: three of them on the line through the other two."""
    found = sorted(y for _, y in marks(error_svg(CHART)))
    errors = sorted((0.6, 13.9, 0.3, 0.5), reverse=True)
    slope = (found[-1] - found[0]) / (errors[-1] - errors[0])
    for y, error in zip(found, errors, strict=True):
        assert close(y, found[0] + slope * (error - errors[0]), 0.05, "coordinates have two decimals")


def test_a_chart_says_in_words_what_it_draws() -> None:
    assert "as found: 0.6 mm at 100 mm, 13.9 mm at 2697 mm" in error_svg(CHART)
    assert "100 % from 13.9 mm to 2.4 mm" in drift_svg(DRIFT)


def test_a_chart_of_nothing_is_a_sentence() -> None:
    for svg in (
        error_svg(ErrorChart((), -1.0, 1.0, 0.0)),
        error_svg(replace(CHART, traces=(replace(CHART.traces[0], points=((0.0, float("nan"), 1.0, 1.0),) * 3),))),
        drift_svg(replace(DRIFT, days=(0.0, 0.0, 0.0))),
    ):
        assert "No chart" in svg


def test_names_of_points_do_not_cover_one_another() -> None:
    svg = drift_svg(replace(DRIFT, errors=((1.0, 1.0, 1.0), (1.0, 1.0, 1.01), (1.0, 1.0, 1.02))))
    texts = [e for e in ElementTree.fromstring(svg).iter() if e.tag.endswith("text") and e.text in DRIFT.names]
    heights = sorted(float(e.get("y", "nan")) for e in texts)
    assert len(heights) == 3
    assert all(upper - lower >= 12.0 for lower, upper in pairwise(heights))


# ---------------------------------------------------------------- XML

ORDER = {
    "digitalCalibrationCertificate": "administrativeData measurementResults comment document",
    "administrativeData": "dccSoftware refTypeDefinitions coreData items calibrationLaboratory respPersons customer "
    "statements",
    "software": "name release type description",
    "coreData": "countryCodeISO3166_1 usedLangCodeISO639_1 mandatoryLangCodeISO639_1 uniqueIdentifier identifications "
    "receiptDate beginPerformanceDate endPerformanceDate performanceLocation issueDate",
    "item": "name equipmentClass description owner installedSoftwares manufacturer model identifications "
    "itemQuantities",
    "identification": "issuer value name",
    "contact": "name eMail phone fax link location descriptionData",
    "customer": "name eMail phone fax link location descriptionData",
    "respPerson": "person description role mainSigner",
    "statement": "name description norm reference link declaration valid date period",
    "measurementResult": "name description usedMethods usedSoftware measuringEquipments influenceConditions results "
    "measurementMetaData",
    "usedMethod": "name description norm reference link usedMethodQuantities",
    "measuringEquipment": "name equipmentClass description certificate manufacturer model identifications "
    "measuringEquipmentQuantities",
    "measuringEquipmentQuantity": "name description real",
    "influenceCondition": "name description status certificate data",
    "result": "name description data",
    "list": "name description dateTime quantity measurementMetaData",
    "quantity": "name description noQuantity real",
    "metaData": "name description declaration valid conformity data",
    "real": "label value unit dateTime measurementUncertaintyUnivariate",
    "expandedMU": "valueExpandedMU coverageFactor coverageProbability distribution",
}
"""Of each element those within it, in the order of the schema; that of `real` and `expandedMU` from public examples."""
NEEDED = {
    "administrativeData": "dccSoftware coreData items calibrationLaboratory respPersons customer",
    "coreData": "countryCodeISO3166_1 usedLangCodeISO639_1 mandatoryLangCodeISO639_1 uniqueIdentifier "
    "beginPerformanceDate endPerformanceDate performanceLocation",
    "item": "name identifications",
    "contact": "name location",
    "measurementResult": "name results",
    "result": "name data",
    "influenceCondition": "name data",
}


def local(element: ElementTree.Element) -> str:
    return element.tag.rpartition("}")[2]


def structure_faults(root: ElementTree.Element) -> list[str]:
    """What stands where the schema has no place for it, or is missing where it asks for it."""
    faults = []
    for element in root.iter():
        inner, name = [local(each) for each in element], local(element)
        if name in ORDER:
            allowed = ORDER[name].split()
            faults += [f"{each} in {name}" for each in inner if each not in allowed]
            places = [allowed.index(each) for each in inner if each in allowed]
            faults += [f"order of {name}: {inner}"] if places != sorted(places) else []
        faults += [f"no {each} in {name}" for each in NEEDED.get(name, "").split() if each not in inner]
        if not inner and not (element.text or "").strip():
            faults.append(f"{name} is empty")
    return faults


def test_the_xml_is_built_as_the_schema_says() -> None:
    assert structure_faults(ElementTree.fromstring(dcc_xml(DCC))) == []


def test_the_look_at_the_structure_can_fail() -> None:
    root = ElementTree.fromstring(dcc_xml(DCC))
    core = next(e for e in root.iter() if local(e) == "coreData")
    core.insert(0, core[-1])
    core.remove(core[2])
    assert len(structure_faults(root)) >= 2


def test_numbers_and_verdicts_of_the_xml_are_those_of_the_run() -> None:
    root = ElementTree.fromstring(dcc_xml(DCC))
    values = [float(e.text or "") for e in root.iter(f"{{{SI}}}value")]
    assert exact(values, [0.001, 287.15, 0.1, 0.0004, 0.0009, 2.697, 0.0138])
    spreads = [float(e.text or "") for e in root.iter(f"{{{SI}}}valueExpandedMU")]
    assert exact(spreads, [0.00134] * 3)
    said = [e.text for e in root.iter(f"{{{DCC_SPACE}}}conformity")]
    assert said == ["pass", "conditionalPass", "conditionalPass"]
    assert [e.text for e in root.iter(f"{{{DCC_SPACE}}}status")] == ["beforeAdjustment"]


def test_the_xml_says_that_it_is_a_draft_twice() -> None:
    assert dcc_xml(DCC).count(b"Draft, not validated") == 2


def test_hostile_text_stays_text_in_the_xml() -> None:
    said = "</dcc:content><x>\u0000\u0007 ]]> & \ud800"
    data = replace(DCC, tag=said, service=said, checked_by=said, rule=said, method=said)
    root = ElementTree.fromstring(dcc_xml(data))
    assert structure_faults(root) == []
    assert any("</dcc:content><x> ]]> &" in (e.text or "") for e in root.iter())
