"""Stories of changes, walks and data, each with a fault planted in a line of sound supports.

Every story has its own line of twenty supports of `planted_plant.sound` and says by hand which
rules must find it, and where. Figures are invented; days are counted back from `TODAY`.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import date, datetime, time, timedelta
from typing import Any

from tests.acceptance.planted_plant import LOAD, PER_LINE, TODAY, Found, Row, Support, ago, sound
from tests.acceptance.planted_rows import store, write_rows
from tests.rows import PLAIN

FIRST_LINE = 400
FOUNDED, IMPORTS = 1, (2, 3)
"""Batches of the trail: the register's first, and two imports."""


def moment(day: date) -> datetime:
    return datetime.combine(day, time(8))


@dataclass
class Story:
    """A line with its supports, the rows besides, and what must be found."""

    line: int
    supports: list[Support]
    rows: dict[str, list[Row]] = field(default_factory=lambda: defaultdict(list))

    @property
    def name(self) -> str:
        return f"L-{self.line:04}"

    @property
    def change(self) -> str:
        return f"CH-{self.line}"

    def units(self) -> list[Support]:
        return [s for s in self.supports if s.unit is not None]

    def add(self, table: str, **row: Any) -> None:
        self.rows[table].append(row)

    def plan(self, state: str, *, extra: int = 0, **row: Any) -> int:
        """Add a change with an assessment, prepared, checked and approved by three people."""
        key = self.line + extra
        words = {"duration": "permanent", "requested_on": ago(100)} | row
        self.add("change", id=key, number=f"CH-{key}", state=state, **words)
        self.add("change_line", change_id=key, line_id=self.line)
        self.add("assessment", id=key, change_id=key, revision=1, calculation_id=self.line)
        for person, meaning in enumerate(("prepared", "checked", "approved"), start=1):
            self.sign(key, person, meaning)
        return key

    def sign(self, key: int, person: int, meaning: str) -> None:
        self.add(
            "signature", subject="assessment", subject_id=key, meaning=meaning, person_id=person,
            role="stress engineer", signed_at=moment(ago(80)),
        )  # fmt: skip

    def work(self, *states: str, on: int) -> list[Support]:
        """Add an order with one line a unit; units that are accepted were set on a day."""
        self.add("work_order", id=self.line, number=f"WO-{self.line}", change_id=self.line,
                 assessment_id=self.line, kind="re-set")  # fmt: skip
        units = self.units()[: len(states)]
        for place, (unit, state) in enumerate(zip(units, states, strict=True), start=1):
            key = 10 * self.line + place
            self.add(
                "work_order_line", id=key, work_order_id=self.line, order_no=place,
                point_id=unit.number, unit_id=unit.number, action="re-set", state=state,
            )  # fmt: skip
            if state == "accepted":
                again = {**unit.settings[-1], "happened_on": ago(on), "work_order_line_id": key}
                unit.settings.append(again)
        return units

    def started(self, days: int) -> None:
        self.add("line_run_event", line_id=self.line, happened_on=ago(days), what="start-up")

    def walked(self, support: Support, **values: Any) -> None:
        """Add a campaign whose form came back with values in the row of one support."""
        key, unit = self.line, support.number if support.unit else None
        self.add("campaign", id=key, number=f"W-{key}", pair_id=None)
        self.add("campaign_item", id=key, campaign_id=key, order_no=1, point_id=support.number,
                 unit_id=unit)  # fmt: skip
        self.add("walk_form", id=key, campaign_id=key, revision=1)
        self.add("walk_return", id=key, form_id=key)
        self.add("walk_entry", return_id=key, item_id=key, read_on=ago(30), values=values,
                 written={}, doubts={})  # fmt: skip


Plot = Callable[[Story], Found]
"""Plants itself in a story; returns (rule, name) of what must be found."""


def _superseded(s: Story) -> Found:
    s.plan("cleared to build")
    s.add("calculation", id=s.line + 5_000, number=f"C-{s.line}", revision="B",
          method="full analysis", status="issued", issued_on=ago(10))  # fmt: skip
    return {("calculation-superseded", s.change)}


def _same_hand(s: Story) -> Found:
    s.sign(s.plan("cleared to build"), 1, "approved")
    return {("checker-is-doer", s.change)}


def _near_its_end(s: Story) -> Found:
    s.plan("cleared to build", duration="temporary", ends_on=TODAY + timedelta(days=10))
    return {("temporary-near-date", s.change)}


def _past_its_end(s: Story) -> Found:
    s.plan("cleared to build", duration="temporary", ends_on=ago(1))
    return {("temporary-past-date", s.change)}


