"""Invented contents of the papers for reading."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from reports.contents.blocks import Document
from reports.contents.judged_units import unit_tag
from reports.contents.plant_status import Decision, PlantStatus, plant_status
from reports.contents.support_sheet import (
    ReadFrom,
    RuleSaid,
    SupportSheet,
    Touched,
    UnitRecord,
    support_sheet,
)
from reports.contents.walkdown_closeout import Drawn
from reports.languages import texts
from supports.rules.judgement import judge_supports
from supports.rules.site_settings import proposed_settings
from supports.rules.walkdown.trend import Point
from supports.rules.workflow.start_up import Blocker, StartUp
from supports.snapshots import (
    AttachmentView,
    CalculationView,
    NameplateView,
    OpenChange,
    PieceView,
    ReadingView,
    RequiredView,
    SettingUnder,
    SettingView,
    SupportView,
    UnitView,
    Walked,
    WorkDone,
)
from supports.vocabulary import CaseKind, Known, PlantState, SupportKind
from tests.reports import examples

DAY = date(2026, 3, 14)


def start(blockers: int = 2, missing: int = 1, supports: int = 40) -> StartUp:
    return StartUp(
        where="the plant", supports=supports, props_in=0, stops_in=blockers,
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


def support_view(**values: object) -> SupportView:
    usual = SupportView(
        id=317, tag="C-101", kind=SupportKind.CONSTANT_HANGER, former_tags=("C-77",),
        area="area 4", criticality="A", floor="floor 4", grid="row C/12", elevation=14.0,
        height_above_floor=6.2, scaffold_group="S-1",
        attachments=(AttachmentView("2-HS-0412", 3, 12.5, "310"),),
        units=(unit_view(),),
        hardware=(
            PieceView("A", 1, "lug", "", 48_000.0, "maker's table", 4.0),
            PieceView("A", 2, "unit", "", 40_000.0, "certificate", 163.2),
            PieceView("A", 3, "rod", "M24", 21_730.0, "root area", 9.0, length=1.2),
            PieceView("A", 4, "clamp", "DN 300", None, "", 21.6),
        ),
        required=(RequiredView("2-HS-0412", "operating 1", CaseKind.OPERATING, 22_100.0,
                               Known.YES),),
    )  # fmt: skip
    return replace(usual, **values)


def unit_view(**values: object) -> UnitView:
    plate = NameplateView(
        source="plate", scale_unit="kN", pointer_unit="mm", nameplate_load=20_000.0,
        range_low=17_000.0, range_high=23_000.0, load_per_turn=250.0,
        direction_to_increase="CLOCKWISE INCREASES", load_bolts=1, total_travel=0.2,
        design_travel=-0.14, cold_mark=0.04, hot_mark=0.18, zero_end="top", deviation=0.05,
        may_turn_locked=Known.NO, stop_rating=40_000.0, own_mass=163.2,
    )  # fmt: skip
    setting = SettingView(20_000.0, date(1999, 9, 17), "nameplate", "A. Example")
    usual = UnitView(7, "A", SupportKind.CONSTANT_HANGER, "K 20114/3", plate, setting)
    return replace(usual, **values)


SETTINGS = (
    SettingUnder(20_000.0, date(1999, 9, 17), "nameplate", "A. Example", "shut down, full"),
    SettingUnder(20_500.0, date(2012, 5, 4), "turns counted", "T. Turner", "shut down, full",
                 "CH-1, WO-1", "two turns"),
)  # fmt: skip
READINGS = (
    ReadingView(date(2025, 2, 3), "operating, steady", 20_400.0, 0.171, "B. Sample", "walkdown"),
    ReadingView(date(2025, 4, 9), "shut down, full", 20_500.0, None, "B. Sample", "other"),
)  # fmt: skip


def sheet(support: SupportView | None = None, **values: object) -> SupportSheet:
    view = support or support_view()
    judged = judge_supports([view], proposed_settings())[0].units
    units = {unit.id: unit for unit in view.units}
    points = tuple(Point(one.read_on, PlantState(one.plant_state), 20.4) for one in READINGS)
    drawn = (Drawn("load", "kN", points, ()),)
    records = tuple(
        UnitRecord(unit_tag(view, units[one.unit_id]), units[one.unit_id], one, SETTINGS,
                   READINGS, drawn)
        if one.unit_id in units else UnitRecord(view.tag, None, one)
        for one in judged
    )  # fmt: skip
    usual = SupportSheet(
        view, records,
        basis=(CalculationView(1, "LC-0417", "B", "full analysis", "issued"),),
        said=(RuleSaid("rod-over-rating", "C-101", "STOP", "rod M24 at 103 %"),
              RuleSaid("shoe-off-beam", "C-101", "ACT", "cannot judge (missing: gap)",
                       fails=False)),
        touched=(Touched("WO-1", "CH-1", date(2012, 5, 1), "re-set", "accepted"),),
        sources=(ReadFrom("support", "floor", "floor 4", "plant.xlsx Supports", "Q34", "KK",
                          "2026-02-17"),
                 ReadFrom("support", "grid", "row C/12", "plant.xlsx Supports", "R34", "KK",
                          "2026-02-17")),
    )  # fmt: skip
    return replace(usual, **values)


def sheet_document(language: str = "en", support: SupportView | None = None) -> Document:
    say = texts(language)
    made = sheet(support)
    head = examples.head(say("Data sheet {tag}", tag=made.support.tag), made.support.tag)
    return Document(head, support_sheet(made, say), language, code=made.support.public_id)
