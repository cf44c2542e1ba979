"""What the tags say that hang beside the scales: the present setting, and who may change it."""

from __future__ import annotations

from dataclasses import dataclass

from reports.contents.common import PaperHead
from reports.contents.judged_units import unit_tag
from reports.contents.turning import other_unit
from reports.contents.written import amount, load_pair
from reports.languages import Texts
from supports.snapshots import NameplateView, SettingUnder, SupportView, UnitView
from supports.units import Kind


@dataclass(frozen=True, slots=True)
class HangingTag:
    """One tag; `setting` '' where nobody knows it: then the tag says so.

    Parameters
    ----------
    point_id
        The point's lasting id; the square code holds nothing else.
    under
        Change and order by which it was set; '' where the register holds none.
    """

    tag: str
    point_id: str
    serial: str
    line: str
    kind: str
    setting: str
    set_on: str
    set_by: str
    under: str
    old: str
    cold_mark: str
    hot_mark: str


@dataclass(frozen=True, slots=True)
class HangingTags:
    """A sheet of tags."""

    head: PaperHead
    tags: tuple[HangingTag, ...]
    language: str = "en"


def hanging_tag(
    support: SupportView, unit: UnitView, settings: tuple[SettingUnder, ...], say: Texts
) -> HangingTag:
    """Return the tag of one unit.

    Parameters
    ----------
    settings
        All that the register holds, oldest first.
    """
    plate = unit.nameplate or NameplateView()
    symbol = plate.scale_unit or "kN"
    pair = [load_pair(one.load, symbol, other_unit(symbol)) for one in settings[-2:]]
    last = settings[-1] if settings else None
    return HangingTag(
        tag=unit_tag(support, unit),
        point_id=support.public_id,
        serial=unit.serial or say("not known"),
        line=", ".join(support.lines) or say("not known"),
        kind=say.word(str(unit.kind)),
        setting=pair[-1] if pair else "",
        set_on=last.happened_on.isoformat() if last else "",
        set_by=last.set_by if last else "",
        under=last.under if last else "",
        old=pair[0] if len(pair) == 2 else "",
        cold_mark=_mark(plate.cold_mark, plate, say),
        hot_mark=_mark(plate.hot_mark, plate, say),
    )


def _mark(value: float | None, plate: NameplateView, say: Texts) -> str:
    if value is None:
        return say("not known")
    return amount(value, plate.pointer_unit or "mm", Kind.LENGTH)
