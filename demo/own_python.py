"""The checkout's own Python: a virtual environment in ``.venv``, made with nothing but Python.

Runs under any Python 3, so that one that is too old is told so in a sentence.
"""

from __future__ import annotations

import hashlib
import os
import subprocess
import sys
import venv
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
OLDEST = (3, 11)
_HOME = ROOT / ".venv"
_STAMP = _HOME / "installed.txt"


def own_python(extra: str = "") -> Path:
    """Return the Python of ``.venv``, with the project and what it needs installed.

    Parameters
    ----------
    extra
        Further set of packages by its name in ``pyproject.toml``, e.g. ``dev``.
    """
    _refuse_old_python()
    python = program("python")
    if not python.exists():
        say("Making the folder .venv with a Python of its own ...")
        _make()
    if _stamp(extra) not in _stamps():
        say("Installing what is needed (once; some minutes without a cache) ...")
        _install(python, extra)
    return python


def program(name: str) -> Path:
    """Return the path of a program in ``.venv``."""
    folder, ending = ("Scripts", ".exe") if os.name == "nt" else ("bin", "")
    return _HOME / folder / (name + ending)


def say(text: str) -> None:
    """Write a line at once, so that it stands before what the next program writes."""
    sys.stdout.write(text + "\n")
    sys.stdout.flush()


def run(command: list[str]) -> int:
    """Run a program in the checkout's folder; return its exit code."""
    return subprocess.call(command, cwd=ROOT)  # noqa: S603  our own lists of words, no shell


def _refuse_old_python() -> None:
    if sys.version_info[:2] < OLDEST:
        here = ".".join(str(part) for part in sys.version_info[:2])
        wanted = ".".join(str(part) for part in OLDEST)
        sys.exit(f"This needs Python {wanted} or newer; found {here}. Get it from python.org.")


def _make() -> None:
    try:
        venv.create(_HOME, with_pip=True)
    except (OSError, subprocess.CalledProcessError) as error:
        sys.exit(
            f"A virtual environment could not be made in {_HOME}: {error}. "
            "On Debian and Ubuntu install the package python3-venv; then remove the folder .venv "
            "and repeat."
        )


def _install(python: Path, extra: str) -> None:
    what = f".[{extra}]" if extra else "."
    command = [str(python), "-m", "pip", "install", "--quiet", "--disable-pip-version-check"]
    command.append("--no-compile")  # most of it is never imported; what is, is compiled then
    code = run([*command, "--constraint", "constraints.txt", "--editable", what])
    if code:
        sys.exit(
            "The packages could not be installed; pip says above what stopped it. "
            "Without a network, point pip at a folder of packages (PIP_FIND_LINKS) and repeat."
        )
    _STAMP.write_text(_stamp(extra) + "\n" + _stamp("") + "\n", encoding="utf-8")


def _stamp(extra: str) -> str:
    digest = hashlib.sha256()
    for name in ("constraints.txt", "pyproject.toml"):
        digest.update((ROOT / name).read_bytes())
    return f"{extra or 'plain'} {digest.hexdigest()}"


def _stamps() -> list[str]:
    return _STAMP.read_text(encoding="utf-8").split("\n") if _STAMP.exists() else []
