"""One way from data to PDF: template, data as JSON, a given date, the shipped fonts."""

from __future__ import annotations

import json
from datetime import datetime
from pathlib import Path
from typing import Any

import typst

from reports.languages import IN_ENGLISH, Texts
from reports.pdf.fonts_shipped import fonts, safe
from supports.errors import SupportsError
from supports.plant_time import in_utc

TEMPLATES = Path(__file__).parent / "templates"


def render(
    template: str, data: dict[str, Any], *, date: datetime, words: Texts = IN_ENGLISH
) -> bytes:
    """Typeset one paper; same input, same bytes.

    Parameters
    ----------
    template
        Name of a file in ``templates``, without its ending.
    data
        What the template prints. It goes in as JSON, so no text in it can act as markup.
    date
        The document's date; a time without a zone is taken as it stands.
    words
        The language, with the words that the template itself prints.

    Raises
    ------
    SupportsError
        The typesetter refused.
    """
    stamp = in_utc(date)
    inputs = {"data": _as_json(data, words)}
    compiler = typst.Compiler(
        str(TEMPLATES / f"{template}.typ"),
        root=str(TEMPLATES),
        font_paths=fonts(),
        ignore_system_fonts=True,
        sys_inputs=inputs,
    )
    try:
        made = compiler.compile(format="pdf", pdf_standards="ua-1", timestamp=stamp)
    except typst.TypstError as refused:
        raise SupportsError(
            "the paper could not be typeset", where=template, found=refused.message
        ) from refused
    return made if isinstance(made, bytes) else b"".join(made or [])


def _as_json(data: dict[str, Any], words: Texts) -> str:
    """Return what the template reads; the copy made on the way is gone before it is typeset."""
    spoken = {"language": words.language, "words": dict(words.words)}
    return json.dumps({**cleaned(data), **spoken}, ensure_ascii=False, sort_keys=True)


def cleaned(value: Any) -> Any:
    """Return data with each text in it made printable; keys and numbers are left alone."""
    if isinstance(value, str):
        return safe(value)
    if isinstance(value, dict):
        return {key: cleaned(inner) for key, inner in value.items()}
    if isinstance(value, (list, tuple)):
        return [cleaned(inner) for inner in value]
    return value
