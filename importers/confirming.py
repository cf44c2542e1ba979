"""Profiles made of what was proposed and of what a person says of it."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field, replace

from importers.declared import Sheet
from importers.headings import names, plain, split
from importers.profiles import Axes, Profile, calculation_profile, constants_of
from importers.proposing import SheetProposal
from importers.sheets import REQUIRED_LOADS
from supports.errors import BadInput
from supports.sentences import Sentence, joined


@dataclass(frozen=True, slots=True)
class Confirmation:
    """What a person says of one sheet on top of what is proposed.

    Parameters
    ----------
    read
        Heading found: declared heading with its unit.
    left
        Headings to be left aside.
    constants
        Declared heading: what holds for all rows.
    axes
        Sign and axes of a calculation table.
    forces, movements
        Axis: heading, where the headings do not tell.
    """

    read: Mapping[str, str] = field(default_factory=dict)
    left: Sequence[str] = ()
    constants: Mapping[str, str] = field(default_factory=dict)
    axes: Axes | None = None
    forces: Mapping[str, str] = field(default_factory=dict)
    movements: Mapping[str, str] = field(default_factory=dict)
    force_unit: str = ""
    movement_unit: str = ""


def confirmed(proposal: SheetProposal, said: Confirmation) -> Profile:
    """Return the profile that a person has confirmed.

    Raises
    ------
    BadInput
        A heading or column named is not there, a guess has a near runner-up and nobody chose, or a
        table of calculation loads comes without its sign and axes.
    """
    _check_names(proposal, said)
    headings = {c.heading: c.read_as for c in proposal.columns if c.read_as}
    headings = {k: v for k, v in headings.items() if k not in said.left} | dict(said.read)
    _check_close(proposal, said)
    constants = {_field(proposal.sheet, name): text for name, text in said.constants.items()}
    left = tuple(c.heading for c in proposal.columns if c.heading not in headings)
    if proposal.sheet is REQUIRED_LOADS:
        profile = _with_axes(proposal, said, headings, constants)
    else:
        profile = Profile(proposal.sheet.name, headings, {}, constants)
    constants_of(profile, proposal.sheet)
    return replace(profile, left=tuple(h for h in left if h not in profile.headings))


def _check_names(proposal: SheetProposal, said: Confirmation) -> None:
    there = {c.heading for c in proposal.columns}
    named = [*said.read, *said.left, *said.forces.values(), *said.movements.values()]
    if unknown := [heading for heading in named if heading not in there]:
        raise BadInput(
            Sentence("the sheet '{found}' has no such heading", found=proposal.found),
            found=joined((f"'{heading}'" for heading in unknown), ", "),
            expected=joined((f"'{heading}'" for heading in sorted(there)), ", "),
        )
    known = names(proposal.sheet)
    for text in said.read.values():
        if split(text, known) is None:
            raise BadInput(
                Sentence("'{sheet}' has no such column to read it as", sheet=proposal.sheet.name),
                found=f"'{text}'",
                expected=joined((f"'{c.heading}'" for c in proposal.sheet.columns), ", "),
            )


def _field(sheet: Sheet, name: str) -> str:
    found = names(sheet).get(plain(name))
    if found is None:
        raise BadInput(
            Sentence(
                "'{sheet}' has no column '{name}' to hold for all rows", sheet=sheet.name, name=name
            )
        )
    return found.field


def _check_close(proposal: SheetProposal, said: Confirmation) -> None:
    chosen = {*said.read, *said.left}
    if close := [c for c in proposal.columns if c.is_close and c.heading not in chosen]:
        raise BadInput(
            "columns fit two meanings about as well; a person must choose",
            found=joined(
                Sentence(
                    "'{heading}': {one} or {other}",
                    heading=c.heading,
                    one=c.read_as,
                    other=c.runner_up,
                )
                for c in close
            ),
            remedy="Say it with --read 'HEADING=COLUMN [unit]' or --leave HEADING",
        )


def _with_axes(
    proposal: SheetProposal,
    said: Confirmation,
    headings: Mapping[str, str],
    constants: Mapping[str, str],
) -> Profile:
    """Return the profile of a calculation table; its sign and axes must be said."""
    load = REQUIRED_LOADS.column("load").heading
    if said.axes is None:
        stated = [h for h, read_as in headings.items() if plain(read_as).startswith(plain(load))]
        if stated and all(plain(h).startswith(plain(load)) for h in stated):
            return Profile(REQUIRED_LOADS.name, headings, {}, constants)
        raise BadInput(
            Sentence(
                "the loads of '{found}' cannot be taken without their sign and axes",
                found=proposal.found,
            ),
            expected="which axis points up, and whether the forces act on the support or the pipe",
            remedy="Say so, as in: --up +z --forces-on support",
        )
    forces, movements = _axis_columns(proposal, said)
    _check_axes(said, {*forces.values(), *movements.values()})
    apart = {*forces.values(), *movements.values()}
    return calculation_profile(
        said.axes,
        forces=forces,
        force_unit=_one_unit(proposal, forces, said.force_unit, "force"),
        movements=movements,
        movement_unit=_one_unit(proposal, movements, said.movement_unit, "movement")
        if movements
        else "",
        headings={h: v for h, v in headings.items() if h not in apart and not _is_signed(v)},
        constants=constants,
    )


def _check_axes(said: Confirmation, spoken_of: Collection[str]) -> None:
    """Refuse a load or movement that was named without its axis: it would not be taken."""
    if without := [h for h, v in said.read.items() if _is_signed(v) and h not in spoken_of]:
        raise BadInput(
            Sentence("of '{heading}' it is not said along which axis it is", heading=without[0]),
            found=said.read[without[0]],
            expected="the axis of each load and movement, once axes are told",
            remedy=Sentence(
                "Say so, as in: --force 'z={heading}' or --movement 'z={heading}'",
                heading=without[0],
            ),
        )


def _is_signed(read_as: str) -> bool:
    """Return whether a column is one that the axes speak of."""
    fields = ("load", "movement_up", "movement_east", "movement_north")
    signed = [plain(REQUIRED_LOADS.column(name).heading) for name in fields]
    return any(plain(read_as).startswith(heading) for heading in signed)


def _axis_columns(
    proposal: SheetProposal, said: Confirmation
) -> tuple[dict[str, str], dict[str, str]]:
    found: dict[str, dict[str, str]] = {"force": {}, "movement": {}}
    for column in proposal.columns:
        if column.axis is not None and column.heading not in said.left:
            found[column.axis[0]].setdefault(column.axis[1], column.heading)
    return {**found["force"], **said.forces}, {**found["movement"], **said.movements}


def _one_unit(proposal: SheetProposal, chosen: Mapping[str, str], given: str, what: str) -> str:
    stated = {c.unit for c in proposal.columns if c.heading in chosen.values() and c.unit}
    units = {given} if given else stated
    if len(units) != 1:
        raise BadInput(
            Sentence("the unit of the {what}s is not clear", what=what),
            found=joined(sorted(stated), ", ") or "no unit in the headings",
            remedy=Sentence("Say it with --{what}-unit", what=what),
        )
    return units.pop()
