"""A ranking in words and as data, and its files."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import asdict
from math import isfinite
from pathlib import Path
from typing import Any

from onedatum.foundation.constants import VERSION
from onedatum.foundation.units import in_print
from onedatum.jobs.causes.asked import WAY
from onedatum.jobs.causes.found import MOST_SHOWN, NAMES, Found, written
from onedatum.jobs.write import json_bytes, write_whole
from onedatum.paper.text import file_stem
from onedatum.proving.causes import CAUTION, NOTHING, Group, per_cent, told
from onedatum.simulate import CHANNELS
from onedatum.study.cautions import CAUTIONS
from onedatum.study.form import fault_json

FORM = 1
TAG = "common practice, no source"
SAFE = (
    "Opening a loop, a chamber, a leg or a head in a hazardous area, under pressure or above a toxic liquid is work by "
    "permit and by the certificate of the equipment, for those who may do it. Dip only where and when static charge "
    "allows it. Tell the control room before anything is trimmed, simulated or re-ranged: an alarm or a trip may hang "
    "on it. A gauge in doubt is no overfill protection until it is proved."
)
_WAYS = {True: "up", False: "down", None: "–"}


def cautions_of() -> tuple[str, ...]:
    """What must stand beside every ranking."""
    return (CAUTION, SAFE)


def sentences(found: Found) -> tuple[str, ...]:
    """The ranking in sentences, without the caution that stands by itself."""
    return tuple(line for line in told(found.ranking) if line != CAUTION)


def priors_words(found: Found) -> str:
    """Which priors were used, with how far they were seen."""
    if found.asked.priors is None:
        return f"Priors: the table that ships with the tool [{TAG}]"
    return f"Priors: {found.asked.table or 'a table'} of the user's own [stated by the user]"


def title_of(found: Found) -> str:
    """What was asked, in one line."""
    count = len(found.asked.rows)
    tag = found.study.statement.case.tag
    named = f"{tag.text}: " if tag.known else ""
    return f"{named}which part may be wrong, by {count} {'row' if count == 1 else 'rows'} of readings"


def cause_words(found: Found, key: str) -> str:
    """A cause with its size and what it looks like over the level."""
    cause = found.cause(key)
    parts = (cause.words, found.sized(key), f"looks like: {cause.shape}" if cause.shape else "")
    return "; ".join(filter(None, parts))


def further_words(found: Found) -> list[str]:
    """The next measurements, the most told for the effort first, each with why."""
    return [f"{each.words}: {found.why(each)}" for each in found.ranking.further[:MOST_SHOWN]]


def causes_text(found: Found) -> str:
    """The ranking in words, for whoever stands at the tank."""
    return "\n".join(_lines(found)) + "\n"


def _lines(found: Found) -> Iterator[str]:
    yield title_of(found)
    yield from sentences(found)
    yield ""
    yield "probability  explanation"
    for group in found.likely:
        yield from _group_lines(found, group)
    if found.unlikely:
        yield f"below 1 % each: {'; '.join(found.unlikely)}"
    yield from _table(found)
    yield ""
    yield "next, the most told for the effort first:"
    words = further_words(found)
    yield from (f"{number}. {each}" for number, each in enumerate(words, 1))
    if not words:
        yield "no measurement of the list is expected to tell more"
    yield ""
    yield priors_words(found)
    yield from cautions_of()


def _group_lines(found: Found, group: Group) -> Iterator[str]:
    first, *rest = (cause_words(found, key) for key in group.left)
    place = found.explanations.index(group) + 1
    yield f"{per_cent(group.probability):>11}  {place}. {first}"
    yield from (f"{'':>11}     or, not told apart: {each}" for each in rest)


def _table(found: Found) -> Iterator[str]:
    """What was read, what a sound instrument would read, and what the likeliest explanations would."""
    for channel in found.channels:
        heads = ["row", "dip", WAY, "read", "sound", *(str(found.explanations.index(each) + 1) for each in found.shown)]
        yield ""
        yield f"{NAMES[channel]}: read, of a sound instrument, and under the explanation of that place"
        yield "".join(f"{head:>11}" for head in heads)
        for at, number in enumerate(found.numbers):
            row = found.asked.rows[number - 1]
            keys = (NOTHING, *(group.keys[0] for group in found.shown))
            cells = [
                str(number),
                written("dip_m", row.dip_m),
                _WAYS[row.is_rising],
                written(channel, getattr(row, channel)),
                *(written(channel, float(found.predicted(key, channel)[at])) for key in keys),
            ]
            yield "".join(f"{cell:>11}" for cell in cells)


# ---------------------------------------------------------------- as data


def causes_json(found: Found) -> dict[str, Any]:
    """The ranking in SI, unrounded; what has no value is null."""
    ranking = found.ranking
    return {
        "form": FORM,
        "tool_version": VERSION,
        "tag": found.study.statement.case.tag.text,
        "rows": [asdict(row) for row in found.asked.rows],
        "predicted_rows": list(found.numbers),
        "change": found.asked.change,
        "known_words": list(ranking.known_words),
        "priors": priors_words(found),
        "explanations": [
            {"probability": group.probability, "causes": [_cause_json(found, key) for key in group.keys]}
            for group in found.explanations
        ],
        "highest_probability": ranking.cap,
        "unseen": list(ranking.unseen),
        "rows_left_out": list(ranking.left_out),
        "rows_in_failure": list(ranking.in_failure),
        "open_bits": ranking.open_bits,
        "further": [
            {
                "key": each.key,
                "words": each.words,
                "bits": each.bits,
                "effort": each.cost,
                "level_m": each.level_m,
                "why": found.why(each),
            }
            for each in ranking.further
        ],
        "sentences": list(sentences(found)),
        "faults": [fault_json(fault) for fault in found.study.faults],
        "cautions": [*cautions_of(), *CAUTIONS],
    }


def _cause_json(found: Found, key: str) -> dict[str, Any]:
    cause = found.cause(key)
    below, above = found.ranking.limits.get(key, (None, None))
    return {
        "key": key,
        "words": cause.words,
        "looks_like": cause.shape,
        "probability": cause.probability,
        "size": _number(cause.size),
        "size_u": _number(cause.size_u),
        "size_unit": cause.suffix,
        "detection_limit_below": _number(below),
        "detection_limit_above": _number(above),
        "predicted": {name: [_number(float(v)) for v in cause.predicted[name]] for name in CHANNELS},
    }


def _number(value: float | None) -> float | None:
    return None if value is None or not isfinite(value) else float(value)


# ---------------------------------------------------------------- files


def write_causes(found: Found, case: Path, out: Path) -> tuple[Path, ...]:
    """Write text, data and paper into a folder; raises OutputError."""
    from onedatum.jobs.causes.paper import causes_file

    stem = f"{file_stem(case.stem)}-which-part"
    parts = {
        f"{stem}.pdf": causes_file(found),
        f"{stem}.txt": in_print(causes_text(found)).encode("utf-8", "replace"),
        f"{stem}.json": json_bytes(causes_json(found)),
    }
    for name, content in parts.items():
        write_whole(out / name, content)
    return tuple(out / name for name in parts)
