"""A bar for long work, on the error channel and only where somebody can see it move."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from contextlib import contextmanager

from supports.progress import Told, unheard


@contextmanager
def progress_shown() -> Iterator[Told]:
    """Give what long work is to tell its progress to; the bar is gone when it ends."""
    if not sys.stderr.isatty():
        yield unheard
        return
    from rich.console import Console
    from rich.progress import BarColumn, Progress, TaskProgressColumn, TextColumn

    columns = TextColumn("{task.description}"), BarColumn(), TaskProgressColumn()
    with Progress(*columns, console=Console(stderr=True), transient=True) as bar:
        task = bar.add_task("begins", total=None)

        def told(what: str, done: int, of: int) -> None:
            bar.update(task, description=what, completed=done, total=of)

        yield told
