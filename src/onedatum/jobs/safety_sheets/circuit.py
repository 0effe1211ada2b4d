"""The descriptive system document of the intrinsically safe circuit: its items, every inequality, its margins."""

from __future__ import annotations

from collections.abc import Iterator

from onedatum.case.model.hazard import CircuitDevice, CircuitSource
from onedatum.foundation.units import in_print
from onedatum.jobs.cut import NOT_KNOWN
from onedatum.jobs.safety_sheets.words import checked, length, outcome, present, said, shown, two_columns, verdict_of
from onedatum.paper import model as paper
from onedatum.study.cautions import AREA, DEFERENCE
from onedatum.study.findings import CIRCUIT_HOLDS
from onedatum.study.ignition import CIRCUIT_KEYS, CircuitChapter
from onedatum.study.result import Study
from onedatum.verdicts import Verdict

ANSWERS = {
    Verdict.SUITS: "The simple check of one source, its apparatus and the cable holds by the values as stated.",
    Verdict.ON_CONDITIONS: "The simple check waits for values of certificates that are ours to choose.",
    Verdict.UNDECIDED: "The simple check is not decided yet.",
    Verdict.DOES_NOT_SUIT: "The simple check of the circuit does not hold.",
}
REFUSED = "No simple check is made of this circuit; a competent person assesses it."
STATEMENT = (
    "The check supports the competent person; it does not replace the certificates, their special conditions, or the "
    "inspection of the circuit as built."
)
LARGEST_POWER = "A linear source may give Uo Io / 4: where Po is stated lower, that is compared with Pi in its place."
WORDS = ("circuit-sources", "circuit-apparatus", "circuit-characteristic", "circuit-level", "circuit-group", "earth-")


def circuit_sheet(study: Study) -> paper.TopicSheet | None:
    """The descriptive system document; None where there is no such circuit."""
    circuit = study.safe.ignition.circuit if study.safe.ignition else None
    if circuit is None:
        return None
    verdict = verdict_of(study, CIRCUIT_KEYS) or Verdict.UNDECIDED
    if verdict is Verdict.SUITS and not any(finding.key == CIRCUIT_HOLDS for finding in study.findings):
        verdict = Verdict.UNDECIDED
    return paper.TopicSheet(
        "Intrinsically safe circuit: descriptive system document",
        REFUSED if circuit.refused else ANSWERS[verdict],
        (AREA, STATEMENT, DEFERENCE),
        present(
            (
                _items(study, circuit),
                _cable(study),
                _halving(circuit),
                _inequalities(study, circuit),
                checked(study, WORDS, "Level, group and earth"),
                _result(study, circuit),
            )
        ),
        None,
        tuple(_notes(circuit)),
    )


def _items(study: Study, circuit: CircuitChapter) -> paper.SheetTable:
    stated = study.statement.case.circuit
    rows = [_source(stated.source)]
    rows += [_device(name, each) for name, each in zip(circuit.devices, stated.devices.items, strict=True)]
    head = ("item", "certificate", "level, group", "U", "I", "P", "C", "L")
    note = "Of the source Uo, Io, Po, Co, Lo; of the apparatus Ui, Ii, Pi, Ci, Li; as the certificates state them."
    weights = (1.9, 1.9, 1.3, 0.9, 1.0, 1.0, 1.0, 1.0)
    return paper.SheetTable("Items of the circuit", head, tuple(rows), weights, note=note)


def _source(source: CircuitSource) -> tuple[str, ...]:
    values = (source.Uo, source.Io, source.Po, source.Co, source.Lo)
    word = f"{source.level.word or NOT_KNOWN}, for {source.for_group.word or NOT_KNOWN}"
    return ("source", said(source.certificate), word, *map(said, values))


def _device(name: str, device: CircuitDevice) -> tuple[str, ...]:
    values = (device.Ui, device.Ii, device.Pi, device.Ci, device.Li)
    word = f"{device.level.word or NOT_KNOWN}, {device.group.word or NOT_KNOWN}"
    return (name, said(device.certificate), word, *map(said, values))


