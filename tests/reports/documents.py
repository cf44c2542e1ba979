"""Invented contents of the papers for reading."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from reports.contents.blocks import Document
from reports.contents.plant_status import Decision, PlantStatus, plant_status
from reports.languages import texts
from supports.rules.workflow.start_up import Blocker, StartUp
from supports.snapshots import OpenChange, Walked, WorkDone
from tests.reports import examples

DAY = date(2026, 3, 14)


def start(blockers: int = 2, missing: int = 1, supports: int = 40) -> StartUp:
    return StartUp(
        where="the plant", supports=supports, stops_in=blockers,
        blockers=tuple(Blocker(f"C-10{n}/A", f"travel stop L-{n} is in", ("2-HS-0412",))
                       for n in range(blockers)),
        missing=tuple(Blocker(f"C-20{n}/A", "not known: setting", ()) for n in range(missing)),
    )  # fmt: skip


def status(**values: object) -> PlantStatus:
    usual = PlantStatus(
        start=start(), day=DAY, supports=40, read_in_interval=12, with_stop=2, unjudged=7,
        stops=(("C-101", ("rod-over-rating",)), ("C-102", ("steel-not-checked",))),
        missing=(("weakest-piece-unknown", 6), ("shoe-off-beam", 1)),
        changes=(OpenChange("CH-0087", "relief valve added", "cleared to build", date(2026, 1, 5),
                            ("planner",)),),
        temporary=(("CH-0080", "past its date since 2026-02-01"),),
        work=WorkDone(3, 9, 24.0, 1), pins=("travel stop L-0 is in C-100/A",),
        walks=(Walked("WD-2025-1", date(2025, 9, 1), 30, 4), Walked("WD-2026-1", DAY, 31, 2)),
        decisions=(Decision("Order the unit for C-102", "2026-04-01"),),
    )  # fmt: skip
    return replace(usual, **values)


def status_document(language: str = "en", **values: object) -> Document:
    return Document(
        examples.head("Plant status", "STATUS-2026-03-14"),
        plant_status(status(**values), texts(language)),
        language,
    )
