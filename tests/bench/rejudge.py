"""Judging again a whole fleet: stored readings under other editions and nameplates.

One round is recorded through the services; its rows are then copied, with keys and
numbers of their own, to as many lineups as are wanted. Seconds are the processor's.
"""

import tempfile
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any
from uuid import UUID, uuid4

from sqlalchemy import Table, insert, select, update
from sqlalchemy.orm import Session

from models.schema import Base, Round
from models.schema.engine import make_engine
from models.services.criteria.editions import choose_edition
from models.services.criteria.rejudge import rejudge
from models.services.criteria.rejudge_preview import Preview, preview
from models.services.criteria.rejudge_scope import scope_of
from models.services.criteria.stored_rows import readings_of
from models.services.people.access import person_of
from tests.bench.large import quick_secrets
from tests.bench.measure import Measured
from tests.scenario import OWNER, OWNER_FIRM, SITE, Work, build, fixed_id, lineup_id
from webapp.migrating import migrate

READINGS = 20_000
AT_ONCE = 5000  # rows in one statement
CHOSEN = {
    "metals": "metals_other_prints",
    "insulation_minimum": "insulation_minimum_older",
}
RATED_KV = 27.0  # a nameplate read anew: it moves limits, and verdicts with them
# What is copied, parents first, with the columns that name a copied row.
COPIED = {
    "lineup": (),
    "cell": ("lineup_id",),
    "apparatus": ("cell_id",),
    "round": ("lineup_id",),
    "card": ("round_id", "apparatus_id"),
    "point": ("card_id",),
    "reading": ("card_id", "point_id"),
    "judgement": ("reading_id",),
}


def run(readings: int = READINGS) -> list[Measured]:
    """Measure the preview and the act on SQLite, with about so many *readings*."""
    with tempfile.TemporaryDirectory() as folder, quick_secrets():
        url = f"sqlite:///{(Path(folder) / 'fleet.sqlite').as_posix()}"
        migrate(url)
        engine = make_engine(url)
        with Session(engine, expire_on_commit=False) as session:
            made = _fleet(session, readings)
        lines = list(_measured(engine, made))
        engine.dispose()
    return lines


def _measured(engine: Any, made: int) -> Iterator[Measured]:
    with Session(engine) as session:
        read, _ = _timed(lambda: list(_rows(session)))
    with Session(engine) as session:
        spent, shown = _timed(lambda: _preview(session))
    yield _line("preview", made, spent, read)
    with Session(engine) as session:
        spent, _ = _timed(lambda: _act(session, shown))
        session.commit()
    judged = shown.counts["readings"] - shown.counts["untouched"]
    yield _line(f"{shown.counts['moved']:,} moved", judged, spent, read)


def _line(what: str, readings: int, spent: float, read: float) -> Measured:
    return Measured(
        bench="rejudge",
        what=f"{what}, {readings / spent:,.0f} readings/s",
        seconds=spent,
        ratio=spent / read,
        against="reading these rows",
    )


def _timed(act: Callable[[], Any]) -> tuple[float, Any]:
    start = time.process_time()
    found = act()
    return time.process_time() - start, found


def _rows(session: Session) -> Iterator[Any]:
    person = person_of(session, OWNER.id)
    scope = scope_of(session, person, "owner", fixed_id(OWNER_FIRM))
    return iter(readings_of(session, scope.rounds)[1])


def _preview(session: Session) -> Preview:
    owner = fixed_id(OWNER_FIRM)
    return preview(session, person_id=OWNER.id, kind="owner", subject_id=owner)


def _act(session: Session, shown: Preview) -> UUID:
    return rejudge(
        session,
        person_id=OWNER.id,
        kind="owner",
        subject_id=fixed_id(OWNER_FIRM),
        digest=shown.digest,
        reason="measured",
        now=session.scalars(select(Round.opened_at).limit(1)).one(),
        new_id=uuid4,
    )


def _fleet(session: Session, readings: int) -> int:
    """Record a round, copy it to other lineups, change what rules rest on."""
    build(session)
    work = Work.begin(session)
    work.fill_all()
    work.turn_over(accept=False)
    session.flush()
    rows = {name: _read(session, name) for name in COPIED}
    rows["lineup"] = [r for r in rows["lineup"] if r["id"] == lineup_id()]
    rows["cell"] = [r for r in rows["cell"] if r["lineup_id"] == lineup_id()]
    cells = {r["id"] for r in rows["cell"]}
    rows["apparatus"] = [r for r in rows["apparatus"] if r["cell_id"] in cells]
    lineups = readings // len(rows["reading"])
    _copy(session, rows, lineups)
    for table, chosen in CHOSEN.items():
        choose_edition(
            session,
            person_id=OWNER.id,
            site_id=fixed_id(SITE),
            table_key=table,
            print_key=chosen,
            for_owner=True,
            document="Specification",
            reason="measured",
            now=work.tick(),
            new_id=uuid4,
        )
    session.execute(update(_table("lineup")).values(rated_kv=RATED_KV))
    session.commit()
    return lineups * len(rows["reading"]) + len(rows["reading"])


def _table(name: str) -> Table:
    return Base.metadata.tables[name]


def _read(session: Session, name: str) -> list[dict[str, Any]]:
    return [{**row} for row in session.execute(select(_table(name))).mappings()]


def _copy(session: Session, rows: dict[str, list[dict[str, Any]]], times: int) -> None:
    keys: list[dict[UUID, UUID]] = [{} for _ in range(times)]
    for name, named in COPIED.items():
        part: list[dict[str, Any]] = []
        for number, own in enumerate(keys):
            for row in rows[name]:
                own[row["id"]] = uuid4()
                made = {**row, "id": own[row["id"]]}
                if name == "reading":
                    made |= _another(row, number)
                made |= {column: own[row[column]] for column in named}
                if name == "lineup":
                    made["name"] = f"MV-{number + 2}"
                part.append(made)
            if len(part) >= AT_ONCE:
                session.execute(insert(_table(name)), part)
                part = []
        if part:
            session.execute(insert(_table(name)), part)


def _another(row: dict[str, Any], number: int) -> dict[str, Any]:
    """Return a number that no other lineup has: alike readings are judged once."""
    if row["low"] is None or row["low"] != row["high"]:
        return {}
    text = f"{row['low'] * (1 + (number + 1) / 1e6):.12g}"
    return {"text": text, "low": float(text), "high": float(text)}
