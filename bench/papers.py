"""A pack of 500 pages with drawings against typst alone; peak memory; the page of one unit.

The reference is the same typesetter compiling the same pages from data that lie ready. It writes
tags for screen readers too, as typst does unasked, but is not asked to hold the file against
PDF/UA-1. Each measure is taken in a process of its own; work is processor time. The page of one
unit is told twice: its work, which is held against the budget, and with the imports before it. Both
are brought to a machine that adds ten million numbers in a loop of Python in 0.6 s, by running that
loop in the same process.
"""

from __future__ import annotations

import json
import resource
import statistics
import subprocess
import sys
import time
from dataclasses import replace
from datetime import datetime
from importlib import import_module
from pathlib import Path
from tempfile import TemporaryDirectory

import pypdfium2
import typst

from app.making.makers import make
from app.making.wanted import Wanted
from reports.catalogue import Form, paper_of
from reports.contents.common import PageSize
from reports.contents.resetting_pack import ResettingPack
from reports.pdf.engine import TEMPLATES, cleaned
from reports.pdf.fonts_shipped import fonts
from reports.pdf.resetting_pack import pack_data, resetting_pack_pdf
from supports.database import Register, sqlite_url
from supports.model import Base
from supports.queries.support_views import support_views
from tests.acceptance.planted_plant import plant
from tests.acceptance.planted_rows import store
from tests.reports import examples

PAGES, UNITS = 500, 352
"""Pages at least, and the units of a pack that has so many: pages of their own, tables, tags."""
AT_MOST_TIMES_BARE = 3.0
"""Contents to bytes held against PDF/UA-1, against the bare compile."""
MEMORY_AT_MOST = 2.0**30
"""Peak of the process that makes the pack [bytes]; nearly all of it is the typesetter's."""
UNIT_PAGE_AT_MOST = 1.0
"""Data sheet of one unit out of a plant of 1,000 supports, imports apart [s]."""
ADDITIONS, ADDED_IN = 10**7, 0.6
"""The loop that tells how quick the machine is, and its time on the one told for [s]."""
REPEATED = 3
STARTED = time.process_time()
"""What the interpreter and the imports of this module took; a command imports no more [s]."""
MADE = datetime(2031, 5, 5, 8)  # noqa: DTZ001  papers take the time as given


def large_pack() -> ResettingPack:
    """Return a pack of at least 500 pages, each unit with its scale and gauge."""
    pack = examples.pack()
    kinds = [unit for unit in pack.units if unit.job is not None]
    units = tuple(
        replace(kinds[n % len(kinds)], order=n + 1, tag=f"PS-{10_000 + n}", partners=())
        for n in range(UNITS)
    )
    return replace(pack, units=units, turning_order=tuple(unit.tag for unit in units[:8]))


def ours() -> dict[str, float]:
    """Return work [s], pages and peak memory [bytes] of the pack from its contents."""
    pack = large_pack()
    begin = time.process_time()
    made = resetting_pack_pdf(pack)
    work = time.process_time() - begin
    peak = _peak()
    return {"work": work, "pages": len(pypdfium2.PdfDocument(made)), "peak": peak}


def _peak() -> float:
    """Return the peak memory of this process [bytes]."""
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss * 1024.0


def bare() -> dict[str, float]:
    """Return the work [s] of the typesetter alone on the same pages."""
    ready = {**cleaned(pack_data(large_pack(), PageSize.A4)), "language": "en", "words": {}}
    compiler = typst.Compiler(
        str(TEMPLATES / "resetting_pack.typ"), root=str(TEMPLATES), font_paths=fonts(),
        ignore_system_fonts=True, sys_inputs={"data": json.dumps(ready)},
    )  # fmt: skip
    begin = time.process_time()
    made = compiler.compile(format="pdf")
    work = time.process_time() - begin
    peak = _peak()
    return {"work": work, "pages": len(pypdfium2.PdfDocument(made)), "peak": peak}


def unit() -> dict[str, float]:
    """Return the work [s] of the data sheet of a unit, as the command makes it."""
    with TemporaryDirectory() as folder:
        register = Register(sqlite_url(Path(folder) / "register.db"))
        register.migrate()
        supports, _ = plant(1_000, 2_000)
        with register.engine.begin() as connection:
            store(connection, Base.metadata.tables, supports)
        with register.reading() as session:
            tag = next(view.tag for view in support_views(session) if view.units)
        wanted = Wanted((tag,), Path(folder), MADE, forms=(Form.PDF,))
        begin = time.process_time()
        for module in ("app.making.supports_", "reports.pdf.document"):
            import_module(module)
        ready = time.process_time()
        with register.reading() as session:
            make(session, paper_of("support-data-sheet"), wanted)
        work, share = time.process_time() - ready, ADDED_IN / _added()
        register.engine.dispose()
    return {"work": work * share, "whole": (STARTED + ready - begin + work) * share}


def _added() -> float:
    """Return how long ten million additions take here [s]."""
    begin, total = time.process_time(), 0
    for number in range(ADDITIONS):
        total += number
    return time.process_time() - begin


def measured(what: str) -> dict[str, float]:
    """Return a measure, taken in processes of its own; the median of some."""
    runs = []
    for _ in range(REPEATED):
        done = subprocess.run(
            [sys.executable, "-m", "bench.papers", what], check=True, capture_output=True, text=True
        )
        runs.append(json.loads(done.stdout))
    return {name: statistics.median(run[name] for run in runs) for name in runs[0]}


def main() -> int:
    """Measure, print, and return 1 if a budget is broken."""
    whole, alone, single = measured("ours"), measured("bare"), measured("unit")
    ratio, peak = whole["work"] / alone["work"], whole["peak"]
    print(
        f"pack of {whole['pages']:.0f} pages: {whole['work']:.2f} s of work, typst alone "
        f"{alone['work']:.2f} s, ratio {ratio:.2f} (budget {AT_MOST_TIMES_BARE:g})"
    )
    print(f"peak memory {peak / 2**20:.0f} MiB (budget {MEMORY_AT_MOST / 2**20:.0f})")
    print(
        f"data sheet of one unit: {single['work']:.2f} s of work (budget {UNIT_PAGE_AT_MOST:g}), "
        f"{single['whole']:.2f} s with what is imported before it"
    )
    sound = whole["pages"] == alone["pages"] >= PAGES
    kept = ratio <= AT_MOST_TIMES_BARE and peak < MEMORY_AT_MOST
    return 0 if sound and kept and single["work"] < UNIT_PAGE_AT_MOST else 1


if __name__ == "__main__":
    if len(sys.argv) > 1:
        print(json.dumps({"ours": ours, "bare": bare, "unit": unit}[sys.argv[1]]()))
    else:
        sys.exit(main())
