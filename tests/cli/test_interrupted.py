"""Ctrl-C ends a command without a word, also while it loads what it needs."""

from __future__ import annotations

import signal
import subprocess
import sys
from os import environ

import pytest

from tests.cli.run import ROOT

# The code of a process that Ctrl-C ended, as shells give it: 128 and the number of the signal (POSIX.1-2017, vol. 3,
# 2.8.2: greater than 128; common practice: 128 + 2).
AFTER_CTRL_C = 128 + signal.SIGINT
LOADED = ["click.types", "ruamel.yaml.events"]
"""The first while the command is loaded, the second when it is at work and reads the case."""


def hears() -> None:
    """Ctrl-C is to be heard."""
    signal.signal(signal.SIGINT, signal.SIG_DFL)


def interrupted_when(module: str, *words: str) -> tuple[int, list[str]]:
    """Exit code of a command that is sent Ctrl-C once a module is loaded, and what it says beside its loading.

    Python tells every module on the error stream when it is loaded: no clock is waited for. The command hears Ctrl-C
    again where the tests themselves were started in the background, which takes it away from all they start.
    """
    command = [sys.executable, "-X", "importtime", "-m", "onedatum", *words]
    whole = {**environ, "PYTHONPATH": str(ROOT / "src")}
    with subprocess.Popen(
        command, cwd=ROOT, env=whole, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, preexec_fn=hears
    ) as run:
        assert run.stderr is not None
        assert run.stdout is not None
        seen = any(line.split("|")[-1].strip() == module for line in run.stderr)
        run.send_signal(signal.SIGINT)
        said = [line for line in run.stderr if not line.startswith("import time:")] + run.stdout.readlines()
        run.wait(60)
    assert seen, f"{module} was never loaded"
    # Where Ctrl-C comes within a text that is executed, as of a dataclass in the making, Python 3.11 started with -m
    # ends itself by the signal, though the error was caught (tried: exec("raise KeyboardInterrupt")). To a shell it is
    # the same code.
    return (AFTER_CTRL_C if run.returncode == -signal.SIGINT else run.returncode), said


@pytest.mark.parametrize("module", LOADED)
def test_a_command_that_is_stopped_says_nothing(module: str) -> None:
    assert interrupted_when(module, "check", "examples/spirit_receiver.yaml") == (AFTER_CTRL_C, [])
