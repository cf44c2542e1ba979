"""A register for engineers in notebooks: opened to be read, as tables with units.

    from datetime import date
    from supports.notebook import open_plant

    plant = open_plant("demo-plant/register.db", today=date(2026, 10, 20))

Nothing can be written through it. Tables are pandas; each heading of numbers names its unit, and
what is not known is not-a-number, never zero. The line calculation is screening: it finds what
deserves a closer look and replaces no calculation by a qualified person.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Any

import pandas as pd
from sqlalchemy import make_url

from supports.calc.line.influence import what_if
from supports.calc.line.results import LineResult
from supports.calc.line.solver import solve_states
from supports.database import Register, sqlite_url
from supports.errors import BadInput, NotFound
from supports.queries.lookups import plan_of, point_of, unit_of
from supports.queries.plans import PlanOnRecord, all_plans, plan_on_record
from supports.queries.route_views import route_view, routed_lines
from supports.queries.support_views import support_views
from supports.queries.tables import findings_table, in_units, units_table
from supports.queries.unit_history import readings_of
from supports.rules.line.screening import ReadyLine, common_states, present_influence, ready_line
from supports.snapshots import SupportView
from supports.units import Kind, from_si, to_si


def open_plant(where: str | Path, *, today: date) -> Plant:
    """Open a register to be read.

    Parameters
    ----------
    where
        File, or address as ``postgresql://user@host/database``.
    today
        The day that ages and periods are counted to.

    Raises
    ------
    BadInput
        There is no file by that name.
    DatabaseTrouble
        It is no register, or one of another revision.
    """
    text = str(where)
    if "://" not in text and not Path(text).is_file():
        raise BadInput("there is no register here", where=text)
    register = Register(make_url(text) if "://" in text else sqlite_url(Path(text)))
    register.check()
    return Plant(register, today)


@dataclass(frozen=True, slots=True)
class Plant:
    """A register on a day; see `open_plant`."""

    register: Register
    today: date

    def units(self, load: str = "kN", length: str = "mm") -> pd.DataFrame:
        """Return one row for each unit in place, and for each support that has none.

        Parameters
        ----------
        load, length
            Units of the numbers; each heading names its own.
        """
        with self.register.reading() as session:
            table = units_table(session, self.today)
        wanted = {str(Kind.LOAD): load, str(Kind.LENGTH): length, str(Kind.RATE): "N/mm"}
        kinds = table.attrs["kinds"]
        shown: pd.DataFrame = in_units(
            table, {name: wanted[kind] for name, kind in kinds.items() if kind in wanted}
        )
        return shown

    def findings(self) -> pd.DataFrame:
        """Return one row for each rule that fails or cannot judge, with where it stands."""
        with self.register.reading() as session:
            found: pd.DataFrame = findings_table(session, self.today)
        return found

    def support(self, tag: str) -> SupportView:
        """Return a support with all that hangs there; its numbers are SI."""
        with self.register.reading() as session:
            (view,) = support_views(session, [point_of(session, tag)])
        return view

    def readings(
        self, tag: str, position: str = "", load: str = "kN", length: str = "mm"
    ) -> pd.DataFrame:
        """Return all readings of a unit, oldest first."""
        with self.register.reading() as session:
            unit = unit_of(session, tag, position)
            found = readings_of(session, [unit.id]).get(unit.id, [])
        rows = sorted(found, key=lambda one: one.read_on)
        return pd.DataFrame(
            {
                "read on": [one.read_on for one in rows],
                f"load [{load}]": [_in(one.scale_load, load, Kind.LOAD) for one in rows],
                f"pointer [{length}]": [_in(one.pointer, length, Kind.LENGTH) for one in rows],
                "plant state": [str(one.plant_state) for one in rows],
                "read by": [one.read_by for one in rows],
            }
        )

    def lines(self) -> list[str]:
        """Return the numbers of the lines whose route is known."""
        with self.register.reading() as session:
            return list(routed_lines(session))

    def line(self, number: str) -> LineModel:
        """Return a line built for screening, as it stands.

        Raises
        ------
        NotReady
            Something is not known; the message says what.
        """
        with self.register.reading() as session:
            return LineModel(ready_line(route_view(session, number)))

    def plans(self) -> list[str]:
        """Return the numbers of all re-set plans."""
        with self.register.reading() as session:
            return [one.number for one in all_plans(session)]

    def plan(self, number: str) -> PlanOnRecord:
        """Return a re-set plan; `plan_table` shows what it turns."""
        with self.register.reading() as session:
            return plan_on_record(session, plan_of(session, number))


@dataclass(frozen=True, slots=True)
class LineModel:
    """A line built for screening; loads are forces on the pipe, up positive."""

    ready: ReadyLine

    def states(self, load: str = "kN", length: str = "mm") -> pd.DataFrame:
        """Return load and movement of each support, cold, operating and under test."""
        results = solve_states(self.ready.system, list(common_states(self.ready)))
        return pd.concat(
            [_state_table(one, load, length) for one in results],
            keys=[one.state.name for one in results], names=["state", "support"],
        )  # fmt: skip

    def what_if(
        self, changes: Mapping[str, float], load: str = "kN", length: str = "mm"
    ) -> pd.DataFrame:
        """Return what the scales and pointers will show after changes of set load.

        Parameters
        ----------
        changes
            Change of set load at each spring, in the unit of `load`.

        Raises
        ------
        NotFound
            A spring is not on the line.
        BadInput
            A support would lift, land or meet a stop: the answer would not hold.
        """
        base = present_influence(self.ready)
        newtons = {name: to_si(float(by), load, Kind.LOAD) for name, by in changes.items()}
        told = what_if(base, base.changes(newtons))
        if told.status_changes:
            raise BadInput(
                "a support would lift, land or meet a stop, and the answer would not hold",
                found=", ".join(told.status_changes), remedy="Screen the line instead",
            )  # fmt: skip
        before = base.base[: base.loads_end]
        table = pd.DataFrame(
            {
                f"before [{load}]": from_si(before, load, Kind.LOAD),
                f"after [{load}]": from_si(told.loads, load, Kind.LOAD),
            },
            index=pd.Index(base.supports, name="support"),
        )
        moved = told.pointers - base.base[base.loads_end : base.pointers_end]
        by_name = dict(zip(base.pointers, from_si(moved, length, Kind.LENGTH), strict=True))
        table[f"pointer moves [{length}]"] = [by_name.get(n, float("nan")) for n in base.supports]
        return table

    def plot_loads(self, load: str = "kN", axes: Any = None) -> Any:
        """Draw the load of each support in each state as bars; return the axes.

        Supports stand in their order along the line; a load that is not known has no bar. Needs
        matplotlib: ``pip install pipe-support-register[notebook]``.

        Parameters
        ----------
        axes
            Where to draw; a figure of its own, wide enough for the line, if None.
        """
        heading = f"load [{load}]"
        table = self.states(load).pivot_table(
            index="support", columns="state", values=heading, sort=False, dropna=False
        )
        drawn = table.plot.bar(
            ax=axes or _wide_enough(len(table)), width=0.8, rot=90, color=_COLOURS,
            edgecolor="black", linewidth=0.4,
        )  # fmt: skip
        for bars, hatch in zip(drawn.containers, _HATCHES, strict=False):
            for bar in bars:
                bar.set_hatch(hatch)
        drawn.axhline(0.0, color="black", linewidth=0.8)
        drawn.set(xlabel="", ylabel=heading)
        title = f"{self.ready.route.line.number}: screening calculation, not an approval"
        drawn.set_title(title, loc="left", pad=28.0)
        place = {"loc": "lower left", "bbox_to_anchor": (-0.01, 1.0), "ncols": len(table.columns)}
        drawn.legend(frameon=False, fontsize="small", borderaxespad=0.2, columnspacing=1.2, **place)
        return drawn


_COLOURS = ("#56b4e9", "#e69f00", "#009e73", "#cc79a7")
"""Told apart by the colour-blind; with the hatches, also in grey."""
_HATCHES = ("", "///", "...", "xxx")


def _wide_enough(supports: int) -> Any:
    """Return the axes of a new figure that has room for so many tags."""
    from matplotlib import pyplot as plt

    return plt.subplots(figsize=(max(6.4, 0.55 * supports), 4.8), layout="constrained")[1]


def plan_table(plan: PlanOnRecord, which: int = 0, load: str = "kN") -> pd.DataFrame:
    """Return what an alternative of a plan turns, unit by unit.

    Parameters
    ----------
    which
        Alternative, from 1; the chosen one if 0, else the first.

    Raises
    ------
    NotFound
        There is no such alternative.
    """
    names = [one.name for one in plan.content.alternatives]
    chosen = plan.chosen.alternative if plan.chosen else names[0]
    if not 0 <= which <= len(names):
        raise NotFound("there is no such alternative", found=str(which), expected="; ".join(names))
    turned = plan.content.named(names[which - 1] if which else chosen).units
    return pd.DataFrame(
        {
            "turns": [one.turns for one in turned],
            "flats": [one.flats for one in turned],
            "way": ["more load" if one.increases else "less load" for one in turned],
            f"set before [{load}]": [_in(one.setting_before, load, Kind.LOAD) for one in turned],
            f"set after [{load}]": [_in(one.setting_after, load, Kind.LOAD) for one in turned],
        },
        index=pd.Index([one.name for one in turned], name="unit"),
    )


def _state_table(result: LineResult, load: str, length: str) -> pd.DataFrame:
    rows: Sequence[Any] = list(result.supports.values())
    return pd.DataFrame(
        {
            f"load [{load}]": [_in(one.load, load, Kind.LOAD) for one in rows],
            f"movement [{length}]": [_in(one.movement, length, Kind.LENGTH) for one in rows],
            "standing": [str(one.standing) for one in rows],
        },
        index=[one.name for one in rows],
    )


def _in(si: float | None, symbol: str, kind: Kind) -> float:
    """Return a value in a unit; not known is not-a-number."""
    return float("nan") if si is None else from_si(si, symbol, kind)
