"""The folder of cases as a store: no edit is lost, no file is half, no name leads out.

Other processes are real ones: killed, without rights, without room on the disk.
"""

from __future__ import annotations

import errno
import os
import stat
import subprocess
import sys
import threading
from hashlib import sha256
from pathlib import Path

import pytest

from onedatum.case.edit import edited
from onedatum.case.tree.limits import MAX_BYTES
from onedatum.foundation.errors import CaseError, OutputError
from onedatum.jobs.folder import Conflict, Folder, Saved
from onedatum.jobs.keeping import history
from onedatum.jobs.keeping import lock as lock_room
from onedatum.jobs.keeping.names import refused
from onedatum.jobs.write import write_whole
from tests.study.variants import WITH_BARRIER

KILLS = 20
EXAMPLE = WITH_BARRIER.read_text(encoding="utf-8")


@pytest.fixture
def folder(tmp_path: Path) -> Folder:
    (tmp_path / "a.yaml").write_text(EXAMPLE, encoding="utf-8", newline="")
    return Folder(tmp_path)


def saved(result: Saved | Conflict | None) -> Saved:
    assert isinstance(result, Saved)
    return result


def test_a_case_is_listed_read_and_saved(folder: Folder) -> None:
    [listed] = folder.cases()
    assert (listed.name, listed.tag, listed.service) == ("a", "LT-201", "distillery spirit receiver (invented)")
    read = folder.read("a")
    assert (read.text, read.version) == (EXAMPLE, sha256(EXAMPLE.encode()).hexdigest())
    assert listed.version == read.version
    after = saved(folder.save("a", edited(read.text, {"nozzle.bore": "81 mm"}).text, read.version))
    assert folder.read("a") == after
    assert folder.cases()[0].version == after.version
    assert (folder.path / "a.yaml").read_bytes().count(b"81 mm") == 1


def test_line_ends_and_the_byte_order_mark_stay(folder: Folder) -> None:
    content = b"\xef\xbb\xbfonedatum: 1\r\ntag: T\r\n"
    (folder.path / "b.yaml").write_bytes(content)
    read = folder.read("b")
    saved(folder.save("b", edited(read.text, {"tag": "U"}).text, read.version))
    assert (folder.path / "b.yaml").read_bytes() == content.replace(b"T", b"U")


def test_the_second_of_two_editors_is_told_what_differs_and_nothing_is_lost(folder: Folder) -> None:
    read = folder.read("a")
    one = edited(read.text, {"nozzle.bore": "81 mm"}).text
    two = edited(read.text, {"nozzle.bore": "82 mm", "medium.strength": "70 %vol"}).text
    first = saved(folder.save("a", one, read.version))
    conflict = folder.save("a", two, read.version)
    assert isinstance(conflict, Conflict)
    assert (conflict.mine, conflict.theirs, conflict.version) == (two, one, first.version)
    assert {each.path: (each.mine, each.theirs) for each in conflict.differences} == {
        "nozzle.bore": ("82 mm", "81 mm"),
        "medium.strength": ("70 %vol, at 20 degC, within 0.1 %vol", "68.0 %vol, at 20 degC, within 0.1 %vol"),
    }
    assert folder.read("a").text == one
    assert saved(folder.save("a", two, conflict.version)).text == two


def test_an_edit_by_another_program_is_a_conflict_too(folder: Folder) -> None:
    read = folder.read("a")
    (folder.path / "a.yaml").write_text(EXAMPLE.replace("LT-201", "LT-9"), encoding="utf-8")
    assert isinstance(folder.save("a", read.text + "# mine\n", read.version), Conflict)
    assert isinstance(folder.undo("a", read.version), Conflict)
    assert "LT-9" in folder.read("a").text


