"""The protection core that a nameplate describes, and the form it is compared by."""

from models.judging.tables import Criteria, Row
from models.procedures.saturation import Core
from models.procedures.subject import Subject

P_CLASSES = ("5P", "10P")
WITH_WINDING = "winding_and_burden"
FORMS = ("C class, burden alone", "C class, winding and burden")
P_FORM = "P class, winding and burden"


def c_class(subject: Subject, criteria: Criteria) -> Row | None:
    """Return the row of the C class; None for any other class."""
    named = subject.word("ct_class")
    table = criteria.table("ct_relaying")
    return table.find(lambda row: row["accuracy_class"] == named)


def core_of(subject: Subject, criteria: Criteria) -> tuple[Core, Row] | None:
    """Return the core and its row of `ct_saturation`; None: too little is known."""
    row = c_class(subject, criteria)
    if row is not None:
        return _of_c_class(subject, criteria, row)
    return _of_p_class(subject, criteria)


def _form(criteria: Criteria, name: str) -> Row:
    rows = criteria.table("ct_saturation").rows
    return next(row for row in rows if row["row"] == name)


def _of_c_class(
    subject: Subject, criteria: Criteria, row: Row
) -> tuple[Core, Row] | None:
    """Return it with its winding where the setting says so.

    At 1 A the VA of the class are kept, as the table of the classes says.
    """
    primary, secondary = _amperes(subject)
    winding = subject.word("saturation_form") == WITH_WINDING
    rct = subject.number("ct_rct_ohm") if winding else 0.0
    if primary is None or secondary is None or rct is None:
        return None
    form = _form(criteria, FORMS[winding])
    core = Core(
        primary_a=primary,
        secondary_a=secondary,
        times=form["factor"],
        burden_ohm=row["burden_va"] / secondary**2,
        rct_ohm=rct,
    )
    return core, form


def _of_p_class(subject: Subject, criteria: Criteria) -> tuple[Core, Row] | None:
    primary, secondary = _amperes(subject)
    alf, va = subject.number("ct_alf"), subject.number("ct_burden_va")
    rct = subject.number("ct_rct_ohm")
    if subject.word("ct_class") not in P_CLASSES or primary is None:
        return None
    if secondary is None or alf is None or va is None or rct is None:
        return None
    core = Core(
        primary_a=primary,
        secondary_a=secondary,
        times=alf,
        burden_ohm=va / secondary**2,
        rct_ohm=rct,
    )
    return core, _form(criteria, P_FORM)


def _amperes(subject: Subject) -> tuple[float | None, float | None]:
    return subject.number("ct_primary_a"), subject.number("ct_secondary_a")
