"""A trial of the log review by a set of simulated logs: what it says of each, and how that is counted."""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from onedatum.foundation.moments import DAY_s
from onedatum.jobs.review import Asked, review
from onedatum.simulate.history import Trouble, written
from soak.works import Tried, made

LATE_s = 2.0 * DAY_s
"""A finding may begin so long after its fault has ended."""
STOPPED = "the review stopped"
"""So begins the note of a first run that ended with an error."""


@dataclass(frozen=True)
class Said:
    """What a review said: of each finding its signature, its time after the start, and its sentence."""

    kind: str
    from_s: float
    to_s: float
    words: str


def said_of(tried: Tried, folder: Path) -> tuple[list[Said], list[str]]:
    """Findings of one log, and its notes."""
    place = written(made(tried.log), folder / tried.log.name.replace(" ", "_"), tried.log.case_text)
    beside = place / "movements.csv"
    asked = Asked((place / "log.csv",), place / "case.yaml", place / "map.yaml", place / "dips.csv")
    asked = Asked(asked.logs, asked.case, asked.mapping, asked.dips, beside if beside.exists() else None)
    found = review(asked)
    begin_us = tried.log.plan.start.timestamp() * 1e6
    said = [
        Said(each.kind, (each.from_us - begin_us) * 1e-6, (each.to_us - begin_us) * 1e-6, each.said)
        for each in found.judged.findings
    ]
    return said, list(found.judged.notes)


def all_said(logs: Sequence[Tried]) -> dict[str, Any]:
    """Of each log what is said, as data."""
    told: dict[str, Any] = {}
    with TemporaryDirectory() as folder:
        for tried in logs:
            said, notes = said_of(tried, Path(folder))
            told[tried.log.name] = {"findings": [vars(each) for each in said], "notes": notes}
            print(tried.log.name, [each.kind for each in said], flush=True)
    return told


def score(tried: Tried, findings: list[dict[str, Any]]) -> tuple[int, int, list[str]]:
    """Troubles told, false findings, and what is to be read of the log.

    Told: a finding of a signature named beside the trouble, that ends after the trouble begins and begins no later
    than two days after its end; of two troubles that it could tell it counts for the one whose begin is nearer. False:
    any finding of a sound log but those that tell what is so, and one that ends before the first trouble.
    """
    if not tried.told_by:
        false = [each["kind"] for each in findings if each["kind"] not in tried.allowed]
        so = [each["kind"] for each in findings if each["kind"] in tried.allowed]
        lines = ["sound", f"as it is: {_counted(so)}" if so else "", f"**false: {_counted(false)}**" if false else ""]
        return 0, len(false), [line for line in lines if line]
    troubles = tried.log.plan.troubles
    told, used, lines = 0, set[int](), []
    for trouble, kinds in zip(troubles, tried.told_by, strict=True):
        own = [
            place
            for place, each in enumerate(findings)
            if each["kind"] in kinds and _fits(trouble, each) and _nearest(tried, each) in (None, trouble)
        ]
        told, used = told + bool(own), used | set(own)
        names = ", ".join(dict.fromkeys(findings[place]["kind"] for place in own))
        size = f" {trouble.size:g}" if trouble.size else ""
        lines.append(f"{trouble.kind}{size} from day {trouble.start_s / DAY_s:.1f}: {names or '**missed**'}")
    first_s = min(each.start_s for each in troubles)
    false = [each["kind"] for each in findings if each["to_s"] < first_s]
    rest = [each["kind"] for place, each in enumerate(findings) if place not in used and each["to_s"] >= first_s]
    if false:
        lines.append(f"**false: {_counted(false)}**")
    if rest:
        lines.append(f"beside: {_counted(rest)}")
    return told, len(false), lines


def _fits(trouble: Trouble, finding: dict[str, Any]) -> bool:
    return bool(finding["to_s"] >= trouble.start_s and finding["from_s"] < trouble.until_s + LATE_s)


