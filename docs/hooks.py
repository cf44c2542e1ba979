"""What is done while the site is built: 'How it is built' is the file for developers itself."""

from __future__ import annotations

from pathlib import Path
from typing import Any

FOR_DEVELOPERS = Path(__file__).resolve().parents[1] / "DEVELOPERS.md"


def on_page_markdown(markdown: str, page: Any, **_: Any) -> str:
    """Return what a page says; that of how it is built stands in the repository's own file."""
    if page.file.src_uri == "how-it-is-built.md":
        return FOR_DEVELOPERS.read_text(encoding="utf-8")
    return markdown