def test_undo_and_redo_survive_a_restart(folder: Folder) -> None:
    texts = [EXAMPLE]
    for number in range(3):
        texts.append(f"{EXAMPLE}# {number}\n")
        saved(folder.save("a", texts[-1], folder.read("a").version))
    for text in (texts[2], texts[1], texts[0]):
        assert saved(Folder(folder.path).undo("a", folder.read("a").version)).text == text == folder.read("a").text
    assert Folder(folder.path).undo("a", folder.read("a").version) is None
    for text in texts[1:3]:
        assert saved(Folder(folder.path).redo("a", folder.read("a").version)).text == text == folder.read("a").text
    saved(folder.save("a", "onedatum: 1\n", folder.read("a").version))
    assert folder.redo("a", folder.read("a").version) is None
    assert saved(folder.undo("a", folder.read("a").version)).text == texts[2]
    assert {folder.version("a", each.version).text for each in folder.versions("a")} == {*texts, "onedatum: 1\n"}


def test_no_more_versions_than_agreed_are_kept(folder: Folder, monkeypatch: pytest.MonkeyPatch) -> None:
    assert history.MOST == 200
    monkeypatch.setattr(history, "MOST", 5)
    for number in range(9):
        saved(folder.save("a", f"onedatum: 1\n# {number}\n", folder.read("a").version))
    kept = [folder.version("a", each.version).text for each in folder.versions("a")]
    assert kept == [f"onedatum: 1\n# {number}\n" for number in range(3, 8)]
    assert len(list((folder.path / ".onedatum" / "versions" / "a").glob("*.yaml"))) == 5


def test_a_history_that_is_spoilt_stops_no_edit(folder: Folder) -> None:
    saved(folder.save("a", "onedatum: 1\n", folder.read("a").version))
    steps = folder.path / ".onedatum" / "versions" / "a" / "steps.json"
    for spoilt in ("", "[]", "{", '{"kept": 5}', "[" * 5000):
        steps.write_text(spoilt, encoding="utf-8")
        assert folder.versions("a") == ()
        assert folder.undo("a", folder.read("a").version) is None
        saved(folder.save("a", f"onedatum: 1\n# {len(spoilt)}\n", folder.read("a").version))


BAD_NAMES = (
    "", ".", "..", ".a", "a/b", "../a", "a\\b", "C:a", "a\0", "a\n", "con", "NUL", "com1", "Lpt9.x", "a.", "a ", " a",
    "x" * 81, "a*", "a?", "\u202ea", "é" * 79 + "漢" * 60,
)  # fmt: skip


@pytest.mark.parametrize("name", BAD_NAMES)
def test_a_name_that_is_no_plain_name_is_refused_everywhere(folder: Folder, name: str) -> None:
    """Devices by the rules for file names of the system that has them; from memory."""
    before = sorted(folder.path.rglob("*"))
    for call in (folder.read, folder.new, folder.versions):
        with pytest.raises(CaseError, match="must be a plain file name"):
            call(name)
    with pytest.raises(CaseError, match="must be a plain file name"):
        folder.save(name, "onedatum: 1\n", "")
    with pytest.raises(CaseError, match="must be a plain file name"):
        folder.upload(name, b"onedatum: 1\n")
    assert [path for path in sorted(folder.path.rglob("*")) if ".onedatum" not in path.parts] == before


@pytest.mark.parametrize("name", ["a", "LT-201", "tank 7 (old)", "größe", "a.b", "lock", "writing", "x" * 80])
def test_a_plain_name_will_do(folder: Folder, name: str) -> None:
    assert refused(name) == ""
    if name != "a":
        new = folder.new(name)
        assert folder.read(name) == new
        saved(folder.save(name, "onedatum: 1\n", new.version))


def test_a_link_out_of_the_folder_is_refused(folder: Folder, tmp_path_factory: pytest.TempPathFactory) -> None:
    outside = tmp_path_factory.mktemp("outside") / "b.yaml"
    outside.write_text("onedatum: 1\n", encoding="utf-8")
    (folder.path / "b.yaml").symlink_to(outside)
    (folder.path / "c.yaml").symlink_to(folder.path / "a.yaml")
    (folder.path / "d.yaml").symlink_to(folder.path / "d.yaml")
    for name in ("b", "d"):
        with pytest.raises(CaseError, match="must be a file of the folder"):
            folder.read(name)
        with pytest.raises(CaseError, match="must be a file of the folder"):
            folder.save(name, "onedatum: 1\n", "")
    assert [each.name for each in folder.cases() if each.why_not] == ["b"]
    saved(folder.save("c", "onedatum: 1\n", folder.read("c").version))
    assert folder.read("a").text == "onedatum: 1\n"
    assert (folder.path / "c.yaml").is_symlink()


