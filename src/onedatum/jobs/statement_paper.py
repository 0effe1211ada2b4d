"""A quantity statement as the papers print it: amounts, factors, budget, Monte Carlo, batch, limits, decision."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import floor, log10

from onedatum.foundation.errors import Fault
from onedatum.foundation.units import in_print, in_unit, number, show
from onedatum.foundation.working import Entry, beneath, spell, usual_unit
from onedatum.jobs.paper_of_study import head_of, notes_of, sources_of, state_of
from onedatum.paper.quantity import model as paper
from onedatum.paper.table.model import Line
from onedatum.physics.uncertainty import histogram
from onedatum.study.budget import Budget
from onedatum.study.cautions import DEFERENCE, TRADE
from onedatum.study.chain import Amounts
from onedatum.study.monte_carlo import Sampled
from onedatum.study.result import Study

BINS = 60
CANCELLED = 1e-9
"""Share of the standard uncertainty below which a contribution is rounding."""
MANY = 10_000.0
"""Degrees of freedom beyond which the factor is that of the normal distribution in every digit printed."""
OTHERWISE = "a branch of the sheet would have gone the other way"
CONDITIONS = (
    ("level as read", "level_now"),
    ("level above the datum of the table", "level.surface"),
    ("temperature of the liquid", "medium.temperature"),
    ("strength by volume at 20 degC", "medium.strength"),
    ("strength by volume at 20 degC", "medium.strength_by_volume"),
    ("strength by mass", "medium.strength_by_mass"),
    ("US proof", "medium.us_proof"),
    ("density as stated", "medium.density"),
    ("temperature of that density", "medium.density_at"),
    ("ambient temperature", "site.ambient_temperature"),
    ("free water, level", "quantity.free_water_level"),
    ("sediment and water", "quantity.sediment_and_water"),
    ("share of the capacity", "quantity.capacity_share"),
)
"""What was read, by label and entry; what is not on the sheet is left away."""
FACTORS = (
    ("density at 60 degF", "medium.base_density"),
    ("factor for the temperature of the shell", "vessel.shell_factor"),
    ("factor to the reference temperature", "quantity.volume_correction"),
)


def statement_paper(study: Study, sampled: Sampled | Fault | None) -> paper.Statement:
    """The record that text and PDF print."""
    budget, notes = study.budget, notes_of(study)
    return paper.Statement(
        head=head_of(study),
        answer=_answer(study),
        conditions=tuple(_lines(study, CONDITIONS)),
        amounts=tuple(_amounts(study)),
        coverage=f"U ({_k(budget)})" if budget else "U (k = 2)",
        factors=tuple(_factors(study)),
        budget=_budget(study, budget) if budget else None,
        no_budget="" if budget else _no_budget(study),
        monte_carlo=_monte_carlo(sampled) if isinstance(sampled, Sampled) else None,
        no_monte_carlo=sampled.sentence() if isinstance(sampled, Fault) and budget else "",
        batch=_batch(study),
        limits=tuple(_limits(study)),
        decision=_decision(study),
        faults=notes.faults,
        questions=notes.questions,
        assumptions=notes.assumptions,
        cautions=(DEFERENCE, TRADE),
        sources=tuple(sources_of(_rests_on(study))),
    )


def _answer(study: Study) -> str:
    wanted, budget = study.amounts.wanted, study.budget
    what = _short(wanted)
    if not wanted.known:
        return in_print(f"{what}: not known yet; it waits for {', '.join(wanted.waits_for)}.")
    if budget is None:
        return in_print(f"{what}: {wanted.text}; how well that is known cannot be said yet.")
    known = f"{_by_u(wanted, budget.standard)}, known to {_rounded(budget.expanded, budget.standard)}"
    beside = f", beside {study.measuring.left_out}" if study.measuring.left_out else ""
    return in_print(f"{what}: {known} or {budget.relative.text} ({_k(budget)}){beside}.")


def _short(entry: Entry) -> str:
    """What an amount is, without where it stands."""
    what = entry.meaning.rpartition(",")[0] or entry.meaning
    return what[:1].upper() + what[1:]


def _k(budget: Budget) -> str:
    """The coverage factor, to the hundredth."""
    return f"k = {number(budget.coverage.value or 0.0, 3)}"


def _unit(entry: Entry) -> str:
    return entry.shown or usual_unit(entry.suffix)


def _by_u(entry: Entry, standard: Entry) -> str:
    """A value to the second digit of its standard uncertainty."""
    return show(entry.value, _unit(entry), 6, standard.value if standard.value else None)


def _rounded(spread: Entry, standard: Entry) -> str:
    """An expanded uncertainty to the same place as the value."""
    return show(spread.value, _unit(spread), 2, standard.value if standard.value else None)


def _three(entry: Entry) -> str:
    """A number to three digits."""
    return show(entry.value, _unit(entry), 3)


def _lines(study: Study, pairs: Sequence[tuple[str, str]]) -> Iterator[Line]:
    for label, name in pairs:
        entry = study.sheet.entries.get(name)
        if entry is not None and (entry.known or entry.state == "unknown"):
            spread = f" ({entry.uncertainty.text})" if entry.uncertainty else ""
            yield _line(label, entry, spread)


def _line(label: str, entry: Entry, beside: str = "") -> Line:
    """A line of a list: what the number is, the number, how it is known."""
    return Line(in_print(label), _said(entry, beside), state_of(entry))


def _said(entry: Entry, beside: str = "") -> str:
    """The number with what stands beside it; nothing while it is unknown."""
    return in_print(entry.text + beside) if entry.known else ""


def _factors(study: Study) -> Iterator[Line]:
    now = study.amounts.links
    yield _line("density now", now.density)
    if now.reference is not None:
        yield _line(f"density at {now.reference.text}", now.reference.density)
    for label, name in FACTORS:
        entry = study.sheet.entries.get(name)
        if entry is not None:
            source = f" ({entry.source})" if entry.source and entry.source.source.key != "derived" else ""
            yield _line(label, entry, source)


def _amounts(study: Study) -> Iterator[paper.Amount]:
    wanted, budget = study.amounts.wanted, study.budget
    for entry in study.amounts.now.stated:
        mine = budget is not None and entry is wanted
        spread = budget.expanded if mine and budget else study.sheet.entries.get(f"uncertainty[{entry.name}]")
        yield _amount(entry, spread, mine)
    for entry in study.entries.values():
        if entry.name.startswith("quantity.volume_at["):
            yield _amount(entry, None, False)


def _amount(entry: Entry, spread: Entry | None, wanted: bool) -> paper.Amount:
    label, state = in_print(_short(entry)), state_of(entry)
    if not entry.known:
        return paper.Amount(label, "", state=state, wanted=wanted)
    if spread is None or not spread.value or entry.value is None:
        return paper.Amount(label, in_print(entry.text), state=state, wanted=wanted)
    half = spread.value / 2.0
    relative = show(spread.value / abs(entry.value), "%", 2) if entry.value else ""
    return paper.Amount(
        label,
        in_print(show(entry.value, _unit(entry), 6, half)),
        in_print(show(spread.value, _unit(spread), 2, half)),
        relative,
        state,
        wanted,
    )


def _budget(study: Study, budget: Budget) -> paper.Budget:
    lines = sorted(budget.lines, key=lambda line: -abs(line.share.value or 0.0))
    best = budget.to_improve[0]
    improve = (
        f"What would help most is to know better: {best.entry.meaning}. With half its uncertainty U would be "
        f"{_three(best.halved)} in place of {_three(budget.expanded)}."
    )
    return paper.Budget(
        of=in_print(_short(budget.of)),
        value=in_print(_by_u(budget.of, budget.standard)),
        expanded=in_print(f"U = {_rounded(budget.expanded, budget.standard)}"),
        relative=_said(budget.relative),
        coverage=_k(budget),
        shares=tuple(
            paper.Share(
                in_print(line.entry.meaning),
                in_print(line.entry.uncertainty.text) if line.entry.uncertainty else "",
                in_print(_contribution(line.contribution, budget)),
                line.share.value if line.share.value is not None else float("nan"),
                in_print(_three(line.halved)),
            )
            for line in lines
        ),
        improve=in_print(improve),
        notes=tuple(in_print(words) for words in _budget_notes(study, budget)),
    )


def _contribution(entry: Entry, budget: Budget) -> str:
    """What an input contributes; what is left of rounding where it cancels is nothing."""
    value = entry.value or 0.0
    cancels = abs(value) < CANCELLED * (budget.standard.value or 0.0)
    return show(0.0 if cancels else value, _unit(entry), 1 if cancels else 2)


def _budget_notes(study: Study, budget: Budget) -> Iterator[str]:
    if study.measuring.left_out:
        yield f"Not counted: {study.measuring.left_out}. Until then every U here is the least it can be."
    if budget.correlation is not None:
        for each in study.statement.case.correlations.items:
            yield f"{each.between.text} and {each.and_.text} go together with a correlation of {each.r.text}."
    if budget.degrees_of_freedom is not None and (budget.degrees_of_freedom.value or 0.0) < MANY:
        yield (
            f"k covers 95.45 % at {number(budget.degrees_of_freedom.value or 0.0, 3)} effective degrees of freedom "
            "(JCGM 100, G.4; from memory)."
        )
    if budget.curved is not None:
        yield (
            "The chain is curved here: with the terms of second order the standard uncertainty is "
            f"{_three(budget.curved)}. Trust the Monte Carlo."
        )
    if budget.branched_otherwise:
        yield f"In {show(budget.branched_otherwise, '%', 2)} of the workings {OTHERWISE}."


def _no_budget(study: Study) -> str:
    wanted = study.amounts.wanted
    if not wanted.known:
        return "No budget: the quantity itself is not known yet."
    found = [f.title for f in study.findings if f.key == "budget-not-worked"]
    return found[0] if found else "No budget: no input states how well it is known."


def _monte_carlo(found: Sampled) -> paper.MonteCarlo:
    out, check, unit = found.outcome, found.against_linear, _unit(found.of)

    def text(value: float) -> str:
        return in_print(show(value, unit, 6, out.standard))

    lines = [
        Line("trials", _trials(found)),
        Line("mean", text(out.mean)),
        Line("standard uncertainty", in_print(show(out.standard, unit, 2 if out.settled is False else 3))),
        Line("symmetric 95 % interval", f"{text(out.symmetric_low)} to {text(out.symmetric_high)}"),
        Line("linear 95 % interval", f"{text(check.low)} to {text(check.high)} (k = {found.linear_k:.3f})"),
    ]
    intervals = [("symmetric 95 %", out.symmetric_low, out.symmetric_high)]
    if not found.chosen.sobol:
        lines.insert(4, Line("shortest 95 % interval", f"{text(out.low)} to {text(out.high)}"))
        intervals = [("shortest 95 %", out.low, out.high)]
    verdict = (
        "The linear budget holds here: its interval ends where that of the trials does, within the second digit of the "
        "standard uncertainty."
        if check.accepted
        else "The linear budget does not describe this quantity well here: use the interval of the trials."
    )
    return paper.MonteCarlo(
        tuple(lines),
        verdict,
        check.accepted,
        _picture(found, [*intervals, ("linear 95 %", check.low, check.high)]),
        tuple(in_print(words) for words in _monte_carlo_notes(found, unit)),
    )


def _trials(found: Sampled) -> str:
    spread = "evenly spread points" if found.chosen.sobol else "random trials"
    return f"{found.outcome.trials:,}".replace(",", " ") + f" {spread}, seed {found.chosen.seed}"


def _monte_carlo_notes(found: Sampled, unit: str) -> Iterator[str]:
    if found.outcome.settled is False:
        yield "The figures have not settled to the second digit of the standard uncertainty: more trials are needed."
    if found.tables:
        off = show(found.table_off, unit, 1)
        yield f"Steps read from tables in the trials ({', '.join(found.tables)}) move the result by at most {off}."
    if found.chosen.sobol:
        yield "Evenly spread points serve the standard uncertainty and the symmetric interval, not the shortest one."
    if found.outcome.outside:
        yield f"{found.outcome.outside:.2g} of the trials left what a formula holds for and are left out."
    if found.branched_otherwise:
        yield f"In {show(found.branched_otherwise, '%', 2)} of the trials {OTHERWISE}."


def _picture(found: Sampled, intervals: list[tuple[str, float, float]]) -> paper.Picture:
    unit = _unit(found.of)
    drawn = histogram(found.outcome.values, BINS)
    edges = [in_unit(float(edge), unit) for edge in drawn.edges]
    scale = (drawn.edges[-1] - drawn.edges[0]) / (edges[-1] - edges[0]) if edges[-1] > edges[0] else 1.0
    standard = abs(in_unit(found.outcome.mean + found.outcome.standard, unit) - in_unit(found.outcome.mean, unit))
    return paper.Picture(
        tuple(edges),
        tuple(float(density * scale) for density in drawn.densities),
        tuple((words, in_unit(low, unit), in_unit(high, unit)) for words, low, high in intervals),
        in_unit(found.outcome.mean, unit),
        in_print(unit),
        max(1 - floor(log10(standard)), 0) if standard > 0.0 else 2,
    )


def _batch(study: Study) -> paper.Batch | None:
    batch = study.batch
    if batch is None:
        return None
    rows = [("level above the datum of the table", _said(batch.before.level), _said(batch.after.level), "–")]
    rows += [(label, _said(one), _said(other), "–") for label, one, other in _pairs(batch.before, batch.after)]
    ends = zip(batch.before.stated, batch.after.stated, strict=True)
    wanted = next(place for place, pair in enumerate(ends, start=1) if pair[0] in batch.difference.inputs.values())
    rows[wanted] = (*rows[wanted][:3], _said(batch.difference))
    lines = []
    if batch.least is not None:
        value = _said(batch.least) or "none: no difference of level in this tank is enough"
        lines.append(Line("least difference of level for the uncertainty wanted", value))
    for check in study.checks:
        if check.key == "batch-uncertainty":
            lines.append(
                Line("uncertainty wanted", f"{check.limit.limit}, reached {check.limit.value}: {check.verdict.value}")
            )
    return paper.Batch(
        ("", "before", "after", "difference"),
        tuple(rows),
        _budget(study, batch.budget) if batch.budget else None,
        tuple(lines),
    )


def _pairs(before: Amounts, after: Amounts) -> Iterator[tuple[str, Entry, Entry]]:
    for one, other in zip(before.stated, after.stated, strict=True):
        yield in_print(_short(one)), one, other


def _limits(study: Study) -> Iterator[paper.Limit]:
    checks = {check.key: check for check in study.checks}
    for line in study.legal:
        check, row = checks[line.check], line.row
        yield paper.Limit(
            ", ".join(filter(None, (row.country, row.document, row.article))),
            row.words,
            _said(line.limit),
            _said(line.reached),
            f"{check.title}: {check.verdict.value}",
            row.tag if not check.remark else f"{row.tag}: no limit of the document, for comparison only",
        )


def _decision(study: Study) -> paper.Decision | None:
    found = study.tolerance
    if found is None or study.budget is None:
        return None
    ends = ("least allowed", found.least), ("greatest allowed", found.most), ("guard band", found.guard)
    accepted = ("accepted from", found.accepted_from), ("accepted to", found.accepted_to)
    lines = [Line(label, _said(entry)) for label, entry in (*ends, *accepted) if entry is not None]
    lines += [
        Line("result", in_print(_by_u(study.budget.of, study.budget.standard))),
        Line("probability that it keeps within the limits", spell(found.probability.value, "", "%")),
        Line("risk at the limit of acceptance", spell(found.risk.value, "", "%")),
    ]
    return paper.Decision(found.rule, tuple(lines), f"{in_print(_short(study.budget.of))}: {found.decision}.")


def _rests_on(study: Study) -> Iterator[Entry]:
    """Every entry beneath the amounts and budgets of the statement."""
    heads = [*study.amounts.now.stated, *(line.limit for line in study.legal)]
    for budget in (study.budget, study.batch.budget if study.batch else None):
        heads += [budget.expanded] if budget else []
    return beneath(heads)