def _nearest(tried: Tried, finding: dict[str, Any]) -> Trouble | None:
    """Of the troubles that a finding could tell, the one whose begin is nearest."""
    both = zip(tried.log.plan.troubles, tried.told_by, strict=True)
    could = [trouble for trouble, kinds in both if finding["kind"] in kinds and _fits(trouble, finding)]
    return min(could, key=lambda trouble: abs(trouble.start_s - finding["from_s"]), default=None)


def _counted(kinds: list[str]) -> str:
    return ", ".join(f"{kind} {count}" if count > 1 else kind for kind, count in Counter(kinds).items())


@dataclass(frozen=True)
class Score:
    """Of a set of logs, by one run over them."""

    told: int
    false: int
    false_in_sound: int
    lines: dict[str, str]
    """Of each log what is to be read."""


def scored(logs: Sequence[Tried], told: dict[str, Any]) -> Score:
    """The score of a set by what was said of it."""
    own = {}
    for tried in logs:
        said = told[tried.log.name]
        hits, false, lines = score(tried, said["findings"])
        stopped = any(each.startswith(STOPPED) for each in said["notes"])
        own[tried.log.name] = hits, false, ["**the review stopped, nothing is judged**", *lines] if stopped else lines
    return Score(
        sum(hits for hits, _, _ in own.values()),
        sum(false for _, false, _ in own.values()),
        sum(own[tried.log.name][1] for tried in logs if not tried.told_by),
        {name: "; ".join(lines) for name, (_, _, lines) in own.items()},
    )


@dataclass(frozen=True)
class Trial:
    """The first run over a set as it is stored, a record; and the run of today, by which a statement can fail."""

    logs: Sequence[Tried]
    first: dict[str, Any]
    before: Score
    now: Score

    @property
    def seeds(self) -> tuple[int, ...]:
        """Of every log."""
        return tuple(tried.log.plan.seed for tried in self.logs)

    @property
    def no_worse(self) -> bool:
        """Whether the run of today tells no fewer faults than the first, and no more that is false."""
        return self.now.told >= self.before.told and self.now.false <= self.before.false

    @property
    def numbers(self) -> tuple[tuple[str, str], ...]:
        """What was found: in all, of each log, and every word of the first run."""
        before, now, troubles = self.before, self.now, sum(len(tried.told_by) for tried in self.logs)
        rows = [
            (
                "told in the first run, of all faults; a record",
                f"{before.told} of {troubles}; false findings {before.false}, of them in sound logs "
                f"{before.false_in_sound}",
            ),
            (
                "told now, no blind number any more",
                f"{now.told} of {troubles}; false findings {now.false}, of them in sound logs {now.false_in_sound}",
            ),
        ]
        for tried in self.logs:
            name = tried.log.name
            if tried.why:
                rows.append((f"{'why it matters' if tried.told_by else 'sound'}: {name}", "; ".join(tried.why)))
            rows += [(f"first run: {name}", before.lines[name]), (f"now: {name}", now.lines[name])]
        return (*rows, *verbatim(self.first))


def tried_again(logs: Sequence[Tried], first: str) -> Trial:
    """The trial of a set whose first run is stored in a file beside this one."""
    told = json.loads(Path(__file__).with_name(first).read_text(encoding="utf-8"))
    return Trial(logs, told, scored(logs, told), scored(logs, all_said(logs)))


def verbatim(told: dict[str, Any]) -> list[tuple[str, str]]:
    """Every finding and note of the first run as it was said."""
    rows = []
    for name, own in told.items():
        said = [
            f"{each['kind']}, day {each['from_s'] / DAY_s:.2f} to {each['to_s'] / DAY_s:.2f}: {each['words']}"
            for each in own["findings"]
        ]
        rows.append((f"first run, verbatim: {name}", " // ".join([*said, *own["notes"]]) or "nothing"))
    return rows
