"""Names of cases: plain names of files on every system, which lead nowhere but into the folder."""

from __future__ import annotations

from pathlib import Path

from onedatum.foundation.errors import CaseError, Fault
from onedatum.foundation.units.grammar import quoted

LONGEST = 80
ENDINGS = (".yaml", ".yml")
_REFUSED = frozenset('<>:"/\\|?*')
_DEVICES = frozenset(
    ["CON", "PRN", "AUX", "NUL", *(f"{name}{digit}" for name in ("COM", "LPT") for digit in "0123456789¹²³")]
)
"""Names that one system or another takes for a device, whatever follows a dot."""


def refused(name: str) -> str:
    """Why a name cannot be that of a case; "" for one that can."""
    if not name or len(name) > LONGEST:
        return f"a name has 1 to {LONGEST} characters"
    if not name.isprintable() or set(name) & _REFUSED:
        return 'a name holds no control character and none of < > : " / \\ | ? *'
    if name.startswith(".") or name.endswith((".", " ")) or name != name.strip():
        return "a name begins and ends with no space, begins with no dot and ends with none"
    if name.split(".")[0].strip().upper() in _DEVICES:
        return "a system takes that name for a device"
    if len(name.encode("utf-8")) > 240:
        return "the name is too long for a disk"
    return ""


def name_of_file(file: str) -> str:
    """The name of a case from that of its file: the ending goes, if it is one of a case."""
    ending = next((each for each in ENDINGS if file.lower().endswith(each)), "")
    return file[: len(file) - len(ending)]


def file_of(folder: Path, name: str) -> Path:
    """The file of a case of that name in a folder, there or not; raises CaseError.

    A link is followed, and refused where it leads out of the folder.
    """
    why = refused(name)
    if why:
        raise CaseError([Fault("the name of the case", "a plain file name", quoted(name), why)])
    there = [path for ending in ENDINGS if (path := folder / f"{name}{ending}").is_symlink() or path.exists()]
    path = there[0] if there else folder / f"{name}{ENDINGS[0]}"
    try:
        real = path.resolve()
    except (OSError, RuntimeError) as error:
        raise CaseError([Fault(path.name, "a file of the folder", "a link without end", str(error))]) from None
    if real.parent != folder.resolve() or real.name.startswith("."):
        why = "the page shows the cases of one folder only"
        raise CaseError([Fault(path.name, "a file of the folder", "a link that leads out of it", why)])
    return real
