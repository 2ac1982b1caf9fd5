"""The correction of a metal's resistance to 20 degC, or another temperature."""

from collections.abc import Mapping
from typing import Any

from models.errors import CriteriaError
from models.judging.tables import Criteria
from models.procedures.subject import Subject

TABLE = "metals"
REFERENCE_C = 20.0


def metal_correction(
    subject: Subject,
    criteria: Criteria,
    *,
    plate: str,
    otherwise: str,
    cite: int,
    reference_c: float = REFERENCE_C,
) -> tuple[dict[str, Any], Mapping[str, Any]]:
    """Return the correction of a rule, and the source of its constant.

    The field *plate* of the nameplate names the metal; where it is blank *otherwise*
    is taken, and the label says so. *cite* is the source's place in the rule's list.
    R20 = R (k + 20) / (k + T), k in degC from the table of metals; *reference_c* is
    another temperature to correct to, 75 degC for windings. Raises
    CriteriaError for a metal that the table does not have.
    """
    stated = subject.word(plate)
    name = stated or otherwise
    table = criteria.table(TABLE)
    metal = table.find(lambda row: row["metal"] == name)
    if metal is None:
        raise CriteriaError(f"the table '{TABLE}' has no metal '{name}'")
    assumed = "" if stated else f" (taken as {name}, not stated)"
    correction = {
        "by": "metal",
        "k": metal["k"],
        "reference_c": reference_c,
        "label": f"{name}{assumed}",
        "cite": cite,
    }
    return correction, table.cite(metal)
