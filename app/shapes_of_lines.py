"""Answers in JSON about a line in space; numbers carry their unit by name."""

from __future__ import annotations

from dataclasses import dataclass

from supports.findings import Finding
from supports.rules.line.screening import SupportThrough


@dataclass(frozen=True, slots=True)
class LineChecked:
    """A line's route and the loads on record, checked."""

    line: str
    nodes: int
    pieces: int
    facts: tuple[str, ...]
    findings: tuple[Finding, ...]
    verdict: str
    screened: bool
    closure: float | None
    """How far the loads on record are off the weight, as a share of it [1]."""
    worst_nozzle: str
    worst_use: float | None
    """Largest use of a nozzle's limit [1]."""
    missing: tuple[str, ...]
    """What keeps the line from being judged."""


@dataclass(frozen=True, slots=True)
class LinesScreened:
    """Every line screened as it stands."""

    lines: tuple[LineChecked, ...]
    without_route: tuple[str, ...]
    screened: int
    not_judged: int
    """Lines that cannot be judged, with those without a route."""
    written_meanwhile: bool
    """Whether the register was written to while its lines were screened."""


@dataclass(frozen=True, slots=True)
class OnEquipment:
    """What the pipe puts on a nozzle or anchor; x east, y north, z up."""

    nozzle: str
    force_x_N: float
    force_y_N: float
    force_z_N: float
    moment_x_Nm: float
    moment_y_Nm: float
    moment_z_Nm: float
    worst_use: str


@dataclass(frozen=True, slots=True)
class SupportNow:
    """A support in one state of a line: force on the pipe, up positive, and its movement."""

    name: str
    load_N: float
    movement_m: float
    standing: str


@dataclass(frozen=True, slots=True)
class StateShown:
    """One state of a line by the screening calculation; `not_calculated` says why there is none."""

    state: str
    weight_N: float | None
    supports: tuple[SupportNow, ...]
    nozzles: tuple[OnEquipment, ...]
    not_calculated: str = ""


@dataclass(frozen=True, slots=True)
class Effects:
    """What 1 N more at one spring does."""

    spring: str
    loads_N_per_N: dict[str, float]
    pointers_m_per_N: dict[str, float]
    nozzles_N_and_Nm_per_N: dict[str, tuple[float, ...]]


@dataclass(frozen=True, slots=True)
class LoadChange:
    """A load before and after."""

    support: str
    before_N: float
    after_N: float


@dataclass(frozen=True, slots=True)
class WhatIf:
    """What a line will show after changes of settings."""

    holds: bool
    status_changes: tuple[str, ...]
    """Supports that would lift, land or meet a stop, so that it does not hold."""
    loads: tuple[LoadChange, ...]
    pointer_movements_m: dict[str, float]
    nozzles_N_and_Nm: dict[str, tuple[float, ...]]


@dataclass(frozen=True, slots=True)
class LineScreened:
    """A line through a change, by the screening calculation."""

    line: str
    aim: str
    verdict: str
    weight_before_N: float
    supports: tuple[SupportThrough, ...]
    states: tuple[StateShown, ...]
    findings: tuple[Finding, ...]
    full_analysis: str
    reasons: tuple[str, ...]
    cannot_judge: tuple[str, ...]
    files: tuple[str, ...]
