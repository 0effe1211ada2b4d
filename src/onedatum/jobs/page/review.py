"""The page of a log review: which files, the review made of them in the background, what is shown of it.

A review is known by the contents it was made from. Its rows are kept beside it, so that a part of the log is drawn
without reviewing again.
"""

from __future__ import annotations

import json
import shutil
import time
from collections.abc import Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass, field
from hashlib import sha256
from pathlib import Path
from typing import TYPE_CHECKING
from urllib.parse import urlencode

from onedatum.case.reading import read_case_text
from onedatum.foundation.constants import VERSION
from onedatum.foundation.errors import CaseError, Fault, LogError, OutputError
from onedatum.foundation.sources import data_version
from onedatum.foundation.units import in_print
from onedatum.foundation.units.grammar import quoted
from onedatum.jobs.convert import ready
from onedatum.jobs.keeping.logs import PLACE, Kind, LogFile, log_file, logs_of, seen
from onedatum.jobs.page.made import CaseText, made_of
from onedatum.jobs.paper_of_study import head_of
from onedatum.jobs.write import json_bytes
from onedatum.paper.model import Head
from onedatum.paper.review.model import Stated
from onedatum.paper.review.times import text_of

if TYPE_CHECKING:  # they load the library of record batches
    from onedatum.jobs.review import Reviewed as Found
    from onedatum.logs.review.finding import Finding

KEPT = 6
"""Reviews whose rows are kept; the oldest go first."""
MOST_LOGS = 24
PART = ".part"
TOLD_EACH_S = 0.2
READING = 0.9
"""Of the work: reading; the rest is judging and the paper."""
WAITS = "progress-"
MAPPING_HELP = """mapping: 1
time: {column: time, form: iso, zone: in the text}
value: {column: level, unit: mm}"""


@dataclass(frozen=True)
class Chosen:
    """The files of a review, by their names in the folder of logs."""

    logs: tuple[str, ...] = ()
    map: str = ""
    dips: str = ""
    movements: str = ""

    @property
    def is_empty(self) -> bool:
        """Whether nothing is chosen yet."""
        return not (self.logs or self.map or self.dips or self.movements)

    def named(self) -> list[tuple[str, str, Kind]]:
        """Field, name and kind of each."""
        found: list[tuple[str, str, Kind]] = [("log", each, "log") for each in self.logs]
        found += [("map", self.map, "map")] if self.map else []
        beside = (("dips", self.dips), ("movements", self.movements))
        return [*found, *((key, name, "lines") for key, name in beside if name)]

    def pairs(self) -> list[tuple[str, str]]:
        """As they stand in an address."""
        return [(key, name) for key, name, _ in self.named()]

    def query(self, *more: tuple[str, str]) -> str:
        """As they stand in an address, with more."""
        return urlencode([*self.pairs(), *more])


@dataclass(frozen=True)
class Stamped:
    """Files that were chosen, each as it was then."""

    chosen: Chosen
    files: tuple[LogFile, ...]


@dataclass(frozen=True)
class FindingView:
    """One finding in words."""

    number: int
    title: str
    from_us: int
    to_us: int
    when: str
    said: str
    statistic: str
    alarms: str
    competing: tuple[str, ...]
    next_check: str


@dataclass(frozen=True)
class Shown:
    """What a page shows of a review."""

    key: str
    title: str
    basis: str
    findings: tuple[FindingView, ...]
    nothing_said: str
    not_judged: tuple[str, ...]
    notes: tuple[str, ...]
    cautions: tuple[str, ...]
    first_us: int
    last_us: int
    usual_us: float
    gaps: tuple[tuple[int, int], ...]
    dips: tuple[tuple[int, float], ...]
    has_level: bool
    has_current: bool


@dataclass(frozen=True)
class Reviewed:
    """A review as the server holds it; with faults there is none."""

    faults: tuple[str, ...] = ()
    key: str = ""
    shown: Shown | None = None
    """None where the one that is held already is the same."""
    pdf: bytes = field(default=b"", repr=False)
    json: bytes = field(default=b"", repr=False)


