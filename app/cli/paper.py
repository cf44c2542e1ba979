"""supports paper: the catalogue of papers, and each paper made by its name."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from app.answers import Answer, files_written
from app.cli.noun import Noun
from app.cli.options import RegisterAt

app = Noun()

_Name = Annotated[str, typer.Argument(help="Name of the paper; see: supports paper list")]
_About = Annotated[
    list[str] | None, typer.Argument(help="Tags or numbers that the paper is about.")
]
_Folder = Annotated[Path, typer.Option("--into", help="Folder to write to.")]
_Forms = Annotated[
    list[str] | None,
    typer.Option("--form", help="pdf, html, xlsx, ics, svg; may be repeated. All if not said."),
]
_Line = Annotated[str, typer.Option("--line", help="Every support of this line.")]
_Language = Annotated[str, typer.Option("--language", help="en or de.")]
_Copy = Annotated[str, typer.Option("--copy", help="Number of the copy handed out.")]
_Decision = Annotated[
    list[str] | None,
    typer.Option("--decision", help="Plant status: 'what is to be decided; by when', up to three."),
]


@app.command("list")
def list_papers() -> Answer:
    """List every paper: what for, for whom, about what, in which forms and languages."""
    from app.shapes import PaperRow
    from reports.catalogue import PAPERS

    rows = tuple(
        PaperRow(one.name, one.purpose, one.who, str(one.about), one.forms, one.languages)
        for one in PAPERS
    )
    lines = [
        line
        for one in rows
        for line in (
            f"{one.name}: {one.purpose}",
            f"    for {one.who}; about {one.about}",
            f"    as {', '.join(one.forms)}; in {', '.join(one.languages)}",
        )
    ]
    return Answer(rows, (*lines, f"{len(rows)} papers. Make one with: supports paper make NAME"))


@app.command()
def make(
    name: _Name,
    about: _About = None,
    into: _Folder = Path("papers"),
    form: _Forms = None,
    line: _Line = "",
    language: _Language = "en",
    letter: Annotated[bool, typer.Option("--letter", help="Letter sheets, not A4.")] = False,
    copy: _Copy = "",
    decision: _Decision = None,
    register: RegisterAt = None,
) -> Answer:
    """Make a paper by its name; print the files."""
    from app.making.makers import forms_of
    from app.making.makers import make as make_paper
    from app.making.wanted import Wanted
    from app.settings import now, open_register, photo_store
    from reports.catalogue import paper_of
    from reports.contents.common import PageSize

    paper, opened = paper_of(name), open_register(register)
    wanted = Wanted(
        about=tuple(about or ()), into=into, made=now(), line=line,
        page=PageSize.LETTER if letter else PageSize.A4, language=language,
        forms=forms_of(paper, form or []), copy=copy, decisions=tuple(decision or ()),
        photos=photo_store(opened.url, None),
    )  # fmt: skip
    with opened.reading() as session:
        return files_written(make_paper(session, paper, wanted))
