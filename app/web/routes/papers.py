"""Papers of the catalogue, made when they are asked for."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Sequence
from mimetypes import guess_type
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Annotated
from urllib.parse import quote

from fastapi import APIRouter, Query
from starlette.responses import Response

from app.making.makers import forms_of, make
from app.making.wanted import Wanted
from app.settings import photo_store
from app.web.visits import Signed
from reports.catalogue import paper_of

router = APIRouter()


@router.get("/papers/{name}")
def paper(
    visit: Signed, name: str, about: Annotated[list[str] | None, Query()] = None,
    line: str = "", form: str = "pdf", copy: str = "",
) -> Response:  # fmt: skip
    """Give a paper to be kept, as one file; several are packed together."""
    wanted = paper_of(name)
    language = visit.language if visit.language in wanted.languages else wanted.languages[0]
    with TemporaryDirectory() as folder, visit.reading() as session:
        files = make(
            session,
            wanted,
            Wanted(
                tuple(about or ()), Path(folder), visit.now, line=line, language=language,
                forms=forms_of(wanted, [form]), copy=copy,
                photos=photo_store(visit.register.url, None),
            ),
        )  # fmt: skip
        return given(files, name)


def given(files: Sequence[Path], name: str) -> Response:
    """Return one file as it is, several as an archive under a name."""
    if len(files) == 1:
        return download(files[0].read_bytes(), files[0].name)
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as archive:
        for path in files:
            archive.writestr(path.name, path.read_bytes())
    return download(packed.getvalue(), f"{name}.zip")


def download(content: bytes, name: str) -> Response:
    """Return a file to be kept; the browser never opens it as a page of the desk."""
    kind = guess_type(name)[0] or "application/octet-stream"
    disposition = f"attachment; filename*=UTF-8''{quote(name, safe='')}"
    return Response(content, media_type=kind, headers={"content-disposition": disposition})
