"""What the command and its files state wrongly: said with its place and remedy, and nothing is started."""

from __future__ import annotations

import os
import signal
import time
from pathlib import Path
from threading import Thread

import pytest

from onedatum.jobs import standin as room
from onedatum.jobs.standin.links import LinkFault
from onedatum.jobs.standin.plan import Plan, read_plan
from onedatum.jobs.standin.tanks import Course, StandinError, Tank, tanks_of
from onedatum.logs.live.plan_reader import read_plan as read_watch
from onedatum.simulate import Held, Put
from tests.cli.run import ROOT, onedatum

CASE = str(ROOT / "examples" / "spirit_receiver.yaml")
PROBE = str(ROOT / "examples" / "caustic_tank.yaml")
HEAD = "faults: 1\nplan:\n"


@pytest.fixture(scope="module")
def tanks() -> list[Tank]:
    return tanks_of([CASE, f"B={PROBE}"], Course(), 1)


def plan_of(tanks: list[Tank], folder: Path, text: str) -> Plan:
    path = folder / "faults.yaml"
    path.write_text(text, encoding="utf-8")
    return read_plan(path, tanks)


def test_a_plan_is_read_in_its_units(tanks: list[Tank], tmp_path: Path) -> None:
    lines = (
        "- {at: 1 min, for: 30 s, link: delay, by: 2 s, on: hart, tag: B}",
        "- {at: 0 s, link: garbage}",
        "- {at: 2 min, for: 1 h, over: 10 min, instrument: density, size: -2 %, tag: LT-201}",
        "- {at: 3 min, instrument: zero, size: 0.05 mA}",
        "- {at: 4 min, instrument: stuck, tag: LT-201}",
        "- {at: 5 min, for: 10 s, output: 21.5 mA, tag: B}",
        "- {at: 6 min, output: broken wire, tag: LT-201}",
    )
    found = plan_of(tanks, tmp_path, HEAD + "".join(f"  {line}\n" for line in lines))
    assert found.links == (LinkFault("delay", 60.0, 30.0, "hart", "B", 2.0), LinkFault("garbage", 0.0))
    assert found.instruments == (
        ("LT-201", Put("density", -0.02, 120.0, 3600.0, 600.0)),
        ("LT-201", Put("zero", 5e-5, 180.0)),
        ("B", Put("zero", 5e-5, 180.0)),
        ("LT-201", Put("stuck", None, 240.0)),
        ("B", Held(0.0215, 300.0, 10.0)),
        ("LT-201", Held(0.0, 360.0)),
    )


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("{at: 1 s}", "with one of the keys link, instrument, output; got none of them"),
        ("{at: 1 s, link: drop, output: 3.6 mA}", "got link and output"),
        ("{link: drop}", "plan[0].at must be a time with its unit"),
        ("{at: 5, link: drop}", "The unit is missing"),
        ("{at: -1 s, link: drop}", "plan[0].at must be 0 s or later; got -1 s"),
        ("{at: 1 s, for: 0 s, link: drop}", "plan[0].for must be above 0 s; got 0 s"),
        ("{at: 1 s, link: dorp}", "Nearest: drop"),
        ("{at: 1 s, link: drop, on: modbuss}", "Nearest: modbus"),
        ("{at: 1 s, link: delay}", "plan[0].by must be a time with its unit"),
        ("{at: 1 s, link: delay, by: 1 h}", "a delay above 0 s, up to 10 min"),
        ("{at: 1 s, link: swap, on: opc_ua}", "The other ways know no order of words"),
        ("{at: 1 s, link: drop, on: modbus, tag: B}", "All tags share one port there"),
        ("{at: 1 s, link: drop, on: hart, tag: C}", "plan[0].tag must be one of LT-201, B; got 'C'"),
        ("{at: 1 s, link: drop, size: 2 %}", "plan[0].size must be a key that is known here"),
        ("{at: 1 s, instrument: permittivity, size: 2 %}", "plan[0].instrument must be one of datum, lower, upper"),
        ("{at: 1 s, instrument: milliammeter, size: 2 %, tag: LT-201}", "plan[0].instrument must be one of density"),
        ("{at: 1 s, instrument: density, tag: LT-201}", "plan[0].size must be a share, for example 2 %"),
        ("{at: 1 s, instrument: datum, size: 3 s}", "plan[0].size must be a length with its unit"),
        ("{at: 1 s, instrument: film, size: -1 mm, tag: B}", "plan[0].size must be at least 0 m"),
        (
            "{at: 1 s, instrument: stuck, size: 1 m, over: 1 s, tag: LT-201}",
            "plan[0].over must be a time, and not with stuck",
        ),
        ("{at: 1 s, output: 30 mA}", "plan[0].output must be from 0 to 25 mA, or broken wire"),
        ("{at: 1 s, output: high}", "plan[0].output must be a current with its unit"),
        ("drop", "plan[0] must be a fault with its keys"),
    ],
)
def test_a_wrong_line_is_said_with_its_place(tanks: list[Tank], tmp_path: Path, line: str, said: str) -> None:
    with pytest.raises(StandinError) as caught:
        plan_of(tanks, tmp_path, f"{HEAD}  - {line}\n")
    assert said in str(caught.value) and "faults.yaml:3:" in str(caught.value)


