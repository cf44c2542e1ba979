"""Frozen views of the register, handed to arithmetic, rules and papers.

SI floats throughout; None is 'not known' and stays so.
"""

from supports.snapshots.changes import ChangeView, SignatureView, WeightItemView
from supports.snapshots.lines import (
    AttachmentView,
    CalculationView,
    LineView,
    NozzleLimitView,
    RequiredView,
)
from supports.snapshots.routes import (
    NOWHERE,
    RouteElementView,
    RouteEndView,
    RouteNodeView,
    RouteView,
)
from supports.snapshots.standing import OpenChange, Walked, WorkDone
from supports.snapshots.supports import SupportView
from supports.snapshots.trail import TrailBatch, TrailRow
from supports.snapshots.units import (
    NameplateView,
    PieceView,
    ReadingView,
    SettingUnder,
    SettingView,
    UnitView,
)
from supports.snapshots.work_orders import CopyView, WorkOrderLineView, WorkOrderView

__all__ = [
    "NOWHERE",
    "AttachmentView",
    "CalculationView",
    "ChangeView",
    "CopyView",
    "LineView",
    "NameplateView",
    "NozzleLimitView",
    "OpenChange",
    "PieceView",
    "ReadingView",
    "RequiredView",
    "RouteElementView",
    "RouteEndView",
    "RouteNodeView",
    "RouteView",
    "SettingUnder",
    "SettingView",
    "SignatureView",
    "SupportView",
    "TrailBatch",
    "TrailRow",
    "UnitView",
    "Walked",
    "WeightItemView",
    "WorkDone",
    "WorkOrderLineView",
    "WorkOrderView",
]
