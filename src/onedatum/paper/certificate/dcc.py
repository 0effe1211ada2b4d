"""The machine-readable form of a certificate, as an XML of the Digital Calibration Certificate.

It follows the schema 3.3.0 (namespace https://ptb.de/dcc): the names of its elements and their order were read in a
public copy of that schema, those of the D-SI (namespace https://ptb.de/si) in public examples. It was not validated
against the schema, which the file says of itself. What the schema asks for and nobody stated is named as not stated.
"""

from dataclasses import dataclass
from datetime import datetime
from xml.etree import ElementTree as ET

DCC, SI = "https://ptb.de/dcc", "https://ptb.de/si"
VERSION = "3.3.0"
COVERAGE = "0.95"
DRAFT = (
    "Draft, not validated against the schema. The structure follows schema 3.3.0 as read in a public copy of it; "
    "use it after your own validation."
)
NOT_STATED = "not stated"
NO_COUNTRY = "ZZ"
"""A code that ISO 3166-1 leaves to its users: no country is stated."""
CONFORMITY = {
    "pass": "pass",
    "fail": "fail",
    "conditional pass": "conditionalPass",
    "conditional fail": "conditionalFail",
}
STATUS = {"as found": "beforeAdjustment", "as left": "afterAdjustment"}


@dataclass(frozen=True, slots=True)
class DccPoint:
    """One point in SI: its level, its errors with their common expanded uncertainty."""

    name: str
    level_m: float
    errors_m: tuple[tuple[str, float | None], ...]
    verdict: str


@dataclass(frozen=True, slots=True)
class DccEquipment:
    """A reference: its name, its certificate, its expanded uncertainty in its own unit of the D-SI."""

    name: str
    certificate: str
    expanded: float
    coverage_factor: float
    unit: str


@dataclass(frozen=True, slots=True)
class DccRun:
    """One run."""

    kind: str
    begin: datetime
    end: datetime
    who: str
    record_hash: str
    expanded_m: float
    coverage_factor: float
    verdict: str
    points: tuple[DccPoint, ...]
    equipment: tuple[DccEquipment, ...]
    temperature_K: float | None = None


@dataclass(frozen=True, slots=True)
class DccData:
    """What the XML holds."""

    identifier: str
    tag: str
    service: str
    tool_version: str
    rule: str
    rule_said: str
    method: str
    statement: str
    checked_by: str
    runs: tuple[DccRun, ...]
    invented: bool = False


def dcc_xml(data: DccData) -> bytes:
    """The certificate as XML in UTF-8; the same bytes for the same data."""
    ET.register_namespace("dcc", DCC)
    ET.register_namespace("si", SI)
    root = ET.Element(f"{{{DCC}}}digitalCalibrationCertificate", {"schemaVersion": VERSION})
    root.append(ET.Comment(f" {DRAFT} "))
    _administrative(root, data)
    results = _add(root, "measurementResults")
    for run in data.runs:
        _result(results, data, run)
    ET.indent(root, " ")
    text: str = ET.tostring(root, encoding="unicode")
    return f'<?xml version="1.0" encoding="UTF-8"?>\n{text}\n'.encode()


def _administrative(root: ET.Element, data: DccData) -> None:
    found = _add(root, "administrativeData")
    software = _add(_add(found, "dccSoftware"), "software")
    _text(software, "name", "onedatum")
    _word(software, "release", data.tool_version)
    _core(found, data)
    _item(found, data)
    _contact(_add(_add(found, "calibrationLaboratory"), "contact"), NOT_STATED)
    persons = _add(found, "respPersons")
    for number, name in enumerate(dict.fromkeys([*(run.who for run in data.runs), data.checked_by])):
        if name:
            person = _add(persons, "respPerson")
            _text(_add(person, "person"), "name", name)
            _word(person, "role", "checked" if name == data.checked_by and number else "read")
    _contact(_add(found, "customer"), NOT_STATED)
    _statements(found, data)


def _core(found: ET.Element, data: DccData) -> None:
    core = _add(found, "coreData")
    _word(core, "countryCodeISO3166_1", NO_COUNTRY)
    _word(core, "usedLangCodeISO639_1", "en")
    _word(core, "mandatoryLangCodeISO639_1", "en")
    _word(core, "uniqueIdentifier", data.identifier)
    _word(core, "beginPerformanceDate", min(run.begin for run in data.runs).date().isoformat())
    _word(core, "endPerformanceDate", max(run.end for run in data.runs).date().isoformat())
    _word(core, "performanceLocation", "customer")


def _item(found: ET.Element, data: DccData) -> None:
    item = _add(_add(found, "items"), "item")
    _text(item, "name", f"level measurement {data.tag}")
    service = f"{data.service} (invented example)" if data.invented else data.service
    if service.strip():
        _text(item, "description", service)
    identification = _add(_add(item, "identifications"), "identification")
    _word(identification, "issuer", "owner")
    _word(identification, "value", data.tag)
    _text(identification, "name", "tag")


