"""Hold the races of every subject here, or of those named, and say which goals were reached."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from importlib import import_module
from pkgutil import iter_modules

import bench
from bench.race import Figure, Race, hold, read

NO_SUBJECTS = {"__main__", "race", "size"}


def subjects() -> list[str]:
    """The names of all subjects."""
    return sorted(module.name for module in iter_modules(bench.__path__) if module.name not in NO_SUBJECTS)


def races(name: str) -> list[Race | Figure]:
    """The races of one subject, and its figures."""
    found: list[Race | Figure] = import_module(f"bench.{name}").races()
    return found


def main(words: Sequence[str]) -> int:
    """0 where every goal was reached, 1 where one was missed, 2 where a name is not known."""
    known = subjects()
    unknown = [word for word in words if word not in known]
    if unknown:
        print(f"subject must be one of {', '.join(known)}; got {', '.join(unknown)}.", file=sys.stderr)
        return 2
    reached = True
    for name in words or known:
        for race in races(name):
            outcome = hold(race) if isinstance(race, Race) else read(race)
            print(outcome.line(), flush=True)
            reached = reached and outcome.reached
    return 0 if reached else 1


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
