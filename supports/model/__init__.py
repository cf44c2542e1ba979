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
from supports.model.lines import Line, NozzleLimit
from supports.model.people import Document, Person, PersonRole
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
from supports.model.units_in_service import Nameplate, Unit, UnitPlacement
from supports.model.walkdowns import (
    Campaign,
    CampaignItem,
    CampaignStep,
    FieldFinding,
    FindingStep,
    WalkChoice,
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
    "DesignCase",
    "Document",
    "EmergencyAct",
    "FieldFinding",
    "FindingAcceptance",
    "FindingStep",
    "HardwarePiece",
    "ImportRun",
    "Line",
    "LineElement",
    "LineEnd",
    "LineNode",
    "Nameplate",
    "NozzleLimit",
    "Person",
    "PersonRole",
    "PointDocument",
    "Reading",
    "Refusal",
    "RequiredLoad",
    "RuleAnswers",
    "RuleRun",
    "SavedQuestion",
    "SettingEvent",
    "Signature",
    "SiteSetting",
    "SourceRow",
    "StepReading",
    "SupportPoint",
    "SupportTag",
    "TravelStopEvent",
    "Unit",
    "UnitPlacement",
    "WalkChoice",
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
