"""What a unit shows to whoever stands before it: tag, serial, place, units of its scales."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class UnitFace:
    """One unit as people find it; `name` is what a plan calls it, `tag` what is printed.

    Parameters
    ----------
    load_unit, other_unit, length_unit
        Unit printed on the load scale, the one for the brackets, unit of the pointer's scale.
    """

    unit_id: int
    name: str
    tag: str
    serial: str = "not known"
    kind: str = ""
    place: str = ""
    variable: bool = False
    load_unit: str = "kN"
    other_unit: str = "lbf"
    length_unit: str = "mm"


def face_of(faces: Mapping[int, UnitFace], unit_id: int, name: str) -> UnitFace:
    """Return the face of a unit; one that nobody handed over is known by its name alone."""
    return faces.get(unit_id) or UnitFace(unit_id, name, name)
