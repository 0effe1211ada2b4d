"""dev.py: when it sets up the environment, and that it passes exit codes through."""

from __future__ import annotations

import importlib.util
import sys
from collections.abc import Callable
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest

from tests.house.tree import ROOT


class Recorder:
    """Stands in for a function and keeps what it was called with."""

    def __init__(self, answer: Callable[..., object]) -> None:
        self.answer = answer
        self.calls: list[tuple[Any, ...]] = []

    def __call__(self, *words: object) -> object:
        self.calls.append(words)
        return self.answer(*words)


@pytest.fixture
def dev(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> ModuleType:
    """dev.py on a project folder of its own, with an environment that is ready for the tool alone."""
    spec = importlib.util.spec_from_file_location("dev", ROOT / "dev.py")
    assert spec is not None and spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    home = tmp_path / ".venv"
    for name, value in {"ROOT": tmp_path, "HOME": home, "STAMP": home / "stamp", "TOOLS": tmp_path / ".tools"}.items():
        monkeypatch.setattr(module, name, value)
    for name in ("pyproject.toml", "constraints.txt"):
        (tmp_path / name).write_text(name, encoding="utf-8")
    monkeypatch.setattr(module, "environment_python", lambda: Path(sys.executable))
    home.mkdir()
    module.STAMP.write_text(module.key() + "\n", encoding="utf-8")
    return module


def test_a_ready_environment_is_left_alone(dev: ModuleType) -> None:
    assert dev.ready(dev.RUNTIME)
    dev.environment(dev.RUNTIME)  # would fail in this empty folder if it set anything up


def test_the_test_tools_call_for_a_set_up(dev: ModuleType) -> None:
    assert not dev.ready(dev.DEVELOPMENT)


@pytest.mark.parametrize("name", ["pyproject.toml", "constraints.txt"])
def test_a_changed_file_calls_for_a_set_up(dev: ModuleType, name: str) -> None:
    (dev.ROOT / name).write_text("changed", encoding="utf-8")
    assert not dev.ready(dev.RUNTIME)


def test_another_python_calls_for_a_set_up(dev: ModuleType, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(dev.platform, "python_version", lambda: "3.99.0")
    assert not dev.ready(dev.RUNTIME)


def test_an_interrupted_set_up_is_done_again(dev: ModuleType, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(dev, "set_up_with_uv", lambda groups: False)
    monkeypatch.setattr(dev, "set_up_with_pip", lambda groups: False)
    with pytest.raises(dev.Failure):
        dev.environment(dev.DEVELOPMENT)
    assert not dev.ready(dev.RUNTIME)


def test_without_uv_pip_does_the_same(dev: ModuleType, monkeypatch: pytest.MonkeyPatch) -> None:
    pip = Recorder(lambda groups: True)
    monkeypatch.setenv(dev.NO_UV, "1")
    monkeypatch.setattr(dev, "set_up_with_pip", pip)
    dev.environment(dev.DEVELOPMENT)
    assert pip.calls == [(dev.DEVELOPMENT,)]
    assert dev.ready(dev.DEVELOPMENT) and dev.ready(dev.RUNTIME)


def test_exit_codes_pass_through(dev: ModuleType) -> None:
    assert dev.in_environment("-c", "raise SystemExit(3)") == 3


def test_what_is_compiled_is_kept_in_the_environment(dev: ModuleType, monkeypatch: pytest.MonkeyPatch) -> None:
    """The tree stays as it is, and a shell that forbids to keep anything makes no process compile all anew."""
    monkeypatch.setenv("PYTHONDONTWRITEBYTECODE", "1")
    (dev.ROOT / "imported.py").write_text("", encoding="utf-8")
    assert dev.in_environment("-c", "import imported") == 0
    (kept,) = (dev.HOME / "bytecode").rglob("imported.*.pyc")
    assert kept.is_file()
    assert not (dev.ROOT / "__pycache__").exists()


def test_a_killed_program_is_told_as_shells_tell_it(dev: ModuleType, monkeypatch: pytest.MonkeyPatch) -> None:
    """subprocess tells a signal as a negative number, POSIX shells as 128 and the signal."""
    monkeypatch.setattr(dev.subprocess, "call", lambda words, **_: -15)
    assert dev.in_environment("-c", "") == 128 + 15


@pytest.mark.parametrize(("studied", "documented", "code"), [(3, 0, 3), (0, 2, 2), (0, 0, 0)])
def test_run_stops_at_the_first_failure(
    dev: ModuleType, monkeypatch: pytest.MonkeyPatch, studied: int, documented: int, code: int
) -> None:
    codes = {"study": studied, "document": documented}
    started = Recorder(lambda *words: codes[words[2]])
    monkeypatch.setattr(dev, "in_environment", started)
    assert dev.main(["run"]) == code
    assert [words[2] for words in started.calls] == (["study"] if studied else ["study", "document"])


def test_check_goes_on_after_a_failure(
    dev: ModuleType, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    started = Recorder(lambda *words: int("format" in words))
    monkeypatch.setattr(dev, "environment", lambda groups: None)
    monkeypatch.setattr(dev, "in_environment", started)
    assert dev.main(["check"]) == 1
    assert started.calls == list(dev.CHECKS.values())
    assert "failed: ruff format" in capsys.readouterr().err


def test_words_that_make_no_command(dev: ModuleType, capsys: pytest.CaptureFixture[str]) -> None:
    assert dev.main([]) == dev.main(["walk"]) == 2
    assert dev.main(["--help"]) == 0
    usage = capsys.readouterr().out
    assert [command for command in dev.COMMANDS if command not in usage] == []


def test_serve_copies_the_examples_once_and_leaves_them_alone(
    dev: ModuleType, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    started = Recorder(lambda *words: 0)
    monkeypatch.setattr(dev, "in_environment", started)
    monkeypatch.setattr(dev, "CASES", tmp_path / "cases")
    assert dev.main(["serve", "--no-browser"]) == 0
    assert started.calls == [("-m", "onedatum", "serve", str(tmp_path / "cases"), "--no-browser")]
    kept = tmp_path / "cases" / "spirit_receiver.yaml"
    assert kept.read_bytes() == (dev.EXAMPLES / "spirit_receiver.yaml").read_bytes()
    kept.write_text("tag: LT-1\n", encoding="utf-8")
    assert dev.main(["serve"]) == 0
    assert kept.read_text(encoding="utf-8") == "tag: LT-1\n"
    assert dev.main(["serve", "elsewhere"]) == 0
    assert started.calls[-1] == ("-m", "onedatum", "serve", "elsewhere")
