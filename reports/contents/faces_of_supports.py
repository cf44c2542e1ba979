"""The faces of all spring units of some supports, by unit."""

from __future__ import annotations

from collections.abc import Iterable

from reports.contents.judged_units import place_words, unit_tag
from reports.contents.turning import other_unit
from reports.contents.unit_faces import UnitFace
from reports.languages import IN_ENGLISH, Texts
from supports.snapshots import NameplateView, SupportView, UnitView


def faces_of(supports: Iterable[SupportView], say: Texts = IN_ENGLISH) -> dict[int, UnitFace]:
    """Return the face of every spring unit, by its id."""
    found = ((support, unit) for support in supports for unit in support.units)
    return {unit.id: _face(support, unit, say) for support, unit in found if unit.kind.is_spring}


def _face(support: SupportView, unit: UnitView, say: Texts) -> UnitFace:
    plate = unit.nameplate or NameplateView()
    tag, symbol = unit_tag(support, unit), plate.scale_unit or "kN"
    return UnitFace(
        unit_id=unit.id,
        name=tag,
        tag=tag,
        serial=unit.serial or "not known",
        kind=str(unit.kind),
        place=place_words(support, say),
        variable=unit.kind.is_variable,
        load_unit=symbol,
        other_unit=other_unit(symbol),
        length_unit=plate.pointer_unit or "mm",
    )
