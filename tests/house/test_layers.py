"""The import contracts of pyproject.toml, tried on a tree with every room of the house and wrong imports planted in it.

That the real tree keeps them is the work of ``python3 dev.py check``; here it is shown that a breach is found.
"""

from __future__ import annotations

import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from tests.house.tree import ROOT

FLOORS = "cli web jobs paper store logs proving simulate study verdicts case physics foundation data".split()
PHYSICS = (
    "vessels media floats magnetostrictive capacitive bypass pressure loop ignition overfill quantity uncertainty "
    "calibration detection"
).split()
FOUNDATION = "errors constants moments wording sources units working numerics".split()

ROOMS = [*FLOORS, *(f"physics/{room}" for room in PHYSICS), *(f"foundation/{room}" for room in FOUNDATION)]

# Every arrow that the work needs: each must pass, all at once.
SOUND = {
    "__init__": "def __getattr__(name):\n    from onedatum.jobs import x",
    "__main__": "from onedatum.cli import x",
    "cli/x": "from onedatum.jobs import x",
    "web/x": "from onedatum.jobs import x",
    "jobs/x": "from onedatum import logs, paper, proving, store, study",
    "paper/x": "from onedatum import case, physics, study",
    "proving/x": "from onedatum import simulate",
    "logs/x": "from onedatum import simulate",
    "simulate/x": "from onedatum.physics import vessels",
    "study/x": "from onedatum import case, physics, verdicts",
    "case/x": "from onedatum.foundation import units",
    "verdicts/x": "from onedatum.foundation import working",
    "physics/vessels/x": "from onedatum.foundation import numerics, working",
    "foundation/working/x": "from onedatum.foundation import constants, errors, numerics, sources, units",
    "foundation/units/x": "from onedatum.foundation import errors",
    "foundation/sources/x": "from onedatum import data",
}

# A module, what it must not import, the name of the contract that says so, and why it is wrong.
BREACHES = [
    ("physics/vessels/x", "import onedatum.study", "Floors", "upward"),
    ("foundation/errors/x", "import onedatum.physics.vessels.x", "Floors", "upward from the ground"),
    ("study/x", "def late():\n    import onedatum.jobs", "Floors", "upward, hidden in a function"),
    ("physics/vessels/x", "from onedatum import examine", "Floors", "upward by way of the root"),
    ("paper/x", "import onedatum.store", "Floors", "across a floor"),
    ("physics/vessels/x", "import onedatum.physics.media", "Rooms of physics", "one room of physics to another"),
    ("case/x", "import onedatum.physics.vessels", "Case, verdicts and physics", "case to physics"),
    ("verdicts/x", "import onedatum.physics", "Case, verdicts and physics", "verdicts to physics"),
    ("verdicts/x", "import onedatum.case", "Case, verdicts and physics", "verdicts to case"),
    ("foundation/units/x", "import onedatum.foundation.working", "Foundation", "units to the working"),
    ("physics/media/x", "import mpmath", "The tool itself", "a library for tests only"),
    ("helpers/x", "", "Floors", "a module on no floor"),
    ("physics/radar/x", "", "Rooms of physics", "a room of physics that is not listed"),
    ("foundation/misc/x", "", "Foundation", "a part of the foundation that is not listed"),
]


@pytest.fixture(scope="module")
def sound_house(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A copy of the whole tree of rooms, empty but for the imports that the work needs."""
    folder = tmp_path_factory.mktemp("house")
    shutil.copy(ROOT / "pyproject.toml", folder)
    for room in ROOMS:
        plant(folder, f"{room}/__init__", "")
        if room not in ("physics", "foundation"):
            plant(folder, f"{room}/x", "")
    for module, text in SOUND.items():
        plant(folder, module, text)
    return folder


def plant(folder: Path, module: str, text: str) -> None:
    """Put text into a module, in packages all the way down."""
    path = folder / "onedatum" / f"{module}.py"
    path.parent.mkdir(parents=True, exist_ok=True)
    for package in [path.parent, *path.parent.parents]:
        if package == folder:
            break
        (package / "__init__.py").touch()
    path.write_text(text + "\n", encoding="utf-8")


def verdict(folder: Path) -> tuple[int, str]:
    """The exit code and the words of the check of layers, as dev.py starts it, on a tree."""
    words = ["-c", "from importlinter.cli import lint_imports_command as check; check()", "--no-cache"]
    done = subprocess.run([sys.executable, *words], cwd=folder, capture_output=True, text=True, check=False)
    return done.returncode, done.stdout + done.stderr


def broken(words: str) -> list[str]:
    """The contracts that a report calls broken."""
    return [line.removesuffix(" BROKEN") for line in words.splitlines() if line.endswith(" BROKEN")]


def test_the_arrows_that_the_work_needs_pass(sound_house: Path) -> None:
    code, words = verdict(sound_house)
    assert code == 0, words
    assert broken(words) == []
    assert "5 kept, 0 broken" in words


@pytest.mark.parametrize(("module", "text", "contract"), [b[:3] for b in BREACHES], ids=[b[3] for b in BREACHES])
def test_a_wrong_import_breaks(sound_house: Path, tmp_path: Path, module: str, text: str, contract: str) -> None:
    house = tmp_path / "house"
    shutil.copytree(sound_house, house)
    plant(house, module, text)
    code, words = verdict(house)
    assert code == 1, words
    assert [name for name in broken(words) if name.startswith(contract)], words
