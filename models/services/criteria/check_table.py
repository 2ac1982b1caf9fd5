"""Check rows of a published table against an organisation's own licensed copy."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from uuid import UUID

from sqlalchemy.orm import Session

from models.criteria.checked import (
    checkable,
    correctable,
    corrected_words,
    row_digest,
)
from models.criteria.loader import table_files
from models.criteria.table_file import Row, TableFile
from models.errors import Fault, InputError, NotFoundError
from models.judging import parse_number
from models.judging.values import legible
from models.schema import Person, TableCheck
from models.services.criteria.table_checks import WITHDRAWN, newest_checks
from models.services.keeping.log import append_log, take_turn
from models.services.keeping.order import following
from models.services.keeping.texts import storable, text_faults, value_faults
from models.services.people.access import person_of, require

CONFIRMED, CORRECTED = "confirmed", "corrected"
LONGEST_PLACE = 120  # characters of an edition or a clause: it is cited with a verdict
LONGEST_REASON = 300


@dataclass(frozen=True, slots=True, kw_only=True)
class RowAct:
    """What somebody says of one row.

    *number* is the row's, from 0; a fault is placed at `act_N`, `figure_N_COLUMN`
    or `reason_N`. *digest* is that of the row as it was shown; *act* is confirmed,
    corrected or withdrawn; *figures* are the copy's as typed, by column, blank
    where the copy prints the same. *before* is the id of the last check of the row
    that was shown, a withdrawal too; blank where nobody had checked it.
    """

    number: int
    digest: str
    act: str
    figures: Mapping[str, str]
    reason: str
    before: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedCheck:
    """One check as it would be stored; *words* say each corrected figure."""

    row: Row
    act: str
    figures: Mapping[str, str]
    reason: str
    words: Sequence[str]
    before: TableCheck | None


def review_checks(
    session: Session,
    *,
    person_id: UUID,
    key: str,
    edition: str,
    clause: str,
    acts: Sequence[RowAct],
) -> list[PlannedCheck]:
    """Return what `store_checks` would store; nothing is stored.

    Raises InputError with every fault, ForbiddenError for a technician,
    NotFoundError where there is no such table.
    """
    person = person_of(session, person_id)
    require(person, "check tables")
    table_file = table_file_named(key)
    faults = _edition_faults(edition, clause, acts)
    if not acts:
        faults.append(Fault(field="", message="No row was confirmed or corrected yet."))
    newest = newest_checks(session, person.organisation_id, [key])
    before = {check.row_name: check for check in newest}
    planned = [_planned(table_file, act, before, faults) for act in acts]
    if faults:
        raise InputError(*faults)
    return [one for one in planned if one is not None]


def store_checks(
    session: Session,
    *,
    person_id: UUID,
    key: str,
    edition: str,
    clause: str,
    acts: Sequence[RowAct],
    now: datetime,
    new_id: Callable[[], UUID],
) -> int:
    """Store the checks of one table, each in the log; return how many there are.

    Rules compiled from now on take them; no verdict that was given moves. Raises
    like `review_checks`.
    """
    take_turn(session)
    planned = review_checks(
        session,
        person_id=person_id,
        key=key,
        edition=edition,
        clause=clause,
        acts=acts,
    )
    person = person_of(session, person_id)
    for one in planned:
        withdrawn = one.act == WITHDRAWN
        before = one.before
        row = TableCheck(
            id=new_id(),
            organisation_id=person.organisation_id,
            table_key=key,
            row_name=one.row["row"],
            row_digest=row_digest(table_files()[key], one.row),
            act=one.act,
            figures=dict(one.figures),
            edition="" if withdrawn else _in_a_line(edition),
            clause="" if withdrawn else _in_a_line(clause),
            reason=one.reason,
            supersedes_id=before.id if before else None,
            by_id=person.id,
            at=following(now, [before.at] if before else []),
        )
        session.add(row)
        _log(session, person, row)
    session.flush()
    return len(planned)


def table_file_named(key: str) -> TableFile:
    """Return the table; NotFoundError where there is none of that key."""
    if key not in table_files():
        raise NotFoundError("criteria table", key)
    return table_files()[key]


def _edition_faults(edition: str, clause: str, acts: Sequence[RowAct]) -> list[Fault]:
    found = []
    if any(act.act != WITHDRAWN for act in acts) or not acts:
        found += text_faults("edition", edition, "which edition your copy is")
    for field, text in (("edition", edition), ("clause", clause)):
        if len(text) > LONGEST_PLACE:
            message = f"Keep it under {LONGEST_PLACE} characters."
            found.append(Fault(field=field, message=message))
    if not storable(clause):
        message = "It holds a character that cannot be kept; write it again."
        found.append(Fault(field="clause", message=message))
    return found


def _planned(
    table_file: TableFile,
    act: RowAct,
    before: Mapping[str, TableCheck],
    faults: list[Fault],
) -> PlannedCheck | None:
    """Return the act as it would be stored; put what is wrong with it to *faults*."""
    row, why = _row_of(table_file, act)
    last = before.get(row["row"]) if row else None
    known = len(faults)
    figures: dict[str, float] = {}
    if why:
        faults.append(Fault(field=f"act_{act.number}", message=why))
    elif row:
        faults.extend(_act_faults(act, last))
        figures = _figures(table_file, row, act, faults)
    if row is None or len(faults) > known:
        return None
    reason = _in_a_line(act.reason)
    return PlannedCheck(
        row=row,
        act=act.act,
        figures={name: legible(act.figures[name]) for name in figures},
        reason=reason,
        words=list(corrected_words(table_file, row, figures, reason).values()),
        before=last,
    )


def _row_of(table_file: TableFile, act: RowAct) -> tuple[Row | None, str]:
    """Return the row and why it cannot be checked, blank where it can."""
    if not 0 <= act.number < len(table_file.rows):
        return None, "This row is not in the table."
    row = table_file.rows[act.number]
    if row_digest(table_file, row) != act.digest:
        return None, "The program ships another figure in this row by now: look again."
    if not checkable(table_file, row):
        return None, "No document prints this row, so no copy can bear it out."
    return row, ""


def _act_faults(act: RowAct, last: TableCheck | None) -> list[Fault]:
    place = f"act_{act.number}"
    if act.before != (str(last.id) if last else ""):
        by = f" by {last.by.name}" if last else ""
        message = f"This row was checked since{by}: look again."
        return [Fault(field=place, message=message)]
    if act.act not in (CONFIRMED, CORRECTED, WITHDRAWN):
        return [Fault(field=place, message="Choose what your copy says of this row.")]
    found = _reason_faults(act)
    if act.act == WITHDRAWN and (last is None or last.act == WITHDRAWN):
        found.append(Fault(field=place, message="Nobody has checked this row."))
    return found


def _reason_faults(act: RowAct) -> list[Fault]:
    """Return what is wrong with the reason, which a confirmed row may go without."""
    if act.act == CONFIRMED and not act.reason.strip():
        return []
    place = f"reason_{act.number}"
    if len(act.reason) > LONGEST_REASON:
        message = f"Keep it under {LONGEST_REASON} characters."
        return [Fault(field=place, message=message)]
    return text_faults(place, act.reason, "why")


def _figures(
    table_file: TableFile, row: Row, act: RowAct, faults: list[Fault]
) -> dict[str, float]:
    """Return the copy's figures that differ from those shipped."""
    found = {}
    typed = {name: text for name, text in act.figures.items() if text.strip()}
    if act.act != CORRECTED and typed:
        message = (
            "A figure of your copy is typed: say that the row differs, or clear it."
        )
        faults.append(Fault(field=f"act_{act.number}", message=message))
        return {}
    if act.act == CORRECTED and not typed:
        message = "Write the figure of your copy that differs."
        faults.append(Fault(field=f"act_{act.number}", message=message))
    offered = [column.name for column in correctable(table_file, row)]
    for name, text in typed.items():
        place = f"figure_{act.number}_{name}"
        if too_long := value_faults(place, text):
            faults.extend(too_long)
            continue
        why = "This cannot be corrected." if name not in offered else None
        value = None
        if why is None:
            value, why = _figure(text, float(row[name]))
        if why is not None:
            faults.append(Fault(field=place, message=why))
        elif value is not None:
            found[name] = value
    return found


def _figure(text: str, shipped: float) -> tuple[float | None, str | None]:
    """Return the number, or what is wrong with it.

    A figure keeps its sign: none that is above zero in one print is below it in
    another, and a correction factor at zero would have no logarithm.
    """
    try:
        value = parse_number(text)
    except InputError as error:
        return None, " ".join(fault.message for fault in error.faults)
    if value == shipped:
        return None, "This is the figure that stands here: confirm the row instead."
    if (value > 0) != (shipped > 0) or (value < 0) != (shipped < 0):
        return None, "It has another sign than the figure that stands here."
    return value, None


def _in_a_line(text: str) -> str:
    """Return *text* as a citation holds it: one line, single spaces."""
    return " ".join(text.split())


def _log(session: Session, person: Person, row: TableCheck) -> None:
    append_log(
        session,
        actor_id=person.id,
        action="check table row",
        subject=f"criteria table {row.table_key}",
        body={
            "key": row.id,
            "organisation": row.organisation_id,
            "row": row.row_name,
            "digest": row.row_digest,
            "act": row.act,
            "figures": row.figures,
            "edition": row.edition,
            "clause": row.clause,
            "reason": row.reason,
            "supersedes": row.supersedes_id,
        },
        now=row.at,
    )