def test_what_is_taken_in_is_a_case_within_the_limits(folder: Folder) -> None:
    assert folder.upload("b", EXAMPLE.encode()).text == EXAMPLE
    with pytest.raises(OutputError, match="exists already and is not overwritten"):
        folder.upload("a", EXAMPLE.encode())
    for content in (
        b"",
        b"a: 1\n",
        b"\xff\xfeo\x00",
        b"onedatum: 1\nx: [",
        b"\x00" * 9,
        b"o: \xe4\n",
        b"#" * (MAX_BYTES + 1),
    ):
        with pytest.raises(CaseError, match=" must be "):
            folder.upload("c", content)
    assert [each.name for each in folder.cases()] == ["a", "b"]
    with pytest.raises(CaseError, match="at most"):
        folder.save("a", "#" * (MAX_BYTES + 1), folder.read("a").version)
    with pytest.raises(CaseError, match="UTF-8"):
        folder.save("a", "\ud800", folder.read("a").version)


def test_a_case_that_cannot_be_read_is_listed_with_the_reason(folder: Folder) -> None:
    (folder.path / "b.yaml").write_bytes(b"onedatum: 1\nvessel: [\n")
    (folder.path / "c.yaml").write_bytes(b"onedatum: 1\n" + b"#" * MAX_BYTES)
    (folder.path / ".onedatum-x.yaml").write_bytes(b"onedatum: 1\n")
    why = {each.name: each.why_not for each in folder.cases()}
    assert list(why) == ["a", "b", "c"]
    assert why["a"] == ""
    assert "YAML that can be read" in why["b"]
    assert "at most" in why["c"]


def test_a_file_keeps_its_mode(folder: Folder) -> None:
    for mode in (0o600, 0o664, 0o640):
        (folder.path / "a.yaml").chmod(mode)
        saved(folder.save("a", f"onedatum: 1\n# {mode}\n", folder.read("a").version))
        assert stat.S_IMODE((folder.path / "a.yaml").stat().st_mode) == mode


