"""A large record, the same every time: one round recorded, its rows copied.

Lineups with many rounds each, for the benches of lists and gear books. Rows go
straight into the tables; the log knows the first round only. Confirmations are
copied for the first two lineups, whose gear books are measured.
"""

from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from datetime import timedelta
from typing import Any
from uuid import UUID

from sqlalchemy import Table, insert, select
from sqlalchemy.orm import Session

from models.schema import Base
from models.services.people import passwords
from models.signing import wrapping
from tests.scenario import Work, build, fixed_id, lineup_id

ROUNDS = (3, 20, *[22] * 29)  # of each lineup
BLOCKS = 3  # times the cells of the scenario in a lineup
YEAR = timedelta(days=365)
OF_ROUND = {
    "card": ("round_id", "apparatus_id"),
    "point": ("card_id",),
    "confirmed_together": ("card_id",),
    "reading": ("card_id", "point_id"),
    "judgement": ("reading_id",),
    "signature": ("card_id",),
}

Row = dict[str, Any]
Rows = Mapping[str, Sequence[Row]]


def fill(session: Session, rounds: Sequence[int] = ROUNDS) -> list[UUID]:
    """Fill an empty database; return the lineups' ids in the order of *rounds*."""
    with quick_secrets():
        build(session)
        work = Work.begin(session)
        work.fill_all()
        work.turn_over(accept=True)
        session.flush()
    return copy(session, rounds)


def copy(session: Session, rounds: Sequence[int] = ROUNDS) -> list[UUID]:
    """Copy the one round that a database has; return the lineups' ids as `fill`."""
    rows = _recorded(session)
    session.commit()
    made = [_lineup(session, rows, number, count) for number, count in _counted(rounds)]
    session.commit()
    return made


def _counted(rounds: Sequence[int]) -> Iterator[tuple[int, int]]:
    yield from enumerate(rounds, start=1)


def _recorded(session: Session) -> Rows:
    """Return the rows of the round that was recorded, and of its lineup."""
    names = ("lineup", "cell", "apparatus", "round", *OF_ROUND)
    rows = {name: _read(session, name) for name in names}
    rows["lineup"] = [r for r in rows["lineup"] if r["id"] == lineup_id()]
    rows["cell"] = [r for r in rows["cell"] if r["lineup_id"] == lineup_id()]
    cells = {r["id"] for r in rows["cell"]}
    rows["apparatus"] = [r for r in rows["apparatus"] if r["cell_id"] in cells]
    rows["signature"] = [r for r in rows["signature"] if r["card_id"]]
    return rows


def _lineup(session: Session, rows: Rows, number: int, rounds: int) -> UUID:
    """Add a lineup of BLOCKS times the cells, with its rounds; return its id."""
    key = fixed_id(f"large lineup {number}")
    line = {"id": key, "name": f"MV-{100 + number}", "serial": f"SN-{7000 + number}"}
    _add(session, "lineup", [{**rows["lineup"][0], **line}])
    names = [
        {row["id"]: fixed_id(f"large {number} {block} {row['id']}") for row in owned}
        for block in range(BLOCKS)
        for owned in [[*rows["cell"], *rows["apparatus"]]]
    ]
    for block, own in enumerate(names):
        cells = [
            {
                **row,
                "id": own[row["id"]],
                "lineup_id": key,
                "position": row["position"] + block * len(rows["cell"]),
                "number": str(row["position"] + block * len(rows["cell"])),
            }
            for row in rows["cell"]
        ]
        _add(session, "cell", cells)
        fitted = [
            {**row, "id": own[row["id"]], "cell_id": own[row["cell_id"]]}
            for row in rows["apparatus"]
        ]
        _add(session, "apparatus", fitted)
    for at in range(rounds):
        last_open = at == rounds - 1 and number > 2
        _round(session, rows, names, (number, at), still_open=last_open)
    return key


def _round(
    session: Session,
    rows: Rows,
    names: Sequence[Mapping[UUID, UUID]],
    place: tuple[int, int],
    *,
    still_open: bool,
) -> None:
    number, at = place
    (first,) = rows["round"]
    key = fixed_id(f"large round {number} {at}")
    made = {
        **first,
        "id": key,
        "lineup_id": fixed_id(f"large lineup {number}"),
        "kind": "maintenance" if at else "acceptance",
        "number": at or 1,
        "state": "open" if still_open else "approved" if at % 7 == 6 else "accepted",
        "opened_at": first["opened_at"] + at * YEAR + timedelta(minutes=number),
    }
    _add(session, "round", [made])
    for block, apparatus in enumerate(names):
        own = {first["id"]: key, **apparatus}
        for name in OF_ROUND:
            if name == "confirmed_together" and number > 2:
                continue
            part = [_copied(row, name, own, (*place, block)) for row in rows[name]]
            _add(session, name, part)


def _copied(
    row: Row, name: str, own: dict[UUID, UUID], place: tuple[int, int, int]
) -> Row:
    """Return a row of another round; *own* learns its key."""
    number, at, block = place
    own[row["id"]] = fixed_id(f"large {number} {at} {block} {name} {row['id']}")
    made = {**row, "id": own[row["id"]]}
    made |= {column: own[row[column]] for column in OF_ROUND[name]}
    if name == "card":
        made["position"] = row["position"] + block * 100
    elif name == "reading":
        made |= _another(row, 1 + at / 100)
        made |= {"taken_at": row["taken_at"] + at * YEAR}
    elif name == "judgement" and row["corrected"] is not None:
        made["corrected"] = row["corrected"] * (1 + at / 100)
    elif name == "signature":
        made |= {"statement": "{}", "at": row["at"] + at * YEAR}
    return made


def _another(row: Row, times: float) -> Row:
    """Return a number that moves from round to round."""
    if row["low"] is None or row["low"] != row["high"]:
        return {}
    text = f"{row['low'] * times:.4g}"
    return {"text": text, "low": float(text), "high": float(text)}


def _table(name: str) -> Table:
    return Base.metadata.tables[name]


def _read(session: Session, name: str) -> list[Row]:
    return [{**row} for row in session.execute(select(_table(name))).mappings()]


def _add(session: Session, name: str, rows: list[Row]) -> None:
    if rows:
        session.execute(insert(_table(name)), rows)


@contextmanager
def quick_secrets() -> Iterator[None]:
    """Hash and wrap at the least cost: it is not what is measured."""
    least: list[tuple[Any, str, Any]] = [(passwords, "FULL", passwords.QUICK)]
    least += [(wrapping, n, v) for n, v in (("MEMORY_KIB", 8), ("PASSES", 1))]
    least += [(wrapping, "LANES", 1)]
    before = [(module, name, getattr(module, name)) for module, name, _ in least]
    try:
        for module, name, value in least:
            setattr(module, name, value)
        yield
    finally:
        for module, name, value in before:
            setattr(module, name, value)
