"""Earlier versions of a case in a hidden folder beside it, and the way back and ahead through them.

Versions are kept by the hash of their bytes. A step is written down before the case changes: a process that is killed
between the two leaves a step to what the case says already, and such a step is passed over.
"""

from __future__ import annotations

import json
from dataclasses import asdict, dataclass, field
from datetime import UTC, datetime
from hashlib import sha256
from pathlib import Path
from typing import Any

from onedatum.foundation.errors import OutputError
from onedatum.jobs.write import write_whole

MOST = 200
"""Versions kept of one case."""
_STEPS = "steps.json"


def version_of(content: bytes) -> str:
    """What a state of a file is known by: SHA-256 of its bytes, in hexadecimal digits."""
    return sha256(content).hexdigest()


@dataclass(frozen=True)
class Version:
    """A version that is kept."""

    version: str
    time: str
    """When it was put away, in universal time."""


@dataclass
class Steps:
    """What is kept, oldest first, and the versions before and after the case as it is."""

    kept: list[Version] = field(default_factory=list)
    back: list[str] = field(default_factory=list)
    ahead: list[str] = field(default_factory=list)

    def to(self, way: list[str], now: str) -> str:
        """The next version on a way that differs from the case as it is and is kept; "" where there is none."""
        known = {each.version for each in self.kept}
        while way:
            version = way.pop()
            if version != now and version in known:
                return version
        return ""


@dataclass(frozen=True)
class History:
    """The versions of one case; whoever writes holds the lock of the folder."""

    folder: Path
    temporary: Path

    def steps(self) -> Steps:
        """The steps as written down; none where nothing is, or where it cannot be read."""
        try:
            read: Any = json.loads((self.folder / _STEPS).read_bytes())
            kept = [Version(str(each["version"]), str(each["time"])) for each in read["kept"]]
            return Steps(kept, [str(each) for each in read["back"]], [str(each) for each in read["ahead"]])
        except (OSError, ValueError, KeyError, TypeError, RecursionError):
            return Steps()

    def content(self, version: str) -> bytes | None:
        """The bytes of a version that is kept and whole."""
        if version not in {each.version for each in self.steps().kept}:
            return None
        try:
            content = (self.folder / f"{version}.yaml").read_bytes()
        except OSError:
            return None
        return content if version_of(content) == version else None

    def put_away(self, steps: Steps, content: bytes) -> str:
        """Keep a version; the oldest go where there are too many. Raises OutputError."""
        version = version_of(content)
        file = self.folder / f"{version}.yaml"
        if not self._holds(file, version):
            write_whole(file, content, self.temporary)
        steps.kept = [each for each in steps.kept if each.version != version]
        steps.kept.append(Version(version, datetime.now(UTC).isoformat(timespec="milliseconds")))
        return version

    def _holds(self, file: Path, version: str) -> bool:
        try:
            return file.exists() and version_of(file.read_bytes()) == version
        except OSError as error:
            raise OutputError.of(file, error) from error

    def write(self, steps: Steps) -> None:
        """Write the steps down; raises OutputError."""
        gone, steps.kept = steps.kept[:-MOST], steps.kept[-MOST:]
        steps.back, steps.ahead = steps.back[-MOST:], steps.ahead[-MOST:]
        text = json.dumps(asdict(steps), indent=1)
        write_whole(self.folder / _STEPS, text.encode(), self.temporary)
        try:
            for each in gone:
                (self.folder / f"{each.version}.yaml").unlink(missing_ok=True)
        except OSError as error:
            raise OutputError.of(self.folder, error) from error
