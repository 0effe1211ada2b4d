"""The one door to the project: ``python3 dev.py run`` on a machine that has Python 3.11 and pip, and nothing else.

    run            study the example and write its papers into papers/
    serve [folder] open the cases of a folder as pages in the browser; by default copies of the examples in cases/
    test [args]    run the tests; further words go to pytest
    check          style, types and the layers of the house
    system [args]  run the tests of pages in a real browser and of records in a real PostgreSQL; Debian's chromium,
                   postgresql and npm must be there
    bench [names]  measure against a peer in the same run
    soak [names]   run the long proofs and write docs/proofs/

Each command first brings the environment in .venv up to date; that takes half a minute the first time and nothing
after it, until pyproject.toml, constraints.txt or the Python version changes.
"""

from __future__ import annotations

import hashlib
import os
import platform
import shutil
import subprocess
import sys
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path

ROOT = Path(__file__).resolve().parent
HOME = ROOT / ".venv"
TOOLS = ROOT / ".tools"
STAMP = HOME / "dev-stamp.txt"
CONSTRAINTS = "constraints.txt"
WHOLE = ".[live,logs]"
"""The tool with what the examples of the README need."""

OLDEST_PYTHON = (3, 11)
EXAMPLE = "examples/spirit_receiver.yaml"
EXAMPLES = ROOT / "examples"
CASES = ROOT / "cases"
PAPERS = "papers"

NO_UV = "ONEDATUM_NO_UV"  # set to 1: use venv and pip even where uv could be had

RUNTIME: frozenset[str] = frozenset()
DEVELOPMENT: frozenset[str] = frozenset({"dev"})
MEASURED: frozenset[str] = frozenset({"dev", "peers"})
BROWSER: frozenset[str] = frozenset({"dev", "system"})
SYSTEM = ROOT / "system"


class Failure(Exception):
    """Something the reader can put right; its text says what."""


# ---------------------------------------------------------------- talking and starting programs


def say(text: str) -> None:
    """One line about what happens, apart from the output of the programs that are started."""
    print(f"dev.py: {text}", file=sys.stderr, flush=True)


def start(*words: str | Path, variables: Mapping[str, str] | None = None) -> int:
    """Start a program in the project folder, let it speak for itself, return its exit code."""
    code = subprocess.call([str(word) for word in words], cwd=ROOT, env=variables)
    return code if code >= 0 else 128 - code


def succeeds(*words: str | Path) -> bool:
    return start(*words) == 0


def in_environment(*words: str | Path) -> int:
    """Start Python in the environment. What it compiles is kept there, also where the shell forbids it elsewhere.

    Without that each process of the tests compiles anew every library and every test it reads, which takes longer
    than many a test.
    """
    kept = {**os.environ, "PYTHONPYCACHEPREFIX": str(HOME / "bytecode")}
    kept.pop("PYTHONDONTWRITEBYTECODE", None)
    return start(environment_python(), *words, variables=kept)


# ---------------------------------------------------------------- the environment


def environment_python() -> Path:
    return HOME / ("Scripts/python.exe" if os.name == "nt" else "bin/python")


def key() -> str:
    """What the environment was made from: a change in any part of it calls for a new set-up."""
    digest = hashlib.sha256()
    for name in ("pyproject.toml", CONSTRAINTS):
        digest.update((ROOT / name).read_bytes())
    digest.update(f"{platform.python_version()} {ROOT} {WHOLE}".encode())
    return digest.hexdigest()


def ready(groups: frozenset[str]) -> bool:
    """Whether the environment stands as its key says and holds at least these groups."""
    if not (STAMP.is_file() and environment_python().exists()):
        return False
    made_from, *held = STAMP.read_text(encoding="utf-8").split()
    return made_from == key() and groups <= set(held)


def environment(groups: frozenset[str]) -> None:
    """Make the environment, or bring it up to date."""
    if ready(groups):
        return
    what = "tool and test tools" if groups else "tool"
    say(f"setting up .venv for Python {platform.python_version()} ({what}); half a minute the first time")
    STAMP.unlink(missing_ok=True)
    discard_other_version()
    if not (set_up_with_uv(groups) or set_up_with_pip(groups)):
        raise Failure("the environment could not be set up; the lines above say why.")
    STAMP.write_text("\n".join([key(), *sorted(groups)]) + "\n", encoding="utf-8")


def discard_other_version() -> None:
    """Remove an environment that belongs to another Python, or whose Python is gone."""
    if not HOME.exists():
        return
    question = "import sys; print(*sys.version_info[:3], sep='.')"
    try:
        answer = subprocess.run([environment_python(), "-c", question], capture_output=True, text=True, check=False)
        fits = answer.stdout.strip() == "{}.{}.{}".format(*sys.version_info[:3])
    except OSError:
        fits = False
    if not fits:
        say("the .venv here belongs to another Python; making it anew")
        shutil.rmtree(HOME)


def what_to_install(groups: frozenset[str]) -> list[str]:
    """The words that uv and pip understand alike."""
    named = [word for group in sorted(groups) for word in ("--group", group)]
    return ["--quiet", "--constraint", CONSTRAINTS, "--editable", WHOLE, *named]


def set_up_with_uv(groups: frozenset[str]) -> bool:
    uv = find_uv()
    if uv is None:
        return False
    python = environment_python()
    made = python.exists() or succeeds(uv, "venv", "--quiet", "--no-managed-python", "--python", sys.executable, HOME)
    if made and succeeds(uv, "pip", "install", "--python", python, *what_to_install(groups)):
        return True
    say("uv could not do it; trying venv and pip")
    return False


