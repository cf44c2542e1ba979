"""supports where: the register at a glance, what waits, and the next command ready to paste."""

from __future__ import annotations

from pathlib import Path

from app.answers import Answer
from app.cli.noun import Noun
from app.cli.options import RegisterAt

app = Noun()


@app.command()
def where(register: RegisterAt = None) -> Answer:
    """Say where you stand and what comes next; `supports` alone says the same."""
    from app.settings import acting_person, open_register, register_url, today
    from app.standing import standing, standing_lines, standing_without

    url = register_url(register)
    if url.get_backend_name() == "sqlite" and not Path(url.database or "").is_file():
        found = standing_without(url.database or "")
    else:
        who, opened = acting_person(None), open_register(register)
        found = standing(opened, today(opened), who=who, named=register)
    return Answer(found, tuple(standing_lines(found)))
