"""Two studies beside each other: which inputs, numbers, verdicts and findings are no longer the same."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from math import isclose

from onedatum.case.leaf import Leaf, Value
from onedatum.foundation.units import show
from onedatum.foundation.working import Entry, spell_limit
from onedatum.study.result import Study
from onedatum.verdicts import Finding

SAME = 1e-12
"""Share of a number by which the last digits of two workings of it may part."""
ABSENT = "not there"
MOST_DIGITS = 15


@dataclass(frozen=True)
class Changed:
    """One thing that is no longer what it was; both sides as people read them."""

    name: str
    title: str
    old: str
    new: str


@dataclass(frozen=True)
class ChangedNumber(Changed):
    """A number of the sheet, with both values in SI."""

    suffix: str = ""
    old_si: float | None = None
    new_si: float | None = None


@dataclass(frozen=True)
class Comparison:
    """Everything that changed from one study to another."""

    inputs: tuple[Changed, ...]
    numbers: tuple[ChangedNumber, ...]
    verdicts: tuple[Changed, ...]
    findings: tuple[Changed, ...]

    @property
    def same(self) -> bool:
        """Whether nothing changed."""
        return not (self.inputs or self.numbers or self.verdicts or self.findings)


def compare(new: Study, old: Study) -> Comparison:
    """What changed from `old` to `new`, in the order of the new one."""
    return Comparison(
        tuple(_inputs(new, old)),
        tuple(_numbers(new.entries, old.entries)),
        tuple(_texts(_verdicts(new), _verdicts(old))),
        tuple(_findings(new.findings, old.findings)),
    )


def says_anything(study: Study) -> bool:
    """Whether a case says anything that can be used; a file that could not be read does not."""
    return any(leaf.state != "faulty" for leaf in _stated(study))


# ---------------------------------------------------------------- inputs


def _inputs(new: Study, old: Study) -> Iterator[Changed]:
    after, before = ({leaf.path: leaf for leaf in _stated(each)} for each in (new, old))
    for path in _both(after, before):
        one, other = after.get(path), before.get(path)
        if _meant(one) != _meant(other):
            title = (one or other or Leaf(path, path, "paper", "unknown")).title
            yield Changed(path, title, leaf_words(other), leaf_words(one))


def _stated(study: Study) -> Iterator[Leaf]:
    """What a case says at all: a key left away says nothing."""
    leaves = study.statement.case.leaves()
    return (leaf for leaf in leaves if leaf.known or leaf.asked or leaf.state in ("none", "faulty"))


def _meant(leaf: Leaf | None) -> object:
    """What a leaf means, whatever unit it is written in."""
    if leaf is None:
        return None
    if isinstance(leaf, Value) and leaf.si is not None:
        spread = None if leaf.uncertainty is None else (leaf.uncertainty.standard, leaf.uncertainty.text)
        beside = tuple((name, _meant(each)) for name, each in leaf.companions.items())
        return leaf.state, leaf.si, leaf.suffix, leaf.low, leaf.high, spread, beside
    return leaf.state, leaf.text


def leaf_words(leaf: Leaf | None) -> str:
    """A leaf with how it is known."""
    if leaf is None:
        return ABSENT
    if not leaf.known:
        return f"{leaf.state} {leaf.text}".strip() if leaf.state == "faulty" else leaf.state
    spread = leaf.uncertainty.text if isinstance(leaf, Value) and leaf.uncertainty is not None else ""
    return ", ".join(filter(None, (leaf.text, _range(leaf), spread, "assumed" if leaf.state == "assumed" else "")))


def _range(leaf: Leaf) -> str:
    """The ends of a range, in the unit of their kind."""
    if not isinstance(leaf, Value) or (leaf.low is None and leaf.high is None):
        return ""
    return "from " + " to ".join(spell_limit(end, leaf.suffix) for end in (leaf.low, leaf.high) if end is not None)


# ---------------------------------------------------------------- numbers


def _numbers(new: Mapping[str, Entry], old: Mapping[str, Entry]) -> Iterator[ChangedNumber]:
    for name in _both(new, old):
        one, other = new.get(name), old.get(name)
        if one is not None and other is not None and _same(one, other):
            continue
        told = one or other
        if told is not None:
            before, after = _apart(other, one)
            yield ChangedNumber(name, told.meaning, before, after, told.suffix, _value(other), _value(one))


def _same(one: Entry, other: Entry) -> bool:
    if one.value is None or other.value is None:
        return one.value is other.value and one.known is other.known and (one.whole is None or one.text == other.text)
    return one.suffix == other.suffix and isclose(one.value, other.value, rel_tol=SAME)


def _value(entry: Entry | None) -> float | None:
    return None if entry is None else entry.value


def _apart(old: Entry | None, new: Entry | None) -> tuple[str, str]:
    """Both in words, with as many digits as tell them apart."""
    texts = tuple(ABSENT if entry is None else entry.text for entry in (old, new))
    digits = 6
    while texts[0] == texts[1] and digits <= MOST_DIGITS and old is not None and new is not None:
        unit = new.shown or new.unit
        texts = tuple(show(entry.value, unit, digits) for entry in (old, new))
        digits += 3
    return texts[0], texts[1]


# ---------------------------------------------------------------- verdicts and findings


def _verdicts(study: Study) -> Mapping[str, tuple[str, str]]:
    """Of every principle and of every comparison with a limit: title and verdict, by name."""
    found = {} if study.choosing is None else dict(study.choosing.verdicts)
    principles = {f"principle {name}": (name, verdict.verdict.value) for name, verdict in found.items()}
    checks = {f"check {each.key or each.title}": (each.title, each.verdict.value) for each in study.checks}
    return {"order": ("the order", study.order), **principles, **checks}


def _texts(new: Mapping[str, tuple[str, str]], old: Mapping[str, tuple[str, str]]) -> Iterator[Changed]:
    for name in _both(new, old):
        before, after = (each[name][1] if name in each else ABSENT for each in (old, new))
        if before != after:
            yield Changed(name, (new.get(name) or old[name])[0], before, after)


def _findings(new: Iterable[Finding], old: Iterable[Finding]) -> Iterator[Changed]:
    """By key: a finding that came, went, or says something else."""
    after, before = ({each.key: each for each in some} for some in (new, old))
    for key in _both(after, before):
        one, other = after.get(key), before.get(key)
        if _finding(one) != _finding(other):
            yield Changed(key, (one or before[key]).title, _finding(other), _finding(one))


def _finding(finding: Finding | None) -> str:
    return ABSENT if finding is None else f"{finding.effect.value}: {finding.title}"


def _both(new: Mapping[str, object], old: Mapping[str, object]) -> list[str]:
    """The names of both, those of the new one first."""
    return list(dict.fromkeys((*new, *old)))
