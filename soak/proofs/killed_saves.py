"""Two hundred processes killed while they save a case: the file is always one that was saved, whole."""

from __future__ import annotations

import os
import signal
import sys
import time
from pathlib import Path
from random import Random
from tempfile import TemporaryDirectory

from onedatum.jobs.folder import Folder
from soak.report import Report

NAME = "killed_saves"
SEED = 20261126
KILLS = 200
LONGEST_S = 0.1
LINES = 3_000


def text_of(number: int) -> str:
    """A case that shows by itself whether it is whole."""
    return "onedatum: 1\n" + f"# {number}\n" * LINES


def save_without_end(path: Path) -> None:
    """Save one text after the other."""
    folder, number = Folder(path), 0
    while True:
        number += 1
        folder.save("a", text_of(number), folder.read("a").version)


def run() -> Report:
    """Fork, kill after a time drawn at random, look at the folder."""
    random = Random(SEED)
    broken = leftovers = 0
    with TemporaryDirectory() as place:
        path = Path(place)
        (path / "a.yaml").write_text(text_of(0), encoding="utf-8")
        for _ in range(KILLS if sys.platform != "win32" else 0):
            child = os.fork()
            if not child:
                save_without_end(path)
            time.sleep(random.uniform(0.0, LONGEST_S))
            os.kill(child, signal.SIGKILL)
            os.waitpid(child, 0)
            text = Folder(path).read("a").text
            number = text.split("\n")[1].removeprefix("# ")
            broken += text != text_of(int(number))
            leftovers += sum(each.name not in ("a.yaml", ".onedatum") for each in path.iterdir())
        writable = Folder(path).save("a", "onedatum: 1\n", Folder(path).read("a").version)
    return Report(
        title="Saves that were killed",
        statement=f"A case is whole after each of {KILLS} processes that saved it was killed; nothing is left over.",
        method=(
            "A process saves cases of 3000 equal lines one after the other and is killed, with a signal that it cannot "
            "catch, after a time drawn at random. The file must then be equal lines, all of them. It says nothing of a "
            "loss of power, where disk and file system have their part."
        ),
        numbers=(
            ("processes killed", f"{KILLS}"),
            ("files that were not whole", f"{broken}"),
            ("temporary files left beside the case", f"{leftovers}"),
            ("the next save", type(writable).__name__.lower()),
        ),
        seeds=(SEED,),
        holds=not broken and not leftovers and type(writable).__name__ == "Saved",
    )
