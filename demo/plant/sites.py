"""Where supports stand along a line and what they are, chosen as a designer would choose.

The spans come first, then the kinds by a guess at the movement; what the line then shows not to
suit is chosen again.
"""

from __future__ import annotations

import random
from dataclasses import replace
from itertools import pairwise

from demo.plant.kinds import CARRIERS, chosen_kind
from demo.plant.lines import PlantLine
from demo.plant.plates import suited_rate
from demo.plant.routes import Vector
from demo.plant.seeds import generator
from demo.plant.statics import Site, Stands, stands
from supports.vocabulary import SupportKind

_Rng = random.Random

ROUNDS = 3
"""How often the supports of a line are chosen again."""
LIFTS = 0.004
"""Lift-off beyond which a rest becomes a spring [m]; common practice, no source."""
HARDLY = 0.012
"""Movement beyond which a pipe is not held [m]; common practice, no source."""
IDLE = 1_000.0
"""Load below which a support is not worth its steel [N]; common practice, no source."""
FADING = 1.15
"""Movement up and down has faded out at a distance of line length / FADING [1]."""
STOPPED = frozenset({"1-LS-1220", "1-HO-1209", "2-LS-2214", "2-MS-2210"})
"""Lines whose long run is stopped where it would stay all the same."""


def sites_of(line: PlantLine) -> list[Site]:
    """Return where the supports of a line stand and what they are."""
    rng = generator("points", line.number)
    sites = [_site(line, at, rng) for at in _distances(line, rng)]
    for _ in range(ROUNDS):
        sites = _settled(line, sites)
    return _with_stop(line, sites) if line.number in STOPPED else sites


def _distances(line: PlantLine, rng: _Rng) -> list[float]:
    """Return where supports stand: spans near the suggested ones, off elbows and fittings."""
    found, at = [], line.span * rng.uniform(0.45, 0.6)
    while at < line.way.length - 0.35 * line.span:
        at = line.way.off_bends(_off_fittings(line, at))
        found.append(at)
        at += line.span * rng.uniform(0.84, 1.0)
    return found


def _off_fittings(line: PlantLine, at: float) -> float:
    for fitting in line.fittings:
        if fitting.begin - 0.1 < at < fitting.end + 0.1:
            return round(fitting.end + 0.2, 3)
    return at


def _site(line: PlantLine, at: float, rng: _Rng) -> Site:
    vertical = line.way.stretch_at(at).is_vertical
    return Site(at, chosen_kind(line.service, movement(line, at)[2], rng, vertical=vertical))


def _settled(line: PlantLine, drawn: list[Site]) -> list[Site]:
    """Choose again what the line as drawn shows not to suit."""
    found = stands(line, [_unbound(line, site) for site in drawn])
    suited = (_suited(line, site, found[site.at]) for site in drawn)
    return [site for site in suited if site]


def _unbound(line: PlantLine, site: Site) -> Site:
    """Return a place without what would hold the pipe there sideways."""
    if not _binds(line, site):
        return site
    rises = line.way.stretch_at(site.at).is_vertical
    return replace(site, kind=SupportKind.SHOCK_ARRESTOR if rises else SupportKind.REST)


def _binds(line: PlantLine, site: Site) -> bool:
    """Return whether it holds sideways; at the first riser that is always wanted."""
    first_riser = site.at < line.way.stretches[0].end
    return not first_riser and site.kind in {SupportKind.GUIDE, SupportKind.LINE_STOP}


def _suited(line: PlantLine, site: Site, found: Stands) -> Site | None:
    """Choose what suits: held sideways only where it hardly moves, carried where it weighs.

    A rest that the warm line would lift off becomes a spring, and every spring as stiff as may be;
    where the pipe moves sideways and needs no carrying there is no support.
    """
    if _binds(line, site):
        if found.load >= IDLE:
            return replace(site, kind=SupportKind.REST)
        return site if abs(_way_held(line, site, found.moves)) <= HARDLY else None
    if site.kind in CARRIERS and found.load < IDLE:
        return replace(site, kind=_stiller(line, site, found.moves))
    if found.lifts and found.moves[2] > LIFTS:
        site = replace(site, kind=SupportKind.VARIABLE_HANGER)
    if site.kind.is_variable:
        return replace(site, rate=suited_rate(line.system, found.load, found.moves[2]))
    return site


def _with_stop(line: PlantLine, sites: list[Site]) -> list[Site]:
    """Stop the line where its long run, on its way from going back to going on, stays."""
    found = stands(line, sites)
    run = line.way.stretches[4]
    on_run = [site.at for site in sites if run.begin < site.at < run.end]
    for before, after in pairwise(on_run):
        back, on = found[before].moves[0], found[after].moves[0]
        if back < 0.0 <= on:
            still = round(before + (after - before) * back / (back - on), 1)
            return sorted((*sites, Site(still, SupportKind.LINE_STOP)), key=lambda site: site.at)
    return sites


def _stiller(line: PlantLine, site: Site, moves: Vector) -> SupportKind:
    """Return the kind that holds the pipe in the direction in which it moves less."""
    kinds = (SupportKind.GUIDE, SupportKind.LINE_STOP)
    return min(kinds, key=lambda kind: abs(_way_held(line, replace(site, kind=kind), moves)))


def _way_held(line: PlantLine, site: Site, moves: Vector) -> float:
    """Return how far the pipe would move in the direction in which a guide or stop holds it [m]."""
    run = line.way.stretch_at(site.at)
    runs_east = run.start[1] == run.finish[1]
    along, across = moves[:2] if runs_east else moves[1::-1]
    return along if site.kind is SupportKind.LINE_STOP else across


def movement(line: PlantLine, at: float) -> Vector:
    """Return the movement: growth from the nozzle, taken up again toward the far end."""
    here, nozzle = line.way.point_at(at), line.way.stretches[0].start
    fading = max(0.0, 1.0 - FADING * at / line.way.length)
    east, north, up = (
        line.growth * (h - n) * share
        for h, n, share in zip(here, nozzle, (0.12, 0.12, fading), strict=True)
    )
    return (round(east, 3), round(north, 3), round(up, 3))
