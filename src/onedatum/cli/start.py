"""Where the command begins: before anything heavy is loaded, so that Ctrl-C ends it without a word from the start."""

from __future__ import annotations

import gc
import os
import signal
import sys
from collections.abc import Iterator
from contextlib import contextmanager

INTERRUPTED = 130
"""The exit code after Ctrl-C, as shells give it: 128 and the number of the signal."""


@contextmanager
def ended_at_once() -> Iterator[None]:
    """While modules are loaded Ctrl-C ends the process there and then: nothing is begun that needs an end.

    An error raised in the midst of a module that loads can be told as another, or be lost: a module may take it for a
    library that is not there.
    """
    try:
        before = signal.signal(signal.SIGINT, _end)
    except ValueError:  # not the thread that hears signals
        before = None
    if before is signal.SIG_IGN:  # who started this wants no end by Ctrl-C, as a shell for what runs in the background
        signal.signal(signal.SIGINT, before)
        before = None
    try:
        yield
    finally:
        if before is not None:
            signal.signal(signal.SIGINT, before)


def _end(*_: object) -> None:
    os._exit(INTERRUPTED)


def main() -> None:
    """Load the command and run it; what is loaded stays, so it is looked through for garbage seldom."""
    gc.set_threshold(50_000, 20, 20)
    try:
        with ended_at_once():
            from onedatum.cli.main import main as run
        run()
    except KeyboardInterrupt:
        sys.exit(INTERRUPTED)
