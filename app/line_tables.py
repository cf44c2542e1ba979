"""Screened lines as lines of text for a terminal."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from math import hypot

from supports.calc.line.comparison import Compared
from supports.calc.line.full_analysis import Need
from supports.calc.line.influence import InfluenceTable, Prediction
from supports.calc.line.restraints import AXES, Six
from supports.calc.line.results import LineResult
from supports.calc.line.review import nozzle_uses
from supports.findings import Finding
from supports.rules.line.screening import Screening, SupportThrough
from supports.rules.line.words import CAUTION, analysis_words, details, to_confirm, verdict_words
from supports.units import Kind, shown

STAMP = "SCREENING CALCULATION, not an approval"
_NOTEWORTHY = 0.01
"""Share of the change below which an effect is left out of the listing [1]."""


def kn(value: float | None) -> str:
    """Return a load in kN without its unit; '-' if not known."""
    return "-" if value is None else shown(value, "kN", Kind.LOAD).removesuffix(" kN")


def mm(value: float | None) -> str:
    """Return a movement in mm with its sign; '-' if not known."""
    return "-" if value is None else f"{1e3 * value + 0.0:+.1f}"


def finding_lines(findings: Iterable[Finding]) -> Iterator[str]:
    """Return findings, the gravest first, each with its place."""
    for one in sorted(findings, key=lambda f: f.severity.rank):
        subject = f"{one.subject}: " if one.subject else ""
        yield f"  {one.severity:<4} {subject}{one}  [{one.code}]"


def screening_lines(screening: Screening) -> Iterator[str]:
    """Return the whole screening of a line through a change."""
    yield STAMP
    yield verdict_words(screening)
    yield from (f"  {words}" for words in details(screening))
    yield f"Aim: {screening.aim}"
    yield ""
    yield from _support_table(screening.supports)
    yield ""
    yield from _nozzle_table(screening.results)
    yield ""
    yield from analysis_lines(screening.need)
    yield from _confirm(to_confirm(screening))
    yield from (f"  taken for true: {note}" for note in screening.built.notes)
    yield CAUTION


def _support_table(rows: Sequence[SupportThrough]) -> Iterator[str]:
    yield (
        f"  {'':<12} {'':<16} {'before':>9} {'added':>9} {'planned':>9} {'setting':>9} "
        f"{'added':>8} {'planned':>8}"
    )
    yield (
        f"  {'support':<12} {'kind':<16} {'kN':>9} {'kN':>9} {'kN':>9} {'kN':>9} "
        f"{'mm':>8} {'mm':>8}"
    )
    for row in rows:
        change = "-" if row.setting_change is None else f"{row.setting_change / 1e3:+.2f}"
        sink = None if row.sink is None else -row.sink
        yield (
            f"  {row.tag:<12} {row.kind:<16} {kn(row.before):>9} {kn(row.added):>9} "
            f"{kn(row.planned):>9} {change:>9} {mm(sink):>8} {mm(row.planned_rise):>8}"
            f"{_standing(row)}"
        )


def _standing(row: SupportThrough) -> str:
    words = list(dict.fromkeys(map(str, row.standing)))
    return f"  {' / '.join(words)}" if len(words) > 1 else ""


def _nozzle_table(results: Mapping[str, LineResult]) -> Iterator[str]:
    """Return what the pipe puts on each nozzle and anchor, in every state."""
    names = next(iter(results.values())).nozzles
    if not names:
        yield "  no nozzle or anchor on record: nothing is said of loads on equipment"
        return
    yield "  on the equipment, kN and kN·m; x east, y north, z up"
    heads = (*AXES[:3], "F", *AXES[3:], "M")
    yield f"  {'nozzle':<12} {'state':<24} {' '.join(f'{h:>8}' for h in heads)}   worst use"
    for name in names:
        for state, result in results.items():
            values = " ".join(f"{v / 1e3:>8.2f}" for v in on_equipment(result.nozzles[name]))
            yield f"  {name:<12} {state:<24} {values}   {worst_words(result, name)}"


def on_equipment(six: Six) -> tuple[float, ...]:
    """Return Fx, Fy, Fz, force, Mx, My, Mz, moment on the equipment [N], [N·m]."""
    values = [-value + 0.0 for value in six]
    return (*values[:3], hypot(*values[:3]), *values[3:], hypot(*values[3:]))


def worst_words(result: LineResult, nozzle: str) -> str:
    """Return the worst use of a nozzle's limits in words."""
    uses = [u for u in nozzle_uses(result) if u.nozzle == nozzle and u.use is not None]
    if not uses:
        return "cannot judge (missing: limits)"
    worst = max(uses, key=lambda u: u.use or 0.0)
    over = " OVER" if (worst.use or 0.0) > 1.0 else ""
    return f"{worst.what} {100.0 * (worst.use or 0.0):.0f} %{over}"


