"""Writers of records killed two hundred times, two writers at once, a backup taken while one writes, flipped bits."""

from __future__ import annotations

import os
import signal
import time
from dataclasses import dataclass
from itertools import count
from pathlib import Path
from random import Random
from tempfile import TemporaryDirectory
from typing import IO

from onedatum.foundation.errors import StoreError
from onedatum.store.record import Record
from onedatum.store.store import Store
from soak.report import Report

NAME = "killed_writers"
SEED = 20261126
KILLS = 200
LONGEST_S = 0.04
EACH = 500
FLIPS = 200


@dataclass
class Writer:
    """A process that appends records, and what it says."""

    process: int
    says: IO[str]

    def end(self) -> int:
        """Wait until it has ended; its exit code, or minus the signal that killed it."""
        self.says.close()
        return os.waitstatus_to_exitcode(os.waitpid(self.process, 0)[1])


def writer(where: str, name: str, most: int = 0) -> Writer:
    """A process that appends numbered records and says number and hash of each that stands; without end for 0."""
    reading, saying = os.pipe()
    process = os.fork()
    if not process:
        try:
            write(where, name, most, saying)
            os._exit(0)
        finally:
            os._exit(1)
    os.close(saying)
    return Writer(process, os.fdopen(reading, encoding="ascii"))


def write(where: str, name: str, most: int, saying: int) -> None:
    """Append one record after the other."""
    with Store.open(where, wait_s=60.0) as store:
        for number in count(1) if most == 0 else range(1, most + 1):
            record = store.append("number", name, name, {"number": number, "filling": "x" * (number * 37 % 900)})
            os.write(saying, f"{record.id} {record.hash}\n".encode())


def lost(said: list[str], records: list[Record]) -> int:
    """How many of the records that were said to stand do not; the last line of a killed process may be cut."""
    whole = [line.split() for line in said if line.endswith("\n")]
    held = {record.id: record.hash for record in records}
    return sum(held.get(int(number)) != own for number, own in whole)


@dataclass
class Killed:
    """What was found after the kills."""

    kills: int = 0
    said: int = 0
    wrong: int = 0
    """Records lost, and stores that did not verify."""


def killed(where: str, kills: int, random: Random) -> Killed:
    """Kill a writer again and again on one store, at a moment drawn after its first record; look each time."""
    found, earlier, everything = Killed(), 0, list[str]()
    for number in range(kills):
        child = writer(where, f"writer {number}")
        first = child.says.readline()
        time.sleep(random.uniform(0.0, LONGEST_S))
        os.kill(child.process, signal.SIGKILL)
        said = [first, *child.says.readlines()]
        child.end()
        with Store.open(where, existing=True) as store:
            chain, records = store.verify(), store.by_tag(f"writer {number}")
        grown = chain.head.id - earlier
        earlier = chain.head.id
        found.kills += 1
        everything += said
        # one more than was said may stand: killed between the record and the word about it
        found.wrong += lost(said, records) + (not chain.whole) + (not 0 <= grown - len(said) <= 1)
    with Store.open(where, existing=True) as store:
        found.wrong += lost(everything, store.all())
    found.said = len(everything)
    return found


def wrongs_of_two(where: str, each: int) -> tuple[int, int]:
    """Two writers at once: records lost or a chain that is not one, and how many records there are."""
    both = [writer(where, name, each) for name in ("first", "second")]
    said = [line for child in both for line in child.says.readlines()]
    wrong = sum(child.end() != 0 for child in both)
    with Store.open(where, existing=True) as store:
        chain = store.verify()
        wrong += lost(said, store.all()) + (not chain.whole)
        for name in ("first", "second"):
            numbers = [record.content["number"] for record in store.by_tag(name)]
            wrong += numbers != list(range(1, each + 1))
    return wrong, chain.head.id


def backed_up(folder: Path, random: Random) -> tuple[int, int]:
    """A backup while a writer writes, the store then lost: records said before the backup and not in it; its size."""
    where = folder / "busy.sqlite"
    child = writer(str(where), "writer")
    said = [child.says.readline() for _ in range(50 + random.randrange(50))]
    with Store.open(where, existing=True) as store:
        head = store.backup(folder / "backup.sqlite")
    os.kill(child.process, signal.SIGKILL)
    child.end()
    with Store.open(folder / "backup.sqlite", existing=True) as store:
        missing = lost(said, store.all()) + (not store.verify(head).whole)
        store.append("number", "restored", "restored", {})
        return missing + (not store.verify(head).whole), head.id


def unnoticed(file: Path, flips: int, random: Random) -> tuple[int, int, int]:
    """Flip one bit at a time: found, without effect on any record, and records changed without a word."""
    whole = file.read_bytes()
    with Store.open(file, existing=True) as store:
        records = store.all()
    found = harmless = silent = 0
    for _ in range(flips):
        flipped = bytearray(whole)
        flipped[random.randrange(len(whole))] ^= 1 << random.randrange(8)
        file.write_bytes(flipped)
        try:
            with Store.open(file, existing=True) as store:
                if not store.verify().whole:
                    found += 1
                elif store.all() == records:
                    harmless += 1
                else:
                    silent += 1
        except StoreError:
            found += 1
        for ending in ("-wal", "-shm"):
            file.with_name(file.name + ending).unlink(missing_ok=True)
    file.write_bytes(whole)
    return found, harmless, silent


def run() -> Report:
    """Kill, write in twos, restore, flip."""
    random = Random(SEED)
    with TemporaryDirectory() as place:
        folder = Path(place)
        after = killed(str(folder / "killed.sqlite"), KILLS, random)
        wrong_of_two, of_two = wrongs_of_two(str(folder / "two.sqlite"), EACH)
        missing, _ = backed_up(folder, random)
        _, _, silent = unnoticed(folder / "two.sqlite", FLIPS, random)
    return Report(
        title="Writers of records that were killed",
        statement=(
            f"No record that was said to be written is lost and the chain stays whole: after {KILLS} writers were "
            "killed, with two writers at once, and in a backup taken while one writes. No flipped bit changes a "
            "record without being found."
        ),
        method=(
            "A process appends records to a file of SQLite and says number and hash of each when it stands. It is "
            "killed, with a signal that it cannot catch, at a moment drawn after its first record; then every record "
            "it spoke of must be there with that hash, at most one more, and the chain must verify. Two processes "
            "write at once. A backup is taken while a process writes; what was said before must be in it, and it takes "
            "further records. Then one bit at a time is flipped anywhere in a file: it must be found, or all records "
            "must read as before, as in room that is not in use. It says nothing of a loss of power, where disk and "
            "file system have their part."
        ),
        numbers=(
            ("writers killed", f"{after.kills}"),
            ("records lost or chains broken by it", f"{after.wrong}"),
            ("records of two writers at once", f"{of_two}"),
            ("records lost or chains broken by it", f"{wrong_of_two}"),
            ("records missing in the backup", f"{missing}"),
            ("bits flipped", f"{FLIPS}"),
            ("flips that changed a record without being found", f"{silent}"),
        ),
        seeds=(SEED,),
        holds=not (after.wrong or wrong_of_two or missing or silent) and of_two == 2 * EACH,
    )
