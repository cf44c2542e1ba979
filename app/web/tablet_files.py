"""The files of the tablet form: what is kept on the tablet, under a name that changes with it."""

from __future__ import annotations

import hashlib
from functools import cache
from pathlib import Path

from app.web.pages import STATIC

FOLDER = STATIC / "tablet"
WORKER = "worker.js"
_KINDS = {".js": "text/javascript", ".css": "text/css", ".svg": "image/svg+xml"}


@cache
def kept_files() -> dict[str, Path]:
    """Return the files that a tablet keeps, by name; the worker itself is not one of them."""
    found = {path.name: path for path in sorted(FOLDER.iterdir()) if path.suffix in _KINDS}
    return {name: path for name, path in found.items() if name != WORKER}


@cache
def shelf() -> str:
    """Return the name under which this edition of the files is kept."""
    mark = hashlib.sha256()
    for path in (*kept_files().values(), FOLDER / WORKER):
        mark.update(path.name.encode() + b"\0" + path.read_bytes())
    return mark.hexdigest()[:16]


def address_of(name: str) -> str:
    """Return where a file of this edition is."""
    return f"/tablet/files/{shelf()}/{name}"


def media_type(name: str) -> str:
    """Return the kind of a file as browsers call it."""
    return _KINDS[Path(name).suffix]


@cache
def worker() -> str:
    """Return the worker with the list of what it keeps."""
    files = ", ".join(f'"{address_of(name)}"' for name in kept_files())
    body = (FOLDER / WORKER).read_text(encoding="utf-8")
    return f'const SHELF = "{shelf()}";\nconst FILES = [{files}];\n{body}'
