"""Somebody of the scenario compares rows of a table with a copy of their own."""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import datetime
from uuid import uuid4

from sqlalchemy.orm import Session

from models.criteria.checked import checkable, row_digest
from models.criteria.loader import table_files
from models.services.criteria.check_table import (
    CONFIRMED,
    CORRECTED,
    RowAct,
    store_checks,
)
from models.services.criteria.table_checks import WITHDRAWN, newest_checks
from tests.scenario import BEGAN, Cast, fixed_id

EDITION, CLAUSE = "2023", "page 12"


def act(
    key: str,
    row: str,
    act: str = CONFIRMED,
    reason: str = "",
    **figures: str,
) -> RowAct:
    """Return what is said of the row named *row*, as the page would send it."""
    table_file = table_files()[key]
    number = [one["row"] for one in table_file.rows].index(row)
    return RowAct(
        number=number,
        digest=row_digest(table_file, table_file.rows[number]),
        act=act,
        figures=figures,
        reason=reason,
    )


def check_rows(
    session: Session,
    who: Cast,
    key: str,
    rows: Sequence[str] = (),
    *,
    corrected: Mapping[str, Mapping[str, str]] | None = None,
    withdrawn: Sequence[str] = (),
    at: datetime = BEGAN,
) -> int:
    """Confirm *rows*, all that can be by default; correct and withdraw others."""
    table_file = table_files()[key]
    corrected = corrected or {}
    named = rows or [
        row["row"]
        for row in table_file.rows
        if checkable(table_file, row) and row["row"] not in (*corrected, *withdrawn)
    ]
    acts = [act(key, row) for row in named]
    acts += [
        act(key, row, CORRECTED, "so printed", **figures)
        for row, figures in corrected.items()
    ]
    acts += [act(key, row, WITHDRAWN, "a wrong page") for row in withdrawn]
    found = newest_checks(session, fixed_id(who.firm), [key])
    last = {check.row_name: str(check.id) for check in found}
    acts = [
        replace(one, before=last.get(table_file.rows[one.number]["row"], ""))
        for one in acts
    ]
    return store_checks(
        session,
        person_id=who.id,
        key=key,
        edition=EDITION,
        clause=CLAUSE,
        acts=acts,
        now=at,
        new_id=uuid4,
    )
