"""Sheets of strangers: what is proposed for them, as lines; what people confirm, kept by source."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from datetime import datetime
from pathlib import Path
from typing import cast, get_args

from app.shapes import SheetProposed
from importers.confirming import Confirmation, confirmed
from importers.profiles import ActsOn, Axes, Axis, Profile
from importers.proposing import ColumnProposal, SheetProposal, propose
from supports.database import Register
from supports.errors import BadInput
from supports.operations.intake import confirm_profiles
from supports.queries.intake import ProfileView
from supports.sentences import Sentence, joined


def proposal_lines(proposals: Sequence[SheetProposal], known: Iterable[str]) -> Iterator[str]:
    """Return what is proposed as lines.

    Parameters
    ----------
    known
        Sheets that are confirmed already.
    """
    held = set(known)
    for one in proposals:
        what = f"sheet '{one.found}', headings in row {one.top + 1}: read as '{one.sheet.name}'"
        yield f"{what} ({one.reason}; else '{one.runner_up}')"
        if one.found in held:
            yield "  confirmed already"
        yield f"  {'column':<26} {'read as':<34} {'fit':>5}  why; runner-up"
        for column in one.columns:
            yield _column_line(column)
        if one.missing:
            yield f"  no column for: {', '.join(one.missing)}"
            yield f"  what holds for all rows is said with --constant '{one.missing[0]}=...'"
    if not proposals:
        yield "No sheet holds a row of headings."


def sheets_proposed(proposals: Iterable[SheetProposal]) -> tuple[SheetProposed, ...]:
    """Return what is proposed, sheet by sheet; the row of headings is counted from 1."""
    return tuple(
        SheetProposed(
            one.found, one.top + 1, one.sheet.name, one.reason, one.runner_up, one.columns,
            tuple(one.missing),
        )
        for one in proposals
    )  # fmt: skip


def _column_line(column: ColumnProposal) -> str:
    read_as = column.read_as or "(left aside)"
    why = column.reason
    if column.is_close:
        why = f"TWO MEANINGS FIT: {why}"
    if column.needs_unit:
        why = f"NO UNIT STATED: {why}"
    other = f"; else {column.runner_up}" if column.runner_up else ""
    return f"  {column.heading[:26]:<26} {read_as[:34]:<34} {column.score:>5.0%}  {why}{other}"


def axes_said(up: str, forces_on: str, east: str, north: str) -> Axes | None:
    """Return the axes as said on the command; None if nothing was said.

    Raises
    ------
    BadInput
        Half of it was said, or a word is not known.
    """
    if not (up or forces_on or east or north):
        return None
    said = {"--up": up, "--east": east, "--north": north}
    for option, axis in said.items():
        if axis not in (*get_args(Axis), "") or (option == "--up" and not axis):
            raise BadInput(
                Sentence("{option} is not an axis", option=option),
                found=f"'{axis}'",
                expected=joined(get_args(Axis), ", "),
            )
    if forces_on not in get_args(ActsOn):
        raise BadInput(
            "what the forces act on is not said",
            found=f"'{forces_on}'",
            expected="--forces-on support, or --forces-on pipe",
        )
    return Axes(
        cast("Axis", up), cast("ActsOn", forces_on), cast("Axis", east), cast("Axis", north)
    )


def pairs(words: Iterable[str], option: str) -> dict[str, str]:
    """Split words such as 'FZ=Load [N]' at the first equals sign."""
    found: dict[str, str] = {}
    for word in words:
        left, sign, right = word.partition("=")
        if not sign or not left.strip() or not right.strip():
            raise BadInput(
                Sentence("{option} is not understood", option=option),
                found=f"'{word}'",
                expected="LEFT=RIGHT",
            )
        found[left.strip()] = right.strip()
    return found


def confirm(
    register: Register,
    file: Path,
    source: str,
    said: Confirmation,
    *,
    sheet: str,
    as_sheet: str,
    acting: str,
    reason: str,
    now: datetime,
) -> dict[str, Profile]:
    """Keep the profiles of the sheets of a file for its source; return them.

    Parameters
    ----------
    sheet
        The one sheet meant; all of the file if empty.

    Raises
    ------
    BadInput
        No source is named, the sheet is not there, or something is left to a guess.
    """
    if not source.strip():
        raise BadInput("a profile belongs to a source", remedy="Name it, as in --source 'stores'")
    proposals = propose(file, as_sheet)
    chosen = [one for one in proposals if sheet in {"", one.found}]
    if not chosen:
        raise BadInput(
            Sentence("the file has no sheet '{sheet}' with headings", sheet=sheet),
            where=file.name,
            found=joined((f"'{one.found}'" for one in proposals), ", ") or "no headings at all",
        )
    if len(chosen) > 1 and said != Confirmation():
        raise BadInput(
            "what is said of columns belongs to one sheet",
            found=joined((f"'{one.found}'" for one in chosen), ", "),
            remedy="Name it with --sheet",
        )
    profiles = {one.found: confirmed(one, said) for one in chosen}
    data = {name: profile.as_data() for name, profile in profiles.items()}
    confirm_profiles(register, source, data, acting=acting, now=now, reason=reason)
    return profiles


def profile_lines(profiles: dict[str, Profile]) -> Iterator[str]:
    """Return profiles as lines: heading by heading, what it is read as."""
    for name, profile in profiles.items():
        yield f"sheet '{name}' is read as '{profile.sheet}':"
        for heading, read_as in profile.headings.items():
            yield f"  {heading:<26} {read_as}"
        for field, text in profile.constants.items():
            yield f"  {'(for all rows)':<26} {field.replace('_', ' ')} = {text}"
        if profile.signs:
            turned = ", ".join(field.replace("_", " ") for field in profile.signs)
            yield f"  the sign is turned about of: {turned}"
        if profile.left:
            yield f"  left aside: {', '.join(profile.left)}"


def history_lines(views: Iterable[ProfileView]) -> Iterator[str]:
    """Return who confirmed what when; what was replaced stays listed."""
    for view in views:
        state = "holds" if view.holds else "replaced"
        profile = Profile.from_data(view.profile)
        yield (
            f"{view.confirmed_at:%Y-%m-%d}  {view.source:<18} '{view.sheet}' read as "
            f"'{profile.sheet}', {len(profile.headings)} columns, by {view.person}  ({state})"
        )
