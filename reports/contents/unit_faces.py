"""What a unit shows to whoever stands before it: tag, serial, place, units of its scales."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from reports.contents.judged_units import other_unit, place_words, unit_tag
from supports.snapshots import NameplateView, SupportView, UnitView


@dataclass(frozen=True, slots=True)
class UnitFace:
    """One unit as people find it; `name` is what a plan calls it, `tag` what is printed."""

    unit_id: int
    name: str
    tag: str
    serial: str = "not known"
    kind: str = ""
    place: str = ""
    variable: bool = False
    load_unit: str = "kN"
    length_unit: str = "mm"

    @property
    def other_unit(self) -> str:
        """Return the unit for the brackets."""
        return other_unit(self.load_unit)


def faces_of(supports: Iterable[SupportView]) -> dict[int, UnitFace]:
    """Return the face of every spring unit, by its id."""
    found = ((support, unit) for support in supports for unit in support.units)
    return {unit.id: _face(support, unit) for support, unit in found if unit.kind.is_spring}


def _face(support: SupportView, unit: UnitView) -> UnitFace:
    plate = unit.nameplate or NameplateView()
    tag = unit_tag(support, unit)
    return UnitFace(
        unit_id=unit.id,
        name=tag,
        tag=tag,
        serial=unit.serial or "not known",
        kind=str(unit.kind),
        place=place_words(support),
        variable=unit.kind.is_variable,
        load_unit=plate.scale_unit or "kN",
        length_unit=plate.pointer_unit or "mm",
    )


def face_of(faces: Mapping[int, UnitFace], unit_id: int, name: str) -> UnitFace:
    """Return the face of a unit; one that nobody handed over is known by its name alone."""
    return faces.get(unit_id) or UnitFace(unit_id, name, name)