def _called_off(s: Story) -> Found:
    s.plan("called off, to be put right")
    s.work("accepted", on=20)
    return {("part-done-then-called-off", s.change)}


def _mixed(s: Story) -> Found:
    s.plan("being done")
    s.work("accepted", "written", on=20)
    s.started(5)
    return {("line-in-mixed-state", s.change)}


def _emergency(s: Story) -> Found:
    s.plan("made safe, to be taken through", safe_until=moment(ago(2)), requested_on=ago(5))
    return {("emergency-not-regularised", s.change)}


def _no_red_marks(s: Story) -> Found:
    s.plan("done, to be proved")
    s.work("accepted", on=20)
    return {("drawings-not-updated", s.change)}


def _two_changes(s: Story) -> Found:
    s.plan("cleared to build")
    s.plan("cleared to build", extra=20_000)
    return {("two-changes-one-line", s.name)}


def _other_unit(s: Story) -> Found:
    # 5.5 kN stood on the plate before, 6.1 kN stands there now: 10.9 %
    here, old = s.units()[0], 900_000 + s.line
    s.add("unit", id=old, kind=here.kind, serial=f"OLD{old}")
    s.add("nameplate", **{**here.plate, "unit_id": old, "nameplate_load": 5_500.0})
    s.add("unit_placement", unit_id=old, assembly_id=here.number, position="A", until=ago(500))
    return {("like-for-like-doubtful", here.name)}


def _weight_changed(s: Story) -> Found:
    s.plan("closed")
    s.add("weight_item", change_id=s.line, line_id=s.line, mass=100.0)
    return {("setting-older-than-weight-change", u.name) for u in s.units()}


def _not_walked(s: Story) -> Found:
    s.plan("closed")
    s.work("accepted", on=60)
    s.started(40)
    return {("no-hot-walk-after-change", s.change)}


def _stop_before_heat_up(s: Story) -> Found:
    s.plan("done, to be proved")
    s.units()[0].stops = [
        {"unit_id": s.units()[0].number, "pin_number": "P1", "direction": "in",
         "happened_at": moment(ago(10)), "done_by": "N. N.", "reason": "test"}
    ]  # fmt: skip
    return {("locks-not-all-out", s.name)}


def _on_his_own(s: Story) -> Found:
    # 6.11 kN for 6.10: too little to be noted as a difference, yet another value
    here = s.units()[0]
    here.settings.append({**here.settings[-1], "happened_on": ago(200), "load": LOAD + 10.0})
    return {("work-without-approval", here.name)}


def _ownerless(s: Story) -> Found:
    s.add("campaign", id=s.line, number=f"W-{s.line}", pair_id=None)
    s.add("field_finding", number=f"F-{s.line}", campaign_id=s.line, item_id=None,
          point_id=s.supports[0].number, state="open", owner=None, due_on=None)  # fmt: skip
    return {("finding-without-owner", f"F-{s.line}")}


def _old_form(s: Story) -> Found:
    s.walked(s.units()[0], remarks="x")
    s.add("walk_form", id=s.line + 20_000, campaign_id=s.line, revision=2)
    return {("form-of-old-revision", f"W-{s.line}")}


def _no_photo(s: Story) -> Found:
    s.units()[0].point["criticality"] = "A"
    return {("critical-without-photo", s.units()[0].name)}


def _no_value(s: Story) -> Found:
    here = s.units()[0]
    here.point["criticality"] = "A"
    here.readings[-1].update(pointer=None, scale_load=None)
    return {("critical-without-photo", here.name), ("seen-as-ok-without-value", here.name)}


def _drifts(s: Story) -> Found:
    # 5 mm in a year
    here = s.units()[0]
    hot = here.readings[-1]
    here.readings[:0] = [
        {**hot, "read_on": ago(90 + 730), "pointer": 0.140},
        {**hot, "read_on": ago(90 + 365), "pointer": 0.145},
    ]
    return {("drift-between-walks", here.name)}


def _off_its_rest(s: Story) -> Found:
    rest = next(one for one in s.supports if one.unit is None)
    s.walked(rest, gap=0.010)
    return {("rest-lifted", rest.name)}


def _on_its_rest(s: Story) -> Found:
    s.walked(next(one for one in s.supports if one.unit is None), gap=0.0005)
    return set()


def _seized(s: Story) -> Found:
    s.walked(s.units()[0], stop="seized")
    return {("lock-seized", s.units()[0].name)}


def _not_in_holder(s: Story) -> Found:
    s.walked(s.units()[0], stop="out and missing")
    return {("lock-not-in-holder", s.units()[0].name)}


