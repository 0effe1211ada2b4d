"""Two hundred servers killed while a client has its edits kept: the file is whole and says the last or the next."""

from __future__ import annotations

import os
import re
import signal
import subprocess
import sys
from contextlib import suppress
from pathlib import Path
from random import Random
from tempfile import TemporaryDirectory
from threading import Timer

import httpx2

from onedatum.jobs.folder import Folder
from soak.report import Report

NAME = "killed_server"
SEED = 20261126
KILLS = 200
LONGEST_S = 0.4
TEXT = "onedatum: 1\ntag: edit 0\n" + "# a line of the case\n" * 2_000
ROOT = Path(__file__).resolve().parents[2]


def served(folder: Path) -> tuple[subprocess.Popen[str], str]:
    """A server of the folder in a group of its own, and its link."""
    words = [sys.executable, "-m", "onedatum", "serve", str(folder), "--port", "0", "--no-browser"]
    whole = {**os.environ, "PYTHONPATH": str(ROOT / "src")}
    quiet = subprocess.DEVNULL  # what is left over when a process is killed is told there
    process = subprocess.Popen(
        words, stdout=subprocess.PIPE, stderr=quiet, text=True, env=whole, start_new_session=True
    )
    line = "" if process.stdout is None else process.stdout.readline()
    return process, line.rpartition(" at ")[2].strip()


def kept_until_killed(link: str, first: int, killer: Timer) -> int:
    """Have one edit after the other kept until the server is gone; the number of the last that was answered."""
    number = first
    with suppress(httpx2.HTTPError), httpx2.Client(base_url=link, timeout=10.0) as client:
        version = client.get("/api/cases").json()[0]["version"]
        while True:
            change = {"changes": {"tag": f"edit {number}"}, "version": version}
            told = client.put("/api/cases/a/fields", json=change).json()
            if told.get("conflict") or told.get("refused"):
                raise RuntimeError(str(told))
            version, number = told["version"], number + 1
            if number == first + 1:
                killer.start()
    return number - 1


def wrongs(path: Path, kills: int, seed: int) -> tuple[int, int, int, int]:
    """Kill that many servers; files that were not whole, edits lost, files left over, edits kept in all."""
    random, broken, lost, left, last = Random(seed), 0, 0, 0, 0
    (path / "a.yaml").write_text(TEXT, encoding="utf-8")
    for _ in range(kills):
        process, link = served(path)
        killer = Timer(random.uniform(0.0, LONGEST_S), process.send_signal, [signal.SIGKILL])
        kept = kept_until_killed(link, last + 1, killer)
        killer.join()
        process.wait()
        if process.stdout is not None:
            process.stdout.close()
        text = (path / "a.yaml").read_text(encoding="utf-8")
        found = re.fullmatch(r"onedatum: 1\ntag: edit (\d+)\n((?:# a line of the case\n)*)", text)
        broken += found is None or found[2].count("\n") != 2_000
        now = int(found[1]) if found is not None else kept
        lost += now not in (kept, kept + 1)  # the one that was not answered any more may be kept or not
        last = now
        left += sum(each.name not in ("a.yaml", ".onedatum") for each in path.iterdir())
    return broken, lost, left, last


def run() -> Report:
    """Serve, edit, kill after a time drawn at random, look at the folder."""
    with TemporaryDirectory() as place:
        path = Path(place)
        broken, lost, left, last = wrongs(path, KILLS, SEED)
        writable = Folder(path).save("a", "onedatum: 1\n", Folder(path).read("a").version)
    return Report(
        title="Servers that were killed",
        statement=f"A case is whole, and holds every edit that was answered, after each of {KILLS} servers was killed.",
        method=(
            "A client has one edit after the other kept through the server; the server is killed, with a signal that "
            "it cannot catch, after a time drawn at random. The file must then be whole, and say the last edit that "
            "was answered or the one that was under way. How many edits there were "
            "depends on the machine and is not told."
        ),
        numbers=(
            ("servers killed", f"{KILLS}"),
            ("files that were not whole", f"{broken}"),
            ("edits that were answered and lost", f"{lost}"),
            ("temporary files left beside the case", f"{left}"),
            ("the next save", type(writable).__name__.lower()),
        ),
        seeds=(SEED,),
        holds=not (broken or lost or left) and last > KILLS and type(writable).__name__ == "Saved",
    )