@dataclass(frozen=True)
class FormView:
    """The choice of files, and what is wrong with it."""

    head: Head
    files: tuple[LogFile, ...]
    chosen: Chosen
    faults: Mapping[str, str]
    place: str = PLACE
    example: str = MAPPING_HELP

    def of(self, kind: Kind) -> list[str]:
        """The names that a field offers."""
        return [each.name for each in self.files if each.is_of(kind)]


def form_view(case: CaseText, chosen: Chosen, faults: Mapping[str, Fault]) -> FormView:
    """The form; `faults` by field."""
    told = {key: in_print(fault.sentence()) for key, fault in faults.items()}
    return FormView(head_of(made_of(case, {}).study), logs_of(Path(case.folder)), chosen, told)


def stamped(folder: Path, chosen: Chosen) -> tuple[Stamped | None, dict[str, Fault]]:
    """The files as they are now; what is wrong with the choice by field, "" for what belongs to none."""
    faults: dict[str, Fault] = {}
    lacking = ready()
    if lacking is not None:
        faults[""] = lacking
    if not chosen.logs:
        faults["log"] = Fault("the log", "chosen", "none", f"it is a file of the folder {PLACE}")
    elif len(set(chosen.logs)) != len(chosen.logs) or len(chosen.logs) > MOST_LOGS:
        faults["log"] = Fault("the logs", f"at most {MOST_LOGS} files, each once", f"{len(chosen.logs)}")
    if not chosen.map:
        why = "which column is the time, which the value, and in which unit, is not guessed"
        faults["map"] = Fault("the mapping", "chosen", "none", why)
    files = []
    for key, name, kind in chosen.named()[: MOST_LOGS + 3]:
        try:
            files.append(seen(folder, name, kind))
        except LogError as error:
            faults.setdefault(key, error.faults[0])
    return (None, faults) if faults else (Stamped(chosen, tuple(files)), {})


# ---------------------------------------------------------------- in the background


def reviewed(case: CaseText, chosen: Chosen, place: Path, token: str, held: Sequence[str]) -> Reviewed:
    """Review, keep the rows in `place`, tell how far it is in a file there; raises LogError, OutputError."""
    from onedatum.jobs.review import Asked, review
    from onedatum.logs.review.kept import Keeping

    folder = Path(case.folder)
    try:
        paths = {key: log_file(folder, name, kind) for key, name, kind in chosen.named()}
        logs = tuple(log_file(folder, name, "log") for name in chosen.logs)
        key = _key(case, chosen, folder)
        if key in held and (place / key).is_dir():
            return Reviewed(key=key)
        statement = read_case_text(case.text, f"{case.name}.yaml", folder)
        named = Path(f"{case.name}.yaml")
        asked = Asked(logs, named, paths["map"], paths.get("dips"), paths.get("movements"), statement)
        keeping = Keeping(_begun(place, key))
        found = review(asked, _Meter(place / f"{WAITS}{token}"), keeping.add)
        keeping.done()
        made = _made(found, key)
        keeping.folder.rename(place / key)
    except (LogError, CaseError) as error:
        return Reviewed(tuple(_without(str(fault), folder) for fault in error.faults))
    except OSError as error:
        raise OutputError.of(place, error) from error
    finally:
        with suppress(OSError):
            (place / f"{WAITS}{token}").unlink(missing_ok=True)
        for each in place.glob(f"*{PART}"):
            shutil.rmtree(each, ignore_errors=True)
    return made


def progress_file(place: Path, token: str) -> Path:
    """Where it is told how far a review is."""
    return place / f"{WAITS}{token}"


