"""SQLAlchemy mappings, a file an aggregate."""

from models.schema.assets import Apparatus, BusSection, Cell, Lineup, Site
from models.schema.attachments import (
    Attachment,
    AttachmentWithdrawal,
    StoredFile,
)
from models.schema.base import Base
from models.schema.confirmations import (
    ConfirmedTogether,
    PreconditionList,
    PreconditionText,
)
from models.schema.entries import (
    Judgement,
    Note,
    Reading,
    Receipt,
)
from models.schema.findings import (
    Agreement,
    CardReturn,
    CardWithdrawal,
    Deficiency,
    DeficiencyClosing,
    Disposition,
)
from models.schema.first_start import FirstStart
from models.schema.given import GivenCriterion
from models.schema.inspections import (
    InspectionAnswer,
    InspectionNotice,
    InspectionPoint,
)
from models.schema.instruments import Calibration, Instrument, InstrumentRange
from models.schema.judging_again import EditionChoice, Rejudging
from models.schema.log import LogEntry
from models.schema.parties import (
    Authority,
    Invitation,
    Organisation,
    Person,
    PersonRole,
    SigningKey,
    SiteAssignment,
)
from models.schema.planning import PlanDraft
from models.schema.plates import (
    NameplateConfirmation,
    NameplateVersion,
    Placement,
)
from models.schema.rounds import Card, PlanChange, Point, Round
from models.schema.rules import StoredRule
from models.schema.safety import SafetyAct
from models.schema.signatures import Package, PackageFile, SealWaiver, Signature
from models.schema.table_checks import TableCheck
from models.schema.tablets import Tablet, TabletAct, TabletRound, TabletShare
from models.schema.throttle import Throttle

# Tables whose rows the database itself refuses to change or delete.
APPEND_ONLY = (
    "agreement",
    "attachment",
    "attachment_withdrawal",
    "card_return",
    "card_withdrawal",
    "confirmed_together",
    "deficiency",
    "deficiency_closing",
    "disposition",
    "edition_choice",
    "given_criterion",
    "inspection_answer",
    "inspection_notice",
    "inspection_point",
    "judgement",
    "log_entry",
    "nameplate_confirmation",
    "nameplate_version",
    "note",
    "package",
    "package_file",
    "placement",
    "plan_change",
    "precondition_list",
    "precondition_text",
    "reading",
    "receipt",
    "rejudging",
    "rule",
    "safety_act",
    "seal_waiver",
    "signature",
    "stored_file",
    "table_check",
    "tablet_act",
)

__all__ = [
    "APPEND_ONLY",
    "Agreement",
    "Apparatus",
    "Attachment",
    "AttachmentWithdrawal",
    "Authority",
    "Base",
    "BusSection",
    "Calibration",
    "Card",
    "CardReturn",
    "CardWithdrawal",
    "Cell",
    "ConfirmedTogether",
    "Deficiency",
    "DeficiencyClosing",
    "Disposition",
    "EditionChoice",
    "FirstStart",
    "GivenCriterion",
    "InspectionAnswer",
    "InspectionNotice",
    "InspectionPoint",
    "Instrument",
    "InstrumentRange",
    "Invitation",
    "Judgement",
    "Lineup",
    "LogEntry",
    "NameplateConfirmation",
    "NameplateVersion",
    "Note",
    "Organisation",
    "Package",
    "PackageFile",
    "Person",
    "PersonRole",
    "Placement",
    "PlanChange",
    "PlanDraft",
    "Point",
    "PreconditionList",
    "PreconditionText",
    "Reading",
    "Receipt",
    "Rejudging",
    "Round",
    "SafetyAct",
    "SealWaiver",
    "Signature",
    "SigningKey",
    "Site",
    "SiteAssignment",
    "StoredFile",
    "StoredRule",
    "TableCheck",
    "Tablet",
    "TabletAct",
    "TabletRound",
    "TabletShare",
    "Throttle",
]
