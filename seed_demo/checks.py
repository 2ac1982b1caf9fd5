"""Two tables that the demo's people compared with a made-up copy of theirs."""

from collections.abc import Iterable
from datetime import datetime
from uuid import uuid4

from sqlalchemy.orm import Session

from models.criteria.checked import checkable, row_digest
from models.criteria.loader import table_files
from models.services.criteria.check_table import CONFIRMED, RowAct, store_checks
from seed_demo.people import LEAD, OWNER, DemoPerson

EDITION = "2023, made-up copy of the demo"
FACTORS, METALS = "insulation_correction_20", "metals"
TO_10_C = range(5)  # the rows from -10 to 10 degC: a table checked in part


def check_tables(session: Session, now: datetime) -> None:
    """Let the lead confirm a part of one table, the owner's engineer all of one."""
    _confirm(session, LEAD, FACTORS, TO_10_C, now)
    _confirm(session, OWNER, METALS, range(len(table_files()[METALS].rows)), now)


def _confirm(
    session: Session, who: DemoPerson, key: str, numbers: Iterable[int], now: datetime
) -> None:
    table_file = table_files()[key]
    store_checks(
        session,
        person_id=who.id,
        key=key,
        edition=EDITION,
        clause=table_file.table,
        acts=[
            RowAct(
                number=number,
                digest=row_digest(table_file, table_file.rows[number]),
                act=CONFIRMED,
                figures={},
                reason="",
            )
            for number in numbers
            if checkable(table_file, table_file.rows[number])
        ],
        now=now,
        new_id=uuid4,
    )