def _key(case: CaseText, chosen: Chosen, folder: Path) -> str:
    """The hash of everything that a review is made from."""
    from onedatum.jobs.convert.writing import digest_of

    contents = []
    for key, name, kind in chosen.named():
        try:
            contents.append([key, name, digest_of(log_file(folder, name, kind))])
        except OSError as error:
            raise LogError([Fault(name, "a file that can be read", "another", error.strerror or "")]) from error
    told = [VERSION, data_version(), case.name, case.text, contents]
    return sha256(json.dumps(told).encode("utf-8", "surrogatepass")).hexdigest()


def _begun(place: Path, key: str) -> Path:
    """A new folder for rows; what was begun and never ended goes, and the oldest of those kept."""
    place.mkdir(mode=0o700, parents=True, exist_ok=True)
    kept = []
    for each in place.iterdir():
        if each.name.endswith(PART) or each.name == key:
            shutil.rmtree(each, ignore_errors=True)
        elif each.is_dir():
            kept.append((each.stat().st_mtime, each))
    for _, each in sorted(kept)[: max(0, len(kept) - KEPT + 1)]:
        shutil.rmtree(each, ignore_errors=True)
    return place / f"{key}{PART}"


class _Meter:
    """Writes now and then how far it is."""

    def __init__(self, file: Path) -> None:
        self.file, self.next_s = file, 0.0

    def __call__(self, rows: int, share: float) -> None:
        now_s = time.monotonic()
        if now_s < self.next_s:
            return
        self.next_s = now_s + TOLD_EACH_S
        with suppress(OSError):
            self.file.write_text(f"{READING * min(share, 1.0):.3f}", encoding="ascii")


def _made(found: Found, key: str) -> Reviewed:
    from onedatum.jobs.review_paper import paper_of
    from onedatum.jobs.review_told import many_words, review_json
    from onedatum.paper.review.as_pdf import review_pdf

    paper = paper_of(found)
    seen_, findings = found.bench.seen, found.judged.findings
    views = tuple(_finding(own, each) for own, each in zip(paper.findings, findings, strict=True))
    shown = Shown(
        key=key,
        title=f"{found.bench.tank.tag}: {many_words(found).rstrip(',')}, {_from_to(seen_.first_us, seen_.last_us)}",
        basis=paper.basis,
        findings=views,
        nothing_said=paper.nothing_said,
        not_judged=paper.not_judged,
        notes=paper.notes,
        cautions=paper.cautions,
        first_us=seen_.first_us,
        last_us=seen_.last_us,
        usual_us=seen_.usual_us,
        gaps=tuple((each.at_us, each.to_us) for each in seen_.gaps),
        dips=tuple((dip.time_us, dip.level_m) for dip in found.bench.dips),
        has_level=bool(seen_.series.count.any()),
        has_current=seen_.tells_state,
    )
    return Reviewed((), key, shown, review_pdf(paper), json_bytes(review_json(found)))


def _finding(own: Stated, found: Finding) -> FindingView:
    alarms = own.alarms.removeprefix("False alarms by chance: ").removeprefix("False alarms: ")
    when = _from_to(found.from_us, found.to_us)
    return FindingView(
        int(own.number), own.title, found.from_us, found.to_us, when, own.said, own.statistic, alarms, own.competing,
        own.next_check,
    )  # fmt: skip


def _from_to(from_us: int, to_us: int) -> str:
    """From when to when, the day once where it is one day."""
    begin, end = text_of(from_us), text_of(to_us)
    day = f"{begin.split(' ')[0]} "
    return f"{begin} UTC" if begin == end else f"{begin} to {end.removeprefix(day)} UTC"


def _without(sentence: str, folder: Path) -> str:
    """A complaint with the names of files as the page knows them."""
    return in_print(sentence.replace(f"{folder / PLACE}/", ""))


def not_held(chosen: Chosen) -> str:
    """What is said of a review that is asked for and not there."""
    names = ", ".join(quoted(name) for name in chosen.logs)
    why = "it was not made, or is no longer held"
    return Fault("the review", "made before it is read", f"none of {names}", why).sentence()