def _statements(found: ET.Element, data: DccData) -> None:
    statements = _add(found, "statements")
    for words in (DRAFT, data.statement, f"Decision rule, agreed before the result: {data.rule}. {data.rule_said}"):
        _text(_add(statements, "statement"), "declaration", words)


def _result(results: ET.Element, data: DccData, run: DccRun) -> None:
    result = _add(results, "measurementResult")
    _text(result, "name", f"error of the level, {run.kind}")
    _text(result, "description", f"SHA-256 of the record: {run.record_hash}")
    method = _add(_add(result, "usedMethods"), "usedMethod")
    _text(method, "name", "comparison with a reference over the span")
    _text(method, "description", data.method)
    equipments = _add(result, "measuringEquipments")
    for each in run.equipment:
        _equipment(equipments, each)
    _conditions(result, run)
    listed = _add(result, "results")
    for point in run.points:
        _point(listed, run, point)
    meta = _add(_add(result, "measurementMetaData"), "metaData")
    _text(meta, "declaration", f"{run.kind}: {run.verdict} by {data.rule}")
    _word(meta, "conformity", CONFORMITY[run.verdict])


def _equipment(equipments: ET.Element, each: DccEquipment) -> None:
    equipment = _add(equipments, "measuringEquipment")
    _text(equipment, "name", each.name)
    identification = _add(_add(equipment, "identifications"), "identification")
    _word(identification, "issuer", "other")
    _word(identification, "value", each.certificate)
    _text(identification, "name", "certificate")
    quantity = _add(_add(equipment, "measuringEquipmentQuantities"), "measuringEquipmentQuantity")
    _text(quantity, "name", f"expanded uncertainty, k = {_number(each.coverage_factor)}")
    _real(quantity, each.expanded, each.unit)


def _conditions(result: ET.Element, run: DccRun) -> None:
    """That of the adjustment always; the temperature of the surroundings where it was noted."""
    conditions = _add(result, "influenceConditions")
    condition = _add(conditions, "influenceCondition")
    _text(condition, "name", "adjustment")
    _word(condition, "status", STATUS[run.kind])
    _text(_add(condition, "data"), "text", run.kind)
    if run.temperature_K is not None:
        condition = _add(conditions, "influenceCondition")
        _text(condition, "name", "temperature of the surroundings")
        quantity = _add(_add(condition, "data"), "quantity")
        _real(quantity, run.temperature_K, r"\kelvin")


def _point(listed: ET.Element, run: DccRun, point: DccPoint) -> None:
    result = _add(listed, "result")
    _text(result, "name", f"point {point.name}")
    found = _add(_add(result, "data"), "list")
    level = _add(found, "quantity")
    _text(level, "name", "planned level")
    _real(level, point.level_m, r"\metre")
    for name, error_m in point.errors_m:
        quantity = _add(found, "quantity")
        _text(quantity, "name", name)
        if error_m is None:
            _text(quantity, "noQuantity", "the signal tells no level")
        else:
            _real(quantity, error_m, r"\metre", run.expanded_m, run.coverage_factor)
    meta = _add(_add(found, "measurementMetaData"), "metaData")
    _word(meta, "conformity", CONFORMITY[point.verdict])


# ---------------------------------------------------------------- elements


def _add(parent: ET.Element, name: str, space: str = DCC) -> ET.Element:
    return ET.SubElement(parent, f"{{{space}}}{name}")


def _word(parent: ET.Element, name: str, words: str, space: str = DCC) -> None:
    """A text alone: never empty, without control characters, which XML does not hold."""
    _add(parent, name, space).text = _said(words)


def _text(parent: ET.Element, name: str, words: str) -> None:
    """A text with its language."""
    content = _add(_add(parent, name), "content")
    content.set("lang", "en")
    content.text = _said(words)


def _said(words: str) -> str:
    """Words as XML holds them: no control characters, no blanks at the ends, never nothing."""
    return " ".join("".join(char if char.isprintable() else " " for char in words).split()) or NOT_STATED


def _contact(parent: ET.Element, name: str) -> None:
    _text(parent, "name", name)
    _text(_add(parent, "location"), "further", NOT_STATED)


def _real(
    parent: ET.Element, value: float, unit: str, expanded: float | None = None, coverage_factor: float = 2.0
) -> None:
    """A number of the D-SI, with its expanded uncertainty where it has one."""
    real = _add(parent, "real", SI)
    _word(real, "value", _number(value), SI)
    _word(real, "unit", unit, SI)
    if expanded is not None:
        uncertainty = _add(_add(real, "measurementUncertaintyUnivariate", SI), "expandedMU", SI)
        for name, said in (
            ("valueExpandedMU", _number(expanded)),
            ("coverageFactor", _number(coverage_factor)),
            ("coverageProbability", COVERAGE),
        ):
            _word(uncertainty, name, said, SI)


def _number(value: float) -> str:
    """A number in the shortest form that reads back as the same within a nanometre of a kilometre."""
    return f"{value:.12g}"
