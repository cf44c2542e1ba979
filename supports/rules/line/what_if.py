"""A line as it would be: other insulation or contents on a stretch, a support taken out or held.

Screening: nothing is re-set and nothing is stored. The line as it stands and the line as supposed
are solved alike, so supports that lift, land or meet a stop are followed.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from supports.calc.line.aims import Aim
from supports.calc.line.line import Line
from supports.calc.line.parts import Masses, RigidPart
from supports.calc.line.required_loads import RequiredLoads, Wish, required_loads
from supports.calc.line.restraints import Guide
from supports.calc.line.results import LineResult, Standing
from supports.calc.line.review import worst_uses
from supports.calc.line.solver import solve_states
from supports.calc.line.states import State
from supports.errors import BadInput, NotFound, NotReady
from supports.findings import cannot_judge
from supports.rules.line.build import BuiltLine
from supports.rules.line.metal import OPERATING
from supports.rules.line.screening import ReadyLine, complete_line, ready_built
from supports.rules.line.standing import at_ends
from supports.rules.line.unit_room import UnitRoom, rooms_of
from supports.rules.line.weights import node_at
from supports.sentences import Sentence, joined
from supports.snapshots import RouteView
from supports.units import STANDARD_GRAVITY

SUPPOSED = "as supposed, nothing re-set"
_SAME_PLACE = 1e-6
"""How near two distances along a line must be to be the same [m]."""
_WEIGHTLESS = 1e-9
"""A change of mass that is rounding only [kg]."""


@dataclass(frozen=True, slots=True)
class Supposed:
    """What is supposed of a line; what is None or empty stays as it is.

    Parameters
    ----------
    thickness, density
        Of the insulation on the stretch: [m], [kg/m³]; thickness 0 is bare, without cladding.
    contents
        Density of what fills the stretch [kg/m³]; 0 is empty.
    first, last
        Ends of the stretch along the line [m]; None is the end of the line.
    taken_out
        Tag of a support that is not there.
    held
        Tag of a spring whose travel stop holds it where it stands now.
    """

    thickness: float | None = None
    density: float | None = None
    contents: float | None = None
    first: float | None = None
    last: float | None = None
    taken_out: str = ""
    held: str = ""


@dataclass(frozen=True, slots=True)
class SupportSupposed:
    """One support before and after.

    Parameters
    ----------
    before, after
        Load on the pipe [N]; after is None where the support is taken out.
    sinks
        How far the pipe sinks there [m]; None where it is taken out.
    changed
        It lifts, lands or meets a stop although it does not before.
    rooms
        Of its spring units: what each would have to be set to, against what it can be set to.
    """

    tag: str
    before: float
    after: float | None
    sinks: float | None
    standing: Standing | None
    changed: bool
    rooms: tuple[UnitRoom, ...] = ()


@dataclass(frozen=True, slots=True)
class PieceSupposed:
    """A piece of the line [m] whose mass changes [kg]."""

    first: float
    last: float
    mass: float

    @property
    def middle(self) -> float:
        """Return the place of its middle along the line [m]."""
        return (self.first + self.last) / 2.0


@dataclass(frozen=True, slots=True)
class Answered:
    """What a supposition does to a line.

    Parameters
    ----------
    first, last
        Ends of the stretch as it was taken [m]: a bend or a body is taken whole or not at all.
    added
        Weight that comes on, negative where it goes off [N].
    ends
        What nozzles and anchors carry upward before and after [N].
    nozzles
        Share of the worst limit of each nozzle before and after [1]; None where it has none.
    pieces
        Where it comes on or goes off.
    """

    supposed: Supposed
    first: float
    last: float
    added: float
    supports: tuple[SupportSupposed, ...]
    ends: tuple[float, float]
    nozzles: Mapping[str, tuple[float | None, float | None]]
    pieces: tuple[PieceSupposed, ...]
    notes: tuple[str, ...]


def what_if(route: RouteView, supposed: Supposed) -> Answered:
    """Return a line before and after something is supposed of it (screening calculation).

    Raises
    ------
    BadInput
        Nothing is supposed, or the stretch has no length.
    NotReady
        A figure that is needed is not known: nothing is assumed in its place.
    NotFound
        The support is not on the line, or holds nothing in its model.
    Mechanism
        Without the support nothing resists a motion of the line.
    """
    _checked(supposed)
    own, other, ends = _cut(complete_line(route), complete_line(_other(route, supposed)), supposed)
    mixed = _mixed(own, other, ends)
    before = ready_built(route, own)
    after = ready_built(route, replace(mixed, line=_without(mixed.line, supposed.taken_out)))
    now = solve_states(before.system, [before.present])[0]
    state = _state(after, supposed, now)
    then = solve_states(after.system, [state])[0]
    pieces = tuple(_pieces(own, mixed))
    return Answered(
        supposed,
        *ends,
        sum(piece.mass for piece in pieces) * STANDARD_GRAVITY,
        _supports(route, supposed, now, then, _back_to_level(after, state, now, supposed)),
        (at_ends(now), at_ends(then)),
        _nozzles(now, then),
        pieces,
        own.notes,
    )


def _checked(supposed: Supposed) -> None:
    figures = (supposed.thickness, supposed.density, supposed.contents)
    if figures == (None, None, None) and not (supposed.taken_out or supposed.held):
        raise BadInput(
            "nothing is supposed",
            expected="an insulation, contents, or a support taken out or held",
        )
    if missing := [name for name, lacks in _lacking(supposed) if lacks]:
        raise NotReady(cannot_judge(missing))
    _not_negative(supposed)


def _lacking(supposed: Supposed) -> Iterator[tuple[str, bool]]:
    """Give what an insulation needs to be weighed, and whether it is missing."""
    thickness, density = supposed.thickness, supposed.density
    yield "thickness of the insulation", thickness is None and density is not None
    yield "density of the insulation", density is None and bool(thickness)


def _not_negative(supposed: Supposed) -> None:
    for name in ("thickness", "density", "contents"):
        value = getattr(supposed, name)
        if value is not None and value < 0.0:
            raise BadInput(
                Sentence("the figure for {name} is negative", name=name), found=f"{value:g}"
            )


def _other(route: RouteView, supposed: Supposed) -> RouteView:
    """Return the line insulated and filled as supposed over its whole length."""
    line = route.line
    if supposed.thickness is not None:
        bare = supposed.thickness == 0.0
        line = replace(line, insulation_mass_per_length=None)
        route = replace(
            route,
            insulation="",
            insulation_thickness=supposed.thickness,
            insulation_density=supposed.density,
            cladding_mass_per_length=0.0 if bare else route.cladding_mass_per_length,
        )
    if supposed.contents is not None:
        line = replace(line, content_mass_per_length=None)
        route = replace(route, content_density=supposed.contents)
    return replace(route, line=line)


def _cut(
    own: BuiltLine, other: BuiltLine, supposed: Supposed
) -> tuple[BuiltLine, BuiltLine, tuple[float, float]]:
    """Cut both lines at the ends of the stretch; return where these are, too."""
    length = max(own.distances.values())
    wanted = (
        0.0 if supposed.first is None else supposed.first,
        length if supposed.last is None else supposed.last,
    )
    found = []
    for place in wanted:
        own, node = node_at(own, place)
        other, _ = node_at(other, place)
        found.append(own.distances[node])
    first, last = found
    if last - first < _SAME_PLACE:
        raise BadInput(
            "the stretch has no length",
            found=Sentence("{low} m to {high} m", low=f"{wanted[0]:.3f}", high=f"{wanted[1]:.3f}"),
            expected="its beginning before its end; a bend is taken whole or not at all",
        )
    return own, other, (first, last)


def _mixed(own: BuiltLine, other: BuiltLine, ends: tuple[float, float]) -> BuiltLine:
    """Return the line with the masses of the other one on the stretch."""
    parts = tuple(
        theirs if _lies_in(own, (ours.start, ours.end), ends) else ours
        for ours, theirs in zip(own.line.parts, other.line.parts, strict=True)
    )
    return replace(own, line=replace(own.line, parts=parts))


def _lies_in(built: BuiltLine, nodes: Sequence[str], ends: tuple[float, float]) -> bool:
    low, high = ends[0] - _SAME_PLACE, ends[1] + _SAME_PLACE
    return all(low <= built.distances[node] <= high for node in nodes)


def _without(line: Line, tag: str) -> Line:
    if not tag:
        return line
    left = tuple(one for one in line.supports if one.name != tag)
    if len(left) == len(line.supports):
        raise NotFound("no such support in the model of the line", found=tag)
    return replace(line, supports=left)


def _state(after: ReadyLine, supposed: Supposed, now: LineResult) -> State:
    """Return the operating state as supposed; what is held is held where it stands now."""
    held = supposed.held
    if not held:
        return replace(after.present, name=SUPPOSED)
    springs = [one.name for one in after.built.line.springs]
    if held not in springs:
        raise NotFound("no such spring to be held", found=held, expected=joined(springs, ", "))
    return replace(after.present, name=SUPPOSED, locked={held: now.supports[held].movement})


def _pieces(own: BuiltLine, mixed: BuiltLine) -> Iterator[PieceSupposed]:
    """Give the pieces whose mass changes."""
    for ours, theirs in zip(own.line.parts, mixed.line.parts, strict=True):
        if isinstance(ours, RigidPart) or isinstance(theirs, RigidPart):
            continue
        first, last = sorted(own.distances[node] for node in (ours.start, ours.end))
        mass = (_per_metre(theirs.masses) - _per_metre(ours.masses)) * (last - first)
        if abs(mass) > _WEIGHTLESS:
            yield PieceSupposed(first, last, mass)


def _per_metre(masses: Masses) -> float:
    """Return metal, cover and operating contents together [kg/m]."""
    return masses.metal + masses.cover + masses.contents[OPERATING]


def _back_to_level(
    after: ReadyLine, state: State, now: LineResult, supposed: Supposed
) -> RequiredLoads | None:
    """Return what the springs would have to be set to for the pipe to stand as it does now."""
    springs = tuple(s.name for s in after.built.line.springs if s.name != supposed.held)
    if not springs:
        return None
    levels = {name: now.supports[name].movement for name in springs}
    return required_loads(after.system, state, Wish(Aim.LEVEL, springs, levels), now)


def _supports(
    route: RouteView,
    supposed: Supposed,
    now: LineResult,
    then: LineResult,
    level: RequiredLoads | None,
) -> tuple[SupportSupposed, ...]:
    sideways = {one.name for one in now.frame.line.supports if isinstance(one, Guide)}
    views = {view.tag: view for view in route.supports}
    rows = []
    for tag, before in now.supports.items():
        if tag in sideways:
            continue
        after = then.supports.get(tag)
        change = _change(level, tag, before.load)
        rooms = () if change is None else rooms_of(views[tag], route.line.number, change)
        held = tag == supposed.held
        rows.append(
            SupportSupposed(
                tag=tag,
                before=before.load,
                after=None if after is None else after.load,
                sinks=None if after is None else before.movement - after.movement,
                standing=None if after is None else after.standing,
                changed=after is not None and not held and after.standing is not before.standing,
                rooms=rooms,
            )
        )
    return tuple(rows)


def _change(level: RequiredLoads | None, tag: str, before: float) -> float | None:
    """Return by how much a spring's load in operation would have to change [N]."""
    if level is None or tag not in level.changes:
        return None
    return level.result.supports[tag].load - before


def _nozzles(now: LineResult, then: LineResult) -> dict[str, tuple[float | None, float | None]]:
    before, after = worst_uses(now), worst_uses(then)
    return {name: (use, after.get(name)) for name, use in before.items()}