def analysis_lines(need: Need) -> Iterator[str]:
    """Return the answer on a full analysis with reasons and unknowns."""
    yield analysis_words(need)
    yield from (f"  - {reason}" for reason in need.reasons)
    yield from (f"  ? {reason}" for reason in need.cannot_judge)


def _confirm(compared: Sequence[Compared]) -> Iterator[str]:
    if compared:
        yield "A purchased calculation would have to confirm or explain:"
        yield from map(_compared, compared)


def compared_lines(compared: Sequence[Compared]) -> Iterator[str]:
    """Return a line beside its calculation on record, support by support."""
    yield STAMP
    yield f"  {'support':<12} {'here kN':>9} {'record kN':>9} {'apart':>8}"
    yield from map(_compared, compared)


def _compared(one: Compared) -> str:
    apart = "-" if one.share is None else f"{100.0 * one.share:+.0f} %"
    return f"  {one.support:<12} {kn(one.ours):>9} {kn(one.theirs):>9} {apart:>8}  {one.look}"


def state_lines(result: LineResult) -> Iterator[str]:
    """Return one state of a line: supports and nozzles."""
    yield f"{result.state.name}: weight {kn(result.weight)} kN"
    for one in result.supports.values():
        yield f"  {one.name:<12} {kn(one.load):>9} kN {mm(one.movement):>8} mm  {one.standing}"
    for name, six in result.nozzles.items():
        values = on_equipment(six)
        force, moment = kn(values[3]), f"{values[7] / 1e3:.2f}"
        yield f"  {name:<12} F {force} kN, M {moment} kN·m  {worst_words(result, name)}"


def influence_lines(table: InfluenceTable, step: float = 1000.0) -> Iterator[str]:
    """Return what `step` [N] more at each spring does to the others, to pointers and nozzles."""
    yield STAMP
    yield f"each spring {kn(step)} kN more, all others left alone:"
    for column, unit in enumerate(table.units):
        yield f"{unit}"
        yield f"  loads kN:    {_effects(table.supports, table.load_effect[:, column] * step)}"
        moves = table.pointer_effect[:, column] * step
        yield f"  pointers mm: {_moves(table.pointers, moves)}"
        for name, effect in zip(table.nozzles, table.nozzle_effect[:, :, column], strict=True):
            values = " ".join(
                f"{axis} {round(-value * step / 1e3, 3) + 0.0:+.3f}"
                for axis, value in zip(AXES, effect, strict=True)
            )
            yield f"  on {name}, kN and kN·m: {values}"


def _effects(names: Sequence[str], values: Iterable[float]) -> str:
    told = [
        f"{name} {value / 1e3:+.3f}"
        for name, value in zip(names, values, strict=True)
        if abs(value) >= 1e3 * _NOTEWORTHY
    ]
    return ", ".join(told) or "none above 10 N"


def _moves(names: Sequence[str], values: Iterable[float]) -> str:
    told = [
        f"{name} {1e3 * value:+.2f}"
        for name, value in zip(names, values, strict=True)
        if abs(value) >= 1e-5
    ]
    return ", ".join(told) or "none above 0.01 mm"


def what_if_lines(answer: Prediction, base: InfluenceTable) -> Iterator[str]:
    """Return what a line will show after changes of settings, and when that no longer holds."""
    yield STAMP
    if answer.status_changes:
        names = ", ".join(answer.status_changes)
        yield f"DOES NOT HOLD: {names} would lift, land or meet a stop; screen the line instead."
    before = dict(zip(base.supports, base.base[: base.loads_end], strict=True))
    for name, load in zip(base.supports, answer.loads, strict=True):
        yield f"  {name:<12} {kn(before[name]):>9} -> {kn(float(load)):>9} kN"
    moved = answer.pointers - base.base[base.loads_end : base.pointers_end]
    yield f"  pointers mm: {_moves(base.pointers, map(float, moved))}"
    for name, was, is_now in zip(base.nozzles, base.nozzle_base, answer.nozzles, strict=True):
        before_force, before_moment = hypot(*was[:3]), hypot(*was[3:])
        force, moment = hypot(*is_now[:3]), hypot(*is_now[3:])
        yield (
            f"  {name:<12} F {kn(before_force)} -> {kn(force)} kN, "
            f"M {before_moment / 1e3:.2f} -> {moment / 1e3:.2f} kN·m"
        )