def _cable(study: Study) -> paper.SheetTable:
    cable, sheet = study.statement.case.loop.cable, study.sheet.entries
    rows = [
        ("length", said(cable.length)),
        ("construction", said(cable.construction)),
        ("capacitance per length", _with_state(study, "loop.cable.capacitance")),
        ("inductance per length", _with_state(study, "loop.cable.inductance")),
        ("inductance per resistance", said(cable.inductance_per_resistance)),
    ]
    if "loop.cable.capacitance_counted" in sheet:
        rows.insert(3, ("with that to the screen", shown(sheet["loop.cable.capacitance_counted"])))
    return two_columns("The cable", rows)


def _with_state(study: Study, name: str) -> str:
    entry = study.sheet.entries.get(name)
    if entry is None or not entry.known:
        return NOT_KNOWN
    return (
        in_print(f"{entry.text} (figure for unknown cable, {entry.source.source.tag})")
        if (entry.state == "assumed" and entry.source)
        else in_print(entry.text)
    )


def _halving(circuit: CircuitChapter) -> paper.SheetTable | None:
    halving = circuit.halving
    if halving is None:
        return None
    answers = {True: "yes", False: "no", None: NOT_KNOWN}
    rows = [
        ("internal capacitance above 1 % of Co", answers[halving.over_capacitance]),
        ("internal inductance above 1 % of Lo", answers[halving.over_inductance]),
        ("the rule of one half applies (both needed)", answers[halving.applies]),
        ("capacitance that may be used", shown(halving.capacitance)),
        ("inductance that may be used", shown(halving.inductance)),
    ]
    return two_columns("The rule of one half", rows, "IEC 60079-14, from memory: read the clause before it decides.")


def _inequalities(study: Study, circuit: CircuitChapter) -> paper.SheetTable | None:
    if not circuit.inequalities:
        return None
    rows, failing = [], []
    for place, line in enumerate(circuit.inequalities):
        check = next(
            (
                c
                for c in study.checks
                if (c.limit.value_entry, c.limit.limit_entry) == (line.value.name, line.limit.name)
            ),
            None,
        )
        word = outcome(check) if check else NOT_KNOWN
        if check and check.verdict is Verdict.DOES_NOT_SUIT:
            failing.append(place)
        rows.append((in_print(line.text), shown(line.value), shown(line.limit), shown(line.margin), word))
    head = ("inequality", "is", "at most", "left", "outcome")
    weights = (3.2, 1.4, 1.4, 1.4, 1.4)
    return paper.SheetTable("The comparison", head, tuple(rows), weights, tuple(failing), LARGEST_POWER)


def _result(study: Study, circuit: CircuitChapter) -> paper.SheetTable:
    by_inductance = (
        "no limit: by Lo/Ro"
        if circuit.longest_by_inductance is None and circuit.inequalities
        else length(study, circuit.longest_by_inductance)
    )
    needs = study.safe.ignition.needs if study.safe.ignition else None
    stated = study.statement.case.circuit
    rows = [
        ("level of protection of the circuit", circuit.level or NOT_KNOWN),
        ("group of the circuit", circuit.group or NOT_KNOWN),
        ("temperature class of the instrument", said(study.statement.case.instrument.protection.temperature_class)),
        (
            "group and class of the place",
            f"{needs.group or NOT_KNOWN}, {needs.temperature_class or NOT_KNOWN}" if needs else "",
        ),
        ("longest cable by capacitance", length(study, circuit.longest_by_capacitance)),
        ("longest cable by inductance", by_inductance),
        ("earthed at", said(stated.earth_points)),
        ("stands 500 V to earth elsewhere", said(stated.insulated_500_V)),
    ]
    return two_columns("The circuit as a whole", rows)


def _notes(circuit: CircuitChapter) -> Iterator[paper.Note]:
    for reason in circuit.refused:
        yield paper.Note(in_print(f"{reason.text} {reason.value}".strip()), "refused: the simple check does not hold")
    yield paper.Note(
        "One linear source only. Several sources, other characteristics, pressure, heat or oxygen beyond the "
        "atmosphere need the procedures of the standards and a specialist.",
    )
