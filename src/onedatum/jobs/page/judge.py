"""What is judged: findings as chains of numbers, then what is to be asked, then the principles."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from onedatum.foundation.units import in_print
from onedatum.jobs.page.made import Made
from onedatum.study.result import Study
from onedatum.verdicts import Effect, Finding, Link


@dataclass(frozen=True)
class LinkView:
    """One link of a chain: words, a number, and the entry whose working the number opens."""

    text: str
    value: str
    entry: str
    path: str = ""
    """Of a way out that can be tried: the field it changes, with the text that is tried there."""
    tried: str = ""


@dataclass(frozen=True)
class FindingView:
    """A chain of numbers that ends in something."""

    key: str
    title: str
    effect: str
    blocks: bool
    chain: tuple[LinkView, ...]
    ways_out: tuple[LinkView, ...]
    uncertainty_stated: bool
    safety: bool


@dataclass(frozen=True)
class OpenPoint:
    """Something to ask for, to order, or that was assumed: with the field it leads to and what hangs on it."""

    path: str
    title: str
    text: str = ""
    why: str = ""
    in_case: bool = True
    """Of something assumed: whether the case says so, rather than a usual limit that was taken."""


@dataclass(frozen=True)
class JudgeView:
    """Findings by gravity, and the open points."""

    findings: tuple[FindingView, ...]
    questions: tuple[OpenPoint, ...]
    requirements: tuple[OpenPoint, ...]
    assumptions: tuple[OpenPoint, ...]
    faults: tuple[OpenPoint, ...]


def judge_view(made: Made) -> JudgeView:
    """What is judged of the case, principles apart."""
    study = made.study
    assumed = {leaf.path for leaf in study.statement.case.leaves() if leaf.state == "assumed"}
    return JudgeView(
        findings=tuple(_finding(study, each) for each in study.findings),
        questions=tuple(
            OpenPoint(each.path, each.title, why=_decided(study, each.decides)) for each in study.questions
        ),
        requirements=tuple(OpenPoint(each.path, each.title, in_print(each.note)) for each in study.requirements),
        assumptions=tuple(
            OpenPoint(each.path, each.title, in_print(each.text), in_print(each.why), each.path in assumed)
            for each in study.assumptions
        ),
        faults=tuple(OpenPoint(each.path, each.sentence(), str(each.place or "")) for each in study.faults),
    )


def _finding(study: Study, finding: Finding) -> FindingView:
    return FindingView(
        key=finding.key,
        title=in_print(finding.title),
        effect=finding.effect.value,
        blocks=finding.effect is Effect.BLOCKS,
        chain=tuple(_links(study, finding.chain)),
        ways_out=tuple(_links(study, finding.ways_out)),
        uncertainty_stated=finding.uncertainty_stated,
        safety=finding.safety,
    )


def _links(study: Study, chain: tuple[Link, ...]) -> Iterator[LinkView]:
    for link in chain:
        path, tried = link.change or ("", "")
        entry = link.entry if link.entry in study.sheet else ""
        yield LinkView(in_print(link.text), in_print(link.value), entry, path, tried)


def _decided(study: Study, names: tuple[str, ...]) -> str:
    """What waits for an answer: the first few by their meaning."""
    told = [study.sheet[name].meaning if name in study.sheet else name for name in names[:2]]
    more = len(names) - len(told)
    return ", ".join(told) + (f" and {more} more" if more else "")
