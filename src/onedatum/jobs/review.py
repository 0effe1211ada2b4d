"""One review: logs, a case, dips and movements in; findings, what cannot be judged and the picture's columns out."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from math import inf
from pathlib import Path
from typing import Any

import numpy as np

from onedatum.case.reading import Statement
from onedatum.foundation.errors import Fault, LogError
from onedatum.foundation.numerics import Reals
from onedatum.foundation.wording import counted
from onedatum.jobs.convert.cases import study_of, study_with_level
from onedatum.logs.converter import Converter
from onedatum.logs.kernel import convert
from onedatum.logs.mapping import LogMapping, missing_mapping, read_mapping
from onedatum.logs.reading import all_chunks, columns_of
from onedatum.logs.review.bench import Bench, Tank, asked_times, cuts_of
from onedatum.logs.review.beside import Dip, Movement, read_dips, read_movements
from onedatum.logs.review.columns import Columns, of_blocks
from onedatum.logs.review.finding import Judged
from onedatum.logs.review.judge import judge
from onedatum.logs.review.limits import setting
from onedatum.logs.review.seen import Pass
from onedatum.logs.tanks import TankTables
from onedatum.physics.vessels import Body
from onedatum.simulate.sensor import CHAMBER, STEM, sensor_of
from onedatum.study.result import Study

Progress = Callable[[int, float], None]
Keep = Callable[[Any], None]
"""Takes each converted batch."""
VOLUME = "volume_m3"
POINTS = 2001
"""Of a table worked from the vessel: half a millimetre apart in a tank of a metre."""
BEYOND = 0.02
"""Share of height and volume by which a vessel may be larger than it is drawn."""
WIDE = 1200
"""Columns of the picture of a whole log."""


@dataclass(frozen=True)
class Asked:
    """What is to be reviewed."""

    logs: tuple[Path, ...]
    case: Path
    mapping: Path | None
    dips: Path | None = None
    movements: Path | None = None
    statement: Statement | None = None
    """The case as it was read already; else it is read from its file."""


@dataclass(frozen=True)
class Reviewed:
    """What came of it."""

    asked: Asked
    study: Study
    bench: Bench
    judged: Judged
    remarks: tuple[str, ...] = ()
    faults: list[Fault] = field(default_factory=list)
    """Files that could not be read to their end, and what is wrong with the case."""

    @property
    def picture(self) -> Columns:
        """The whole log, from what was kept of it."""
        seen = self.bench.seen
        return of_blocks(seen.series, seen.first_us, seen.last_us, min(WIDE, max(len(seen.series), 1)))


def review(asked: Asked, progress: Progress | None = None, keep: Keep | None = None) -> Reviewed:
    """Review logs; raises LogError where nothing can be begun or no row is left."""
    study, converter = _made(asked)
    tank = tank_of(study, converter)
    dips = _dips(asked, study, tank)
    movements = _movements(asked, tank)
    seeing = Pass(converter.mapping, asked_times(dips, movements), setting("spike_limit"))
    faults = [*study.statement.faults]
    for converted, rejected in _batches(asked, converter, faults, progress, seeing.rejected):
        seeing.add(converted, rejected)
        if keep is not None:
            keep(converted)
    if not len(seeing.blocks.index):
        why = ", ".join(f"{counted(count, 'row')}: {reason}" for reason, count in seeing.rejected.items())
        raise LogError([*faults, Fault("LOG", "one with rows that can be read", "none", why)])
    bench = Bench(
        seeing.done(),
        tank,
        dips,
        movements,
        tuple(cuts_of(movements)),
        asked.dips is not None,
        asked.movements is not None,
    )
    return Reviewed(asked, study, bench, judge(bench), tuple(converter.tanks[0].remarks), faults)


def zoomed(asked: Asked, from_us: int, to_us: int, columns: int) -> Columns:
    """Least and greatest level in each column between two times, from the rows themselves."""
    _, converter = _made(asked)
    found = Columns.empty(from_us, to_us, columns)
    for converted, _ in _batches(asked, converter, [], None):
        found.add(converted)
    return found.done()


def tank_of(study: Study, converter: Converter) -> Tank:
    """What a review knows of the case."""
    table = converter.tanks[0]
    levels, volumes = _volumes(study, table)
    sensor = sensor_of(study)
    kind = sensor.kind if sensor is not None else ""
    return Tank(
        table.tag,
        table.lower_m,
        table.upper_m,
        levels,
        volumes,
        kind in (STEM, CHAMBER),
        "pure_alcohol_m3" in table.values,
        kind,
        *_high_high(study),
    )


def _high_high(study: Study) -> tuple[float, bool]:
    """Where HH stands, or may stand at most, and whether it is set; NaN where that is not known."""
    over = study.safe.overfill
    at_m = over.high_high.stands.value if over is not None else None
    return (float("nan"), False) if over is None or at_m is None else (at_m, over.high_high.as_set is not None)


def _volumes(study: Study, table: TankTables) -> tuple[Reals, Reals]:
    """Levels and volumes: by the table of the conversion; by the vessel where the case asks for no volume."""
    volumes = table.values.get(VOLUME, np.zeros(0))
    if len(volumes):
        return np.linspace(table.low_m, table.high_m, len(volumes)), volumes
    body = study.vessel.body.whole if study.vessel is not None else None
    if not isinstance(body, Body):
        return np.zeros(0), np.zeros(0)
    levels = np.linspace(float(body.low_m), float(body.high_m), POINTS)
    return levels, np.asarray(body.volume_below_m3(levels), dtype=np.float64)


def _made(asked: Asked) -> tuple[Study, Converter]:
    if asked.mapping is None:
        raise LogError([missing_mapping(columns_of(asked.logs[0]) if asked.logs else ())])
    mapping = read_mapping(asked.mapping)
    read = asked.statement
    study = study_of(asked.case) if read is None else study_with_level(read, asked.case.name)
    tag = study.statement.case.tag.text
    strange = sorted(set(mapping.names.values()) - {tag})
    if strange:
        why = "a review is of one case; rows of other tags are set aside"
        raise LogError([Fault("tag.names", f"the tag of the case: {tag}", repr(name), why) for name in strange])
    return study, Converter.of([study], mapping)


def _dips(asked: Asked, study: Study, tank: Tank) -> Sequence[Dip]:
    if asked.dips is None:
        return ()
    body = study.vessel.body.whole if study.vessel is not None else None
    ends = [*tank.levels_m[:1].tolist(), *tank.levels_m[-1:].tolist()]
    if isinstance(body, Body):
        ends += [float(body.low_m), float(body.high_m)]
    if not ends:
        return read_dips(asked.dips, tank.tag)
    beyond = BEYOND * (max(ends) - min(ends))
    return read_dips(asked.dips, tank.tag, min(ends) - beyond, max(ends) + beyond)


def _movements(asked: Asked, tank: Tank) -> Sequence[Movement]:
    if asked.movements is None:
        return ()
    most_m3 = (1.0 + BEYOND) * float(tank.volumes_m3[-1]) if tank.has_table else inf
    found = read_movements(asked.movements, tank.tag, most_m3)
    twice = [each for before, each in pairwise(found) if before == each]
    if twice:
        raise LogError(
            [Fault(str(asked.movements), "movements once each", f"{len(twice)} twice", "they would count twice")]
        )
    return found


def _batches(
    asked: Asked,
    converter: Converter,
    faults: list[Fault],
    progress: Progress | None,
    strays: Counter[str] | None = None,
) -> Iterator[tuple[Any, Any]]:
    """Every converted batch with its rejected rows, in the order of the files; lines of no row are counted."""
    mapping: LogMapping = converter.mapping
    after: dict[str, int] = {}
    rows = 0
    for number, path in enumerate(asked.logs):
        try:
            for chunk in all_chunks(path, mapping):
                for batch in chunk.batches:
                    converted, rejected = convert(batch, converter, mapping, after)
                    _follow(converted, after)
                    rows += converted.num_rows + rejected.num_rows
                    yield converted, rejected
                    if progress is not None:
                        progress(rows, (number + chunk.done) / len(asked.logs))
                if strays is not None:
                    strays.update(stray.reason for stray in chunk.strays)
        except OSError as error:
            faults.append(Fault(str(path), "a log as CSV or Parquet", "one that cannot be read", error.strerror or ""))
        except LogError as error:
            faults += error.faults


def _follow(converted: Any, after: dict[str, int]) -> None:
    """Note the last time, which the rows after must follow."""
    if converted.num_rows:
        last = converted.num_rows - 1
        at = converted.column("time")[last].value
        after[converted.column("tag")[last].as_py()] = int(at)