def find_uv() -> str | Path | None:
    """uv from the PATH, else from .tools, fetched there by pip the first time."""
    if os.environ.get(NO_UV):
        return None
    on_path = shutil.which("uv")
    if on_path:
        return on_path
    own = TOOLS / "bin" / ("uv.exe" if os.name == "nt" else "uv")
    if own.exists():
        return own
    pip = (sys.executable, "-m", "pip", "install", "--quiet", "--disable-pip-version-check")
    fetched = succeeds(*pip, "--target", TOOLS, "--upgrade", "uv") and own.exists()
    return own if fetched else None


def set_up_with_pip(groups: frozenset[str]) -> bool:
    """The way without uv. A pip that knows ``--group`` (25.1) is put into the environment first."""
    python = environment_python()
    if not succeeds(sys.executable, "-m", "venv", HOME):
        say("this Python cannot make environments; Debian and Ubuntu keep that part in the package python3-venv")
        return False
    pip = (python, "-m", "pip", "install", "--disable-pip-version-check")
    return succeeds(*pip, "--quiet", "--upgrade", "pip>=25.1") and succeeds(*pip, *what_to_install(groups))


# ---------------------------------------------------------------- the commands


def run(_: Sequence[str]) -> int:
    """Study the example and write its papers."""
    environment(RUNTIME)
    code = in_environment("-m", "onedatum", "study", EXAMPLE)
    if code == 0:
        code = in_environment("-m", "onedatum", "document", EXAMPLE, "--out", PAPERS)
    if code == 0:
        say(f"studied {EXAMPLE}; its papers lie in {ROOT / PAPERS}")
    return code


def serve(arguments: Sequence[str]) -> int:
    """Open a folder of cases in the browser; without one, copies of the examples, so that those stay as they are."""
    environment(RUNTIME)
    if not arguments or arguments[0].startswith("-"):
        if not CASES.exists():
            shutil.copytree(EXAMPLES, CASES)
            say(f"copied the examples to {CASES}; what you change there leaves the examples as they are")
        arguments = [str(CASES), *arguments]
    return in_environment("-m", "onedatum", "serve", *arguments)


def test(arguments: Sequence[str]) -> int:
    """Run the tests, on every core."""
    environment(DEVELOPMENT)
    return in_environment("-m", "pytest", "--numprocesses", "auto", "--dist", "worksteal", *arguments)


CHECKED = ("src", "dev.py", "bench", "soak")

CHECKS: dict[str, tuple[str, ...]] = {
    "ruff check": ("-m", "ruff", "check", "."),
    "ruff format": ("-m", "ruff", "format", "--check", "."),
    "mypy --strict": ("-m", "mypy", "--strict", *CHECKED),
    "layers": ("-c", "from importlinter.cli import lint_imports_command as check; check()", "--no-cache"),
}


def check(_: Sequence[str]) -> int:
    """Run every check, also after one has failed, and say at the end which did."""
    environment(DEVELOPMENT)
    codes = {}
    for name, words in CHECKS.items():
        say(name)
        codes[name] = in_environment(*words)
    failed = [name for name, code in codes.items() if code]
    say(f"failed: {', '.join(failed)}" if failed else "all checks passed")
    return next((code for code in codes.values() if code), 0)


def system(arguments: Sequence[str]) -> int:
    """Check the scripts of the pages, then run the tests that need a browser or a database server."""
    environment(BROWSER)
    npm = shutil.which("npm")
    if npm is None:
        raise Failure("the tests of the pages need npm, which comes with Node.js 20 or newer.")
    say("npm install")
    code = start(npm, "--prefix", SYSTEM, "install", "--no-package-lock", "--no-audit", "--no-fund", "--loglevel=error")
    for name, words in SCRIPT_CHECKS.items():
        say(name)
        code = code or start(npm, "--prefix", SYSTEM, "exec", "--", *words)
    return code or in_environment("-m", "pytest", "system", *arguments)


SCRIPT_CHECKS: dict[str, tuple[str, ...]] = {
    "tsc --checkJs": ("tsc", "--project", "system/tsconfig.json"),
    "eslint": ("eslint", "--config", "system/eslint.config.js", "src/onedatum/web/static"),
}


def bench(arguments: Sequence[str]) -> int:
    """Measure against a peer in the same run."""
    environment(MEASURED)
    return in_environment("-m", "bench", *arguments)


def soak(arguments: Sequence[str]) -> int:
    """Run the long proofs."""
    environment(DEVELOPMENT)
    return in_environment("-m", "soak", *arguments)


COMMANDS: dict[str, Callable[[Sequence[str]], int]] = {
    "run": run,
    "serve": serve,
    "test": test,
    "check": check,
    "system": system,
    "bench": bench,
    "soak": soak,
}


def main(words: Sequence[str]) -> int:
    """Carry out one command and return its exit code; 2 where the words make no command."""
    if words and words[0] in ("-h", "--help"):
        print(__doc__)
        return 0
    if not words or words[0] not in COMMANDS:
        print(__doc__, file=sys.stderr)
        return 2
    if sys.version_info < OLDEST_PYTHON:
        say(f"Python must be 3.11 or newer; this is {platform.python_version()}. Start dev.py with a newer one.")
        return 2
    try:
        return COMMANDS[words[0]](words[1:])
    except Failure as failure:
        say(str(failure))
        return 1
    except KeyboardInterrupt:
        return 130


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
