"""Run every proof, or those named, and write a page for each into docs/proofs/."""

from __future__ import annotations

import sys
from collections.abc import Callable, Sequence
from importlib import import_module
from pathlib import Path
from pkgutil import iter_modules

from soak import proofs
from soak.report import Report, page

PAGES = Path(__file__).resolve().parent.parent / "docs" / "proofs"

Proof = Callable[[], Report]


def found() -> dict[str, Proof]:
    """All proofs by their names."""
    modules = [import_module(f"{proofs.__name__}.{module.name}") for module in iter_modules(proofs.__path__)]
    return {module.NAME: module.run for module in sorted(modules, key=lambda module: str(module.NAME))}


def prove(name: str, proof: Proof) -> bool:
    """Run one proof and write its page; whether it holds."""
    print(f"{name} ...", flush=True)
    report = proof()
    place = PAGES / f"{name}.md"
    place.parent.mkdir(parents=True, exist_ok=True)
    place.write_text(page(report), encoding="utf-8", newline="\n")
    print(f"{name}: {'holds' if report.holds else 'DOES NOT HOLD'}; written to {place}", flush=True)
    return report.holds


def main(words: Sequence[str]) -> int:
    """0 where all hold, 1 where one does not or there is none, 2 where a name is not known."""
    known = found()
    unknown = [word for word in words if word not in known]
    if unknown:
        print(f"proof must be one of {', '.join(known) or '(none yet)'}; got {', '.join(unknown)}.", file=sys.stderr)
        return 2
    if not known:
        print("There are no proofs yet; soak/proofs/__init__.py says how to add one.", file=sys.stderr)
        return 1
    held = [prove(name, known[name]) for name in words or known]
    return 0 if all(held) else 1


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
