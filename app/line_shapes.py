"""Screened lines as they are answered in JSON."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from math import isfinite
from pathlib import Path

from app.line_tables import on_equipment, worst_words
from app.shapes_of_lines import (
    Effects,
    LineChecked,
    LineScreened,
    LoadChange,
    OnEquipment,
    StateShown,
    SupportNow,
    WhatIf,
)
from supports.calc.line.influence import InfluenceTable, Prediction
from supports.calc.line.results import LineResult
from supports.rules.line.overview import Overview
from supports.rules.line.screening import Screening
from supports.rules.line.words import analysis_words, verdict_words
from supports.snapshots import RouteView


def line_checked(line: str, route: RouteView, seen: Overview) -> LineChecked:
    """Return a line's route and loads as checked."""
    return LineChecked(
        line=line,
        nodes=len(route.nodes),
        pieces=len(route.elements),
        facts=seen.facts,
        findings=seen.findings,
        verdict=seen.verdict,
        screened=seen.screened,
        closure=seen.closure,
        worst_nozzle=seen.worst.nozzle if seen.worst else "",
        worst_use=seen.worst.use if seen.worst else None,
        missing=seen.missing,
    )


def line_screened(line: str, screening: Screening, files: Iterable[Path]) -> LineScreened:
    """Return a line through a change."""
    need = screening.need
    return LineScreened(
        line=line,
        aim=str(screening.aim),
        verdict=verdict_words(screening),
        weight_before_N=screening.lines_weight,
        supports=screening.supports,
        states=tuple(state_shown(result, name) for name, result in screening.results.items()),
        findings=screening.findings,
        full_analysis=analysis_words(need),
        reasons=need.reasons,
        cannot_judge=need.cannot_judge,
        files=tuple(map(str, files)),
    )


def state_shown(result: LineResult, name: str = "") -> StateShown:
    """Return one state of a line."""
    supports = tuple(
        SupportNow(one.name, one.load, one.movement, str(one.standing))
        for one in result.supports.values()
    )
    nozzles = []
    for nozzle, six in result.nozzles.items():
        x, y, z, _, about_x, about_y, about_z, _ = on_equipment(six)
        worst = worst_words(result, nozzle)
        nozzles.append(OnEquipment(nozzle, x, y, z, about_x, about_y, about_z, worst))
    return StateShown(name or result.state.name, result.weight, supports, tuple(nozzles))


def effects_shown(table: InfluenceTable) -> Iterator[Effects]:
    """Return what 1 N more at each spring does; on nozzles as the pipe pushes."""
    for column, spring in enumerate(table.units):
        loads = map(float, table.load_effect[:, column])
        pointers = map(float, table.pointer_effect[:, column])
        nozzles = table.nozzle_effect[:, :, column]
        yield Effects(
            spring,
            dict(zip(table.supports, loads, strict=True)),
            dict(zip(table.pointers, pointers, strict=True)),
            {
                name: tuple(-float(one) + 0.0 for one in six)
                for name, six in zip(table.nozzles, nozzles, strict=True)
            },
        )


def what_if_shown(told: Prediction, base: InfluenceTable) -> WhatIf:
    """Return what a line will show after changes of settings."""
    before = map(float, base.base[: base.loads_end])
    moved = told.pointers - base.base[base.loads_end : base.pointers_end]
    return WhatIf(
        holds=not told.status_changes,
        status_changes=told.status_changes,
        loads=tuple(
            LoadChange(name, was, float(load))
            for name, was, load in zip(base.supports, before, told.loads, strict=True)
        ),
        pointer_movements_m={
            name: float(by) for name, by in zip(base.pointers, moved, strict=True) if isfinite(by)
        },
        nozzles_N_and_Nm={
            name: tuple(-float(one) + 0.0 for one in six)
            for name, six in zip(base.nozzles, told.nozzles, strict=True)
        },
    )
