"""A turnaround's plan as a workbook: scope, reasons, scaffolds, times, materials, sums."""

from __future__ import annotations

from reports.contents.common import PageSize
from reports.contents.schedule_bars import task_words
from reports.contents.turnaround import TurnaroundPaper
from reports.contents.written import NOT_KNOWN
from reports.xlsx.book import Book, Cell, Column
from supports.rules.turnaround.effort import effort_of, scaffold_name
from supports.rules.turnaround.schedule import moment

SUMS = (Column("What", 44, "@"), Column("Number", 12))
SCOPE = (
    Column("No.", 6),
    Column("Line", 12, "@"),
    Column("Unit", 12, "@"),
    Column("Action", 20, "@"),
    Column("Line state needed", 18, "@"),
    Column("Place in turning", 8),
    Column("Place", 18, "@"),
    Column("Height [m]", 9),
    Column("Scaffold", 12, "@"),
    Column("Crew", 6),
    Column("Hours", 7),
    Column("Fitters [man-h]", 9),
    Column("Inspection [h]", 9),
    Column("Engineer [h]", 9),
    Column("Hold points", 26, "@"),
    Column("Pack", 14, "@"),
    Column("After the freeze", 9, "@"),
    Column("Critical", 8, "@"),
)
REASONS = (
    Column("Unit", 12, "@"),
    Column("Asked for by", 12, "@"),
    Column("Change", 14, "@"),
    Column("Reference", 26, "@"),
    Column("What", 60, "@"),
)
SCAFFOLDS = (
    Column("Scaffold", 14, "@"),
    Column("Height [m]", 9),
    Column("Man-hours", 9),
    Column("Needed from", 16, "@"),
    Column("Free from", 16, "@"),
    Column("Serves", 60, "@"),
)
TIMES = (
    Column("From", 16, "@"),
    Column("To", 16, "@"),
    Column("Who", 12, "@"),
    Column("People", 7),
    Column("What", 16, "@"),
    Column("At", 44, "@"),
    Column("Line", 12, "@"),
    Column("Line state needed", 18, "@"),
    Column("Critical", 8, "@"),
)
MATERIALS = (
    Column("Pack", 14, "@"),
    Column("Part", 32, "@"),
    Column("Number", 8),
    Column("Stands at", 10, "@"),
    Column("Due", 12, "@"),
    Column("If it does not come", 36, "@"),
)
NOT_PLANNED = (Column("Unit", 14, "@"), Column("Why it is not planned", 70, "@"))
MINUTE = "%Y-%m-%d %H:%M"


def turnaround_xlsx(paper: TurnaroundPaper, page: PageSize = PageSize.A4) -> bytes:
    """Return the workbook."""
    book = Book(paper.head, page)
    book.table("Sums", SUMS, _sums(paper))
    book.table("Scope", SCOPE, _scope(paper))
    book.table("Reasons", REASONS, _reasons(paper))
    book.table("Scaffolds", SCAFFOLDS, _scaffolds(paper))
    book.table("What when", TIMES, _times(paper))
    book.table("Materials", MATERIALS, _materials(paper))
    book.table("Not planned", NOT_PLANNED, [list(row) for row in paper.plan.not_planned])
    return book.finished()


def _sums(paper: TurnaroundPaper) -> list[list[Cell]]:
    scope, sums = paper.plan.scope, paper.plan.totals
    return [
        ["Items", len(scope.items)],
        ["Items added after the freeze", len(scope.after_freeze)],
        ["Items not planned", len(paper.plan.not_planned)],
        ["Fitters [man-h]", sums.fitters],
        ["Scaffold [man-h]", sums.scaffold],
        ["Inspection [man-h]", sums.inspection],
        ["Engineer's presence [man-h]", sums.presence],
        ["All trades [man-h]", sums.whole],
        ["Allowance for growth, in no sum [man-h]", sums.growth],
        ["Scaffolds whose hours are not known", sums.scaffolds_not_known],
        ["Materials late", paper.late_materials],
    ]


def _scope(paper: TurnaroundPaper) -> list[list[Cell]]:
    plan, critical = paper.plan, set(paper.plan.critical_units)
    rows: list[list[Cell]] = []
    for place, item in enumerate(plan.scope.items, start=1):
        effort, where = effort_of(item, plan.norms), item.where
        rows.append(
            [
                place,
                where.line,
                where.name,
                ", ".join(item.actions),
                ", ".join(item.states) or "any",
                item.turn[1] or None,
                where.place,
                NOT_KNOWN if where.height is None else where.height,
                scaffold_name(item, plan.norms) or "from the floor",
                effort.crew,
                effort.hours,
                effort.fitters,
                effort.inspection,
                effort.presence,
                "; ".join(item.holds),
                ", ".join(item.orders),
                "yes" if item.after_freeze else "no",
                "yes" if where.name in critical else "no",
            ]
        )
    return rows


def _reasons(paper: TurnaroundPaper) -> list[list[Cell]]:
    return [
        [item.where.name, str(one.source), one.change, one.reference, one.words]
        for item in paper.plan.scope.items
        for one in item.reasons
    ]


def _scaffolds(paper: TurnaroundPaper) -> list[list[Cell]]:
    plan, means = paper.plan, paper.plan.schedule.means
    at = {one.task.name: one for one in plan.schedule.placed}
    rows: list[list[Cell]] = []
    for one in plan.scaffolds:
        up, down = at.get(f"up {one.name}"), at.get(f"down {one.name}")
        rows.append(
            [
                one.name,
                NOT_KNOWN if one.height is None else one.height,
                NOT_KNOWN if one.hours is None else one.hours,
                f"{moment(means, up.end, is_end=True):{MINUTE}}" if up else "not planned",
                f"{moment(means, down.start):{MINUTE}}" if down else "not planned",
                ", ".join(item.where.name for item in one.items),
            ]
        )
    return rows


def _times(paper: TurnaroundPaper) -> list[list[Cell]]:
    schedule = paper.plan.schedule
    critical = set(schedule.critical)
    return [
        [
            f"{moment(schedule.means, one.start):{MINUTE}}",
            f"{moment(schedule.means, one.end, is_end=True):{MINUTE}}",
            f"crew {one.crew}" if one.crew else str(one.task.trade),
            one.task.people,
            task_words(one),
            ", ".join(one.task.units) or one.task.scaffold,
            one.task.line,
            one.task.state or "any",
            "yes" if one.task.name in critical else "no",
        ]
        for one in schedule.placed
    ]


def _materials(paper: TurnaroundPaper) -> list[list[Cell]]:
    return [
        [one.order, one.item, one.quantity, one.status, str(one.due_on or ""), one.fallback]
        for one in paper.plan.scope.materials
    ]