def test_writers_take_turns_and_no_edit_is_lost(folder: Folder) -> None:
    """Four writers each add eight lines; every line stands in the file at the end."""

    def write(writer: int) -> None:
        own = Folder(folder.path)
        for number in range(8):
            while True:
                read = own.read("a")
                if isinstance(own.save("a", f"{read.text}# {writer}.{number}\n", read.version), Saved):
                    break

    threads = [threading.Thread(target=write, args=(writer,)) for writer in range(4)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    text = folder.read("a").text
    assert all(f"# {writer}.{number}\n" in text for writer in range(4) for number in range(8))


def test_a_folder_that_is_held_makes_the_next_wait(tmp_path: Path) -> None:
    with (
        lock_room.locked(tmp_path),
        pytest.raises(OutputError, match=f"Another run writes into it: process {os.getpid()}"),
    ):
        lock_room.locked(tmp_path, wait_s=0.05).__enter__()
    with lock_room.locked(tmp_path, wait_s=0.05):
        pass
    (tmp_path / "lock").write_text("4711 on a machine that is gone")
    with lock_room.locked(tmp_path, wait_s=0.05):
        pass


def test_a_place_that_knows_no_locks_says_so(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def never(handle: int) -> None:
        raise OSError(errno.ENOLCK, "No locks available")

    monkeypatch.setattr(lock_room, "_take", never)
    with pytest.raises(OutputError, match="No locks available"):
        lock_room.locked(tmp_path).__enter__()


IN_A_PROCESS = """
import os, sys
from pathlib import Path
from onedatum.foundation.errors import OutputError
from onedatum.jobs.folder import Folder
folder = Folder(Path(sys.argv[1]))
read = folder.read("a")
print("ready", flush=True)
{before}
try:
    folder.save("a", read.text + "# more\\n" * 2000, read.version)
    print("saved")
except OutputError as error:
    print(error)
"""


def in_a_process(folder: Folder, before: str) -> str:
    command = [sys.executable, "-c", IN_A_PROCESS.format(before=before), str(folder.path)]
    done = subprocess.run(command, capture_output=True, text=True, timeout=60, check=False)
    assert done.stderr == ""
    return done.stdout


def test_a_folder_that_is_not_to_be_written_to_is_told(folder: Folder) -> None:
    """The process gives up its rights where it has all of them, for they would hide the refusal."""
    for path in (folder.path, *folder.path.parents):
        if path.stat().st_uid == os.getuid() and path != Path("/") and len(path.parts) > 2:
            path.chmod(path.stat().st_mode | 0o055)
    folder.path.chmod(0o555)
    try:
        told = in_a_process(folder, "os.getuid() == 0 and os.setuid(65534)")
    finally:
        folder.path.chmod(0o755)
    assert "must be a place that can be written; got an error. Permission denied." in told
    assert folder.read("a").text == EXAMPLE


def test_a_full_disk_leaves_the_old_file_whole(folder: Folder) -> None:
    """No file may grow beyond 8 kB: the case that is put away fits, the new one does not."""
    limit = "import resource, signal; signal.signal(signal.SIGXFSZ, signal.SIG_IGN); "
    told = in_a_process(folder, f"{limit}resource.setrlimit(resource.RLIMIT_FSIZE, (8000, 8000))")
    assert "must be a place that can be written; got an error. File too large." in told
    assert folder.read("a").text == EXAMPLE
    assert not [path for path in folder.path.iterdir() if path.name not in ("a.yaml", ".onedatum")]


SAVING = """
import os, signal, sys, time
from pathlib import Path
from onedatum.jobs.folder import Folder
for kill in range(int(sys.argv[2])):
    child = os.fork()
    if not child:
        folder, number = Folder(Path(sys.argv[1])), 0
        while True:
            number += 1
            folder.save("a", "onedatum: 1\\n" + f"# {kill}.{number}\\n" * 3000, folder.read("a").version)
    time.sleep(0.02 + 0.0037 * kill)
    os.kill(child, signal.SIGKILL)
    os.waitpid(child, 0)
    print("killed", flush=True)
    sys.stdin.readline()
"""
"""A child that saves without end, killed; the next when a line comes in."""


def whole(folder: Folder) -> bool:
    """Whether the file is one that was saved, to its last line, and the next edit and undo go on."""
    text = folder.read("a").text
    lines = set(text.split("\n")) - {"", "onedatum: 1"}
    is_one = text == EXAMPLE or (len(lines) == 1 and text.count("#") == 3000)
    leftovers = [path for path in folder.path.rglob("*") if path.name.startswith(".onedatum-")]
    return is_one and not leftovers


def test_a_process_killed_while_saving_leaves_the_old_or_the_new_file_whole(folder: Folder) -> None:
    command = [sys.executable, "-c", SAVING, str(folder.path), str(KILLS)]
    seen = set()
    with subprocess.Popen(command, stdout=subprocess.PIPE, stdin=subprocess.PIPE) as process:
        assert process.stdout is not None
        assert process.stdin is not None
        for _ in range(KILLS):
            assert process.stdout.readline() == b"killed\n"
            assert whole(folder)
            seen.add(folder.read("a").version)
            process.stdin.write(b"\n")
            process.stdin.flush()
    assert len(seen) > KILLS / 2
    before = folder.read("a")
    after = saved(folder.save("a", EXAMPLE + "# mine\n", before.version))
    assert saved(folder.undo("a", after.version)).text == before.text
    assert {path.name for path in folder.path.iterdir()} == {"a.yaml", ".onedatum"}


def test_a_file_that_is_not_to_be_written_to_is_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The system is asked; that root may write everywhere would hide the answer."""
    file = tmp_path / "a.txt"
    write_whole(file, b"old")
    monkeypatch.setattr(os, "access", lambda *_: False)
    with pytest.raises(OutputError, match="not to be written to"):
        write_whole(file, b"new")
    assert file.read_bytes() == b"old"
