"""SQLAlchemy tables by subject; they know no arithmetic."""

from supports.model.audit import AuditBatch, AuditEntry, ImportRun, Refusal, SourceRow
from supports.model.base import Base
from supports.model.changes import (
    Assessment,
    Change,
    ChangeLine,
    ChangeMeeting,
    ChangeNeed,
    ChangeProof,
    ChangeTerm,
    EmergencyAct,
    Signature,
    WeightItem,
)
from supports.model.design_cases import Calculation, DesignCase, RequiredLoad
from supports.model.intake import (
    DeclaredUnit,
    JoinDecision,
    QuarantineAnswer,
    QuarantinedValue,
    SheetProfile,
)
from supports.model.line_runs import LineRunEvent
from supports.model.line_screenings import LineScreening
from supports.model.lines import Line, NozzleLimit
from supports.model.people import Document, Person, PersonRole
from supports.model.plans import Plan, PlanChoice, PlannedOrder
from supports.model.plant import Area, SiteSetting
from supports.model.routes import LineElement, LineEnd, LineNode
from supports.model.rule_runs import FindingAcceptance, RuleAnswers, RuleRun, SavedQuestion
from supports.model.settings_and_readings import Reading, SettingEvent
from supports.model.supports import (
    Assembly,
    Attachment,
    HardwarePiece,
    PointDocument,
    SupportPoint,
    SupportTag,
)
from supports.model.travel_stops import TravelStopEvent
from supports.model.turnarounds import (
    Turnaround,
    TurnaroundItem,
    TurnaroundLine,
    TurnaroundPlan,
    TurnaroundReason,
    TurnaroundWindow,
)
from supports.model.units_in_service import Nameplate, Unit, UnitPlacement
from supports.model.walkdowns import (
    Campaign,
    CampaignItem,
    CampaignStep,
    FieldFinding,
    FindingStep,
    WalkChoice,
    WalkCloseout,
    WalkEntry,
    WalkForm,
    WalkFormHolder,
    WalkPhoto,
    WalkReading,
    WalkReturn,
)
from supports.model.work_orders import (
    StepReading,
    WorkOrder,
    WorkOrderBefore,
    WorkOrderCopy,
    WorkOrderHold,
    WorkOrderLine,
    WorkOrderMaterial,
)

__all__ = [
    "Area",
    "Assembly",
    "Assessment",
    "Attachment",
    "AuditBatch",
    "AuditEntry",
    "Base",
    "Calculation",
    "Campaign",
    "CampaignItem",
    "CampaignStep",
    "Change",
    "ChangeLine",
    "ChangeMeeting",
    "ChangeNeed",
    "ChangeProof",
    "ChangeTerm",
    "DeclaredUnit",
    "DesignCase",
    "Document",
    "EmergencyAct",
    "FieldFinding",
    "FindingAcceptance",
    "FindingStep",
    "HardwarePiece",
    "ImportRun",
    "JoinDecision",
    "Line",
    "LineElement",
    "LineEnd",
    "LineNode",
    "LineRunEvent",
    "LineScreening",
    "Nameplate",
    "NozzleLimit",
    "Person",
    "PersonRole",
    "Plan",
    "PlanChoice",
    "PlannedOrder",
    "PointDocument",
    "QuarantineAnswer",
    "QuarantinedValue",
    "Reading",
    "Refusal",
    "RequiredLoad",
    "RuleAnswers",
    "RuleRun",
    "SavedQuestion",
    "SettingEvent",
    "SheetProfile",
    "Signature",
    "SiteSetting",
    "SourceRow",
    "StepReading",
    "SupportPoint",
    "SupportTag",
    "TravelStopEvent",
    "Turnaround",
    "TurnaroundItem",
    "TurnaroundLine",
    "TurnaroundPlan",
    "TurnaroundReason",
    "TurnaroundWindow",
    "Unit",
    "UnitPlacement",
    "WalkChoice",
    "WalkCloseout",
    "WalkEntry",
    "WalkForm",
    "WalkFormHolder",
    "WalkPhoto",
    "WalkReading",
    "WalkReturn",
    "WeightItem",
    "WorkOrder",
    "WorkOrderBefore",
    "WorkOrderCopy",
    "WorkOrderHold",
    "WorkOrderLine",
    "WorkOrderMaterial",
]
