"""How long a user waits for a fresh process, against one that imports numpy and ends."""

from __future__ import annotations

import subprocess
import sys

from bench.race import Race, Work

EXAMPLE = "examples/spirit_receiver.yaml"


def process(*words: str) -> Work:
    """A whole process of this Python, from its start to its end; one that fails ends the measurement."""

    def work() -> None:
        subprocess.run([sys.executable, *words], stdout=subprocess.DEVNULL, check=True)

    return work


def races() -> list[Race]:
    """The help must feel immediate, a study quick."""
    peer_name, peer = "import numpy", process("-c", "import numpy")
    return [
        Race("onedatum --help", process("-m", "onedatum", "--help"), peer_name, peer, goal=1.2),
        Race("onedatum study", process("-m", "onedatum", "study", EXAMPLE), peer_name, peer, goal=5.0),
    ]
