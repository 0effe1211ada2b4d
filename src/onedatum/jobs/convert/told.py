"""A conversion in words and as JSON."""

from __future__ import annotations

from typing import Any

from onedatum.foundation.constants import VERSION
from onedatum.foundation.moments import clock
from onedatum.jobs.convert.run import Converted
from onedatum.logs.reasons import BROKEN_TAG, FLAG_WORDS, IN_FOLD, LATE, NO_CURRENT
from onedatum.logs.tally import Tally
from onedatum.physics.loop import state_meanings
from onedatum.study.cautions import DEFERENCE
from onedatum.study.form import fault_json

FORM = 1
MANY = 0.05
"""Share of rows out of order above which one wrong time is looked for."""
MANY_LATE = (
    "many rows come late; one time too far ahead may stand before them: "
    "see the longest gaps and rejects.csv, and state time.latest in the mapping"
)
REMEDIES = {
    IN_FOLD: "which of the two hours a row is of cannot be told: log in UTC, or with the offset of each time",
    BROKEN_TAG: "tags of the log cannot be read whole: save it as UTF-8",
    NO_CURRENT: "see whether unit, resistor or counts of the mapping are those of the log",
}


def summary_json(found: Converted) -> dict[str, Any]:
    """The summary as data."""
    tally = found.tally
    return {
        "form": FORM,
        "tool_version": VERSION,
        "rows": tally.rows,
        "converted": tally.converted,
        "rejected": dict(sorted(tally.rejected.items())),
        "flags": dict(sorted(tally.flags.items())),
        "states": dict(sorted(tally.states.items())),
        "span": {
            tag: {"first": clock(tally.first_us[tag]), "last": clock(tally.last_us[tag])}
            for tag in sorted(tally.first_us)
        },
        "longest_gaps": [
            {"tag": tag, "from": clock(begin), "to": clock(begin + length), "length_s": length / 1e6}
            for length, begin, tag in tally.gaps
        ],
        "remarks": [*found.remarks, *_notes(found)],
        "faults": [fault_json(fault) for fault in found.faults],
        "parts_kept": found.kept_parts,
        "cautions": [DEFERENCE],
    }


def summary_text(found: Converted) -> str:
    """The summary in words."""
    tally = found.tally
    lines = [f"{tally.rows} rows: {tally.converted} converted, {sum(tally.rejected.values())} set aside"]
    lines += [f"  set aside, {reason}: {count}" for reason, count in sorted(tally.rejected.items())]
    lines += [f"  {FLAG_WORDS[word]}: {count}" for word, count in sorted(tally.flags.items())]
    meanings = state_meanings()
    lines += [f"  {meanings[word].meaning.partition(';')[0]}: {count}" for word, count in sorted(tally.states.items())]
    lines += _times(tally)
    lines += [f"  note: {remark}" for remark in (*found.remarks, *_notes(found))]
    if found.kept_parts:
        lines.append(f"{found.kept_parts} parts were there already and are kept")
    return "\n".join([*lines, *(f"written: {path}" for path in found.files), DEFERENCE, ""])


def _notes(found: Converted) -> list[str]:
    """What to do about rows that were set aside."""
    tally, notes = found.tally, [str(each) for each in found.overlaps]
    if tally.rejected[LATE] - sum(each.late for each in found.overlaps) > MANY * tally.rows:
        notes.append(MANY_LATE)
    notes += [note for reason, note in REMEDIES.items() if tally.rejected[reason]]
    return notes


def _times(tally: Tally) -> list[str]:
    spans = [
        f"{tag}: from {clock(tally.first_us[tag])} to {clock(tally.last_us[tag])}" for tag in sorted(tally.first_us)
    ]
    gaps = [
        f"  no row of {tag} for {length / 1e6:g} s from {clock(begin)}; nothing is filled in"
        for length, begin, tag in tally.gaps[:3]
    ]
    return [*spans[:20], *([f"and {len(spans) - 20} tags more"] if len(spans) > 20 else []), *gaps]