def _leans(s: Story) -> Found:
    # 0.1 rad is 5.7°, and no movement tells what the swing should be
    here = s.units()[0]
    here.load(movement_east=None, movement_north=None)
    here.readings[-1]["rod_angle"] = 0.1
    return {("body-leaning", here.name)}


def _tag_twice(s: Story) -> Found:
    one, other = s.supports[:2]
    other.tag["matching_key"] = one.tag["matching_key"]
    return {("same-tag-twice", one.name), ("same-tag-twice", other.name)}


def _new_tag(s: Story) -> Found:
    here = s.supports[0]
    s.add("support_tag", point_id=here.number, tag=f"OLD-{here.number}",
          matching_key=f"OLD{here.number}", valid_to=ago(10), valid_from=None)  # fmt: skip
    return {("tag-changed", here.name)}


def _serial_twice(s: Story) -> Found:
    one, other = s.units()[:2]
    other.unit["serial"] = one.unit["serial"]
    return {("serial-twice", one.name), ("serial-twice", other.name)}


def _two_files(s: Story) -> Found:
    for batch in IMPORTS:
        s.add("audit_entry", batch_id=batch, table_name="nameplate", row_id=s.line,
              before={"rate": 1.0}, after={"rate": 2.0}, source_row_id=None)  # fmt: skip
    return {("edited-by-two", f"nameplate {s.line}")}


def _no_unit_of_measure(s: Story) -> Found:
    s.add("import_run", id=s.line, file_name=f"{s.line}.xlsx")
    for cell, code in (("D7", "unit-not-stated"), ("D8", "day-doubtful")):
        s.add("quarantined_value", import_run_id=s.line, sheet="Hangers", cell=cell, code=code,
              tag=s.supports[0].name, text="4500")  # fmt: skip
    return {("unit-not-stated", f"{s.line}.xlsx Hangers D7")}


def _filled(s: Story) -> Found:
    here = s.units()[0]
    here.readings.append(
        {**here.readings[-1], "read_on": ago(1), "plant_state": "under test", "pointer": None}
    )
    return {("fill-with-lock-out", u.name) for u in s.units()}


PLOTS: tuple[Plot, ...] = (
    _superseded, _same_hand, _near_its_end, _past_its_end, _called_off, _mixed, _emergency,
    _no_red_marks, _two_changes, _other_unit, _weight_changed, _not_walked, _stop_before_heat_up,
    _on_his_own, _ownerless, _old_form, _no_photo, _no_value, _drifts, _off_its_rest,
    _on_its_rest, _seized, _not_in_holder, _leans, _tag_twice, _new_tag, _serial_twice,
    _two_files, _no_unit_of_measure, _filled,
)  # fmt: skip


def stories() -> tuple[list[Story], Found]:
    """Return one story of each plot, and all (rule, name) to be found."""
    told, wanted = [], set()
    for line, plot in enumerate(PLOTS, start=FIRST_LINE):
        first = (line - 1) * PER_LINE
        story = Story(line, [sound(first + place) for place in range(1, PER_LINE + 1)])
        wanted |= plot(story)
        told.append(story)
    return told, wanted


def store_stories(connection: Any, metadata: Any, told: list[Story]) -> None:
    """Write all supports and rows; what a table asks for and a story leaves open is filled in."""
    rows: dict[str, list[Row]] = defaultdict(list)
    for key in (FOUNDED, *IMPORTS):
        what = "found" if key == FOUNDED else "import"
        rows["audit_batch"].append(
            {"id": key, "action": what, "written_at": moment(ago(3_500)), "hash": f"{key}",
             "previous_hash": f"before {key}"}
        )  # fmt: skip
    rows["person"] = [{"id": key, "name": f"Person {key}"} for key in (1, 2, 3)]
    for story in told:
        for name, added in story.rows.items():
            rows[name] += added
    first, then = {"person", "audit_batch"}, set(rows)
    tables = metadata.tables
    ordered = [t.name for t in metadata.sorted_tables]
    write_rows(connection, tables, ((n, _whole(tables[n], rows[n])) for n in ordered if n in first))
    settings = [(s, s.settings) for story in told for s in story.supports]
    for support, _ in settings:
        support.settings = []
    store(connection, tables, [s for story in told for s in story.supports])
    rest = ((n, _whole(tables[n], rows[n])) for n in ordered if n in then - first)
    write_rows(connection, tables, rest)
    events = [event for _, held in settings for event in held]
    write_rows(connection, tables, [("setting_event", events)])


def _whole(table: Any, rows: list[Row]) -> list[Row]:
    """Return rows with every column that may not be blank."""
    needed = {
        c.name: PLAIN[c.type.python_type]
        for c in table.columns
        if not c.nullable and not c.primary_key and not c.foreign_keys
    }
    return [{**needed, **row} for row in rows]