@pytest.mark.parametrize("text", ["", "plan: 3\n", "faults: 2\nplan: []\n", "- a\n", "faults: 1\nplans: []\n", "\0"])
def test_a_file_of_another_kind_is_said(tanks: list[Tank], tmp_path: Path, text: str) -> None:
    with pytest.raises(StandinError, match="must be"):
        plan_of(tanks, tmp_path, text)


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["none.yaml"], "none.yaml"),
        ([CASE, CASE], "must be a case with a tag of its own; got 'LT-201' twice. Give it another: TAG=CASE."),
        ([f"A B={CASE}"], "must be of letters, digits"),
        ([CASE, "--from", "9 m"], "it lies inside the vessel".capitalize()),
        ([CASE, "--from", "0.5"], "--from must be a level with its unit or a per cent of the span"),
        ([CASE, "--to", "200 %"], "It lies inside the vessel"),
        ([CASE, "--in", "0 s"], "--in and --hold must be a time above 0 s"),
        ([CASE, "--in", "-3 min"], "--in and --hold must be a time above 0 s"),
        ([CASE, "--hold", "5"], "--hold must be a time with its unit"),
        ([CASE, "--noise", "-1 mm"], "a noise of 0 mm or more"),
        ([CASE, "--interval", "0 s"], "an interval above 0 s"),
        ([CASE, "--for", "soon"], "--for must be a time with its unit"),
        ([CASE, "--for", "-1 s"], "--for must be a time above 0 s"),
        ([CASE, "--faults", "none.yaml"], "none.yaml"),
        ([CASE, "--hart", "0", "--watch-file", "taken/watch.yaml"], "a place that can be written"),
        (["B=untagged.yaml", "--hart", "0", "--watch-file", "watch.yaml", "--for", "1 s"], "State tag: B in it."),
        ([CASE, f"B={CASE}", "--hart", "65535"], "--hart must be a free port; got 6553"),
        ([CASE, "--modbus", "70000"], "70000 is not in the range"),
        ([], "Missing argument 'CASE...'"),
    ],
)
def test_what_is_asked_wrongly_is_said(tmp_path: Path, words: list[str], said: str) -> None:
    (tmp_path / "taken").write_text("a file", encoding="utf-8")
    text = Path(CASE).read_text(encoding="utf-8")
    (tmp_path / "untagged.yaml").write_text(text.replace("tag: LT-201\n", ""), encoding="utf-8")
    done = onedatum("simulate", *words, cwd=tmp_path)
    assert (done.code, said in done.err) == (2, True), done.err


def test_without_the_extra_it_is_named_and_hart_goes_all_the_same(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(room, "NEEDED", {"modbus": "no_such_library", "opc_ua": "nor_this"})
    done = onedatum("simulate", CASE)
    assert done.code == 2
    assert "the extra live must be installed" in done.err and 'pip install ".[live]"' in done.err
    assert "no_such_library and nor_this" in done.err
    assert onedatum("simulate", CASE, "--hart", "0", "--for", "1 ms").code == 0


def test_the_signal_to_end_ends_it(tmp_path: Path) -> None:
    """SIGTERM, once the file says that all is served; the handler is looked for first, so that nothing else is hit."""
    path = tmp_path / "watch.yaml"

    def send() -> None:
        while not (path.exists() and signal.getsignal(signal.SIGTERM) not in (signal.SIG_DFL, None)):
            time.sleep(0.01)
        os.kill(os.getpid(), signal.SIGTERM)

    Thread(target=send, daemon=True).start()
    done = onedatum("simulate", f"B={CASE}", "--hart", "0", "--watch-file", str(path), "--for", "1 min")
    (tag,) = read_watch(path).tags
    assert (tag.tag, tag.case_tag) == ("B", "LT-201"), "one case may stand for several, and the file says so"
    assert done.code == 0 and done.out.endswith("onedatum: the simulation has ended.\n")
    assert done.work_s < 30.0
