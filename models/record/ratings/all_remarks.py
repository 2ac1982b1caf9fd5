"""Every remark on the ratings of a lineup, the doubtful first."""

from itertools import chain

from models.criteria.loader import load
from models.judging import Criteria
from models.record.lineup_draft import LineupDraft
from models.record.ratings.altitude import altitude_remarks
from models.record.ratings.arcs import arc_remarks
from models.record.ratings.bus import bus_findings
from models.record.ratings.circuits import circuit_findings
from models.record.ratings.compared import compared
from models.record.ratings.devices import device_findings
from models.record.ratings.levels import level_remarks
from models.record.ratings.plates import order_findings
from models.record.ratings.preferred import preferred_remarks
from models.record.ratings.remark import (
    AS_PUBLISHED,
    LOOK_AGAIN,
    NOT_CHECKED,
    Remark,
    together,
)
from models.record.ratings.unknown import unknown_remarks

ORDER = (LOOK_AGAIN, AS_PUBLISHED, NOT_CHECKED)


def ratings_remarks(
    draft: LineupDraft, criteria: Criteria | None = None
) -> list[Remark]:
    """Return what there is to say of the ratings of *draft*, the doubtful first.

    Its insulation levels and currents beside the published tables (*criteria*; as
    shipped unless others are given), altitude, arc ratings, and apparatus beside the
    lineup and its bus sections. What is alike is said once. Sources: each table's, or
    common practice.
    """
    about = compared(draft, criteria or load())
    findings = chain(
        bus_findings(about),
        device_findings(about),
        circuit_findings(about),
        order_findings(about),
    )
    remarks = [
        *level_remarks(about),
        *preferred_remarks(about),
        *altitude_remarks(about),
        *arc_remarks(about),
        *together(list(findings)),
        *unknown_remarks(about),
    ]
    return sorted(remarks, key=lambda one: ORDER.index(one.level))
