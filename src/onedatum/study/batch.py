"""Chapter batch: what was delivered or taken between two levels, with the errors both readings share.

The readings share what lies in the same entries of the sheet: datum, scale of the gauge, table, strength. Only what
each reading has of its own is an entry of its own. So the budget knows by itself what cancels and what does not.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from onedatum.case.leaf import Value
from onedatum.foundation.numerics import Reals
from onedatum.foundation.working import Entry, apply
from onedatum.physics.media import true_temperature_K
from onedatum.physics.quantity import (
    batch_scope,
    batch_uncertainty_m3,
    difference_m3,
    mass_difference_kg,
)
from onedatum.physics.uncertainty import combined_standard
from onedatum.physics.vessels import Body, surface_m2, volume_m3
from onedatum.study.budget import Budget, budget_of
from onedatum.study.chain import Amounts, Links, surface_of, told_of
from onedatum.study.desk import Desk
from onedatum.study.measuring import Measuring
from onedatum.study.quantity import QuantityChapter
from onedatum.study.sensitivity import standard_of
from onedatum.study.wanted import uncertainty_reached
from onedatum.verdicts import Effect, Finding, Link

LEVELS = 2001
"""Levels after that are tried for the least batch."""


@dataclass(frozen=True)
class BatchChapter:
    """The two ends, their difference, and how well it is known."""

    before: Amounts
    after: Amounts
    difference: Entry
    budget: Budget | None
    least: Entry | None
    """The least difference of level at which the uncertainty wanted is reached; None where none is wanted."""


def batch_chapter(desk: Desk, quantity: QuantityChapter, measuring: Measuring) -> BatchChapter | None:
    """Work the batch; None where the case speaks of none."""
    stated = desk.case.batch
    if stated.level_before.state == "unknown" and stated.level_after.state == "unknown":
        return None
    first_errors, second_errors = (measuring.errors_over(desk, which) for which in ("before", "after"))
    before = _end(desk, quantity, stated.level_before, stated.temperature_before, "before", first_errors)
    after = _end(desk, quantity, stated.level_after, stated.temperature_after, "after", second_errors)
    first, second = before.wanted(quantity.of), after.wanted(quantity.of)
    unit = first.suffix
    difference = desk.worked(
        "batch.difference",
        mass_difference_kg if unit == "kg" else difference_m3,
        {f"first_{unit}": first, f"second_{unit}": second},
        shown=first.shown,
        meaning=f"batch: {first.meaning.partition(',')[0]}",
    )
    budget = budget_of(desk, "batch.budget", difference)
    least = None if measuring.open_ else _least(desk, quantity, before, first_errors)
    if budget is not None and stated.U.known:
        meaning = "expanded uncertainty of the batch, with the factor wanted"
        uncertainty_reached(desk, "batch", budget, (stated.U, stated.k), "batch", meaning, measuring.open_)
    return BatchChapter(before, after, difference, budget, least)


def _end(
    desk: Desk, quantity: QuantityChapter, level: Value, temperature: Value, which: str, errors: tuple[Entry, ...]
) -> Amounts:
    part = f"batch.{which}"
    reading = told_of(desk, desk.take(level, "mm"), errors)
    surface = surface_of(desk, f"{part}.level", reading, quantity.datum_error, f", {which}")
    links = quantity.links
    if temperature.state != "unknown":
        links = links.at(desk, part, _temperature(desk, part, temperature, which), which)
    return links.amounts(desk, part, surface, which)


def _temperature(desk: Desk, part: str, stated: Value, which: str) -> Entry:
    """As read, with the error that all readings of the thermometer share."""
    read, error = desk.take(stated), desk.case.thermometer_error
    if error.state == "unknown":
        return read
    return desk.calc(
        f"{part}.temperature",
        true_temperature_K,
        meaning=f"temperature of the liquid, {which}",
        temperature_K=read,
        thermometer_error_K=desk.take(error, "K", none=0.0),
    )


def _least(desk: Desk, quantity: QuantityChapter, before: Amounts, probe_errors: tuple[Entry, ...]) -> Entry | None:
    """The least difference of level for the uncertainty wanted, from the level before downwards."""
    stated = desk.case.batch
    if not stated.U.known or not stated.k.known:
        return None
    share, k = desk.take(stated.U, "%value"), desk.take(stated.k)
    scale = desk.sheet.entries.get("gauge_scale_error")
    reading = desk.take(stated.level_before, "mm")
    errors = {
        "reading_u_m": combined_standard(np.array([standard_of(each) for each in (reading, *probe_errors)])),
        "datum_u_m": standard_of(quantity.datum_error),
        "scale_u": standard_of(scale) if scale is not None else 0.0,
        "table_u": standard_of(quantity.links.table_error),
    }
    if share.value is None or k.value is None:
        return None
    inputs = {key: errors[key] for key in ("scale_u", "table_u")}
    scope = float(apply(batch_scope, {**inputs, "wanted_share": share.value, "coverage_factor": k.value}).value)
    if scope > 0.0:
        found = _search(quantity.links, before.level, errors, share.value / k.value)
    else:
        found = None
        desk.findings.append(_too_poor(quantity, share))
    return desk.sheet.record(
        "batch.least_level_difference",
        found,
        "m",
        "least difference of level for the uncertainty wanted of a batch, from the level before downwards",
        method="levels after tried from the level before down; the first at which the uncertainty of the difference of "
        "volumes, from readings, datum, scale and table together, is small enough; temperature and strength apart",
        source="jcgm-100: 5.1.2",
        rests_on=[reading, quantity.datum_error, quantity.links.table_error, share, k],
        shown="mm",
    )


def _search(links: Links, level: Entry, errors: dict[str, float], share: float) -> float | None:
    """The first difference of level at which the relative standard uncertainty is within the share."""
    body = links.vessel.body.whole
    if level.value is None or not isinstance(body, Body) or not body.low_m < level.value <= body.high_m:
        return None
    start, low = level.value, float(body.low_m)
    after: Reals = start - (start - low) * np.linspace(0.0, 1.0, LEVELS)[1:] ** 2
    levels: dict[str, Any] = {"level_m": np.append(start, after), "vessel": body}
    volumes, surfaces = (apply(each, levels).value for each in (volume_m3, surface_m2))
    batch = volumes[0] - volumes[1:]
    spread = apply(
        batch_uncertainty_m3,
        {
            "first_surface_m2": surfaces[0],
            "second_surface_m2": surfaces[1:],
            "first_level_m": start,
            "second_level_m": after,
            "batch_m3": batch,
            **errors,
        },
    ).value
    enough = np.flatnonzero(spread <= share * batch)
    return None if len(enough) == 0 else float(start - after[enough[0]])


def _too_poor(quantity: QuantityChapter, share: Entry) -> Finding:
    table = quantity.links.table_error
    links = (
        Link("Wanted of a batch is", share.text, share.name),
        Link(
            "Table and scale alone take all of it; the table is known to",
            table.uncertainty.text if table.uncertainty else "",
            table.name,
        ),
    )
    ways = (Link("A better table, such as one by liquid calibration; no difference of level helps"),)
    return Finding(
        "table-too-poor", "The table is too poor for the batch wanted", Effect.WARNING, links, ways, safety=False
    )
