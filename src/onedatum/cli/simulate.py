"""`onedatum simulate`."""

from __future__ import annotations

import asyncio
import signal
import sys
from contextlib import suppress
from math import inf
from pathlib import Path
from typing import TYPE_CHECKING

import click

from onedatum.cli.exits import BAD_INPUT
from onedatum.cli.output import printable, say_faults
from onedatum.foundation.errors import Fault, OutputError

if TYPE_CHECKING:
    from onedatum.jobs.standin.run import Standin

PORT = click.IntRange(0, 65535)


@click.command("simulate")
@click.argument("cases", nargs=-1, required=True, metavar="CASE...")
@click.option("--modbus", type=PORT, help="Port of Modbus TCP; 0 takes a free one.")
@click.option("--opc-ua", type=PORT, help="Port of OPC UA; 0 takes a free one.")
@click.option("--hart", type=PORT, help="Port of the HART stream, of further tags the next ones; 0 takes free ones.")
@click.option("--from", "begin", default="", metavar="LEVEL", help='First level, "0.5 m" or a per cent of the span.')
@click.option("--to", "end", default="", metavar="LEVEL", help="Level it goes to.")
@click.option("--in", "in_", default="20 min", show_default=True, metavar="TIME", help="Time it takes for that.")
@click.option("--hold", default="5 min", show_default=True, metavar="TIME", help="Time it rests before it goes back.")
@click.option("--once", is_flag=True, help="Rest at the end; else it goes back and begins again.")
@click.option("--noise", default="0.5 mm", show_default=True, help="Standard deviation of the surface.")
@click.option("--interval", default="0.5 s", show_default=True, help="Between two values of the instrument.")
@click.option("--times", type=click.FloatRange(0.001, 100_000), default=1.0, help="How many times as fast time goes.")
@click.option("--seed", type=click.IntRange(0), default=1, show_default=True, help="Of noise and garbage.")
@click.option("--faults", type=click.Path(path_type=Path), help="Which faults come when; docs/simulate.md shows it.")
@click.option("--watch-file", type=click.Path(path_type=Path), help="Write the file by which it is watched.")
@click.option("--for", "for_", default="", metavar="TIME", help="End by itself after a time of the real clock.")
def command(
    cases: tuple[str, ...],
    modbus: int | None,
    opc_ua: int | None,
    hart: int | None,
    once: bool,
    times: float,
    seed: int,
    faults: Path | None,
    watch_file: Path | None,
    for_: str,
    **course: str,
) -> None:
    """Serve the simulated tanks of cases over Modbus TCP, OPC UA and HART, on this machine alone.

    A stand-in for a plant, for tests and training: its numbers prove nothing about one. Each CASE is a tag, TAG=CASE
    gives it another. Without a port all three ways are served at free ones. It runs until Ctrl+C.
    """
    from onedatum.jobs.standin import WAYS, lacking

    stated = zip(WAYS, (modbus, opc_ua, hart), strict=True)
    ports = {way: port for way, port in stated if port is not None} or dict.fromkeys(WAYS, 0)
    if missing := lacking(ports):
        _refuse([missing])
    from onedatum.jobs.standin import told
    from onedatum.jobs.standin.plan import read_plan
    from onedatum.jobs.standin.run import Standin
    from onedatum.jobs.standin.tanks import Course, StandinError, tanks_of

    try:
        for_s = _for_s(for_)
        tanks = tanks_of(cases, Course(repeats=not once, **course), seed)
        if watch_file is not None:
            told.refuse_untagged(tanks)
        plan = read_plan(faults, tanks) if faults is not None else None
        with asyncio.Runner(loop_factory=asyncio.SelectorEventLoop) as loop:
            loop.run(_serve(Standin(tanks, ports, plan, times, seed), watch_file, for_s))
    except StandinError as error:
        _refuse(error.faults)
    except OutputError as error:
        click.echo(printable(str(error)), err=True)
        sys.exit(BAD_INPUT)
    except KeyboardInterrupt:
        pass  # Ctrl+C is how it is ended, where signals cannot be handled
    click.echo("onedatum: the simulation has ended.")


async def _serve(standin: Standin, watch_file: Path | None, for_s: float) -> None:
    """Run until a signal, or for the time."""
    from onedatum.jobs.standin.told import told, write_watch_file

    ended = asyncio.Event()
    loop = asyncio.get_running_loop()
    for number in (signal.SIGINT, signal.SIGTERM):
        with suppress(NotImplementedError, RuntimeError, ValueError):  # not on every system, nor beside the main thread
            loop.add_signal_handler(number, ended.set)
    await standin.start()
    try:
        if watch_file is not None:
            write_watch_file(standin, watch_file)
        click.echo(printable(told(standin)))
        if watch_file is not None:
            click.echo(printable(f"Watch it with: onedatum watch {watch_file}"))
        click.echo("Stop with Ctrl+C.")
        sys.stdout.flush()
    except OutputError:
        await standin.stop()
        raise
    await standin.run(ended, for_s)


def _for_s(text: str) -> float:
    from onedatum.foundation.errors import QuantityError
    from onedatum.foundation.units import read_quantity
    from onedatum.jobs.standin.tanks import StandinError

    if not text:
        return inf
    try:
        found = read_quantity(text, "time")
    except QuantityError as error:
        raise StandinError([Fault("--for", error.allowed, error.got, error.why, remedy=error.remedy)]) from None
    if not found > 0.0:
        raise StandinError([Fault("--for", "a time above 0 s", repr(text))])
    return found


def _refuse(faults: list[Fault] | tuple[Fault, ...]) -> None:
    say_faults(faults)
    sys.exit(BAD_INPUT)
